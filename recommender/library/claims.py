"""Yes/no facts that the store's structure and values settle, and why; the rest stays unknown.

A structure can show that a group is there, and that what a danger needs is not: no nitrogen, no
isocyanate. It cannot show that a substance is mild. So a no is given only where the fact is a
matter of structure or where a listed value settles it, and never from silence of a list.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping

from recommender.chemicals.table import fact_dictionary
from recommender.facts import Claim, Provenance, Truth, Word, unknown_claim
from recommender.library.features import Feature
from recommender.library.known import Known

F = Feature
BY_STRUCTURE, BY_VALUE, BY_FORM = "structure", "value", "form"
# A liquid that boils below this is thin: of the liquids with a tabulated viscosity none that
# boils below 180 C is above 100 cP at 20 C (cyclohexanol comes nearest, 57 cP).
THIN_BOILING_C = 180.0
THICK_CP = 100.0
# 49 CFR 173.120: a liquid is flammable up to this flash point.
FLAMMABLE_FLASH_C = 60.0
# The lightest opioids weigh more (g/mol).
LIGHTEST_OPIOID = 200.0
# Above this a product is not met as a gas, nor does a closed drum of it swell.
NO_GAS_BOILING_C = 60.0
# Above this a liquid's vapor displaces no air to speak of.
NO_ASPHYXIANT_BOILING_C = 100.0
# A gas with a limit at or under this poisons long before it displaces air.
POISON_PPM = 100.0
AIR_MOLAR_MASS = 28.97
# Share by which saturated air is heavier than clean air, from which it runs to low places.
RUNS = 0.05
ATMOSPHERE_PA = 101325.0
IARC_ONE = NTP_KNOWN = 1.0
LARGEST_SMALL_MOLECULE = 1000.0
_COUNTED = re.compile(r"([A-Z][a-z]?)(\d*)")
_HALOCARBON = frozenset({"C", "H", "F", "Cl", "Br", "I"})
_BIPHENYL = re.compile(r"C12H\d*(?:Cl|Br)\d*$")
# What hides among plain elements: groups that react with water, air or themselves.
_REACTIVE = (
    F.WATER_SENSITIVE
    | F.MAKES_ACID
    | F.PEROXIDE
    | F.HALOGEN_ON_HETEROATOM
    | F.ENERGETIC_NITROGEN
    | F.STRAINED_RING
)
_OXIDIZING = F.PEROXIDE | F.HALOGEN_ON_HETEROATOM | F.NITRO_OR_NITRATE | F.ENERGETIC_NITROGEN
_GUMMING = F.UNSATURATED | F.ALKYNE | F.STRAINED_RING | F.ALDEHYDE | F.WATER_SENSITIVE | F.PEROXIDE


Answer = tuple[Truth, str, str]
Settle = Callable[[Known], Answer | None]


def _yes(why: str, how: str = BY_STRUCTURE) -> Answer:
    return Truth.YES, why, how


def _no(why: str, how: str = BY_STRUCTURE) -> Answer:
    return Truth.NO, why, how


def _plain_without(*some: Feature, why: str) -> Settle:
    """No, for a plain organic molecule that lacks these groups."""
    wrong = Feature(0)
    for one in some:
        wrong |= one

    def settle(known: Known) -> Answer | None:
        return _no(why) if known.is_plain and not known.has(wrong) else None

    return settle


def _lacking(some: Feature, why: str) -> Settle:
    """No, for any structure that was read and lacks these."""
    return lambda known: _no(why) if known.lacks(some) else None


def _keep_wet(known: Known) -> Answer | None:
    is_phosphorus = known.has(F.ELEMENT) and known.has(F.PHOSPHORUS)
    return (
        _no("not elemental phosphorus") if known.lacks(Feature(0)) and not is_phosphorus else None
    )


def _mercury(known: Known) -> Answer | None:
    if known.elements == {"Hg"}:
        return _yes("elemental mercury")
    return _no("not elemental mercury") if known.formula else None


def _not_a_dust(known: Known) -> Answer | None:
    if known.form in ("liquid", "gas"):
        return _no(f"a {known.form} at room temperature, not a dust", BY_FORM)
    return None


def _not_a_gas(known: Known) -> Answer | None:
    """A liquid that boils on a warm day is met as a gas too."""
    boiling = known.ends("boiling_point")
    if known.form in ("liquid", "solid") and boiling is not None and boiling[0] > NO_GAS_BOILING_C:
        return _no(f"boils at {boiling[0]:.0f} C, not a gas", BY_VALUE)
    return None


def _takes_up_water(known: Known) -> Answer | None:
    if known.is_plain and known.elements <= _HALOCARBON and known.lacks(_REACTIVE):
        return _no("a hydrocarbon or halocarbon holds no water")
    return None


def _thick(known: Known) -> Answer | None:
    found = known.ends("viscosity")
    if found is not None:
        if found[1] <= THICK_CP:
            return _no(f"{found[1]:.3g} cP", BY_VALUE)
        return _yes(f"{found[0]:.3g} cP", BY_VALUE) if found[0] > THICK_CP else None
    boiling = known.ends("boiling_point")
    if known.form == "liquid" and boiling is not None and boiling[1] <= THIN_BOILING_C:
        return _no(f"a liquid that boils at {boiling[1]:.0f} C is thin", BY_VALUE)
    return None


def _skin_notation(known: Known) -> Answer | None:
    listed = known.lead("skin_listed")
    if listed is not None and listed.value:
        return _yes("skin notation beside its exposure limit", BY_VALUE)
    # Silence settles nothing: of 89 substances with a skin notation in a federal list, this
    # list leaves 9 without one.
    return None


def _carcinogen(known: Known) -> Answer | None:
    group, listing = known.lead("iarc_group"), known.lead("ntp_listing")
    if group is not None and group.value == IARC_ONE:
        return _yes("IARC group 1", BY_VALUE)
    if listing is not None and listing.value == NTP_KNOWN:
        return _yes("NTP: known", BY_VALUE)
    # The package's list is some years old: acrylonitrile has moved to group 1 since.
    return None


def _pcb(known: Known) -> Answer | None:
    if known.has(F.HALOGENATED_BIARYL) and _BIPHENYL.fullmatch(known.formula):
        return _yes("a halogenated biphenyl")
    return _no("no halogen on an aromatic ring") if known.lacks(F.HALOGENATED_AROMATIC) else None


def _fluoride(known: Known) -> Answer | None:
    if known.has(F.FREE_FLUORIDE) and not known.has(F.ISOTOPE):
        return _yes("holds fluoride")
    return _no("no fluorine") if known.lacks(F.FLUORINE) else None


def _hydrolyzes(known: Known) -> Answer | None:
    if known.has(F.MAKES_ACID) and known.lacks(F.FLUORINE | F.ION):
        return _yes("an acid halide, anhydride or halide of a nonmetal")
    free = known.lacks(F.CHLORINE | F.HEAVY_HALOGEN | F.MAKES_ACID | F.WATER_SENSITIVE)
    if known.is_plain and free and not known.has(F.FREE_FLUORIDE):
        return _no("no group that makes a strong acid with water")
    return None


def _amine(known: Known) -> Answer | None:
    if known.has(F.AMINE):
        return _yes("an amine, ammonium or hydrazine nitrogen")
    return _no("no such nitrogen") if known.lacks(F.OTHER_NITROGEN) else None


def _cyanide(known: Known) -> Answer | None:
    if known.has(F.CYANIDE_SOURCE):
        return _yes("a cyanide, cyanohydrin or cyanogen halide")
    return _no("no cyano group") if known.lacks(F.NITRILE) else None


def _sulfide(known: Known) -> Answer | None:
    if known.has(F.FREE_SULFIDE):
        return _yes("holds sulfide")
    return _no("no sulfur") if known.lacks(F.SULFUR) else None


def _organic(known: Known) -> Answer | None:
    counts = {e: int(n or 1) for e, n in _COUNTED.findall(known.formula)}
    halogens = sum(counts.get(e, 0) for e in ("F", "Cl", "Br", "I"))
    # As much halogen as hydrogen and it may not burn: nobody can tell from the structure.
    if known.has(F.CARBON_HYDROGEN) and known.lacks(F.SALT | F.ION | F.METAL):
        return _yes("carbon with hydrogen: combustible") if counts.get("H", 0) > halogens else None
    return None


def _opioid(known: Known) -> Answer | None:
    if known.molar_mass < LIGHTEST_OPIOID:
        return _no(f"{known.molar_mass:.0f} g/mol is too light")
    return _no("no nitrogen") if known.lacks(F.OTHER_NITROGEN | F.AMINE) else None


def _isocyanate(known: Known) -> Answer | None:
    if known.has(F.ISOCYANATE):
        return _yes("an isocyanate group")
    return _no("no isocyanate group") if known.lacks(F.ISOCYANATE) else None


def _sensitizer(known: Known) -> Answer | None:
    return _yes("isocyanates sensitize") if known.has(F.ISOCYANATE) else None


def _gas_when_sealed(known: Known) -> Answer | None:
    if known.has(F.ISOCYANATE):
        return _yes("an isocyanate makes carbon dioxide with water")
    wrong = _GUMMING | _REACTIVE | F.ACID_GROUP | F.NITRO_OR_NITRATE | F.CYANIDE_SOURCE
    boiling = known.ends("boiling_point")
    boils_hot = boiling is not None and boiling[0] > NO_GAS_BOILING_C
    if known.is_plain and boils_hot and not known.has(wrong):
        return _no("no group that makes gas")
    return None


def _flammable(known: Known) -> Answer | None:
    lower, flash = known.ends("lower_flammable_limit"), known.ends("flash_point")
    if known.form == "gas":
        return _yes("flammable limits are tabulated", BY_VALUE) if lower else None
    if flash is None or known.form != "liquid":
        return None
    if flash[1] <= FLAMMABLE_FLASH_C:
        return _yes(f"flash point {flash[1]:.0f} C", BY_VALUE)
    return _no(f"flash point {flash[0]:.0f} C", BY_VALUE) if flash[0] > FLAMMABLE_FLASH_C else None


def _salt(known: Known) -> Answer | None:
    if known.has(F.IONIC_SALT) and not known.has(F.HYDROXIDE_OR_OXIDE):
        return _yes("cation and anion")
    wrong = F.SALT | F.ION | F.METAL | F.SEVERAL_PARTS
    return _no("one molecule without charge") if known.lacks(wrong) else None


def _radioactive(known: Known) -> Answer | None:
    if known.has(F.RADIOACTIVE_ELEMENT):
        return _yes("an element without a stable isotope")
    wrong = F.ISOTOPE | F.RADIOACTIVE_ELEMENT
    return _no("common isotopes of stable elements") if known.lacks(wrong) else None


def _biological(known: Known) -> Answer | None:
    small = known.molar_mass < LARGEST_SMALL_MOLECULE
    return _no("a single small substance") if small and known.lacks(Feature(0)) else None


def _asphyxiant(known: Known) -> Answer | None:
    if known.form == "gas":
        limit = known.lead("twa_ppm") or known.lead("ceiling_ppm")
        poison = limit is not None and limit.value <= POISON_PPM
        return None if poison else _yes("a gas displaces air", BY_FORM)
    boiling = known.ends("boiling_point")
    if known.form == "liquid" and boiling and boiling[0] > NO_ASPHYXIANT_BOILING_C:
        return _no(f"a liquid that boils at {boiling[0]:.0f} C", BY_VALUE)
    return _no("a solid", BY_FORM) if known.form == "solid" else None


def _heavier(known: Known) -> Answer | None:
    """Yes only: a light gas let out cold runs low too, as ammonia and methane do."""
    excess = known.molar_mass / AIR_MOLAR_MASS - 1.0
    if excess <= RUNS:
        return None
    if known.form == "gas":
        return _yes(f"{known.molar_mass:.0f} g/mol against 29 for air", BY_VALUE)
    points = [v for v in known.values.get("vapor_pressure", ()) if v.counts]
    room = next((v for v in points if v.temperature_c == 20.0), None)
    if room is None:
        return None
    low = (room.value if room.low is None else room.low) / ATMOSPHERE_PA * excess
    return _yes("heavy vapor and much of it", BY_VALUE) if low >= RUNS else None


def _oxidizing_powder(known: Known) -> Answer | None:
    if known.is_plain and not known.has(_OXIDIZING):
        return _no("no oxidizing group")
    return _not_a_dust(known)


_QUIET = "no group known to do so"
SETTLED: Mapping[str, Settle] = {
    "keep_wet": _keep_wet,
    "pyrophoric": _plain_without(_REACTIVE, F.ALKYNE, why=_QUIET),
    "reacts_violently_with_water": _plain_without(_REACTIVE, F.ACID_GROUP, why=_QUIET),
    "heats_with_water": _plain_without(_REACTIVE, F.ACID_GROUP, F.AMINE, why=_QUIET),
    "brush_before_water": _plain_without(why="no lime or alkali"),
    "oxidizing_powder": _oxidizing_powder,
    "mercury_metal": _mercury,
    "toxic_particulate": _not_a_dust,
    "fumes": _plain_without(_REACTIVE, F.ACID_GROUP, F.AMINE, why=_QUIET),
    "irritant_soluble_gas": _not_a_gas,
    "oxygen_enriching": _plain_without(_OXIDIZING, why="no oxidizing group"),
    "takes_up_water": _takes_up_water,
    "polymerizes": _plain_without(_GUMMING, why="no group that polymerizes"),
    "thick_or_tarry": _thick,
    "skin_notation": _skin_notation,
    "vesicant": _lacking(F.BLISTER_GROUP | F.METAL, "no mustard, arsine or oxime group"),
    "nerve_agent": _lacking(F.PHOSPHORUS, "no phosphorus"),
    "cholinesterase_inhibitor": _lacking(
        F.PHOSPHORUS | F.CARBAMATE, "no organophosphate or carbamate"
    ),
    "pcb_or_dioxin": _pcb,
    "hydrofluoric_type": _fluoride,
    "calcium_line": _fluoride,
    "known_human_carcinogen": _carcinogen,
    "skin_sensitizer": _sensitizer,
    "acid": _plain_without(_REACTIVE, F.ACID_GROUP, why="no acid group"),
    "alkali": _plain_without(_REACTIVE, F.AMINE, F.OTHER_NITROGEN, why="no basic nitrogen"),
    "hydrolyzes_to_acid": _hydrolyzes,
    "ammonia_or_amine": _amine,
    "cyanide": _cyanide,
    "sulfide": _sulfide,
    "hypochlorite": _lacking(
        F.HALOGEN_ON_HETEROATOM | F.ELEMENT, "no halogen on oxygen or nitrogen"
    ),
    "strong_oxidizer": _plain_without(_OXIDIZING, why="no oxidizing group"),
    "ignites_organic_sorbents": _plain_without(_REACTIVE, _OXIDIZING, why="no oxidizing group"),
    "organic_liquid": _organic,
    "opioid": _opioid,
    "isocyanate": _isocyanate,
    "gas_when_sealed": _gas_when_sealed,
    "flammable": _flammable,
    "salt": _salt,
    "radioactive": _radioactive,
    "biological": _biological,
    "asphyxiant": _asphyxiant,
    "heavier_vapor": _heavier,
}
_ORIGIN = {
    BY_STRUCTURE: ("derived", "identity", "judgement", "by its structure: "),
    BY_FORM: ("derived", "chemicals-lib", "library", ""),
    BY_VALUE: ("classified", "chemicals-lib", "library", ""),
}


def library_claims(known: Known) -> Mapping[str, Claim]:
    """Return every claim of the dictionary of facts: settled where it can be, else unknown."""
    claims = {}
    for name, definition in fact_dictionary().items():
        if definition.kind != "claim":
            continue
        settle = SETTLED.get(name)
        answer = None if settle is None else settle(known)
        if answer is None:
            claims[name] = unknown_claim(name)
            continue
        truth, why, how = answer
        basis, source, provenance, lead = _ORIGIN[how]
        claims[name] = Claim(name, truth, Provenance(basis, source, provenance, lead + why))
    return claims


def no_words() -> Mapping[str, Word]:
    """Return the word facts, none of which a library can settle."""
    nothing = Provenance("unknown", "unknown")
    return {
        name: Word(name, "", nothing)
        for name, definition in fact_dictionary().items()
        if definition.kind == "word"
    }
