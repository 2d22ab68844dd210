"""Vapor pressure at the film's temperature: the value, its range and its basis."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recommender.chemicals.table import PropertyValue, load_chemicals, load_data
from recommender.dimensions import AIR_TEMPERATURE_C, PRODUCT_TEMPERATURE_C
from recommender.facts import Number
from recommender.limits import Limits, load_limits
from recommender.properties.vapor_pressure import (
    ATMOSPHERE_PA,
    heat_of_vaporization_j_mol,
    vapor_pressure_at,
)
from recommender.recommend import recommend
from recommender.scene import Scene

LIMITS = Limits(load_limits())
FACTOR = load_limits()["uncertainty.vapor_pressure"].value
PER_KELVIN = load_limits()["uncertainty.vapor_pressure_per_kelvin"].value
BOILING_ONLY = load_limits()["uncertainty.boiling_point_only"].value
GAS_CONSTANT = 8.314462618


def point(
    pressure: float,
    at: float | None = 20.0,
    *,
    low: float | None = None,
    high: float | None = None,
    source: str = "example",
) -> PropertyValue:
    """Return one published value of an invented chemical."""
    return PropertyValue("vapor_pressure", pressure, "Pa", at, low, high, source, "read", "")


def known(number: Number) -> tuple[float, float, float]:
    """Return low, middle and high of a value that has to be known."""
    assert number.low is not None
    assert number.mid is not None
    assert number.high is not None
    return number.low, number.mid, number.high


# --- one point ---------------------------------------------------------------------------------


def test_nothing_published_is_unknown_and_not_zero() -> None:
    number = vapor_pressure_at([], None, 20.0, LIMITS)
    assert not number.is_known
    assert number.origin.basis == "unknown"


def test_a_measured_value_at_its_own_temperature_is_kept_as_measured() -> None:
    number = vapor_pressure_at([point(2500.0)], None, 20.0, LIMITS)
    low, mid, high = known(number)
    assert mid == pytest.approx(2500.0)
    assert (low, high) == (pytest.approx(2500.0 / FACTOR), pytest.approx(2500.0 * FACTOR))
    assert number.origin.basis == "measured"
    assert number.origin.source == "example"


def test_a_published_range_replaces_the_factor() -> None:
    low, mid, high = known(
        vapor_pressure_at([point(100.0, low=90.0, high=140.0)], None, 20.0, LIMITS)
    )
    assert (low, mid, high) == (
        pytest.approx(90.0),
        pytest.approx(100.0),
        pytest.approx(140.0),
    )


@pytest.mark.parametrize(
    ("distance", "basis"),
    [(0.0, "measured"), (0.49, "measured"), (0.5, "measured"), (0.51, "correlated")],
)
def test_a_value_taken_elsewhere_is_correlated_from_half_a_kelvin_on(
    distance: float, basis: str
) -> None:
    number = vapor_pressure_at([point(2500.0)], None, 20.0 + distance, LIMITS)
    assert number.origin.basis == basis


@given(st.floats(min_value=-40.0, max_value=60.0))
def test_the_range_widens_with_each_kelvin_from_the_point(temperature: float) -> None:
    low, mid, high = known(vapor_pressure_at([point(2500.0)], None, temperature, LIMITS))
    widening = FACTOR * (1.0 + PER_KELVIN * abs(temperature - 20.0))
    assert high / mid == pytest.approx(widening)
    assert mid / low == pytest.approx(widening)


@pytest.mark.parametrize(
    "useless",
    [
        point(2500.0, None),
        point(0.0),
        point(-1.0),
        point(2500.0, -173.16),
        point(2500.0, 726.86),
    ],
)
def test_a_point_without_temperature_or_out_of_range_is_left_out(useless: PropertyValue) -> None:
    assert not vapor_pressure_at([useless], None, 20.0, LIMITS).is_known
    beside = vapor_pressure_at([useless, point(100.0)], None, 20.0, LIMITS)
    assert beside.mid == pytest.approx(100.0)


@pytest.mark.parametrize("at", [-173.14, 726.84])
def test_a_point_at_either_end_of_the_range_is_used(at: float) -> None:
    assert vapor_pressure_at([point(2500.0, at)], None, at, LIMITS).is_known


# --- a boiling point alone ---------------------------------------------------------------------


def test_at_its_boiling_point_a_liquid_has_the_pressure_of_the_atmosphere() -> None:
    assert vapor_pressure_at([], 56.0, 56.0, LIMITS).mid == pytest.approx(ATMOSPHERE_PA)


def test_a_boiling_point_alone_is_an_estimate_and_says_so() -> None:
    number = vapor_pressure_at([], 110.6, 20.0, LIMITS)
    low, mid, high = known(number)
    assert number.origin.basis == "estimated"
    assert "boiling point" in number.origin.note
    assert high / mid >= BOILING_ONLY
    assert mid / low >= BOILING_ONLY


@pytest.mark.parametrize(
    ("boiling_c", "published_pa"),
    [
        (110.6, 2900.0),  # toluene at 20 C: 22 mmHg (J. Chem. Eng. handbooks; memory)
        (80.1, 10000.0),  # benzene at 20 C: 75 mmHg (NIOSH Pocket Guide)
        (144.4, 700.0),  # o-xylene at 20 C: 7 mmHg is 930 Pa, 5 mmHg is 670 (Pocket Guide, memory)
        (56.0, 24000.0),  # acetone at 20 C: 180 mmHg (NIOSH Pocket Guide)
    ],
)
def test_an_estimate_from_the_boiling_point_holds_the_published_value(
    boiling_c: float, published_pa: float
) -> None:
    low, _, high = known(vapor_pressure_at([], boiling_c, 20.0, LIMITS))
    assert low <= published_pa <= high


# --- several points ----------------------------------------------------------------------------


def test_between_two_points_water_agrees_with_the_steam_tables() -> None:
    """Saturation pressure of water: 2339 Pa at 20 C, 3169 at 25, 4246 at 30 (steam tables)."""
    points = [point(2339.0, 20.0), point(4246.0, 30.0)]
    assert vapor_pressure_at(points, None, 25.0, LIMITS).mid == pytest.approx(3169.0, rel=0.005)


def test_beyond_two_points_water_stays_near_the_steam_tables() -> None:
    """1228 Pa at 10 C and 7384 Pa at 40 C (steam tables)."""
    points = [point(2339.0, 20.0), point(4246.0, 30.0)]
    assert vapor_pressure_at(points, None, 10.0, LIMITS).mid == pytest.approx(1228.0, rel=0.02)
    assert vapor_pressure_at(points, None, 40.0, LIMITS).mid == pytest.approx(7384.0, rel=0.02)


def test_the_boiling_point_serves_as_a_second_point() -> None:
    """Water at 50 C from 20 C and its boiling point: 12.35 kPa (steam tables)."""
    number = vapor_pressure_at([point(2339.0)], 100.0, 50.0, LIMITS)
    assert number.mid == pytest.approx(12352.0, rel=0.05)
    assert number.origin.basis == "correlated"


def test_a_measured_point_beside_the_boiling_point_leads() -> None:
    number = vapor_pressure_at([point(ATMOSPHERE_PA, 100.2)], 100.0, 100.2, LIMITS)
    assert number.mid == pytest.approx(ATMOSPHERE_PA)
    assert number.origin.basis == "measured"


def test_the_nearest_measured_point_lends_its_source_and_its_range() -> None:
    points = [
        point(2339.0, 20.0, low=2330.0, high=2350.0, source="near"),
        point(12352.0, 50.0, low=6000.0, high=25000.0, source="far"),
    ]
    number = vapor_pressure_at(points, None, 22.0, LIMITS)
    low, mid, high = known(number)
    assert number.origin.source == "near"
    assert high / mid < 1.1
    assert mid / low < 1.1


def test_points_in_any_order_give_the_same_answer() -> None:
    points = [point(4246.0, 30.0), point(1228.0, 10.0), point(2339.0, 20.0)]
    forward = vapor_pressure_at(points, None, 25.0, LIMITS)
    backward = vapor_pressure_at(points[::-1], None, 25.0, LIMITS)
    assert known(forward) == known(backward)


def test_points_that_contradict_each_other_never_give_less_pressure_for_more_heat() -> None:
    points = [point(4246.0, 20.0), point(2339.0, 30.0)]
    cold, warm = (vapor_pressure_at(points, None, t, LIMITS) for t in (0.0, 60.0))
    assert known(cold)[1] < known(warm)[1]


def trouton_pressure(boiling: float, share: float) -> float:
    """Return a vapor pressure at 20 C that goes with a boiling point, times a share."""
    drop = 10.6 * ((boiling + 273.15) / 293.15 - 1.0)
    return share * ATMOSPHERE_PA * math.exp(-drop)


@given(
    st.floats(min_value=-40.0, max_value=55.0),
    st.floats(min_value=0.5, max_value=30.0),
    st.floats(min_value=40.0, max_value=400.0),
    st.floats(min_value=0.3, max_value=1.0),
)
def test_warmer_is_never_less_pressure(
    temperature: float, more: float, boiling: float, share: float
) -> None:
    points = [point(trouton_pressure(boiling, share), 20.0)]
    cold = known(vapor_pressure_at(points, boiling, temperature, LIMITS))
    warm = known(vapor_pressure_at(points, boiling, temperature + more, LIMITS))
    assert cold[1] < warm[1]


@given(
    st.floats(min_value=-60.0, max_value=60.0),
    st.floats(min_value=40.0, max_value=400.0),
    st.floats(min_value=0.3, max_value=1.0),
    st.booleans(),
)
def test_low_middle_and_high_stand_in_order_and_are_positive(
    temperature: float, boiling: float, share: float, knows_boiling: bool
) -> None:
    points = [point(trouton_pressure(boiling, share))]
    number = vapor_pressure_at(points, boiling if knows_boiling else None, temperature, LIMITS)
    low, mid, high = known(number)
    assert 0 < low <= mid <= high < math.inf


@given(st.floats(min_value=1e-6, max_value=9e4))
def test_a_published_range_that_ends_at_the_value_itself_is_no_error(pressure: float) -> None:
    """'7.6, up to 9.4' is a range as published: rounding must not turn it upside down."""
    for low, high in ((pressure, 1.3 * pressure), (0.7 * pressure, pressure), (pressure, pressure)):
        for at in (20.0, 25.0, 30.0):
            number = vapor_pressure_at([point(pressure, at, low=low, high=high)], None, at, LIMITS)
            ends = known(number)
            assert ends[0] <= ends[1] <= ends[2]


def test_points_whose_heat_is_out_of_all_sense_fall_back_on_the_default() -> None:
    """A slip in one of two points is no reason to leave a crew without a plan."""
    points = [point(1.0, 20.0), point(90000.0, 21.0)]
    assert vapor_pressure_at(points, None, 10.0, LIMITS).is_known


@pytest.mark.parametrize("key", list(load_chemicals()))
def test_every_row_can_be_planned_at_each_of_its_published_temperatures(key: str) -> None:
    """Where a film is just as warm as a published point, boils or melts, nothing may break."""
    values = load_data(load_chemicals()[key]).values
    at = [v.temperature_c for v in values.get("vapor_pressure", ()) if v.temperature_c is not None]
    for name in ("boiling_point", "melting_point"):
        at += [v.value + d for v in values.get(name, ()) for d in (-0.01, 0.0, 0.01)]
    for temperature in (t for t in at if t <= PRODUCT_TEMPERATURE_C[1]):
        assert recommend(load_chemicals()[key], Scene(product_temperature_c=temperature)).outcomes
        if AIR_TEMPERATURE_C[0] <= temperature <= AIR_TEMPERATURE_C[1]:
            assert recommend(load_chemicals()[key], Scene(air_temperature_c=temperature)).outcomes


@pytest.mark.parametrize("key", list(load_chemicals()))
def test_every_curated_vapor_pressure_rises_with_temperature(key: str) -> None:
    data = load_data(load_chemicals()[key])
    points = data.values.get("vapor_pressure", ())
    boiling = data.values.get("boiling_point", ())
    pure = bool(load_chemicals()[key].formula) and load_chemicals()[key].form != "solution"
    boiling_c = boiling[0].value if boiling and pure else None
    if not points and boiling_c is None:
        assert not vapor_pressure_at(points, boiling_c, 20.0, LIMITS).is_known
        return
    steps = [vapor_pressure_at(points, boiling_c, float(t), LIMITS).mid for t in range(-42, 61, 5)]
    values = [value for value in steps if value is not None]
    assert values == sorted(values)


# --- heat of vaporization ----------------------------------------------------------------------


def test_two_points_of_water_imply_its_heat_of_vaporization() -> None:
    """About 44 kJ/mol near 25 C (CODATA; memory)."""
    heat = heat_of_vaporization_j_mol(
        [point(2339.0, 20.0), point(4246.0, 30.0)], None, 25.0, LIMITS
    )
    assert heat == pytest.approx(44000.0, rel=0.02)


def test_a_boiling_point_alone_implies_trouton_s_heat() -> None:
    """Trouton's rule: 85 to 90 J/(mol K) times the boiling point; benzene's heat is 30.7 kJ/mol."""
    assert heat_of_vaporization_j_mol([], 80.1, 20.0, LIMITS) == pytest.approx(30700.0, rel=0.05)


def test_one_point_alone_or_nothing_implies_the_stated_default() -> None:
    default = load_limits()["uncertainty.default_heat"].value
    assert heat_of_vaporization_j_mol([point(100.0)], None, 20.0, LIMITS) == default
    assert heat_of_vaporization_j_mol([], None, 20.0, LIMITS) == default


def test_one_point_alone_is_carried_with_the_default_heat() -> None:
    """The van 't Hoff form, worked by hand: ln(p2/p1) = h/R (1/T1 - 1/T2)."""
    default = load_limits()["uncertainty.default_heat"].value
    expected = 100.0 * math.exp(default / GAS_CONSTANT * (1 / 293.15 - 1 / 303.15))
    assert vapor_pressure_at([point(100.0)], None, 30.0, LIMITS).mid == pytest.approx(expected)
