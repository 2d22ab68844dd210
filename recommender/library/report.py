"""What the store holds and where its sources disagree, in figures and in words."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Mapping
from dataclasses import dataclass

from recommender.library.load import load_entry
from recommender.library.store import Store

COVERED = (
    "vapor_pressure",
    "water_solubility",
    "melting_point",
    "boiling_point",
    "density",
    "viscosity",
    "log_kow",
    "flash_point",
    "lower_flammable_limit",
    "twa_ppm",
)
BY_RULE = "rule"


@dataclass(frozen=True, slots=True)
class Coverage:
    """How much of a list of substances has which properties.

    Attributes:
        asked: how many substances were asked for.
        held: how many of them the store holds.
        properties: property to basis to number of substances; ``rule`` counts those whose
            property is settled by a rule instead of a number.
    """

    asked: int
    held: int
    properties: Mapping[str, Mapping[str, int]]


def coverage(store: Store, numbers: Collection[str]) -> Coverage:
    """Count what is known of substances, given their CAS numbers."""
    wanted = sorted(set(numbers))
    found: dict[str, Counter[str]] = {name: Counter() for name in COVERED}
    held = 0
    for cas in wanted:
        entry = load_entry(store, cas)
        if entry is None:
            continue
        held += 1
        for name in COVERED:
            lead = next((v for v in entry.data.values.get(name, ()) if v.counts), None)
            if lead is not None:
                found[name][lead.basis] += 1
            elif name in entry.rules:
                found[name][BY_RULE] += 1
    return Coverage(len(wanted), held, found)


def disagreement_text(
    store: Store, *, cas: str | None = None, name: str | None = None, limit: int = 20
) -> str:
    """List what the build dropped, replaced, widened or flagged, largest first.

    Args:
        store: an open store.
        cas: only of this substance.
        name: only of this property.
        limit: at most so many lines.
    """
    rows = store.disagreements(cas=cas, name=name, limit=limit)
    return "".join(
        f"{row.name} (CAS {row.cas}), {row.property.replace('_', ' ')}, {row.action}: {row.what}\n"
        for row in rows
    )
