"""The technician's table of properties: as text of 80 columns and as JSON, version 1.

Keys of the JSON are added freely and never renamed; ``recommender/schema/properties-v1.json``
describes them.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from rich.console import Group, RenderableType
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from recommender.limits import Limits
from recommender.properties.property_rows import Findings, PropertyRow, property_rows
from recommender.recommend import DEFER, Plan
from recommender.render.stated import rounded, stated_dict
from recommender.render.text import WIDTH, bullets, label_grid, print_to_text
from recommender.units import (
    UnitSystem,
    format_duration_minutes,
    format_speed,
    format_temperature,
)

SCHEMA_VERSION = 1
_LABEL_SHARE, _VALUE_SHARE = 0.25, 0.36
_MANY = 1e7


def rows_of(plan: Plan, found: Findings | None = None) -> tuple[PropertyRow, ...]:
    """Return the rows of the chemical of a plan, at the plan's scene."""
    assert plan.data is not None
    return property_rows(
        plan.chemical, plan.data, plan.known, Limits(plan.limits), plan.stated, found
    )


# --- text --------------------------------------------------------------------------------------


def _amount(value: float, figures: int = 3) -> str:
    """A number in plain digits where it is of ordinary size."""
    if value != 0.0 and not 1e-3 <= abs(value) < _MANY:
        return f"{value:.{figures - 1}e}"
    short = float(f"{value:.{figures}g}")
    return f"{short:.0f}" if abs(value) >= 10.0**figures else f"{short:.{figures}g}"


def _degrees(celsius: float, units: UnitSystem) -> str:
    own = f"{celsius:.4g} C"
    fahrenheit = f"{celsius * 9 / 5 + 32:.1f}".removesuffix(".0")
    return own if units == "si" else f"{fahrenheit} F ({own})"


def _number_words(value: float, unit: str, units: UnitSystem) -> str:
    if unit == "min":
        return format_duration_minutes(value)
    if unit == "degC":
        return _degrees(value, units)
    return _amount(value, 4) if unit == "1" else f"{_amount(value, 4)} {unit}"


def _span(low: float, high: float, unit: str, units: UnitSystem) -> str:
    """The ends of a range; empty where they coincide."""
    if unit == "min":
        ends = [format_duration_minutes(low), format_duration_minutes(high)]
    elif unit == "degC":
        ends = [_degrees(low, units), _degrees(high, units)]
    else:
        ends = [_amount(low), _amount(high)]
    return "" if ends[0] == ends[1] else f"{ends[0]} to {ends[1]}"


def _value_text(row: PropertyRow, units: UnitSystem) -> str:
    if row.value is None:
        return "not known"
    if isinstance(row.value, str):
        return row.value
    lines = [_number_words(row.value, row.unit, units)]
    assert row.low is not None and row.high is not None
    spans = [_span(row.low, row.high, row.unit, units)]
    for also in row.also:
        lines[0] += f" = {_amount(also.value)} {also.unit}"
        spans.append(f"{_span(also.low, also.high, also.unit, units)} {also.unit}".strip())
    if spans[0]:
        lines.append("; ".join(spans))
    words = f"({row.words})" if row.words else ""
    return "\n".join([*lines, words] if words else lines)


def _origin_text(row: PropertyRow, units: UnitSystem) -> str:
    origin = row.origin
    if row.value is None or row.value == "unknown":
        return "" if row.remarks else "nothing held"
    said = [origin.basis]
    if origin.source not in ("judgement", origin.basis):
        said += [origin.source, origin.provenance]
    if row.temperature_c is not None and row.value is not None and row.id != "state":
        said.append(f"at {format_temperature(row.temperature_c, units)}")
    return "; ".join(said)


def _notes(row: PropertyRow, units: UnitSystem) -> list[str]:
    notes = list(row.remarks)
    if row.origin.note and row.value is not None and row.origin.basis != "derived":
        notes.append(row.origin.note)
    if row.passed_over:
        notes.append("passed over: " + "; ".join(_passed_over(row, units)))
    return notes + [f"DISAGREES {words}" for words in row.disagreements]


def _passed_over(row: PropertyRow, units: UnitSystem) -> list[str]:
    """Values that do not lead, each with its source and note."""
    return [
        f"{_number_words(p.value, row.unit, units)} ({p.source}{f', {p.note}' if p.note else ''})"
        for p in row.passed_over
    ]


def _columns(width: int) -> Table:
    """An empty table of name, value and origin."""
    first, second = int(width * _LABEL_SHARE), int(width * _VALUE_SHARE)
    table = Table.grid(padding=(0, 1))
    table.add_column(width=first - 1, style="bold")
    table.add_column(width=second - 1)
    table.add_column(width=width - first - second)
    return table


def _heading(width: int) -> RenderableType:
    table = _columns(width)
    table.add_row("PROPERTY", "VALUE, LOW TO HIGH", "BASIS; SOURCE; HOW IT IS KNOWN")
    return table


def _row_text(row: PropertyRow, units: UnitSystem, width: int) -> RenderableType:
    table = _columns(width)
    table.add_row(row.label, _value_text(row, units), _origin_text(row, units))
    notes = _notes(row, units)
    if not notes:
        return table
    return Group(table, Padding(bullets(notes), (0, 0, 0, 2)))


def _head(plan: Plan, units: UnitSystem) -> Text:
    chemical, state = plan.chemical, plan.known.state
    numbers = [f"CAS {chemical.cas}"] if chemical.cas else []
    numbers += [f"UN {', '.join(chemical.un)}"] if chemical.un else []
    name = f"{chemical.name} ({'; '.join(numbers)})" if numbers else chemical.name
    scene = (
        f"{state.form}, product {format_temperature(state.product_temperature_c, units)}, air "
        f"{format_temperature(state.air_temperature_c, units)}, wind "
        f"{format_speed(state.wind_m_s, units)}"
    )
    return Text.assemble((name, "bold"), "\n", scene)


def properties_text(
    plan: Plan,
    units: UnitSystem = "us",
    found: Findings | None = None,
    *,
    styled: bool = False,
    width: int = WIDTH,
) -> str:
    """Return the table as text: value, range, basis, source, and what was passed over."""
    parts: list[RenderableType] = [_head(plan, units)]
    grid = label_grid()
    cautions = [e.caution for e in plan.stated if e.caution]
    if cautions:
        grid.add_row("CAUTIONS", bullets(cautions))
    if plan.assumptions:
        grid.add_row("NOTE", Text(" ".join(plan.assumptions)))
    parts += [grid, Text(""), _heading(width)]
    parts += [_row_text(row, units, width) for row in rows_of(plan, found)]
    end = label_grid()
    end.add_row("DEFER", Text(DEFER))
    return print_to_text(Group(*parts, Text(""), end), width=width, styled=styled)


# --- JSON --------------------------------------------------------------------------------------


def _row_dict(row: PropertyRow) -> dict[str, Any]:
    return {
        "label": row.label,
        "value": rounded(row.value),
        "low": rounded(row.low),
        "high": rounded(row.high),
        "unit": row.unit,
        "words": row.words,
        "remarks": list(row.remarks),
        "also": [
            {
                "value": rounded(a.value),
                "low": rounded(a.low),
                "high": rounded(a.high),
                "unit": a.unit,
            }
            for a in row.also
        ],
        "basis": row.origin.basis,
        "source": row.origin.source,
        "provenance": row.origin.provenance,
        "note": row.origin.note,
        "temperature_c": rounded(row.temperature_c),
        "passed_over": [
            {"value": rounded(p.value), "source": p.source, "note": p.note} for p in row.passed_over
        ],
        "disagreements": list(row.disagreements),
    }


def properties_dict(plan: Plan, found: Findings | None = None) -> dict[str, Any]:
    """Return the table in its JSON shape, version 1."""
    chemical, state = plan.chemical, plan.known.state
    return {
        "schema_version": SCHEMA_VERSION,
        "chemical": {
            "name": chemical.name,
            "key": chemical.key,
            "cas": chemical.cas or None,
            "un": list(chemical.un),
            "formula": chemical.formula,
            "form": chemical.form,
            "concentration": chemical.strength_percent,
            "match": plan.match.how,
            "note": chemical.note,
        },
        "scene": {
            "form": state.form,
            "air_temperature_c": rounded(state.air_temperature_c),
            "product_temperature_c": rounded(state.product_temperature_c),
            "film_temperature_c": rounded(state.film_temperature_c),
            "wind_m_s": rounded(state.wind_m_s),
            "assumptions": list(plan.assumptions),
        },
        "properties": {row.id: _row_dict(row) for row in rows_of(plan, found)},
        "stated": [stated_dict(entry) for entry in plan.stated],
        "cautions": [e.caution for e in plan.stated if e.caution],
        "defer": DEFER,
        "versions": dict(plan.versions),
    }


def properties_json(plan: Plan, found: Findings | None = None) -> str:
    """Return the table as indented JSON, ending in a newline."""
    shape = properties_dict(plan, found)
    return json.dumps(shape, indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def schema_path() -> Path:
    """Return the path of the JSON Schema of version 1."""
    return Path(__file__).resolve().parent.parent / "schema" / "properties-v1.json"
