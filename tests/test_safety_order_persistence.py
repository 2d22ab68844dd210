"""What evaporates more slowly never gets a shorter persistence, and no vapor undoes skin harm.

Compared within one form: a solid that melts, a liquid that boils away and a hot melt that sets are
other cases, each with its own rule. What is frozen on a cold day stays a liquid for counting.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from safety_cases import (
    ANY_CASE,
    ROWS,
    Case,
    curated,
    pressure_pa,
    scaled,
    synthetic,
)

from recommender.facts import Truth
from recommender.limits import Limits, load_limits
from recommender.plan import Outcomes
from recommender.recommend import recommend
from recommender.rules.common import harms_through_skin
from recommender.scene import Scene

MANY = settings(max_examples=150, deadline=None, derandomize=True, database=None)
TEMPERATURES_C = (40.0, 30.0, 20.0, 10.0, 0.0, -10.0, -20.0, -30.0)
# Rounding of the arithmetic, not of the judgement.
SAME = 1e-9
# Between two temperatures the range also widens with the distance from a measured point, by 1 % a
# kelvin; for a film that cools itself that can outweigh the colder air.
WIDENED = 0.1


def shorter(before: Outcomes, after: Outcomes, tolerance: float = SAME) -> list[str]:
    """In what way the second persistence is shorter than the first."""
    faults = []
    if after.persistence.grade < before.persistence.grade:
        old, new = before.persistence.grade.words, after.persistence.grade.words
        faults.append(f"{old} becomes {new}")
    old_high, new_high = before.persistence.residence.high, after.persistence.residence.high
    if old_high is not None and new_high is not None and new_high < old_high * (1 - tolerance):
        faults.append(f"the long end falls from {old_high:g} to {new_high:g} min")
    return faults


def is_film(outcomes: Outcomes) -> bool:
    return Truth.NO is outcomes.facts["film_impossible"].truth  # type: ignore[union-attr]


def same_form(before: Outcomes, after: Outcomes) -> bool:
    return before.facts["form"].word == after.facts["form"].word  # type: ignore[union-attr]


def comparable(before: Outcomes, after: Outcomes) -> bool:
    return is_film(before) and is_film(after) and same_form(before, after)


@pytest.mark.parametrize("chemical", ROWS, ids=lambda c: c.key)
def test_colder_air_never_shortens_the_persistence_or_lowers_the_count_of_a_row(
    chemical: object,
) -> None:
    faults = []
    before = None
    for temperature in TEMPERATURES_C:
        scene = Scene(air_temperature_c=temperature)
        after = curated(chemical, scene).outcomes()  # type: ignore[arg-type]
        if before is not None and comparable(before, after):
            found = shorter(before, after, tolerance=WIDENED)
            faults += [f"at {temperature:g} C: {fault}" for fault in found]
            if after.stations.recommended < before.stations.recommended:
                faults.append(f"at {temperature:g} C: the count falls")
        before = after
    assert faults == []


@MANY
@given(case=ANY_CASE, warm=st.floats(-30, 40), colder=st.floats(0.1, 40))
def test_colder_product_never_shortens_the_persistence(
    case: Case, warm: float, colder: float
) -> None:
    assume(case.chemical.form not in ("cryogenic", "molten"))
    case = case.at(air_temperature_c=45.0)
    before, after = (
        case.at(product_temperature_c=warm),
        case.at(product_temperature_c=warm - colder),
    )
    assume(comparable(before.outcomes(), after.outcomes()))
    assert shorter(before.outcomes(), after.outcomes(), tolerance=WIDENED) == []


@MANY
@given(case=ANY_CASE, factor=st.floats(1, 10))
def test_a_thicker_film_never_shortens_the_persistence(case: Case, factor: float) -> None:
    limits = load_limits()
    film = limits["persistence.film"]
    thick = {**limits, film.id: replace(film, value=film.value * factor)}
    assert shorter(case.outcomes(), case.outcomes(thick)) == []


@MANY
@given(case=ANY_CASE, factor=st.floats(0, 1))
def test_less_wind_never_shortens_the_persistence(case: Case, factor: float) -> None:
    windy = case.at(wind_m_s=6.0)
    calm = case.at(wind_m_s=6.0 * factor)
    assert shorter(windy.outcomes(), calm.outcomes()) == []


@MANY
@given(case=ANY_CASE, factor=st.floats(0.1, 1))
def test_a_lower_vapor_pressure_never_shortens_the_persistence(case: Case, factor: float) -> None:
    points = case.data.values.get("vapor_pressure", ())
    assume(points)
    case = case.with_points("boiling_point", ())
    lower = case.with_points("vapor_pressure", scaled(points, factor))
    before, after = case.outcomes(), lower.outcomes()
    assert shorter(before, after) == []
    if same_form(before, after) and before.facts["contact_vapor"] == after.facts["contact_vapor"]:
        assert after.stations.recommended >= before.stations.recommended
        assert after.stations.high >= before.stations.high


@MANY
@given(
    case=synthetic().filter(lambda case: case.chemical.form == "liquid"),
    boiling=st.floats(60, 300),
    higher=st.floats(1, 100),
)
def test_a_higher_boiling_point_never_shortens_the_persistence(
    case: Case, boiling: float, higher: float
) -> None:
    case = case.with_points("vapor_pressure", ())
    before = case.with_value("boiling_point", boiling)
    after = case.with_value("boiling_point", boiling + higher)
    assert shorter(before.outcomes(), after.outcomes()) == []


@MANY
@given(case=ANY_CASE, pressure=st.floats(1e-6, 90_000))
def test_volatility_never_cancels_harm_through_skin(case: Case, pressure: float) -> None:
    """Whatever the vapor pressure below boiling, what kills through skin keeps its position."""
    case = case.at(contact="splash")
    harmful = recommend(case.chemical, case.scene, data=case.data)
    limits = Limits(load_limits())
    from recommender.facts import Facts

    assume(harms_through_skin(Facts(harmful.facts), limits).is_yes)
    volatile = case.with_points("boiling_point", ()).with_value(
        "vapor_pressure", pressure, temperature_c=20.0
    )
    outcomes = volatile.outcomes()
    assert "STN-050" in {driver.rule for driver in outcomes.stations.drivers}
    assert outcomes.stations.recommended >= 2


@MANY
@given(heat=st.floats(25_000, 60_000), boiling=st.floats(50, 300))
def test_the_made_up_pressures_agree_with_their_boiling_points(heat: float, boiling: float) -> None:
    assert pressure_pa(boiling, boiling, heat) == pytest.approx(101325.0)
    assert pressure_pa(20.0, boiling, heat) < 101325.0
