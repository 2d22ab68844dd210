"""What the stages decided: the shapes that plan.py fills and everything above reads."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from recommender.effects import Check, Emphasis, Grade, Method, Offer
from recommender.engine import Step
from recommender.facts import Fact, Facts, Number


@dataclass(frozen=True, slots=True)
class MethodChoice:
    """What comes first. A conflict of firsts is a hold that names both."""

    first: Method
    how: str
    then: str
    why: str
    conflict: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Persistence:
    """How long a film stays; ``grade`` is the cautious end."""

    grade: Grade
    low_grade: Grade
    reasons: tuple[str, ...]
    missing: tuple[str, ...]
    residence: Number


@dataclass(frozen=True, slots=True)
class GrossDecon:
    """How hard to rinse first, and what rinse follows a dry step."""

    emphasis: Emphasis
    why: str
    after: str


@dataclass(frozen=True, slots=True)
class Driver:
    """One reason for the number of positions."""

    rule: str
    text: str
    low: int
    mid: int
    high: int
    is_settled: bool


@dataclass(frozen=True, slots=True)
class Stations:
    """How many whole-suit positions: the estimate and its range."""

    recommended: int
    low: int
    high: int
    kind: str
    drivers: tuple[Driver, ...]
    is_missing_capped: bool
    is_floored: bool = False


@dataclass(frozen=True, slots=True)
class Avoid:
    """One thing to keep off, with every reason for it."""

    agent: str
    why: tuple[str, ...]
    rules: tuple[str, ...]
    is_settled: bool


@dataclass(frozen=True, slots=True)
class Warned:
    """One caution as it is said."""

    rank: int
    text: str
    rule: str
    sources: tuple[str, ...]
    is_settled: bool


@dataclass(frozen=True, slots=True)
class Outcomes:
    """Everything the stages decided, with the trace."""

    method: MethodChoice
    persistence: Persistence
    gross: GrossDecon
    stations: Stations
    solution: str
    solution_why: str
    offers: tuple[Offer, ...]
    refused_offers: tuple[Offer, ...]
    do_not_use: tuple[Avoid, ...]
    cautions: tuple[Warned, ...]
    checks: tuple[Check, ...]
    crew_notes: tuple[str, ...]
    facts: Mapping[str, Fact]
    steps: tuple[Step, ...]

    @property
    def stays_dry(self) -> bool:
        """Whether no water goes on the suit before the technician decides."""
        return Facts(self.facts)["stays_dry"].is_yes
