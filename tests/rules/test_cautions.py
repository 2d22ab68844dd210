"""Cautions: each rule's cases, its edges and its rank."""

from __future__ import annotations

import pytest
from made_facts import Changes, step_of
from rule_cases import (
    ABOVE,
    AT_LEAST,
    AT_MOST,
    DOUBT,
    NO,
    Cases,
    Edge,
    claim,
    each_case,
    each_edge,
    wrong_sides,
)

from recommender.effects import Caution, Rank
from recommender.engine import Outcome

NOBODY: Changes = {"contact_condensed": False}
GAS: Changes = {"form_gas": True, "film_impossible": True, "boiling_point": -100.0}
LEVEL: Changes = {"idlh": 10.0, "vapor_hazard_ratio": 5.0}
NO_LEVEL: Changes = {"organic_liquid": True, "vapor_hazard_ratio": None}


def after_contact(*names: str) -> Cases:
    """Cases of a rule that needs these claims, and contact."""
    yes = dict.fromkeys(names, True)
    return Cases(
        (yes,),
        ({}, {**yes, **NOBODY}, *({**yes, name: False} for name in names)),
        tuple({**yes, name: None} for name in names),
    )


CASES = {
    "CAU-010": claim("flammable"),
    "CAU-020": Cases(
        (LEVEL,),
        (
            {},
            {**LEVEL, **NOBODY},
            {**LEVEL, "not_classified_for_health": True},
            {**LEVEL, "form_liquid": False},
            {**NO_LEVEL, "asphyxiant": True},
        ),
        (NO_LEVEL, {**NO_LEVEL, "organic_liquid": None}),
    ),
    "CAU-025": Cases(({"gives_off": "phosphine"},), ({},), ()),
    "CAU-030": Cases(
        ({"nerve_agent": True}, {"cholinesterase_inhibitor": True}), ({},), ({"nerve_agent": None},)
    ),
    "CAU-035": claim("opioid"),
    "CAU-040": claim("cyanide"),
    "CAU-050": claim("calcium_line"),
    "CAU-060": claim("oxygen_enriching"),
    "CAU-070": claim("asphyxiant"),
    "CAU-080": claim("radioactive"),
    "CAU-100": claim("reacts_violently_with_water"),
    "CAU-110": claim("pyrophoric"),
    "CAU-120": Cases(
        ({"heats_with_water": True},),
        (
            {},
            {"heats_with_water": True, **NOBODY},
            {"heats_with_water": True, "form_liquid": False},
            {"heats_with_water": True, "form_gas": True},
            {"heats_with_water": True, "hydrofluoric_type": True},
            {"heats_with_water": True, "reacts_violently_with_water": True},
        ),
        ({"heats_with_water": None},),
    ),
    "CAU-130": Cases(
        ({"form_solid": True, "identity_known": False},),
        (
            {"form_solid": True},
            {"identity_known": False},
            {"form_solid": True, "identity_known": False, **NOBODY},
        ),
        ({"form_solid": None, "identity_known": False},),
    ),
    "CAU-140": Cases(
        ({"form_cryogenic": True}, {"form_gas": True, "film_impossible": True}),
        ({}, {"form_cryogenic": True, **NOBODY}, {"form_gas": True}),
        ({"form_cryogenic": None},),
    ),
    "CAU-150": after_contact("form_molten"),
    "CAU-200": claim("delayed_effect"),
    "CAU-210": claim("vesicant"),
    "CAU-220": Cases(
        ({"skin_notation": True}, {"dermal_category": 3.0}),
        (
            {},
            {"skin_notation": True, "nerve_agent": True},
            {"skin_notation": True, "cholinesterase_inhibitor": True},
        ),
        ({"skin_notation": None}, {"dermal_category": None}),
    ),
    "CAU-230": claim("skin_sensitizer"),
    "CAU-240": claim("known_human_carcinogen"),
    "CAU-250": Cases(
        ({"alkali": True, "skin_corrosive": True},),
        (
            {"alkali": True},
            {"skin_corrosive": True},
            {"alkali": True, "skin_corrosive": True, **NOBODY},
            {"alkali": True, "skin_corrosive": True, "stays_dry": True},
        ),
        ({"alkali": None, "skin_corrosive": True},),
    ),
    "CAU-310": claim("pcb_or_dioxin"),
    "CAU-320": after_contact("suit_turnout"),
    "CAU-330": claim("biological"),
    "CAU-340": Cases(
        ({},),
        (NOBODY, {"not_classified_for_health": True}, GAS, {"form_cryogenic": True}),
        ({"not_classified_for_health": None}, {**GAS, "skin_corrosive": None}),
    ),
    "CAU-400": Cases(
        ({"polymerizes": True},),
        ({}, {"polymerizes": True, **NOBODY}, {"polymerizes": True, "form_liquid": False}),
        ({"polymerizes": None},),
    ),
    "CAU-410": Cases(
        ({"thick_or_tarry": True},),
        (
            {},
            {"thick_or_tarry": True, **NOBODY},
            {"thick_or_tarry": True, "form_liquid": False},
            {"thick_or_tarry": True, "form_molten": True},
        ),
        ({"thick_or_tarry": None}, {"viscosity": None}),
    ),
    "CAU-420": claim("heavier_vapor"),
    "CAU-430": Cases(
        ({"air_temperature": 10.0},),
        ({}, {"air_temperature": 0.0}, {"air_temperature": 10.0, **NOBODY}),
        ({"air_temperature": (10.0, 25.0)},),
    ),
    "CAU-431": Cases(
        ({"air_temperature": 0.0},),
        ({}, {"air_temperature": 0.0, **NOBODY}),
        ({"air_temperature": (0.0, 10.0)},),
    ),
    "CAU-440": Cases(({"air_temperature": 30.0},), ({},), ({"air_temperature": (20.0, 30.0)},)),
    "CAU-450": claim("stronger_than_held"),
    "CAU-460": claim("check_failed"),
}
EDGES = {
    "CAU-020": (
        Edge("vapor_hazard_ratio", "checks.vapor_hazard_ratio", ABOVE, {"idlh": 10.0}),
        Edge("saturation", "cautions.vapor_trace", (NO, DOUBT, DOUBT), NO_LEVEL),
    ),
    "CAU-220": (Edge("dermal_category", "stations.dermal_with_notation", AT_MOST, {}),),
    "CAU-340": (
        Edge("boiling_point", "state.frost_boiling_point", ABOVE, GAS),
        Edge("dermal_category", "stations.dermal_severe", AT_MOST, GAS),
        Edge(
            "dermal_category",
            "stations.dermal_with_notation",
            AT_MOST,
            {**GAS, "skin_notation": True},
        ),
    ),
    "CAU-410": (Edge("viscosity", "stations.thick_viscosity", ABOVE, {}),),
    "CAU-430": (
        Edge("air_temperature", "cautions.cold_wet_line", AT_MOST, {}),
        Edge("air_temperature", "cautions.freezing_line", ABOVE, {}),
    ),
    "CAU-431": (Edge("air_temperature", "cautions.freezing_line", AT_MOST, {}),),
    "CAU-440": (Edge("air_temperature", "cautions.heat_check", AT_LEAST, {}),),
}
AS_VALUES = {"CAU-010": {"checks.lower_limit_share"}}

LIFE = {
    *("CAU-010", "CAU-020", "CAU-025", "CAU-030", "CAU-035", "CAU-040", "CAU-050"),
    *("CAU-060", "CAU-070", "CAU-080", "CAU-450", "CAU-460"),
}
RANKS = {
    Rank.LIFE: LIFE,
    Rank.WRONG_FIRST_ACTION: {
        *("CAU-100", "CAU-110", "CAU-120", "CAU-130", "CAU-140", "CAU-150"),
    },
    Rank.MEDICAL: {"CAU-200", "CAU-210", "CAU-220", "CAU-230", "CAU-240", "CAU-250"},
    Rank.CONTAINMENT: {"CAU-310", "CAU-320", "CAU-330", "CAU-340"},
    Rank.OTHER: {"CAU-400", "CAU-410", "CAU-420", "CAU-430", "CAU-431", "CAU-440"},
}
# What is said even though nobody has stated the fact.
SAID_IN_DOUBT = {
    *("CAU-010", "CAU-020", "CAU-100", "CAU-110", "CAU-200", "CAU-220", "CAU-310", "CAU-340"),
}


@pytest.mark.parametrize(("rule_id", "outcome", "changes"), each_case(CASES))
def test_the_rule_finds(rule_id: str, outcome: Outcome, changes: Changes) -> None:
    assert step_of(rule_id, changes).outcome is outcome


@pytest.mark.parametrize(("rule_id", "edge"), each_edge(EDGES))
def test_the_limit_divides(rule_id: str, edge: Edge) -> None:
    assert wrong_sides(rule_id, edge) == []


@pytest.mark.parametrize("rank", RANKS)
def test_the_rule_warns_with_its_rank(rank: Rank) -> None:
    for rule_id in RANKS[rank]:
        (effect,) = step_of(rule_id, CASES[rule_id].applies[0]).taken
        assert isinstance(effect, Caution)
        assert effect.rank is rank, rule_id
        assert effect.text.endswith("."), rule_id


def test_every_caution_has_a_rank_here() -> None:
    assert sorted(rule_id for ids in RANKS.values() for rule_id in ids) == sorted(CASES)


@pytest.mark.parametrize("rule_id", sorted(SAID_IN_DOUBT))
def test_a_doubt_that_matters_is_said_as_a_doubt(rule_id: str) -> None:
    (effect,) = step_of(rule_id, CASES[rule_id].cannot_tell[0]).taken
    assert effect.text.endswith(".")  # type: ignore[union-attr]


def test_the_share_of_the_lower_limit_is_said() -> None:
    (effect,) = step_of("CAU-010", {"flammable": True}).taken
    assert "10 %" in effect.text  # type: ignore[union-attr]


def test_a_violent_reaction_withholds_no_flush_from_skin() -> None:
    (effect,) = step_of("CAU-100", {"reacts_violently_with_water": True}).taken
    assert "Skin: flood at once" in effect.text  # type: ignore[union-attr]
