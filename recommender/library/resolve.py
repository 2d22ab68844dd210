"""Turn what was typed into one chemical: the curated table first, then the local store.

Nothing is chosen silently. What a name list says is believed only where the rules and the table
of known wrong identities let it stand, and what was assumed on the way is said with the match.
The store is opened only where the curated table has no answer.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from recommender.chemicals.cas import looks_like_cas, normalize_cas
from recommender.chemicals.lookup import (
    Match,
    fits_form,
    held,
    is_a_name,
    normalize_name,
    printable,
)
from recommender.errors import (
    AmbiguousChemicalError,
    ChemicalNotFoundError,
    StoreDamagedError,
    StoreMissingError,
)

if TYPE_CHECKING:
    from recommender.library.identity_traps import Trap
    from recommender.library.normalize import Reading
    from recommender.library.store import Store
    from recommender.library.structures import Found

WIDER = "Only the curated table was searched; a wider store can be had with: recommender setup."
NOT_CURATED = (
    "Not in the curated table: its identity and values are from the local store. No curated "
    "hazard facts are held for it, so every hazard is taken the cautious way."
)
# A form in the name that changes the plan where the row is in another.
_TELLING_FORMS = ("solution", "molten", "powder", "solid")
# What is named as a solid is no solution of it and no gas: another product may be meant.
_SOLID_FORMS = ("powder", "solid")
_FLUID_FORMS = ("solution", "liquid", "gas", "cryogenic")


@dataclass(frozen=True, slots=True)
class _Query:
    """What was asked for.

    Attributes:
        said_form: form that stood in the name.
        store: None where there is none; ``advice`` says why.
    """

    text: str
    form: str | None
    concentration: float | None
    store: Store | None
    advice: str
    said_form: str = ""


def store_at(place: str | Path | None = None) -> Callable[[], Store]:
    """Return what opens the store at a place when it is needed, and not before."""

    def open_it() -> Store:
        from recommender.library.store import open_store

        return open_store(place)

    return open_it


@contextmanager
def _opened(source: Store | Callable[[], Store] | None) -> Iterator[tuple[Store | None, str]]:
    """Give the open store, or None and what to say about it; close what was opened here."""
    if source is None:
        yield None, WIDER
        return
    if not callable(source):
        yield source, ""
        return
    try:
        store = source()
    except StoreMissingError as problem:
        yield None, str(problem) if problem.needs_packages else WIDER
        return
    except StoreDamagedError as problem:
        yield None, str(problem)
        return
    with store:
        yield store, ""


def resolve(
    text: str,
    *,
    form: str | None = None,
    concentration: float | None = None,
    store: Store | Callable[[], Store] | None = None,
) -> Match:
    """Find one chemical by name, CAS number, UN number, formula, SMILES or InChIKey.

    Args:
        text: what was typed; a strength may stand in it.
        form: one of the forms, to choose between rows of one identity.
        concentration: mass percent, to choose between rows of one identity.
        store: an open store, or what opens one; it is called only where the curated table has
            no answer. None for the curated table alone.

    Raises:
        ChemicalNotFoundError: nothing has this name; the nearest names are listed.
        AmbiguousChemicalError: several have it, or the one that a list gives is not believed.
        GroupNumberError: a UN number that names no product.
        CasError: it is shaped like a CAS number but the check digit is wrong.
    """
    match = held(text, form=form, concentration=concentration)
    if match is not None:
        return match
    query = text.strip()
    if not is_a_name(query):
        raise ChemicalNotFoundError(query[:40], ())
    with _opened(store) as (opened, advice):
        return _beyond(_Query(query, form, concentration, opened, advice))


def _beyond(query: _Query) -> Match:
    """Everything that the curated table does not name exactly."""
    from recommender.library.identity_traps import trap_for
    from recommender.library.un_numbers import un_digits

    trap = trap_for(query.text)
    if trap is not None:
        return _by_trap(query, trap)
    if un_digits(query.text):
        return _by_un(query, un_digits(query.text))
    if looks_like_cas(query.text):
        return _by_cas_number(query, normalize_cas(query.text))
    found = _by_reading(query) or _by_formula_or_structure(query)
    if found is None:
        raise _not_found(query)
    return found


def _not_found(query: _Query, advice: str = "") -> ChemicalNotFoundError:
    from recommender.library.nearest import nearest

    said = " ".join(part for part in (advice, query.advice) if part)
    return ChemicalNotFoundError(query.text, nearest(query.text, query.store), said)


def _refused(query: _Query, cas_numbers: Iterable[str], why: str) -> AmbiguousChemicalError:
    """Name what may have been meant; curated names and listed hazards first."""
    from recommender.library.identity_traps import name_of

    found = []
    for cas in cas_numbers:
        row = _curated(cas)
        substance = query.store.substance(cas) if query.store is not None else None
        if row is not None:
            found.append((0, row.chemical.name, cas))
        elif substance is not None:
            found.append((1 if substance.listed else 2, name_of(substance), cas))
    found.sort(key=lambda item: item[0])
    candidates = tuple((name, f"CAS {cas}", cas) for _, name, cas in found)
    return AmbiguousChemicalError(query.text, candidates, why)


def _curated(cas: str) -> Match | None:
    """The curated row of a CAS number; None where there is none or more than one identity."""
    try:
        return held(cas)
    except AmbiguousChemicalError:
        return None


def _taken(query: _Query, match: Match, how: str, notes: Iterable[str]) -> Match:
    """Say what was typed, what it was taken for, and what was assumed."""
    chemical = match.chemical
    said = [note for note in match.notes if " is taken as " not in note]
    if normalize_name(chemical.name) != normalize_name(query.text):
        number = f" (CAS {chemical.cas})" if chemical.cas else ""
        said.insert(0, f"{printable(query.text)} is taken as {chemical.name}{number}.")
    form = query.said_form if query.form is None else ""
    if form in _SOLID_FORMS and chemical.form in _FLUID_FORMS:
        why = f"it is held as {chemical.form} and not as {form}"
        held_as = (chemical.name, chemical.form, chemical.key)
        raise AmbiguousChemicalError(query.text, (held_as,), why)
    if form not in _TELLING_FORMS or fits_form(chemical, form):
        form = ""
    return replace(match, how=how, notes=(*said, *notes), form=form)


def _by_cas(
    query: _Query, cas: str, how: str, notes: Iterable[str], name: str = ""
) -> Match | None:
    """The chemical with a CAS number: the curated row, else the substance of the store."""
    form = query.form or query.said_form or None
    try:
        row = held(cas, form=form, concentration=query.concentration)
    except AmbiguousChemicalError as problem:
        raise AmbiguousChemicalError(query.text, problem.candidates) from problem
    if row is not None:
        return _taken(query, row, how, notes)
    if query.store is None:
        return None
    from recommender.library.identity_traps import is_mixture_number
    from recommender.library.load import load_entry
    from recommender.library.un_numbers import un_of_cas

    if is_mixture_number(cas):
        why = (
            f"CAS {cas} is that of a mixture or a polymer, of which the store has one part at best."
        )
        raise _not_found(query, why)
    entry = load_entry(query.store, cas)
    if entry is None:
        return None
    chemical = replace(entry.chemical, un=un_of_cas().get(cas, ()))
    said = [*notes]
    if query.concentration is not None:
        said.append(
            f"No solution of it is held: planned undiluted, {query.concentration:g} % given."
        )
    match = Match(replace(chemical, name=name or chemical.name), how, data=entry.data)
    return _taken(query, match, how, (*said, NOT_CURATED))


def _by_trap(query: _Query, trap: Trap) -> Match:
    """What the table says of a name or number that lists get wrong."""
    if len(trap.names) > 1:
        candidates = tuple((name, f"CAS {cas}", cas) for name, cas in trap.names)
        raise AmbiguousChemicalError(query.text, candidates, trap.reason)
    name, cas = trap.names[0]
    how = f"CAS {cas}" if looks_like_cas(query.text) else "name"
    found = _by_cas(query, cas, how, (f"{trap.reason[0].upper()}{trap.reason[1:]}.",), name)
    if found is None:
        raise _not_found(query, f"It is {name} (CAS {cas}), which is not held here.")
    return found


def _by_un(query: _Query, number: str) -> Match:
    from recommender.library.un_numbers import load_un_numbers

    entry = load_un_numbers().get(number)
    if entry is None:
        raise _not_found(query, f"UN {number} names no single product here: use the name instead.")
    if len(entry.cas) > 1:
        raise _refused(query, entry.cas, f"UN {number} is shared ({entry.words})")
    asked = replace(query, said_form=entry.form)
    found = _by_cas(asked, entry.cas[0], f"UN {number}", (f"UN {number}: {entry.words}.",))
    if found is None:
        what = f"UN {number} is {entry.words} (CAS {entry.cas[0]}), which is not held here."
        raise _not_found(query, what)
    return found


def _by_cas_number(query: _Query, cas: str) -> Match:
    found = _by_cas(query, cas, f"CAS {cas}", ())
    if found is not None:
        return found
    related = query.store.by_other_cas(cas) if query.store is not None else ()
    if related:
        why = "it is not held; these list it among their numbers, as replaced or related"
        raise _refused(query, related, why)
    raise _not_found(query)


def _by_reading(query: _Query) -> Match | None:
    """Try the ways in which the name may be written, in the table and then in the store."""
    from recommender.library.normalize import readings

    ways = [way for way in readings(query.text) if not way.key.isdigit()]
    said_form = next((way.form for way in ways if way.form), "")
    query = replace(query, said_form=said_form)
    for way in ways:
        match = _curated_reading(query, way)
        if match is not None:
            return match
    return None if query.store is None else _stored_reading(query, query.store, ways)


def _stored_reading(query: _Query, store: Store, ways: Iterable[Reading]) -> Match | None:
    from recommender.library.identity_traps import judge, trap_of_cas

    doubt = ""
    candidates: tuple[str, ...] = ()
    for way in ways:
        if doubt and way.joins_n:
            continue
        judged = judge(store, way.text, store.by_name(way.key))
        if judged.cas:
            asked, notes = _as_read(query, way), (*judged.notes, *_left_off(way))
            trap = trap_of_cas(judged.cas)
            if trap is not None:
                return _by_trap(asked, trap)
            return _by_cas(asked, judged.cas, "name", notes)
        if judged.doubt and not doubt:
            doubt, candidates = judged.doubt, judged.candidates
    if not doubt:
        return None
    found = _by_formula_or_structure(query)
    if found is None:
        raise _refused(query, candidates, doubt)
    return found


def _as_read(query: _Query, way: Reading) -> _Query:
    """The query with the form and strength that stood in the name."""
    strength = query.concentration if query.concentration is not None else way.strength
    return replace(query, concentration=strength)


def _left_off(way: Reading) -> tuple[str, ...]:
    """Say what was left off or put to the name."""
    said = [f"Left off the name: {', '.join(way.left_off)}."] if way.left_off else []
    if way.joins_n:
        said.append("Taken as the straight chain (n-).")
    return tuple(said)


def _curated_reading(query: _Query, way: Reading) -> Match | None:
    """The curated row of one reading; anhydrous asks for the row without water."""
    from recommender.library.identity_traps import trap_for

    asked = _as_read(query, way)
    trap = trap_for(way.text)
    if trap is not None:
        return _by_trap(asked, trap)
    form = asked.form or asked.said_form or None
    match = held(way.text, form=form, concentration=asked.concentration)
    if match is None:
        return None
    if way.undiluted and match.chemical.strength_percent is not None:
        match = held(way.text, form=form, concentration=100.0) or match
    return _taken(asked, match, "name", _left_off(way))


def _by_formula_or_structure(query: _Query) -> Match | None:
    if query.store is None:
        return None
    from recommender.library.structures import by_formula, by_structure

    found = by_formula(query.store, query.text) or by_structure(query.store, query.text)
    return None if found is None else _by_found(query, found)


def _by_found(query: _Query, found: Found) -> Match | None:
    """The substance that a formula or a structure stands for."""
    from recommender.library.identity_traps import trap_of_cas

    if found.advice:
        raise _not_found(query, found.advice)
    if found.doubt:
        raise _refused(query, found.cas_numbers, found.doubt)
    trap = trap_of_cas(found.cas_numbers[0])
    if trap is not None:
        return _by_trap(query, trap)
    note = f"Found by its {found.how}; compare the name and CAS number with the label."
    return _by_cas(query, found.cas_numbers[0], found.how, (note,))
