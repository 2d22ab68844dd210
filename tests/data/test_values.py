"""Published values stand in a sensible order and inside sensible ranges."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from itertools import pairwise

import pytest

from recommender.chemicals.table import Chemical, PropertyValue, load_chemicals, load_data
from recommender.limits import Limits, load_limits
from recommender.properties.values import MISCIBLE_G_L
from recommender.properties.vapor_pressure import (
    ATMOSPHERE_PA,
    heat_of_vaporization_j_mol,
    vapor_pressure_at,
)

# Ends are those of the substances that people meet, with room: hydrogen to polymers, cryogens to
# lime, helium's energy above cesium's. Out of them a unit or a decimal point has slipped.
PLAUSIBLE: Mapping[str, tuple[float, float]] = {
    "dermal_category": (1, 6),
    "dermal_ld50": (0.01, 50_000),
    "molar_mass": (2, 1_000),
    "boiling_point": (-269, 3_000),
    "melting_point": (-260, 3_500),
    "density": (60, 20_000),
    "vapor_pressure": (1e-9, 1e7),
    "viscosity": (0.1, 1e5),
    "water_solubility": (1e-7, 4_000),
    "flash_point": (-110, 350),
    "lower_flammable_limit": (0.4, 30),
    "ionization_energy": (6, 16),
    "idlh": (1e-4, 1e5),
}
LIQUID_FORMS = ("liquid", "solution")
LIQUID_DENSITY = (400, 4_000)
# Upper edges of acute dermal categories 1 to 5, mg/kg: GHS table of acute toxicity categories.
DERMAL_EDGES = (50, 200, 1_000, 2_000, 5_000)
PURE_FORMS = ("gas", "liquid", "solid", "powder", "molten")
# The equations reach from 100 K to 1000 K; what boils outside is graded without them.
BOILING_C = (-173, 726)
# Heats of vaporization implied by pairs of points, J/mol: light gases to sublimed solids.
HEAT_J_MOL = (5_000, 200_000)


def rows() -> Mapping[str, Chemical]:
    return load_chemicals()


def values(chemical: Chemical, name: str) -> tuple[PropertyValue, ...]:
    return load_data(chemical).values.get(name, ())


def lead(chemical: Chemical, name: str) -> float | None:
    found = values(chemical, name)
    return found[0].value if found else None


def none_of(problems: Iterable[str]) -> None:
    found = list(problems)
    assert not found, f"{len(found)} to settle:\n" + "\n".join(found)


def pure_rows_with_points() -> Iterator[tuple[Chemical, tuple[PropertyValue, ...], float]]:
    """Rows of pure chemicals with both a boiling point and measured vapor pressures."""
    for chemical in rows().values():
        boiling, points = lead(chemical, "boiling_point"), values(chemical, "vapor_pressure")
        if boiling is None or not points or not chemical.formula:
            continue
        if chemical.form in PURE_FORMS and BOILING_C[0] <= boiling <= BOILING_C[1]:
            yield chemical, points, boiling


@pytest.mark.parametrize("name", PLAUSIBLE)
def test_a_property_lies_in_a_plausible_range(name: str) -> None:
    low, high = PLAUSIBLE[name]
    none_of(
        f"{chemical.key}: {name} {end:g}"
        for chemical in rows().values()
        for value in values(chemical, name)
        for end in (value.value, value.low, value.high)
        if end is not None and not low <= end <= high
    )


def test_every_property_has_a_plausible_range() -> None:
    named = {name for chemical in rows().values() for name in load_data(chemical).values}
    assert named == set(PLAUSIBLE)


def test_dermal_categories_are_whole_numbers() -> None:
    for chemical in rows().values():
        assert all(v.value == int(v.value) for v in values(chemical, "dermal_category"))


def test_solubility_stops_at_miscible_or_says_why() -> None:
    none_of(
        f"{chemical.key}: {value.value:g} g/L without a note"
        for chemical in rows().values()
        for value in values(chemical, "water_solubility")
        if value.value > MISCIBLE_G_L and not value.note
    )


def test_liquids_have_the_density_of_liquids() -> None:
    none_of(
        f"{chemical.key}: {value.value:g} kg/m3"
        for chemical in rows().values()
        for value in values(chemical, "density")
        if chemical.form in LIQUID_FORMS
        and not LIQUID_DENSITY[0] <= value.value <= LIQUID_DENSITY[1]
        and chemical.key != "mercury"
    )


def test_everything_boils_above_its_melting_point() -> None:
    none_of(
        f"{chemical.key}: melts at {melting:g} C, boils at {boiling:g} C"
        for chemical in rows().values()
        if (melting := lead(chemical, "melting_point")) is not None
        and (boiling := lead(chemical, "boiling_point")) is not None
        and not melting < boiling
    )


def test_gases_boil_below_room_temperature_and_liquids_above_it() -> None:
    none_of(
        f"{chemical.key}: a {chemical.form} that boils at {boiling:g} C"
        for chemical in rows().values()
        if (boiling := lead(chemical, "boiling_point")) is not None
        and (
            (chemical.form in ("gas", "cryogenic") and boiling > 25)
            or (chemical.form not in ("gas", "cryogenic") and boiling < 20)
        )
    )


def test_solids_melt_above_room_temperature_and_liquids_below_it() -> None:
    none_of(
        f"{chemical.key}: a {chemical.form} that melts at {melting:g} C"
        for chemical in rows().values()
        if (melting := lead(chemical, "melting_point")) is not None
        and (
            (chemical.form in ("solid", "powder") and melting < 20)
            or (chemical.form == "liquid" and melting > 35)
        )
    )


def test_every_vapor_pressure_says_its_temperature() -> None:
    none_of(
        f"{chemical.key}: {value.value:g} Pa"
        for chemical in rows().values()
        for value in values(chemical, "vapor_pressure")
        if value.temperature_c is None
    )


def test_vapor_pressures_rise_with_temperature() -> None:
    def faults() -> Iterator[str]:
        for chemical in rows().values():
            points = sorted(
                (value.temperature_c or 0.0, value.value)
                for value in values(chemical, "vapor_pressure")
            )
            for (cool, low), (warm, high) in pairwise(points):
                if warm > cool and high <= low:
                    yield f"{chemical.key}: {low:g} Pa at {cool:g} C, {high:g} Pa at {warm:g} C"

    none_of(faults())


def test_no_chemical_reaches_an_atmosphere_far_below_its_boiling_point() -> None:
    none_of(
        f"{chemical.key}: {point.value:g} Pa at {point.temperature_c:g} C, boils at {boiling:g} C"
        for chemical, points, boiling in pure_rows_with_points()
        for point in points
        if point.temperature_c is not None
        and (
            (point.temperature_c < boiling - 1 and point.value > 1.05 * ATMOSPHERE_PA)
            or (point.temperature_c > boiling + 1 and point.value < 0.95 * ATMOSPHERE_PA)
        )
    )


def test_the_tool_gives_an_atmosphere_at_the_boiling_point_of_a_pure_chemical() -> None:
    limits = Limits(load_limits())

    def faults() -> Iterator[str]:
        for chemical, points, boiling in pure_rows_with_points():
            found = vapor_pressure_at(points, boiling, boiling, limits).mid
            if found is None or found != pytest.approx(ATMOSPHERE_PA, rel=0.1):
                yield f"{chemical.key}: {found} Pa at {boiling:g} C"

    none_of(faults())


def test_points_and_boiling_point_imply_a_sensible_heat_of_vaporization() -> None:
    limits = Limits(load_limits())

    def faults() -> Iterator[str]:
        for chemical, points, boiling in pure_rows_with_points():
            temperatures = sorted({p.temperature_c or 0.0 for p in points} | {boiling})
            for cool, warm in pairwise(temperatures):
                heat = heat_of_vaporization_j_mol(points, boiling, (cool + warm) / 2, limits)
                if not HEAT_J_MOL[0] <= heat <= HEAT_J_MOL[1]:
                    yield f"{chemical.key}: {heat:.0f} J/mol between {cool:g} and {warm:g} C"

    none_of(faults())


def category_of(dose: float) -> int:
    return next((i for i, edge in enumerate(DERMAL_EDGES, 1) if dose <= edge), 6)


def test_the_dermal_category_is_that_of_the_dermal_dose_or_a_note_says_why() -> None:
    none_of(
        f"{chemical.key}: category {category.value:g}, LD50 {dose.value:g} mg/kg"
        for chemical in rows().values()
        for category in values(chemical, "dermal_category")
        for dose in values(chemical, "dermal_ld50")
        if category_of(dose.value) != category.value and not (category.note or dose.note)
    )


def test_a_row_without_a_dermal_category_says_so_or_has_a_dose() -> None:
    none_of(
        chemical.key
        for chemical in rows().values()
        if not values(chemical, "dermal_category")
        and not values(chemical, "dermal_ld50")
        and not chemical.note
    )
