"""The standard line: what to set up while no technician has accepted fewer positions."""

from __future__ import annotations

from dataclasses import dataclass

from recommender.effects import Method
from recommender.facts import Facts
from recommender.limits import Limits
from recommender.outcomes import Outcomes
from recommender.policy import Policy
from recommender.scene import Scene


@dataclass(frozen=True, slots=True)
class StandardLine:
    """What to set up while no technician has accepted fewer.

    Attributes:
        positions: wash-and-rinse positions of the local standard line.
        applies: whether it is to be set up although the estimate is lower.
    """

    positions: int
    applies: bool
    text: str


def _standard_line_words(outcomes: Outcomes, positions: int) -> str:
    """What to do with the standard line, given what comes first: never water before its time."""
    line = f"the standard line (boot wash, {positions} wash-and-rinse)"
    until = "until a technician or local procedure accepts fewer"
    if outcomes.stays_dry:
        return f"have {line} ready, but no water on suits before the technician decides"
    if outcomes.method.first is Method.HOLD:
        return f"have {line} ready behind the hold {until}"
    if outcomes.method.first in (Method.DRY, Method.WIPE):
        return f"set up {line} behind the {outcomes.method.first.value} step {until}"
    return f"set up {line} {until}"


def _fewer_words(outcomes: Outcomes, policy: Policy) -> str:
    """Local policy lets the estimate stand; it never hurries a hold or water."""
    words = f"local policy ({policy.department}) lets this estimate be set up without one"
    if outcomes.stays_dry:
        return f"{words}, but no water on suits before the technician decides"
    if outcomes.method.first is Method.HOLD:
        return f"{words}, behind the hold"
    if outcomes.method.first in (Method.DRY, Method.WIPE):
        return f"{words}, behind the {outcomes.method.first.value} step"
    return words


def standard_line(
    outcomes: Outcomes, scene: Scene, limits: Limits, policy: Policy | None
) -> StandardLine:
    """Say what to set up beside the estimate."""
    positions = int(limits.value("policy.standard_line"))
    after_contact = scene.contact != "vapor"
    if scene.technician == "on-scene":
        return StandardLine(positions, False, "The technician on scene decides.")
    if not after_contact:
        return StandardLine(positions, False, "Vapor only: the standard line is for contact.")
    if outcomes.stations.recommended < positions:
        is_known = Facts(outcomes.facts)["identity_known"].is_yes
        if policy is not None and policy.fewer_without_technician and is_known:
            words = _fewer_words(outcomes, policy)
            return StandardLine(positions, False, f"No technician yet: {words}.")
        words = _standard_line_words(outcomes, positions)
        return StandardLine(positions, True, f"NO TECHNICIAN YET: {words}.")
    return StandardLine(positions, False, "No technician yet: at or above the standard line.")
