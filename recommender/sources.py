"""Sources: the authorities that facts, limits and rules cite by id."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from recommender.data_files import read_table
from recommender.errors import DataError

PROVENANCE_WORDS = ("read", "memory", "practice", "judgement", "library")


@dataclass(frozen=True, slots=True)
class Source:
    """One authority. ``provenance`` says whether it was read or recalled from memory."""

    id: str
    title: str
    publisher: str
    year: str
    kind: str
    provenance: str
    note: str


@cache
def load_sources() -> Mapping[str, Source]:
    """Read ``data/sources.csv``.

    Raises:
        DataError: a row repeats an id or uses an unlisted provenance word.
    """
    sources: dict[str, Source] = {}
    for row in read_table("sources.csv"):
        if row["id"] in sources:
            raise DataError(f"sources.csv: the id {row['id']} stands twice.")
        if row["provenance"] not in PROVENANCE_WORDS:
            raise DataError(f"sources.csv, {row['id']}: provenance {row['provenance']!r}.")
        sources[row["id"]] = Source(**row)
    return sources
