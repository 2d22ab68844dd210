"""What comes first: each rule's cases, its edges and the step it chooses."""

from __future__ import annotations

import pytest
from made_facts import Changes, step_of
from rule_cases import (
    ABOVE,
    AT_MOST,
    Cases,
    Edge,
    each_case,
    each_edge,
    wrong_sides,
)

from recommender.effects import First, Method
from recommender.engine import Outcome

GAS: Changes = {"form_gas": True, "film_impossible": True, "boiling_point": -100.0}
VAPOR: Changes = {"contact_condensed": False, "contact_vapor": True}
SOLID: Changes = {"form_solid": True, "form_liquid": False}

CASES = {
    "METH-010": Cases(
        ({"form_cryogenic": True},),
        ({}, {"form_cryogenic": True, **VAPOR}),
        ({"form_cryogenic": None},),
    ),
    "METH-015": Cases(
        (GAS,),
        (
            {},
            {**GAS, **VAPOR},
            {**GAS, "film_impossible": False},
            {**GAS, "vesicant": True},
            {**GAS, "skin_corrosive": True},
            {**GAS, "irritant_soluble_gas": True},
            {**GAS, "pyrophoric": True},
            {**GAS, "reacts_violently_with_water": True},
        ),
        ({**GAS, "dermal_category": None}, {**GAS, "skin_corrosive": None}),
    ),
    "METH-020": Cases(
        ({"form_molten": True},),
        ({}, {"form_molten": True, **VAPOR}, {"form_molten": True, "keep_wet": True}),
        ({"form_molten": None}, {"form_molten": True, "keep_wet": None}),
    ),
    "METH-030": Cases(
        ({"keep_wet": True},), ({}, {"keep_wet": True, **VAPOR}), ({"keep_wet": None},)
    ),
    "METH-040": Cases(
        ({"pyrophoric": True}, {**VAPOR, "pyrophoric": True}),
        (
            {},
            {"pyrophoric": True, "keep_wet": True},
            {"pyrophoric": True, "reacts_violently_with_water": True},
            {**VAPOR, "pyrophoric": True, "vapor_can_condense": False},
        ),
        ({"pyrophoric": None},),
    ),
    "METH-050": Cases(
        ({"reacts_violently_with_water": True, "form_solid": True},),
        (
            {"reacts_violently_with_water": True},
            SOLID,
            {"reacts_violently_with_water": True, **SOLID, **VAPOR},
        ),
        ({"reacts_violently_with_water": None, "form_solid": True},),
    ),
    "METH-060": Cases(
        ({"reacts_violently_with_water": True},),
        (
            {},
            {"reacts_violently_with_water": True, "form_liquid": False},
            {"reacts_violently_with_water": True, "form_molten": True},
            {"reacts_violently_with_water": True, **VAPOR},
        ),
        ({"reacts_violently_with_water": None},),
    ),
    "METH-065": Cases(
        ({"contact_vapor": True, "reacts_violently_with_water": True},),
        (
            {"reacts_violently_with_water": True},
            VAPOR,
            {**VAPOR, "reacts_violently_with_water": True, "vapor_can_condense": False},
            {
                **VAPOR,
                "reacts_violently_with_water": True,
                "vapor_can_condense": False,
                "fumes": True,
                "irritant_soluble_gas": True,
            },
        ),
        ({**VAPOR, "reacts_violently_with_water": None},),
    ),
    "METH-070": Cases(
        ({"brush_before_water": True, "form_solid": True},),
        (SOLID, {"brush_before_water": True}, {"brush_before_water": True, **SOLID, **VAPOR}),
        ({"brush_before_water": None, "form_solid": True},),
    ),
    "METH-080": Cases(
        ({"mercury_metal": True},),
        ({}, {"mercury_metal": True, **VAPOR}),
        ({"mercury_metal": None},),
    ),
    "METH-090": Cases(
        ({"oxidizing_powder": True, "form_solid": True},),
        (SOLID, {"oxidizing_powder": True}, {"oxidizing_powder": True, **SOLID, **VAPOR}),
        ({"oxidizing_powder": None, "form_solid": True},),
    ),
    "METH-100": Cases(
        ({"toxic_particulate": True, "form_solid": True},),
        (
            SOLID,
            {"toxic_particulate": True},
            *(
                {"toxic_particulate": True, **SOLID, other: True}
                for other in (
                    "reacts_violently_with_water",
                    "brush_before_water",
                    "oxidizing_powder",
                    "mercury_metal",
                    "keep_wet",
                )
            ),
        ),
        (
            {"toxic_particulate": None, "form_solid": True},
            {"toxic_particulate": True, "form_solid": True, "reacts_violently_with_water": None},
        ),
    ),
    "METH-110": Cases(
        ({"contact_vapor": True, "vapor_can_condense": False},),
        (
            {"vapor_can_condense": False},
            VAPOR,
            {**VAPOR, "vapor_can_condense": False, "fumes": True},
        ),
        (
            {**VAPOR, "vapor_can_condense": None},
            {**VAPOR, "vapor_can_condense": False, "fumes": None},
        ),
    ),
}
EDGES = {
    "METH-015": (
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
AS_VALUES: dict[str, set[str]] = {}

FIRSTS = {
    "METH-010": Method.HOLD,
    "METH-015": Method.HOLD,
    "METH-020": Method.HOLD,
    "METH-030": Method.KEEP_WET,
    "METH-040": Method.HOLD,
    "METH-050": Method.DRY,
    "METH-060": Method.DRY,
    "METH-065": Method.DRY,
    "METH-070": Method.DRY,
    "METH-080": Method.WIPE,
    "METH-090": Method.DRY,
    "METH-100": Method.WIPE,
    "METH-110": Method.AIR,
}


@pytest.mark.parametrize(("rule_id", "outcome", "changes"), each_case(CASES))
def test_the_rule_finds(rule_id: str, outcome: Outcome, changes: Changes) -> None:
    assert step_of(rule_id, changes).outcome is outcome


@pytest.mark.parametrize(("rule_id", "edge"), each_edge(EDGES))
def test_the_limit_divides(rule_id: str, edge: Edge) -> None:
    assert wrong_sides(rule_id, edge) == []


@pytest.mark.parametrize(("rule_id", "method"), FIRSTS.items())
def test_the_rule_chooses(rule_id: str, method: Method) -> None:
    (effect,) = step_of(rule_id, CASES[rule_id].applies[0]).taken
    assert isinstance(effect, First)
    assert effect.method is method
    assert effect.how
    assert effect.then


def test_only_the_wiping_of_dust_and_the_hold_of_a_melt_are_taken_in_doubt() -> None:
    taken = {
        rule_id
        for rule_id, cases in CASES.items()
        if any(step_of(rule_id, changes).taken for changes in cases.cannot_tell)
    }
    assert taken == {"METH-020", "METH-100"}


@pytest.mark.parametrize("rule_id", ["METH-040", "METH-050", "METH-060", "METH-070", "METH-090"])
def test_the_words_of_the_row_lead_over_the_words_of_the_rule(rule_id: str) -> None:
    changes = {**CASES[rule_id].applies[0], "first_detail": "the row's words"}
    assert step_of(rule_id, changes).taken[0].how == "the row's words"  # type: ignore[union-attr]


@pytest.mark.parametrize("rule_id", ["METH-050", "METH-060", "METH-070", "METH-090", "METH-100"])
def test_what_follows_the_first_step_is_what_the_row_says(rule_id: str) -> None:
    case = CASES[rule_id].applies[0]
    follows = {
        after: step_of(rule_id, {**case, "after_first": after}).taken[0].then  # type: ignore[union-attr]
        for after in ("flood", "keep_dry", "wet", "technician")
    }
    assert len(set(follows.values())) == len(follows)
    assert "flood" in follows["flood"]
    assert "technician" in follows["technician"]


def test_a_dust_whose_reaction_with_water_is_not_known_is_not_misted() -> None:
    known = step_of("METH-100", {**SOLID, "toxic_particulate": True})
    doubt = step_of(
        "METH-100", {**SOLID, "toxic_particulate": True, "reacts_violently_with_water": None}
    )
    assert "mist lightly" in known.taken[0].how  # type: ignore[union-attr]
    assert "no mist" in doubt.taken[0].how  # type: ignore[union-attr]
