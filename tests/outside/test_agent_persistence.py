"""Persistence of the classical agents against the field manuals that rank them.

Two tables of one army manual are compared. They do not say the same of tabun and soman (hours in
one, days in the other), and their ranges for soman do not even touch; a film model of one
thickness cannot meet both, so a plan must meet at least one table for every agent, and both where
the two agree on the class. ``test_the_two_published_tables_disagree`` keeps this on record.
"""

from __future__ import annotations

from dataclasses import dataclass

import pytest

from recommender import Plan, Scene, recommend
from recommender.effects import Grade
from recommender.facts import Number
from recommender.physics.persistence_index import leitner_index
from recommender.physics.vapor import volatility_mg_m3

HOUR, DAY, WEEK = 60.0, 1440.0, 10080.0
KELVIN = 273.15
# Liquid on the ground, sunny, about 20 C, light breeze.
TABLE_J6 = (
    "US Army field manual, health service support in a nuclear, biological and chemical "
    "environment, Table J-6 (sunny, about 20 C, light breeze)"
)
# Summer column of the shorter table in the same manual.
SUMMER = (
    "US Army field manual, health service support in a nuclear, biological and chemical "
    "environment, table of agents, persistency in summer"
)
PERSISTENT = "persistent agent: stays hazardous for more than 24 hours (usual definition)"


@dataclass(frozen=True)
class Agent:
    """An agent with its two published persistence ranges in minutes."""

    name: str
    cas: str
    j6: tuple[float, float]
    summer: tuple[float, float]


AGENTS = (
    Agent("sarin", "107-44-8", (HOUR / 4, 4 * HOUR), (10.0, DAY)),
    Agent("tabun", "77-81-6", (DAY, 4 * DAY), (10.0, DAY)),
    Agent("soman", "96-64-0", (2.5 * DAY, 5 * DAY), (10.0, DAY)),
    Agent("sulfur mustard", "505-60-2", (2 * DAY, 7 * DAY), (3 * DAY, WEEK)),
    Agent("VX", "50782-69-9", (3 * DAY, 21 * DAY), (2 * DAY, WEEK)),
)
BY_NAME = {agent.name: agent for agent in AGENTS}
# Both tables put these in one class: at most a day, or more than a day.
AGREED_CLASS = {"sarin": "nonpersistent", "sulfur mustard": "persistent", "VX": "persistent"}
DISPUTED_CLASS = ("tabun", "soman")


def plan_for(name: str, cas: str, temperature_c: float = 20.0) -> Plan:
    plan = recommend(name, Scene(contact="splash", air_temperature_c=temperature_c))
    assert plan.chemical.cas == cas, f"{name!r} led to {plan.chemical.key}"
    return plan


def number(plan: Plan, name: str) -> Number:
    fact = plan.facts[name]
    assert isinstance(fact, Number) and fact.mid is not None, f"{plan.chemical.key}: no {name}"
    return fact


def residence(agent: Agent, temperature_c: float = 20.0) -> tuple[float, float, float]:
    """Residence of the reference film in minutes."""
    fact = number(plan_for(agent.name, agent.cas, temperature_c), "film_residence")
    assert fact.low is not None and fact.mid is not None and fact.high is not None
    return fact.low, fact.mid, fact.high


def overlap(ours: tuple[float, float, float], theirs: tuple[float, float]) -> bool:
    return ours[0] <= theirs[1] and ours[2] >= theirs[0]


def hours(minutes: tuple[float, ...]) -> str:
    return " to ".join(f"{m / HOUR:.3g}" for m in minutes) + " h"


def classes(published: tuple[float, float]) -> set[str]:
    """Classes that a published range reaches; a range that ends at a day is nonpersistent."""
    found = set()
    if published[0] < DAY:
        found.add("nonpersistent")
    if published[1] > DAY:
        found.add("persistent")
    return found


def class_of(plan: Plan) -> str:
    return "persistent" if plan.outcomes.persistence.grade is Grade.DAYS else "nonpersistent"


def test_the_two_published_tables_disagree() -> None:
    """On record: why no single expected value stands below. These are the manual's own numbers."""
    for name in DISPUTED_CLASS:
        agent = BY_NAME[name]
        assert classes(agent.j6) == {"persistent"}, (name, TABLE_J6)
        assert classes(agent.summer) == {"nonpersistent"}, (name, SUMMER)
    soman = BY_NAME["soman"]
    assert soman.summer[1] < soman.j6[0], "the two ranges for soman do not touch"
    for name, expected in AGREED_CLASS.items():
        agent = BY_NAME[name]
        assert classes(agent.j6) == classes(agent.summer) == {expected}, name


@pytest.mark.parametrize("agent", AGENTS, ids=lambda a: a.name)
def test_the_film_time_overlaps_a_published_range(agent: Agent) -> None:
    ours = residence(agent)
    assert overlap(ours, agent.j6) or overlap(ours, agent.summer), (
        f"{agent.name}: expected {hours(agent.j6)} ({TABLE_J6}) or {hours(agent.summer)} "
        f"({SUMMER}); got {hours(ours)}"
    )


@pytest.mark.parametrize("name", ["sarin", "tabun", "sulfur mustard", "VX"])
def test_the_film_time_overlaps_the_longer_table(name: str) -> None:
    """Table J-6 is the more cautious one. Soman is left out: see the test of the disagreement."""
    agent = BY_NAME[name]
    ours = residence(agent)
    assert overlap(ours, agent.j6), (
        f"{name}: expected {hours(agent.j6)} ({TABLE_J6}); got {hours(ours)}"
    )


@pytest.mark.parametrize("name", AGREED_CLASS)
def test_the_class_agrees_where_both_tables_agree(name: str) -> None:
    agent = BY_NAME[name]
    got = class_of(plan_for(name, agent.cas))
    assert got == AGREED_CLASS[name], (
        f"{name}: expected {AGREED_CLASS[name]} ({TABLE_J6}; {SUMMER}; {PERSISTENT}); got {got}"
    )


@pytest.mark.parametrize("name", DISPUTED_CLASS)
def test_a_disputed_agent_is_at_least_in_the_milder_class_by_hours(name: str) -> None:
    """Neither table lets tabun or soman go within the hour at its long end."""
    agent = BY_NAME[name]
    grade = plan_for(name, agent.cas).outcomes.persistence.grade
    assert grade >= Grade.HOURS, (
        f"{name}: expected hours ({SUMMER}, up to 24 h) or days ({TABLE_J6}); got {grade.words}"
    )


@pytest.mark.parametrize("longer", ["soman", "tabun", "sulfur mustard", "VX"])
def test_sarin_leaves_first(longer: str) -> None:
    """Table J-6 gives sarin a quarter of an hour to four hours, every other agent days."""
    sarin, other = residence(BY_NAME["sarin"]), residence(BY_NAME[longer])
    assert all(s < o for s, o in zip(sarin, other, strict=True)), (
        f"expected sarin shorter than {longer} ({TABLE_J6}); got {hours(sarin)} against "
        f"{hours(other)}"
    )


@pytest.mark.parametrize("shorter", ["sarin", "soman", "tabun", "sulfur mustard"])
def test_vx_stays_longest(shorter: str) -> None:
    """Table J-6 gives VX up to three weeks, more than any other agent."""
    vx, other = residence(BY_NAME["VX"]), residence(BY_NAME[shorter])
    assert all(v > o for v, o in zip(vx, other, strict=True)), (
        f"expected VX longer than {shorter} ({TABLE_J6}); got {hours(vx)} against {hours(other)}"
    )


@pytest.mark.parametrize("agent", AGENTS, ids=lambda a: a.name)
def test_cold_makes_every_agent_stay_longer(agent: Agent) -> None:
    """Snow at about -10 C: Table J-6 lengthens every row, sarin from hours to one to two days."""
    warm, cold = residence(agent), residence(agent, -10.0)
    assert all(c > w for c, w in zip(cold, warm, strict=True)), (
        f"{agent.name}: expected longer at -10 C than at 20 C ({TABLE_J6}, column snow -10 C); "
        f"got {hours(cold)} against {hours(warm)}"
    )


def test_sarin_in_the_cold_reaches_the_published_days() -> None:
    ours = residence(BY_NAME["sarin"], -10.0)
    assert overlap(ours, (DAY, 2 * DAY)), (
        f"sarin at -10 C: expected 1 to 2 days ({TABLE_J6}, column snow -10 C); got {hours(ours)}"
    )


@pytest.mark.parametrize("agent", AGENTS, ids=lambda a: a.name)
def test_every_agent_is_persistent_in_the_cold_where_the_manual_says_so(agent: Agent) -> None:
    """At -10 C every row of Table J-6 starts at a day or more."""
    got = class_of(plan_for(agent.name, agent.cas, -10.0))
    assert got == "persistent", (
        f"{agent.name} at -10 C: expected persistent ({TABLE_J6}, column snow -10 C); got {got}"
    )


def test_the_volatility_of_mustard_is_the_published_one() -> None:
    plan = plan_for("sulfur mustard", "505-60-2")
    pressure, mass = number(plan, "vapor_pressure").mid, number(plan, "molar_mass").mid
    assert pressure is not None and mass is not None
    got = volatility_mg_m3(
        pressure_pa=pressure, molar_mass_kg_mol=mass / 1000.0, temperature_k=20.0 + KELVIN
    )
    assert got == pytest.approx(610.0, rel=0.05), (
        "expected 610 mg/m3 at 20 C (PMC3555992, review of sulfur mustard, Table 2: 0.072 mmHg)"
    )


# Leitner's index (water at 15 C = 1) as the war-gas textbooks of the 1930s print it for 20 C
# (Sartori; Prentiss; table values from memory). Their vapor pressures were those of their day:
# lewisite 0.395 mmHg against 0.22 mmHg in later manuals. So with the pressures of this project
# the index is held to the printed order and to a factor of two.
WAR_GAS_TABLE = {
    ("chloropicrin", "76-06-2"): 0.23,
    ("lewisite", "541-25-3"): 9.6,
    ("sulfur mustard", "505-60-2"): 67.0,
}
WAR_GAS_SOURCE = "Leitner's index, war-gas textbooks of the 1930s (Sartori, Prentiss)"


def index_of(name: str, cas: str) -> float:
    plan = plan_for(name, cas)
    pressure, mass = number(plan, "vapor_pressure").mid, number(plan, "molar_mass").mid
    assert pressure is not None and mass is not None
    return leitner_index(
        pressure_pa=pressure, molar_mass_kg_mol=mass / 1000.0, temperature_k=20.0 + KELVIN
    )


@pytest.mark.parametrize(("name", "cas"), WAR_GAS_TABLE)
def test_the_war_gas_index_is_met_within_a_factor_of_two(name: str, cas: str) -> None:
    printed, got = WAR_GAS_TABLE[name, cas], index_of(name, cas)
    assert 0.5 <= got / printed <= 2.0, (
        f"{name}: expected {printed:g} ({WAR_GAS_SOURCE}), got {got:.3g}"
    )


def test_film_times_follow_the_order_of_the_war_gas_table() -> None:
    ordered = sorted(WAR_GAS_TABLE, key=lambda key: WAR_GAS_TABLE[key])
    times = [number(plan_for(*key), "film_residence").mid for key in ordered]
    assert times == sorted(t for t in times if t is not None), (
        f"expected the order {', '.join(n for n, _ in ordered)} ({WAR_GAS_SOURCE}); got {times}"
    )
