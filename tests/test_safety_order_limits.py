"""A limit moved in its safer direction never makes a plan milder."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from safety_cases import ANY_CASE, ROWS, Case, as_it_is, curated

from recommender.effects import Method
from recommender.limits import Limit, load_limits
from recommender.plan import Outcomes
from recommender.scene import Scene

MANY = settings(max_examples=400, deadline=None, derandomize=True, database=None)
WHOLE_NUMBERS = ("positions", "GHS category", "people", "towels")
# First steps before which nothing is rinsed: a rinse that waits is not a milder rinse.
RINSE_WAITS = (Method.DRY, Method.HOLD, Method.WIPE, Method.KEEP_WET)
# The cap is no threshold but the end of what has published support: see the limits' bounds.
FIXED = ("stations.cap",)
DIRECTED = [
    limit.id
    for limit in load_limits().values()
    if limit.safer != "neither" and limit.id not in FIXED
]
# The limits that bear on a count, a grade or a rinse; every one is moved for every row.
COUNTED = [
    name
    for name in DIRECTED
    if name.split(".")[0]
    in ("persistence", "stations", "stage_model", "ghs", "uncertainty", "state", "scene")
]
FACTORS = (1.05, 1.5, 4.0)
# The limits that decide whether what is in the air is vapor at all.
VAPOR = [
    name
    for name in DIRECTED
    if name.startswith(("scene.", "uncertainty.")) or name == "cautions.vapor_trace"
]


def moved(limit: Limit, factor: float) -> Limit:
    """The limit moved in its safer direction, by a step for whole numbers, else by a factor."""
    up = limit.safer == "higher"
    if limit.unit in WHOLE_NUMBERS:
        return replace(limit, value=limit.value + (1 if up else -1))
    if limit.unit == "degC":
        return replace(limit, value=limit.value + (10 if up else -10) * (factor - 1))
    value = limit.value * factor if up else limit.value / factor
    return replace(limit, value=min(value, 0.99) if limit.value < 1 else value)


def with_limit(name: str, factor: float) -> Mapping[str, Limit]:
    limits = load_limits()
    safer = moved(limits[name], factor)
    changed = {**limits, name: safer}
    if name == "uncertainty.default_density":
        heavy = limits["uncertainty.heavy_density"]
        changed[heavy.id] = replace(heavy, value=max(heavy.value, safer.value))
    return changed


def milder(before: Outcomes, after: Outcomes) -> list[str]:
    faults = []
    pairs = {
        "estimate": (before.stations.recommended, after.stations.recommended),
        "high end": (before.stations.high, after.stations.high),
        "persistence": (before.persistence.grade, after.persistence.grade),
    }
    if after.method.first not in RINSE_WAITS or before.method.first is after.method.first:
        pairs["rinse"] = (before.gross.emphasis, after.gross.emphasis)
    for name, (old, new) in pairs.items():
        if new < old:
            faults.append(f"{name} falls from {int(old)} to {int(new)}")
    if after.method.first is Method.AIR and before.method.first is not Method.AIR:
        faults.append("it is aired instead")
    return faults


@pytest.mark.parametrize("name", COUNTED)
def test_a_safer_limit_never_makes_the_plan_of_a_curated_row_milder(name: str) -> None:
    faults = []
    limits = with_limit(name, FACTORS[1])
    for chemical in ROWS:
        after = curated(chemical, Scene()).outcomes(limits)
        found = milder(as_it_is(chemical, "splash"), after)
        faults += [f"{chemical.key}: {fault}" for fault in found]
    assert not faults, f"{len(faults)} milder plans:\n" + "\n".join(faults)


@pytest.mark.parametrize("name", VAPOR)
def test_a_safer_limit_never_makes_the_plan_after_vapor_milder(name: str) -> None:
    faults = []
    limits = with_limit(name, FACTORS[1])
    for chemical in ROWS:
        after = curated(chemical, Scene(contact="vapor")).outcomes(limits)
        found = milder(as_it_is(chemical, "vapor"), after)
        faults += [f"{chemical.key}: {fault}" for fault in found]
    assert not faults, f"{len(faults)} milder plans:\n" + "\n".join(faults)


@MANY
@given(case=ANY_CASE, name=st.sampled_from(DIRECTED), factor=st.sampled_from(FACTORS))
def test_a_safer_limit_never_makes_a_plan_milder(case: Case, name: str, factor: float) -> None:
    assert milder(case.outcomes(), case.outcomes(with_limit(name, factor))) == []
