"""A local policy in words: what it changes, in which direction, and what no policy can."""

from __future__ import annotations

from rich.console import Group, RenderableType
from rich.text import Text

from recommender.bounds import load_bounds
from recommender.limits import load_limits
from recommender.policy import EITHER, LOOSER, ChangedLimit, Policy, SwitchedOff
from recommender.policy_effect import TableEffect
from recommender.render.text import bullets, label_grid, print_to_text
from recommender.rules import ALL_RULES

_MOST_NAMED = 5
_NONE = "none"
_SAID = {
    LOOSER: "LESS cautious: every plan says so",
    EITHER: "either way (no direction is the safer one): every plan says so",
}


def _limit_text(change: ChangedLimit) -> str:
    said = _SAID.get(change.direction, change.direction)
    typed = f", written {change.typed}" if change.typed.split()[0] != _number(change) else ""
    return f"{change.words}{typed}: {said}. {change.limit.meaning}."


def _number(change: ChangedLimit) -> str:
    return f"{change.limit.value:g}"


def _off_text(off: SwitchedOff) -> str:
    said = "more cautious: it only takes away"
    if off.loosens:
        said = "LESS cautious: it can add caution; every plan says so"
    return f"{off.rule.id} ({off.rule.title}): {said}. Reason given: {off.reason}"


def _line_text(policy: Policy) -> str:
    packaged = int(load_limits()["policy.standard_line"].value)
    positions = int(policy.limits(load_limits())["policy.standard_line"].value)
    words = f"{positions} wash-and-rinse positions after the boot wash (packaged: {packaged}). "
    if policy.fewer_without_technician:
        return words + (
            "Fewer may be set up without a technician, under the department's name, unless the "
            "product is not identified."
        )
    return words + "It is set up until a technician or local procedure accepts fewer."


def _named(counts: tuple[tuple[str, int, int], ...]) -> str:
    named = [f"{name} {before} to {after}" for name, before, after in counts[:_MOST_NAMED]]
    more = len(counts) - _MOST_NAMED
    return "; ".join(named) + (f"; and {more} more" if more > 0 else "")


def _effect_items(effect: TableEffect) -> list[str]:
    items = [f"{effect.rows} packaged rows after a splash, everything else left out:"]
    if effect.more:
        items.append(f"More positions for {len(effect.more)}: {_named(effect.more)}.")
    if effect.fewer:
        items.append(f"FEWER positions for {len(effect.fewer)}: {_named(effect.fewer)}.")
    if effect.less_range:
        items.append(f"A range that ends lower for {len(effect.less_range)}.")
    if effect.longer:
        items.append(f"A longer persistence grade for {effect.longer}.")
    if effect.shorter:
        items.append(f"A SHORTER persistence grade for {effect.shorter}.")
    if effect.line_now:
        items.append(f"The standard line is now asked for in {effect.line_now} more.")
    if effect.line_no_longer:
        items.append(f"The standard line is no longer asked for in {effect.line_no_longer}.")
    if len(items) == 1:
        items.append("No number of positions changes, no grade, and not the standard line.")
    return items


def _cannot_items() -> list[str]:
    rules = ", ".join(rule.id for rule in ALL_RULES if rule.floor)
    floors = [
        f"{bound.id} ({load_limits()[bound.id].value:g}): {bound.why}."
        for bound in load_bounds().values()
        if bound.is_floor
    ]
    return [
        f"Floor rules cannot be switched off: {rules}.",
        *floors,
        "Every other limit stays within its bounds (data/limit_bounds.csv).",
        "The always-on lines and the defer line are printed in every plan.",
    ]


def policy_text(policy: Policy, effect: TableEffect, *, styled: bool = False) -> str:
    """Return what the policy changes, in which direction, and what it cannot."""
    grid = label_grid()
    grid.add_row("LIMITS", bullets([_limit_text(c) for c in policy.changes] or [_NONE]))
    grid.add_row("RULES OFF", bullets([_off_text(o) for o in policy.off] or [_NONE]))
    grid.add_row("LINE", Text(_line_text(policy)))
    carried = [f"{item}: {quantity}" for item, quantity in policy.carried]
    grid.add_row("CARRIED", bullets(carried or [_NONE]))
    cautions = [f"{c.text} [{c.when}]" for c in policy.cautions]
    grid.add_row("CAUTIONS", bullets(cautions or [_NONE]))
    grid.add_row("CONTACTS", bullets(list(policy.contacts) or [_NONE]))
    grid.add_row("IN PLANS", bullets(list(policy.loosened) or ["Nothing is loosened."]))
    grid.add_row("EFFECT", bullets(_effect_items(effect)))
    grid.add_row("CANNOT", bullets(_cannot_items()))
    title = Text(f"Policy of {policy.name}: it can be used.", style="bold")
    parts: list[RenderableType] = [title, grid]
    return print_to_text(Group(*parts), styled=styled)
