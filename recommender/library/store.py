"""Open the local store and read from it. Nothing here imports a data-bearing package.

The file is opened read-only and as immutable: it is never changed in place, so a folder that
cannot be written to will do, and a build that replaces it leaves open readers with the old one.
"""

from __future__ import annotations

import json
import sqlite3
import zlib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType
from typing import Any
from urllib.parse import quote

from recommender.errors import StoreDamagedError, StoreMissingError
from recommender.library.features import Feature
from recommender.library.fingerprint import (
    file_checksum,
    fingerprint,
    installed_versions,
    own_part,
)
from recommender.library.formula import hill_formula
from recommender.library.place import store_file
from recommender.library.schema import BASES, PACKAGES, PROPERTIES, SCHEMA_VERSION, UNITS

_HEADER = b"SQLite format 3\x00"
_HEADER_LENGTH = 100
CHECKSUM_SUFFIX = ".checksum"


@dataclass(frozen=True, slots=True)
class StoredSubstance:
    """The identity of one substance.

    Attributes:
        cas: with hyphens.
        listed: bits of the tables of hazards that name it (see schema.py); 0 for none.
    """

    cas: str
    name: str
    formula: str
    molar_mass: float
    smiles: str
    inchikey: str
    features: Feature
    listed: int


@dataclass(frozen=True, slots=True)
class StoredValue:
    """One value of one property.

    Attributes:
        counts: whether it leads or spans the range; False for what was passed over.
    """

    property: str
    value: float
    unit: str
    temperature_c: float | None
    low: float | None
    high: float | None
    basis: str
    package: str
    note: str
    counts: bool


@dataclass(frozen=True, slots=True)
class StoredDisagreement:
    """What the build dropped, replaced, widened or flagged, and why."""

    cas: str
    name: str
    property: str
    what: str
    action: str
    size: float


@dataclass(frozen=True, slots=True)
class NameHit:
    """A substance that answers to a normalized name; kinds are in schema.py, best first."""

    cas: str
    kind: int


def cas_text(number: int) -> str:
    """Write a CAS number with hyphens."""
    digits = str(number)
    return f"{digits[:-3]}-{digits[-3:-1]}-{digits[-1]}"


def _cas_int(cas: str) -> int:
    digits = cas.replace("-", "")
    return int(digits) if digits.isascii() and digits.isdigit() else -1


class Store:
    """An open store. Use it as a context manager, or close it."""

    def __init__(self, path: Path, connection: sqlite3.Connection) -> None:
        self.path = path
        self._connection = connection

    def __enter__(self) -> Store:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        problem: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    def close(self) -> None:
        """Close the file."""
        self._connection.close()

    def _rows(self, query: str, values: Sequence[Any] = ()) -> list[tuple[Any, ...]]:
        try:
            return self._connection.execute(query, values).fetchall()
        except sqlite3.DatabaseError as problem:
            raise StoreDamagedError(f"{self.path} cannot be read ({problem})") from problem

    def meta(self) -> Mapping[str, str]:
        """Return the notes that the build left: versions, counts, fingerprint."""
        return dict(self._rows("SELECT key, value FROM meta"))

    def versions(self) -> Mapping[str, str]:
        """Versions of the packages the store was built from, and of the store itself."""
        meta = self.meta()
        packages = {k.partition(".")[2]: v for k, v in meta.items() if k.startswith("version.")}
        return {**packages, "store": meta["fingerprint"].split(" ")[0]}

    def counts(self) -> tuple[int, int, int, int]:
        """Numbers of substances, names, values and disagreements."""
        tables = ("substance", "name", "value", "disagreement")
        found = [self._rows(f"SELECT count(*) FROM {table}")[0][0] for table in tables]
        return found[0], found[1], found[2], found[3]

    def is_current(self) -> bool:
        """Whether it was built from the packages installed here, by this version."""
        return self.meta().get("fingerprint") == fingerprint(installed_versions())

    def is_whole(self) -> bool:
        """Whether the whole file has the checksum that the build noted. Reads all of it."""
        note = self.path.with_name(self.path.name + CHECKSUM_SUFFIX)
        try:
            return note.read_text(encoding="ascii").split()[0] == file_checksum(self.path)
        except (OSError, IndexError, UnicodeDecodeError):
            return False

    def substance(self, cas: str) -> StoredSubstance | None:
        """Return the identity with a CAS number, or None."""
        rows = self._rows(
            "SELECT cas, name, formula, molar_mass, smiles, inchikey, features, listed "
            "FROM substance WHERE cas = ?",
            (_cas_int(cas),),
        )
        return _substance(rows[0]) if rows else None

    def names_of(self, cas: str) -> tuple[str, ...]:
        """Return every name as written, best first; codes last."""
        rows = self._rows("SELECT names FROM substance WHERE cas = ?", (_cas_int(cas),))
        if not rows:
            return ()
        try:
            names = json.loads(zlib.decompress(rows[0][0]))
        except (zlib.error, ValueError) as problem:
            raise StoreDamagedError(f"the names of {cas} in {self.path}") from problem
        return tuple(names)

    def by_name(self, normalized: str) -> tuple[NameHit, ...]:
        """Return who answers to a name, as `normalize_name` writes it; best kind first."""
        rows = self._rows(
            "SELECT cas, kind FROM name WHERE norm = ? ORDER BY kind, cas", (normalized,)
        )
        return tuple(NameHit(cas_text(cas), kind) for cas, kind in rows)

    def by_formula(self, text: str) -> tuple[str, ...]:
        """Return the CAS numbers of a formula, however its elements are ordered."""
        formula = hill_formula(text)
        rows = self._rows("SELECT cas FROM substance WHERE formula = ?", (formula,))
        return tuple(cas_text(cas) for (cas,) in rows)

    def by_inchikey(self, key: str) -> tuple[str, ...]:
        """Return the CAS numbers of a structure's InChIKey."""
        rows = self._rows("SELECT cas FROM substance WHERE inchikey = ?", (key.strip().upper(),))
        return tuple(cas_text(cas) for (cas,) in rows)

    def by_other_cas(self, cas: str) -> tuple[str, ...]:
        """Return substances that list a CAS number among their synonyms: replaced or related."""
        rows = self._rows("SELECT cas FROM other_cas WHERE other = ?", (_cas_int(cas),))
        return tuple(cas_text(found) for (found,) in rows)

    def search_names(
        self, *, listed_only: bool = False, worst_kind: int = 2
    ) -> Iterator[tuple[str, str, int]]:
        """Yield (normalized name, CAS number, kind) to search through.

        Args:
            listed_only: only substances that a table of hazards names.
            worst_kind: the last kind to yield; 3 to yield codes as well.
        """
        query = "SELECT n.norm, n.cas, n.kind FROM name n "
        if listed_only:
            query += "JOIN substance s ON s.cas = n.cas AND s.listed > 0 "
        for norm, cas, kind in self._rows(query + "WHERE n.kind <= ?", (worst_kind,)):
            yield norm, cas_text(cas), kind

    def values(self, cas: str) -> Mapping[str, tuple[StoredValue, ...]]:
        """Return every value of one substance by property, the leading one first.

        Raises:
            StoreDamagedError: the record does not have its checksum.
        """
        number = _cas_int(cas)
        heads = self._rows(
            "SELECT cas, name, formula, molar_mass, smiles, inchikey, features, listed, checksum "
            "FROM substance WHERE cas = ?",
            (number,),
        )
        if not heads:
            return {}
        rows = self._rows(
            "SELECT property, n, value, temperature_c, low, high, basis, package, note, counts "
            "FROM value WHERE cas = ? ORDER BY property, n",
            (number,),
        )
        checksum = zlib.crc32(repr((heads[0][:-1], tuple(rows))).encode())
        if checksum != heads[0][-1]:
            raise StoreDamagedError(f"the record of {cas} in {self.path} does not add up")
        texts = self._texts({row[8] for row in rows})
        found: dict[str, list[StoredValue]] = {}
        for row in rows:
            value = _value(row, texts)
            found.setdefault(value.property, []).append(value)
        return {name: tuple(values) for name, values in found.items()}

    def _texts(self, numbers: set[int]) -> Mapping[int, str]:
        marks = ",".join("?" * len(numbers))
        return dict(self._rows(f"SELECT id, text FROM text WHERE id IN ({marks})", [*numbers]))

    def disagreements(
        self, *, cas: str | None = None, name: str | None = None, limit: int = 1000
    ) -> tuple[StoredDisagreement, ...]:
        """Return what the build dropped, replaced, widened or flagged; largest first.

        Args:
            cas: only of this substance.
            name: only of this property.
            limit: at most so many.
        """
        wanted, values = [], []
        if cas is not None:
            wanted, values = ["d.cas = ?"], [str(_cas_int(cas))]
        if name is not None:
            wanted, values = [*wanted, "d.property = ?"], [*values, name]
        where = f"WHERE {' AND '.join(wanted)} " if wanted else ""
        rows = self._rows(
            "SELECT d.cas, s.name, d.property, d.what, d.action, d.size FROM disagreement d "
            f"JOIN substance s ON s.cas = d.cas {where}ORDER BY d.size DESC LIMIT ?",
            [*values, limit],
        )
        return tuple(StoredDisagreement(cas_text(row[0]), *row[1:]) for row in rows)


def _substance(row: tuple[Any, ...]) -> StoredSubstance:
    name, formula, molar_mass, smiles, inchikey, features, listed = row[1:8]
    return StoredSubstance(
        cas_text(row[0]), name, formula, molar_mass, smiles, inchikey, Feature(features), listed
    )


def _value(row: tuple[Any, ...], texts: Mapping[int, str]) -> StoredValue:
    name = PROPERTIES[row[0]]
    return StoredValue(
        property=name,
        value=row[2],
        unit=UNITS[name],
        temperature_c=row[3],
        low=row[4],
        high=row[5],
        basis=BASES[row[6]],
        package=PACKAGES[row[7]],
        note=texts.get(row[8], ""),
        counts=bool(row[9]),
    )


def _check_header(path: Path) -> None:
    """Refuse a file that is no store, or that was cut short. Reads a hundred bytes."""
    try:
        with path.open("rb") as file:
            header = file.read(_HEADER_LENGTH)
        size = path.stat().st_size
    except FileNotFoundError:
        raise StoreMissingError(f"{path} is not there") from None
    except OSError as problem:
        raise StoreMissingError(f"{path} cannot be read ({problem})") from problem
    if len(header) < _HEADER_LENGTH or not header.startswith(_HEADER):
        raise StoreDamagedError(f"{path} is not a store")
    page = int.from_bytes(header[16:18], "big")
    page = 65536 if page == 1 else page
    if page * int.from_bytes(header[28:32], "big") != size:
        raise StoreDamagedError(f"{path} is cut short or has something added to it")


def open_store(place: str | Path | None = None) -> Store:
    """Open the store read-only.

    Args:
        place: folder or ``.sqlite`` file; None for the usual place.

    Raises:
        StoreMissingError: there is none.
        StoreDamagedError: it is damaged, or was made by another version of this program.
    """
    path = store_file(place)
    _check_header(path)
    address = f"file:{quote(str(path.absolute()))}?mode=ro&immutable=1"
    connection = sqlite3.connect(address, uri=True, check_same_thread=False)
    store = Store(path, connection)
    try:
        meta = store.meta()
        if meta.get("schema_version") != str(SCHEMA_VERSION):
            raise StoreDamagedError(f"{path} has another version's format")
        if meta.get("fingerprint", "").split(" ")[0] != own_part():
            raise StoreDamagedError(f"{path} was made by another version of this program")
    except StoreDamagedError:
        store.close()
        raise
    return store
