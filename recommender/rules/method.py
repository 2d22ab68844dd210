"""What comes first on the line, and what follows.

Dry first steps are floors: without them the do-not-use list (no water first, no small amounts of
water) would stand beside a plan that begins with water.
"""

from __future__ import annotations

from recommender.effects import Direction, First, Method
from recommender.engine import Decision, Stage, rule, when
from recommender.facts import Facts, Verdict, all_of, any_of, not_, settled
from recommender.limits import Limits
from recommender.rules.common import leaves_nothing

_STAGE = Stage.METHOD
_THEN = {
    "flood": "flood with a large volume of water",
    "keep_dry": "keep dry; the technician decides before any water",
    "wet": "wash wet with detergent",
    "technician": "stop there: the technician decides what follows",
    "doff": "doff with care, misted, mask last; shower",
}


def _then(facts: Facts, default: str) -> str:
    return _THEN.get(facts.word("after_first"), _THEN[default])


def _unless(verdict: Verdict) -> Verdict:
    """Step aside for a settled yes only: not knowing it must not cost a dry first step."""
    return settled(not verdict.is_yes)


def _how(facts: Facts, default: str) -> str:
    return facts.word("first_detail") or default


@rule(
    "METH-010",
    title="A cryogenic liquid has frosted the suit",
    stage=_STAGE,
    sources=("common-practice",),
)
def cryogenic(facts: Facts, limits: Limits) -> Decision:
    """Cold suits crack and cold hands cannot work. Warm and air the suit before anything else.

    A liquid that boils far below the weather leaves by itself.
    """
    return when(
        all_of(facts["contact_condensed"], facts["form_cryogenic"]),
        First(
            Method.HOLD,
            _how(facts, "warm and air the suit; do not flex it or scrub it"),
            "reassess: nothing to wash if nothing remains, else wash wet",
        ),
    )


@rule(
    "METH-015",
    title="A liquefied gas flashes off and leaves nothing",
    stage=_STAGE,
    sources=("common-practice", "judgement"),
)
def liquefied_gas(facts: Facts, limits: Limits) -> Decision:
    """A splash of liquefied gas boils at once and frosts the suit; what matters is thawing it.

    This holds only where every skin hazard is settled as no.
    """
    return when(
        all_of(
            facts["contact_condensed"],
            facts["form_gas"],
            leaves_nothing(facts, limits),
        ),
        First(
            Method.HOLD,
            _how(facts, "let frost go: air the suit; do not flex it or scrub it"),
            "reassess: nothing to wash if nothing remains, else wash wet",
        ),
    )


@rule("METH-020", title="The product is molten", stage=_STAGE, sources=("king-henretig",))
def molten(facts: Facts, limits: Limits) -> Decision:
    """A hot mass burns through the suit and bonds to it; peeling tears suit and skin."""
    return when(
        all_of(facts["contact_condensed"], facts["form_molten"], not_(facts["keep_wet"])),
        First(
            Method.HOLD,
            _how(facts, "cool the mass with water from the outside; do not peel it off"),
            _THEN.get(facts.word("after_first"), "go on by the solidified product"),
            Direction.ADDS_CAUTION,
        ),
    )


@rule(
    "METH-030",
    title="White phosphorus is kept wet",
    stage=_STAGE,
    sources=("fm-8-285", "king-henretig"),
)
def keep_wet(facts: Facts, limits: Limits) -> Decision:
    """White phosphorus lights again as soon as it dries."""
    return when(
        all_of(facts["contact_condensed"], facts["keep_wet"]),
        First(
            Method.KEEP_WET,
            "soak and keep soaked; take lumps off under water",
            "wash wet, under water; look for smoke or glow in the dark before release",
        ),
    )


@rule("METH-040", title="It ignites in air by itself", stage=_STAGE, sources=("common-practice",))
def pyrophoric(facts: Facts, limits: Limits) -> Decision:
    """What burns on its own in air is not washed by habit: water is never chosen by this alone."""
    return when(
        all_of(
            any_of(
                facts["contact_condensed"],
                all_of(facts["contact_vapor"], facts["vapor_can_condense"]),
            ),
            facts["pyrophoric"],
            _unless(facts["keep_wet"]),
            _unless(facts["reacts_violently_with_water"]),
        ),
        First(
            Method.HOLD,
            _how(facts, "keep clear, smother with dry sand or let it burn out"),
            _then(facts, "technician"),
        ),
    )


@rule(
    "METH-050",
    title="A solid that reacts violently with water",
    stage=_STAGE,
    sources=("npg", "tccc-burns", "common-practice"),
    floor=True,
)
def reactive_solid(facts: Facts, limits: Limits) -> Decision:
    """Water on the dust starts the reaction on the suit: take it off dry first."""
    return when(
        all_of(
            facts["contact_condensed"],
            facts["reacts_violently_with_water"],
            facts["form_solid"],
            _unless(facts["keep_wet"]),
        ),
        First(Method.DRY, _how(facts, "brush or scrape it off dry"), _then(facts, "technician")),
    )


@rule(
    "METH-060",
    title="A liquid that reacts violently with water",
    stage=_STAGE,
    sources=("tccc-burns", "adr-2025", "common-practice"),
    floor=True,
)
def reactive_liquid(facts: Facts, limits: Limits) -> Decision:
    """A little water on a reactive liquid boils and spits it; blot it first, then overwhelm it."""
    return when(
        all_of(
            facts["contact_condensed"],
            facts["reacts_violently_with_water"],
            facts["form_liquid"],
            _unless(facts["form_molten"]),
        ),
        First(
            Method.DRY,
            _how(facts, "blot or cover with dry mineral absorbent"),
            _then(facts, "technician"),
        ),
    )


@rule(
    "METH-065",
    title="Vapor or fume of what reacts violently with water",
    stage=_STAGE,
    sources=("judgement", "adr-2025"),
    floor=True,
)
def reactive_vapor(facts: Facts, limits: Limits) -> Decision:
    """Its vapor may have condensed where nobody sees it: look, and take off dry what shows."""
    return when(
        all_of(
            facts["contact_vapor"],
            facts["reacts_violently_with_water"],
            any_of(
                facts["vapor_can_condense"],
                all_of(facts["fumes"], not_(facts["irritant_soluble_gas"])),
            ),
        ),
        First(
            Method.DRY,
            "air out upwind and look; take off dry whatever shows",
            _then(facts, "technician"),
        ),
    )


@rule(
    "METH-070",
    title="Lime, dry cement and dry alkali are brushed off",
    stage=_STAGE,
    sources=("king-henretig", "tccc-burns"),
    floor=True,
)
def dry_alkali(facts: Facts, limits: Limits) -> Decision:
    """A little water turns the dust into a hot caustic paste."""
    return when(
        all_of(facts["contact_condensed"], facts["brush_before_water"], facts["form_solid"]),
        First(Method.DRY, _how(facts, "brush it off dry, downward"), _then(facts, "flood")),
    )


@rule("METH-080", title="Elemental mercury", stage=_STAGE, sources=("common-practice",))
def mercury(facts: Facts, limits: Limits) -> Decision:
    """Brushing and ordinary vacuums scatter mercury and fill the air with vapor."""
    return when(
        all_of(facts["contact_condensed"], facts["mercury_metal"]),
        First(
            Method.WIPE,
            "pick up beads with sulfur or zinc powder, wipes or a mercury vacuum; "
            "no ordinary vacuum, no brush",
            _then(facts, "wet"),
        ),
    )


@rule(
    "METH-090",
    title="Chlorinating or oxidizing powder",
    stage=_STAGE,
    sources=("common-practice", "judgement"),
    floor=True,
)
def oxidizing_powder(facts: Facts, limits: Limits) -> Decision:
    """A damp cloth is too little water: it heats, gives off chlorine or lights the cloth."""
    return when(
        all_of(facts["contact_condensed"], facts["oxidizing_powder"], facts["form_solid"]),
        First(Method.DRY, _how(facts, "lift it off dry with clean tools"), _then(facts, "flood")),
    )


@rule(
    "METH-100",
    title="Toxic or unknown dust, fiber or powder",
    stage=_STAGE,
    sources=("osha-1910-1001", "niosh-fentanyl", "judgement"),
)
def toxic_powder(facts: Facts, limits: Limits) -> Decision:
    """Dust that harms must not fly: damp wipe or HEPA vacuum, mist lightly, doff with care.

    A powder that nobody has cleared counts as one that harms, and stays dry until its reaction
    with water is known.
    """
    wipe = (
        "damp wipe or HEPA vacuum, mist lightly; never brush, blow or blast"
        if facts["reacts_violently_with_water"].is_no
        else "HEPA vacuum or dry wipe, no mist until its reaction with water is known; never "
        "brush, blow or blast"
    )
    return when(
        all_of(
            facts["contact_condensed"],
            facts["form_solid"],
            facts["toxic_particulate"],
            not_(facts["reacts_violently_with_water"]),
            not_(facts["brush_before_water"]),
            not_(facts["oxidizing_powder"]),
            not_(facts["mercury_metal"]),
            not_(facts["keep_wet"]),
        ),
        First(
            Method.WIPE,
            _how(facts, wipe),
            _then(facts, "wet"),
            Direction.ADDS_CAUTION,
        ),
    )


@rule(
    "METH-110",
    title="Only gas or vapor that cannot condense",
    stage=_STAGE,
    sources=("army-cm2506", "atsdr-mmg", "common-practice"),
)
def vapor_only(facts: Facts, limits: Limits) -> Decision:
    """With nothing on the suit there is nothing to wash: air out, meter, doff."""
    return when(
        all_of(
            facts["contact_vapor"],
            not_(facts["vapor_can_condense"]),
            any_of(not_(facts["fumes"]), facts["irritant_soluble_gas"]),
        ),
        First(
            Method.AIR,
            "air out upwind, on air",
            "doff with the meter",
            Direction.SUBTRACTS,
        ),
    )


RULES = (
    cryogenic,
    liquefied_gas,
    molten,
    keep_wet,
    pyrophoric,
    reactive_solid,
    reactive_liquid,
    reactive_vapor,
    dry_alkali,
    mercury,
    oxidizing_powder,
    toxic_powder,
    vapor_only,
)
