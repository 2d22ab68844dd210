"""UN numbers beyond the curated table."""

from __future__ import annotations

import pytest

from recommender.chemicals.cas import normalize_cas
from recommender.chemicals.lookup import find
from recommender.chemicals.table import FORMS, load_chemicals
from recommender.data_files import read_table
from recommender.errors import (
    AmbiguousChemicalError,
    ChemicalNotFoundError,
    GroupNumberError,
    LookupFailedError,
)
from recommender.library.resolve import resolve
from recommender.library.store import Store
from recommender.library.un_numbers import load_un_numbers, un_digits, un_of_cas
from recommender.sources import load_sources

ENTRIES = load_un_numbers()
# From the hazardous materials table of 49 CFR 172.101 and the NIOSH Pocket Guide.
KNOWN = (
    *(("1048", "10035-10-6"), ("1070", "10024-97-2"), ("1080", "2551-62-4")),
    *(("1100", "107-05-1"), ("1134", "108-90-7"), ("1145", "110-82-7"), ("1165", "123-91-1")),
    *(("1175", "100-41-4"), ("1190", "109-94-4"), ("1229", "141-79-7"), ("1247", "80-62-6")),
    *(("1282", "110-86-1"), ("1292", "78-10-4"), ("1296", "121-44-8"), ("1344", "88-89-1")),
    *(("1591", "95-50-1"), ("1648", "75-05-8"), ("1690", "7681-49-4"), ("1745", "7789-30-2")),
    *(("1749", "7790-91-2"), ("1752", "79-04-9"), ("1839", "76-03-9"), ("1885", "92-87-5")),
    *(("1897", "127-18-4"), ("1918", "98-82-8"), ("2054", "110-91-8"), ("2079", "111-40-0")),
    *(("2191", "2699-79-8"), ("2205", "111-69-3"), ("2215", "108-31-6"), ("2281", "822-06-0")),
    *(("2290", "4098-71-9"), ("2325", "108-67-8"), ("2451", "7783-54-2")),
)


def test_every_row_is_well_formed_and_sourced() -> None:
    assert len(ENTRIES) >= 900
    assert len(read_table("un_numbers.csv")) == len(ENTRIES)
    for row in read_table("un_numbers.csv"):
        assert un_digits(row["un"]) == row["un"]
        assert row["words"]
        assert row["form"] in ("", *FORMS)
        assert all(normalize_cas(cas) == cas for cas in row["cas"].split(";")), row
        assert row["source"] in load_sources()
        assert row["provenance"] in ("read", "memory")


def test_group_entries_stand_in_their_own_table() -> None:
    groups = {row["un"] for row in read_table("un_group_entries.csv")}
    assert not groups & set(ENTRIES)
    assert not [e.un for e in ENTRIES.values() if "n.o.s" in e.words.lower()]
    with pytest.raises(GroupNumberError):
        resolve("UN 1993")


def test_the_curated_table_leads_and_agrees() -> None:
    held = {un: c for c in load_chemicals().values() for un in c.un}
    for un in set(held) & set(ENTRIES):
        assert held[un].cas in ENTRIES[un].cas, un


@pytest.mark.parametrize(("un", "cas"), KNOWN)
def test_numbers_of_the_transport_table_lead_to_their_substance(
    un: str, cas: str, names: Store
) -> None:
    for typed in (un, f"UN{un}", f"UN {un}", f"un-{un}"):
        try:
            assert resolve(typed, store=names).chemical.cas == cas
        except AmbiguousChemicalError as refused:
            assert typed == "1080", refused


def test_every_number_leads_to_its_substance_or_says_what_it_is(names: Store) -> None:
    found = 0
    for un, entry in ENTRIES.items():
        if un == "1080":
            continue
        try:
            match = resolve(f"UN {un}", store=names)
        except AmbiguousChemicalError as refused:
            assert len(entry.cas) > 1 or refused.candidates
            continue
        except ChemicalNotFoundError as missing:
            assert entry.words in missing.advice or "mixture or a polymer" in missing.advice
            continue
        found += 1
        assert match.chemical.cas in entry.cas, un
        assert any(entry.words in note for note in match.notes)
    assert found >= 800


def test_a_shared_number_is_refused_with_its_isomers(names: Store) -> None:
    with pytest.raises(AmbiguousChemicalError, match="UN 1664 is shared") as refused:
        resolve("UN 1664", store=names)
    assert {c[2] for c in refused.value.candidates} == {"88-72-2", "99-08-1", "99-99-0"}


def test_a_number_of_nothing_says_so(names: Store) -> None:
    for typed in ("UN 9999", "UN 3480"):
        with pytest.raises(ChemicalNotFoundError, match="no single product") as miss:
            resolve(typed, store=names)
        assert miss.value.nearest == ()


def test_without_a_store_a_number_still_says_what_it_is() -> None:
    with pytest.raises(ChemicalNotFoundError, match=r"chlorobenzene \(CAS 108-90-7\)"):
        resolve("UN 1134")


def test_a_bare_code_is_no_un_number(names: Store) -> None:
    with pytest.raises(LookupFailedError, match="trade code"):
        find("1080")
    assert resolve("UN 1080", store=names).chemical.cas == "2551-62-4"


def test_numbers_of_a_substance_come_with_it(names: Store) -> None:
    assert un_of_cas()["108-90-7"] == ("1134",)
    assert resolve("chlorobenzene", store=names).chemical.un == ("1134",)
