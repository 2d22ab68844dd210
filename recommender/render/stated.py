"""A stated value as JSON has it, in plans and in the table of properties."""

from __future__ import annotations

from typing import Any

from recommender.facts import Claim, Number
from recommender.properties.stated_apply import AppliedStated

_SIGNIFICANT = 6


def rounded(value: float | str | None) -> float | str | None:
    """Six significant digits: the same on every machine, and no false precision."""
    return float(f"{value:.{_SIGNIFICANT}g}") if isinstance(value, float) else value


def stated_dict(entry: AppliedStated) -> dict[str, Any]:
    """One stated value beside what was held."""
    one, held = entry.stated, entry.held
    was: float | str | None = None
    if isinstance(held, Claim):
        was = held.truth.value
    elif isinstance(held, Number):
        was = rounded(held.mid)
    return {
        "fact": one.fact,
        "name": one.name,
        "typed": one.typed,
        "value": one.truth.value if one.truth is not None else rounded(one.value),
        "unit": one.unit,
        "temperature_c": rounded(one.temperature_c),
        "held": was,
        "held_unit": held.unit if isinstance(held, Number) else "",
        "held_source": "" if held is None else held.origin.source,
        "apart": "" if entry.apart is None else entry.apart.words,
        "is_far": entry.apart is not None and entry.apart.is_far,
        "note": entry.note,
        "warning": entry.warning,
        "remark": entry.remark,
        "caution": entry.caution,
    }
