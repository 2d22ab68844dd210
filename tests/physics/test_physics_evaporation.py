"""Flux, films, residence time and self-cooling."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recommender.errors import PhysicsRangeError
from recommender.physics.diffusion import (
    air_kinematic_viscosity_m2_s,
    diffusivity_in_air_m2_s,
    schmidt_number,
)
from recommender.physics.evaporation import (
    ambient_water_pressure_pa,
    drained_film_thickness_m,
    evaporation_flux_kg_m2_s,
    film_residence_s,
    high_volatility_factor,
    self_cooling_factor,
    water_driving_force_pa,
    wet_bulb_temperature_k,
)
from recommender.physics.mass_transfer import kawamura_mackay_m_s, still_air_m_s
from recommender.physics.vapor import (
    antoine_mmhg_celsius_pressure_pa,
    clausius_clapeyron_pressure_pa,
)

T20 = 293.15
MINUTE, HOUR, DAY = 60.0, 3600.0, 86_400.0
NONPERSISTENT_MINUTES = 10.0
# P04: US Army CM2506 planning rule (read): gone within 10 minutes counts as nonpersistent.
PERSISTENT_HOURS = 24.0
# P05: dictionary definition of a persistent agent (read): stays more than a day.


def residence_s(
    pressure: float,
    density: float,
    mass: float,
    schmidt: float,
    depth_mm: float,
    *,
    wind: float = 1.0,
    k: float | None = None,
) -> float:
    """Isothermal film at 20 C in dry air, patch of 0.3 m, Kawamura and Mackay unless k is given."""
    windy = kawamura_mackay_m_s(wind_speed_m_s=wind, patch_length_m=0.3, schmidt=schmidt)
    flux = evaporation_flux_kg_m2_s(
        mass_transfer_coefficient_m_s=windy if k is None else k,
        molar_mass_kg_mol=mass,
        surface_pressure_pa=pressure,
        surface_temperature_k=T20,
        ambient_temperature_k=T20,
    )
    return film_residence_s(film_depth_m=depth_mm * 1e-3, density_kg_m3=density, flux_kg_m2_s=flux)


ACETONE = (24_661.6, 790.3, 0.058079, 1.464)
TOLUENE = (2918.9, 867.0, 0.092138, 1.922)
WATER = (2339.3, 998.2, 0.018015, 0.618)
DMSO = (56.0, 1101.1, 0.078133, 1.593)
MUSTARD = (9.599, 1274.0, 0.15908, 2.285)
TETRADECANE = (1.19, 762.3, 0.198388, 3.177)


# Published


def test_sulfur_mustard_lasts_the_2_to_7_days_of_the_field_table() -> None:
    # E10: US Army health service support NBC manual, table J-6 (read): 2 to 7 days, sunny, about
    # 20 C, light breeze. A weak check: half a millimeter is a free choice.
    days = residence_s(*MUSTARD, 0.5) / DAY
    assert 2.0 <= days <= 7.0


def test_a_thin_mustard_film_falls_short_of_the_field_table() -> None:
    # The same source, and why the check above is weak: 0.1 mm gives 0.74 days.
    assert residence_s(*MUSTARD, 0.1) / DAY == pytest.approx(0.74, rel=0.02)


def test_acetone_is_nonpersistent_by_the_10_minute_rule() -> None:
    # P04.
    assert residence_s(*ACETONE, 0.1) / MINUTE < NONPERSISTENT_MINUTES


def test_water_in_dry_air_is_persistent_by_the_10_minute_rule_but_not_by_the_day_rule() -> None:
    # P04 and P05: the two published thresholds disagree about the same film.
    seconds = residence_s(*WATER, 0.1)
    assert seconds / MINUTE > NONPERSISTENT_MINUTES
    assert seconds / HOUR < PERSISTENT_HOURS


def test_tetradecane_is_persistent_by_both_published_thresholds() -> None:
    # P04 and P05.
    assert residence_s(*TETRADECANE, 0.1) / HOUR > PERSISTENT_HOURS


# Regression values (derived)


def test_half_a_millimeter_of_mustard_lasts_89_hours() -> None:
    # E09.
    assert residence_s(*MUSTARD, 0.5) / HOUR == pytest.approx(89.3, rel=0.02)


@pytest.mark.parametrize(
    ("name", "liquid", "minutes"),
    [
        # E11, tenth of a millimeter in 1 m/s.
        ("water", WATER, 12.6),
        ("acetone", ACETONE, 0.46),
        ("toluene", TOLUENE, 3.64),
        ("dimethyl sulfoxide", DMSO, 254.0),
        ("tetradecane", TETRADECANE, 5166.0),
    ],
)
def test_a_tenth_of_a_millimeter_lasts_as_in_the_worked_examples(
    name: str, liquid: tuple[float, float, float, float], minutes: float
) -> None:
    assert residence_s(*liquid, 0.1) / MINUTE == pytest.approx(minutes, rel=0.02), name


def test_drained_water_film_is_41_micrometers() -> None:
    # E12: Jeffreys 1930 (memory), 1 m below the edge after a minute.
    computed = drained_film_thickness_m(
        viscosity_pa_s=0.001, density_kg_m3=998.0, distance_from_top_m=1.0, drain_time_s=60.0
    )
    assert computed == pytest.approx(41.3e-6, rel=0.01)


def test_drained_glycerol_film_is_1_4_millimeters() -> None:
    # E13.
    computed = drained_film_thickness_m(
        viscosity_pa_s=1.41, density_kg_m3=1261.0, distance_from_top_m=1.0, drain_time_s=60.0
    )
    assert computed == pytest.approx(1378e-6, rel=0.01)


@pytest.mark.parametrize(
    ("name", "liquid", "heat", "ambient", "surface_c", "factor"),
    [
        ("acetone", ACETONE, 31_000.0, 0.0, -13.0, 0.20),
        ("toluene", TOLUENE, 38_060.0, 0.0, 9.0, 0.56),
        ("water at 50 % humidity", WATER, 44_200.0, 0.5 * WATER[0], 13.0, 0.34),
    ],
)
def test_self_cooling_matches_the_worked_examples(
    name: str,
    liquid: tuple[float, float, float, float],
    heat: float,
    ambient: float,
    surface_c: float,
    factor: float,
) -> None:
    case = {
        "air_temperature_k": T20,
        "saturation_pressure_pa": liquid[0],
        "heat_of_vaporization_j_mol": heat,
        "schmidt": liquid[3],
        "ambient_pressure_pa": ambient,
    }
    assert wet_bulb_temperature_k(**case) - 273.15 == pytest.approx(surface_c, abs=1.5), name
    assert self_cooling_factor(**case) == pytest.approx(factor, abs=0.02), name


# Outside checks


def water_pressure_pa(celsius: float) -> float:
    return antoine_mmhg_celsius_pressure_pa(
        a=8.07131, b=1730.63, c=233.426, temperature_k=celsius + 273.15
    )


def water_wet_bulb_c(celsius: float, humidity: float) -> float:
    saturation = water_pressure_pa(celsius)
    return (
        wet_bulb_temperature_k(
            air_temperature_k=celsius + 273.15,
            saturation_pressure_pa=saturation,
            heat_of_vaporization_j_mol=44_200.0,
            schmidt=0.618,
            ambient_pressure_pa=ambient_water_pressure_pa(saturation, humidity),
        )
        - 273.15
    )


@pytest.mark.parametrize(
    ("celsius", "humidity", "chart"),
    [(20.0, 0.50, 13.8), (25.0, 0.50, 17.9), (30.0, 0.50, 22.0)],
)
def test_water_cools_to_the_wet_bulb_of_a_psychrometric_chart(
    celsius: float, humidity: float, chart: float
) -> None:
    # Psychrometric chart at sea level (memory); the analogy runs slightly cold.
    assert water_wet_bulb_c(celsius, humidity) == pytest.approx(chart, abs=0.7)


@pytest.mark.parametrize("celsius", [5.0, 10.0, 20.0, 30.0])
@pytest.mark.parametrize("percent", [20.0, 50.0, 80.0, 95.0])
def test_water_cools_to_the_wet_bulb_of_stull_within_1_2_kelvin(
    celsius: float, percent: float
) -> None:
    # Stull 2011, J. Appl. Meteorol. Climatol. 50, 2267 (read in secondary sources).
    stull = (
        celsius * math.atan(0.151977 * math.sqrt(percent + 8.313659))
        + math.atan(celsius + percent)
        - math.atan(percent - 1.676331)
        + 0.00391838 * percent**1.5 * math.atan(0.023101 * percent)
        - 4.686035
    )
    assert water_wet_bulb_c(celsius, percent / 100.0) == pytest.approx(stull, abs=1.2)


def test_the_volatility_correction_is_5_percent_at_a_tenth_of_an_atmosphere() -> None:
    # Series of the logarithm: 1 + x/2 + x^2/3.
    assert high_volatility_factor(10_132.5) == pytest.approx(1.0536, rel=1e-3)


def test_the_volatility_correction_vanishes_for_a_low_pressure() -> None:
    assert high_volatility_factor(0.0) == 1.0
    assert high_volatility_factor(1e-9) == pytest.approx(1.0, abs=1e-12)
    assert high_volatility_factor(5e-324) == 1.0


# Meaning


def test_nothing_evaporates_into_air_already_saturated() -> None:
    assert water_driving_force_pa(2339.3, 1.0) == 0.0
    flux = evaporation_flux_kg_m2_s(
        mass_transfer_coefficient_m_s=0.005,
        molar_mass_kg_mol=0.018015,
        surface_pressure_pa=2339.3,
        surface_temperature_k=T20,
        ambient_temperature_k=T20,
        ambient_pressure_pa=2339.3,
    )
    assert flux == 0.0
    assert film_residence_s(film_depth_m=1e-4, density_kg_m3=998.0, flux_kg_m2_s=flux) == math.inf


def test_half_humidity_halves_the_driving_force_of_water() -> None:
    assert water_driving_force_pa(2339.3, 0.5) == pytest.approx(1169.65)
    assert ambient_water_pressure_pa(2339.3, 0.5) == pytest.approx(1169.65)


def test_a_puddle_is_a_deep_film() -> None:
    film = film_residence_s(film_depth_m=1e-4, density_kg_m3=900.0, flux_kg_m2_s=1e-5)
    puddle = film_residence_s(film_depth_m=1e-2, density_kg_m3=900.0, flux_kg_m2_s=1e-5)
    assert puddle == pytest.approx(100.0 * film)


def test_a_liquid_in_saturated_air_does_not_cool() -> None:
    case = {
        "air_temperature_k": T20,
        "saturation_pressure_pa": 2339.3,
        "heat_of_vaporization_j_mol": 44_200.0,
        "schmidt": 0.618,
        "ambient_pressure_pa": 2339.3,
    }
    assert wet_bulb_temperature_k(**case) == pytest.approx(T20, abs=1e-4)
    assert self_cooling_factor(**case) == 1.0


def test_a_liquid_that_barely_evaporates_barely_cools() -> None:
    case = {
        "air_temperature_k": T20,
        "saturation_pressure_pa": 0.001,
        "heat_of_vaporization_j_mol": 80_000.0,
        "schmidt": 3.4,
    }
    assert wet_bulb_temperature_k(**case) == pytest.approx(T20, abs=1e-3)
    assert self_cooling_factor(**case) == pytest.approx(1.0, abs=1e-3)


# Properties

liquid_pressures = st.floats(1e-6, 9e4)
heats = st.floats(2e4, 2e5)


@given(liquid_pressures, st.floats(0.1, 1.0), st.floats(0.01, 5.0))
def test_lower_pressure_never_shortens_residence(
    pressure: float, share: float, depth_mm: float
) -> None:
    full = residence_s(pressure, 1000.0, 0.1, 2.0, depth_mm)
    assert residence_s(pressure * share, 1000.0, 0.1, 2.0, depth_mm) >= full


@given(st.floats(1.0, 9e4), st.floats(0.01, 5.0), st.floats(1.0, 10.0))
def test_a_thicker_film_never_shortens_residence(
    pressure: float, depth_mm: float, times: float
) -> None:
    thin = residence_s(pressure, 1000.0, 0.1, 2.0, depth_mm)
    assert residence_s(pressure, 1000.0, 0.1, 2.0, depth_mm * times) >= thin


@given(st.floats(0.1, 5.0), st.floats(1.0, 5.0))
def test_less_wind_never_shortens_residence(wind: float, times: float) -> None:
    assert residence_s(*TOLUENE, 0.1, wind=wind) >= residence_s(*TOLUENE, 0.1, wind=wind * times)


@given(st.floats(0.5, 3.0))
def test_still_air_is_the_slow_bound(wind: float) -> None:
    assert residence_s(*MUSTARD, 0.1, k=still_air_m_s(T20)) > residence_s(*MUSTARD, 0.1, wind=wind)


def residence_at_s(temperature: float, pressure_at_25_c: float, heat: float) -> float:
    """Film of a liquid whose pressure, diffusivity and air all follow the temperature."""
    vapor = clausius_clapeyron_pressure_pa(
        reference_pressure_pa=pressure_at_25_c,
        reference_temperature_k=298.15,
        heat_of_vaporization_j_mol=heat,
        temperature_k=temperature,
    )
    diffusivity = diffusivity_in_air_m2_s(
        diffusion_volume_cm3_mol=130.0, molar_mass_kg_mol=0.1, temperature_k=temperature
    )
    schmidt = schmidt_number(diffusivity, air_kinematic_viscosity_m2_s(temperature))
    flux = evaporation_flux_kg_m2_s(
        mass_transfer_coefficient_m_s=kawamura_mackay_m_s(
            wind_speed_m_s=1.0, patch_length_m=0.3, schmidt=schmidt
        ),
        molar_mass_kg_mol=0.1,
        surface_pressure_pa=vapor,
        surface_temperature_k=temperature,
        ambient_temperature_k=temperature,
    )
    return film_residence_s(film_depth_m=1e-4, density_kg_m3=1000.0, flux_kg_m2_s=flux)


@given(st.floats(1e-4, 3e3), heats, st.floats(230.0, 310.0), st.floats(0.0, 25.0))
def test_a_lower_temperature_never_shortens_residence(
    pressure: float, heat: float, temperature: float, colder_by: float
) -> None:
    warm = residence_at_s(temperature, pressure, heat)
    assert residence_at_s(temperature - colder_by, pressure, heat) >= warm * (1 - 1e-9)


@given(st.floats(230.0, 340.0), st.floats(1e-3, 9e4), heats, st.floats(0.3, 5.0), st.floats(0, 1))
def test_self_cooling_only_ever_cools_and_slows(
    air: float, pressure: float, heat: float, schmidt: float, humidity: float
) -> None:
    case = {
        "air_temperature_k": air,
        "saturation_pressure_pa": pressure,
        "heat_of_vaporization_j_mol": heat,
        "schmidt": schmidt,
        "ambient_pressure_pa": pressure * humidity,
    }
    assert 100.0 < wet_bulb_temperature_k(**case) <= air
    assert 0.0 <= self_cooling_factor(**case) <= 1.0


@given(st.floats(0.0, 1e5), st.floats(0.0, 1e5))
def test_the_volatility_correction_grows_with_pressure(one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert 1.0 <= high_volatility_factor(low) <= high_volatility_factor(high) * (1 + 1e-12)


@given(st.floats(1e-4, 10.0), st.floats(500.0, 2000.0), st.floats(0.1, 2.0), st.floats(1.0, 1e4))
def test_a_film_thins_with_time_and_thickens_downward_and_with_viscosity(
    mu: float, rho: float, z: float, t: float
) -> None:
    def film(viscosity: float, distance: float, time: float) -> float:
        return drained_film_thickness_m(
            viscosity_pa_s=viscosity,
            density_kg_m3=rho,
            distance_from_top_m=distance,
            drain_time_s=time,
        )

    here = film(mu, z, t)
    assert film(mu, z, 2 * t) < here < film(2 * mu, z, t)
    assert here < film(mu, 2 * z, t)


# Refusals that span two arguments


def test_a_boiling_liquid_is_refused() -> None:
    with pytest.raises(PhysicsRangeError, match="below 101325"):
        high_volatility_factor(101_325.0)


def test_air_holding_more_vapor_than_the_liquid_gives_is_refused_by_the_wet_bulb() -> None:
    with pytest.raises(PhysicsRangeError, match="ambient_pressure_pa"):
        wet_bulb_temperature_k(
            air_temperature_k=T20,
            saturation_pressure_pa=1000.0,
            heat_of_vaporization_j_mol=44_200.0,
            schmidt=0.6,
            ambient_pressure_pa=1000.1,
        )
