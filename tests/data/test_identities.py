"""Who is who: CAS numbers, formulas and names against each other and against a library.

The library is ``chemicals`` 1.5.2; it is looked up by the exact CAS number only, never by name.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping

import pytest
from chemicals import elements, identifiers

from recommender.chemicals.cas import normalize_cas
from recommender.chemicals.lookup import normalize_name
from recommender.chemicals.table import Chemical, load_chemicals, load_data

MASS_TOLERANCE = 0.005

# Rows without a CAS number: mixtures and material that has none, or shares one.
NO_CAS = {
    "mixed-acid": "a mixture",
    "red-phosphorus": "shares the number of phosphorus with white phosphorus",
    "radiological-particulate": "any radioactive dust",
    "anthrax-spores": "living material",
}

# One CAS number, two identities on purpose.
TWO_IDENTITIES = {
    "7647-01-0": "hydrochloric acid is not the gas hydrogen chloride",
    "7664-39-3": "hydrofluoric acid is not the anhydrous liquid",
}

# The molar mass of a mixture without a formula is that of the part that leaves last.
NO_FORMULA = (
    *("mixed-acid", "gasoline", "diesel-fuel", "kerosene", "mineral-oil-transformer"),
    *("pcb-oil", "cooking-oil", "creosote", "crude-oil"),
)

# Formulas in which the library's record and the row differ, with the reason.
LIBRARY_FORMULA_DIFFERS = {
    "oleum": "the library holds H2S2O7; the row gives the sulfuric acid that stays",
    "ammonia-solution-29": "the library holds NH4OH; the row gives the dissolved ammonia",
    "white-phosphorus": "the library holds the element P; white phosphorus is P4",
    "pentaborane": "the library leaves out the hydrogen; the row gives B5H9",
    "decaborane": "the library leaves out the hydrogen; the row gives B10H14",
}

# Records of the library that carry no usable name.
LIBRARY_NAME_IS_NO_NAME = {
    "1314-56-3": "named by its CAS number",
    "116-06-3": "named by a database id",
}


def chemicals() -> Mapping[str, Chemical]:
    return load_chemicals()


def composition(formula: str) -> Mapping[str, float]:
    return elements.nested_formula_parser(formula)


def library_record(cas: str) -> identifiers.ChemicalMetadata | None:
    return identifiers.pubchem_db.search_CAS(cas) or None


def records() -> list[tuple[Chemical, identifiers.ChemicalMetadata]]:
    identifiers.search_chemical("67-64-1")
    identifiers.pubchem_db.autoload_main_db()
    found = [(c, library_record(c.cas)) for c in chemicals().values() if c.cas]
    return [(chemical, record) for chemical, record in found if record is not None]


def test_cas_numbers_have_the_right_check_digit_and_the_usual_hyphens() -> None:
    for chemical in chemicals().values():
        if chemical.cas:
            assert normalize_cas(chemical.cas) == chemical.cas, chemical.key


def test_a_row_without_a_cas_number_is_one_that_can_have_none() -> None:
    assert {c.key for c in chemicals().values() if not c.cas} == set(NO_CAS)


def test_a_cas_number_is_one_identity_unless_the_form_makes_it_another() -> None:
    identities = defaultdict(set)
    for chemical in chemicals().values():
        identities[chemical.cas].add(chemical.identity)
    identities.pop("")
    assert {cas for cas, found in identities.items() if len(found) > 1} == set(TWO_IDENTITIES)


def test_rows_of_one_identity_and_cas_number_have_one_formula() -> None:
    formulas = defaultdict(set)
    for chemical in chemicals().values():
        formulas[chemical.identity, chemical.cas].add(chemical.formula)
    assert {key: found for key, found in formulas.items() if len(found) > 1} == {}


@pytest.mark.parametrize("chemical", chemicals().values(), ids=lambda c: c.key)
def test_the_molar_mass_is_that_of_the_formula(chemical: Chemical) -> None:
    stated = load_data(chemical).values.get("molar_mass", ())
    if not chemical.formula:
        assert not stated or (chemical.key in NO_FORMULA and stated[0].note)
        return
    assert stated, "a chemical with a formula has a molar mass"
    expected = elements.molecular_weight(composition(chemical.formula))
    assert stated[0].value == pytest.approx(expected, rel=MASS_TOLERANCE)


def test_every_mixture_listed_here_is_still_without_a_formula() -> None:
    assert [key for key in NO_FORMULA if chemicals()[key].formula] == []


def test_the_library_knows_most_of_the_cas_numbers() -> None:
    with_cas = [c for c in chemicals().values() if c.cas]
    assert len(records()) > 0.8 * len(with_cas)


def test_formulas_agree_with_the_library() -> None:
    differing = {
        chemical.key: (chemical.formula, record.formula)
        for chemical, record in records()
        if chemical.formula and composition(chemical.formula) != composition(record.formula)
    }
    assert set(differing) == set(LIBRARY_FORMULA_DIFFERS), differing


def test_a_name_of_each_cas_number_is_one_the_library_knows() -> None:
    own: dict[str, set[str]] = defaultdict(set)
    theirs: dict[str, set[str]] = {}
    for chemical, record in records():
        own[chemical.cas] |= {normalize_name(name) for name in chemical.all_names}
        names = (record.common_name, record.iupac_name, *record.synonyms)
        theirs[chemical.cas] = {normalize_name(name) for name in names}
    strangers = {cas for cas, names in own.items() if not names & theirs[cas]}
    assert strangers == set(LIBRARY_NAME_IS_NO_NAME)
