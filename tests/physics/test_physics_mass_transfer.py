"""Mass transfer coefficients, against published examples and one another."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recommender.errors import PhysicsRangeError
from recommender.physics.evaporation import evaporation_flux_kg_m2_s
from recommender.physics.mass_transfer import (
    epa_pool_m_s,
    flat_plate_laminar_m_s,
    flat_plate_turbulent_m_s,
    kawamura_mackay_m_s,
    mackay_matsugu_m_s,
    penetration_m_s,
    still_air_m_s,
)

MMHG = 133.322387
KG_PER_LB = 0.45359237
M2_PER_FT2 = 0.3048**2
NU = 1.5057e-5


def epa_flux_lb_min_ft2(molar_mass: float, pressure_mmhg: float, kelvin: float, u: float) -> float:
    """Flux of the EPA pool form in the unit of its guidance, without the volatility factor."""
    k = epa_pool_m_s(wind_speed_m_s=u, molar_mass_kg_mol=molar_mass)
    flux = k * molar_mass * pressure_mmhg * MMHG / (8.314462618 * kelvin)
    return flux * 60.0 * M2_PER_FT2 / KG_PER_LB


# Published examples


def test_epa_constant_0_284_follows_from_a_reference_coefficient_of_0_67_cm_s() -> None:
    # E01: EPA 550-B-99-009, equation D-1 (memory): lb/min = 0.284 U^0.78 M^(2/3) A VP/(82.05 T).
    computed = epa_flux_lb_min_ft2(0.018015, 1.0, 300.0, 1.0) * 82.05 * 300.0 / 18.015 ** (2 / 3)
    assert computed == pytest.approx(0.284, rel=0.003)


def test_epa_liquid_factor_of_acrylonitrile_is_0_018() -> None:
    # E02: EPA 550-B-99-009, liquid factor ambient of acrylonitrile (memory).
    computed = epa_flux_lb_min_ft2(0.05306, 108.0, 298.0, 1.0)
    assert computed == pytest.approx(0.018, rel=0.03)


def test_epa_example_releases_307_pounds_of_acrylonitrile_a_minute() -> None:
    # E03: EPA 550-B-99-009 worked example (memory): 20 000 lb, wind factor 1.4 for 1.5 m/s,
    # factor 0.018, density factor 0.61 ft2/lb. The printed factors are rounded: 5 %.
    by_hand = 20_000 * 1.4 * 0.018 * 0.61
    assert by_hand == pytest.approx(307, rel=0.005)
    computed = 20_000 * 0.61 * epa_flux_lb_min_ft2(0.05306, 108.0, 298.0, 1.5)
    assert computed == pytest.approx(307, rel=0.05)


def test_still_air_form_gives_1464_p_m_in_micrograms_per_m2_hour() -> None:
    # E04: Mackay and van Wesenbeeck 2014, abstract (read); toluene at 20 C.
    k = still_air_m_s(293.15)
    flux = k * 0.09214 * 2918.9 / (8.314462618 * 293.15)
    assert flux * 1e9 * 3600 == pytest.approx(393_700_000.0, rel=0.002)


def test_still_air_coefficient_is_1_mm_s() -> None:
    # E05: same; value derived.
    assert still_air_m_s(298.15) == pytest.approx(0.001008, rel=0.005)


# Regression values (equation from memory, value derived), water vapor in 1 m/s over 0.3 m


def test_kawamura_mackay_gives_7_56_mm_s_for_water() -> None:
    # E06: Kawamura and Mackay 1987.
    computed = kawamura_mackay_m_s(wind_speed_m_s=1.0, patch_length_m=0.3, schmidt=0.62)
    assert computed == pytest.approx(0.00756, rel=0.01)


def test_mackay_matsugu_gives_7_59_mm_s_for_water() -> None:
    # E07: Mackay and Matsugu 1973.
    computed = mackay_matsugu_m_s(wind_speed_m_s=1.0, patch_length_m=0.3, schmidt=0.62)
    assert computed == pytest.approx(0.00759, rel=0.01)


def test_laminar_flat_plate_gives_6_48_mm_s_for_water() -> None:
    # E08: textbook laminar plate.
    computed = flat_plate_laminar_m_s(
        wind_speed_m_s=1.0,
        patch_length_m=0.3,
        diffusivity_m2_s=NU / 0.62,
        kinematic_viscosity_m2_s=NU,
    )
    assert computed == pytest.approx(0.00648, rel=0.02)


@pytest.mark.parametrize(
    ("name", "mass", "schmidt", "epa", "kawamura", "plate", "penetration"),
    [
        # k in mm/s at 1 and 3 m/s, 20 C, 0.3 m.
        ("water", 0.018015, 0.62, (6.7, 15.8), (7.6, 17.8), (6.5, 16.8), (9.9, 17.1)),
        ("acetone", 0.05808, 1.46, (4.5, 10.7), (4.3, 10.0), (3.7, 9.4), (7.1, 12.3)),
        ("toluene", 0.09214, 1.92, (3.9, 9.2), (3.6, 8.3), (3.0, 7.9), (6.4, 11.0)),
        ("tetradecane", 0.19839, 3.18, (3.0, 7.1), (2.5, 6.0), (2.2, 5.6), (5.4, 9.4)),
        ("sulfur mustard", 0.15908, 2.28, (3.2, 7.6), (3.2, 7.4), (2.7, 7.0), (5.7, 9.8)),
    ],
)
def test_windy_models_match_the_comparison_table(
    name: str,
    mass: float,
    schmidt: float,
    epa: tuple[float, float],
    kawamura: tuple[float, float],
    plate: tuple[float, float],
    penetration: tuple[float, float],
) -> None:
    for i, wind in enumerate((1.0, 3.0)):
        flat = flat_plate_laminar_m_s if wind == 1.0 else flat_plate_turbulent_m_s
        computed = [
            epa_pool_m_s(wind_speed_m_s=wind, molar_mass_kg_mol=mass),
            kawamura_mackay_m_s(wind_speed_m_s=wind, patch_length_m=0.3, schmidt=schmidt),
            flat(
                wind_speed_m_s=wind,
                patch_length_m=0.3,
                diffusivity_m2_s=NU / schmidt,
                kinematic_viscosity_m2_s=NU,
            ),
            penetration_m_s(
                wind_speed_m_s=wind,
                patch_length_m=0.3,
                molar_mass_kg_mol=mass,
                temperature_k=293.15,
            ),
        ]
        expected = [1e-3 * v[i] for v in (epa, kawamura, plate, penetration)]
        assert computed == pytest.approx(expected, rel=0.025), name


# Outside checks


@pytest.mark.parametrize("wind", [0.2, 0.5, 2.0])
@pytest.mark.parametrize("length", [0.1, 0.3, 2.0])
def test_penetration_form_for_water_agrees_with_penetration_theory(
    wind: float, length: float
) -> None:
    # Higbie's theory, k = 2 (D v/(pi L))^0.5 (textbook, memory): proves the unit conversion.
    theory = 2.0 * math.sqrt(0.2436e-4 * wind / (math.pi * length))
    computed = penetration_m_s(
        wind_speed_m_s=wind, patch_length_m=length, molar_mass_kg_mol=0.018015, temperature_k=293.15
    )
    assert computed == pytest.approx(theory, rel=0.04)


@given(st.floats(0.1, 40.0), st.floats(0.01, 100.0), st.floats(0.1, 20.0))
def test_kawamura_mackay_is_the_si_twin_of_mackay_matsugu(u: float, z: float, sc: float) -> None:
    one = kawamura_mackay_m_s(wind_speed_m_s=u, patch_length_m=z, schmidt=sc)
    other = mackay_matsugu_m_s(wind_speed_m_s=u, patch_length_m=z, schmidt=sc)
    assert one == pytest.approx(other, rel=0.03)


@given(st.floats(0.5, 3.0), st.floats(0.2, 1.0), st.floats(0.018, 0.3))
def test_still_air_is_slower_than_any_wind_a_crew_works_in(u: float, z: float, m: float) -> None:
    schmidt = 0.62 * math.sqrt(m / 0.018)
    assert still_air_m_s(293.15) < kawamura_mackay_m_s(
        wind_speed_m_s=u, patch_length_m=z, schmidt=schmidt
    )
    assert still_air_m_s(293.15) < epa_pool_m_s(wind_speed_m_s=u, molar_mass_kg_mol=m)


# Properties


@given(st.floats(0.1, 39.0), st.floats(0.01, 90.0), st.floats(0.1, 19.0))
def test_wind_speeds_transfer_and_length_and_schmidt_number_slow_it(
    u: float, z: float, sc: float
) -> None:
    for model in (kawamura_mackay_m_s, mackay_matsugu_m_s):
        here = model(wind_speed_m_s=u, patch_length_m=z, schmidt=sc)
        assert here < model(wind_speed_m_s=u * 1.02, patch_length_m=z, schmidt=sc)
        assert here > model(wind_speed_m_s=u, patch_length_m=z * 1.1, schmidt=sc)
        assert here > model(wind_speed_m_s=u, patch_length_m=z, schmidt=sc * 1.05)


@given(st.floats(0.1, 39.0), st.floats(0.002, 1.9))
def test_a_heavier_vapor_never_leaves_faster_in_the_epa_form(u: float, m: float) -> None:
    here = epa_pool_m_s(wind_speed_m_s=u, molar_mass_kg_mol=m)
    assert here < epa_pool_m_s(wind_speed_m_s=u * 1.02, molar_mass_kg_mol=m)
    assert here > epa_pool_m_s(wind_speed_m_s=u, molar_mass_kg_mol=m * 1.05)


def test_ten_times_the_length_slows_kawamura_mackay_by_22_percent() -> None:
    short = kawamura_mackay_m_s(wind_speed_m_s=1.0, patch_length_m=0.3, schmidt=2.0)
    long = kawamura_mackay_m_s(wind_speed_m_s=1.0, patch_length_m=3.0, schmidt=2.0)
    assert long / short == pytest.approx(0.774, rel=0.001)


# The plate's own range: Reynolds number


@pytest.mark.parametrize(
    ("model", "low", "high"),
    [(flat_plate_laminar_m_s, 1e3, 5e5), (flat_plate_turbulent_m_s, 2e4, 1e8)],
)
def test_flat_plate_holds_only_between_its_reynolds_numbers(
    model: Callable[..., float], low: float, high: float
) -> None:
    def run(reynolds: float) -> float:
        viscosity = 1e-5 if reynolds < 1e7 else 1e-6
        wind = 0.5 if reynolds < 1e7 else 20.0
        return model(
            wind_speed_m_s=wind,
            patch_length_m=reynolds * viscosity / wind,
            diffusivity_m2_s=1e-5,
            kinematic_viscosity_m2_s=viscosity,
        )

    assert run(low * 1.001) > 0.0
    assert run(high * 0.999) > 0.0
    with pytest.raises(PhysicsRangeError, match="reynolds_number"):
        run(low * 0.999)
    with pytest.raises(PhysicsRangeError, match="reynolds_number"):
        run(high * 1.001)


def test_a_flux_can_be_made_from_any_of_the_coefficients() -> None:
    assert evaporation_flux_kg_m2_s(
        mass_transfer_coefficient_m_s=still_air_m_s(293.15),
        molar_mass_kg_mol=0.09214,
        surface_pressure_pa=2918.9,
        surface_temperature_k=293.15,
        ambient_temperature_k=293.15,
    ) == pytest.approx(1464e-9 / 3600 * 2918.9 * 92.14, rel=0.02)
