"""Vapor pressure and saturated vapor, against published numbers and a reference library."""

from __future__ import annotations

import math
from typing import Any

import pytest
from chemicals import EQ101
from chemicals.phase_change import Hvap_data_CRC
from chemicals.vapor_pressure import Psat_data_Perrys2_8
from hypothesis import given
from hypothesis import strategies as st

from recommender.errors import PhysicsRangeError
from recommender.physics.vapor import (
    antoine_log10_pressure,
    antoine_mmhg_celsius_pressure_pa,
    clausius_clapeyron_pressure_pa,
    heat_of_vaporization_from_points_j_mol,
    saturated_mixture_relative_density,
    saturation_ppm,
    trouton_heat_of_vaporization_j_mol,
    vapor_limit_ratio,
    volatility_kg_m3,
    volatility_mg_m3,
)

MMHG = 133.322387
LIQUIDS = {
    "acetone": "67-64-1",
    "benzene": "71-43-2",
    "chloroform": "67-66-3",
    "ethanol": "64-17-5",
    "toluene": "108-88-3",
    "water": "7732-18-5",
}


# The reference library is untyped.
dippr_101: Any = EQ101
perry_pressures: Any = Psat_data_Perrys2_8
crc_heats: Any = Hvap_data_CRC


def library_pressure_pa(cas: str, temperature_k: float) -> float:
    """Reference library `chemicals` 1.5.2: coefficients of Perry's handbook, table 2-8."""
    row = perry_pressures.loc[cas]
    return float(dippr_101(temperature_k, *(float(row[f"C{i}"]) for i in range(1, 6))))


# Published numbers


def test_saturated_toluene_vapor_at_25_c_is_37368_ppm() -> None:
    # V01: equation read in industrial hygiene course notes; 28.4 mmHg from memory.
    assert saturation_ppm(28.4 * MMHG, 760 * MMHG) == pytest.approx(37368, rel=0.001)


def test_sulfur_mustard_volatility_is_the_published_610_mg_m3_within_4_percent() -> None:
    # V02: PMC3555992, table 2 (read).
    computed = volatility_mg_m3(
        molar_mass_kg_mol=0.15908, pressure_pa=0.072 * MMHG, temperature_k=293.15
    )
    assert computed == pytest.approx(610, rel=0.04)


def test_water_antoine_constants_give_17_5_mmhg_at_20_c() -> None:
    # V03: constants and value from standard tables (memory).
    constants = {"a": 8.07131, "b": 1730.63, "c": 233.426}
    assert 10 ** antoine_log10_pressure(**constants, temperature=20.0) == pytest.approx(
        17.5, rel=0.01
    )
    pressure = antoine_mmhg_celsius_pressure_pa(**constants, temperature_k=293.15)
    assert pressure == pytest.approx(17.5 * MMHG, rel=0.01)


def test_toluene_carried_from_25_to_20_c_gives_21_9_mmhg() -> None:
    # V04: the check value is from the reference library (derived).
    computed = clausius_clapeyron_pressure_pa(
        reference_pressure_pa=28.4 * MMHG,
        reference_temperature_k=298.15,
        heat_of_vaporization_j_mol=38060,
        temperature_k=293.15,
    )
    assert computed == pytest.approx(21.9 * MMHG, rel=0.02)
    assert computed == pytest.approx(library_pressure_pa("108-88-3", 293.15), rel=0.02)


def test_air_saturated_with_toluene_is_8_percent_heavier_than_air() -> None:
    # V05: regression value (derived from the ideal gas mixture).
    computed = saturated_mixture_relative_density(0.09214, 28.4 * MMHG, 760 * MMHG)
    assert computed == pytest.approx(1.0814, rel=0.002)


def test_pure_toluene_vapor_would_be_3_18_times_air() -> None:
    # Textbook vapor density of toluene, 3.1 to 3.2 (memory): the limit at the boiling point.
    assert saturated_mixture_relative_density(0.09214, 101_325.0) == pytest.approx(3.18, rel=0.003)


def test_saturated_toluene_is_75_times_its_idlh_of_500_ppm() -> None:
    # V06: regression value; the IDLH of 500 ppm is from memory.
    assert vapor_limit_ratio(37368, 500) == pytest.approx(74.7, rel=0.005)


# Outside checks


@pytest.mark.parametrize("name", LIQUIDS)
@pytest.mark.parametrize("celsius", [5.0, 10.0, 20.0, 35.0, 50.0])
def test_25_c_pressure_is_carried_within_5_percent_of_the_library(
    name: str, celsius: float
) -> None:
    # Heat of vaporization at 25 C: CRC handbook table in the reference library.
    cas = LIQUIDS[name]
    computed = clausius_clapeyron_pressure_pa(
        reference_pressure_pa=library_pressure_pa(cas, 298.15),
        reference_temperature_k=298.15,
        heat_of_vaporization_j_mol=float(crc_heats.loc[cas, "Hvap298"]),
        temperature_k=celsius + 273.15,
    )
    assert computed == pytest.approx(library_pressure_pa(cas, celsius + 273.15), rel=0.05)


@pytest.mark.parametrize(
    ("name", "a", "b", "c"),
    [
        # Handbook Antoine constants for mmHg and Celsius (memory).
        ("acetone", 7.02447, 1161.0, 224.0),
        ("benzene", 6.90565, 1211.033, 220.79),
        ("ethanol", 8.04494, 1554.3, 222.65),
        ("toluene", 6.95464, 1344.8, 219.482),
        ("water", 8.07131, 1730.63, 233.426),
    ],
)
@pytest.mark.parametrize("celsius", [10.0, 25.0, 40.0, 60.0])
def test_antoine_constants_agree_with_the_library_within_4_percent(
    name: str, a: float, b: float, c: float, celsius: float
) -> None:
    computed = antoine_mmhg_celsius_pressure_pa(a=a, b=b, c=c, temperature_k=celsius + 273.15)
    assert computed == pytest.approx(library_pressure_pa(LIQUIDS[name], celsius + 273.15), rel=0.04)


@pytest.mark.parametrize("name", LIQUIDS)
def test_two_library_points_give_the_handbook_heat_of_vaporization_within_4_percent(
    name: str,
) -> None:
    cas = LIQUIDS[name]
    computed = heat_of_vaporization_from_points_j_mol(
        pressure_1_pa=library_pressure_pa(cas, 288.15),
        temperature_1_k=288.15,
        pressure_2_pa=library_pressure_pa(cas, 308.15),
        temperature_2_k=308.15,
    )
    assert computed == pytest.approx(float(crc_heats.loc[cas, "Hvap298"]), rel=0.04)


@pytest.mark.parametrize("name", ["acetone", "benzene", "chloroform", "toluene"])
def test_trouton_is_within_6_percent_for_normal_liquids(name: str) -> None:
    row = crc_heats.loc[LIQUIDS[name]]
    computed = trouton_heat_of_vaporization_j_mol(float(row["Tb"]))
    assert computed == pytest.approx(float(row["HvapTb"]), rel=0.06)


@pytest.mark.parametrize("name", ["water", "ethanol"])
def test_trouton_is_15_to_30_percent_low_where_hydrogen_bonds_hold_the_liquid(name: str) -> None:
    row = crc_heats.loc[LIQUIDS[name]]
    ratio = trouton_heat_of_vaporization_j_mol(float(row["Tb"])) / float(row["HvapTb"])
    assert 0.70 < ratio < 0.85


def test_trouton_from_the_boiling_point_overstates_the_pressure_of_water_at_20_c() -> None:
    # The known defect, and that it lies on the incautious side.
    computed = clausius_clapeyron_pressure_pa(
        reference_pressure_pa=101_325.0,
        reference_temperature_k=373.15,
        heat_of_vaporization_j_mol=trouton_heat_of_vaporization_j_mol(373.15),
        temperature_k=293.15,
    )
    assert computed > 1.5 * library_pressure_pa("7732-18-5", 293.15)


# Properties

pressures = st.floats(1e-6, 9e4)
temperatures = st.floats(220.0, 380.0)
heats = st.floats(2e4, 2e5)


@given(pressures, temperatures, temperatures, heats)
def test_a_warmer_liquid_never_has_a_lower_vapor_pressure(
    pressure: float, t1: float, t2: float, heat: float
) -> None:
    def at(temperature: float) -> float:
        return clausius_clapeyron_pressure_pa(
            reference_pressure_pa=pressure,
            reference_temperature_k=300.0,
            heat_of_vaporization_j_mol=heat,
            temperature_k=temperature,
        )

    assert at(min(t1, t2)) <= at(max(t1, t2))


@given(st.floats(1e-2, 1e4), st.floats(250.0, 290.0), st.floats(5.0, 60.0), heats)
def test_the_heat_found_from_two_points_is_the_heat_they_were_made_with(
    pressure: float, t1: float, step: float, heat: float
) -> None:
    p2 = clausius_clapeyron_pressure_pa(
        reference_pressure_pa=pressure,
        reference_temperature_k=t1,
        heat_of_vaporization_j_mol=heat,
        temperature_k=t1 + step,
    )
    if p2 > 1e7:
        return
    found = heat_of_vaporization_from_points_j_mol(
        pressure_1_pa=pressure, temperature_1_k=t1, pressure_2_pa=p2, temperature_2_k=t1 + step
    )
    assert math.isclose(found, heat, rel_tol=1e-6)


@given(st.floats(0.0, 101_325.0))
def test_saturated_air_lies_between_zero_and_a_million_ppm(pressure: float) -> None:
    assert 0.0 <= saturation_ppm(pressure) <= 1e6


@given(st.floats(0.03, 1.0), st.floats(0.0, 101_325.0))
def test_saturated_air_is_never_heavier_than_the_pure_vapor(mass: float, pressure: float) -> None:
    ratio = mass / 0.02897
    assert 1.0 <= saturated_mixture_relative_density(mass, pressure) <= ratio * (1 + 1e-12)


def test_the_milligram_form_is_a_million_times_the_kilogram_form() -> None:
    case = {"molar_mass_kg_mol": 0.1, "pressure_pa": 100.0, "temperature_k": 300.0}
    assert volatility_mg_m3(**case) == pytest.approx(1e6 * volatility_kg_m3(**case), rel=1e-12)


# Refusals that span two arguments


def test_a_gas_has_no_saturated_air() -> None:
    with pytest.raises(PhysicsRangeError, match="pressure_pa"):
        saturation_ppm(101_326.0)


def test_two_points_closer_than_one_kelvin_are_refused() -> None:
    with pytest.raises(PhysicsRangeError, match=r"temperature_2_k is 290\.5"):
        heat_of_vaporization_from_points_j_mol(
            pressure_1_pa=100.0, temperature_1_k=290.0, pressure_2_pa=110.0, temperature_2_k=290.5
        )


def test_two_points_exactly_one_kelvin_apart_are_accepted() -> None:
    assert heat_of_vaporization_from_points_j_mol(
        pressure_1_pa=100.0, temperature_1_k=290.0, pressure_2_pa=106.0, temperature_2_k=291.0
    )


def test_a_pressure_that_falls_with_temperature_is_refused() -> None:
    with pytest.raises(PhysicsRangeError, match="heat_of_vaporization_j_mol"):
        heat_of_vaporization_from_points_j_mol(
            pressure_1_pa=200.0, temperature_1_k=290.0, pressure_2_pa=100.0, temperature_2_k=310.0
        )


def test_an_antoine_pole_is_refused() -> None:
    with pytest.raises(PhysicsRangeError, match="above -100"):
        antoine_log10_pressure(a=7.0, b=1000.0, c=100.0, temperature=-100.0)


def test_antoine_constants_in_the_wrong_unit_are_refused_when_the_result_is_absurd() -> None:
    with pytest.raises(PhysicsRangeError, match="antoine_pressure_pa"):
        antoine_mmhg_celsius_pressure_pa(a=20.0, b=1000.0, c=230.0, temperature_k=293.15)
