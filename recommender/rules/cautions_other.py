"""Cautions after those: medical, containment, weather and the rest."""

from __future__ import annotations

from recommender.effects import Caution, Rank
from recommender.engine import Decision, Stage, rule, when
from recommender.facts import Facts, all_of, any_of, not_
from recommender.limits import Limits
from recommender.rules.common import is_thick, leaves_nothing

_STAGE = Stage.CAUTIONS


@rule("CAU-200", title="Late effects", stage=_STAGE, sources=("atsdr-mmg", "npg"))
def delayed(facts: Facts, limits: Limits) -> Decision:
    """Someone who feels well can be in danger hours later."""
    return when(
        facts["delayed_effect"],
        Caution(
            Rank.MEDICAL,
            "Serious effects can come hours later: everyone exposed goes to medical, symptoms or "
            "not.",
            "Late effects not known: record exposures and hand everyone to medical.",
        ),
    )


@rule("CAU-210", title="Blister agent", stage=_STAGE, sources=("fm-3-11-9",))
def vesicant(facts: Facts, limits: Limits) -> Decision:
    """The first minutes decide; pain may come hours after."""
    return when(
        facts["vesicant"],
        Caution(
            Rank.MEDICAL,
            "Blister agent: skin contact is decontaminated within minutes; pain may come late.",
            "",
        ),
    )


@rule("CAU-220", title="Harms without pain through skin", stage=_STAGE, sources=("npg", "ghs"))
def skin_notation(facts: Facts, limits: Limits) -> Decision:
    """A skin notation says that skin contact adds to the dose.

    Cholinesterase inhibitors have a caution of their own (CAU-030).
    """
    category = facts.number("dermal_category")
    return when(
        all_of(
            any_of(
                facts["skin_notation"],
                category.at_most(limits["stations.dermal_with_notation"]),
            ),
            not_(any_of(facts["nerve_agent"], facts["cholinesterase_inhibitor"])),
        ),
        Caution(
            Rank.MEDICAL,
            "Passes through skin: wash any skin contact at once and tell medical.",
            "Skin uptake not known: wash any skin contact at once and tell medical.",
        ),
    )


@rule("CAU-230", title="Sensitizer", stage=_STAGE, sources=("clp-annex-vi",))
def sensitizer(facts: Facts, limits: Limits) -> Decision:
    """Anyone sensitized before reacts to traces."""
    return when(
        facts["skin_sensitizer"],
        Caution(
            Rank.MEDICAL,
            "Sensitizer: anyone with earlier reactions stays off the line.",
            "",
        ),
    )


@rule("CAU-240", title="Human carcinogen", stage=_STAGE, sources=("iarc", "ntp-roc"))
def carcinogen(facts: Facts, limits: Limits) -> Decision:
    """Record exposure; keep it from going home."""
    return when(
        facts["known_human_carcinogen"],
        Caution(
            Rank.MEDICAL,
            "Human carcinogen: record exposures; shower before going home.",
            "",
        ),
    )


@rule("CAU-250", title="Alkali clings", stage=_STAGE, sources=("tccc-burns",))
def alkali(facts: Facts, limits: Limits) -> Decision:
    """Alkali turns fat to soap and goes deep; it takes longer to rinse than acid."""
    return when(
        all_of(
            facts["alkali"],
            facts["skin_corrosive"],
            facts["contact_condensed"],
            not_(facts["stays_dry"]),
        ),
        Caution(
            Rank.MEDICAL,
            "Alkali: rinse longer than for acid, until pH paper stays neutral.",
            "",
        ),
    )


@rule("CAU-310", title="PCB and its like", stage=_STAGE, sources=("epa-pcb", "common-practice"))
def pcb(facts: Facts, limits: Limits) -> Decision:
    """Contaminated gear has cost crews apparatus, radios and an ambulance."""
    return when(
        facts["pcb_or_dioxin"],
        Caution(
            Rank.CONTAINMENT,
            "PCB or dioxin: nothing worn or carried goes into a vehicle; bag, label, sample, "
            "discard.",
            "PCB not known: read the label or test before anything worn goes into a vehicle.",
        ),
    )


@rule("CAU-320", title="Porous gear", stage=_STAGE, sources=("osha-1910-120", "army-cm2506"))
def turnout(facts: Facts, limits: Limits) -> Decision:
    """Fire gear soaks product up; 29 CFR 1910.120(k)(5)(ii) takes wetted permeable gear off."""
    return when(
        all_of(facts["suit_turnout"], facts["contact_condensed"]),
        Caution(
            Rank.CONTAINMENT,
            "Structural gear is porous: rinse it when the method allows, take it off, bag and "
            "isolate it; not worn home or in a cab.",
        ),
    )


@rule("CAU-330", title="Spores", stage=_STAGE, sources=("common-practice",))
def biological(facts: Facts, limits: Limits) -> Decision:
    """Soap and water for people; reagents on surfaces need law enforcement's word."""
    return when(
        facts["biological"],
        Caution(
            Rank.CONTAINMENT,
            "Biological: law enforcement and public health before anything is destroyed.",
            "",
        ),
    )


@rule(
    "CAU-340",
    title="Contain the runoff",
    stage=_STAGE,
    sources=("epa-550-f-00-009", "common-practice"),
)
def runoff(facts: Facts, limits: Limits) -> Decision:
    """Life first; once no life is at risk, keep it out of drains and tell who needs to know."""
    return when(
        all_of(
            facts["contact_condensed"],
            not_(facts["not_classified_for_health"]),
            not_(leaves_nothing(facts, limits)),
        ),
        Caution(
            Rank.CONTAINMENT,
            "Block drains and hold the runoff; life comes first. Tell the sewer plant.",
            "Block drains and hold the runoff; life comes first. Tell the sewer plant.",
        ),
    )


@rule("CAU-400", title="Sets on the suit", stage=_STAGE, sources=("judgement",))
def sets(facts: Facts, limits: Limits) -> Decision:
    """A set film does not wash off."""
    return when(
        all_of(facts["polymerizes"], facts["contact_condensed"], facts["form_liquid"]),
        Caution(Rank.OTHER, "Sets or gums: wash early; what has set is cut off and discarded.", ""),
    )


@rule("CAU-410", title="Thick product", stage=_STAGE, sources=("judgement",))
def scrape(facts: Facts, limits: Limits) -> Decision:
    """Scraping and blotting take off more than the first wash."""
    return when(
        all_of(
            facts["form_liquid"],
            not_(facts["form_molten"]),
            is_thick(facts, limits),
            facts["contact_condensed"],
        ),
        Caution(Rank.OTHER, "Thick: scrape or blot it off before the wash.", ""),
    )


@rule("CAU-420", title="Vapor runs low", stage=_STAGE, sources=("common-practice",))
def low_places(facts: Facts, limits: Limits) -> Decision:
    """Heavy vapor follows the slope to the line."""
    return when(
        facts["heavier_vapor"],
        Caution(Rank.OTHER, "Vapor is heavier than air: line uphill and upwind.", ""),
    )


@rule("CAU-430", title="Cold line", stage=_STAGE, sources=("sbccom-cold", "osha-1910-120"))
def cold(facts: Facts, limits: Limits) -> Decision:
    """29 CFR 1910.120(k)(8) asks for another effective means where temperature defeats water."""
    air = facts.number("air_temperature")
    return when(
        all_of(
            facts["contact_condensed"],
            air.at_most(limits["cautions.cold_wet_line"]),
            air.above(limits["cautions.freezing_line"]),
        ),
        Caution(Rank.OTHER, "Cool weather: warm shelter beside a wet line.", ""),
    )


@rule("CAU-431", title="Freezing line", stage=_STAGE, sources=("sbccom-cold", "osha-1910-120"))
def freezing(facts: Facts, limits: Limits) -> Decision:
    """Water freezes on suits, hoses and tarps; a product that is frozen thaws at doffing."""
    return when(
        all_of(
            facts["contact_condensed"],
            facts.number("air_temperature").at_most(limits["cautions.freezing_line"]),
        ),
        Caution(
            Rank.OTHER,
            "Freezing: take product off dry outside, wash with warm water under cover, salt or "
            "sand the footing.",
            "",
        ),
    )


@rule("CAU-440", title="Heat strain", stage=_STAGE, sources=("four-agency-85-115",))
def heat(facts: Facts, limits: Limits) -> Decision:
    """Checks of pulse and temperature begin at 72.5 F for suits that do not breathe."""
    return when(
        facts.number("air_temperature").at_least(limits["cautions.heat_check"]),
        Caution(
            Rank.OTHER,
            "Heat strain in suits: short waits in line, checks and shade at the clean end. No "
            "federal work and rest figure for encapsulating suits was found.",
            "",
        ),
    )


@rule("CAU-450", title="Stronger than any row held", stage=_STAGE, sources=("judgement",))
def stronger(facts: Facts, limits: Limits) -> Decision:
    """A stronger solution can belong to a worse class."""
    return when(
        facts["stronger_than_held"],
        Caution(
            Rank.LIFE,
            "Stronger than any strength held here: expect worse than shown; call the technician.",
        ),
    )


@rule("CAU-460", title="A check has failed", stage=_STAGE, sources=("osha-1910-120", "judgement"))
def failed(facts: Facts, limits: Limits) -> Decision:
    """29 CFR 1910.120(k)(2)(iv): what does not work is found and corrected."""
    return when(
        facts["check_failed"],
        Caution(
            Rank.LIFE,
            "A check failed: repeat the last position once; if it fails again, isolate and "
            "discard the suit.",
        ),
    )


RULES = (
    delayed,
    vesicant,
    skin_notation,
    sensitizer,
    carcinogen,
    alkali,
    pcb,
    turnout,
    biological,
    runoff,
    sets,
    scrape,
    low_places,
    cold,
    freezing,
    heat,
    stronger,
    failed,
)
