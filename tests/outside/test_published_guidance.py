"""First step, gross decon and do-not-use list against published guidance.

Each case names its publication. Guidance for skin is used only for what carries over to a suit:
which kind of removal comes first, and what must be kept off.
"""

from __future__ import annotations

from dataclasses import dataclass

import pytest

from recommender import Plan, Scene, recommend
from recommender.chemicals.table import Chemical, load_chemicals
from recommender.effects import Emphasis, Method
from recommender.recommend import do_not_use_words

NPG = "NIOSH Pocket Guide, copy of 2018-19"
NPG_SKIN = f"{NPG}, first aid for skin"
NPG_INCOMPATIBLE = f"{NPG}, incompatibilities and reactivities"
ADR = "ADR 2025, chapter 3.2 Table A, hazard identification number with X"
KING = "King and Henretig, skin decontamination table (as reprinted in clinical references)"
TCCC = "Tactical combat casualty care, chemical burns"
FM_8_285 = "FM 8-285, Treatment of Chemical Agent Casualties: white phosphorus"
TM_9 = "TM 9-1300-275/2, decontaminants for chemical agents on equipment"
NIOSH_DRUGS = "NIOSH, illicit drug (fentanyl) decontamination"
ASBESTOS = "29 CFR 1910.1001(k): HEPA vacuum or wet methods, dry sweeping as the last resort"
SPORES = (
    "New York State Department of Health, decontamination after suspected anthrax powder: soap and "
    "water; CDC on suspicious powder (from memory): do not shake or brush it off"
)
RADIATION = (
    "US Department of Health and Human Services on radiological contamination (as quoted): survey, "
    "wash gently, do not abrade; dust is kept from spreading"
)
MERCURY = "EPA and ATSDR, Mercury Quick Facts: never a vacuum cleaner or broom"
CYANIDE = "40 CFR 261.23(a)(5): cyanide or sulfide giving toxic gas between pH 2 and 12.5"
FAO = "FAO Pesticide storage and stock control manual (v8966e): detergent wash, several rinses"
WISER = "ATSDR medical management guideline as kept in WISER: gas-only exposure needs no decon"
CM2506 = "US Army course CM2506, Chemical decontamination: vapor alone is aired, not washed"
MEDICAL = (
    "Medical Management of Chemical Casualties: after vapor alone no decon is generally needed"
)
BLEACH = "Washington State Department of Health (as quoted): bleach with ammonia or acid makes gas"
DATA_SHEET = "Sodium cyanide safety data sheet: acids set hydrogen cyanide free; keep oxidizers off"
PPE_MANUAL = "Decontamination manual for equipment: solvents degrade protective equipment, burn"
DOE = "DOE-EM-STD-5503-94, Appendix F: wash and rinse of the suit with detergent and water"


@dataclass(frozen=True)
class Guidance:
    """What one publication asks for one product.

    Attributes:
        first: first steps that fulfill it.
        then: a word that what follows the first step must hold.
        how: words that the first step must hold.
        gross: required emphasis of gross decon before the first step.
        after: a word that the rinse after a dry first step must hold.
        avoid: agents that must stand in the do-not-use list.
        solution: id of the wash solution (soap or detergent and water is ``detergent``).
    """

    name: str
    cas: str
    source: str
    first: tuple[Method, ...] = ()
    then: str = ""
    how: str = ""
    gross: Emphasis | None = None
    after: str = ""
    avoid: tuple[str, ...] = ()
    solution: str = ""
    contact: str = "splash"


WET, DRY, AIR, WIPE = (Method.WET,), (Method.DRY,), (Method.AIR,), (Method.WIPE,)
HOLD, KEEP_WET = (Method.HOLD,), (Method.KEEP_WET,)
NONE, HEAVY = Emphasis.NONE, Emphasis.HEAVY
NO_WATER_YET = ("water-first", "little-water")

GUIDANCE = (
    # Water-reactive solids: dry removal first.
    Guidance(
        "lithium hydride",
        "7580-67-8",
        f"{NPG_SKIN}: brush, do not wash",
        DRY,
        how="brush",
        then="dry",
        gross=NONE,
        avoid=NO_WATER_YET,
    ),
    Guidance(
        "phosphorus pentasulfide",
        "1314-80-3",
        f"{NPG_SKIN}: dust off solid, then water flush",
        DRY,
        how="dust",
        then="flood",
        gross=NONE,
        after="flood",
        avoid=NO_WATER_YET,
    ),
    Guidance("phosphorus pentasulfide", "1314-80-3", CYANIDE, avoid=("acid",)),
    Guidance("sodium", "7440-23-5", f"{KING}: metals taken off dry", DRY, avoid=NO_WATER_YET),
    Guidance("potassium", "7440-09-7", f"{KING}: metals taken off dry", DRY, avoid=NO_WATER_YET),
    Guidance("lithium", "7439-93-2", f"{KING}: metals taken off dry", DRY, avoid=NO_WATER_YET),
    Guidance(
        "quicklime",
        "1305-78-8",
        f"{KING}: lime is brushed off before water",
        DRY,
        how="brush",
        then="flood",
        gross=NONE,
        after="heavy",
        avoid=("little-water",),
    ),
    Guidance(
        "dry cement",
        "65997-15-1",
        f"{KING}: cement powder is brushed off before water",
        DRY,
        how="brush",
        then="flood",
        gross=NONE,
    ),
    Guidance(
        "aluminum chloride",
        "7446-70-0",
        f"{TCCC}: dry reactive chemical is brushed off, then flooded; no small amounts of water",
        DRY,
        then="flood",
        gross=NONE,
        avoid=("little-water", "blast"),
    ),
    Guidance(
        "phosphorus pentoxide",
        "1314-56-3",
        f"{TCCC}: dry reactive chemical is brushed off, then flooded; no small amounts of water",
        DRY,
        then="flood",
        gross=NONE,
        avoid=("little-water", "blast"),
    ),
    # Water-reactive liquids.
    Guidance(
        "titanium tetrachloride",
        "7550-45-0",
        f"{KING}: liquid is taken up dry first, then a large volume of water; {ADR} (X668)",
        DRY,
        then="flood",
        gross=NONE,
        avoid=NO_WATER_YET,
    ),
    Guidance(
        "triethylaluminum",
        "97-93-8",
        f"{ADR} (X333): spontaneously flammable liquid, reacts dangerously with water",
        (Method.DRY, Method.HOLD),
        gross=NONE,
        avoid=("water-first",),
    ),
    # White phosphorus.
    Guidance(
        "white phosphorus",
        "7723-14-0",
        f"{FM_8_285}: kept wet; copper sulfate is toxic and not used",
        KEEP_WET,
        then="wet",
        avoid=("copper-sulfate",),
    ),
    # Heat and cold.
    Guidance(
        "roofing tar",
        "8052-42-4",
        f"{KING}: hot tar is cooled with water and not peeled off",
        HOLD,
        how="peel",
        gross=NONE,
    ),
    Guidance(
        "molten sulfur",
        "7704-34-9",
        f"{KING}: molten product is cooled with water and not peeled off",
        HOLD,
        how="cool",
        gross=NONE,
    ),
    # Dusts.
    Guidance("asbestos", "1332-21-4", ASBESTOS, WIPE, how="HEPA", gross=NONE, avoid=("brush",)),
    Guidance(
        "fentanyl",
        "437-38-7",
        f"{NIOSH_DRUGS}: do not disturb; soap and water; no alcohol or bleach on skin",
        WIPE,
        how="disturb",
        then="wash",
        avoid=("alcohol-or-bleach-on-skin", "brush", "hypochlorite"),
        solution="detergent",
    ),
    Guidance(
        "carfentanil",
        "59708-52-0",
        f"{NIOSH_DRUGS}: do not disturb; soap and water; no alcohol or bleach on skin",
        WIPE,
        how="disturb",
        then="wash",
        avoid=("alcohol-or-bleach-on-skin", "brush", "hypochlorite"),
        solution="detergent",
    ),
    Guidance("anthrax", "", SPORES, WIPE, then="wet", avoid=("brush",)),
    Guidance("radioactive dust", "", RADIATION, WIPE, how="survey", avoid=("brush", "blast")),
    Guidance("mercury", "7439-97-6", MERCURY, WIPE, how="vacuum", avoid=("brush",)),
    # Acids on cyanides, sulfides and azides; bleach where it makes gas.
    Guidance("sodium cyanide", "143-33-9", CYANIDE, avoid=("acid",)),
    Guidance("sodium cyanide", "143-33-9", DATA_SHEET, avoid=("acid", "hypochlorite")),
    Guidance("potassium cyanide", "151-50-8", CYANIDE, avoid=("acid", "hypochlorite")),
    Guidance(
        "sodium cyanide solution, 30 %", "143-33-9", CYANIDE, WET, avoid=("acid", "hypochlorite")
    ),
    Guidance("sodium sulfide", "1313-82-2", CYANIDE, avoid=("acid",)),
    Guidance(
        "sodium azide",
        "26628-22-8",
        f"{NPG_INCOMPATIBLE}: acids (hydrazoic acid comes off)",
        avoid=("acid",),
    ),
    Guidance("ammonia solution", "1336-21-6", BLEACH, WET, avoid=("hypochlorite",)),
    Guidance("anhydrous ammonia", "7664-41-7", BLEACH, avoid=("hypochlorite",)),
    Guidance("ethanolamine", "141-43-5", BLEACH, avoid=("hypochlorite",)),
    Guidance("bleach", "7681-52-9", BLEACH, WET, avoid=("acid",)),
    Guidance("calcium hypochlorite", "7778-54-3", BLEACH, avoid=("acid",)),
    Guidance(
        "phenol", "108-95-2", f"{NPG_INCOMPATIBLE}: calcium hypochlorite", avoid=("hypochlorite",)
    ),
    Guidance(
        "methyl mercaptan", "74-93-1", f"{NPG_INCOMPATIBLE}: bleaches", avoid=("hypochlorite",)
    ),
    # Combustible sorbent.
    Guidance(
        "bromine",
        "7726-95-6",
        f"{NPG_INCOMPATIBLE}: combustible organics (sawdust, wood, cotton, straw)",
        WET,
        avoid=("organic-sorbent",),
    ),
    Guidance(
        "hydrazine",
        "302-01-2",
        f"{NPG_INCOMPATIBLE}: can ignite on porous materials such as earth, wood and cloth",
        WET,
        avoid=("organic-sorbent",),
    ),
    Guidance(
        "fuming nitric acid",
        "7697-37-2",
        f"{NPG_INCOMPATIBLE}: combustible materials; {TCCC}: long flush; {BLEACH}",
        WET,
        gross=HEAVY,
        avoid=("organic-sorbent", "hypochlorite"),
    ),
    Guidance(
        "hydrogen peroxide 50 %",
        "7722-84-1",
        f"{NPG_INCOMPATIBLE}: oxidizable materials",
        WET,
        avoid=("organic-sorbent",),
    ),
    Guidance(
        "methyl ethyl ketone peroxide",
        "1338-23-4",
        f"{NPG_INCOMPATIBLE}: organic materials",
        avoid=("organic-sorbent",),
    ),
    Guidance(
        "chlorine dioxide",
        "10049-04-4",
        f"{NPG_INCOMPATIBLE}: organic materials",
        avoid=("organic-sorbent",),
    ),
    # Corrosives: volume and time.
    Guidance("sulfuric acid", "7664-93-9", f"{TCCC}: long flush", gross=HEAVY),
    Guidance(
        "hydrochloric acid",
        "7647-01-0",
        f"{TCCC}; {BLEACH}",
        WET,
        gross=HEAVY,
        avoid=("hypochlorite",),
    ),
    Guidance("caustic soda", "1310-73-2", f"{TCCC}: alkali is flushed longer", WET, gross=HEAVY),
    Guidance(
        "potassium hydroxide", "1310-58-3", f"{TCCC}: alkali is flushed longer", WET, gross=HEAVY
    ),
    Guidance("hydrofluoric acid", "7664-39-3", f"{KING}: long water rinse", WET, gross=HEAVY),
    # Pesticides and agents.
    Guidance(
        "parathion",
        "56-38-2",
        f"{FAO}; {NPG_SKIN}: soap wash immediately",
        WET,
        solution="detergent",
    ),
    Guidance("TEPP", "107-49-3", f"{FAO}; {NPG_SKIN}: water flush immediately", WET),
    Guidance(
        "malathion", "121-75-5", f"{FAO}; {NPG_SKIN}: soap wash promptly", WET, solution="detergent"
    ),
    Guidance(
        "carbaryl",
        "63-25-2",
        f"{FAO}; {NPG_SKIN}: soap wash promptly",
        then="wet",
        solution="detergent",
    ),
    Guidance(
        "sulfur mustard",
        "505-60-2",
        f"{TM_9}: bleaching powder or HTH on liquid mustard ignites",
        WET,
        avoid=("hypochlorite",),
    ),
    Guidance(
        "sarin",
        "107-44-8",
        f"{TM_9}: dry bleach on G agents gives off toxic vapor",
        WET,
        avoid=("hypochlorite",),
    ),
    Guidance(
        "tabun",
        "77-81-6",
        f"{TM_9}: dry bleach on G agents gives off toxic vapor",
        WET,
        avoid=("hypochlorite",),
    ),
    # Gas alone.
    Guidance("chlorine", "7782-50-5", WISER, AIR, gross=NONE, contact="vapor"),
    Guidance("phosgene", "75-44-5", WISER, AIR, gross=NONE, contact="vapor"),
    Guidance(
        "carbon monoxide", "630-08-0", f"{CM2506}; {MEDICAL}", AIR, gross=NONE, contact="vapor"
    ),
    Guidance("hydrogen sulfide", "7783-06-4", CM2506, AIR, gross=NONE, contact="vapor"),
    Guidance("methane", "74-82-8", CM2506, AIR, gross=NONE, contact="vapor"),
    # Everyday solvents.
    Guidance(
        "acetone", "67-64-1", f"{DOE}; {PPE_MANUAL}", WET, avoid=("solvent",), solution="detergent"
    ),
    Guidance(
        "toluene", "108-88-3", f"{DOE}; {PPE_MANUAL}", WET, avoid=("solvent",), solution="detergent"
    ),
)


def plan_for(case: Guidance) -> Plan:
    plan = recommend(case.name, Scene(contact=case.contact))
    assert plan.chemical.cas == case.cas, f"{case.name!r} led to {plan.chemical.key}"
    return plan


def avoided(plan: Plan) -> set[str]:
    return {entry.agent for entry in plan.outcomes.do_not_use}


def shortfalls(case: Guidance, plan: Plan) -> list[str]:
    """Every way in which a plan departs from one publication."""
    method, gross = plan.outcomes.method, plan.outcomes.gross
    found = []
    if case.first and method.first not in case.first:
        wanted = " or ".join(m.value for m in case.first)
        found.append(f"first step: expected {wanted}, got {method.first.value}")
    if case.how and case.how.lower() not in method.how.lower():
        found.append(f"how: expected the words {case.how!r}, got {method.how!r}")
    follows = method.then or method.first.value
    if case.then and case.then not in follows:
        found.append(f"then: expected the word {case.then!r}, got {follows!r}")
    if case.gross is not None and gross.emphasis is not case.gross:
        found.append(f"gross: expected {case.gross.words}, got {gross.emphasis.words}")
    if case.after and case.after not in gross.after:
        found.append(f"rinse after: expected the word {case.after!r}, got {gross.after!r}")
    if case.solution and plan.solution.id != case.solution:
        found.append(f"solution: expected {case.solution}, got {plan.solution.id}")
    found += [f"do not use: {a!r} is missing" for a in case.avoid if a not in avoided(plan)]
    return found


def test_enough_chemicals_are_compared() -> None:
    assert len({case.name for case in GUIDANCE}) >= 25
    assert all(case.source for case in GUIDANCE)
    known = set(do_not_use_words())
    assert {agent for case in GUIDANCE for agent in case.avoid} <= known


@pytest.mark.parametrize("case", GUIDANCE, ids=[f"{i}-{c.name}" for i, c in enumerate(GUIDANCE)])
def test_the_plan_follows_the_publication(case: Guidance) -> None:
    found = shortfalls(case, plan_for(case))
    assert not found, f"{case.name} ({case.contact}): {'; '.join(found)}. Source: {case.source}"


# --- Sweeps over every curated row -------------------------------------------------------------

# UN numbers whose hazard identification number bears an X in ADR 2025: reacts dangerously with
# water, which may be used only with the approval of experts.
X_NUMBERS = {
    **dict.fromkeys(("1162", "1183", "1196", "1242", "1250", "1295", "1298", "1305"), "X338"),
    **dict.fromkeys(("1717", "2985", "2988"), "X338"),
    **dict.fromkeys(("1389", "1391", "1392", "1420", "1421", "1422", "1928", "3482"), "X323"),
    **dict.fromkeys(("1402", "1407", "1415", "1423", "1428", "2257", "2813", "3395"), "X423"),
    **dict.fromkeys(("3396", "3397", "3401", "3402", "3403", "3404"), "X423"),
    **dict.fromkeys(("1754", "1758", "1828", "1829", "1836", "2444", "2692"), "X88"),
    **dict.fromkeys(("1810", "1834", "1838"), "X668"),
    **dict.fromkeys(("1831", "2879"), "X886"),
    **dict.fromkeys(("2870", "3394"), "X333"),
    "1724": "X839",
    **dict.fromkeys(("1728", "1753", "1762", "1763", "2434", "2435", "2437"), "X80"),
    **dict.fromkeys(("1730", "1808", "1817", "1818", "1827", "1837", "2308", "2442"), "X80"),
    **dict.fromkeys(("1765", "1766", "1769", "1771", "1781", "1784", "1799", "1804"), "X80"),
    **dict.fromkeys(("1800", "1801", "2513", "2987", "3456"), "X80"),
    **dict.fromkeys(("1747", "1767", "1816", "2986"), "X83"),
    **dict.fromkeys(("3129", "3130", "3131", "3148", "3393", "3398", "3399"), "X"),
}
# Rows with an X number that may start wet, by key, each with its reason. None is known.
X_EXCEPTIONS: dict[str, str] = {}
LIQUID_OR_SOLID = ("liquid", "solution", "solid", "powder", "molten")


def rows() -> tuple[Chemical, ...]:
    return tuple(load_chemicals().values())


def x_number(chemical: Chemical) -> str:
    return next((f"UN {un} {X_NUMBERS[un]}" for un in chemical.un if un in X_NUMBERS), "")


def test_no_row_with_an_x_number_starts_wet() -> None:
    held = [c for c in rows() if c.form in LIQUID_OR_SOLID and x_number(c)]
    assert len(held) >= 10, "the sweep has lost its rows"
    wrong = []
    for chemical in held:
        if chemical.key in X_EXCEPTIONS:
            continue
        for contact in ("splash", "gross"):
            first = recommend(chemical, Scene(contact=contact)).outcomes.method.first
            if first in (Method.WET, Method.AIR, Method.KEEP_WET):
                wrong.append(f"{chemical.key} ({contact}): {x_number(chemical)}, {first.value}")
    assert not wrong, f"{ADR}: expected no water first; got " + "; ".join(wrong)


def test_every_row_with_an_x_number_warns_of_water_first() -> None:
    wrong = [
        f"{c.key} ({x_number(c)})"
        for c in rows()
        if c.form in LIQUID_OR_SOLID and x_number(c) and c.key not in X_EXCEPTIONS
        if "water-first" not in avoided(recommend(c, Scene()))
    ]
    assert not wrong, f"{ADR}: expected water-first in the do-not-use list of " + ", ".join(wrong)


# Liquids and solutions that the Pocket Guide washes at once or promptly, whose incompatibilities
# name no water or moisture, and whose UN entry bears no X: nothing published keeps water off.
WASHED = {
    "acetone": "67-64-1",
    "acrolein": "107-02-8",
    "acrylonitrile": "107-13-1",
    "allyl alcohol": "107-18-6",
    "aniline": "62-53-3",
    "benzene": "71-43-2",
    "carbon disulfide": "75-15-0",
    "carbon tetrachloride": "56-23-5",
    "chlordane": "57-74-9",
    "chloroform": "67-66-3",
    "chloropicrin": "76-06-2",
    "dichloromethane": "75-09-2",
    "diethyl ether": "60-29-7",
    "diethylamine": "109-89-7",
    "dimethylformamide": "68-12-2",
    "ethanol": "64-17-5",
    "ethyl acetate": "141-78-6",
    "ethylene dibromide": "106-93-4",
    "ethylene glycol": "107-21-1",
    "gasoline": "8006-61-9",
    "glacial acetic acid": "64-19-7",
    "hexane": "110-54-3",
    "hydrazine": "302-01-2",
    "hydrogen cyanide": "74-90-8",
    "kerosene": "8008-20-6",
    "malathion": "121-75-5",
    "methanol": "67-56-1",
    "methyl ethyl ketone": "78-93-3",
    "nickel carbonyl": "13463-39-3",
    "nicotine": "54-11-5",
    "nitrobenzene": "98-95-3",
    "parathion": "56-38-2",
    "phosphoric acid": "7664-38-2",
    "tetraethyl lead": "78-00-2",
    "tetrahydrofuran": "109-99-9",
    "toluene": "108-88-3",
    "trichloroethylene": "79-01-6",
    "turpentine": "8006-64-2",
    "vinyl acetate": "108-05-4",
}


@pytest.mark.parametrize("name", WASHED)
def test_what_the_pocket_guide_washes_starts_wet(name: str) -> None:
    plan = plan_for(Guidance(name, WASHED[name], NPG_SKIN))
    first = plan.outcomes.method.first
    assert first is Method.WET, (
        f"{name}: expected wet ({NPG_SKIN}: wash or flush; {NPG_INCOMPATIBLE}: no water); "
        f"got {first.value}"
    )
    assert "water-first" not in avoided(plan), f"{name}: nothing published keeps water off it"


# Gases for whose liquid the Pocket Guide gives frostbite care: frozen skin is neither rubbed nor
# flushed, frozen clothing is not pulled off. A line says so, by holding or in a caution.
FROSTBITE = {
    "acetylene": "74-86-2",
    "arsine": "7784-42-1",
    "butane": "106-97-8",
    "carbon dioxide": "124-38-9",
    "chlorine": "7782-50-5",
    "hydrogen sulfide": "7783-06-4",
    "methyl chloride": "74-87-3",
    "methylamine": "74-89-5",
    "phosphine": "7803-51-2",
    "propane": "74-98-6",
    "sulfur dioxide": "7446-09-5",
    "vinyl chloride": "75-01-4",
}


@pytest.mark.parametrize("name", FROSTBITE)
def test_frost_is_left_to_thaw(name: str) -> None:
    plan = plan_for(Guidance(name, FROSTBITE[name], NPG_SKIN))
    words = " ".join((plan.outcomes.method.how, *(c.text for c in plan.outcomes.cautions)))
    assert "frost" in words.lower() or "thaw" in words.lower(), (
        f"{name} as a liquefied gas: expected a word on frost ({NPG_SKIN}: frostbite; frozen skin "
        f"is not rubbed or flushed); got {plan.outcomes.method.how!r} and no caution"
    )


def test_solvents_and_hard_streams_are_kept_off_every_suit() -> None:
    wrong = [
        chemical.key
        for chemical in rows()
        if not {"solvent", "blast"} <= avoided(recommend(chemical, Scene(contact="gross")))
    ]
    assert not wrong, f"{PPE_MANUAL}; {TCCC}: no blast. Missing for: " + ", ".join(wrong)


def test_no_plan_brushes_what_must_not_fly() -> None:
    """Dust that harms when breathed is wiped or vacuumed; brushing or blowing makes it fly."""
    for name in ("asbestos", "anthrax", "radioactive dust", "fentanyl", "carfentanil"):
        plan = recommend(name, Scene(contact="gross"))
        assert plan.outcomes.method.first is Method.WIPE, (name, ASBESTOS, SPORES, RADIATION)
        assert "brush" in avoided(plan), (name, ASBESTOS, SPORES, RADIATION, NIOSH_DRUGS)


@pytest.mark.parametrize("name", ["hydrofluoric acid", "hydrogen fluoride", "ammonium bifluoride"])
def test_calcium_is_ready_for_fluoride_burns(name: str) -> None:
    plan = recommend(name, Scene())
    assert any("calcium" in c.text.lower() for c in plan.outcomes.cautions), (
        f"{name}: expected the calcium line ({KING}: calcium gel after a long rinse)"
    )
