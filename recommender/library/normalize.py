"""The ways in which one typed name may be written, nearest to what was typed first.

A reading changes spelling or leaves off a word that says form, grade or strength. It never
changes what the name stands for: words such as hydrate, crude, fuming or oil stay.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace

from recommender.chemicals.lookup import normalize_name, printable, split_strength

_MOST_READINGS = 60
_DASHES = str.maketrans(
    {**dict.fromkeys("‐‑‒–—―−", "-"), **dict.fromkeys("′’‘`´ʹ", "'"), "″": "''"}
)
_BRITISH = (
    (re.compile("sulph", re.I), "sulf"),
    (re.compile("aluminium", re.I), "aluminum"),
    (re.compile("caesium", re.I), "cesium"),
)
# Straight chains, of which people write n- or leave it off.
_CHAIN = "prop|but|pent|amyl|hex|hept|oct|non|dec|undec|dodec|tridec|tetradec|hexadec|octadec"
_ON_NITROGEN = re.compile("anilin|amid|imid|urea|toluidin|carbazol|pyrrol|piperi|morphol", re.I)
_NORMAL = re.compile(rf"(^|[\s,(-]|di|tri)(?:n|normal)[-\s](?=(?:{_CHAIN}))")
_CHAIN_START = re.compile(rf"^(?=(?:{_CHAIN})[a-z])")
# Names whose straight chain still leaves the position open: n- is not put before them.
_NEEDS_PLACE = re.compile(rf"{_ON_NITROGEN.pattern}|(?:ols?|enes?|ones?|alcohol|thiols?)$", re.I)
_TERT = re.compile(r"(^|[\s,(-])(?:t|tert|tertiary)[-.\s]+(?=[a-z])", re.I)
_SEC = re.compile(r"(^|[\s,(-])(?:s|sec|secondary)[-.\s]+(?=[a-z])", re.I)
_ISO = re.compile(r"(^|[\s,(-])(?:i|iso)[-\s]+(?=[a-z])", re.I)
_PLACES = (
    ("o-", "ortho-", "2-", "1,2-"),
    ("m-", "meta-", "3-", "1,3-"),
    ("p-", "para-", "4-", "1,4-"),
)
_PLACE_AFTER = re.compile(
    r"^([a-z]+(?:an|en|yn|adien)(?:ol|one|al|amine|thiol|e))-(\d(?:,\d)*)$", re.I
)
_PLACE_WITHIN = re.compile(r"^([a-z]+?)-(\d+(?:,\d+)*)-([a-z]+)$", re.I)
_INVERTED = re.compile(r"^(.+?),\s*(.+?)(-?)$")
_ONE_WORD = re.compile(r"[A-Za-z]+")
# Words that say form or grade, with the form they say.
_FORM_WORDS = {
    "aqueous solution": "solution",
    "water solution": "solution",
    "in solution": "solution",
    "solution": "solution",
    "solutions": "solution",
    "soln": "solution",
    "aqueous": "solution",
    "refrigerated liquid": "cryogenic",
    "cryogenic liquid": "cryogenic",
    "liquefied gas": "gas",
    "compressed gas": "gas",
    "compressed": "gas",
    "liquefied": "gas",
    "gas": "gas",
    "vapor": "gas",
    "liquid": "liquid",
    "solid": "solid",
    "crystals": "solid",
    "flakes": "solid",
    "pellets": "solid",
    "powder": "powder",
    "dust": "powder",
    "molten": "molten",
}
_GRADE_WORDS = (
    *("technical", "technical grade", "reagent grade", "lab grade", "stabilized", "stabilised"),
    *("inhibited", "uninhibited", "pure", "dry", "neat"),
)
_UNDILUTED = ("anhydrous", "neat", "pure")
# "Mustard gas", "water gas" and "marsh gas" are names: gas is left off after a comma only.
_ONLY_APART = frozenset({"gas", "vapor", "dust", "dry", "pure", "neat", "compressed", "liquefied"})
_WORDS = sorted((*_FORM_WORDS, *_GRADE_WORDS, "anhydrous"), key=len, reverse=True)
_APART = re.compile(rf"^(.+?)\s*(?:,\s*|\()({'|'.join(_WORDS)})\)?\s*$", re.I)
_TIED = [w for w in _WORDS if w not in _ONLY_APART]
_TRAILING = re.compile(rf"^(.+?)\s+({'|'.join(_TIED)})\s*$", re.I)
_LEADING = re.compile(
    r"^(anhydrous|aqueous|molten|compressed|liquefied|solid|liquid|powdered)\s+(.+)$", re.I
)
_BRACKET = re.compile(r"^(.{3,}?)\s+[(\[]([^()\[\]]{2,})[)\]]$")
_KEPT_BRACKET = re.compile(
    r"isomer|mix|polymer|\d\s*:\s*\d|^[ivx]+$|hydrate|salt|solution|conc|%|percent", re.I
)
_LEADING_FORMS = {"powdered": "powder"}


@dataclass(frozen=True, slots=True)
class Reading:
    """One way to read what was typed.

    Attributes:
        text: the name as it is looked for.
        form: what a word left off says of the form; empty for nothing.
        strength: mass percent that stood in the name.
        undiluted: a word left off says that no water is in it.
        left_off: the words left off, as typed.
        joins_n: an n- was put before it that was not typed.
    """

    text: str
    form: str = ""
    strength: float | None = None
    undiluted: bool = False
    left_off: tuple[str, ...] = ()
    joins_n: bool = False

    @property
    def key(self) -> str:
        """The name without what carries no meaning."""
        return normalize_name(self.text)


def _tidied(text: str) -> str:
    return " ".join(printable(text).translate(_DASHES).split()).strip(' ,;."')


def _without_bracket(reading: Reading) -> Reading | None:
    """Leave a bracket at the end off, which holds another name; never one that says isomers."""
    found = _BRACKET.match(reading.text)
    if not found or _KEPT_BRACKET.search(found.group(2)):
        return None
    word = f"({found.group(2)})"
    return replace(reading, text=found.group(1), left_off=(*reading.left_off, word))


def _shorter(reading: Reading) -> Reading | None:
    """Leave one word of form or grade off; None where none stands at an end."""
    found = _APART.match(reading.text) or _TRAILING.match(reading.text)
    if found:
        rest, word = found.group(1), found.group(2)
    else:
        found = _LEADING.match(reading.text)
        if not found:
            return None
        rest, word = found.group(2), found.group(1)
    said = word.lower()
    form = _LEADING_FORMS.get(said) or _FORM_WORDS.get(said, "")
    return replace(
        reading,
        text=rest.strip(" ,"),
        form=reading.form or form,
        undiluted=reading.undiluted or said in _UNDILUTED,
        left_off=(*reading.left_off, word),
    )


def _stripped(text: str) -> Iterator[Reading]:
    """Yield the text, then without strength, then without words of form and grade."""
    reading: Reading | None = Reading(text)
    while reading is not None and reading.key:
        yield reading
        rest, strength = split_strength(reading.text)
        if strength is not None and normalize_name(rest) and reading.strength is None:
            reading = replace(reading, text=rest.strip(" ,("), strength=strength)
        else:
            reading = _shorter(reading) or _without_bracket(reading)


def _replaced_place(text: str) -> Iterator[str]:
    """Yield o-, ortho- and 2- for each other, and so on, at the start of a name."""
    low = text.lower()
    for places in _PLACES:
        for place in places:
            if low.startswith(place):
                yield from (other + text[len(place) :] for other in places if other != place)


def _moved_place(text: str) -> Iterator[str]:
    """Yield 2-butanol for butan-2-ol and butanol-2."""
    found = _PLACE_AFTER.match(text)
    if found:
        yield f"{found.group(2)}-{found.group(1)}"
    found = _PLACE_WITHIN.match(text)
    if found:
        yield f"{found.group(2)}-{found.group(1)}{found.group(3)}"


def _turned(text: str) -> Iterator[str]:
    """Yield chlorobenzene for 'benzene, chloro-' and nitric acid for 'acid, nitric'."""
    found = _INVERTED.match(text)
    if not found or text.count(", ") > 2:
        return
    head, tail, dash = found.groups()
    if dash:
        yield f"{tail}{head}"
    elif _ONE_WORD.fullmatch(head) and _ONE_WORD.fullmatch(tail):
        yield f"{tail} {head}"


def _american(text: str) -> str:
    for pattern, letters in _BRITISH:
        text = pattern.sub(letters, text)
    return text


def _respelled(text: str) -> Iterator[tuple[str, bool]]:
    """Yield other spellings of one name, and whether an n- was put in."""
    full = _TERT.sub(r"\1tert-", text)
    full = _SEC.sub(r"\1sec-", full)
    full = _ISO.sub(r"\1iso", full)
    for one in dict.fromkeys((text, full)):
        yield one, False
        for other in (*_replaced_place(one), *_moved_place(one), *_turned(one)):
            yield other, False
        if not _ON_NITROGEN.search(one):
            plain = _NORMAL.sub(r"\1", one)
            if plain != one:
                yield plain, False
    if _CHAIN_START.match(full.lower()) and not _NEEDS_PLACE.search(full):
        yield f"n-{full}", True


def plainest(text: str) -> str:
    """Return the normalized name without strength and without words of form and grade."""
    stripped = list(_stripped(_american(_tidied(text))))
    return stripped[-1].key if stripped else ""


def readings(text: str) -> tuple[Reading, ...]:
    """Return the ways to read a typed name, each normalized name once, nearest first."""
    found: dict[str, Reading] = {}
    tidied = _tidied(text)
    for stripped in (*_stripped(_american(tidied)), *_stripped(tidied)):
        found.setdefault(stripped.key, stripped)
        for spelled, joins_n in _respelled(stripped.text):
            other = replace(stripped, text=spelled, joins_n=joins_n)
            if other.key:
                found.setdefault(other.key, other)
    return tuple(found.values())[:_MOST_READINGS]
