"""A plan as JSON, version 1 of the answer's shape.

Keys are added freely and never renamed; ``recommender/schema/plan-v1.json`` describes them.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from recommender.chemicals.table import fact_dictionary
from recommender.effects import (
    Caution,
    Check,
    Credit,
    CrewNote,
    DoNotUse,
    Effect,
    First,
    GradeAtLeast,
    Gross,
    NoFilm,
    NoGross,
    NoPositions,
    Offer,
    Positions,
    UseSolution,
)
from recommender.engine import Step
from recommender.facts import Claim, Fact, Number, Word
from recommender.limits import Limit
from recommender.policy import Policy
from recommender.recommend import (
    ALWAYS,
    DEFER,
    SCHEMA_VERSION,
    Plan,
    Solution,
    do_not_use_words,
)
from recommender.render.stated import stated_dict
from recommender.render.words import label_of, persistence_text, release_text

_SIGNIFICANT = 6


def _round(value: float | None) -> float | None:
    """Six significant digits: the same on every machine, and no false precision."""
    return None if value is None else float(f"{value:.{_SIGNIFICANT}g}")


def _number(number: Number) -> dict[str, Any]:
    return {
        "value": _round(number.mid),
        "unit": number.unit,
        "low": _round(number.low),
        "high": _round(number.high),
        "basis": number.origin.basis,
        "source": number.origin.source,
        "provenance": number.origin.provenance,
        "note": number.origin.note,
        "temperature_c": _round(number.temperature_c),
        "passed_over": [
            {"value": _round(p.value), "source": p.source, "note": p.note}
            for p in number.passed_over
        ],
    }


def _fact(fact: Fact) -> dict[str, Any]:
    shared = {
        "fact": fact.name,
        "basis": fact.origin.basis,
        "source": fact.origin.source,
        "provenance": fact.origin.provenance,
        "note": fact.origin.note,
    }
    if isinstance(fact, Claim):
        return {"value": fact.truth.value, **shared}
    if isinstance(fact, Word):
        return {"value": fact.word, **shared}
    return {
        "value": _round(fact.mid),
        "low": _round(fact.low),
        "high": _round(fact.high),
        "unit": fact.unit,
        **shared,
    }


def _limit(limit: Limit) -> dict[str, Any]:
    return {
        "limit": limit.id,
        "value": limit.value,
        "unit": limit.unit,
        "kind": limit.kind,
        "source": limit.source,
        "provenance": limit.provenance,
    }


def effect_text(effect: Effect) -> str:
    """One effect in a few words."""
    match effect:
        case First(method=method, how=how):
            return f"first step {method.value}: {how}"
        case GradeAtLeast(grade=grade, reason=reason):
            return f"at least {grade.words}: {reason}"
        case NoFilm(reason=reason):
            return f"gas: {reason}"
        case Gross(emphasis=emphasis, why=why):
            return f"gross decon {emphasis.words}: {why}"
        case NoGross(why=why):
            return f"no gross decon first: {why}"
        case Positions(low=low, mid=mid, high=high, driver=driver):
            return f"positions +{low}/+{mid}/+{high}: {driver}"
        case Credit(driver=driver):
            return f"one position less: {driver}"
        case NoPositions(driver=driver):
            return f"no positions: {driver}"
        case UseSolution(solution=solution, why=why) | Offer(solution=solution, why=why):
            return f"{solution}: {why}"
        case DoNotUse(agent=agent, why=why):
            return f"keep off {agent}: {why}"
        case Caution(text=text) | Check(text=text) | CrewNote(text=text):
            return text


def _step(step: Step) -> dict[str, Any]:
    return {
        "rule": step.rule.id,
        "title": step.rule.title,
        "stage": step.rule.stage.value,
        "outcome": step.outcome.value,
        "why": step.rule.why,
        "sources": list(step.rule.sources),
        "facts": [_fact(fact) for fact in step.facts],
        "limits": [_limit(limit) for limit in step.limits],
        "missing": list(step.missing),
        "taken": [effect_text(effect) for effect in step.taken],
        "refused": [effect_text(effect) for effect in step.refused],
        "off_because": step.off_because,
    }


def _chemical(plan: Plan) -> dict[str, Any]:
    chemical = plan.chemical
    return {
        "name": chemical.name,
        "key": chemical.key,
        "cas": chemical.cas or None,
        "un": list(chemical.un),
        "form": plan.known.state.form,
        "concentration": chemical.strength_percent,
        "match": plan.match.how,
        "is_known": chemical.is_known,
        "note": chemical.note,
    }


def _scene(plan: Plan) -> dict[str, Any]:
    scene, state = plan.scene, plan.known.state
    return {
        "contact": scene.contact,
        "air_temperature_c": _round(state.air_temperature_c),
        "product_temperature_c": _round(state.product_temperature_c),
        "wind_m_s": _round(state.wind_m_s),
        "suit": scene.suit,
        "technician": scene.technician,
        "airing_place": scene.airing_place,
        "failed_check": scene.failed_check,
        "assumptions": list(plan.assumptions),
    }


def _properties(plan: Plan) -> dict[str, Any]:
    return {
        name: _number(fact)
        for name, fact in plan.facts.items()
        if isinstance(fact, Number)
        and (name in fact_dictionary() or name == "saturation")
        and fact.is_known
    }


def _persistence(plan: Plan) -> dict[str, Any]:
    found = plan.outcomes.persistence
    residence = found.residence
    return {
        "grade": found.grade.words,
        "low_grade": found.low_grade.words,
        "residence_minutes": {
            "low": _round(residence.low),
            "mid": _round(residence.mid),
            "high": _round(residence.high),
        },
        "reasons": list(found.reasons),
        "text": persistence_text(plan),
        "thresholds": [
            _limit(plan.limits["persistence.minutes_end"]),
            _limit(plan.limits["persistence.hours_end"]),
        ],
    }


def _stations(plan: Plan) -> dict[str, Any]:
    stations, line = plan.outcomes.stations, plan.standard_line
    return {
        "recommended": stations.recommended,
        "low": stations.low,
        "high": stations.high,
        "kind": stations.kind,
        "drivers": [
            {
                "rule": d.rule,
                "text": d.text,
                "low": d.low,
                "mid": d.mid,
                "high": d.high,
                "settled": d.is_settled,
            }
            for d in stations.drivers
        ],
        "standard_line": {
            "positions": line.positions,
            "applies": line.applies,
            "text": line.text,
        },
    }


def _solution(solution: Solution, why: str) -> dict[str, Any]:
    minutes = solution.contact_minutes
    return {
        "id": solution.id,
        "name": solution.name,
        "recipe": {"us": solution.recipe_us, "si": solution.recipe_si},
        "contact_minutes": float(minutes) if minutes else None,
        "on_what": solution.on_what,
        "not_on": solution.not_on,
        "why": why,
        "source": solution.source,
        "provenance": solution.provenance,
    }


def _avoided(plan: Plan) -> list[dict[str, Any]]:
    words = do_not_use_words()
    return [
        {
            "what": words[a.agent],
            "agent": a.agent,
            "why": "; ".join(a.why),
            "rule": ", ".join(a.rules),
            "settled": a.is_settled,
        }
        for a in plan.outcomes.do_not_use
    ]


def _cautions(plan: Plan) -> list[dict[str, Any]]:
    return [
        {"text": c.text, "rule": c.rule, "source": ", ".join(c.sources), "settled": c.is_settled}
        for c in plan.outcomes.cautions
    ]


def _stage_model(plan: Plan) -> dict[str, Any]:
    model = plan.stage_model
    return {
        "applicable": model.applicable,
        "note": model.note,
        "wash_class": model.wash_class,
        "required_log_reduction": model.required_log_reduction,
        "stations": model.stations,
        "reachable": model.reachable,
        "percent_left": model.percent_left,
    }


def _advice(plan: Plan) -> dict[str, Any]:
    outcomes, needs = plan.outcomes, plan.needs
    return {
        "stage_model": _stage_model(plan),
        "solution": _solution(plan.solution, outcomes.solution_why),
        "technician_options": [_solution(s, o.why) for s, o in plan.offers],
        "options_refused": [
            {"id": o.solution, "why": "on the do-not-use list"} for o in outcomes.refused_offers
        ],
        "do_not_use": _avoided(plan),
        "cautions": _cautions(plan),
        "release_check": {
            "checks": [c.text for c in outcomes.checks],
            "text": release_text(plan),
        },
        "crew": {
            "low": needs.crew_low,
            "high": needs.crew_high,
            "notes": list(outcomes.crew_notes),
        },
        "water": {
            "gal_per_person_low": needs.water_low_gal,
            "gal_per_person_high": needs.water_high_gal,
        },
        "kit": list(needs.kit),
    }


def _policy(policy: Policy, contact: str) -> dict[str, Any]:
    return {
        "department": policy.department,
        "date": policy.date.isoformat(),
        "limits": [
            {
                "limit": c.limit.id,
                "value": c.limit.value,
                "packaged": c.packaged.value,
                "unit": c.limit.unit,
                "direction": c.direction,
            }
            for c in policy.changes
        ],
        "switched_off": [
            {"rule": o.rule.id, "reason": o.reason, "loosens": o.loosens} for o in policy.off
        ],
        "fewer_without_technician": policy.fewer_without_technician,
        "loosened": list(policy.loosened),
        "cautions": list(policy.cautions_for(contact)),
        "contacts": list(policy.contacts),
    }


def plan_to_dict(plan: Plan) -> dict[str, Any]:
    """Return the plan in the answer's shape, version 1."""
    outcomes = plan.outcomes
    return {
        "schema_version": SCHEMA_VERSION,
        "chemical": _chemical(plan),
        "scene": _scene(plan),
        "physical_state": plan.known.state.form,
        "properties": _properties(plan),
        "persistence": _persistence(plan),
        "method": {
            "first": outcomes.method.first.value,
            "how": outcomes.method.how,
            "then": outcomes.method.then,
            "why": outcomes.method.why,
            "conflict": [{"rule": r, "text": t} for r, t in outcomes.method.conflict],
        },
        "gross_decon": {
            "emphasis": outcomes.gross.emphasis.words,
            "why": outcomes.gross.why,
            "after": outcomes.gross.after,
        },
        "stations": _stations(plan),
        **_advice(plan),
        "unknowns": [{"fact": name, "label": label_of(name)} for name in plan.unknowns],
        "sensitivity": [],
        "trace": [_step(step) for step in outcomes.steps],
        "stated": [stated_dict(entry) for entry in plan.stated],
        "always": list(ALWAYS),
        "call_technician": list(plan.call_technician),
        "policy": None if plan.policy is None else _policy(plan.policy, plan.scene.contact),
        "defer": DEFER,
        "versions": dict(plan.versions),
    }


def plan_to_json(plan: Plan) -> str:
    """Return the plan as indented JSON, ending in a newline."""
    return json.dumps(plan_to_dict(plan), indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def schema_path() -> Path:
    """Return the path of the JSON Schema of version 1."""
    return Path(__file__).resolve().parent.parent / "schema" / "plan-v1.json"
