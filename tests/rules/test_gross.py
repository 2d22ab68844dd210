"""How hard to rinse first: each rule's cases, its edges and its emphasis."""

from __future__ import annotations

import pytest
from made_facts import Changes, step_of
from rule_cases import (
    ABOVE,
    AT_MOST,
    BELOW,
    Cases,
    Edge,
    claim,
    each_case,
    each_edge,
    wrong_sides,
)

from recommender.effects import Emphasis, Gross, NoGross
from recommender.engine import Outcome

DRY_SOLID: Changes = {"form_liquid": False}
NOBODY: Changes = {"contact_condensed": False}
LASTS: Changes = {"persistence": 3.0}

CASES = {
    "GROSS-010": claim("first_is_air"),
    "GROSS-020": claim("first_is_hold"),
    "GROSS-030": claim("first_is_wipe"),
    "GROSS-040": claim("first_is_dry"),
    "GROSS-050": Cases(({},), ({"first_is_air": True},), ({"first_is_air": None},)),
    "GROSS-060": claim("contact_gross"),
    "GROSS-070": Cases(
        ({"skin_corrosive": True},),
        ({}, {"skin_corrosive": True, **NOBODY}),
        ({"skin_corrosive": None},),
    ),
    "GROSS-080": Cases(
        (
            {"vesicant": True},
            {"nerve_agent": True},
            {"cholinesterase_inhibitor": True},
            {"pcb_or_dioxin": True},
            {"hydrofluoric_type": True},
            {"toxic_6_1_pg_i": True},
            {"dermal_category": 1.0},
            {"dermal_category": 3.0, "skin_notation": True},
        ),
        (
            {},
            {"vesicant": True, **DRY_SOLID},
            {"vesicant": True, **NOBODY},
            {"skin_notation": True},
            {"dermal_category": 3.0},
        ),
        ({"vesicant": None}, {"dermal_category": None}, {"dermal_category": (1.0, 6.0)}),
    ),
    "GROSS-090": Cases(
        (
            {**LASTS, "water_solubility": 1.0},
            {**LASTS, "thick_or_tarry": True},
        ),
        (
            LASTS,
            {"water_solubility": 1.0},
            {**LASTS, "water_solubility": 1.0, **DRY_SOLID},
            {**LASTS, "water_solubility": 1.0, **NOBODY},
        ),
        ({"persistence": (1.0, 3.0), "water_solubility": 1.0}, {**LASTS, "water_solubility": None}),
    ),
    "GROSS-100": Cases(
        ({"identity_known": False},),
        ({}, {"identity_known": False, **DRY_SOLID}, {"identity_known": False, **NOBODY}),
        ({"identity_known": None},),
    ),
}
EDGES = {
    "GROSS-080": (
        Edge("dermal_category", "stations.dermal_severe", AT_MOST, {}),
        Edge("dermal_category", "stations.dermal_with_notation", AT_MOST, {"skin_notation": True}),
    ),
    "GROSS-090": (
        Edge("water_solubility", "stations.sparing_solubility", BELOW, LASTS),
        Edge("viscosity", "stations.thick_viscosity", ABOVE, LASTS),
    ),
}
AS_VALUES: dict[str, set[str]] = {}

EMPHASES = {
    "GROSS-050": Emphasis.LIGHT,
    "GROSS-060": Emphasis.HEAVY,
    "GROSS-070": Emphasis.HEAVY,
    "GROSS-080": Emphasis.HEAVY,
    "GROSS-090": Emphasis.HEAVY,
    "GROSS-100": Emphasis.HEAVY,
}


@pytest.mark.parametrize(("rule_id", "outcome", "changes"), each_case(CASES))
def test_the_rule_finds(rule_id: str, outcome: Outcome, changes: Changes) -> None:
    assert step_of(rule_id, changes).outcome is outcome


@pytest.mark.parametrize(("rule_id", "edge"), each_edge(EDGES))
def test_the_limit_divides(rule_id: str, edge: Edge) -> None:
    assert wrong_sides(rule_id, edge) == []


@pytest.mark.parametrize(("rule_id", "emphasis"), EMPHASES.items())
def test_the_rule_rinses_and_in_doubt_as_well(rule_id: str, emphasis: Emphasis) -> None:
    for changes in (CASES[rule_id].applies[0], CASES[rule_id].cannot_tell[0]):
        (effect,) = step_of(rule_id, changes).taken
        assert isinstance(effect, Gross)
        assert effect.emphasis is emphasis


@pytest.mark.parametrize("rule_id", ["GROSS-010", "GROSS-020", "GROSS-030", "GROSS-040"])
def test_a_rinse_is_left_out_only_for_a_settled_reason(rule_id: str) -> None:
    assert isinstance(step_of(rule_id, CASES[rule_id].applies[0]).taken[0], NoGross)
    assert step_of(rule_id, CASES[rule_id].cannot_tell[0]).taken == ()


@pytest.mark.parametrize(
    ("after", "words"),
    [("flood", "flood"), ("keep_dry", "technician"), ("technician", "technician")],
)
def test_what_rinse_follows_a_dry_step_is_what_the_row_says(after: str, words: str) -> None:
    (effect,) = step_of("GROSS-040", {"first_is_dry": True, "after_first": after}).taken
    assert words in effect.after  # type: ignore[union-attr]
