"""Make one value with a range out of what several tables say, and record what disagrees.

Tables of one family copy from each other and count as one voice. The largest group of voices that
agree leads with its median; a value far from a group of two or more voices is dropped; where no
two voices agree, the best table leads and the range spans all of them. A value is never averaged
with one that contradicts it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from statistics import median

from recommender.library.build_read import Tabulated

# Tables from the best kept to the least: critically evaluated handbooks, then collections, then
# open wikis. Decides only where voices do not.
ORDER = (
    "reference",
    "crc",
    "iec",
    "nfpa",
    "dippr",
    "iupac",
    "mathews",
    "psrk",
    "perry",
    "vdi",
    "webbook",
    "viswanath",
    "dutt",
    "gharagheizi",
    "common-chemistry",
    "syracuse",
    "ontario",
    "sander",
    "wikidata",
    "yaws",
)
MAJORITY = 2


@dataclass(frozen=True, slots=True)
class Tolerance:
    """How far values of one property may stand apart.

    Attributes:
        agree: at or under this two values tell the same; measured: nine pairs of ten do.
        drop: over this from a majority a value is another thing (a decimal point, a reduced
            pressure, a decomposition, another substance), not a poor measurement.
        relative: the two are shares of the value, not differences.
    """

    agree: float
    drop: float
    relative: bool = False

    def apart(self, a: float, b: float) -> float:
        """Distance of two values on this property's scale."""
        if a == b or not self.relative:
            return abs(a - b)
        scale = min(abs(a), abs(b))
        return abs(a - b) / scale if scale > 0 else float("inf")


# Pairs of tables, measured over all substances: melting points agree within 5.5 K and boiling
# points within 5 K in nine of ten; 30 K is beyond the 95th percentile of both.
TOLERANCES: Mapping[str, Tolerance] = {
    "melting_point": Tolerance(5.0, 30.0),
    "triple_point": Tolerance(5.0, 30.0),
    "boiling_point": Tolerance(5.0, 30.0),
    "critical_temperature": Tolerance(10.0, 50.0),
    "critical_pressure": Tolerance(0.10, 0.5, relative=True),
    # A density 5 % off is another temperature; 20 % off is another phase or substance.
    "density": Tolerance(0.05, 0.20, relative=True),
    "viscosity": Tolerance(0.25, 2.0, relative=True),
    "heat_of_vaporization": Tolerance(0.05, 0.30, relative=True),
    "heat_of_vaporization_at_boiling": Tolerance(0.05, 0.30, relative=True),
    # Independent measurements of log Kow scatter by 0.3; 1.5 is another substance or a guess.
    "log_kow": Tolerance(0.4, 1.5),
    # Open against closed cup is up to 10 K; 30 K crosses two classes of flammable liquids.
    "flash_point": Tolerance(10.0, 30.0),
    "lower_flammable_limit": Tolerance(0.35, 2.0, relative=True),
    "upper_flammable_limit": Tolerance(0.35, 2.0, relative=True),
    "ln_henry": Tolerance(0.7, 2.3),
}
_ONE_VOICE = Tolerance(0.01, 1.0, relative=True)
# Outside these a unit or a decimal point has slipped, or a density is that of a gas: helium to
# tungsten carbide, light hydrocarbons to
# osmium, sugars to waxes. Liquid hydrogen and helium are lost; they are curated or never met.
PLAUSIBLE: Mapping[str, tuple[float, float]] = {
    "melting_point": (-273.0, 4200.0),
    "triple_point": (-273.0, 4200.0),
    "boiling_point": (-270.0, 6000.0),
    "critical_temperature": (-269.0, 12000.0),
    "critical_pressure": (1e5, 2e9),
    "density": (300.0, 23000.0),
    "viscosity": (0.05, 1e6),
    "heat_of_vaporization": (5e3, 4e5),
    "heat_of_vaporization_at_boiling": (5e2, 1e6),
    "log_kow": (-12.0, 15.0),
    "flash_point": (-150.0, 450.0),
    "lower_flammable_limit": (0.2, 40.0),
    "upper_flammable_limit": (1.0, 100.0),
}


def keep_plausible(
    cas: int, name: str, values: Sequence[Tabulated], ledger: Ledger
) -> list[Tabulated]:
    """Drop values that cannot be, and record them."""
    low, high = PLAUSIBLE.get(name, (float("-inf"), float("inf")))
    kept = [v for v in values if low <= v.value <= high]
    for value in values:
        if value not in kept:
            what = f"{value.source} says {value.value:.6g}: outside {low:g} to {high:g}"
            ledger.add(cas, name, what, "drop")
    return kept


@dataclass(frozen=True, slots=True)
class PassedOverValue:
    """A table's value that did not lead, and why not."""

    tabulated: Tabulated
    why: str


@dataclass(frozen=True, slots=True)
class Consensus:
    """One value with its range, and every table's value behind it."""

    value: float
    low: float
    high: float
    basis: str
    note: str
    package: str
    voices: int
    temperature_c: float | None = None
    passed_over: tuple[PassedOverValue, ...] = ()


@dataclass(frozen=True, slots=True)
class Disagreement:
    """What was dropped, replaced or widened, and why.

    Attributes:
        action: drop, replace, widen or flag.
        size: how far apart, in the property's unit (decades for vapor pressure), to sort by.
    """

    cas: int
    property: str
    what: str
    action: str
    size: float


@dataclass(slots=True)
class Ledger:
    """The record of every disagreement met during one build."""

    rows: list[Disagreement] = field(default_factory=list)

    def add(self, cas: int, name: str, what: str, action: str, size: float = 0.0) -> None:
        """Record one disagreement."""
        self.rows.append(Disagreement(cas, name, what, action, size))


def _rank(value: Tabulated) -> int:
    return ORDER.index(value.family) if value.family in ORDER else len(ORDER)


def _group(values: Sequence[Tabulated], center: Tabulated, by: Tolerance) -> list[Tabulated]:
    return [v for v in values if by.apart(v.value, center.value) <= by.agree]


def _voices(values: Sequence[Tabulated]) -> int:
    return len({v.family for v in values})


def _leading_group(values: Sequence[Tabulated], by: Tolerance) -> list[Tabulated]:
    """Return the group with the most voices; the best table's group where two have as many."""
    groups = [_group(values, center, by) for center in values]
    best = max(range(len(groups)), key=lambda i: (_voices(groups[i]), -_rank(values[i])))
    return groups[best]


def _names(values: Sequence[Tabulated]) -> str:
    return ", ".join(dict.fromkeys(v.source for v in values))


def agree_on(cas: int, name: str, values: Sequence[Tabulated], ledger: Ledger) -> Consensus:
    """Make one value out of what the tables say of one property of one substance.

    Args:
        cas: CAS number, for the ledger.
        name: the property.
        values: at least one value.
        ledger: where disagreements are recorded.
    """
    by = TOLERANCES.get(name, _ONE_VOICE)
    values = sorted(values, key=_rank)
    group = _leading_group(values, by)
    outside = [v for v in values if v not in group]
    voices = _voices(group)
    rival = _voices(_leading_group(outside, by)) if outside else 0
    has_majority = voices >= MAJORITY and voices > rival
    lead = median(v.value for v in group) if has_majority else group[0].value
    far = [v for v in outside if has_majority and by.apart(v.value, lead) > by.drop]
    spanned = [v.value for v in values if v not in far]
    passed = []
    for value in values if len(values) > 1 else ():
        why = f"far from {_names(group)}" if value in far else ""
        passed.append(PassedOverValue(value, why))
    for value in far:
        what = f"{value.source} says {value.value:.6g}, {_names(group)} {lead:.6g}"
        ledger.add(cas, name, what, "drop", by.apart(value.value, lead))
    spread = by.apart(min(spanned), max(spanned))
    if spread > by.drop:
        what = "; ".join(f"{v.source} says {v.value:.6g}" for v in values if v not in far)
        ledger.add(cas, name, what, "widen", spread)
    return Consensus(
        value=lead,
        low=min(spanned),
        high=max(spanned),
        basis="measured",
        note=_names([v for v in values if v not in far]),
        package=group[0].package,
        voices=voices,
        passed_over=tuple(passed),
    )
