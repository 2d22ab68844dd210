"""Density and viscosity of liquids at 20 C, out of the packages' correlations in their ranges."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping

from recommender.library.build_read import KELVIN, Tabulated, cas_number, number, read_rows

ROOM_C = 20.0
_ROOM_K = 293.15
# A range that ends this close to room temperature still reaches it.
_SLACK_K = 5.0
_PASCAL_SECOND_TO_CP = 1000.0
_Found = Iterator[tuple[str, int, Tabulated]]
# What one table takes: path, source, family, coefficient columns, columns of the range's ends.
_Spec = tuple[str, str, str, tuple[str, ...], tuple[str, str]]


def _evaluate(
    name: str, spec: _Spec, at_room: Callable[[tuple[float, ...]], float], scale: float
) -> _Found:
    """Evaluate every row of one table whose range reaches 20 C."""
    path, source, family, columns, ends = spec
    for row in read_rows("chemicals", path, (*columns, *ends)):
        cas = cas_number(row["CAS"])
        values = tuple(number(row[column]) for column in columns)
        low, high = number(row[ends[0]]), number(row[ends[1]])
        if cas is None or low is None or high is None:
            continue
        if not low - _SLACK_K <= _ROOM_K <= high + _SLACK_K:
            continue
        known = tuple(v for v in values if v is not None)
        if len(known) != len(values):
            continue
        try:
            value = at_room(known)
        except (ArithmeticError, ValueError):
            continue
        if isinstance(value, float) and math.isfinite(value) and value > 0:
            yield name, cas, Tabulated(source, family, value * scale, ROOM_C)


def _viscosities() -> _Found:
    from chemicals.dippr import EQ101
    from chemicals.viscosity import PPDS9, Viswanath_Natarajan_3

    def by_three(c: tuple[float, ...]) -> float:
        return float(Viswanath_Natarajan_3(_ROOM_K, c[0] - 3.0, c[1], c[2]))

    def by_two(c: tuple[float, ...]) -> float:
        # The package evaluates these with base e and a shift of ln 100 and comes out 2 to 4 times
        # too thin (1-butanol 0.8 cP, measured 2.9); read as base 10 in Pa s they agree with others.
        return float(10.0 ** (c[0] + c[1] / _ROOM_K))

    folder, ends = "Viscosity/", ("Tmin", "Tmax")
    three, two, five = ("A", "B", "C"), ("A", "B"), ("C1", "C2", "C3", "C4", "C5")
    scale = _PASCAL_SECOND_TO_CP
    yield from _evaluate(
        "viscosity",
        (folder + "Dutt Prasad 3 term.tsv", "Dutt and Prasad", "dutt", three, ends),
        by_three,
        scale,
    )
    path = folder + "Viswanath Natarajan Dynamic 3 term.tsv"
    spec = (path, "Viswanath and Natarajan", "viswanath", three, ends)
    yield from _evaluate("viscosity", spec, by_three, scale)
    path = folder + "Viswanath Natarajan Dynamic 2 term.tsv"
    spec_two = (path, "Viswanath and Natarajan", "viswanath", two, ends)
    yield from _evaluate("viscosity", spec_two, by_two, scale)
    path = folder + "Table 2-313 Viscosity of Inorganic and Organic Liquids.tsv"
    yield from _evaluate(
        "viscosity",
        (path, "Perry", "perry", five, ends),
        lambda c: float(EQ101(_ROOM_K, *c)),  # type: ignore[no-untyped-call]
        scale,
    )
    yield from _vdi_viscosities(PPDS9)


def _vdi_viscosities(equation: Callable[..., float]) -> _Found:
    """This table gives no range; where its liquids freeze is another table's matter."""
    path = "Viscosity/VDI PPDS Dynamic viscosity of saturated liquids polynomials.tsv"
    for row in read_rows("chemicals", path, ("A", "B", "C", "D", "E")):
        cas = cas_number(row["CAS"])
        values = [number(row[k]) for k in ("A", "B", "C", "D", "E")]
        known = [v for v in values if v is not None]
        if cas is None or len(known) != len(values) or known[2] <= _ROOM_K:
            continue
        value = equation(_ROOM_K, *known) * _PASCAL_SECOND_TO_CP
        if math.isfinite(value) and value > 0:
            yield "viscosity", cas, Tabulated("VDI", "vdi", value, ROOM_C)


def _densities(molar_masses: Mapping[int, float]) -> _Found:
    from chemicals.dippr import EQ105, EQ116

    columns = ("C1", "C2", "C3", "C4")
    path = "Density/Perry Parameters 105.tsv"
    spec = (path, "Perry", "perry", columns, ("Tmin", "Tmax"))

    def molar_density(c: tuple[float, ...]) -> float:
        return float(EQ105(_ROOM_K, *c))  # type: ignore[no-untyped-call]

    for name, cas, molar in _evaluate("density", spec, molar_density, 1e-3):
        mass = molar_masses.get(cas)
        if mass:
            yield name, cas, Tabulated(molar.source, molar.family, molar.value * mass, ROOM_C)
    path = "Density/VDI PPDS Density of Saturated Liquids.tsv"
    for row in read_rows("chemicals", path, ("Tc", "rhoc", "A", "B", "C", "D")):
        number_of = cas_number(row["CAS"])
        values = [number(row[k]) for k in ("Tc", "rhoc", "A", "B", "C", "D")]
        known = [v for v in values if v is not None]
        if number_of is None or len(known) != len(values) or known[0] <= _ROOM_K:
            continue
        value = float(EQ116(_ROOM_K, *known))
        if math.isfinite(value) and value > 0:
            yield "density", number_of, Tabulated("VDI", "vdi", value, ROOM_C)


def read_liquids(
    molar_masses: Mapping[int, float],
) -> Mapping[str, Mapping[int, list[Tabulated]]]:
    """Read density and viscosity at 20 C, by property and CAS number."""
    found: dict[str, dict[int, list[Tabulated]]] = defaultdict(lambda: defaultdict(list))
    for some in (_viscosities(), _densities(molar_masses)):
        for name, cas, tabulated in some:
            found[name][cas].append(tabulated)
    return found


def lowest_liquid() -> Mapping[int, float]:
    """Return the lowest temperature in C of each liquid's viscosity fits, by CAS number."""
    found: dict[int, float] = {}
    for path in (
        "Viscosity/Dutt Prasad 3 term.tsv",
        "Viscosity/Viswanath Natarajan Dynamic 3 term.tsv",
        "Viscosity/Table 2-313 Viscosity of Inorganic and Organic Liquids.tsv",
    ):
        for row in read_rows("chemicals", path, ("Tmin",)):
            cas, low = cas_number(row["CAS"]), number(row["Tmin"])
            if cas is not None and low is not None:
                found[cas] = min(low - KELVIN, found.get(cas, 1e9))
    return found
