"""How hard to rinse before the first position."""

from __future__ import annotations

from recommender.effects import Emphasis, Gross, NoGross
from recommender.engine import Decision, Stage, rule, when
from recommender.facts import Facts, all_of, not_
from recommender.limits import Limits
from recommender.rules.common import harms_through_skin, stays_for_hours, water_alone_fails

_STAGE = Stage.GROSS
_NO_WATER = ("keep_dry", "technician")


@rule("GROSS-010", title="Airing needs no rinse", stage=_STAGE, sources=("common-practice",))
def none_when_airing(facts: Facts, limits: Limits) -> Decision:
    """With nothing on the suit a rinse only makes runoff."""
    return when(facts["first_is_air"], NoGross("nothing on the suit to rinse"))


@rule("GROSS-020", title="No rinse while holding", stage=_STAGE, sources=("judgement",))
def none_when_holding(facts: Facts, limits: Limits) -> Decision:
    """On a hold the suit is left alone until the reason for it has gone."""
    flood = facts.word("after_first") == "flood"
    after = "heavy, in flood volume" if flood else "by what remains"
    return when(facts["first_is_hold"], NoGross("hold first", after=after))


@rule("GROSS-030", title="No rinse before wiping", stage=_STAGE, sources=("judgement",))
def none_when_wiping(facts: Facts, limits: Limits) -> Decision:
    """A rinse spreads dust and drives it into seams before it has been taken off."""
    corrosive = facts["skin_corrosive"].is_yes
    after = "heavy" if corrosive else "light"
    if facts.word("after_first") == "flood":
        after = "heavy, in flood volume"
    return when(facts["first_is_wipe"], NoGross("wipe first", after=after))


@rule(
    "GROSS-040",
    title="No rinse before the dry step",
    stage=_STAGE,
    sources=("tccc-burns",),
    floor=True,
)
def none_before_dry_step(facts: Facts, limits: Limits) -> Decision:
    """A small amount of water starts the reaction; after the dry step, flood or keep dry."""
    stays_dry = facts["stays_dry"].is_yes or facts.word("after_first") in _NO_WATER
    after = "only on the technician's word" if stays_dry else "heavy, in flood volume"
    return when(facts["first_is_dry"], NoGross("dry step first", after=after))


@rule("GROSS-050", title="A rinse from the head down", stage=_STAGE, sources=("doe-em-5503",))
def light(facts: Facts, limits: Limits) -> Decision:
    """A short low-pressure rinse takes off what is loose before anyone touches the suit.

    How many seconds is practice, not published.
    """
    return when(not_(facts["first_is_air"]), Gross(Emphasis.LIGHT, "takes off what is loose"))


@rule("GROSS-060", title="Drenched or visibly dirty", stage=_STAGE, sources=("osha-1910-120-c",))
def heavy_when_gross(facts: Facts, limits: Limits) -> Decision:
    """The more there is, the more the first cut is worth."""
    return when(facts["contact_gross"], Gross(Emphasis.HEAVY, "visible product"))


@rule("GROSS-070", title="Corrosive", stage=_STAGE, sources=("tccc-burns",))
def heavy_when_corrosive(facts: Facts, limits: Limits) -> Decision:
    """Volume and time thin a corrosive; no chemistry replaces them."""
    return when(
        all_of(facts["contact_condensed"], facts["skin_corrosive"]),
        Gross(Emphasis.HEAVY, "corrosive"),
    )


@rule("GROSS-080", title="Harm through skin", stage=_STAGE, sources=("judgement",))
def heavy_when_skin_harm(facts: Facts, limits: Limits) -> Decision:
    """A liquid that kills through skin is cut down before anyone works close to the suit."""
    return when(
        all_of(facts["contact_condensed"], facts["form_liquid"], harms_through_skin(facts, limits)),
        Gross(Emphasis.HEAVY, "harm through skin"),
    )


@rule("GROSS-090", title="Slow to leave and hard to rinse", stage=_STAGE, sources=("judgement",))
def heavy_when_clinging(facts: Facts, limits: Limits) -> Decision:
    """An oily film that stays for hours is thinned first, so that the wash is not overrun."""
    return when(
        all_of(
            facts["contact_condensed"],
            facts["form_liquid"],
            stays_for_hours(facts),
            water_alone_fails(facts, limits),
        ),
        Gross(Emphasis.HEAVY, "stays for hours and does not rinse freely"),
    )


@rule("GROSS-100", title="Unknown liquid", stage=_STAGE, sources=("judgement",))
def heavy_when_unknown(facts: Facts, limits: Limits) -> Decision:
    """Until it has a name a liquid is taken as one that harms."""
    return when(
        all_of(facts["contact_condensed"], facts["form_liquid"], not_(facts["identity_known"])),
        Gross(Emphasis.HEAVY, "not identified"),
    )


RULES = (
    none_when_airing,
    none_when_holding,
    none_when_wiping,
    none_before_dry_step,
    light,
    heavy_when_gross,
    heavy_when_corrosive,
    heavy_when_skin_harm,
    heavy_when_clinging,
    heavy_when_unknown,
)
