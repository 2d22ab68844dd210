"""The stage model: each rule's cases, its edges, its wash classes and its arithmetic.

Worked by hand with the packaged limits: 4 mg/cm2 on 1,000 cm2, a tenth of it transferred, is
400 mg; the target is LD50 x 70 kg / 1,000. A thin soluble product loses 90 % a position, down to
the thousandth that a smooth suit keeps:
LD50 1,000 mg/kg: 70 mg, 17.5 % may stay, one position leaves 10 %;
LD50 100: 7 mg, 1.75 %, two leave 1.1 %;
LD50 50: 3.5 mg, 0.88 %, two leave 1.1 % and three leave 0.2 %;
LD50 5: 0.35 mg, 0.09 %, less than the suit keeps.
"""

from __future__ import annotations

import pytest
from made_facts import Changes, made_facts, step_of
from rule_cases import (
    BELOW,
    Cases,
    Edge,
    each_case,
    each_edge,
    wrong_sides,
)

from recommender.effects import Caution, Positions
from recommender.engine import Outcome
from recommender.facts import Facts
from recommender.limits import Limits, load_limits
from recommender.rules.stage_model import WASH_CLASSES, Screen, reassures, screens

ACID: Changes = {"acid": True, "water_solubility": 500.0}
MAYBE_ACID: Changes = {"acid": None, "water_solubility": 500.0}
NOT_WASHED: tuple[Changes, ...] = (
    {"contact_condensed": False},
    {"stays_dry": True},
    {"film_impossible": True},
    ACID,
)
WIDE: Changes = {"dermal_ld50": (50.0, 1950.0)}
HOLDS_UP: Changes = {"dermal_ld50": 100.0, "positions_so_far": (1.0, 3.0)}
BEYOND: Changes = {"dermal_ld50": 5.0, "persistence": 3.0}

CASES = {
    "STN-070": Cases(
        ({"dermal_ld50": 100.0},),
        (
            {},
            {"dermal_ld50": 1000.0},
            {"dermal_ld50": 100.0, "positions_so_far": 2.0},
            *({"dermal_ld50": 100.0, **never} for never in NOT_WASHED),
        ),
        (
            {"dermal_ld50": 1000.0, "thick_or_tarry": None},
            {"dermal_ld50": 100.0, **MAYBE_ACID},
        ),
    ),
    "STN-071": Cases(
        (WIDE,),
        (
            {},
            {"dermal_ld50": 1000.0},
            {**WIDE, "positions_so_far": 3.0},
            {"dermal_ld50": 50.0},
            *({**WIDE, **never} for never in NOT_WASHED),
        ),
        ({**WIDE, **MAYBE_ACID},),
    ),
    "STN-073": Cases(
        (HOLDS_UP,),
        (
            {},
            {"dermal_ld50": 100.0},
            {"dermal_ld50": 1000.0, "positions_so_far": (1.0, 3.0)},
            *({**HOLDS_UP, **never} for never in NOT_WASHED),
        ),
        ({**HOLDS_UP, **MAYBE_ACID},),
    ),
    "STN-072": Cases(
        (BEYOND,),
        (
            {},
            {**BEYOND, "dermal_ld50": 50.0},
            {**BEYOND, "persistence": 1.0},
            *({**BEYOND, **never} for never in NOT_WASHED),
        ),
        ({**BEYOND, "persistence": (1.0, 3.0)}, {**BEYOND, **MAYBE_ACID}),
    ),
}
EDGES = {
    rule_id: (Edge("water_solubility", "stations.freely_soluble", BELOW, {**also, "acid": True}),)
    for rule_id, also in (
        ("STN-070", {"dermal_ld50": 100.0}),
        ("STN-071", WIDE),
        ("STN-073", HOLDS_UP),
        ("STN-072", BEYOND),
    )
}
# The classes and the arithmetic are tested below, with the screens themselves.
SCREENING = {
    "stations.thick_viscosity",
    "stations.sparing_solubility",
    "stage_model.oily_solubility",
    "stage_model.thin_viscosity",
    "stage_model.load_splash",
    "stage_model.body_mass",
    "stage_model.safety_factor",
    "stage_model.contact_area",
    "stage_model.transfer",
    "stage_model.removal_free",
    "stage_model.removal_detergent",
    "stage_model.removal_oily",
    "stage_model.removal_thick",
    "stage_model.floor_smooth",
}
AS_VALUES = {
    "STN-070": SCREENING,
    "STN-071": SCREENING,
    "STN-073": SCREENING,
    "STN-072": SCREENING | {"stations.cap"},
}


def middle(changes: Changes) -> Screen:
    found = screens(Facts(made_facts(changes)), Limits(load_limits()))
    assert found is not None
    return found[1]


@pytest.mark.parametrize(("rule_id", "outcome", "changes"), each_case(CASES))
def test_the_rule_finds(rule_id: str, outcome: Outcome, changes: Changes) -> None:
    assert step_of(rule_id, changes).outcome is outcome


@pytest.mark.parametrize(("rule_id", "edge"), each_edge(EDGES))
def test_the_limit_divides(rule_id: str, edge: Edge) -> None:
    assert wrong_sides(rule_id, edge) == []


@pytest.mark.parametrize(
    ("rule_id", "added"), [("STN-070", (1, 1, 1)), ("STN-071", (0, 0, 1)), ("STN-073", (1, 0, 0))]
)
def test_the_rule_adds_and_in_doubt_as_well(rule_id: str, added: tuple[int, int, int]) -> None:
    for changes in (CASES[rule_id].applies[0], CASES[rule_id].cannot_tell[0]):
        (effect,) = step_of(rule_id, changes).taken
        assert isinstance(effect, Positions)
        assert (effect.low, effect.mid, effect.high) == added


def test_a_target_out_of_reach_is_said() -> None:
    assert isinstance(step_of("STN-072", BEYOND).taken[0], Caution)


@pytest.mark.parametrize(("dose", "needed"), [(1000.0, 1), (100.0, 2), (50.0, 3), (5.0, None)])
def test_the_positions_needed_are_those_worked_by_hand(dose: float, needed: int | None) -> None:
    assert middle({"dermal_ld50": dose}).needed == needed


@pytest.mark.parametrize(
    ("changes", "percent"),
    [({}, 10.09), ({"water_solubility": 1.0}, 15.085), ({"suit_turnout": True}, 19.0)],
)
def test_what_one_position_leaves_is_that_worked_by_hand(changes: Changes, percent: float) -> None:
    screen = middle({"dermal_ld50": 1000.0, **changes})
    assert screen.percent_left(1) == pytest.approx(percent)


def test_a_drenched_suit_needs_more_than_a_splashed_one() -> None:
    splash, gross = (
        middle({"dermal_ld50": 400.0}),
        middle({"dermal_ld50": 400.0, "contact_gross": True}),
    )
    assert gross.required == pytest.approx(splash.required + 0.39794)  # log10(10 / 4)
    assert (splash.needed, gross.needed) == (2, 2)


CLASS_EDGES = [
    ("water_solubility", "stations.sparing_solubility", {}, (1, 1, 0)),
    ("water_solubility", "stage_model.oily_solubility", {}, (2, 1, 1)),
    ("viscosity", "stage_model.thin_viscosity", {}, (0, 0, 1)),
    ("viscosity", "stations.thick_viscosity", {}, (1, 1, 3)),
]


@pytest.mark.parametrize(("fact", "limit", "also", "classes"), CLASS_EDGES)
def test_the_wash_class_changes_at_its_limits(
    fact: str, limit: str, also: Changes, classes: tuple[int, int, int]
) -> None:
    edge = load_limits()[limit].value
    values = (edge * (1 - 1e-6), edge, edge * (1 + 1e-6))
    found = [middle({"dermal_ld50": 100.0, **also, fact: v}).wash_class for v in values]
    assert [WASH_CLASSES[i] for i in found] == [WASH_CLASSES[i] for i in classes]


def test_a_tarry_product_is_thick_and_one_in_doubt_counts_as_thick() -> None:
    assert middle({"dermal_ld50": 100.0, "thick_or_tarry": True}).wash_class == 3
    assert middle({"dermal_ld50": 100.0, "thick_or_tarry": None}).wash_class == 3
    powder = {"dermal_ld50": 100.0, "thick_or_tarry": None, "form_solid": True}
    assert middle(powder).wash_class == 0


def test_a_product_of_unknown_solubility_counts_as_oily() -> None:
    assert middle({"dermal_ld50": 100.0, "water_solubility": None}).wash_class == 2


@pytest.mark.parametrize(
    "harm",
    [
        "skin_corrosive",
        "skin_sensitizer",
        "known_human_carcinogen",
        "vesicant",
        "hydrofluoric_type",
    ],
)
@pytest.mark.parametrize("answer", [True, None])
def test_what_is_left_is_not_shown_where_the_dose_does_not_describe_the_harm(
    harm: str, answer: bool | None
) -> None:
    assert reassures(Facts(made_facts({})))
    assert not reassures(Facts(made_facts({harm: answer})))
