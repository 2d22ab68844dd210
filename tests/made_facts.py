"""Facts put together by hand: a known liquid that harms nobody, after a splash, and changes to it.

A change is True, False or None for a claim (yes, no, unknown); a number, a pair (low, high) or
None for a numeric fact; and a text for a word.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from recommender.chemicals.table import fact_dictionary
from recommender.engine import Rule, Step, evaluate
from recommender.facts import Claim, Fact, Number, Provenance, Truth, Word, unknown_number
from recommender.limits import Limit, load_limits
from recommender.recommend import recommend
from recommender.rules import ALL_RULES

Change = bool | float | tuple[float, float] | str | None
Changes = Mapping[str, Change]

BY_ID: Mapping[str, Rule] = {rule.id: rule for rule in ALL_RULES}
MADE = Provenance("stated", "judgement", "judgement")
TRUTHS = {True: Truth.YES, False: Truth.NO, None: Truth.UNKNOWN}
NUMBERS_AT_FIRST = {
    "dermal_category": 6.0,
    "viscosity": 1.0,
    "water_solubility": 50.0,
    "boiling_point": 100.0,
    "film_residence": 1.0,
    "persistence": 1.0,
    "positions_so_far": 1.0,
    "saturation": 1000.0,
    "vapor_hazard_ratio": 0.001,
    "ionization_energy": 12.0,
    "air_temperature": 20.0,
}
YES_AT_FIRST = ("contact_condensed", "identity_known", "form_liquid", "vapor_can_condense")


@cache
def _pattern() -> Mapping[str, Fact]:
    """Every fact that a rule may read, by name, from a plan that was made."""
    return recommend("acetone").facts


@cache
def _at_first() -> Mapping[str, Fact]:
    facts: dict[str, Fact] = {}
    for name, fact in _pattern().items():
        if isinstance(fact, Claim):
            truth = Truth.YES if name in YES_AT_FIRST else Truth.NO
            facts[name] = Claim(name, truth, MADE)
        elif isinstance(fact, Number):
            facts[name] = unknown_number(name, fact.unit)
        else:
            facts[name] = Word(name, "", MADE)
    for name, value in NUMBERS_AT_FIRST.items():
        facts[name] = Number(name, value, value, value, "1", MADE)
    return facts


def _changed(name: str, change: Change) -> Fact:
    pattern = _pattern()[name]
    if isinstance(pattern, Claim):
        assert change in (True, False, None), f"{name} is a claim"
        return Claim(name, TRUTHS[change], MADE)
    if isinstance(pattern, Word):
        assert isinstance(change, str), f"{name} is a word"
        return Word(name, change, MADE)
    if change is None:
        return unknown_number(name, pattern.unit)
    low, high = change if isinstance(change, tuple) else (change, change)
    assert not isinstance(low, str), f"{name} is a number"
    return Number(name, low, (low + high) / 2, high, pattern.unit, MADE)


def made_facts(changes: Changes) -> dict[str, Fact]:
    """The harmless liquid with these changes."""
    return {**_at_first(), **{name: _changed(name, change) for name, change in changes.items()}}


def step_of(rule_id: str, changes: Changes, limits: Mapping[str, Limit] | None = None) -> Step:
    """What becomes of one rule on the harmless liquid with these changes."""
    return evaluate(BY_ID[rule_id], made_facts(changes), limits or load_limits())


def every_claim() -> tuple[str, ...]:
    """The claims of the dictionary of facts."""
    return tuple(d.name for d in fact_dictionary().values() if d.kind == "claim")
