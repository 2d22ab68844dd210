"""How long a film stays. The worst grade wins; the long end of the range grades."""

from __future__ import annotations

from recommender.effects import Grade, GradeAtLeast, NoFilm
from recommender.engine import Decision, Stage, rule, when
from recommender.facts import Facts, Verdict, all_of, any_of, not_
from recommender.limits import Limits
from recommender.rules.common import is_thick

_STAGE = Stage.PERSISTENCE
_MODEL = ("judgement", "army-cm2506", "army-nbc-persistence")


def _is_film(facts: Facts) -> Verdict:
    """A liquid film that could leave by evaporating."""
    return all_of(
        facts["form_liquid"],
        not_(facts["film_impossible"]),
        not_(facts["form_cryogenic"]),
        not_(facts["dissolved_solid"]),
    )


@rule(
    "PERS-010",
    title="No film can exist at this temperature",
    stage=_STAGE,
    sources=("judgement",),
)
def gas(facts: Facts, limits: Limits) -> Decision:
    """Above its boiling point, or boiling off cold, the product is a gas."""
    return when(
        any_of(facts["film_impossible"], facts["form_cryogenic"]),
        NoFilm("boils at or below the temperature of the product"),
    )


@rule("PERS-020", title="The film outlasts ten minutes", stage=_STAGE, sources=_MODEL)
def beyond_minutes(facts: Facts, limits: Limits) -> Decision:
    """Ten minutes is the army's planning line between nonpersistent and persistent."""
    residence = facts.number("film_residence")
    return when(
        all_of(_is_film(facts), residence.at_least(limits["persistence.minutes_end"])),
        GradeAtLeast(Grade.WITHIN_HOUR, "film time by evaporation"),
    )


@rule("PERS-021", title="The film outlasts an hour", stage=_STAGE, sources=("judgement",))
def beyond_hour(facts: Facts, limits: Limits) -> Decision:
    """What is still there after an hour is still there when the crew walks the line."""
    residence = facts.number("film_residence")
    return when(
        all_of(_is_film(facts), residence.at_least(limits["persistence.hour_end"])),
        GradeAtLeast(Grade.HOURS, "film time by evaporation"),
    )


@rule("PERS-022", title="The film outlasts a day", stage=_STAGE, sources=_MODEL)
def beyond_day(facts: Facts, limits: Limits) -> Decision:
    """A day is the usual definition of a persistent agent."""
    residence = facts.number("film_residence")
    return when(
        all_of(_is_film(facts), residence.at_least(limits["persistence.hours_end"])),
        GradeAtLeast(Grade.DAYS, "film time by evaporation"),
    )


@rule("PERS-030", title="Solids do not evaporate away", stage=_STAGE, sources=("judgement",))
def solid(facts: Facts, limits: Limits) -> Decision:
    """Dust, salt and lumps stay until they are taken off."""
    return when(
        all_of(facts["form_solid"], not_(facts["form_cryogenic"])),
        GradeAtLeast(Grade.DAYS, "a solid: no credit for evaporation"),
    )


@rule("PERS-035", title="A dissolved solid stays", stage=_STAGE, sources=("judgement",))
def dissolved_solid(facts: Facts, limits: Limits) -> Decision:
    """The water leaves and the solute stays: a solution is graded by its solute."""
    return when(
        all_of(facts["form_liquid"], facts["dissolved_solid"]),
        GradeAtLeast(Grade.DAYS, "the dissolved solid stays: no credit for evaporation"),
    )


@rule("PERS-040", title="It takes up water from the air", stage=_STAGE, sources=("judgement",))
def takes_up_water(facts: Facts, limits: Limits) -> Decision:
    """Strong acids, caustic and glycols hold on to water: the film does not dry."""
    return when(
        all_of(_is_film(facts), facts["takes_up_water"]),
        GradeAtLeast(Grade.DAYS, "takes up water: no credit for evaporation"),
    )


@rule("PERS-050", title="It sets or gums", stage=_STAGE, sources=("judgement",))
def polymerizes(facts: Facts, limits: Limits) -> Decision:
    """A film that sets does not leave by itself."""
    return when(
        all_of(_is_film(facts), facts["polymerizes"]),
        GradeAtLeast(Grade.DAYS, "sets or gums: no credit for evaporation"),
    )


@rule("PERS-060", title="It is thick or tarry", stage=_STAGE, sources=("judgement",))
def thick(facts: Facts, limits: Limits) -> Decision:
    """Thickened product sticks, and evaporates slowly from inside."""
    return when(
        all_of(_is_film(facts), is_thick(facts, limits)),
        GradeAtLeast(Grade.DAYS, "thick or tarry: no credit for evaporation"),
    )


@rule("PERS-070", title="Molten product sets on the suit", stage=_STAGE, sources=("judgement",))
def molten(facts: Facts, limits: Limits) -> Decision:
    """Once cool it is a solid."""
    return when(
        facts["form_molten"],
        GradeAtLeast(Grade.DAYS, "solid once cool: no credit for evaporation"),
    )


@rule("PERS-080", title="It is frozen in this weather", stage=_STAGE, sources=("judgement",))
def frozen(facts: Facts, limits: Limits) -> Decision:
    """Below its melting point a film is a solid crust that thaws on the way to doffing."""
    return when(
        all_of(facts["frozen"], not_(facts["film_impossible"])),
        GradeAtLeast(Grade.DAYS, "frozen at this temperature: no credit for evaporation"),
    )


@rule(
    "PERS-090",
    title="Porous gear holds it",
    stage=_STAGE,
    sources=("judgement", "army-cm2506"),
)
def porous(facts: Facts, limits: Limits) -> Decision:
    """What has soaked into structural gear comes out slowly; a film time does not apply."""
    return when(
        all_of(facts["suit_turnout"], facts["contact_condensed"], _is_film(facts)),
        GradeAtLeast(Grade.DAYS, "porous gear: no credit for evaporation"),
    )


RULES = (
    gas,
    beyond_minutes,
    beyond_hour,
    beyond_day,
    solid,
    dissolved_solid,
    takes_up_water,
    polymerizes,
    thick,
    molten,
    frozen,
    porous,
)
