"""Known wrong values of the packages: the table is sound, and every row does something."""

from __future__ import annotations

import pytest

from recommender.chemicals.cas import normalize_cas
from recommender.errors import DataError
from recommender.library import corrections
from recommender.library.build_read import Tabulated
from recommender.library.consensus import Ledger
from recommender.library.corrections import corrected, load_corrections
from recommender.library.schema import UNITS

ROWS = [row for rows in load_corrections().values() for row in rows]


def test_every_row_names_a_property_and_gives_a_reason() -> None:
    assert len(ROWS) >= 25
    for row in ROWS:
        assert row.property in UNITS and len(row.reason) > 20, row


def test_every_row_takes_something_out_of_the_packages() -> None:
    for package in ("chemicals", "thermo"):
        pytest.importorskip(package)
    from recommender.library.build import _carcinogen_tables
    from recommender.library.build_curves import read_curves
    from recommender.library.build_tables import read_constants

    constants = {**read_constants({}), **_carcinogen_tables()}
    curves = read_curves()
    idle = []
    for row in ROWS:
        if row.property == "vapor_pressure":
            sources = {c.source for c in curves.get(row.cas, [])}
        else:
            sources = {v.source for v in constants[row.property].get(row.cas, [])}
        hit = bool(sources) if row.table == "every" else row.table in sources
        if not hit:
            idle.append((row.cas, row.property, row.table))
    # Curves with garbled coefficients may be read as none at all.
    assert idle == []


def test_a_drop_takes_one_table_and_leaves_the_others() -> None:
    values = [Tabulated("Common Chemistry", "common-chemistry", 133.6), Tabulated("X", "crc", -130)]
    ledger = Ledger()
    kept = corrected(78002, "melting_point", values, ledger)
    assert [v.source for v in kept] == ["X"]
    assert [d.action for d in ledger.rows] == ["drop"]


def test_a_replacement_takes_all_and_puts_its_own() -> None:
    ledger = Ledger()
    kept = corrected(7723140, "melting_point", [Tabulated("X", "crc", 590.0)], ledger)
    assert [v.value for v in kept] == [44.15]
    assert [d.action for d in ledger.rows] == ["replace"]


def test_what_is_not_listed_is_left_alone() -> None:
    values = [Tabulated("X", "crc", 1.0)]
    assert corrected(108883, "melting_point", values, Ledger()) == values


@pytest.mark.parametrize(
    "change",
    [
        {"property": "color"},
        {"action": "forget"},
        {"action": "replace", "value": ""},
        {"action": "drop", "value": "3"},
    ],
)
def test_a_row_that_cannot_be_used_is_refused(
    change: dict[str, str], monkeypatch: pytest.MonkeyPatch
) -> None:
    row = {
        "cas": "108-88-3",
        "property": "melting_point",
        "table": "every",
        "action": "drop",
        "value": "",
        "reason": "because",
        "source": "crc",
        "provenance": "memory",
    }
    monkeypatch.setattr(corrections, "read_table", lambda _: [row | change])
    load_corrections.cache_clear()
    try:
        with pytest.raises(DataError, match="library_corrections"):
            load_corrections()
    finally:
        monkeypatch.undo()
        load_corrections.cache_clear()


def test_numbers_of_the_table_are_written_as_cas_numbers() -> None:
    for row in ROWS:
        text = str(row.cas)
        assert normalize_cas(f"{text[:-3]}-{text[-3:-1]}-{text[-1]}")
