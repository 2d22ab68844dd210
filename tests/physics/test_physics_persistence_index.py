"""Leitner's index against the table values of the 1930s."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recommender.physics.persistence_index import leitner_index

MMHG = 133.322387


@pytest.mark.parametrize(
    ("name", "pressure_mmhg", "mass", "table", "tolerance"),
    [
        # P01 to P03: war-gas textbooks of the 1930s (Prentiss, Sartori); definition of the symbols
        # read in a transcription, table values and period vapor pressures from memory.
        ("mustard", 0.065, 0.15908, 67.0, 0.01),
        ("lewisite", 0.395, 0.20732, 9.6, 0.02),
        ("chloropicrin", 18.3, 0.16438, 0.23, 0.02),
    ],
)
def test_the_index_reproduces_the_printed_table_with_period_pressures(
    name: str, pressure_mmhg: float, mass: float, table: float, tolerance: float
) -> None:
    computed = leitner_index(
        pressure_pa=pressure_mmhg * MMHG, molar_mass_kg_mol=mass, temperature_k=293.15
    )
    assert computed == pytest.approx(table, rel=tolerance), name


def test_modern_data_do_not_reproduce_the_printed_mustard_value() -> None:
    # Regression (derived): 0.072 mmHg gives 60, the known defect in the docstring.
    computed = leitner_index(
        pressure_pa=0.072 * MMHG, molar_mass_kg_mol=0.15908, temperature_k=293.15
    )
    assert computed == pytest.approx(60.3, rel=0.01)


def test_water_at_15_c_is_the_unit() -> None:
    computed = leitner_index(
        pressure_pa=12.79 * MMHG, molar_mass_kg_mol=0.018015, temperature_k=288.15
    )
    assert computed == pytest.approx(1.0, rel=1e-12)


@given(st.floats(1e-3, 1e5), st.floats(0.01, 1.0), st.floats(1.0, 100.0))
def test_a_lower_pressure_never_lowers_the_index(
    pressure: float, mass: float, times: float
) -> None:
    here = leitner_index(pressure_pa=pressure, molar_mass_kg_mol=mass, temperature_k=293.15)
    assert (
        leitner_index(pressure_pa=pressure / times, molar_mass_kg_mol=mass, temperature_k=293.15)
        >= here
    )
