"""Chemicals, scenes and small changes to both, for the tests of the safety order.

Rows come from the curated table, or are put together here out of any facts at all.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cache

from hypothesis import strategies as st
from hypothesis.vendor.pretty import RepresentationPrinter

from recommender.chemicals.table import (
    Chemical,
    CuratedData,
    PropertyValue,
    fact_dictionary,
    load_chemicals,
    load_data,
)
from recommender.facts import Claim, Provenance, Truth, Word, unknown_claim
from recommender.limits import Limit
from recommender.plan import Outcomes
from recommender.recommend import recommend
from recommender.scene import Scene

ROWS: tuple[Chemical, ...] = tuple(load_chemicals().values())
CLAIMS = tuple(d.name for d in fact_dictionary().values() if d.kind == "claim")
WORDS = tuple(d.name for d in fact_dictionary().values() if d.kind == "word")
UNITS = {d.name: d.unit for d in fact_dictionary().values() if d.kind == "number"}

# Facts that say it harms through skin, or harms skin.
SKIN_HARMS = (
    "vesicant",
    "nerve_agent",
    "cholinesterase_inhibitor",
    "pcb_or_dioxin",
    "hydrofluoric_type",
    "toxic_6_1_pg_i",
    "skin_notation",
    "known_human_carcinogen",
    "skin_corrosive",
    "skin_sensitizer",
)
# Claims of which a yes is better news than a no: they are not hazards.
GOOD_NEWS = (
    "not_classified_for_health",
    "hypochlorite_breaks_down",
    "carbonate_helps",
    "fluoresces",
    "visible_residue",
)
HAZARDS = tuple(name for name in CLAIMS if name not in GOOD_NEWS)

GAS_CONSTANT = 8.314462618
ATMOSPHERE_PA = 101325.0
STATED = Provenance("classified", "judgement", "judgement")


@dataclass(frozen=True, repr=False)
class Case:
    """One chemical at one scene."""

    chemical: Chemical
    scene: Scene
    data: CuratedData

    def __repr__(self) -> str:
        """Short enough to read: what is not simply no."""
        claims = {n: c.truth.value for n, c in self.data.claims.items() if c.truth is not Truth.NO}
        words = {n: w.word for n, w in self.data.words.items() if w.word}
        values = {n: [(p.value, p.temperature_c) for p in v] for n, v in self.data.values.items()}
        which = f"{self.chemical.key} ({self.chemical.form}, {self.chemical.formula or 'mixture'})"
        return f"Case({which}, {self.scene}, {claims}, {words}, {values})"

    def _repr_pretty_(self, printer: RepresentationPrinter, cycle: bool) -> None:
        printer.text(repr(self))

    def outcomes(self, limits: Mapping[str, Limit] | None = None) -> Outcomes:
        return recommend(self.chemical, self.scene, data=self.data, limits=limits).outcomes

    def at(self, **scene: object) -> Case:
        return replace(self, scene=replace(self.scene, **scene))  # type: ignore[arg-type]

    def with_claim(self, name: str, truth: Truth) -> Case:
        claim = unknown_claim(name) if truth is Truth.UNKNOWN else Claim(name, truth, STATED)
        return self._with(claims={**self.data.claims, name: claim})

    def with_value(self, name: str, *values: float, temperature_c: float | None = None) -> Case:
        points = tuple(property_value(name, v, temperature_c) for v in values)
        return self.with_points(name, points)

    def with_points(self, name: str, points: tuple[PropertyValue, ...]) -> Case:
        others = {key: found for key, found in self.data.values.items() if key != name}
        return self._with(values={**others, name: points} if points else others)

    def without_word(self, name: str) -> Case:
        word = Word(name, "", Provenance("unknown", "unknown"))
        return self._with(words={**self.data.words, name: word})

    def _with(self, **changes: object) -> Case:
        return replace(self, data=replace(self.data, **changes))  # type: ignore[arg-type]

    def without_one_fact(self) -> Iterator[tuple[str, Case]]:
        """Every case that knows one fact less: a claim, a word or a property."""
        for name, claim in self.data.claims.items():
            if claim.truth is not Truth.UNKNOWN:
                yield f"{name} ({claim.truth.value})", self.with_claim(name, Truth.UNKNOWN)
        for name, word in self.data.words.items():
            # The gas given off is itself the yes, and a word has no unknown: none is taken away.
            if word.word and name != "gives_off":
                yield name, self.without_word(name)
        for name in self.data.values:
            yield name, self.with_points(name, ())


def property_value(name: str, value: float, temperature_c: float | None = None) -> PropertyValue:
    return PropertyValue(
        name, value, UNITS[name], temperature_c, None, None, "judgement", "judgement", ""
    )


def curated(chemical: Chemical, scene: Scene) -> Case:
    return Case(chemical, scene, load_data(chemical))


@cache
def as_it_is(chemical: Chemical, contact: str) -> Outcomes:
    """The unchanged plan of a row, which many tests compare with."""
    return curated(chemical, Scene(contact=contact)).outcomes()


def scaled(points: tuple[PropertyValue, ...], factor: float) -> tuple[PropertyValue, ...]:
    def times(value: float | None) -> float | None:
        return None if value is None else value * factor

    return tuple(
        replace(p, value=p.value * factor, low=times(p.low), high=times(p.high)) for p in points
    )


def pressure_pa(temperature_c: float, boiling_c: float, heat_j_mol: float) -> float:
    """Clausius-Clapeyron from the boiling point, so that points and boiling point agree."""
    inverse = 1 / (temperature_c + 273.15) - 1 / (boiling_c + 273.15)
    return ATMOSPHERE_PA * math.exp(-heat_j_mol / GAS_CONSTANT * inverse)


SCENES = st.builds(
    Scene,
    contact=st.sampled_from(["vapor", "splash", "gross"]),
    air_temperature_c=st.sampled_from([None, -20.0, 0.0, 10.0, 30.0, 40.0]),
    wind_m_s=st.sampled_from([None, 0.0, 1.0, 8.0]),
    suit=st.sampled_from(["unspecified", "disposable", "reusable", "turnout"]),
    technician=st.sampled_from(["on-scene", "not-yet"]),
    airing_place=st.booleans(),
    failed_check=st.booleans(),
)
CURATED = st.builds(curated, st.sampled_from(ROWS), SCENES)


@st.composite
def synthetic_chemicals(draw: st.DrawFn) -> Chemical:
    form = draw(st.sampled_from(["gas", "liquid", "solution", "solid", "powder", "molten"]))
    return Chemical(
        key="made-up",
        identity="made-up",
        name="Made-up",
        cas="",
        formula=draw(st.sampled_from(["", "C4H10O"])),
        form=form,
        strength_percent=None,
        usual=True,
        un=(),
        synonyms=(),
        trade_names=(),
        group="",
        source="judgement",
        provenance="judgement",
    )


@st.composite
def synthetic_values(draw: st.DrawFn, form: str) -> dict[str, tuple[PropertyValue, ...]]:
    """Any of the properties, consistent with each other and with the form."""
    boiling = draw(st.floats(-60, 10) if form == "gas" else st.floats(50, 400))
    melting = draw(st.floats(-150, -70) if form in ("gas", "liquid") else st.floats(45, 49))
    heat = draw(st.floats(20_000, 25_000) if form == "gas" else st.floats(25_000, 60_000))
    values = {
        "boiling_point": (property_value("boiling_point", boiling),),
        "melting_point": (property_value("melting_point", melting),),
        "vapor_pressure": (
            property_value("vapor_pressure", pressure_pa(20.0, boiling, heat), 20.0),
        ),
        "molar_mass": (property_value("molar_mass", 74.12),),
        "density": (property_value("density", draw(st.floats(600, 3_000))),),
        "viscosity": (property_value("viscosity", draw(st.floats(0.2, 1_000))),),
        "water_solubility": (property_value("water_solubility", 10 ** draw(st.floats(-5, 3))),),
        "dermal_category": (property_value("dermal_category", float(draw(st.integers(1, 6)))),),
        "dermal_ld50": (property_value("dermal_ld50", 10 ** draw(st.floats(-1, 4.5))),),
        "idlh": (property_value("idlh", 10 ** draw(st.floats(-2, 4))),),
    }
    kept = draw(st.sets(st.sampled_from(sorted(values))))
    return {name: values[name] for name in values if name in kept}


@st.composite
def synthetic(draw: st.DrawFn) -> Case:
    """A chemical out of any facts at all, at any scene: mostly no, as real ones are."""
    chemical = draw(synthetic_chemicals())
    truths = dict.fromkeys(CLAIMS, Truth.NO)
    truths |= dict.fromkeys(draw(st.sets(st.sampled_from(CLAIMS), max_size=8)), Truth.YES)
    truths |= dict.fromkeys(draw(st.sets(st.sampled_from(CLAIMS), max_size=8)), Truth.UNKNOWN)
    claims = {
        name: unknown_claim(name) if truth is Truth.UNKNOWN else Claim(name, truth, STATED)
        for name, truth in truths.items()
    }
    words = {name: Word(name, "", Provenance("unknown")) for name in WORDS}
    after = draw(st.sampled_from(["", "flood", "keep_dry", "wet", "technician"]))
    words["after_first"] = Word("after_first", after, STATED)
    values = draw(synthetic_values(chemical.form))
    return Case(chemical, draw(SCENES), CuratedData(claims, words, values))


ANY_CASE = st.one_of(CURATED, synthetic())
