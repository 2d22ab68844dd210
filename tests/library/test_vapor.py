"""Vapor pressure points out of curves: which evidence speaks, how wide, what is recorded."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recommender.library.build_curves import LIQUID, SOLID, Curve
from recommender.library.consensus import Consensus, Ledger
from recommender.library.vapor import (
    CONTRADICT,
    FAR_K,
    NEAR_K,
    Anchors,
    anchor_estimate,
    slope_heat,
    vapor_points,
)

CAS = 108883
HEAT = 40_000.0
NOTHING = Anchors(None, 0.0, None, None, None, 1.0, True)


def curve(
    at_20: float,
    low: float,
    high: float,
    family: str = "perry",
    phase: str = LIQUID,
    heat: float = HEAT,
) -> Curve:
    """A curve of constant heat with a given pressure at 20 C."""

    def pressure(kelvin: float) -> float:
        return at_20 * math.exp(-heat / 8.314462618 * (1.0 / kelvin - 1.0 / 293.15))

    return Curve(family.title(), family, phase, low, high, pressure)


def points(*curves: Curve, anchors: Anchors = NOTHING) -> tuple[dict[float, Consensus], Ledger]:
    ledger = Ledger()
    found = vapor_points(CAS, curves, anchors, ledger)
    return {p.temperature_c or 0.0: p for p in found}, ledger


def test_a_curve_in_its_range_gives_its_own_value_as_correlated() -> None:
    found, ledger = points(curve(1000.0, 250.0, 400.0))
    assert found[20.0].value == pytest.approx(1000.0)
    assert found[20.0].basis == "correlated" and not ledger.rows


def test_inside_its_range_a_curve_is_not_averaged_with_one_carried_there() -> None:
    found, _ = points(curve(1000.0, 250.0, 400.0), curve(1900.0, 300.0, 400.0, "landolt"))
    assert found[20.0].value == pytest.approx(1000.0)


@pytest.mark.parametrize(
    ("gap", "basis"), [(NEAR_K - 0.1, "correlated"), (NEAR_K + 0.1, "estimated")]
)
def test_up_to_25_kelvin_beyond_its_range_a_curve_is_correlated_and_farther_estimated(
    gap: float, basis: str
) -> None:
    found, _ = points(curve(1000.0, 293.15 + gap, 420.0))
    assert found[20.0].basis == basis
    assert "carried" in found[20.0].note


def test_beyond_a_hundred_kelvin_nothing_is_carried() -> None:
    assert 20.0 in points(curve(10.0, 293.15 + FAR_K - 1, 600.0))[0]
    assert 20.0 not in points(curve(10.0, 293.15 + FAR_K + 1, 600.0))[0]


def test_the_farther_carried_the_wider() -> None:
    near, _ = points(curve(1000.0, 300.0, 420.0))
    far, _ = points(curve(1000.0, 370.0, 420.0))
    width = [math.log10(f[20.0].high / f[20.0].low) for f in (near, far)]
    assert width[0] < width[1]


def test_of_three_the_one_that_stands_alone_is_dropped_and_recorded() -> None:
    found, ledger = points(
        curve(1000.0, 250, 400),
        curve(1010.0, 250, 400, "vdi"),
        curve(9000.0, 250, 400, "webbook"),
    )
    assert found[20.0].value == pytest.approx(1005.0, rel=0.01)
    assert found[20.0].high < 2000.0
    assert [d.action for d in ledger.rows] == ["drop"]
    assert any("contradicted" in p.why for p in found[20.0].passed_over)


def test_of_two_that_contradict_both_stay_where_nothing_tells_which() -> None:
    found, ledger = points(curve(1000.0, 250, 400), curve(9000.0, 250, 400, "webbook"))
    assert found[20.0].low < 1000.0 and found[20.0].high > 9000.0
    assert [d.action for d in ledger.rows] == ["widen"]


def test_of_two_the_boiling_point_and_heat_back_one() -> None:
    anchors = Anchors(383.8, 0.0, None, None, 38_010.0, 1.0, True)  # toluene: 2.9 kPa
    found, ledger = points(
        curve(2900.0, 250, 300), curve(300.0, 250, 300, "webbook"), anchors=anchors
    )
    assert found[20.0].value == pytest.approx(2900.0)
    assert [d.action for d in ledger.rows] == ["drop"]


def test_one_voice_against_the_boiling_point_widens_to_both() -> None:
    anchors = Anchors(383.8, 0.0, None, None, 38_010.0, 1.0, True)
    found, ledger = points(curve(100.0, 250, 300), anchors=anchors)
    assert found[20.0].value == pytest.approx(100.0)
    assert found[20.0].high == pytest.approx(2900.0, rel=0.1)
    assert [d.action for d in ledger.rows] == ["widen"]


def test_without_a_curve_the_boiling_point_gives_an_estimate_that_says_so() -> None:
    found, _ = points(anchors=Anchors(383.8, 0.0, None, None, None, 1.0, True))
    assert found[20.0].basis == "estimated"
    assert found[20.0].low < 2900.0 < found[20.0].high
    assert "boiling point alone" in found[20.0].note


def test_metals_and_salts_get_no_estimate() -> None:
    assert not points(anchors=Anchors(1156.0, 0.0, None, None, None, 1.0, False))[0]


def test_nothing_is_given_above_the_critical_temperature() -> None:
    found, _ = points(
        curve(4e6, 200, 290), anchors=Anchors(180, 0.0, None, 273.15, None, 1.0, True)
    )
    assert max(found) < 0.0


def test_below_its_melting_point_the_solids_own_curve_leads() -> None:
    anchors = Anchors(None, 0.0, 350.0, None, None, 1.0, True)
    found, _ = points(
        curve(10.0, 250, 340, "landolt", SOLID), curve(30.0, 350, 500), anchors=anchors
    )
    assert found[20.0].value == pytest.approx(10.0)


def test_without_one_the_liquid_is_lowered_and_the_liquid_stays_inside_the_range() -> None:
    anchors = Anchors(None, 0.0, 350.0, None, None, 1.0, True)
    found, _ = points(curve(30.0, 290.0, 500), anchors=anchors)
    assert found[20.0].value < 30.0 <= found[20.0].high
    assert found[20.0].basis == "estimated" and "lowered" in found[20.0].note


def test_a_solid_above_its_liquid_widens_and_is_recorded() -> None:
    anchors = Anchors(None, 0.0, 310.0, None, None, 1.0, True)
    found, ledger = points(
        curve(60.0, 250, 310, "landolt", SOLID), curve(30.0, 290.0, 500), anchors=anchors
    )
    assert found[20.0].low < 30.0
    assert [d.action for d in ledger.rows] == ["widen"]


def test_a_single_voice_below_one_pascal_is_wide() -> None:
    found, _ = points(curve(0.01, 250, 400))
    assert found[20.0].low < 0.003 and found[20.0].high > 0.03


@given(
    st.floats(1e-6, 5e4),
    st.floats(220.0, 380.0),
    st.floats(20.0, 150.0),
    st.floats(15_000.0, 150_000.0),
    st.one_of(st.none(), st.floats(200.0, 500.0)),
)
def test_points_rise_with_temperature_and_hold_their_value(
    at_20: float, low: float, span: float, heat: float, melting: float | None
) -> None:
    anchors = Anchors(None, 0.0, melting, None, None, 1.0, True)
    found, _ = points(curve(at_20, low, low + span, heat=heat), anchors=anchors)
    ordered = [found[t] for t in sorted(found)]
    assert all(p.low <= p.value <= p.high for p in ordered)
    assert all(a.value < b.value for a, b in pairwise(ordered))


def test_the_slope_of_a_curve_is_its_heat() -> None:
    assert slope_heat(curve(1000.0, 250, 400), 300.0) == pytest.approx(HEAT, rel=1e-3)


def test_no_estimate_at_or_above_the_boiling_point() -> None:
    anchors = Anchors(300.0, 0.0, None, None, None, 1.0, True)
    assert anchor_estimate(anchors, 299.9) is not None
    assert anchor_estimate(anchors, 300.0) is None


def test_contradiction_starts_at_a_factor_of_two() -> None:
    assert pytest.approx(2.0, rel=0.01) == 10**CONTRADICT
