"""A stated value leads for a chemical of the local store as for a curated one."""

from __future__ import annotations

import json
from pathlib import Path

import jsonschema
import pytest
from click.testing import CliRunner

from recommender.chemicals.table import Chemical, CuratedData
from recommender.cli import main
from recommender.commands_properties import store_findings
from recommender.facts import Number
from recommender.library.load import load_entry
from recommender.library.store import Store
from recommender.properties.stated import parse_stated
from recommender.recommend import Plan, recommend
from recommender.render.properties import properties_dict, properties_text, schema_path
from recommender.scene import Scene

HEPTANE, BUTYL_ALCOHOL, TRIPHENYL_PHOSPHATE = "142-82-5", "123-51-3", "115-86-6"
STATED = ("VP=0.5 mmHg @ 68 F", "solubility=1-5 g/L", "flash point=90 F", "skin notation=yes")


def held(store: Store, cas: str) -> tuple[Chemical, CuratedData]:
    entry = load_entry(store, cas)
    assert entry is not None
    return entry.chemical, entry.data


def pressure(plan: Plan) -> Number:
    number = plan.facts["vapor_pressure"]
    assert isinstance(number, Number)
    return number


@pytest.mark.parametrize("cas", [HEPTANE, BUTYL_ALCOHOL, TRIPHENYL_PHOSPHATE])
def test_a_stated_value_leads_and_does_not_leak(store: Store, cas: str) -> None:
    chemical, data = held(store, cas)
    before = recommend(chemical, data=data)
    plan = recommend(chemical, data=data, stated=[parse_stated(text) for text in STATED])
    assert pressure(plan).mid == pytest.approx(0.5 * 133.3224, rel=1e-5)
    assert pressure(plan).origin.basis == "stated"
    if pressure(before).is_known:
        assert pressure(before).mid in [p.value for p in pressure(plan).passed_over]
    assert recommend(chemical, data=data) == before
    assert recommend(chemical, data=held(store, cas)[1]) == before


@pytest.mark.parametrize("cas", [HEPTANE, BUTYL_ALCOHOL])
@pytest.mark.parametrize("air_c", [-20.0, 5.0, 20.0, 38.0])
def test_a_stated_vapor_pressure_below_what_is_held_never_shortens_the_persistence(
    store: Store, cas: str, air_c: float
) -> None:
    chemical, data = held(store, cas)
    scene = Scene(air_temperature_c=air_c)
    before = recommend(chemical, scene, data=data)
    at_20 = pressure(recommend(chemical, Scene(air_temperature_c=20.0), data=data)).mid
    assert at_20 is not None
    for share in (1.0, 0.9, 0.1):
        stated = [parse_stated(f"VP={at_20 * share!r} Pa @ 20 C")]
        after = recommend(chemical, scene, data=data, stated=stated)
        assert after.outcomes.persistence.grade >= before.outcomes.persistence.grade
        old, new = (p.outcomes.persistence.residence.high for p in (before, after))
        assert old is not None and new is not None and new >= old * (1 - 1e-9)


@pytest.mark.parametrize("cas", [HEPTANE, TRIPHENYL_PHOSPHATE, "7647-14-5", "74-82-8", "7440-02-0"])
def test_the_table_of_a_chemical_of_the_store_fits_and_has_its_shape(
    store: Store, store_path: Path, cas: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("RECOMMENDER_STORE", str(store_path))
    chemical, data = held(store, cas)
    plan = recommend(chemical, data=data)
    found = store_findings(chemical)
    assert found is not None
    assert max(len(line) for line in properties_text(plan, found=found).splitlines()) <= 80
    shape = properties_dict(plan, found)
    jsonschema.validate(shape, json.loads(schema_path().read_text(encoding="utf-8")))
    for name, reason in found.reasons.items():
        row = shape["properties"][name]
        assert row["value"] is not None or reason in row["remarks"]
    for name, said in found.disagreements.items():
        if name in shape["properties"]:
            assert set(said) <= set(shape["properties"][name]["disagreements"])


def test_the_command_finds_a_chemical_of_the_store(store: Store, store_path: Path) -> None:
    words = ["properties", HEPTANE, "--store", str(store_path), "--set", "VP=30 mmHg @ 68 F"]
    result = CliRunner().invoke(main, [*words, "--json"])
    assert result.exit_code == 0, result.output
    shape = json.loads(result.stdout)
    assert shape["chemical"]["cas"] == HEPTANE
    assert shape["properties"]["vapor_pressure"]["basis"] == "stated"


def test_the_command_says_what_the_store_is_missing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("RECOMMENDER_STORE", str(tmp_path))
    result = CliRunner().invoke(main, ["properties", "tetradecyl nonsense"])
    assert result.exit_code == 2
    assert result.stderr.startswith("Error: No chemical is held")
