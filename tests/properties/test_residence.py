"""How long a film stays: the directions it moves in, and how wide its range is."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from recommender.chemicals.table import load_chemicals, load_data
from recommender.facts import Number, Provenance
from recommender.limits import Limits, load_limits
from recommender.physics.evaporation import evaporation_flux_kg_m2_s, film_residence_s
from recommender.physics.mass_transfer import still_air_m_s
from recommender.properties.build import build_facts
from recommender.properties.residence import Film, film_residence_minutes
from recommender.scene import Scene

TABLE = load_limits()
LIMITS = Limits(TABLE)
THICKNESS = TABLE["persistence.film"].value
MODEL_FACTOR = TABLE["persistence.model_factor"].value
DAMP = TABLE["persistence.damp_air_share"].value
KELVIN = 273.15
Range = tuple[float, float, float]


def number(name: str, low: float, mid: float, high: float) -> Number:
    """Return an invented range."""
    return Number(name, low, mid, high, "", Provenance("measured"))


def exactly(name: str, value: float) -> Number:
    """Return a value without any range."""
    return number(name, value, value, value)


TOLUENE = Film(
    pressure=exactly("vapor_pressure", 2900.0),
    density=exactly("density", 867.0),
    molar_mass_g_mol=92.14,
    formula="C7H8",
    temperature_c=20.0,
    wind_m_s=2.0,
    heat_of_vaporization_j_mol=38000.0,
    loses_water=False,
)


def minutes(film: Film, thickness_mm: float = THICKNESS) -> Range:
    """Return low, middle and high of the residence time."""
    found = film_residence_minutes(film, thickness_mm, LIMITS)
    assert found.low is not None
    assert found.mid is not None
    assert found.high is not None
    return found.low, found.mid, found.high


def no_longer(first: Range, second: Range) -> bool:
    """Tell whether no end of the first range lies above that of the second."""
    return all(a <= b * (1 + 1e-9) for a, b in zip(first, second, strict=True))


def residence_of(key: str, scene: Scene) -> Number:
    """Return the film time of a curated row at a scene."""
    fact = build_facts(load_chemicals()[key], scene, TABLE).facts["film_residence"]
    assert isinstance(fact, Number)
    return fact


# --- directions --------------------------------------------------------------------------------


@given(st.floats(min_value=0.0, max_value=60.0), st.floats(min_value=0.0, max_value=20.0))
def test_more_wind_never_means_a_longer_stay(wind: float, more: float) -> None:
    calm = minutes(replace(TOLUENE, wind_m_s=wind))
    windy = minutes(replace(TOLUENE, wind_m_s=wind + more))
    assert no_longer(windy, calm)


@given(st.floats(min_value=0.01, max_value=9e4), st.floats(min_value=1.0, max_value=100.0))
def test_more_vapor_pressure_never_means_a_longer_stay(pressure: float, times: float) -> None:
    slow = minutes(replace(TOLUENE, pressure=exactly("vapor_pressure", pressure)))
    fast = minutes(replace(TOLUENE, pressure=exactly("vapor_pressure", pressure * times)))
    assert fast[1] <= slow[1] * (1 + 1e-9)
    assert fast[0] <= slow[0] * (1 + 1e-9)


@given(st.floats(min_value=0.001, max_value=5.0), st.floats(min_value=1.0, max_value=50.0))
def test_a_film_twice_as_thick_stays_twice_as_long(thickness: float, times: float) -> None:
    thin, thick = minutes(TOLUENE, thickness), minutes(TOLUENE, thickness * times)
    for a, b in zip(thin, thick, strict=True):
        assert b == pytest.approx(a * times)


def test_a_denser_film_stays_longer() -> None:
    heavy = minutes(replace(TOLUENE, density=exactly("density", 2 * 867.0)))
    for light_end, heavy_end in zip(minutes(TOLUENE), heavy, strict=True):
        assert heavy_end == pytest.approx(2 * light_end)


LIQUIDS = [
    key
    for key, row in load_chemicals().items()
    if row.form in ("liquid", "solution") and residence_of(key, Scene()).is_known
]


@pytest.mark.parametrize("key", LIQUIDS)
def test_a_warmer_day_never_means_a_longer_stay(key: str) -> None:
    """While it is a liquid: above its boiling point there is no film to time."""
    boiling = load_data(load_chemicals()[key]).values.get("boiling_point", ())
    top = min(45.0, boiling[0].value - 3.0) if boiling else 45.0
    steps = [t for t in (-27.0, -17.0, -7.0, 3.0, 13.0, 23.0, 33.0, 45.0) if t <= top]
    found = [residence_of(key, Scene(air_temperature_c=t)) for t in steps]
    middles = [f.mid for f in found if f.mid is not None]
    assert len(middles) > 2
    assert all(warm <= cold for cold, warm in pairwise(middles))


@pytest.mark.parametrize("key", LIQUIDS)
def test_more_wind_never_means_a_longer_stay_of_a_curated_chemical(key: str) -> None:
    found = [residence_of(key, Scene(wind_m_s=w)) for w in (0.0, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0)]
    for end in ("low", "mid", "high"):
        times = [getattr(f, end) for f in found]
        assert times == sorted(times, reverse=True), end


def test_there_are_liquids_to_try() -> None:
    assert len(LIQUIDS) > 60


# --- ends of the range -------------------------------------------------------------------------


def sheltered_minutes(film: Film, pressure_pa: float, density: float) -> float:
    """The time in still air, straight from the physics."""
    temperature_k = film.temperature_c + KELVIN
    flux = evaporation_flux_kg_m2_s(
        mass_transfer_coefficient_m_s=still_air_m_s(temperature_k),
        molar_mass_kg_mol=film.molar_mass_g_mol / 1000.0,
        surface_pressure_pa=pressure_pa,
        surface_temperature_k=temperature_k,
        ambient_temperature_k=temperature_k,
    )
    depth = THICKNESS / 1000.0
    return film_residence_s(film_depth_m=depth, density_kg_m3=density, flux_kg_m2_s=flux) / 60.0


@pytest.mark.parametrize("wind", [0.0, 0.2, 1.0, 5.0, 20.0, 60.0])
def test_the_long_end_allows_for_a_place_the_wind_does_not_reach(wind: float) -> None:
    """An armpit or the lee side: no wind makes the long end shorter than still air does."""
    film = replace(TOLUENE, wind_m_s=wind)
    sheltered = sheltered_minutes(film, 2900.0, 867.0)
    assert minutes(film)[2] >= sheltered * (1 - 1e-9)


def test_in_a_gale_the_long_end_is_that_of_the_sheltered_place() -> None:
    film = replace(TOLUENE, wind_m_s=60.0, pressure=exactly("vapor_pressure", 10.0))
    assert minutes(film)[2] == pytest.approx(sheltered_minutes(film, 10.0, 867.0))


def test_in_dead_calm_the_middle_is_the_sheltered_time() -> None:
    film = replace(TOLUENE, wind_m_s=0.0)
    assert minutes(film)[1] == pytest.approx(sheltered_minutes(film, 2900.0, 867.0))


def test_the_range_is_at_least_the_model_factor_either_way() -> None:
    for wind in (0.0, 0.5, 2.0, 10.0):
        low, mid, high = minutes(replace(TOLUENE, wind_m_s=wind))
        assert mid / low >= MODEL_FACTOR * (1 - 1e-9)
        if wind <= 2.0:
            assert high / mid >= MODEL_FACTOR * (1 - 1e-9)


def test_a_film_that_cools_itself_stays_longer_at_the_long_end_and_only_there() -> None:
    """Ether on a glove gets cold: a large heat of vaporization slows it."""
    ether = replace(
        TOLUENE,
        formula="C4H10O",
        molar_mass_g_mol=74.12,
        pressure=exactly("vapor_pressure", 58900.0),
        density=exactly("density", 714.0),
        wind_m_s=10.0,
    )
    warm = minutes(replace(ether, heat_of_vaporization_j_mol=15000.0))
    cold = minutes(replace(ether, heat_of_vaporization_j_mol=60000.0))
    assert cold[2] > warm[2]
    assert cold[:2] == warm[:2]


def test_a_wider_vapor_pressure_widens_the_time_on_both_sides() -> None:
    wide = replace(TOLUENE, pressure=number("vapor_pressure", 290.0, 2900.0, 29000.0))
    narrow, broad = minutes(TOLUENE), minutes(wide)
    assert broad[0] < narrow[0]
    assert broad[1] == pytest.approx(narrow[1])
    assert broad[2] > narrow[2]


def test_a_wider_density_widens_the_time_on_both_sides() -> None:
    broad = minutes(replace(TOLUENE, density=number("density", 600.0, 867.0, 1500.0)))
    narrow = minutes(TOLUENE)
    assert broad[0] == pytest.approx(narrow[0] * 600.0 / 867.0)
    assert broad[1] == pytest.approx(narrow[1])
    assert broad[2] == pytest.approx(narrow[2] * 1500.0 / 867.0)


def test_damp_air_slows_only_a_film_that_dries_by_losing_water() -> None:
    dry = minutes(TOLUENE)
    watery = minutes(replace(TOLUENE, loses_water=True))
    assert watery[:2] == dry[:2]
    assert watery[2] == pytest.approx(dry[2] / DAMP)


@pytest.mark.parametrize("formula", ["", "Ni(CO)4", "C7H8", "NaCl*H2O", "nonsense", "Xx9"])
def test_a_formula_that_cannot_be_read_falls_back_on_the_molar_mass(formula: str) -> None:
    exact, other = minutes(TOLUENE), minutes(replace(TOLUENE, formula=formula))
    for a, b in zip(exact, other, strict=True):
        assert b == pytest.approx(a, rel=0.3)


@settings(max_examples=200)
@given(
    st.floats(min_value=1e-6, max_value=1e7),
    st.floats(min_value=-70.0, max_value=70.0),
    st.floats(min_value=0.0, max_value=60.0),
    st.floats(min_value=2.0, max_value=900.0),
)
def test_low_middle_and_high_stand_in_order_and_are_finite(
    pressure: float, temperature: float, wind: float, mass: float
) -> None:
    film = replace(
        TOLUENE,
        pressure=exactly("vapor_pressure", pressure),
        temperature_c=temperature,
        wind_m_s=wind,
        molar_mass_g_mol=mass,
        formula="",
    )
    low, mid, high = minutes(film)
    assert 0 < low <= mid <= high < math.inf


# --- at the scene ------------------------------------------------------------------------------


def test_what_is_missing_is_named_and_no_time_is_made_up() -> None:
    for key in load_chemicals():
        found = residence_of(key, Scene())
        if not found.is_known:
            assert found.missing, key
            assert found.low is None
            assert found.high is None


def test_a_product_without_a_vapor_pressure_has_no_film_time() -> None:
    found = residence_of("calcium-oxide", Scene())
    assert not found.is_known
    assert "vapor_pressure" in found.missing


def test_a_film_below_the_range_of_the_equations_has_no_time() -> None:
    edge = -70.0
    assert residence_of("acetone", Scene(air_temperature_c=edge + 0.1)).is_known
    assert not residence_of("acetone", Scene(air_temperature_c=edge - 0.1)).is_known


def test_the_film_is_as_cold_as_the_colder_of_product_and_air() -> None:
    cold_product = residence_of("acetone", Scene(product_temperature_c=-30.0))
    cold_air = residence_of("acetone", Scene(air_temperature_c=-30.0))
    hot_product = residence_of("acetone", Scene(product_temperature_c=50.0))
    assert cold_product.mid == cold_air.mid
    assert hot_product.mid == residence_of("acetone", Scene()).mid


@pytest.mark.parametrize(
    ("faster", "slower"),
    [
        ("diethyl-ether", "acetone"),
        ("acetone", "toluene"),
        ("toluene", "xylene"),
        ("methanol", "isopropyl-alcohol"),
        ("benzene", "toluene"),
        ("gasoline", "diesel-fuel"),
        ("kerosene", "pcb-oil"),
        ("sarin", "vx"),
        ("sarin", "sulfur-mustard"),
        ("sulfur-mustard", "vx"),
        ("dichloromethane", "nitrobenzene"),
    ],
)
def test_chemicals_leave_in_the_order_everybody_knows(faster: str, slower: str) -> None:
    first, second = residence_of(faster, Scene()), residence_of(slower, Scene())
    assert first.mid is not None
    assert second.mid is not None
    assert first.mid < second.mid


def test_agents_leave_in_the_published_order_of_magnitude() -> None:
    """US Army field manual, liquid on the ground at 20 C in a light breeze: sarin a quarter of an
    hour to 4 h, mustard 2 to 7 days, VX 3 to 21 days. A film on a suit is thinner: the ranges have
    to overlap with, or lie below, the published ones, and never beyond them by their short end.
    """
    for key, longest_minutes in (
        ("sarin", 4 * 60.0),
        ("sulfur-mustard", 7 * 1440.0),
        ("vx", 21 * 1440.0),
    ):
        found = residence_of(key, Scene(air_temperature_c=20.0, wind_m_s=3.0))
        assert found.low is not None
        assert found.low < longest_minutes
    persistent = residence_of("vx", Scene(air_temperature_c=20.0))
    assert persistent.high is not None
    assert persistent.high > 3 * 1440.0
