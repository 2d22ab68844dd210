"""Checks of one substance's constants against each other and against its curves.

Each check drops or doubts the value that is likelier wrong and says so in the ledger.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from recommender.library.build_curves import LIQUID, SOLID, Curve
from recommender.library.build_read import KELVIN
from recommender.library.consensus import MAJORITY, Consensus, Ledger
from recommender.library.estimates import boiling_point_log_pressure
from recommender.library.vapor import NAME as VAPOR_PRESSURE
from recommender.library.vapor import log_over_atmosphere, slope_heat

# A curve within 0.1 decades (26 %) of one atmosphere at the boiling point confirms it: that is 5
# to 8 K, what handbooks differ by.
CONFIRMS = 0.1
# Half a decade is 25 to 40 K: another substance, another pressure, or a bad row.
REFUTES = 0.5
# A curve that ends below the boiling point is held against the pressure that the boiling point
# implies at its end: more than this apart, in decades, the two cannot be of one substance.
REFUTES_FAR = 1.5
REFUTES_FAR_PER_DECADE = 0.5
# Entropies of vaporization, J/mol/K: helium has 45 at its coldest, metals that sublime 2000.
# Outside, coefficients are garbled.
PLAUSIBLE_ENTROPY = (15.0, 2500.0)
# No pressure in a range where a curve claims to hold goes past this: hydrogen boils at less.
MOST_PRESSURE_PA = 1e8
# Below three quarters of its group-contribution value (absolute) a lone boiling point was taken
# under vacuum; of 3,900 confirmed boiling points under 700 K one in a hundred is as low.
VACUUM_SHARE = 0.75
JOBACK_REACH_K = 700.0
# Nothing organic boils unchanged above 500 C: such values are group contributions in disguise.
HOTTEST_ORGANIC_C = 500.0
# A lone value of the Yaws table may be an estimate: nine in ten are this near to others' values.
YAWS_DOUBT_K = 10.0
YAWS_DOUBT_HOT_K = 40.0
YAWS_HOT_C = 300.0
YAWS_DOUBT_DECADES = 0.3
# A melting point this far above the lower end of a measured liquid's range cannot be right.
LIQUID_BELOW_MELTING_K = 30.0
# Nothing boils this close above its melting point: one was entered as the other.
SAME_POINT_K = 3.0
# Families whose curves for liquids begin at or near the melting point.
_FROM_MELTING = frozenset({"vdi", "dippr", "mcgarry", "chemsep", "reference"})
# Above this the two points are told apart by handbooks' scatter.
MELTS_ABOVE_BOILING_K = 2.0
ROOM_C = 20.0


@dataclass(frozen=True, slots=True)
class Told:
    """What is checked.

    Attributes:
        melting, boiling: what the tables agree on.
        curves: vapor pressure curves.
        joback_c: group-contribution boiling point, only to doubt with.
        liquid_from_c: the lowest temperature at which a viscosity of its liquid was fitted.
        is_organic: whether it holds carbon with hydrogen; carbides boil as hot as they like.
        attraction: factor of the boiling-point equation for its class.
    """

    melting: Consensus | None
    boiling: Consensus | None
    curves: Sequence[Curve]
    joback_c: float | None
    liquid_from_c: float | None
    is_organic: bool
    attraction: float


@dataclass(frozen=True, slots=True)
class Checked:
    """What is left after the checks."""

    melting: Consensus | None
    boiling: Consensus | None
    curves: tuple[Curve, ...]
    boiling_is_trusted: bool
    boiling_doubt: float
    sublimes: bool


def sane_curves(cas: int, curves: Sequence[Curve], ledger: Ledger) -> list[Curve]:
    """Drop curves whose coefficients are absurd in their own range."""
    kept = []
    for curve in curves:
        reason = _absurd(curve)
        if reason:
            what = f"{curve.source}, {curve.low_k:.0f} to {curve.high_k:.0f} K: {reason}"
            ledger.add(cas, VAPOR_PRESSURE, what, "drop")
        else:
            kept.append(curve)
    return kept


def _absurd(curve: Curve) -> str:
    """Say what is absurd about a curve, or nothing."""
    for share in (0.02, 0.5, 0.9):
        temperature = curve.low_k + share * (curve.high_k - curve.low_k)
        pressure, heat = curve.at(temperature), slope_heat(curve, temperature)
        if pressure is None or heat is None:
            return "gives no pressure"
        if pressure > MOST_PRESSURE_PA:
            return f"{pressure:.3g} Pa at {temperature:.0f} K"
        if not PLAUSIBLE_ENTROPY[0] <= heat / temperature <= PLAUSIBLE_ENTROPY[1]:
            return f"heat of vaporization {heat:.3g} J/mol at {temperature:.0f} K"
    return ""


def _check_alone(
    cas: int, boiling: Consensus, joback_c: float | None, is_organic: bool, ledger: Ledger
) -> Consensus | None:
    """Doubt a boiling point without looking at curves."""
    if is_organic and boiling.value > HOTTEST_ORGANIC_C:
        what = f"{boiling.note} says {boiling.value:.0f} C: no organic substance boils so hot"
        ledger.add(cas, "boiling_point", what, "drop", boiling.value - HOTTEST_ORGANIC_C)
        return None
    if boiling.voices == 1 and joback_c is not None and _under_vacuum(boiling.value, joback_c):
        what = f"{boiling.note} says {boiling.value:.0f} C, groups suggest {joback_c:.0f}: "
        what += "under vacuum"
        ledger.add(cas, "boiling_point", what, "drop", joback_c - boiling.value)
        return None
    if boiling.note == "Yaws":
        doubt = YAWS_DOUBT_HOT_K if boiling.value > YAWS_HOT_C else YAWS_DOUBT_K
        return replace(
            boiling, low=boiling.value - doubt, high=boiling.value + doubt, basis="estimated"
        )
    return boiling


def _under_vacuum(boiling_c: float, joback_c: float) -> bool:
    """Whether a boiling point lies so far under its group-contribution value."""
    groups_k = joback_c + KELVIN
    return groups_k < JOBACK_REACH_K and boiling_c + KELVIN < VACUUM_SHARE * groups_k


def _check_curves(
    cas: int,
    boiling: Consensus,
    curves: list[Curve],
    joback_c: float | None,
    attraction: float,
    ledger: Ledger,
) -> tuple[Consensus | None, list[Curve], bool]:
    """Hold a boiling point against the curves: (boiling point, curves, whether one confirms)."""
    off = {
        id(c): d
        for c in curves
        if c.phase == LIQUID and (d := _off(c, boiling.value + KELVIN, attraction)) is not None
    }
    good = [c for c in curves if abs(off.get(id(c), 9.0)) <= CONFIRMS]
    bad = [c for c in curves if abs(off.get(id(c), 0.0)) > CONFIRMS]
    for curve in bad:
        if abs(off[id(curve)]) <= REFUTES and not good:
            what = f"{curve.source} is {10 ** off[id(curve)]:.2f} atm at {boiling.value:.0f} C"
            ledger.add(cas, VAPOR_PRESSURE, what, "flag", abs(off[id(curve)]))
    refuted = [c for c in bad if abs(off[id(c)]) > REFUTES]
    if not refuted:
        return boiling, curves, bool(good)
    worst = max(refuted, key=lambda c: abs(off[id(c)]))
    atmospheres = f"{worst.source} is {10 ** off[id(worst)]:.3g} atm at {boiling.value:.0f} C"
    if not good and _boiling_is_wrong(boiling, refuted, off, joback_c):
        what = f"{boiling.note} says {boiling.value:.0f} C, but {atmospheres}"
        ledger.add(cas, "boiling_point", what, "drop", abs(off[id(worst)]))
        return None, curves, False
    ledger.add(cas, VAPOR_PRESSURE, atmospheres, "drop", abs(off[id(worst)]))
    return boiling, [c for c in curves if c not in refuted], bool(good)


def _off(curve: Curve, boiling_k: float, attraction: float) -> float | None:
    """Decades by which a curve misses one atmosphere at a boiling point; None if it cannot tell.

    A curve that ends well below is compared at its end, and counts only when it is far off.
    """
    near = log_over_atmosphere(curve, boiling_k)
    if near is not None or curve.high_k >= boiling_k:
        return near
    pressure = curve.at(curve.high_k)
    if pressure is None:
        return None
    said = math.log10(pressure)
    implied = boiling_point_log_pressure(
        boiling_k=boiling_k, temperature_k=curve.high_k, attraction=attraction
    )
    allowed = REFUTES_FAR + REFUTES_FAR_PER_DECADE * max(0.0, 1.0 - min(said, implied))
    return said - implied if abs(said - implied) > allowed else None


def _boiling_is_wrong(
    boiling: Consensus, refuted: Sequence[Curve], off: dict[int, float], joback_c: float | None
) -> bool:
    """Whether the boiling point, rather than the curves that refute it, is likelier wrong.

    Two voices against one decide. Else the group-contribution boiling point does, when it stands
    clearly nearer to one of the two. Else a curve that is low at a boiling point speaks of a
    boiling point under vacuum, the commoner slip.
    """
    families = {c.family for c in refuted}
    if (boiling.voices >= MAJORITY) != (len(families) >= MAJORITY):
        return len(families) >= MAJORITY
    curve = refuted[0]
    if joback_c is not None and joback_c + KELVIN < JOBACK_REACH_K:
        reaches = _boils_at(curve, boiling.value + KELVIN, off[id(curve)]) - KELVIN
        to_boiling, to_curve = abs(joback_c - boiling.value), abs(joback_c - reaches)
        if abs(to_boiling - to_curve) > 0.5 * max(to_boiling, to_curve):
            return to_boiling > to_curve
    return off[id(curve)] < 0


def _boils_at(curve: Curve, near_k: float, decades: float) -> float:
    """Where a curve would reach one atmosphere, to first order."""
    heat = slope_heat(curve, min(max(near_k, curve.low_k + 1.0), curve.high_k - 1.0)) or 40_000.0
    inverse = 1.0 / near_k + 8.314 * 2.302585 * decades / heat
    return 1.0 / inverse if inverse > 0 else near_k


def _check_melting(
    cas: int,
    melting: Consensus,
    boiling: Consensus | None,
    curves: Sequence[Curve],
    liquid_from_c: float | None,
    ledger: Ledger,
) -> tuple[Consensus | None, Consensus | None, bool]:
    """Hold a melting point against the boiling point and liquids: (melting, boiling, sublimes)."""
    lone = melting.voices < MAJORITY
    if lone and boiling is not None and abs(melting.value - boiling.value) <= SAME_POINT_K:
        what = f"{melting.note} says {melting.value:.0f} C, which is the boiling point"
        ledger.add(cas, "melting_point", what, "drop")
        return None, boiling, False
    below = 0.0 if liquid_from_c is None else melting.value - liquid_from_c
    if lone and melting.value > ROOM_C and below > LIQUID_BELOW_MELTING_K:
        what = f"{melting.note} says {melting.value:.0f} C, a liquid at {liquid_from_c:.0f}"
        ledger.add(cas, "melting_point", what, "drop", below)
        return None, boiling, False
    if boiling is None or melting.value <= boiling.value + MELTS_ABOVE_BOILING_K:
        return melting, boiling, False
    apart = melting.value - boiling.value
    what = f"melts at {melting.value:.0f} C ({melting.note}), boils at {boiling.value:.0f} C "
    what += f"({boiling.note})"
    if any(c.phase == SOLID for c in curves) or (not lone and boiling.voices >= MAJORITY):
        ledger.add(cas, "boiling_point", what + ": taken to sublime", "flag", apart)
        return melting, boiling, True
    if lone and boiling.voices >= MAJORITY:
        ledger.add(cas, "melting_point", what, "drop", apart)
        return None, boiling, False
    ledger.add(cas, "boiling_point", what, "drop", apart)
    return melting, None, False


def _first_liquid_c(told: Told, curves: Sequence[Curve]) -> float | None:
    """Lowest temperature at which anything was fitted to its liquid."""
    found = [c.low_k - KELVIN for c in curves if c.phase == LIQUID and c.family in _FROM_MELTING]
    if told.liquid_from_c is not None:
        found.append(told.liquid_from_c)
    return min(found, default=None)


def check(cas: int, told: Told, ledger: Ledger) -> Checked:
    """Run every check on one substance.

    Args:
        cas: CAS number, for the ledger.
        told: what the tables say.
        ledger: where drops are recorded.
    """
    melting, boiling = told.melting, told.boiling
    kept = sane_curves(cas, told.curves, ledger)
    if boiling is not None:
        boiling = _check_alone(cas, boiling, told.joback_c, told.is_organic, ledger)
    confirmed = sublimes = False
    if boiling is not None and boiling.value < HOTTEST_ORGANIC_C:
        boiling, kept, confirmed = _check_curves(
            cas, boiling, kept, told.joback_c, told.attraction, ledger
        )
    if melting is not None:
        melting, boiling, sublimes = _check_melting(
            cas, melting, boiling, kept, _first_liquid_c(told, kept), ledger
        )
    is_estimate = boiling is not None and boiling.basis == "estimated"
    if boiling is not None and is_estimate and confirmed:
        boiling, is_estimate = replace(boiling, basis="correlated"), False
    doubt = YAWS_DOUBT_DECADES if is_estimate else 0.0
    trusted = boiling is not None and not sublimes
    return Checked(melting, boiling, tuple(kept), trusted, doubt, sublimes)
