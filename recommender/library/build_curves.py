"""Vapor pressure curves: every coefficient set of the installed packages, with its own range."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any
from xml.etree import ElementTree

from recommender.library.build_read import cas_number, number, read_json, read_rows, read_text

LIQUID, SOLID = "liquid", "solid"
_FOLDER = "Vapor Pressure/"
Pressure = Callable[[float], float]


@dataclass(frozen=True, slots=True)
class Curve:
    """One published set of coefficients.

    Attributes:
        family: sets of one family copy from each other and count as one voice.
        pressure: pascal from kelvin. Trust it between the two ends only.
        low_k, high_k: the range it was fitted to.
    """

    source: str
    family: str
    phase: str
    low_k: float
    high_k: float
    pressure: Pressure
    package: str = "chemicals"

    def at(self, temperature_k: float) -> float | None:
        """Return the pressure in pascal, or None where the equation gives none."""
        try:
            pressure = self.pressure(temperature_k)
        except (ArithmeticError, ValueError, TypeError):
            return None
        if isinstance(pressure, complex) or not math.isfinite(pressure) or pressure <= 0:
            return None
        return float(pressure)


Curves = Mapping[int, list[Curve]]


def _numbers(row: Mapping[str, Any], *columns: str) -> tuple[float, ...] | None:
    values = tuple(number(row[column]) for column in columns)
    return None if any(v is None for v in values) else tuple(v for v in values if v is not None)


def _antoine(a: float, b: float, c: float, base: float) -> Pressure:
    """log P = A - B/(T + C); nothing at or below the pole."""

    def pressure(temperature_k: float) -> float:
        if temperature_k + c <= 0:
            return math.nan
        return float(base ** (a - b / (temperature_k + c)))

    return pressure


def _antoine_curves() -> Iterator[tuple[int, Curve]]:
    for path, source, family, phase, base in (
        ("Antoine Collection Poling.tsv", "Poling Antoine", "poling", LIQUID, 10.0),
        ("Landolt_antoine_V20.tsv", "Landolt-Bornstein", "landolt", LIQUID, math.e),
        (
            "Landolt_antoine_sublimation_V20.tsv",
            "Landolt-Bornstein sublimation",
            "landolt",
            SOLID,
            math.e,
        ),
    ):
        columns = ("A", "B", "C", "Tmin", "Tmax")
        for row in read_rows("chemicals", _FOLDER + path, columns):
            cas, values = cas_number(row["CAS"]), _numbers(row, *columns)
            if cas is not None and values is not None:
                a, b, c, low, high = values
                yield cas, Curve(source, family, phase, low, high, _antoine(a, b, c, base))
    columns = ("AntoineA", "AntoineB", "AntoineC", "AntoineTmin", "AntoineTmax")
    for row in read_rows("chemicals", "Misc/webbook_constants.tsv", columns):
        cas, values = cas_number(row["CAS"]), _numbers(row, *columns)
        if cas is not None and values is not None:
            a, b, c, low, high = values
            pressure = _antoine(a, b, c, math.e)
            yield cas, Curve("WebBook Antoine", "webbook", LIQUID, low, high, pressure)


def _bound(equation: Callable[..., float], *coefficients: float) -> Pressure:
    return lambda temperature_k: equation(temperature_k, *coefficients)


def _wagner_curves() -> Iterator[tuple[int, Curve]]:
    from chemicals.vapor_pressure import TRC_Antoine_extended, Wagner, Wagner_original

    path = _FOLDER + "Wagner Original McGarry.tsv"
    columns = ("Tc", "Pc", "A", "B", "C", "D", "Tmin")
    for row in read_rows("chemicals", path, columns):
        cas, values = cas_number(row["CAS"]), _numbers(row, *columns)
        if cas is not None and values is not None:
            equation = _bound(Wagner_original, *values[:6])
            yield cas, Curve("McGarry", "mcgarry", LIQUID, values[6], values[0], equation)
    for path, source, family, low in (
        ("Wagner Collection Poling.tsv", "Poling Wagner", "poling", "Tmin"),
        ("VDI PPDS Boiling temperatures at different pressures.tsv", "VDI", "vdi", "Tm"),
    ):
        columns = ("Tc", "Pc", "A", "B", "C", "D", low)
        for row in read_rows("chemicals", _FOLDER + path, columns):
            # Ten rows of one table give no lower end: without one they cannot be trusted.
            cas, values = cas_number(row["CAS"]), _numbers(row, *columns)
            if cas is not None and values is not None:
                equation = _bound(Wagner, *values[:6])
                yield cas, Curve(source, family, LIQUID, values[6], values[0], equation)
    path = _FOLDER + "Antoine Extended Collection Poling.tsv"
    extended = ("Tc", "to", "A", "B", "C", "n", "E", "F", "Tmin", "Tmax")
    for row in read_rows("chemicals", path, extended):
        cas, values = cas_number(row["CAS"]), _numbers(row, *extended)
        if cas is not None and values is not None:
            equation = _bound(TRC_Antoine_extended, *values[:8])
            yield cas, Curve("Poling extended", "poling", LIQUID, values[8], values[9], equation)


def _equation_101_curves() -> Iterator[tuple[int, Curve]]:
    from chemicals.dippr import EQ101

    for path, source, family, phase, names in (
        (
            "Table 2-8 Vapor Pressure of Inorganic and Organic Liquids.tsv",
            "Perry",
            "dippr",
            LIQUID,
            ("C1", "C2", "C3", "C4", "C5"),
        ),
        (
            "Alcock_Itkin_Horrigan_metalic_elements.tsv",
            "Alcock",
            "alcock",
            LIQUID,
            ("A", "B", "C", "D", "E"),
        ),
        (
            "Alcock_Itkin_Horrigan_metalic_elements_sublimation.tsv",
            "Alcock sublimation",
            "alcock",
            SOLID,
            ("A", "B", "C", "D", "E"),
        ),
    ):
        columns = (*names, "Tmin", "Tmax")
        for row in read_rows("chemicals", _FOLDER + path, columns):
            cas, values = cas_number(row["CAS"]), _numbers(row, *columns)
            if cas is not None and values is not None:
                equation = _bound(EQ101, *values[:5])
                yield cas, Curve(source, family, phase, values[5], values[6], equation)
    yield from _chemsep_curves(EQ101)


def _chemsep_curves(equation_101: Callable[..., float]) -> Iterator[tuple[int, Curve]]:
    root = ElementTree.fromstring(read_text("chemicals", "Misc/ChemSep8.32.xml"))
    for compound in root.iter("compound"):
        entry = compound.find("VaporPressure")
        cas_entry, form = compound.find("CAS"), None if entry is None else entry.find("eqno")
        if entry is None or cas_entry is None or form is None or form.get("value") != "101":
            continue
        cas = cas_number(cas_entry.get("value") or "")
        found = {child.tag: child.get("value") for child in entry}
        ends = number(found.get("Tmin")), number(found.get("Tmax"))
        shares = [number(found.get(k)) or 0.0 for k in ("A", "B", "C", "D", "E")]
        if cas is not None and ends[0] is not None and ends[1] is not None:
            pressure = _bound(equation_101, *shares)
            # ChemSep refits the same evaluated data as Perry's tables.
            yield cas, Curve("ChemSep", "chemsep", LIQUID, ends[0], ends[1], pressure)


_THERMO_FILES = ("refprop_correlations", "organic_correlations", "inorganic_correlations")
_READ_ABOVE = frozenset(
    [
        "WAGNER_MCGARRY",
        "ANTOINE_POLING",
        "VDI_TABULAR",
        "LANDOLT",
        "ANTOINE_WEBBOOK",
        "WAGNER_POLING",
        "DIPPR_PERRY_8E",
        "VDI_PPDS",
        "ANTOINE_EXTENDED_POLING",
        "ALCOCK_ELEMENTS",
    ]
)
_ESTIMATORS = frozenset(
    [
        "BOILING_CRITICAL",
        "LEE_KESLER_PSAT",
        "AMBROSE_WALTON",
        "SANJARI",
        "EDALAT",
        "EOS",
        "COOLPROP",
        "IAPWS_PSAT",
    ]
)


def _reference_curves() -> Iterator[tuple[int, Curve]]:
    """Fits to reference equations of state, which only ``thermo`` can evaluate."""
    from thermo import VaporPressure  # type: ignore[import-untyped]

    wanted = set()
    for file in _THERMO_FILES:
        data = read_json("thermo", f"Misc/{file}.json")
        wanted |= {text for text, fits in data.items() if "VaporPressure" in fits}
    for text in sorted(wanted):
        cas = cas_number(text)
        if cas is None:
            continue
        fits = VaporPressure(CASRN=text)
        for method in sorted(fits.all_methods - _READ_ABOVE - _ESTIMATORS):
            low, high = fits.T_limits[method]
            pressure = _reference(fits.calculate, method)
            source = "reference equation fit" if method == "HEOS_FIT" else method.title()
            yield cas, Curve(source, "reference", LIQUID, low, high, pressure, "thermo")


def _reference(calculate: Callable[[float, str], float], method: str) -> Pressure:
    return lambda temperature_k: calculate(temperature_k, method)


def read_curves() -> Curves:
    """Read every curve, by CAS number."""
    found: dict[int, list[Curve]] = defaultdict(list)
    for some in (_antoine_curves, _wagner_curves, _equation_101_curves, _reference_curves):
        for cas, curve in some():
            if 0 < curve.low_k < curve.high_k:
                found[cas].append(curve)
    return found
