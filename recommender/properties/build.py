"""Assemble every fact the rules may read, from one chemical and one scene."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from recommender.chemicals.table import Chemical, CuratedData, fact_dictionary, load_data
from recommender.facts import (
    Claim,
    Fact,
    Number,
    Provenance,
    Truth,
    Verdict,
    Word,
    unknown_number,
)
from recommender.limits import Limit, Limits
from recommender.physics.vapor import saturation_ppm
from recommender.properties.dermal import dermal_category, dermal_dose
from recommender.properties.residence import NAME as FILM_RESIDENCE
from recommender.properties.residence import Film, film_residence_minutes
from recommender.properties.state import State, resolve_state
from recommender.properties.stated_pressure import heat_at, pressure_at
from recommender.properties.values import MISCIBLE_G_L, leading, number_from, stated_value
from recommender.properties.vapor_pressure import ATMOSPHERE_PA
from recommender.scene import Scene

# Physical temperatures below which the evaporation equations are not used (cryogens boil away).
_COLDEST_FILM_C = -70.0
_LIQUID_FORMS = ("liquid", "solution", "molten")


@dataclass(frozen=True, slots=True)
class KnownFacts:
    """Everything the rules may read, and what was assumed to get there."""

    facts: Mapping[str, Fact]
    state: State
    contact: str
    notes: tuple[str, ...]


def _derived(name: str, verdict: Verdict | bool, note: str = "", basis: str = "derived") -> Claim:
    origin = Provenance(basis, "judgement", "judgement", note)
    if isinstance(verdict, bool):
        return Claim(name, Truth.YES if verdict else Truth.NO, origin)
    return Claim(name, verdict.truth, origin, verdict.missing)


def _contact(
    chemical: Chemical, scene: Scene, state: State, saturation: Number, limits: Limits
) -> tuple[str, str]:
    """The contact as planned for, and what to say of it.

    A product without vapor to speak of is in the air only as dust, mist or smoke, which settles;
    one that may have none counts as having none, so that a wider range is never milder.
    """
    if scene.contact != "vapor":
        return scene.contact, ""
    is_solid = state.form in ("solid", "powder")
    boils_off = state.form in ("gas", "cryogenic")
    has_vapor = saturation.low is not None and saturation.low >= limits.value("scene.solid_vapor")
    if not is_solid:
        # Not knowing the vapor pressure of a known liquid must not make the plan milder, and a
        # boiling point alone puts it too high.
        has_vapor = (
            (has_vapor and saturation.origin.basis != "estimated")
            or boils_off
            or state.is_mixture
            or not chemical.is_known
        )
    if has_vapor:
        return scene.contact, ""
    kind = "dust or smoke" if is_solid else "mist"
    return "splash", f"It gives off little or no vapor: in air it is {kind}; planned as splash."


def _scene_claims(scene: Scene, chemical: Chemical, stronger: bool) -> list[Claim]:
    stated = "stated"
    return [
        _derived("contact_vapor", scene.contact == "vapor", basis=stated),
        _derived("contact_condensed", scene.contact != "vapor", basis=stated),
        _derived("contact_gross", scene.contact == "gross", basis=stated),
        _derived("suit_disposable", scene.suit == "disposable", basis=stated),
        _derived("suit_reusable", scene.suit == "reusable", basis=stated),
        _derived("suit_turnout", scene.suit == "turnout", basis=stated),
        _derived("technician_on_scene", scene.technician == "on-scene", basis=stated),
        _derived("airing_place", scene.airing_place, basis=stated),
        _derived("check_failed", scene.failed_check, basis=stated),
        _derived("identity_known", chemical.is_known),
        _derived("stronger_than_held", stronger),
    ]


def _is_liquid(chemical: Chemical, state: State, bulk: str, condensed_gas: bool) -> Verdict | bool:
    """Whether it may lie on a suit as a liquid. Nobody can tell of a gas without a name."""
    if chemical.form in _LIQUID_FORMS and bulk in ("solid", "powder"):
        return True  # a liquid that froze thaws at doffing
    if state.form == "aerosol" and bulk in ("gas", "cryogenic"):
        return True  # a mist of a liquefied gas wets what it settles on
    if state.form == "gas" and not chemical.is_known and not condensed_gas:
        return Verdict(Truth.UNKNOWN, ("boiling_point",))
    return bulk in _LIQUID_FORMS or condensed_gas or bulk == ""


def _form_claims(chemical: Chemical, data: CuratedData, scene: Scene, state: State) -> list[Claim]:
    """Which form leads. A liquefied gas on somebody is a liquid; an aerosol follows its product."""
    form = state.form
    condensed_gas = form == "gas" and scene.contact != "vapor"
    bulk = chemical.form if form == "aerosol" else form
    return [
        _derived("form_gas", form == "gas", basis="stated" if scene.form else "assumed"),
        _derived("form_liquid", _is_liquid(chemical, state, bulk, condensed_gas)),
        _derived("form_powder", bulk == "powder"),
        _derived("form_solid", bulk in ("solid", "powder")),
        _derived("form_molten", form == "molten"),
        _derived("form_cryogenic", form == "cryogenic"),
        _derived("form_solution", bulk == "solution"),
        _derived("mixture", state.is_mixture and chemical.is_known),
        _dissolved_solid(chemical, data, bulk),
    ]


def _dissolved_solid(chemical: Chemical, data: CuratedData, bulk: str) -> Claim:
    """Whether the water leaves and a solid stays: a dissolved salt, or a solid in solution."""
    salt = data.claims["salt"].truth
    if bulk != "solution" or not chemical.is_known:
        return _derived("dissolved_solid", False)
    if chemical.form != "solution":  # a solution that no row holds: the solute stays, to be safe
        return _derived("dissolved_solid", True)
    return _derived("dissolved_solid", Verdict(salt, ("salt",)))


def _viscosity(data: CuratedData, limits: Limits) -> Number:
    """Viscosity in cP; a liquid said to be thin or thick is bounded by that."""
    values = data.values.get("viscosity", ())
    if values:
        return number_from("viscosity", "cP", values, 1.0)
    claim = data.claims["thick_or_tarry"]
    edge = limits.value("stations.thick_viscosity")
    if claim.truth is Truth.UNKNOWN:
        return unknown_number("viscosity", "cP")
    note = "said to be thick" if claim.truth is Truth.YES else "said to be thin"
    ends = (edge + 1, 10 * edge, 1e6) if claim.truth is Truth.YES else (0.2, 1.0, edge / 2)
    return Number(
        "viscosity",
        *ends,
        "cP",
        Provenance("estimated", claim.origin.source, claim.origin.provenance, note),
    )


def _solubility(data: CuratedData, limits: Limits) -> Number:
    values = data.values.get("water_solubility", ())
    factor = limits.value("uncertainty.solubility")
    number = number_from("water_solubility", "g/L", values, factor)
    if number.mid is None or number.mid < MISCIBLE_G_L:
        return number
    counting = leading(values)
    low = min([v.value if v.low is None else v.low for v in counting])
    origin = replace(number.origin, note=number.origin.note or "miscible")
    return replace(number, low=min(low, number.mid), high=number.mid, origin=origin)


def _density(data: CuratedData, limits: Limits) -> Number:
    values = data.values.get("density", ())
    if values:
        return number_from("density", "kg/m3", values)
    origin = Provenance("assumed", "judgement", "judgement", "density not known")
    default = limits.value("uncertainty.default_density")
    return Number(
        "density",
        0.6 * default,
        default,
        limits.value("uncertainty.heavy_density"),
        "kg/m3",
        origin,
    )


def _plain_numbers(data: CuratedData) -> dict[str, Number]:
    """Numbers that need no more than their published values."""
    numbers = {}
    for name, definition in fact_dictionary().items():
        if definition.kind == "number":
            numbers[name] = number_from(name, definition.unit, data.values.get(name, ()))
    return numbers


def _vapor_pressure(
    chemical: Chemical, data: CuratedData, state: State, boiling_c: float | None, limits: Limits
) -> Number:
    """Vapor pressure of the film; a boiling point alone says nothing about a solid."""
    points = data.values.get("vapor_pressure", ())
    if state.film_temperature_c <= _COLDEST_FILM_C:
        return unknown_number("vapor_pressure", "Pa")
    is_dissolved = state.form == "solution" and chemical.form != "solution"
    if is_dissolved and stated_value(points) is None:  # the dissolved product's is not held
        return unknown_number("vapor_pressure", "Pa")
    if not points and state.form in ("solid", "powder"):
        return unknown_number("vapor_pressure", "Pa")
    return pressure_at(points, boiling_c, state.film_temperature_c, limits)


def film_residence(
    chemical: Chemical,
    data: CuratedData,
    state: State,
    numbers: Mapping[str, Number],
    limits: Limits,
    film: str = "persistence.film",
) -> Number:
    """Residence of a film in minutes; names what is missing when it is not known.

    ``film`` is the limit that says how thick it is: the reference film unless given.
    """
    pressure, mass = numbers["vapor_pressure"], numbers["molar_mass"]
    missing = tuple(n.name for n in (pressure, mass) if not n.is_known)
    unknown = unknown_number(FILM_RESIDENCE, "min")
    if missing or mass.mid is None:
        return unknown.with_missing(missing)
    if state.film_temperature_c < _COLDEST_FILM_C:
        return unknown.with_missing(("vapor_pressure",))
    boiling = None if state.is_mixture else numbers["boiling_point"].mid
    wetted = Film(
        pressure=pressure,
        density=numbers["density"],
        molar_mass_g_mol=mass.mid,
        formula=chemical.formula,
        temperature_c=state.film_temperature_c,
        wind_m_s=state.wind_m_s,
        heat_of_vaporization_j_mol=heat_at(
            data.values.get("vapor_pressure", ()), boiling, state.film_temperature_c, limits
        ),
        loses_water=chemical.form == "solution",
    )
    return film_residence_minutes(wetted, limits.value(film), limits)


def _saturation(pressure: Number) -> Number:
    if pressure.low is None or pressure.mid is None or pressure.high is None:
        return unknown_number("saturation", "ppm").with_missing(("vapor_pressure",))
    low, mid, high = (
        saturation_ppm(min(p, ATMOSPHERE_PA)) for p in (pressure.low, pressure.mid, pressure.high)
    )
    basis = "estimated" if pressure.origin.basis == "estimated" else "derived"
    origin = Provenance(basis)
    return Number("saturation", low, mid, high, "ppm", origin, pressure.temperature_c)


def _hazard_ratio(saturation: Number, idlh: Number) -> Number:
    """Saturated vapor over the immediately-dangerous concentration."""
    missing = tuple(n.name for n in (saturation, idlh) if not n.is_known)
    if missing or idlh.low is None or idlh.mid is None or idlh.high is None:
        return unknown_number("vapor_hazard_ratio", "1").with_missing(missing)
    low, mid, high = saturation.low, saturation.mid, saturation.high
    assert low is not None and mid is not None and high is not None
    return Number(
        "vapor_hazard_ratio",
        low / idlh.high,
        mid / idlh.mid,
        high / idlh.low,
        "1",
        Provenance("derived"),
    )


def _phase_claims(chemical: Chemical, state: State, numbers: Mapping[str, Number]) -> list[Claim]:
    """Whether a film can exist, whether the vapor can condense, whether the film is frozen."""
    boiling, melting = numbers["boiling_point"], numbers["melting_point"]
    is_gas_row = state.form in ("gas", "cryogenic")
    if state.form == "solution" or (state.is_mixture and chemical.form != "gas"):
        boils = Verdict(Truth.NO)
    elif boiling.is_known:
        boils = boiling.at_most(state.product_temperature_c)
    elif state.form in ("solid", "powder") and chemical.is_known:
        boils = Verdict(Truth.NO)
    else:
        boils = Verdict(Truth.UNKNOWN, ("boiling_point",))
    if boiling.is_known and not (state.is_mixture and chemical.form == "gas"):
        condenses = boiling.above(state.air_temperature_c)
    elif chemical.is_known and not is_gas_row:
        condenses = Verdict(Truth.YES)
    else:
        condenses = Verdict(Truth.UNKNOWN, ("boiling_point",))
    frozen = melting.above(state.film_temperature_c) if melting.is_known else Verdict(Truth.NO)
    if chemical.form not in ("liquid", "solution"):
        frozen = Verdict(Truth.NO)
    return [
        _derived("film_impossible", boils, f"at {state.product_temperature_c:.4g} C"),
        _derived("vapor_can_condense", condenses, f"at {state.air_temperature_c:.4g} C"),
        _derived("frozen", frozen, f"at {state.film_temperature_c:.4g} C"),
    ]


def _measure(name: str, value: float, unit: str, is_stated: bool) -> Number:
    basis = "stated" if is_stated else "assumed"
    return Number(name, value, value, value, unit, Provenance(basis))


def _scene_numbers(scene: Scene, state: State) -> dict[str, Number]:
    measured = (
        ("air_temperature", state.air_temperature_c, "degC", scene.air_temperature_c),
        ("product_temperature", state.product_temperature_c, "degC", scene.product_temperature_c),
        ("wind", state.wind_m_s, "m/s", scene.wind_m_s),
    )
    return {
        name: _measure(name, value, unit, given is not None)
        for name, value, unit, given in measured
    }


def _numbers(
    chemical: Chemical,
    scene: Scene,
    state: State,
    data: CuratedData,
    plain: Mapping[str, Number],
    limits: Limits,
) -> dict[str, Number]:
    """Every numeric fact: published values, and what follows from them at the scene."""
    category = dermal_category(data, limits)
    boiling = None if state.is_mixture else plain["boiling_point"].mid
    pressure = _vapor_pressure(chemical, data, state, boiling, limits)
    numbers = {
        **plain,
        "dermal_category": category,
        "dermal_ld50": dermal_dose(data, category, limits),
        "viscosity": _viscosity(data, limits),
        "water_solubility": _solubility(data, limits),
        "density": _density(data, limits),
        "vapor_pressure": pressure,
        "saturation": _saturation(pressure),
        **_scene_numbers(scene, state),
    }
    numbers[FILM_RESIDENCE] = film_residence(chemical, data, state, numbers, limits)
    numbers["vapor_hazard_ratio"] = _hazard_ratio(numbers["saturation"], numbers["idlh"])
    return numbers


def build_facts(
    chemical: Chemical,
    scene: Scene,
    limits: Mapping[str, Limit],
    *,
    stronger_than_held: bool = False,
    data: CuratedData | None = None,
) -> KnownFacts:
    """Build the facts of one chemical at one scene.

    Args:
        chemical: the row planned for.
        scene: incident conditions.
        limits: the limits in force.
        stronger_than_held: the stated strength is above every row held.
        data: facts and properties to use instead of the table's (for tests and overrides).

    Raises:
        SceneError: the stated form is impossible.
    """
    view = Limits(limits)
    found = load_data(chemical) if data is None else data
    plain = _plain_numbers(found)
    state = resolve_state(
        chemical, scene, plain["melting_point"].mid, plain["boiling_point"].mid, view
    )
    numbers = _numbers(chemical, scene, state, found, plain, view)
    contact, said = _contact(chemical, scene, state, numbers["saturation"], view)
    scene = replace(scene, contact=contact)
    claims: list[Claim] = [
        *_scene_claims(scene, chemical, stronger_than_held),
        *_form_claims(chemical, found, scene, state),
        *_phase_claims(chemical, state, numbers),
    ]
    facts: dict[str, Fact] = {**found.claims, **found.words, **numbers}
    facts |= {claim.name: claim for claim in claims}
    facts["form"] = Word("form", state.form, Provenance("stated" if scene.form else "assumed"))
    notes = (*state.notes, said) if said else state.notes
    return KnownFacts(facts, state, contact, notes)
