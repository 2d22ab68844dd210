"""How many whole-suit positions. Sum, then credit, then cap, then floor (combined in plan.py)."""

from __future__ import annotations

from recommender.effects import Credit, Grade, NoPositions, Positions
from recommender.engine import Decision, Stage, rule, when
from recommender.facts import Facts, Verdict, all_of, any_of, not_
from recommender.limits import Limits
from recommender.rules.common import (
    harms_through_skin,
    leaves_nothing,
    stays_for_hours,
    water_alone_fails,
)

_STAGE = Stage.STATIONS


@rule(
    "STN-010",
    title="Only gas or vapor that cannot condense",
    stage=_STAGE,
    sources=("army-cm2506", "atsdr-mmg", "common-practice"),
)
def vapor_only(facts: Facts, limits: Limits) -> Decision:
    """Published guidance airs out people met by gas alone; there is no film to wash."""
    return when(
        all_of(
            facts["contact_vapor"],
            not_(facts["vapor_can_condense"]),
            any_of(not_(facts["fumes"]), facts["irritant_soluble_gas"]),
        ),
        Positions(0, 0, 0, "gas or vapor only: nothing on the suit to wash"),
    )


@rule("STN-015", title="Irritant, very soluble gas", stage=_STAGE, sources=("judgement",))
def soluble_gas(facts: Facts, limits: Limits) -> Decision:
    """Ammonia, hydrogen chloride, chlorine and their like dissolve in sweat and dew on the suit.

    One rinse may be worth it; it stays in the range.
    """
    return when(
        all_of(
            facts["contact_vapor"],
            facts["irritant_soluble_gas"],
            not_(facts["vapor_can_condense"]),
        ),
        Positions(0, 0, 1, "irritant gas that dissolves in moisture on the suit"),
    )


@rule("STN-020", title="Vapor that can condense or fumes", stage=_STAGE, sources=("judgement",))
def condensing_vapor(facts: Facts, limits: Limits) -> Decision:
    """Vapor of a liquid, or an acid mist, may leave a film that nobody sees."""
    fumes = all_of(facts["fumes"], not_(facts["irritant_soluble_gas"]))
    return when(
        all_of(facts["contact_vapor"], any_of(facts["vapor_can_condense"], fumes)),
        Positions(0, 1, 2, "vapor that can condense or fumes may leave a film"),
    )


@rule(
    "STN-030",
    title="Product may be on the suit",
    stage=_STAGE,
    sources=("doe-em-5503", "osha-1910-120-c"),
    floor=True,
)
def contact(facts: Facts, limits: Limits) -> Decision:
    """The federal minimum layouts wash and rinse the whole suit once after any contact."""
    one = int(limits.value("stations.contact"))
    return when(facts["contact_condensed"], Positions(one, one, one, "product may be on the suit"))


def _toxic_and_stays(facts: Facts, limits: Limits) -> Verdict:
    """A film that lasts and kills through skin; what mixes with water goes with the rinse."""
    severe = facts.number("dermal_category").at_most(limits["stations.dermal_severe"])
    freely = facts.number("water_solubility").at_least(limits["stations.freely_soluble"])
    return any_of(facts["vesicant"], facts["nerve_agent"], all_of(severe, not_(freely)))


@rule(
    "STN-040",
    title="Slow to leave and hard to rinse, or slow to leave and lethal: it clings",
    stage=_STAGE,
    sources=("judgement",),
)
def cling(facts: Facts, limits: Limits) -> Decision:
    """What neither evaporates nor rinses freely needs a second pass, and so does a lethal film.

    Liquids, pastes and melts only. Not where a source says the product is not classified for
    health. A dermal category 1-2 liquid that mixes freely with water goes with the rinse and only
    widens the range (STN-041); vesicants and nerve agents count whatever their solubility.
    """
    return when(
        all_of(
            facts["contact_condensed"],
            facts["form_liquid"],
            stays_for_hours(facts),
            any_of(water_alone_fails(facts, limits), _toxic_and_stays(facts, limits)),
            not_(facts["not_classified_for_health"]),
        ),
        Positions(1, 1, 1, "stays for hours and does not simply rinse off"),
    )


@rule(
    "STN-041",
    title="Lethal film that mixes with water",
    stage=_STAGE,
    sources=("judgement",),
)
def lethal_but_rinses(facts: Facts, limits: Limits) -> Decision:
    """A freely soluble poison leaves with the rinse, but a fold may hold it: range only."""
    severe = facts.number("dermal_category").at_most(limits["stations.dermal_severe"])
    freely = facts.number("water_solubility").at_least(limits["stations.freely_soluble"])
    return when(
        all_of(
            facts["contact_condensed"],
            facts["form_liquid"],
            stays_for_hours(facts),
            severe,
            freely,
        ),
        Positions(0, 0, 1, "lethal film, though it mixes with water"),
    )


_HARMS = (
    ("nerve_agent", "nerve agent"),
    ("vesicant", "blister agent"),
    ("cholinesterase_inhibitor", "cholinesterase inhibitor"),
    ("hydrofluoric_type", "fluoride burns"),
    ("pcb_or_dioxin", "PCB or dioxin"),
    ("toxic_6_1_pg_i", "poison, packing group I"),
)


def _harm_words(facts: Facts) -> str:
    """The first harm that is settled, in words, so that a technician sees what decided."""
    named = next((words for name, words in _HARMS if facts[name].is_yes), "")
    category = facts.number("dermal_category").mid
    if not named and category is not None and category <= 3:
        named = f"dermal category {category:g}"
        named += " with a skin notation" if category > 2 else ""
    return f": {named}" if named else ""


@rule(
    "STN-050",
    title="It kills or maims through skin",
    stage=_STAGE,
    sources=(
        "judgement",
        "osha-1910-120-c",
        "dot-173",
        "ghs",
        "epa-pcb",
        "epa-261-7",
        "epa-156-146",
    ),
    floor=True,
)
def skin_harm(facts: Facts, limits: Limits) -> Decision:
    """Steps follow the hazard (29 CFR 1910.120 App. C). Volatility never cancels harm to skin.

    Where federal rules count cycles they count by toxicity and soiling: two for PCB surfaces,
    three for containers of acutely hazardous waste and of pesticides. For a suit that is an
    analogy, no more.
    """
    return when(
        all_of(facts["contact_condensed"], harms_through_skin(facts, limits)),
        Positions(1, 1, 1, f"harm through skin{_harm_words(facts)}"),
    )


@rule(
    "STN-051",
    title="Human carcinogen with a skin notation",
    stage=_STAGE,
    sources=("judgement", "iarc", "acgih-tlv"),
)
def skin_carcinogen(facts: Facts, limits: Limits) -> Decision:
    """A late harm that passes through skin widens the range; it does not move the estimate."""
    return when(
        all_of(facts["contact_condensed"], facts["known_human_carcinogen"], facts["skin_notation"]),
        Positions(0, 0, 1, "human carcinogen that passes through skin"),
    )


@rule("STN-060", title="Drenched, kneeling or wading", stage=_STAGE, sources=("osha-1910-120-c",))
def gross(facts: Facts, limits: Limits) -> Decision:
    """More on the suit than one wash is expected to carry."""
    return when(facts["contact_gross"], Positions(1, 1, 1, "gross contact"))


@rule(
    "STN-080",
    title="Disposable layer, or an airing place for what leaves in minutes",
    stage=Stage.CREDIT,
    sources=("judgement", "common-practice"),
)
def credit(facts: Facts, limits: Limits) -> Decision:
    """A layer thrown away, or time in moving air, stands in for one wash where harm is low.

    Never with harm through skin, corrosives, gross contact, an unknown, or a failed check.
    """
    airs_out = all_of(
        facts["airing_place"],
        facts.number("persistence").at_most(float(Grade.MINUTES)),
    )
    return when(
        all_of(
            facts["contact_condensed"],
            any_of(facts["suit_disposable"], airs_out),
            not_(harms_through_skin(facts, limits)),
            not_(facts["skin_corrosive"]),
            not_(facts["contact_gross"]),
            facts["identity_known"],
            not_(facts["check_failed"]),
        ),
        Credit("disposable layer or airing place"),
    )


@rule(
    "STN-090",
    title="Nothing remains once it has boiled off",
    stage=Stage.CREDIT,
    sources=("common-practice", "judgement"),
)
def nothing_remains(facts: Facts, limits: Limits) -> Decision:
    """A cryogenic liquid or liquefied gas with no skin hazard of its own leaves a clean suit.

    Lifts the floor of one position; a position stays in the range in case something remains.
    """
    return when(
        all_of(facts["contact_condensed"], leaves_nothing(facts, limits)),
        NoPositions("boils off and leaves nothing"),
    )


RULES = (
    vapor_only,
    soluble_gas,
    condensing_vapor,
    contact,
    cling,
    lethal_but_rinses,
    skin_harm,
    skin_carcinogen,
    gross,
    credit,
    nothing_remains,
)
