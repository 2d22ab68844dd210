"""Read the value of a limit as people write it, in any unit that can be converted to its own.

The usual spellings stand in tables, as in ``dimensions``. Any other unit of the same kind is read
by ``pint``, which is loaded on first need; what was typed is matched against a short pattern
first and never evaluated. Words that can be read in two ways are refused.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal

from recommender.dimensions import (
    AREA,
    LENGTH,
    MASS,
    PRESSURE,
    SPEED,
    TEMPERATURE,
    VOLUME,
    Dimension,
)
from recommender.errors import UnitError
from recommender.units import UnitSystem, parse_quantity, unit_registry

_MINUTES_OR_METERS = "can be minutes, meters or months. Write min, h or d"
TIME = Dimension(
    name="time",
    unit="min",
    target="minute",
    example="'10 min', '600 s' or '24 h'",
    spellings={
        "minute": "min mins minute minutes",
        "second": "s sec secs second seconds",
        "hour": "h hr hrs hour hours",
        "day": "d day days",
        "week": "week weeks",
    },
    exact={
        "minute": ("0", "1", "1"),
        "second": ("0", "1", "60"),
        "hour": ("0", "60", "1"),
        "day": ("0", "1440", "1"),
        "week": ("0", "10080", "1"),
    },
    refused={"m": _MINUTES_OR_METERS, "mo": _MINUTES_OR_METERS},
)
_PER_VOLUME = {
    "gram/liter": "g/L gm/L gram/liter grams/liter",
    "milligram/liter": "mg/L",
    "milligram/milliliter": "mg/mL",
    "gram/deciliter": "g/100mL g/dL",
    "gram/milliliter": "g/mL g/cc",
    "gram/centimeter**3": "g/cm3",
    "kilogram/liter": "kg/L",
    "kilogram/meter**3": "kg/m3",
    "pound/foot**3": "lb/ft3 lbs/ft3",
    "pound/gallon": "lb/gal lbs/gal",
    "ounce/gallon": "oz/gal",
}
_SHARE = "can be by mass or by volume. Write it in g/L"
CONCENTRATION = Dimension(
    name="mass per volume",
    unit="g/L",
    target="gram/liter",
    example="'12 g/L', '500 mg/L' or '0.1 lb/gal'",
    spellings=_PER_VOLUME,
    refused=dict.fromkeys(("%", "percent", "ppm", "ppb"), _SHARE),
)
DENSITY = replace(
    CONCENTRATION,
    name="density",
    unit="kg/m3",
    target="kilogram/meter**3",
    example="'1000 kg/m3', '1.2 g/mL' or '8.3 lb/gal'",
)
VISCOSITY = Dimension(
    name="viscosity",
    unit="cP",
    target="centipoise",
    example="'100 cP', '100 mPa s' or '1 P'",
    spellings={
        "centipoise": "cP cPs centipoise",
        "poise": "P poise",
        "pascal*second": "Pa_s Pa*s Pa\u00b7s Pa-s",
    },
    cased=dict.fromkeys(("mPas", "mPa*s", "mPa·s", "mPa-s"), "millipascal*second"),
)
DOSE = Dimension(
    name="dose",
    unit="mg/kg",
    target="milligram/kilogram",
    example="'200 mg/kg' or '0.2 g/kg'",
    spellings={
        "milligram/kilogram": "mg/kg mg/kgbw",
        "gram/kilogram": "g/kg",
        "microgram/kilogram": "ug/kg",
    },
)
LOAD = Dimension(
    name="mass per area",
    unit="mg/cm2",
    target="milligram/centimeter**2",
    example="'4 mg/cm2' or '40 g/m2'",
    spellings={
        "milligram/centimeter**2": "mg/cm2",
        "gram/centimeter**2": "g/cm2",
        "gram/meter**2": "g/m2 gsm",
        "milligram/meter**2": "mg/m2",
        "kilogram/meter**2": "kg/m2",
        "ounce/foot**2": "oz/ft2 oz/sqft",
        "ounce/yard**2": "oz/yd2 oz/sqyd",
        "pound/foot**2": "lb/ft2 lb/sqft",
    },
)
AIR_SHARE = Dimension(
    name="share of the air by volume",
    unit="ppm",
    target="ppm",
    example="'100 ppm' or '0.01 %'",
    spellings={"ppm": "ppm ppmv parts/million", "ppb": "ppb ppbv", "percent": "% vol% %vol"},
    exact={"ppm": ("0", "1", "1"), "ppb": ("0", "1", "1000"), "percent": ("0", "10000", "1")},
)
ENERGY = Dimension(
    name="energy",
    unit="eV",
    target="electron_volt",
    example="'10.6 eV'",
    spellings={"electron_volt": "eV electronvolt electronvolts"},
    exact={"electron_volt": ("0", "1", "1")},
)
MOLAR_ENERGY = Dimension(
    name="energy per mole",
    unit="J/mol",
    target="joule/mole",
    example="'45000 J/mol', '45 kJ/mol' or '10.8 kcal/mol'",
    spellings={
        "joule/mole": "J/mol J/mole",
        "kilojoule/mole": "kJ/mol kJ/mole",
        "calorie/mole": "cal/mol cal/mole",
        "kilocalorie/mole": "kcal/mol kcal/mole",
    },
)
DIFFERENCE = Dimension(
    name="temperature difference",
    unit="K",
    target="kelvin",
    example="'10 K', '10 C' or '18 F' (of difference)",
    spellings={"kelvin": "K C degC degreesC kelvins", "fahrenheit": "F degF degreesF"},
    exact={"kelvin": ("0", "1", "1"), "fahrenheit": ("0", "5", "9")},
)
PER_KELVIN = Dimension(
    name="share per kelvin",
    unit="1/K",
    target="1/kelvin",
    example="'0.01 /K' or '1 %/K'",
    spellings={"one": "/K 1/K /C 1/C /degC 1/degC", "percent": "%/K %/C %/degC"},
    exact={"one": ("0", "1", "1"), "percent": ("0", "1", "100")},
)
FACTOR = Dimension(
    name="number",
    unit="1",
    target="dimensionless",
    example="0.85 or '85 %'",
    spellings={"one": "x times fold", "percent": "% percent"},
    exact={"one": ("0", "1", "1"), "percent": ("0", "1", "100")},
    us="x",
)
LOWER_LIMIT_SHARE = Dimension(
    name="share of the lower limit",
    unit="% of lower limit",
    target="percent",
    example="10 or '10 %'",
    spellings={"percent": "% percent %LEL %LFL %oflowerlimit %ofthelowerlimit"},
    exact={"percent": ("0", "1", "1")},
    us="%",
)


def _count(unit: str, spellings: str) -> Dimension:
    """A kind of thing that is counted in whole numbers."""
    return Dimension(
        name=f"number of {spellings.split()[0]}",
        unit=unit,
        target="dimensionless",
        example=f"2 or '2 {spellings.split()[0]}'",
        spellings={"one": spellings},
        exact={"one": ("0", "1", "1")},
        us=spellings.split()[0],
    )


COUNTS: Mapping[str, Dimension] = {
    "positions": _count("positions", "positions position stations station"),
    "people": _count("people", "people persons person"),
    "towels": _count("towels", "towels towel wipes wipe"),
    "GHS category": _count("GHS category", "category categories cat GHScategory"),
}


def _in_unit(dimension: Dimension, unit: str, target: str, example: str) -> Dimension:
    """The same kind of quantity, read in another unit; its exact factors no longer hold."""
    own = replace(dimension, unit=unit, target=target, example=example, exact={}, us="", si="")
    return _own_exact(own)


def _own_exact(dimension: Dimension) -> Dimension:
    """The same, its own unit read without pint, which takes longer to load than a plan to make."""
    return replace(dimension, exact={dimension.target: ("0", "1", "1")})


BY_UNIT: Mapping[str, Dimension] = {
    **{d.unit: d for d in (TIME, AIR_SHARE, ENERGY, PER_KELVIN, FACTOR, LOWER_LIMIT_SHARE)},
    **{
        d.unit: _own_exact(d) for d in (CONCENTRATION, DENSITY, VISCOSITY, DOSE, LOAD, MOLAR_ENERGY)
    },
    DIFFERENCE.unit: DIFFERENCE,
    **COUNTS,
    "degC": TEMPERATURE,
    "m/s": SPEED,
    "m": LENGTH,
    "kg": MASS,
    "mm": _in_unit(LENGTH, "mm", "millimeter", "'0.1 mm' or '0.004 in'"),
    "cm2": _in_unit(AREA, "cm2", "centimeter**2", "'1000 cm2' or '155 sq in'"),
    "gal": _in_unit(VOLUME, "gal", "gallon", "'30 gal' or '110 L'"),
}
# Kinds whose own unit a bare number in quotes is taken in: they have no other.
_PLAIN = (FACTOR, LOWER_LIMIT_SHARE, *COUNTS.values())
# Kinds in which pint may read a unit that no table spells: no temperatures (they have a zero) and
# nothing without dimensions (any share would pass for any other).
_OPEN = (TIME, CONCENTRATION, DENSITY, VISCOSITY, LOAD, ENERGY, MOLAR_ENERGY, SPEED, LENGTH, MASS)
_IS_OPEN = {d.unit for d in _OPEN} | {"mm", "cm2", "gal"}
_TWO_WAYS = frozenset(
    word.casefold()
    for dimension in (LENGTH, MASS, VOLUME, PRESSURE, TIME)
    for word in dimension.refused
)
_WORD = r"[A-Za-z]{1,24}"
_TERM = rf"{_WORD}(?:\s*(?:\^|\*\*)?\s*[1-3])?"
_TYPED = re.compile(
    rf"\s*(?P<number>\+?[0-9]{{1,15}}(?:\.[0-9]{{1,15}})?(?:[eE][-+]?[0-9]{{1,2}})?)"
    rf"\s*(?P<unit>{_TERM}(?:\s*[*/\s]\s*{_TERM}){{0,3}})\s*"
)


def _by_pint(text: str, dimension: Dimension) -> float | None:
    """Read a unit that no table spells; None where it is not one of the same kind."""
    found = _TYPED.fullmatch(text)
    if not found or dimension.unit not in _IS_OPEN:
        return None
    if any(word.casefold() in _TWO_WAYS for word in re.findall(_WORD, found["unit"])):
        return None
    unit = re.sub(rf"({_WORD})\s*(?:\^|\*\*)?\s*([1-3])", r"\1**\2", found["unit"])
    from pint import PintError

    try:
        value = unit_registry().convert(Decimal(found["number"]), unit, dimension.target)
    except (PintError, ArithmeticError, ValueError, TypeError, AttributeError):
        return None
    return float(value)


def read_limit_value(typed: str | float, unit: str, *, what: str) -> float:
    """Return the value of a limit in its own unit.

    Args:
        typed: text with a unit, or a number that is in the limit's own unit.
        unit: the limit's unit, as in the table of limits.
        what: what messages call the value.

    Raises:
        UnitError: the text is not one number and one unit of the same kind, or a count that is
            not whole.
    """
    dimension = BY_UNIT[unit]
    value = float(typed) if not isinstance(typed, str) else _read_text(typed, dimension, what)
    if unit in COUNTS and not value.is_integer():
        raise UnitError(f"The {what} {value:g} cannot be used: {unit} are whole numbers.")
    return float(f"{value:.12g}")


def _read_text(text: str, dimension: Dimension, what: str) -> float:
    units: UnitSystem | None = "us" if dimension in _PLAIN else None
    try:
        return parse_quantity(text, dimension, units, what=what).value
    except UnitError:
        value = _by_pint(text, dimension)
        if value is None:
            raise
        return value
