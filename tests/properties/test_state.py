"""The form and the temperature of the product at the scene."""

from __future__ import annotations

from dataclasses import replace

import pytest

from recommender.chemicals.table import Chemical, load_chemicals, unknown_chemical
from recommender.errors import SceneError
from recommender.facts import Claim, Truth
from recommender.limits import Limits, load_limits
from recommender.properties.build import KnownFacts, build_facts
from recommender.properties.state import State, resolve_state
from recommender.recommend import recommend
from recommender.scene import Scene

LIMITS = load_limits()
HOT = LIMITS["state.hot_product"].value
CRYOGENIC = LIMITS["state.cryogenic_boiling_point"].value
AIR = LIMITS["scene.air_temperature"].value
MARGIN = 5.0  # a sample may be this far off a handbook's melting or boiling point
STEP = 0.01


def made_up(form: str, formula: str = "C2H6O") -> Chemical:
    """Return a chemical that no table holds, met in one form."""
    return replace(
        unknown_chemical(form), name="Example", key="example", formula=formula, is_known=True
    )


def state_of(
    form: str,
    scene: Scene,
    *,
    melting: float | None = None,
    boiling: float | None = None,
    formula: str = "C2H6O",
) -> State:
    """Resolve the state of a made-up chemical."""
    return resolve_state(made_up(form, formula), scene, melting, boiling, Limits(LIMITS))


def facts_of(key: str, scene: Scene) -> KnownFacts:
    """Build the facts of a curated row."""
    return build_facts(load_chemicals()[key], scene, LIMITS)


def truth(known: KnownFacts, name: str) -> Truth:
    """Return a yes/no fact."""
    fact = known.facts[name]
    assert isinstance(fact, Claim)
    return fact.truth


# --- weather and temperatures ------------------------------------------------------------------


def test_weather_that_nobody_stated_is_the_assumed_weather() -> None:
    state = state_of("liquid", Scene())
    assert state.air_temperature_c == AIR
    assert state.wind_m_s == LIMITS["scene.wind"].value
    assert state.product_temperature_c == AIR


def test_weather_that_was_stated_is_kept_even_when_it_is_zero() -> None:
    state = state_of("liquid", Scene(air_temperature_c=0.0, wind_m_s=0.0))
    assert (state.air_temperature_c, state.wind_m_s) == (0.0, 0.0)


@pytest.mark.parametrize(("product", "air"), [(-20.0, 10.0), (10.0, 10.0), (90.0, 10.0)])
def test_a_film_takes_the_colder_of_product_and_air(product: float, air: float) -> None:
    scene = Scene(air_temperature_c=air, product_temperature_c=product)
    assert state_of("liquid", scene).film_temperature_c == min(product, air)


def test_a_cryogenic_liquid_is_as_cold_as_it_boils_unless_stated() -> None:
    assert state_of("cryogenic", Scene(), boiling=-196.0).product_temperature_c == -196.0
    assert state_of("cryogenic", Scene()).product_temperature_c == CRYOGENIC
    stated = Scene(product_temperature_c=-150.0)
    assert state_of("cryogenic", stated, boiling=-196.0).product_temperature_c == -150.0


def test_a_molten_product_is_at_least_as_hot_as_it_melts_unless_stated() -> None:
    assert state_of("molten", Scene(), melting=115.0).product_temperature_c == 115.0
    assert state_of("molten", Scene()).product_temperature_c == HOT
    stated = Scene(product_temperature_c=160.0)
    assert state_of("molten", stated, melting=115.0).product_temperature_c == 160.0


def test_an_assumed_temperature_is_said() -> None:
    assert any("temperature" in note for note in state_of("molten", Scene(), melting=115.0).notes)
    assert any("temperature" in note for note in state_of("cryogenic", Scene()).notes)
    assert state_of("liquid", Scene()).notes == ()


# --- form --------------------------------------------------------------------------------------


@pytest.mark.parametrize("form", ["gas", "liquid", "solid", "powder", "solution", "cryogenic"])
def test_the_usual_form_is_planned_where_none_was_stated(form: str) -> None:
    assert state_of(form, Scene()).form == form


def test_an_unknown_product_is_a_liquid_or_in_vapor_contact_a_gas_and_that_is_said() -> None:
    for contact, form in (("splash", "liquid"), ("gross", "liquid"), ("vapor", "gas")):
        scene = Scene(contact=contact)
        state = resolve_state(unknown_chemical(), scene, None, None, Limits(LIMITS))
        assert state.form == form
        assert any("not stated" in note for note in state.notes)


@pytest.mark.parametrize(
    ("temperature", "form"),
    [
        (41.0 - STEP, "solid"),
        (41.0, "solid"),
        (41.0 + STEP, "liquid"),
        (HOT - STEP, "liquid"),
        (HOT, "molten"),
        (HOT + STEP, "molten"),
    ],
)
def test_a_warm_solid_is_a_liquid_above_its_melting_point_and_molten_when_it_burns(
    temperature: float, form: str
) -> None:
    scene = Scene(product_temperature_c=temperature)
    state = state_of("solid", scene, melting=41.0)
    assert state.form == form
    assert any("melts" in note for note in state.notes) == (form != "solid")


def test_a_hot_day_melts_a_solid_as_a_hot_product_does() -> None:
    assert state_of("powder", Scene(air_temperature_c=45.0), melting=41.0).form == "liquid"


def test_a_solid_whose_melting_point_nobody_knows_stays_a_solid() -> None:
    assert state_of("powder", Scene(product_temperature_c=500.0)).form == "powder"


def test_phenol_melts_on_the_way_and_sulfur_in_the_tank_car() -> None:
    assert facts_of("phenol-solid", Scene(product_temperature_c=20.0)).state.form == "solid"
    assert facts_of("phenol-solid", Scene(product_temperature_c=50.0)).state.form == "liquid"
    assert facts_of("phenol-solid", Scene(product_temperature_c=90.0)).state.form == "molten"
    assert facts_of("sulfur-powder", Scene(product_temperature_c=140.0)).state.form == "molten"


# --- impossible forms --------------------------------------------------------------------------


@pytest.mark.parametrize("form", ["solid", "powder"])
def test_a_liquid_is_not_met_as_a_solid_well_above_its_melting_point(form: str) -> None:
    melting = 10.0
    for temperature in (melting - STEP, melting, melting + MARGIN):
        scene = Scene(form=form, air_temperature_c=temperature)
        assert state_of("liquid", scene, melting=melting).form == form
    scene = Scene(form=form, air_temperature_c=melting + MARGIN + STEP)
    with pytest.raises(SceneError, match="melts"):
        state_of("liquid", scene, melting=melting)


def test_a_solid_is_not_met_as_a_liquid_well_below_its_melting_point() -> None:
    melting = 41.0
    for temperature in (melting - MARGIN, melting, melting + STEP):
        scene = Scene(form="liquid", air_temperature_c=temperature)
        assert state_of("solid", scene, melting=melting).form == "liquid"
    scene = Scene(form="liquid", air_temperature_c=melting - MARGIN - STEP)
    with pytest.raises(SceneError, match="melts"):
        state_of("solid", scene, melting=melting)


def test_a_liquid_is_not_met_as_a_gas_well_below_its_boiling_point() -> None:
    boiling = 56.0
    for temperature in (boiling - MARGIN, boiling, boiling + STEP):
        scene = Scene(form="gas", air_temperature_c=temperature)
        assert state_of("liquid", scene, boiling=boiling).form == "gas"
    scene = Scene(form="gas", air_temperature_c=boiling - MARGIN - STEP)
    with pytest.raises(SceneError, match="boils"):
        state_of("liquid", scene, boiling=boiling)


def test_a_solid_without_a_boiling_point_is_not_met_as_a_gas() -> None:
    with pytest.raises(SceneError, match="solid"):
        state_of("powder", Scene(form="gas"))


@pytest.mark.parametrize("form", ["liquid", "gas", "cryogenic"])
def test_what_is_liquid_or_gas_anyway_is_not_met_molten(form: str) -> None:
    with pytest.raises(SceneError):
        state_of(form, Scene(form="molten"), melting=-95.0, boiling=56.0)


@pytest.mark.parametrize("form", ["liquid", "solid", "powder", "solution"])
def test_only_a_gas_is_met_as_a_cryogenic_liquid(form: str) -> None:
    with pytest.raises(SceneError, match="gas"):
        state_of(form, Scene(form="cryogenic"))
    assert state_of("gas", Scene(form="cryogenic"), boiling=-196.0).form == "cryogenic"


def test_molten_below_its_melting_point_is_a_contradiction() -> None:
    scene = Scene(form="molten", product_temperature_c=20.0)
    with pytest.raises(SceneError, match="melts"):
        state_of("solid", scene, melting=98.0)


def test_a_cryogenic_liquid_well_above_its_boiling_point_is_a_contradiction() -> None:
    scene = Scene(form="cryogenic", product_temperature_c=20.0)
    with pytest.raises(SceneError, match="boils"):
        state_of("gas", scene, boiling=-196.0)


@pytest.mark.parametrize(
    ("key", "form"),
    [
        ("acetone", "solid"),
        ("acetone", "powder"),
        ("acetone", "molten"),
        ("acetone", "cryogenic"),
        ("acetone", "gas"),
        ("mercury", "powder"),
        ("sodium-metal", "liquid"),
        ("sodium-metal", "gas"),
        ("asbestos", "gas"),
        ("calcium-oxide", "gas"),
        ("calcium-oxide", "cryogenic"),
        ("sulfuric-acid-98", "gas"),
        ("hydrochloric-acid-37", "molten"),
        ("chlorine", "solid"),
        ("chlorine", "molten"),
        ("asbestos", "molten"),
        ("anthrax-spores", "molten"),
        ("diesel-fuel", "gas"),
        ("diesel-fuel", "powder"),
        ("butyllithium-in-hexane", "powder"),
        ("sodium-hypochlorite-6", "powder"),
    ],
)
def test_nobody_meets_these_in_such_a_form(key: str, form: str) -> None:
    with pytest.raises(SceneError):
        recommend(load_chemicals()[key], Scene(form=form))


@pytest.mark.parametrize(
    ("key", "form"),
    [
        ("acetone", "aerosol"),
        ("acetone", "solution"),
        ("sodium-metal", "molten"),
        ("sodium-metal", "powder"),
        ("chlorine", "liquid"),
        ("chlorine", "gas"),
        ("methane-gas", "cryogenic"),
        ("sulfur-powder", "molten"),
        ("calcium-oxide", "aerosol"),
        ("sodium-cyanide", "solution"),
        ("phenol-solid", "molten"),
        ("white-phosphorus", "molten"),
    ],
)
def test_people_do_meet_these_in_such_a_form(key: str, form: str) -> None:
    plan = recommend(load_chemicals()[key], Scene(form=form))
    assert plan.known.state.form == form


def test_a_refusal_says_what_to_try_instead() -> None:
    for key, form in (("acetone", "solid"), ("sodium-metal", "liquid"), ("acetone", "gas")):
        with pytest.raises(SceneError, match=r"Try|leave the form out"):
            recommend(load_chemicals()[key], Scene(form=form))


def test_an_unknown_product_may_have_any_form() -> None:
    for form in ("gas", "liquid", "solid", "powder", "aerosol", "solution", "molten", "cryogenic"):
        assert recommend(None, Scene(form=form)).known.state.form == form


# --- gases, films, frost -----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("key", "boiling"),
    [
        ("chlorine", -34.0),  # NIOSH Pocket Guide: boils at -29 F
        ("ammonia-anhydrous", -33.3),  # -28 F
        ("sulfur-dioxide", -10.0),  # 14 F
        ("butane", -0.5),  # 31 F
        ("ethylene-oxide", 10.6),  # 51 F
        ("phosgene", 8.3),  # 47 F
        ("hydrogen-fluoride-anhydrous", 19.4),  # 67 F
        ("hydrogen-cyanide", 25.6),  # 78 F
        ("nitrogen-dioxide", 21.1),  # 70 F
    ],
)
def test_a_liquefied_gas_leaves_a_film_only_in_weather_colder_than_it_boils(
    key: str, boiling: float
) -> None:
    cold = facts_of(key, Scene(air_temperature_c=boiling - 10.0))
    warm = facts_of(key, Scene(air_temperature_c=boiling + 10.0))
    assert truth(cold, "film_impossible") is Truth.NO
    assert truth(warm, "film_impossible") is Truth.YES
    assert truth(cold, "vapor_can_condense") is Truth.YES
    assert truth(warm, "vapor_can_condense") is Truth.NO


def test_a_cold_product_in_warm_air_can_still_leave_a_film() -> None:
    known = facts_of("butane", Scene(air_temperature_c=20.0, product_temperature_c=-20.0))
    assert truth(known, "film_impossible") is Truth.NO


@pytest.mark.parametrize("key", ["methylamine", "ammonia-anhydrous", "sulfur-dioxide"])
def test_a_gas_dissolved_in_water_is_not_gone_at_the_boiling_point_of_the_gas(key: str) -> None:
    known = facts_of(key, Scene(form="solution"))
    assert truth(known, "film_impossible") is not Truth.YES


def test_an_acid_that_freezes_near_room_temperature_is_frozen_just_below_it() -> None:
    """Glacial acetic acid freezes near 16.6 C; water-free dimethyl sulfoxide near 18.5 C."""
    for key, freezing in (("acetic-acid-glacial", 16.6), ("dimethyl-sulfoxide", 18.5)):
        below = facts_of(key, Scene(air_temperature_c=freezing - 2.0))
        above = facts_of(key, Scene(air_temperature_c=freezing + 2.0))
        assert truth(below, "frozen") is Truth.YES
        assert truth(above, "frozen") is Truth.NO


def test_a_frozen_film_lasts_for_days_however_fast_it_evaporates_when_thawed() -> None:
    frozen = recommend("benzene", Scene(air_temperature_c=0.0))
    thawed = recommend("benzene", Scene(air_temperature_c=10.0))
    assert frozen.outcomes.persistence.grade > thawed.outcomes.persistence.grade
    assert frozen.outcomes.persistence.grade.words == "days"


def test_a_solid_is_not_called_frozen() -> None:
    assert truth(facts_of("calcium-oxide", Scene(air_temperature_c=-40.0)), "frozen") is Truth.NO


def test_an_unknown_gas_may_or_may_not_leave_a_film() -> None:
    known = build_facts(unknown_chemical("gas"), Scene(contact="vapor", form="gas"), LIMITS)
    assert truth(known, "film_impossible") is Truth.UNKNOWN
    assert truth(known, "vapor_can_condense") is Truth.UNKNOWN


def test_every_curated_row_has_a_state_in_all_weather_it_can_be_met_in() -> None:
    for chemical in load_chemicals().values():
        for air in (-60.0, -40.0, -10.0, 0.0, 20.0, 45.0, 60.0):
            for contact in ("vapor", "splash"):
                plan = recommend(chemical, Scene(contact=contact, air_temperature_c=air))
                state = plan.known.state
                assert state.form
                assert state.film_temperature_c <= air
