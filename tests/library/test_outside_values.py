"""The store against values from outside: curated tables with their own sources, and handbooks."""

from __future__ import annotations

import math
from statistics import median

import pytest

from recommender.chemicals.table import load_chemicals, load_data
from recommender.library.load import load_entry
from recommender.library.store import Store
from recommender.limits import Limits, load_limits
from recommender.properties.vapor_pressure import vapor_pressure_at

# Vapor pressure at 25 C in kPa: CRC Handbook of Chemistry and Physics, "Vapor Pressure".
CRC_25_C = [
    ("110-54-3", 20.2),
    ("111-65-9", 1.86),
    ("142-82-5", 6.09),
    ("108-88-3", 3.79),
    ("71-43-2", 12.7),
    ("67-56-1", 16.9),
    ("64-17-5", 7.87),
    ("67-64-1", 30.8),
    ("60-29-7", 71.7),
    ("67-66-3", 26.2),
    ("75-09-2", 58.2),
    ("75-05-8", 11.9),
    ("75-52-5", 4.79),
    ("7732-18-5", 3.17),
]


@pytest.mark.parametrize(("cas", "kilopascal"), CRC_25_C)
def test_the_consensus_is_within_five_percent_of_the_handbook(
    store: Store, cas: str, kilopascal: float
) -> None:
    entry = load_entry(store, cas)
    assert entry is not None
    points = entry.data.values["vapor_pressure"]
    boiling = entry.data.values["boiling_point"][0].value
    found = vapor_pressure_at(points, boiling, 25.0, Limits(load_limits()))
    assert found.mid == pytest.approx(1000 * kilopascal, rel=0.05)
    assert found.low is not None and found.high is not None
    assert found.low <= 1000 * kilopascal <= found.high


def comparisons(store: Store) -> list[tuple[str, float, bool]]:
    """(basis, decades apart, inside the range) for curated points of other sources."""
    limits = Limits(load_limits())
    found = []
    for chemical in load_chemicals().values():
        entry = load_entry(store, chemical.cas) if chemical.cas and chemical.formula else None
        if entry is None or chemical.form == "solution":
            continue
        values = entry.data.values
        boiling = values["boiling_point"][0].value if "boiling_point" in values else None
        for point in load_data(chemical).values.get("vapor_pressure", ()):
            at = point.temperature_c
            if point.source == "chemicals-lib" or at is None or not -40 <= at <= 60:
                continue
            number = vapor_pressure_at(values.get("vapor_pressure", ()), boiling, at, limits)
            if number.mid and number.low and number.high:
                apart = abs(math.log10(number.mid / point.value))
                inside = number.low <= point.value <= number.high
                found.append((number.origin.basis, apart, inside))
    return found


def test_correlated_pressures_agree_with_curated_ones_of_other_sources(store: Store) -> None:
    apart = [(a, inside) for basis, a, inside in comparisons(store) if basis == "correlated"]
    assert len(apart) >= 150
    assert median(a for a, _ in apart) < 0.02
    assert sum(inside for _, inside in apart) >= 0.9 * len(apart)


def test_estimated_pressures_hold_the_curated_ones_in_their_range(store: Store) -> None:
    apart = [(a, inside) for basis, a, inside in comparisons(store) if basis == "estimated"]
    assert len(apart) >= 20
    assert median(a for a, _ in apart) < 0.3
    assert sum(inside for _, inside in apart) >= 0.7 * len(apart)


def test_estimated_solubilities_hold_the_curated_ones(store: Store) -> None:
    errors, inside = [], 0
    for chemical in load_chemicals().values():
        entry = load_entry(store, chemical.cas) if chemical.cas and chemical.formula else None
        measured = load_data(chemical).values.get("water_solubility", ())
        if entry is None or chemical.form == "solution" or not measured:
            continue
        estimate = entry.data.values.get("water_solubility", ())
        if not estimate or measured[0].value <= 0:
            continue
        lead = estimate[0]
        assert lead.low is not None and lead.high is not None
        inside += lead.low <= measured[0].value <= lead.high
        errors.append(math.log10(lead.value / measured[0].value))
    assert len(errors) >= 140
    assert math.sqrt(sum(e * e for e in errors) / len(errors)) < 0.7
    assert inside >= 0.9 * len(errors)


@pytest.mark.parametrize(
    ("cas", "name", "value"),
    [
        # Traps measured beforehand, with what is right: handbooks named in the corrections table.
        ("78-00-2", "melting_point", -130.0),
        ("7723-14-0", "melting_point", 44.15),
        ("106-35-4", "melting_point", -39.0),
        ("156-59-2", "boiling_point", 60.1),
        ("79-34-5", "boiling_point", 146.0),
        ("822-06-0", "boiling_point", None),
        ("298-00-0", "boiling_point", None),
        ("111-30-8", "boiling_point", 188.0),
    ],
)
def test_known_traps_are_caught(store: Store, cas: str, name: str, value: float | None) -> None:
    entry = load_entry(store, cas)
    assert entry is not None
    values = [v for v in entry.data.values.get(name, ()) if v.counts]
    if value is None:
        assert not values
    else:
        assert values[0].value == pytest.approx(value, abs=13.0)


@pytest.mark.parametrize(
    ("cas", "pascal"),
    # From the boiling point and the curve that agrees with it.
    [("544-40-1", 136), ("109-75-1", 1880), ("407-25-0", 43_300), ("78-84-2", 18_000)],
)
def test_of_two_curves_the_right_one_is_kept(store: Store, cas: str, pascal: float) -> None:
    entry = load_entry(store, cas)
    assert entry is not None
    at_20 = [v for v in entry.data.values["vapor_pressure"] if v.temperature_c == 20.0 and v.counts]
    assert at_20[0].value == pytest.approx(pascal, rel=0.1)
