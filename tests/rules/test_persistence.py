"""How long a film stays: each rule's cases, its edges and its grade."""

from __future__ import annotations

import pytest
from made_facts import Changes, step_of
from rule_cases import ABOVE, AT_LEAST, Cases, Edge, each_case, each_edge, wrong_sides

from recommender.effects import Grade, GradeAtLeast, NoFilm
from recommender.engine import Outcome

NO_FILM: tuple[Changes, ...] = (
    {"form_liquid": False},
    {"film_impossible": True},
    {"form_cryogenic": True},
    {"dissolved_solid": True},
)


def of_a_film(yes: Changes, doubt: Changes) -> Cases:
    """Cases of a rule that speaks of a film that could leave by evaporating."""
    return Cases((yes,), ({}, *({**yes, **no_film} for no_film in NO_FILM)), (doubt,))


CASES = {
    "PERS-010": Cases(
        ({"film_impossible": True}, {"form_cryogenic": True}), ({},), ({"film_impossible": None},)
    ),
    "PERS-020": of_a_film({"film_residence": 30.0}, {"film_residence": (1.0, 30.0)}),
    "PERS-021": of_a_film({"film_residence": 90.0}, {"film_residence": None}),
    "PERS-022": of_a_film({"film_residence": 3000.0}, {"film_residence": (90.0, 3000.0)}),
    "PERS-030": Cases(
        ({"form_solid": True},),
        ({}, {"form_solid": True, "form_cryogenic": True}),
        ({"form_solid": None},),
    ),
    "PERS-035": Cases(
        ({"dissolved_solid": True},),
        ({}, {"dissolved_solid": True, "form_liquid": False}),
        ({"dissolved_solid": None},),
    ),
    "PERS-040": of_a_film({"takes_up_water": True}, {"takes_up_water": None}),
    "PERS-050": of_a_film({"polymerizes": True}, {"polymerizes": None}),
    "PERS-060": of_a_film({"thick_or_tarry": True}, {"thick_or_tarry": None}),
    "PERS-070": Cases(({"form_molten": True},), ({},), ({"form_molten": None},)),
    "PERS-080": Cases(
        ({"frozen": True},),
        ({}, {"frozen": True, "film_impossible": True}),
        ({"frozen": None},),
    ),
    "PERS-090": Cases(
        ({"suit_turnout": True},),
        (
            {},
            {"suit_turnout": True, "contact_condensed": False},
            *({"suit_turnout": True, **no_film} for no_film in NO_FILM),
        ),
        ({"suit_turnout": None},),
    ),
}
EDGES = {
    "PERS-020": (Edge("film_residence", "persistence.minutes_end", AT_LEAST, {}),),
    "PERS-021": (Edge("film_residence", "persistence.hour_end", AT_LEAST, {}),),
    "PERS-022": (Edge("film_residence", "persistence.hours_end", AT_LEAST, {}),),
    "PERS-060": (Edge("viscosity", "stations.thick_viscosity", ABOVE, {}),),
}
AS_VALUES: dict[str, set[str]] = {}

GRADES = {
    "PERS-020": Grade.WITHIN_HOUR,
    "PERS-021": Grade.HOURS,
    "PERS-022": Grade.DAYS,
    "PERS-030": Grade.DAYS,
    "PERS-035": Grade.DAYS,
    "PERS-040": Grade.DAYS,
    "PERS-050": Grade.DAYS,
    "PERS-060": Grade.DAYS,
    "PERS-070": Grade.DAYS,
    "PERS-080": Grade.DAYS,
    "PERS-090": Grade.DAYS,
}


@pytest.mark.parametrize(("rule_id", "outcome", "changes"), each_case(CASES))
def test_the_rule_finds(rule_id: str, outcome: Outcome, changes: Changes) -> None:
    assert step_of(rule_id, changes).outcome is outcome


@pytest.mark.parametrize(("rule_id", "edge"), each_edge(EDGES))
def test_the_limit_divides(rule_id: str, edge: Edge) -> None:
    assert wrong_sides(rule_id, edge) == []


@pytest.mark.parametrize(("rule_id", "grade"), GRADES.items())
def test_the_rule_grades_with_a_reason_and_in_doubt_as_well(rule_id: str, grade: Grade) -> None:
    for changes in (CASES[rule_id].applies[0], CASES[rule_id].cannot_tell[0]):
        (effect,) = step_of(rule_id, changes).taken
        assert isinstance(effect, GradeAtLeast)
        assert effect.grade is grade
        assert effect.reason


def test_that_no_film_can_exist_is_not_taken_in_doubt() -> None:
    assert isinstance(step_of("PERS-010", {"film_impossible": True}).taken[0], NoFilm)
    assert step_of("PERS-010", {"film_impossible": None}).taken == ()
