"""Equations that carry a measured value to where it is wanted, and how far they may be off.

Pressures are decimal logarithms of pascal. The error bands were measured over the coefficient
sets of the installed packages (October 2026 versions): curves cut short and carried back over
what they really say, and boiling points turned into pressures of substances with a curve.
"""

from __future__ import annotations

import math

GAS_CONSTANT = 8.314462618
LOG_ATMOSPHERE = math.log10(101325.0)
STANDARD_K = 298.15
# Vaporization takes in less heat at higher temperature. This slope leaves no bias over 100 K below
# the range of 126 curves (a constant heat is 0.18 decades too high there, which would understate
# persistence; the fitted equation itself 0.10 to 0.20 too low).
HEAT_CAPACITY_CHANGE = -55.0
# Walden's rule: entropy of fusion of a rigid molecule over the gas constant, 56.5 / 8.314.
FUSION_ENTROPY_OVER_R = 6.79
WATER_MOLES_PER_LITER = 55.34


def carried_log_pressure(
    *,
    log_pressure: float,
    from_k: float,
    heat_j_mol: float,
    to_k: float,
    heat_capacity_change: float = HEAT_CAPACITY_CHANGE,
) -> float:
    """Carry a vapor pressure to another temperature, letting the heat grow as it cools.

    ln P2/P1 = -(H1 - D T1)/R (1/T2 - 1/T1) + D/R ln(T2/T1), with D the heat capacity change.

    Args:
        log_pressure: log10 of P1 in Pa.
        from_k: T1.
        heat_j_mol: heat of vaporization at T1.
        to_k: T2.
        heat_capacity_change: D in J/mol/K; 0 for a solid that sublimes.

    Returns:
        log10 of P2 in Pa.

    Reference: Clausius-Clapeyron relation with a linear heat of vaporization, textbook.

    Known defects: on 512 curves carried below their range, standard deviation 0.017 decades at
    10 K, 0.025 at 25 K, 0.06 at 60 K, 0.15 at 100 K. Blind to freezing and to glass.
    """
    constant = heat_j_mol - heat_capacity_change * from_k
    natural = -constant / GAS_CONSTANT * (1.0 / to_k - 1.0 / from_k)
    natural += heat_capacity_change / GAS_CONSTANT * math.log(to_k / from_k)
    return log_pressure + natural / math.log(10.0)


def boiling_and_heat_log_pressure(
    *, boiling_k: float, heat_298_j_mol: float, temperature_k: float
) -> float:
    """Find a vapor pressure from the normal boiling point and the heat of vaporization at 25 C.

    Args:
        boiling_k: normal boiling point.
        heat_298_j_mol: heat of vaporization at 25 C.
        temperature_k: where the pressure is wanted, below the boiling point.

    Returns:
        log10 of the pressure in Pa.

    Reference: as `carried_log_pressure`, started at one atmosphere.

    Known defects: against curves at 20 C, root mean square 0.09 decades from 1 to 10 kPa
    (266 substances), 0.3 from 10 to 1000 Pa (169), 0.35 below 10 Pa (26).
    """
    at_boiling = heat_298_j_mol + HEAT_CAPACITY_CHANGE * (boiling_k - STANDARD_K)
    return carried_log_pressure(
        log_pressure=LOG_ATMOSPHERE,
        from_k=boiling_k,
        heat_j_mol=at_boiling,
        to_k=temperature_k,
    )


def boiling_point_log_pressure(
    *, boiling_k: float, temperature_k: float, attraction: float = 1.0
) -> float:
    """Find a vapor pressure from the normal boiling point alone.

    ln P/atm = -K (4.4 + ln Tb) (1.8 (Tb/T - 1) - 0.8 ln(Tb/T)).

    Args:
        boiling_k: Tb, normal boiling point.
        temperature_k: T, below Tb.
        attraction: K, 1.0 for hydrocarbons; alcohols, amines and acids hold together more.

    Returns:
        log10 of the pressure in Pa.

    Reference: Mackay, Bobra, Chan and Shiu, Environ. Sci. Technol. 16 (1982) 645; attraction
    factors after Fishtine, fitted here to classes of curves (see ATTRACTION). From memory.

    Known defects: a boiling point taken under vacuum gives a pressure far too high. Root mean
    square 0.03 to 0.15 decades above 1 kPa, 0.5 from 10 to 1000 Pa, 1 below 10 Pa.
    """
    ratio = boiling_k / temperature_k
    natural = -attraction * (4.4 + math.log(boiling_k))
    natural *= 1.8 * (ratio - 1.0) - 0.8 * math.log(ratio)
    return LOG_ATMOSPHERE + natural / math.log(10.0)


def solid_log_pressure(
    *, liquid_log_pressure: float, melting_k: float, temperature_k: float
) -> float:
    """Lower the pressure of a supercooled liquid to that of its solid.

    ln Ps/Pl = -(S/R)(Tm/T - 1), with S the entropy of fusion by Walden's rule.

    Reference: textbook; the entropy from memory.

    Known defects: long or spherical molecules are off by the share their entropy differs; a
    factor of 3 at 150 K below the melting point.
    """
    natural = -FUSION_ENTROPY_OVER_R * max(0.0, melting_k / temperature_k - 1.0)
    return liquid_log_pressure + natural / math.log(10.0)


def henry_solubility_g_l(*, ln_henry: float, pressure_pa: float, molar_mass: float) -> float:
    """Find the solubility in water from Henry's constant and the vapor pressure, at 25 C.

    x = P/H; S = 55.34 x M.

    Args:
        ln_henry: natural logarithm of H in Pa for a mole fraction of one.
        pressure_pa: P over the pure liquid or solid; at most one atmosphere.
        molar_mass: M in g/mol.

    Returns:
        Solubility in g/L. Above about 100 g/L the two mix, or nearly: the law no longer holds.

    Reference: Henry's law, textbook.

    Known defects: many of the tabulated constants were themselves made from a vapor pressure and
    a solubility, so agreement with those proves little. For substances that react with water or
    split into ions the constant is an effective one.
    """
    fraction = min(pressure_pa, 101325.0) / math.exp(ln_henry)
    return WATER_MOLES_PER_LITER * fraction * molar_mass


def general_solubility_g_l(*, log_kow: float, melting_c: float | None, molar_mass: float) -> float:
    """Find the solubility in water from log Kow and the melting point.

    log S = 0.5 - 0.01 (Tm - 25) - log Kow, S in mol/L; a liquid counts as melting at 25 C.

    Returns:
        Solubility in g/L.

    Reference: General Solubility Equation, Jain and Yalkowsky, J. Pharm. Sci. 90 (2001) 234.
    From memory.

    Known defects: not for salts, and not for what splits into ions. Root mean square 0.4 decades
    for liquids, 0.8 for solids.
    """
    above = 0.0 if melting_c is None else max(0.0, melting_c - 25.0)
    return float(10.0 ** (0.5 - 0.01 * above - log_kow) * molar_mass)
