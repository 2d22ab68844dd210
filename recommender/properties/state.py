"""In what form, and how warm, the product is met at the scene.

The scene's word leads where it is possible; what was not stated is assumed and said.
"""

from __future__ import annotations

from dataclasses import dataclass

from recommender.chemicals.table import Chemical
from recommender.errors import SceneError
from recommender.limits import Limits
from recommender.scene import Scene

# A sample of a product may be some degrees off a handbook's melting or boiling point.
_MARGIN_C = 5.0


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


def _check_form(
    chemical: Chemical,
    form: str,
    temperature_c: float,
    melting_c: float | None,
    boiling_c: float | None,
) -> None:
    """Refuse a stated form that the melting or boiling point rules out."""
    if (
        form in ("solid", "powder")
        and melting_c is not None
        and (
            chemical.form not in ("solid", "powder", "molten")
            and melting_c + _MARGIN_C < temperature_c
        )
    ):
        raise _impossible(
            chemical, form, f"it melts at {melting_c:g} C", "Try liquid, or leave the form out."
        )
    if form in ("liquid", "molten") and melting_c is not None:
        if (
            form == "liquid"
            and chemical.form in ("solid", "powder")
            and (melting_c > temperature_c + _MARGIN_C)
        ):
            raise _impossible(
                chemical,
                form,
                f"it melts at {melting_c:g} C",
                "Try solid, powder, solution, or molten with a product temperature.",
            )
        if form == "molten" and chemical.form in ("gas", "liquid", "cryogenic"):
            raise _impossible(
                chemical, form, f"it is already liquid or gas above {melting_c:g} C", "Try liquid."
            )
    if form == "gas" and boiling_c is not None and boiling_c > temperature_c + _MARGIN_C:
        raise _impossible(
            chemical,
            form,
            f"it boils at {boiling_c:g} C",
            "For its vapor in air, leave the form out and state the contact as vapor.",
        )
    if form == "gas" and boiling_c is None and chemical.form in ("solid", "powder"):
        raise _impossible(chemical, form, "it is a solid", "Try powder or aerosol.")
    if form == "cryogenic" and chemical.is_known and chemical.form not in ("gas", "cryogenic"):
        raise _impossible(
            chemical, form, "it is not a gas at ordinary temperature", "Leave the form out."
        )


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
        return min(cold, air_c), f"Product temperature taken as {min(cold, air_c):g} C (boiling)."
    if form == "molten":
        hot = melting_c if melting_c is not None else float(limits["state.hot_product"])
        hot = max(hot, air_c)
        return hot, f"Product temperature taken as at least {hot:g} C (molten)."
    return air_c, ""


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
    air_c = scene.air_temperature_c
    if air_c is None:
        air_c = limits.value("scene.air_temperature")
    wind = scene.wind_m_s
    if wind is None:
        wind = limits.value("scene.wind")
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
        bp = None if is_mixture else boiling_c
        _check_form(chemical, scene.form, product_c, melting_c, bp)
    if scene.form == "solution" and chemical.form != "solution" and chemical.is_known:
        notes.append("No row holds this solution: planned with the undiluted chemical's hazards.")
    if (
        scene.form is None
        and form in ("solid", "powder")
        and melting_c is not None
        and (product_c > melting_c)
    ):
        form = "molten" if product_c >= limits.value("state.hot_product") else "liquid"
        notes.append(f"It melts at {melting_c:g} C: planned as {form} at {product_c:g} C.")
    return State(form, air_c, product_c, min(product_c, air_c), wind, is_mixture, tuple(notes))
