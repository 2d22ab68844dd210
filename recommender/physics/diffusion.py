"""How fast a vapor spreads through still air, and the Schmidt number.

The Fuller method needs a diffusion volume, which is a sum over atoms in cm3/mol. It is an
empirical fit in that unit, so the volume is the one quantity here that is not in SI.
"""

from __future__ import annotations

import math
import re
from typing import Final

from recommender.errors import InputError, PhysicsRangeError
from recommender.physics.constants import (
    AIR_MOLAR_MASS_KG_MOL,
    GAS_CONSTANT_J_MOL_K,
    STANDARD_ATMOSPHERE_PA,
    WATER_MOLAR_MASS_KG_MOL,
)
from recommender.physics.ranges import (
    AIR_TEMPERATURE_K,
    DIFFUSIVITY_M2_S,
    KINEMATIC_VISCOSITY_M2_S,
    MOLAR_MASS_KG_MOL,
    TOTAL_PRESSURE_PA,
    Range,
)

ATOMIC_DIFFUSION_VOLUMES_CM3_MOL: Final = {
    "C": 15.9,
    "H": 2.31,
    "O": 6.11,
    "N": 4.54,
    "F": 14.7,
    "Cl": 21.0,
    "Br": 21.9,
    "I": 29.8,
    "S": 22.9,
}
"""Fuller, Ensley and Giddings 1969, J. Phys. Chem. 73, 3679 (values read in public code citing
Poling, Prausnitz and O'Connell 2001, Table 11-1). Phosphorus, silicon and metals are absent."""

RING_DIFFUSION_VOLUME_CM3_MOL: Final = -18.3
"""Correction for each aromatic or heterocyclic ring (same source)."""

AIR_DIFFUSION_VOLUME_CM3_MOL: Final = 19.7
"""Air as one substance (same source)."""

_SMALL_MOLECULES: Final[dict[tuple[tuple[str, int], ...], float]] = {
    (("H", 2), ("O", 1)): 13.1,
    (("H", 3), ("N", 1)): 20.7,
    (("H", 2),): 6.12,
    (("N", 2),): 18.5,
    (("O", 2),): 16.3,
    (("C", 1), ("O", 1)): 18.0,
    (("C", 1), ("O", 2)): 26.9,
    (("N", 2), ("O", 1)): 35.9,
    (("O", 2), ("S", 1)): 41.8,
    (("F", 6), ("S", 1)): 71.3,
    (("Cl", 2),): 38.4,
    (("Br", 2),): 69.0,
}
# Molecules that the source lists whole; they differ from the sum over their atoms.

_PLAIN_FORMULA: Final = re.compile(r"(?:[A-Z][a-z]?(?:[1-9]\d{0,3})?)+")
_ATOM: Final = re.compile(r"([A-Z][a-z]?)(\d*)")
_RINGS: Final = Range(0, 20)
_DIFFUSION_VOLUME: Final = Range(2.0, 5000.0)
_VOLUME_ABOVE_ZERO: Final = Range(0.0, 5000.0, low_open=True)
_FULLER_COEFFICIENT: Final = 1.0e-7
_FULLER_EXPONENT: Final = 1.75
_GRAM_PER_KG: Final = 1000.0
_WATER_DIFFUSIVITY_M2_S: Final = 0.242e-4
_WATER_DIFFUSIVITY_TEMPERATURE_K: Final = 293.15
_SUTHERLAND_VISCOSITY_PA_S: Final = 1.716e-5
_SUTHERLAND_TEMPERATURE_K: Final = 273.15
_SUTHERLAND_CONSTANT_K: Final = 110.4


def _count_atoms(formula: str) -> dict[str, int]:
    """Count the atoms of a plain formula such as C4H8Cl2S."""
    counts: dict[str, int] = {}
    for symbol, number in _ATOM.findall(formula):
        counts[symbol] = counts.get(symbol, 0) + int(number or 1)
    return counts


def diffusion_volume(formula: str, aromatic_or_hetero_rings: int = 0) -> float | None:
    """Sum the Fuller diffusion volume of a molecule from its formula.

    Args:
        formula: Plain molecular formula such as C7H8; no brackets, charges or dots.
        aromatic_or_hetero_rings: Number of aromatic or heterocyclic rings, 0 to 20. A formula
            cannot tell; leaving it out makes the vapor slower, the cautious side.

    Returns:
        Volume in cm3/mol, or None when the method has no value for an element (phosphorus,
        silicon, metals): use `diffusivity_by_molar_mass_m2_s` then, and say so.

    Raises:
        InputError: The text is not a plain formula.
        PhysicsRangeError: The number of rings is out of range for the molecule.

    Reference: Fuller, Ensley and Giddings 1969, see `ATOMIC_DIFFUSION_VOLUMES_CM3_MOL`.

    Known defects: isomers share one value. Without the ring correction toluene comes out 6 %
    too slow.
    """
    if not _PLAIN_FORMULA.fullmatch(formula):
        raise InputError(f"{formula!r} is not a plain formula such as C7H8 or H2SO4.")
    _RINGS.check("aromatic_or_hetero_rings", aromatic_or_hetero_rings)
    counts = _count_atoms(formula)
    small = _SMALL_MOLECULES.get(tuple(sorted(counts.items())))
    if small is not None:
        return small
    if not counts.keys() <= ATOMIC_DIFFUSION_VOLUMES_CM3_MOL.keys():
        return None
    atoms = sum(ATOMIC_DIFFUSION_VOLUMES_CM3_MOL[a] * n for a, n in counts.items())
    volume = atoms + RING_DIFFUSION_VOLUME_CM3_MOL * aromatic_or_hetero_rings
    if volume <= 0.0:
        raise PhysicsRangeError(
            "aromatic_or_hetero_rings", aromatic_or_hetero_rings, f"fewer rings for {formula}"
        )
    return volume


def diffusivity_in_air_m2_s(
    *,
    diffusion_volume_cm3_mol: float,
    molar_mass_kg_mol: float,
    temperature_k: float,
    total_pressure_pa: float = STANDARD_ATMOSPHERE_PA,
) -> float:
    """Estimate how fast a vapor diffuses through air (Fuller, Schettler and Giddings).

    D = 1e-3 T^1.75 (1/M_air + 1/M)^0.5 / (Pt (V_air^(1/3) + V^(1/3))^2), with D in cm2/s, M in
    g/mol, Pt in atm.

    Args:
        diffusion_volume_cm3_mol: V, see `diffusion_volume`, 2 to 5000 cm3/mol.
        molar_mass_kg_mol: M, 0.002 to 2 kg/mol.
        temperature_k: T, 200 to 400 K.
        total_pressure_pa: Pt, 3e4 to 1.2e5 Pa.

    Returns:
        Diffusivity in m2/s.

    Raises:
        PhysicsRangeError: An argument is out of range.

    Reference: Fuller, Schettler and Giddings 1966, Ind. Eng. Chem. 58(5), 18 (equation from
    memory; same form read in public code), with the volumes of 1969.

    Known defects: within 17 % of 16 measured vapors in the diffusivity table of Perry's handbook
    (read), most within 10 %; extremes acetone (-17 %) and aniline (+17 %).
    """
    volume = _DIFFUSION_VOLUME.check("diffusion_volume_cm3_mol", diffusion_volume_cm3_mol)
    mass = MOLAR_MASS_KG_MOL.check("molar_mass_kg_mol", molar_mass_kg_mol)
    temperature = AIR_TEMPERATURE_K.check("temperature_k", temperature_k)
    total = TOTAL_PRESSURE_PA.check("total_pressure_pa", total_pressure_pa)
    masses = math.sqrt((1.0 / AIR_MOLAR_MASS_KG_MOL + 1.0 / mass) / _GRAM_PER_KG)
    size = (math.cbrt(AIR_DIFFUSION_VOLUME_CM3_MOL) + math.cbrt(volume)) ** 2
    warmth = _FULLER_COEFFICIENT * math.pow(temperature, _FULLER_EXPONENT)
    return warmth * masses / (size * total / STANDARD_ATMOSPHERE_PA)


def diffusivity_by_molar_mass_m2_s(
    *,
    molar_mass_kg_mol: float,
    temperature_k: float,
    total_pressure_pa: float = STANDARD_ATMOSPHERE_PA,
) -> float:
    """Guess a diffusivity from the molar mass alone. A rough fallback.

    D = D_water (M_water/M)^0.5, with D_water 0.242 cm2/s at 20 C and T^1.75/Pt.

    Args:
        molar_mass_kg_mol: M, 0.002 to 2 kg/mol.
        temperature_k: T, 200 to 400 K.
        total_pressure_pa: Pt, 3e4 to 1.2e5 Pa.

    Returns:
        Diffusivity in m2/s.

    Raises:
        PhysicsRangeError: An argument is out of range.

    Reference: mass scaling as in the EPA pool equation (judgement); D_water from Marrero and
    Mason 1972, J. Phys. Chem. Ref. Data 1, 3 (read in a handbook excerpt).

    Known defects: too HIGH for most organic vapors, by up to 54 % (aniline, tetradecane), which
    makes residence times up to 25 % short: the incautious side. Use only where
    `diffusion_volume` gives None.
    """
    mass = MOLAR_MASS_KG_MOL.check("molar_mass_kg_mol", molar_mass_kg_mol)
    temperature = AIR_TEMPERATURE_K.check("temperature_k", temperature_k)
    total = TOTAL_PRESSURE_PA.check("total_pressure_pa", total_pressure_pa)
    warmth = math.pow(temperature / _WATER_DIFFUSIVITY_TEMPERATURE_K, _FULLER_EXPONENT)
    scale = math.sqrt(WATER_MOLAR_MASS_KG_MOL / mass)
    return _WATER_DIFFUSIVITY_M2_S * scale * warmth * STANDARD_ATMOSPHERE_PA / total


def air_kinematic_viscosity_m2_s(
    temperature_k: float, total_pressure_pa: float = STANDARD_ATMOSPHERE_PA
) -> float:
    """Find the kinematic viscosity of air from Sutherland's law and the ideal gas.

    mu = 1.716e-5 (T/273.15)^1.5 (273.15 + 110.4)/(T + 110.4); nu = mu R T/(Pt M_air).

    Args:
        temperature_k: T, 200 to 400 K.
        total_pressure_pa: Pt, 3e4 to 1.2e5 Pa.

    Returns:
        Kinematic viscosity in m2/s (1.51e-5 at 20 C).

    Raises:
        PhysicsRangeError: An argument is out of range.

    Reference: Sutherland 1893 with textbook constants (from memory).

    Known defects: dry air; humidity changes it by less than 2 % in ordinary weather.
    """
    temperature = AIR_TEMPERATURE_K.check("temperature_k", temperature_k)
    total = TOTAL_PRESSURE_PA.check("total_pressure_pa", total_pressure_pa)
    viscosity = (
        _SUTHERLAND_VISCOSITY_PA_S
        * math.pow(temperature / _SUTHERLAND_TEMPERATURE_K, 1.5)
        * (_SUTHERLAND_TEMPERATURE_K + _SUTHERLAND_CONSTANT_K)
        / (temperature + _SUTHERLAND_CONSTANT_K)
    )
    return viscosity * GAS_CONSTANT_J_MOL_K * temperature / (total * AIR_MOLAR_MASS_KG_MOL)


def schmidt_number(diffusivity_m2_s: float, kinematic_viscosity_m2_s: float) -> float:
    """Compare how fast air spreads momentum with how fast it spreads a vapor.

    Sc = nu/D.

    Args:
        diffusivity_m2_s: D of the vapor in air, 1e-7 to 1e-3 m2/s.
        kinematic_viscosity_m2_s: nu of air, 1e-6 to 1e-3 m2/s.

    Returns:
        Schmidt number (0.6 for water vapor, 2 for solvents, 3 and more for heavy liquids).

    Raises:
        PhysicsRangeError: An argument is out of range.

    Reference: definition.

    Known defects: none beyond those of its inputs. D and nu must be at one temperature.
    """
    diffusivity = DIFFUSIVITY_M2_S.check("diffusivity_m2_s", diffusivity_m2_s)
    viscosity = KINEMATIC_VISCOSITY_M2_S.check("kinematic_viscosity_m2_s", kinematic_viscosity_m2_s)
    return viscosity / diffusivity
