"""The judgement and its authorities, readable without the code."""

from __future__ import annotations

from rich.console import Group
from rich.table import Table
from rich.text import Text

from recommender.chemicals.table import load_chemicals
from recommender.engine import Rule, evaluate
from recommender.errors import InputError
from recommender.limits import Limit, load_limits
from recommender.recommend import recommend
from recommender.render.as_json import effect_text
from recommender.render.text import print_to_text
from recommender.render.words import label_of
from recommender.rules import ALL_RULES
from recommender.sources import Source, load_sources


def _table(*headings: str) -> Table:
    table = Table(box=None, padding=(0, 2, 0, 0), pad_edge=False)
    for heading in headings:
        table.add_column(heading, overflow="fold")
    return table


def rule_list_text(*, styled: bool = False) -> str:
    """Every rule in one line, in the order in which they run."""
    table = _table("Rule", "Stage", "What it is about")
    for a_rule in ALL_RULES:
        table.add_row(a_rule.id, a_rule.stage.value, Text(a_rule.title))
    note = Text("\nOne rule: recommender rules ID")
    return print_to_text(Group(table, note), styled=styled)


def _nearest(name: str, known: list[str]) -> str:
    from rapidfuzz import process

    found = process.extract(name, known, limit=3)
    return ", ".join(item[0] for item in found)


def _find_rule(rule_id: str) -> Rule:
    for a_rule in ALL_RULES:
        if a_rule.id.casefold() == rule_id.casefold():
            return a_rule
    near = _nearest(rule_id.upper()[:40], [r.id for r in ALL_RULES])
    raise InputError(f"No rule is called {rule_id[:40]!r}. Near it: {near}.")


def _reads(a_rule: Rule) -> tuple[list[str], list[Limit]]:
    """Facts and limits that a rule reads, over the unknown product and every curated row."""
    facts: dict[str, None] = {}
    limits: dict[str, Limit] = {}
    in_force = load_limits()
    for chemical in (None, *load_chemicals().values()):
        step = evaluate(a_rule, recommend(chemical).facts, in_force)
        facts.update(dict.fromkeys(fact.name for fact in step.facts))
        limits.update({limit.id: limit for limit in step.limits})
    return list(facts), list(limits.values())


def rule_text(rule_id: str, *, styled: bool = False) -> str:
    """One rule: reason, what it reads, what it does, and on whose authority.

    Raises:
        InputError: there is no such rule.
    """
    a_rule = _find_rule(rule_id)
    facts, limits = _reads(a_rule)
    step = evaluate(a_rule, recommend(None).facts, load_limits())
    effects = dict.fromkeys(effect_text(e) for e in (*step.taken, *step.refused))
    lines = [a_rule.why, "", f"Stage: {a_rule.stage.value}"]
    lines.append(f"Local policy may switch it off: {'no' if a_rule.floor else 'yes'}")
    lines.append("Reads: " + (", ".join(label_of(name) for name in facts) or "nothing"))
    lines += [
        f"Limit: {x.id} = {x.value:g} {x.unit} ({x.kind}; {x.source}; {x.provenance}; safer "
        f"{x.safer}). {x.meaning}."
        for x in limits
    ]
    lines += [f"Does: {text}" for text in effects]
    known = load_sources()
    lines += [f"Source: {name}: {_source_line(known[name])}" for name in a_rule.sources]
    title = Text(f"{a_rule.id}  {a_rule.title}", style="bold")
    return print_to_text(Group(title, Text("\n".join(lines))), styled=styled)


def _source_line(source: Source) -> str:
    parts = [source.title, source.publisher, source.year]
    said = {"read": "read", "memory": "from memory"}.get(source.provenance, source.provenance)
    return ", ".join(p for p in parts if p) + f" ({source.kind}; {said})"


def source_list_text(*, styled: bool = False) -> str:
    """Every source in one line."""
    table = _table("Source", "Kind", "Known by", "Title")
    for source in load_sources().values():
        table.add_row(source.id, source.kind, source.provenance, Text(source.title))
    note = Text("\nOne source: recommender sources ID")
    return print_to_text(Group(table, note), styled=styled)


def source_text(source_id: str, *, styled: bool = False) -> str:
    """One source, and the rules and limits that rest on it.

    Raises:
        InputError: there is no such source.
    """
    known = load_sources()
    source = known.get(source_id.strip()) or known.get(source_id.strip().casefold())
    if source is None:
        near = _nearest(source_id[:40], list(known))
        raise InputError(f"No source is called {source_id[:40]!r}. Near it: {near}.")
    rules = [r.id for r in ALL_RULES if source.id in r.sources]
    limits = [x.id for x in load_limits().values() if x.source == source.id]
    lines = [_source_line(source)]
    if source.note:
        lines.append(f"Note: {source.note}")
    lines.append("Rules: " + (", ".join(rules) or "none"))
    lines.append("Limits: " + (", ".join(limits) or "none"))
    title = Text(source.id, style="bold")
    return print_to_text(Group(title, Text("\n".join(lines))), styled=styled)
