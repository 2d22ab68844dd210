"""What to keep off this product. These rules cannot be switched off."""

from __future__ import annotations

from recommender.effects import DoNotUse
from recommender.engine import Decision, Stage, rule, when
from recommender.facts import Facts, all_of, any_of, not_, settled
from recommender.limits import Limits

_STAGE = Stage.SOLUTION


@rule(
    "DNU-010",
    title="No hypochlorite on acids",
    stage=_STAGE,
    sources=("common-practice",),
    floor=True,
)
def bleach_on_acid(facts: Facts, limits: Limits) -> Decision:
    """Acid sets chlorine free from hypochlorite."""
    return when(
        any_of(facts["acid"], facts["hydrolyzes_to_acid"]),
        DoNotUse("hypochlorite", "gives off chlorine with acid", "if it is an acid: chlorine"),
    )


@rule(
    "DNU-011",
    title="No hypochlorite on ammonia or amines",
    stage=_STAGE,
    sources=("common-practice",),
    floor=True,
)
def bleach_on_amine(facts: Facts, limits: Limits) -> Decision:
    """Hypochlorite makes chloramines, and worse, from ammonia, ammonium salts and amines."""
    return when(
        facts["ammonia_or_amine"],
        DoNotUse("hypochlorite", "gives off chloramines", "if it is an amine: chloramines"),
    )


@rule(
    "DNU-012",
    title="No hypochlorite on cyanide",
    stage=_STAGE,
    sources=("common-practice",),
    floor=True,
)
def bleach_on_cyanide(facts: Facts, limits: Limits) -> Decision:
    """Without alkaline control hypochlorite makes cyanogen chloride from cyanide."""
    return when(
        facts["cyanide"],
        DoNotUse(
            "hypochlorite",
            "can give off cyanogen chloride",
            "if it is a cyanide: cyanogen chloride",
        ),
    )


@rule(
    "DNU-013",
    title="No hypochlorite on fuels and organic liquids",
    stage=_STAGE,
    sources=("common-practice", "tm-9-1300-275-2"),
    floor=True,
)
def bleach_on_organics(facts: Facts, limits: Limits) -> Decision:
    """Hypochlorite on a combustible product heats, may ignite, and chlorinates."""
    return when(
        facts["organic_liquid"],
        DoNotUse(
            "hypochlorite",
            "heats, may ignite or chlorinate the product",
            "if it is organic: heat or fire",
        ),
    )


@rule(
    "DNU-014",
    title="No hypochlorite on neat blister agent",
    stage=_STAGE,
    sources=("tm-9-1300-275-2",),
    floor=True,
)
def bleach_on_vesicant(facts: Facts, limits: Limits) -> Decision:
    """Dry hypochlorite ignites neat mustard."""
    return when(
        facts["vesicant"],
        DoNotUse("hypochlorite", "ignites neat agent", "if it is a blister agent: fire"),
    )


@rule(
    "DNU-020",
    title="No acid on cyanide",
    stage=_STAGE,
    sources=("epa-261-22", "common-practice"),
    floor=True,
)
def acid_on_cyanide(facts: Facts, limits: Limits) -> Decision:
    """Acid sets hydrogen cyanide free."""
    return when(
        facts["cyanide"],
        DoNotUse("acid", "gives off hydrogen cyanide", "if it is a cyanide: hydrogen cyanide"),
    )


@rule(
    "DNU-021",
    title="No acid on sulfide",
    stage=_STAGE,
    sources=("epa-261-22", "common-practice"),
    floor=True,
)
def acid_on_sulfide(facts: Facts, limits: Limits) -> Decision:
    """Acid sets hydrogen sulfide free."""
    return when(
        facts["sulfide"],
        DoNotUse("acid", "gives off hydrogen sulfide", "if it is a sulfide: hydrogen sulfide"),
    )


@rule(
    "DNU-022",
    title="No acid on hypochlorite",
    stage=_STAGE,
    sources=("common-practice",),
    floor=True,
)
def acid_on_hypochlorite(facts: Facts, limits: Limits) -> Decision:
    """Acid sets chlorine free."""
    return when(
        facts["hypochlorite"],
        DoNotUse("acid", "gives off chlorine", "if it releases chlorine: chlorine gas"),
    )


@rule(
    "DNU-023",
    title="No acid on what gives off toxic gas",
    stage=_STAGE,
    sources=("common-practice",),
    floor=True,
)
def acid_on_gas_maker(facts: Facts, limits: Limits) -> Decision:
    """Phosphides, azides and their like give off toxic gas with acid as with moisture."""
    gas = facts.word("gives_off")
    return when(
        all_of(settled(bool(gas)), not_(facts["hydrolyzes_to_acid"])),
        DoNotUse("acid", f"gives off {gas}", f"gives off {gas}"),
    )


@rule(
    "DNU-030",
    title="No water first on violent reactives",
    stage=_STAGE,
    sources=("tccc-burns", "common-practice"),
    floor=True,
)
def water_first(facts: Facts, limits: Limits) -> Decision:
    """On a suit that can wait, water first boils, spits or ignites the product.

    A person with it on skin cannot wait: that is emergency decon, and it floods.
    """
    until = (
        "no water on suits until the technician decides"
        if facts["stays_dry"].is_yes
        else "dry step first"
    )
    return when(
        facts["reacts_violently_with_water"],
        DoNotUse(
            "water-first",
            f"reacts violently: {until} (skin is flooded at once)",
            "until water reactivity is known (skin is flooded at once)",
        ),
    )


@rule(
    "DNU-031",
    title="No small amounts of water",
    stage=_STAGE,
    sources=("tccc-burns",),
    floor=True,
)
def little_water(facts: Facts, limits: Limits) -> Decision:
    """A little water heats it or starts the reaction without carrying anything away."""
    how_much = "none on suits" if facts["stays_dry"].is_yes else "use a lot or none"
    return when(
        any_of(
            facts["brush_before_water"],
            facts["oxidizing_powder"],
            facts["heats_with_water"],
            facts["reacts_violently_with_water"],
        ),
        DoNotUse(
            "little-water",
            f"heats or starts the reaction; {how_much}",
            "if it heats with water; use a lot or none",
        ),
    )


@rule(
    "DNU-040",
    title="No organic sorbent",
    stage=_STAGE,
    sources=("common-practice", "bretherick"),
    floor=True,
)
def organic_sorbent(facts: Facts, limits: Limits) -> Decision:
    """Strong oxidizers, concentrated nitric acid and hydrazine light rags and sawdust."""
    return when(
        any_of(facts["ignites_organic_sorbents"], facts["strong_oxidizer"]),
        DoNotUse(
            "organic-sorbent",
            "can ignite; mineral absorbent only",
            "if it is an oxidizer: fire; mineral absorbent only",
        ),
    )


@rule(
    "DNU-050",
    title="Nothing but soap and water on opioid skin contact",
    stage=_STAGE,
    sources=("niosh-fentanyl",),
    floor=True,
)
def opioid_skin(facts: Facts, limits: Limits) -> Decision:
    """Alcohol, bleach and high-pH soap may raise what the skin takes up."""
    return when(
        facts["opioid"],
        DoNotUse(
            "alcohol-or-bleach-on-skin",
            "may raise uptake; cool soap and water only",
            "if it is an opioid: may raise uptake",
        ),
    )


@rule(
    "DNU-060",
    title="No copper sulfate on white phosphorus",
    stage=_STAGE,
    sources=("fm-8-285",),
    floor=True,
)
def copper_sulfate(facts: Facts, limits: Limits) -> Decision:
    """It is itself a poison."""
    return when(
        facts["keep_wet"],
        DoNotUse("copper-sulfate", "poisonous; keep it wet instead", "if it is white phosphorus"),
    )


@rule(
    "DNU-070",
    title="No solvents on suits",
    stage=_STAGE,
    sources=("common-practice",),
    floor=True,
)
def solvents(facts: Facts, limits: Limits) -> Decision:
    """Solvents swell suits, carry the product inward and burn."""
    return when(
        facts["contact_condensed"], DoNotUse("solvent", "carries the product into the suit")
    )


@rule("DNU-080", title="No hard blast", stage=_STAGE, sources=("tccc-burns",), floor=True)
def blast(facts: Facts, limits: Limits) -> Decision:
    """A hard stream throws product into the air and into seams."""
    return when(facts["contact_condensed"], DoNotUse("blast", "drives product into seams and air"))


@rule(
    "DNU-090",
    title="No brushing of toxic powders",
    stage=_STAGE,
    sources=("osha-1910-1001", "niosh-fentanyl"),
    floor=True,
)
def brushing(facts: Facts, limits: Limits) -> Decision:
    """Dry brushing puts dust where people breathe, and scatters mercury."""
    return when(
        any_of(all_of(facts["form_solid"], facts["toxic_particulate"]), facts["mercury_metal"]),
        DoNotUse("brush", "puts it in the air", "until it is known: dust in the air"),
    )


@rule(
    "DNU-091",
    title="No ordinary vacuum",
    stage=_STAGE,
    sources=("osha-1910-1001", "common-practice"),
    floor=True,
)
def ordinary_vacuum(facts: Facts, limits: Limits) -> Decision:
    """Fine dust and mercury vapor pass through an ordinary vacuum and out of its exhaust."""
    return when(
        any_of(all_of(facts["form_solid"], facts["toxic_particulate"]), facts["mercury_metal"]),
        DoNotUse("vacuum", "blows it out again", "until it is known: blows it out again"),
    )


@rule(
    "DNU-100",
    title="No sealed containers of what makes gas",
    stage=_STAGE,
    sources=("common-practice",),
    floor=True,
)
def sealing(facts: Facts, limits: Limits) -> Decision:
    """A tight bag or drum of it bursts."""
    return when(
        facts["gas_when_sealed"],
        DoNotUse("seal", "makes gas: vent the container", "if it makes gas: vent the container"),
    )


@rule(
    "DNU-110",
    title="No neutralizer on people",
    stage=_STAGE,
    sources=("common-practice",),
    floor=True,
)
def neutralizer(facts: Facts, limits: Limits) -> Decision:
    """Neutralizing makes heat, and needs an amount nobody knows on the line."""
    return when(
        any_of(facts["acid"], facts["alkali"]),
        DoNotUse(
            "neutralizer-on-people",
            "makes heat",
            "if it is corrosive: heat",
        ),
    )


RULES = (
    bleach_on_acid,
    bleach_on_amine,
    bleach_on_cyanide,
    bleach_on_organics,
    bleach_on_vesicant,
    acid_on_cyanide,
    acid_on_sulfide,
    acid_on_hypochlorite,
    acid_on_gas_maker,
    water_first,
    little_water,
    organic_sorbent,
    opioid_skin,
    copper_sulfate,
    solvents,
    blast,
    brushing,
    ordinary_vacuum,
    sealing,
    neutralizer,
)
