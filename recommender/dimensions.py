"""The kinds of quantity people type: spellings, exact factors and ends, as plain tables.

Factors: A. Thompson and B. N. Taylor, Guide for the Use of the International System of Units,
NIST Special Publication 811 (2008), appendix B.8. A factor marked exact is exact by definition.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field

ABSOLUTE_ZERO_C = -273.15
# Weather on record lies between -89.2 C (Vostok, 1983) and 56.7 C (Death Valley, 1913); World
# Meteorological Organization, archive of weather and climate extremes (memory). The ends below
# leave room around it (judgement).
AIR_TEMPERATURE_C = (-90.0, 70.0)
# From absolute zero to hotter than any molten product in transport (judgement).
PRODUCT_TEMPERATURE_C = (ABSOLUTE_ZERO_C, 2500.0)
# Far stronger than any wind in which people could work in suits (judgement).
HIGHEST_WIND_M_S = 60.0


@dataclass(frozen=True, slots=True, eq=False)
class Dimension:
    """A kind of quantity: how it is spelled, converted and bounded.

    Attributes:
        name: what messages call it.
        unit: unit of the values read.
        target: the same unit as ``pint`` names it.
        example: right input, for messages.
        spellings: unit (as ``pint`` names it) to its spellings, the one shown to people first.
            Case, blanks and full stops do not matter; _ stands for a blank to show.
        exact: unit to (shift, multiplier, divisor), where
            value = (number + shift) * multiplier / divisor.
        us: unit taken for a bare number in US units, as spelled; empty for none.
        si: the same in SI units.
        low: lowest value in sense.
        high: highest value in sense.
        zero_is_plain: whether a bare 0 means the same in every unit.
        cased: spellings in which the case of a letter matters.
        refused: spellings that can be read in two ways, with what to write instead.
        bare_words: words that add nothing to a number, such as "degrees".
        words: words that stand for a whole quantity, such as "calm".
    """

    name: str
    unit: str
    target: str
    example: str
    spellings: Mapping[str, str]
    exact: Mapping[str, tuple[str, str, str]] = field(default_factory=dict)
    us: str = ""
    si: str = ""
    low: float = 0.0
    high: float = math.inf
    zero_is_plain: bool = True
    cased: Mapping[str, str] = field(default_factory=dict)
    refused: Mapping[str, str] = field(default_factory=dict)
    bare_words: tuple[str, ...] = ()
    words: Mapping[str, float] = field(default_factory=dict)


TEMPERATURE = Dimension(
    name="temperature",
    unit="C",
    target="degree_Celsius",
    example="'75 F', '24 C' or '297 K'",
    spellings={
        "degree_Fahrenheit": "F degF degreeF degreesF Fahrenheit degFahrenheit degreesFahrenheit",
        "degree_Celsius": "C degC degreeC degreesC Celsius degCelsius degreesCelsius centigrade",
        "kelvin": "K degK kelvin kelvins",
    },
    exact={
        "degree_Fahrenheit": ("-32", "5", "9"),
        "degree_Celsius": ("0", "1", "1"),
        "kelvin": ("-273.15", "1", "1"),
    },
    us="F",
    si="C",
    low=PRODUCT_TEMPERATURE_C[0],
    high=PRODUCT_TEMPERATURE_C[1],
    zero_is_plain=False,
    bare_words=("deg", "degree", "degrees"),
)

SPEED = Dimension(
    name="wind speed",
    unit="m/s",
    target="meter/second",
    example="'5 mph', '8 kt', '10 km/h', '3 m/s' or 'calm'",
    spellings={
        "mile/hour": "mph mi/h mi/hr mile/h mile/hour miles/h miles/hr miles/hour",
        "knot": "kt kts kn knot knots",
        "kilometer/hour": "km/h km/hr kmh kmph kph kilometer/hour kilometers/hour kilometres/hour",
        "meter/second": "m/s m/sec ms-1 meter/second meters/second metres/second",
        "foot/second": "ft/s ft/sec fps foot/second feet/second",
        "foot/minute": "ft/min fpm foot/minute feet/minute",
    },
    exact={
        "mile/hour": ("0", "0.44704", "1"),  # exact, SP 811
        "knot": ("0", "1852", "3600"),  # the international nautical mile is 1852 m exactly
        "kilometer/hour": ("0", "1000", "3600"),
        "meter/second": ("0", "1", "1"),
        "foot/second": ("0", "0.3048", "1"),  # exact, SP 811
        "foot/minute": ("0", "0.3048", "60"),
    },
    us="mph",
    si="m/s",
    high=HIGHEST_WIND_M_S,
    words={"calm": 0.0, "no wind": 0.0, "still": 0.0},
)

_VOLUME_SHARES = (
    *("vol%", "%vol", "volume%", "%volume", "%byvolume", "percentbyvolume", "abv", "%abv"),
    *("v%", "%v", "v/v%", "%v/v", "%(v/v)", "w/v%", "%w/v", "%(w/v)", "ppmv"),
)
_BY_VOLUME = "is not a share by mass. Convert it, or write the strength by mass the SDS gives"
PERCENT = Dimension(
    name="strength",
    unit="%",
    target="percent",
    example="'37%', '37 wt%' or '5000 ppm'",
    spellings={
        "percent": "% percent pct /cent wt% %wt w% %w w/w% %w/w %(w/w) mass% %mass weight% %weight "
        "%byweight %bymass percentbyweight percentbymass",
        "ppm": "ppm parts/million",
    },
    exact={"percent": ("0", "1", "1"), "ppm": ("0", "1", "10000")},
    us="%",
    si="%",
    high=100.0,
    refused=dict.fromkeys(_VOLUME_SHARES, _BY_VOLUME),
)

_GAUGE = "is a gauge pressure, counted from the air's. Add the air's and write psia or kPa"
PRESSURE = Dimension(
    name="pressure",
    unit="Pa",
    target="pascal",
    example="'20 mmHg', '2.7 kPa' or '0.4 psi' (absolute)",
    spellings={
        "mmHg": "mmHg mmofHg",
        "torr": "torr",
        "pascal": "Pa pascal pascals",
        "hectopascal": "hPa",
        "kilopascal": "kPa kilopascal kilopascals",
        "bar": "bar bars bara",
        "millibar": "mbar mb millibar millibars",
        "standard_atmosphere": "atm atmosphere atmospheres",
        "psi": "psi psia lb/in2 lbf/in2 lbs/in2",
        "inch_Hg": "inHg inofHg inchesofmercury",
    },
    exact={
        "mmHg": ("0", "133.322387415", "1"),  # conventional millimeter of mercury
        "torr": ("0", "101325", "760"),
        "pascal": ("0", "1", "1"),
        "hectopascal": ("0", "100", "1"),
        "kilopascal": ("0", "1000", "1"),
        "bar": ("0", "100000", "1"),
        "millibar": ("0", "100", "1"),
        "standard_atmosphere": ("0", "101325", "1"),
        "psi": ("0", "4.4482216152605", "0.00064516"),  # pound-force over square inch, exact
    },
    cased={"MPa": "megapascal", "mPa": "millipascal"},
    refused={"mpa": "can be MPa or mPa. Write it in kPa or Pa", "psig": _GAUGE, "barg": _GAUGE},
)

_DRUM = "has no one size. Write the volume in gal or L"
VOLUME = Dimension(
    name="volume",
    unit="m3",
    target="meter**3",
    example="'50 gal', '16 fl oz' or '200 L'",
    spellings={
        "gallon": "gal gals gallon gallons usgal usgallon usgallons",
        "liter": "L liter liters litre litres",
        "milliliter": "mL cc cm3 milliliter milliliters millilitre millilitres",
        "quart": "qt qts quart quarts",
        "pint": "pt pts pint pints",
        "cup": "cup cups",
        "fluid_ounce": "fl_oz fluidounce fluidounces usfloz",
        "tablespoon": "tbsp tablespoon tablespoons",
        "teaspoon": "tsp teaspoon teaspoons",
        "foot**3": "ft3 cuft cubicfoot cubicfeet",
        "meter**3": "m3 cubicmeter cubicmeters cubicmetre cubicmetres",
        "imperial_gallon": "imp_gal imperialgallon imperialgallons",
    },
    exact={"gallon": ("0", "0.003785411784", "1"), "liter": ("0", "1", "1000")},
    us="gal",
    si="L",
    refused={
        **dict.fromkeys(("oz", "ounce", "ounces"), "can be a weight. For a volume write 'fl oz'"),
        **dict.fromkeys(("bbl", "barrel", "barrels", "drum", "drums"), _DRUM),
        "ML": "is a million liters. Write mL or L",
    },
)

LENGTH = Dimension(
    name="length",
    unit="m",
    target="meter",
    example="'12 ft', '6 ft 2 in' or '3.5 m'",
    spellings={
        "foot": "ft foot feet '",
        "inch": "in inch inches \" ''",
        "yard": "yd yds yard yards",
        "mile": "mi mile miles",
        "meter": "m meter meters metre metres",
        "centimeter": "cm centimeter centimeters centimetre centimetres",
        "millimeter": "mm millimeter millimeters millimetre millimetres",
        "kilometer": "km kilometer kilometers kilometre kilometres",
        "micrometer": "um micron microns micrometer micrometers",
    },
    exact={"foot": ("0", "0.3048", "1"), "inch": ("0", "0.0254", "1"), "meter": ("0", "1", "1")},
    us="ft",
    si="m",
    refused=dict.fromkeys(("mil", "mils"), "can be 0.001 in or 1 mm. Write it in in or mm"),
)

_TON = "can be 2000 lb, 2240 lb or 1000 kg. Write 'short ton', 'metric ton', or the pounds"
MASS = Dimension(
    name="mass",
    unit="kg",
    target="kilogram",
    example="'150 lb', '8 oz' or '70 kg'",
    spellings={
        "pound": "lb lbs pound pounds",
        "ounce": "oz ounce ounces",
        "kilogram": "kg kgs kilogram kilograms",
        "gram": "g gram grams",
        "milligram": "mg milligram milligrams",
        "metric_ton": "metric_ton t tonne tonnes metrictons",
        "short_ton": "short_ton shorttons uston ustons",
    },
    exact={"pound": ("0", "0.45359237", "1"), "kilogram": ("0", "1", "1")},
    us="lb",
    si="kg",
    refused={"ton": _TON, "tons": _TON, "Mg": "is a million grams. Write mg, kg or metric ton"},
)

AREA = Dimension(
    name="area",
    unit="m2",
    target="meter**2",
    example="'200 sq ft' or '20 m2'",
    spellings={
        "foot**2": "ft2 sqft squarefoot squarefeet",
        "meter**2": "m2 sqm squaremeter squaremeters squaremetre squaremetres",
        "inch**2": "in2 sqin squareinch squareinches",
        "centimeter**2": "cm2 sqcm squarecentimeter squarecentimeters squarecentimetres",
        "yard**2": "yd2 sqyd squareyard squareyards",
        "acre": "acre acres",
        "hectare": "ha hectare hectares",
    },
    exact={"foot**2": ("0", "0.09290304", "1"), "meter**2": ("0", "1", "1")},
    us="ft2",
    si="m2",
)
