"""Bounds: how far local policy may move each limit, and which limits are floors.

A bound is a number or the id of another limit, which keeps limits that belong together in order.
A floor is a limit that policy may make more cautious and never less.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from recommender.data_files import read_table
from recommender.errors import DataError
from recommender.limits import Limit, load_limits


@dataclass(frozen=True, slots=True)
class Bound:
    """The room that one limit has.

    Attributes:
        lowest, highest: a number, or the id of the limit that bounds this one.
        is_floor: whether the packaged value may only be made more cautious.
    """

    id: str
    lowest: float | str
    highest: float | str
    is_floor: bool
    why: str

    @property
    def is_fixed(self) -> bool:
        """Whether there is no room at all."""
        return self.lowest == self.highest


def _end(text: str, row: str) -> float | str:
    if text in load_limits():
        return text
    try:
        return float(text)
    except ValueError:
        message = f"limit_bounds.csv, {row}: {text!r} is neither a number nor a limit."
        raise DataError(message) from None


@cache
def load_bounds() -> Mapping[str, Bound]:
    """Read ``data/limit_bounds.csv``.

    Raises:
        DataError: a row repeats an id, names no limit, or bounds with something else.
    """
    bounds: dict[str, Bound] = {}
    for row in read_table("limit_bounds.csv"):
        name = row["id"]
        if name in bounds or name not in load_limits():
            raise DataError(f"limit_bounds.csv: {name} stands twice or is no limit.")
        if row["floor"] not in ("yes", "no"):
            raise DataError(f"limit_bounds.csv, {name}: floor is {row['floor']!r}.")
        lowest, highest = _end(row["lowest"], name), _end(row["highest"], name)
        bounds[name] = Bound(name, lowest, highest, row["floor"] == "yes", row["why"])
    return bounds


def end_value(end: float | str, limits: Mapping[str, Limit]) -> float:
    """Return the number of one end of a bound, given the limits in force."""
    return limits[end].value if isinstance(end, str) else end


def end_words(end: float | str, limits: Mapping[str, Limit]) -> str:
    """Say one end of a bound: the number, and the limit it comes from if it does."""
    value = f"{end_value(end, limits):g}"
    return f"{value} ({end})" if isinstance(end, str) else value


def out_of_bounds(name: str, limits: Mapping[str, Limit]) -> str:
    """Say what is wrong with one limit among the limits in force; empty when nothing is."""
    limit, bound = limits[name], load_bounds().get(name)
    if bound is None:
        return "no bounds are held for it, so it cannot be changed"
    low, high = end_value(bound.lowest, limits), end_value(bound.highest, limits)
    if low <= limit.value <= high:
        return ""
    found = f"{limit.value:g} {limit.unit} is out of bounds"
    if bound.is_floor:
        found = f"{limit.value:g} {limit.unit} is refused: it is a floor"
    if bound.is_fixed:
        return f"{found} and stays at {low:g}. {bound.why}"
    ends = f"{end_words(bound.lowest, limits)} to {end_words(bound.highest, limits)}"
    return f"{found}; allowed is {ends} {limit.unit}. {bound.why}"
