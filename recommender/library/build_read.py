"""Read the tables that the data-bearing packages carry, without importing the packages.

The packages' own getters fall back on estimators without a word; the files say what was tabulated.
"""

from __future__ import annotations

import csv
import gzip
import io
import json
import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from importlib import metadata
from importlib.util import find_spec
from pathlib import Path
from typing import Any

from recommender.errors import StoreBuildError

DATA_PACKAGES = ("chemicals", "thermo", "rdkit")
KELVIN = 273.15


@dataclass(frozen=True, slots=True)
class Tabulated:
    """One value as one table gives it, in this project's unit.

    Attributes:
        source: the table, in a few words.
        family: tables of one family copy from each other and count as one voice.
        package: the package that carries the table.
    """

    source: str
    family: str
    value: float
    temperature_c: float | None = None
    package: str = "chemicals"


@cache
def package_folder(package: str) -> Path:
    """Return the folder of an installed package.

    Raises:
        StoreBuildError: it is not installed.
    """
    found = find_spec(package)
    if found is None or not found.submodule_search_locations:
        raise StoreBuildError(
            f"The package {package} is not installed, and the store is built from it. "
            "Install it: pip install 'decon-recommender[store]'; then: recommender setup"
        )
    return Path(next(iter(found.submodule_search_locations)))


def package_versions() -> Mapping[str, str]:
    """Return the versions of the packages that the store is built from.

    Raises:
        StoreBuildError: one is not installed.
    """
    versions = {}
    for package in DATA_PACKAGES:
        package_folder(package)
        versions[package] = metadata.version(package)
    return versions


def read_text(package: str, path: str) -> str:
    """Read one file of a package, unpacking ``.gz``.

    Raises:
        StoreBuildError: the file is not where this version of the package should have it.
    """
    file = package_folder(package) / path
    try:
        raw = file.read_bytes()
    except OSError as problem:
        raise StoreBuildError(
            f"The package {package} has no readable table {path}: {problem}. Install the pinned "
            "version: pip install 'decon-recommender[store]'"
        ) from problem
    return (gzip.decompress(raw) if path.endswith(".gz") else raw).decode("utf-8-sig")


def read_rows(
    package: str, path: str, columns: tuple[str, ...], *, has_cas: bool = True
) -> Iterator[dict[str, str]]:
    """Read the rows of one tab-separated table of a package.

    Raises:
        StoreBuildError: the table is missing or lacks a column.
    """
    rows = csv.DictReader(io.StringIO(read_text(package, path)), delimiter="\t")
    wanted = {*columns, "CAS"} if has_cas else set(columns)
    missing = sorted(wanted - set(rows.fieldnames or ()))
    if missing:
        raise StoreBuildError(
            f"The table {path} of {package} has no column {', '.join(missing)}: the package is "
            "not the pinned version. Install: pip install 'decon-recommender[store]'"
        )
    yield from rows


def read_json(package: str, path: str) -> Any:
    """Read one JSON file of a package."""
    return json.loads(read_text(package, path))


def number(text: str | float | None) -> float | None:
    """Read a finite number; None for an empty or unreadable cell."""
    if text is None or text == "":
        return None
    try:
        value = float(text)
    except ValueError:
        return None
    return value if math.isfinite(value) else None


def cas_number(text: str) -> int | None:
    """Read a CAS number, with or without hyphens, as an integer; None where it cannot be one."""
    digits = text.strip().replace("-", "")
    if not digits.isascii() or not digits.isdigit() or not 5 <= len(digits) <= 10:
        return None
    body, last = digits[:-1], int(digits[-1])
    total = sum(place * int(digit) for place, digit in enumerate(reversed(body), 1))
    return int(digits) if total % 10 == last else None
