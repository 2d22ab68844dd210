"""The one check every argument of an equation goes through.

A `Range` is a pair of bounds, each included or excluded. `Range.check` returns the value when it
is finite and inside and raises `PhysicsRangeError` otherwise. The named ranges below are shared
by several equations: wide enough for any real product or weather, narrow enough to catch a value
in the wrong unit (grams for kilograms, Celsius for kelvin). They are judgement, not physics; an
equation with a tighter published range says so in its docstring.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from recommender.errors import PhysicsRangeError


@dataclass(frozen=True, slots=True)
class Range:
    """Bounds of an argument.

    Attributes:
        low: Lower bound.
        high: Upper bound.
        low_open: True when the lower bound itself is refused.
        high_open: True when the upper bound itself is refused.
    """

    low: float
    high: float
    low_open: bool = False
    high_open: bool = False

    def check(self, argument: str, value: float) -> float:
        """Return the value when it is finite and inside the range.

        Args:
            argument: Name to show in the error, ending in the unit.
            value: The value to check.

        Returns:
            The same value.

        Raises:
            PhysicsRangeError: The value is not finite or lies outside.
        """
        above = value > self.low if self.low_open else value >= self.low
        below = value < self.high if self.high_open else value <= self.high
        if math.isfinite(value) and above and below:
            return value
        raise PhysicsRangeError(argument, value, self.in_words())

    def in_words(self) -> str:
        """Say the range as it is shown in an error."""
        low = f"above {self.low:.10g}" if self.low_open else f"at least {self.low:.10g}"
        high = f"below {self.high:.10g}" if self.high_open else f"at most {self.high:.10g}"
        return f"{low} and {high}"


TEMPERATURE_K: Final = Range(100.0, 1000.0)
AIR_TEMPERATURE_K: Final = Range(200.0, 400.0)
VAPOR_PRESSURE_PA: Final = Range(0.0, 1.0e7, low_open=True)
TOTAL_PRESSURE_PA: Final = Range(3.0e4, 1.2e5)
MOLAR_MASS_KG_MOL: Final = Range(0.002, 2.0)
HEAT_OF_VAPORIZATION_J_MOL: Final = Range(5.0e3, 4.0e5)
WIND_SPEED_M_S: Final = Range(0.1, 40.0)
PATCH_LENGTH_M: Final = Range(0.01, 100.0)
SCHMIDT_NUMBER: Final = Range(0.1, 20.0)
DIFFUSIVITY_M2_S: Final = Range(1.0e-7, 1.0e-3)
KINEMATIC_VISCOSITY_M2_S: Final = Range(1.0e-6, 1.0e-3)
LIQUID_DENSITY_KG_M3: Final = Range(300.0, 2.5e4)
FRACTION: Final = Range(0.0, 1.0)


def partial_pressure_range(total_pressure_pa: float) -> Range:
    """Give the range of a partial pressure that may reach the total pressure.

    Args:
        total_pressure_pa: Air pressure, 3e4 to 1.2e5 Pa.

    Returns:
        Zero to the total pressure, both included.

    Raises:
        PhysicsRangeError: The total pressure is out of range.
    """
    return Range(0.0, TOTAL_PRESSURE_PA.check("total_pressure_pa", total_pressure_pa))


def below_boiling_range(total_pressure_pa: float) -> Range:
    """Give the range of the vapor pressure of a liquid that does not boil.

    Args:
        total_pressure_pa: Air pressure, 3e4 to 1.2e5 Pa.

    Returns:
        Zero (included) to the total pressure (excluded).

    Raises:
        PhysicsRangeError: The total pressure is out of range.
    """
    total = TOTAL_PRESSURE_PA.check("total_pressure_pa", total_pressure_pa)
    return Range(0.0, total, high_open=True)
