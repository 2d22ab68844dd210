"""A value's basis and whether it counts are honored on the way to a fact."""

from __future__ import annotations

import pytest

from recommender.chemicals.table import PropertyValue
from recommender.limits import Limits, load_limits
from recommender.properties.values import number_from
from recommender.properties.vapor_pressure import vapor_pressure_at


def value(
    number: float, basis: str = "measured", counts: bool = True, at: float | None = None
) -> PropertyValue:
    return PropertyValue(
        "x", number, "Pa", at, None, None, "chemicals-lib", "library", "", basis, counts
    )


@pytest.mark.parametrize("basis", ["measured", "correlated", "estimated", "stated"])
def test_a_fact_keeps_the_basis_of_the_value_that_leads(basis: str) -> None:
    assert number_from("x", "Pa", [value(5.0, basis), value(7.0)]).origin.basis == basis


def test_what_does_not_count_neither_leads_nor_widens_but_is_shown() -> None:
    found = number_from("x", "Pa", [value(900.0, counts=False), value(5.0), value(7.0)])
    assert (found.low, found.mid, found.high) == (5.0, 5.0, 7.0)
    assert [p.value for p in found.passed_over] == [900.0, 7.0]


def test_only_passed_over_values_make_no_fact() -> None:
    assert not number_from("x", "Pa", [value(900.0, counts=False)]).is_known


@pytest.mark.parametrize("basis", ["correlated", "estimated"])
def test_a_vapor_pressure_keeps_its_basis_at_and_between_points(basis: str) -> None:
    limits = Limits(load_limits())
    points = [value(100.0, basis, at=10.0), value(200.0, basis, at=20.0)]
    for temperature in (10.0, 15.0, 20.0):
        assert vapor_pressure_at(points, None, temperature, limits).origin.basis == basis


def test_a_measured_vapor_pressure_between_points_is_correlated() -> None:
    limits = Limits(load_limits())
    points = [value(100.0, at=10.0), value(200.0, at=20.0)]
    assert vapor_pressure_at(points, None, 10.0, limits).origin.basis == "measured"
    assert vapor_pressure_at(points, None, 15.0, limits).origin.basis == "correlated"


def test_a_dropped_curve_is_shown_beside_the_pressure_and_does_not_move_it() -> None:
    limits = Limits(load_limits())
    kept = [value(100.0, "correlated", at=10.0), value(200.0, "correlated", at=20.0)]
    dropped = value(9e4, "correlated", counts=False, at=20.0)
    found = vapor_pressure_at([*kept, dropped], None, 20.0, limits)
    assert found.mid == pytest.approx(200.0)
    assert [round(p.value) for p in found.passed_over] == [90_000]


def test_points_that_all_but_coincide_with_the_boiling_point_do_not_break_a_plan() -> None:
    limits = Limits(load_limits())
    points = [value(101_000.0, "correlated", at=20.0), value(140_000.0, "correlated", at=30.0)]
    assert vapor_pressure_at(points, 20.6, 20.3, limits).is_known
