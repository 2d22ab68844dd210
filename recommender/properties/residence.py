"""How long a film stays on a suit, as a range.

The middle is the wind-driven rate at the body's share of the wind. The fast end takes the largest
share of wind, the highest vapor pressure and the model factor; the slow end takes the slowest of
the sheltered (still-air) rate, the self-cooled rate, and the wind-driven rate with the lowest
share of wind and the model factor, all at the lowest vapor pressure.
"""

from __future__ import annotations

from dataclasses import dataclass

from recommender.errors import InputError
from recommender.facts import Number, Provenance
from recommender.limits import Limits
from recommender.physics.diffusion import (
    air_kinematic_viscosity_m2_s,
    diffusion_volume,
    diffusivity_by_molar_mass_m2_s,
    diffusivity_in_air_m2_s,
    schmidt_number,
)
from recommender.physics.evaporation import (
    evaporation_flux_kg_m2_s,
    film_residence_s,
    self_cooling_factor,
)
from recommender.physics.mass_transfer import kawamura_mackay_m_s, still_air_m_s
from recommender.properties.vapor_pressure import ATMOSPHERE_PA, KELVIN

NAME = "film_residence"
# Evaporation equations hold for a liquid below its boiling point; just under it they are cut off.
_HIGHEST_SHARE_OF_ATMOSPHERE = 0.98
_LEAST_WIND_M_S = 0.1


@dataclass(frozen=True, slots=True)
class Film:
    """What evaporates, and where.

    Attributes:
        pressure: vapor pressure in Pa at the film's temperature.
        density: kg/m3.
        loses_water: the film dries by losing water, so damp air slows it.
    """

    pressure: Number
    density: Number
    molar_mass_g_mol: float
    formula: str
    temperature_c: float
    wind_m_s: float
    heat_of_vaporization_j_mol: float
    loses_water: bool


def _schmidt(film: Film) -> float:
    mass = film.molar_mass_g_mol / 1000.0
    temperature_k = film.temperature_c + KELVIN
    try:
        volume = diffusion_volume(film.formula)
    except InputError:  # no formula, or one with brackets (a salt, a mixture)
        volume = None
    if volume is None:
        diffusivity = diffusivity_by_molar_mass_m2_s(
            molar_mass_kg_mol=mass, temperature_k=temperature_k
        )
    else:
        diffusivity = diffusivity_in_air_m2_s(
            diffusion_volume_cm3_mol=volume, molar_mass_kg_mol=mass, temperature_k=temperature_k
        )
    return schmidt_number(diffusivity, air_kinematic_viscosity_m2_s(temperature_k))


def _seconds(
    film: Film, thickness_m: float, pressure_pa: float, transfer_m_s: float, density: float
) -> float:
    temperature_k = film.temperature_c + KELVIN
    flux = evaporation_flux_kg_m2_s(
        mass_transfer_coefficient_m_s=transfer_m_s,
        molar_mass_kg_mol=film.molar_mass_g_mol / 1000.0,
        surface_pressure_pa=_below_boiling(pressure_pa),
        surface_temperature_k=temperature_k,
        ambient_temperature_k=temperature_k,
    )
    return film_residence_s(film_depth_m=thickness_m, density_kg_m3=density, flux_kg_m2_s=flux)


def _below_boiling(pressure_pa: float) -> float:
    return min(pressure_pa, _HIGHEST_SHARE_OF_ATMOSPHERE * ATMOSPHERE_PA)


def _wind_transfer(film: Film, share: float, patch_m: float, still_m_s: float) -> float:
    """Mass transfer in the wind at the body, never below the still-air rate."""
    local = film.wind_m_s * share
    if local < _LEAST_WIND_M_S:
        return still_m_s
    driven = kawamura_mackay_m_s(
        wind_speed_m_s=local, patch_length_m=patch_m, schmidt=_schmidt(film)
    )
    return max(driven, still_m_s)


def film_residence_minutes(film: Film, thickness_mm: float, limits: Limits) -> Number:
    """Return the residence time of a film in minutes, low to high.

    Args:
        film: what evaporates and where; its vapor pressure must be known.
        thickness_mm: film thickness in millimeters.
        limits: wind shares, patch length, model factor, damp-air share.
    """
    p_low, p_mid, p_high = film.pressure.low, film.pressure.mid, film.pressure.high
    d_low, d_mid, d_high = film.density.low, film.density.mid, film.density.high
    assert None not in (p_low, p_mid, p_high, d_low, d_mid, d_high)
    assert p_low and p_mid and p_high and d_low and d_mid and d_high
    thickness_m = thickness_mm / 1000.0
    patch = limits.value("persistence.patch_length")
    model = limits.value("persistence.model_factor")
    still = still_air_m_s(film.temperature_c + KELVIN)
    shares = [limits.value(f"persistence.wind_share_{end}") for end in ("low", "mid", "high")]
    slow, middle, fast = (_wind_transfer(film, share, patch, still) for share in shares)
    low = _seconds(film, thickness_m, p_high, fast, d_low) / model
    mid = _seconds(film, thickness_m, p_mid, middle, d_mid)
    wind_slow = _seconds(film, thickness_m, p_low, slow, d_high)
    sheltered = _seconds(film, thickness_m, p_low, still, d_high)
    high = max(wind_slow * model, wind_slow / _cooling(film, p_low), sheltered)
    if film.loses_water:
        high /= limits.value("persistence.damp_air_share")
    low, high = min(low, mid), max(high, mid)
    return Number(
        NAME,
        low / 60.0,
        mid / 60.0,
        high / 60.0,
        "min",
        Provenance("derived", "judgement", "judgement", f"{thickness_mm:g} mm film"),
        film.temperature_c,
    )


def _cooling(film: Film, pressure_pa: float) -> float:
    """Share of the rate left when a film cools itself by evaporating."""
    return self_cooling_factor(
        saturation_pressure_pa=_below_boiling(pressure_pa),
        heat_of_vaporization_j_mol=film.heat_of_vaporization_j_mol,
        air_temperature_k=film.temperature_c + KELVIN,
        schmidt=_schmidt(film),
    )
