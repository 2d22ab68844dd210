"""Three-valued logic and comparisons of ranges with limits."""

from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recommender.errors import DataError
from recommender.facts import (
    NO,
    YES,
    Claim,
    Facts,
    Number,
    Provenance,
    Truth,
    Verdict,
    Word,
    all_of,
    any_of,
    not_,
    settled,
    unknown_claim,
    unknown_number,
)
from recommender.limits import load_limits

STATED = Provenance("stated")
DOUBT = Verdict(Truth.UNKNOWN, ("doubt",))
OTHER = Verdict(Truth.UNKNOWN, ("other",))
ORDER = {Truth.NO: 0, Truth.UNKNOWN: 1, Truth.YES: 2}
VERDICTS = (NO, DOUBT, YES)


def number(low: float, high: float, missing: tuple[str, ...] = ()) -> Number:
    return Number("amount", low, (low + high) / 2, high, "1", STATED, missing=missing)


@pytest.mark.parametrize(
    ("first", "second", "both", "either"),
    [
        (NO, NO, Truth.NO, Truth.NO),
        (NO, DOUBT, Truth.NO, Truth.UNKNOWN),
        (NO, YES, Truth.NO, Truth.YES),
        (DOUBT, NO, Truth.NO, Truth.UNKNOWN),
        (DOUBT, DOUBT, Truth.UNKNOWN, Truth.UNKNOWN),
        (DOUBT, YES, Truth.UNKNOWN, Truth.YES),
        (YES, NO, Truth.NO, Truth.YES),
        (YES, DOUBT, Truth.UNKNOWN, Truth.YES),
        (YES, YES, Truth.YES, Truth.YES),
    ],
)
def test_two_operands_combine_by_the_truth_tables(
    first: Verdict, second: Verdict, both: Truth, either: Truth
) -> None:
    assert all_of(first, second).truth is both
    assert any_of(first, second).truth is either


@pytest.mark.parametrize("operands", itertools.product(VERDICTS, repeat=3))
def test_three_operands_take_the_least_and_the_most(operands: tuple[Verdict, ...]) -> None:
    ranks = [ORDER[v.truth] for v in operands]
    assert ORDER[all_of(*operands).truth] == min(ranks)
    assert ORDER[any_of(*operands).truth] == max(ranks)
    assert not_(all_of(*operands)).truth is any_of(*map(not_, operands)).truth


def test_no_operand_at_all_is_true_of_all_and_false_of_any() -> None:
    assert all_of() == YES
    assert any_of() == NO


def test_not_turns_yes_and_no_around_and_leaves_doubt() -> None:
    assert not_(YES) == NO
    assert not_(NO) == YES
    assert not_(DOUBT) == DOUBT


def test_what_is_missing_is_named_only_while_it_matters() -> None:
    assert all_of(DOUBT, OTHER, YES).missing == ("doubt", "other")
    assert any_of(DOUBT, OTHER, NO).missing == ("doubt", "other")
    assert all_of(DOUBT, NO).missing == ()
    assert any_of(DOUBT, YES).missing == ()
    assert all_of(DOUBT, DOUBT).missing == ("doubt",)


def test_a_plain_truth_is_settled() -> None:
    assert settled(True) == YES
    assert settled(False) == NO
    assert (YES.is_yes, YES.is_no, YES.is_unknown) == (True, False, False)
    assert (NO.is_yes, NO.is_no, NO.is_unknown) == (False, True, False)
    assert (DOUBT.is_yes, DOUBT.is_no, DOUBT.is_unknown) == (False, False, True)


JUST = 1e-9


@pytest.mark.parametrize(
    ("value", "below", "at_most", "above", "at_least"),
    [
        (10 - JUST, Truth.YES, Truth.YES, Truth.NO, Truth.NO),
        (10.0, Truth.NO, Truth.YES, Truth.NO, Truth.YES),
        (10 + JUST, Truth.NO, Truth.NO, Truth.YES, Truth.YES),
    ],
)
def test_a_number_compares_just_below_at_and_just_above_a_limit(
    value: float, below: Truth, at_most: Truth, above: Truth, at_least: Truth
) -> None:
    amount = number(value, value)
    assert amount.below(10.0).truth is below
    assert amount.at_most(10.0).truth is at_most
    assert amount.above(10.0).truth is above
    assert amount.at_least(10.0).truth is at_least


@pytest.mark.parametrize(
    ("low", "high", "below", "at_most"),
    [
        (8, 10 - JUST, Truth.YES, Truth.YES),
        (8, 10, Truth.UNKNOWN, Truth.YES),
        (8, 12, Truth.UNKNOWN, Truth.UNKNOWN),
        (10, 12, Truth.NO, Truth.UNKNOWN),
        (10 + JUST, 12, Truth.NO, Truth.NO),
    ],
)
def test_a_range_settles_only_where_both_ends_agree(
    low: float, high: float, below: Truth, at_most: Truth
) -> None:
    amount = number(low, high)
    assert amount.below(10.0).truth is below
    assert amount.at_most(10.0).truth is at_most
    assert amount.at_least(10.0) == not_(amount.below(10.0))
    assert amount.above(10.0) == not_(amount.at_most(10.0))


@given(low=st.floats(-1e6, 1e6), width=st.floats(0, 1e6), edge=st.floats(-2e6, 2e6))
def test_every_value_of_a_settled_range_gives_the_same_answer(
    low: float, width: float, edge: float
) -> None:
    amount = number(low, low + width)
    answers = {value < edge for value in (low, low + width / 2, low + width)}
    if not amount.below(edge).is_unknown:
        assert answers == {amount.below(edge).is_yes}


def test_a_range_that_straddles_names_no_missing_fact_unless_one_widens_it() -> None:
    assert number(8, 12).below(10.0).missing == ()
    assert number(8, 12, missing=("wind",)).below(10.0).missing == ("wind",)
    assert number(8, 12).with_missing(("wind",)).below(10.0).missing == ("wind",)


def test_a_number_that_nobody_stated_names_itself_or_what_it_would_follow_from() -> None:
    assert unknown_number("amount", "g").below(1.0) == Verdict(Truth.UNKNOWN, ("amount",))
    follows = unknown_number("amount", "g").with_missing(("molar_mass",))
    assert follows.at_least(1.0) == Verdict(Truth.UNKNOWN, ("molar_mass",))
    assert not unknown_number("amount", "g").is_known
    assert number(1, 2).is_known


def test_a_number_compares_with_a_limit_as_with_its_value() -> None:
    limit = next(iter(load_limits().values()))
    assert number(limit.value, limit.value).at_most(limit) == YES
    assert number(limit.value, limit.value).below(limit) == NO


@pytest.mark.parametrize(
    ("low", "mid", "high"),
    [(2.0, 1.0, 3.0), (1.0, 3.0, 2.0), (math.nan, 1.0, 2.0), (1.0, None, 2.0), (None, 1.0, 2.0)],
)
def test_a_range_out_of_order_or_half_known_is_refused(
    low: float | None, mid: float | None, high: float | None
) -> None:
    with pytest.raises(DataError, match="amount"):
        Number("amount", low, mid, high, "1", STATED)


FACTS = {
    "sure": Claim("sure", Truth.YES, STATED),
    "excluded": Claim("excluded", Truth.NO, STATED),
    "open": unknown_claim("open"),
    "follows": Claim("follows", Truth.UNKNOWN, STATED, ("boiling_point",)),
    "straddles": Claim("straddles", Truth.UNKNOWN, STATED, ()),
    "amount": number(1, 3),
    "form": Word("form", "gas", STATED),
    "silent": Word("silent", "", STATED),
    "none": unknown_number("none", "g"),
}


def test_claims_are_read_as_verdicts_and_unknown_is_never_no() -> None:
    facts = Facts(FACTS)
    assert facts["sure"] == YES
    assert facts["excluded"] == NO
    assert facts["open"] == Verdict(Truth.UNKNOWN, ("open",))
    assert not facts["open"].is_no


def test_a_derived_claim_names_what_would_settle_it() -> None:
    facts = Facts(FACTS)
    assert facts["follows"].missing == ("boiling_point",)
    assert facts["straddles"].missing == ()


def test_words_and_numbers_are_read_in_their_own_way() -> None:
    facts = Facts(FACTS)
    assert facts.word("form") == "gas"
    assert facts.number("amount").high == 3


@pytest.mark.parametrize(
    ("name", "text"),
    [("sure", "yes"), ("open", "unknown"), ("form", "gas"), ("amount", "2 1")],
)
def test_a_fact_is_said_in_words(name: str, text: str) -> None:
    assert Facts(FACTS).text(name) == text


def test_a_fact_nobody_stated_is_said_to_be_so() -> None:
    assert "not" in Facts(FACTS).text("none")
    assert "not" in Facts(FACTS).text("silent")


def test_every_read_is_recorded_once_in_order() -> None:
    facts = Facts(FACTS)
    all_of(facts["excluded"], facts["open"], facts.number("amount").below(2.0))
    facts.word("form")
    assert facts["excluded"].is_no
    assert list(facts.reads) == ["excluded", "open", "amount", "form"]


def test_a_settled_answer_hides_no_operand_from_the_record() -> None:
    facts = Facts(FACTS)
    assert any_of(facts["sure"], facts["open"]).is_yes
    assert all_of(facts["excluded"], facts["straddles"]).is_no
    assert set(facts.reads) == {"sure", "open", "excluded", "straddles"}


def test_a_fact_that_no_table_defines_is_an_error_that_names_it() -> None:
    with pytest.raises(DataError, match="colour"):
        Facts(FACTS)["colour"]


@pytest.mark.parametrize("wrong", ["number", "word", "claim"])
def test_a_fact_of_another_kind_is_an_error_that_names_it(wrong: str) -> None:
    facts = Facts(FACTS)
    with pytest.raises(DataError, match=r"sure|amount"):
        if wrong == "claim":
            facts["amount"]
        elif wrong == "number":
            facts.number("sure")
        else:
            facts.word("sure")
