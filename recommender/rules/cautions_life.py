"""Cautions that come first: danger to life, and the wrong first action."""

from __future__ import annotations

from recommender.effects import Caution, Rank
from recommender.engine import Decision, Stage, rule, when
from recommender.facts import Facts, all_of, any_of, not_, settled
from recommender.limits import Limits
from recommender.rules.common import vapor_is_dangerous

_STAGE = Stage.CAUTIONS


@rule("CAU-010", title="Flammable", stage=_STAGE, sources=("dot-173", "common-practice"))
def flammable(facts: Facts, limits: Limits) -> Decision:
    """Vapor from a wet suit lights at the first spark of a zipper or a radio."""
    share = limits.value("checks.lower_limit_share")
    return when(
        facts["flammable"],
        Caution(
            Rank.LIFE,
            f"Flammable: keep ignition and static away; meter below {share:g} % of the lower "
            "limit before doffing (fire only).",
            "Flammability not known: treat as flammable; meter before doffing.",
        ),
    )


@rule("CAU-020", title="Dangerous vapor off the suit", stage=_STAGE, sources=("judgement", "npg"))
def off_gassing(facts: Facts, limits: Limits) -> Decision:
    """Saturated vapor above the immediately-dangerous level can come off a wet suit."""
    return when(
        all_of(facts["contact_condensed"], vapor_is_dangerous(facts, limits)),
        Caution(
            Rank.LIFE,
            "Vapor off a wet suit can pass the immediately-dangerous level: stay on air until "
            "the suit is off.",
            "Off-gassing not known: stay on air until the suit is off.",
        ),
    )


@rule("CAU-025", title="Toxic gas with moisture", stage=_STAGE, sources=("npg", "common-practice"))
def gives_off(facts: Facts, limits: Limits) -> Decision:
    """A harmless-looking dust can go on making a deadly gas on a damp suit or in a bag."""
    gas = facts.word("gives_off")
    return when(
        settled(bool(gas)),
        Caution(
            Rank.LIFE,
            f"Gives off {gas} with moisture or acid: stay on air until the suit is off; meter the "
            "waste.",
        ),
    )


@rule(
    "CAU-030", title="Nerve agent or cholinesterase inhibitor", stage=_STAGE, sources=("atsdr-mmg",)
)
def cholinesterase(facts: Facts, limits: Limits) -> Decision:
    """Pinpoint pupils, sweating, twitching: it passes through skin without pain."""
    return when(
        any_of(facts["nerve_agent"], facts["cholinesterase_inhibitor"]),
        Caution(
            Rank.LIFE,
            "Passes through skin without pain (cholinesterase): watch for small pupils, sweating, "
            "twitching; tell medical before anyone enters.",
            "",
        ),
    )


@rule("CAU-035", title="Opioid", stage=_STAGE, sources=("niosh-fentanyl",))
def opioid(facts: Facts, limits: Limits) -> Decision:
    """What kills is slow breathing, and there is an antidote."""
    return when(
        facts["opioid"],
        Caution(
            Rank.LIFE,
            "Opioid: watch for slow breathing and drowsiness; naloxone and airway support ready.",
            "",
        ),
    )


@rule("CAU-040", title="Cyanide", stage=_STAGE, sources=("atsdr-mmg", "epa-261-22"))
def cyanide(facts: Facts, limits: Limits) -> Decision:
    """Hydrogen cyanide comes off with acid or moisture and kills in minutes."""
    return when(
        facts["cyanide"],
        Caution(
            Rank.LIFE,
            "Cyanide: acid or moisture gives off hydrogen cyanide; medical ready for cyanide.",
            "",
        ),
    )


@rule("CAU-050", title="Hydrofluoric acid and its like", stage=_STAGE, sources=("king-henretig",))
def calcium(facts: Facts, limits: Limits) -> Decision:
    """Fluoride burns deep, late and painlessly at first; calcium is ready before entry."""
    return when(
        facts["calcium_line"],
        Caution(
            Rank.LIFE,
            "Calcium ready before entry (gel on skin, medical line): any skin contact goes to "
            "hospital even without pain.",
            "",
        ),
    )


@rule("CAU-060", title="Oxygen in clothing", stage=_STAGE, sources=("common-practice",))
def oxygen(facts: Facts, limits: Limits) -> Decision:
    """Clothing soaked with oxygen burns like a torch."""
    return when(
        facts["oxygen_enriching"],
        Caution(
            Rank.LIFE,
            "Oxygen stays in clothing: no ignition near it; air it well before doffing.",
            "",
        ),
    )


@rule("CAU-070", title="Displaces air", stage=_STAGE, sources=("common-practice",))
def asphyxiant(facts: Facts, limits: Limits) -> Decision:
    """Low and closed places fill without warning."""
    return when(
        facts["asphyxiant"],
        Caution(
            Rank.LIFE,
            "Displaces air in low and closed places: oxygen meter, line in the open.",
            "",
        ),
    )


@rule("CAU-080", title="Radioactive", stage=_STAGE, sources=("common-practice",))
def radioactive(facts: Facts, limits: Limits) -> Decision:
    """Decon in low background; what is breathed in stays."""
    return when(
        facts["radioactive"],
        Caution(
            Rank.LIFE,
            "Radioactive: line in low background, survey everyone, collect runoff only if that "
            "delays nobody.",
            "",
        ),
    )


@rule("CAU-100", title="Violent with water", stage=_STAGE, sources=("tccc-burns", "adr-2025"))
def violent(facts: Facts, limits: Limits) -> Decision:
    """On a suit it can wait for the dry step; on skin it cannot."""
    return when(
        facts["reacts_violently_with_water"],
        Caution(
            Rank.WRONG_FIRST_ACTION,
            "Reacts violently with water: dry step first on suits. Skin: flood at once (dry solid "
            "is brushed off first).",
            "Water reactivity not known: check placard, label or technician before wetting suits.",
        ),
    )


@rule("CAU-110", title="Ignites again", stage=_STAGE, sources=("common-practice", "fm-8-285"))
def reignites(facts: Facts, limits: Limits) -> Decision:
    """What ignites by itself lights the waste bag too."""
    return when(
        facts["pyrophoric"],
        Caution(
            Rank.WRONG_FIRST_ACTION,
            "Ignites by itself in air: fire watch at the line and at the waste.",
            "Ignition in air not known: fire watch at the line and at the waste.",
        ),
    )


@rule(
    "CAU-120",
    title="Blot first, or flood at once?",
    stage=_STAGE,
    sources=("judgement", "tccc-burns"),
)
def blot_question(facts: Facts, limits: Limits) -> Decision:
    """Concentrated acid and caustic heat with a little water; blotting first is a judgement call.

    Published texts agree only on plenty of water; the technician decides on a dry blot. Not for
    hydrofluoric acid: nothing may delay its flush, and mineral absorbent can give off gas with it.
    """
    return when(
        all_of(
            facts["heats_with_water"],
            facts["form_liquid"],
            not_(facts["form_gas"]),
            facts["contact_condensed"],
            not_(facts["hydrofluoric_type"]),
            not_(facts["reacts_violently_with_water"]),
        ),
        Caution(
            Rank.WRONG_FIRST_ACTION,
            "Heats with a little water: blot visible liquid with dry mineral absorbent first if "
            "that takes seconds (technician's call), then a lot of water.",
            "",
        ),
    )


@rule("CAU-130", title="Unknown powder", stage=_STAGE, sources=("judgement",))
def unknown_powder(facts: Facts, limits: Limits) -> Decision:
    """Some powders burn or give off gas with water."""
    return when(
        all_of(facts["form_solid"], facts["contact_condensed"], not_(facts["identity_known"])),
        Caution(
            Rank.WRONG_FIRST_ACTION,
            "Unknown powder: no flooding of suits until water reactivity is excluded.",
        ),
    )


@rule("CAU-140", title="Frost", stage=_STAGE, sources=("common-practice",))
def frost(facts: Facts, limits: Limits) -> Decision:
    """A frosted suit cracks when it is flexed or brushed."""
    return when(
        all_of(
            facts["contact_condensed"],
            any_of(facts["form_cryogenic"], all_of(facts["form_gas"], facts["film_impossible"])),
        ),
        Caution(
            Rank.WRONG_FIRST_ACTION,
            "If the suit is frosted, let it thaw before it is flexed or scrubbed.",
            "",
        ),
    )


@rule("CAU-150", title="Hot product", stage=_STAGE, sources=("king-henretig",))
def hot(facts: Facts, limits: Limits) -> Decision:
    """A molten mass holds heat for minutes under a cool skin."""
    return when(
        all_of(facts["form_molten"], facts["contact_condensed"]),
        Caution(
            Rank.WRONG_FIRST_ACTION,
            "Molten product: cool it, cut the suit around it, leave what sticks to skin to "
            "medical.",
        ),
    )


RULES = (
    flammable,
    off_gassing,
    gives_off,
    cholinesterase,
    opioid,
    cyanide,
    calcium,
    oxygen,
    asphyxiant,
    radioactive,
    violent,
    reignites,
    blot_question,
    unknown_powder,
    frost,
    hot,
)
