"""One rule, one step: what is recorded, taken and refused."""

from __future__ import annotations

import pytest
from made_facts import BY_ID, every_claim, made_facts

from recommender.effects import (
    Caution,
    Check,
    Credit,
    Direction,
    DoNotUse,
    Effect,
    First,
    Grade,
    GradeAtLeast,
    Method,
    NoFilm,
    NoPositions,
    Offer,
    Positions,
    Rank,
    UseSolution,
)
from recommender.engine import Decision, Outcome, Rule, Stage, evaluate, rule, when
from recommender.facts import Facts, all_of
from recommender.limits import Limits, load_limits
from recommender.rules import ALL_RULES, BY_STAGE

ADDS = (
    GradeAtLeast(Grade.DAYS, "because"),
    Positions(1, 1, 1, "because"),
    DoNotUse("acid", "because"),
    Caution(Rank.OTHER, "Mind it."),
)
SUBTRACTS = (
    NoFilm("because"),
    Credit("because"),
    NoPositions("because"),
    Offer("sodium-carbonate", "because"),
    Check("look"),
)
NEEDS_SETTLED = (First(Method.DRY, "how", "then"), UseSolution("detergent", "because"))


def flammable_rule(*effects: Effect) -> Rule:
    @rule("TEST-010", title="It burns", stage=Stage.CAUTIONS, sources=("judgement",))
    def burns(facts: Facts, limits: Limits) -> Decision:
        """What burns
        is lit."""
        limits.value("stations.cap")
        return when(all_of(facts["contact_condensed"], facts["flammable"]), *effects)

    return burns


ALL_EFFECTS = (*ADDS, *SUBTRACTS, *NEEDS_SETTLED)


def test_a_rule_that_applies_takes_every_effect() -> None:
    found = evaluate(flammable_rule(*ALL_EFFECTS), made_facts({"flammable": True}), load_limits())
    assert found.outcome is Outcome.APPLIES
    assert found.is_settled
    assert (found.taken, found.refused, found.missing) == (ALL_EFFECTS, (), ())


def test_a_rule_that_does_not_apply_takes_none() -> None:
    found = evaluate(flammable_rule(*ALL_EFFECTS), made_facts({"flammable": False}), load_limits())
    assert found.outcome is Outcome.DOES_NOT_APPLY
    assert not found.is_settled
    assert (found.taken, found.refused, found.missing) == ((), (), ())


@pytest.mark.parametrize("effect", ADDS, ids=lambda e: type(e).__name__)
def test_an_effect_that_adds_caution_is_taken_when_it_cannot_be_told(effect: Effect) -> None:
    found = evaluate(flammable_rule(effect), made_facts({"flammable": None}), load_limits())
    assert effect.direction is Direction.ADDS_CAUTION
    assert found.outcome is Outcome.CANNOT_TELL
    assert (found.taken, found.refused) == ((effect,), ())
    assert found.missing == ("flammable",)


@pytest.mark.parametrize("effect", (*SUBTRACTS, *NEEDS_SETTLED), ids=lambda e: type(e).__name__)
def test_an_effect_that_subtracts_or_needs_a_yes_is_refused_when_it_cannot_be_told(
    effect: Effect,
) -> None:
    found = evaluate(flammable_rule(effect), made_facts({"flammable": None}), load_limits())
    assert effect.direction is not Direction.ADDS_CAUTION
    assert found.outcome is Outcome.CANNOT_TELL
    assert (found.taken, found.refused) == ((), (effect,))


def test_a_caution_and_a_do_not_use_say_that_they_are_not_settled() -> None:
    caution = Caution(Rank.LIFE, "It burns.", "It may burn.")
    avoid = DoNotUse("acid", "gives off gas", "if it is a cyanide")
    rule_ = flammable_rule(caution, avoid)
    doubt = evaluate(rule_, made_facts({"flammable": None}), load_limits())
    sure = evaluate(rule_, made_facts({"flammable": True}), load_limits())
    assert [doubt.taken[0].text, doubt.taken[1].why] == ["It may burn.", "if it is a cyanide"]
    assert [sure.taken[0].text, sure.taken[1].why] == ["It burns.", "gives off gas"]


def test_a_range_that_straddles_is_said_as_settled_since_no_fact_is_missing() -> None:
    @rule("TEST-020", title="Long", stage=Stage.CAUTIONS, sources=("judgement",))
    def long(facts: Facts, limits: Limits) -> Decision:
        """It may last."""
        residence = facts.number("film_residence")
        return when(residence.at_least(60.0), Caution(Rank.OTHER, "It lasts.", "It may last."))

    found = evaluate(long, made_facts({"film_residence": (30.0, 90.0)}), load_limits())
    assert found.outcome is Outcome.CANNOT_TELL
    assert found.missing == ()
    assert found.taken == (Caution(Rank.OTHER, "It lasts.", "It may last."),)


def test_a_rule_that_is_off_refuses_everything_and_keeps_the_reason() -> None:
    facts = made_facts({"flammable": True})
    off = {"TEST-010": "not met here"}
    found = evaluate(flammable_rule(*ALL_EFFECTS), facts, load_limits(), off)
    assert found.outcome is Outcome.OFF
    assert found.off_because == "not met here"
    assert (found.taken, found.refused) == ((), ALL_EFFECTS)


@pytest.mark.parametrize("answer", [True, False, None])
def test_a_step_holds_the_facts_and_limits_that_the_rule_read(answer: bool | None) -> None:
    facts = made_facts({"flammable": answer})
    found = evaluate(flammable_rule(), facts, load_limits())
    assert found.facts == (facts["contact_condensed"], facts["flammable"])
    assert found.limits == (load_limits()["stations.cap"],)


def test_the_reason_of_a_rule_is_its_docstring_in_one_line() -> None:
    assert flammable_rule().why == "What burns is lit."


def test_every_rule_has_a_title_a_reason_a_known_stage_and_a_permanent_looking_id() -> None:
    for a_rule in ALL_RULES:
        assert a_rule.title and a_rule.why, a_rule.id
        assert a_rule.id.partition("-")[2].isdigit(), a_rule.id
        assert a_rule in BY_STAGE[a_rule.stage], a_rule.id


def test_ids_and_titles_of_rules_are_unique() -> None:
    assert len(BY_ID) == len(ALL_RULES)
    by_stage = [(r.stage, r.title) for r in ALL_RULES]
    assert len(set(by_stage)) == len(ALL_RULES)


def test_every_rule_is_in_exactly_one_stage() -> None:
    assert sorted(r.id for rules in BY_STAGE.values() for r in rules) == sorted(BY_ID)


@pytest.mark.parametrize("a_rule", ALL_RULES, ids=lambda r: r.id)
def test_every_rule_reads_its_facts_through_the_view_whatever_the_answer(a_rule: Rule) -> None:
    """Nothing that bears on an answer is hidden: what it reads does not hang on what it finds."""
    answers = (True, False, None)
    read = [
        {fact.name for fact in evaluate(a_rule, made_facts(changes), load_limits()).facts}
        for changes in (dict.fromkeys(every_claim(), answer) for answer in answers)
    ]
    assert read[0] == read[1] == read[2]
