"""Limits: every cut-off a rule uses, with its unit, source and safer direction."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from recommender.data_files import read_table
from recommender.errors import DataError

PACKAGED_KINDS = ("judgement", "sourced", "practice")
KINDS = (*PACKAGED_KINDS, "local")
SAFER = ("lower", "higher", "neither")


@dataclass(frozen=True, slots=True)
class Limit:
    """A threshold or planning number.

    Attributes:
        safer: the direction of change that makes plans more cautious.
        kind: sourced (a published source gives the number), practice, judgement (ours), or local
            (changed by local policy; never in the packaged table).
    """

    id: str
    value: float
    unit: str
    safer: str
    kind: str
    source: str
    provenance: str
    date: str
    meaning: str

    def __float__(self) -> float:
        return self.value


class Limits:
    """A view of the limits that records what is read from it."""

    def __init__(self, limits: Mapping[str, Limit]) -> None:
        self._limits = limits
        self.reads: dict[str, None] = {}

    def __getitem__(self, name: str) -> Limit:
        try:
            limit = self._limits[name]
        except KeyError:
            raise DataError(f"The limits table has no row {name!r}.") from None
        self.reads[name] = None
        return limit

    def value(self, name: str) -> float:
        """Return the number of one limit."""
        return self[name].value


@cache
def load_limits() -> Mapping[str, Limit]:
    """Read ``data/limits.csv``.

    Raises:
        DataError: a row repeats an id, holds no number, or uses a word outside the lists.
    """
    limits: dict[str, Limit] = {}
    for row in read_table("limits.csv"):
        name = row["id"]
        if name in limits:
            raise DataError(f"limits.csv: the id {name} stands twice.")
        if row["kind"] not in PACKAGED_KINDS or row["safer"] not in SAFER:
            raise DataError(f"limits.csv, {name}: kind {row['kind']!r} or safer {row['safer']!r}.")
        try:
            value = float(row["value"])
        except ValueError:
            raise DataError(f"limits.csv, {name}: {row['value']!r} is not a number.") from None
        limits[name] = Limit(
            name,
            value,
            row["unit"],
            row["safer"],
            row["kind"],
            row["source"],
            row["provenance"],
            row["date"],
            row["meaning"],
        )
    return limits
