"""``recommender properties`` and ``--set``: what a technician types, and what comes back."""

from __future__ import annotations

import json
import math
import subprocess
import sys
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from click.testing import CliRunner, Result
from hypothesis import given, settings
from hypothesis import strategies as st

from recommender.chemicals.table import Chemical, load_chemicals
from recommender.cli import main
from recommender.facts import Number
from recommender.limits import Limits, load_limits
from recommender.properties.property_rows import property_rows, solubility_words
from recommender.properties.stated import parse_stated
from recommender.recommend import DEFER, recommend
from recommender.render.as_json import plan_to_dict
from recommender.render.as_json import schema_path as plan_schema_path
from recommender.render.properties import properties_dict, properties_text, rows_of, schema_path
from recommender.scene import Scene
from recommender.sources import load_sources

ROOT = Path(__file__).resolve().parent.parent
ROWS = tuple(load_chemicals().values())
SCHEMA = json.loads(schema_path().read_text(encoding="utf-8"))
STATED = ("VP=0.5 mmHg @ 68 F", "solubility=1-5 g/L", "flash point<-20 C", "skin notation=no")


def run(*words: str) -> Result:
    return CliRunner().invoke(main, list(words))


def table_of(*words: str) -> dict[str, Any]:
    result = run("properties", *words, "--json")
    assert result.exit_code == 0, result.output
    shape = json.loads(result.stdout)
    jsonschema.validate(shape, SCHEMA)
    return shape  # type: ignore[no-any-return]


# --- the table ----------------------------------------------------------------------------------


@pytest.mark.parametrize("chemical", ROWS, ids=lambda c: c.key)
def test_every_row_fits_eighty_columns_and_has_the_documented_shape(chemical: Chemical) -> None:
    plain = recommend(chemical)
    stated = recommend(chemical, stated=[parse_stated(text) for text in STATED])
    for plan in (plain, stated):
        for units in ("us", "si"):
            text = properties_text(plan, units)  # type: ignore[arg-type]
            assert max(len(line) for line in text.splitlines()) <= 80
            assert " ".join(text.split()).endswith(DEFER)
        jsonschema.validate(properties_dict(plan), SCHEMA)
        json.dumps(properties_dict(plan), allow_nan=False)


@pytest.mark.parametrize("width", [40, 60])
def test_a_narrow_screen_is_not_overrun(width: int) -> None:
    text = properties_text(recommend("toluene"), width=width)
    assert max(len(line) for line in text.splitlines()) <= width


def test_the_schema_is_one_and_asks_for_every_property_of_the_brief() -> None:
    jsonschema.Draft202012Validator.check_schema(SCHEMA)
    assert set(SCHEMA["properties"]["properties"]["required"]) <= set(
        table_of("toluene")["properties"]
    )


def test_every_row_names_a_source_that_is_held() -> None:
    for chemical in ROWS[::7]:
        for row in rows_of(recommend(chemical)):
            assert row.origin.source in load_sources(), (chemical.key, row.id)
            for other in row.passed_over:
                assert other.source in load_sources(), (chemical.key, row.id)


def test_the_numbers_follow_from_each_other() -> None:
    """Ideal gas: mg/m3 = ppm x molar mass / 24.055 at 20 C (R 8.314462618, 101325 Pa)."""
    rows = table_of("toluene", "--air-temp", "68F")["properties"]
    pascal, ppm = rows["vapor_pressure"]["value"], rows["saturation"]["value"]
    assert math.isclose(ppm, pascal / 101325 * 1e6, rel_tol=1e-5)
    assert math.isclose(
        rows["volatility"]["value"], ppm * 92.14 / (8.314462618 * 293.15 / 101.325), rel_tol=1e-3
    )
    assert math.isclose(rows["vapor_pressure"]["also"][0]["value"], pascal / 133.3224, rel_tol=1e-5)
    relative = 1 + ppm / 1e6 * (92.14 / 28.97 - 1)
    assert math.isclose(rows["saturated_air_density"]["value"], relative, rel_tol=1e-3)
    assert math.isclose(
        rows["vapor_hazard_ratio"]["value"], ppm / rows["idlh"]["value"], rel_tol=1e-4
    )


def test_toluene_against_published_figures() -> None:
    """NIOSH Pocket Guide: 92.1, 232 F, 40 F, 8.82 eV, 1.1 %, 500 ppm; 21 mmHg at 20 C."""
    rows = table_of("toluene", "--air-temp", "20C")["properties"]
    assert math.isclose(rows["molar_mass"]["value"], 92.1, abs_tol=0.1)
    assert math.isclose(rows["boiling_point"]["value"], (232 - 32) / 1.8, abs_tol=1)
    assert math.isclose(rows["flash_point"]["value"], (40 - 32) / 1.8, abs_tol=0.5)
    assert rows["ionization_energy"]["value"] == 8.82
    assert rows["lower_flammable_limit"]["value"] == 1.1
    assert rows["idlh"]["value"] == 500
    assert math.isclose(rows["vapor_pressure"]["also"][0]["value"], 21, rel_tol=0.05)


def test_thicker_films_stay_longer() -> None:
    rows = table_of("toluene")["properties"]
    names = ("film_time_drained", "film_residence", "film_time_puddle")
    for end in ("low", "value", "high"):
        times = [rows[name][end] for name in names]
        assert times == sorted(times) and len(set(times)) == 3
    plan = recommend("toluene")
    residence = plan.facts["film_residence"]
    assert isinstance(residence, Number)
    assert math.isclose(rows["film_residence"]["high"], residence.high or 0, rel_tol=1e-5)


def test_the_scene_is_that_of_the_plan() -> None:
    shape = table_of(
        "phenol", "--form", "solid", "--air-temp", "50F", "--product-temp", "60F", "--units", "si"
    )
    assert shape["scene"]["air_temperature_c"] == 10
    assert math.isclose(shape["scene"]["product_temperature_c"], 15.5556, abs_tol=1e-3)
    strong = table_of("hydrochloric acid", "--concentration", "20%")
    assert strong["chemical"]["concentration"] is not None


def test_a_gas_that_boils_has_no_film_and_says_so() -> None:
    assert any("no film" in r for r in table_of("chlorine")["properties"]["state"]["remarks"])


def test_what_is_not_known_says_what_it_needs() -> None:
    rows = table_of("quicklime")["properties"]
    assert rows["vapor_pressure"]["value"] is None
    assert rows["volatility"]["remarks"] == ["needs vapor pressure"]
    assert "not known" in run("properties", "quicklime").stdout


def test_values_far_apart_are_called_so() -> None:
    plan = recommend("toluene", stated=[parse_stated("VP=1 mmHg @ 68 F")])
    text = properties_text(plan)
    assert "passed over:" in text and "DISAGREES" in text
    near = properties_text(recommend("toluene", stated=[parse_stated("VP=20 mmHg @ 68 F")]))
    assert "DISAGREES" not in near and "passed over:" in near


@pytest.mark.parametrize(
    ("value", "words"),
    [
        (0.0999, "hardly soluble"),
        (0.1, "sparingly soluble"),
        (9.99, "sparingly soluble"),
        (10.0, "soluble"),
        (99.9, "soluble"),
        (100.0, "freely soluble"),
        (999.0, "freely soluble"),
        (1000.0, "miscible"),
        (None, ""),
    ],
)
def test_solubility_in_words(value: float | None, words: str) -> None:
    assert solubility_words(value, Limits(load_limits())) == words


def test_rows_can_be_made_without_a_plan() -> None:
    plan = recommend("toluene", Scene(air_temperature_c=0.0))
    assert plan.data is not None
    rows = property_rows(plan.chemical, plan.data, plan.known, Limits(plan.limits))
    assert [row.id for row in rows] == [row.id for row in rows_of(plan)]


def test_local_limits_are_those_of_the_plan(tmp_path: Path) -> None:
    policy = tmp_path / "policy.toml"
    head = 'department = "Invented Valley"\ndate = 2026-11-25\n'
    policy.write_text(f'{head}[limits]\n"persistence.film" = "0.2 mm"\n')
    rows = table_of("toluene", "--policy", str(policy))["properties"]
    assert rows["film_residence"]["words"] == "0.2 mm"
    assert run("properties", "toluene", "--policy", str(tmp_path / "none")).exit_code == 2


# --- what a technician types --------------------------------------------------------------------


def test_a_stated_value_is_in_the_table_and_in_the_json() -> None:
    shape = table_of("toluene", "--set", "VP=0.5 mmHg @ 68 F", "--set", "skin notation=yes")
    row = shape["properties"]["vapor_pressure"]
    assert (row["basis"], row["source"]) == ("stated", "stated")
    assert row["passed_over"] and row["disagreements"]
    first, second = shape["stated"]
    assert first["is_far"] and first["typed"] == "0.5 mmHg @ 68 F" and "CHECK" in first["warning"]
    assert second["value"] == "yes"
    assert shape["properties"]["skin_notation"]["value"] == "yes"


def test_set_works_on_plan_and_its_json_keeps_to_the_schema() -> None:
    result = run("plan", "toluene", "--set", "VP=0.5 mmHg @ 68 F", "--json")
    shape = json.loads(result.stdout)
    jsonschema.validate(shape, json.loads(plan_schema_path().read_text(encoding="utf-8")))
    assert shape["stated"][0]["fact"] == "vapor_pressure"
    assert shape["properties"]["vapor_pressure"]["basis"] == "stated"
    assert any("CHECK" in words for words in shape["scene"]["assumptions"])
    assert plan_to_dict(recommend("toluene"))["stated"] == []


def test_a_hazard_stated_away_stands_first_under_cautions() -> None:
    text = run("plan", "sulfuric acid", "--set", "heats with water=no").stdout
    after = text.split("CAUTIONS")[1]
    assert after.split("\n")[0].strip().startswith("- Stated value overrides")
    shape = table_of("sulfuric acid", "--set", "corrosive=no")
    assert len(shape["cautions"]) == 1
    assert "CAUTIONS" in run("properties", "sulfuric acid", "--set", "corrosive=no").stdout


def test_the_notes_of_a_stated_value_are_printed_in_the_plan() -> None:
    text = " ".join(run("plan", "toluene", "--set", "VP=0.5 mmHg @ 68 F").stdout.split())
    assert "Stated: vapor pressure 0.5 mmHg @ 68 F" in text and "CHECK the vapor pressure" in text


def test_set_works_for_an_unknown_product() -> None:
    result = run("plan", "--unknown", "--set", "acid=yes", "--set", "VP=10 mmHg", "--json")
    assert result.exit_code == 0, result.output
    assert len(json.loads(result.stdout)["stated"]) == 2


@pytest.mark.parametrize("command", ["plan", "properties"])
@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("vapr presure=1 mmHg", "vapor pressure"),
        ("VP=5", "no unit"),
        ("VP", "NAME=VALUE"),
        ("skin notation=perhaps", "yes, no or unknown"),
        ("", "NAME=VALUE"),
    ],
)
def test_what_cannot_be_used_ends_with_two_and_no_traceback(
    command: str, text: str, said: str
) -> None:
    result = run(command, "toluene", "--set", text)
    assert result.exit_code == 2
    assert result.stdout == ""
    assert result.stderr.startswith("Error: ") and said in result.stderr
    assert "Traceback" not in result.stderr


@pytest.mark.parametrize(
    "words",
    [
        ("properties",),
        ("properties", "no such chemical at all"),
        ("properties", "toluene", "--air-temp", "75"),
        ("properties", "toluene", "--air-temp", "75X"),
        ("properties", "toluene", "--form", "solid", "--air-temp", "20C"),
        ("properties", "toluene", "--set", "VP=1 Pa", "--set", "VP=2 Pa"),
        ("properties", "toluene", "--set", "IDLH=1e-20 mg/m3"),
    ],
)
def test_bad_input_ends_with_two(words: tuple[str, ...]) -> None:
    if words[-1] == "75":
        assert run(*words).exit_code == 0  # bare, in the units chosen
        return
    result = run(*words)
    assert result.exit_code == 2 and "Traceback" not in result.stderr


@settings(max_examples=60, deadline=None, derandomize=True, database=None)
@given(st.lists(st.text(max_size=25), min_size=1, max_size=3))
def test_any_statement_ends_with_zero_or_two(texts: list[str]) -> None:
    words = [word for text in texts for word in ("--set", text.replace("\0", ""))]
    assert run("properties", "toluene", *words).exit_code in (0, 2)


def test_help_shows_what_can_be_typed() -> None:
    for command in ("plan", "properties"):
        text = run(command, "--help").stdout
        assert "--set NAME=VALUE" in text and "Repeatable" in text


def test_a_stated_vapor_pressure_loads_nothing_slow() -> None:
    program = (
        "import sys, recommender.cli\n"
        "recommender.cli.main(['properties', 'acetone', '--set', 'VP=100 mmHg @ 20 C'], "
        "standalone_mode=False)\n"
        "print([n for n in ('pint', 'rapidfuzz', 'pandas', 'numpy') if n in sys.modules])\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", program], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    assert done.stdout.splitlines()[-1] == "[]"
