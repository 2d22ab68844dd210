"""Write what the build has put together into one new SQLite file."""

from __future__ import annotations

import json
import sqlite3
import zlib
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path

from recommender.chemicals.lookup import normalize_name
from recommender.library.build_identity import Substance
from recommender.library.consensus import Consensus, Disagreement, PassedOverValue
from recommender.library.features import Feature
from recommender.library.schema import BASES, INDEXES, PACKAGES, PROPERTIES, SCHEMA

# A value row as the table holds it, after the CAS number.
ValueRow = tuple[int, int, float, float | None, float | None, float | None, int, int, int, int]


class Texts:
    """Notes and table names, each kept once and referred to by number."""

    def __init__(self) -> None:
        self._numbers: dict[str, int] = {}

    def number(self, text: str) -> int:
        """Return the number of one text."""
        return self._numbers.setdefault(text, len(self._numbers))

    def rows(self) -> Iterator[tuple[int, str]]:
        """All texts with their numbers."""
        return ((n, text) for text, n in self._numbers.items())


def _short(value: float) -> float:
    """Round to six figures: no table is better, and short numbers pack smaller."""
    return float(f"{value:.6g}")


def _leading_row(which: int, n: int, value: Consensus, texts: Texts) -> ValueRow:
    return (
        which,
        n,
        _short(value.value),
        value.temperature_c,
        _short(value.low),
        _short(value.high),
        BASES.index(value.basis),
        PACKAGES.index(value.package),
        texts.number(value.note),
        1,
    )


def _passed_row(
    which: int, n: int, value: Consensus, passed: PassedOverValue, texts: Texts
) -> ValueRow:
    said = passed.tabulated
    note = f"{said.source} ({passed.why})" if passed.why else said.source
    temperature = value.temperature_c if said.temperature_c is None else said.temperature_c
    basis, package = BASES.index(value.basis), PACKAGES.index(said.package)
    number = texts.number(note)
    return which, n, _short(said.value), temperature, None, None, basis, package, number, 0


def value_rows(properties: Mapping[str, list[Consensus]], texts: Texts) -> list[ValueRow]:
    """Turn one substance's properties into rows: what leads first, then what was passed over."""
    rows: list[ValueRow] = []
    for which, name in enumerate(PROPERTIES):
        values = properties.get(name, [])
        for n, value in enumerate(values):
            rows.append(_leading_row(which, n, value, texts))
        every = [(value, passed) for value in values for passed in value.passed_over]
        for n, (value, passed) in enumerate(every, start=len(values)):
            rows.append(_passed_row(which, n, value, passed, texts))
    return rows


def record_checksum(head: tuple[object, ...], rows: Iterable[tuple[object, ...]]) -> int:
    """Checksum of one substance's record, so that a damaged page cannot pass for a value."""
    text = repr((head, tuple(rows)))
    return zlib.crc32(text.encode())


def packed_names(substance: Substance) -> bytes:
    """Pack the names as they are written, best first."""
    ordered = sorted(substance.names.items(), key=lambda item: item[1])
    return zlib.compress(json.dumps([n for n, _ in ordered], ensure_ascii=False).encode(), 9)


class StoreWriter:
    """Writes one new store file."""

    def __init__(self, path: Path) -> None:
        self._connection = sqlite3.connect(path)
        self._connection.executescript("PRAGMA journal_mode=OFF; PRAGMA synchronous=OFF;" + SCHEMA)
        self.texts = Texts()
        self.names = 0
        self.values = 0

    def add_names(self, substances: Mapping[int, Substance]) -> None:
        """Write the search names of all substances, in order, so that the file packs well."""
        found: dict[tuple[str, int], int] = {}
        for cas, substance in substances.items():
            for name, kind in substance.names.items():
                norm = normalize_name(name)
                if norm:
                    key = (norm, cas)
                    found[key] = min(kind, found.get(key, kind))
        rows = sorted((norm, cas, kind) for (norm, cas), kind in found.items())
        self._connection.executemany("INSERT INTO name VALUES (?, ?, ?)", rows)
        others = sorted((o, cas) for cas, s in substances.items() for o in s.other_cas)
        self._connection.executemany("INSERT INTO other_cas VALUES (?, ?)", others)
        self.names = len(rows)

    def add_substance(
        self,
        substance: Substance,
        features: Feature,
        listed: int,
        properties: Mapping[str, list[Consensus]],
    ) -> None:
        """Write one substance with all its values."""
        rows = value_rows(properties, self.texts)
        head = (
            substance.cas,
            substance.name,
            substance.formula,
            substance.molar_mass,
            substance.smiles,
            substance.inchikey,
            int(features),
            listed,
        )
        checksum = record_checksum(head, rows)
        self._connection.execute(
            "INSERT INTO substance VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
            (*head, packed_names(substance), checksum),
        )
        self._connection.executemany(
            "INSERT INTO value VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
            ((substance.cas, *row) for row in rows),
        )
        self.values += len(rows)

    def add_disagreements(self, rows: Iterable[Disagreement]) -> None:
        """Write the ledger, largest first within a property."""
        ordered = sorted(rows, key=lambda d: (d.property, d.action, -d.size, d.cas))
        self._connection.executemany(
            "INSERT INTO disagreement VALUES (?, ?, ?, ?, ?)",
            ((d.cas, d.property, d.what, d.action, _short(d.size)) for d in ordered),
        )

    def close(self, meta: Mapping[str, str]) -> None:
        """Write texts, indexes and meta data, and close the file."""
        self._connection.executemany("INSERT INTO text VALUES (?, ?)", self.texts.rows())
        self._connection.executescript(INDEXES)
        self._connection.executemany("INSERT INTO meta VALUES (?, ?)", sorted(meta.items()))
        self._connection.commit()
        self._connection.execute("ANALYZE")
        self._connection.commit()
        self._connection.close()

    def abandon(self) -> None:
        """Close the file without finishing it."""
        self._connection.close()
