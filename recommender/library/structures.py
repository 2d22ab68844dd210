"""Formulas, SMILES and InChIKeys: what a typed one stands for in the local store."""

from __future__ import annotations

import re
from dataclasses import dataclass
from importlib.util import find_spec

from recommender.library.identity_traps import MOST_CANDIDATES, plain_substances
from recommender.library.store import Store

NEEDS_RDKIT = "It looks like a structure; reading one needs the package rdkit."
_INCHIKEY = re.compile(r"[A-Z]{14}-[A-Z]{10}-[A-Z]", re.IGNORECASE)
_SMILES = re.compile(r"(?:\[[^\]\s]+\]|Br|Cl|[BCNOPSFI]|[bcnops]|[=#$:/\\().%+-]|\d)+")
_SMILES_SIGN = re.compile(r"[=#\[\]()\\/]|[bcnops]\d|^(?:Br|Cl|[BCNOPSFI]){2,}$")
_FORMULA_SIGN = re.compile(r"\d|[A-Z][a-z]?[A-Z]")
# A formula with more carbons than this stands for many substances, however few are listed.
_MOST_CARBONS = 2
_CARBONS = re.compile(r"C(\d*)(?![a-z])")


@dataclass(frozen=True, slots=True)
class Found:
    """What a formula or a structure stands for.

    Attributes:
        how: formula, structure or InChIKey.
        cas_numbers: listed hazards first.
        doubt: why the first is not simply taken; empty where it is the only one.
        advice: what is missing to read it.
    """

    how: str
    cas_numbers: tuple[str, ...] = ()
    doubt: str = ""
    advice: str = ""


def by_formula(store: Store, text: str) -> Found | None:
    """Return the substances of a formula; None where the text is none or nothing has it."""
    if not _FORMULA_SIGN.search(text) or " " in text:
        return None
    found = plain_substances(store, store.by_formula(text))
    if not found:
        return None
    ordered = sorted(found, key=lambda s: (-s.listed.bit_count(), len(s.name), s.cas))
    numbers = tuple(s.cas for s in ordered)[:MOST_CANDIDATES]
    carbons = sum(int(n or 1) for n in _CARBONS.findall(found[0].formula))
    if len(found) > 1 or carbons > _MOST_CARBONS:
        return Found("formula", numbers, "as a formula it stands for more than one substance")
    return Found("formula", numbers)


def by_structure(store: Store, text: str) -> Found | None:
    """Return the substances with an InChIKey or a SMILES; None where the text is neither."""
    if _INCHIKEY.fullmatch(text):
        return _by_key(store, text, "InChIKey")
    if not _SMILES.fullmatch(text) or not _SMILES_SIGN.search(text):
        return None
    if find_spec("rdkit") is None:
        return Found("structure", advice=NEEDS_RDKIT)
    from recommender.library.build_structure import inchikey_of

    key = inchikey_of(text)
    return None if key is None else _by_key(store, key, "structure")


def _by_key(store: Store, key: str, how: str) -> Found | None:
    found = [s for s in (store.substance(cas) for cas in store.by_inchikey(key)) if s is not None]
    chosen = [s for s in found if s.listed] or found
    if not chosen:
        return None
    doubt = "more than one number has this structure" if len(chosen) > 1 else ""
    return Found(how, tuple(s.cas for s in chosen)[:MOST_CANDIDATES], doubt)
