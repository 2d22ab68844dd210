"""Build the local store out of the installed packages.

One process builds at a time; the others wait and then find it built. The new file is written
beside the old one and takes its place in one step, so that readers see the old or the new, whole.
"""

from __future__ import annotations

import contextlib
import os
import tempfile
import time
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from recommender.errors import StoreBuildError, StoreError
from recommender.library.assemble import Evidence, assemble
from recommender.library.build_curves import Curves, read_curves
from recommender.library.build_identity import Substance, read_substances
from recommender.library.build_liquid import lowest_liquid, read_liquids
from recommender.library.build_read import Tabulated, cas_number, package_versions
from recommender.library.build_structure import compiled_patterns, features_of
from recommender.library.build_tables import (
    Tables,
    read_carcinogens,
    read_constants,
    read_joback_boiling_points,
)
from recommender.library.build_write import StoreWriter
from recommender.library.consensus import Ledger
from recommender.library.fingerprint import file_checksum, fingerprint
from recommender.library.schema import (
    LISTED_CARCINOGEN,
    LISTED_EXPOSURE,
    LISTED_FLAMMABLE,
    SCHEMA_VERSION,
)

# Called with what is being done, how much of it is done and how much there is.
Progress = Callable[[str, int, int], None]
LOCK_SUFFIX = ".lock"
CHECKSUM_SUFFIX = ".checksum"
# Another process's build takes about a minute; ten times that means it hangs.
LOCK_SECONDS = 600.0
_STEP = 500
STAGES = ("identities", "tables", "curves", "values", "names")


@dataclass(frozen=True, slots=True)
class BuildReport:
    """What one call of `build_store` did."""

    path: Path
    built: bool
    seconds: float
    size_bytes: int
    substances: int
    names: int
    values: int
    disagreements: int
    versions: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class _Inputs:
    """Everything read from the packages."""

    substances: Mapping[int, Substance]
    tables: Sequence[Tables]
    curves: Curves
    joback: Mapping[int, float]
    liquid_from: Mapping[int, float]


def _silent(what: str, done: int, total: int) -> None:
    return None


def _carcinogen_tables() -> Tables:
    found: dict[str, dict[int, list[Tabulated]]] = {"iarc_group": {}, "ntp_listing": {}}
    for cas, (group, listing) in read_carcinogens().items():
        if group is not None:
            found["iarc_group"][cas] = [Tabulated("IARC list", "iarc", float(group))]
        if listing is not None:
            found["ntp_listing"][cas] = [Tabulated("NTP list", "ntp", float(listing))]
    return found


def _read(progress: Progress, only: Collection[str] | None) -> _Inputs:
    progress(STAGES[0], 0, 1)
    substances = read_substances()
    if only is not None:
        wanted = {cas_number(text) for text in only}
        substances = {cas: s for cas, s in substances.items() if cas in wanted}
    progress(STAGES[0], 1, 1)
    masses = {cas: s.molar_mass for cas, s in substances.items()}
    progress(STAGES[1], 0, 3)
    constants = read_constants(masses)
    progress(STAGES[1], 1, 3)
    liquids = read_liquids(masses)
    progress(STAGES[1], 2, 3)
    inputs = _Inputs(
        substances,
        (constants, liquids, _carcinogen_tables()),
        {},
        read_joback_boiling_points(),
        lowest_liquid(),
    )
    progress(STAGES[1], 3, 3)
    progress(STAGES[2], 0, 1)
    curves = read_curves()
    progress(STAGES[2], 1, 1)
    return _Inputs(inputs.substances, inputs.tables, curves, inputs.joback, inputs.liquid_from)


def _by_substance(inputs: _Inputs) -> Mapping[int, dict[str, list[Tabulated]]]:
    """Turn tables by property into tables by substance, kept substances only."""
    found: dict[int, dict[str, list[Tabulated]]] = {cas: {} for cas in inputs.substances}
    for tables in inputs.tables:
        for name, by_cas in tables.items():
            for cas, values in by_cas.items():
                if cas in found:
                    found[cas].setdefault(name, []).extend(values)
    return found


def _listed(tables: Mapping[str, Sequence[Tabulated]]) -> int:
    """Which tables of hazards name a substance."""
    bits = 0
    if "skin_listed" in tables:
        bits |= LISTED_EXPOSURE
    if "flash_point" in tables or "lower_flammable_limit" in tables:
        bits |= LISTED_FLAMMABLE
    if "iarc_group" in tables or "ntp_listing" in tables:
        bits |= LISTED_CARCINOGEN
    return bits


def _write(
    path: Path, versions: Mapping[str, str], progress: Progress, only: Collection[str] | None
) -> tuple[int, int, int, int]:
    """Read, put together and write; return counts of substances, names, values, disagreements."""
    inputs = _read(progress, only)
    by_substance, patterns = _by_substance(inputs), compiled_patterns()
    ledger, writer = Ledger(), StoreWriter(path)
    try:
        total = len(inputs.substances)
        for done, cas in enumerate(sorted(inputs.substances)):
            if done % _STEP == 0:
                progress(STAGES[3], done, total)
            substance, tables = inputs.substances[cas], by_substance[cas]
            features = features_of(substance.smiles, substance.is_ion, patterns)
            evidence = Evidence(
                cas,
                substance.formula,
                substance.molar_mass,
                features,
                tables,
                inputs.curves.get(cas, ()),
                inputs.joback.get(cas),
                inputs.liquid_from.get(cas),
            )
            properties = assemble(evidence, ledger)
            writer.add_substance(substance, features, _listed(tables), properties)
        progress(STAGES[3], total, total)
        progress(STAGES[4], 0, 1)
        writer.add_names(inputs.substances)
        writer.add_disagreements(ledger.rows)
        writer.close(_meta(versions, total))
    except BaseException:
        writer.abandon()
        raise
    progress(STAGES[4], 1, 1)
    return total, writer.names, writer.values, len(ledger.rows)


def _meta(versions: Mapping[str, str], substances: int) -> dict[str, str]:
    return {
        "schema_version": str(SCHEMA_VERSION),
        "fingerprint": fingerprint(versions),
        "substances": str(substances),
        **{f"version.{name}": version for name, version in versions.items()},
    }


@contextlib.contextmanager
def _locked(path: Path) -> Iterator[None]:
    """Hold the right to build; wait for another process that builds."""
    try:
        from filelock import FileLock, Timeout
    except ImportError:
        raise StoreBuildError(
            "The package filelock is not installed. Install what builds the store: "
            "pip install 'decon-recommender[store]'; then: recommender setup"
        ) from None
    lock = FileLock(f"{path}{LOCK_SUFFIX}")
    try:
        with lock.acquire(timeout=LOCK_SECONDS):
            yield
    except Timeout:
        raise StoreBuildError(
            f"Another process has been building the store for {LOCK_SECONDS / 60:.0f} minutes. "
            f"If none is running, remove {path}{LOCK_SUFFIX} and try again."
        ) from None


def _counts_of(path: Path) -> tuple[int, int, int, int] | None:
    """Counts of a store that is whole and up to date; None for any other."""
    from recommender.library.store import open_store

    try:
        with open_store(path) as store:
            return store.counts() if store.is_whole() and store.is_current() else None
    except StoreError:
        return None


def _replace(
    path: Path, versions: Mapping[str, str], progress: Progress, only: Collection[str] | None
) -> tuple[int, int, int, int]:
    """Write beside the old file, then put the new one and its checksum in place."""
    handle, name = tempfile.mkstemp(prefix=path.name, suffix=".new", dir=path.parent)
    os.close(handle)
    new = Path(name)
    try:
        new.unlink()
        counts = _write(new, versions, progress, only)
        checksum = file_checksum(new)
        new.chmod(0o644)
        new.replace(path)
        note = path.with_name(path.name + CHECKSUM_SUFFIX)
        note.write_text(f"{checksum}  {path.name}\n", encoding="ascii")
    finally:
        new.unlink(missing_ok=True)
    return counts


def build_store(
    place: str | Path | None = None,
    *,
    force: bool = False,
    progress: Progress = _silent,
    only: Collection[str] | None = None,
) -> BuildReport:
    """Build the store, unless a whole one that is up to date is there already.

    Args:
        place: folder or ``.sqlite`` file; None for the usual place.
        force: build although a whole and current one is there.
        progress: called with the stage, how much is done and how much there is.
        only: CAS numbers to keep, for tests and small devices; None for all.

    Raises:
        StoreBuildError: a package is missing, or the place cannot be written to.
    """
    from recommender.library.place import store_file

    started = time.monotonic()
    path, versions = store_file(place), package_versions()
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with _locked(path):
            counts = None if force else _counts_of(path)
            built = counts is None
            if counts is None:
                counts = _replace(path, versions, progress, only)
            size = path.stat().st_size
    except OSError as problem:
        raise StoreBuildError(
            f"The store cannot be written to {path}: {problem}. Choose another place with "
            "--store, or with the environment variable RECOMMENDER_STORE."
        ) from problem
    seconds = time.monotonic() - started
    return BuildReport(path, built, seconds, size, *counts, versions)
