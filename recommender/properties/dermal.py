"""Dermal toxicity: the acute category and the dose behind it, stated, published or converted."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from recommender.chemicals.table import CuratedData, PropertyValue
from recommender.facts import Number, PassedOver, Provenance, unknown_number
from recommender.limits import Limits, load_limits
from recommender.properties.values import STATED, leading, number_from, stated_value

CATEGORY, DOSE = "dermal_category", "dermal_ld50"
NOT_CLASSIFIED = 6.0


@dataclass(frozen=True, slots=True)
class _Found:
    """A category, as it was given or as a dose implies it."""

    category: float
    basis: str
    value: PropertyValue
    note: str

    @property
    def shown(self) -> PassedOver:
        return PassedOver(self.category, self.value.source, self.note)


def implied_category(dose_mg_kg: float, limits: Limits) -> float:
    """Return the category whose edges a dose lies in."""
    steps = range(1, int(NOT_CLASSIFIED))
    found = next((i for i in steps if dose_mg_kg <= limits.value(f"ghs.dermal_{i}")), None)
    return NOT_CLASSIFIED if found is None else float(found)


def _given(values: Iterable[PropertyValue]) -> Iterator[_Found]:
    for value in values:
        basis = STATED if value.basis == STATED else "classified"
        yield _Found(value.value, basis, value, value.note)


def _implied(values: Iterable[PropertyValue], limits: Limits) -> Iterator[_Found]:
    for value in values:
        lowest = value.value if value.low is None else value.low
        basis = STATED if value.basis == STATED else "classified"
        note = f"from dermal LD50 {lowest:g} mg/kg"
        yield _Found(implied_category(lowest, limits), basis, value, note)


def dermal_category(data: CuratedData, limits: Limits) -> Number:
    """GHS acute dermal category: the worse of the one given and the one an LD50 implies.

    A category that somebody stated takes the place of all that is held; a stated LD50 takes the
    place of the doses held, and the category held still counts.
    """
    categories, doses = data.values.get(CATEGORY, ()), data.values.get(DOSE, ())
    stated = stated_value(categories)
    everything = [*_given(categories), *_implied(doses, limits)]
    found = [*_given(leading(categories)), *_implied(leading(doses), limits)]
    if stated is not None:
        found = [f for f in found if f.basis == STATED]
    if not found:
        return unknown_number(CATEGORY, "1")
    worst = min(found, key=lambda f: f.category)
    origin = Provenance(worst.basis, worst.value.source, worst.value.provenance, worst.note)
    others = tuple(f.shown for f in everything if f.shown != worst.shown)
    level = worst.category
    return Number(CATEGORY, level, level, level, "1", origin, passed_over=others)


def dermal_dose(data: CuratedData, category: Number, limits: Limits) -> Number:
    """Dermal LD50 for the stage model: measured, else the converted point of the category.

    A stated category was assigned at the published edges, whatever edges are in force here.
    """
    values = data.values.get(DOSE, ())
    if values:
        return number_from(DOSE, "mg/kg", values)
    if category.mid is None or category.mid > 4:
        return unknown_number(DOSE, "mg/kg")
    step = int(category.mid)
    point = limits.value(f"ghs.dermal_point_{step}")
    published = load_limits()
    least = published[f"ghs.dermal_{step - 1}"].value if step > 1 else 1.0
    most = max(point, published[f"ghs.dermal_{step}"].value)
    note = f"converted point estimate for category {step}"
    origin = Provenance("estimated", "ghs", "memory", note)
    return Number(DOSE, min(least, point), point, most, "mg/kg", origin)
