"""The place of the store: option, then environment variable, then the platform's folder."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from recommender.errors import StoreMissingError
from recommender.library.place import ENVIRONMENT_VARIABLE, FILE_NAME, store_file


def test_an_option_comes_before_the_environment(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv(ENVIRONMENT_VARIABLE, str(tmp_path / "other"))
    assert store_file(tmp_path) == tmp_path / FILE_NAME


def test_the_environment_comes_before_the_platform(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv(ENVIRONMENT_VARIABLE, str(tmp_path))
    assert store_file() == tmp_path / FILE_NAME


def test_a_name_that_ends_in_sqlite_is_the_file_itself(tmp_path: Path) -> None:
    assert store_file(tmp_path / "mine.sqlite") == tmp_path / "mine.sqlite"


def test_the_platform_folder_bears_the_name_of_the_program(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    pytest.importorskip("platformdirs")
    monkeypatch.delenv(ENVIRONMENT_VARIABLE, raising=False)
    assert store_file().parent.name == "decon-recommender"


def test_an_empty_variable_is_no_place(monkeypatch: pytest.MonkeyPatch) -> None:
    pytest.importorskip("platformdirs")
    monkeypatch.setenv(ENVIRONMENT_VARIABLE, "")
    assert store_file().is_absolute()


def test_without_the_packages_it_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv(ENVIRONMENT_VARIABLE, raising=False)
    monkeypatch.setitem(sys.modules, "platformdirs", None)
    with pytest.raises(StoreMissingError, match=r"pip install 'decon-recommender\[store\]'"):
        store_file()
