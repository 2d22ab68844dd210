"""Evaporation flux, the film that has to evaporate, and how long it takes.

Residence time is what a film would take to leave a clean, dry, non-absorbing surface. It says
nothing of hazard, of what has soaked in, or of what an acid or a salt leaves behind. Quote a
factor of 3 either way, and a range from isothermal to self-cooled.
"""

from __future__ import annotations

import math
from typing import Final

from recommender.physics.constants import (
    AIR_HEAT_CAPACITY_J_KG_K,
    AIR_MOLAR_MASS_KG_MOL,
    AIR_PRANDTL_NUMBER,
    GAS_CONSTANT_J_MOL_K,
    STANDARD_ATMOSPHERE_PA,
    STANDARD_GRAVITY_M_S2,
)
from recommender.physics.ranges import (
    AIR_TEMPERATURE_K,
    FRACTION,
    HEAT_OF_VAPORIZATION_J_MOL,
    LIQUID_DENSITY_KG_M3,
    MOLAR_MASS_KG_MOL,
    SCHMIDT_NUMBER,
    TEMPERATURE_K,
    VAPOR_PRESSURE_PA,
    Range,
    below_boiling_range,
)
from recommender.physics.vapor import clausius_clapeyron_pressure_pa

_COEFFICIENT_M_S: Final = Range(0.0, 10.0, low_open=True)
_FILM_DEPTH_M: Final = Range(1.0e-8, 1.0)
_FLUX_KG_M2_S: Final = Range(0.0, 1.0e3)
_VISCOSITY_PA_S: Final = Range(1.0e-5, 1.0e5)
_DISTANCE_M: Final = Range(0.0, 10.0, low_open=True)
_DRAIN_TIME_S: Final = Range(1.0, 1.0e6)
_COLDEST_SURFACE_K: Final = 100.0
_TEMPERATURE_TOLERANCE_K: Final = 1.0e-6


def high_volatility_factor(
    pressure_pa: float, total_pressure_pa: float = STANDARD_ATMOSPHERE_PA
) -> float:
    """Correct a flux for the outward flow of vapor from a very volatile liquid.

    f_HV = -(Pt/P) ln(1 - P/Pt). Matters above P = 0.1 Pt (5 %).

    Args:
        pressure_pa: P, vapor pressure at the surface, 0 to below the total pressure.
        total_pressure_pa: Pt, 3e4 to 1.2e5 Pa.

    Returns:
        Factor of 1 or more.

    Raises:
        PhysicsRangeError: An argument is out of range; at or above the total pressure the liquid
            boils and heat, not diffusion, sets the pace.

    Reference: Stefan flow through a stagnant film, textbook (from memory).

    Known defects: runs to infinity near boiling, where a real liquid is limited by heat. Fails to
    see that such a liquid cools itself: use `self_cooling_factor` beside it.
    """
    pressure = below_boiling_range(total_pressure_pa).check("pressure_pa", pressure_pa)
    share = pressure / total_pressure_pa
    return -math.log1p(-share) / share if share > 0.0 else 1.0


def ambient_water_pressure_pa(saturation_pressure_pa: float, relative_humidity: float) -> float:
    """Find the pressure of the water vapor already in the air.

    P_inf = RH P_sat(air temperature).

    Args:
        saturation_pressure_pa: P_sat of water at air temperature, 0 to below 101 325 Pa.
        relative_humidity: RH as a fraction, 0 to 1.

    Returns:
        Partial pressure of water in the air in Pa.

    Raises:
        PhysicsRangeError: An argument is out of range.

    Reference: definition of relative humidity.

    Known defects: for water alone. A liquid that takes up water (acids, glycols, dimethyl
    sulfoxide) may gain mass instead of evaporating; no function here describes that.
    """
    pressure = below_boiling_range(STANDARD_ATMOSPHERE_PA).check(
        "saturation_pressure_pa", saturation_pressure_pa
    )
    return FRACTION.check("relative_humidity", relative_humidity) * pressure


def water_driving_force_pa(saturation_pressure_pa: float, relative_humidity: float) -> float:
    """Find the pressure difference that drives water off an isothermal surface.

    P_sat (1 - RH).

    Args:
        saturation_pressure_pa: P_sat of water at the common temperature, 0 to below 101 325 Pa.
        relative_humidity: RH as a fraction, 0 to 1.

    Returns:
        Pressure difference in Pa; zero in saturated air.

    Raises:
        PhysicsRangeError: An argument is out of range.

    Reference: definition of relative humidity.

    Known defects: see `ambient_water_pressure_pa`.
    """
    ambient = ambient_water_pressure_pa(saturation_pressure_pa, relative_humidity)
    return saturation_pressure_pa - ambient


def _molar_difference(
    surface_pressure_pa: float,
    surface_temperature_k: float,
    ambient_pressure_pa: float,
    ambient_temperature_k: float,
    total_pressure_pa: float,
) -> float:
    """Give (Ps/Ts - Pinf/Ta)/R times f_HV, in mol/m3, never below zero."""
    surface = surface_pressure_pa / surface_temperature_k
    ambient = ambient_pressure_pa / ambient_temperature_k
    factor = high_volatility_factor(surface_pressure_pa, total_pressure_pa)
    return max(0.0, (surface - ambient) / GAS_CONSTANT_J_MOL_K * factor)


def evaporation_flux_kg_m2_s(
    *,
    mass_transfer_coefficient_m_s: float,
    molar_mass_kg_mol: float,
    surface_pressure_pa: float,
    surface_temperature_k: float,
    ambient_temperature_k: float,
    ambient_pressure_pa: float = 0.0,
    total_pressure_pa: float = STANDARD_ATMOSPHERE_PA,
) -> float:
    """Find the mass evaporating from a square meter each second.

    J = k (M/R)(Ps/Ts - Pinf/Ta) f_HV(Ps).

    Args:
        mass_transfer_coefficient_m_s: k, above 0 to 10 m/s.
        molar_mass_kg_mol: M, 0.002 to 2 kg/mol.
        surface_pressure_pa: Ps at Ts, 0 to below Pt.
        surface_temperature_k: Ts, 100 to 1000 K.
        ambient_temperature_k: Ta, 200 to 400 K.
        ambient_pressure_pa: Pinf of the same vapor in the air, 0 to below the total pressure.
        total_pressure_pa: Pt, 3e4 to 1.2e5 Pa.

    Returns:
        Flux in kg/m2/s; zero where the air already holds as much vapor.

    Raises:
        PhysicsRangeError: An argument is out of range.

    Reference: film theory, textbook (from memory). Known defects: pure liquids only.
    """
    k = _COEFFICIENT_M_S.check("mass_transfer_coefficient_m_s", mass_transfer_coefficient_m_s)
    mass = MOLAR_MASS_KG_MOL.check("molar_mass_kg_mol", molar_mass_kg_mol)
    ts = TEMPERATURE_K.check("surface_temperature_k", surface_temperature_k)
    ta = AIR_TEMPERATURE_K.check("ambient_temperature_k", ambient_temperature_k)
    pressures = below_boiling_range(total_pressure_pa)
    ps = pressures.check("surface_pressure_pa", surface_pressure_pa)
    ambient = pressures.check("ambient_pressure_pa", ambient_pressure_pa)
    return k * mass * _molar_difference(ps, ts, ambient, ta, total_pressure_pa)


def film_residence_s(*, film_depth_m: float, density_kg_m3: float, flux_kg_m2_s: float) -> float:
    """Find how long a uniform film, or a puddle of that depth, takes to evaporate.

    t = rho h/J.

    Args:
        film_depth_m: h, 1e-8 to 1 m (a puddle is a deep film).
        density_kg_m3: rho, 300 to 25 000 kg/m3.
        flux_kg_m2_s: J, 0 to 1000 kg/m2/s.

    Returns:
        Time in seconds; infinity when nothing evaporates.

    Raises:
        PhysicsRangeError: An argument is out of range.

    Reference: mass balance (derived).

    Known defects: constant flux. A mixture slows down as its light part leaves; drops shrink and
    beads last longer than a film; what is absorbed by the surface is not counted. Published check
    is weak: 2 to 7 days for sulfur mustard (US Army table J-6, read) need 0.3 to 0.9 mm.
    """
    depth = _FILM_DEPTH_M.check("film_depth_m", film_depth_m)
    density = LIQUID_DENSITY_KG_M3.check("density_kg_m3", density_kg_m3)
    flux = _FLUX_KG_M2_S.check("flux_kg_m2_s", flux_kg_m2_s)
    return density * depth / flux if flux > 0.0 else math.inf


def drained_film_thickness_m(
    *, viscosity_pa_s: float, density_kg_m3: float, distance_from_top_m: float, drain_time_s: float
) -> float:
    """Find the film left on a vertical surface that has drained for a while.

    h = (mu z/(rho g t))^0.5.

    Args:
        viscosity_pa_s: mu, 1e-5 to 1e5 Pa s.
        density_kg_m3: rho, 300 to 25 000 kg/m3.
        distance_from_top_m: z below the upper edge, above 0 to 10 m.
        drain_time_s: t, 1 to 1e6 s.

    Returns:
        Film thickness in m.

    Raises:
        PhysicsRangeError: An argument is out of range.

    Reference: Jeffreys 1930, The draining of a vertical plate, Proc. Camb. Phil. Soc. 26, 204
    (equation from memory; abstract read).

    Known defects: Newtonian liquid on a smooth wetted wall. Thickened products stop draining;
    folds, seams and gloves hold far more; a repelled liquid leaves beads, not a film.
    """
    viscosity = _VISCOSITY_PA_S.check("viscosity_pa_s", viscosity_pa_s)
    density = LIQUID_DENSITY_KG_M3.check("density_kg_m3", density_kg_m3)
    distance = _DISTANCE_M.check("distance_from_top_m", distance_from_top_m)
    time = _DRAIN_TIME_S.check("drain_time_s", drain_time_s)
    return math.sqrt(viscosity * distance / (density * STANDARD_GRAVITY_M_S2 * time))


def _check_cooling(
    ta: float, pressure: float, heat: float, schmidt: float, ambient: float, total: float
) -> None:
    """Check the arguments that the two functions below share."""
    AIR_TEMPERATURE_K.check("air_temperature_k", ta)
    HEAT_OF_VAPORIZATION_J_MOL.check("heat_of_vaporization_j_mol", heat)
    SCHMIDT_NUMBER.check("schmidt", schmidt)
    below_boiling_range(total).check("saturation_pressure_pa", pressure)
    VAPOR_PRESSURE_PA.check("saturation_pressure_pa", pressure)
    Range(0.0, pressure).check("ambient_pressure_pa", ambient)


def _heat_supply_j_m3_k(ta: float, schmidt: float, total: float) -> float:
    """Give rho cp (Sc/Pr)^(2/3): heat that air brings, per kelvin and per unit of k."""
    density = total * AIR_MOLAR_MASS_KG_MOL / (GAS_CONSTANT_J_MOL_K * ta)
    lewis = math.pow(schmidt / AIR_PRANDTL_NUMBER, 2.0 / 3.0)
    return density * AIR_HEAT_CAPACITY_J_KG_K * lewis


def _difference_at(
    ts: float, ta: float, pressure: float, heat: float, ambient: float, total: float
) -> float:
    """Give the driving molar difference in mol/m3 when the surface is at ts."""
    surface = clausius_clapeyron_pressure_pa(
        reference_pressure_pa=pressure,
        reference_temperature_k=ta,
        heat_of_vaporization_j_mol=heat,
        temperature_k=ts,
    )
    return _molar_difference(surface, ts, ambient, ta, total)


def _balance(
    ta: float, schmidt: float, pressure: float, heat: float, ambient: float, total: float
) -> float:
    """Check the arguments and find the surface temperature where heat in meets heat out."""
    _check_cooling(ta, pressure, heat, schmidt, ambient, total)
    supply = _heat_supply_j_m3_k(ta, schmidt, total)
    low, high = _COLDEST_SURFACE_K, ta
    while high - low > _TEMPERATURE_TOLERANCE_K:
        ts = 0.5 * (low + high)
        taken = heat * _difference_at(ts, ta, pressure, heat, ambient, total)
        low, high = (ts, high) if supply * (ta - ts) > taken else (low, ts)
    return high


def wet_bulb_temperature_k(
    *,
    air_temperature_k: float,
    saturation_pressure_pa: float,
    heat_of_vaporization_j_mol: float,
    schmidt: float,
    ambient_pressure_pa: float = 0.0,
    total_pressure_pa: float = STANDARD_ATMOSPHERE_PA,
) -> float:
    """Find the temperature an evaporating pure liquid cools itself to.

    rho cp (Sc/Pr)^(2/3) (Ta - Ts) = (Hv/R)(P(Ts)/Ts - Pinf/Ta) f_HV, solved by bisection.

    Args:
        air_temperature_k: Ta, 200 to 400 K.
        saturation_pressure_pa: P at Ta, above 0 to below the total pressure.
        heat_of_vaporization_j_mol: Hv, 5e3 to 4e5 J/mol.
        schmidt: Sc of the vapor, 0.1 to 20.
        ambient_pressure_pa: Pinf in the air, 0 to the saturation pressure.
        total_pressure_pa: Pt, 3e4 to 1.2e5 Pa.

    Returns:
        Surface temperature in K, at most Ta.

    Raises:
        PhysicsRangeError: An argument is out of range.

    Reference: Chilton and Colburn 1934 analogy, textbook (from memory).

    Known defects: no sun, warm suit or freezing: the coldest case. Water comes out up to 1 K cold.
    """
    liquid = (saturation_pressure_pa, heat_of_vaporization_j_mol)
    return _balance(air_temperature_k, schmidt, *liquid, ambient_pressure_pa, total_pressure_pa)


def self_cooling_factor(
    *,
    air_temperature_k: float,
    saturation_pressure_pa: float,
    heat_of_vaporization_j_mol: float,
    schmidt: float,
    ambient_pressure_pa: float = 0.0,
    total_pressure_pa: float = STANDARD_ATMOSPHERE_PA,
) -> float:
    """Find how much self-cooling slows evaporation at most: flux at wet bulb over flux at Ta.

    Report a residence time as the range from t (isothermal) to t/factor.

    Args:
        air_temperature_k: Ta, 200 to 400 K.
        saturation_pressure_pa: P at Ta, above 0 to below the total pressure.
        heat_of_vaporization_j_mol: Hv, 5e3 to 4e5 J/mol.
        schmidt: Sc of the vapor, 0.1 to 20.
        ambient_pressure_pa: Pinf in the air, 0 to the saturation pressure.
        total_pressure_pa: Pt, 3e4 to 1.2e5 Pa.

    Returns:
        Factor from 0 to 1; 1 in saturated air.

    Raises:
        PhysicsRangeError: An argument is out of range.

    Reference: as `wet_bulb_temperature_k` (derived).

    Known defects: as `wet_bulb_temperature_k`; the slowest rate, not the likely one.
    """
    ta, pressure, heat = air_temperature_k, saturation_pressure_pa, heat_of_vaporization_j_mol
    air = (ambient_pressure_pa, total_pressure_pa)
    ts = _balance(ta, schmidt, pressure, heat, *air)
    isothermal = _difference_at(ta, ta, pressure, heat, *air)
    cooled = _difference_at(ts, ta, pressure, heat, *air)
    return min(1.0, cooled / isothermal) if isothermal > 0.0 else 1.0
