"""The shape of the tables of cases for rules, and what is tested of each.

A rule has cases in which it applies, does not apply and cannot tell. A case is what is changed on
the harmless liquid of ``made_facts``. An edge is a number just below, at and just above a limit.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from made_facts import Changes, step_of

from recommender.engine import Outcome
from recommender.limits import load_limits

JUST = 1e-6
WHOLE = ("GHS category",)
YES, NO, DOUBT = Outcome.APPLIES, Outcome.DOES_NOT_APPLY, Outcome.CANNOT_TELL


@dataclass(frozen=True)
class Cases:
    """When a rule applies, does not apply, and cannot tell."""

    applies: tuple[Changes, ...]
    does_not: tuple[Changes, ...]
    cannot_tell: tuple[Changes, ...]

    def __iter__(self) -> Iterator[tuple[Outcome, Changes]]:
        for outcome, cases in ((YES, self.applies), (NO, self.does_not), (DOUBT, self.cannot_tell)):
            for changes in cases:
                yield outcome, changes


@dataclass(frozen=True)
class Edge:
    """A number that a rule compares with a limit.

    Attributes:
        fact: the number.
        limit: the limit's id.
        outcomes: what becomes of the rule just below, at and just above the limit.
        also: what else is changed.
        less: id of a limit that is taken off the first.
    """

    fact: str
    limit: str
    outcomes: tuple[Outcome, Outcome, Outcome]
    also: Changes
    less: str = ""

    def steps(self, rule_id: str) -> Iterator[tuple[Outcome, Outcome]]:
        """What becomes of the rule on each side, and what should."""
        limits = load_limits()
        edge = limits[self.limit].value - (limits[self.less].value if self.less else 0.0)
        width = 1.0 if limits[self.limit].unit in WHOLE else max(abs(edge) * JUST, JUST)
        values = (edge - width, edge, edge + width)
        for value, wanted in zip(values, self.outcomes, strict=True):
            yield step_of(rule_id, {**self.also, self.fact: value}).outcome, wanted

    @property
    def limits(self) -> set[str]:
        """The limits that it tests."""
        return {self.limit, self.less} - {""}


BELOW = (YES, NO, NO)
AT_MOST = (YES, YES, NO)
ABOVE = (NO, NO, YES)
AT_LEAST = (NO, YES, YES)


def claim(name: str, **also: object) -> Cases:
    """Cases of a rule that hangs on one claim (with other changes that hold throughout)."""
    return Cases(
        ({**also, name: True},),  # type: ignore[dict-item]
        ({**also, name: False},),  # type: ignore[dict-item]
        ({**also, name: None},),  # type: ignore[dict-item]
    )


def each_case(table: Mapping[str, Cases]) -> list[tuple[str, Outcome, Changes]]:
    """Every case of a table, for a parametrized test."""
    return [(rule_id, *case) for rule_id, cases in table.items() for case in cases]


def each_edge(table: Mapping[str, tuple[Edge, ...]]) -> list[tuple[str, Edge]]:
    """Every edge of a table, for a parametrized test."""
    return [(rule_id, edge) for rule_id, edges in table.items() for edge in edges]


def wrong_sides(rule_id: str, edge: Edge) -> list[tuple[Outcome, Outcome]]:
    """The sides of an edge on which the rule does not do what it should."""
    return [(found, wanted) for found, wanted in edge.steps(rule_id) if found is not wanted]
