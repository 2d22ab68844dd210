"""In what form, and how warm, the product is met at the scene.

The scene's word leads where it is possible; what was not stated is assumed and said.
"""

from __future__ import annotations

from dataclasses import dataclass

from recommender.chemicals.table import Chemical
from recommender.errors import SceneError
from recommender.limits import Limits
from recommender.scene import Scene
from recommender.units import format_temperature

# A sample of a product may be some degrees off a handbook's melting or boiling point.
_MARGIN_C = 5.0
# A product said to be cryogenic, of which no boiling point is held, is at least this cold.
_WARMEST_CRYOGEN_C = 0.0


@dataclass(frozen=True, slots=True)
class State:
    """The product and the weather as planned for.

    Attributes:
        form: one of the forms; never empty.
        film_temperature_c: temperature of a film on the suit: the colder of product and air.
        is_mixture: no single boiling point governs (a product without one formula, a solution).
        notes: what was assumed, in sentences.
    """

    form: str
    air_temperature_c: float
    product_temperature_c: float
    film_temperature_c: float
    wind_m_s: float
    is_mixture: bool
    notes: tuple[str, ...]


def _impossible(chemical: Chemical, form: str, why: str, instead: str) -> SceneError:
    return SceneError(f"{chemical.name} cannot be met as {form} here: {why}. {instead}")


def _check_solid(
    chemical: Chemical, form: str, temperature_c: float, melting_c: float | None
) -> None:
    """Refuse a solid or powder of what is held as a liquid, gas or solution, unless it froze."""
    if chemical.form in ("solid", "powder", "molten") or form not in ("solid", "powder"):
        return
    if melting_c is None:
        why = f"it is held only as {chemical.form}"
        raise _impossible(chemical, form, why, "Leave the form out, or name the solid product.")
    if melting_c + _MARGIN_C < temperature_c:
        why = f"it melts at {_celsius(melting_c)}"
        raise _impossible(chemical, form, why, "Try liquid, or leave the form out.")


def _check_liquid(
    chemical: Chemical, form: str, temperature_c: float, melting_c: float | None
) -> None:
    """Refuse a liquid or a melt that the melting point rules out."""
    solid = chemical.form in ("solid", "powder")
    try_instead = "Try solid, powder, solution, or molten with a product temperature."
    if form == "liquid" and solid and melting_c is not None:
        if melting_c > temperature_c + _MARGIN_C:
            raise _impossible(chemical, form, f"it melts at {_celsius(melting_c)}", try_instead)
    elif form == "molten" and chemical.form != "molten":
        if not solid:
            why = f"it is held as {chemical.form}"
            raise _impossible(chemical, form, why, "Try liquid, or leave the form out.")
        if melting_c is None:
            raise _impossible(chemical, form, "no melting point is held", "Leave the form out.")


def _check_gas(
    chemical: Chemical, form: str, temperature_c: float, boiling_c: float | None, is_mixture: bool
) -> None:
    """Refuse a gas that boils above the scene, and a cryogen that is no gas."""
    vapor = "For its vapor in air, leave the form out and state the contact as vapor."
    if form == "gas" and chemical.form not in ("gas", "cryogenic"):
        if chemical.form in ("solid", "powder"):
            raise _impossible(chemical, form, "it is a solid", "Try powder or aerosol.")
        if is_mixture or boiling_c is None:
            raise _impossible(chemical, form, f"it is held as {chemical.form}", vapor)
        if boiling_c > temperature_c + _MARGIN_C:
            raise _impossible(chemical, form, f"it boils at {_celsius(boiling_c)}", vapor)
    if form == "cryogenic" and chemical.form not in ("gas", "cryogenic"):
        why = "it is not a gas at ordinary temperature"
        raise _impossible(chemical, form, why, "Leave the form out.")


def _check_temperature(
    chemical: Chemical,
    form: str,
    stated_c: float | None,
    melting_c: float | None,
    boiling_c: float | None,
    coldest_c: float,
) -> None:
    """Refuse a stated product temperature that contradicts a molten or cryogenic form."""
    if stated_c is None:
        return
    low = None if melting_c is None else melting_c - _MARGIN_C
    if form == "molten" and low is not None and stated_c < low:
        raise SceneError(
            f"{chemical.name} melts at {_celsius(melting_c)}: it is not molten at "
            f"{_celsius(stated_c)}. Leave the form or the product temperature out."
        )
    high = _WARMEST_CRYOGEN_C if boiling_c is None else max(boiling_c + _MARGIN_C, coldest_c)
    if form == "cryogenic" and stated_c > high:
        boils = "" if boiling_c is None else f" ({chemical.name} boils at {_celsius(boiling_c)})"
        raise SceneError(
            f"A cryogenic product is not at {_celsius(stated_c)}{boils}. Leave the form or the "
            "product temperature out."
        )


def _celsius(value: float | None) -> str:
    """A temperature in both units, for a message."""
    if value is None:
        return "an unknown temperature"
    return f"{format_temperature(value, 'si')} ({format_temperature(value, 'us')})"


def _product_temperature(
    form: str,
    scene: Scene,
    air_c: float,
    melting_c: float | None,
    boiling_c: float | None,
    limits: Limits,
) -> tuple[float, str]:
    """Return the product temperature, and what was assumed."""
    if scene.product_temperature_c is not None:
        return scene.product_temperature_c, ""
    if form == "cryogenic":
        cold = (
            boiling_c if boiling_c is not None else float(limits["state.cryogenic_boiling_point"])
        )
        return min(
            cold, air_c
        ), f"Product temperature taken as {_celsius(min(cold, air_c))} (boiling)."
    if form == "molten":
        hot = melting_c if melting_c is not None else float(limits["state.hot_product"])
        hot = max(hot, air_c)
        return hot, f"Product temperature taken as at least {_celsius(hot)} (molten)."
    return air_c, ""


def _melted_or_set(
    form: str, product_c: float, melting_c: float, notes: list[str], limits: Limits
) -> str:
    """The usual form, unless the product's temperature has melted it or let it set."""
    at = f"It melts at {_celsius(melting_c)}: planned as"
    if form in ("solid", "powder") and product_c > melting_c:
        melted = "molten" if product_c >= limits.value("state.hot_product") else "liquid"
        notes.append(f"{at} {melted} at {_celsius(product_c)}.")
        return melted
    if form == "molten" and product_c < melting_c - _MARGIN_C:
        notes.append(f"{at} solid at {_celsius(product_c)}.")
        return "solid"
    return form


def _weather(scene: Scene, limits: Limits) -> tuple[float, float]:
    """Air temperature and wind, or what is assumed of them."""
    air_c, wind = scene.air_temperature_c, scene.wind_m_s
    return (
        limits.value("scene.air_temperature") if air_c is None else air_c,
        limits.value("scene.wind") if wind is None else wind,
    )


def resolve_state(
    chemical: Chemical,
    scene: Scene,
    melting_c: float | None,
    boiling_c: float | None,
    limits: Limits,
) -> State:
    """Settle form and temperatures.

    Raises:
        SceneError: the stated form is impossible for this chemical at this temperature.
    """
    notes: list[str] = []
    air_c, wind = _weather(scene, limits)
    form = scene.form or chemical.form
    is_mixture = not chemical.formula or chemical.form == "solution" or form == "solution"
    if not form:
        form = "liquid"
        if scene.contact == "vapor":
            form = "gas"
        notes.append(f"Form not stated: planned as a {form}. State the form if it was seen.")
    product_c, assumed = _product_temperature(form, scene, air_c, melting_c, boiling_c, limits)
    if assumed:
        notes.append(assumed)
    if scene.form and chemical.is_known:
        _check_solid(chemical, scene.form, product_c, melting_c)
        _check_liquid(chemical, scene.form, product_c, melting_c)
        _check_gas(chemical, scene.form, product_c, boiling_c, is_mixture)
    _check_temperature(
        chemical,
        scene.form or "",
        scene.product_temperature_c,
        melting_c,
        boiling_c,
        limits.value("state.cryogenic_boiling_point"),
    )
    if scene.form == "solution" and chemical.form != "solution" and chemical.is_known:
        notes.append("No row holds this solution: planned with the undiluted chemical's hazards.")
    if scene.form is None and melting_c is not None:
        form = _melted_or_set(form, product_c, melting_c, notes, limits)
    return State(form, air_c, product_c, min(product_c, air_c), wind, is_mixture, tuple(notes))
