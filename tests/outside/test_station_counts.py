"""Numbers of whole-suit positions, only where a publication speaks.

No publication found gives a number of positions from properties. What published texts do fix:
none after gas alone, one whole-suit wash and rinse in the federal minimum layouts, two rounds for
PCB surfaces, three for containers of acute waste, and that more hazard or more exposure never
means fewer steps.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from functools import cache
from itertools import pairwise

import pytest

from recommender import Plan, Scene, recommend
from recommender.chemicals.table import (
    Chemical,
    CuratedData,
    PropertyValue,
    load_chemicals,
    load_data,
)
from recommender.effects import Method
from recommender.facts import Truth

CM2506 = "US Army course CM2506, Chemical decontamination: vapor alone is aired, not washed"
MEDICAL = (
    "Medical Management of Chemical Casualties: after vapor alone no decon is generally needed"
)
WISER = "ATSDR medical management guideline as kept in WISER: gas-only exposure needs no decon"
VAPOR = f"{CM2506}; {MEDICAL}"
DOE = "DOE-EM-STD-5503-94, Appendix F, minimum layouts: one whole-suit wash and rinse"
PCB = "40 CFR 761.363: double wash and rinse of surfaces"
TRIPLE = "40 CFR 261.7(b)(3): containers of acute hazardous waste are triple rinsed"
APP_C = (
    "29 CFR 1910.120 Appendix C, item 3: number of steps follows the level of hazard and the "
    "employee's exposure"
)
CONTACTS = ("vapor", "splash", "gross")
SUITS = ("unspecified", "disposable", "reusable", "turnout")
WARM_C = 35.0

Ends = tuple[int, int, int]


def rows() -> tuple[Chemical, ...]:
    return tuple(load_chemicals().values())


def ends(plan: Plan) -> Ends:
    stations = plan.outcomes.stations
    return stations.low, stations.recommended, stations.high


@cache
def plain(key: str, contact: str) -> Ends:
    """Positions for a curated row in an otherwise unstated scene."""
    return ends(recommend(load_chemicals()[key], Scene(contact=contact)))


def named(name: str, cas: str, scene: Scene) -> Plan:
    plan = recommend(name, scene)
    assert plan.chemical.cas == cas, f"{name!r} led to {plan.chemical.key}"
    return plan


def none_of(problems: Iterable[str], source: str) -> None:
    found = list(problems)
    assert not found, f"{len(found)} depart from {source}:\n" + "\n".join(found)


# --- Vapor alone -------------------------------------------------------------------------------

# Named gases with the publication that speaks of them.
AIRED = (
    ("chlorine", "7782-50-5", WISER),
    ("phosgene", "75-44-5", WISER),
    ("carbon monoxide", "630-08-0", VAPOR),
    ("hydrogen sulfide", "7783-06-4", VAPOR),
    ("ammonia", "7664-41-7", VAPOR),
    ("hydrogen chloride", "7647-01-0", VAPOR),
    ("sulfur dioxide", "7446-09-5", VAPOR),
    ("methyl bromide", "74-83-9", VAPOR),
    ("phosphine", "7803-51-2", VAPOR),
    ("arsine", "7784-42-1", VAPOR),
    ("ethylene oxide", "75-21-8", VAPOR),
    ("cyanogen chloride", "506-77-4", VAPOR),
    ("methane", "74-82-8", VAPOR),
)
# Gases that may still condense at the default temperature, by key, each with its reason.
MAY_CONDENSE = {
    "nitrogen-dioxide": "boils at 21 C, above the default air temperature of 20 C",
}


@pytest.mark.parametrize(("name", "cas", "source"), AIRED, ids=[a[0] for a in AIRED])
def test_gas_alone_needs_no_wash(name: str, cas: str, source: str) -> None:
    plan = named(name, cas, Scene(contact="vapor"))
    assert (plan.outcomes.stations.recommended, plan.outcomes.method.first) == (0, Method.AIR), (
        f"{name}, vapor only: expected 0 positions and air ({source}); got {ends(plan)}, "
        f"{plan.outcomes.method.first.value}"
    )


def test_no_curated_gas_is_washed_after_vapor_alone() -> None:
    gases = [c for c in rows() if c.form in ("gas", "cryogenic") and c.key not in MAY_CONDENSE]
    assert len(gases) >= 20, "the sweep has lost its rows"
    counts = {c.key: recommend(c, Scene(contact="vapor")).outcomes.stations for c in gases}
    none_of((f"{k}: {s.recommended}" for k, s in counts.items() if s.recommended), VAPOR)


@pytest.mark.parametrize("key", MAY_CONDENSE)
def test_a_gas_that_may_condense_is_only_aired_in_warm_weather(key: str) -> None:
    scene = Scene(contact="vapor", air_temperature_c=WARM_C)
    plan = recommend(load_chemicals()[key], scene)
    assert plan.outcomes.stations.recommended == 0, (
        f"{key} at {WARM_C:g} C, vapor only: expected 0 ({VAPOR}); got {ends(plan)}"
    )


def test_vapor_alone_never_excludes_that_nothing_is_washed() -> None:
    """Also for vapor that may condense: the low end stays at the published answer, none."""
    problems = []
    for chemical in rows():
        plan = recommend(chemical, Scene(contact="vapor"))
        if plan.scene.contact == "vapor" and plan.outcomes.stations.low:
            problems.append(f"{chemical.key}: {ends(plan)}")
    none_of(problems, VAPOR)


# --- After contact: at least one ---------------------------------------------------------------


def boils_off_on_a_hold(plan: Plan) -> bool:
    """A frosted suit is held until it has thawed; nothing is washed if nothing remains.

    The minimum layouts speak of contaminant on the suit, which is not there any more.
    """
    is_cold = plan.chemical.form in ("gas", "cryogenic")
    return is_cold and plan.outcomes.method.first is Method.HOLD


@pytest.mark.parametrize("contact", ["splash", "gross"])
def test_no_plan_after_contact_is_below_the_federal_minimum(contact: str) -> None:
    scenes = [
        Scene(contact=contact, suit=suit, airing_place=airing_place)
        for suit in SUITS
        for airing_place in (False, True)
    ]
    problems: dict[str, None] = {}
    for chemical in rows():
        for scene in scenes:
            plan = recommend(chemical, scene)
            if plan.outcomes.stations.recommended < 1 and not boils_off_on_a_hold(plan):
                first = plan.outcomes.method.first.value
                problems[f"{chemical.key}, {scene.suit}: {ends(plan)}, first {first}"] = None
    none_of(problems, DOE)


@pytest.mark.parametrize("form", [None, "gas", "liquid", "solid", "powder", "aerosol", "solution"])
def test_an_unknown_product_after_contact_gets_at_least_the_federal_minimum(
    form: str | None,
) -> None:
    for contact in ("splash", "gross"):
        plan = recommend(None, Scene(contact=contact, form=form))
        assert plan.outcomes.stations.recommended >= 1, f"unknown {form}, {contact}: {DOE}"


# --- PCB, acute waste --------------------------------------------------------------------------


@pytest.mark.parametrize("suit", SUITS)
@pytest.mark.parametrize("contact", ["splash", "gross"])
def test_pcb_oil_gets_at_least_the_double_wash(contact: str, suit: str) -> None:
    plan = named("PCB oil", "1336-36-3", Scene(contact=contact, suit=suit, airing_place=True))
    assert plan.outcomes.stations.recommended >= 2, (
        f"PCB oil, {contact}, {suit}: expected 2 or more ({PCB}); got {ends(plan)}"
    )


# The most lethal liquids: listed in 40 CFR 261.33(e) as acute hazardous waste and carried in
# division 6.1 (ADR 2025: packing group I unless said), or a chemical warfare agent.
LETHAL = (
    ("parathion", "56-38-2", "P089; UN 3018, packing group by strength"),
    ("TEPP", "107-49-3", "P111; UN 3018, packing group by strength"),
    ("nicotine", "54-11-5", "P075; UN 1654, packing group II"),
    ("tetraethyl lead", "78-00-2", "P110; UN 1649"),
    ("acrolein", "107-02-8", "P003; UN 1092"),
    ("allyl alcohol", "107-18-6", "P005; UN 1098"),
    ("hydrogen cyanide", "74-90-8", "P063; UN 1051"),
    ("acetone cyanohydrin", "75-86-5", "P069; UN 1541"),
    ("nickel carbonyl", "13463-39-3", "P073; UN 1259"),
    ("methyl isocyanate", "624-83-9", "P064; UN 2480"),
    ("sarin", "107-44-8", "nerve agent"),
    ("soman", "96-64-0", "nerve agent"),
    ("tabun", "77-81-6", "nerve agent"),
    ("VX", "50782-69-9", "nerve agent"),
    ("sulfur mustard", "505-60-2", "blister agent"),
    ("lewisite", "541-25-3", "blister agent"),
)


@pytest.mark.parametrize(("name", "cas", "why"), LETHAL, ids=[x[0] for x in LETHAL])
def test_the_most_lethal_liquids_get_two_or_three(name: str, cas: str, why: str) -> None:
    for contact in ("splash", "gross"):
        for suit in SUITS:
            scene = Scene(contact=contact, suit=suit, airing_place=True)
            plan = named(name, cas, scene)
            assert 2 <= plan.outcomes.stations.recommended <= 3, (
                f"{name} ({why}), {contact}, {suit}: expected 2 or 3 ({TRIPLE}); got {ends(plan)}"
            )


def test_nothing_gets_more_than_the_triple_rinse() -> None:
    """Past three the published texts repeat until the check passes; none asks for a fourth."""
    worst = Scene(contact="gross", suit="turnout", failed_check=True)
    plans = {c.key: recommend(c, worst) for c in rows()}
    none_of((f"{k}: {ends(p)}" for k, p in plans.items() if p.outcomes.stations.high > 3), TRIPLE)


# --- More hazard or more exposure: never fewer -------------------------------------------------


def fewer(more: Ends, less: Ends) -> bool:
    return any(m < n for m, n in zip(more, less, strict=True))


def test_more_contact_never_means_a_lower_estimate() -> None:
    problems = []
    for chemical in rows():
        for less, more in pairwise(CONTACTS):
            a, b = plain(chemical.key, less), plain(chemical.key, more)
            if b[0] < a[0] or b[1] < a[1]:
                problems.append(f"{chemical.key}: {less} {a}, {more} {b}")
    none_of(problems, APP_C)


def test_more_contact_never_means_a_lower_top_of_the_range() -> None:
    problems = []
    for chemical in rows():
        tops = [plain(chemical.key, contact)[2] for contact in CONTACTS]
        if tops != sorted(tops):
            problems.append(f"{chemical.key}: {dict(zip(CONTACTS, tops, strict=True))}")
    none_of(problems, APP_C)


@pytest.mark.parametrize(
    "change",
    [{"suit": "turnout"}, {"suit": "reusable"}, {"failed_check": True}],
    ids=["porous gear", "suit returns to service", "check failed"],
)
def test_a_worse_scene_never_means_fewer(change: Mapping[str, str | bool]) -> None:
    problems = []
    for chemical in rows():
        for contact in ("splash", "gross"):
            less = plain(chemical.key, contact)
            worse = ends(recommend(chemical, replace(Scene(contact=contact), **change)))
            if fewer(worse, less):
                problems.append(f"{chemical.key}, {contact}: {less}, then {worse}")
    none_of(problems, APP_C)


# Facts that add hazard for whoever is touched by the product.
HARMS = (
    "vesicant",
    "nerve_agent",
    "toxic_6_1_pg_i",
    "cholinesterase_inhibitor",
    "pcb_or_dioxin",
    "hydrofluoric_type",
    "skin_corrosive",
    "skin_notation",
    "known_human_carcinogen",
)


def with_harm(data: CuratedData, name: str) -> CuratedData:
    claim = replace(data.claims[name], truth=Truth.YES)
    return replace(data, claims={**data.claims, name: claim})


def deadly_through_skin(data: CuratedData) -> CuratedData:
    """The same product with a dermal LD50 of 5 mg/kg: category 1, packing group I."""
    dose = PropertyValue("dermal_ld50", 5.0, "mg/kg", None, None, None, "test", "judgement", "")
    category = PropertyValue("dermal_category", 1.0, "1", None, None, None, "test", "judgement", "")
    values = {**data.values, "dermal_ld50": (dose,), "dermal_category": (category,)}
    return replace(data, values=values)


def with_and_without(harm: str) -> Iterator[tuple[str, Ends, Ends]]:
    """Every curated product as it is and with one more harm, after a splash and drenched."""
    for chemical in rows():
        data = load_data(chemical)
        if data.claims[harm].truth is Truth.YES:
            continue
        for contact in ("splash", "gross"):
            worse = recommend(chemical, Scene(contact=contact), data=with_harm(data, harm))
            yield f"{chemical.key}, {contact}, {harm}", plain(chemical.key, contact), ends(worse)


@pytest.mark.parametrize("harm", HARMS)
def test_one_more_harm_never_means_a_lower_estimate(harm: str) -> None:
    found = with_and_without(harm)
    none_of((f"{what}: {a}, then {b}" for what, a, b in found if b[1] < a[1]), APP_C)


def test_one_more_harm_never_means_a_lower_end_of_the_range() -> None:
    """Apart from those whose estimate falls too: they stand in the test above."""
    problems = [
        f"{what}: {a}, then {b}"
        for harm in HARMS
        for what, a, b in with_and_without(harm)
        if fewer(b, a) and b[1] >= a[1]
    ]
    none_of(problems, APP_C)


def test_a_deadlier_dose_through_skin_never_means_fewer() -> None:
    problems = []
    for chemical in rows():
        data = deadly_through_skin(load_data(chemical))
        for contact in ("splash", "gross"):
            less = plain(chemical.key, contact)
            worse = ends(recommend(chemical, Scene(contact=contact), data=data))
            if fewer(worse, less):
                problems.append(f"{chemical.key}, {contact}: {less}, then {worse}")
    none_of(problems, APP_C)


# Milder and worse product, with the published difference between them.
PAIRS = (
    ("hydrofluoric acid 5 %", "hydrofluoric acid 49 %", "strength"),
    ("sulfuric acid 35 %", "sulfuric acid 98 %", "strength"),
    ("hydrogen peroxide 3 %", "hydrogen peroxide 50 %", "strength"),
    ("sodium hypochlorite 6 %", "sodium hypochlorite 12 %", "strength"),
    ("hydrazine 35 %", "hydrazine", "strength"),
    ("ammonia solution", "sodium cyanide solution, 30 %", "class 8 III; class 6.1 (ADR 2025)"),
    ("malathion", "parathion", "class 9; class 6.1 (ADR 2025)"),
    ("mineral oil", "PCB oil", "not regulated; PCB (40 CFR 761)"),
    ("cooking oil", "PCB oil", "no health class; PCB (40 CFR 761)"),
    ("cooking oil", "VX", "no health class; nerve agent"),
    ("acetone", "allyl alcohol", "class 3 II; class 6.1 I (ADR 2025)"),
    ("toluene", "nitrobenzene", "class 3 II; class 6.1 II (ADR 2025)"),
    ("ethylene glycol", "acetone cyanohydrin", "not regulated; class 6.1 I (ADR 2025)"),
    ("isopropyl alcohol", "dimethyl sulfate", "class 3 II; class 6.1 I (ADR 2025)"),
    ("sucrose", "sodium cyanide", "not regulated; class 6.1 I (ADR 2025)"),
    ("sodium carbonate", "strychnine", "not regulated; class 6.1 I (ADR 2025)"),
    ("diesel fuel", "tetraethyl lead", "class 3 III; class 6.1 I (ADR 2025)"),
)


@pytest.mark.parametrize(("milder", "worse", "why"), PAIRS, ids=[f"{a}-{b}" for a, b, _ in PAIRS])
@pytest.mark.parametrize("contact", ["splash", "gross"])
def test_the_worse_product_never_gets_fewer(
    milder: str, worse: str, why: str, contact: str
) -> None:
    scene = Scene(contact=contact)
    less, more = recommend(milder, scene), recommend(worse, scene)
    assert less.chemical.key != more.chemical.key
    assert not fewer(ends(more), ends(less)), (
        f"{contact}: {worse} {ends(more)} against {milder} {ends(less)} ({why}; {APP_C})"
    )
