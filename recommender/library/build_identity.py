"""Identities and names of substances, out of the ``chemicals`` package's identifier files."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from recommender.chemicals.lookup import normalize_name
from recommender.library.build_read import cas_number, number, read_text
from recommender.library.schema import CODE, COMMON_NAME, SYNONYM, SYSTEMATIC_NAME

# A later file wins over an earlier one, as in the package: the large file is machine-made, the
# small ones were looked over by people.
_FILES = (
    "chemical identifiers pubchem large.tsv",
    "chemical identifiers pubchem small.tsv",
    "chemical identifiers example user db.tsv",
    "Cation db.tsv",
    "Anion db.tsv",
    "Inorganic db.tsv",
)
_ION_FILES = ("Cation db.tsv", "Anion db.tsv")
_COLUMNS = 9
# Elements that the package adds in code and its files lack: symbol, name, g/mol, InChIKey.
_ELEMENTS = (
    (7440440, "C", "carbon", 12.011, "OKTJSMMVPCPJKN-UHFFFAOYSA-N"),
    (7704349, "S", "sulfur", 32.06, "NINIDFKCEFEMDL-UHFFFAOYSA-N"),
    (7440291, "Th", "thorium", 232.0377, "ZSLUVFAKFWKJRC-UHFFFAOYSA-N"),
)
_CAS_SHAPE = re.compile(r"[1-9]\d{1,6}-\d\d-\d")
# Longer names are machine-made sentences that nobody types.
LONGEST_NAME = 200


@dataclass(slots=True)
class Substance:
    """One substance as the identifier files give it.

    Attributes:
        names: text of each name to its kind, best kind first.
        other_cas: CAS numbers that stand among its synonyms.
    """

    cas: int
    name: str
    formula: str
    molar_mass: float
    smiles: str
    inchikey: str
    is_ion: bool
    names: dict[str, int] = field(default_factory=dict)
    other_cas: set[int] = field(default_factory=set)


def _is_code(name: str) -> bool:
    """Whether a name is a catalog or registry code rather than a word."""
    letters = sum(c.isalpha() for c in name)
    digits = sum(c.isdigit() for c in name)
    return digits > letters or (letters <= 4 and digits >= 4)


def _add_name(substance: Substance, text: str, kind: int) -> None:
    text = text.strip()
    if not text or len(text) > LONGEST_NAME:
        return
    if _CAS_SHAPE.fullmatch(text):
        other = cas_number(text)
        if other is not None and other != substance.cas:
            substance.other_cas.add(other)
        return
    if kind == SYNONYM and _is_code(text):
        kind = CODE
    substance.names.setdefault(text, kind)


def _substance(cells: list[str], cas: int, is_ion: bool) -> Substance | None:
    mass = number(cells[3])
    if mass is None or mass <= 0:
        return None
    systematic, common = cells[7].strip(), cells[8].strip()
    name = common or systematic
    if not normalize_name(name) or _CAS_SHAPE.fullmatch(name):
        name = next(
            (n for n in (systematic, *cells[9:]) if normalize_name(n) and not _CAS_SHAPE.match(n)),
            cells[2],
        )
    found = Substance(cas, name, cells[2], mass, cells[4], cells[6], is_ion)
    _add_name(found, name, COMMON_NAME)
    _add_name(found, systematic, SYSTEMATIC_NAME)
    for synonym in cells[9:]:
        _add_name(found, synonym, SYNONYM)
    return found


def _read_file(file: str) -> Iterator[Substance]:
    for line in read_text("chemicals", f"Identifiers/{file}").splitlines():
        cells = line.split("\t")
        cas = cas_number(cells[1]) if len(cells) >= _COLUMNS else None
        if cas is None:
            continue
        found = _substance(cells, cas, file in _ION_FILES)
        if found is not None:
            yield found


def read_substances() -> Mapping[int, Substance]:
    """Read every substance of the identifier files, by CAS number.

    Names of a substance that stands in several files are put together; the latest file names it.
    """
    found: dict[int, Substance] = {}
    for cas, symbol, name, mass, key in _ELEMENTS:
        found[cas] = Substance(cas, name, symbol, mass, f"[{symbol}]", key, False)
        _add_name(found[cas], name, COMMON_NAME)
    for file in _FILES:
        for substance in _read_file(file):
            earlier = found.get(substance.cas)
            if earlier is not None:
                for name, kind in earlier.names.items():
                    substance.names.setdefault(name, max(kind, SYNONYM))
                substance.other_cas |= earlier.other_cas
            found[substance.cas] = substance
    return found
