"""Formulas are found however their elements are ordered."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recommender.library.formula import hill_formula


@pytest.mark.parametrize(
    ("typed", "kept"),
    [
        ("H2SO4", "H2O4S"),
        ("C2H5OH", "C2H6O"),
        ("CH3COOH", "C2H4O2"),
        ("Ca(OH)2", "CaH2O2"),
        ("Al2(SO4)3", "Al2O12S3"),
        ("NaOH", "HNaO"),
        ("H₂O", "H2O"),
        ("  Cl2 ", "Cl2"),
        ("CCl4", "CCl4"),
    ],
)
def test_a_formula_is_written_in_hill_order(typed: str, kept: str) -> None:
    assert hill_formula(typed) == kept


@pytest.mark.parametrize("typed", ["", "acetone", "h2o", "Na+", "C6H6)", "(CH3", "2H2O", "C" * 80])
def test_what_is_no_formula_is_refused(typed: str) -> None:
    assert hill_formula(typed) is None


@given(st.text(max_size=80))
def test_any_text_gives_a_formula_or_nothing(text: str) -> None:
    found = hill_formula(text)
    assert found is None or hill_formula(found) == found
