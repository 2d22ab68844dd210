"""The scene: how people met the product, in what weather, in what suits."""

from __future__ import annotations

from dataclasses import dataclass

from recommender.chemicals.table import FORMS
from recommender.dimensions import (
    AIR_TEMPERATURE_C,
    HIGHEST_WIND_M_S,
    PRODUCT_TEMPERATURE_C,
)
from recommender.errors import SceneError

CONTACTS = ("vapor", "splash", "gross")
SUITS = ("unspecified", "disposable", "reusable", "turnout")
TECHNICIANS = ("on-scene", "not-yet")

WIND_M_S = (0.0, HIGHEST_WIND_M_S)


def _check_choice(what: str, value: str, allowed: tuple[str, ...]) -> None:
    if value not in allowed:
        raise SceneError(f"{what} {value!r} is not one of: {', '.join(allowed)}.")


def _check_range(what: str, value: float | None, ends: tuple[float, float], unit: str) -> None:
    if value is None:
        return
    if not isinstance(value, int | float) or not ends[0] <= value <= ends[1]:
        raise SceneError(
            f"{what} {value} {unit} is out of sense: it lies between {ends[0]:g} and "
            f"{ends[1]:g} {unit}."
        )


@dataclass(frozen=True, slots=True)
class Scene:
    """Incident conditions. Everything has a cautious default; None means not stated.

    Attributes:
        contact: vapor (only gas or vapor in air, nothing wet, dusty or misty on anyone), splash
            (some product may be on suit or boots) or gross (visible product, kneeling, wading).
        air_temperature_c: air temperature in degrees Celsius.
        product_temperature_c: product temperature; the air's where not stated.
        wind_m_s: wind at 10 m height.
        form: gas, liquid, solid, powder, aerosol, solution, molten or cryogenic.
        concentration_percent: strength by mass.
        suit: unspecified, disposable, reusable or turnout (structural fire gear: porous).
        technician: on-scene or not-yet.
        airing_place: whether suits can be aired in a safe place before doffing.
        failed_check: whether a release check has already failed on this line.

    Raises:
        SceneError: a value is not in its list or range.
    """

    contact: str = "splash"
    air_temperature_c: float | None = None
    product_temperature_c: float | None = None
    wind_m_s: float | None = None
    form: str | None = None
    concentration_percent: float | None = None
    suit: str = "unspecified"
    technician: str = "not-yet"
    airing_place: bool = False
    failed_check: bool = False

    def __post_init__(self) -> None:
        _check_choice("The contact", self.contact, CONTACTS)
        _check_choice("The suit", self.suit, SUITS)
        _check_choice("The technician", self.technician, TECHNICIANS)
        if self.form is not None:
            _check_choice("The form", self.form, FORMS)
        _check_range("The air temperature", self.air_temperature_c, AIR_TEMPERATURE_C, "C")
        _check_range(
            "The product temperature", self.product_temperature_c, PRODUCT_TEMPERATURE_C, "C"
        )
        _check_range("The wind", self.wind_m_s, WIND_M_S, "m/s")
        _check_range("The concentration", self.concentration_percent, (0.0, 100.0), "%")
