"""Vapor pressure where somebody stated it: their level, and the slope of what else is held.

The stated value sets how high the curve lies; the points held set how it bends, so that a lower
stated value is lower at every temperature. Without points the boiling point gives the slope, and
without that the default heat of vaporization.

A single stated value keeps the relative range of the measured values it takes the place of: one
number off a sheet does not say how sure it is. For a mixture it does not raise the low end held
either: a sheet gives the vapor pressure of the part that leaves first. A range stands as it was
stated. Either widens with the distance from the temperature that was stated.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from recommender.chemicals.table import PropertyValue
from recommender.errors import PhysicsRangeError
from recommender.facts import Number, PassedOver, Provenance
from recommender.limits import Limits
from recommender.physics.constants import GAS_CONSTANT_J_MOL_K
from recommender.physics.ranges import HEAT_OF_VAPORIZATION_J_MOL
from recommender.physics.vapor import (
    clausius_clapeyron_pressure_pa,
    trouton_heat_of_vaporization_j_mol,
)
from recommender.properties.values import stated_value
from recommender.properties.vapor_pressure import (
    ATMOSPHERE_PA,
    KELVIN,
    NAME,
    heat_of_vaporization_j_mol,
    vapor_pressure_at,
)

# Ends of what the equations take, and of what makes sense of any product.
_LEAST_PA, _MOST_PA = 1e-12, 1e7
_SAME_TEMPERATURE_C = 0.5


def pressure_at(
    values: Sequence[PropertyValue],
    boiling_point_c: float | None,
    temperature_c: float,
    limits: Limits,
) -> Number:
    """Return the vapor pressure in Pa at a temperature, as stated or as held.

    Args:
        values: stated and published values of the part that governs persistence.
        boiling_point_c: normal boiling point of a pure chemical; None for a mixture.
        temperature_c: film temperature.
        limits: supplies the uncertainty factors.
    """
    lead = stated_value(values)
    if lead is None:
        return vapor_pressure_at(values, boiling_point_c, temperature_c, limits)
    held = tuple(v for v in values if v is not lead)
    beside = vapor_pressure_at(held, boiling_point_c, temperature_c, limits)
    at_c = stated_temperature_c(lead, limits)
    shape = _shape(lead, held, boiling_point_c, temperature_c, limits)
    middle = min(max(lead.value * shape, _LEAST_PA), _MOST_PA)
    low, high = _relative_range(lead, beside, limits)
    least = middle
    if boiling_point_c is None and lead.low is None and beside.low is not None:
        least = beside.low  # a mixture: what was stated is of the part that leaves first
    widen = 1.0 + limits.value("uncertainty.vapor_pressure_per_kelvin") * abs(temperature_c - at_c)
    note = lead.note
    if abs(temperature_c - at_c) > _SAME_TEMPERATURE_C:
        note = f"{note}; moved from {round(at_c, 1):g} C"
    return Number(
        NAME,
        max(min(middle * low / widen, least), _LEAST_PA),
        middle,
        max(middle, min(middle * high * widen, _MOST_PA)),
        "Pa",
        Provenance(lead.basis, lead.source, lead.provenance, note),
        temperature_c,
        passed_over=_passed_over(beside),
    )


def heat_at(
    values: Sequence[PropertyValue],
    boiling_point_c: float | None,
    temperature_c: float,
    limits: Limits,
) -> float:
    """Heat of vaporization in J/mol near a temperature, as the curve in use implies it."""
    lead = stated_value(values)
    if lead is None:
        return heat_of_vaporization_j_mol(values, boiling_point_c, temperature_c, limits)
    held = tuple(v for v in values if v is not lead)
    if _has_points(held):
        return heat_of_vaporization_j_mol(held, boiling_point_c, temperature_c, limits)
    return _heat(lead, boiling_point_c, limits)


def stated_temperature_c(lead: PropertyValue, limits: Limits) -> float:
    """Return the temperature of a stated value; the one taken where none was stated."""
    if lead.temperature_c is None:
        return limits.value("uncertainty.stated_temperature")
    return lead.temperature_c


def held_pressure_at_stated(
    values: Sequence[PropertyValue], boiling_point_c: float | None, limits: Limits
) -> Number | None:
    """Return what is held at the temperature of the stated value; None where nothing is."""
    lead = stated_value(values)
    if lead is None:
        return None
    held = tuple(v for v in values if v is not lead)
    number = vapor_pressure_at(held, boiling_point_c, stated_temperature_c(lead, limits), limits)
    return number if number.is_known else None


def _has_points(held: Sequence[PropertyValue]) -> bool:
    return any(v.counts and v.value > 0 and v.temperature_c is not None for v in held)


def _shape(
    lead: PropertyValue,
    held: Sequence[PropertyValue],
    boiling_point_c: float | None,
    temperature_c: float,
    limits: Limits,
) -> float:
    """Return by what the pressure changes from the stated temperature to another."""
    at_c = stated_temperature_c(lead, limits)
    if _has_points(held):
        there = vapor_pressure_at(held, boiling_point_c, temperature_c, limits).mid
        here = vapor_pressure_at(held, boiling_point_c, at_c, limits).mid
        if there and here:
            return there / here
    return clausius_clapeyron_pressure_pa(
        reference_pressure_pa=1.0,
        reference_temperature_k=at_c + KELVIN,
        heat_of_vaporization_j_mol=_heat(lead, boiling_point_c, limits),
        temperature_k=temperature_c + KELVIN,
    )


def _heat(lead: PropertyValue, boiling_point_c: float | None, limits: Limits) -> float:
    """Heat that joins the stated value with the boiling point, and no less than the usual one.

    A stated value too high for the boiling point would give a flat curve, and hide how much less
    evaporates in the cold.
    """
    default = limits.value("uncertainty.default_heat")
    if boiling_point_c is None:
        return default
    boiling_k, at_k = boiling_point_c + KELVIN, stated_temperature_c(lead, limits) + KELVIN
    try:
        usual = trouton_heat_of_vaporization_j_mol(boiling_k)
    except PhysicsRangeError:  # boils colder or hotter than the equations hold
        return default
    if at_k >= boiling_k:
        return usual
    rise = math.log(ATMOSPHERE_PA / lead.value)
    joined = GAS_CONSTANT_J_MOL_K * rise / (1.0 / at_k - 1.0 / boiling_k)
    return min(max(usual, joined), HEAT_OF_VAPORIZATION_J_MOL.high)


def _relative_range(lead: PropertyValue, beside: Number, limits: Limits) -> tuple[float, float]:
    """Return the ends as shares of the middle, before what the distance adds."""
    untimed = 1.0
    if lead.temperature_c is None:
        untimed = limits.value("uncertainty.stated_temperature_factor")
    if lead.low is not None and lead.high is not None:
        return lead.low / lead.value / untimed, lead.high / lead.value
    factor = limits.value("uncertainty.vapor_pressure")
    low, high = 1.0 / factor, factor
    if beside.low and beside.mid and beside.high and beside.origin.basis != "estimated":
        low, high = min(low, beside.low / beside.mid), max(high, beside.high / beside.mid)
    return low / untimed, high


def _passed_over(beside: Number) -> tuple[PassedOver, ...]:
    """What is held at the same temperature, which the stated value takes the place of."""
    if beside.mid is None:
        return ()
    origin = beside.origin
    said = "; ".join(t for t in (origin.basis, origin.note) if t)
    return (PassedOver(beside.mid, origin.source, said), *beside.passed_over)
