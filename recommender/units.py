"""Read quantities as people type them, and say quantities back in plain words.

A quantity is one number and one unit. Only the spellings in ``dimensions`` are read; nothing that
was typed is ever evaluated or handed to a parser of expressions. Where a text can be read in two
ways ("1,500 gal", "0.37" of a percentage, "10 ton", "5 mpa") it is refused with the two ways
spelled out, because a wrong guess would be silent.

The units people type most carry exact factors there. Any other is converted by ``pint``, which is
imported on first need only, because importing it takes longer than planning does.
"""

from __future__ import annotations

import math
import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from typing import TYPE_CHECKING, Literal

from recommender.dimensions import (
    ABSOLUTE_ZERO_C,
    AIR_TEMPERATURE_C,
    AREA,
    LENGTH,
    MASS,
    PERCENT,
    PRESSURE,
    PRODUCT_TEMPERATURE_C,
    SPEED,
    TEMPERATURE,
    VOLUME,
    Dimension,
)
from recommender.errors import UnitError

if TYPE_CHECKING:
    from pint import UnitRegistry

UnitSystem = Literal["us", "si"]

_LONGEST = 60  # characters; a number and a unit need far fewer
_SMALLEST, _LARGEST = 1e-100, 1e100  # outside these a number is a slip, not a measurement


@dataclass(frozen=True, slots=True)
class Measure:
    """A quantity that was typed, in the unit the project computes with.

    Attributes:
        value: the number, in ``unit``.
        unit: C, m/s, %, Pa, m3, m, kg or m2.
        typed: the text as typed, blanks tidied.
        assumed_unit: the unit taken for a bare number; None where a unit was typed.
    """

    value: float
    unit: str
    typed: str
    assumed_unit: str | None = None


class _UnreadableError(Exception):
    """What is wrong with a text, as a sentence; becomes a UnitError in one place."""


@cache
def unit_registry() -> UnitRegistry[Decimal]:
    """Load pint, once, and only when a unit outside the exact tables was typed."""
    from pint import UnitRegistry

    return UnitRegistry(non_int_type=Decimal)


@cache
def _index(dimension: Dimension) -> Mapping[str, str]:
    """Map each spelling, without case and blanks, to its unit."""
    return {
        spelling.casefold().replace("_", ""): unit
        for unit, spellings in dimension.spellings.items()
        for spelling in spellings.split()
    }


def parse_quantity(
    text: str,
    dimension: Dimension,
    units: UnitSystem | None = None,
    *,
    low: float | None = None,
    high: float | None = None,
    what: str = "",
) -> Measure:
    """Read one quantity.

    Args:
        text: what was typed.
        dimension: the kind of quantity.
        units: system whose usual unit a bare number is taken in; None refuses bare numbers.
        low: lowest value accepted, in the dimension's unit; the dimension's own if None.
        high: highest value accepted, likewise.
        what: what messages call the quantity, with its place if it has one ("row 3, wind").

    Raises:
        UnitError: the text is not one number and one unit, or is out of sense.
    """
    try:
        typed = _tidy(text)
        value, assumed = _read(typed, dimension, units)
        _check_ends(
            value,
            dimension.low if low is None else low,
            dimension.high if high is None else high,
            dimension,
        )
    except _UnreadableError as problem:
        raise _refusal(text, dimension, what, str(problem)) from None
    return Measure(value, dimension.unit, typed, assumed)


def show_typed(text: object) -> str:
    """Return what was typed as a message may show it: short, printable, in quotes."""
    if not isinstance(text, str):
        return f"of type {type(text).__name__}"
    cut = "".join(c if c.isprintable() else "?" for c in text[:40])
    return f"'{cut}...'" if len(text) > len(cut) else f"'{cut}'"


def _refusal(text: object, dimension: Dimension, what: str, problem: str) -> UnitError:
    """Word a refusal: what was typed, what is wrong with it, what would be right."""
    return UnitError(
        f"The {what or dimension.name} {show_typed(text)} cannot be used: {problem}. "
        f"Right: {dimension.example}."
    )


_INVISIBLE = dict.fromkeys(map(ord, "\u200b\u200e\u200f\u2060\ufeff"))
_LOOKALIKES = str.maketrans(
    {
        **dict.fromkeys("\u2010\u2011\u2012\u2013\u2014\u2212", "-"),
        **dict.fromkeys("\u00ba\u02da", "\u00b0"),
        **dict.fromkeys("\u2018\u2019\u2032", "'"),
        **dict.fromkeys("\u201c\u201d\u2033", '"'),
        **dict.fromkeys("\u2044\u2215", "/"),
        "\u00b2": "^2",
        "\u00b3": "^3",
        "\u03bc": "u",
    }
)


def _tidy(text: object) -> str:
    """Return the text with blanks tidied and invisible characters removed."""
    if not isinstance(text, str):
        raise _UnreadableError("it is not text")
    if len(text) > 10 * _LONGEST:
        raise _UnreadableError(f"it is {len(text)} characters long")
    typed = " ".join(text.translate(_INVISIBLE).split())
    if not typed:
        raise _UnreadableError("it is empty")
    if len(typed) > _LONGEST:
        raise _UnreadableError(f"it is {len(typed)} characters long")
    return typed


def _plain(typed: str) -> str:
    """Write full-width digits, typographic signs and raised unit powers in plain characters."""
    text = typed.translate(_LOOKALIKES)
    if any(unicodedata.category(c) == "No" for c in text):
        raise _UnreadableError("it has a raised digit or a fraction sign; use plain digits (0.5)")
    text = unicodedata.normalize("NFKC", text).translate(_LOOKALIKES)
    return "".join(str(unicodedata.decimal(c, c)) for c in text)


_QUANTITY = re.compile(
    r"\s*(?P<sign>[-+]|minus\b)?\s*(?P<digits>[0-9.,]*[0-9])(?P<power>e[-+]?[0-9]+)?(?P<unit>.*)",
    re.IGNORECASE | re.DOTALL,
)


def _read(typed: str, dimension: Dimension, units: UnitSystem | None) -> tuple[float, str | None]:
    """Return the value in the dimension's unit, and the unit assumed if any."""
    text = _plain(typed)
    if text.casefold() in dimension.words:
        return dimension.words[text.casefold()], None
    if dimension is LENGTH:
        text = _feet_and_inches(text)
    found = _QUANTITY.fullmatch(text)
    if not found:
        raise _UnreadableError("it does not start with a number")
    sign = "" if found["sign"] in (None, "+") else "-"
    number = _number(sign, found["digits"], found["power"] or "")
    key = _unit_key(found["unit"])
    assumed = None
    if not key or key in dimension.bare_words:
        if number == 0 and dimension.zero_is_plain:
            return 0.0, None
        assumed = {"us": dimension.us, "si": dimension.si}.get(units or "") or None
        if assumed is None:
            raise _UnreadableError(f"it has no unit. Add one of {_known_units(dimension)}")
        key = assumed
    return _convert(number, _unit(key, dimension), dimension), assumed


_FEET_AND_INCHES = re.compile(
    r"""(?P<feet>[0-9]{1,6})\s*"""
    r"""(?:'[\s,-]*(?P<plain>[0-9]{1,2}(?:\.[0-9]+)?)\s*(?:"|''|in\.?|inch|inches)?"""
    r"""|(?:ft|feet|foot)[\s.,-]+(?P<marked>[0-9]{1,2}(?:\.[0-9]+)?)\s*(?:"|in\.?|inch|inches))""",
    re.IGNORECASE,
)


def _feet_and_inches(text: str) -> str:
    """Rewrite 6'2" and 6 ft 2 in as inches; leave anything else (6 ft2 too) alone."""
    found = _FEET_AND_INCHES.fullmatch(text)
    if not found:
        return text
    inches = Decimal(found["plain"] or found["marked"])
    return f"{12 * int(found['feet']) + inches} in" if inches < 12 else text


_GROUPED = r"[0-9]{1,3}(?:%s[0-9]{3})"


def _number(sign: str, digits: str, power: str) -> Decimal:
    """Read digits with decimal point, decimal comma or thousands signs; refuse the ambiguous."""
    if re.fullmatch(r"[1-9][0-9]{0,2},[0-9]{3}", digits):
        whole, part = digits.replace(",", ""), digits.replace(",", ".")
        raise _UnreadableError(f"{digits} can be {whole} or {part}; write it without the comma")
    if re.fullmatch(_GROUPED % "," + r"+\.[0-9]+|" + _GROUPED % "," + "{2,}", digits):
        digits = digits.replace(",", "")
    elif re.fullmatch(_GROUPED % r"\." + "+,[0-9]+|" + _GROUPED % r"\." + "{2,}", digits):
        digits = digits.replace(".", "").replace(",", ".")
    elif re.fullmatch(r"[0-9]*,[0-9]+", digits):
        digits = digits.replace(",", ".")
    elif not re.fullmatch(r"[0-9]*\.?[0-9]+", digits):
        raise _UnreadableError(f"{digits} is not one number")
    if not digits.strip("0."):
        return Decimal(0)
    if not _SMALLEST <= float(digits + power) <= _LARGEST:
        raise _UnreadableError("the number is too large or too small for a measurement")
    return Decimal(sign + digits + power)


def _unit_key(unit: str) -> str:
    """Take blanks, full stops and power signs out of a unit; write "per" and degree signs plain."""
    unit = re.sub(r"\b(?:per|an)\b", "/", unit.replace("\u00b0", "deg"), flags=re.IGNORECASE)
    return re.sub(r"[\s.^]+|\*\*", "", unit)


def _known_units(dimension: Dimension) -> str:
    """List the units of a dimension as people spell them."""
    return ", ".join(
        spellings.split()[0].replace("_", " ") for spellings in dimension.spellings.values()
    )


def _unit(key: str, dimension: Dimension) -> str:
    """Return the unit that a spelling stands for."""
    folded = key.casefold()
    if key in dimension.cased:
        return dimension.cased[key]
    instead = dimension.refused.get(key) or dimension.refused.get(folded)
    if instead:
        raise _UnreadableError(f"{key} {instead}")
    if folded in _index(dimension):
        return _index(dimension)[folded]
    if re.match(r"(?:-|to|or|\.\.|/)?[0-9]", folded):
        raise _UnreadableError("it has more than one number. Give one number and one unit")
    shown = "".join(c if c.isprintable() else "?" for c in key[:20])
    raise _UnreadableError(
        f"{shown} is not a unit of {dimension.name} known here. Known: {_known_units(dimension)}"
    )


def _convert(number: Decimal, unit: str, dimension: Dimension) -> float:
    """Convert by the exact table where it has the unit, by pint where it has not."""
    if unit in dimension.exact:
        shift, multiplier, divisor = map(Decimal, dimension.exact[unit])
        value = (number + shift) * multiplier / divisor
    else:
        value = unit_registry().convert(number, unit, dimension.target)
    return float(value) + 0.0  # turns -0.0 into 0.0


def _check_ends(value: float, low: float, high: float, dimension: Dimension) -> None:
    """Refuse a value outside its ends; the ends themselves are accepted."""
    if dimension is TEMPERATURE and value < ABSOLUTE_ZERO_C:
        raise _UnreadableError(
            "nothing is colder than absolute zero (-273.15 C, -459.67 F, 0 K). "
            "Check the number, the sign and the unit"
        )
    if value < 0.0 and low == 0.0:
        raise _UnreadableError("it is below zero")
    if not low <= value <= high:
        side, end, most = ("below", low, "lowest") if value < low else ("above", high, "highest")
        raise _UnreadableError(
            f"it is {_both(value, dimension)}, {side} {_both(end, dimension)}, the {most} that "
            "makes sense here. Check the number and the unit"
        )


def _both(value: float, dimension: Dimension) -> str:
    """Say a value in the dimension's unit and, where that differs, in the usual US one."""
    unit = _index(dimension).get(dimension.us.casefold(), "")
    own = f"{value:.6g} {dimension.unit}"
    if unit not in dimension.exact or dimension.us == dimension.unit:
        return own
    shift, multiplier, divisor = map(float, dimension.exact[unit])
    return f"{own} ({value * divisor / multiplier - shift:.6g} {dimension.us})"


def parse_temperature(
    text: str,
    units: UnitSystem | None = None,
    *,
    low: float = PRODUCT_TEMPERATURE_C[0],
    high: float = PRODUCT_TEMPERATURE_C[1],
    what: str = "temperature",
) -> Measure:
    """Read a temperature, in degrees Celsius; the ends fit a product unless given."""
    return parse_quantity(text, TEMPERATURE, units, low=low, high=high, what=what)


def parse_air_temperature(
    text: str, units: UnitSystem | None = None, *, what: str = "air temperature"
) -> Measure:
    """Read an air temperature, in degrees Celsius, within what weather can be."""
    low, high = AIR_TEMPERATURE_C
    return parse_quantity(text, TEMPERATURE, units, low=low, high=high, what=what)


def parse_speed(text: str, units: UnitSystem | None = None, *, what: str = "") -> Measure:
    """Read a wind speed, in m/s; ``calm`` is 0."""
    return parse_quantity(text, SPEED, units, what=what)


def parse_percent(text: str, *, what: str = "") -> Measure:
    """Read a strength by mass, in percent; a bare number of at most 1 is refused as ambiguous."""
    measure = parse_quantity(text, PERCENT, "us", what=what)
    if measure.assumed_unit and measure.value <= 1.0:
        share, percent = f"{measure.value:.6g}%", f"{measure.value * 100:.6g}%"
        raise _refusal(
            text, PERCENT, what, f"it is ambiguous. Write {share} or {percent}, with the sign"
        )
    return measure


def parse_pressure(text: str, *, what: str = "") -> Measure:
    """Read an absolute pressure, in Pa; a bare number is refused, for no unit is usual."""
    return parse_quantity(text, PRESSURE, what=what)


def parse_volume(text: str, units: UnitSystem | None = None, *, what: str = "") -> Measure:
    """Read a volume, in m3; gallons, quarts, pints, cups and fluid ounces are US ones."""
    return parse_quantity(text, VOLUME, units, what=what)


def parse_length(text: str, units: UnitSystem | None = None, *, what: str = "") -> Measure:
    """Read a length, in m."""
    return parse_quantity(text, LENGTH, units, what=what)


def parse_mass(text: str, units: UnitSystem | None = None, *, what: str = "") -> Measure:
    """Read a mass, in kg."""
    return parse_quantity(text, MASS, units, what=what)


def parse_area(text: str, units: UnitSystem | None = None, *, what: str = "") -> Measure:
    """Read an area, in m2."""
    return parse_quantity(text, AREA, units, what=what)


def _check_number(value: float, what: str, low: float) -> None:
    if math.isnan(value) or not low <= value:
        raise UnitError(f"The {what} {value} cannot be shown: it has to be {low:g} or more.")


def format_temperature(celsius: float, units: UnitSystem) -> str:
    """Say a temperature in whole degrees: ``68 F`` or ``20 C``.

    Raises:
        UnitError: the number is not finite or is below absolute zero.
    """
    _check_number(celsius if math.isfinite(celsius) else math.nan, "temperature", ABSOLUTE_ZERO_C)
    return f"{round(celsius * 9 / 5 + 32)} F" if units == "us" else f"{round(celsius)} C"


def format_speed(m_s: float, units: UnitSystem) -> str:
    """Say a speed: ``5 mph`` or ``2.2 m/s``; one decimal below 10.

    Raises:
        UnitError: the number is not finite or is negative.
    """
    _check_number(m_s if math.isfinite(m_s) else math.nan, "wind speed", 0.0)
    value, unit = (m_s / 0.44704, "mph") if units == "us" else (m_s, "m/s")
    if 0.0 < value < 0.05:
        return f"under 0.1 {unit}"
    number = f"{value:.1f}".removesuffix(".0") if value < 9.95 else f"{value:.0f}"
    return f"{number} {unit}"


def format_duration_minutes(minutes: float) -> str:
    """Say a duration in words that claim no more precision than an estimate has.

    From 60 days only "months" is said, and from two years, or for ever, only "years".

    Raises:
        UnitError: the number is not a number or is negative.
    """
    _check_number(minutes, "duration", 0.0)
    if minutes < 1.0:
        return "under 1 min"
    if minutes >= 2 * 365 * 1440:
        return "years"
    whole, hours, days = round(minutes), round(minutes / 60), round(minutes / 1440)
    if whole < 60:
        return f"{whole} min"
    if whole < 600:
        return f"{whole // 60} h" + (f" {whole % 60} min" if whole % 60 else "")
    if hours < 48:
        return f"{hours} h"
    return f"{days} days" if days < 60 else "months"
