"""Which property somebody means who types a name off a safety data sheet.

A name is a fact's own name, its label, or a line of ``data/property_names.csv``, with case, blanks
and punctuation folded away. What can be read in two ways, or is not used, is refused with what to
state instead.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from recommender.chemicals.lookup import normalize_name
from recommender.chemicals.table import fact_dictionary
from recommender.data_files import read_table
from recommender.errors import DataError, StatedError
from recommender.units import show_typed

RIGHT = "Right: 'vapor pressure=0.5 mmHg @ 68 F', 'solubility=1-5 g/L' or 'skin notation=yes'."
_KINDS = ("claim", "number")
_MOST_NEAR = 5
_LEAST_LIKENESS = 55.0
_LONGEST_NAME = 80


@dataclass(frozen=True, slots=True)
class Named:
    """What a name stands for.

    Attributes:
        unit: the unit a bare number is taken in; empty where a bare number is refused.
        instead: what to state instead, where the name stands for nothing.
    """

    shown: str
    fact: str
    unit: str = ""
    instead: str = ""


@cache
def _names() -> Mapping[str, Named]:
    """Map each folded name to what it stands for.

    Raises:
        DataError: a line names no fact, or one name stands for two.
    """
    names: dict[str, Named] = {}
    for fact in fact_dictionary().values():
        if fact.kind in _KINDS:
            for shown in (fact.label, fact.name.replace("_", " ")):
                names[normalize_name(shown)] = Named(shown, fact.name)
    for row in read_table("property_names.csv"):
        named = Named(row["name"], row["fact"], row["unit"], row["instead"])
        key = normalize_name(named.shown)
        if not named.instead and named.fact not in fact_dictionary():
            raise DataError(f"property_names.csv, {named.shown}: no fact {named.fact!r}.")
        if key in names and names[key].fact != named.fact:
            raise DataError(f"property_names.csv: {named.shown} stands for two things.")
        names[key] = named
    return names


@cache
def _first_names() -> Mapping[str, str]:
    """Map each fact to the first name that the table has for it."""
    names: dict[str, str] = {}
    for row in read_table("property_names.csv"):
        if row["fact"]:
            names.setdefault(row["fact"], row["name"])
    return names


def plain_name(fact: str) -> str:
    """Name a fact as people type it: a number by its label, a claim by its first name."""
    definition = fact_dictionary()[fact]
    return definition.label if definition.kind == "number" else _first_names()[fact]


def _near(typed: str) -> tuple[str, ...]:
    from rapidfuzz import fuzz, process

    names = _names()
    usable = [key for key, named in names.items() if named.fact]
    found = process.extract(
        normalize_name(typed),
        usable,
        scorer=fuzz.WRatio,
        limit=4 * _MOST_NEAR,
        score_cutoff=_LEAST_LIKENESS,
    )
    best: dict[str, str] = {}
    for key, _, _ in found:
        best.setdefault(names[key].fact, plain_name(names[key].fact))
    return tuple(best.values())[:_MOST_NEAR]


def find_property(typed: str, whole: str) -> Named:
    """Return the property that a name stands for.

    Args:
        typed: the name.
        whole: everything that was typed, for messages.

    Raises:
        StatedError: it stands for none, or for none that can be stated; names near it are listed.
    """
    said = show_typed(typed)
    if len(typed) <= _LONGEST_NAME:
        named = _names().get(normalize_name(typed))
        if named is not None and not named.instead:
            return named
        if named is not None:
            message = f"{show_typed(whole)} cannot be stated: {said}: {named.instead}. {RIGHT}"
            raise StatedError(message)
        near = _near(typed)
    else:
        near = ()
    hint = f" Near names: {'; '.join(near)}." if near else ""
    raise StatedError(f"No property is called {said} (in {show_typed(whole)}).{hint} {RIGHT}", near)
