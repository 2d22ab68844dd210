"""How far two values of one property are apart, and whether that is worth a word."""

from __future__ import annotations

from dataclasses import dataclass

from recommender.limits import Limits

_CLOSE = ("molar_mass", "density", "ionization_energy")
_DEGREES = ("melting_point", "boiling_point", "flash_point")
_CATEGORY = "dermal_category"
# Decimals that a distance is compared at, so that three times is three times.
_DECIMALS = 9


@dataclass(frozen=True, slots=True)
class Apart:
    """How far a value lies from another: in words, and whether that is far."""

    size: float
    words: str
    is_far: bool


def how_far(name: str, low: float, high: float, other: float, limits: Limits) -> Apart:
    """Return how far a value lies outside a range of another source (low to high).

    A factor, degrees for temperatures, steps for categories; none where it lies inside. Exactly
    at the limit is not yet far.
    """
    nearest = min(max(other, low), high)
    if name in _DEGREES or name == _CATEGORY:
        size = round(abs(nearest - other), _DECIMALS)
        if name == _CATEGORY:
            return Apart(size, f"{size:g} categories apart", size > 0.0)
        return Apart(size, f"{size:.3g} C apart", size > limits.value("uncertainty.stated_degrees"))
    kind = "stated_close_factor" if name in _CLOSE else "stated_factor"
    least, most = sorted((nearest, other))
    if least <= 0.0:
        return Apart(0.0, "one of them is zero", most > 0.0)
    size = round(most / least, _DECIMALS)
    return Apart(size, f"{size:.3g} times apart", size > limits.value(f"uncertainty.{kind}"))


def how_far_from_all(
    name: str, low: float, high: float, others: tuple[float, ...], limits: Limits
) -> Apart | None:
    """Return the distance to the nearest of several values; None where there are none."""
    found = [how_far(name, low, high, other, limits) for other in others]
    return min(found, key=lambda apart: (apart.is_far, apart.size), default=None)
