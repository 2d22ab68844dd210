"""Values of limits in any unit that can be converted to their own.

Expected numbers come from definitions (NIST SP 811: 1 lb = 0.45359237 kg, 1 in = 25.4 mm, 1 US gal
= 3.785411784 L, 1 mi = 1609.344 m; 1 eV = 1.602176634e-19 J; 1 cal = 4.184 J), worked by hand.
"""

from __future__ import annotations

import contextlib
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recommender.errors import UnitError
from recommender.limit_units import BY_UNIT, COUNTS, read_limit_value
from recommender.limits import load_limits


@pytest.mark.parametrize(
    ("typed", "unit", "value"),
    [
        ("5 min", "min", 5.0),
        ("600 s", "min", 10.0),
        ("24 h", "min", 1440.0),
        ("1 day", "min", 1440.0),
        ("0.5 fortnight", "min", 10080.0),
        ("12 g/L", "g/L", 12.0),
        ("500 mg/L", "g/L", 0.5),
        ("1 g/100 mL", "g/L", 10.0),
        ("1 lb/gal", "g/L", 453.59237 / 3.785411784),
        ("1.2 g/mL", "kg/m3", 1200.0),
        ("62.4 lb/ft3", "kg/m3", 62.4 * 0.45359237 / 0.3048**3),
        ("70 F", "degC", 190.0 / 9.0),
        ("72.5 F", "degC", 22.5),
        ("291.15 K", "degC", 18.0),
        ("-5 C", "degC", -5.0),
        ("5 mph", "m/s", 2.2352),
        ("0.6 km/min", "m/s", 10.0),
        ("0.004 in", "mm", 0.1016),
        ("100 um", "mm", 0.1),
        ("1 ft", "m", 0.3048),
        ("100 mPa s", "cP", 100.0),
        ("0.1 Pa\u00b7s", "cP", 100.0),
        ("1 P", "cP", 100.0),
        ("155 sq in", "cm2", 155 * 6.4516),
        ("100 L", "gal", 100 / 3.785411784),
        ("40 g/m2", "mg/cm2", 4.0),
        ("0.2 g/kg", "mg/kg", 200.0),
        ("154 lb", "kg", 154 * 0.45359237),
        ("0.01 %", "ppm", 100.0),
        ("500 ppb", "ppm", 0.5),
        ("1.602176634e-18 J", "eV", 10.0),
        ("45 kJ/mol", "J/mol", 45000.0),
        ("10 kcal/mol", "J/mol", 41840.0),
        ("1 %/K", "1/K", 0.01),
        ("0.02 1/K", "1/K", 0.02),
        ("85 %", "1", 0.85),
        ("0.85", "1", 0.85),
        ("10 %", "% of lower limit", 10.0),
        ("2 positions", "positions", 2.0),
        ("3", "people", 3.0),
        ("2 category", "GHS category", 2.0),
    ],
)
def test_a_value_is_converted_to_the_unit_of_the_limit(typed, unit, value):
    assert math.isclose(read_limit_value(typed, unit, what="value"), value, rel_tol=1e-9)


@pytest.mark.parametrize("limit", load_limits().values(), ids=lambda x: x.id)
def test_every_limit_has_a_unit_that_is_read_and_reads_its_own_value_back(limit):
    assert limit.unit in BY_UNIT
    assert read_limit_value(limit.value, limit.unit, what="value") == limit.value
    if limit.unit != "1":
        typed = f"{limit.value:g} {limit.unit}"
        assert read_limit_value(typed, limit.unit, what="value") == limit.value


@pytest.mark.parametrize(
    ("typed", "unit", "said"),
    [
        ("5 kg", "min", "not a unit of time"),
        ("5 min", "g/L", "not a unit of mass per volume"),
        ("5 m", "min", "minutes, meters or months"),
        ("12 %", "g/L", "by mass or by volume"),
        ("4 mil", "mm", "0.001 in or 1 mm"),
        ("2 ton/m3", "kg/m3", "not a unit of density"),
        ("70", "degC", "no unit"),
        ("5", "min", "no unit"),
        ("5 min 10 s", "min", "not a unit of time"),
        ("five min", "min", "does not start with a number"),
        ("1,500 min", "min", "1500 or 1.500"),
        ("-1 min", "min", "below zero"),
        ("-300 C", "degC", "absolute zero"),
        ("1 MPa s", "cP", "not a unit of viscosity"),
        ("2.5 positions", "positions", "whole numbers"),
        ("1e400 min", "min", "too large"),
        ("5 __import__('os')", "min", "not a unit of time"),
        ("", "min", "empty"),
    ],
)
def test_a_value_that_cannot_be_read_in_one_way_is_refused(typed, unit, said):
    with pytest.raises(UnitError, match="value") as caught:
        read_limit_value(typed, unit, what="value")
    assert said in str(caught.value)


def test_a_count_is_whole_also_as_a_number():
    for unit in COUNTS:
        assert read_limit_value(2, unit, what="value") == 2.0
        with pytest.raises(UnitError, match="whole numbers"):
            read_limit_value(2.5, unit, what="value")


@given(st.text(max_size=40), st.sampled_from(sorted(BY_UNIT)))
def test_any_text_is_read_or_refused(text, unit):
    with contextlib.suppress(UnitError):
        assert math.isfinite(read_limit_value(text, unit, what="value"))


@given(st.text(alphabet="abcdeghkmnstuz*/^ 123", max_size=30), st.sampled_from(sorted(BY_UNIT)))
def test_any_text_that_looks_like_a_unit_is_read_or_refused(text, unit):
    with contextlib.suppress(UnitError):
        assert math.isfinite(read_limit_value(f"5 {text}", unit, what="value"))
