"""Identities and curves as they are read from the packages."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

import recommender

LIBRARY = Path(recommender.__file__).parent


def test_only_the_build_modules_import_the_data_bearing_packages() -> None:
    slow = {"chemicals", "thermo", "rdkit", "pandas", "numpy", "fluids"}
    found = set()
    for file in LIBRARY.rglob("*.py"):
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            names = []
            if isinstance(node, ast.Import):
                names = [alias.name for alias in node.names]
            elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
                names = [node.module]
            if any(name.split(".")[0] in slow for name in names):
                found.add(file.relative_to(LIBRARY).as_posix())
    assert {
        "library/build_curves.py",
        "library/build_liquid.py",
        "library/build_structure.py",
    } <= found
    assert all(name.startswith("library/") for name in found), found


def test_a_wrong_check_digit_is_no_cas_number() -> None:
    from recommender.library.build_read import cas_number

    assert cas_number("108-88-3") == 108883 == cas_number("108883")
    assert cas_number("108-88-4") is None
    assert cas_number("") is None and cas_number("abc") is None


def test_names_and_elements_are_read() -> None:
    pytest.importorskip("chemicals")
    from recommender.library.build_identity import read_substances

    found = read_substances()
    assert len(found) > 76_000
    assert "methylbenzene" in found[108883].names
    assert {7704349, 7440440} <= set(found)
    assert all(s.name and s.molar_mass > 0 for s in found.values())


def test_every_curve_agrees_with_the_package_that_carries_it() -> None:
    """Coefficients put in the wrong order would show here."""
    thermo = pytest.importorskip("thermo")
    from recommender.library.build_curves import read_curves

    methods = {
        "Poling Antoine": "ANTOINE_POLING",
        "Landolt-Bornstein": "LANDOLT",
        "WebBook Antoine": "ANTOINE_WEBBOOK",
        "McGarry": "WAGNER_MCGARRY",
        "Poling Wagner": "WAGNER_POLING",
        "Poling extended": "ANTOINE_EXTENDED_POLING",
        "VDI": "VDI_PPDS",
        "Perry": "DIPPR_PERRY_8E",
        "Alcock": "ALCOCK_ELEMENTS",
        "reference equation fit": "HEOS_FIT",
    }
    curves = read_curves()
    compared = set()
    for cas, text in ((108883, "108-88-3"), (62533, "62-53-3"), (7440235, "7440-23-5")):
        package = thermo.VaporPressure(CASRN=text)
        for curve in curves[cas]:
            method = methods.get(curve.source)
            if method is None:
                continue
            middle = (curve.low_k + curve.high_k) / 2
            assert curve.at(middle) == pytest.approx(package.calculate(middle, method), rel=1e-9)
            compared.add(curve.source)
    assert compared == set(methods)


def test_curves_of_one_temperature_only_are_not_curves() -> None:
    pytest.importorskip("thermo")
    from recommender.library.build_curves import read_curves

    assert all(c.low_k < c.high_k for found in read_curves().values() for c in found)


def test_one_table_of_viscosities_is_read_as_base_ten() -> None:
    """1-Butanol is 2.95 cP at 20 C (CRC Handbook); the package's own reading gives 0.8."""
    pytest.importorskip("chemicals")
    from recommender.library.build_liquid import read_liquids

    values = read_liquids({})["viscosity"][71363]
    assert len(values) >= 4
    assert all(v.value == pytest.approx(2.95, rel=0.1) for v in values)
