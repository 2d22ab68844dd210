"""More harm, more contact or less knowledge never makes a plan milder.

Two exceptions that the design wants: a product that a source says is not classified for health is
not counted as clinging; and what is frozen on a cold day is still counted as the liquid it will be
at doffing, so that no cold day lowers a count.
"""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from safety_cases import (
    ANY_CASE,
    HAZARDS,
    ROWS,
    SKIN_HARMS,
    Case,
    as_it_is,
    curated,
)

from recommender.chemicals.table import Chemical
from recommender.effects import Method
from recommender.facts import Truth
from recommender.plan import Outcomes
from recommender.recommend import recommend
from recommender.scene import Scene

MANY = settings(max_examples=200, deadline=None, derandomize=True, database=None)
# An unknown product gets two positions; what is known of a known one may keep it above that.
UNKNOWN_ANSWER = 2
CONTACTS = ("vapor", "splash", "gross")
# A yes to one of these chooses the air where a fuming gas would be washed: published guidance
# airs people out after an irritant gas.
CHOOSES_AIR = "irritant_soluble_gas"
# What makes acid with water all by itself is not kept from acid on that account.
MAKES_ITS_OWN_ACID = "hydrolyzes_to_acid"


def agents(outcomes: Outcomes) -> set[str]:
    return {avoided.agent for avoided in outcomes.do_not_use}


def settled_agents(outcomes: Outcomes) -> set[str]:
    return {avoided.agent for avoided in outcomes.do_not_use if avoided.is_settled}


def counts(outcomes: Outcomes) -> tuple[int, int]:
    return outcomes.stations.recommended, outcomes.stations.high


def is_dry_or_held(outcomes: Outcomes) -> bool:
    return outcomes.method.first in (Method.DRY, Method.HOLD, Method.KEEP_WET, Method.WIPE)


def milder_with_more_harm(before: Outcomes, after: Outcomes) -> list[str]:
    """In what way the second plan is milder than the first, though its harm is more."""
    faults = []
    for name, old, new in zip(("estimate", "high end"), counts(before), counts(after), strict=True):
        if new < old:
            faults.append(f"{name} falls from {old} to {new}")
    if after.persistence.grade < before.persistence.grade:
        faults.append("the grade is shorter")
    if after.method.first is Method.AIR and before.method.first is not Method.AIR:
        faults.append("it is aired instead")
    if agents(before) - agents(after):
        faults.append(f"do not use loses {agents(before) - agents(after)}")
    return faults


def milder_with_less_knowledge(before: Outcomes, after: Outcomes) -> list[str]:
    """In what way the second plan is milder than the first, though less is known."""
    faults = []
    (estimate, high), (new_estimate, new_high) = counts(before), counts(after)
    if new_high < high:
        faults.append(f"the high end falls from {high} to {new_high}")
    if new_estimate < min(estimate, UNKNOWN_ANSWER):
        faults.append(f"the estimate falls from {estimate} to {new_estimate}")
    if after.method.first is Method.AIR and before.method.first is not Method.AIR:
        faults.append("it is aired instead")
    if agents(before) - agents(after):
        faults.append(f"do not use loses {agents(before) - agents(after)}")
    return faults


def lost_dry_step(name: str, before: Outcomes, after: Outcomes) -> list[str]:
    """Whether a dry, held or wiped product is now washed, though nobody took back the reason.

    A liquefied gas is held only while every harm through skin is excluded: in doubt it is washed.
    """
    if name.endswith("(yes)") or "METH-015" in applied(before):
        return []
    if is_dry_or_held(before) and after.method.first is Method.WET:
        return [f"{before.method.first.value} first becomes wet first"]
    if before.stays_dry and not after.stays_dry:
        return ["it no longer stays dry"]
    return []


def applied(outcomes: Outcomes) -> set[str]:
    return {step.rule.id for step in outcomes.steps if step.is_settled}


def groups() -> list[str]:
    return sorted({chemical.group for chemical in ROWS})


def rows_of(group: str) -> Iterator[Chemical]:
    return (chemical for chemical in ROWS if chemical.group == group)


@pytest.mark.parametrize("group", groups())
def test_one_fact_less_never_makes_the_plan_of_a_curated_row_milder(group: str) -> None:
    faults = []
    for chemical in rows_of(group):
        before = as_it_is(chemical, "splash")
        for name, poorer in curated(chemical, Scene()).without_one_fact():
            after = poorer.outcomes()
            found = milder_with_less_knowledge(before, after) + lost_dry_step(name, before, after)
            faults += [f"{chemical.key}, without {name}: {fault}" for fault in found]
    assert not faults, f"{len(faults)} milder plans:\n" + "\n".join(faults)


@pytest.mark.parametrize("group", groups())
def test_one_property_less_never_makes_the_plan_after_vapor_milder(group: str) -> None:
    faults = []
    for chemical in rows_of(group):
        before = as_it_is(chemical, "vapor")
        case = curated(chemical, Scene(contact="vapor"))
        for name in case.data.values:
            found = milder_with_less_knowledge(before, case.with_points(name, ()).outcomes())
            faults += [f"{chemical.key}, without {name}: {fault}" for fault in found]
    assert not faults, f"{len(faults)} milder plans:\n" + "\n".join(faults)


@MANY
@given(case=ANY_CASE, data=st.data())
def test_one_fact_less_never_makes_a_plan_milder(case: Case, data: st.DataObject) -> None:
    poorer = dict(case.without_one_fact())
    name = data.draw(st.sampled_from(sorted(poorer)))
    before, after = case.outcomes(), poorer[name].outcomes()
    assert milder_with_less_knowledge(before, after) == []
    assert lost_dry_step(name, before, after) == []


@MANY
@given(case=ANY_CASE, data=st.data())
def test_a_do_not_use_whose_reason_is_in_doubt_stays_as_a_warning(
    case: Case, data: st.DataObject
) -> None:
    yes = [name for name, claim in case.data.claims.items() if claim.truth is Truth.YES]
    if not yes:
        return
    name = data.draw(st.sampled_from(sorted(yes)))
    before, after = case.outcomes(), case.with_claim(name, Truth.UNKNOWN).outcomes()
    assert agents(before) <= agents(after)
    assert settled_agents(after) <= settled_agents(before)


@pytest.mark.parametrize("harm", SKIN_HARMS)
def test_one_more_skin_harm_never_makes_the_plan_of_a_curated_row_milder(harm: str) -> None:
    faults = []
    for chemical in ROWS:
        before = as_it_is(chemical, "splash")
        after = curated(chemical, Scene()).with_claim(harm, Truth.YES).outcomes()
        faults += [f"{chemical.key}: {fault}" for fault in milder_with_more_harm(before, after)]
    assert not faults, f"{len(faults)} milder plans with {harm}:\n" + "\n".join(faults)


@MANY
@given(case=ANY_CASE, harm=st.sampled_from(SKIN_HARMS))
def test_one_more_skin_harm_never_makes_a_plan_milder(case: Case, harm: str) -> None:
    harmful = case.with_claim(harm, Truth.YES)
    assert milder_with_more_harm(case.outcomes(), harmful.outcomes()) == []


@MANY
@given(case=ANY_CASE, worse=st.integers(1, 5))
def test_a_worse_dermal_category_never_makes_a_plan_milder(case: Case, worse: int) -> None:
    known = recommend(case.chemical, case.scene, data=case.data).facts["dermal_category"]
    if known.mid is None or worse >= known.mid:  # type: ignore[union-attr]
        return
    case = case.with_points("dermal_ld50", ())
    known = case.with_value("dermal_category", known.mid)  # type: ignore[union-attr, assignment]
    toxic = case.with_value("dermal_category", float(worse))
    assert milder_with_more_harm(known.outcomes(), toxic.outcomes()) == []  # type: ignore[union-attr]


@MANY
@given(case=ANY_CASE, dose=st.floats(0.1, 20_000), factor=st.floats(0.01, 0.99))
def test_a_lower_dermal_dose_never_makes_a_plan_milder(
    case: Case, dose: float, factor: float
) -> None:
    before = case.with_value("dermal_ld50", dose)
    after = case.with_value("dermal_ld50", dose * factor)
    assert milder_with_more_harm(before.outcomes(), after.outcomes()) == []


@MANY
@given(case=ANY_CASE)
def test_gross_contact_is_never_planned_more_mildly_than_a_splash(case: Case) -> None:
    splash, gross = case.at(contact="splash"), case.at(contact="gross")
    before, after = splash.outcomes(), gross.outcomes()
    assert milder_with_more_harm(before, after) == []
    assert after.gross.emphasis >= before.gross.emphasis


@MANY
@given(case=ANY_CASE)
def test_a_failed_check_and_a_suit_without_credit_never_make_a_plan_milder(case: Case) -> None:
    plain = case.at(suit="disposable", airing_place=True, failed_check=False)
    without = case.at(suit="reusable", airing_place=False, failed_check=False)
    failed = case.at(suit="disposable", airing_place=True, failed_check=True)
    assert milder_with_more_harm(plain.outcomes(), without.outcomes()) == []
    assert milder_with_more_harm(plain.outcomes(), failed.outcomes()) == []


@MANY
@given(case=ANY_CASE, hazard=st.sampled_from(HAZARDS))
def test_the_do_not_use_list_only_grows_with_a_hazard(case: Case, hazard: str) -> None:
    clean = case.with_claim(hazard, Truth.NO)
    doubtful = case.with_claim(hazard, Truth.UNKNOWN)
    sure = case.with_claim(hazard, Truth.YES)
    if hazard == MAKES_ITS_OWN_ACID:
        assert "hypochlorite" in agents(sure.outcomes())
        return
    assert agents(clean.outcomes()) <= agents(doubtful.outcomes())
    assert agents(doubtful.outcomes()) <= agents(sure.outcomes())
    assert settled_agents(clean.outcomes()) <= settled_agents(sure.outcomes())


@MANY
@given(case=ANY_CASE, hazard=st.sampled_from([h for h in HAZARDS if h != CHOOSES_AIR]))
def test_no_hazard_turns_a_wash_into_an_airing(case: Case, hazard: str) -> None:
    before = case.with_claim(hazard, Truth.NO).outcomes()
    after = case.with_claim(hazard, Truth.YES).outcomes()
    if before.method.first is not Method.AIR:
        assert after.method.first is not Method.AIR


@MANY
@given(case=ANY_CASE)
def test_a_source_that_clears_a_product_only_takes_clinging_off(case: Case) -> None:
    """The exception: not classified for health. It lowers the count by the cling step alone."""
    before = case.with_claim("not_classified_for_health", Truth.NO).outcomes()
    after = case.with_claim("not_classified_for_health", Truth.YES).outcomes()
    gone = {d.rule for d in before.stations.drivers} - {d.rule for d in after.stations.drivers}
    assert gone <= {"STN-040", "STN-070", "STN-071", "STN-073"}
    assert after.stations.recommended >= before.stations.recommended - 1
    assert agents(before) == agents(after)


@pytest.mark.parametrize("contact", CONTACTS)
@pytest.mark.parametrize("form", [None, "liquid", "powder", "gas"])
def test_a_product_nobody_knows_is_answered_with_the_unknown_answer(
    form: str | None, contact: str
) -> None:
    outcomes = recommend(None, Scene(contact=contact, form=form)).outcomes
    dust_in_air = contact == "vapor" and form == "powder"
    if contact == "vapor" and not dust_in_air:
        assert (outcomes.stations.low, outcomes.stations.high) == (0, 2)
        assert outcomes.stations.recommended == 1
    else:
        known = 2 if contact == "gross" else 1  # contact itself, and drenching, are known
        assert outcomes.stations.recommended >= UNKNOWN_ANSWER
        assert (outcomes.stations.low, outcomes.stations.high) == (known, 3)
