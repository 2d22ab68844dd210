"""Values that somebody states off a safety data sheet: how they are read, and how they lead.

Expected numbers come from definitions and from NIST SP 811 (2008), appendix B.8: 1 mmHg =
133.3224 Pa, 1 psi = 6894.757 Pa, 1 inHg (32 F) = 3386.38 Pa, 1 lb/ft3 = 16.01846 kg/m3, 1 lb/gal
(US) = 119.8264 kg/m3, 1 cP = 0.001 Pa s. One mole of gas at 25 C and one atmosphere fills 24.45 L.
"""

from __future__ import annotations

import contextlib
import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from recommender.chemicals.lookup import normalize_name
from recommender.chemicals.table import (
    Chemical,
    CuratedData,
    PropertyValue,
    fact_dictionary,
    load_chemicals,
    load_data,
)
from recommender.data_files import read_table
from recommender.effects import Rank
from recommender.errors import InputError, SceneError, StatedError
from recommender.facts import Claim, Number, Truth
from recommender.limits import Limits, load_limits
from recommender.properties.agreement import how_far, how_far_from_all
from recommender.properties.stated import KINDS, StatedValue, parse_stated
from recommender.properties.stated_apply import GOOD_NEWS, apply_stated
from recommender.properties.stated_names import plain_name
from recommender.properties.vapor_pressure import vapor_pressure_at
from recommender.recommend import Plan, recommend
from recommender.scene import Scene

ROWS = tuple(load_chemicals().values())
LIMITS = load_limits()
VIEW = Limits(LIMITS)
SAME = 1e-9
MANY = settings(max_examples=150, deadline=None, derandomize=True, database=None)


def row(key: str) -> Chemical:
    return load_chemicals()[key]


def refusal(text: str) -> str:
    with pytest.raises(StatedError) as caught:
        parse_stated(text)
    said = str(caught.value)
    assert all(line.isprintable() for line in said.splitlines()) and len(said) < 700
    return said


def number(plan: Plan, name: str) -> Number:
    found = plan.facts[name]
    assert isinstance(found, Number)
    return found


def pressure(pascal: float, at_c: float | None = 20.0) -> StatedValue:
    return StatedValue("vapor_pressure", f"{pascal:g} Pa", pascal, "Pa", temperature_c=at_c)


# --- reading: numbers and units -----------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "fact", "value", "relative"),
    [
        ("vapor pressure=1 mmHg", "vapor_pressure", 133.3224, 1e-6),
        ("VP=1 psi", "vapor_pressure", 6894.757, 1e-6),
        ("vapour pressure = 1 inHg", "vapor_pressure", 3386.38, 2e-5),
        ("VP=0.1 bar", "vapor_pressure", 1e4, 1e-9),
        ("VP=2 hPa", "vapor_pressure", 200.0, 1e-9),
        ("VP=1 atm", "vapor_pressure", 101325.0, 1e-9),
        ("VP=5 mPa", "vapor_pressure", 0.005, 1e-9),
        ("VP=1e-5 mm Hg", "vapor_pressure", 1.333224e-3, 1e-6),
        ("BP=212 F", "boiling_point", 100.0, 1e-9),
        ("boiling point=373.15 K", "boiling_point", 100.0, 1e-9),
        ("MP=-40 F", "melting_point", -40.0, 1e-9),
        ("melting point=0 C", "melting_point", 0.0, 1e-9),
        ("flash=140 F", "flash_point", 60.0, 1e-9),
        ("solubility=1 g/100 mL", "water_solubility", 10.0, 1e-9),
        ("solubility in water=500 mg/L", "water_solubility", 0.5, 1e-9),
        ("solubility in water=1 lb/gal", "water_solubility", 119.8264, 1e-6),
        ("density=60 lb/ft3", "density", 60 * 16.01846, 1e-6),
        ("density=8 lb/gal", "density", 8 * 119.8264, 1e-6),
        ("density=1.2 g/cm3", "density", 1200.0, 1e-9),
        ("specific gravity=0.87", "density", 870.0, 1e-9),
        ("SG=1.84", "density", 1840.0, 1e-9),
        ("viscosity=0.1 Pa s", "viscosity", 100.0, 1e-9),
        ("viscosity=12 mPa s", "viscosity", 12.0, 1e-9),
        ("viscosity=1 P", "viscosity", 100.0, 1e-9),
        ("LD50 dermal=0.2 g/kg", "dermal_ld50", 200.0, 1e-9),
        ("dermal LD50=200 mg/kg", "dermal_ld50", 200.0, 1e-9),
        ("IDLH=0.01 %", "idlh", 100.0, 1e-9),
        ("IDLH=500 ppb", "idlh", 0.5, 1e-9),
        ("LEL=1.4 %", "lower_flammable_limit", 1.4, 1e-9),
        ("LFL=14000 ppm", "lower_flammable_limit", 1.4, 1e-9),
        ("ionization potential=9.24 eV", "ionization_energy", 9.24, 1e-9),
        ("IP=9.24", "ionization_energy", 9.24, 1e-9),
        ("MW=92.14", "molar_mass", 92.14, 1e-9),
        ("molecular weight=92.14 g/mol", "molar_mass", 92.14, 1e-9),
        ("dermal category=3", "dermal_category", 3.0, 0.0),
        ("immediately-dangerous concentration=5 ppm", "idlh", 5.0, 1e-9),
    ],
)
def test_a_value_is_read_in_the_unit_of_its_fact(text, fact, value, relative):
    found = parse_stated(text)
    assert found.fact == fact and found.truth is None
    assert math.isclose(found.value, value, rel_tol=relative, abs_tol=1e-9)
    assert (found.low, found.high, found.side) == (None, None, "")


@pytest.mark.parametrize(
    ("text", "low", "high"),
    [
        ("solubility=1-5 g/L", 1.0, 5.0),
        ("solubility=1 to 5 g/L", 1.0, 5.0),
        ("solubility=1\u20135 g/L", 1.0, 5.0),
        ("solubility=1 g/L - 5 g/L", 1.0, 5.0),
        ("solubility=500 mg/L to 5 g/L", 0.5, 5.0),
        ("VP=1e-5-1e-4 Pa", 1e-5, 1e-4),
        ("MP=-20 to -5 C", -20.0, -5.0),
        ("MP=-20--5 C", -20.0, -5.0),
        ("BP=140-212 F", 60.0, 100.0),
        ("solubility=miscible", 1000.0, 1000.0),
        ("solubility=insoluble", 1e-4, 1.0),
    ],
)
def test_a_range_keeps_its_ends_and_a_value_between_them(text, low, high):
    found = parse_stated(text)
    assert math.isclose(found.low, low) and math.isclose(found.high, high)
    assert found.low <= found.value <= found.high


@pytest.mark.parametrize(
    ("text", "side", "value"),
    [
        ("VP<1 Pa", "below", 1.0),
        ("VP=<1 Pa", "below", 1.0),
        ("VP<=1 Pa", "below", 1.0),
        ("VP=\u22641 Pa", "below", 1.0),
        ("VP=less than 1 Pa", "below", 1.0),
        ("VP=below 1 Pa", "below", 1.0),
        ("LD50 dermal>2000 mg/kg", "above", 2000.0),
        ("LD50 dermal=>2000 mg/kg", "above", 2000.0),
        ("LD50 dermal>=2000 mg/kg", "above", 2000.0),
        ("flash point=over 93 C", "above", 93.0),
        ("flash point=<-20 C", "below", -20.0),
    ],
)
def test_one_side_of_a_range_is_read(text, side, value):
    found = parse_stated(text)
    assert (found.side, found.value, found.low) == (side, value, None)


@pytest.mark.parametrize(
    ("text", "at_c"),
    [
        ("VP=1 kPa @ 68 F", 20.0),
        ("VP=1 kPa@20C", 20.0),
        ("VP=1 kPa at 293.15 K", 20.0),
        ("solubility=1-5 g/L @ 77 F", 25.0),
        ("solubility=miscible @ 20 C", 20.0),
        ("density=0.8 g/mL @ 20 C", 20.0),
        ("viscosity=12 cP @ 25 C", 25.0),
        ("VP<0.1 mmHg @ 25 C", 25.0),
        ("VP=1 kPa", None),
    ],
)
def test_a_temperature_may_stand_with_a_value(text, at_c):
    found = parse_stated(text).temperature_c
    assert found is at_c if at_c is None else math.isclose(found, at_c)


@pytest.mark.parametrize(
    ("text", "fact", "truth"),
    [
        ("skin notation=yes", "skin_notation", Truth.YES),
        ("Skin Notation = NO", "skin_notation", Truth.NO),
        ("water reactive=unknown", "reacts_violently_with_water", Truth.UNKNOWN),
        ("reaction with water=no", "reacts_violently_with_water", Truth.NO),
        ("whether it fumes=yes", "fumes", Truth.YES),
        ("carcinogen=no", "known_human_carcinogen", Truth.NO),
        ("oxidizer=yes", "strong_oxidizer", Truth.YES),
        ("skin_corrosive=yes", "skin_corrosive", Truth.YES),
    ],
)
def test_a_hazard_is_answered_with_a_word(text, fact, truth):
    found = parse_stated(text)
    assert (found.fact, found.truth, found.value) == (fact, truth, None)


def test_every_number_and_claim_can_be_stated_by_its_fact_its_label_and_its_plain_name():
    for fact in fact_dictionary().values():
        for name in (fact.name, fact.label):
            if fact.kind == "claim":
                assert parse_stated(f"{name}=unknown").fact == fact.name
            elif fact.kind == "number":
                right = KINDS[fact.name].example.split("'")[1].partition("=")[2]
                assert (
                    parse_stated(f"{name}={right} g/mL").fact
                    if fact.name == "density"
                    else (parse_stated(f"{name}={right}").fact == fact.name)
                )
        if fact.kind != "word":
            text = f"{plain_name(fact.name)}={'no' if fact.kind == 'claim' else 'x'}"
            if fact.kind == "claim":
                assert parse_stated(text).fact == fact.name
            else:
                assert fact.label in refusal(text)


def test_every_example_in_a_message_is_right():
    for fact, kind in KINDS.items():
        for example in kind.example.split("'")[1::2]:
            text = example if "=" in example else f"{fact}={example}"
            assert parse_stated(text).fact == fact


def test_the_table_of_names_holds_together():
    seen = {}
    for line in read_table("property_names.csv"):
        key = normalize_name(line["name"])
        assert key and key not in seen, line["name"]
        seen[key] = line
        assert bool(line["fact"]) != bool(line["instead"]), line["name"]
        assert not line["unit"] or line["fact"] in KINDS, line["name"]
        if line["instead"]:
            assert line["instead"] in refusal(f"{line['name']}=5")


# --- reading: what is refused -------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("vapr presure=3 mmHg", ("'vapr presure'", "vapor pressure", "Near names")),
        ("flashpiont=3 C", ("flash point",)),
        ("colour=red", ("No property is called 'colour'", "Right:")),
        ("VP", ("NAME=VALUE", "Right:")),
        ("=5 mmHg", ("NAME=VALUE",)),
        ("", ("NAME=VALUE",)),
        ("VP=", ("vapor pressure", "empty", "Right: 'vapor pressure=")),
        ("VP=5", ("no unit", "mmHg", "Right:")),
        ("VP=5 furlong", ("furlong", "not a unit of pressure")),
        ("VP=5 psig", ("gauge",)),
        ("VP=0 mmHg", ("smallest that the sheet could mean",)),
        ("VP=-3 mmHg", ("below zero",)),
        ("VP=1,500 mmHg", ("1500 or 1.500",)),
        ("VP=negligible", ("start with a number",)),
        ("VP=5-3 mmHg", ("wrong way around",)),
        ("VP=1e9 Pa", ("check the number and the unit",)),
        ("VP=5 mmHg @ 20", ("temperature", "no unit")),
        ("VP=5 mmHg @ 3000 C", ("temperature",)),
        ("VP=5 mmHg @ hot", ("temperature",)),
        ("BP=76.7", ("no unit",)),
        ("BP=149 C @ 10 mmHg", ("no '@'",)),
        ("BP=-300 C", ("absolute zero",)),
        ("FP=30 C", ("flash point or freezing point",)),
        ("LD50=200 mg/kg", ("LD50 dermal",)),
        ("oral LD50=200 mg/kg", ("LD50 dermal",)),
        ("vapor density=3.1", ("molar mass",)),
        ("solubility=5 %", ("by mass or by volume",)),
        ("solubility=slightly", ("start with a number",)),
        ("density=0.87", ("no unit", "specific gravity=0.87")),
        ("density=1.2 kg/m3", ("check the number and the unit",)),
        ("viscosity=10 cSt", ("specific gravity",)),
        ("viscosity=50 cP @ 40 C", ("thicker when colder",)),
        ("dermal category=2-3", ("Right: 'dermal category=3'",)),
        ("dermal category>2", ("one number",)),
        ("dermal category=7", ("outside 1 to 5",)),
        ("dermal category=2.5", ("whole",)),
        ("skin notation=maybe", ("yes, no or unknown", "skin notation")),
        ("skin notation=", ("yes, no or unknown",)),
        ("skin notation=yes no", ("yes, no or unknown",)),
        ("what follows the first step=flood", ("No property",)),
        ("form=gas", ("--form",)),
        ("pH=2", ("acid=yes",)),
        ("VP=__import__('os')", ("start with a number",)),
        ("x" * 500, ("not a short text",)),
        ("VP=\x1b[2J5 mmHg", ("vapor pressure",)),
    ],
)
def test_what_cannot_be_used_is_refused_with_what_why_and_the_right_form(text, said):
    message = refusal(text)
    for words in said:
        assert words in message
    assert "Right" in message


def test_what_is_no_text_is_refused():
    for thing in (None, 5, b"VP=1 Pa", ["VP=1 Pa"]):
        with pytest.raises(StatedError):
            parse_stated(thing)  # type: ignore[arg-type]


NAMES = st.sampled_from([line["name"] for line in read_table("property_names.csv")])
SCRAPS = st.sampled_from(
    ["1", "-", "5", ".", ",", "e", "<", ">", "=", "@", " ", "to", "mmHg", "F", "g/L", "%", "yes",
     "at", "~", "\u2264", "/", "C", "\u00b0", "\x00", "\u200b", "1e5", "kg", "m3", "'", "\n"]
)  # fmt: skip


def is_read_or_refused(text: str) -> None:
    with contextlib.suppress(StatedError):
        found = parse_stated(text)
        assert found.typed.isprintable() and found.fact in fact_dictionary()
        if found.truth is None:
            ends = [e for e in (found.low, found.value, found.high) if e is not None]
            assert ends == sorted(ends) and all(math.isfinite(e) for e in ends)


@MANY
@given(st.text(max_size=60))
def test_any_text_is_read_or_refused(text):
    is_read_or_refused(text)


@MANY
@given(NAMES, st.text(max_size=40))
def test_any_value_of_a_known_name_is_read_or_refused(name, value):
    is_read_or_refused(f"{name}={value}")


@settings(max_examples=400, deadline=None, derandomize=True, database=None)
@given(NAMES, st.lists(SCRAPS, max_size=8))
def test_any_scraps_of_a_value_are_read_or_refused(name, scraps):
    is_read_or_refused(f"{name}={''.join(scraps)}")


# --- leading ------------------------------------------------------------------------------------


def test_the_stated_value_leads_and_the_others_are_passed_over_and_shown():
    plain = recommend(row("toluene"))
    plan = recommend(row("toluene"), stated=[parse_stated("solubility=0.3 g/L @ 77 F")])
    held, found = number(plain, "water_solubility"), number(plan, "water_solubility")
    assert found.mid == 0.3
    assert (found.origin.basis, found.origin.source) == ("stated", "stated")
    assert held.mid in [p.value for p in found.passed_over]
    assert found.high < held.mid


def test_a_stated_vapor_pressure_is_met_at_its_own_temperature_and_moved_from_there():
    scene = Scene(air_temperature_c=25.0)
    at_25 = recommend(row("toluene"), scene, stated=[parse_stated("VP=30 mmHg @ 77 F")])
    assert math.isclose(number(at_25, "vapor_pressure").mid, 30 * 133.3224, rel_tol=1e-5)
    held_25 = number(recommend(row("toluene"), scene), "vapor_pressure").mid
    cold = Scene(air_temperature_c=0.0)
    at_0 = recommend(row("toluene"), cold, stated=[parse_stated("VP=30 mmHg @ 77 F")])
    held_0 = number(recommend(row("toluene"), cold), "vapor_pressure").mid
    assert math.isclose(
        number(at_0, "vapor_pressure").mid / number(at_25, "vapor_pressure").mid,
        held_0 / held_25,
        rel_tol=1e-9,
    )
    passed = number(at_0, "vapor_pressure").passed_over
    assert passed and math.isclose(passed[0].value, held_0, rel_tol=1e-9)


def test_a_stated_range_stands_as_it_was_stated():
    scene = Scene(air_temperature_c=20.0)
    plan = recommend(row("toluene"), scene, stated=[parse_stated("VP=100-400 Pa @ 20 C")])
    found = number(plan, "vapor_pressure")
    assert math.isclose(found.low, 100.0) and math.isclose(found.high, 400.0)


def test_a_single_stated_value_is_no_surer_than_what_it_takes_the_place_of():
    held = number(recommend(row("diesel-fuel")), "vapor_pressure")
    plan = recommend(row("diesel-fuel"), stated=[pressure(held.mid)])
    found = number(plan, "vapor_pressure")
    assert math.isclose(found.low, held.low, rel_tol=1e-9)
    assert found.low / found.mid < 1 / LIMITS["uncertainty.vapor_pressure"].value


def test_the_light_part_of_a_mixture_does_not_speak_for_the_rest():
    before = recommend(row("gasoline"))
    plan = recommend(row("gasoline"), stated=[parse_stated("VP=300 mmHg @ 68 F")])
    held, found = number(before, "vapor_pressure"), number(plan, "vapor_pressure")
    assert found.mid > held.high and math.isclose(found.low, held.low)
    assert plan.outcomes.persistence.grade >= before.outcomes.persistence.grade
    typed = recommend(row("gasoline"), stated=[parse_stated("VP=250-300 mmHg @ 68 F")])
    assert number(typed, "vapor_pressure").low > held.high


def test_without_a_temperature_the_low_end_is_lowered_and_it_is_said():
    timed = recommend(row("toluene"), stated=[pressure(1000.0)])
    untimed = recommend(row("toluene"), stated=[pressure(1000.0, None)])
    factor = LIMITS["uncertainty.stated_temperature_factor"].value
    assert math.isclose(
        number(timed, "vapor_pressure").low / number(untimed, "vapor_pressure").low, factor
    )
    assert number(timed, "vapor_pressure").mid == number(untimed, "vapor_pressure").mid
    assert any("No temperature was stated" in note for note in untimed.assumptions)
    assert not any("No temperature was stated" in note for note in timed.assumptions)


def test_one_side_reaches_as_far_as_the_limit_says():
    reach = LIMITS["uncertainty.stated_one_sided"].value
    below = recommend(row("toluene"), stated=[parse_stated("VP<100 Pa @ 20 C")])
    found = number(below, "vapor_pressure")
    assert math.isclose(found.high, 100.0) and math.isclose(found.low, 100.0 / reach)
    above = recommend(row("toluene"), stated=[parse_stated("solubility>50 g/L")])
    found = number(above, "water_solubility")
    assert found.low == 50.0 and found.high >= 1000.0
    dose = recommend(row("toluene"), stated=[parse_stated("LD50 dermal<50 mg/kg")])
    assert number(dose, "dermal_category").mid == 1.0
    assert number(dose, "dermal_ld50").mid < 50.0


def test_an_idlh_by_mass_is_converted_with_the_molar_mass():
    plan = recommend(row("toluene"), stated=[parse_stated("IDLH=92.14 mg/m3")])
    mass = number(plan, "molar_mass").mid
    assert math.isclose(number(plan, "idlh").mid, 92.14 * 24.45 / mass, rel_tol=1e-9)
    stated = [parse_stated("IDLH=100 mg/m3"), parse_stated("MW=244.5 g/mol")]
    assert math.isclose(number(recommend(None, stated=stated), "idlh").mid, 10.0, rel_tol=1e-9)
    with pytest.raises(StatedError, match="molar mass"):
        recommend(None, stated=[parse_stated("IDLH=100 mg/m3")])


def test_miscible_is_miscible():
    plan = recommend(row("toluene"), stated=[parse_stated("solubility=miscible")])
    found = number(plan, "water_solubility")
    assert (found.low, found.mid, found.high) == (1000.0, 1000.0, 1000.0)


def test_one_property_is_stated_once():
    twice = [parse_stated("VP=1 Pa"), parse_stated("vapor pressure=2 Pa")]
    with pytest.raises(StatedError, match="vapor pressure is stated twice"):
        recommend(row("toluene"), stated=twice)


@pytest.mark.parametrize(
    "value",
    [
        StatedValue("after_first", "flood", truth=Truth.YES),
        StatedValue("no_such_fact", "5", 5.0),
        StatedValue("vapor_pressure", "?", None),
        StatedValue("vapor_pressure", "nan", math.nan, "Pa"),
        StatedValue("skin_notation", "5", 5.0),
    ],
)
def test_a_value_that_was_not_read_by_the_parser_is_checked(value):
    with pytest.raises(StatedError):
        recommend(row("toluene"), stated=[value])


# --- warnings -----------------------------------------------------------------------------------


def made_up(values: dict[str, float]) -> CuratedData:
    data = load_data(row("toluene"))
    made = {
        name: (PropertyValue(name, v, fact_dictionary()[name].unit, None, None, None, "crc",
                             "memory", ""),)
        for name, v in values.items()
    }  # fmt: skip
    return replace(data, values=made)


@pytest.mark.parametrize(
    ("name", "held", "limit", "typed"),
    [
        ("water_solubility", 2.0, "stated_factor", "{} g/L"),
        ("viscosity", 2.0, "stated_factor", "{} cP"),
        ("idlh", 2.0, "stated_factor", "{} ppm"),
        ("dermal_ld50", 200.0, "stated_factor", "{} mg/kg"),
        ("molar_mass", 100.0, "stated_close_factor", "{} g/mol"),
        ("density", 1000.0, "stated_close_factor", "{} kg/m3"),
        ("ionization_energy", 8.0, "stated_close_factor", "{} eV"),
    ],
)
def test_a_warning_begins_past_the_factor(name, held, limit, typed):
    factor = LIMITS[f"uncertainty.{limit}"].value
    data = made_up({name: held})
    for value, far in (
        (held * factor * 0.999, False),
        (held * factor, False),
        (held * factor * 1.001, True),
        (held / factor * 1.001, False),
        (held / factor, False),
        (held / factor * 0.999, True),
    ):
        one = parse_stated(f"{name}={typed.format(f'{value:.9f}')}")
        (entry,) = apply_stated(row("toluene"), data, [one], VIEW).entries
        assert entry.apart is not None and entry.apart.is_far is far, value
        assert ("CHECK" in entry.warning) is far


@pytest.mark.parametrize("name", ["boiling_point", "melting_point", "flash_point"])
def test_a_warning_begins_past_the_degrees(name):
    degrees = LIMITS["uncertainty.stated_degrees"].value
    data = made_up({name: 10.0})
    for shift, far in ((degrees - 0.01, False), (degrees, False), (degrees + 0.01, True)):
        for sign in (1, -1):
            one = parse_stated(f"{name}={10.0 + sign * shift} C")
            (entry,) = apply_stated(row("toluene"), data, [one], VIEW).entries
            assert entry.apart is not None and entry.apart.is_far is far


def test_a_vapor_pressure_is_compared_at_its_own_temperature():
    data = load_data(row("toluene"))
    boiling = data.values["boiling_point"][0].value
    held = vapor_pressure_at(data.values["vapor_pressure"], boiling, 40.0, VIEW).mid
    for share, far in ((2.99, False), (3.0, False), (3.01, True), (1 / 3.01, True)):
        (entry,) = apply_stated(row("toluene"), data, [pressure(held * share, 40.0)], VIEW).entries
        assert entry.apart.is_far is far


@pytest.mark.parametrize(
    ("low", "high", "other", "size"),
    [(1.0, 5.0, 3.0, 1.0), (1.0, 5.0, 10.0, 2.0), (2.0, 5.0, 1.0, 2.0), (-math.inf, 5.0, 0.1, 1.0),
     (5.0, math.inf, 1.0, 5.0)],
)  # fmt: skip
def test_a_range_is_apart_from_its_nearest_end(low, high, other, size):
    assert how_far("water_solubility", low, high, other, VIEW).size == size


def test_near_one_of_several_is_not_far():
    assert not how_far_from_all("water_solubility", 1.0, 1.0, (100.0, 2.0), VIEW).is_far
    assert how_far_from_all("water_solubility", 1.0, 1.0, (100.0, 50.0), VIEW).is_far
    assert how_far_from_all("water_solubility", 1.0, 1.0, (), VIEW) is None
    assert how_far("water_solubility", 0.0, 0.0, 1.0, VIEW).is_far


def test_the_warning_stands_in_the_plan():
    plan = recommend(row("toluene"), stated=[parse_stated("VP=0.5 mmHg @ 68 F")])
    said = " ".join(plan.assumptions)
    assert "Stated: vapor pressure 0.5 mmHg @ 68 F" in said and "CHECK the vapor pressure" in said
    near = recommend(row("toluene"), stated=[parse_stated("VP=21 mmHg @ 68 F")])
    assert "CHECK" not in " ".join(near.assumptions)


def test_a_mixture_is_warned_of_its_light_part():
    said = " ".join(recommend(row("gasoline"), stated=[pressure(40_000.0)]).assumptions)
    assert "part of a mixture that leaves first" in said
    assert "mixture" not in " ".join(recommend(row("toluene"), stated=[pressure(1e3)]).assumptions)


# --- claims -------------------------------------------------------------------------------------


def held_truth(chemical: Chemical, fact: str) -> Truth:
    return load_data(chemical).claims[fact].truth


CLAIMS = tuple(d.name for d in fact_dictionary().values() if d.kind == "claim")


@pytest.mark.parametrize("fact", CLAIMS)
def test_a_hazard_stated_away_is_taken_and_is_the_first_caution(fact):
    worse = Truth.NO if fact in GOOD_NEWS else Truth.YES
    milder = Truth.YES if fact in GOOD_NEWS else Truth.NO
    chemical = next((c for c in ROWS if held_truth(c, fact) is worse), None)
    if chemical is None:
        pytest.skip("no row has it")
    for truth in (milder, Truth.UNKNOWN):
        plan = recommend(chemical, stated=[StatedValue(fact, truth.value, truth=truth)])
        claim = plan.facts[fact]
        assert isinstance(claim, Claim) and claim.truth is truth
        first = plan.outcomes.cautions[0]
        assert "Stated value overrides" in first.text
        assert (first.rank, first.rule, first.is_settled) == (Rank.LIFE, "stated", True)
    same = recommend(chemical, stated=[StatedValue(fact, worse.value, truth=worse)])
    assert not any("overrides" in c.text for c in same.outcomes.cautions)


def test_what_was_unknown_may_be_stated_without_a_caution():
    plan = recommend(None, stated=[parse_stated("water reactive=no"), parse_stated("acid=yes")])
    assert not any("overrides" in c.text for c in plan.outcomes.cautions)
    claim = plan.facts["acid"]
    assert isinstance(claim, Claim)
    assert (claim.origin.basis, claim.origin.source) == ("stated", "stated")


def test_a_stated_flash_point_makes_flammable_and_never_the_reverse():
    edge = LIMITS["flammable.flash_point"].value
    for degrees, truth in ((edge - 0.1, Truth.YES), (edge, Truth.YES), (edge + 0.1, None)):
        plan = recommend(None, stated=[parse_stated(f"flash point={degrees} C")])
        claim = plan.facts["flammable"]
        assert isinstance(claim, Claim)
        assert claim.truth is (truth or Truth.UNKNOWN)
    hot = recommend(row("toluene"), stated=[parse_stated("flash point=90 C")])
    claim = hot.facts["flammable"]
    assert isinstance(claim, Claim) and claim.truth is Truth.YES
    both = [parse_stated("flash point=20 C"), parse_stated("flammable=no")]
    plan = recommend(row("toluene"), stated=both)
    assert any("stated not to be flammable" in note for note in plan.assumptions)


def test_a_milder_dermal_category_is_a_caution_and_a_milder_dose_leaves_the_category():
    chemical = row("phenol-liquefied-90")
    held = number(recommend(chemical), "dermal_category").mid
    assert held is not None and held < 5
    plan = recommend(chemical, stated=[parse_stated("dermal category=5")])
    assert number(plan, "dermal_category").mid == 5.0
    assert "overrides" in plan.outcomes.cautions[0].text
    dose = recommend(chemical, stated=[parse_stated("LD50 dermal=4000 mg/kg")])
    categories = load_data(chemical).values.get("dermal_category", ())
    if categories:
        assert number(dose, "dermal_category").mid == min(v.value for v in categories)
    worse = recommend(chemical, stated=[parse_stated("LD50 dermal=10 mg/kg")])
    assert number(worse, "dermal_category").mid == 1.0


def test_a_milder_plan_says_what_it_would_be_without():
    plan = recommend(row("parathion"), stated=[pressure(50_000.0)])
    assert any("milder; without them" in note for note in plan.assumptions)
    worse = recommend(row("toluene"), stated=[pressure(0.001)])
    assert not any("milder" in note for note in worse.assumptions)


# --- persistence --------------------------------------------------------------------------------


def longest(plan: Plan) -> float:
    high = plan.outcomes.persistence.residence.high
    return math.inf if high is None else high


def shorter(before: Plan, after: Plan) -> bool:
    if after.outcomes.persistence.grade < before.outcomes.persistence.grade:
        return True
    return longest(after) < longest(before) * (1 - SAME)


LIQUIDS = [c for c in ROWS if load_data(c).values.get("vapor_pressure")]


@pytest.mark.parametrize("chemical", LIQUIDS, ids=lambda c: c.key)
def test_a_stated_vapor_pressure_below_what_is_held_never_shortens_the_persistence(chemical):
    values = load_data(chemical).values
    boiling = values["boiling_point"][0].value if "boiling_point" in values else None
    pure = boiling if chemical.formula and chemical.form != "solution" else None
    for air_c in (-20.0, 5.0, 20.0, 38.0):
        before = recommend(chemical, Scene(air_temperature_c=air_c))
        for at_c in (0.0, 20.0, 25.0):
            held = vapor_pressure_at(values["vapor_pressure"], pure, at_c, VIEW)
            if held.mid is None or not 1e-8 < held.mid < 1e7:
                continue
            for share in (1.0, 0.97, 0.5, 0.01):
                stated = [pressure(max(held.mid * share, 1e-8), at_c)]
                after = recommend(chemical, Scene(air_temperature_c=air_c), stated=stated)
                assert not shorter(before, after), (air_c, at_c, share)


def is_reachable(chemical: Chemical, scene: Scene) -> bool:
    try:
        recommend(chemical, scene)
    except SceneError:
        return False
    return True


@settings(max_examples=300, deadline=None, derandomize=True, database=None)
@given(
    chemical=st.sampled_from([*ROWS, None]),
    pair=st.tuples(st.floats(-7, 6.9), st.floats(-7, 6.9)),
    at_c=st.one_of(st.none(), st.floats(-40, 120)),
    air_c=st.floats(-35, 45),
    points=st.booleans(),
)
def test_the_lower_of_two_stated_vapor_pressures_never_gives_the_shorter_persistence(
    chemical, pair, at_c, air_c, points
):
    scene = Scene(air_temperature_c=air_c)
    low, high = sorted(10.0**p for p in pair)
    data = None
    if chemical is not None:
        data = load_data(chemical)
        if not points:
            data = replace(
                data, values={k: v for k, v in data.values.items() if k != "vapor_pressure"}
            )
    plans = [recommend(chemical, scene, stated=[pressure(p, at_c)], data=data) for p in (low, high)]
    assert not shorter(plans[1], plans[0])


@settings(max_examples=200, deadline=None, derandomize=True, database=None)
@given(
    chemical=st.sampled_from([*ROWS, None]),
    facts=st.lists(st.sampled_from(sorted(KINDS)), unique=True, min_size=1, max_size=4),
    share=st.floats(0, 1),
    side=st.sampled_from(["", "below", "above"]),
    contact=st.sampled_from(["vapor", "splash", "gross"]),
)
def test_any_sensible_value_can_be_planned_with(chemical, facts, share, side, contact):
    stated = []
    for fact in facts:
        kind = KINDS[fact]
        if kind.low > 0 and fact != "dermal_category":
            value = kind.low * (kind.high / kind.low) ** share
        else:
            value = kind.low + (kind.high - kind.low) * share
        if fact == "dermal_category":
            stated.append(StatedValue(fact, "x", float(round(value)), "GHS category"))
        else:
            stated.append(StatedValue(fact, "x", value, kind.dimension.unit, side=side))
    with contextlib.suppress(SceneError):
        plan = recommend(chemical, Scene(contact=contact), stated=stated)
        high = plan.outcomes.persistence.residence.high
        assert high is None or math.isfinite(high)
        for fact in facts:
            found = plan.facts[fact]
            assert isinstance(found, Number)
            if found.is_known and fact != "dermal_category":
                assert found.origin.basis == "stated", fact


# --- nothing leaks ------------------------------------------------------------------------------


@pytest.mark.parametrize("chemical", [row("toluene"), row("sulfuric-acid-98"), None])
def test_a_stated_value_never_leaks_into_the_next_plan(chemical):
    before = recommend(chemical)
    recommend(
        chemical,
        stated=[
            parse_stated("VP=0.01 Pa"),
            parse_stated("MW=500"),
            parse_stated("acid=unknown"),
            parse_stated("flash point=10 C"),
        ],
    )
    after = recommend(chemical)
    assert after == before
    assert after.stated == ()


def test_data_given_by_the_caller_are_left_alone():
    data = load_data(row("toluene"))
    values, claims = dict(data.values), dict(data.claims)
    applied = apply_stated(
        row("toluene"), data, [parse_stated("VP=1 Pa"), parse_stated("skin notation=yes")], VIEW
    )
    assert data.values == values and data.claims == claims
    assert applied.before is data and applied.data is not data
    assert applied.data.values["vapor_pressure"][0].basis == "stated"


def test_a_stated_value_on_top_of_a_stated_value_takes_its_place():
    once = apply_stated(row("toluene"), load_data(row("toluene")), [pressure(5.0)], VIEW).data
    again = apply_stated(row("toluene"), once, [pressure(7.0)], VIEW).data
    stated = [v.value for v in again.values["vapor_pressure"] if v.basis == "stated"]
    assert stated == [7.0]


def test_an_unknown_product_can_be_described_and_stays_unidentified():
    stated = [parse_stated(t) for t in ("VP=400 mmHg @ 68 F", "MW=58 g/mol", "solubility=miscible")]
    plan = recommend(None, stated=stated)
    assert number(plan, "film_residence").is_known
    assert plan.outcomes.stations.recommended >= recommend(None).outcomes.stations.recommended
    assert not plan.chemical.is_known


def test_errors_are_input_errors():
    assert issubclass(StatedError, InputError)
