"""Vapor pressure of a liquid and the vapor that stands over it.

All equations are for a pure substance and an ideal gas.
"""

from __future__ import annotations

import math
from typing import Final

from recommender.errors import PhysicsRangeError
from recommender.physics.constants import (
    AIR_MOLAR_MASS_KG_MOL,
    GAS_CONSTANT_J_MOL_K,
    PASCAL_PER_MMHG,
    STANDARD_ATMOSPHERE_PA,
    ZERO_CELSIUS_K,
)
from recommender.physics.ranges import (
    HEAT_OF_VAPORIZATION_J_MOL,
    MOLAR_MASS_KG_MOL,
    TEMPERATURE_K,
    VAPOR_PRESSURE_PA,
    Range,
    partial_pressure_range,
)

TROUTON_ENTROPY_J_MOL_K: Final = 88.0
"""Trouton's entropy of vaporization at the boiling point (textbook value, from memory)."""

_MG_PER_KG: Final = 1.0e6
_PPM: Final = 1.0e6
_LEAST_TEMPERATURE_STEP_K: Final = 1.0
_ANTOINE_A: Final = Range(-50.0, 50.0)
_ANTOINE_B: Final = Range(0.0, 2.0e4)
_ANTOINE_C: Final = Range(-1000.0, 1000.0)
_ANTOINE_TEMPERATURE: Final = Range(-ZERO_CELSIUS_K, 1000.0)
_PPM_RANGE: Final = Range(0.0, _PPM)
_PPM_LIMIT: Final = Range(0.0, _PPM, low_open=True)


def clausius_clapeyron_pressure_pa(
    *,
    reference_pressure_pa: float,
    reference_temperature_k: float,
    heat_of_vaporization_j_mol: float,
    temperature_k: float,
) -> float:
    """Carry a vapor pressure from one temperature to another.

    ln(P2/P1) = -(Hv/R)(1/T2 - 1/T1), with Hv constant.

    Args:
        reference_pressure_pa: P1, known vapor pressure, above 0 to 1e7 Pa.
        reference_temperature_k: T1, where it is known, 100 to 1000 K.
        heat_of_vaporization_j_mol: Hv, 5e3 to 4e5 J/mol.
        temperature_k: T2, where it is wanted, 100 to 1000 K.

    Returns:
        P2 in Pa.

    Raises:
        PhysicsRangeError: An argument is out of range or not finite.

    Reference: Clausius-Clapeyron relation for an ideal vapor, textbook (from memory).

    Known defects: good to about 5 % within 30 K for normal liquids (from memory). Hv grows as a
    liquid cools, so a value taken at the boiling point gives too HIGH a pressure far below it,
    hence too short a residence time: the incautious side. Blind to freezing.
    """
    pressure = VAPOR_PRESSURE_PA.check("reference_pressure_pa", reference_pressure_pa)
    t1 = TEMPERATURE_K.check("reference_temperature_k", reference_temperature_k)
    t2 = TEMPERATURE_K.check("temperature_k", temperature_k)
    heat = HEAT_OF_VAPORIZATION_J_MOL.check(
        "heat_of_vaporization_j_mol", heat_of_vaporization_j_mol
    )
    return pressure * math.exp(-heat / GAS_CONSTANT_J_MOL_K * (1.0 / t2 - 1.0 / t1))


def heat_of_vaporization_from_points_j_mol(
    *,
    pressure_1_pa: float,
    temperature_1_k: float,
    pressure_2_pa: float,
    temperature_2_k: float,
) -> float:
    """Find the heat of vaporization that joins two vapor pressures.

    Hv = -R ln(P2/P1) / (1/T2 - 1/T1).

    Args:
        pressure_1_pa: P1, above 0 to 1e7 Pa.
        temperature_1_k: T1, 100 to 1000 K.
        pressure_2_pa: P2, above 0 to 1e7 Pa.
        temperature_2_k: T2, 100 to 1000 K, at least 1 K from T1.

    Returns:
        Mean Hv between the two temperatures in J/mol.

    Raises:
        PhysicsRangeError: An argument is out of range, the temperatures are too close, or the
            result is not a plausible Hv (5e3 to 4e5 J/mol): the two points disagree.

    Reference: Clausius-Clapeyron relation, textbook (from memory).

    Known defects: an error in either pressure is magnified as the temperatures come closer.
    """
    p1 = VAPOR_PRESSURE_PA.check("pressure_1_pa", pressure_1_pa)
    t1 = TEMPERATURE_K.check("temperature_1_k", temperature_1_k)
    p2 = VAPOR_PRESSURE_PA.check("pressure_2_pa", pressure_2_pa)
    t2 = TEMPERATURE_K.check("temperature_2_k", temperature_2_k)
    if abs(t2 - t1) < _LEAST_TEMPERATURE_STEP_K:
        raise PhysicsRangeError("temperature_2_k", t2, f"at least 1 K away from {t1!r}")
    heat = -GAS_CONSTANT_J_MOL_K * (math.log(p2) - math.log(p1)) / (1.0 / t2 - 1.0 / t1)
    return HEAT_OF_VAPORIZATION_J_MOL.check("heat_of_vaporization_j_mol", heat)


def trouton_heat_of_vaporization_j_mol(boiling_temperature_k: float) -> float:
    """Guess the heat of vaporization from the normal boiling point. Screening only.

    Hv = 88 J/mol/K x Tb.

    Args:
        boiling_temperature_k: Tb at one atmosphere, 100 to 1000 K.

    Returns:
        Hv at the boiling point in J/mol.

    Raises:
        PhysicsRangeError: The boiling point is out of range.

    Reference: Trouton's rule, textbook (from memory).

    Known defects: too low by 15 to 30 % for liquids held by hydrogen bonds (water, alcohols),
    wrong for acids that pair in the vapor (acetic acid). Used to come down from the boiling
    point, too low an Hv gives too high a vapor pressure: the incautious side.
    """
    return TROUTON_ENTROPY_J_MOL_K * TEMPERATURE_K.check(
        "boiling_temperature_k", boiling_temperature_k
    )


def antoine_log10_pressure(*, a: float, b: float, c: float, temperature: float) -> float:
    """Evaluate the Antoine equation in whatever units its constants were fitted in.

    log10 P = A - B/(C + t). The caller knows the units: they belong to the constants.

    Args:
        a: A, -50 to 50.
        b: B, 0 to 2e4, in the temperature unit.
        c: C, -1000 to 1000, in the temperature unit.
        temperature: t, -273.15 to 1000, in the temperature unit; C + t must be positive.

    Returns:
        Decimal logarithm of the vapor pressure, in the pressure unit of the constants.

    Raises:
        PhysicsRangeError: An argument is out of range, or C + t is not positive.

    Reference: Antoine equation, textbook (from memory).

    Known defects: constants hold only between the temperatures they were fitted to, which this
    function cannot know. Sources mix mmHg, bar and kPa, Celsius and kelvin, log10 and ln.
    """
    _ANTOINE_A.check("a", a)
    _ANTOINE_B.check("b", b)
    _ANTOINE_C.check("c", c)
    _ANTOINE_TEMPERATURE.check("temperature", temperature)
    if c + temperature <= 0.0:
        raise PhysicsRangeError("temperature", temperature, f"above {-c:.10g} (minus constant c)")
    return a - b / (c + temperature)


def antoine_mmhg_celsius_pressure_pa(
    *, a: float, b: float, c: float, temperature_k: float
) -> float:
    """Evaluate the Antoine equation with constants for mmHg, Celsius and log10.

    Args:
        a: A, -50 to 50.
        b: B in degrees Celsius, 0 to 2e4.
        c: C in degrees Celsius, -1000 to 1000.
        temperature_k: T, 100 to 1000 K.

    Returns:
        Vapor pressure in Pa.

    Raises:
        PhysicsRangeError: An argument is out of range, or the result exceeds 1e7 Pa (the
            constants are for other units or another temperature range).

    Reference: Antoine equation in its most common handbook units, textbook (from memory).

    Known defects: see `antoine_log10_pressure`.
    """
    celsius = TEMPERATURE_K.check("temperature_k", temperature_k) - ZERO_CELSIUS_K
    log10_mmhg = antoine_log10_pressure(a=a, b=b, c=c, temperature=celsius)
    pressure = PASCAL_PER_MMHG * math.exp(math.log(10.0) * min(log10_mmhg, 50.0))
    return VAPOR_PRESSURE_PA.check("antoine_pressure_pa", pressure)


def saturation_ppm(pressure_pa: float, total_pressure_pa: float = STANDARD_ATMOSPHERE_PA) -> float:
    """Find the vapor concentration air cannot exceed over the liquid.

    C = P/Pt x 1e6, by volume.

    Args:
        pressure_pa: P, vapor pressure, 0 to the total pressure.
        total_pressure_pa: Pt, 3e4 to 1.2e5 Pa.

    Returns:
        Concentration in parts per million by volume.

    Raises:
        PhysicsRangeError: An argument is out of range; a vapor pressure above the total pressure
            is a boiling liquid or a gas, for which there is no saturated air.

    Reference: Dalton's law; form read in industrial hygiene course notes.

    Known defects: a ceiling. Outdoors the real concentration is far lower; a heated or misting
    product can exceed it.
    """
    pressure = partial_pressure_range(total_pressure_pa).check("pressure_pa", pressure_pa)
    return pressure / total_pressure_pa * _PPM


def vapor_limit_ratio(vapor_ppm: float, limit_ppm: float) -> float:
    """Compare a vapor concentration with an exposure limit.

    Args:
        vapor_ppm: Concentration, 0 to 1e6 ppm by volume.
        limit_ppm: Limit (for example the IDLH value), above 0 to 1e6 ppm.

    Returns:
        Concentration over limit; above 1 the saturated vapor exceeds the limit.

    Raises:
        PhysicsRangeError: An argument is out of range.

    Reference: vapor hazard ratio or index, a ratio by definition.

    Known defects: says nothing about how long the vapor lasts or how much of it there is.
    """
    return _PPM_RANGE.check("vapor_ppm", vapor_ppm) / _PPM_LIMIT.check("limit_ppm", limit_ppm)


def volatility_kg_m3(
    *, molar_mass_kg_mol: float, pressure_pa: float, temperature_k: float
) -> float:
    """Find the mass of vapor in a cubic meter of saturated air.

    C = M P/(R T).

    Args:
        molar_mass_kg_mol: M, 0.002 to 2 kg/mol.
        pressure_pa: P, vapor pressure at T, above 0 to 1e7 Pa.
        temperature_k: T, 100 to 1000 K.

    Returns:
        Vapor concentration in kg/m3.

    Raises:
        PhysicsRangeError: An argument is out of range.

    Reference: ideal gas law. Sulfur mustard at 20 C: 626 mg/m3 here, 610 mg/m3 published
    (PMC3555992, Table 2, read).

    Known defects: ideal gas; acids that pair in the vapor are heavier than this.
    """
    mass = MOLAR_MASS_KG_MOL.check("molar_mass_kg_mol", molar_mass_kg_mol)
    pressure = VAPOR_PRESSURE_PA.check("pressure_pa", pressure_pa)
    temperature = TEMPERATURE_K.check("temperature_k", temperature_k)
    return mass * pressure / (GAS_CONSTANT_J_MOL_K * temperature)


def volatility_mg_m3(
    *, molar_mass_kg_mol: float, pressure_pa: float, temperature_k: float
) -> float:
    """Find the volatility in the unit handbooks print.

    Args:
        molar_mass_kg_mol: M, 0.002 to 2 kg/mol.
        pressure_pa: P, vapor pressure at T, above 0 to 1e7 Pa.
        temperature_k: T, 100 to 1000 K.

    Returns:
        Vapor concentration in mg/m3.

    Raises:
        PhysicsRangeError: An argument is out of range.

    Reference: ideal gas law, see `volatility_kg_m3`.

    Known defects: see `volatility_kg_m3`.
    """
    kg_m3 = volatility_kg_m3(
        molar_mass_kg_mol=molar_mass_kg_mol, pressure_pa=pressure_pa, temperature_k=temperature_k
    )
    return kg_m3 * _MG_PER_KG


def saturated_mixture_relative_density(
    molar_mass_kg_mol: float,
    pressure_pa: float,
    total_pressure_pa: float = STANDARD_ATMOSPHERE_PA,
) -> float:
    """Compare saturated air over a liquid with clean air of the same temperature.

    RD = 1 + (P/Pt)(M/M_air - 1).

    Args:
        molar_mass_kg_mol: M, 0.002 to 2 kg/mol.
        pressure_pa: P, vapor pressure, 0 to the total pressure.
        total_pressure_pa: Pt, 3e4 to 1.2e5 Pa.

    Returns:
        Density relative to air; above 1 the mixture sinks.

    Raises:
        PhysicsRangeError: An argument is out of range.

    Reference: ideal gas mixture (derived). Pure vapor density M/M_air is NOT what stands over a
    spill at ambient temperature: for toluene 3.18 against 1.08 here.

    Known defects: cold vapor or mist is heavier than this.
    """
    mass = MOLAR_MASS_KG_MOL.check("molar_mass_kg_mol", molar_mass_kg_mol)
    pressure = partial_pressure_range(total_pressure_pa).check("pressure_pa", pressure_pa)
    return 1.0 + pressure / total_pressure_pa * (mass / AIR_MOLAR_MASS_KG_MOL - 1.0)
