"""What stated values do to a plan: the cautions they put first, and whether they make it milder."""

from __future__ import annotations

from dataclasses import replace

from recommender.effects import Rank
from recommender.outcomes import Outcomes, Warned
from recommender.properties.stated_apply import SOURCE, Applied


def with_stated(outcomes: Outcomes, applied: Applied) -> Outcomes:
    """Put what a stated value overrides before every other caution."""
    said = tuple(Warned(Rank.LIFE, text, SOURCE, (SOURCE,), True) for text in applied.cautions)
    return replace(outcomes, cautions=said + outcomes.cautions)


def milder_words(held: Outcomes, now: Outcomes) -> tuple[str, ...]:
    """Say what would be planned without the stated values, where that is more cautious."""
    was, is_now = held.stations, now.stations
    fewer = is_now.recommended < was.recommended or is_now.high < was.high
    if not fewer and now.persistence.grade >= held.persistence.grade:
        return ()
    return (
        f"The stated values make this plan milder; without them: {was.recommended} position(s), "
        f"range {was.low} to {was.high}, persistence {held.persistence.grade.words}.",
    )
