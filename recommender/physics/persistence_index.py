"""Leitner's historical persistency index. For display only: no rule may read it."""

from __future__ import annotations

import math
from typing import Final

from recommender.physics.constants import PASCAL_PER_MMHG, WATER_MOLAR_MASS_KG_MOL
from recommender.physics.ranges import MOLAR_MASS_KG_MOL, TEMPERATURE_K, VAPOR_PRESSURE_PA

WATER_PRESSURE_AT_15_C_PA: Final = 12.79 * PASCAL_PER_MMHG
"""Vapor pressure of water at 15 C used by the index (textbook value, from memory)."""

_FIFTEEN_CELSIUS_K: Final = 288.15


def leitner_index(*, pressure_pa: float, molar_mass_kg_mol: float, temperature_k: float) -> float:
    """Compare how long a liquid lasts with how long water lasts at 15 C.

    S = (p_w15/p) (M_w T/(M T_15))^0.5; S = 1 for water at 15 C.

    Args:
        pressure_pa: p, vapor pressure at T, above 0 to 1e7 Pa.
        molar_mass_kg_mol: M, 0.002 to 2 kg/mol.
        temperature_k: T, 100 to 1000 K.

    Returns:
        Index without unit; larger lasts longer.

    Raises:
        PhysicsRangeError: An argument is out of range.

    Reference: Leitner's formula in the war-gas textbooks of the 1930s (Sartori, Prentiss);
    meaning of the symbols read in a transcription, formula and table values from memory.

    Known defects: ignores wind, film thickness and diffusivity. Printed tables used the vapor
    pressures of their day (mustard 67; modern data give 60). Never grade by it.
    """
    pressure = VAPOR_PRESSURE_PA.check("pressure_pa", pressure_pa)
    mass = MOLAR_MASS_KG_MOL.check("molar_mass_kg_mol", molar_mass_kg_mol)
    temperature = TEMPERATURE_K.check("temperature_k", temperature_k)
    ratio = WATER_MOLAR_MASS_KG_MOL * temperature / (mass * _FIFTEEN_CELSIUS_K)
    return WATER_PRESSURE_AT_15_C_PA / pressure * math.sqrt(ratio)
