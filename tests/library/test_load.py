"""A substance of the store is planned for without a slow package, and says where it comes from."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from recommender import Scene, recommend
from recommender.chemicals.table import LIBRARY_GROUP, load_chemicals, load_data
from recommender.errors import StoreMissingError
from recommender.facts import Truth
from recommender.library.load import load_entry
from recommender.library.place import ENVIRONMENT_VARIABLE
from recommender.library.store import Store

SLOW = ("chemicals", "thermo", "rdkit", "numpy", "pandas", "scipy", "fluids")


def test_a_plan_for_a_library_chemical_imports_no_slow_package(store_path: Path) -> None:
    code = f"""
import sys
from recommender import Scene, recommend
from recommender.library.load import load_entry
from recommender.library.store import open_store
with open_store() as store:
    entry = load_entry(store, "78-40-0")
plan = recommend(entry.chemical, Scene())
assert plan.outcomes.stations.recommended >= 1
print([name for name in {SLOW!r} if name in sys.modules])
"""
    environment = {**os.environ, ENVIRONMENT_VARIABLE: str(store_path)}
    run = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, env=environment, check=False
    )
    assert run.returncode == 0, run.stderr
    assert run.stdout.strip() == "[]"


def test_the_plan_names_the_versions_behind_it(
    store: Store, store_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv(ENVIRONMENT_VARIABLE, str(store_path))
    entry = load_entry(store, "78-40-0")
    assert entry is not None and entry.chemical.group == LIBRARY_GROUP
    plan = recommend(entry.chemical, Scene())
    assert {"chemicals", "thermo", "rdkit", "store", "recommender"} <= set(plan.versions)
    pressure = plan.facts["vapor_pressure"]
    assert pressure.origin.provenance == "library"
    assert pressure.origin.basis in ("correlated", "estimated")


def test_data_given_with_the_chemical_need_no_store(
    store: Store, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    entry = load_entry(store, "78-40-0")
    assert entry is not None
    monkeypatch.setenv(ENVIRONMENT_VARIABLE, str(tmp_path))
    assert recommend(entry.chemical, Scene(), data=entry.data).outcomes.stations.recommended >= 1
    with pytest.raises(StoreMissingError, match="recommender setup"):
        recommend(entry.chemical, Scene())


def test_curated_rows_need_no_store_and_are_untouched_by_one(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv(ENVIRONMENT_VARIABLE, str(tmp_path))
    plan = recommend("toluene", Scene())
    assert "store" not in plan.versions
    sources = {v.source for values in load_data(plan.chemical).values.values() for v in values}
    assert "thermo-lib" not in sources


def test_what_is_not_held_is_none(store: Store) -> None:
    assert load_entry(store, "50-99-7") is None


@pytest.mark.parametrize(
    ("cas", "form"),
    [
        ("110-54-3", "liquid"),
        ("91-20-3", "solid"),
        ("7647-14-5", "solid"),
        ("74-82-8", "gas"),
        ("124-38-9", "gas"),
        ("7439-97-6", "liquid"),
        ("57-13-6", "solid"),
    ],
)
def test_the_form_is_that_at_room_temperature(store: Store, cas: str, form: str) -> None:
    entry = load_entry(store, cas)
    assert entry is not None and entry.chemical.form == form


def test_a_number_that_is_a_rule_says_which(store: Store) -> None:
    for cas, word in (("7647-14-5", "salt"), ("7440-02-0", "boils at")):
        entry = load_entry(store, cas)
        assert entry is not None
        assert "vapor_pressure" not in entry.data.values
        assert word in entry.rules["vapor_pressure"]


def test_no_claim_is_no_where_a_curator_says_yes(store: Store) -> None:
    """The worst slip: a library that clears a danger. Held against every curated row."""
    wrong = []
    compared = 0
    for key, chemical in load_chemicals().items():
        if not chemical.cas or chemical.form == "solution":
            continue
        entry = load_entry(store, chemical.cas)
        if entry is None:
            continue
        curated = load_data(chemical).claims
        for name, claim in entry.data.claims.items():
            compared += claim.truth is Truth.NO
            if claim.truth is Truth.NO and curated[name].truth is Truth.YES:
                wrong.append(f"{key}: {name}, {claim.origin.note}")
    assert not wrong, "\n".join(wrong)
    assert compared > 2000


def test_every_settled_claim_has_a_reason(store: Store) -> None:
    for cas in ("110-54-3", "78-40-0", "101-68-8", "7647-14-5", "1122-81-2"):
        entry = load_entry(store, cas)
        assert entry is not None
        for claim in entry.data.claims.values():
            if claim.truth is not Truth.UNKNOWN:
                assert claim.origin.note and claim.origin.source != "unknown"


def test_the_forms_agree_with_the_curated_ones_save_at_the_edge(store: Store) -> None:
    """Gases, liquids and solids, but for what boils or melts within a few degrees of 20 C."""
    alike = {"powder": "solid", "cryogenic": "gas", "molten": "solid"}
    edge = {"nitrogen-dioxide", "tdi-2-4", "permethrin", "phenol-liquefied-90"}
    wrong = []
    for key, chemical in load_chemicals().items():
        entry = load_entry(store, chemical.cas) if chemical.cas else None
        if entry is None or chemical.form == "solution" or not entry.chemical.form:
            continue
        if entry.chemical.form != alike.get(chemical.form, chemical.form) and key not in edge:
            wrong.append(f"{key}: {chemical.form}, library {entry.chemical.form}")
    assert not wrong, "\n".join(wrong)
