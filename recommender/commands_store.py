"""The command that builds the local store. It shows progress and prints; it decides nothing."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, Any

import click

from recommender.errors import StoreError

if TYPE_CHECKING:
    from recommender.library.build import BuildReport, Progress

_BROKEN = 1
_STAGE_WORDS = {
    "identities": "Reading identities and names",
    "tables": "Reading constants",
    "curves": "Reading vapor pressure curves",
    "values": "Putting values together",
    "names": "Writing names",
}
_MEGABYTE = 1e6


@click.command()
@click.option(
    "--store",
    metavar="PATH",
    help="Folder or .sqlite file. Left out: RECOMMENDER_STORE if set, else the user's data folder.",
)
@click.option("--force", is_flag=True, help="Build although a whole and current store is there.")
def setup(store: str | None, force: bool) -> None:
    """Build the wide local store of chemicals from the installed packages.

    Needed once, and again after an upgrade. Curated chemicals work without it. It needs the
    packages of pip install 'decon-recommender[store]' and no network.
    """
    from recommender.library.build import build_store

    try:
        with _Bar() as progress:
            report = build_store(store, force=force, progress=progress)
    except StoreError as problem:
        click.echo(f"Error: {problem}", err=True)
        sys.exit(_BROKEN)
    click.echo(report_text(report), nl=False)


class _Bar:
    """A progress bar on the terminal; on a pipe, nothing."""

    def __enter__(self) -> Progress:
        from rich.console import Console
        from rich.progress import (
            BarColumn,
            Progress,
            TaskProgressColumn,
            TextColumn,
            TimeElapsedColumn,
        )

        self._rich = Progress(
            TextColumn("{task.description}"),
            BarColumn(),
            TaskProgressColumn(),
            TimeElapsedColumn(),
            console=Console(stderr=True),
            disable=not sys.stderr.isatty(),
        )
        self._tasks: dict[str, Any] = {}
        self._rich.start()
        return self._show

    def _show(self, stage: str, done: int, total: int) -> None:
        if stage not in self._tasks:
            words = _STAGE_WORDS.get(stage, stage)
            self._tasks[stage] = self._rich.add_task(words, total=total)
        self._rich.update(self._tasks[stage], completed=done, total=total)

    def __exit__(self, *_: object) -> None:
        self._rich.stop()


def report_text(report: BuildReport) -> str:
    """Say what was built, how long it took and how large it is."""
    packages = ", ".join(f"{name} {version}" for name, version in report.versions.items())
    head = f"Built in {report.seconds:.0f} s" if report.built else "Whole and current: not rebuilt"
    lines = (
        f"{head}: {report.path}",
        f"{report.size_bytes / _MEGABYTE:.0f} MB; {report.substances:,} substances, "
        f"{report.names:,} names, {report.values:,} values",
        f"{report.disagreements:,} disagreements dropped, widened or flagged",
        f"From {packages}",
    )
    return "\n".join(lines) + "\n"
