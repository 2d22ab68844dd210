"""How to see whether it worked, and who runs it: each rule's cases and edges."""

from __future__ import annotations

import pytest
from made_facts import Changes, step_of
from rule_cases import (
    ABOVE,
    AT_LEAST,
    BELOW,
    DOUBT,
    NO,
    Cases,
    Edge,
    claim,
    each_case,
    each_edge,
    wrong_sides,
)

from recommender.effects import Check, CrewNote
from recommender.engine import Outcome

SEEN: Changes = {"ionization_energy": 9.0}
NO_VAPOR: Changes = {"saturation": 1.0}
NO_LEVEL: Changes = {"organic_liquid": True, "vapor_hazard_ratio": None}
LEVEL: Changes = {"idlh": 10.0, "vapor_hazard_ratio": 5.0}

CASES = {
    "CHK-010": Cases(
        ({"acid": True}, {"alkali": True}, {"hydrolyzes_to_acid": True}),
        ({}, {"acid": True, "stays_dry": True}, {"acid": True, "first_is_air": True}),
        ({"acid": None},),
    ),
    "CHK-020": Cases(
        (SEEN,),
        ({}, {**SEEN, **NO_VAPOR}),
        ({"ionization_energy": None}, {**SEEN, "saturation": None}),
    ),
    "CHK-030": Cases(
        ({"flammable": True},),
        (
            {},
            {"flammable": True, "strong_oxidizer": True},
            {"flammable": True, **NO_VAPOR},
        ),
        ({"flammable": None}, {"flammable": True, "saturation": None}),
    ),
    "CHK-040": claim("radioactive"),
    "CHK-050": claim("mercury_metal"),
    "CHK-060": claim("fluoresces"),
    "CHK-070": claim("keep_wet"),
    "CHK-080": claim("visible_residue"),
    "CHK-090": Cases(
        tuple(
            {name: True}
            for name in (
                "pcb_or_dioxin",
                "vesicant",
                "nerve_agent",
                "biological",
                "cholinesterase_inhibitor",
                "opioid",
            )
        ),
        ({},),
        ({"biological": None},),
    ),
    "CHK-100": Cases(({"nerve_agent": True}, {"vesicant": True}), ({},), ({"nerve_agent": None},)),
    "CHK-110": Cases(({"gives_off": "phosphine"},), ({},), ()),
    "CHK-120": claim("asphyxiant"),
    "CREW-010": Cases(({},), (), ()),
    "CREW-020": Cases(
        ({"nerve_agent": True}, LEVEL),
        ({}, {"nerve_agent": True, "contact_condensed": False}, {**LEVEL, "idlh": None}),
        ({"nerve_agent": None}, NO_LEVEL),
    ),
    "CREW-030": Cases(({},), (), ()),
}
EDGES = {
    "CHK-020": (
        Edge("ionization_energy", "checks.lamp_energy", BELOW, {}, less="checks.lamp_margin"),
        Edge("saturation", "checks.meter_min_concentration", AT_LEAST, SEEN),
    ),
    "CHK-030": (
        Edge("saturation", "checks.meter_min_concentration", AT_LEAST, {"flammable": True}),
    ),
    "CREW-020": (
        Edge("vapor_hazard_ratio", "checks.vapor_hazard_ratio", ABOVE, {"idlh": 10.0}),
        Edge("saturation", "cautions.vapor_trace", (NO, DOUBT, DOUBT), NO_LEVEL),
    ),
}
# Numbers that are said, and the harm that decides what neutral paper proves (tested below).
AS_VALUES = {
    "CHK-010": {"stations.dermal_severe", "stations.dermal_with_notation"},
    "CHK-030": {"checks.lower_limit_share"},
}


@pytest.mark.parametrize(("rule_id", "outcome", "changes"), each_case(CASES))
def test_the_rule_finds(rule_id: str, outcome: Outcome, changes: Changes) -> None:
    assert step_of(rule_id, changes).outcome is outcome


@pytest.mark.parametrize(("rule_id", "edge"), each_edge(EDGES))
def test_the_limit_divides(rule_id: str, edge: Edge) -> None:
    assert wrong_sides(rule_id, edge) == []


@pytest.mark.parametrize("rule_id", [r for r in CASES if r.startswith("CHK")])
def test_a_check_is_offered_only_when_settled(rule_id: str) -> None:
    (effect,) = step_of(rule_id, CASES[rule_id].applies[0]).taken
    assert isinstance(effect, Check)
    assert effect.text
    assert all(step_of(rule_id, changes).taken == () for changes in CASES[rule_id].cannot_tell)


@pytest.mark.parametrize("rule_id", [r for r in CASES if r.startswith("CREW")])
def test_a_note_on_the_crew_is_made_in_doubt_as_well(rule_id: str) -> None:
    for changes in (*CASES[rule_id].applies, *CASES[rule_id].cannot_tell):
        (effect,) = step_of(rule_id, changes).taken
        assert isinstance(effect, CrewNote)


@pytest.mark.parametrize("poison", [{"dermal_category": 2.0}, {"cholinesterase_inhibitor": True}])
def test_neutral_paper_is_no_proof_where_a_poison_stays(poison: Changes) -> None:
    (plain,) = step_of("CHK-010", {"acid": True}).taken
    (poisoned,) = step_of("CHK-010", {"acid": True, **poison}).taken
    assert plain.sees_it  # type: ignore[union-attr]
    assert not poisoned.sees_it  # type: ignore[union-attr]
    assert "no proof" in poisoned.text  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("idlh", "fire_only"), [(5001.0, False), (5000.0, False), (4999.0, True), (None, True)]
)
def test_a_fire_reading_says_nothing_of_breathing_below_its_action_level(
    idlh: float | None, fire_only: bool
) -> None:
    """A tenth of a lower limit of 5 % is 5,000 ppm."""
    changes = {"flammable": True, "lower_flammable_limit": 5.0, "idlh": idlh}
    (effect,) = step_of("CHK-030", changes).taken
    assert effect.sees_it is not fire_only  # type: ignore[union-attr]
    assert ("fire only" in effect.text) is fire_only  # type: ignore[union-attr]


def test_a_flammable_mixture_has_light_ends_that_a_meter_sees() -> None:
    """What is held of a mixture is the vapor pressure of its heavy cut."""
    mixture = {**NO_VAPOR, "mixture": True, "flammable": True}
    assert step_of("CHK-020", {**SEEN, **mixture}).outcome is Outcome.APPLIES
    assert step_of("CHK-020", {**SEEN, **mixture, "flammable": False}).outcome is NO
    assert step_of("CHK-030", mixture).outcome is Outcome.APPLIES
    assert step_of("CHK-030", {**mixture, "mixture": False}).outcome is NO


def test_the_gas_to_meter_is_named() -> None:
    (effect,) = step_of("CHK-110", {"gives_off": "phosphine"}).taken
    assert "phosphine" in effect.text  # type: ignore[union-attr]
