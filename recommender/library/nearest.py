"""Names near to a misspelled one, in the curated table and in the local store."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from weakref import WeakKeyDictionary

from recommender.chemicals.lookup import grave_hazards, scored_names
from recommender.chemicals.table import load_chemicals
from recommender.library.identity_traps import name_of
from recommender.library.normalize import plainest
from recommender.library.store import Store
from recommender.library.un_numbers import un_digits

COUNT = 6
_LEAST = 0.6
_ROUNDING = 1e-6
# How much nearer a name of a lower tier has to be to come first: curated, listed, the rest.
_BEHIND = (0.0, 0.02, 0.05)
# Names this much less like it than the best are not shown.
_FARTHER = 0.3
_POOL = 40
_NAMES: WeakKeyDictionary[Store, dict[bool, Mapping[str, str]]] = WeakKeyDictionary()


@dataclass(frozen=True, slots=True)
class Near:
    """One chemical with a name near to what was typed.

    Attributes:
        key: key of a curated row, or CAS number of a substance of the store.
        tier: 0 curated, 1 named by a table of hazards, 2 the rest.
        hazards: how many grave facts are known of it.
    """

    name: str
    key: str
    likeness: float
    tier: int
    hazards: int = 0

    @property
    def order(self) -> tuple[float, int, int, str]:
        """Sorts the best first."""
        return (
            -round(self.likeness - _BEHIND[self.tier], 3),
            -self.hazards,
            len(self.name),
            self.name,
        )


@cache
def _curated_cas() -> Mapping[str, str]:
    """CAS number to the key of the row that is usually meant."""
    found: dict[str, str] = {}
    for key, chemical in load_chemicals().items():
        if chemical.cas and (chemical.usual or chemical.cas not in found):
            found.setdefault(chemical.cas, key)
    return found


def _pool(store: Store, *, listed_only: bool) -> Mapping[str, str]:
    """Normalized names to CAS numbers; read once for an open store."""
    pools = _NAMES.setdefault(store, {})
    if listed_only not in pools:
        names: dict[str, tuple[int, str]] = {}
        for norm, cas, kind in store.search_names(listed_only=listed_only):
            held = names.get(norm)
            if held is None or kind < held[0]:
                names[norm] = (kind, cas)
        pools[listed_only] = {norm: cas for norm, (_, cas) in names.items()}
    return pools[listed_only]


def _in_store(store: Store, query: str, *, listed_only: bool) -> list[Near]:
    from rapidfuzz import process
    from rapidfuzz.distance import OSA

    pool = _pool(store, listed_only=listed_only)
    found = process.extract(
        query, pool.keys(), scorer=OSA.normalized_similarity, limit=_POOL, score_cutoff=_LEAST
    )
    near = []
    for norm, likeness, _ in found:
        substance = store.substance(pool[norm])
        if substance is None:
            continue
        key = _curated_cas().get(substance.cas)
        if key is not None:
            near.append(Near(load_chemicals()[key].name, key, likeness, 0, grave_hazards(key)))
        else:
            tier = 1 if substance.listed else 2
            near.append(Near(name_of(substance), substance.cas, likeness, tier, int(tier == 1)))
    return near


def _in_table(query: str) -> list[Near]:
    return [
        Near(name, key, likeness, 0, grave_hazards(key))
        for likeness, (name, key) in scored_names(query, 2 * COUNT)
    ]


def _is_one_slip_away(near: Sequence[Near], query: str) -> bool:
    """Whether one slip makes the query of a curated name; then no other is looked for."""
    least = 1.0 - 1.0 / len(query) - _ROUNDING
    return any(n.tier == 0 and n.likeness >= least for n in near)


def nearest(text: str, store: Store | None, count: int = COUNT) -> tuple[tuple[str, str], ...]:
    """Return (name, key) of the chemicals whose names are nearest, best first.

    A name of the curated table comes before an equally near one that a table of hazards lists,
    and that before the rest. The key of a substance of the store is its CAS number.
    """
    query = plainest(text)
    if not query or query.isdigit() or un_digits(text):
        return ()
    near = _in_table(query)
    if store is not None:
        near += _in_store(store, query, listed_only=True)
        if not _is_one_slip_away(near, query):
            near += _in_store(store, query, listed_only=False)
    least = max((n.likeness for n in near), default=0.0) - _FARTHER
    best: dict[str, Near] = {}
    for one in sorted(near, key=lambda n: n.order):
        if one.likeness >= least:
            best.setdefault(one.key, one)
    return tuple((n.name, n.key) for n in list(best.values())[:count])
