"""Run the stages and combine their effects into one plan. The combination rules live here.

========== ==================================================================================
what       how it combines
========== ==================================================================================
method     wet unless a rule chooses; two different firsts make a hold, both shown
persistence the worst grade wins; gas only where no rule raises it
gross      none where the method says so, else the heaviest
stations   sum, then credit, then cap, then floor; missing facts alone never raise the estimate
           above the unknown answer, and an unidentified product never goes below it
solution   nothing for airing and holds; plain water where it is settled, else detergent;
           an offered reagent is dropped when a do-not-use names it
do-not-use adds up, merged by agent
cautions   add up, by rank, settled before not settled, in the order of the rules
========== ==================================================================================
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TypeVar

from recommender.effects import (
    Caution,
    Check,
    Credit,
    CrewNote,
    DoNotUse,
    Effect,
    Emphasis,
    First,
    Grade,
    GradeAtLeast,
    Gross,
    Method,
    NoFilm,
    NoGross,
    NoPositions,
    Offer,
    Positions,
    UseSolution,
)
from recommender.engine import Outcome, Stage, Step, evaluate
from recommender.facts import Claim, Fact, Facts, Number, Provenance, Truth
from recommender.limits import Limit
from recommender.outcomes import (
    Avoid,
    Driver,
    GrossDecon,
    MethodChoice,
    Outcomes,
    Persistence,
    Stations,
    Warned,
)
from recommender.rules import BY_STAGE

E_ = TypeVar("E_", bound=Effect)
_DRY_ENDS = ("keep_dry", "technician", "doff")


def _effects(steps: Iterable[Step], kind: type[E_]) -> list[tuple[Step, E_]]:
    return [(s, e) for s in steps for e in s.taken if isinstance(e, kind)]


def _claim(name: str, value: bool) -> Claim:
    return Claim(name, Truth.YES if value else Truth.NO, Provenance("derived"))


class _Run:
    """The facts and limits of one run, and the steps so far."""

    def __init__(
        self,
        facts: Mapping[str, Fact],
        limits: Mapping[str, Limit],
        switched_off: Mapping[str, str] | None,
    ) -> None:
        self.facts: dict[str, Fact] = dict(facts)
        self.limits = limits
        self.switched_off = switched_off
        self.steps: list[Step] = []

    def stage(self, stage: Stage) -> list[Step]:
        steps = [evaluate(r, self.facts, self.limits, self.switched_off) for r in BY_STAGE[stage]]
        self.steps += steps
        return steps

    def add(self, *facts: Fact) -> None:
        self.facts.update({fact.name: fact for fact in facts})

    def limit(self, name: str) -> int:
        return int(self.limits[name].value)


def _combine_method(steps: list[Step]) -> MethodChoice:
    chosen = _effects(steps, First)
    kinds = dict.fromkeys(effect.method for _, effect in chosen)
    if not chosen:
        return MethodChoice(
            Method.WET, "wash and rinse, head to boots", "", "nothing calls for another first step"
        )
    step, effect = chosen[0]
    if len(kinds) == 1:
        return MethodChoice(effect.method, effect.how, effect.then, step.rule.title)
    conflict = tuple((s.rule.id, f"{e.method.value}: {e.how}") for s, e in chosen)
    both = "; or ".join(text for _, text in conflict)
    return MethodChoice(
        Method.HOLD,
        f"two first steps disagree ({both})",
        "isolate, and call the technician",
        "two rules choose different first steps",
        conflict,
    )


def _method_facts(choice: MethodChoice, facts: Mapping[str, Fact]) -> list[Claim]:
    names = {
        "first_is_air": Method.AIR,
        "first_is_hold": Method.HOLD,
        "first_is_wipe": Method.WIPE,
        "first_is_dry": Method.DRY,
    }
    claims = [_claim(name, choice.first is method) for name, method in names.items()]
    view = Facts(facts)
    follows = view.word("after_first")
    reacts = view["reacts_violently_with_water"].is_yes
    # What nobody has said of a violent reactive is that water may follow.
    ends_dry = choice.first is Method.DRY and (follows in _DRY_ENDS or (not follows and reacts))
    return [*claims, _claim("stays_dry", ends_dry)]


def _combine_persistence(steps: list[Step], residence: Number) -> Persistence:
    at_least = _effects(steps, GradeAtLeast)
    has_film = not any(s.is_settled for s, _ in _effects(steps, NoFilm))
    base = Grade.MINUTES if has_film else Grade.GAS
    settled = [e.grade for s, e in at_least if s.is_settled]
    low = max([base, *settled])
    high = max([base, *(e.grade for _, e in at_least)])
    deciding = [(s, e) for s, e in at_least if e.grade is high]
    if low is high and settled:
        deciding = [(s, e) for s, e in deciding if s.is_settled]
    missing = dict.fromkeys(
        name for s, e in at_least if not s.is_settled and e.grade > low for name in s.missing
    )
    reasons = tuple(dict.fromkeys(e.reason for _, e in deciding))
    if not reasons:
        reasons = ("film time by evaporation" if has_film else "boils off: no film",)
    return Persistence(high, low, reasons, tuple(missing), residence)


def _persistence_fact(found: Persistence) -> Number:
    return Number(
        "persistence",
        float(found.low_grade),
        float(found.grade),
        float(found.grade),
        "grade",
        Provenance("derived", "judgement", "judgement", found.grade.words),
        missing=found.missing,
    )


def _combine_gross(steps: list[Step]) -> GrossDecon:
    blocked = [e for s, e in _effects(steps, NoGross) if s.is_settled]
    wanted = _effects(steps, Gross)
    if blocked:
        return GrossDecon(Emphasis.NONE, blocked[0].why, blocked[0].after)
    heaviest = max((e.emphasis for _, e in wanted), default=Emphasis.NONE)
    deciding = [(s, e) for s, e in wanted if e.emphasis is heaviest]
    settled = [e.why for s, e in deciding if s.is_settled]
    why = dict.fromkeys(settled or [f"{e.why} not excluded" for _, e in deciding])
    return GrossDecon(heaviest, ", ".join(why), "")


def _drivers(steps: list[Step]) -> list[Driver]:
    drivers = []
    for step, effect in _effects(steps, Positions):
        settled = step.is_settled
        low = effect.low if settled else 0
        drivers.append(Driver(step.rule.id, effect.driver, low, effect.mid, effect.high, settled))
    return drivers


def _sum_estimate(steps: list[Step], unknown_answer: int) -> tuple[int, bool]:
    """Sum the estimate; what only missing facts add stops at the unknown answer."""
    positions = _effects(steps, Positions)
    known = sum(e.mid for s, e in positions if not s.missing)
    everything = sum(e.mid for _, e in positions)
    estimate = max(known, min(everything, unknown_answer))
    return estimate, estimate < everything


def _positions_so_far(run: _Run, counted: list[Step]) -> Number:
    """The count before the stage model, as a fact it may read."""
    cap = run.limit("stations.cap")
    drivers = _drivers(counted)
    estimate, _ = _sum_estimate(counted, run.limit("stations.unknown"))
    mid = min(cap, estimate)
    low = min(mid, sum(d.low for d in drivers))
    high = max(mid, min(cap, sum(d.high for d in drivers)))
    origin = Provenance("derived")
    return Number("positions_so_far", float(low), float(mid), float(high), "positions", origin)


def _combine_stations(run: _Run, counted: list[Step], credited: list[Step]) -> Stations:
    """Sum, then credit, then cap, then floor."""
    drivers = _drivers(counted)
    estimate, capped = _sum_estimate(counted, run.limit("stations.unknown"))
    low = sum(d.low for d in drivers)
    high = sum(d.high for d in drivers)
    after_contact = Facts(run.facts)["contact_condensed"].is_yes
    not_identified = Facts(run.facts)["identity_known"].is_no
    floor = run.limit("stations.floor") if after_contact else 0
    cap = run.limit("stations.cap") if after_contact else run.limit("stations.vapor_cap")
    for step in credited:
        for effect in (*step.taken, *step.refused):
            if isinstance(effect, Credit):
                less = -1 if step.is_settled else 0
                drivers.append(Driver(step.rule.id, effect.driver, -1, less, less, step.is_settled))
                low -= 1
                if step.is_settled:
                    estimate, high = estimate - 1, high - 1
    nothing = [s for s, _ in _effects(credited, NoPositions) if s.is_settled]
    is_floored = estimate < floor
    estimate, low, high = (min(cap, max(floor, n)) for n in (estimate, low, high))
    if nothing:
        estimate, low = 0, 0
        drivers += [
            Driver(s.rule.id, e.driver, 0, 0, 0, True) for s, e in _effects(credited, NoPositions)
        ]
    least = run.limit("stations.unknown") if after_contact and not_identified else 0
    if estimate < least:  # whatever rules local policy switches off
        why = "not identified: no fewer than the unknown answer"
        drivers.append(Driver("stations.unknown", why, 0, least - estimate, 0, True))
        estimate = least
    low, high = min(low, estimate), max(high, estimate)
    return Stations(estimate, low, high, _kind(run, estimate), tuple(drivers), capped, is_floored)


def _kind(run: _Run, estimate: int) -> str:
    """What the positions are: none, dry (wipe or brush), or wash and rinse."""
    facts = Facts(run.facts)
    if not estimate or facts["first_is_air"].is_yes:
        return "none"
    only_wipes = facts["first_is_wipe"].is_yes and facts.word("after_first") in _DRY_ENDS
    return "dry" if facts["stays_dry"].is_yes or only_wipes else "wash"


def _combine_solution(steps: list[Step]) -> tuple[str, str]:
    chosen = [(e.solution, e.why) for s, e in _effects(steps, UseSolution) if s.is_settled]
    if not chosen:
        return "none", "nothing is washed at this point"
    return next((c for c in chosen if c[0] == "plain-water"), chosen[0])


def _combine_avoid(steps: list[Step]) -> tuple[Avoid, ...]:
    merged: dict[str, list[tuple[Step, DoNotUse]]] = {}
    for step, effect in _effects(steps, DoNotUse):
        merged.setdefault(effect.agent, []).append((step, effect))
    avoided = []
    for agent, found in merged.items():
        settled = [(s, e) for s, e in found if s.is_settled]
        said = settled or found
        avoided.append(
            Avoid(
                agent,
                tuple(dict.fromkeys(e.why for _, e in said)),
                tuple(s.rule.id for s, _ in found),
                bool(settled),
            )
        )
    return tuple(sorted(avoided, key=lambda a: not a.is_settled))


_FORBIDDEN_BY = {"hypochlorite-0.5": "hypochlorite"}


def _combine_offers(
    steps: list[Step], avoided: tuple[Avoid, ...]
) -> tuple[tuple[Offer, ...], tuple[Offer, ...]]:
    """Forbid beats offer."""
    forbidden = {a.agent for a in avoided}
    offers = [e for s, e in _effects(steps, Offer) if s.is_settled]
    allowed = tuple(e for e in offers if _FORBIDDEN_BY.get(e.solution) not in forbidden)
    return allowed, tuple(e for e in offers if e not in allowed)


def _combine_cautions(steps: list[Step]) -> tuple[Warned, ...]:
    cautions = []
    for step, effect in _effects(steps, Caution):
        if not step.is_settled and not effect.unsettled and step.missing:
            continue  # nobody has stated it and there is nothing useful to say until they do
        cautions.append(
            Warned(effect.rank, effect.text, step.rule.id, step.rule.sources, step.is_settled)
        )
    return tuple(sorted(cautions, key=lambda c: (not c.is_settled and c.rank > 1, c.rank)))


def run_stages(
    facts: Mapping[str, Fact],
    limits: Mapping[str, Limit],
    switched_off: Mapping[str, str] | None = None,
) -> Outcomes:
    """Run every stage in order; each stage's result is a fact for the next."""
    run = _Run(facts, limits, switched_off)
    method = _combine_method(run.stage(Stage.METHOD))
    run.add(*_method_facts(method, run.facts))
    residence = Facts(run.facts).number("film_residence")
    persistence = _combine_persistence(run.stage(Stage.PERSISTENCE), residence)
    run.add(_persistence_fact(persistence))
    gross = _combine_gross(run.stage(Stage.GROSS))
    counted = run.stage(Stage.STATIONS)
    run.add(_positions_so_far(run, counted))
    model = run.stage(Stage.STAGE_MODEL)
    stations = _combine_stations(run, counted + model, run.stage(Stage.CREDIT))
    return _advise(run, model, method, persistence, gross, stations)


def _advise(
    run: _Run,
    model: list[Step],
    method: MethodChoice,
    persistence: Persistence,
    gross: GrossDecon,
    stations: Stations,
) -> Outcomes:
    """Run the stages after the count: solution, checks, cautions; and put it all together."""
    washing = run.stage(Stage.SOLUTION)
    solution, solution_why = _combine_solution(washing)
    avoided = _combine_avoid(washing)
    offers, refused = _combine_offers(washing, avoided)
    checking = run.stage(Stage.CHECKS)
    return Outcomes(
        method=method,
        persistence=persistence,
        gross=gross,
        stations=stations,
        solution=solution,
        solution_why=solution_why,
        offers=offers,
        refused_offers=refused,
        do_not_use=avoided,
        cautions=_combine_cautions([*model, *run.stage(Stage.CAUTIONS)]),
        checks=tuple(e for s, e in _effects(checking, Check) if s.is_settled),
        crew_notes=tuple(e.text for _, e in _effects(checking, CrewNote)),
        facts=run.facts,
        steps=tuple(run.steps),
    )


def unknown_names(outcomes: Outcomes) -> tuple[str, ...]:
    """Names of facts that nobody has stated and that kept a rule from being settled.

    In the order of the stages, so that what bears on the method comes first. Checks and reagents
    that could not be offered are left out: they take nothing away from the plan.
    """
    names: dict[str, None] = {}
    for step in outcomes.steps:
        only_offers = step.refused and all(isinstance(e, Offer) for e in step.refused)
        if step.rule.stage is Stage.CHECKS or (only_offers and not step.taken):
            continue
        if step.outcome is Outcome.CANNOT_TELL:
            names.update(dict.fromkeys(step.missing))
    return tuple(names)
