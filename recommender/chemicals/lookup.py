"""Find a chemical by name, synonym, trade name, CAS number or UN number.

Nothing is chosen silently. A text that names rows of one identity picks the row by form and
strength and says so; a text that names more than one identity is refused with the candidates; a
text that names none is refused with the nearest names.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache

from recommender.chemicals.cas import looks_like_cas, normalize_cas
from recommender.chemicals.table import Chemical, CuratedData, load_chemicals, load_data
from recommender.data_files import read_table
from recommender.errors import (
    AmbiguousChemicalError,
    ChemicalNotFoundError,
    GroupNumberError,
)
from recommender.facts import Truth

_STRENGTH = re.compile(r"[\s,(]+(\d+(?:\.\d+)?)\s*(?:%|percent)\)?\s*$", re.IGNORECASE)
_LEADING = re.compile(r"^\s*(\d+(?:\.\d+)?)\s*(?:%|percent)\s+", re.IGNORECASE)
_UN = re.compile(r"^\s*(?:UN|NA)?[\s#:-]*(\d{4})\s*$", re.IGNORECASE)
_GREEK = {"α": "alpha", "β": "beta", "γ": "gamma", "δ": "delta", "ω": "omega"}
_LONGEST_NAME = 200
_NEAREST = 6
_SHORTEST_PART = 5
# Facts that put a name first where two are equally near to what was typed.
_GRAVE = (
    *("nerve_agent", "vesicant", "opioid", "toxic_6_1_pg_i", "hydrofluoric_type", "cyanide"),
    *("skin_notation", "skin_corrosive", "pyrophoric", "reacts_violently_with_water"),
    *("known_human_carcinogen", "radioactive", "biological"),
)
_PART_SHARE = 0.85
# Forms that people do not tell apart when they name one.
_LIKE = {
    "solid": ("solid", "powder"),
    "powder": ("powder", "solid"),
    "liquid": ("liquid", "solution"),
    "solution": ("solution", "liquid"),
}


@dataclass(frozen=True, slots=True)
class Match:
    """A chemical, how it was found, and what was assumed on the way.

    Attributes:
        data: facts and values that came along, where the chemical is not of the curated table.
        form: form that the name said and the row is not in; empty where there is none.
    """

    chemical: Chemical
    how: str
    notes: tuple[str, ...] = ()
    stronger_than_held: bool = False
    data: CuratedData | None = None
    form: str = ""


def printable(text: str) -> str:
    """What was typed, fit to be printed: no control characters, no broken encoding."""
    clean = "".join(c for c in text.strip() if c.isprintable())
    return clean.encode("utf-8", "replace").decode("utf-8")


def normalize_name(text: str) -> str:
    """Fold case, accents, Greek letters, hyphens, spaces and punctuation away."""
    folded = unicodedata.normalize("NFKD", text).casefold()
    for letter, spelled in _GREEK.items():
        folded = folded.replace(letter, spelled)
    return "".join(c for c in folded if c.isalnum())


@cache
def _index() -> Mapping[str, tuple[str, ...]]:
    """Map each normalized name, ``cas:`` number and ``un:`` number to row keys."""
    index: dict[str, dict[str, None]] = {}
    for key, chemical in load_chemicals().items():
        terms = [normalize_name(name) for name in (*chemical.all_names, chemical.key)]
        terms.append(normalize_name(split_strength(chemical.name)[0]))
        terms += [f"un:{number}" for number in chemical.un]
        if chemical.cas:
            terms.append(f"cas:{chemical.cas}")
        for term in terms:
            index.setdefault(term, {})[key] = None
    return {term: tuple(keys) for term, keys in index.items()}


@cache
def _listed_names() -> Mapping[str, tuple[str, str]]:
    """Map each normalized name to (name as listed, key)."""
    names: dict[str, tuple[str, str]] = {}
    for key, chemical in load_chemicals().items():
        for name in chemical.all_names:
            names.setdefault(normalize_name(name), (name, key))
        names.setdefault(normalize_name(key), (chemical.name, key))
    return names


def nearest_names(text: str, count: int = _NEAREST) -> tuple[tuple[str, str], ...]:
    """Return the nearest (name as listed, key) pairs, best first; one per row.

    Likeness counts edits, swapped neighbors as one; a long name may also match in part. Short
    names match only as a whole: two letters are in everything. A number has no near names.
    Where names are equally near, the chemical with more grave hazards comes first.
    """
    query = normalize_name(text[:_LONGEST_NAME])
    if not query or query.isdigit() or _UN.match(text):
        return ()
    return tuple(listed for _, listed in scored_names(query, count))


def scored_names(query: str, count: int) -> tuple[tuple[float, tuple[str, str]], ...]:
    """Return (likeness, (name as listed, key)) of the rows nearest to a normalized name."""
    from rapidfuzz import fuzz
    from rapidfuzz.distance import OSA

    best: dict[str, tuple[float, int, tuple[str, str]]] = {}
    for name, listed in _listed_names().items():
        score = OSA.normalized_similarity(query, name)
        if min(len(query), len(name)) >= _SHORTEST_PART:
            score = max(score, _PART_SHARE * fuzz.partial_ratio(query, name) / 100.0)
        found = (-round(score, 3), len(name), listed)
        best[listed[1]] = min(found, best.get(listed[1], found))
    near = sorted(best.values())[: 2 * count]
    near.sort(key=lambda item: (item[0], -grave_hazards(item[2][1]), item[1], item[2]))
    return tuple((-score, listed) for score, _, listed in near[:count])


def grave_hazards(key: str) -> int:
    """How many of the gravest facts a row is known to have."""
    claims = load_data(load_chemicals()[key]).claims
    return sum(1 for name in _GRAVE if name in claims and claims[name].truth is Truth.YES)


@cache
def _group_entries() -> Mapping[str, str]:
    """UN numbers of group and n.o.s. entries, which name no product, with their words."""
    return {row["un"]: row["words"] for row in read_table("un_group_entries.csv")}


def _refuse_group_entry(number: str, keys: Sequence[str]) -> None:
    words = _group_entries().get(number)
    if words is not None:
        names = tuple(load_chemicals()[key].name for key in keys)
        raise GroupNumberError(number, words, names)


def _refuse_bare_code(digits: str) -> None:
    """A number alone may be a UN number or what is left of a trade code: never chosen."""
    keys = _index().get(normalize_name(f"compound {digits}"), ())
    named = [load_chemicals()[key] for key in keys]
    if named:
        raise AmbiguousChemicalError(
            digits,
            tuple((c.name, _describe(c), c.key) for c in named),
            f"it may be a UN number or a trade code; write UN {digits} or compound {digits}",
        )


def _lookup(text: str) -> tuple[tuple[str, ...], str]:
    """Return the keys that a text names exactly, and how."""
    index = _index()
    number = _UN.match(text)
    if number:
        keys = index.get(f"un:{number.group(1)}", ())
        _refuse_group_entry(number.group(1), keys)
        return keys, f"UN {number.group(1)}"
    if looks_like_cas(text):
        cas = normalize_cas(text)
        return index.get(f"cas:{cas}", ()), f"CAS {cas}"
    return index.get(normalize_name(text), ()), "name"


def split_strength(text: str) -> tuple[str, float | None]:
    """Take a strength off a name: 'hydrochloric acid 37%', '35 % sulfuric acid' and the like."""
    found = _STRENGTH.search(text)
    if found and 0 < float(found.group(1)) <= 100:
        return text[: found.start()], float(found.group(1))
    found = _LEADING.search(text)
    if found and 0 < float(found.group(1)) <= 100:
        return text[found.end() :], float(found.group(1))
    return text, None


def _rows_of(keys: Sequence[str]) -> tuple[Chemical, ...]:
    """Return every row of the identities that these keys belong to."""
    chemicals = load_chemicals()
    identities = {chemicals[key].identity for key in keys}
    return tuple(c for c in chemicals.values() if c.identity in identities)


def _describe(chemical: Chemical) -> str:
    strength = f" {chemical.strength_percent:g} %" if chemical.strength_percent else ""
    return f"{chemical.form}{strength}"


def fits_form(chemical: Chemical, form: str) -> bool:
    """Whether a row is in a form, or in one that people do not tell apart from it."""
    return chemical.form == form or chemical.form in _LIKE.get(form, ())


def _by_form(rows: Sequence[Chemical], form: str | None) -> tuple[Chemical, ...]:
    if not form:
        return tuple(rows)
    exact = tuple(r for r in rows if r.form == form)
    return exact or tuple(r for r in rows if r.form in _LIKE.get(form, ())) or tuple(rows)


def _by_strength(rows: Sequence[Chemical], percent: float) -> tuple[Chemical, str, bool]:
    """Pick the row at or next above a strength; a stronger one than any held is said."""
    graded = sorted(
        (r for r in rows if r.strength_percent is not None), key=lambda r: r.strength_percent or 0
    )
    if not graded:
        usual = next((r for r in rows if r.usual), rows[0])
        return usual, f"Planned undiluted: no row holds a strength, {percent:g} % was given.", False
    for row in graded:
        if (row.strength_percent or 0) >= percent:
            same = row.strength_percent == percent
            note = "" if same else f"Planned as {row.strength_percent:g} %, the next strength held."
            return row, note, False
    undiluted = next((r for r in rows if r.strength_percent is None and r.form == "liquid"), None)
    if undiluted is not None:
        return undiluted, f"Planned undiluted: {percent:g} % is above the solutions held.", False
    top = graded[-1]
    note = (
        f"{percent:g} % is stronger than any row held ({top.strength_percent:g} %): "
        "worse hazards than shown are possible."
    )
    return top, note, True


def _choose(
    named: Sequence[Chemical], rows: Sequence[Chemical], form: str | None, percent: float | None
) -> Match:
    """Pick one row of one identity by form and strength; say what was assumed."""
    if percent is not None:
        chemical, note, stronger = _by_strength(_by_form(rows, form), percent)
        return Match(chemical, "", (note,) if note else (), stronger)
    if form:
        candidates = _by_form(rows, form)
        return Match(next((r for r in candidates if r.usual), candidates[0]), "")
    chemical = named[0] if len(named) == 1 else next((r for r in rows if r.usual), named[0])
    others = ", ".join(_describe(r) for r in rows if r is not chemical)
    if not others:
        return Match(chemical, "")
    return Match(chemical, "", (f"Planned as {_describe(chemical)}; also held: {others}.",))


def _solution_rows(chemical: Chemical) -> tuple[Chemical, ...]:
    """Rows of the solution of a chemical that is held undiluted, under an identity of their own."""
    chemicals = load_chemicals()
    same = [c.key for c in chemicals.values() if c.cas == chemical.cas and c.strength_percent]
    named = [*_index().get(normalize_name(f"{chemical.identity} solution"), ()), *same]
    rows = _rows_of(named) if named else ()
    return tuple(c for c in rows if c.strength_percent is not None)


def _via(text: str, chemical: Chemical, how: str) -> tuple[str, ...]:
    """Say which row a synonym, a trade name or a number stands for."""
    own = (normalize_name(chemical.name), normalize_name(chemical.key))
    if how == "name" and normalize_name(text) in own:
        return ()
    return (f"{printable(text)} is taken as {chemical.name}.",)


def _settle(
    text: str, keys: tuple[str, ...], how: str, form: str | None, percent: float | None
) -> Match:
    """Turn the rows that a text names into one row, or refuse."""
    chemicals = load_chemicals()
    named = [chemicals[key] for key in keys]
    if len({c.identity for c in named}) > 1 and form:
        named = [c for c in named if fits_form(c, form)] or named
    if len({c.identity for c in named}) > 1:
        raise AmbiguousChemicalError(
            text.strip(), tuple((c.name, _describe(c), c.key) for c in named)
        )
    rows = _rows_of([named[0].key])
    if percent is not None and all(c.strength_percent is None for c in rows):
        dissolved = _solution_rows(named[0])
        if dissolved:
            named, rows = list(dissolved), dissolved
    if form and not any(fits_form(c, form) for c in rows):
        # The same CAS number in the form that was seen may stand under another identity.
        shared = [c for c in chemicals.values() if c.cas and c.cas == named[0].cas]
        same = [c for c in shared if fits_form(c, form)]
        if same:
            named, rows = same, _rows_of([same[0].key])
    chosen = _choose(named, rows, form, percent)
    notes = (*_via(text, chosen.chemical, how), *chosen.notes)
    return Match(chosen.chemical, how, notes, chosen.stronger_than_held)


def find(text: str, *, form: str | None = None, concentration: float | None = None) -> Match:
    """Find one chemical.

    Args:
        text: name, synonym, trade name, CAS number or UN number; a strength may follow the name
            ("hydrochloric acid 37 %").
        form: one of the forms, to choose between rows of one identity.
        concentration: mass percent, to choose between rows of one identity.

    Raises:
        ChemicalNotFoundError: nothing has this name; the nearest names are listed.
        AmbiguousChemicalError: more than one identity has it; the candidates are listed.
        CasError: it is shaped like a CAS number but the check digit is wrong.
    """
    match = held(text, form=form, concentration=concentration)
    if match is None:
        query = text.strip()
        if not is_a_name(query):
            raise ChemicalNotFoundError(query[:40], ())
        raise ChemicalNotFoundError(query, nearest_names(query))
    return match


def is_a_name(text: str) -> bool:
    """Whether a text holds something that could name a chemical."""
    query = text.strip()
    return 0 < len(query) <= _LONGEST_NAME and normalize_name(query) != ""


def held(text: str, *, form: str | None = None, concentration: float | None = None) -> Match | None:
    """Find one chemical that a text names exactly; None where it names none.

    Raises:
        AmbiguousChemicalError, GroupNumberError, CasError: as `find` does.
    """
    query = text.strip()
    if not is_a_name(query):
        return None
    keys, how = _lookup(query)
    if not keys:
        name, strength = split_strength(query)
        if strength is not None and name.strip():
            keys, how = _lookup(name)
            concentration = strength if concentration is None else concentration
    if not keys and query.isdigit():
        _refuse_bare_code(query)
    return _settle(query, keys, how, form, concentration) if keys else None
