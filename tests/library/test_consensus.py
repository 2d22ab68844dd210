"""One value out of several tables: who leads, what is dropped, what only widens."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recommender.library.build_read import Tabulated
from recommender.library.consensus import (
    PLAUSIBLE,
    TOLERANCES,
    Consensus,
    Ledger,
    Tolerance,
    agree_on,
    keep_plausible,
)

CAS = 67641


def said(*pairs: tuple[str, float]) -> list[Tabulated]:
    return [Tabulated(family.title(), family, value) for family, value in pairs]


def consensus(name: str, *pairs: tuple[str, float]) -> tuple[Consensus, Ledger]:
    ledger = Ledger()
    return agree_on(CAS, name, said(*pairs), ledger), ledger


def test_one_table_alone_leads_without_a_record() -> None:
    found, ledger = consensus("melting_point", ("crc", -94.7))
    assert (found.low, found.value, found.high) == (-94.7, -94.7, -94.7)
    assert found.voices == 1 and not found.passed_over and not ledger.rows


def test_a_value_far_from_two_that_agree_is_dropped_and_recorded() -> None:
    found, ledger = consensus(
        "melting_point", ("webbook", -130.2), ("wikidata", -130.0), ("common-chemistry", 133.6)
    )
    assert found.high < 0
    assert [(d.action, round(d.size)) for d in ledger.rows] == [("drop", 264)]
    assert any("far from" in p.why for p in found.passed_over)


def test_two_that_contradict_each_other_both_stay_in_the_range() -> None:
    found, ledger = consensus("melting_point", ("common-chemistry", 145.0), ("wikidata", 14.0))
    assert (found.low, found.high) == (14.0, 145.0)
    assert [d.action for d in ledger.rows] == ["widen"]


def test_the_better_table_leads_where_none_agree() -> None:
    found, _ = consensus("boiling_point", ("yaws", 100.0), ("crc", 120.0))
    assert found.value == 120.0


def test_two_tables_of_one_family_are_one_voice() -> None:
    values = [
        Tabulated("Wikidata", "wikidata", 0.0),
        Tabulated("Open Notebook", "wikidata", 0.0),
        Tabulated("CRC organic", "crc", 60.0),
    ]
    found = agree_on(CAS, "melting_point", values, Ledger())
    assert (found.value, found.low, found.high) == (60.0, 0.0, 60.0)


def test_a_rival_pair_is_not_dropped_by_a_pair() -> None:
    found, ledger = consensus(
        "boiling_point", ("crc", 300.0), ("webbook", 301.0), ("wikidata", 200.0), ("yaws", 201.0)
    )
    assert (found.low, found.high) == (200.0, 301.0)
    assert [d.action for d in ledger.rows] == ["widen"]


@pytest.mark.parametrize("name", ["melting_point", "boiling_point"])
def test_just_at_thirty_kelvin_nothing_is_dropped_and_just_above_it_is(name: str) -> None:
    edge = TOLERANCES[name].drop
    at, _ = consensus(name, ("crc", 100.0), ("webbook", 100.0), ("yaws", 100.0 + edge))
    above, _ = consensus(name, ("crc", 100.0), ("webbook", 100.0), ("yaws", 100.1 + edge))
    assert at.high == 100.0 + edge
    assert above.high == 100.0


def test_a_flag_of_zero_agrees_with_itself() -> None:
    found, ledger = consensus("skin_listed", ("ontario", 0.0))
    assert found.value == 0.0 and not ledger.rows


@pytest.mark.parametrize("name", PLAUSIBLE)
def test_values_outside_what_can_be_are_dropped_at_both_ends(name: str) -> None:
    low, high = PLAUSIBLE[name]
    step = 1e-3 * max(1.0, abs(low), abs(high))
    values = said(("crc", low), ("webbook", high), ("yaws", low - step), ("wikidata", high + step))
    ledger = Ledger()
    assert [v.value for v in keep_plausible(CAS, name, values, ledger)] == [low, high]
    assert len(ledger.rows) == 2


def test_relative_distance_of_anything_from_zero_is_beyond_every_limit() -> None:
    assert Tolerance(0.1, 1.0, relative=True).apart(0.0, 1.0) == float("inf")


@given(
    st.lists(
        st.tuples(
            st.sampled_from(["crc", "webbook", "wikidata", "yaws", "common-chemistry"]),
            st.floats(-200, 500),
        ),
        min_size=1,
        max_size=7,
    )
)
def test_the_lead_lies_inside_the_range_and_every_value_is_accounted_for(
    pairs: list[tuple[str, float]],
) -> None:
    found, ledger = consensus("boiling_point", *pairs)
    assert found.low <= found.value <= found.high
    dropped = [d for d in ledger.rows if d.action == "drop"]
    inside = [v for _, v in pairs if found.low <= v <= found.high]
    assert len(inside) + len(dropped) >= len(pairs)
    assert len(found.passed_over) in (0, len(pairs))
