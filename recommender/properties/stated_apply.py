"""Put what somebody stated in front of what is held, and say where the two disagree.

Nothing held is changed: the values stated are put before the values held in a copy, where they
lead and the others are passed over. A hazard stated away, or a worse one made milder, is taken,
for whoever states it may know better, and is the first caution of the plan.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from recommender.chemicals.table import Chemical, CuratedData, PropertyValue, fact_dictionary
from recommender.errors import StatedError
from recommender.facts import Claim, Fact, Number, Provenance, Truth
from recommender.limits import Limits
from recommender.properties.agreement import Apart, how_far_from_all
from recommender.properties.dermal import CATEGORY, DOSE, dermal_category
from recommender.properties.stated import KINDS, MG_M3, StatedValue
from recommender.properties.stated_pressure import held_pressure_at_stated
from recommender.properties.values import STATED, number_from, stated_value
from recommender.properties.vapor_pressure import NAME as VAPOR_PRESSURE

SOURCE = "stated"
_PROVENANCE = "read"
_TEMPERATURES = ("melting_point", "boiling_point", "flash_point")
_FLAMMABLE, _FLASH_POINT = "flammable", "flash_point"
# Claims of which a yes is better news than a no: they are no hazards.
GOOD_NEWS = (
    "not_classified_for_health",
    "hypochlorite_breaks_down",
    "carbonate_helps",
    "fluoresces",
    "visible_residue",
)
# Liters that a mole of gas fills at 25 C and one atmosphere, by which exposure limits are
# converted between ppm and mg/m3.
_MOLAR_VOLUME_L = 24.45
# A dose stated as below a number is counted as a tenth of it, as the converted point of category
# 1 (5 mg/kg) is a tenth of its edge (50 mg/kg).
_DOSE_BELOW = 10.0


@dataclass(frozen=True, slots=True)
class AppliedStated:
    """One stated value beside what was held.

    Attributes:
        held: the number or claim that it takes the place of; None where nothing was held.
        apart: how far it lies from the nearest value held; None where there is none.
        note: what was stated and what is held, in a sentence.
        warning: what to check where the two are far apart or contradict; else empty.
        remark: what was assumed on the way, or follows; may be empty.
        caution: what every crew has to be told; empty where nothing is.
    """

    stated: StatedValue
    held: Fact | None
    apart: Apart | None
    note: str
    warning: str = ""
    remark: str = ""
    caution: str = ""


@dataclass(frozen=True, slots=True)
class Applied:
    """The data to plan with, and what there is to say of them.

    Attributes:
        data: what is held, with what was stated in front.
        before: what is held, without it.
    """

    data: CuratedData
    before: CuratedData
    entries: tuple[AppliedStated, ...]

    @property
    def notes(self) -> tuple[str, ...]:
        """What was stated, and what to check, in sentences."""
        return tuple(_joined(e.note, e.warning, e.remark) for e in self.entries)

    @property
    def cautions(self) -> tuple[str, ...]:
        """What every crew has to be told."""
        return tuple(e.caution for e in self.entries if e.caution)


def apply_stated(
    chemical: Chemical, data: CuratedData, stated: Iterable[StatedValue], limits: Limits
) -> Applied:
    """Return a copy of the data in which the stated values lead.

    Raises:
        StatedError: one property is stated twice, or a value cannot be converted.
    """
    wanted, held = tuple(stated), data
    _check(wanted)
    # The molar mass first: an IDLH in mg/m3 is converted with it.
    ordered = sorted(wanted, key=lambda s: s.fact != "molar_mass")
    entries = []
    for one in ordered:
        data = _put(data, one, limits)
        entries.append(_entry(chemical, one, held, data, limits))
    data, entries = _flammable(data, entries, limits)
    by_fact = {entry.stated.fact: entry for entry in entries}
    return Applied(data, held, tuple(by_fact[one.fact] for one in wanted))


def _check(stated: Sequence[StatedValue]) -> None:
    seen: set[str] = set()
    for one in stated:
        definition = fact_dictionary().get(one.fact)
        is_claim = definition is not None and definition.kind == "claim"
        if (is_claim and one.truth is None) or (not is_claim and one.fact not in KINDS):
            raise StatedError(f"The fact {one.fact!r} cannot be stated.")
        if not is_claim and (one.value is None or not math.isfinite(one.value)):
            raise StatedError(f"The {one.name} {one.value!r} cannot be used: it is no number.")
        if one.fact in seen:
            raise StatedError(f"The {one.name} is stated twice. State it once.")
        seen.add(one.fact)


def _put(data: CuratedData, one: StatedValue, limits: Limits) -> CuratedData:
    """Put one statement in front."""
    if one.truth is not None:
        held = data.claims[one.fact]
        basis = STATED if one.truth is not Truth.UNKNOWN else "unknown"
        note = f"held: {held.truth.value} ({held.origin.source})"
        claim = Claim(one.fact, one.truth, Provenance(basis, SOURCE, _PROVENANCE, note))
        return replace(data, claims={**data.claims, one.fact: claim})
    value = _value(data, one, limits)
    held_values = tuple(v for v in data.values.get(one.fact, ()) if v.basis != STATED)
    return replace(data, values={**data.values, one.fact: (value, *held_values)})


def _value(data: CuratedData, one: StatedValue, limits: Limits) -> PropertyValue:
    """The statement as a published value would stand in the tables."""
    assert one.value is not None
    share = _ppm_per_mg_m3(data, one) if one.unit == MG_M3 else 1.0
    value = one.value
    low, high = one.low, one.high
    if one.side:
        value, low, high = _one_sided(one, limits)
    return PropertyValue(
        one.fact,
        value * share,
        fact_dictionary()[one.fact].unit,
        one.temperature_c,
        None if low is None else low * share,
        None if high is None else high * share,
        SOURCE,
        _PROVENANCE,
        one.typed,
        STATED,
    )


def _one_sided(one: StatedValue, limits: Limits) -> tuple[float, float, float]:
    """Return (value, low, high) where only one side was stated: as far as it may well reach."""
    assert one.value is not None
    value, kind = one.value, KINDS[one.fact]
    reach = limits.value("uncertainty.stated_one_sided")
    if one.side == "below":
        low = kind.low if one.fact in _TEMPERATURES else value / reach
        if one.fact != VAPOR_PRESSURE:
            low = min(value, max(low, kind.low))
        return (value / _DOSE_BELOW if one.fact == DOSE else value), low, value
    high = value * reach if one.fact == VAPOR_PRESSURE else kind.high
    return value, value, max(value, min(high, kind.high))


def _ppm_per_mg_m3(data: CuratedData, one: StatedValue) -> float:
    mass = number_from("molar_mass", "g/mol", data.values.get("molar_mass", ()))
    if not mass.mid:
        raise StatedError(
            f"The {one.name} '{one.typed}' cannot be used: no molar mass is held to turn mg/m3 "
            "into ppm with. Write it in ppm, or state the molar mass too."
        )
    return _MOLAR_VOLUME_L / mass.mid


def _entry(
    chemical: Chemical,
    one: StatedValue,
    before: CuratedData,
    after: CuratedData,
    limits: Limits,
) -> AppliedStated:
    if one.truth is not None:
        return _claim_entry(one, before.claims[one.fact])
    held, others = _held(chemical, one, before, after, limits)
    low, high = _ends(after.values[one.fact][0], one.side)
    apart = how_far_from_all(one.fact, low, high, others, limits)
    warning = ""
    if apart is not None and apart.is_far:
        warning = (
            f"CHECK the {one.name}: stated and held are {apart.words}. Compare the sheet, the "
            "unit and the temperature."
        )
    return AppliedStated(
        one,
        held,
        apart,
        f"Stated: {one.name} {one.typed}{_taken(one, after)}; {_held_words(held)}.",
        warning,
        _pressure_words(chemical, one, held, limits),
        _milder_category(one, before, after, limits),
    )


def _joined(*sentences: str) -> str:
    return " ".join(sentence for sentence in sentences if sentence)


def _held(
    chemical: Chemical,
    one: StatedValue,
    before: CuratedData,
    after: CuratedData,
    limits: Limits,
) -> tuple[Number | None, tuple[float, ...]]:
    """What is held of a number, as the plan would use it, and every value that counts."""
    values = tuple(v for v in before.values.get(one.fact, ()) if v.counts)
    if one.fact == VAPOR_PRESSURE:
        points = before.values.get("boiling_point", ())
        boiling = number_from("boiling_point", "degC", points).mid
        is_pure = chemical.formula and chemical.form != "solution"
        found = held_pressure_at_stated(
            after.values[one.fact], boiling if is_pure else None, limits
        )
        return found, () if found is None or found.mid is None else (found.mid,)
    if not values:
        return None, ()
    held = number_from(one.fact, fact_dictionary()[one.fact].unit, values)
    return held, tuple(v.value for v in values)


def _ends(value: PropertyValue, side: str) -> tuple[float, float]:
    """The range that a held value is compared with: open on the side that was left open."""
    low = value.value if value.low is None else value.low
    high = value.value if value.high is None else value.high
    return (-math.inf if side == "below" else low), (math.inf if side == "above" else high)


def _taken(one: StatedValue, data: CuratedData) -> str:
    """Say the number in the unit that is computed with, where that is not the one typed."""
    value = data.values[one.fact][0]
    unit = "C" if value.unit == "degC" else value.unit
    if unit == "1" or unit in one.typed.split():
        return ""
    shown = f"{round(value.value, 1):g}" if unit == "C" else f"{value.value:.4g}"
    return f" ({shown} {unit})"


def _held_words(held: Number | None) -> str:
    if held is None or held.mid is None:
        return "nothing was held"
    unit = {"degC": " C", "1": ""}.get(held.unit, f" {held.unit}")
    return f"held {held.mid:.4g}{unit} ({held.origin.basis}, {held.origin.source})"


def _pressure_words(
    chemical: Chemical, one: StatedValue, held: Number | None, limits: Limits
) -> str:
    if one.fact != VAPOR_PRESSURE:
        return ""
    words = []
    if one.temperature_c is None:
        at_c = limits.value("uncertainty.stated_temperature")
        words.append(f"No temperature was stated with it: taken at {at_c:g} C, low end lowered.")
    if not chemical.formula or chemical.form == "solution":
        keeps = held is not None and one.low is None and not one.side
        words.append(
            "A sheet gives the vapor pressure of the part of a mixture that leaves first; the rest "
            f"stays longer{', so the low end held is kept.' if keeps else ' than this says.'}"
        )
    return _joined(*words)


def _milder_category(
    one: StatedValue, before: CuratedData, after: CuratedData, limits: Limits
) -> str:
    """Caution where a dermal category or dose that was stated makes the category milder."""
    if one.fact not in (CATEGORY, DOSE):
        return ""
    was, now = dermal_category(before, limits), dermal_category(after, limits)
    if was.mid is None or now.mid is None or now.mid <= was.mid:
        return ""
    return _overrides(
        one, f"dermal category {now.mid:g}", f"category {was.mid:g} ({was.origin.source})"
    )


def _overrides(one: StatedValue, stated: str, held: str) -> str:
    return (
        f"Stated value overrides what is held of {one.name}: stated {stated}, held {held}. Make "
        "sure before anyone relies on it."
    )


def _claim_entry(one: StatedValue, held: Claim) -> AppliedStated:
    assert one.truth is not None
    was, now = held.truth, one.truth
    note = f"Stated: {one.name} {now.value}; held {was.value} ({held.origin.source})."
    worse = Truth.NO if one.fact in GOOD_NEWS else Truth.YES
    caution = ""
    if was is worse and now is not worse:
        caution = _overrides(one, now.value, f"{was.value} ({held.origin.source})")
    return AppliedStated(one, held, None, note, caution=caution)


def _flammable(
    data: CuratedData, entries: Sequence[AppliedStated], limits: Limits
) -> tuple[CuratedData, list[AppliedStated]]:
    """A stated flash point may make a product flammable; it never makes one that is not."""
    flash = stated_value(data.values.get(_FLASH_POINT, ()))
    edge = limits.value("flammable.flash_point")
    claim = data.claims[_FLAMMABLE]
    is_below = flash is not None and (flash.value if flash.low is None else flash.low) <= edge
    if flash is None or not is_below or claim.truth is Truth.YES:
        return data, list(entries)
    if any(e.stated.fact == _FLAMMABLE for e in entries):
        words = f"CHECK: stated not to be flammable, with a flash point of {edge:g} C or below."
        return data, [_warned(e, words) for e in entries]
    origin = Provenance(STATED, SOURCE, _PROVENANCE, f"flash point {flash.note}")
    claims = {**data.claims, _FLAMMABLE: Claim(_FLAMMABLE, Truth.YES, origin)}
    words = f"At {edge:g} C or below: taken as flammable."
    entries = [
        replace(e, remark=_joined(e.remark, words)) if e.stated.fact == _FLASH_POINT else e
        for e in entries
    ]
    return replace(data, claims=claims), entries


def _warned(entry: AppliedStated, words: str) -> AppliedStated:
    if entry.stated.fact != _FLASH_POINT:
        return entry
    return replace(entry, warning=_joined(entry.warning, words))
