"""Lead value, range and passed-over values of one property out of the curated table."""

from __future__ import annotations

from collections.abc import Sequence

from recommender.chemicals.table import PropertyValue
from recommender.facts import Number, PassedOver, Provenance, unknown_number

MISCIBLE_G_L = 1000.0
STATED = "stated"


def spread(value: PropertyValue, factor: float) -> tuple[float, float]:
    """Return the low and high ends of one published value.

    The published range where there is one, else the value divided and multiplied by ``factor``.
    """
    ends = (value.value / factor, value.value * factor) if value.value > 0 else (value.value,) * 2
    low = value.low if value.low is not None else min(ends[0], value.value)
    high = value.high if value.high is not None else max(ends[1], value.value)
    return min(low, value.value), max(high, value.value)


def stated_value(values: Sequence[PropertyValue]) -> PropertyValue | None:
    """Return the value that somebody stated, if any."""
    return next((v for v in values if v.basis == STATED and v.counts), None)


def leading(values: Sequence[PropertyValue]) -> tuple[PropertyValue, ...]:
    """Return the values that lead and span the range: a stated one alone, else all that count."""
    stated = stated_value(values)
    return tuple(v for v in values if v.counts) if stated is None else (stated,)


def number_from(
    name: str, unit: str, values: Sequence[PropertyValue], factor: float = 1.0
) -> Number:
    """Build a fact from published values: the first that counts leads, those that count span.

    What does not count, such as a value dropped by a check, is only passed over; so is everything
    beside a value that somebody stated.
    """
    counting = leading(values)
    if not counting:
        return unknown_number(name, unit)
    lead = counting[0]
    ends = [spread(value, factor) for value in counting]
    return Number(
        name,
        min(low for low, _ in ends),
        lead.value,
        max(high for _, high in ends),
        unit,
        Provenance(lead.basis, lead.source, lead.provenance, lead.note),
        lead.temperature_c,
        passed_over=tuple(PassedOver(v.value, v.source, v.note) for v in values if v is not lead),
    )
