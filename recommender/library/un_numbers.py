"""UN numbers of single substances and of mixtures of isomers, beyond the curated table."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from recommender.data_files import read_table

TABLE = "un_numbers.csv"
_UN = re.compile(r"^\s*(?:UN|NA)?[\s#:-]*(\d{4})\s*$", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Entry:
    """One UN number.

    Attributes:
        words: the shipping name, shortened.
        form: form that the name says; empty where it says none.
        cas: CAS number of the substance, or of each isomer that travels under the number.
    """

    un: str
    words: str
    form: str
    cas: tuple[str, ...]


@cache
def load_un_numbers() -> Mapping[str, Entry]:
    """Read ``data/un_numbers.csv`` by UN number."""
    return {
        row["un"]: Entry(row["un"], row["words"], row["form"], tuple(row["cas"].split(";")))
        for row in read_table(TABLE)
    }


@cache
def un_of_cas() -> Mapping[str, tuple[str, ...]]:
    """CAS number to the UN numbers that stand for it alone."""
    found: dict[str, tuple[str, ...]] = {}
    for entry in load_un_numbers().values():
        if len(entry.cas) == 1:
            found[entry.cas[0]] = (*found.get(entry.cas[0], ()), entry.un)
    return found


def un_digits(text: str) -> str:
    """Return the four digits of what is typed as a UN number; empty where it is none."""
    found = _UN.match(text)
    return found.group(1) if found else ""
