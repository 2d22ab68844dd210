"""Published worked examples at the level of the assembled tool: name in, plan out.

The functions have their own tests against the same publications. Here the numbers must survive the
way through the curated table, the scene and the limits. Two kinds of expected value stand below
and are told apart: ``printed`` (a number that the publication prints) and ``computed`` (computed
separately from the published equation and handbook inputs, not with this tool).
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace

import pytest

from recommender import Plan, Scene, recommend
from recommender.chemicals.table import PropertyValue, load_data
from recommender.facts import Number
from recommender.limits import Limit, load_limits
from recommender.recommend import load_solutions

DAY_MIN = 1440.0
AIR_20_C = 20.0


def number(plan: Plan, name: str) -> Number:
    fact = plan.facts[name]
    assert isinstance(fact, Number) and fact.mid is not None, f"{plan.chemical.key}: no {name}"
    return fact


def named(name: str, cas: str, scene: Scene, limits: Mapping[str, Limit] | None = None) -> Plan:
    plan = recommend(name, scene, limits=limits)
    assert plan.chemical.cas == cas, f"{name!r} led to {plan.chemical.key}"
    return plan


def wind_for(at_the_body_m_s: float) -> float:
    """Wind at 10 m whose middle share reaches the body at this speed."""
    return at_the_body_m_s / load_limits()["persistence.wind_share_mid"].value


def film_of(thickness_mm: float) -> Mapping[str, Limit]:
    limits = dict(load_limits())
    limits["persistence.film"] = replace(limits["persistence.film"], value=thickness_mm)
    return limits


# --- Vapor over the liquid ---------------------------------------------------------------------


@dataclass(frozen=True)
class Vapor:
    name: str
    cas: str
    fact: str
    temperature_c: float
    expected: float
    unit: str
    tolerance: float
    kind: str
    source: str


VAPOR = (
    Vapor(
        "toluene",
        "108-88-3",
        "saturation",
        25.0,
        37368.0,
        "ppm",
        0.05,
        "computed",
        "industrial hygiene course notes (EOH 466A): ppm = p / 760 mmHg x 1e6; toluene 28.4 mmHg",
    ),
    Vapor(
        "toluene",
        "108-88-3",
        "vapor_hazard_ratio",
        25.0,
        74.7,
        "times the IDLH",
        0.05,
        "computed",
        "the same over the NIOSH Pocket Guide IDLH of 500 ppm",
    ),
    Vapor(
        "toluene",
        "108-88-3",
        "vapor_pressure",
        20.0,
        21.9 * 133.322,
        "Pa",
        0.05,
        "computed",
        "Clausius-Clapeyron from 28.4 mmHg at 25 C with 38.06 kJ/mol (CRC Handbook)",
    ),
    Vapor(
        "acetone",
        "67-64-1",
        "saturation",
        20.0,
        180.0 / 760.0 * 1e6,
        "ppm",
        0.10,
        "computed",
        "Dalton's law on the NIOSH Pocket Guide vapor pressure of 180 mmHg at 68 F",
    ),
)


@pytest.mark.parametrize("case", VAPOR, ids=lambda c: f"{c.name}-{c.fact}")
def test_vapor_over_the_liquid(case: Vapor) -> None:
    plan = named(case.name, case.cas, Scene(air_temperature_c=case.temperature_c))
    assert number(plan, case.fact).mid == pytest.approx(case.expected, rel=case.tolerance), (
        f"{case.name}, {case.fact} at {case.temperature_c:g} C: expected {case.expected:.4g} "
        f"{case.unit} ({case.kind}: {case.source})"
    )


# --- How long a film stays ---------------------------------------------------------------------

KAWAMURA = (
    "Kawamura and Mackay 1987, k = 0.0048 U^(7/9) Z^(-1/9) Sc^(-2/3), dry air, 20 C, 1 m/s at the "
    "film, patch 0.3 m"
)
STILL = "Mackay and van Wesenbeeck 2014, evaporation 1464 P M micrograms/m2/h (Pa, g/mol), no wind"
TABLE_J6 = (
    "US Army field manual, health service support in a nuclear, biological and chemical "
    "environment, Table J-6: mustard 2 to 7 days, sunny, about 20 C, light breeze"
)


@dataclass(frozen=True)
class Film:
    name: str
    cas: str
    thickness_mm: float
    body_wind_m_s: float
    expected_min: float
    source: str
    tolerance: float = 0.15


FILMS = (
    Film("acetone", "67-64-1", 0.1, 1.0, 0.46, KAWAMURA),
    Film("toluene", "108-88-3", 0.1, 1.0, 3.64, KAWAMURA),
    Film("dimethyl sulfoxide", "67-68-5", 0.1, 1.0, 254.0, KAWAMURA),
    Film("sulfur mustard", "505-60-2", 0.1, 1.0, 18.0 * 60, KAWAMURA),
    Film("sulfur mustard", "505-60-2", 0.5, 1.0, 89.3 * 60, KAWAMURA),
    Film("toluene", "108-88-3", 1.0, 1.0, 36.0, KAWAMURA),
    Film("acetone", "67-64-1", 0.5, 1.0, 2.3, KAWAMURA),
    Film("dimethyl sulfoxide", "67-68-5", 1.0, 1.0, 42.0 * 60, KAWAMURA),
    Film("toluene", "108-88-3", 0.1, 3.0, 1.5, KAWAMURA.replace("1 m/s at", "3 m/s at")),
    Film("sulfur mustard", "505-60-2", 1.0, 3.0, 3.2 * DAY_MIN, KAWAMURA.replace("1 m/s", "3 m/s")),
    Film("toluene", "108-88-3", 0.1, 0.0, 13.2, STILL),
    Film("dimethyl sulfoxide", "67-68-5", 0.1, 0.0, 17.2 * 60, STILL),
    Film("sulfur mustard", "505-60-2", 0.1, 0.0, 57.0 * 60, STILL),
    Film("acetone", "67-64-1", 0.1, 0.0, 2.26, STILL),
)


@pytest.mark.parametrize(
    "case", FILMS, ids=lambda c: f"{c.name}-{c.thickness_mm:g}mm-{c.body_wind_m_s:g}m_s"
)
def test_film_time(case: Film) -> None:
    scene = Scene(air_temperature_c=AIR_20_C, wind_m_s=wind_for(case.body_wind_m_s))
    plan = named(case.name, case.cas, scene, film_of(case.thickness_mm))
    got = number(plan, "film_residence").mid
    assert got == pytest.approx(case.expected_min, rel=case.tolerance), (
        f"{case.name}, {case.thickness_mm:g} mm, {case.body_wind_m_s:g} m/s at the body: expected "
        f"{case.expected_min:.4g} min (computed: {case.source})"
    )


def test_a_puddle_of_mustard_meets_the_field_manual() -> None:
    """A weak check: the thickness on the ground is not published; 0.5 mm is a plausible drop."""
    scene = Scene(air_temperature_c=AIR_20_C, wind_m_s=wind_for(1.0))
    plan = named("sulfur mustard", "505-60-2", scene, film_of(0.5))
    got = number(plan, "film_residence").mid
    assert got is not None and 2 * DAY_MIN <= got <= 7 * DAY_MIN, (
        f"expected 2 to 7 days (printed: {TABLE_J6}); got {got / DAY_MIN:.2g} days"
    )


def test_acrylonitrile_evaporates_at_the_rate_of_the_epa_table() -> None:
    """EPA's liquid factor ambient, 0.018 lb/min/ft2 at 25 C and 1 m/s, is a model of its own."""
    pound_kg, square_foot_m2, film_m = 0.45359, 0.092903, 1e-4
    density = 806.0  # kg/m3 at 20 C, CRC Handbook
    expected_min = film_m * density / (0.018 * pound_kg / square_foot_m2)
    scene = Scene(air_temperature_c=25.0, wind_m_s=wind_for(1.0))
    fact = number(named("acrylonitrile", "107-13-1", scene), "film_residence")
    assert fact.low is not None and fact.mid is not None and fact.high is not None
    source = (
        "EPA 550-B-99-009, offsite consequence analysis, exhibit of liquid factors (from memory)"
    )
    assert fact.low <= expected_min <= fact.high, (
        f"expected {expected_min:.3g} min inside the range ({source}); got {fact.low:.3g} to "
        f"{fact.high:.3g} min"
    )
    # The published models for wind agree within about a factor of 2.5.
    assert 1 / 2.5 <= fact.mid / expected_min <= 2.5, (source, fact.mid, expected_min)


@pytest.mark.parametrize(
    ("name", "cas"),
    [
        ("acetone", "67-64-1"),
        ("toluene", "108-88-3"),
        ("dimethyl sulfoxide", "67-68-5"),
        ("sulfur mustard", "505-60-2"),
    ],
)
def test_the_range_holds_both_the_windy_and_the_sheltered_model(name: str, cas: str) -> None:
    """At 1 m/s the plan's range reaches from the wind-driven to the still-air figure."""
    by_wind = {(f.cas, f.body_wind_m_s): f.expected_min for f in FILMS if f.thickness_mm == 0.1}
    scene = Scene(air_temperature_c=AIR_20_C, wind_m_s=wind_for(1.0))
    fact = number(named(name, cas, scene), "film_residence")
    assert fact.low is not None and fact.high is not None
    for wind, source in ((1.0, KAWAMURA), (0.0, STILL)):
        expected = by_wind[cas, wind]
        assert fact.low <= expected <= 1.05 * fact.high, (
            f"{name}: expected {expected:.4g} min inside the range (computed: {source}); got "
            f"{fact.low:.4g} to {fact.high:.4g} min"
        )


# --- Published thresholds ----------------------------------------------------------------------

THRESHOLDS = (
    (
        "persistence.minutes_end",
        10.0,
        "min",
        "US Army course CM2506: contamination that stays below 10 minutes is nonpersistent for "
        "planning",
    ),
    (
        "persistence.hours_end",
        DAY_MIN,
        "min",
        "medical dictionary: a persistent agent stays for more than a day",
    ),
)


@pytest.mark.parametrize(("limit", "expected", "unit", "source"), THRESHOLDS)
def test_grades_end_at_the_published_thresholds(
    limit: str, expected: float, unit: str, source: str
) -> None:
    used = recommend("acetone").limits[limit]
    assert (used.value, used.unit) == (expected, unit), f"{limit}: expected {expected} ({source})"


def warns_of_heat(air_temperature_c: float) -> bool:
    plan = recommend("acetone", Scene(air_temperature_c=air_temperature_c))
    return any("heat strain" in c.text.lower() for c in plan.outcomes.cautions)


def test_checks_of_heat_strain_begin_at_the_published_temperature() -> None:
    """72.5 F adjusted is the first row for impermeable suits: 22.5 C without sunshine."""
    source = "NIOSH/OSHA/USCG/EPA 85-115, table of physiological monitoring (as reproduced)"
    assert warns_of_heat((73.0 - 32.0) / 1.8), source
    assert not warns_of_heat((71.0 - 32.0) / 1.8), source


# --- Second opinion on the count ---------------------------------------------------------------

# Decimal logs to the screening target for a drenched suit (10 mg/cm2): log10 of the load over
# LD50 x 70 kg / (1,000 x 1,000 cm2 x 0.1), computed for the edges of the GHS classes.
REDUCTIONS = ((50.0, 2.46), (200.0, 1.85), (1000.0, 1.15), (2000.0, 0.85))


@pytest.mark.parametrize(("dose", "expected"), REDUCTIONS)
def test_the_required_reduction_at_the_edges_of_the_dermal_classes(
    dose: float, expected: float
) -> None:
    chemical = recommend("ethanol").chemical
    data = load_data(chemical)
    value = PropertyValue("dermal_ld50", dose, "mg/kg", None, None, None, "ghs", "memory", "")
    data = replace(data, values={**data.values, "dermal_ld50": (value,)})
    plan = recommend(chemical, Scene(contact="gross"), data=data)
    assert plan.stage_model.required_log_reduction == pytest.approx(expected, abs=0.01), (
        f"dermal LD50 {dose:g} mg/kg (GHS acute dermal class edge): expected {expected} (computed)"
    )


# --- Wash solution -----------------------------------------------------------------------------

KANSAS = (
    "Kansas Department of Health and Environment, disinfection examples: 1 fl oz of 5.25 % bleach "
    "in 1 gal of water gives 410 mg/L (printed)"
)
RECIPE_US = re.compile(r"(\d+) fl oz .*?([\d.]+) % bleach.*?([\d.]+) gal in all")
RECIPE_SI = re.compile(r"([\d.]+) L .*?([\d.]+) % bleach.*?([\d.]+) L in all")


def test_the_hypochlorite_recipe_gives_half_a_percent() -> None:
    solution = load_solutions()["hypochlorite-0.5"]
    us, si = RECIPE_US.search(solution.recipe_us), RECIPE_SI.search(solution.recipe_si)
    assert us and si, f"the recipe no longer states its volumes: {solution.recipe_us!r}"
    ounces, percent, gallons = (float(text) for text in us.groups())
    assert percent == 5.25, "the Kansas figure holds for 5.25 % bleach"
    assert 410.0 * ounces / gallons == pytest.approx(5000.0, rel=0.03), KANSAS
    stock, percent, total = (float(text) for text in si.groups())
    source = "C1 V1 = C2 V2; 1 % is 10,000 mg/L available chlorine (WHO 2014, Annex G)"
    assert stock * percent * 10_000.0 / total == pytest.approx(5000.0, rel=0.03), source
