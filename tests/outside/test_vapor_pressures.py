"""Vapor pressures that plans use, against two publications this project did not write.

The NIOSH Pocket Guide is compared only where the curated row does not lean on it, and the
coefficient tables of the ``chemicals`` reference library only where the row does not lean on that
library (nor on Perry's Handbook where Perry's coefficients are the reference). Expected values
come from those publications; none is this tool's own output.
"""

from __future__ import annotations

import csv
import importlib.metadata
import importlib.util
import math
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import pytest

from recommender import Plan, Scene, recommend
from recommender.chemicals.table import load_data
from recommender.facts import Number

KELVIN = 273.15
PASCAL = {"mmHg": 133.322, "atm": 101325.0}
TOLERANCE = 0.25
POCKET_GUIDE = "NIOSH Pocket Guide, copy of 2018-19, vapor pressure at 68 F"
POCKET_GUIDE_ID = "npg"
LIBRARY_ID = "chemicals-lib"
PERRY_ID = "perry"


@dataclass(frozen=True)
class Printed:
    """A vapor pressure as it is printed: ``text`` keeps the printed number of figures."""

    name: str
    cas: str
    text: str
    unit: str
    source: str = POCKET_GUIDE
    temperature_c: float = 20.0

    @property
    def pascal(self) -> float:
        return float(self.text) * PASCAL[self.unit]

    @property
    def rounding(self) -> tuple[float, float]:
        """Pressures in Pa that would be printed as this text (half a unit in the last figure)."""
        decimals = len(self.text.partition(".")[2])
        half = 0.5 * 10.0**-decimals * PASCAL[self.unit]
        return self.pascal - half, self.pascal + half


PRINTED = (
    Printed("fuming nitric acid", "7697-37-2", "48", "mmHg"),
    Printed("glacial acetic acid", "64-19-7", "11", "mmHg"),
    Printed("ethanolamine", "141-43-5", "0.4", "mmHg"),
    Printed("diethylamine", "109-89-7", "192", "mmHg"),
    Printed("sulfur dioxide", "7446-09-5", "3.2", "atm"),
    Printed("butane", "106-97-8", "2.05", "atm"),
    Printed("methyl bromide", "74-83-9", "1.9", "atm"),
    Printed("methyl chloride", "74-87-3", "5.0", "atm"),
    Printed("ethylene oxide", "75-21-8", "1.46", "atm"),
    Printed("cyanogen chloride", "506-77-4", "1010", "mmHg"),
    Printed("phosphine", "7803-51-2", "41.3", "atm"),
    Printed("dimethylamine", "124-40-3", "1.7", "atm"),
    Printed("bromine", "7726-95-6", "172", "mmHg"),
    Printed("nickel carbonyl", "13463-39-3", "315", "mmHg"),
    Printed("methyl isocyanate", "624-83-9", "348", "mmHg"),
    Printed("acrolein", "107-02-8", "210", "mmHg"),
    Printed("sulfur monochloride", "10025-67-9", "7", "mmHg"),
    Printed("white phosphorus", "7723-14-0", "0.03", "mmHg"),
    Printed("hydrazine", "302-01-2", "10", "mmHg"),
    Printed("acetone", "67-64-1", "180", "mmHg"),
    Printed("methanol", "67-56-1", "96", "mmHg"),
    Printed("ethanol", "64-17-5", "44", "mmHg"),
    Printed("ethyl acetate", "141-78-6", "73", "mmHg"),
    Printed("trichloroethylene", "79-01-6", "58", "mmHg"),
    Printed("carbon disulfide", "75-15-0", "297", "mmHg"),
    Printed("acrylonitrile", "107-13-1", "83", "mmHg"),
    Printed("styrene", "100-42-5", "5", "mmHg"),
    Printed("tetrahydrofuran", "109-99-9", "132", "mmHg"),
    Printed("methyl parathion", "298-00-0", "0.00001", "mmHg"),
    Printed("malathion", "121-75-5", "0.00004", "mmHg"),
    Printed("diazinon", "333-41-5", "0.0001", "mmHg"),
    Printed("chlordane", "57-74-9", "0.00001", "mmHg"),
    Printed("lindane", "58-89-9", "0.00001", "mmHg"),
    Printed("tetraethyl lead", "78-00-2", "0.2", "mmHg"),
    Printed("osmium tetroxide", "20816-12-0", "7", "mmHg"),
)

# Pocket Guide values printed at another temperature than 68 F.
PRINTED_ELSEWHERE = (
    Printed(
        "phosphorus oxychloride",
        "10025-87-3",
        "40",
        "mmHg",
        "NIOSH Pocket Guide, copy of 2018-19, vapor pressure at 81 F",
        27.2,
    ),
    Printed(
        "thionyl chloride",
        "7719-09-7",
        "100",
        "mmHg",
        "NIOSH Pocket Guide, copy of 2018-19, vapor pressure at 70 F",
        21.1,
    ),
    Printed(
        "pentachlorophenol",
        "87-86-5",
        "0.0001",
        "mmHg",
        "NIOSH Pocket Guide, copy of 2018-19, vapor pressure at 77 F",
        25.0,
    ),
    Printed(
        "glycerol",
        "56-81-5",
        "0.003",
        "mmHg",
        "NIOSH Pocket Guide, copy of 2018-19, vapor pressure at 122 F",
        50.0,
    ),
)


@dataclass(frozen=True)
class Odd:
    """A Pocket Guide value that other publications contradict, with one that is used instead."""

    name: str
    cas: str
    pocket_guide_pa: float
    other_pa: float
    tolerance: float
    source: str
    reason: str


ODD = (
    Odd(
        "dimethyl sulfate",
        "77-78-1",
        0.1 * PASCAL["mmHg"],
        91.0,
        0.40,
        "The Merck Index: boils near 188 C (760 mmHg) and at 76 C under 15 mmHg",
        "Carried to 20 C along the straight line of ln p against 1/T through those two points the "
        "Merck figures give 0.7 mmHg; the Pocket Guide's 0.1 mmHg would need a heat of "
        "vaporization of 76 kJ/mol below 76 C against 47 kJ/mol above it.",
    ),
    Odd(
        "nicotine",
        "54-11-5",
        0.08 * PASCAL["mmHg"],
        5.81,
        TOLERANCE,
        "INRS fiche toxicologique 312 (nicotine): 5.81 Pa at 20 C",
        "Values for nicotine in the literature spread eightfold (0.02 to 0.17 mmHg at 25 C, J. "
        "Am. Chem. Soc. 62, 261, 1940); the Pocket Guide's 0.08 mmHg lies at the volatile, "
        "incautious side.",
    ),
)

# Pocket Guide rows left out, because the curated row is another product or another quantity.
NOT_COMPARED = {
    "nitric acid 68 %, hydrazine 35 %": "the Pocket Guide value is that of the undiluted liquid",
    "formaldehyde 37 %, hydrogen peroxide 3 to 50 %": "as above: gas, and near-pure peroxide",
    "crude oil": "the row keeps the heavy cut that governs persistence; the guide's is for naphtha",
    "boron trifluoride (over 50 atm), carbaryl (below 0.00004 mmHg at 77 F)": "bounds, not values",
    "dry cement, sucrose, sodium cyanide, strychnine": "printed as about 0 or low",
}


def plan_at(name: str, cas: str, temperature_c: float) -> Plan:
    plan = recommend(name, Scene(air_temperature_c=temperature_c))
    assert plan.chemical.cas == cas, f"{name!r} led to {plan.chemical.key} ({plan.chemical.cas})"
    return plan


def pressure_of(plan: Plan) -> Number:
    fact = plan.facts["vapor_pressure"]
    assert isinstance(fact, Number)
    return fact


def sources_of(plan: Plan) -> set[str]:
    return {value.source for value in load_data(plan.chemical).values.get("vapor_pressure", ())}


def agrees(fact: Number, low: float, value: float, high: float) -> bool:
    """Whether the plan's value is within the tolerance, or its range meets the published one."""
    if fact.low is None or fact.mid is None or fact.high is None:
        return False
    return abs(fact.mid / value - 1.0) <= TOLERANCE or (low <= fact.high and high >= fact.low)


def said(fact: Number) -> str:
    if fact.mid is None:
        return "got no value"
    return f"got {fact.mid:.4g} Pa ({fact.low:.4g} to {fact.high:.4g}, {fact.origin.source})"


def test_enough_chemicals_are_compared() -> None:
    assert len({p.cas for p in PRINTED}) >= 30
    assert all(reason for reason in NOT_COMPARED.values())


@pytest.mark.parametrize("case", (*PRINTED, *PRINTED_ELSEWHERE), ids=lambda c: c.name)
def test_a_curated_row_does_not_lean_on_the_pocket_guide(case: Printed) -> None:
    """Else the comparison below would compare the guide with itself: move the row out of it."""
    sources = sources_of(plan_at(case.name, case.cas, case.temperature_c))
    assert sources, f"{case.name}: no curated vapor pressure to compare"
    assert POCKET_GUIDE_ID not in sources, f"{case.name}: the curated value is the guide's own"


@pytest.mark.parametrize("case", (*PRINTED, *PRINTED_ELSEWHERE), ids=lambda c: c.name)
def test_the_vapor_pressure_agrees_with_the_pocket_guide(case: Printed) -> None:
    fact = pressure_of(plan_at(case.name, case.cas, case.temperature_c))
    low, high = case.rounding
    assert agrees(fact, low, case.pascal, high), (
        f"{case.name} at {case.temperature_c:g} C: expected {case.text} {case.unit} = "
        f"{case.pascal:.4g} Pa ({case.source}); {said(fact)}"
    )


@pytest.mark.parametrize("case", ODD, ids=lambda c: c.name)
def test_where_the_pocket_guide_is_odd_another_publication_is_met(case: Odd) -> None:
    fact = pressure_of(plan_at(case.name, case.cas, 20.0))
    assert fact.low is not None and fact.mid is not None and fact.high is not None
    near = abs(fact.mid / case.other_pa - 1.0) <= case.tolerance
    assert near or fact.low <= case.other_pa <= fact.high, (
        f"{case.name}: expected {case.other_pa:g} Pa ({case.source}); {said(fact)}. {case.reason}"
    )
    assert not agrees(fact, case.pocket_guide_pa, case.pocket_guide_pa, case.pocket_guide_pa), (
        f"{case.name}: the row agrees with the Pocket Guide after all: move it to PRINTED"
    )


# --- The coefficient tables of the reference library, read directly ---------------------------

ANTOINE = "Antoine Collection Poling.tsv"
LANDOLT = "Landolt_antoine_V20.tsv"
PERRY = "Table 2-8 Vapor Pressure of Inorganic and Organic Liquids.tsv"
VDI = "VDI PPDS Boiling temperatures at different pressures.tsv"
BOOK = {
    ANTOINE: "Antoine constants of Poling, Prausnitz and O'Connell, Properties of Gases and "
    "Liquids, 5th ed.",
    LANDOLT: "Antoine constants of Landolt-Boernstein IV/20",
    PERRY: "Perry's Chemical Engineers' Handbook, 8th ed., Table 2-8 coefficients",
    VDI: "VDI Heat Atlas, PPDS Wagner coefficients",
}
TEMPERATURES_C = (0.0, 10.0, 30.0, 40.0)

REFERENCE = (
    ("acetone", "67-64-1", ANTOINE),
    ("toluene", "108-88-3", VDI),
    ("benzene", "71-43-2", ANTOINE),
    ("hexane", "110-54-3", ANTOINE),
    ("methanol", "67-56-1", ANTOINE),
    ("ethanol", "64-17-5", ANTOINE),
    ("isopropyl alcohol", "67-63-0", LANDOLT),
    ("2-butanone", "78-93-3", ANTOINE),
    ("ethyl acetate", "141-78-6", ANTOINE),
    ("dichloromethane", "75-09-2", ANTOINE),
    ("trichloroethylene", "79-01-6", LANDOLT),
    ("chloroform", "67-66-3", ANTOINE),
    ("carbon tetrachloride", "56-23-5", ANTOINE),
    ("carbon disulfide", "75-15-0", LANDOLT),
    ("diethyl ether", "60-29-7", ANTOINE),
    ("acrylonitrile", "107-13-1", LANDOLT),
    ("styrene", "100-42-5", VDI),
    ("tetrahydrofuran", "109-99-9", ANTOINE),
    ("aniline", "62-53-3", VDI),
    ("nitrobenzene", "98-95-3", VDI),
    ("ethylene glycol", "107-21-1", VDI),
    ("dimethyl sulfoxide", "67-68-5", PERRY),
    ("dimethylformamide", "68-12-2", LANDOLT),
    ("epichlorohydrin", "106-89-8", LANDOLT),
    ("glycerol", "56-81-5", VDI),
    ("bromine", "7726-95-6", ANTOINE),
    ("hydrogen cyanide", "74-90-8", LANDOLT),
    ("acetaldehyde", "75-07-0", LANDOLT),
    ("diethylamine", "109-89-7", LANDOLT),
    ("acetic anhydride", "108-24-7", VDI),
    ("glacial acetic acid", "64-19-7", ANTOINE),
    ("hydrazine", "302-01-2", ANTOINE),
    ("hydrogen fluoride", "7664-39-3", ANTOINE),
    ("phosphorus trichloride", "7719-12-2", LANDOLT),
    ("phosphorus oxychloride", "10025-87-3", LANDOLT),
    ("thionyl chloride", "7719-09-7", LANDOLT),
    ("acetyl chloride", "75-36-5", LANDOLT),
    ("chloropicrin", "76-06-2", LANDOLT),
    ("ethylene dibromide", "106-93-4", VDI),
    ("allyl alcohol", "107-18-6", LANDOLT),
    ("sulfur mustard", "505-60-2", LANDOLT),
    ("chlorine", "7782-50-5", VDI),
    ("ammonia", "7664-41-7", VDI),
    ("sulfur dioxide", "7446-09-5", VDI),
    ("propane", "74-98-6", VDI),
    ("phosgene", "75-44-5", VDI),
    ("hydrogen sulfide", "7783-06-4", VDI),
    ("vinyl chloride", "75-01-4", VDI),
)


def library_folder() -> Path:
    """Folder of the installed reference library, found without running its code."""
    spec = importlib.util.find_spec("chemicals")
    assert spec is not None and spec.submodule_search_locations
    return Path(spec.submodule_search_locations[0])


@cache
def coefficients(table: str) -> dict[str, dict[str, str]]:
    path = library_folder() / "Vapor Pressure" / table
    with path.open(encoding="utf-8") as file:
        return {row["CAS"]: row for row in csv.DictReader(file, delimiter="\t")}


def published_pressure(table: str, cas: str, temperature_c: float) -> float | None:
    """Pressure in Pa by the table's own equation; None outside the range the table states."""
    row = coefficients(table)[cas]
    kelvin = temperature_c + KELVIN

    def c(name: str) -> float:
        return float(row[name])

    if table == VDI:
        if not c("Tm") <= kelvin <= c("Tc"):
            return None
        tau = 1.0 - kelvin / c("Tc")
        powers = ((1.0, "A"), (1.5, "B"), (2.5, "C"), (5.0, "D"))
        total = sum(c(name) * tau**power for power, name in powers)
        return c("Pc") * math.exp(total / (1.0 - tau))
    if not c("Tmin") <= kelvin <= c("Tmax"):
        return None
    if table == PERRY:
        last = c("C4") * kelvin ** c("C5")
        return math.exp(c("C1") + c("C2") / kelvin + c("C3") * math.log(kelvin) + last)
    exponent = c("A") - c("B") / (kelvin + c("C"))
    return float(10.0**exponent) if table == ANTOINE else math.exp(exponent)


CASES = tuple(
    (name, cas, table, temperature)
    for name, cas, table in REFERENCE
    for temperature in TEMPERATURES_C
    if published_pressure(table, cas, temperature) is not None
)


def test_the_reference_library_is_the_pinned_one() -> None:
    assert importlib.metadata.version("chemicals") == "1.5.2"


def test_enough_chemicals_and_temperatures_are_compared() -> None:
    assert len({cas for _, cas, _, _ in CASES}) >= 25
    for temperature in TEMPERATURES_C:
        assert sum(t == temperature for *_, t in CASES) >= 25, temperature


@pytest.mark.parametrize(("name", "cas", "table"), REFERENCE, ids=[r[0] for r in REFERENCE])
def test_a_curated_row_does_not_lean_on_the_reference(name: str, cas: str, table: str) -> None:
    sources = sources_of(plan_at(name, cas, 20.0))
    assert LIBRARY_ID not in sources, f"{name}: the curated value comes from the library itself"
    assert table != PERRY or PERRY_ID not in sources, f"{name}: both come from Perry's Handbook"


@pytest.mark.parametrize(
    ("name", "cas", "table", "temperature"), CASES, ids=[f"{c[0]}-{c[3]:g}C" for c in CASES]
)
def test_the_vapor_pressure_agrees_at_other_temperatures(
    name: str, cas: str, table: str, temperature: float
) -> None:
    expected = published_pressure(table, cas, temperature)
    assert expected is not None
    fact = pressure_of(plan_at(name, cas, temperature))
    assert agrees(fact, expected, expected, expected), (
        f"{name} at {temperature:g} C: expected {expected:.4g} Pa ({BOOK[table]}, as kept in "
        f"chemicals 1.5.2); {said(fact)}"
    )


@pytest.mark.parametrize(("name", "cas", "table"), REFERENCE, ids=[r[0] for r in REFERENCE])
def test_the_rise_with_temperature_follows_the_published_curve(
    name: str, cas: str, table: str
) -> None:
    """From the coldest to the warmest published temperature, within a factor of 1.5."""
    inside = [t for n, c, _, t in CASES if (n, c) == (name, cas)]
    if len(inside) < 2:
        inside = [20.0, *inside]
    cold, warm = inside[0], inside[-1]
    published = [published_pressure(table, cas, t) for t in (cold, warm)]
    assert published[0] and published[1], f"{name}: fewer than two temperatures in {table}"
    used = [pressure_of(plan_at(name, cas, t)).mid for t in (cold, warm)]
    assert used[0] and used[1]
    ratio = (used[1] / used[0]) / (published[1] / published[0])
    assert 1 / 1.5 <= ratio <= 1.5, (
        f"{name}, {cold:g} to {warm:g} C: expected times {published[1] / published[0]:.3g} "
        f"({BOOK[table]}), got times {used[1] / used[0]:.3g}"
    )
