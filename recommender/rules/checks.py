"""How to see whether the line worked, and who runs it."""

from __future__ import annotations

from recommender.effects import Check, CrewNote
from recommender.engine import Decision, Stage, rule, when
from recommender.facts import Facts, Verdict, all_of, any_of, not_, settled
from recommender.limits import Limits
from recommender.rules.common import (
    gives_vapor,
    harms_through_skin,
    reads_on_paper,
    vapor_is_dangerous,
)

_STAGE = Stage.CHECKS
_PPM_PER_PERCENT = 1e4


def _reaches_a_meter(facts: Facts, limits: Limits) -> Verdict:
    """Whether a residue gives off enough vapor for a meter; a gas always does.

    The vapor pressure held for a mixture is that of its heavy cut; a flammable one has light ends.
    """
    saturation = facts.number("saturation")
    return all_of(
        gives_vapor(facts),
        any_of(
            all_of(facts["mixture"], facts["flammable"]),
            all_of(facts["film_impossible"], not_(facts["form_solid"])),
            saturation.at_least(limits["checks.meter_min_concentration"]),
        ),
    )


@rule("CHK-010", title="pH paper", stage=_STAGE, sources=("tccc-burns", "common-practice"))
def paper(facts: Facts, limits: Limits) -> Decision:
    """Wet paper on the wet suit tells when an acid or alkali is gone; alkali takes longer."""
    poison = any_of(harms_through_skin(facts, limits), facts["cyanide"]).is_yes
    note = " (neutral paper is no proof that the poison is gone)" if poison else ""
    return when(
        all_of(not_(facts["stays_dry"]), not_(facts["first_is_air"]), reads_on_paper(facts)),
        Check(
            f"pH paper on the wet suit (folds, gloves, boots) until neutral{note}",
            sees_it=not poison,
        ),
    )


@rule("CHK-020", title="Photoionization meter", stage=_STAGE, sources=("npg", "judgement"))
def photoionization(facts: Facts, limits: Limits) -> Decision:
    """It sees what ionizes below its lamp and gives off enough vapor."""
    return when(
        all_of(
            facts.number("ionization_energy").below(
                limits.value("checks.lamp_energy") - limits.value("checks.lamp_margin")
            ),
            _reaches_a_meter(facts, limits),
        ),
        Check(
            f"photoionization meter ({limits.value('checks.lamp_energy'):g} eV lamp) close over "
            "the suit: no reading above background"
        ),
    )


def _fire_only(facts: Facts, limits: Limits) -> bool:
    """Whether the flammable action level lies above what is dangerous to breathe, or may."""
    lowest, idlh = facts.number("lower_flammable_limit"), facts.number("idlh")
    if lowest.mid is None or idlh.mid is None:
        return True
    share = limits.value("checks.lower_limit_share") / 100.0
    return lowest.mid * _PPM_PER_PERCENT * share > idlh.mid


@rule("CHK-030", title="Combustible-gas meter", stage=_STAGE, sources=("npg", "common-practice"))
def combustible(facts: Facts, limits: Limits) -> Decision:
    """Flammable vapor is metered before anybody opens a zipper.

    For most toxic vapors the action level for fire lies far above what is dangerous to breathe;
    then the reading says nothing about breathing, and the check says so.
    """
    share = limits.value("checks.lower_limit_share")
    fire_only = _fire_only(facts, limits)
    note = " (fire only: says nothing of breathing)" if fire_only else ""
    return when(
        all_of(facts["flammable"], not_(facts["strong_oxidizer"]), _reaches_a_meter(facts, limits)),
        Check(
            f"combustible-gas meter below {share:g} % of the lower limit before doffing{note}",
            sees_it=not fire_only,
        ),
    )


@rule("CHK-040", title="Radiation meter", stage=_STAGE, sources=("common-practice",))
def radiation(facts: Facts, limits: Limits) -> Decision:
    """Survey before, during and after; the pass level is the health physicist's."""
    return when(
        facts["radioactive"],
        Check("radiation meter, slow frisk, against background and the local release level"),
    )


@rule("CHK-050", title="Mercury vapor meter", stage=_STAGE, sources=("common-practice",))
def mercury_meter(facts: Facts, limits: Limits) -> Decision:
    """Beads hide in seams and boot treads."""
    return when(facts["mercury_metal"], Check("mercury vapor meter over the bagged, warm gear"))


@rule("CHK-060", title="Ultraviolet lamp", stage=_STAGE, sources=("common-practice",))
def ultraviolet(facts: Facts, limits: Limits) -> Decision:
    """Many oils glow; a dark suit proves nothing by itself."""
    return when(
        facts["fluoresces"], Check("ultraviolet lamp in the dark: no glow (not proof by itself)")
    )


@rule("CHK-070", title="Smoke or glow in the dark", stage=_STAGE, sources=("fm-8-285",))
def smoke(facts: Facts, limits: Limits) -> Decision:
    """White phosphorus left behind smokes, and glows, as it dries."""
    return when(facts["keep_wet"], Check("look for smoke or glow in the dark as it dries"))


@rule("CHK-080", title="Look", stage=_STAGE, sources=("common-practice",))
def look(facts: Facts, limits: Limits) -> Decision:
    """A clean-looking suit is the least, never the whole, of a check."""
    return when(
        facts["visible_residue"],
        Check("look: no film, color or dust at seams, folds, gloves, boots", sees_it=False),
    )


@rule("CHK-090", title="Wipe sample", stage=_STAGE, sources=("epa-pcb", "common-practice"))
def wipe_sample(facts: Facts, limits: Limits) -> Decision:
    """What lasts and harms through skin is proved by a wipe and a laboratory, after the fact."""
    lasts = any_of(
        facts["pcb_or_dioxin"],
        facts["vesicant"],
        facts["nerve_agent"],
        facts["biological"],
        facts["cholinesterase_inhibitor"],
        facts["opioid"],
    )
    return when(
        lasts, Check("wipe sample before the suit is used again (the result comes later)", False)
    )


@rule("CHK-100", title="Agent paper and meter", stage=_STAGE, sources=("common-practice",))
def agent_paper(facts: Facts, limits: Limits) -> Decision:
    """Detection paper shows liquid agent in seconds; an agent meter finds its vapor."""
    return when(
        any_of(facts["nerve_agent"], facts["vesicant"]),
        Check("agent detection paper and agent meter, by those trained on them"),
    )


@rule("CHK-110", title="Meter for the gas it gives off", stage=_STAGE, sources=("common-practice",))
def gas_given_off(facts: Facts, limits: Limits) -> Decision:
    """Moisture in suit and waste sets the gas free long after the dust is off."""
    gas = facts.word("gives_off")
    return when(
        settled(bool(gas)), Check(f"gas tube or meter for {gas} over the suit and the waste")
    )


@rule("CHK-120", title="Oxygen meter", stage=_STAGE, sources=("common-practice",))
def oxygen_meter(facts: Facts, limits: Limits) -> Decision:
    """What displaces air is seen by what is missing."""
    return when(
        facts["asphyxiant"], Check("oxygen meter reads normal where suits come off", sees_it=True)
    )


@rule("CREW-010", title="Protection of the decon crew", stage=_STAGE, sources=("common-practice",))
def protection(facts: Facts, limits: Limits) -> Decision:
    """Those who wash touch what the entry crew brings out."""
    return when(
        settled(True), CrewNote("Decon crew protected as the entry crew, or one level below")
    )


@rule("CREW-020", title="Protection for dangerous vapor", stage=_STAGE, sources=("judgement",))
def same_protection(facts: Facts, limits: Limits) -> Decision:
    """Where saturated vapor passes the immediately-dangerous level, one level below is too low."""
    return when(
        all_of(
            facts["contact_condensed"],
            any_of(facts["nerve_agent"], vapor_is_dangerous(facts, limits)),
        ),
        CrewNote("On air at the first position (off-gassing)"),
    )


@rule("CREW-030", title="Lowest air first", stage=_STAGE, sources=("common-practice",))
def lowest_air(facts: Facts, limits: Limits) -> Decision:
    """The one with the least air cannot wait in line."""
    return when(settled(True), CrewNote("Lowest air first; facepiece off last"))


RULES = (
    paper,
    photoionization,
    combustible,
    radiation,
    mercury_meter,
    ultraviolet,
    smoke,
    look,
    wipe_sample,
    agent_paper,
    gas_given_off,
    oxygen_meter,
    protection,
    same_protection,
    lowest_air,
)
