"""Every bound of every argument: at it, just below it, just above it.

The bounds are written out here, not read from the code.
"""

from __future__ import annotations

import math
import pickle
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

import pytest

from recommender.errors import InputError, PhysicsRangeError, RecommenderError
from recommender.physics import (
    diffusion,
    evaporation,
    mass_transfer,
    persistence_index,
    ranges,
    removal,
    vapor,
)

OPEN, CLOSED = True, False


@dataclass(frozen=True)
class Bound:
    """One argument of one function with its range; the other arguments stay as they are."""

    function: Callable[..., Any]
    arguments: Mapping[str, float | str]
    name: str
    low: float
    high: float
    low_open: bool = CLOSED
    high_open: bool = CLOSED

    def call(self, value: float) -> Any:
        return self.function(**{**self.arguments, self.name: value})

    def __str__(self) -> str:
        return f"{self.function.__name__}-{self.name}"


CC = {
    "reference_pressure_pa": 100.0,
    "reference_temperature_k": 300.0,
    "heat_of_vaporization_j_mol": 5e4,
    "temperature_k": 300.0,
}
POINTS = {
    "pressure_1_pa": 1000.0,
    "temperature_1_k": 290.0,
    "pressure_2_pa": 2000.0,
    "temperature_2_k": 305.0,
}
ANTOINE = {"a": 8.0, "b": 1700.0, "c": 230.0, "temperature": 20.0}
ANTOINE_K = {"a": 6.0, "b": 1700.0, "c": 230.0, "temperature_k": 293.15}
VOLATILITY = {"molar_mass_kg_mol": 0.1, "pressure_pa": 100.0, "temperature_k": 293.15}
DENSITY = {"molar_mass_kg_mol": 0.1, "pressure_pa": 100.0, "total_pressure_pa": 1e5}
FULLER = {
    "diffusion_volume_cm3_mol": 100.0,
    "molar_mass_kg_mol": 0.1,
    "temperature_k": 293.15,
    "total_pressure_pa": 1e5,
}
BY_MASS = {"molar_mass_kg_mol": 0.1, "temperature_k": 293.15, "total_pressure_pa": 1e5}
AIR = {"temperature_k": 293.15, "total_pressure_pa": 1e5}
SCHMIDT = {"diffusivity_m2_s": 1e-5, "kinematic_viscosity_m2_s": 1.5e-5}
POOL = {"wind_speed_m_s": 1.0, "patch_length_m": 0.3, "schmidt": 2.0}
EPA = {"wind_speed_m_s": 1.0, "molar_mass_kg_mol": 0.1}
PENETRATION = {
    "wind_speed_m_s": 1.0,
    "patch_length_m": 0.3,
    "molar_mass_kg_mol": 0.1,
    "temperature_k": 293.15,
}
FLUX = {
    "mass_transfer_coefficient_m_s": 0.005,
    "molar_mass_kg_mol": 0.1,
    "surface_pressure_pa": 100.0,
    "surface_temperature_k": 293.15,
    "ambient_temperature_k": 293.15,
    "ambient_pressure_pa": 0.0,
    "total_pressure_pa": 1e5,
}
FILM = {"film_depth_m": 1e-4, "density_kg_m3": 1000.0, "flux_kg_m2_s": 1e-5}
DRAIN = {
    "viscosity_pa_s": 1e-3,
    "density_kg_m3": 1000.0,
    "distance_from_top_m": 1.0,
    "drain_time_s": 60.0,
}
COOLING = {
    "air_temperature_k": 293.15,
    "saturation_pressure_pa": 2000.0,
    "heat_of_vaporization_j_mol": 4.4e4,
    "schmidt": 0.6,
    "ambient_pressure_pa": 0.0,
    "total_pressure_pa": 1e5,
}
WATER = {"saturation_pressure_pa": 2339.0, "relative_humidity": 0.5}
STATIONS = {"required_log_reduction": 1.0, "removal": 0.9, "floor": 0.0}
RESIDUAL = {"stations": 2, "removal": 0.9, "floor": 0.0}
SCREEN = {
    "dermal_ld50_kg_kg": 1e-4,
    "body_mass_kg": 70.0,
    "uncertainty_factor": 1000.0,
    "contact_area_m2": 0.1,
    "transfer_fraction": 0.1,
}
LEITNER = {"pressure_pa": 10.0, "molar_mass_kg_mol": 0.1, "temperature_k": 293.15}

TOTAL = ("total_pressure_pa", 3e4, 1.2e5)
MASS = ("molar_mass_kg_mol", 0.002, 2.0)
KELVIN = ("temperature_k", 100.0, 1000.0)
AIR_KELVIN = ("temperature_k", 200.0, 400.0)
HEAT = ("heat_of_vaporization_j_mol", 5e3, 4e5)
WIND = ("wind_speed_m_s", 0.1, 40.0)
LENGTH = ("patch_length_m", 0.01, 100.0)
SC = ("schmidt", 0.1, 20.0)
DENSE = ("density_kg_m3", 300.0, 2.5e4)


def _cooling(function: Callable[..., Any]) -> list[Bound]:
    return [
        Bound(function, COOLING, "air_temperature_k", 200.0, 400.0),
        Bound(function, COOLING, "saturation_pressure_pa", 0.0, 1e5, OPEN, OPEN),
        Bound(function, COOLING, *HEAT),
        Bound(function, COOLING, *SC),
        Bound(function, COOLING, "ambient_pressure_pa", 0.0, 2000.0),
        Bound(function, COOLING, *TOTAL),
    ]


def _screen(function: Callable[..., Any], arguments: Mapping[str, float | str]) -> list[Bound]:
    return [
        Bound(function, arguments, "dermal_ld50_kg_kg", 0.0, 1.0, OPEN),
        Bound(function, arguments, "body_mass_kg", 1.0, 300.0),
        Bound(function, arguments, "uncertainty_factor", 1.0, 1e6),
        Bound(function, arguments, "contact_area_m2", 1e-4, 10.0),
        Bound(function, arguments, "transfer_fraction", 0.0, 1.0, OPEN),
    ]


def _volatility(function: Callable[..., Any]) -> list[Bound]:
    return [
        Bound(function, VOLATILITY, *MASS),
        Bound(function, VOLATILITY, "pressure_pa", 0.0, 1e7, OPEN),
        Bound(function, VOLATILITY, *KELVIN),
    ]


def _pool(function: Callable[..., Any]) -> list[Bound]:
    return [Bound(function, POOL, *bound) for bound in (WIND, LENGTH, SC)]


def _water(function: Callable[..., Any]) -> list[Bound]:
    return [
        Bound(function, WATER, "saturation_pressure_pa", 0.0, 101_325.0, CLOSED, OPEN),
        Bound(function, WATER, "relative_humidity", 0.0, 1.0),
    ]


BOUNDS = [
    Bound(vapor.clausius_clapeyron_pressure_pa, CC, "reference_pressure_pa", 0.0, 1e7, OPEN),
    Bound(vapor.clausius_clapeyron_pressure_pa, CC, "reference_temperature_k", 100.0, 1000.0),
    Bound(vapor.clausius_clapeyron_pressure_pa, CC, *HEAT),
    Bound(vapor.clausius_clapeyron_pressure_pa, CC, *KELVIN),
    Bound(vapor.trouton_heat_of_vaporization_j_mol, {}, "boiling_temperature_k", 100.0, 1000.0),
    Bound(vapor.antoine_log10_pressure, ANTOINE, "a", -50.0, 50.0),
    Bound(vapor.antoine_log10_pressure, ANTOINE, "b", 0.0, 2e4),
    Bound(vapor.antoine_log10_pressure, {**ANTOINE, "temperature": 1000.0}, "c", -999.0, 1000.0),
    Bound(vapor.antoine_log10_pressure, {**ANTOINE, "c": 300.0}, "temperature", -273.15, 1000.0),
    Bound(vapor.antoine_mmhg_celsius_pressure_pa, ANTOINE_K, "temperature_k", 100.0, 1000.0),
    Bound(vapor.saturation_ppm, {"total_pressure_pa": 1e5}, "pressure_pa", 0.0, 1e5),
    Bound(vapor.saturation_ppm, {"pressure_pa": 100.0}, *TOTAL),
    Bound(vapor.vapor_limit_ratio, {"limit_ppm": 1.0}, "vapor_ppm", 0.0, 1e6),
    Bound(vapor.vapor_limit_ratio, {"vapor_ppm": 1.0}, "limit_ppm", 0.0, 1e6, OPEN),
    *_volatility(vapor.volatility_kg_m3),
    *_volatility(vapor.volatility_mg_m3),
    Bound(vapor.saturated_mixture_relative_density, DENSITY, *MASS),
    Bound(vapor.saturated_mixture_relative_density, DENSITY, "pressure_pa", 0.0, 1e5),
    Bound(vapor.saturated_mixture_relative_density, DENSITY, *TOTAL),
    Bound(diffusion.diffusivity_in_air_m2_s, FULLER, "diffusion_volume_cm3_mol", 2.0, 5000.0),
    Bound(diffusion.diffusivity_in_air_m2_s, FULLER, *MASS),
    Bound(diffusion.diffusivity_in_air_m2_s, FULLER, *AIR_KELVIN),
    Bound(diffusion.diffusivity_in_air_m2_s, FULLER, *TOTAL),
    Bound(diffusion.diffusivity_by_molar_mass_m2_s, BY_MASS, *MASS),
    Bound(diffusion.diffusivity_by_molar_mass_m2_s, BY_MASS, *AIR_KELVIN),
    Bound(diffusion.diffusivity_by_molar_mass_m2_s, BY_MASS, *TOTAL),
    Bound(diffusion.air_kinematic_viscosity_m2_s, AIR, *AIR_KELVIN),
    Bound(diffusion.air_kinematic_viscosity_m2_s, AIR, *TOTAL),
    Bound(diffusion.schmidt_number, SCHMIDT, "diffusivity_m2_s", 1e-7, 1e-3),
    Bound(diffusion.schmidt_number, SCHMIDT, "kinematic_viscosity_m2_s", 1e-6, 1e-3),
    Bound(diffusion.diffusion_volume, {"formula": "C60H60"}, "aromatic_or_hetero_rings", 0, 20),
    *_pool(mass_transfer.kawamura_mackay_m_s),
    *_pool(mass_transfer.mackay_matsugu_m_s),
    Bound(mass_transfer.epa_pool_m_s, EPA, *WIND),
    Bound(mass_transfer.epa_pool_m_s, EPA, *MASS),
    *(Bound(mass_transfer.penetration_m_s, PENETRATION, *b) for b in (WIND, LENGTH, MASS)),
    Bound(mass_transfer.penetration_m_s, PENETRATION, *AIR_KELVIN),
    Bound(mass_transfer.still_air_m_s, {}, *KELVIN),
    Bound(
        evaporation.high_volatility_factor,
        {"total_pressure_pa": 1e5},
        "pressure_pa",
        0.0,
        1e5,
        CLOSED,
        OPEN,
    ),
    Bound(evaporation.high_volatility_factor, {"pressure_pa": 100.0}, *TOTAL),
    *_water(evaporation.ambient_water_pressure_pa),
    *_water(evaporation.water_driving_force_pa),
    Bound(
        evaporation.evaporation_flux_kg_m2_s,
        FLUX,
        "mass_transfer_coefficient_m_s",
        0.0,
        10.0,
        OPEN,
    ),
    Bound(evaporation.evaporation_flux_kg_m2_s, FLUX, *MASS),
    Bound(evaporation.evaporation_flux_kg_m2_s, FLUX, "surface_pressure_pa", 0, 1e5, CLOSED, OPEN),
    Bound(evaporation.evaporation_flux_kg_m2_s, FLUX, "surface_temperature_k", 100.0, 1000.0),
    Bound(evaporation.evaporation_flux_kg_m2_s, FLUX, "ambient_temperature_k", 200.0, 400.0),
    Bound(evaporation.evaporation_flux_kg_m2_s, FLUX, "ambient_pressure_pa", 0, 1e5, CLOSED, OPEN),
    Bound(evaporation.evaporation_flux_kg_m2_s, FLUX, *TOTAL),
    Bound(evaporation.film_residence_s, FILM, "film_depth_m", 1e-8, 1.0),
    Bound(evaporation.film_residence_s, FILM, *DENSE),
    Bound(evaporation.film_residence_s, FILM, "flux_kg_m2_s", 0.0, 1e3),
    Bound(evaporation.drained_film_thickness_m, DRAIN, "viscosity_pa_s", 1e-5, 1e5),
    Bound(evaporation.drained_film_thickness_m, DRAIN, *DENSE),
    Bound(evaporation.drained_film_thickness_m, DRAIN, "distance_from_top_m", 0, 10.0, OPEN),
    Bound(evaporation.drained_film_thickness_m, DRAIN, "drain_time_s", 1.0, 1e6),
    *_cooling(evaporation.wet_bulb_temperature_k),
    *_cooling(evaporation.self_cooling_factor),
    Bound(removal.residual_fraction, RESIDUAL, "stations", 0, 10_000),
    Bound(removal.residual_fraction, RESIDUAL, "removal", 0.0, 1.0),
    Bound(removal.residual_fraction, RESIDUAL, "floor", 0.0, 1.0),
    Bound(removal.stations_to_reach, STATIONS, "required_log_reduction", 0.0, 30.0),
    Bound(removal.stations_to_reach, STATIONS, "removal", 0.0, 1.0),
    Bound(removal.stations_to_reach, STATIONS, "floor", 0.0, 1.0),
    *_screen(removal.allowed_residue_kg_m2, SCREEN),
    *_screen(removal.required_log_reduction, {**SCREEN, "load_kg_m2": 0.1}),
    Bound(removal.required_log_reduction, SCREEN, "load_kg_m2", 0.0, 100.0),
    Bound(persistence_index.leitner_index, LEITNER, "pressure_pa", 0.0, 1e7, OPEN),
    Bound(persistence_index.leitner_index, LEITNER, *MASS),
    Bound(persistence_index.leitner_index, LEITNER, *KELVIN),
]
# The Antoine constant c is refused at its lower bound by the pole before the range is reached.
POLE_FIRST = {"antoine_log10_pressure-c"}


def refused(bound: Bound, value: float) -> PhysicsRangeError:
    with pytest.raises(PhysicsRangeError) as caught:
        bound.call(value)
    return caught.value


@pytest.mark.parametrize("bound", BOUNDS, ids=str)
def test_a_value_inside_is_accepted(bound: Bound) -> None:
    middle = 0.5 * (bound.low + bound.high)
    bound.call(int(middle) if isinstance(bound.high, int) else middle)


@pytest.mark.parametrize("bound", BOUNDS, ids=str)
def test_the_lower_bound_is_kept_and_just_below_it_is_refused(bound: Bound) -> None:
    if str(bound) in POLE_FIRST:
        return
    if bound.low_open:
        refused(bound, bound.low)
        bound.call(bound.low + 1e-9 * bound.high)
    else:
        bound.call(bound.low)
    error = refused(bound, math.nextafter(bound.low, -math.inf))
    assert error.argument == bound.name


@pytest.mark.parametrize("bound", BOUNDS, ids=str)
def test_the_upper_bound_is_kept_and_just_above_it_is_refused(bound: Bound) -> None:
    if bound.high_open:
        refused(bound, bound.high)
        bound.call(math.nextafter(bound.high, 0.0))
    else:
        bound.call(bound.high)
    error = refused(bound, math.nextafter(bound.high, math.inf))
    assert error.argument == bound.name


@pytest.mark.parametrize("bound", BOUNDS, ids=str)
@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_a_number_that_is_not_finite_is_refused_by_name(bound: Bound, value: float) -> None:
    error = refused(bound, value)
    assert error.argument == bound.name
    assert bound.name in str(error)
    assert repr(value) in str(error)


@pytest.mark.parametrize(
    ("name", "low", "high"),
    [
        ("pressure_1_pa", 0.0, 1e7),
        ("temperature_1_k", 100.0, 1000.0),
        ("pressure_2_pa", 0.0, 1e7),
        ("temperature_2_k", 100.0, 1000.0),
    ],
)
def test_two_points_outside_their_ranges_are_refused_by_name(
    name: str, low: float, high: float
) -> None:
    bound = Bound(vapor.heat_of_vaporization_from_points_j_mol, POINTS, name, low, high)
    for value in (math.nextafter(low, -math.inf), math.nextafter(high, math.inf), math.nan):
        assert refused(bound, value).argument == name


@pytest.mark.parametrize(
    "model", [mass_transfer.flat_plate_laminar_m_s, mass_transfer.flat_plate_turbulent_m_s]
)
@pytest.mark.parametrize(
    ("name", "low", "high"),
    [WIND, LENGTH, ("diffusivity_m2_s", 1e-7, 1e-3), ("kinematic_viscosity_m2_s", 1e-6, 1e-3)],
)
def test_flat_plate_arguments_outside_their_ranges_are_refused_by_name(
    model: Callable[..., float], name: str, low: float, high: float
) -> None:
    plate = {
        "wind_speed_m_s": 1.5,
        "patch_length_m": 0.3,
        "diffusivity_m2_s": 1e-5,
        "kinematic_viscosity_m2_s": 1.5e-5,
    }
    bound = Bound(model, plate, name, low, high)
    for value in (math.nextafter(low, -math.inf), math.nextafter(high, math.inf), math.nan):
        assert refused(bound, value).argument == name


def test_a_refusal_names_argument_value_and_range() -> None:
    with pytest.raises(PhysicsRangeError) as caught:
        mass_transfer.kawamura_mackay_m_s(wind_speed_m_s=-1.0, patch_length_m=0.3, schmidt=2.0)
    text = str(caught.value)
    assert "wind_speed_m_s is -1.0" in text
    assert "at least 0.1 and at most 40" in text


def test_a_refusal_is_an_input_error_a_value_error_and_survives_pickling() -> None:
    error = PhysicsRangeError("pressure_pa", -1.0, "at least 0 and at most 1")
    assert isinstance(error, InputError | RecommenderError)
    assert isinstance(error, ValueError)
    assert str(pickle.loads(pickle.dumps(error))) == str(error)


def test_open_bounds_are_said_as_above_and_below() -> None:
    assert ranges.Range(0.0, 1.0, low_open=True, high_open=True).in_words() == (
        "above 0 and below 1"
    )
