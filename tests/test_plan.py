"""How effects combine: the table at the head of the plan's module, line by line.

Each case puts a few made-up rules in place of the real ones, so that only the combining is tested.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest
from made_facts import Changes, made_facts

from recommender import plan
from recommender.effects import (
    Caution,
    Check,
    Credit,
    CrewNote,
    DoNotUse,
    Effect,
    Emphasis,
    First,
    Grade,
    GradeAtLeast,
    Gross,
    Method,
    NoFilm,
    NoGross,
    NoPositions,
    Offer,
    Positions,
    Rank,
    UseSolution,
)
from recommender.engine import Decision, Rule, Stage, rule, when
from recommender.errors import DataError
from recommender.facts import Facts, Verdict
from recommender.limits import Limits, load_limits
from recommender.plan import run_stages, unknown_names
from recommender.recommend import recommend
from recommender.rules import ALL_RULES

# The made-up rules hang on these: one fact is yes, one is no, one is not stated, one straddles.
SURE, EXCLUDED, OPEN, STRADDLES = "flammable", "opioid", "isocyanate", "straddles"
BASE: Changes = {
    SURE: True,
    EXCLUDED: False,
    OPEN: None,
    "saturation": (50.0, 150.0),
    "film_residence": (1.0, 2.0),
}

Made = tuple[Stage, str, Effect]
Run = Callable[..., plan.Outcomes]


def verdict_of(facts: Facts, name: str) -> Verdict:
    return facts.number("saturation").at_least(100.0) if name == STRADDLES else facts[name]


def made_rule(number: int, stage: Stage, hangs_on: str, effect: Effect) -> Rule:
    @rule(f"TEST-{number:03}", title=f"Made up {number}", stage=stage, sources=("judgement",))
    def made_up(facts: Facts, limits: Limits) -> Decision:
        """Made up."""
        return when(verdict_of(facts, hangs_on), effect)

    return made_up


@pytest.fixture
def run(monkeypatch: pytest.MonkeyPatch) -> Run:
    def run_made_rules(*made: Made, **changes: object) -> plan.Outcomes:
        rules = [made_rule(i, *each) for i, each in enumerate(made)]
        by_stage = {stage: tuple(r for r in rules if r.stage is stage) for stage in Stage}
        monkeypatch.setattr(plan, "BY_STAGE", by_stage)
        return run_stages(made_facts({**BASE, **changes}), load_limits())  # type: ignore[dict-item]

    return run_made_rules


def first(method: Method, hangs_on: str = SURE, how: str = "how") -> Made:
    return (Stage.METHOD, hangs_on, First(method, how, "then"))


def adds(low: int, mid: int, high: int, hangs_on: str = SURE) -> Made:
    return (Stage.STATIONS, hangs_on, Positions(low, mid, high, "because"))


def counts(outcomes: plan.Outcomes) -> tuple[int, int, int]:
    found = outcomes.stations
    return found.low, found.recommended, found.high


# Method


def test_wet_comes_first_where_no_rule_chooses(run: Run) -> None:
    assert run().method.first is Method.WET
    assert run(first(Method.DRY, EXCLUDED)).method.first is Method.WET


def test_one_settled_first_leads_and_says_how(run: Run) -> None:
    method = run(first(Method.DRY, how="blot")).method
    assert (method.first, method.how, method.then, method.why) == (
        Method.DRY,
        "blot",
        "then",
        "Made up 0",
    )


def test_two_rules_that_choose_the_same_first_agree(run: Run) -> None:
    method = run(first(Method.DRY, how="blot"), first(Method.DRY, how="brush")).method
    assert (method.first, method.how, method.conflict) == (Method.DRY, "blot", ())


def test_two_different_firsts_make_a_hold_that_shows_both(run: Run) -> None:
    method = run(first(Method.DRY, how="blot"), first(Method.WIPE, how="wipe")).method
    assert method.first is Method.HOLD
    assert [rule_id for rule_id, _ in method.conflict] == ["TEST-000", "TEST-001"]
    assert "blot" in method.how
    assert "wipe" in method.how
    assert "technician" in method.then


def test_a_first_that_cannot_be_told_chooses_nothing(run: Run) -> None:
    assert run(first(Method.DRY, OPEN)).method.first is Method.WET
    assert run(first(Method.DRY), first(Method.WIPE, OPEN)).method.first is Method.DRY


@pytest.mark.parametrize(
    ("after", "dry"), [("keep_dry", True), ("technician", True), ("flood", False), ("wet", False)]
)
def test_a_dry_step_stays_dry_until_its_row_says_water(run: Run, after: str, dry: bool) -> None:
    assert run(first(Method.DRY), after_first=after).stays_dry is dry


def test_only_a_dry_first_step_stays_dry(run: Run) -> None:
    assert not run(first(Method.WIPE), after_first="keep_dry").stays_dry


# Persistence


def lasts(grade: Grade, hangs_on: str = SURE) -> Made:
    return (Stage.PERSISTENCE, hangs_on, GradeAtLeast(grade, grade.words))


def test_a_film_that_no_rule_raises_leaves_in_minutes(run: Run) -> None:
    found = run().persistence
    assert (found.low_grade, found.grade) == (Grade.MINUTES, Grade.MINUTES)


def test_the_worst_grade_wins(run: Run) -> None:
    found = run(lasts(Grade.HOURS), lasts(Grade.DAYS), lasts(Grade.WITHIN_HOUR)).persistence
    assert (found.low_grade, found.grade, found.reasons) == (Grade.DAYS, Grade.DAYS, ("days",))


def test_a_grade_that_cannot_be_told_raises_the_cautious_end_only(run: Run) -> None:
    found = run(lasts(Grade.WITHIN_HOUR), lasts(Grade.DAYS, OPEN)).persistence
    assert (found.low_grade, found.grade) == (Grade.WITHIN_HOUR, Grade.DAYS)
    assert found.missing == (OPEN,)


def test_no_film_is_gas_unless_another_rule_raises_it(run: Run) -> None:
    nothing = (Stage.PERSISTENCE, SURE, NoFilm("boils"))
    assert run(nothing).persistence.grade is Grade.GAS
    assert run(nothing, lasts(Grade.DAYS)).persistence.grade is Grade.DAYS
    assert run((Stage.PERSISTENCE, OPEN, NoFilm("boils"))).persistence.grade is Grade.MINUTES


# Gross decon


def rinse(emphasis: Emphasis, hangs_on: str = SURE) -> Made:
    return (Stage.GROSS, hangs_on, Gross(emphasis, emphasis.words))


def test_the_heaviest_rinse_wins(run: Run) -> None:
    found = run(rinse(Emphasis.LIGHT), rinse(Emphasis.HEAVY)).gross
    assert (found.emphasis, found.why) == (Emphasis.HEAVY, "heavy")
    assert run().gross.emphasis is Emphasis.NONE


def test_a_rinse_that_cannot_be_told_is_taken_and_says_why(run: Run) -> None:
    found = run(rinse(Emphasis.LIGHT), rinse(Emphasis.HEAVY, OPEN)).gross
    assert (found.emphasis, found.why) == (Emphasis.HEAVY, "heavy not excluded")


def test_a_settled_reason_against_rinsing_beats_every_rinse(run: Run) -> None:
    none = (Stage.GROSS, SURE, NoGross("dry first", "in flood volume"))
    found = run(none, rinse(Emphasis.HEAVY)).gross
    assert (found.emphasis, found.after) == (Emphasis.NONE, "in flood volume")
    doubted = (Stage.GROSS, OPEN, NoGross("dry first"))
    assert run(doubted, rinse(Emphasis.HEAVY)).gross.emphasis is Emphasis.HEAVY


# Stations


def test_positions_add_up_at_each_end(run: Run) -> None:
    assert counts(run(adds(1, 1, 1), adds(0, 0, 1))) == (1, 1, 2)
    assert counts(run(adds(1, 1, 1), adds(1, 1, 1), adds(1, 1, 1, EXCLUDED))) == (2, 2, 2)


def test_what_cannot_be_told_counts_for_the_estimate_and_the_high_end_only(run: Run) -> None:
    assert counts(run(adds(1, 1, 1), adds(1, 1, 1, STRADDLES))) == (1, 2, 2)


def test_what_only_missing_facts_add_stops_at_the_unknown_answer(run: Run) -> None:
    found = run(adds(1, 1, 1), adds(1, 1, 1, OPEN), adds(1, 1, 1, OPEN))
    assert counts(found) == (1, 2, 3)
    assert found.stations.is_missing_capped


def test_what_a_straddling_range_adds_is_not_stopped(run: Run) -> None:
    found = run(adds(1, 1, 1), adds(1, 1, 1, STRADDLES), adds(1, 1, 1, STRADDLES))
    assert counts(found) == (1, 3, 3)
    assert not found.stations.is_missing_capped


def test_missing_facts_add_nothing_to_a_count_that_is_above_the_unknown_answer(run: Run) -> None:
    found = run(adds(1, 1, 1), adds(1, 1, 1), adds(1, 1, 1), adds(1, 1, 1, OPEN))
    assert counts(found) == (3, 3, 3)


@pytest.mark.parametrize(("contact", "most"), [("contact_condensed", 3), ("contact_vapor", 2)])
def test_the_count_stops_at_the_cap(run: Run, contact: str, most: int) -> None:
    changes = {"contact_condensed": False, "contact_vapor": False, contact: True}
    five = [adds(1, 1, 1)] * 5
    assert counts(run(*five, **changes))[2] == most


def test_after_contact_there_is_at_least_one_position(run: Run) -> None:
    assert counts(run()) == (1, 1, 1)
    assert run().stations.is_floored
    assert counts(run(contact_condensed=False, contact_vapor=True)) == (0, 0, 0)


def test_a_product_nobody_knows_gets_no_fewer_than_the_unknown_answer(run: Run) -> None:
    assert counts(run(adds(1, 1, 1), identity_known=False))[1] == 2


def credit(hangs_on: str = SURE) -> Made:
    return (Stage.CREDIT, hangs_on, Credit("thrown away"))


def test_a_credit_takes_one_position_off_every_end(run: Run) -> None:
    assert counts(run(adds(1, 1, 1), adds(1, 1, 1), credit())) == (1, 1, 1)


def test_a_credit_that_cannot_be_told_lowers_only_the_low_end(run: Run) -> None:
    assert counts(run(adds(1, 1, 1), adds(1, 1, 1), credit(OPEN))) == (1, 2, 2)


def test_a_credit_never_goes_below_the_floor(run: Run) -> None:
    assert counts(run(adds(1, 1, 1), credit())) == (1, 1, 1)


def test_a_credit_comes_before_the_cap(run: Run) -> None:
    five = [adds(1, 1, 1)] * 5
    assert counts(run(*five, credit())) == (3, 3, 3)


def test_nothing_that_remains_lifts_the_floor_and_keeps_one_in_the_range(run: Run) -> None:
    nothing = (Stage.CREDIT, SURE, NoPositions("boils off"))
    assert counts(run(adds(1, 1, 1), nothing)) == (0, 0, 1)
    doubted = (Stage.CREDIT, OPEN, NoPositions("boils off"))
    assert counts(run(adds(1, 1, 1), doubted)) == (1, 1, 1)


def test_every_position_and_credit_is_named_as_a_driver(run: Run) -> None:
    found = run(adds(1, 1, 1), adds(0, 0, 1, STRADDLES), credit()).stations.drivers
    assert [(d.rule, d.low, d.mid, d.high, d.is_settled) for d in found] == [
        ("TEST-000", 1, 1, 1, True),
        ("TEST-001", 0, 0, 1, False),
        ("TEST-002", -1, -1, -1, True),
    ]


@pytest.mark.parametrize(
    ("method", "after", "kind"),
    [
        (Method.WET, "", "wash"),
        (Method.AIR, "", "none"),
        (Method.DRY, "keep_dry", "dry"),
        (Method.DRY, "flood", "wash"),
        (Method.WIPE, "wet", "wash"),
        (Method.WIPE, "technician", "dry"),
    ],
)
def test_the_kind_of_position_follows_the_method(
    run: Run, method: Method, after: str, kind: str
) -> None:
    assert run(adds(1, 1, 1), first(method), after_first=after).stations.kind == kind


def test_no_position_has_no_kind(run: Run) -> None:
    assert run(contact_condensed=False).stations.kind == "none"


# Solution, do not use, offers


def washes(solution: str, hangs_on: str = SURE) -> Made:
    return (Stage.SOLUTION, hangs_on, UseSolution(solution, "because"))


def test_nothing_is_mixed_where_no_rule_washes(run: Run) -> None:
    assert run().solution == "none"


def test_plain_water_takes_the_place_of_detergent_only_where_it_is_settled(run: Run) -> None:
    assert run(washes("detergent"), washes("plain-water")).solution == "plain-water"
    assert run(washes("detergent"), washes("plain-water", OPEN)).solution == "detergent"


def avoid(agent: str, why: str, hangs_on: str = SURE, unsettled: str = "") -> Made:
    return (Stage.SOLUTION, hangs_on, DoNotUse(agent, why, unsettled))


def test_reasons_against_one_agent_add_up(run: Run) -> None:
    found = run(avoid("acid", "gas"), avoid("acid", "heat"), avoid("seal", "bursts")).do_not_use
    assert [(a.agent, a.why, a.rules) for a in found] == [
        ("acid", ("gas", "heat"), ("TEST-000", "TEST-001")),
        ("seal", ("bursts",), ("TEST-002",)),
    ]


def test_a_reason_in_doubt_is_kept_said_as_such_and_stands_last(run: Run) -> None:
    found = run(avoid("acid", "gas", OPEN, "if it is a cyanide"), avoid("seal", "bursts"))
    assert [(a.agent, a.why, a.is_settled) for a in found.do_not_use] == [
        ("seal", ("bursts",), True),
        ("acid", ("if it is a cyanide",), False),
    ]


def test_a_settled_reason_silences_the_ones_in_doubt(run: Run) -> None:
    found = run(avoid("acid", "gas"), avoid("acid", "heat", OPEN, "perhaps")).do_not_use
    assert [(a.why, a.rules, a.is_settled) for a in found] == [
        (("gas",), ("TEST-000", "TEST-001"), True)
    ]


def offer(hangs_on: str = SURE) -> Made:
    return (Stage.SOLUTION, hangs_on, Offer("hypochlorite-0.5", "on equipment"))


@pytest.mark.parametrize("doubt", [SURE, OPEN])
def test_forbidding_beats_offering_even_in_doubt(run: Run, doubt: str) -> None:
    found = run(offer(), avoid("hypochlorite", "chlorine", doubt))
    assert found.offers == ()
    assert [o.solution for o in found.refused_offers] == ["hypochlorite-0.5"]


def test_an_offer_stands_where_nothing_forbids_it_and_it_is_settled(run: Run) -> None:
    assert [o.solution for o in run(offer(), avoid("acid", "gas")).offers] == ["hypochlorite-0.5"]
    assert run(offer(OPEN)).offers == ()


# Checks, crew, cautions


def warn(rank: Rank, text: str, hangs_on: str = SURE, unsettled: str = "") -> Made:
    return (Stage.CAUTIONS, hangs_on, Caution(rank, text, unsettled))


def said(outcomes: plan.Outcomes) -> list[str]:
    return [caution.text for caution in outcomes.cautions]


def test_cautions_stand_in_the_order_of_their_rank(run: Run) -> None:
    found = run(
        warn(Rank.OTHER, "last"),
        warn(Rank.LIFE, "first"),
        warn(Rank.MEDICAL, "third"),
        warn(Rank.WRONG_FIRST_ACTION, "second"),
        warn(Rank.LIFE, "first again"),
    )
    assert said(found) == ["first", "first again", "second", "third", "last"]


def test_a_caution_in_doubt_is_said_as_such_or_not_at_all(run: Run) -> None:
    found = run(warn(Rank.LIFE, "It burns.", OPEN, "It may."), warn(Rank.LIFE, "Hot.", OPEN))
    assert said(found) == ["It may."]
    assert said(run(warn(Rank.LIFE, "It burns.", STRADDLES))) == ["It burns."]


def test_a_doubt_about_life_or_the_first_action_is_not_put_behind_settled_cautions(
    run: Run,
) -> None:
    found = run(
        warn(Rank.MEDICAL, "sure"),
        warn(Rank.MEDICAL, "-", OPEN, "doubt"),
        warn(Rank.CONTAINMENT, "sure too"),
        warn(Rank.LIFE, "-", OPEN, "may kill"),
    )
    assert said(found) == ["may kill", "sure", "sure too", "doubt"]


def test_checks_need_a_settled_yes_and_crew_notes_do_not(run: Run) -> None:
    found = run(
        (Stage.CHECKS, SURE, Check("look")),
        (Stage.CHECKS, OPEN, Check("smell")),
        (Stage.CHECKS, OPEN, CrewNote("on air")),
    )
    assert [check.text for check in found.checks] == ["look"]
    assert found.crew_notes == ("on air",)


# Unknowns, and what one stage tells the next


def test_unknowns_name_what_kept_a_rule_from_being_settled_in_the_order_of_stages(
    run: Run,
) -> None:
    found = run(
        warn(Rank.LIFE, "-", OPEN, "may burn"),
        adds(1, 1, 1, STRADDLES),
        (Stage.METHOD, "cyanide", First(Method.DRY, "how", "then")),
        cyanide=None,
    )
    assert unknown_names(found) == ("cyanide", OPEN)


def test_checks_and_offers_that_cannot_be_told_leave_no_unknown(run: Run) -> None:
    found = run(offer(OPEN), (Stage.CHECKS, OPEN, Check("look")))
    assert unknown_names(found) == ()


def test_each_stage_is_a_fact_for_the_next(run: Run) -> None:
    found = run(
        first(Method.DRY),
        lasts(Grade.HOURS),
        lasts(Grade.DAYS, STRADDLES),
        adds(1, 1, 1),
        adds(1, 1, 1, STRADDLES),
        after_first="keep_dry",
    )
    facts = Facts(found.facts)
    assert facts["first_is_dry"].is_yes
    assert facts["first_is_wipe"].is_no
    assert facts["stays_dry"].is_yes
    persistence, so_far = facts.number("persistence"), facts.number("positions_so_far")
    assert (persistence.low, persistence.high) == (float(Grade.HOURS), float(Grade.DAYS))
    assert (so_far.low, so_far.mid, so_far.high) == (1.0, 2.0, 2.0)


def test_the_steps_stand_in_the_order_of_the_stages() -> None:
    stages = [step.rule.stage for step in recommend("acetone").outcomes.steps]
    assert stages == sorted(stages, key=list(Stage).index)
    assert len(stages) == len(ALL_RULES)


# Floors


FLOORS = tuple(rule_.id for rule_ in ALL_RULES if rule_.floor)
NOT_FLOORS = tuple(rule_.id for rule_ in ALL_RULES if not rule_.floor)


@pytest.mark.parametrize("rule_id", FLOORS)
def test_a_floor_rule_cannot_be_switched_off(rule_id: str) -> None:
    with pytest.raises(DataError, match=rule_id):
        recommend("acetone", switched_off={rule_id: "not wanted"})


def test_the_contact_position_skin_harm_and_every_do_not_use_are_floors() -> None:
    needed = {"STN-030", "STN-050"} | {r.id for r in ALL_RULES if r.id.startswith("DNU-")}
    assert needed <= set(FLOORS)


def test_any_other_rule_can_be_switched_off_and_shows_it() -> None:
    for rule_id in NOT_FLOORS:
        steps = recommend("acetone", switched_off={rule_id: "local reason"}).outcomes.steps
        off = [step for step in steps if step.off_because]
        assert [(step.rule.id, step.off_because) for step in off] == [(rule_id, "local reason")]
