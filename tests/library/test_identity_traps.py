"""Wrong identities that name lists give: the table, and the rules."""

from __future__ import annotations

import pytest

from recommender.chemicals.cas import normalize_cas
from recommender.chemicals.lookup import find, normalize_name
from recommender.chemicals.table import load_chemicals
from recommender.data_files import read_table
from recommender.errors import AmbiguousChemicalError, ChemicalNotFoundError, LookupFailedError
from recommender.library.identity_traps import (
    AMBIGUOUS,
    Judged,
    Trap,
    is_mixture_number,
    isomers,
    judge,
    load_traps,
)
from recommender.library.resolve import resolve
from recommender.library.store import Store
from recommender.sources import load_sources

TRAPS = tuple(load_traps().values())
CURATED = {c.cas for c in load_chemicals().values() if c.cas}
PROVENANCES = {"read", "memory", "practice", "judgement", "library"}


def judged(names: Store, text: str) -> Judged:
    """Return what the rules say of one name."""
    return judge(names, text, names.by_name(normalize_name(text)))


def is_curated_name(text: str) -> bool:
    """Whether the curated table settles a text by itself."""
    try:
        find(text)
    except LookupFailedError:
        return False
    return True


# --- the table ---------------------------------------------------------------------------------


def test_every_row_has_a_source_a_provenance_and_a_reason() -> None:
    assert len(TRAPS) >= 100
    for trap in TRAPS:
        assert trap.source in load_sources(), trap.typed
        assert trap.provenance in PROVENANCES, trap.typed
        assert trap.reason and not trap.reason.endswith("."), trap.typed
        assert not trap.wrong or normalize_cas(trap.wrong) == trap.wrong


@pytest.mark.parametrize("trap", TRAPS, ids=lambda trap: trap.typed)
def test_what_the_table_says_is_what_comes_out(trap: Trap, names: Store) -> None:
    if is_curated_name(trap.typed):
        return
    if trap.right == AMBIGUOUS:
        with pytest.raises(AmbiguousChemicalError) as refused:
            resolve(trap.typed, store=names)
        assert [c[2] for c in refused.value.candidates] == [cas for _, cas in trap.names]
        assert refused.value.why == trap.reason
        return
    ((name, cas),) = trap.names
    try:
        match = resolve(trap.typed, store=names)
    except ChemicalNotFoundError as missing:
        assert cas not in CURATED
        assert names.substance(cas) is None or is_mixture_number(cas)
        assert cas in missing.advice
        return
    assert match.chemical.cas == cas
    assert match.chemical.cas in CURATED or match.chemical.name == name


@pytest.mark.parametrize("trap", TRAPS, ids=lambda trap: trap.typed)
def test_the_table_holds_without_a_store(trap: Trap) -> None:
    if is_curated_name(trap.typed):
        return
    try:
        assert resolve(trap.typed).chemical.cas == trap.right
    except AmbiguousChemicalError:
        assert trap.right == AMBIGUOUS or trap.right in CURATED
    except ChemicalNotFoundError as missing:
        assert trap.right not in CURATED
        assert trap.right in missing.advice


def test_the_wrong_answers_are_those_of_the_name_list(names: Store) -> None:
    """The table corrects what the list says; where it no longer does, the cell can go."""
    for trap in TRAPS:
        if trap.wrong and not trap.typed.replace("-", "").isdigit():
            hits = [hit.cas for hit in names.by_name(normalize_name(trap.typed))]
            assert trap.wrong in hits, (trap.typed, hits)


def test_no_row_repeats_or_contradicts_itself() -> None:
    rows = read_table("identity_traps.csv")
    assert len(rows) == len(TRAPS)


# --- an element's atom for its molecule ---------------------------------------------------------


@pytest.mark.parametrize(
    ("typed", "cas"),
    [
        *(("N2", "7727-37-9"), ("O2", "7782-44-7"), ("H2", "1333-74-0"), ("F2", "7782-41-4")),
        *(("Cl2", "7782-50-5"), ("Br2", "7726-95-6"), ("I2", "7553-56-2")),
        *(("P4", "7723-14-0"), ("S8", "7704-34-9"), ("17778-88-0", "7727-37-9")),
        *(("nitrogen", "7727-37-9"), ("oxygen", "7782-44-7"), ("hydrogen", "1333-74-0")),
        *(("fluorine", "7782-41-4"), ("chlorine", "7782-50-5"), ("bromine", "7726-95-6")),
        *(("iodine", "7553-56-2"), ("atomic chlorine", "7782-50-5"), ("ozone", "10028-15-6")),
    ],
)
def test_an_element_is_its_molecule(typed: str, cas: str, names: Store) -> None:
    assert resolve(typed, store=names).chemical.cas == cas


# --- isomers -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "name",
    [
        *("nitrotoluene", "nitroaniline", "dichloroethane", "trichloroethane", "chlorophenol"),
        *("tetrachloroethane", "dichlorobenzene", "trichlorobenzene", "toluidine", "anisidine"),
        *("phenylenediamine", "xylidine", "dinitrophenol", "dichloropropane", "chlorotoluene"),
        *("pentanol", "hexanol", "trimethylbenzene", "vinyl toluene", "bromopropane", "hexene"),
        *("naphthylamine", "dichloroethylene", "pentanols", "nitrotoluenes", "dichlorobenzenes"),
    ],
)
def test_a_name_without_a_position_is_refused_with_the_isomers(name: str, names: Store) -> None:
    with pytest.raises(AmbiguousChemicalError, match="isomer") as refused:
        resolve(name, store=names)
    numbers = [candidate[2] for candidate in refused.value.candidates]
    assert len(numbers) >= 2
    formulas = {names.substance(cas).formula for cas in numbers if names.substance(cas)}  # type: ignore[union-attr]
    assert len(formulas) == 1


@pytest.mark.parametrize(
    ("name", "cas"),
    [("hexane", "110-54-3"), ("heptane", "142-82-5"), ("butylamine", "109-73-9")],
)
def test_a_straight_chain_needs_no_position(name: str, cas: str, names: Store) -> None:
    assert resolve(name, store=names).chemical.cas == cas


def test_a_straight_chain_with_branched_kin_is_said(names: Store) -> None:
    notes = " ".join(resolve("amyl acetate", store=names).notes)
    assert "straight chain (n-)" in notes and "iso-" in notes


def test_one_isomer_with_its_position_is_taken(names: Store) -> None:
    for name, cas in (("2-nitrotoluene", "88-72-2"), ("p-toluidine", "106-49-0")):
        assert resolve(name, store=names).chemical.cas == cas


def test_positions_of_other_chemicals_are_no_isomers(names: Store) -> None:
    assert not isomers(names, "acetone")
    assert not isomers(names, "morpholine")
    assert len(isomers(names, "nitrotoluene")) >= 3


# --- salts, hydrates, polymers, ions -------------------------------------------------------------


def test_a_base_is_not_taken_for_its_salt(names: Store) -> None:
    refused = 0
    for name in ("paraquat", "chlormequat", "mepiquat"):
        found = judged(names, name)
        refused += not found.cas
        assert found.cas == "" or "salt" in " ".join(found.notes)
    assert refused


def test_a_salt_is_told_from_its_base(names: Store) -> None:
    match = resolve("nicotine sulfate", store=names)
    assert match.chemical.cas == "65-30-5"
    assert "This is a salt or an adduct, not the acid or base itself." in match.notes
    assert resolve("nicotine", store=names).chemical.cas == "54-11-5"
    assert resolve("aniline hydrochloride", store=names).chemical.cas == "142-04-1"


def test_hydrates_are_told_apart_and_said(names: Store) -> None:
    dry = resolve("oxalic acid", store=names)
    wet = resolve("oxalic acid dihydrate", store=names)
    assert (dry.chemical.cas, wet.chemical.cas) == ("144-62-7", "6153-56-6")
    assert "This is a hydrate: water is part of it." in wet.notes
    assert "hydrate" not in " ".join(dry.notes)


@pytest.mark.parametrize(
    "name",
    ["polystyrene", "polyethylene", "polyvinyl chloride", "polyacrylamide", "styrene polymer"],
)
def test_a_polymer_is_not_its_monomer(name: str, names: Store) -> None:
    with pytest.raises(AmbiguousChemicalError, match="monomer"):
        resolve(name, store=names)


@pytest.mark.parametrize("name", ["arsenite", "methylmercury", "superoxide", "cyanides"])
def test_an_ion_is_no_substance(name: str, names: Store) -> None:
    with pytest.raises(AmbiguousChemicalError, match="ion"):
        resolve(name, store=names)


def test_radicals_and_isotopes_do_not_stand_in_for_the_substance(names: Store) -> None:
    for name, cas in (("cyclopentane", "287-92-3"), ("methylbenzene", "108-88-3")):
        assert resolve(name, store=names).chemical.cas == cas
    assert "isotopic" in " ".join(resolve("deuterium", store=names).notes)


@pytest.mark.parametrize("code", ["GA3", "DNB", "ACH", "TRIS", "QNB"])
def test_a_code_of_a_few_letters_is_never_chosen(code: str, names: Store) -> None:
    try:
        match = resolve(code, store=names)
    except LookupFailedError:
        return
    assert match.chemical.cas in CURATED


def test_a_formula_is_not_another_substances_abbreviation(names: Store) -> None:
    """The list gives NaN3 to another salt; the formula is that of sodium azide."""
    assert resolve("NaN3", store=names).chemical.cas == "26628-22-8"
    assert resolve("SF6", store=names).chemical.cas == "2551-62-4"


def test_blocks_of_numbers_of_mixtures() -> None:
    for cas in ("8052-41-3", "8001-35-2", "9002-88-4", "64742-47-8", "65996-93-2"):
        assert is_mixture_number(cas)
    for cas in ("67-64-1", "7732-18-5", "88-89-1", "68006-83-7"):
        assert not is_mixture_number(cas)
