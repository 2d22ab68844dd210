"""How fast moving or still air carries vapor off a wet surface.

Each function gives a mass transfer coefficient k in m/s: flux is k times the difference of vapor
concentration between surface and air. Kawamura and Mackay is the project's default, bounded below
by the still-air form; the rest are for comparison. Windy models agree within about 2.5 times.

The wind is the one AT THE SURFACE; how much of the reported wind reaches it is the caller's
judgement. A later regression (Woodward and Krishna 2002, abstract read) found a wind exponent
near 0.10 instead of 0.78: no form here may be called accurate in the wind. For oils and fuels
evaporation is not governed by the air side alone (Fingas 2004, J. Hazard. Mater. 107, 27,
abstract read).
"""

from __future__ import annotations

import math
from typing import Final

from recommender.physics.constants import (
    GAS_CONSTANT_J_MOL_K,
    PASCAL_PER_MMHG,
    WATER_MOLAR_MASS_KG_MOL,
)
from recommender.physics.ranges import (
    AIR_TEMPERATURE_K,
    DIFFUSIVITY_M2_S,
    KINEMATIC_VISCOSITY_M2_S,
    MOLAR_MASS_KG_MOL,
    PATCH_LENGTH_M,
    SCHMIDT_NUMBER,
    TEMPERATURE_K,
    WIND_SPEED_M_S,
    Range,
)

_SECONDS_PER_HOUR: Final = 3600.0
_GRAM_PER_KG: Final = 1000.0
_FEET_PER_MINUTE: Final = 60.0 / 0.3048
_CM_PER_M: Final = 100.0
_LAMINAR_REYNOLDS: Final = Range(1.0e3, 5.0e5)
_TURBULENT_REYNOLDS: Final = Range(2.0e4, 1.0e8)
_STILL_AIR_CONSTANT: Final = 1464.0
_EPA_REFERENCE_M_S: Final = 0.0067
_EPA_WIND_EXPONENT: Final = 0.78


def kawamura_mackay_m_s(*, wind_speed_m_s: float, patch_length_m: float, schmidt: float) -> float:
    """Find k for a liquid surface in wind. The default of this project.

    k = 0.0048 U^(7/9) Z^(-1/9) Sc^(-2/3).

    Args:
        wind_speed_m_s: U at the surface, 0.1 to 40 m/s.
        patch_length_m: Z, length of the wet patch along the wind, 0.01 to 100 m.
        schmidt: Sc, 0.1 to 20.

    Returns:
        k in m/s.

    Raises:
        PhysicsRangeError: An argument is out of range.

    Reference: Kawamura and Mackay 1987, The evaporation of volatile liquids, J. Hazard. Mater.
    15, 343 (from memory; the equation read again in a lecture that cites it). SI twin of
    `mackay_matsugu_m_s`.

    Known defects: made for pools of 1 m and more; a patch on a suit lies below its tested size.
    A suit is neither flat nor still. Quote a factor of 3 either way.
    """
    wind = WIND_SPEED_M_S.check("wind_speed_m_s", wind_speed_m_s)
    length = PATCH_LENGTH_M.check("patch_length_m", patch_length_m)
    sc = SCHMIDT_NUMBER.check("schmidt", schmidt)
    return (
        0.0048 * math.pow(wind, 7.0 / 9.0) * math.pow(length, -1.0 / 9.0) * math.pow(sc, -2.0 / 3.0)
    )


def mackay_matsugu_m_s(*, wind_speed_m_s: float, patch_length_m: float, schmidt: float) -> float:
    """Find k for a hydrocarbon pool in wind.

    k = 0.0292 U^0.78 X^-0.11 Sc^-0.67, with k and U in m/h.

    Args:
        wind_speed_m_s: U at the surface, 0.1 to 40 m/s (converted here).
        patch_length_m: X, length of the pool along the wind, 0.01 to 100 m.
        schmidt: Sc, 0.1 to 20.

    Returns:
        k in m/s.

    Raises:
        PhysicsRangeError: An argument is out of range.

    Reference: Mackay and Matsugu 1973, Evaporation rates of liquid hydrocarbon spills on land and
    water, Can. J. Chem. Eng. 51, 434 (coefficients from memory; abstract read: cumene, water and
    gasoline, correlated with wind, pool size and Schmidt number).

    Known defects: as `kawamura_mackay_m_s`, which it is the origin of: their agreement within 1 %
    is not independent proof.
    """
    wind = WIND_SPEED_M_S.check("wind_speed_m_s", wind_speed_m_s) * _SECONDS_PER_HOUR
    length = PATCH_LENGTH_M.check("patch_length_m", patch_length_m)
    sc = SCHMIDT_NUMBER.check("schmidt", schmidt)
    k_m_h = 0.0292 * math.pow(wind, 0.78) * math.pow(length, -0.11) * math.pow(sc, -0.67)
    return k_m_h / _SECONDS_PER_HOUR


def epa_pool_m_s(*, wind_speed_m_s: float, molar_mass_kg_mol: float) -> float:
    """Find k as the EPA offsite consequence guidance does for pools.

    k = 0.0067 U^0.78 (18.015/M)^(1/3).

    Args:
        wind_speed_m_s: U, 0.1 to 40 m/s.
        molar_mass_kg_mol: M, 0.002 to 2 kg/mol.

    Returns:
        k in m/s.

    Raises:
        PhysicsRangeError: An argument is out of range.

    Reference: EPA 550-B-99-009, Risk Management Program guidance for offsite consequence
    analysis, equation D-1: QR = 0.284 U^0.78 M^(2/3) A VP/(82.05 T) in lb/min, m/s, g/mol, ft2,
    mmHg, K (from memory; the reference coefficient 0.67 cm/s read in a secondary source). The
    constant 0.284 follows exactly from 0.67 cm/s.

    Known defects: no patch size; made to overstate vapor from large pools, so its residence times
    lean short, the incautious side here.
    """
    wind = WIND_SPEED_M_S.check("wind_speed_m_s", wind_speed_m_s)
    mass = MOLAR_MASS_KG_MOL.check("molar_mass_kg_mol", molar_mass_kg_mol)
    vapor = math.cbrt(WATER_MOLAR_MASS_KG_MOL / mass)
    return _EPA_REFERENCE_M_S * math.pow(wind, _EPA_WIND_EXPONENT) * vapor


def _plate(
    wind_speed_m_s: float,
    patch_length_m: float,
    diffusivity_m2_s: float,
    kinematic_viscosity_m2_s: float,
    reynolds_range: Range,
) -> tuple[float, float, float]:
    """Check the arguments of a flat plate; give Re, Sc and D/L."""
    wind = WIND_SPEED_M_S.check("wind_speed_m_s", wind_speed_m_s)
    length = PATCH_LENGTH_M.check("patch_length_m", patch_length_m)
    diffusivity = DIFFUSIVITY_M2_S.check("diffusivity_m2_s", diffusivity_m2_s)
    viscosity = KINEMATIC_VISCOSITY_M2_S.check("kinematic_viscosity_m2_s", kinematic_viscosity_m2_s)
    reynolds = reynolds_range.check("reynolds_number", wind * length / viscosity)
    return reynolds, viscosity / diffusivity, diffusivity / length


def flat_plate_laminar_m_s(
    *,
    wind_speed_m_s: float,
    patch_length_m: float,
    diffusivity_m2_s: float,
    kinematic_viscosity_m2_s: float,
) -> float:
    """Find the mean k over a smooth flat plate with a laminar boundary layer.

    Sh = 0.664 Re^(1/2) Sc^(1/3), k = Sh D/L.

    Args:
        wind_speed_m_s: U, 0.1 to 40 m/s.
        patch_length_m: L along the wind, 0.01 to 100 m.
        diffusivity_m2_s: D, 1e-7 to 1e-3 m2/s.
        kinematic_viscosity_m2_s: nu, 1e-6 to 1e-3 m2/s.

    Returns:
        k in m/s.

    Raises:
        PhysicsRangeError: An argument, or Re = U L/nu outside 1e3 to 5e5, is out of range.

    Reference: Pohlhausen's solution by analogy, textbook (from memory).

    Known defects: smooth plate in a quiet stream; outdoor air trips the layer far below 5e5.
    """
    reynolds, sc, d_over_l = _plate(
        wind_speed_m_s,
        patch_length_m,
        diffusivity_m2_s,
        kinematic_viscosity_m2_s,
        _LAMINAR_REYNOLDS,
    )
    return 0.664 * math.sqrt(reynolds) * math.cbrt(sc) * d_over_l


def flat_plate_turbulent_m_s(
    *,
    wind_speed_m_s: float,
    patch_length_m: float,
    diffusivity_m2_s: float,
    kinematic_viscosity_m2_s: float,
) -> float:
    """Find the mean k over a flat plate whose boundary layer is turbulent from the edge.

    Sh = 0.037 Re^0.8 Sc^(1/3), k = Sh D/L.

    Args:
        wind_speed_m_s: U, 0.1 to 40 m/s.
        patch_length_m: L along the wind, 0.01 to 100 m.
        diffusivity_m2_s: D, 1e-7 to 1e-3 m2/s.
        kinematic_viscosity_m2_s: nu, 1e-6 to 1e-3 m2/s.

    Returns:
        k in m/s.

    Raises:
        PhysicsRangeError: An argument, or Re = U L/nu outside 2e4 to 1e8, is out of range.

    Reference: power-law friction by analogy, textbook (from memory).

    Known defects: a smooth plate turns turbulent by itself near Re 5e5; below that the form
    supposes gusts or a rough edge, as outdoors. It exceeds the laminar form above Re 1.5e4.
    """
    reynolds, sc, d_over_l = _plate(
        wind_speed_m_s,
        patch_length_m,
        diffusivity_m2_s,
        kinematic_viscosity_m2_s,
        _TURBULENT_REYNOLDS,
    )
    return 0.037 * math.pow(reynolds, 0.8) * math.cbrt(sc) * d_over_l


def penetration_m_s(
    *,
    wind_speed_m_s: float,
    patch_length_m: float,
    molar_mass_kg_mol: float,
    temperature_k: float,
) -> float:
    """Find k as the EPA new-chemicals penetration form does for indoor open surfaces.

    G = 8.24e-8 M^0.835 VP (1/29 + 1/M)^0.25 v^0.5 A/(T^0.05 L^0.5) at one atmosphere, in g/s with
    g/mol, torr, ft/min, cm2, K, cm; k = G R T/(A M VP).

    Args:
        wind_speed_m_s: v, 0.1 to 40 m/s.
        patch_length_m: L along the wind, 0.01 to 100 m.
        molar_mass_kg_mol: M, 0.002 to 2 kg/mol.
        temperature_k: T, 200 to 400 K.

    Returns:
        k in m/s.

    Raises:
        PhysicsRangeError: An argument is out of range.

    Reference: EPA/OPPT, after Fehrenbacher and Hummel 1996 (equation from memory; that 8.24e-8
    takes ft/min read in the notes of a public reimplementation). The units close: within 4 % of
    penetration theory 2 (D v/(pi L))^0.5 for water.
    Known defects: for drafts up to 0.5 m/s (from memory); at 1 m/s up to twice the windy models.
    """
    feet_min = WIND_SPEED_M_S.check("wind_speed_m_s", wind_speed_m_s) * _FEET_PER_MINUTE
    cm = PATCH_LENGTH_M.check("patch_length_m", patch_length_m) * _CM_PER_M
    mass = MOLAR_MASS_KG_MOL.check("molar_mass_kg_mol", molar_mass_kg_mol)
    temperature = AIR_TEMPERATURE_K.check("temperature_k", temperature_k)
    grams = mass * _GRAM_PER_KG
    mixing = math.pow(1.0 / 29.0 + 1.0 / grams, 0.25)
    shape = math.pow(grams, 0.835) * mixing / math.pow(temperature, 0.05)
    g_cm2_s_torr = 8.24e-8 * shape * math.sqrt(feet_min / cm)
    kg_m2_s_pa = g_cm2_s_torr * _CM_PER_M**2 / _GRAM_PER_KG / PASCAL_PER_MMHG
    return kg_m2_s_pa * GAS_CONSTANT_J_MOL_K * temperature / mass


def still_air_m_s(temperature_k: float) -> float:
    """Find k over a quiet liquid surface in still air: the slow, sheltered bound.

    ER = 1464 P M in ug/m2/h (Pa, g/mol), hence k = 1464e-6 R T/3600: 1.0 mm/s at 25 C.

    Args:
        temperature_k: T of the surface, 100 to 1000 K.

    Returns:
        k in m/s.

    Raises:
        PhysicsRangeError: The temperature is out of range.

    Reference: Mackay and van Wesenbeeck 2014, Correlation of chemical evaporation rate with vapor
    pressure, Environ. Sci. Technol. 48, 10259 (abstract read; volume and page from memory).

    Known defects: one k for every vapor; surfaces that do not hold or absorb the liquid only;
    fitted near room temperature, so the factor T is an assumption.
    """
    temperature = TEMPERATURE_K.check("temperature_k", temperature_k)
    per_second = _STILL_AIR_CONSTANT * 1.0e-6 / _SECONDS_PER_HOUR
    return per_second * GAS_CONSTANT_J_MOL_K * temperature
