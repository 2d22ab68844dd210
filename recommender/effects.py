"""Effects: what a rule may do to a plan, each with its safer direction.

An effect that adds caution is taken when a rule cannot tell; one that subtracts is refused; one
that is neither (two first steps can each be the wrong one) needs a settled yes.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum, IntEnum


class Direction(Enum):
    """What happens to an effect when its rule cannot tell."""

    ADDS_CAUTION = "adds caution"
    SUBTRACTS = "subtracts"
    NEEDS_SETTLED = "needs a settled yes"


class Method(Enum):
    """What comes first on the line."""

    WET = "wet"
    DRY = "dry"
    AIR = "air"
    WIPE = "wipe"
    KEEP_WET = "keep_wet"
    HOLD = "hold"


class Grade(IntEnum):
    """How long a film stays, from shortest to longest."""

    GAS = 0
    MINUTES = 1
    WITHIN_HOUR = 2
    HOURS = 3
    DAYS = 4

    @property
    def words(self) -> str:
        """The grade in words, as printed."""
        return ("gas", "minutes", "within the hour", "hours", "days")[self.value]


class Emphasis(IntEnum):
    """How hard to rinse first."""

    NONE = 0
    LIGHT = 1
    HEAVY = 2

    @property
    def words(self) -> str:
        """The emphasis in words, as printed."""
        return self.name.lower()


class Rank(IntEnum):
    """Order of cautions on the card."""

    LIFE = 0
    WRONG_FIRST_ACTION = 1
    MEDICAL = 2
    CONTAINMENT = 3
    OTHER = 4
    LOCAL = 5


@dataclass(frozen=True, slots=True)
class First:
    """Choose what comes first, and what follows."""

    method: Method
    how: str
    then: str
    direction: Direction = Direction.NEEDS_SETTLED


@dataclass(frozen=True, slots=True)
class GradeAtLeast:
    """The film stays at least this long; the worst wins."""

    grade: Grade
    reason: str
    direction: Direction = Direction.ADDS_CAUTION


@dataclass(frozen=True, slots=True)
class NoFilm:
    """No film can exist: the grade is gas unless another rule raises it."""

    reason: str
    direction: Direction = Direction.SUBTRACTS


@dataclass(frozen=True, slots=True)
class Gross:
    """Rinse first with at least this emphasis; the heaviest wins."""

    emphasis: Emphasis
    why: str
    direction: Direction = Direction.ADDS_CAUTION


@dataclass(frozen=True, slots=True)
class NoGross:
    """No rinse before the first step; ``after`` says what rinse follows it, if any."""

    why: str
    after: str = ""
    direction: Direction = Direction.NEEDS_SETTLED


@dataclass(frozen=True, slots=True)
class Positions:
    """Add whole-suit positions: to the low end, the estimate and the high end."""

    low: int
    mid: int
    high: int
    driver: str
    direction: Direction = Direction.ADDS_CAUTION


@dataclass(frozen=True, slots=True)
class Credit:
    """Take one position off again."""

    driver: str
    direction: Direction = Direction.SUBTRACTS


@dataclass(frozen=True, slots=True)
class NoPositions:
    """Nothing is washed while nothing remains: lifts the floor of one position."""

    driver: str
    direction: Direction = Direction.SUBTRACTS


@dataclass(frozen=True, slots=True)
class UseSolution:
    """Wash with this solution (id in the solutions table). Detergent wins over plain water."""

    solution: str
    why: str
    direction: Direction = Direction.NEEDS_SETTLED


@dataclass(frozen=True, slots=True)
class Offer:
    """A reagent that a technician may choose, for equipment only."""

    solution: str
    why: str
    direction: Direction = Direction.SUBTRACTS


@dataclass(frozen=True, slots=True)
class DoNotUse:
    """Keep something off this product. ``agent`` is an id in the do-not-use table."""

    agent: str
    why: str
    unsettled: str = ""
    direction: Direction = Direction.ADDS_CAUTION


@dataclass(frozen=True, slots=True)
class Caution:
    """Say something, in order of rank. ``unsettled`` is said instead when it cannot be told."""

    rank: Rank
    text: str
    unsettled: str = ""
    direction: Direction = Direction.ADDS_CAUTION


@dataclass(frozen=True, slots=True)
class Check:
    """A way to see whether the line worked."""

    text: str
    sees_it: bool = True
    direction: Direction = Direction.SUBTRACTS


@dataclass(frozen=True, slots=True)
class CrewNote:
    """Something about the people who run the line."""

    text: str
    direction: Direction = Direction.ADDS_CAUTION


Effect = (
    First
    | GradeAtLeast
    | NoFilm
    | Gross
    | NoGross
    | Positions
    | Credit
    | NoPositions
    | UseSolution
    | Offer
    | DoNotUse
    | Caution
    | Check
    | CrewNote
)
