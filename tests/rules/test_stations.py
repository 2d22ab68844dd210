"""How many positions: each rule's cases, its edges and what it adds or takes off."""

from __future__ import annotations

from dataclasses import replace

import pytest
from made_facts import Changes, step_of
from rule_cases import (
    ABOVE,
    AT_LEAST,
    AT_MOST,
    BELOW,
    Cases,
    Edge,
    claim,
    each_case,
    each_edge,
    wrong_sides,
)

from recommender.effects import Credit, NoPositions, Positions
from recommender.engine import Outcome
from recommender.limits import load_limits

VAPOR: Changes = {"contact_condensed": False, "contact_vapor": True}
DRY_SOLID: Changes = {"form_liquid": False}
NOBODY: Changes = {"contact_condensed": False}
LASTS: Changes = {"persistence": 3.0}
OILY: Changes = {**LASTS, "water_solubility": 1.0}
GAS: Changes = {"form_gas": True, "film_impossible": True, "boiling_point": -100.0}
DISPOSABLE: Changes = {"suit_disposable": True}

CASES = {
    "STN-010": Cases(
        ({"contact_vapor": True, "vapor_can_condense": False},),
        (
            VAPOR,
            {"vapor_can_condense": False},
            {**VAPOR, "vapor_can_condense": False, "fumes": True},
        ),
        (
            {**VAPOR, "vapor_can_condense": None},
            {**VAPOR, "vapor_can_condense": False, "fumes": None},
        ),
    ),
    "STN-015": Cases(
        ({"contact_vapor": True, "vapor_can_condense": False, "irritant_soluble_gas": True},),
        ({**VAPOR, "vapor_can_condense": False}, {**VAPOR, "irritant_soluble_gas": True}),
        ({**VAPOR, "vapor_can_condense": False, "irritant_soluble_gas": None},),
    ),
    "STN-020": Cases(
        ({"contact_vapor": True},),
        (
            {},
            {**VAPOR, "vapor_can_condense": False},
            {**VAPOR, "vapor_can_condense": False, "fumes": True, "irritant_soluble_gas": True},
        ),
        (
            {**VAPOR, "vapor_can_condense": None},
            {**VAPOR, "vapor_can_condense": False, "fumes": None},
        ),
    ),
    "STN-030": Cases(({},), (NOBODY,), ({"contact_condensed": None},)),
    "STN-040": Cases(
        (
            OILY,
            {**LASTS, "thick_or_tarry": True},
            {**LASTS, "dermal_category": 2.0},
            {**LASTS, "vesicant": True},
            {**LASTS, "nerve_agent": True},
        ),
        (
            LASTS,
            {"water_solubility": 1.0},
            {**OILY, **DRY_SOLID},
            {**OILY, **NOBODY},
            {**OILY, "not_classified_for_health": True},
            {**LASTS, "dermal_category": 2.0, "water_solubility": 500.0},
            {**LASTS, "toxic_6_1_pg_i": True},
        ),
        (
            {**LASTS, "water_solubility": None},
            {"water_solubility": 1.0, "persistence": (1.0, 3.0)},
            {**OILY, "not_classified_for_health": None},
            {**LASTS, "dermal_category": None},
        ),
    ),
    "STN-041": Cases(
        ({**LASTS, "dermal_category": 2.0, "water_solubility": 500.0},),
        (
            {**LASTS, "dermal_category": 2.0},
            {**LASTS, "water_solubility": 500.0},
            {"dermal_category": 2.0, "water_solubility": 500.0},
            {**LASTS, "dermal_category": 2.0, "water_solubility": 500.0, **DRY_SOLID},
            {**LASTS, "dermal_category": 2.0, "water_solubility": 500.0, **NOBODY},
        ),
        ({**LASTS, "dermal_category": None, "water_solubility": 500.0},),
    ),
    "STN-050": Cases(
        (
            {"vesicant": True},
            {"nerve_agent": True},
            {"cholinesterase_inhibitor": True},
            {"pcb_or_dioxin": True},
            {"hydrofluoric_type": True},
            {"toxic_6_1_pg_i": True},
            {"dermal_category": 2.0},
            {"dermal_category": 3.0, "skin_notation": True},
        ),
        (
            {},
            {"vesicant": True, **NOBODY},
            {"skin_notation": True},
            {"dermal_category": 3.0},
            {"skin_corrosive": True},
            {"known_human_carcinogen": True, "skin_notation": True},
            {"skin_sensitizer": True},
        ),
        (
            {"vesicant": None},
            {"toxic_6_1_pg_i": None},
            {"dermal_category": None},
            {"dermal_category": 3.0, "skin_notation": None},
        ),
    ),
    "STN-051": Cases(
        ({"known_human_carcinogen": True, "skin_notation": True},),
        (
            {"known_human_carcinogen": True},
            {"skin_notation": True},
            {"known_human_carcinogen": True, "skin_notation": True, **NOBODY},
        ),
        ({"known_human_carcinogen": True, "skin_notation": None},),
    ),
    "STN-060": claim("contact_gross"),
    "STN-080": Cases(
        (DISPOSABLE, {"airing_place": True}),
        (
            {},
            {"airing_place": True, "persistence": 2.0},
            *(
                {**DISPOSABLE, **never}
                for never in (
                    {"vesicant": True},
                    {"dermal_category": 1.0},
                    {"skin_corrosive": True},
                    {"contact_gross": True},
                    {"identity_known": False},
                    {"check_failed": True},
                    NOBODY,
                )
            ),
        ),
        (
            {**DISPOSABLE, "skin_corrosive": None},
            {**DISPOSABLE, "vesicant": None},
            {"airing_place": True, "persistence": (1.0, 3.0)},
        ),
    ),
    "STN-090": Cases(
        ({"form_cryogenic": True}, GAS),
        (
            {},
            {"form_cryogenic": True, **NOBODY},
            {**GAS, "film_impossible": False},
            *(
                {"form_cryogenic": True, harm: True}
                for harm in (
                    "vesicant",
                    "skin_corrosive",
                    "irritant_soluble_gas",
                    "pyrophoric",
                    "reacts_violently_with_water",
                )
            ),
        ),
        ({"form_cryogenic": True, "skin_corrosive": None}, {**GAS, "dermal_category": None}),
    ),
}
EDGES = {
    "STN-040": (
        Edge("water_solubility", "stations.sparing_solubility", BELOW, LASTS),
        Edge("viscosity", "stations.thick_viscosity", ABOVE, LASTS),
        Edge("dermal_category", "stations.dermal_severe", AT_MOST, LASTS),
        Edge(
            "water_solubility", "stations.freely_soluble", BELOW, {**LASTS, "dermal_category": 1.0}
        ),
    ),
    "STN-041": (
        Edge(
            "dermal_category",
            "stations.dermal_severe",
            AT_MOST,
            {**LASTS, "water_solubility": 500.0},
        ),
        Edge(
            "water_solubility",
            "stations.freely_soluble",
            AT_LEAST,
            {**LASTS, "dermal_category": 1.0},
        ),
    ),
    "STN-050": (
        Edge("dermal_category", "stations.dermal_severe", AT_MOST, {}),
        Edge("dermal_category", "stations.dermal_with_notation", AT_MOST, {"skin_notation": True}),
    ),
    "STN-080": (
        Edge("dermal_category", "stations.dermal_severe", ABOVE, DISPOSABLE),
        Edge(
            "dermal_category",
            "stations.dermal_with_notation",
            ABOVE,
            {**DISPOSABLE, "skin_notation": True},
        ),
    ),
    "STN-090": (
        Edge("boiling_point", "state.frost_boiling_point", AT_MOST, GAS),
        Edge("dermal_category", "stations.dermal_severe", ABOVE, GAS),
        Edge(
            "dermal_category",
            "stations.dermal_with_notation",
            ABOVE,
            {**GAS, "skin_notation": True},
        ),
    ),
}
AS_VALUES = {"STN-030": {"stations.contact"}}

ADDED = {
    "STN-010": (0, 0, 0),
    "STN-015": (0, 0, 1),
    "STN-020": (0, 1, 2),
    "STN-030": (1, 1, 1),
    "STN-040": (1, 1, 1),
    "STN-041": (0, 0, 1),
    "STN-050": (1, 1, 1),
    "STN-051": (0, 0, 1),
    "STN-060": (1, 1, 1),
}


@pytest.mark.parametrize(("rule_id", "outcome", "changes"), each_case(CASES))
def test_the_rule_finds(rule_id: str, outcome: Outcome, changes: Changes) -> None:
    assert step_of(rule_id, changes).outcome is outcome


@pytest.mark.parametrize(("rule_id", "edge"), each_edge(EDGES))
def test_the_limit_divides(rule_id: str, edge: Edge) -> None:
    assert wrong_sides(rule_id, edge) == []


@pytest.mark.parametrize(("rule_id", "added"), ADDED.items())
def test_the_rule_adds_and_in_doubt_as_well(rule_id: str, added: tuple[int, int, int]) -> None:
    for changes in (CASES[rule_id].applies[0], CASES[rule_id].cannot_tell[0]):
        (effect,) = step_of(rule_id, changes).taken
        assert isinstance(effect, Positions)
        assert (effect.low, effect.mid, effect.high) == added
        assert effect.driver


@pytest.mark.parametrize(("rule_id", "kind"), [("STN-080", Credit), ("STN-090", NoPositions)])
def test_what_takes_off_is_refused_in_doubt(rule_id: str, kind: type) -> None:
    assert isinstance(step_of(rule_id, CASES[rule_id].applies[0]).taken[0], kind)
    for changes in CASES[rule_id].cannot_tell:
        assert step_of(rule_id, changes).taken == ()


def test_the_contact_step_adds_as_many_as_its_limit_says() -> None:
    limits = load_limits()
    two = {**limits, "stations.contact": replace(limits["stations.contact"], value=2.0)}
    (effect,) = step_of("STN-030", {}, two).taken
    assert (effect.low, effect.mid, effect.high) == (2, 2, 2)  # type: ignore[union-attr]


@pytest.mark.parametrize("vapor_pressure", [None, 1e-3, 1e3, 9e4])
def test_harm_through_skin_does_not_hang_on_vapor(vapor_pressure: float | None) -> None:
    changes = {"vesicant": True, "vapor_pressure": vapor_pressure, "persistence": 1.0}
    assert step_of("STN-050", changes).outcome is Outcome.APPLIES
