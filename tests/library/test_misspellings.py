"""Misspelled names: the chemical that was meant is offered first, and never chosen unsaid."""

from __future__ import annotations

import random
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

import pytest
from misspelled import KINDS, misspellings

from recommender.chemicals.lookup import (
    Match,
    grave_hazards,
    held,
    nearest_names,
    scored_names,
    split_strength,
)
from recommender.chemicals.table import load_chemicals
from recommender.errors import AmbiguousChemicalError, ChemicalNotFoundError, LookupFailedError
from recommender.library.identity_traps import load_traps
from recommender.library.resolve import resolve
from recommender.library.store import Store
from recommender.library.un_numbers import load_un_numbers

SEED = 7
CHEMICALS = load_chemicals()
SHORTEST = 5


@dataclass
class Tally:
    """How often the right chemical was offered.

    Attributes:
        chosen_wrong: misspellings that are another chemical's right name.
        lost: misspellings for which it was not among the first five.
    """

    tried: int = 0
    first: int = 0
    among_five: int = 0
    chosen_wrong: list[tuple[str, str]] = field(default_factory=list)
    lost: list[tuple[str, str]] = field(default_factory=list)
    seconds: list[float] = field(default_factory=list)

    @property
    def top_one(self) -> float:
        """Share offered first."""
        return self.first / self.tried

    @property
    def top_five(self) -> float:
        """Share among the first five."""
        return self.among_five / self.tried


def curated_names() -> list[str]:
    """Return one name for each curated identity that has one of five letters or more."""
    found: dict[str, str] = {}
    for row in CHEMICALS.values():
        name = split_strength(row.name)[0].split(" (")[0].split(",")[0]
        try:
            match = held(name)
        except LookupFailedError:
            continue
        if len(name) >= SHORTEST and match and match.chemical.identity == row.identity:
            found.setdefault(row.identity, name)
    return list(found.values())


def regulated_names(names: Store, count: int) -> list[str]:
    """Return shipping names of substances that are not in the curated table."""
    curated = {row.cas for row in CHEMICALS.values()}
    found: dict[str, str] = {}
    for entry in load_un_numbers().values():
        if len(entry.cas) > 1 or entry.cas[0] in curated:
            continue
        name = entry.words.split(",")[0]
        try:
            match = resolve(name, store=names)
        except LookupFailedError:
            continue
        if match.chemical.cas == entry.cas[0] and len(name) >= SHORTEST:
            found.setdefault(entry.cas[0], name)
    chosen = list(found.values())
    random.Random(SEED).shuffle(chosen)
    return chosen[:count]


def offered(problem: LookupFailedError) -> list[str]:
    """Return identities or CAS numbers in the order they are offered."""
    if isinstance(problem, ChemicalNotFoundError):
        keys = [key for _, key in problem.nearest]
    else:
        keys = [c[2] for c in getattr(problem, "candidates", ())]
    by_cas = {row.cas: row.identity for row in CHEMICALS.values() if row.cas}
    return [CHEMICALS[k].identity if k in CHEMICALS else by_cas.get(k, k) for k in keys]


def identity(match: Match) -> str:
    """Return the curated identity, or the CAS number."""
    chemical = match.chemical
    return chemical.identity if chemical.key in CHEMICALS else chemical.cas


def tally(spelled: Sequence[str], store: Store | None) -> Tally:
    """Try one misspelling of each kind for each name."""
    found = Tally()
    for _, name, typed in misspellings(spelled, SEED):
        meant = identity(resolve(name, store=store))
        found.tried += 1
        started = time.perf_counter()
        try:
            names = [identity(resolve(typed, store=store))]
            if names != [meant]:
                found.chosen_wrong.append((typed, name))
        except (ChemicalNotFoundError, AmbiguousChemicalError) as problem:
            found.seconds.append(time.perf_counter() - started)
            names = offered(problem)
        found.first += names[:1] == [meant]
        found.among_five += meant in names[:5]
        if meant not in names[:5]:
            found.lost.append((typed, name))
    return found


def report(name: str, found: Tally, record: Callable[[str, object], None]) -> None:
    """Keep the figures with the test's result."""
    seconds = sorted(found.seconds)
    record(f"{name}_tried", found.tried)
    record(f"{name}_top_1", round(found.top_one, 4))
    record(f"{name}_top_5", round(found.top_five, 4))
    record(f"{name}_ms_p95", round(1e3 * seconds[int(0.95 * len(seconds))], 1))


def test_every_kind_of_misspelling_changes_a_name() -> None:
    for kind in KINDS:
        dice = random.Random(SEED)
        changed = [name for name in curated_names() if kind(name, dice) != name]
        assert len(changed) > 0.95 * len(curated_names()), kind


def test_misspellings_of_curated_names_are_answered_without_a_store(
    record_property: Callable[[str, object], None],
) -> None:
    spelled = curated_names()
    assert len(spelled) >= 200
    found = tally(spelled, None)
    report("curated", found, record_property)
    assert found.top_one >= 0.95, found.lost
    assert found.top_five >= 0.985, found.lost
    assert len(found.chosen_wrong) <= 2, found.chosen_wrong


def test_misspellings_of_curated_names_are_answered_among_every_name(
    names: Store, record_property: Callable[[str, object], None]
) -> None:
    spelled = curated_names()
    random.Random(SEED).shuffle(spelled)
    found = tally(spelled[:100], names)
    report("wide", found, record_property)
    assert found.top_one >= 0.94, found.lost
    assert found.top_five >= 0.98, found.lost
    assert len(found.chosen_wrong) <= 3, found.chosen_wrong
    assert sorted(found.seconds)[int(0.95 * len(found.seconds))] < 2.0


def test_misspellings_of_regulated_names_are_answered(
    names: Store, record_property: Callable[[str, object], None]
) -> None:
    found = tally(regulated_names(names, 40), names)
    report("regulated", found, record_property)
    assert found.top_one >= 0.93, found.lost
    assert found.top_five >= 0.96, found.lost
    assert len(found.chosen_wrong) <= 3, found.chosen_wrong


def test_of_equally_near_names_the_more_hazardous_comes_first() -> None:
    ties = 0
    for _, _, typed in misspellings(curated_names()[::4], SEED):
        scored = scored_names(typed.lower().replace(" ", ""), 6)
        for (one, first), (other, second) in pairwise(scored):
            assert one >= other
            if one == other:
                ties += 1
                assert grave_hazards(first[1]) >= grave_hazards(second[1])
    assert ties > 10


def test_the_hazards_of_a_row_are_counted() -> None:
    assert grave_hazards("sarin") > grave_hazards("acetone")
    assert grave_hazards("hydrofluoric-acid-49") > 0


def test_a_known_trap_is_no_candidate_under_its_wrong_name(names: Store) -> None:
    assert load_traps()["dieldrin"].wrong == "72-20-8"
    with pytest.raises(ChemicalNotFoundError) as miss:
        resolve("dieldrim", store=names)
    assert ("dieldrin", "72-20-8") not in miss.value.nearest


def test_a_number_has_no_near_names() -> None:
    assert nearest_names("UN 1999") == ()
    assert nearest_names("1999") == ()
