"""The one door: ``recommend(chemical, scene)`` gives a plan."""

from __future__ import annotations

import platform
from collections.abc import Iterable, Mapping
from contextlib import suppress
from dataclasses import dataclass, replace
from functools import cache
from importlib import metadata
from pathlib import Path
from typing import TYPE_CHECKING

from recommender.chemicals.lookup import Match, find
from recommender.chemicals.table import (
    LIBRARY_GROUP,
    Chemical,
    CuratedData,
    load_chemicals,
    load_data,
    unknown_chemical,
)
from recommender.data_files import data_folder, read_table
from recommender.effects import Offer, Rank
from recommender.errors import DataError, SceneError
from recommender.facts import Fact, Facts
from recommender.library.resolve import resolve, store_at
from recommender.limits import Limit, Limits, load_limits
from recommender.needs import Needs, needs_of
from recommender.outcomes import Outcomes, Warned
from recommender.plan import run_stages, unknown_names
from recommender.policy import SOURCE, Policy
from recommender.properties.build import KnownFacts, build_facts
from recommender.properties.stated import StatedValue
from recommender.properties.stated_apply import Applied, AppliedStated, apply_stated
from recommender.rules.stage_model import WASH_CLASSES, covers, reassures, screens
from recommender.scene import Scene
from recommender.standard_line import StandardLine, standard_line
from recommender.stated_effect import milder_words, with_stated
from recommender.units import format_speed, format_temperature

if TYPE_CHECKING:
    from recommender.library.store import Store

SCHEMA_VERSION = 1
DATA_VERSION = "2026-11-25"

ALWAYS = (
    "Product on skin, breached suit, symptoms or low air: emergency decon now; flood with water, "
    "strip, runoff second.",
    "'Reacts with water' withholds no flush from skin (brush off visible dry reactive solid "
    "first). Emergency decon ready before the first entry.",
)
DEFER = (
    "Estimate only: the hazmat technician, local procedures and the safety data sheet decide. "
    "Not for mass decontamination."
)


@dataclass(frozen=True, slots=True)
class Solution:
    """One row of the table of wash solutions."""

    id: str
    name: str
    recipe_us: str
    recipe_si: str
    contact_minutes: str
    on_what: str
    not_on: str
    role: str
    source: str
    provenance: str


@dataclass(frozen=True, slots=True)
class StageModel:
    """The second opinion on the count."""

    applicable: bool
    note: str
    wash_class: str | None
    required_log_reduction: float | None
    stations: int | None
    reachable: bool | None
    percent_left: float | None


@dataclass(frozen=True, slots=True)
class Plan:
    """Everything a crew is told, with the reasons.

    Attributes:
        outcomes: what the stages decided, with the facts read and the trace.
        assumptions: what was assumed because nobody stated it.
        unknowns: facts nobody has stated that kept a rule from being settled.
        policy: the local policy in force, if any.
        data: the facts and values planned with, what was stated among them.
        stated: what the user stated, beside what is held.
    """

    match: Match
    scene: Scene
    known: KnownFacts
    outcomes: Outcomes
    standard_line: StandardLine
    stage_model: StageModel
    solution: Solution
    offers: tuple[tuple[Solution, Offer], ...]
    needs: Needs
    assumptions: tuple[str, ...]
    unknowns: tuple[str, ...]
    call_technician: tuple[str, ...]
    limits: Mapping[str, Limit]
    versions: Mapping[str, str]
    policy: Policy | None = None
    data: CuratedData | None = None
    stated: tuple[AppliedStated, ...] = ()

    @property
    def chemical(self) -> Chemical:
        """The row planned for."""
        return self.match.chemical

    @property
    def facts(self) -> Mapping[str, Fact]:
        """Every fact the rules could read."""
        return self.outcomes.facts


@cache
def load_solutions() -> Mapping[str, Solution]:
    """Read ``data/solutions.csv``."""
    return {row["id"]: Solution(**row) for row in read_table("solutions.csv")}


@cache
def do_not_use_words() -> Mapping[str, str]:
    """Map each agent of the do-not-use list to the words it is printed with."""
    return {row["agent"]: row["words"] for row in read_table("do_not_use.csv")}


@cache
def versions() -> Mapping[str, str]:
    """Versions of code and data that go with every plan."""
    try:
        code = metadata.version("decon-recommender")
    except metadata.PackageNotFoundError:
        code = "checkout"
    return {"recommender": code, "data": DATA_VERSION, "python": platform.python_version()}


def _stage_model(outcomes: Outcomes, limits: Limits) -> StageModel:
    facts = Facts(outcomes.facts)

    def refused(note: str) -> StageModel:
        return StageModel(False, note, None, None, None, None, None)

    if facts["contact_condensed"].is_no:
        return refused("not used for vapor alone")
    found = screens(facts, limits)
    if found is None:
        category = facts.number("dermal_category")
        if category.is_known:
            return refused("no dermal toxicity class to screen against")
        return refused("dermal toxicity not known")
    if covers(facts, limits).is_no:
        return refused("not used: kept dry, or an acid or alkali rinsed until pH paper is neutral")
    screen = found[1]
    count = max(1, outcomes.stations.recommended)
    shown = reassures(facts)
    note = "" if shown else "does not cover corrosion, sensitization or cancer; may only add"
    return StageModel(
        shown,
        note,
        WASH_CLASSES[screen.wash_class],
        round(screen.required, 2),
        screen.needed,
        screen.needed is not None,
        round(screen.percent_left(count), 3) if shown else None,
    )


_CALL = (
    ("identity", "the product is not identified"),
    ("library", "no curated hazard facts are held for it"),
    ("conflict", "two first steps disagree"),
    ("dry", "the first step is not a wash"),
    ("three", "the estimate or its range reaches three positions"),
    ("skin", "it may kill or maim through skin"),
    ("unknowns", "facts that matter are missing"),
)


def _call_technician(outcomes: Outcomes, chemical: Chemical, unknowns: int) -> tuple[str, ...]:
    cap = 3
    drivers = [d.rule for d in outcomes.stations.drivers]
    tests = {
        "identity": not chemical.is_known,
        "library": chemical.group == LIBRARY_GROUP,
        "conflict": bool(outcomes.method.conflict),
        "dry": outcomes.method.first.value not in ("wet", "air"),
        "three": outcomes.stations.high >= cap,
        "skin": "STN-050" in drivers,
        "unknowns": unknowns > 0 and chemical.is_known,
    }
    return tuple(text for name, text in _CALL if tests[name])


def _both_temperatures(celsius: float) -> str:
    return f"{format_temperature(celsius, 'si')} ({format_temperature(celsius, 'us')})"


def _assumptions(match: Match, scene: Scene, known: KnownFacts) -> tuple[str, ...]:
    notes = [*match.notes, *known.notes]
    if scene.air_temperature_c is None:
        notes.append(f"Air {_both_temperatures(known.state.air_temperature_c)} assumed.")
    if scene.wind_m_s is None:
        wind = known.state.wind_m_s
        notes.append(f"Wind {format_speed(wind, 'si')} ({format_speed(wind, 'us')}) assumed.")
    return tuple(notes)


def recommend(
    chemical: str | Chemical | Match | None,
    scene: Scene | None = None,
    *,
    limits: Mapping[str, Limit] | None = None,
    switched_off: Mapping[str, str] | None = None,
    data: CuratedData | None = None,
    policy: Policy | None = None,
    stated: Iterable[StatedValue] = (),
    store: Store | str | Path | None = None,
) -> Plan:
    """Recommend how to set up the line.

    Args:
        chemical: name, synonym, trade name, CAS or UN number; a row or a match; or None for an
            unknown product.
        scene: incident conditions; cautious defaults where not stated.
        limits: limits to use instead of the packaged ones.
        switched_off: rule id to reason, for rules that local policy switches off.
        data: facts and properties to use instead of the table's.
        policy: local policy; its limits and switched-off rules come on top of those given.
        stated: values and claims of the user (`parse_stated`), which lead over what is held.
        store: the local store, or its place; None for the usual place. It is opened only where
            the curated table has no answer.

    Raises:
        ChemicalNotFoundError, AmbiguousChemicalError, CasError: the chemical is not settled.
        SceneError: the scene is impossible.
        StatedError: a stated value cannot be used.
        DataError: a floor rule was switched off, or a table is damaged.
        StoreError: the chemical comes out of the local store, which is missing or damaged.
    """
    used = load_limits() if limits is None else limits
    if policy is not None:
        used = policy.limits(used)
        switched_off = {**(switched_off or {}), **policy.switched_off}
    _check_switched_off(switched_off)
    scene = scene or Scene()
    match = _match(chemical, scene, store)
    scene = replace(scene, form=scene.form or match.form or None)
    if data is None:
        data = match.data or _library_data(match.chemical, store) or load_data(match.chemical)
    applied = apply_stated(match.chemical, data, stated, Limits(used))
    return _recommend(match, scene, used, switched_off, policy, applied)


def _recommend(
    match: Match,
    scene: Scene,
    used: Mapping[str, Limit],
    switched_off: Mapping[str, str] | None,
    policy: Policy | None,
    applied: Applied,
) -> Plan:
    """Plan with the values that lead, and say what stating some of them changed."""
    data = applied.data
    known, outcomes = _settle(match, scene, used, switched_off, data)
    contact = replace(scene, contact=known.contact)
    outcomes = with_stated(outcomes, applied)
    plan = _plan(match, contact, known, _with_local(outcomes, contact, policy), used, policy)
    notes = applied.notes
    if applied.entries:
        with suppress(SceneError):  # a form that is possible only with the stated values
            _, held = _settle(match, scene, used, switched_off, applied.before)
            notes += milder_words(held, outcomes)
    return replace(
        plan,
        versions={**plan.versions, **data.versions},
        assumptions=(*notes, *plan.assumptions),
        data=data,
        stated=applied.entries,
    )


def _settle(
    match: Match,
    scene: Scene,
    limits: Mapping[str, Limit],
    switched_off: Mapping[str, str] | None,
    data: CuratedData,
) -> tuple[KnownFacts, Outcomes]:
    """Build the facts and run the stages; vapor is held to the range of a splash."""
    known = _known(match, scene, limits, data)
    outcomes = run_stages(known.facts, limits, switched_off)
    if known.contact == "vapor":
        splash = _known(match, replace(scene, contact="splash"), limits, data)
        outcomes = _no_more_than(outcomes, run_stages(splash.facts, limits, switched_off))
    return known, outcomes


def _known(
    match: Match, scene: Scene, limits: Mapping[str, Limit], data: CuratedData
) -> KnownFacts:
    stronger = match.stronger_than_held
    return build_facts(match.chemical, scene, limits, stronger_than_held=stronger, data=data)


def _library_data(chemical: Chemical, store: Store | str | Path | None) -> CuratedData | None:
    """Facts and values out of the local store; None for a chemical of the curated tables."""
    if chemical.group != LIBRARY_GROUP:
        return None
    from recommender.library.load import load_library_data

    place = store if store is None or isinstance(store, str | Path) else store.path
    return load_library_data(chemical, place)


def _no_more_than(vapor: Outcomes, splash: Outcomes) -> Outcomes:
    """Hold the range of vapor alone to what a splash of the same product would ask for."""
    top = max(vapor.stations.recommended, min(vapor.stations.high, splash.stations.high))
    return replace(vapor, stations=replace(vapor.stations, high=top))


def _with_local(outcomes: Outcomes, scene: Scene, policy: Policy | None) -> Outcomes:
    """Add what local policy loosens, and its own cautions, after every other caution."""
    if policy is None:
        return outcomes
    said = (*policy.loosened, *policy.cautions_for(scene.contact))
    local = tuple(Warned(Rank.LOCAL, text, SOURCE, (SOURCE,), True) for text in said)
    return replace(outcomes, cautions=outcomes.cautions + local)


def _match(
    chemical: str | Chemical | Match | None, scene: Scene, store: Store | str | Path | None
) -> Match:
    if chemical is None:
        if scene.concentration_percent is not None:
            raise SceneError("An unknown product has no concentration: leave it out.")
        return Match(unknown_chemical(scene.form or ""), "unknown")
    if isinstance(chemical, Match):
        return chemical
    if isinstance(chemical, Chemical):
        return Match(chemical, "row")
    source = store_at(store) if store is None or isinstance(store, str | Path) else store
    percent = scene.concentration_percent
    return resolve(chemical, form=scene.form, concentration=percent, store=source)


def _check_switched_off(switched_off: Mapping[str, str] | None) -> None:
    from recommender.rules import ALL_RULES

    floors = {r.id for r in ALL_RULES if r.floor}
    refused = sorted(floors & set(switched_off or {}))
    if refused:
        raise DataError(f"These rules cannot be switched off: {', '.join(refused)}.")


def _plan(
    match: Match,
    scene: Scene,
    known: KnownFacts,
    outcomes: Outcomes,
    used: Mapping[str, Limit],
    policy: Policy | None,
) -> Plan:
    view = Limits(used)
    unknowns = unknown_names(outcomes)
    line = standard_line(outcomes, scene, view, policy)
    solutions = load_solutions()
    return Plan(
        match=match,
        scene=scene,
        known=known,
        outcomes=outcomes,
        standard_line=line,
        stage_model=_stage_model(outcomes, view),
        solution=solutions[outcomes.solution],
        offers=tuple((solutions[o.solution], o) for o in outcomes.offers),
        needs=needs_of(outcomes, line, view),
        assumptions=_assumptions(match, scene, known),
        unknowns=unknowns,
        call_technician=_call_technician(outcomes, match.chemical, len(unknowns)),
        limits=used,
        versions=versions() if policy is None else {**versions(), "policy": policy.name},
        policy=policy,
    )


__all__ = [
    "ALWAYS",
    "DEFER",
    "Plan",
    "Scene",
    "data_folder",
    "find",
    "load_chemicals",
    "recommend",
]
