"""A plan as text for a terminal: 80 columns, most important first, plain where need be."""

from __future__ import annotations

import io

from rich.console import Console, Group, RenderableType
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from recommender.chemicals.lookup import Match
from recommender.chemicals.table import Chemical
from recommender.effects import Method, Rank
from recommender.engine import Outcome, Step
from recommender.facts import Claim, Fact, Number, Word
from recommender.outcomes import Warned
from recommender.policy import Policy
from recommender.recommend import ALWAYS, DEFER, Plan, do_not_use_words
from recommender.render.as_json import effect_text
from recommender.render.words import (
    drivers_text,
    gross_text,
    label_of,
    method_text,
    persistence_text,
    release_text,
    stations_text,
    threshold_text,
    unknown_labels,
)
from recommender.units import UnitSystem, format_speed, format_temperature

WIDTH = 80
_LABEL = 11
_MOST_CAUTIONS = 5
_ON_ANY_SUIT = ("solvent", "blast")
_WATER = ("water-first", "little-water")
_MOST_UNKNOWNS = 5
_MOST_NAMES = 24


def print_to_text(renderable: RenderableType, *, width: int = WIDTH, styled: bool = False) -> str:
    """Render with rich; without styling the result is plain text."""
    stream = io.StringIO()
    console = Console(
        file=stream,
        width=width,
        force_terminal=styled,
        color_system="standard" if styled else None,
        highlight=False,
        markup=False,
        emoji=False,
    )
    console.print(renderable)
    return "\n".join(line.rstrip() for line in stream.getvalue().splitlines()) + "\n"


def label_grid() -> Table:
    """An empty table of labels and what stands beside them."""
    grid = Table.grid(padding=(0, 1))
    grid.add_column(width=_LABEL, no_wrap=True, style="bold")
    grid.add_column()
    return grid


def bullets(items: list[str]) -> RenderableType:
    """A list with hanging indents, so that a wrapped line does not look like a new item."""
    grid = Table.grid(padding=(0, 1))
    grid.add_column(width=1)
    grid.add_column()
    for item in items:
        grid.add_row("-", Text(item))
    return grid


def _title(plan: Plan, units: UnitSystem) -> Text:
    chemical, state = plan.chemical, plan.known.state
    numbers = [f"CAS {chemical.cas}"] if chemical.cas else []
    numbers += [f"UN {', '.join(chemical.un)}"] if chemical.un else []
    name = f"{chemical.name} ({'; '.join(numbers)})" if numbers else chemical.name
    weather = (
        f"{state.form}, contact {plan.scene.contact}, air "
        f"{format_temperature(state.air_temperature_c, units)}, wind "
        f"{format_speed(state.wind_m_s, units)}, suit {plan.scene.suit}"
    )
    return Text.assemble((name, "bold"), "\n", weather)


def _uncapitalized(text: str) -> str:
    return text[0].lower() + text[1:]


def _do_not_use(plan: Plan) -> list[str]:
    """The list as printed: settled reasons first, what holds on any suit, what is still open.

    Water is left out of the open ones where the method is wet: the caution on water reactivity
    says it better than a list that forbids what the method asks for.
    """
    words = do_not_use_words()
    avoided = [a for a in plan.outcomes.do_not_use if a.agent not in _ON_ANY_SUIT]
    general = [words[a.agent] for a in plan.outcomes.do_not_use if a.agent in _ON_ANY_SUIT]
    settled = [a for a in avoided if a.is_settled]
    both = {a.agent for a in settled} >= set(_WATER)
    items = []
    for avoid in settled:
        what = words[avoid.agent]
        if both and avoid.agent == "little-water":
            continue
        if both and avoid.agent == "water-first":
            what = "Water first, or a little water (damp cloths included)"
        items.append(f"{what}: {'; '.join(avoid.why)}")
    if general:
        items.append("On any suit: " + "; ".join(_uncapitalized(w) for w in general))
    wet = plan.outcomes.method.first is Method.WET
    open_ = [
        words[a.agent] for a in avoided if not a.is_settled and not (wet and a.agent in _WATER)
    ]
    if open_:
        listed = "; ".join(_uncapitalized(w.split(" (")[0]) for w in open_)
        items.append(f"Until it is known better: {listed}")
    return items or ["Nothing special to this product"]


def _unknown_text(plan: Plan) -> str:
    if not plan.chemical.is_known:
        return (
            "The product: every fact is taken the cautious way. Find out first: reaction with "
            "water, form, pH paper, flammability."
        )
    labels = unknown_labels(plan)
    if not labels:
        return "Nothing that would change this."
    shown = ", ".join(labels[:_MOST_UNKNOWNS])
    more = len(labels) - _MOST_UNKNOWNS
    return f"{shown}{f', and {more} more' if more > 0 else ''}. Taken the cautious way."


def _solution_text(plan: Plan, units: UnitSystem) -> str:
    solution = plan.solution
    if solution.id == "none":
        if plan.outcomes.method.first is Method.HOLD and plan.outcomes.stations.high:
            return "None during the hold; afterward detergent and water if anything remains."
        return "None: " + plan.outcomes.solution_why + "."
    recipe = solution.recipe_us if units == "us" else solution.recipe_si
    options = "".join(f" Technician's option: {s.name}, {o.why}." for s, o in plan.offers)
    refused = ""
    if plan.outcomes.refused_offers:
        refused = " Hypochlorite is in published lists for it, never on the neat product."
    return f"{solution.name}: {recipe}.{options}{refused}"


def _stations_row(plan: Plan) -> str:
    line = plan.standard_line
    stations = f"{stations_text(plan)}."
    if line.applies:
        stations += f"\n{line.text}"
    elif plan.scene.technician != "on-scene":
        stations += f" {line.text}"
    return f"{stations}\nWhy: {drivers_text(plan)}."


def _said_cautions(plan: Plan) -> list[str]:
    cautions = _ordinary_cautions(plan)
    said = [c.text for c in cautions[:_MOST_CAUTIONS]]
    if len(cautions) > _MOST_CAUTIONS:
        said.append(f"{len(cautions) - _MOST_CAUTIONS} more with --why")
    return said


def _rows(plan: Plan, units: UnitSystem) -> list[tuple[str, RenderableType]]:
    """What is said, most important first; rows with nothing to say are left out."""
    persists = " ".join(t for t in (persistence_text(plan), threshold_text(plan)) if t)
    rows: list[tuple[str, RenderableType]] = [
        ("STATIONS", Text(_stations_row(plan))),
        ("METHOD", Text(method_text(plan))),
        ("SOLUTION", Text(_solution_text(plan, units))),
        ("GROSS DECON", Text(gross_text(plan))),
        ("PERSISTENCE", Text(persists)),
        ("DO NOT USE", bullets(_do_not_use(plan))),
    ]
    said = _said_cautions(plan)
    if said:
        rows.append(("CAUTIONS", bullets(said)))
    if plan.policy is not None:
        rows.append(("LOCAL", _local(plan, plan.policy)))
    rows.append(("NOT KNOWN", Text(_unknown_text(plan))))
    rows.append(("CHECK", Text(release_text(plan))))
    rows.append(("CREW", Text(_crew_text(plan, units))))
    if plan.assumptions:
        rows.append(("ASSUMED", Text(" ".join(plan.assumptions))))
    rows.append(("ALWAYS", Text(" ".join(ALWAYS))))
    if plan.call_technician and plan.scene.technician != "on-scene":
        rows.append(("TECHNICIAN", Text("Call one: " + "; ".join(plan.call_technician) + ".")))
    if plan.policy is not None and plan.policy.contacts:
        rows.append(("CONTACTS", bullets(list(plan.policy.contacts))))
    rows.append(("DEFER", Text(DEFER)))
    return rows


def plan_text(
    plan: Plan,
    units: UnitSystem = "us",
    *,
    why: bool = False,
    styled: bool = False,
    width: int = WIDTH,
) -> str:
    """Return the plan as text.

    Args:
        plan: the plan.
        units: us or si, for what is printed.
        why: add the trace.
        styled: use bold and color (a terminal that has them).
        width: columns.
    """
    grid = label_grid()
    for label, said in _rows(plan, units):
        grid.add_row(label, said)
    parts: list[RenderableType] = [_title(plan, units), grid]
    if why:
        parts.append(_trace(plan))
    return print_to_text(Group(*parts), width=width, styled=styled)


def _ordinary_cautions(plan: Plan) -> tuple[Warned, ...]:
    """Cautions of the rules; those of local policy are always shown, in a place of their own."""
    return tuple(c for c in plan.outcomes.cautions if c.rank != Rank.LOCAL)


def _local(plan: Plan, policy: Policy) -> RenderableType:
    """Whose policy it is, what it loosens, and what it adds."""
    said = [c.text for c in plan.outcomes.cautions if c.rank == Rank.LOCAL]
    head = Text(f"Policy of {policy.name}.")
    return Group(head, bullets(said)) if said else head


def _crew_text(plan: Plan, units: UnitSystem) -> str:
    needs = plan.needs
    ends = (plan.limits["water.per_person_low"], plan.limits["water.per_person_high"])
    whose = "local policy" if any(e.kind == "local" for e in ends) else "practice, low confidence"
    amount = f"{needs.water_low_gal} to {needs.water_high_gal} gal"
    if units == "si":
        low, high = needs.water_liters
        amount = f"{low:.0f} to {high:.0f} L"
    water = f" Water {amount} a person ({whose})." if needs.water_high_gal else ""
    people = f"{needs.crew_low} to {needs.crew_high}"
    if needs.crew_low == needs.crew_high:
        people = str(needs.crew_low)
    return f"{people} people.{water} {'. '.join(plan.outcomes.crew_notes)}."


def fact_text(fact: Fact) -> str:
    """One fact with value, basis and source."""
    origin = fact.origin
    tail = f"[{origin.basis}; {origin.source}; {origin.provenance}]"
    if origin.note:
        tail = f"[{origin.basis}; {origin.source}; {origin.provenance}; {origin.note}]"
    name = label_of(fact.name)
    if isinstance(fact, Claim):
        return f"{name}: {fact.truth.value} {tail}"
    if isinstance(fact, Word):
        return f"{name}: {fact.word or 'not stated'} {tail}"
    assert isinstance(fact, Number)
    if fact.mid is None or fact.low is None or fact.high is None:
        return f"{name}: not known"
    span = "" if fact.low == fact.high else f" ({fact.low:.3g} to {fact.high:.3g})"
    at = "" if fact.temperature_c is None else f" at {fact.temperature_c:.4g} C"
    unit = "" if fact.unit == "1" else f" {fact.unit}"
    return f"{name}: {fact.mid:.4g}{unit}{span}{at} {tail}"


def _step_text(step: Step) -> RenderableType:
    title = Text(f"{step.rule.id}  {step.outcome.value}: {step.rule.title}", style="bold")
    rows = [("why", step.rule.why)]
    if step.off_because:
        rows.append(("off", f"switched off, reason given: {step.off_because}"))
    rows += [("took", effect_text(e)) for e in step.taken]
    rows += [("refused", effect_text(e)) for e in step.refused]
    if step.missing:
        rows.append(("missing", ", ".join(label_of(n) for n in step.missing)))
    rows += [("read", fact_text(fact)) for fact in step.facts]
    rows += [
        ("limit", f"{x.id} {x.value:g} {x.unit} [{x.kind}; {x.source}; {x.provenance}]")
        for x in step.limits
    ]
    rows.append(("sources", ", ".join(step.rule.sources)))
    grid = Table.grid(padding=(0, 1))
    grid.add_column(width=9, justify="right")
    grid.add_column()
    for label, text in rows:
        grid.add_row(label, Text(text))
    return Group(title, grid)


def _trace(plan: Plan) -> Group:
    """The rules that did something, in order, with what they read; then the rest in one line."""
    parts: list[RenderableType] = [Text("\nWHY: the rules that decided", style="bold")]
    quiet: list[str] = []
    for step in plan.outcomes.steps:
        if step.outcome is Outcome.DOES_NOT_APPLY:
            quiet.append(step.rule.id)
        else:
            parts.append(Padding(_step_text(step), (0, 0, 1, 0)))
    parts.append(Text(_model_text(plan)))
    parts.append(Text("Did not apply: " + ", ".join(quiet)))
    rest = _ordinary_cautions(plan)[_MOST_CAUTIONS:]
    if rest:
        parts.append(Text("Further cautions:\n" + "\n".join(f"- {c.text}" for c in rest)))
    parts.append(Text("Kit: " + "; ".join(plan.needs.kit)))
    parts.append(Text("Versions: " + ", ".join(f"{k} {v}" for k, v in plan.versions.items())))
    return Group(*parts)


def _model_text(plan: Plan) -> str:
    model = plan.stage_model
    if model.required_log_reduction is None:
        return f"Stage model: {model.note}."
    reach = (
        f"{model.stations} position(s) reach the target"
        if model.reachable
        else "no number of positions reaches the target"
    )
    left = "" if model.percent_left is None else f"; about {model.percent_left:g} % left"
    note = f" ({model.note})" if model.note else ""
    return (
        f"Stage model: {model.wash_class}; {model.required_log_reduction:g} log needed; "
        f"{reach}{left}{note}. A screening convention, not a cleanliness guarantee."
    )


def chemical_line(chemical: Chemical) -> str:
    """One row of the table in one line."""
    strength = "" if chemical.strength_percent is None else f" {chemical.strength_percent:g} %"
    un = f", UN {', '.join(chemical.un)}" if chemical.un else ""
    cas = f", CAS {chemical.cas}" if chemical.cas else ""
    return f"{chemical.name} [{chemical.form}{strength}{cas}{un}]"


def match_text(match: Match, others: tuple[Chemical, ...], *, styled: bool = False) -> str:
    """What a search found."""
    chemical = match.chemical
    grid = label_grid()
    grid.add_row("FOUND", Text(chemical_line(chemical)))
    grid.add_row("BY", Text(match.how))
    if match.notes:
        grid.add_row("NOTE", Text(" ".join(match.notes)))
    names = [*chemical.synonyms, *chemical.trade_names]
    if names:
        more = len(names) - _MOST_NAMES
        rest = f"; and {more} more" if more > 0 else ""
        grid.add_row("ALSO", Text("; ".join(names[:_MOST_NAMES]) + rest))
    if chemical.note:
        grid.add_row("ROW NOTE", Text(chemical.note))
    if others:
        grid.add_row("OTHER ROWS", bullets([chemical_line(c) for c in others]))
    return print_to_text(grid, styled=styled)
