"""What structure and values settle, and what they leave unknown."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recommender.chemicals.table import PropertyValue, fact_dictionary
from recommender.facts import Truth
from recommender.library.claims import (
    FLAMMABLE_FLASH_C,
    LIGHTEST_OPIOID,
    NO_ASPHYXIANT_BOILING_C,
    NO_GAS_BOILING_C,
    POISON_PPM,
    SETTLED,
    THICK_CP,
    THIN_BOILING_C,
    library_claims,
)
from recommender.library.features import Feature
from recommender.library.known import Known
from recommender.library.store import Store

PLAIN = Feature.PARSED | Feature.ORGANIC | Feature.CARBON_HYDROGEN | Feature.PLAIN_ELEMENTS


def known(
    features: Feature = PLAIN,
    formula: str = "C7H8",
    molar_mass: float = 92.0,
    form: str = "liquid",
    **values: float,
) -> Known:
    held = {
        name: (PropertyValue(name, value, "", None, None, None, "chemicals-lib", "library", ""),)
        for name, value in values.items()
    }
    return Known(features, formula, molar_mass, form, held)


def truth(name: str, of: Known) -> Truth:
    return library_claims(of)[name].truth


def test_every_rule_is_for_a_claim_of_the_dictionary() -> None:
    claims = {d.name for d in fact_dictionary().values() if d.kind == "claim"}
    assert set(SETTLED) <= claims
    assert set(library_claims(known())) == claims


def test_of_an_unread_structure_only_form_values_and_formula_settle_anything() -> None:
    claims = library_claims(known(Feature(0), "", 250.0, ""))
    assert {c.truth for c in claims.values()} == {Truth.UNKNOWN}


@given(st.integers(0, 2**44 - 1))
def test_without_a_read_structure_no_group_is_ever_cleared(bits: int) -> None:
    features = Feature(bits) & ~Feature.PARSED
    claims = library_claims(known(features, "", 250.0, ""))
    assert all(c.truth is not Truth.NO for c in claims.values())


@given(st.integers(0, 2**44 - 1))
def test_a_reactive_group_is_never_cleared_of_reacting(bits: int) -> None:
    features = Feature(bits) | Feature.PARSED | Feature.WATER_SENSITIVE
    claims = library_claims(known(features))
    for name in ("reacts_violently_with_water", "heats_with_water", "pyrophoric", "fumes"):
        assert claims[name].truth is Truth.UNKNOWN


@pytest.mark.parametrize(
    ("name", "feature"),
    [
        ("isocyanate", Feature.ISOCYANATE),
        ("ammonia_or_amine", Feature.AMINE),
        ("cyanide", Feature.CYANIDE_SOURCE),
        ("sulfide", Feature.FREE_SULFIDE),
        ("hydrofluoric_type", Feature.FREE_FLUORIDE),
        ("calcium_line", Feature.FREE_FLUORIDE),
        ("salt", Feature.IONIC_SALT),
        ("radioactive", Feature.RADIOACTIVE_ELEMENT),
        ("hydrolyzes_to_acid", Feature.MAKES_ACID),
    ],
)
def test_a_group_that_is_there_is_a_yes(name: str, feature: Feature) -> None:
    assert truth(name, known(PLAIN | feature)) is Truth.YES


@pytest.mark.parametrize(
    "name",
    ["reacts_violently_with_water", "pyrophoric", "strong_oxidizer", "nerve_agent", "vesicant"],
)
def test_plain_toluene_is_cleared_of_what_needs_a_group(name: str) -> None:
    assert truth(name, known()) is Truth.NO


@pytest.mark.parametrize(
    ("name", "feature"),
    [
        ("pyrophoric", Feature.METAL_CARBON),
        ("pyrophoric", Feature.ALKYNE),
        ("nerve_agent", Feature.PHOSPHORUS),
        ("cholinesterase_inhibitor", Feature.CARBAMATE),
        ("vesicant", Feature.BLISTER_GROUP),
        ("strong_oxidizer", Feature.NITRO_OR_NITRATE),
        ("polymerizes", Feature.UNSATURATED),
        ("heats_with_water", Feature.AMINE),
        ("acid", Feature.ACID_GROUP),
        ("hypochlorite", Feature.HALOGEN_ON_HETEROATOM),
        ("cyanide", Feature.NITRILE),
        ("hydrofluoric_type", Feature.FLUORINE),
        ("radioactive", Feature.ISOTOPE),
    ],
)
def test_a_group_that_might_is_left_unknown(name: str, feature: Feature) -> None:
    assert truth(name, known(PLAIN | feature)) is Truth.UNKNOWN


def test_silence_of_the_exposure_list_is_unknown_and_a_notation_is_yes() -> None:
    assert truth("skin_notation", known()) is Truth.UNKNOWN
    assert truth("skin_notation", known(skin_listed=0.0)) is Truth.UNKNOWN
    assert truth("skin_notation", known(skin_listed=1.0)) is Truth.YES


def test_only_the_first_groups_of_the_carcinogen_lists_settle_anything() -> None:
    assert truth("known_human_carcinogen", known(iarc_group=1.0)) is Truth.YES
    assert truth("known_human_carcinogen", known(ntp_listing=1.0)) is Truth.YES
    assert truth("known_human_carcinogen", known(iarc_group=11.0)) is Truth.UNKNOWN
    assert truth("known_human_carcinogen", known()) is Truth.UNKNOWN


@pytest.mark.parametrize(
    ("name", "value", "edge", "below", "above"),
    [
        ("flammable", "flash_point", FLAMMABLE_FLASH_C, Truth.YES, Truth.NO),
        ("thick_or_tarry", "viscosity", THICK_CP, Truth.NO, Truth.YES),
        ("thick_or_tarry", "boiling_point", THIN_BOILING_C, Truth.NO, Truth.UNKNOWN),
        ("asphyxiant", "boiling_point", NO_ASPHYXIANT_BOILING_C, Truth.UNKNOWN, Truth.NO),
        ("gas_when_sealed", "boiling_point", NO_GAS_BOILING_C, Truth.UNKNOWN, Truth.NO),
    ],
)
def test_values_settle_just_at_and_just_above_their_edges(
    name: str, value: str, edge: float, below: Truth, above: Truth
) -> None:
    assert truth(name, known(**{value: edge})) is below
    assert truth(name, known(**{value: edge + 0.1})) is above


def test_a_range_across_the_flash_point_edge_settles_nothing() -> None:
    straddling = PropertyValue(
        "flash_point", 55.0, "degC", None, 50.0, 75.0, "chemicals-lib", "library", ""
    )
    of = Known(PLAIN, "C7H8", 92.0, "liquid", {"flash_point": (straddling,)})
    assert truth("flammable", of) is Truth.UNKNOWN


def test_a_gas_displaces_air_unless_it_poisons_first() -> None:
    assert truth("asphyxiant", known(form="gas")) is Truth.YES
    assert truth("asphyxiant", known(form="gas", twa_ppm=POISON_PPM + 1)) is Truth.YES
    assert truth("asphyxiant", known(form="gas", twa_ppm=POISON_PPM)) is Truth.UNKNOWN


def test_a_light_gas_is_not_said_to_stay_high() -> None:
    assert truth("heavier_vapor", known(form="gas", molar_mass=17.0)) is Truth.UNKNOWN
    assert truth("heavier_vapor", known(form="gas", molar_mass=71.0)) is Truth.YES


def test_what_may_be_a_dust_is_not_cleared() -> None:
    assert truth("toxic_particulate", known(form="solid")) is Truth.UNKNOWN
    assert truth("toxic_particulate", known(form="")) is Truth.UNKNOWN
    assert truth("toxic_particulate", known(form="liquid")) is Truth.NO


def test_light_molecules_are_no_opioids() -> None:
    nitrogen = PLAIN | Feature.AMINE
    assert truth("opioid", known(nitrogen, molar_mass=LIGHTEST_OPIOID - 1)) is Truth.NO
    assert truth("opioid", known(nitrogen, molar_mass=LIGHTEST_OPIOID)) is Truth.UNKNOWN


def test_no_thin_liquid_of_the_library_contradicts_the_rule_for_thin_liquids(store: Store) -> None:
    checked = 0
    for _, cas, _ in store.search_names(worst_kind=0):
        values = store.values(cas)
        viscosity, boiling = values.get("viscosity"), values.get("boiling_point")
        if viscosity and boiling and boiling[0].value <= THIN_BOILING_C:
            checked += 1
            assert viscosity[0].value <= THICK_CP, cas
    assert checked > 30
