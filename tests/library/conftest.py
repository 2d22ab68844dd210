"""A small store, built once for all tests from the installed packages."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

import pytest

from recommender.chemicals.table import load_chemicals
from recommender.library.store import Store, open_store

# Substances of every kind: solvents, gases, solids, salts, metals, agents, and known bad rows.
MORE = """
78-40-0 115-86-6 110-54-3 111-65-9 108-93-0 91-20-3 76-22-2 118-96-7 123-51-3 142-82-5
544-40-1 109-75-1 1122-81-2 407-25-0 78-84-2 540-73-8 10102-43-9 7647-14-5 593-51-1
7440-02-0 7439-97-6 7440-59-7 74-82-8 124-38-9 7732-18-5 75-52-5 101-68-8 822-06-0
111-30-8 79-34-5 156-59-2 106-35-4 8052-41-3 115-77-5 92-84-2 118-74-1 140-24-9 7789-30-2
13463-39-3 557-20-0 7550-45-0 12125-02-9 57-13-6 50-78-2 60-29-7 75-05-8 98-95-3 106-46-7
"""


def small_set() -> frozenset[str]:
    """CAS numbers of the small store: every curated chemical and some more."""
    curated = {c.cas for c in load_chemicals().values() if c.cas}
    return frozenset(curated | set(MORE.split()))


@pytest.fixture(scope="package")
def store_path(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The small store's file; workers that start together build it once."""
    for package in ("chemicals", "thermo", "rdkit", "filelock"):
        pytest.importorskip(package)
    from recommender.library.build import build_store

    folder = tmp_path_factory.getbasetemp()
    if "PYTEST_XDIST_WORKER" in os.environ:
        folder = folder.parent  # the workers' common folder, new with every run
    return build_store(folder / "small-store", only=small_set()).path


@pytest.fixture
def store(store_path: Path) -> Iterator[Store]:
    """The small store, open."""
    with open_store(store_path) as opened:
        yield opened


@pytest.fixture(scope="package")
def names_path(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A store of every name of the packages, without values: identities need no more."""
    for package in ("chemicals", "thermo", "rdkit", "filelock"):
        pytest.importorskip(package)
    from filelock import FileLock
    from names_store import write_names_store

    folder = tmp_path_factory.getbasetemp()
    if "PYTEST_XDIST_WORKER" in os.environ:
        folder = folder.parent
    path = folder / "names-store" / "store.sqlite"
    path.parent.mkdir(exist_ok=True)
    with FileLock(f"{path}.lock"):
        if not path.exists():
            write_names_store(path)
    return path


@pytest.fixture(scope="package")
def names(names_path: Path) -> Iterator[Store]:
    """The store of every name, open."""
    with open_store(names_path) as opened:
        yield opened
