"""Every property of a chemical at the scene as one row of a technician's table."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from recommender.chemicals.table import Chemical, CuratedData, fact_dictionary
from recommender.facts import Claim, Fact, Number, PassedOver, Provenance, Truth, unknown_number
from recommender.limits import Limits
from recommender.physics.constants import PASCAL_PER_MMHG
from recommender.physics.ranges import MOLAR_MASS_KG_MOL
from recommender.physics.vapor import saturated_mixture_relative_density, volatility_mg_m3
from recommender.properties.agreement import how_far
from recommender.properties.build import KnownFacts, film_residence
from recommender.properties.dermal import NOT_CLASSIFIED
from recommender.properties.stated_apply import AppliedStated
from recommender.properties.values import MISCIBLE_G_L, number_from
from recommender.properties.vapor_pressure import ATMOSPHERE_PA, KELVIN

MMHG, MG_M3 = "mmHg", "mg/m3"
# Properties that only the local store holds, with unit and label; shown where they are held.
_WHERE_HELD: Mapping[str, tuple[str, str]] = {
    "log_kow": ("1", "log Kow"),
    "upper_flammable_limit": ("%", "upper flammable limit"),
    "twa_ppm": ("ppm", "exposure limit, 8 h"),
    "twa_mg_m3": (MG_M3, "exposure limit, 8 h"),
    "stel_ppm": ("ppm", "exposure limit, short"),
    "stel_mg_m3": (MG_M3, "exposure limit, short"),
    "ceiling_ppm": ("ppm", "exposure limit, ceiling"),
    "ceiling_mg_m3": (MG_M3, "exposure limit, ceiling"),
}
_FILMS = (
    ("film_time_drained", "film time, drained", "persistence.film_drained"),
    ("film_residence", "film time, reference", "persistence.film"),
    ("film_time_puddle", "film time, puddle", "persistence.film_puddle"),
)
_PRESSURE_AND_MASS = ("vapor_pressure", "molar_mass")
# Saturated air within this share of clean air's density neither sinks nor rises to speak of.
_SAME_DENSITY = 0.01


@dataclass(frozen=True, slots=True)
class Also:
    """The same range in another unit."""

    value: float
    low: float
    high: float
    unit: str


@dataclass(frozen=True, slots=True)
class PropertyRow:
    """One property at the scene.

    Attributes:
        value: the number, or the word; None where it is not known.
        words: what the number means, in a few words; may be empty.
        also: the same in other units.
        remarks: what was assumed, or why there is no number.
        disagreements: values far from the one that leads, and what a check found, in words.
    """

    id: str
    label: str
    value: float | str | None
    low: float | None
    high: float | None
    unit: str
    origin: Provenance
    temperature_c: float | None = None
    words: str = ""
    also: tuple[Also, ...] = ()
    passed_over: tuple[PassedOver, ...] = ()
    remarks: tuple[str, ...] = ()
    disagreements: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Findings:
    """What the local store says of a chemical beside its values, by property.

    Attributes:
        disagreements: what its checks dropped, replaced or widened.
        reasons: why a property has no number.
    """

    disagreements: Mapping[str, Sequence[str]] = field(default_factory=dict)
    reasons: Mapping[str, str] = field(default_factory=dict)


def _all_rows(table: _Table) -> tuple[PropertyRow, ...]:
    """Every row, in the order in which they are read."""
    return (
        table.fact("molar_mass"),
        table.fact("melting_point"),
        table.fact("boiling_point"),
        table.state(),
        table.vapor_pressure(),
        table.fact("saturation"),
        table.volatility(),
        table.relative_density(),
        *table.films(),
        table.fact("density"),
        table.fact("viscosity"),
        table.solubility(),
        *table.where_held("log_kow"),
        table.fact("flash_point"),
        table.fact("lower_flammable_limit"),
        *table.where_held("upper_flammable_limit"),
        table.fact("ionization_energy"),
        replace(table.fact("idlh"), label="IDLH"),
        replace(table.fact("vapor_hazard_ratio"), label="saturated vapor / IDLH"),
        *(row for name in list(_WHERE_HELD)[2:] for row in table.where_held(name)),
        table.dermal_category(),
        table.fact("dermal_ld50"),
        table.claim("skin_notation"),
    )


def property_rows(
    chemical: Chemical,
    data: CuratedData,
    known: KnownFacts,
    limits: Limits,
    stated: Sequence[AppliedStated] = (),
    found: Findings | None = None,
) -> tuple[PropertyRow, ...]:
    """Return the rows in the order in which they are read.

    Args:
        chemical: the row planned for.
        data: the facts and values planned with.
        known: the facts at the scene.
        limits: the limits in force.
        stated: what the user stated.
        found: what the local store says beside the values.
    """
    rows = _all_rows(_Table(chemical, data, known, limits))
    warned = {e.stated.fact: e for e in stated}
    found = found or Findings()
    return tuple(_with_words(row, warned.get(row.id), found) for row in rows)


def _with_words(row: PropertyRow, entry: AppliedStated | None, found: Findings) -> PropertyRow:
    """Add what is wrong with a stated value, and what the local store says."""
    own = () if entry is None else tuple(t for t in (entry.warning, entry.caution) if t)
    apart = () if own else row.disagreements  # said once
    remarks = [*row.remarks, *((entry.remark,) if entry is not None and entry.remark else ())]
    if row.value is None and row.id in found.reasons:
        remarks.append(found.reasons[row.id])
    checked = found.disagreements.get(row.id, ())
    return replace(row, remarks=tuple(remarks), disagreements=(*own, *apart, *checked))


class _Table:
    """Makes rows out of the facts of one chemical at one scene."""

    def __init__(
        self, chemical: Chemical, data: CuratedData, known: KnownFacts, limits: Limits
    ) -> None:
        self._chemical, self._data, self._known = chemical, data, known
        self._limits = limits
        self._facts: Mapping[str, Fact] = known.facts
        self._numbers = {n: f for n, f in known.facts.items() if isinstance(f, Number)}

    def row(self, name: str, label: str, number: Number) -> PropertyRow:
        """A number as a row, with the values that lie far from it."""
        missing = () if number.is_known else tuple(n for n in number.missing if n != name)
        return PropertyRow(
            name,
            label,
            number.mid,
            number.low,
            number.high,
            number.unit,
            number.origin,
            number.temperature_c,
            passed_over=number.passed_over,
            remarks=(f"needs {', '.join(_label(n) for n in missing)}",) if missing else (),
            disagreements=self._far(name, number),
        )

    def _far(self, name: str, number: Number) -> tuple[str, ...]:
        if number.mid is None:
            return ()
        said = []
        for other in number.passed_over:
            apart = how_far(name, number.mid, number.mid, other.value, self._limits)
            if apart.is_far:
                unit = {"1": "", "degC": " C"}.get(number.unit, f" {number.unit}")
                said.append(f"{other.source} has {other.value:.4g}{unit}: {apart.words}")
        return tuple(said)

    def fact(self, name: str) -> PropertyRow:
        """A numeric fact as it stands."""
        return self.row(name, _label(name), self._numbers[name])

    def claim(self, name: str) -> PropertyRow:
        """A yes/no fact."""
        claim = self._facts[name]
        assert isinstance(claim, Claim)
        label = fact_dictionary()[name].label
        return PropertyRow(name, label, claim.truth.value, None, None, "", claim.origin)

    def state(self) -> PropertyRow:
        """The form at the scene, and what it does there."""
        state = self._known.state
        remarks = list(state.notes)
        for name, said in (("film_impossible", "It boils: no film."), ("frozen", "Frozen.")):
            claim = self._facts[name]
            if isinstance(claim, Claim) and claim.truth is Truth.YES:
                remarks.insert(0, said)
        return PropertyRow(
            "state",
            "state at the scene",
            state.form,
            None,
            None,
            "",
            self._facts["form"].origin,
            state.product_temperature_c,
            remarks=tuple(remarks),
        )

    def vapor_pressure(self) -> PropertyRow:
        """Vapor pressure in Pa, and in mmHg beside it."""
        row = self.fact("vapor_pressure")
        if not isinstance(row.value, float) or row.low is None or row.high is None:
            return row
        low, mid, high = (p / PASCAL_PER_MMHG for p in (row.low, row.value, row.high))
        return replace(row, also=(Also(mid, low, high, MMHG),))

    def _from_pressure(
        self, name: str, label: str, unit: str, of: Mapping[float, float] | None
    ) -> PropertyRow:
        """A number that follows from the vapor pressure; not known where that is not."""
        pressure = self._numbers["vapor_pressure"]
        if of is None:
            missing = tuple(n for n in _PRESSURE_AND_MASS if not self._numbers[n].is_known)
            return self.row(name, label, unknown_number(name, unit).with_missing(missing))
        low, high = min(of.values()), max(of.values())
        middle = of[_below_boiling(pressure.mid)]
        origin = Provenance("derived", "judgement", "judgement", "from the vapor pressure")
        number = Number(name, low, middle, high, unit, origin, pressure.temperature_c)
        return self.row(name, label, number)

    def _ends(self) -> tuple[float, tuple[float, ...]] | None:
        """Molar mass in kg/mol; ends and middle of the vapor pressure, up to one atmosphere."""
        pressure, mass = self._numbers["vapor_pressure"], self._numbers["molar_mass"].mid
        if mass is None or not pressure.is_known:
            return None
        if not MOLAR_MASS_KG_MOL.low <= mass / 1000.0 <= MOLAR_MASS_KG_MOL.high:
            return None
        ends = tuple(_below_boiling(p) for p in (pressure.low, pressure.mid, pressure.high))
        return mass / 1000.0, ends

    def volatility(self) -> PropertyRow:
        """Mass of vapor in a cubic meter of saturated air."""
        ends, found = self._ends(), None
        if ends is not None:
            kelvin = self._known.state.film_temperature_c + KELVIN
            found = {
                p: volatility_mg_m3(molar_mass_kg_mol=ends[0], pressure_pa=p, temperature_k=kelvin)
                for p in ends[1]
            }
        return self._from_pressure("volatility", "volatility", MG_M3, found)

    def relative_density(self) -> PropertyRow:
        """Density of saturated air beside clean air's."""
        ends, found = self._ends(), None
        if ends is not None:
            found = {p: saturated_mixture_relative_density(ends[0], p) for p in ends[1]}
        row = self._from_pressure("saturated_air_density", "saturated air / air", "1", found)
        if not isinstance(row.value, float):
            return row
        words = "sinks" if row.value > 1.0 else "rises"
        if abs(row.value - 1.0) < _SAME_DENSITY:
            words = "about as heavy as air"
        return replace(row, words=words)

    def films(self) -> list[PropertyRow]:
        """Film times of the drained, the reference and the puddle film."""
        chemical, state = self._chemical, self._known.state
        rows = []
        for name, label, limit in _FILMS:
            number = film_residence(chemical, self._data, state, self._numbers, self._limits, limit)
            words = f"{self._limits.value(limit):g} mm"
            rows.append(replace(self.row(name, label, number), words=words))
        return rows

    def solubility(self) -> PropertyRow:
        """Water solubility, in a word as well."""
        row = self.fact("water_solubility")
        return replace(row, words=solubility_words(row.value, self._limits))

    def dermal_category(self) -> PropertyRow:
        """The acute dermal category; the number after the last one stands for none."""
        row = self.fact("dermal_category")
        return replace(row, words="none assigned") if row.value == NOT_CLASSIFIED else row

    def where_held(self, name: str) -> list[PropertyRow]:
        """A property that is no fact, where the data hold it."""
        values = self._data.values.get(name, ())
        unit, label = _WHERE_HELD[name]
        number = number_from(name, unit, values)
        return [self.row(name, label, number)] if number.is_known else []


def _label(name: str) -> str:
    if name == "saturation":
        return "saturated vapor"
    definition = fact_dictionary().get(name)
    return definition.label if definition else name.replace("_", " ")


def _below_boiling(pressure_pa: float | None) -> float:
    """At one atmosphere the air is all vapor: there is no more of it."""
    assert pressure_pa is not None
    return min(pressure_pa, ATMOSPHERE_PA)


def solubility_words(value: float | str | None, limits: Limits) -> str:
    """Say a solubility in g/L in a word, by the lines that the rules use."""
    if not isinstance(value, float):
        return ""
    steps = (
        (MISCIBLE_G_L, "miscible"),
        (limits.value("stations.freely_soluble"), "freely soluble"),
        (limits.value("stations.sparing_solubility"), "soluble"),
        (limits.value("stage_model.oily_solubility"), "sparingly soluble"),
    )
    return next((words for least, words in steps if value >= least), "hardly soluble")
