"""Equations that carry and estimate, against published values named beside each case."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recommender.library.estimates import (
    LOG_ATMOSPHERE,
    boiling_and_heat_log_pressure,
    boiling_point_log_pressure,
    carried_log_pressure,
    general_solubility_g_l,
    henry_solubility_g_l,
    solid_log_pressure,
)

# Boiling point (K), heat of vaporization at 25 C (J/mol), vapor pressure at 25 C (Pa):
# CRC Handbook of Chemistry and Physics, tables of vapor pressure and enthalpy of vaporization.
CRC_LIQUIDS = [
    ("hexane", 341.9, 31_560, 20_200),
    ("octane", 398.8, 41_490, 1_860),
    ("toluene", 383.8, 38_010, 3_790),
    ("chlorobenzene", 404.9, 40_970, 1_600),
    ("1-butanol", 390.9, 52_350, 860),
    ("nitrobenzene", 484.0, 55_010, 33),
]


@pytest.mark.parametrize(("name", "boiling", "heat", "pressure"), CRC_LIQUIDS)
def test_boiling_point_and_heat_give_the_pressure_within_a_fourth(
    name: str, boiling: float, heat: float, pressure: float
) -> None:
    log = boiling_and_heat_log_pressure(
        boiling_k=boiling, heat_298_j_mol=heat, temperature_k=298.15
    )
    assert 10**log == pytest.approx(pressure, rel=0.25), name


@pytest.mark.parametrize(("name", "boiling", "heat", "pressure"), CRC_LIQUIDS[:4])
def test_the_boiling_point_alone_gives_it_within_a_quarter_for_what_has_no_hydrogen_bonds(
    name: str, boiling: float, heat: float, pressure: float
) -> None:
    log = boiling_point_log_pressure(boiling_k=boiling, temperature_k=298.15)
    assert 10**log == pytest.approx(pressure, rel=0.25), name


def test_an_alcohol_needs_its_attraction() -> None:
    plain = boiling_point_log_pressure(boiling_k=390.9, temperature_k=298.15)
    held = boiling_point_log_pressure(boiling_k=390.9, temperature_k=298.15, attraction=1.2)
    assert abs(held - math.log10(860)) < 0.25 < 0.5 < abs(plain - math.log10(860))


@given(st.floats(250.0, 700.0), st.floats(1.0, 1.3))
def test_at_the_boiling_point_the_pressure_is_one_atmosphere(boiling: float, factor: float) -> None:
    log = boiling_point_log_pressure(boiling_k=boiling, temperature_k=boiling, attraction=factor)
    assert log == pytest.approx(LOG_ATMOSPHERE)


@given(st.floats(300.0, 700.0), st.floats(200.0, 299.0), st.floats(20_000.0, 120_000.0))
def test_colder_is_never_more(boiling: float, temperature: float, heat: float) -> None:
    warm, cold = (
        boiling_point_log_pressure(boiling_k=boiling, temperature_k=t)
        for t in (temperature + 1.0, temperature)
    )
    assert cold < warm
    there, back = (
        carried_log_pressure(
            log_pressure=3.0, from_k=temperature, heat_j_mol=heat, to_k=temperature + step
        )
        for step in (5.0, -5.0)
    )
    assert back < 3.0 < there


def test_a_growing_heat_gives_less_pressure_far_below_than_a_constant_one() -> None:
    grown, constant = (
        carried_log_pressure(
            log_pressure=4.0,
            from_k=400.0,
            heat_j_mol=45_000.0,
            to_k=300.0,
            heat_capacity_change=change,
        )
        for change in (-55.0, 0.0)
    )
    assert 0.1 < constant - grown < 0.3


def test_naphthalene_the_solid_is_a_third_of_the_supercooled_liquid() -> None:
    # Solid 10.5 Pa and liquid 37 Pa at 25 C (melting at 353.4 K): CRC Handbook; Schwarzenbach,
    # Environmental Organic Chemistry.
    log = solid_log_pressure(
        liquid_log_pressure=math.log10(37.0), melting_k=353.4, temperature_k=298.15
    )
    assert 10**log == pytest.approx(10.5, rel=0.1)


def test_above_its_melting_point_nothing_is_lowered() -> None:
    assert solid_log_pressure(liquid_log_pressure=2.0, melting_k=250, temperature_k=298) == 2.0


def test_benzene_dissolves_as_henry_and_vapor_pressure_say() -> None:
    # 1.79 g/L at 25 C; constant 5.57e4 Pa L/mol times 55.34 mol/L; 12.7 kPa: CRC Handbook.
    found = henry_solubility_g_l(
        ln_henry=math.log(5.57e5 * 55.34), pressure_pa=12_700, molar_mass=78.11
    )
    assert found == pytest.approx(1.79, rel=0.05)


def test_a_gas_is_taken_at_one_atmosphere() -> None:
    one, ten = (
        henry_solubility_g_l(ln_henry=20.0, pressure_pa=p, molar_mass=44.0)
        for p in (101_325.0, 1_013_250.0)
    )
    assert one == ten


@pytest.mark.parametrize(
    ("name", "log_kow", "melting", "mass", "measured"),
    [
        # Log Kow, melting point (C) and solubility at 25 C (g/L): CRC Handbook.
        ("naphthalene", 3.30, 80.2, 128.2, 0.031),
        ("toluene", 2.73, -95.0, 92.1, 0.53),
        ("anthracene", 4.45, 216.0, 178.2, 4.5e-5),
        ("chlorobenzene", 2.89, -45.0, 112.6, 0.5),
    ],
)
def test_the_solubility_equation_comes_within_a_decade(
    name: str, log_kow: float, melting: float, mass: float, measured: float
) -> None:
    found = general_solubility_g_l(log_kow=log_kow, melting_c=melting, molar_mass=mass)
    assert abs(math.log10(found / measured)) < 1.0, name
