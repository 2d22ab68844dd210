"""Sentences that more than one rendering of a plan uses."""

from __future__ import annotations

from recommender.chemicals.table import fact_dictionary
from recommender.effects import Grade, Method
from recommender.recommend import Plan
from recommender.units import format_duration_minutes

_DERIVED_LABELS = {
    "film_impossible": "no film can exist",
    "vapor_can_condense": "vapor can condense",
    "saturation": "saturated vapor",
    "vapor_hazard_ratio": "saturated vapor over the immediately-dangerous concentration",
    "stays_dry": "kept dry after the first step",
    "positions_so_far": "positions before the stage model",
    "persistence": "persistence",
    "film_residence": "film time",
}
_METHOD_WORDS = {
    Method.WET: "Wet",
    Method.DRY: "Dry first",
    Method.AIR: "Air",
    Method.WIPE: "Wipe first",
    Method.KEEP_WET: "Keep wet",
    Method.HOLD: "Hold",
}


def label_of(fact: str) -> str:
    """Name a fact in plain words."""
    if fact in _DERIVED_LABELS:
        return _DERIVED_LABELS[fact]
    definition = fact_dictionary().get(fact)
    return definition.label if definition else fact.replace("_", " ")


def unknown_labels(plan: Plan) -> tuple[str, ...]:
    """What is not known, in plain words, each once, in the order it matters."""
    return tuple(dict.fromkeys(label_of(name) for name in plan.unknowns))


def method_text(plan: Plan) -> str:
    """The method in one sentence."""
    choice = plan.outcomes.method
    then = f", then {choice.then}" if choice.then else ""
    return f"{_METHOD_WORDS[choice.first]}: {choice.how}{then}."


def stations_text(plan: Plan) -> str:
    """The number of positions with its range, in words."""
    stations = plan.outcomes.stations
    count = stations.recommended
    kind = {"wash": "wash-and-rinse", "dry": "dry (wipe or brush)", "none": ""}[stations.kind]
    noun = "position" if count == 1 else "positions"
    middle = f" {kind}" if kind else " whole-suit"
    after = "after tool drop and boot wash"
    if plan.outcomes.stays_dry:
        after = "after tool drop, no wet boot wash"
    elif plan.outcomes.method.first is Method.DRY:
        after = "after tool drop, dry step and boot wash"
    elif plan.outcomes.method.first is Method.WIPE:
        after = "after tool drop (boots wiped too)"
        if stations.kind == "wash":
            after = "after tool drop, wipe step and boot wash"
    return f"{count}{middle} {noun} (range {stations.low} to {stations.high}) {after}"


def drivers_text(plan: Plan) -> str:
    """Why this many, in words."""
    parts = []
    for driver in plan.outcomes.stations.drivers:
        if driver.mid:
            doubt = "" if driver.is_settled else ", not excluded"
            parts.append(f"{driver.text} ({driver.mid:+d}{doubt})")
        elif driver.high or driver.low:
            parts.append(f"{driver.text} (range only)")
        elif driver.is_settled:
            parts.append(driver.text)
    if plan.outcomes.stations.is_floored:
        parts.append("never below one after contact")
    if plan.outcomes.stations.is_missing_capped:
        parts.append("missing facts alone go no higher than the unknown answer")
    return "; ".join(parts) or "nothing to wash"


def persistence_text(plan: Plan) -> str:
    """Persistence in words, with the film time where evaporation decides."""
    found = plan.outcomes.persistence
    if found.grade is Grade.GAS:
        return "Gas: no film lasts on a suit."
    residence = found.residence
    by_time = any("evaporation" in r and "no credit" not in r for r in found.reasons)
    word = found.grade.words.capitalize()
    if found.missing and found.low_grade < found.grade:
        lacking = ", ".join(dict.fromkeys(label_of(name) for name in found.missing[:3]))
        return f"{word}: taken as the longest, because not known: {lacking}."
    if residence.low is None or residence.mid is None or residence.high is None:
        return f"{word}: {'; '.join(found.reasons)}."
    if not by_time and found.grade is not Grade.MINUTES:
        return f"{word}: {'; '.join(found.reasons)}."
    ends = [format_duration_minutes(m) for m in (residence.low, residence.mid, residence.high)]
    if len(set(ends)) == 1:
        return f"{word}: film time {ends[0]}."
    plain = ends[1].startswith("under") or ends[1] in ("months", "years")
    about = ends[1] if plain else f"about {ends[1]}"
    return f"{word}: film time {about} ({ends[0]} to {ends[2]}), graded by the long end."


def threshold_text(plan: Plan) -> str:
    """Which side of the two lines, published or local, the long end falls."""
    grade = plan.outcomes.persistence.grade
    if grade is Grade.GAS:
        return ""
    ten = "below" if grade is Grade.MINUTES else "past"
    day = "past" if grade is Grade.DAYS else "below"
    early, late = plan.limits["persistence.minutes_end"], plan.limits["persistence.hours_end"]
    first = "local" if early.kind == "local" else "army planning"
    second = "local" if late.kind == "local" else "usual definition"
    whose = "Lines" if "local" in (first, second) else "Published lines"
    return f"{whose}: {ten} {early.value:g} min ({first}), {day} {late.value / 60:g} h ({second})."


def gross_text(plan: Plan) -> str:
    """Gross decon in one sentence."""
    gross = plan.outcomes.gross
    if gross.emphasis.value == 0:
        after = f"; afterward {gross.after}" if gross.after else ""
        return f"None before the first step ({gross.why}){after}."
    return (
        f"{gross.emphasis.words.capitalize()} ({gross.why}). Low pressure, high volume, from the "
        "head down, on air, contained."
    )


def release_text(plan: Plan) -> str:
    """The check that ends the line, and what to do when it fails."""
    checks = [c.text for c in plan.outcomes.checks]
    seen_by_instrument = any(c.sees_it for c in plan.outcomes.checks)
    parts = []
    if plan.outcomes.stations.kind == "none" and plan.outcomes.method.first is Method.AIR:
        parts.append("Before doffing, a meter or tube that sees this gas reads clear")
    elif not seen_by_instrument:
        parts.append(
            "No field instrument held here proves it gone: a tube or sensor for it if carried; "
            "look, wipe, repeat"
        )
    parts += [c if c.startswith("pH") else c[0].upper() + c[1:] for c in checks]
    return ". ".join(parts) + (". Fails: repeat the last position once, then isolate and discard.")
