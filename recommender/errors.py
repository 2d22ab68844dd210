"""Every error this project raises on purpose.

::

    RecommenderError
    ├── InputError (also a ValueError)   something the user gave cannot be used
    │   ├── UnitError                    a quantity cannot be read or is out of sense
    │   ├── CasError                     a CAS number is malformed or fails its check digit
    │   ├── SceneError                   the scene contradicts itself or is out of range
    │   ├── StatedError                  a value stated by the user cannot be used
    │   ├── PolicyError                  a local policy cannot be used
    │   └── PhysicsRangeError            an equation was called outside its range
    ├── LookupFailedError (also a LookupError)
    │   ├── ChemicalNotFoundError        no chemical has this name
    │   ├── AmbiguousChemicalError       more than one chemical has this name
    │   └── GroupNumberError             a UN number of a group entry names no product
    ├── DataError                        a packaged table is missing or contradicts itself
    └── StoreError                       the wide local store cannot be used
        ├── StoreMissingError            it has not been built, or not where it was looked for
        ├── StoreDamagedError            it is damaged, or made for another version
        └── StoreBuildError              it cannot be built here

Messages say what, where, why and what to do.
"""

from __future__ import annotations

_MOST_LISTED = 40


class RecommenderError(Exception):
    """Base of all errors that this project raises on purpose."""


class InputError(RecommenderError, ValueError):
    """Something the user gave cannot be used."""


class UnitError(InputError):
    """A quantity cannot be read, has the wrong unit, or is out of sense."""


class CasError(InputError):
    """A CAS number is malformed or fails its check digit."""


class SceneError(InputError):
    """The scene contradicts itself or is out of range."""


class StatedError(InputError):
    """A value stated by the user, from a safety data sheet or the like, cannot be used.

    Attributes:
        near: names of properties near the one that was typed, best first.
    """

    def __init__(self, problem: str, near: tuple[str, ...] = ()) -> None:
        self.near = near
        super().__init__(problem)


class PolicyError(InputError):
    """A local policy cannot be used; nothing of it is.

    Attributes:
        where: the file, as it was given.
        problems: everything that is wrong with it, each with its key.
    """

    def __init__(self, where: str, problems: tuple[str, ...]) -> None:
        self.where = where
        self.problems = problems
        listed = "".join(f"\n  - {problem}" for problem in problems[:_MOST_LISTED])
        more = len(problems) - _MOST_LISTED
        rest = f"\n  - and {more} more" if more > 0 else ""
        super().__init__(
            f"The local policy {where} cannot be used:{listed}{rest}\n"
            "Nothing was planned. Correct the file, or plan without it."
        )


class PhysicsRangeError(InputError):
    """A number is not finite, or lies outside the range an equation was made for.

    Attributes:
        argument: Name of the argument, which carries its unit as a suffix.
        value: The value that was refused.
        allowed: The allowed range, in words.
    """

    def __init__(self, argument: str, value: float, allowed: str) -> None:
        super().__init__(argument, value, allowed)
        self.argument = argument
        self.value = value
        self.allowed = allowed

    def __str__(self) -> str:
        """Name the argument, the value refused and what is allowed."""
        return (
            f"{self.argument} is {self.value!r}; allowed is {self.allowed}. "
            "Check the value and its unit (the name ends in the unit expected)."
        )


class LookupFailedError(RecommenderError, LookupError):
    """A chemical could not be settled from what was typed."""


class ChemicalNotFoundError(LookupFailedError):
    """No chemical has this name.

    Attributes:
        typed: what was typed (shortened).
        nearest: (name, key) pairs of the nearest names, best first; the key of a substance of
            the local store is its CAS number.
        advice: where a wider search is to be had, or why this one ended; may be empty.
    """

    def __init__(self, typed: str, nearest: tuple[tuple[str, str], ...], advice: str = "") -> None:
        self.typed = typed[:60]
        self.nearest = nearest
        self.advice = advice
        self.headline = f"No chemical is held under {self.typed!r}."
        near = "; ".join(name for name, _ in nearest)
        hint = f" Nearest names: {near}." if near else ""
        more = f" {advice}" if advice else ""
        super().__init__(
            f"{self.headline}{hint}{more} If the product is not identified, plan for an unknown."
        )


class AmbiguousChemicalError(LookupFailedError):
    """More than one chemical has this name or number.

    Attributes:
        typed: what was typed (shortened).
        candidates: (name, form and strength or CAS number, key) of each candidate.
        why: why the name is not taken, where that is not just that several have it.
    """

    def __init__(
        self, typed: str, candidates: tuple[tuple[str, str, str], ...], why: str = ""
    ) -> None:
        self.typed = typed[:60]
        self.candidates = candidates
        self.why = why
        self.headline = f"{self.typed!r} stands for more than one chemical."
        if why:
            self.headline = f"{self.typed!r} is not taken for one chemical: {why}."
        listed = "; ".join(f"{name} ({form})" for name, form, _ in candidates)
        super().__init__(f"{self.headline} Use the full name, or state the form: {listed}.")


class GroupNumberError(LookupFailedError):
    """A UN number of a group or n.o.s. entry, which names no product.

    Attributes:
        number: the UN number.
        words: what the entry says.
        names: names of rows that travel under it.
    """

    def __init__(self, number: str, words: str, names: tuple[str, ...]) -> None:
        self.number, self.words, self.names = number, words, names
        held = f" Held under it: {'; '.join(names)}." if names else ""
        super().__init__(
            f"UN {number} is a group entry ({words}): it does not name the product.{held} Use the "
            "name on the shipping paper or label, or plan for an unknown in the form that was seen "
            "(recommender plan --unknown --form FORM)."
        )


class DataError(RecommenderError):
    """A packaged table is missing, damaged or contradicts itself."""


_SETUP = "Build it with: recommender setup"
_INSTALL = "Install what builds it: pip install 'decon-recommender[store]'; then: recommender setup"


class StoreError(RecommenderError):
    """The wide local store cannot be used. Curated chemicals work without it."""


class StoreMissingError(StoreError):
    """The local store has not been built, or is not where it was looked for.

    Attributes:
        why: what is missing, in words.
    """

    def __init__(self, why: str, *, needs_packages: bool = False) -> None:
        self.why = why
        self.needs_packages = needs_packages
        super().__init__(
            f"The local store of chemicals cannot be opened: {why}. "
            f"{_INSTALL if needs_packages else _SETUP}. Curated chemicals work without it."
        )


class StoreDamagedError(StoreError):
    """The local store is damaged, or was made by another version."""

    def __init__(self, why: str) -> None:
        self.why = why
        super().__init__(
            f"The local store of chemicals cannot be trusted: {why}. Build it again with: "
            "recommender setup --force. Curated chemicals work without it."
        )


class StoreBuildError(StoreError):
    """The local store cannot be built here: a package or a right to write is missing."""
