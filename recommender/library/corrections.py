"""Values of the installed packages that are known to be wrong, each with the reason.

The table is data: ``data/library_corrections.csv``. The build applies it before anything else.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache

from recommender.chemicals.cas import normalize_cas
from recommender.data_files import read_table
from recommender.errors import DataError
from recommender.library.build_read import Tabulated
from recommender.library.consensus import Ledger
from recommender.library.schema import UNITS

TABLE = "library_corrections.csv"
EVERY_TABLE = "every"
DROP, REPLACE = "drop", "replace"
FAMILY = "correction"


@dataclass(frozen=True, slots=True)
class Correction:
    """One row: what of one substance's property is dropped or replaced.

    Attributes:
        table: the source whose value goes, or ``every``.
        value: what replaces it, in the property's unit; None for a drop.
    """

    cas: int
    property: str
    table: str
    action: str
    value: float | None
    reason: str
    source: str
    provenance: str


def _correction(row: Mapping[str, str]) -> Correction:
    where = f"{TABLE}, {row['cas']} {row['property']}"
    if row["property"] not in UNITS:
        raise DataError(f"{where}: there is no such property.")
    if row["action"] not in (DROP, REPLACE):
        raise DataError(f"{where}: the action {row['action']!r} is neither drop nor replace.")
    if (row["action"] == REPLACE) != bool(row["value"]):
        raise DataError(f"{where}: a replacement needs a value, and a drop has none.")
    return Correction(
        int(normalize_cas(row["cas"]).replace("-", "")),
        row["property"],
        row["table"],
        row["action"],
        float(row["value"]) if row["value"] else None,
        row["reason"],
        row["source"],
        row["provenance"],
    )


@cache
def load_corrections() -> Mapping[tuple[int, str], tuple[Correction, ...]]:
    """Read the corrections by CAS number and property.

    Raises:
        DataError: a row names an unknown property or action.
    """
    found: dict[tuple[int, str], list[Correction]] = defaultdict(list)
    for row in read_table(TABLE):
        correction = _correction(row)
        found[correction.cas, correction.property].append(correction)
    return {key: tuple(rows) for key, rows in found.items()}


def is_dropped(cas: int, name: str, source: str) -> Correction | None:
    """Return the correction that takes one table's value away, or None."""
    for correction in load_corrections().get((cas, name), ()):
        if correction.table in (EVERY_TABLE, source):
            return correction
    return None


def corrected(cas: int, name: str, values: Sequence[Tabulated], ledger: Ledger) -> list[Tabulated]:
    """Apply the corrections of one property of one substance, and record them."""
    rows = load_corrections().get((cas, name), ())
    if not rows:
        return list(values)
    kept = []
    for value in values:
        correction = is_dropped(cas, name, value.source)
        if correction is None:
            kept.append(value)
            continue
        what = f"{value.source} says {value.value:.6g}: {correction.reason}"
        ledger.add(cas, name, what, correction.action)
    for correction in rows:
        if correction.value is not None:
            kept.append(Tabulated(correction.source, FAMILY, correction.value))
    return kept
