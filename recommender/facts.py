"""Facts: what a rule may read, and how it compares them.

Every yes/no fact is yes, no (with a source) or unknown. Every number has a low, a middle and a
high end. Comparing a fact with a limit gives yes, no or cannot tell: the range straddles the
limit, or nothing is known. ``all_of`` and ``any_of`` read every operand, so nothing that bears on
an answer is hidden from the trace.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from enum import Enum

from recommender.errors import DataError
from recommender.limits import Limit


class Truth(Enum):
    """A three-valued answer."""

    NO = "no"
    UNKNOWN = "unknown"
    YES = "yes"


@dataclass(frozen=True, slots=True)
class Verdict:
    """The outcome of a comparison or a combination of comparisons.

    Attributes:
        truth: yes, no, or unknown (cannot tell).
        missing: names of facts nobody has stated that would settle it. Empty when the answer is
            settled, and also when everything is known but a range straddles a limit.
    """

    truth: Truth
    missing: tuple[str, ...] = ()

    @property
    def is_yes(self) -> bool:
        """Whether the answer is a settled yes."""
        return self.truth is Truth.YES

    @property
    def is_no(self) -> bool:
        """Whether the answer is a settled no."""
        return self.truth is Truth.NO

    @property
    def is_unknown(self) -> bool:
        """Whether it cannot be told."""
        return self.truth is Truth.UNKNOWN


YES = Verdict(Truth.YES)
NO = Verdict(Truth.NO)


def settled(value: bool) -> Verdict:
    """Turn a plain bool into a settled verdict."""
    return YES if value else NO


def _merge_missing(verdicts: Iterable[Verdict]) -> tuple[str, ...]:
    names: dict[str, None] = {}
    for verdict in verdicts:
        if verdict.is_unknown:
            names.update(dict.fromkeys(verdict.missing))
    return tuple(names)


def all_of(*operands: Verdict) -> Verdict:
    """Yes when every operand is yes, no when any is no, else cannot tell."""
    if any(v.is_no for v in operands):
        return NO
    if all(v.is_yes for v in operands):
        return YES
    return Verdict(Truth.UNKNOWN, _merge_missing(operands))


def any_of(*operands: Verdict) -> Verdict:
    """Yes when any operand is yes, no when every one is no, else cannot tell."""
    if any(v.is_yes for v in operands):
        return YES
    if all(v.is_no for v in operands):
        return NO
    return Verdict(Truth.UNKNOWN, _merge_missing(operands))


def not_(operand: Verdict) -> Verdict:
    """Turn yes into no and no into yes; cannot tell stays cannot tell."""
    if operand.is_unknown:
        return operand
    return NO if operand.is_yes else YES


@dataclass(frozen=True, slots=True)
class Provenance:
    """Where a value comes from.

    Attributes:
        basis: measured, classified, correlated, estimated, stated (by the user), assumed,
            derived, or unknown.
        source: id in the sources table.
        provenance: read, memory, practice, judgement or library.
        note: a reason or a disagreement, in a few words.
    """

    basis: str
    source: str = "judgement"
    provenance: str = "judgement"
    note: str = ""


@dataclass(frozen=True, slots=True)
class Claim:
    """A yes/no fact.

    Attributes:
        missing: for an unknown that was derived, the facts that would settle it (empty where a
            known range straddles); None where the claim itself is what nobody has stated.
    """

    name: str
    truth: Truth
    origin: Provenance
    missing: tuple[str, ...] | None = None


@dataclass(frozen=True, slots=True)
class Word:
    """A fact that is one word out of a short list, or a short phrase; empty when not stated."""

    name: str
    word: str
    origin: Provenance


@dataclass(frozen=True, slots=True)
class PassedOver:
    """A value that was known but did not lead."""

    value: float
    source: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class Number:
    """A numeric fact as a range.

    Attributes:
        low, mid, high: the range in ``unit``; all None when nothing is known.
        missing: facts that nobody has stated and that widen the range; a comparison that the
            range cannot settle names them.
    """

    name: str
    low: float | None
    mid: float | None
    high: float | None
    unit: str
    origin: Provenance
    temperature_c: float | None = None
    missing: tuple[str, ...] = ()
    passed_over: tuple[PassedOver, ...] = ()

    def __post_init__(self) -> None:
        ends = (self.low, self.mid, self.high)
        if all(e is None for e in ends):
            return
        low, mid, high = ends
        if low is None or mid is None or high is None:
            raise DataError(f"{self.name}: a range needs all of low, middle and high.")
        if any(math.isnan(e) for e in (low, mid, high)) or not low <= mid <= high:
            raise DataError(f"{self.name}: low {low}, middle {mid}, high {high} are out of order.")

    @property
    def is_known(self) -> bool:
        """Whether any value is known."""
        return self.mid is not None

    def _compare(self, test: Callable[[float], bool]) -> Verdict:
        if self.low is None or self.high is None:
            return Verdict(Truth.UNKNOWN, self.missing or (self.name,))
        at_low, at_high = test(self.low), test(self.high)
        if at_low and at_high:
            return YES
        if not at_low and not at_high:
            return NO
        return Verdict(Truth.UNKNOWN, self.missing)

    def below(self, limit: Limit | float) -> Verdict:
        """Whether the value is below the limit."""
        edge = float(limit)
        return self._compare(lambda value: value < edge)

    def at_most(self, limit: Limit | float) -> Verdict:
        """Whether the value is at or below the limit."""
        edge = float(limit)
        return self._compare(lambda value: value <= edge)

    def above(self, limit: Limit | float) -> Verdict:
        """Whether the value is above the limit."""
        return not_(self.at_most(limit))

    def at_least(self, limit: Limit | float) -> Verdict:
        """Whether the value is at or above the limit."""
        return not_(self.below(limit))

    def with_missing(self, missing: tuple[str, ...]) -> Number:
        """Return the same range, naming the facts that widen it."""
        return replace(self, missing=missing)


Fact = Claim | Word | Number


def unknown_claim(name: str) -> Claim:
    """Return the claim that nobody has settled."""
    return Claim(name, Truth.UNKNOWN, Provenance("unknown", "unknown"))


def unknown_number(name: str, unit: str) -> Number:
    """Return the number that nobody has stated."""
    return Number(name, None, None, None, unit, Provenance("unknown", "unknown"))


class Facts:
    """A view of the facts that records what is read from it."""

    def __init__(self, facts: Mapping[str, Fact]) -> None:
        self._facts = facts
        self.reads: dict[str, None] = {}

    def _get(self, name: str) -> Fact:
        try:
            fact = self._facts[name]
        except KeyError:
            raise DataError(f"A rule reads the fact {name!r}, which no table defines.") from None
        self.reads[name] = None
        return fact

    def __getitem__(self, name: str) -> Verdict:
        """Return a yes/no fact as a verdict."""
        fact = self._get(name)
        if not isinstance(fact, Claim):
            raise DataError(f"The fact {name!r} is not a yes/no fact.")
        if fact.truth is Truth.UNKNOWN:
            return Verdict(Truth.UNKNOWN, (name,) if fact.missing is None else fact.missing)
        return YES if fact.truth is Truth.YES else NO

    def number(self, name: str) -> Number:
        """Return a numeric fact."""
        fact = self._get(name)
        if not isinstance(fact, Number):
            raise DataError(f"The fact {name!r} is not a number.")
        return fact

    def word(self, name: str) -> str:
        """Return a word fact, or an empty string where it is not stated."""
        fact = self._get(name)
        if not isinstance(fact, Word):
            raise DataError(f"The fact {name!r} is not a word.")
        return fact.word

    def text(self, name: str) -> str:
        """Return a fact's value as text, for a caution that repeats it; unknown says so."""
        fact = self._get(name)
        if isinstance(fact, Claim):
            return fact.truth.value
        if isinstance(fact, Word):
            return fact.word or "not stated"
        return "not known" if fact.mid is None else f"{fact.mid:g} {fact.unit}"
