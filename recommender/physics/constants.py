"""Physical constants, each with its source.

Planning numbers do not belong here; see the package docstring.
"""

from __future__ import annotations

from typing import Final

GAS_CONSTANT_J_MOL_K: Final = 8.314462618
"""Molar gas constant R (exact in the SI since 2019; CODATA 2018, from memory)."""

STANDARD_ATMOSPHERE_PA: Final = 101_325.0
"""One standard atmosphere (exact by definition)."""

STANDARD_GRAVITY_M_S2: Final = 9.806_65
"""Standard acceleration of gravity (exact by definition)."""

ZERO_CELSIUS_K: Final = 273.15
"""The Celsius zero in kelvin (exact by definition)."""

PASCAL_PER_MMHG: Final = 133.322_387
"""One conventional millimeter of mercury (from memory; the torr differs by 1 part in 7 million)."""

AIR_MOLAR_MASS_KG_MOL: Final = 0.028_97
"""Mean molar mass of dry air (textbook value, from memory)."""

AIR_HEAT_CAPACITY_J_KG_K: Final = 1006.0
"""Heat capacity of dry air at constant pressure near 20 C (textbook value, from memory)."""

AIR_PRANDTL_NUMBER: Final = 0.71
"""Prandtl number of air near 20 C (textbook value, from memory)."""

WATER_MOLAR_MASS_KG_MOL: Final = 0.018_015
"""Molar mass of water (from standard atomic weights)."""
