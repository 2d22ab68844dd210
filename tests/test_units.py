"""Quantities as people type them: read right, or refused with what is wrong and what is right."""

from __future__ import annotations

import math
import re
import subprocess
import sys
from collections.abc import Callable
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recommender import dimensions as kinds
from recommender.errors import InputError, UnitError
from recommender.units import (
    Measure,
    UnitSystem,
    format_duration_minutes,
    format_speed,
    format_temperature,
    parse_air_temperature,
    parse_area,
    parse_length,
    parse_mass,
    parse_percent,
    parse_pressure,
    parse_quantity,
    parse_speed,
    parse_temperature,
    parse_volume,
)

DIMENSIONS = (
    kinds.TEMPERATURE,
    kinds.SPEED,
    kinds.PERCENT,
    kinds.PRESSURE,
    kinds.VOLUME,
    kinds.LENGTH,
    kinds.MASS,
    kinds.AREA,
)
PARSERS: tuple[Callable[[str], Measure], ...] = (
    parse_temperature,
    parse_air_temperature,
    parse_speed,
    parse_percent,
    parse_pressure,
    parse_volume,
    parse_length,
    parse_mass,
    parse_area,
)

# NIST Special Publication 811 (2008), appendix B.8, to the figures printed there.
PUBLISHED = [
    (kinds.SPEED, "mph", 4.4704e-1),  # exact
    (kinds.SPEED, "kt", 5.144444e-1),
    (kinds.SPEED, "km/h", 2.777778e-1),
    (kinds.SPEED, "ft/s", 3.048e-1),  # exact
    (kinds.SPEED, "ft/min", 5.08e-3),  # exact
    (kinds.PRESSURE, "mmHg", 1.333224e2),
    (kinds.PRESSURE, "torr", 1.333224e2),
    (kinds.PRESSURE, "inHg", 3.386389e3),
    (kinds.PRESSURE, "psi", 6.894757e3),
    (kinds.PRESSURE, "atm", 1.01325e5),  # exact
    (kinds.PRESSURE, "bar", 1e5),  # exact
    (kinds.PRESSURE, "mbar", 1e2),  # exact
    (kinds.PRESSURE, "hPa", 1e2),
    (kinds.PRESSURE, "kPa", 1e3),
    (kinds.PRESSURE, "MPa", 1e6),
    (kinds.PRESSURE, "mPa", 1e-3),
    (kinds.VOLUME, "gal", 3.785412e-3),
    (kinds.VOLUME, "imp gal", 4.54609e-3),  # exact
    (kinds.VOLUME, "L", 1e-3),  # exact
    (kinds.VOLUME, "mL", 1e-6),
    (kinds.VOLUME, "qt", 9.463529e-4),
    (kinds.VOLUME, "pt", 4.731765e-4),
    (kinds.VOLUME, "cup", 2.365882e-4),
    (kinds.VOLUME, "fl oz", 2.957353e-5),
    (kinds.VOLUME, "tbsp", 1.478676e-5),
    (kinds.VOLUME, "tsp", 4.928922e-6),
    (kinds.VOLUME, "ft3", 2.831685e-2),
    (kinds.LENGTH, "ft", 3.048e-1),  # exact
    (kinds.LENGTH, "in", 2.54e-2),  # exact
    (kinds.LENGTH, "yd", 9.144e-1),  # exact
    (kinds.LENGTH, "mi", 1.609344e3),  # exact
    (kinds.LENGTH, "micron", 1e-6),  # exact
    (kinds.MASS, "lb", 4.535924e-1),
    (kinds.MASS, "oz", 2.834952e-2),
    (kinds.MASS, "short ton", 9.071847e2),
    (kinds.MASS, "metric ton", 1e3),  # exact
    (kinds.AREA, "sq ft", 9.290304e-2),  # exact
    (kinds.AREA, "sq in", 6.4516e-4),  # exact
    (kinds.AREA, "sq yd", 8.361274e-1),
    (kinds.AREA, "acre", 4.046873e3),
    (kinds.AREA, "ha", 1e4),  # exact
]


@pytest.mark.parametrize("dimension, unit, factor", PUBLISHED)
def test_a_unit_has_its_published_factor(
    dimension: kinds.Dimension, unit: str, factor: float
) -> None:
    assert parse_quantity(f"1 {unit}", dimension).value == pytest.approx(factor, rel=5e-7)


def test_exact_definitions_are_exact() -> None:
    assert parse_speed("1 mph").value == 0.44704
    assert parse_volume("1 gal").value == 0.003785411784  # 231 cubic inches
    assert parse_length("1 ft").value == 0.3048
    assert parse_mass("1 lb").value == 0.45359237
    assert parse_area("1 ft2").value == 0.09290304
    assert parse_pressure("1 atm").value == 101325.0


@pytest.mark.parametrize(
    "text, celsius",
    [  # fixed points: both scales meet at -40; ice, boiling and absolute zero by definition
        ("-40 F", -40.0),
        ("-40 C", -40.0),
        ("32 F", 0.0),
        ("68 F", 20.0),
        ("212 F", 100.0),
        ("273.15 K", 0.0),
        ("293.15 K", 20.0),
        ("-459.67 F", -273.15),
        ("0 K", -273.15),
    ],
)
def test_temperatures_at_fixed_points_are_exact(text: str, celsius: float) -> None:
    assert parse_temperature(text) == Measure(celsius, "C", text)


@pytest.mark.parametrize("dimension", DIMENSIONS, ids=lambda d: d.name)
def test_the_exact_table_agrees_with_pint(dimension: kinds.Dimension) -> None:
    from pint import UnitRegistry

    registry: UnitRegistry[Decimal] = UnitRegistry(non_int_type=Decimal)
    for unit, (shift, multiplier, divisor) in dimension.exact.items():
        for number in (Decimal(0), Decimal("37.5")):
            ours = (number + Decimal(shift)) * Decimal(multiplier) / Decimal(divisor)
            theirs = registry.convert(number, unit, dimension.target)
            assert float(ours) == pytest.approx(float(theirs), rel=1e-12, abs=1e-12), unit


@pytest.mark.parametrize("dimension", DIMENSIONS, ids=lambda d: d.name)
def test_every_listed_spelling_is_read_and_stands_for_one_unit(dimension: kinds.Dimension) -> None:
    seen: dict[str, str] = {}
    for unit, spellings in dimension.spellings.items():
        reference = parse_quantity(f"2 {spellings.split()[0].replace('_', ' ')}", dimension).value
        for spelling in spellings.split():
            assert seen.setdefault(spelling.casefold().replace("_", ""), unit) == unit
            assert parse_quantity(f"2{spelling.replace('_', ' ')}", dimension).value == reference


@pytest.mark.parametrize("dimension", DIMENSIONS, ids=lambda d: d.name)
def test_the_examples_in_messages_are_right_input(dimension: kinds.Dimension) -> None:
    examples = re.findall(r"'([^']+)'", dimension.example)
    assert examples
    for example in examples:
        assert parse_quantity(example, dimension).unit == dimension.unit


@pytest.mark.parametrize(
    "text",
    [
        "75F",
        "75f",
        "75 F",
        "75 °F",
        "75ºF",
        "75 deg F",
        "75 degrees F",
        "75 Fahrenheit",
        "75℉",
        "75. F",
        "75 F.",
        "７５F",
        "７５ Ｆ",
        "+75 F",
        "75\u00a0F",
        "  75\tF ",
        "7.5e1 F",
        "75,0 F",
        "75 degrees fahrenheit",
        "75\u200bF",
        "٧٥ F",
    ],
)
def test_every_way_of_typing_75_fahrenheit_is_the_same(text: str) -> None:
    # (75 - 32) * 5 / 9
    assert parse_air_temperature(text).value == pytest.approx(23.8889, abs=5e-5)


@pytest.mark.parametrize(
    "text, celsius",
    [
        ("-10C", -10.0),
        ("- 10 C", -10.0),
        ("\u221210 C", -10.0),
        ("\u201310 °C", -10.0),
        ("\uff0d10 C", -10.0),
        ("minus 10 C", -10.0),
        ("20 celsius", 20.0),
        ("20 centigrade", 20.0),
        ("20℃", 20.0),
        ("20,5 C", 20.5),
        (".5 C", 0.5),
        ("0,500 C", 0.5),
        ("1,234.5 C", 1234.5),
        ("1.234,5 C", 1234.5),
        ("-0 C", 0.0),
    ],
)
def test_signs_and_decimals_are_read_as_written(text: str, celsius: float) -> None:
    assert parse_temperature(text).value == celsius


def test_minus_zero_is_plain_zero() -> None:
    assert math.copysign(1.0, parse_temperature("-0 C").value) == 1.0


def test_a_bare_number_takes_the_usual_unit_and_says_so() -> None:
    assert parse_temperature("68", "us") == Measure(20.0, "C", "68", "F")
    assert parse_temperature("20", "si") == Measure(20.0, "C", "20", "C")
    assert parse_temperature("68°", "us") == Measure(20.0, "C", "68°", "F")
    assert parse_temperature("68 degrees", "us").assumed_unit == "F"
    assert parse_speed("5", "us") == Measure(2.2352, "m/s", "5", "mph")
    assert parse_speed("5", "si") == Measure(5.0, "m/s", "5", "m/s")
    assert parse_volume("1", "us").assumed_unit == "gal"
    assert parse_volume("1", "si") == Measure(0.001, "m3", "1", "L")
    assert parse_length("1", "us").assumed_unit == "ft"
    assert parse_mass("1", "us").assumed_unit == "lb"
    assert parse_area("1", "us").assumed_unit == "ft2"


def test_a_typed_unit_wins_over_the_usual_one() -> None:
    assert parse_temperature("20 C", "us") == Measure(20.0, "C", "20 C")
    assert parse_speed("5 m/s", "us") == Measure(5.0, "m/s", "5 m/s")


@pytest.mark.parametrize("parse", [p for p in PARSERS if p is not parse_percent])
def test_a_bare_number_without_a_usual_unit_is_refused(parse: Callable[[str], Measure]) -> None:
    with pytest.raises(UnitError, match="has no unit"):
        parse("5")


def test_a_bare_zero_needs_no_unit_except_of_a_temperature() -> None:
    assert parse_speed("0") == Measure(0.0, "m/s", "0")
    assert parse_pressure("0").value == 0.0
    with pytest.raises(UnitError, match="has no unit"):
        parse_temperature("0")


@pytest.mark.parametrize("text", ["calm", "Calm", " CALM ", "no wind", "0", "0 mph"])
def test_calm_is_no_wind(text: str) -> None:
    assert parse_speed(text).value == 0.0


@pytest.mark.parametrize(
    "text, m_s",
    [
        ("5mph", 2.2352),
        ("5 MPH", 2.2352),
        ("5 m.p.h.", 2.2352),
        ("5 mi/h", 2.2352),
        ("5 miles per hour", 2.2352),
        ("5 miles an hour", 2.2352),
        ("36 km/h", 10.0),
        ("36 kph", 10.0),
        ("9 kt", 4.63),
        ("9 knots", 4.63),
        ("3 m/s", 3.0),
    ],
)
def test_wind_is_read_as_people_say_it(text: str, m_s: float) -> None:
    assert parse_speed(text).value == pytest.approx(m_s, rel=1e-12)


@pytest.mark.parametrize(
    "parse, unit, accepted, refused",
    [
        (parse_temperature, "C", ["-273.15", "-273.14", "2499.99", "2500"], ["-273.16", "2500.01"]),
        (parse_temperature, "F", ["-459.67", "4532"], ["-459.68", "4532.01"]),
        (parse_temperature, "K", ["0", "0.01", "2773.15"], ["-0.01", "2773.16"]),
        (parse_air_temperature, "C", ["-90", "-89.99", "69.99", "70"], ["-90.01", "70.01"]),
        (parse_air_temperature, "F", ["-130", "158"], ["-130.01", "158.01"]),
        (parse_speed, "m/s", ["0", "0.01", "59.99", "60"], ["-0.01", "60.01"]),
        (parse_speed, "km/h", ["0", "215.99", "216"], ["-0.01", "216.01"]),
        (parse_percent, "%", ["0", "0.01", "99.99", "100"], ["-0.01", "100.01"]),
        (parse_percent, "ppm", ["0", "1", "1000000"], ["-1", "1000001"]),
        (parse_pressure, "mmHg", ["0", "0.0001"], ["-0.0001"]),
        (parse_volume, "gal", ["0", "0.01"], ["-0.01"]),
        (parse_length, "ft", ["0", "0.01"], ["-0.01"]),
        (parse_mass, "lb", ["0", "0.01"], ["-0.01"]),
        (parse_area, "ft2", ["0", "0.01"], ["-0.01"]),
    ],
)
def test_ends_are_accepted_and_anything_beyond_is_refused(
    parse: Callable[[str], Measure], unit: str, accepted: list[str], refused: list[str]
) -> None:
    for number in accepted:
        parse(f"{number} {unit}")
    for number in refused:
        with pytest.raises(UnitError):
            parse(f"{number} {unit}")


def test_a_caller_may_set_narrower_ends_and_name_the_place() -> None:
    assert parse_temperature("50 C", low=0.0, high=50.0).value == 50.0
    with pytest.raises(UnitError) as caught:
        parse_temperature("51 C", low=0.0, high=50.0, what="row 3, product temperature")
    assert str(caught.value) == (
        "The row 3, product temperature '51 C' cannot be used: it is 51 C (123.8 F), above 50 C "
        "(122 F), the highest that makes sense here. Check the number and the unit. "
        "Right: '75 F', '24 C' or '297 K'."
    )


def test_below_absolute_zero_says_so() -> None:
    with pytest.raises(UnitError, match="absolute zero"):
        parse_air_temperature("-500 F")


@pytest.mark.parametrize(
    "text, percent",
    [
        ("37%", 37.0),
        ("37 %", 37.0),
        ("37％", 37.0),
        ("37 wt%", 37.0),
        ("37 wt. %", 37.0),
        ("37% w/w", 37.0),
        ("37 percent", 37.0),
        ("37 per cent", 37.0),
        ("37 % by weight", 37.0),
        ("0.37%", 0.37),
        ("1%", 1.0),
        ("5000 ppm", 0.5),
        ("0", 0.0),
    ],
)
def test_strengths_are_read_in_percent(text: str, percent: float) -> None:
    assert parse_percent(text) == Measure(percent, "%", text)


@pytest.mark.parametrize(
    "text, first, second",
    [
        ("0.37", "0.37%", "37%"),
        ("0,37", "0.37%", "37%"),
        ("1", "1%", "100%"),
        ("1.0", "1%", "100%"),
    ],
)
def test_a_bare_number_up_to_one_may_be_a_fraction_so_it_is_refused(
    text: str, first: str, second: str
) -> None:
    with pytest.raises(UnitError, match=f"Write {first} or {second}"):
        parse_percent(text)


def test_a_bare_number_above_one_is_taken_as_percent() -> None:
    assert parse_percent("1.01") == Measure(1.01, "%", "1.01", "%")
    assert parse_percent("37") == Measure(37.0, "%", "37", "%")


@pytest.mark.parametrize("text", ["40 vol%", "40% v/v", "40% abv", "5% w/v", "5 % (w/v)"])
def test_a_share_by_volume_is_not_taken_for_a_share_by_mass(text: str) -> None:
    with pytest.raises(UnitError, match="not a share by mass"):
        parse_percent(text)


@pytest.mark.parametrize(
    "text, meters",
    [
        ("6'2\"", 74 * 0.0254),
        ("6\u2032 2\u2033", 74 * 0.0254),
        ("6\u2019 2\u201d", 74 * 0.0254),
        ("6'2", 74 * 0.0254),
        ("6 ft 2 in", 74 * 0.0254),
        ("6 feet, 2 inches", 74 * 0.0254),
        ("6' 2.5\"", 74.5 * 0.0254),
        ("6'0\"", 72 * 0.0254),
        ("6'11\"", 83 * 0.0254),
        ("6'", 6 * 0.3048),
        ("6''", 6 * 0.0254),
        ("12 in.", 0.3048),
        ("10 \u00b5m", 1e-5),
    ],
)
def test_lengths_are_read_as_people_write_them(text: str, meters: float) -> None:
    assert parse_length(text).value == pytest.approx(meters, rel=1e-12)


@pytest.mark.parametrize("text", ["6'12\"", "6 ft2", "6 ft²", "-6'2\"", "6 ft 2"])
def test_what_is_not_feet_and_inches_is_refused(text: str) -> None:
    with pytest.raises(UnitError):
        parse_length(text)


@pytest.mark.parametrize("text", ["3 m³", "3 m3", "3 m^3", "3 m**3", "3 cubic meters", "3㎥"])
def test_powers_are_read_however_they_are_written(text: str) -> None:
    assert parse_volume(text).value == 3.0


@pytest.mark.parametrize(
    "parse, text, advice",
    [
        (parse_volume, "1,500 gal", "1,500 can be 1500 or 1.500"),
        (parse_volume, "16 oz", "fl oz"),
        (parse_volume, "1 drum", "no one size"),
        (parse_volume, "5 ML", "million liters"),
        (parse_mass, "2 tons", "short ton"),
        (parse_mass, "5 Mg", "million grams"),
        (parse_pressure, "5 MPA", "MPa or mPa"),
        (parse_pressure, "14.7 psig", "gauge"),
        (parse_length, "5 mil", "0.001 in or 1 mm"),
    ],
)
def test_what_can_be_read_in_two_ways_is_refused_with_advice(
    parse: Callable[[str], Measure], text: str, advice: str
) -> None:
    with pytest.raises(UnitError, match=re.escape(advice)):
        parse(text)


def test_the_case_of_a_letter_matters_where_it_changes_the_size() -> None:
    assert parse_pressure("1 MPa").value == 1e6
    assert parse_pressure("1 mPa").value == 1e-3
    assert parse_pressure("1 KPA").value == 1e3


@pytest.mark.parametrize(
    "text", ["10-20 C", "10 to 20 C", "10\u201320 C", "1 500 C", "1/2 C", "10² C"]
)
def test_more_than_one_number_is_refused(text: str) -> None:
    with pytest.raises(UnitError, match="more than one number"):
        parse_temperature(text)


@pytest.mark.parametrize("text", ["1.2.3 C", "1,2,3 C", "1,23,456 C", "10..20 C", "1.234.5 C"])
def test_a_muddle_of_points_and_commas_is_refused(text: str) -> None:
    with pytest.raises(UnitError, match="is not one number"):
        parse_temperature(text)


def test_a_unit_of_another_kind_is_refused_with_the_known_units() -> None:
    with pytest.raises(
        UnitError, match=r"mph is not a unit of temperature known here\. Known: F, C"
    ):
        parse_temperature("5 mph")


HOSTILE = [
    "",
    " ",
    "\t\n",
    "NaN",
    "nan C",
    "inf",
    "-inf F",
    "Infinity K",
    "1e400",
    "1e400 C",
    "1e-400 C",
    "1e99999999999999999999 C",
    "1e101 L",
    "1e-101 L",
    "9" * 60,
    "9" * 10_000,
    " " * 10_000 + "5 C",
    "C",
    "F75",
    "-",
    "--5 C",
    "+-5 C",
    "0x10 C",
    "1_000 C",
    "5 C; 6 C",
    "5 C F",
    "5 °",
    "½ C",
    "5\u00b9 C",
    "①C",
    "\u00ad5 C",
    "__import__('os')",
    "5 __import__('os')",
    "5 C.__class__",
    "{5} C",
    "%s",
    "5 %s",
    "%(text)d",
    "\x00",
    "5\x00C",
    "5 C\x00",
    "\ud800",
    "5 \udfff",
    "\x1b[2J5 C",
    "５ 度",
    "5 meter**99999999",
    "5 K**2",
    "((((((5))))))",
]


@pytest.mark.parametrize("parse", PARSERS)
@pytest.mark.parametrize("text", HOSTILE, ids=lambda t: ascii(t)[:20])
def test_hostile_text_gives_a_unit_error(parse: Callable[[str], Measure], text: str) -> None:
    with pytest.raises(UnitError) as caught:
        parse(text)
    message = str(caught.value)
    assert "Right: '" in message
    assert len(message) < 400
    assert message.isprintable()


def test_a_text_of_60_characters_is_read_and_one_of_61_is_refused() -> None:
    assert parse_temperature("0" * 56 + "20 C").value == 20.0
    with pytest.raises(UnitError, match="61 characters long"):
        parse_temperature("0" * 57 + "20 C")


@pytest.mark.parametrize("thing", [None, 5, 5.0, b"5 C", ["5 C"], object()])
def test_a_thing_that_is_not_text_is_refused(thing: object) -> None:
    for parse in PARSERS:
        with pytest.raises(UnitError, match="not text"):
            parse(thing)  # type: ignore[arg-type]


def test_a_unit_error_is_an_input_error_and_a_value_error() -> None:
    assert issubclass(UnitError, InputError)
    assert issubclass(UnitError, ValueError)


tokens = st.lists(
    st.sampled_from(
        [
            *"0123456789.,-+eE°ºF C%'\"/^²³½\u2212\u200b\x00",
            "mph",
            "gal",
            "ft",
            "in",
            "deg",
            "per",
            "m",
            "psi",
            "**",
            "minus",
            "calm",
            "wt",
            "ppm",
            "K",
            "inf",
            "nan",
            "1e",
            "()",
            "_",
        ]
    ),
    max_size=12,
).map("".join)


@given(st.text(max_size=90) | tokens, st.sampled_from([None, "us", "si"]))
def test_any_text_gives_a_finite_measure_or_a_unit_error(
    text: str, units: UnitSystem | None
) -> None:
    for dimension in DIMENSIONS:
        try:
            measure = parse_quantity(text, dimension, units)
        except UnitError:
            continue
        assert math.isfinite(measure.value)
        assert dimension.low <= measure.value <= dimension.high
        assert measure.unit == dimension.unit
        assert measure.typed.split() == measure.typed.split(" ")


@given(st.text(max_size=90) | tokens)
def test_any_text_gives_a_percent_or_a_unit_error(text: str) -> None:
    try:
        measure = parse_percent(text)
    except UnitError:
        return
    assert 0.0 <= measure.value <= 100.0
    assert measure.assumed_unit is None or measure.value > 1.0


@given(st.decimals("-270", "2500", places=3))
def test_a_temperature_is_the_same_in_its_three_units(celsius: Decimal) -> None:
    fahrenheit, kelvin = celsius * 9 / 5 + 32, celsius + Decimal("273.15")
    assert parse_temperature(f"{celsius} C").value == float(celsius)
    assert parse_temperature(f"{fahrenheit} F").value == pytest.approx(float(celsius), abs=1e-9)
    assert parse_temperature(f"{kelvin} K").value == float(celsius)


@given(st.decimals("0", "59", places=3))
def test_a_speed_is_the_same_in_every_unit(m_s: Decimal) -> None:
    for factor, unit in (("0.44704", "mph"), ("0.3048", "ft/s"), ("1", "m/s")):
        typed = f"{m_s / Decimal(factor)} {unit}"
        assert parse_speed(typed).value == pytest.approx(float(m_s), rel=1e-12, abs=1e-12)


@given(st.floats(-90, 70), st.sampled_from(["us", "si"]))
def test_a_shown_temperature_is_read_back_within_half_a_degree(
    celsius: float, units: UnitSystem
) -> None:
    shown = format_temperature(celsius, units)
    assert shown.isascii()
    assert parse_temperature(shown).value == pytest.approx(celsius, abs=0.5 + 1e-9)


@given(st.floats(0.1, 59), st.sampled_from(["us", "si"]))
def test_a_shown_speed_is_read_back_within_its_rounding(m_s: float, units: UnitSystem) -> None:
    shown = format_speed(m_s, units)
    assert shown.isascii()
    assert parse_speed(shown).value == pytest.approx(m_s, abs=0.51)
    if m_s < 4:
        assert parse_speed(shown).value == pytest.approx(m_s, abs=0.051)


def test_temperatures_are_shown_in_whole_degrees() -> None:
    assert format_temperature(20.0, "us") == "68 F"
    assert format_temperature(20.0, "si") == "20 C"
    assert format_temperature(-0.4, "si") == "0 C"
    assert format_temperature(-40.0, "us") == "-40 F"
    assert format_temperature(-273.15, "us") == "-460 F"


def test_speeds_are_shown_with_one_decimal_below_ten() -> None:
    assert format_speed(2.2352, "us") == "5 mph"
    assert format_speed(2.2352, "si") == "2.2 m/s"
    assert format_speed(0.0, "us") == "0 mph"
    assert format_speed(0.04, "si") == "under 0.1 m/s"
    assert format_speed(0.05, "si") == "0.1 m/s"
    assert format_speed(9.94, "si") == "9.9 m/s"
    assert format_speed(9.96, "si") == "10 m/s"
    assert format_speed(30.4, "si") == "30 m/s"


@pytest.mark.parametrize(
    "minutes, words",
    [
        (0.0, "under 1 min"),
        (0.99, "under 1 min"),
        (1.0, "1 min"),
        (4.2, "4 min"),
        (59.4, "59 min"),
        (59.6, "1 h"),
        (60.0, "1 h"),
        (61.0, "1 h 1 min"),
        (110.0, "1 h 50 min"),
        (599.4, "9 h 59 min"),
        (599.6, "10 h"),
        (24 * 60.0, "24 h"),
        (47.4 * 60, "47 h"),
        (47.6 * 60, "2 days"),
        (48 * 60.0, "2 days"),
        (59.4 * 1440, "59 days"),
        (59.6 * 1440, "months"),
        (2 * 365 * 1440 - 1.0, "months"),
        (2 * 365 * 1440.0, "years"),
        (1e300, "years"),
        (math.inf, "years"),
    ],
)
def test_durations_are_said_in_words(minutes: float, words: str) -> None:
    assert format_duration_minutes(minutes) == words


@given(st.floats(0, 1e9))
def test_any_duration_is_short_plain_text(minutes: float) -> None:
    words = format_duration_minutes(minutes)
    assert words.isascii()
    assert 0 < len(words) <= 11


@pytest.mark.parametrize("bad", [math.nan, -1e-9, -math.inf])
def test_a_duration_or_speed_that_cannot_be_is_refused(bad: float) -> None:
    with pytest.raises(UnitError):
        format_duration_minutes(bad)
    with pytest.raises(UnitError):
        format_speed(bad, "us")


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf, -273.16])
def test_a_temperature_that_cannot_be_is_not_shown(bad: float) -> None:
    with pytest.raises(UnitError):
        format_temperature(bad, "si")
    with pytest.raises(UnitError):
        format_speed(math.inf, "si")


def test_common_quantities_are_read_without_loading_pint() -> None:
    script = (
        "import sys; from recommender import units as u;"
        "u.parse_air_temperature('75F'); u.parse_speed('5 mph'); u.parse_speed('8 kt');"
        "u.parse_percent('37%'); u.parse_volume('50', 'us'); u.parse_length('12 ft');"
        "u.parse_pressure('20 mmHg'); u.parse_pressure('3 kPa'); u.parse_pressure('1 psi');"
        "assert 'pint' not in sys.modules;"
        "u.parse_pressure('20 inHg'); assert 'pint' in sys.modules"
    )
    subprocess.run([sys.executable, "-c", script], check=True, timeout=60)
