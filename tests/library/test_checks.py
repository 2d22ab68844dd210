"""Constants held against each other and against curves."""

from __future__ import annotations

import math
from collections.abc import Sequence

import pytest

from recommender.library.build_curves import LIQUID, SOLID, Curve
from recommender.library.checks import (
    CONFIRMS,
    HOTTEST_ORGANIC_C,
    REFUTES,
    VACUUM_SHARE,
    YAWS_DOUBT_DECADES,
    Checked,
    Told,
    check,
    sane_curves,
)
from recommender.library.consensus import Consensus, Ledger

CAS = 108883


def value(number: float, voices: int = 2, note: str = "CRC organic, WebBook") -> Consensus:
    return Consensus(number, number, number, "measured", note, "chemicals", voices)


def boils(at_c: float, family: str = "perry", low: float = 250.0, high: float = 450.0) -> Curve:
    """A curve that reaches one atmosphere at a temperature."""

    def pressure(kelvin: float) -> float:
        return 101_325.0 * math.exp(-40_000 / 8.314 * (1 / kelvin - 1 / (at_c + 273.15)))

    return Curve(family.title(), family, LIQUID, low, high, pressure)


def run(
    *,
    melting: Consensus | None = None,
    boiling: Consensus | None = None,
    curves: Sequence[Curve] = (),
    joback_c: float | None = None,
    liquid_from_c: float | None = None,
    is_organic: bool = True,
) -> tuple[Checked, Ledger]:
    ledger = Ledger()
    told = Told(melting, boiling, curves, joback_c, liquid_from_c, is_organic, 1.0)
    checked = check(CAS, told, ledger)
    return checked, ledger


def test_what_agrees_passes_without_a_record() -> None:
    checked, ledger = run(melting=value(-95), boiling=value(110.6), curves=[boils(110.6)])
    assert checked.melting and checked.boiling and len(checked.curves) == 1
    assert checked.boiling_is_trusted and not ledger.rows


def test_a_curve_low_at_the_boiling_point_speaks_of_vacuum() -> None:
    checked, ledger = run(boiling=value(110, 1, "Wikidata"), curves=[boils(230)])
    assert checked.boiling is None and len(checked.curves) == 1
    assert [(d.property, d.action) for d in ledger.rows] == [("boiling_point", "drop")]


def test_two_voices_for_the_boiling_point_outweigh_one_curve() -> None:
    checked, ledger = run(boiling=value(110, 3), curves=[boils(230)])
    assert checked.boiling is not None and not checked.curves
    assert [(d.property, d.action) for d in ledger.rows] == [("vapor_pressure", "drop")]


def test_a_curve_that_confirms_saves_the_boiling_point_and_the_bad_curve_goes() -> None:
    checked, _ = run(boiling=value(110, 1), curves=[boils(111), boils(230, "webbook")])
    assert checked.boiling is not None
    assert [c.family for c in checked.curves] == ["perry"]


def test_group_contribution_decides_between_one_and_one() -> None:
    near_boiling, _ = run(boiling=value(110, 1), curves=[boils(230)], joback_c=115)
    near_curve, _ = run(boiling=value(110, 1), curves=[boils(230)], joback_c=220)
    assert near_boiling.boiling is not None and not near_boiling.curves
    assert near_curve.boiling is None and len(near_curve.curves) == 1


@pytest.mark.parametrize(("decades", "dropped"), [(REFUTES - 0.05, False), (REFUTES + 0.05, True)])
def test_half_a_decade_off_one_atmosphere_refutes(decades: float, dropped: bool) -> None:
    def pressure(kelvin: float) -> float:
        return 101_325.0 * 10**-decades * math.exp(-40_000 / 8.314 * (1 / kelvin - 1 / 383.15))

    checked, ledger = run(
        boiling=value(110, 3), curves=[Curve("Perry", "perry", LIQUID, 250, 450, pressure)]
    )
    assert bool(checked.curves) is not dropped
    assert ledger.rows[0].action == ("drop" if dropped else "flag")
    assert decades > CONFIRMS


def test_a_low_lone_boiling_point_is_taken_as_under_vacuum_by_its_groups() -> None:
    edge = VACUUM_SHARE * 500.0 - 273.15
    below, ledger = run(boiling=value(edge - 1, 1, "WebBook"), joback_c=500.0 - 273.15)
    above, _ = run(boiling=value(edge + 1, 1, "WebBook"), joback_c=500.0 - 273.15)
    agreed, _ = run(boiling=value(edge - 1, 2), joback_c=500.0 - 273.15)
    assert below.boiling is None and "vacuum" in ledger.rows[0].what
    assert above.boiling is not None and agreed.boiling is not None


def test_nothing_organic_boils_above_500_c() -> None:
    assert run(boiling=value(HOTTEST_ORGANIC_C))[0].boiling is not None
    assert run(boiling=value(HOTTEST_ORGANIC_C + 1))[0].boiling is None
    assert run(boiling=value(1465), is_organic=False)[0].boiling is not None


def test_a_lone_value_of_the_table_that_mixes_in_estimates_is_one() -> None:
    checked, _ = run(boiling=value(210, 1, "Yaws"))
    assert checked.boiling is not None and checked.boiling.basis == "estimated"
    assert checked.boiling.low < 210 < checked.boiling.high
    assert checked.boiling_doubt == YAWS_DOUBT_DECADES
    confirmed, _ = run(boiling=value(110, 1, "Yaws"), curves=[boils(110)])
    assert confirmed.boiling is not None and confirmed.boiling.basis == "correlated"
    assert confirmed.boiling_doubt == 0.0


def test_a_boiling_point_entered_as_the_melting_point_is_dropped() -> None:
    checked, _ = run(melting=value(76.0, 1, "Common Chemistry"), boiling=value(75.5))
    assert checked.melting is None and checked.boiling is not None


def test_a_lone_melting_point_far_above_a_measured_liquid_is_dropped() -> None:
    checked, _ = run(melting=value(133.6, 1, "Common Chemistry"), liquid_from_c=0.0)
    agreed, _ = run(melting=value(133.6, 2), liquid_from_c=0.0)
    assert checked.melting is None and agreed.melting is not None


def test_melting_above_boiling_drops_the_lone_one_or_is_sublimation() -> None:
    lone_melting, _ = run(melting=value(200, 1), boiling=value(100, 2))
    lone_boiling, _ = run(melting=value(200, 2), boiling=value(100, 1))
    both, ledger = run(melting=value(-56.6, 3), boiling=value(-78.5, 2))
    assert lone_melting.melting is None and lone_melting.boiling is not None
    assert lone_boiling.melting is not None and lone_boiling.boiling is None
    assert both.sublimes and not both.boiling_is_trusted
    assert ledger.rows[0].action == "flag"


def test_absurd_coefficients_are_dropped() -> None:
    garbled = Curve("Bad", "landolt", LIQUID, 290, 370, lambda t: 1e-69 * (t / 290) ** 900)
    silent = Curve("Bad", "landolt", LIQUID, 275, 297, lambda t: math.nan)
    falling = Curve("Bad", "landolt", LIQUID, 290, 370, lambda t: 1e9 / t**2)
    ledger = Ledger()
    assert sane_curves(CAS, [garbled, silent, falling, boils(110)], ledger)[0].family == "perry"
    assert len(ledger.rows) == 3


def test_curves_of_solids_are_not_held_against_boiling_points() -> None:
    solid = Curve("Solid", "landolt", SOLID, 250, 330, boils(500).pressure)
    assert len(run(boiling=value(218, 2), curves=[solid])[0].curves) == 1
