"""The store's file: opened read-only, checked, rebuilt when damaged or outdated, locked."""

from __future__ import annotations

import os
import shutil
import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest

from recommender.chemicals.lookup import normalize_name
from recommender.errors import StoreBuildError, StoreDamagedError, StoreError, StoreMissingError
from recommender.library import fingerprint
from recommender.library.features import Feature
from recommender.library.schema import COMMON_NAME, PROPERTIES, UNITS
from recommender.library.store import Store, cas_text, open_store

FEW = frozenset({"108-88-3", "67-64-1", "7647-14-5"})


@pytest.fixture
def copy(store_path: Path, tmp_path: Path) -> Path:
    """A copy of the small store that a test may damage."""
    for name in (store_path.name, store_path.name + ".checksum"):
        shutil.copy(store_path.with_name(name), tmp_path / name)
    return tmp_path / store_path.name


def test_a_substance_is_found_by_number_name_formula_and_structure(store: Store) -> None:
    toluene = store.substance("108-88-3")
    assert toluene is not None
    assert (toluene.formula, round(toluene.molar_mass, 2)) == ("C7H8", 92.14)
    assert store.by_name(normalize_name("Toluene"))[0].cas == "108-88-3"
    assert store.by_name(normalize_name("Toluene"))[0].kind == COMMON_NAME
    assert store.by_name(normalize_name("phenyl-methane"))[0].cas == "108-88-3"
    assert store.by_formula("C6H5CH3") == ("108-88-3",)
    assert store.by_inchikey(toluene.inchikey.lower()) == ("108-88-3",)
    assert "methylbenzene" in store.names_of("108-88-3")


def test_what_is_not_there_is_nothing_and_no_error(store: Store) -> None:
    assert store.substance("50-99-7") is None
    assert store.substance("not a number") is None
    assert store.values("50-99-7") == {}
    assert store.names_of("50-99-7") == ()
    assert store.by_name("nosuchname") == ()
    assert store.by_formula("not a formula") == ()


def test_every_value_has_a_unit_a_basis_and_a_source(store: Store) -> None:
    for cas in ("108-88-3", "67-64-1", "91-20-3", "7647-14-5"):
        for name, values in store.values(cas).items():
            assert values[0].counts, (cas, name)
            for value in values:
                assert value.unit == UNITS[name]
                assert value.basis in ("measured", "correlated", "estimated")
                assert value.note


def test_what_was_passed_over_is_kept_with_its_reason(store: Store) -> None:
    passed = [v for v in store.values("78-00-2")["melting_point"] if not v.counts]
    assert len(passed) >= 2
    assert any("133" in d.what for d in store.disagreements(cas="78-00-2"))


def test_names_to_search_leave_codes_out_and_can_be_held_to_listed_hazards(store: Store) -> None:
    every = {name for name, _, _ in store.search_names(worst_kind=3)}
    words = {name for name, _, _ in store.search_names()}
    listed = {cas for _, cas, _ in store.search_names(listed_only=True)}
    assert words < every
    assert "108-88-3" in listed and "92-84-2" in listed and "140-24-9" not in listed


def test_features_speak_of_the_structure(store: Store) -> None:
    salt, toluene = store.substance("7647-14-5"), store.substance("108-88-3")
    assert salt is not None and toluene is not None
    assert Feature.IONIC_SALT in salt.features and Feature.SALT not in toluene.features
    titanium = store.substance("7550-45-0")
    assert titanium is not None and Feature.IONIC_SALT not in titanium.features


def test_disagreements_come_largest_first_and_by_property(store: Store) -> None:
    rows = store.disagreements(name="boiling_point", limit=10)
    assert [r.size for r in rows] == sorted((r.size for r in rows), reverse=True)
    assert {r.property for r in rows} == {"boiling_point"}
    assert {r.action for r in store.disagreements()} <= {"drop", "replace", "widen", "flag"}


def test_versions_and_counts_are_in_the_store(store: Store) -> None:
    assert set(store.versions()) == {"chemicals", "thermo", "rdkit", "store"}
    substances, names, values, disagreements = store.counts()
    assert substances > 200 and names > 5000 and values > 3000 and disagreements > 20
    assert store.is_current() and store.is_whole()


def test_it_opens_and_reads_where_nothing_can_be_written(copy: Path) -> None:
    before = sorted(p.name for p in copy.parent.iterdir())
    copy.chmod(0o444)
    copy.parent.chmod(0o555)
    try:
        with open_store(copy) as opened:
            assert opened.substance("108-88-3") is not None
        assert sorted(p.name for p in copy.parent.iterdir()) == before
        with (
            sqlite3.connect(f"file:{copy}?mode=ro&immutable=1", uri=True) as connection,
            pytest.raises(sqlite3.OperationalError),
        ):
            connection.execute("DELETE FROM substance")
    finally:
        copy.parent.chmod(0o755)


def test_a_missing_store_says_how_to_get_it(tmp_path: Path) -> None:
    with pytest.raises(StoreMissingError, match="recommender setup"):
        open_store(tmp_path)


@pytest.mark.parametrize("content", [b"", b"not a store at all" * 20, b"SQLite format 3\x00"])
def test_another_file_is_refused(tmp_path: Path, content: bytes) -> None:
    (tmp_path / "store.sqlite").write_bytes(content)
    with pytest.raises(StoreDamagedError, match="--force"):
        open_store(tmp_path)


def test_a_file_cut_short_is_refused(copy: Path) -> None:
    copy.write_bytes(copy.read_bytes()[:-4096])
    with pytest.raises(StoreDamagedError, match="cut short"):
        open_store(copy)


def test_a_changed_value_does_not_pass(copy: Path) -> None:
    with sqlite3.connect(copy) as connection:
        which = PROPERTIES.index("boiling_point")
        connection.execute(
            "UPDATE value SET value = value + 1 WHERE cas = 108883 AND property = ?", (which,)
        )
    with open_store(copy) as opened:
        with pytest.raises(StoreDamagedError, match="does not add up"):
            opened.values("108-88-3")
        assert opened.values("67-64-1")
        assert not opened.is_whole()


def test_damaged_pages_are_an_error_of_this_program_and_nothing_else(copy: Path) -> None:
    content = bytearray(copy.read_bytes())
    for start in range(4096, len(content), 4096):
        content[start : start + 64] = b"\xff" * 64
    copy.write_bytes(content)
    with pytest.raises(StoreError), open_store(copy) as opened:
        opened.values("108-88-3")
        opened.by_name("toluene")


def test_a_store_of_another_version_is_refused(copy: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("recommender.library.store.own_part", lambda: "0.0.other")
    with pytest.raises(StoreDamagedError, match="another version"):
        open_store(copy)


def test_a_whole_and_current_store_is_not_rebuilt(tmp_path: Path, store_path: Path) -> None:
    from recommender.library.build import build_store

    report = build_store(store_path)
    assert not report.built and report.substances > 200


def test_damage_and_changed_inputs_rebuild(copy: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from recommender.library.build import build_store

    copy.write_bytes(copy.read_bytes()[:-4096])
    assert build_store(copy, only=FEW).built
    with open_store(copy) as opened:
        assert opened.is_whole() and opened.substance("67-64-1") is not None
    assert not build_store(copy, only=FEW).built
    monkeypatch.setattr(fingerprint, "BUILD_VERSION", 10_000)
    fingerprint.own_part.cache_clear()
    try:
        assert build_store(copy, only=FEW).built
    finally:
        monkeypatch.undo()
        fingerprint.own_part.cache_clear()


def test_an_open_reader_keeps_the_old_store_while_a_new_one_takes_its_place(copy: Path) -> None:
    from recommender.library.build import build_store

    with open_store(copy) as opened:
        assert build_store(copy, only=FEW, force=True).built
        assert opened.substance("91-20-3") is not None
    with open_store(copy) as opened:
        assert opened.substance("91-20-3") is None


def test_a_build_that_fails_leaves_the_old_store_and_no_litter(
    copy: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from recommender.library import build

    def fail(*_: object) -> None:
        raise StoreBuildError("the disk is full")

    monkeypatch.setattr(build, "assemble", fail)
    with pytest.raises(StoreBuildError):
        build.build_store(copy, only=FEW, force=True)
    assert not list(copy.parent.glob("*.new"))
    with open_store(copy) as opened:
        assert opened.is_whole()


def test_a_place_that_cannot_be_written_says_so(tmp_path: Path, store_path: Path) -> None:
    from recommender.library.build import build_store

    (tmp_path / "file").write_text("in the way")
    with pytest.raises(StoreBuildError, match="--store"):
        build_store(tmp_path / "file" / "below", only=FEW)


def test_two_processes_that_start_together_build_once(tmp_path: Path, store_path: Path) -> None:
    code = (
        "import sys; from recommender.library.build import build_store; "
        "print(build_store(sys.argv[1], only={'108-88-3'}).built)"
    )
    command = [sys.executable, "-c", code, str(tmp_path)]
    both = [
        subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env=dict(os.environ))
        for _ in range(2)
    ]
    assert sorted(p.communicate(timeout=300)[0].strip() for p in both) == ["False", "True"]


def test_cas_numbers_are_written_with_hyphens() -> None:
    assert cas_text(108883) == "108-88-3"
    assert cas_text(50000) == "50-00-0"
