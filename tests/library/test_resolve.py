"""From what is typed to one chemical: curated first, then the store, never silently."""

from __future__ import annotations

import subprocess
import sys
import time
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from recommender.chemicals.lookup import Match, find
from recommender.chemicals.table import LIBRARY_GROUP, Chemical, load_chemicals
from recommender.errors import (
    AmbiguousChemicalError,
    CasError,
    ChemicalNotFoundError,
    LookupFailedError,
    StoreDamagedError,
    StoreMissingError,
)
from recommender.library import structures
from recommender.library.resolve import NOT_CURATED, resolve, store_at
from recommender.library.store import Store
from recommender.recommend import recommend
from recommender.scene import Scene

ROWS = tuple(load_chemicals().values())
# Names and numbers as the NIOSH Pocket Guide to Chemical Hazards has them, not in the curated
# table.
POCKET_GUIDE = (
    ("1,1,2-Trichloro-1,2,2-trifluoroethane", "76-13-1"),
    ("1,2,3-Trichloropropane", "96-18-4"),
    ("1,2-Dichloroethylene", "540-59-0"),
    ("1,3,5-Trimethylbenzene", "108-67-8"),
    ("1-Nitropropane", "108-03-2"),
    ("2,4,6-Trinitrotoluene", "118-96-7"),
    ("2,4-D", "94-75-7"),
    ("2-Aminopyridine", "504-29-0"),
    ("2-Butoxyethanol", "111-76-2"),
    ("2-Nitropropane", "79-46-9"),
    ("2-Pentanone", "107-87-9"),
    ("Adiponitrile", "111-69-3"),
    ("Allyl chloride", "107-05-1"),
    ("Azinphos-methyl", "86-50-0"),
    ("Benzoyl peroxide", "94-36-0"),
    ("Bromine pentafluoride", "7789-30-2"),
    ("Butyl acrylate", "141-32-2"),
    ("Catechol", "120-80-9"),
    ("Cesium hydroxide", "21351-79-1"),
    ("Chlorine trifluoride", "7790-91-2"),
    ("Chloroacetyl chloride", "79-04-9"),
    ("Cyclonite", "121-82-4"),
    ("Diazomethane", "334-88-3"),
    ("Dichlorodifluoromethane", "75-71-8"),
    ("Dicrotophos", "141-66-2"),
    ("Diethylenetriamine", "111-40-0"),
    ("Diisobutyl ketone", "108-83-8"),
    ("Dinitro-o-cresol", "534-52-1"),
    ("Dioxane", "123-91-1"),
    ("EPN", "2104-64-5"),
    ("Endrin", "72-20-8"),
    ("Ethyl benzene", "100-41-4"),
    ("Ethyl butyl ketone", "106-35-4"),
    ("Ethyl formate", "109-94-4"),
    ("Ethyl silicate", "78-10-4"),
    ("Fonofos", "944-22-9"),
    ("Furfuryl alcohol", "98-00-0"),
    ("Glutaraldehyde", "111-30-8"),
    ("Glycolonitrile", "107-16-4"),
    ("Hexafluoroacetone", "684-16-2"),
    ("Hexamethylene diisocyanate", "822-06-0"),
    ("Hexone", "108-10-1"),
    ("Isoamyl acetate", "123-92-2"),
    ("Isophorone diisocyanate", "4098-71-9"),
    ("Mesityl oxide", "141-79-7"),
    ("Methomyl", "16752-77-5"),
    ("Methyl acrylate", "96-33-3"),
    ("Methyl isobutyl carbinol", "108-11-2"),
    ("Methylal", "109-87-5"),
    ("N,N-Dimethylaniline", "121-69-7"),
    ("N-Nitrosodimethylamine", "62-75-9"),
    ("Naphthalene", "91-20-3"),
    ("Nitroglycerine", "55-63-0"),
    ("Octane", "111-65-9"),
    ("Pentachloroethane", "76-01-7"),
    ("Phenyl glycidyl ether", "122-60-1"),
    ("Phosdrin", "7786-34-7"),
    ("Picric acid", "88-89-1"),
    ("Strychnine", "57-24-9"),
    ("Tetryl", "479-45-8"),
)


def never() -> Store:
    """Stand in for a store that must not be opened."""
    raise AssertionError("the store was opened")


def said(match: Match) -> str:
    """Return everything a match says about how it was reached."""
    return " ".join(match.notes)


# --- curated first -----------------------------------------------------------------------------


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.key)
def test_a_curated_name_is_settled_without_opening_the_store(row: Chemical) -> None:
    for name in row.all_names:
        assert resolve(name, store=never) == find(name)


def test_a_name_of_the_store_leads_to_the_curated_row(names: Store) -> None:
    for typed, key in (("dimethylketone", "acetone"), ("C=CC#N", "acrylonitrile")):
        match = resolve(typed, store=names)
        assert match.chemical is load_chemicals()[key]
        assert match.data is None
        assert f"{typed} is taken as {match.chemical.name}" in said(match)


def test_form_and_strength_in_another_spelling_still_choose_the_curated_row() -> None:
    assert resolve("sulphuric acid, 35 %").chemical.strength_percent == 35
    assert resolve("30 % sodium cyanide soln").chemical.key == "sodium-cyanide-solution-30"
    assert resolve("acetone, anhydrous").chemical.key == "acetone"
    assert "Left off the name: anhydrous." in resolve("acetone, anhydrous").notes


def test_a_plan_of_a_curated_chemical_loads_and_opens_no_store() -> None:
    program = (
        "import sys, recommender.cli\n"
        "opened = []\n"
        "sys.addaudithook(lambda e, a: opened.append(a) if e == 'sqlite3.connect' else None)\n"
        "recommender.cli.main(['plan', 'UN1090'], standalone_mode=False)\n"
        "late = ('sqlite3', 'recommender.library.store', 'recommender.library.nearest')\n"
        "print(opened, [name for name in late if name in sys.modules])\n"
    )
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    assert done.stdout.splitlines()[-1] == "[] []"


# --- without a store ---------------------------------------------------------------------------


def test_without_a_store_a_miss_says_how_to_get_one_and_lists_curated_names(tmp_path: Path) -> None:
    for source in (None, store_at(tmp_path / "nothing")):
        with pytest.raises(ChemicalNotFoundError, match="recommender setup") as miss:
            resolve("chlorobenzine", store=source)
        assert miss.value.nearest
        assert all(key in load_chemicals() for _, key in miss.value.nearest)


def test_where_packages_lack_the_miss_says_what_to_install() -> None:
    def open_it() -> Store:
        raise StoreMissingError("not there", needs_packages=True)

    with pytest.raises(ChemicalNotFoundError, match=r"pip install .*\[store\]"):
        resolve("picric acid", store=open_it)


def test_a_damaged_store_stops_no_curated_chemical_and_is_said_with_a_miss() -> None:
    def open_it() -> Store:
        raise StoreDamagedError("it is cut short")

    assert resolve("acetone", store=open_it).chemical.key == "acetone"
    with pytest.raises(ChemicalNotFoundError, match="setup --force"):
        resolve("picric acid", store=open_it)


# --- the store ---------------------------------------------------------------------------------


@pytest.mark.parametrize(("name", "cas"), POCKET_GUIDE)
def test_names_of_the_pocket_guide_lead_to_its_numbers(name: str, cas: str, names: Store) -> None:
    match = resolve(name, store=names)
    assert match.chemical.cas == cas
    assert match.chemical.group == LIBRARY_GROUP or match.data is None


@pytest.mark.parametrize(
    ("typed", "cas"),
    [
        ("88-89-1", "88-89-1"),
        ("CAS 88891", "88-89-1"),
        ("PICRIC  ACID", "88-89-1"),
        ("picric-acid", "88-89-1"),
        ("picric acid, dry", "88-89-1"),
        ("picric acid (2,4,6-trinitrophenol)", "88-89-1"),
        ("t-butyl hydroperoxide", "75-91-2"),
        ("tertiary butyl hydroperoxide", "75-91-2"),
        ("ortho-dichlorobenzene", "95-50-1"),
        ("o-dichlorobenzene", "95-50-1"),
        ("benzene, 1,2-dichloro-", "95-50-1"),
        ("acid, picric", "88-89-1"),
        ("pentan-3-one", "96-22-0"),
        ("n-pentyl alcohol", "71-41-0"),
        ("α-methylstyrene", "98-83-9"),
        ("sulphuryl fluoride", "2699-79-8"),
        ("caesium hydroxide", "21351-79-1"),
        ("SbCl5", "7647-18-9"),
        ("OC(=O)C(Cl)(Cl)Cl", "76-03-9"),
        ("ClC(Cl)(Cl)C(O)=O", "76-03-9"),
        ("YNJBWRMUSHSURL-UHFFFAOYSA-N", "76-03-9"),
        ("ynjbwrmushsurl-uhfffaoysa-n", "76-03-9"),
        ("UN 1292", "78-10-4"),
        ("1292", "78-10-4"),
    ],
)
def test_one_chemical_is_found_however_it_is_written(typed: str, cas: str, names: Store) -> None:
    assert resolve(typed, store=names).chemical.cas == cas


def test_a_match_says_what_was_taken_and_that_nothing_curated_is_held(names: Store) -> None:
    match = resolve("phenyl chloride", store=names)
    assert match.chemical.cas == "108-90-7"
    assert "phenyl chloride is taken as chlorobenzene (CAS 108-90-7)." in match.notes
    assert any("Compare its CAS number" in note for note in match.notes)
    assert match.notes[-1] == NOT_CURATED
    assert match.chemical.un == ("1134",)
    assert match.data is not None
    assert match.data.versions["store"]


def test_a_strength_without_a_solution_held_is_said(names: Store) -> None:
    assert "planned undiluted, 30 % given" in said(resolve("oxalic acid 30 %", store=names))


def test_a_formula_of_one_substance_is_taken_and_said_and_of_several_refused(names: Store) -> None:
    assert "Found by its formula" in said(resolve("NaN3", store=names))
    for typed in ("C6H6", "C2H6S", "C8H10", "C10H16"):
        with pytest.raises(AmbiguousChemicalError) as refused:
            resolve(typed, store=names)
        assert len(refused.value.candidates) > 1


def test_a_curated_or_listed_candidate_comes_first(names: Store) -> None:
    with pytest.raises(AmbiguousChemicalError) as refused:
        resolve("C6H6", store=names)
    assert refused.value.candidates[0][0] == "Benzene"


def test_a_structure_that_cannot_be_read_is_not_found(names: Store) -> None:
    for typed in ("C1CC(", "[Xx]", "C=C=C=C=C=C=C=C"):
        with pytest.raises(ChemicalNotFoundError):
            resolve(typed, store=names)


def test_without_rdkit_a_structure_says_what_is_missing(
    names: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(structures, "find_spec", lambda name: None)
    with pytest.raises(ChemicalNotFoundError, match="needs the package rdkit"):
        resolve("OC(=O)C(Cl)(Cl)Cl", store=names)


def test_a_number_listed_only_with_others_is_refused_with_them(names: Store) -> None:
    ((other,),) = names._rows(
        "SELECT other FROM other_cas WHERE other NOT IN (SELECT cas FROM substance) "
        "AND other > 100000000 LIMIT 1"
    )
    digits = str(other)
    with pytest.raises(AmbiguousChemicalError, match="replaced or related"):
        resolve(f"{digits[:-3]}-{digits[-3:-1]}-{digits[-1]}", store=names)


@pytest.mark.parametrize("cas", ["8052-41-3", "9003-55-8", "61788-32-7", "8004-13-5"])
def test_a_number_of_a_mixture_is_not_planned_as_one_of_its_parts(cas: str, names: Store) -> None:
    with pytest.raises(ChemicalNotFoundError, match="mixture or a polymer"):
        resolve(cas, store=names)


def test_a_wrong_digit_is_refused_as_such(names: Store) -> None:
    with pytest.raises(CasError):
        resolve("88-89-2", store=names)


def test_a_miss_lists_curated_and_hazardous_names_first_and_chooses_none(names: Store) -> None:
    with pytest.raises(ChemicalNotFoundError) as miss:
        resolve("chlorobenzine", store=names)
    keys = [key for _, key in miss.value.nearest]
    assert keys[0] == "108-90-7"
    assert 1 < len(keys) <= 6 and len(set(keys)) == len(keys)
    assert miss.value.advice == ""


def test_what_is_listed_leads_back_to_what_it_stands_for(names: Store) -> None:
    for typed in ("chlorobenzine", "piccric acid", "acetne", "nitropropanne"):
        with pytest.raises(LookupFailedError) as miss:
            resolve(typed, store=names)
        listed = [(c[0], c[2]) for c in getattr(miss.value, "candidates", ())]
        for _, key in listed or miss.value.nearest:  # type: ignore[attr-defined]
            assert key in (
                (again := resolve(key, store=names).chemical).key,
                again.cas,
            )


@pytest.mark.parametrize("typed", ["", " ", "-", "x" * 400, "%%%", "37 %"])
def test_what_names_nothing_is_refused(typed: str, names: Store) -> None:
    with pytest.raises(ChemicalNotFoundError):
        resolve(typed, store=names)


@given(st.text(max_size=60))
@settings(
    max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
def test_any_text_is_found_or_refused_and_nothing_else(names: Store, text: str) -> None:
    with suppress(LookupFailedError, CasError):
        assert resolve(text, store=names).chemical.name


@given(data=st.data())
@settings(max_examples=60, deadline=None)
def test_case_blanks_and_hyphens_never_change_the_chemical(
    names: Store, data: st.DataObject
) -> None:
    name, cas = data.draw(st.sampled_from([p for p in POCKET_GUIDE if len(p[0]) > 5]))
    typed = "".join(data.draw(st.sampled_from((c.upper(), c.lower()))) for c in name)
    typed = typed.replace(" ", data.draw(st.sampled_from((" ", "-", "  "))))
    assert resolve(f" {typed} ", store=names).chemical.cas == cas


# --- plans -------------------------------------------------------------------------------------


def test_a_plan_of_a_store_chemical_says_so_and_calls_the_technician(
    store: Store, store_path: Path
) -> None:
    for source in (store, store_path, str(store_path)):
        plan = recommend("trinitrotoluene", Scene(), store=source)
        assert plan.chemical.cas == "118-96-7"
        assert NOT_CURATED in plan.assumptions
        assert "no curated hazard facts are held for it" in plan.call_technician
        assert plan.versions["chemicals"] and plan.versions["store"]


def test_a_curated_plan_says_nothing_of_the_store() -> None:
    plan = recommend("toluene", Scene())
    assert NOT_CURATED not in plan.assumptions
    assert "no curated hazard facts are held for it" not in plan.call_technician
    assert "store" not in plan.versions


def test_a_solution_in_the_name_is_planned_as_a_solution(store: Store, names: Store) -> None:
    assert recommend("UN 1160", store=names).known.state.form == "solution"
    assert recommend("potassium cyanide solution", store=store).known.state.form == "solution"
    assert recommend("naphthalene, molten", store=store).known.state.form == "molten"
    stated = recommend("naphthalene, molten", Scene(form="solid"), store=store)
    assert stated.known.state.form == "solid"


def test_a_solid_in_the_name_is_not_taken_for_a_solution(names: Store) -> None:
    """Bleaching powder is another product than bleach."""
    for typed in ("bleach powder", "acrylamide, solid", "UN 2074"):
        with pytest.raises(AmbiguousChemicalError, match="held as solution"):
            resolve(typed, store=names)
    assert resolve("sodium cyanide, solid", store=names).chemical.key == "sodium-cyanide"


# --- speed -------------------------------------------------------------------------------------


def percentile_95(seconds: list[float]) -> float:
    """Return the time that 19 of 20 stay below."""
    return sorted(seconds)[int(0.95 * len(seconds))]


def test_an_exact_look_up_is_fast(
    names: Store, record_property: Callable[[str, object], None]
) -> None:
    seconds = []
    for name, _ in POCKET_GUIDE * 3:
        started = time.perf_counter()
        resolve(name, store=names)
        seconds.append(time.perf_counter() - started)
    slowest = percentile_95(seconds)
    record_property("exact_ms_p95", round(1e3 * slowest, 2))
    assert slowest < 0.1
