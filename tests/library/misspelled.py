"""Misspellings as people make them, from a seed, so that every run tries the same ones."""

from __future__ import annotations

import random
from collections.abc import Callable, Sequence

# Letters beside each other on the keyboard.
_BESIDE = {
    **dict(zip("qwertyuiop", "wertyuiopo", strict=True)),
    **dict(zip("asdfghjkl", "sdfghjklk", strict=True)),
    **dict(zip("zxcvbnm", "xcvbnmn", strict=True)),
}
# Spellings that sound alike, each tried where it stands.
_SOUNDS = (
    *(("ph", "f"), ("f", "ph"), ("y", "i"), ("i", "y"), ("ck", "k"), ("c", "k"), ("k", "c")),
    *(("ie", "ei"), ("ei", "ie"), ("z", "s"), ("s", "z"), ("ae", "e"), ("th", "t"), ("o", "a")),
    *(("ss", "s"), ("ll", "l"), ("nn", "n"), ("tt", "t"), ("ur", "er"), ("er", "ur"), ("e", "i")),
)


def _places(name: str) -> list[int]:
    """Where a letter can be changed: not the first, which people get right."""
    return [i for i in range(1, len(name)) if name[i].isalpha()]


def swap(name: str, dice: random.Random) -> str:
    """Exchange two neighboring letters."""
    places = [i for i in _places(name)[:-1] if name[i + 1].isalpha() and name[i] != name[i + 1]]
    if not places:
        return name
    i = dice.choice(places)
    return name[:i] + name[i + 1] + name[i] + name[i + 2 :]


def drop(name: str, dice: random.Random) -> str:
    """Leave a letter out."""
    i = dice.choice(_places(name))
    return name[:i] + name[i + 1 :]


def double(name: str, dice: random.Random) -> str:
    """Type a letter twice."""
    i = dice.choice(_places(name))
    return name[:i] + name[i] + name[i:]


def neighbor(name: str, dice: random.Random) -> str:
    """Hit the key beside the right one."""
    i = dice.choice(_places(name))
    return name[:i] + _BESIDE.get(name[i].lower(), "x") + name[i + 1 :]


def sound(name: str, dice: random.Random) -> str:
    """Write a sound in another way."""
    low = name.lower()
    fitting = [(a, b) for a, b in _SOUNDS if a in low[1:]]
    if not fitting:
        return drop(name, dice)
    a, b = dice.choice(fitting)
    i = low.index(a, 1)
    return name[:i] + b + name[i + len(a) :]


KINDS: Sequence[Callable[[str, random.Random], str]] = (swap, drop, double, neighbor, sound)


def misspellings(names: Sequence[str], seed: int) -> list[tuple[str, str, str]]:
    """Return (kind, name, misspelling), one of each kind for each name."""
    dice = random.Random(seed)
    return [(kind.__name__, name, kind(name, dice)) for name in names for kind in KINDS]
