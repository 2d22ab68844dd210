"""Wrong identities that name lists give, caught before they are believed.

What is known one by one stands in ``data/identity_traps.csv``. What has a pattern is a rule: a
name without a position for one isomer, a free base for its salt, a polymer for its monomer, an
ion, a radical, an isotope, a code of a few letters. A rule never chooses; it lets a hit stand,
or says why not and what may have been meant.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache

from recommender.chemicals.cas import looks_like_cas, normalize_cas
from recommender.chemicals.lookup import normalize_name
from recommender.data_files import read_table
from recommender.errors import CasError, DataError
from recommender.library.features import Feature
from recommender.library.formula import hill_formula
from recommender.library.schema import CODE, COMMON_NAME, SYNONYM
from recommender.library.store import NameHit, Store, StoredSubstance

TABLE = "identity_traps.csv"
AMBIGUOUS = "ambiguous"
# Up to this many characters a synonym is an abbreviation that lists give to several things.
LONGEST_CODE = 4
MOST_CANDIDATES = 8
_RADICAL = re.compile(r"\[(?:C|CH|CH2|CH3|N|NH|NH2|O|OH|S|SH|P|PH|PH2)\]")
_SAYS_ISOTOPE = re.compile(r"deuter|trit(?:ium|iat)|\[?\d+[CHNOS]\]|-d\d|13c|14c|heavy|label", re.I)
_SAYS_ION = re.compile(r"\bion\b|cation|anion|radical|\(\d?[+-]\)|[+-]$", re.I)
# Words that say a salt. Sulfate, phosphate and the like are also esters, so they excuse a salt
# but do not ask for one.
_ASKS_FOR_SALT = re.compile(
    r"hydro(?:chloride|bromide|iodide|fluoride)|\bsalt\b|\b(?:bi)?tartrate|\bsalicylate$", re.I
)
_EXCUSES_SALT = re.compile(
    r"ide\b|ate\b|ite\b|\bsalt\b|sodium|potassium|ammonium|lithium|calcium|onium|inium|onate|"
    r"magnesium|barium|zinc|copper|iron|lead|silver|mercur|olate\b|oxide",
    re.I,
)
_POLYMER_WORD = re.compile(
    r"^(?:poly|homopolymer of |(?:di|tri|tetr)(?=mer))|"
    r"[\s,-]*(?:homo|co)?(?:polymers?|resins?|oligomers?|(?:di|tri|tetra)mers?)$",
    re.I,
)
_HYDRATE = re.compile(r"hydrate\b|\bhydrated\b|aq\.", re.I)
_POSITIONS = (
    *"123456789omp",
    *("ortho", "meta", "para", "alpha", "beta", "gamma", "delta", "nn", "n"),
    *("11", "12", "13", "14", "15", "16", "22", "23", "24", "25", "26", "33", "34", "35", "44"),
    *("111", "112", "113", "122", "123", "124", "125", "135", "222", "223", "224", "234", "235"),
    *("236", "244", "245", "246", "345", "1112", "1122", "1234", "1235", "1245", "2345", "2346"),
)
# Blocks of CAS numbers given to mixtures, polymers, enzymes and natural or refined products.
_MIXTURE_BLOCKS = (
    (8_000_000, 8_080_999),
    (9_000_000, 9_089_999),
    (61_788_000, 61_791_999),
    (63_148_000, 63_149_999),
    (64_741_000, 64_755_999),
    (65_996_000, 65_998_999),
)
_SAYS_MIXTURE = re.compile(r"\bisomers?\b|\bmixed\b|\bmixture\b|\bmixt\b", re.I)
_BRANCHES = ("n", "sec", "tert", "iso", "neo")
_STEREO = ("cis", "trans", "e", "z", "alpha", "beta", "gamma", "delta")


@dataclass(frozen=True, slots=True)
class Trap:
    """One row of the table.

    Attributes:
        typed: the name or CAS number as typed.
        wrong: CAS number that the name list gives; empty where it gives none.
        right: CAS number, or ``ambiguous``.
        names: (name, CAS number) of what is meant, or of everything that may be meant.
    """

    typed: str
    wrong: str
    right: str
    names: tuple[tuple[str, str], ...]
    reason: str
    source: str
    provenance: str


def _names(cell: str, where: str) -> tuple[tuple[str, str], ...]:
    """Read 'name CAS;name CAS'."""
    found = []
    for part in cell.split(";"):
        name, _, cas = part.strip().rpartition(" ")
        if not name or normalize_cas(cas) != cas:
            raise DataError(f"{where}: {part!r} is not a name and a CAS number.")
        found.append((name, cas))
    return tuple(found)


def _trap(row: Mapping[str, str]) -> Trap:
    where = f"{TABLE}, {row['typed']}"
    names = _names(row["names"], where)
    right = row["right"]
    if (right == AMBIGUOUS) != (len(names) > 1) or (len(names) == 1 and names[0][1] != right):
        raise DataError(f"{where}: right and names do not agree.")
    return Trap(
        row["typed"], row["wrong"], right, names, row["reason"], row["source"], row["provenance"]
    )


def trap_of_cas(cas: str) -> Trap | None:
    """Return the row of the table for a CAS number, or None."""
    return load_traps().get(f"cas:{cas}")


@cache
def load_traps() -> Mapping[str, Trap]:
    """Read the table by normalized name, or ``cas:`` and CAS number.

    Raises:
        DataError: a row contradicts itself or stands twice.
    """
    found: dict[str, Trap] = {}
    for row in read_table(TABLE):
        trap = _trap(row)
        key = _trap_key(trap.typed)
        if key in found:
            raise DataError(f"{TABLE}: {trap.typed} stands twice.")
        found[key] = trap
    return found


def _trap_key(text: str) -> str:
    if looks_like_cas(text):
        try:
            return f"cas:{normalize_cas(text)}"
        except CasError:
            return ""
    return normalize_name(text)


def trap_for(text: str) -> Trap | None:
    """Return the row of the table for what was typed, or None."""
    key = _trap_key(text)
    return load_traps().get(key) if key else None


def name_of(substance: StoredSubstance) -> str:
    """Return the name to show: the list's, or what the table says in its place."""
    trap = trap_of_cas(substance.cas)
    return substance.name if trap is None or len(trap.names) > 1 else trap.names[0][0]


@dataclass(frozen=True, slots=True)
class Judged:
    """What the rules say of the hits of one name.

    Attributes:
        cas: the substance that stands; empty where none does.
        kind: how the name belongs to it (see schema.py).
        notes: what has to be said with it.
        doubt: why none stands; empty where one does.
        candidates: CAS numbers of what may have been meant.
    """

    cas: str = ""
    kind: int = SYNONYM
    notes: tuple[str, ...] = ()
    doubt: str = ""
    candidates: tuple[str, ...] = ()


def is_radical(substance: StoredSubstance) -> bool:
    """Whether a structure has an atom with a free valence."""
    return bool(_RADICAL.search(substance.smiles)) and Feature.ELEMENT not in substance.features


def _ordinary(
    text: str, substances: Iterable[StoredSubstance], kinds: Mapping[str, int] | None = None
) -> list[StoredSubstance]:
    """Leave out isotopes, ions and radicals that the name does not ask for."""
    kept = []
    for substance in substances:
        if Feature.ISOTOPE in substance.features and not _SAYS_ISOTOPE.search(text):
            continue
        if Feature.ION in substance.features and not _SAYS_ION.search(text):
            continue
        common = kinds is not None and kinds.get(substance.cas) == COMMON_NAME
        if is_radical(substance) and not common and not _SAYS_ION.search(text):
            continue
        kept.append(substance)
    return kept


def is_mixture_number(cas: str) -> bool:
    """Whether a CAS number lies in a block of mixtures, polymers and natural products.

    What a list holds under such a number is the structure of one part at best.
    """
    number = int(cas.replace("-", ""))
    return any(low <= number <= high for low, high in _MIXTURE_BLOCKS)


def plain_substances(store: Store, cas_numbers: Iterable[str]) -> list[StoredSubstance]:
    """Return the substances with these numbers that are no isotope, ion or radical."""
    found = (store.substance(cas) for cas in cas_numbers)
    return _ordinary("", [s for s in found if s is not None])


def isomers(store: Store, key: str) -> Mapping[str, str]:
    """Return CAS number to position of the isomers whose names put a position before this one.

    Only those of the formula that most of them share: a prefix may make another chemical's name.
    """
    found: dict[str, dict[str, str]] = {}
    for position in _POSITIONS:
        for hit in store.by_name(position + key)[:1]:
            substance = store.substance(hit.cas)
            if substance is None or hit.kind == CODE or not _ordinary("", [substance]):
                continue
            found.setdefault(substance.formula, {}).setdefault(hit.cas, position)
    best = max(found.values(), key=len, default={})
    return best if len(best) > 1 else {}


def _stereo_kin(store: Store, key: str, cas: str) -> tuple[str, ...]:
    """CAS numbers of stereo forms that carry this name with cis, trans and the like before it."""
    kin: dict[str, None] = {}
    for form in _STEREO:
        for hit in store.by_name(form + key)[:1]:
            kin[hit.cas] = None
    return tuple(kin) if cas in kin and len(kin) > 1 else ()


def _isomer_doubt(store: Store, key: str, chosen: StoredSubstance | None) -> Judged | None:
    """Refuse a name without a position where isomers with positions are listed."""
    kin = isomers(store, key)
    if not kin:
        return None
    if chosen is not None and chosen.cas not in kin:
        some = store.substance(next(iter(kin)))
        if (
            some is not None
            and some.formula == chosen.formula
            and not _names_position(store, chosen)
        ):
            return Judged(chosen.cas, notes=("Taken as the mixture of its isomers.",))
    doubt = "it names several isomers; the position is missing"
    return Judged(doubt=doubt, candidates=tuple(kin)[:MOST_CANDIDATES])


def _names_position(store: Store, substance: StoredSubstance) -> bool:
    """Whether a substance is one isomer: its structure is given, and its name has a position."""
    return re.search(r"(?:^|[\s(,-])(?:\d|o-|m-|p-|alpha-|beta-)", substance.name) is not None


def _several(store: Store, text: str, key: str) -> tuple[str, ...]:
    """Isomers where a name is the plural of a listed one (xylenes, hexanes); else nothing."""
    if not re.search(r"[a-z]{3}s$", text) or re.search(r"(?:ss|us|is|as|os|ous)$", text):
        return ()
    kin = tuple(isomers(store, key[:-1]))
    found = kin or tuple(
        s.cas for s in plain_substances(store, (hit.cas for hit in store.by_name(key[:-1])))
    )
    return found[:MOST_CANDIDATES]


def _is_salt(substance: StoredSubstance) -> bool:
    return bool(substance.features & (Feature.SALT | Feature.SEVERAL_PARTS))


def _polymer_for_monomer(store: Store, text: str, substance: StoredSubstance) -> bool:
    """Whether the name of a polymer was listed for its monomer."""
    short = normalize_name(_POLYMER_WORD.sub("", text))
    if not short or short == normalize_name(text):
        return False
    return any(hit.cas == substance.cas for hit in store.by_name(short))


def _formula_doubt(store: Store, text: str, substance: StoredSubstance) -> bool:
    """Whether what was typed is a formula, and the name list gives it to another one."""
    formula = hill_formula(text) if re.search(r"\d|[A-Z].*[A-Z]", text) else None
    if formula is None or formula == substance.formula:
        return False
    return bool(store.by_formula(text))


def _doubt(store: Store, text: str, substance: StoredSubstance, kind: int) -> str:
    """Say why one hit is not believed; empty where it is."""
    key = normalize_name(text)
    if kind == CODE or (kind >= SYNONYM and len(key) <= LONGEST_CODE):
        return "it is a code or abbreviation, which lists give to more than one thing"
    if _formula_doubt(store, text, substance):
        return "it reads as the formula of something else than the list has under this name"
    if _polymer_for_monomer(store, text, substance):
        return f"the list gives the polymer's name to the monomer ({substance.name})"
    organic = Feature.ORGANIC in substance.features
    if kind >= SYNONYM and organic and _is_salt(substance) and not _EXCUSES_SALT.search(text):
        return (
            f"the list gives it to a salt or adduct ({substance.name}), not to the substance itself"
        )
    if kind >= SYNONYM and _SAYS_MIXTURE.search(text):
        return f"it names a mixture, and the list gives it to one substance ({substance.name})"
    if _ASKS_FOR_SALT.search(text) and not _is_salt(substance):
        return (
            f"it names a salt, and the list gives it to what the salt is made of ({substance.name})"
        )
    return ""


def _notes(text: str, substance: StoredSubstance) -> tuple[str, ...]:
    """Say what a substance is where that is not plain from what was typed."""
    notes = []
    if Feature.HYDRATE in substance.features:
        notes.append("This is a hydrate: water is part of it.")
    elif _HYDRATE.search(text) and not re.search(r"^(?:chloral|hydrazine)", text, re.I):
        notes.append("Typed as a hydrate; the substance listed is the one without water.")
    is_hydrate = Feature.HYDRATE in substance.features
    if _is_salt(substance) and not is_hydrate and Feature.ORGANIC in substance.features:
        notes.append("This is a salt or an adduct, not the acid or base itself.")
    if Feature.ISOTOPE in substance.features:
        notes.append("This is an isotopic form.")
    return tuple(notes)


def judge(store: Store, text: str, hits: Sequence[NameHit]) -> Judged:
    """Let one of the hits of a name stand, or say why none does.

    Args:
        store: the open store.
        text: one reading of what was typed.
        hits: what the name list gives for it, best kind first.
    """
    key = normalize_name(text)
    kinds = {hit.cas: hit.kind for hit in hits}
    substances = [s for s in (store.substance(cas) for cas in kinds) if s is not None]
    kept = _ordinary(text, substances, kinds)
    several = _several(store, text, key)
    if several:
        return Judged(doubt="it names a mixture of isomers", candidates=several)
    if not kept:
        return _without_hit(store, key, tuple(kinds))
    best = min(kinds[s.cas] for s in kept)
    first = [s for s in kept if kinds[s.cas] == best]
    if len(first) > 1:
        first = [s for s in first if s.listed] or first
    if len(first) > 1 and len({s.inchikey for s in first}) == 1:
        first = first[:1]  # one structure under two numbers: the older number
    if len(first) > 1 or best == CODE:
        doubt = "more than one substance is listed under it"
        if best == CODE:
            doubt = "it is a code, which lists give to more than one thing"
        return Judged(doubt=doubt, candidates=tuple(s.cas for s in kept)[:MOST_CANDIDATES])
    return _settled(store, text, first[0], best, tuple(s.cas for s in kept))


def _without_hit(store: Store, key: str, dropped: tuple[str, ...]) -> Judged:
    """Nothing ordinary has the name: isomers may, or it names an ion."""
    found = _isomer_doubt(store, key, None)
    if found is not None:
        return found
    if dropped:
        doubt = "it names an ion, a radical or an isotope; name the whole substance"
        return Judged(doubt=doubt, candidates=dropped[:MOST_CANDIDATES])
    return Judged()


def _branch_note(store: Store, key: str, cas: str) -> tuple[str, ...]:
    """Say that a name without a branch is the straight chain, where branched ones are listed."""
    hits = {branch: store.by_name(branch + key)[:1] for branch in _BRANCHES}
    if not any(hit.cas == cas for hit in hits["n"]):
        return ()
    others = [b for b, found in hits.items() if found and found[0].cas != cas]
    if not others:
        return ()
    return (f"Taken as the straight chain (n-); {', '.join(f'{b}-' for b in others)} are others.",)


def _settled(
    store: Store, text: str, substance: StoredSubstance, kind: int, kept: tuple[str, ...]
) -> Judged:
    """Judge the one substance that is left."""
    key = normalize_name(text)
    doubt = _doubt(store, text, substance, kind)
    if doubt:
        return Judged(doubt=doubt, candidates=kept[:MOST_CANDIDATES])
    notes = (*_notes(text, substance), *_branch_note(store, key, substance.cas))
    if kind != COMMON_NAME:
        found = _isomer_doubt(store, key, substance)
        if found is not None and found.doubt:
            return found
        kin = _stereo_kin(store, key, substance.cas) if kind >= SYNONYM else ()
        if kin:
            return Judged(doubt="it names several stereoisomers", candidates=kin)
        notes = (*notes, *(found.notes if found is not None else ()))
    if kind >= SYNONYM:
        notes = (*notes, "Compare its CAS number with the label or the safety data sheet.")
    return Judged(substance.cas, kind, notes)
