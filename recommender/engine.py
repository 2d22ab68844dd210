"""Evaluate one rule and record one step.

A rule is a function of the facts and the limits that returns a decision: a three-valued verdict
and the effects it would have. The views it reads through record the reads, so the trace cannot
disagree with the logic.
"""

from __future__ import annotations

import inspect
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from enum import Enum

from recommender.effects import Caution, Direction, DoNotUse, Effect
from recommender.facts import Fact, Facts, Verdict
from recommender.limits import Limit, Limits


class Stage(Enum):
    """Groups of rules run together, in this order."""

    METHOD = "method"
    PERSISTENCE = "persistence"
    GROSS = "gross"
    STATIONS = "stations"
    STAGE_MODEL = "stage model"
    CREDIT = "credit"
    SOLUTION = "solution"
    CHECKS = "checks and crew"
    CAUTIONS = "cautions"


class Outcome(Enum):
    """What became of one rule."""

    APPLIES = "applies"
    DOES_NOT_APPLY = "does not apply"
    CANNOT_TELL = "cannot tell"
    OFF = "off"


@dataclass(frozen=True, slots=True)
class Decision:
    """What a rule found, and what it would do."""

    verdict: Verdict
    effects: tuple[Effect, ...]


def when(verdict: Verdict, *effects: Effect) -> Decision:
    """Decide: these effects follow if the verdict is yes."""
    return Decision(verdict, effects)


RuleFunction = Callable[[Facts, Limits], Decision]


@dataclass(frozen=True, slots=True)
class Rule:
    """One judgement. ``floor`` rules cannot be switched off by local policy."""

    id: str
    title: str
    stage: Stage
    sources: tuple[str, ...]
    floor: bool
    function: RuleFunction

    @property
    def why(self) -> str:
        """The reason for the rule: its docstring."""
        return " ".join((inspect.getdoc(self.function) or "").split())


def rule(
    rule_id: str, *, title: str, stage: Stage, sources: tuple[str, ...], floor: bool = False
) -> Callable[[RuleFunction], Rule]:
    """Make a rule out of a function. The function's docstring is the rule's reason."""

    def decorate(function: RuleFunction) -> Rule:
        return Rule(rule_id, title, stage, sources, floor, function)

    return decorate


@dataclass(frozen=True, slots=True)
class Step:
    """The record of one rule's evaluation."""

    rule: Rule
    outcome: Outcome
    facts: tuple[Fact, ...]
    limits: tuple[Limit, ...]
    missing: tuple[str, ...]
    taken: tuple[Effect, ...]
    refused: tuple[Effect, ...]
    off_because: str = ""

    @property
    def is_settled(self) -> bool:
        """Whether the rule applies without doubt."""
        return self.outcome is Outcome.APPLIES


def _when_unsettled(effect: Effect, missing: tuple[str, ...]) -> Effect | None:
    """Return the effect as it is taken when the rule cannot tell; None when it is refused.

    What is said changes only where a fact is missing, not where a known range straddles a limit.
    """
    if effect.direction is not Direction.ADDS_CAUTION:
        return None
    if not missing:
        return effect
    if isinstance(effect, Caution) and effect.unsettled:
        return replace(effect, text=effect.unsettled)
    if isinstance(effect, DoNotUse) and effect.unsettled:
        return replace(effect, why=effect.unsettled)
    return effect


def evaluate(
    a_rule: Rule,
    facts: Mapping[str, Fact],
    limits: Mapping[str, Limit],
    switched_off: Mapping[str, str] | None = None,
) -> Step:
    """Evaluate one rule against the facts and limits, and record what it read and did."""
    fact_view, limit_view = Facts(facts), Limits(limits)
    decision = a_rule.function(fact_view, limit_view)
    reads = tuple(facts[name] for name in fact_view.reads)
    used = tuple(limits[name] for name in limit_view.reads)
    verdict, effects = decision.verdict, decision.effects
    off_because = (switched_off or {}).get(a_rule.id, "")
    if off_because:
        return Step(a_rule, Outcome.OFF, reads, used, (), (), effects, off_because)
    if verdict.is_yes:
        return Step(a_rule, Outcome.APPLIES, reads, used, (), effects, ())
    if verdict.is_no:
        return Step(a_rule, Outcome.DOES_NOT_APPLY, reads, used, (), (), ())
    unsettled = [(effect, _when_unsettled(effect, verdict.missing)) for effect in effects]
    return Step(
        a_rule,
        Outcome.CANNOT_TELL,
        reads,
        used,
        verdict.missing,
        tuple(as_taken for _, as_taken in unsettled if as_taken is not None),
        tuple(effect for effect, as_taken in unsettled if as_taken is None),
    )
