"""What the line needs, in words and rough numbers: people, water, kit.

Counted for what is to be set up: the estimate, or the standard line where that is asked for.
Quantities by head count belong to the corridor.
"""

from __future__ import annotations

from dataclasses import dataclass

from recommender.effects import Method
from recommender.limits import Limits
from recommender.outcomes import Outcomes
from recommender.standard_line import StandardLine

_LITERS_PER_GALLON = 3.785412


@dataclass(frozen=True, slots=True)
class Needs:
    """People to run the line, water per person in US gallons (zero where none), and kit."""

    crew_low: int
    crew_high: int
    water_low_gal: int
    water_high_gal: int
    kit: tuple[str, ...]

    @property
    def water_liters(self) -> tuple[float, float]:
        """Water per person in liters."""
        return self.water_low_gal * _LITERS_PER_GALLON, self.water_high_gal * _LITERS_PER_GALLON


def _washed_positions(outcomes: Outcomes, line: StandardLine) -> int:
    """Wet positions to lay out: the standard line counts wherever it is asked for."""
    estimate = outcomes.stations.recommended if outcomes.stations.kind == "wash" else 0
    return max(estimate, line.positions if line.applies else 0)


def _kit(outcomes: Outcomes, washed: int) -> tuple[str, ...]:
    first, kind = outcomes.method.first, outcomes.stations.kind
    kit = ["tool-drop tarp or bin"]
    if not outcomes.stays_dry:
        kit.append("boot wash (shuffle pit)")
    if washed:
        kit += [
            f"{washed} wash basin(s) and {washed} rinse basin(s), low-pressure spray",
            "liquid detergent, soft long-handled brushes, hose line",
        ]
    if first is Method.WIPE or (kind == "dry" and first is not Method.DRY):
        kit.append("wipes or HEPA vacuum, lidded bins, fine mist sprayer")
    if first is Method.DRY:
        kit.append("dry mineral absorbent, soft brush or scraper, dry vented metal container")
    return (*kit, "seats, 6-mil bags, labels, drums for runoff", "emergency hose line, scissors")


def needs_of(outcomes: Outcomes, line: StandardLine, limits: Limits) -> Needs:
    """Work out people, water and kit for what is to be set up."""
    washed = _washed_positions(outcomes, line)
    positions = max(outcomes.stations.recommended, washed)
    base = int(limits.value("crew.base"))
    return Needs(
        crew_low=base + positions * int(limits.value("crew.per_position_low")),
        crew_high=base + positions * int(limits.value("crew.per_position_high")),
        water_low_gal=int(limits.value("water.per_person_low")) if washed else 0,
        water_high_gal=int(limits.value("water.per_person_high")) if washed else 0,
        kit=_kit(outcomes, washed),
    )
