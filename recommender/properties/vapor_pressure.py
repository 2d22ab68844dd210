"""Vapor pressure at the film's temperature, with its range and basis.

Measured points lead. Between two points the logarithm of pressure is interpolated in the inverse
temperature (Clausius-Clapeyron with the heat of vaporization that the points imply); the normal
boiling point counts as a point of a pure chemical. Beyond the points the nearest pair is
extended, and the range widens with the distance.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from recommender.chemicals.table import PropertyValue
from recommender.errors import PhysicsRangeError
from recommender.facts import Number, PassedOver, Provenance, unknown_number
from recommender.limits import Limits
from recommender.physics.vapor import (
    clausius_clapeyron_pressure_pa,
    heat_of_vaporization_from_points_j_mol,
    trouton_heat_of_vaporization_j_mol,
)
from recommender.properties.values import spread

KELVIN = 273.15
ATMOSPHERE_PA = 101325.0
NAME = "vapor_pressure"
_SAME_TEMPERATURE_K = 0.5
_HIGH_ENOUGH_PA = 1000.0
# The equations hold between these; metals, salts and deep-cold liquids lie outside.
_RANGE_K = (100.0, 1000.0)


@dataclass(frozen=True, slots=True)
class _Point:
    temperature_k: float
    pressure_pa: float
    low_pa: float
    high_pa: float
    is_boiling_point: bool
    origin: Provenance


def _points(
    values: Sequence[PropertyValue], boiling_point_k: float | None, factor: float
) -> list[_Point]:
    points = []
    for value in values:
        if value.temperature_c is None or value.value <= 0 or not value.counts:
            continue
        if not _RANGE_K[0] <= value.temperature_c + KELVIN <= _RANGE_K[1]:
            continue
        low, high = spread(value, factor)
        origin = Provenance(value.basis, value.source, value.provenance, value.note)
        points.append(_Point(value.temperature_c + KELVIN, value.value, low, high, False, origin))
    if (
        boiling_point_k is not None
        and _RANGE_K[0] <= boiling_point_k <= _RANGE_K[1]
        and all(abs(p.temperature_k - boiling_point_k) > _SAME_TEMPERATURE_K for p in points)
    ):
        origin = Provenance("measured", "judgement", "judgement", "normal boiling point")
        points.append(
            _Point(boiling_point_k, ATMOSPHERE_PA, ATMOSPHERE_PA, ATMOSPHERE_PA, True, origin)
        )
    return sorted(points, key=lambda p: p.temperature_k)


def _heat_j_mol(points: Sequence[_Point], temperature_k: float, default_j_mol: float) -> float:
    """Heat of vaporization implied by the pair of points around (or next to) a temperature."""
    if len(points) == 1:
        only = points[0]
        if only.is_boiling_point:
            return trouton_heat_of_vaporization_j_mol(only.temperature_k)
        return default_j_mol
    above = next(
        (i for i, p in enumerate(points) if p.temperature_k >= temperature_k), len(points) - 1
    )
    above = max(1, above)
    first, second = points[above - 1], points[above]
    if second.pressure_pa <= first.pressure_pa:
        return default_j_mol
    try:
        return heat_of_vaporization_from_points_j_mol(
            pressure_1_pa=first.pressure_pa,
            temperature_1_k=first.temperature_k,
            pressure_2_pa=second.pressure_pa,
            temperature_2_k=second.temperature_k,
        )
    except PhysicsRangeError:  # the two contradict each other, or nearly coincide
        return default_j_mol


def heat_of_vaporization_j_mol(
    values: Sequence[PropertyValue],
    boiling_point_c: float | None,
    temperature_c: float,
    limits: Limits,
) -> float:
    """Heat of vaporization in J/mol that the points imply near a temperature."""
    boiling_k = None if boiling_point_c is None else boiling_point_c + KELVIN
    points = _points(values, boiling_k, 1.0)
    default = limits.value("uncertainty.default_heat")
    return _heat_j_mol(points, temperature_c + KELVIN, default) if points else default


def vapor_pressure_at(
    values: Sequence[PropertyValue],
    boiling_point_c: float | None,
    temperature_c: float,
    limits: Limits,
) -> Number:
    """Return the vapor pressure in Pa at a temperature.

    Args:
        values: measured points of the part that governs persistence.
        boiling_point_c: normal boiling point of a pure chemical; None for a mixture.
        temperature_c: film temperature.
        limits: supplies the uncertainty factors.
    """
    factor = limits.value("uncertainty.vapor_pressure")
    boiling_k = None if boiling_point_c is None else boiling_point_c + KELVIN
    points = _points(values, boiling_k, factor)
    if not points:
        return unknown_number(NAME, "Pa")
    temperature_k = temperature_c + KELVIN
    heat = _heat_j_mol(points, temperature_k, limits.value("uncertainty.default_heat"))
    measured = [p for p in points if not p.is_boiling_point]
    near = min(measured or points, key=lambda p: abs(p.temperature_k - temperature_k))
    anchor = min(points, key=lambda p: abs(p.temperature_k - temperature_k))
    pressure = clausius_clapeyron_pressure_pa(
        reference_pressure_pa=anchor.pressure_pa,
        reference_temperature_k=anchor.temperature_k,
        heat_of_vaporization_j_mol=heat,
        temperature_k=temperature_k,
    )
    low, high, origin = _range_and_origin(near, pressure, temperature_k, bool(measured), limits)
    return Number(
        NAME,
        low,
        pressure,
        high,
        "Pa",
        origin,
        temperature_c,
        passed_over=_passed_over(values, near, pressure),
    )


def _range_and_origin(
    near: _Point, pressure_pa: float, temperature_k: float, is_measured: bool, limits: Limits
) -> tuple[float, float, Provenance]:
    """Low end, high end and origin, wider with the distance from the nearest measured point."""
    distance = abs(near.temperature_k - temperature_k)
    widen = 1.0 + limits.value("uncertainty.vapor_pressure_per_kelvin") * distance
    origin = near.origin
    if not is_measured:
        widen *= limits.value("uncertainty.boiling_point_only")
        origin = Provenance("estimated", "judgement", "judgement", "from the boiling point alone")
    elif distance > _SAME_TEMPERATURE_K:
        said = f"from {near.temperature_k - KELVIN:g} C; {near.origin.note}".rstrip("; ")
        basis = "correlated" if near.origin.basis == "measured" else near.origin.basis
        origin = replace(near.origin, basis=basis, note=said)
    low = pressure_pa * (near.low_pa / near.pressure_pa) / widen
    if not is_measured:
        # A constant heat from the boiling point reads the more too high the lower the pressure:
        # by two decades near 0.3 Pa, against correlations of the reference library.
        low /= max(1.0, _HIGH_ENOUGH_PA / pressure_pa) ** 0.5
    high = pressure_pa * (near.high_pa / near.pressure_pa) * widen
    # A range that ends at its own value must not cross it by a rounding error.
    return min(low, pressure_pa), max(high, pressure_pa), origin


def _passed_over(
    values: Sequence[PropertyValue], near: _Point, pressure_pa: float
) -> tuple[PassedOver, ...]:
    """Values at the nearest point that do not count, moved along with the one that does."""
    return tuple(
        PassedOver(value.value * pressure_pa / near.pressure_pa, value.source, value.note)
        for value in values
        if not value.counts
        and value.temperature_c is not None
        and abs(value.temperature_c + KELVIN - near.temperature_k) <= _SAME_TEMPERATURE_K
    )
