"""``recommender setup``: builds, reports, leaves a current store alone, says what is wrong."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from recommender.cli import main
from recommender.commands_store import report_text
from recommender.errors import StoreBuildError
from recommender.library import build
from recommender.library.build import BuildReport

REPORT = BuildReport(
    Path("place/store.sqlite"),
    True,
    61.6,
    75_000_000,
    76_495,
    707_918,
    338_137,
    4_016,
    {"chemicals": "1.5.2"},
)


def test_it_prints_time_size_and_counts(monkeypatch: pytest.MonkeyPatch) -> None:
    asked = {}

    def build_store(place: str | None, *, force: bool, progress: build.Progress) -> BuildReport:
        asked.update(place=place, force=force)
        progress("values", 1, 2)
        return REPORT

    monkeypatch.setattr(build, "build_store", build_store)
    result = CliRunner().invoke(main, ["setup", "--store", "here", "--force"])
    assert result.exit_code == 0
    assert asked == {"place": "here", "force": True}
    for word in ("Built in 62 s", "75 MB", "76,495 substances", "4,016 disagreements", "1.5.2"):
        assert word in result.output


def test_a_store_left_alone_is_said_to_be_current() -> None:
    from dataclasses import replace

    assert "not rebuilt" in report_text(replace(REPORT, built=False))


def test_an_error_is_printed_without_a_traceback(monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(*_: object, **__: object) -> None:
        raise StoreBuildError("The package thermo is not installed.")

    monkeypatch.setattr(build, "build_store", fail)
    result = CliRunner().invoke(main, ["setup"])
    assert result.exit_code == 1
    assert result.output == "Error: The package thermo is not installed.\n"


def test_help_says_what_it_needs() -> None:
    result = CliRunner().invoke(main, ["setup", "--help"])
    assert "decon-recommender[store]" in result.output
