"""Put together all that the store holds on one substance: values, points, what was passed over."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from recommender.library.build_curves import Curve
from recommender.library.build_read import KELVIN, Tabulated
from recommender.library.checks import Checked, Told, check
from recommender.library.consensus import (
    Consensus,
    Ledger,
    PassedOverValue,
    agree_on,
    keep_plausible,
)
from recommender.library.corrections import corrected, is_dropped
from recommender.library.estimates import general_solubility_g_l, henry_solubility_g_l
from recommender.library.features import Feature
from recommender.library.vapor import NAME as VAPOR_PRESSURE
from recommender.library.vapor import Anchors, vapor_points

MISCIBLE_G_L = 1000.0
# From here on Henry's law and the solubility equation stop: the two liquids mix, or nearly.
NEARLY_MISCIBLE_G_L = 100.0
# Half ranges in decades: two standard deviations of each method against measured solubilities.
HENRY_HALF = 0.8
EQUATION_LIQUID_HALF = 0.9
EQUATION_SOLID_HALF = 1.5
# Two methods this far apart contradict each other.
METHODS_APART = 1.5
# Molecules that boil below this are molecules, whatever their elements.
MOLECULAR_BOILING_C = 250.0
# Classes of the boiling-point equation, fitted over curves at 20 C (bias within 0.1 decades).
ATTRACTION = (
    (Feature.ACID_GROUP, 1.3),
    (Feature.SEVERAL_HYDROXYLS, 1.3),
    (Feature.HYDROXYL, 1.2),
    (Feature.AMINE_HYDROGEN, 1.08),
)
ATTRACTION_POLAR, ATTRACTION_HYDROCARBON = 1.03, 1.0
SOLID_FROM_C = 25.0
_ROOM_C = 25.0


@dataclass(frozen=True, slots=True)
class Evidence:
    """Everything the tables say of one substance."""

    cas: int
    formula: str
    molar_mass: float
    features: Feature
    tables: Mapping[str, Sequence[Tabulated]]
    curves: Sequence[Curve]
    joback_c: float | None
    liquid_from_c: float | None


def _agreed(evidence: Evidence, ledger: Ledger) -> dict[str, Consensus]:
    found = {}
    for name, values in evidence.tables.items():
        kept = corrected(evidence.cas, name, values, ledger)
        kept = keep_plausible(evidence.cas, name, kept, ledger)
        if kept:
            found[name] = agree_on(evidence.cas, name, kept, ledger)
    return found


def _is_salt(features: Feature) -> bool:
    """Salts and ions: no vapor of their own. What only is written as ions is no salt."""
    return bool(features & (Feature.IONIC_SALT | Feature.ION))


def _may_estimate(evidence: Evidence, boiling_c: float | None) -> bool:
    """Whether the substance is made of molecules, so that the boiling point speaks of them."""
    features = evidence.features
    if _is_salt(features) or Feature.PARSED not in features:
        return False
    if boiling_c is not None and boiling_c <= MOLECULAR_BOILING_C:
        return True
    odd = Feature.METAL | Feature.ELEMENT | Feature.SALT | Feature.SEVERAL_PARTS
    return not features & odd


def attraction(features: Feature, formula: str) -> float:
    """Return the factor of the boiling-point equation for a substance's class."""
    for feature, factor in ATTRACTION:
        if feature in features:
            return factor
    elements = {c for c in formula if c.isupper()}
    return ATTRACTION_HYDROCARBON if elements <= {"C", "H"} else ATTRACTION_POLAR


def _kelvin(value: Consensus | None) -> float | None:
    return None if value is None else value.value + KELVIN


def _anchors(evidence: Evidence, found: Mapping[str, Consensus], checked: Checked) -> Anchors:
    heat = found.get("heat_of_vaporization")
    boiling = checked.boiling
    return Anchors(
        boiling_k=_kelvin(boiling) if checked.boiling_is_trusted else None,
        boiling_doubt=checked.boiling_doubt,
        melting_k=_kelvin(checked.melting),
        critical_k=_kelvin(found.get("critical_temperature")),
        heat_298=None if heat is None else heat.value,
        attraction=attraction(evidence.features, evidence.formula),
        may_estimate=_may_estimate(evidence, None if boiling is None else boiling.value),
    )


def _curves(evidence: Evidence, ledger: Ledger) -> list[Curve]:
    """Curves that no correction takes away; none for a salt."""
    kept = []
    for curve in evidence.curves:
        correction = is_dropped(evidence.cas, VAPOR_PRESSURE, curve.source)
        if correction is not None:
            what = f"{curve.source}: {correction.reason}"
            ledger.add(evidence.cas, VAPOR_PRESSURE, what, correction.action)
        elif _is_salt(evidence.features):
            what = f"{curve.source}: a salt has no vapor pressure of its own"
            ledger.add(evidence.cas, VAPOR_PRESSURE, what, "drop")
        else:
            kept.append(curve)
    return kept


def _pressure_at_room(points: Sequence[Consensus]) -> Consensus | None:
    """The correlated vapor pressure at 25 C, between the points at 20 and 30 C."""
    near = {p.temperature_c: p for p in points if p.basis == "correlated"}
    cold, warm = near.get(20.0), near.get(30.0)
    if cold is None or warm is None:
        return cold
    return replace(cold, value=math.sqrt(cold.value * warm.value), temperature_c=_ROOM_C)


def _by_henry(
    evidence: Evidence, found: Mapping[str, Consensus], points: Sequence[Consensus]
) -> Consensus | None:
    henry = found.get("ln_henry")
    if henry is None or _is_salt(evidence.features) or Feature.MAKES_ACID in evidence.features:
        return None
    boiling = found.get("boiling_point")
    pressure = _pressure_at_room(points)
    if boiling is not None and boiling.value < _ROOM_C:
        pascal, how = 101325.0, "Henry constant, at one atmosphere"
    elif pressure is not None:
        pascal, how = pressure.value, "Henry constant and vapor pressure"
    else:
        return None
    value = henry_solubility_g_l(
        ln_henry=henry.value, pressure_pa=pascal, molar_mass=evidence.molar_mass
    )
    return _solubility(value, HENRY_HALF, how, "thermo")


def _by_equation(evidence: Evidence, found: Mapping[str, Consensus]) -> Consensus | None:
    kow, melting = found.get("log_kow"), found.get("melting_point")
    if kow is None or Feature.PARSED not in evidence.features or _is_salt(evidence.features):
        return None
    if Feature.ORGANIC not in evidence.features or Feature.METAL in evidence.features:
        return None
    if melting is None:
        return None
    value = general_solubility_g_l(
        log_kow=kow.value, melting_c=melting.value, molar_mass=evidence.molar_mass
    )
    half = EQUATION_SOLID_HALF if melting.value > _ROOM_C else EQUATION_LIQUID_HALF
    return _solubility(value, half, "General Solubility Equation", "chemicals")


def _solubility(value: float, half: float, how: str, package: str) -> Consensus:
    """One estimate with its range; what is nearly miscible may be miscible."""
    low, high = value * 10.0**-half, value * 10.0**half
    if high >= NEARLY_MISCIBLE_G_L and value >= NEARLY_MISCIBLE_G_L:
        high = max(high, MISCIBLE_G_L)
    value, low, high = (min(x, MISCIBLE_G_L) for x in (value, low, high))
    return Consensus(value, low, high, "estimated", how, package, 1, _ROOM_C)


def solubility(
    evidence: Evidence, found: Mapping[str, Consensus], points: Sequence[Consensus], ledger: Ledger
) -> Consensus | None:
    """Estimate the solubility in water: Henry's law leads, the solubility equation is beside it."""
    henry, equation = _by_henry(evidence, found, points), _by_equation(evidence, found)
    lead = henry or equation
    if henry is None or equation is None or lead is None:
        return lead
    apart = abs(math.log10(henry.value / equation.value))
    if apart > METHODS_APART:
        what = f"Henry constant gives {henry.value:.3g} g/L, the equation {equation.value:.3g}"
        ledger.add(evidence.cas, "water_solubility", what, "widen", apart)
        lead = replace(lead, low=min(lead.low, equation.value), high=max(lead.high, equation.value))
    other = Tabulated(equation.note, "equation", equation.value, _ROOM_C, equation.package)
    return replace(lead, passed_over=(PassedOverValue(other, ""),))


def assemble(evidence: Evidence, ledger: Ledger) -> dict[str, list[Consensus]]:
    """Return every property of one substance; vapor pressure as points, the rest as one value."""
    found = _agreed(evidence, ledger)
    told = Told(
        melting=found.get("melting_point"),
        boiling=found.get("boiling_point"),
        curves=_curves(evidence, ledger),
        joback_c=evidence.joback_c,
        liquid_from_c=evidence.liquid_from_c,
        is_organic=Feature.CARBON_HYDROGEN in evidence.features,
        attraction=attraction(evidence.features, evidence.formula),
    )
    checked = check(evidence.cas, told, ledger)
    for name, value in (("melting_point", checked.melting), ("boiling_point", checked.boiling)):
        if value is not None:
            found[name] = value
        else:
            found.pop(name, None)
    if checked.melting is not None and checked.melting.low > SOLID_FROM_C:
        # A viscosity at 20 C of what is solid there is a correlation run past its end.
        found.pop("viscosity", None)
    points = []
    if not _is_salt(evidence.features):
        anchors = _anchors(evidence, found, checked)
        points = vapor_points(evidence.cas, checked.curves, anchors, ledger)
    dissolved = solubility(evidence, found, points, ledger)
    if dissolved is not None:
        found["water_solubility"] = dissolved
    properties = {name: [value] for name, value in found.items()}
    if points:
        properties[VAPOR_PRESSURE] = points
    return properties
