"""The curated table: one row per identity, form and strength, with its facts and properties.

Names are read for all groups at once, because a search needs them; facts and properties are read
for the group of the chemical that is planned, so that one plan stays fast.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache

from recommender.data_files import chemical_groups, read_table
from recommender.errors import DataError
from recommender.facts import Claim, Provenance, Truth, Word, unknown_claim

FORMS = ("gas", "liquid", "solid", "powder", "aerosol", "solution", "molten", "cryogenic")
CLAIM_BASIS = "classified"
# Group of the chemicals that come out of the local store and not out of the curated tables.
LIBRARY_GROUP = "library"


@dataclass(frozen=True, slots=True)
class Chemical:
    """One row: an identity in one form and strength.

    Attributes:
        form: one of ``FORMS``; empty for an unknown product of unknown form.
        strength_percent: mass percent for solutions, else None.
        usual: whether this row is meant when somebody just says the name.
    """

    key: str
    identity: str
    name: str
    cas: str
    formula: str
    form: str
    strength_percent: float | None
    usual: bool
    un: tuple[str, ...]
    synonyms: tuple[str, ...]
    trade_names: tuple[str, ...]
    group: str
    source: str
    provenance: str
    note: str = ""
    is_known: bool = True

    @property
    def all_names(self) -> tuple[str, ...]:
        """Every name this row answers to, its own name first."""
        return (self.name, *self.synonyms, *self.trade_names)


@dataclass(frozen=True, slots=True)
class PropertyValue:
    """One published value of one property of one row.

    Attributes:
        basis: measured, correlated, estimated or stated.
        counts: False for a value that is only shown as passed over: it neither leads nor widens.
    """

    property: str
    value: float
    unit: str
    temperature_c: float | None
    low: float | None
    high: float | None
    source: str
    provenance: str
    note: str
    basis: str = "measured"
    counts: bool = True


@dataclass(frozen=True, slots=True)
class CuratedData:
    """Everything the tables, or the local store, hold on one row.

    Attributes:
        versions: of what the data come from, beyond the packaged tables; goes with the plan.
    """

    claims: Mapping[str, Claim]
    words: Mapping[str, Word]
    values: Mapping[str, tuple[PropertyValue, ...]]
    versions: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class FactDefinition:
    """One row of the dictionary of facts."""

    name: str
    kind: str
    unit: str
    label: str
    meaning: str
    no_means: str


@cache
def fact_dictionary() -> Mapping[str, FactDefinition]:
    """Read ``data/facts.csv``: which facts exist, and what yes and no mean."""
    return {
        row["fact"]: FactDefinition(
            row["fact"], row["kind"], row["unit"], row["label"], row["meaning"], row["no_means"]
        )
        for row in read_table("facts.csv")
    }


def _split(text: str) -> tuple[str, ...]:
    return tuple(part.strip() for part in text.split(";") if part.strip())


def _chemical(row: dict[str, str], group: str) -> Chemical:
    if row["form"] not in FORMS:
        raise DataError(f"{group}/names.csv, {row['key']}: the form {row['form']!r} is not listed.")
    strength = row["strength_percent"]
    return Chemical(
        key=row["key"],
        identity=row["identity"],
        name=row["name"],
        cas=row["cas"],
        formula=row["formula"],
        form=row["form"],
        strength_percent=float(strength) if strength else None,
        usual=row["usual"] == "yes",
        un=_split(row["un"]),
        synonyms=_split(row["synonyms"]),
        trade_names=_split(row["trade_names"]),
        group=group,
        source=row["source"],
        provenance=row["provenance"],
        note=row["note"],
    )


@cache
def load_chemicals() -> Mapping[str, Chemical]:
    """Read the names of every curated row, by key, in the order of the tables.

    Raises:
        DataError: a key stands twice or a form is not listed.
    """
    chemicals: dict[str, Chemical] = {}
    for group in chemical_groups():
        for row in read_table(f"chemicals/{group}/names.csv"):
            if row["key"] in chemicals:
                raise DataError(f"{group}/names.csv: the key {row['key']} stands twice.")
            chemicals[row["key"]] = _chemical(row, group)
    return chemicals


def _number(text: str) -> float | None:
    return float(text) if text else None


@cache
def _load_group(group: str) -> Mapping[str, CuratedData]:
    claims: dict[str, dict[str, Claim]] = {}
    words: dict[str, dict[str, Word]] = {}
    values: dict[str, dict[str, list[PropertyValue]]] = {}
    dictionary = fact_dictionary()
    for row in read_table(f"chemicals/{group}/facts.csv"):
        name, key = row["fact"], row["key"]
        if name not in dictionary:
            raise DataError(f"{group}/facts.csv, {key}: the fact {name!r} is not in facts.csv.")
        if dictionary[name].kind == "word":
            origin = Provenance(CLAIM_BASIS, row["source"], row["provenance"], row["note"])
            words.setdefault(key, {})[name] = Word(name, row["value"], origin)
            continue
        truth = Truth(row["value"])
        basis = "unknown" if truth is Truth.UNKNOWN else CLAIM_BASIS
        origin = Provenance(basis, row["source"], row["provenance"], row["note"])
        claims.setdefault(key, {})[name] = Claim(name, truth, origin)
    for row in read_table(f"chemicals/{group}/properties.csv"):
        if row["property"] not in dictionary:
            raise DataError(f"{group}/properties.csv, {row['key']}: {row['property']!r}.")
        values.setdefault(row["key"], {}).setdefault(row["property"], []).append(
            PropertyValue(
                row["property"],
                float(row["value"]),
                row["unit"],
                _number(row["temperature_c"]),
                _number(row["low"]),
                _number(row["high"]),
                row["source"],
                row["provenance"],
                row["note"],
            )
        )
    keys = dict.fromkeys((*claims, *words, *values))
    return {
        key: CuratedData(
            claims.get(key, {}),
            words.get(key, {}),
            {name: tuple(found) for name, found in values.get(key, {}).items()},
        )
        for key in keys
    }


def load_data(chemical: Chemical) -> CuratedData:
    """Return the facts and properties of one row; every claim not in the table is unknown."""
    dictionary = fact_dictionary()
    found = CuratedData({}, {}, {})
    if chemical.is_known:
        found = _load_group(chemical.group).get(chemical.key, found)
    claims = {
        name: found.claims.get(name, unknown_claim(name))
        for name, definition in dictionary.items()
        if definition.kind == "claim"
    }
    nothing = Provenance("unknown", "unknown")
    words = {
        name: found.words.get(name, Word(name, "", nothing))
        for name, definition in dictionary.items()
        if definition.kind == "word"
    }
    return CuratedData(claims, words, found.values)


def unknown_chemical(form: str = "") -> Chemical:
    """Return the product that nobody has identified, in the form that was seen."""
    name = f"Unknown {form}" if form else "Unknown product"
    return Chemical(
        key="unknown",
        identity="unknown",
        name=name,
        cas="",
        formula="",
        form=form,
        strength_percent=None,
        usual=True,
        un=(),
        synonyms=(),
        trade_names=(),
        group="",
        source="unknown",
        provenance="judgement",
        is_known=False,
    )
