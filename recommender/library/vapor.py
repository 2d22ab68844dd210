"""Vapor pressure at a grid of temperatures, out of every curve that reaches there.

At each temperature only the best kind of evidence speaks: curves inside their own range; else
curves carried up to 25 K beyond it; else up to 100 K; else an estimate from the boiling point.
The median of the logarithms leads; where two curves contradict each other and nothing tells which
is right, both stay inside the range.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from statistics import median

from recommender.library.build_curves import LIQUID, SOLID, Curve
from recommender.library.build_read import KELVIN, Tabulated
from recommender.library.consensus import Consensus, Ledger, PassedOverValue
from recommender.library.estimates import (
    GAS_CONSTANT,
    LOG_ATMOSPHERE,
    boiling_and_heat_log_pressure,
    boiling_point_log_pressure,
    carried_log_pressure,
    solid_log_pressure,
)

NAME = "vapor_pressure"
GRID_C = (-40.0, -30.0, -20.0, -10.0, 0.0, 10.0, 20.0, 30.0, 40.0, 50.0, 60.0)
# Up to here a carried curve still counts as correlated: standard deviation 0.025 decades.
NEAR_K = 25.0
# Beyond here nothing was measured against, so nothing is carried.
FAR_K = 100.0
# Curves end below the critical point; above their range they bend.
ABOVE_K = 25.0
# Evidence this much farther away than the nearest stays silent.
SAME_DISTANCE_K = 15.0
# Factor 2: two evaluated curves of one liquid inside their ranges differ by less in 98 of 100.
CONTRADICT = 0.3
# An estimate speaks for one of two curves when it is this near to it and the other contradicts.
SUPPORT = 0.2
# Single curves without a second voice: what evaluated curves differ by in 19 of 20, doubled.
ONE_VOICE = 0.08
SEVERAL_VOICES = 0.04
# Below 1 Pa single determinations scatter far more: pesticides by up to a decade between papers.
SCATTER_PER_DECADE, MOST_SCATTER = 0.3, 1.0
# Growth of the half range with the distance carried, in decades for each kelvin; two standard
# deviations of the test in estimates.py for a single curve.
PER_KELVIN = 0.003
# Walden's rule for a solid: factor 2.
SOLID_HALF = 0.3
# Pressures that the rest of the tool takes (above 0 to 1e7 Pa), with room.
LEAST_LOG, MOST_LOG = -9.0, 6.95


@dataclass(frozen=True, slots=True)
class Anchors:
    """What else is known of a substance, to carry and to check curves with. None: not known.

    Attributes:
        boiling_k: normal boiling point, when it can be trusted.
        boiling_doubt: decades to widen an estimate by because the boiling point is itself one.
        attraction: factor of the boiling-point equation for its class.
    """

    boiling_k: float | None
    boiling_doubt: float
    melting_k: float | None
    critical_k: float | None
    heat_298: float | None
    attraction: float
    may_estimate: bool


@dataclass(frozen=True, slots=True)
class _Say:
    """What one source says at one temperature, in decades."""

    source: str
    family: str
    log: float
    half: float
    distance_k: float
    package: str


def slope_heat(curve: Curve, temperature_k: float) -> float | None:
    """Heat of vaporization that a curve implies at a temperature, J/mol."""
    step = min(0.5, 0.01 * temperature_k)
    cold, warm = temperature_k - step, temperature_k + step
    low, high = curve.at(cold), curve.at(warm)
    if low is None or high is None:
        return None
    return -GAS_CONSTANT * math.log(high / low) / (1.0 / warm - 1.0 / cold)


def _carry(curve: Curve, temperature_k: float, allowed_k: float) -> _Say | None:
    """Evaluate a curve in its range, or carry it from the nearer end."""
    if curve.low_k <= temperature_k <= curve.high_k:
        pressure = curve.at(temperature_k)
        if pressure is None:
            return None
        return _Say(curve.source, curve.family, math.log10(pressure), 0.0, 0.0, curve.package)
    end = curve.low_k if temperature_k < curve.low_k else curve.high_k
    distance = abs(temperature_k - end)
    if distance > (allowed_k if temperature_k < end else min(allowed_k, ABOVE_K)):
        return None
    pressure, heat = curve.at(end), slope_heat(curve, end)
    if pressure is None or heat is None:
        return None
    change = {"heat_capacity_change": 0.0} if curve.phase == SOLID else {}
    log = carried_log_pressure(
        log_pressure=math.log10(pressure),
        from_k=end,
        heat_j_mol=heat,
        to_k=temperature_k,
        **change,
    )
    half = PER_KELVIN * distance
    return _Say(curve.source, curve.family, log, half, distance, curve.package)


def _nearest(says: Sequence[_Say]) -> list[_Say]:
    """Keep the best kind of evidence: in range, else as near as the nearest."""
    if not says:
        return []
    inside = [s for s in says if s.distance_k == 0.0]
    if inside:
        return inside
    least = min(s.distance_k for s in says)
    return [s for s in says if s.distance_k <= least + SAME_DISTANCE_K]


def anchor_estimate(anchors: Anchors, temperature_k: float) -> tuple[float, float, str] | None:
    """Estimate from the boiling point: (log pressure, half range, how); None where it cannot."""
    boiling = anchors.boiling_k
    if boiling is None or not anchors.may_estimate or temperature_k >= boiling:
        return None
    if anchors.heat_298 is not None:
        log = boiling_and_heat_log_pressure(
            boiling_k=boiling, heat_298_j_mol=anchors.heat_298, temperature_k=temperature_k
        )
        # Two standard deviations of the test in estimates.py, by decade.
        half = 0.1 + 0.17 * max(0.0, 3.0 - log)
        return log, half + anchors.boiling_doubt, "boiling point and heat of vaporization"
    log = boiling_point_log_pressure(
        boiling_k=boiling, temperature_k=temperature_k, attraction=anchors.attraction
    )
    half = 0.15 + 0.27 * max(0.0, 3.0 - log)
    return log, half + anchors.boiling_doubt, "boiling point alone"


def _settle_pair(
    says: list[_Say], estimate: tuple[float, float, str] | None
) -> tuple[list[_Say], list[_Say]]:
    """Drop what stands alone against a majority, or against an estimate that backs the other."""
    families = {s.family for s in says}
    middle = median(s.log for s in says)
    if len(families) > 2:
        near = [s for s in says if abs(s.log - middle) <= CONTRADICT]
        if len({s.family for s in near}) >= 2:
            return near, [s for s in says if s not in near]
    if estimate is not None and len(families) == 2:
        backed = [s for s in says if abs(s.log - estimate[0]) <= SUPPORT]
        against = [s for s in says if abs(s.log - estimate[0]) > SUPPORT + CONTRADICT]
        if backed and against and len(backed) + len(against) == len(says):
            return backed, against
    return says, []


@dataclass(frozen=True, slots=True)
class _Settled:
    log: float
    low: float
    high: float
    basis: str
    note: str
    package: str
    voices: int
    says: tuple[_Say, ...]
    dropped: tuple[_Say, ...]
    against: str = ""


def _settle(says: list[_Say], estimate: tuple[float, float, str] | None) -> _Settled:
    kept, dropped = _settle_pair(says, estimate)
    log = median(s.log for s in kept)
    voices = len({s.family for s in kept})
    base = SEVERAL_VOICES if voices > 1 else ONE_VOICE + _scatter(log)
    low = min(s.log - s.half for s in kept) - base
    high = max(s.log + s.half for s in kept) + base
    distance = min(s.distance_k for s in kept)
    names = ", ".join(dict.fromkeys(s.source for s in kept))
    if distance > 0:
        names += f", carried {distance:.0f} K beyond its range"
    basis = "correlated" if distance <= NEAR_K else "estimated"
    against = ""
    if estimate is not None and voices == 1 and abs(log - estimate[0]) > estimate[1] + CONTRADICT:
        # Nothing tells which is right: a bad row and a bad boiling point look the same.
        low, high = min(low, estimate[0]), max(high, estimate[0])
        against = f"the {estimate[2]} would give {10 ** estimate[0]:.3g} Pa"
        names += f"; {against}"
    return _Settled(
        log, low, high, basis, names, kept[0].package, voices, tuple(kept), tuple(dropped), against
    )


def _scatter(log: float) -> float:
    return min(MOST_SCATTER, SCATTER_PER_DECADE * max(0.0, -log))


def _from_estimate(estimate: tuple[float, float, str]) -> _Settled:
    log, half, how = estimate
    return _Settled(
        log, log - half, log + half, "estimated", f"from the {how}", "chemicals", 0, (), ()
    )


def _as_liquid(curves: Sequence[Curve], anchors: Anchors, temperature_k: float) -> _Settled | None:
    says = [s for c in curves if c.phase == LIQUID and (s := _carry(c, temperature_k, FAR_K))]
    estimate = anchor_estimate(anchors, temperature_k)
    if says:
        return _settle(_nearest(says), estimate)
    return None if estimate is None else _from_estimate(estimate)


def _as_solid(curves: Sequence[Curve], anchors: Anchors, temperature_k: float) -> _Settled | None:
    """Below the melting point: the solid's own curve, else the liquid's lowered by fusion."""
    says = [s for c in curves if c.phase == SOLID and (s := _carry(c, temperature_k, FAR_K))]
    lowered = _lowered_liquid(curves, anchors, temperature_k)
    if says and min(s.distance_k for s in says) <= NEAR_K:
        return _below_liquid(_settle(_nearest(says), None), lowered)
    if not says:
        return lowered
    carried = _settle(_nearest(says), None)
    if lowered is None or not lowered.says:
        return carried
    # Neither was measured near here: the nearer leads, and the range holds both.
    by_solid = min(s.distance_k for s in says) <= min(s.distance_k for s in lowered.says)
    lead = carried if by_solid else lowered
    return replace(lead, low=min(carried.low, lowered.low), high=max(carried.high, lowered.high))


def _below_liquid(solid: _Settled, lowered: _Settled | None) -> _Settled:
    """Widen a solid's range where its curve runs above what the liquid's would allow."""
    if lowered is None or not lowered.says or min(s.distance_k for s in lowered.says) > NEAR_K:
        return solid
    liquid = median(s.log for s in lowered.says)
    if solid.log <= liquid + SUPPORT:
        return solid
    against = f"above the liquid's {10**liquid:.3g} Pa"
    note = f"{solid.note}; {against}"
    return replace(solid, low=min(solid.low, lowered.low), note=note, against=against)


def _lowered_liquid(
    curves: Sequence[Curve], anchors: Anchors, temperature_k: float
) -> _Settled | None:
    """The supercooled liquid's pressure, lowered by the entropy of fusion."""
    liquid = _as_liquid(curves, anchors, temperature_k)
    if liquid is None or anchors.melting_k is None:
        return liquid
    log = solid_log_pressure(
        liquid_log_pressure=liquid.log, melting_k=anchors.melting_k, temperature_k=temperature_k
    )
    shift = liquid.log - log
    # Curves of solids are sometimes tabulated among the liquids: then nothing is to be lowered.
    return _Settled(
        log,
        liquid.low - shift - SOLID_HALF,
        liquid.high,
        "estimated",
        f"{liquid.note}, liquid lowered to solid",
        liquid.package,
        liquid.voices,
        liquid.says,
        liquid.dropped,
        liquid.against,
    )


def _at(curves: Sequence[Curve], anchors: Anchors, temperature_k: float) -> _Settled | None:
    if anchors.critical_k is not None and temperature_k >= anchors.critical_k:
        return None
    melting = anchors.melting_k
    is_solid = melting is not None and temperature_k < melting - 1.0
    found = (_as_solid if is_solid else _as_liquid)(curves, anchors, temperature_k)
    if found is None or not LEAST_LOG <= found.log <= MOST_LOG:
        return None
    return found


def _record(
    cas: int, temperature_c: float, found: _Settled, recorded: set[tuple[str, str]], ledger: Ledger
) -> None:
    """Record each contradiction once, at the temperature where it is met first."""
    for say in found.dropped:
        key = (say.source, "drop")
        if key not in recorded:
            recorded.add(key)
            what = (
                f"{say.source} gives {10**say.log:.3g} Pa at {temperature_c:g} C, "
                f"others {10**found.log:.3g}"
            )
            ledger.add(cas, NAME, what, "drop", abs(say.log - found.log))
    if found.against and ("", "against") not in recorded:
        recorded.add(("", "against"))
        what = f"{found.says[0].source} gives {10 ** found.says[0].log:.3g} Pa at "
        what += f"{temperature_c:g} C, {found.against}"
        ledger.add(cas, NAME, what, "widen", found.high - found.low)
    logs = [s.log for s in found.says]
    if logs and max(logs) - min(logs) > CONTRADICT and ("", "widen") not in recorded:
        recorded.add(("", "widen"))
        said = "; ".join(f"{s.source} {10**s.log:.3g} Pa" for s in found.says)
        what = f"at {temperature_c:g} C {said}"
        ledger.add(cas, NAME, what, "widen", max(logs) - min(logs))


def _monotone(points: list[Consensus]) -> list[Consensus]:
    """Keep points that rise with temperature; a step back is a change of evidence, not physics.

    Of two points out of order the one with the worse basis goes, else the colder.
    """
    rank = {"correlated": 0, "estimated": 1}
    kept: list[Consensus] = []
    for point in points:
        while kept and point.value <= kept[-1].value:
            if rank[point.basis] > rank[kept[-1].basis]:
                break
            kept.pop()
        else:
            kept.append(point)
    return kept


def _point(found: _Settled, temperature_c: float) -> Consensus:
    """One settled pressure as a value with its range and what was passed over."""
    every = (*found.says, *found.dropped)
    passed = tuple(
        PassedOverValue(
            Tabulated(s.source, s.family, 10.0**s.log, temperature_c, s.package),
            "contradicted by the others" if s in found.dropped else "",
        )
        for s in every
        if len(every) > 1
    )
    return Consensus(
        value=10.0**found.log,
        low=10.0 ** min(found.low, found.log),
        high=10.0 ** min(max(found.high, found.log), MOST_LOG),
        basis=found.basis,
        note=found.note,
        package=found.package,
        voices=found.voices,
        temperature_c=temperature_c,
        passed_over=passed,
    )


def vapor_points(
    cas: int, curves: Sequence[Curve], anchors: Anchors, ledger: Ledger
) -> list[Consensus]:
    """Return one point for each temperature of the grid that evidence reaches.

    Args:
        cas: CAS number, for the ledger.
        curves: curves that passed the checks.
        anchors: boiling point, melting point and the like.
        ledger: where contradictions are recorded.
    """
    points = []
    recorded: set[tuple[str, str]] = set()
    for temperature_c in sorted(GRID_C, key=lambda t: abs(t - 20.0)):
        found = _at(curves, anchors, temperature_c + KELVIN)
        if found is None:
            continue
        _record(cas, temperature_c, found, recorded, ledger)
        points.append(_point(found, temperature_c))
    return _monotone(sorted(points, key=lambda p: p.temperature_c or 0.0))


def log_over_atmosphere(curve: Curve, boiling_k: float) -> float | None:
    """Decades between a curve at a boiling point and one atmosphere; None out of its reach."""
    said = _carry(curve, boiling_k, NEAR_K)
    return None if said is None else said.log - LOG_ATMOSPHERE
