"""What repeated washing leaves, and the screening target."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recommender.physics.removal import (
    allowed_residue_kg_m2,
    required_log_reduction,
    residual_fraction,
    stations_to_reach,
)

MG_KG = 1e-6
MG_CM2 = 0.01
CONVENTION = {
    # The screening convention of the worked examples; judgement, hence arguments.
    "body_mass_kg": 70.0,
    "uncertainty_factor": 1000.0,
    "contact_area_m2": 0.1,
    "transfer_fraction": 0.1,
}


# Regression values (derived): the worked examples hold no published row for these


@pytest.mark.parametrize(
    ("removal", "required", "stations"),
    [
        # R16: n = ceil(Req/-log10(1 - r)), floor zero.
        (0.85, 1.85, 3),
        (0.75, 1.85, 4),
        (0.90, 2.46, 3),
        (0.75, 1.15, 2),
    ],
)
def test_stations_without_a_floor_match_the_worked_examples(
    removal: float, required: float, stations: int
) -> None:
    assert stations_to_reach(required, removal, 0.0) == stations


def test_a_tenth_soaked_in_leaves_10_35_percent_after_four_stations() -> None:
    # R17.
    assert residual_fraction(4, 0.75, 0.1) == pytest.approx(0.1035, rel=0.001)


def test_gross_splash_of_a_category_1_poison_needs_2_46_decades() -> None:
    # R18.
    computed = required_log_reduction(
        load_kg_m2=10 * MG_CM2, dermal_ld50_kg_kg=50 * MG_KG, **CONVENTION
    )
    assert computed == pytest.approx(2.46, rel=0.005)


@pytest.mark.parametrize(
    ("ld50_mg_kg", "residue_mg_cm2", "gross", "retained"),
    [
        # Table of the screening convention: target, decades from 10 and from 1.4 mg/cm2.
        (50.0, 0.035, 2.46, 1.60),
        (200.0, 0.14, 1.85, 1.00),
        (1000.0, 0.70, 1.15, 0.30),
        (2000.0, 1.4, 0.85, 0.0),
    ],
)
def test_the_screening_table_is_reproduced(
    ld50_mg_kg: float, residue_mg_cm2: float, gross: float, retained: float
) -> None:
    ld50 = ld50_mg_kg * MG_KG
    residue = allowed_residue_kg_m2(dermal_ld50_kg_kg=ld50, **CONVENTION)
    assert residue / MG_CM2 == pytest.approx(residue_mg_cm2, rel=1e-9)
    for load, decades in ((10.0, gross), (1.4, retained)):
        computed = required_log_reduction(
            load_kg_m2=load * MG_CM2, dermal_ld50_kg_kg=ld50, **CONVENTION
        )
        assert computed == pytest.approx(decades, abs=0.006)


@pytest.mark.parametrize(("removal", "left"), [(0.90, 0.01), (0.85, 0.0225), (0.75, 0.0625)])
def test_two_stations_leave_the_square_of_what_one_leaves(removal: float, left: float) -> None:
    assert residual_fraction(2, removal, 0.0) == pytest.approx(left, rel=1e-9)


# Meaning


def test_no_station_leaves_everything() -> None:
    assert residual_fraction(0, 0.9, 0.01) == pytest.approx(1.0)


def test_nothing_required_needs_no_station() -> None:
    assert stations_to_reach(0.0, 0.0, 1.0) == 0


def test_a_floor_at_or_above_the_target_cannot_be_reached() -> None:
    assert stations_to_reach(1.0, 0.9, 0.1) is None
    assert stations_to_reach(1.0, 0.9, 0.2) is None
    assert stations_to_reach(3.0, 0.9, 0.001) is None


def test_a_floor_just_below_the_target_asks_for_more_than_the_short_form() -> None:
    # The short form says one station for one decade at 90 %.
    assert stations_to_reach(1.0, 0.9, 0.0) == 1
    assert stations_to_reach(1.0, 0.9, 0.01) == 2
    assert stations_to_reach(1.0, 0.9, 0.0999) == 4


def test_washing_that_removes_nothing_reaches_nothing() -> None:
    assert stations_to_reach(0.1, 0.0, 0.0) is None


def test_perfect_washing_takes_one_station_unless_the_floor_is_too_high() -> None:
    assert stations_to_reach(2.0, 1.0, 0.0) == 1
    assert stations_to_reach(2.0, 1.0, 0.01) == 1
    assert stations_to_reach(2.0, 1.0, 0.02) is None


@pytest.mark.parametrize(("removal", "decades_each"), [(0.9, 1), (0.99, 2), (0.999, 3)])
@pytest.mark.parametrize("stations", range(1, 9))
def test_whole_decades_take_exactly_as_many_stations(
    removal: float, decades_each: int, stations: int
) -> None:
    # Rounding of logarithms must not add a station.
    assert stations_to_reach(float(stations * decades_each), removal, 0.0) == stations


def test_a_target_beyond_ten_thousand_stations_is_out_of_reach() -> None:
    assert stations_to_reach(1.0, 1e-9, 0.0) is None
    assert stations_to_reach(1.0, 5e-324, 0.0) is None


def test_a_load_below_the_target_requires_nothing() -> None:
    for load in (0.0, 1.4 * MG_CM2 * 0.999):
        assert (
            required_log_reduction(load_kg_m2=load, dermal_ld50_kg_kg=2000 * MG_KG, **CONVENTION)
            == 0.0
        )


# Properties

removals = st.floats(0.0, 1.0)
floors = st.floats(0.0, 1.0)


@given(st.integers(0, 9_999), removals, floors)
def test_residual_never_rises_with_another_station(n: int, removal: float, floor: float) -> None:
    here = residual_fraction(n, removal, floor)
    assert floor <= here * (1 + 1e-12) and here <= 1.0 + 1e-12
    assert residual_fraction(n + 1, removal, floor) <= here


@given(st.floats(0.001, 10.0), st.floats(0.01, 0.999), st.floats(0.0, 0.5))
def test_the_station_count_meets_the_target_and_one_fewer_does_not(
    required: float, removal: float, floor: float
) -> None:
    n = stations_to_reach(required, removal, floor)
    target = 10.0**-required
    if n is None:
        assert floor >= target or residual_fraction(10_000, removal, floor) > target
        return
    assert residual_fraction(n, removal, floor) <= target * (1 + 1e-6)
    assert n == 1 or residual_fraction(n - 1, removal, floor) > target * (1 - 1e-6)


def as_number(stations: int | None) -> float:
    return math.inf if stations is None else stations


@given(st.floats(0.0, 6.0), st.floats(0.0, 0.99), st.floats(0.0, 0.5), st.floats(0.0, 1.0))
def test_less_removal_a_higher_floor_or_a_harder_target_never_take_fewer_stations(
    required: float, removal: float, floor: float, share: float
) -> None:
    here = as_number(stations_to_reach(required, removal, floor))
    assert as_number(stations_to_reach(required, removal * share, floor)) >= here
    assert as_number(stations_to_reach(required, removal, floor + share * 0.5)) >= here
    assert as_number(stations_to_reach(required + share, removal, floor)) >= here


@given(st.floats(1e-7, 0.5), st.floats(1e-4, 1.0), st.floats(1.0, 10.0))
def test_a_stronger_poison_or_a_heavier_load_never_requires_less(
    ld50: float, load: float, times: float
) -> None:
    def required(dose: float, mass: float) -> float:
        return required_log_reduction(load_kg_m2=mass, dermal_ld50_kg_kg=dose, **CONVENTION)

    here = required(ld50, load)
    assert required(ld50 / times, load) >= here
    assert required(ld50, load * times) >= here
