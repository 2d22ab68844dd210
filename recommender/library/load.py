"""A substance of the store as a chemical that can be planned for, with its facts and values."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from recommender.chemicals.table import LIBRARY_GROUP, Chemical, CuratedData, PropertyValue
from recommender.errors import StoreDamagedError
from recommender.library.claims import library_claims, no_words
from recommender.library.features import Feature
from recommender.library.known import Known
from recommender.library.store import Store, StoredSubstance, StoredValue, open_store

KEY_PREFIX = "cas-"
SOURCES = {"chemicals": "chemicals-lib", "thermo": "thermo-lib", "rdkit": "chemicals-lib"}
PROVENANCE = "library"
# The form is that at ordinary temperature; a scene's temperature settles what it is there.
_ROOM_C = 20.0
_MOST_SYNONYMS = 40
_METALS_BOIL_C = 600.0


@dataclass(frozen=True, slots=True)
class Entry:
    """One substance of the store, ready to plan with.

    Attributes:
        rules: property to the reason why it has no number (a gas, a metal, a salt).
    """

    chemical: Chemical
    data: CuratedData
    substance: StoredSubstance
    rules: Mapping[str, str]


def property_values(values: Iterable[StoredValue]) -> tuple[PropertyValue, ...]:
    """Turn stored values into values as the curated table holds them."""
    return tuple(
        PropertyValue(
            v.property,
            v.value,
            v.unit,
            v.temperature_c,
            v.low,
            v.high,
            SOURCES[v.package],
            PROVENANCE,
            v.note,
            v.basis,
            v.counts,
        )
        for v in values
    )


def _ends(values: tuple[PropertyValue, ...]) -> tuple[float, float] | None:
    lead = next((v for v in values if v.counts), None)
    if lead is None:
        return None
    low = lead.value if lead.low is None else lead.low
    return low, lead.value if lead.high is None else lead.high


def form_at_room(
    substance: StoredSubstance, values: Mapping[str, tuple[PropertyValue, ...]]
) -> str:
    """Return gas, liquid or solid at 20 C; empty where the tables leave it open.

    A range of melting points that straddles 20 C leaves it open; a salt or a metal without a
    melting point is a solid.
    """
    melting = _ends(values.get("melting_point", ()))
    boiling = _ends(values.get("boiling_point", ()))
    if boiling is not None and boiling[1] <= _ROOM_C:
        return "gas"
    if melting is not None:
        if melting[0] > _ROOM_C:
            return "solid"
        if melting[1] > _ROOM_C:
            return ""
        return "liquid" if boiling is None or boiling[0] > _ROOM_C else ""
    if boiling is None and substance.features & (Feature.SALT | Feature.METAL):
        return "solid"
    return ""


def _rules(
    substance: StoredSubstance, form: str, values: Mapping[str, tuple[PropertyValue, ...]]
) -> Mapping[str, str]:
    """Say why a property has no number, where that is a rule and not a gap."""
    rules = {}
    boiling = _ends(values.get("boiling_point", ()))
    if "vapor_pressure" not in values:
        if substance.features & (Feature.IONIC_SALT | Feature.ION):
            rules["vapor_pressure"] = "a salt: it does not evaporate at ordinary temperature"
        elif boiling is not None and boiling[0] > _METALS_BOIL_C:
            rules["vapor_pressure"] = f"boils at {boiling[0]:.0f} C: no vapor to speak of"
        elif form == "gas":
            rules["vapor_pressure"] = "a gas at ordinary temperature: no film, no vapor pressure"
    if substance.features & (Feature.IONIC_SALT | Feature.ION) and "water_solubility" not in values:
        rules["water_solubility"] = "a salt: no general equation gives its solubility"
    return rules


def _chemical(store: Store, substance: StoredSubstance, form: str) -> Chemical:
    names = store.names_of(substance.cas)
    others = tuple(n for n in names if n != substance.name)[:_MOST_SYNONYMS]
    key = KEY_PREFIX + substance.cas
    return Chemical(
        key=key,
        identity=key,
        name=substance.name,
        cas=substance.cas,
        formula=substance.formula,
        form=form,
        strength_percent=None,
        usual=True,
        un=(),
        synonyms=others,
        trade_names=(),
        group=LIBRARY_GROUP,
        source=SOURCES["chemicals"],
        provenance=PROVENANCE,
        note="",
    )


def load_entry(store: Store, cas: str) -> Entry | None:
    """Return one substance ready to plan with, or None where the store has no such CAS number.

    Raises:
        StoreDamagedError: its record does not add up.
    """
    substance = store.substance(cas)
    if substance is None:
        return None
    values = {name: property_values(found) for name, found in store.values(cas).items()}
    mass = PropertyValue(
        "molar_mass",
        substance.molar_mass,
        "g/mol",
        None,
        None,
        None,
        SOURCES["chemicals"],
        PROVENANCE,
        "from the formula",
        "derived",
    )
    values["molar_mass"] = (mass,)
    form = form_at_room(substance, values)
    known = Known(substance.features, substance.formula, substance.molar_mass, form, values)
    data = CuratedData(library_claims(known), no_words(), values, store.versions())
    rules = _rules(substance, form, values)
    return Entry(_chemical(store, substance, form), data, substance, rules)


def load_library_data(chemical: Chemical, place: str | Path | None = None) -> CuratedData:
    """Return facts and values of a chemical of the group ``library``.

    Raises:
        StoreMissingError: the store is not there.
        StoreDamagedError: it is damaged, or no longer holds this chemical.
    """
    with open_store(place) as store:
        entry = load_entry(store, chemical.cas)
    if entry is None:
        raise StoreDamagedError(f"{store.path} does not hold CAS {chemical.cas}")
    return entry.data
