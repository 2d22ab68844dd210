"""Which solution, and which reagent is offered: each rule's cases and edges."""

from __future__ import annotations

import pytest
from made_facts import Changes, step_of
from rule_cases import AT_LEAST, Cases, Edge, claim, each_case, each_edge, wrong_sides

from recommender.effects import Offer, UseSolution
from recommender.engine import Outcome

SOLUBLE_ACID: Changes = {"acid": True, "water_solubility": 500.0}
NOT_WASHED: tuple[Changes, ...] = (
    {"first_is_air": True},
    {"first_is_hold": True},
    {"stays_dry": True},
)

CASES = {
    "SOL-010": Cases(({},), NOT_WASHED, ({"stays_dry": None},)),
    "SOL-020": Cases(
        (
            SOLUBLE_ACID,
            {"alkali": True, "water_solubility": 500.0},
            {"salt": True, "water_solubility": 500.0},
            {"brush_before_water": True, "alkali": True},
            {"strong_oxidizer": True, "form_solid": True},
        ),
        (
            {"water_solubility": 500.0},
            {"acid": True},
            {"brush_before_water": True},
            {"strong_oxidizer": True},
            {**SOLUBLE_ACID, "biological": True},
            {**SOLUBLE_ACID, "radioactive": True},
            *({**SOLUBLE_ACID, **never} for never in NOT_WASHED),
        ),
        ({**SOLUBLE_ACID, "acid": None}, {"acid": True, "water_solubility": None}),
    ),
    "SOL-030": Cases(
        ({"carbonate_helps": True},),
        ({}, {"carbonate_helps": True, "reacts_violently_with_water": True}),
        ({"carbonate_helps": None}, {"carbonate_helps": True, "reacts_violently_with_water": None}),
    ),
    "SOL-040": claim("hypochlorite_breaks_down"),
}
EDGES = {
    "SOL-020": (
        Edge("water_solubility", "solution.plain_water_solubility", AT_LEAST, {"acid": True}),
    ),
}
AS_VALUES: dict[str, set[str]] = {}

GIVES = {
    "SOL-010": (UseSolution, "detergent"),
    "SOL-020": (UseSolution, "plain-water"),
    "SOL-030": (Offer, "sodium-carbonate"),
    "SOL-040": (Offer, "hypochlorite-0.5"),
}


@pytest.mark.parametrize(("rule_id", "outcome", "changes"), each_case(CASES))
def test_the_rule_finds(rule_id: str, outcome: Outcome, changes: Changes) -> None:
    assert step_of(rule_id, changes).outcome is outcome


@pytest.mark.parametrize(("rule_id", "edge"), each_edge(EDGES))
def test_the_limit_divides(rule_id: str, edge: Edge) -> None:
    assert wrong_sides(rule_id, edge) == []


@pytest.mark.parametrize(("rule_id", "given"), GIVES.items())
def test_the_rule_gives_a_solution_only_when_settled(rule_id: str, given: tuple[type, str]) -> None:
    (effect,) = step_of(rule_id, CASES[rule_id].applies[0]).taken
    assert (type(effect), effect.solution) == given  # type: ignore[union-attr]
    assert step_of(rule_id, CASES[rule_id].cannot_tell[0]).taken == ()
