"""Read what somebody states of a chemical off a safety data sheet: ``NAME=VALUE``.

A value is a number with a unit, a range ("1-5 g/L"), one side of one ("<0.1 mmHg"), "miscible",
or yes, no or unknown for a hazard. A vapor pressure, solubility, density or viscosity may carry
its temperature ("@ 68 F"). Nothing that was typed is ever evaluated.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace

from recommender.chemicals.table import fact_dictionary
from recommender.dimensions import PRESSURE, TEMPERATURE, Dimension
from recommender.errors import StatedError, UnitError
from recommender.facts import Truth
from recommender.limit_units import AIR_SHARE, BY_UNIT, COUNTS, read_limit_value
from recommender.properties.stated_names import RIGHT, Named, find_property, plain_name
from recommender.properties.values import MISCIBLE_G_L
from recommender.units import parse_quantity, parse_temperature, show_typed

_LONGEST = 160
MG_M3 = "mg/m3"


@dataclass(frozen=True, slots=True)
class StatedValue:
    """One value or claim as somebody stated it.

    Attributes:
        fact: name of the fact.
        typed: the value as typed, printable and tidied.
        value: the number, in ``unit``; None for a claim.
        low, high: the ends where a range was stated.
        side: "below" or "above" where only one side was stated, else empty.
        temperature_c: where a temperature was stated.
        truth: the answer, for a claim.
    """

    fact: str
    typed: str
    value: float | None = None
    unit: str = ""
    low: float | None = None
    high: float | None = None
    side: str = ""
    temperature_c: float | None = None
    truth: Truth | None = None

    @property
    def name(self) -> str:
        """The property as people type it."""
        return plain_name(self.fact)


@dataclass(frozen=True, slots=True)
class Kind:
    """How the value of one property is read.

    Attributes:
        low, high: ends of sense; outside, a unit or a decimal point has slipped (judgement).
        example: right input, for messages.
        at: temperatures in C that may be stated with it; None where none may.
    """

    dimension: Dimension
    low: float
    high: float
    example: str
    at: tuple[float, float] | None = None


_MOLAR_MASS = Dimension(
    name="molar mass",
    unit="g/mol",
    target="gram/mole",
    example="'92.1 g/mol'",
    spellings={"gram/mole": "g/mol g/mole gm/mol Da", "kilogram/mole": "kg/mol"},
    exact={"gram/mole": ("0", "1", "1"), "kilogram/mole": ("0", "1000", "1")},
)
_PERCENT_OF_AIR = replace(
    AIR_SHARE,
    unit="%",
    target="percent",
    example="'1.4 %'",
    exact={"percent": ("0", "1", "1"), "ppm": ("0", "1", "10000"), "ppb": ("0", "1", "10000000")},
)
_MASS_IN_AIR = Dimension(
    name="mass in air",
    unit=MG_M3,
    target="milligram/meter**3",
    example="'250 mg/m3'",
    spellings={"mg": "mg/m3 mg/cum", "ug": "ug/m3", "g": "g/m3"},
    exact={"mg": ("0", "1", "1"), "ug": ("0", "1", "1000"), "g": ("0", "1000", "1")},
)
_KINEMATIC = "is a viscosity over a density. Multiply cSt by the specific gravity and write cP"
_VISCOSITY = replace(
    BY_UNIT["cP"], refused=dict.fromkeys(("cst", "st", "mm2/s", "m2/s", "ssu", "sus"), _KINEMATIC)
)
# Temperatures at which sheets give vapor pressures; what is stated warmer is read off a hot melt.
_AT_PRESSURE = (-100.0, 400.0)
_AT_ROOM = (15.0, 26.0)
KINDS: Mapping[str, Kind] = {
    "vapor_pressure": Kind(PRESSURE, 1e-8, 1e7, "'vapor pressure=0.5 mmHg @ 68 F'", _AT_PRESSURE),
    "water_solubility": Kind(
        BY_UNIT["g/L"], 1e-9, 10_000.0, "'solubility=12 g/L @ 68 F' or 'miscible'", (-10.0, 110.0)
    ),
    "boiling_point": Kind(TEMPERATURE, -270.0, 3000.0, "'boiling point=231 F'"),
    "melting_point": Kind(TEMPERATURE, -270.0, 3500.0, "'melting point=-139 F'"),
    "flash_point": Kind(TEMPERATURE, -150.0, 500.0, "'flash point=40 F'"),
    "molar_mass": Kind(_MOLAR_MASS, 2.0, 2000.0, "'molar mass=92.1 g/mol'"),
    "density": Kind(
        BY_UNIT["kg/m3"], 300.0, 25_000.0, "'specific gravity=0.87' or 'density=0.87 g/mL'",
        (-100.0, 400.0),
    ),
    "viscosity": Kind(_VISCOSITY, 0.01, 1e6, "'viscosity=100 cP'", _AT_ROOM),
    "lower_flammable_limit": Kind(_PERCENT_OF_AIR, 0.1, 100.0, "'LEL=1.4 %'"),
    "ionization_energy": Kind(BY_UNIT["eV"], 3.0, 25.0, "'ionization potential=8.8 eV'"),
    "idlh": Kind(AIR_SHARE, 1e-5, 1e6, "'IDLH=500 ppm' or 'IDLH=250 mg/m3'"),
    "dermal_ld50": Kind(BY_UNIT["mg/kg"], 0.001, 1e6, "'LD50 dermal=200 mg/kg'"),
    "dermal_category": Kind(COUNTS["GHS category"], 1.0, 5.0, "'dermal category=3'"),
}  # fmt: skip
# Words of a sheet, as (value, low, high) in g/L. "Insoluble" is said of anything up to about 1.
_WORDS_G_L: Mapping[str, tuple[float, float, float]] = {
    **dict.fromkeys(
        ("miscible", "fully miscible", "completely miscible", "complete", "fully soluble"),
        (MISCIBLE_G_L, MISCIBLE_G_L, MISCIBLE_G_L),
    ),
    **dict.fromkeys(
        ("insoluble", "practically insoluble", "immiscible", "negligible"), (0.1, 1e-4, 1.0)
    ),
}
_TRUTHS = {"yes": Truth.YES, "no": Truth.NO, "unknown": Truth.UNKNOWN}

_TYPED = re.compile(r"(?P<name>[^=<>\u2264\u2265]*)(?P<value>[=<>\u2264\u2265].*)", re.DOTALL)
_AT = re.compile(r"(?P<value>[^@]*?)\s*(?:@|\bat\b)\s*(?P<at>.*)", re.IGNORECASE)
_ABOUT = re.compile(r"(?:about|approximately|approx\.?|circa|ca\.?|~|\u2248)\s*", re.IGNORECASE)
_SIDE = re.compile(
    r"(?:(?P<below><=?|\u2264|less than\b|below\b|under\b|up to\b|at most\b)"
    r"|(?P<above>>=?|\u2265|greater than\b|more than\b|above\b|over\b|at least\b))\s*",
    re.IGNORECASE,
)
_NUMBER = r"(?>[-+]?[0-9.,]*[0-9](?:e[-+]?[0-9]+)?)"
_RANGE = re.compile(
    rf"(?P<low>{_NUMBER})\s*(?P<first>[^0-9<>]*?)\s*(?:-|\bto\b|(?<=[0-9])to\b|\.\.+)\s*"
    rf"(?P<high>{_NUMBER})\s*(?P<unit>[^0-9\s].*)",
    re.IGNORECASE,
)
_DASHES = str.maketrans(dict.fromkeys("\u2010\u2011\u2012\u2013\u2014\u2212", "-"))


def parse_stated(text: str) -> StatedValue:
    """Read one statement, such as ``vapor pressure=0.5 mmHg @ 68 F`` or ``skin notation=yes``.

    Raises:
        StatedError: it names no property, or the value cannot be used; the message names both,
            says why and shows the right form.
    """
    if not isinstance(text, str) or len(text) > _LONGEST:
        raise StatedError(f"{show_typed(text)} cannot be stated: it is not a short text. {RIGHT}")
    found = _TYPED.fullmatch(text.strip())
    if not found or not found["name"].strip():
        raise StatedError(f"{show_typed(text)} states nothing: write NAME=VALUE. {RIGHT}")
    named = find_property(found["name"].strip(), text)
    value = " ".join(found["value"].translate(_DASHES).removeprefix("=").split())
    typed = "".join(c if c.isprintable() else "?" for c in value)
    if fact_dictionary()[named.fact].kind == "claim":
        return _claim(named, typed)
    return _number(named, typed)


def _refuse(named: Named, typed: str, why: str, example: str) -> StatedError:
    return StatedError(
        f"The {plain_name(named.fact)} {show_typed(typed)} cannot be used: {why}. Right: {example}."
    )


def _claim(named: Named, typed: str) -> StatedValue:
    truth = _TRUTHS.get(typed.casefold())
    if truth is None:
        why = "it is answered with yes, no or unknown"
        raise _refuse(named, typed, why, f"'{named.shown}=unknown'")
    return StatedValue(named.fact, truth.value, truth=truth)


def _number(named: Named, typed: str) -> StatedValue:
    kind = KINDS[named.fact]
    text, at = _temperature(named, typed, kind)
    if named.fact == "water_solubility" and text.casefold() in _WORDS_G_L:
        value, low, high = _WORDS_G_L[text.casefold()]
        return StatedValue(named.fact, typed, value, "g/L", low, high, "", at)
    text = _ABOUT.sub("", text, count=1) if _ABOUT.match(text) else text
    sided = _SIDE.match(text)
    if sided:
        side = "below" if sided["below"] else "above"
        value, unit = _read(named, typed, text[sided.end() :], kind)
        found = StatedValue(named.fact, typed, value, unit, side=side, temperature_c=at)
    else:
        found = _range(named, typed, text, kind, at)
    if named.fact == "dermal_category" and (found.side or found.low is not None):
        raise _refuse(named, typed, "it is one number", kind.example)
    return found


def _range(named: Named, typed: str, text: str, kind: Kind, at: float | None) -> StatedValue:
    """Read a range, or else a single value."""
    ends = _RANGE.fullmatch(text)
    if not ends:
        value, unit = _read(named, typed, text, kind)
        return StatedValue(named.fact, typed, value, unit, temperature_c=at)
    low, unit = _read(named, typed, f"{ends['low']} {ends['first'] or ends['unit']}", kind)
    high, other = _read(named, typed, f"{ends['high']} {ends['unit']}", kind)
    if unit != other or low > high:
        raise _refuse(named, typed, "the ends of the range are the wrong way around", kind.example)
    middle = (low + high) / 2.0 if kind.dimension is TEMPERATURE else (low * high) ** 0.5
    middle = min(max(middle, low), high)
    return StatedValue(named.fact, typed, middle, unit, low, high, "", at)


def _temperature(named: Named, typed: str, kind: Kind) -> tuple[str, float | None]:
    """Take a temperature off the end."""
    found = _AT.fullmatch(typed)
    if not found:
        return typed, None
    if kind.at is None:
        raise _refuse(named, typed, "no '@' is taken with it", kind.example)
    try:
        at = parse_temperature(found["at"], what="temperature after '@'").value
    except UnitError as problem:
        raise _refuse(named, typed, str(problem).rstrip("."), kind.example) from None
    if not kind.at[0] <= at <= kind.at[1]:
        why = f"a temperature of {round(at, 1):g} C is outside {kind.at[0]:g} to {kind.at[1]:g} C"
        if named.fact == "viscosity":
            why += "; a liquid is thicker when colder, so write what was measured hot as '>50 cP'"
        raise _refuse(named, typed, why, kind.example)
    return found["value"], at


def _read(named: Named, typed: str, text: str, kind: Kind) -> tuple[float, str]:
    """Read one number and its unit, within the ends of sense."""
    if named.unit and re.fullmatch(rf"\s*{_NUMBER}\s*", text):
        text = f"{text} {named.unit}"
    try:
        value, unit = _convert(named.fact, text, kind)
    except UnitError as problem:
        why = str(problem).partition(" cannot be used: ")[2].partition(" Right: ")[0].rstrip(".")
        raise _refuse(named, typed, why or "it cannot be read", kind.example) from None
    if value == 0.0 and kind.low > 0.0:
        least = "nothing has none; write the smallest that the sheet could mean, as '<0.01 ...'"
        raise _refuse(named, typed, least, kind.example)
    if not kind.low <= value <= kind.high:
        why = (
            f"it is {value:.6g} {unit}, outside {kind.low:g} to {kind.high:g} {unit}; check the "
            "number and the unit"
        )
        raise _refuse(named, typed, why, kind.example)
    return value, unit


def _convert(fact: str, text: str, kind: Kind) -> tuple[float, str]:
    """Return the value in the unit of the kind, or an IDLH by mass in mg/m3."""
    if fact == "idlh":
        try:
            return parse_quantity(text, AIR_SHARE).value, AIR_SHARE.unit
        except UnitError:
            if "/" not in text:
                raise
            return parse_quantity(text, _MASS_IN_AIR).value, MG_M3
    dimension = kind.dimension
    if BY_UNIT.get(dimension.unit) is dimension:
        return read_limit_value(text, dimension.unit, what="value"), dimension.unit
    return parse_quantity(text, dimension, low=dimension.low).value, dimension.unit
