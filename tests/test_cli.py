"""The command line: what a person types, what comes back, and how it ends.

Wording is asserted only where it is a promise (sections, exit status, defer line). Numbers are
asserted at the function layer, not here.
"""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
from contextlib import suppress
from functools import cache
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from click.testing import CliRunner, Result

from recommender.chemicals.lookup import find
from recommender.chemicals.table import FORMS, Chemical, load_chemicals
from recommender.cli import main
from recommender.data_files import read_table
from recommender.effects import Emphasis, Method
from recommender.errors import SceneError
from recommender.facts import Facts
from recommender.limits import load_limits
from recommender.recommend import ALWAYS, DEFER, Plan, recommend
from recommender.render.as_json import schema_path
from recommender.render.text import plan_text
from recommender.render.words import release_text
from recommender.rules import ALL_RULES
from recommender.scene import CONTACTS, SUITS, TECHNICIANS, Scene
from recommender.sources import load_sources

ROOT = Path(__file__).resolve().parent.parent
KEYS = tuple(load_chemicals())
WIDTH = 80
MOST_LINES = 60
SECTIONS = (
    "STATIONS",
    "METHOD",
    "SOLUTION",
    "GROSS DECON",
    "PERSISTENCE",
    "DO NOT USE",
    "CAUTIONS",
    "NOT KNOWN",
    "CHECK",
    "ALWAYS",
    "DEFER",
)
ESCAPE = "\x1b"


def run(*words: str) -> Result:
    """Run one command in this process."""
    return CliRunner().invoke(main, list(words))


def plan_of(*words: str) -> dict[str, Any]:
    """Return the JSON plan of a command that has to succeed."""
    result = run("plan", *words, "--json")
    assert result.exit_code == 0, result.output
    return json.loads(result.stdout)  # type: ignore[no-any-return]


def run_process(
    *words: str, env: dict[str, str] | None = None, cwd: Path | None = None
) -> subprocess.CompletedProcess[bytes]:
    """Run one command in a process of its own, with nothing of a terminal about it."""
    return subprocess.run(
        [sys.executable, "-m", "recommender", *words],
        capture_output=True,
        env={**os.environ, **(env or {})},
        cwd=cwd or ROOT,
        check=False,
        timeout=60,
    )


def sections_of(text: str) -> list[str]:
    """Return the labels down the left side, in the order in which they stand."""
    found = []
    for line in text.splitlines()[2:]:
        label = line[:11].strip()
        if label and re.fullmatch(r"[A-Z][A-Z ]+", label):
            found.append(label)
    return found


def section(text: str, label: str) -> str:
    """Return the words of one section, unwrapped."""
    inside, words = False, []
    for line in text.splitlines()[2:]:
        if line[:11].strip():
            inside = line[:11].strip() == label
        if inside:
            words.append(line[11:].strip())
    return " ".join(words)


def bullets(text: str, label: str) -> list[str]:
    """Return the items of one section of a plan."""
    inside, items = False, []
    for line in text.splitlines()[2:]:
        if line[:11].strip():
            inside = line[:11].strip() == label
        if inside and line[11:].strip().startswith("- "):
            items.append(line[11:].strip()[2:])
        elif inside and items and line.strip():
            items[-1] += " " + line[11:].strip()
    return items


@cache
def validator() -> jsonschema.Draft202012Validator:
    """Return a checker for the packaged schema."""
    schema = json.loads(schema_path().read_text(encoding="utf-8"))
    jsonschema.Draft202012Validator.check_schema(schema)
    return jsonschema.Draft202012Validator(schema)


# --- every curated chemical --------------------------------------------------------------------


@pytest.mark.parametrize("key", KEYS)
def test_every_answer_fits_a_terminal_and_has_its_sections_in_order(key: str) -> None:
    for contact in CONTACTS:
        text = plan_text(recommend(load_chemicals()[key], Scene(contact=contact)))
        lines = text.splitlines()
        assert max(map(len, lines)) <= WIDTH, (contact, max(lines, key=len))
        assert len(lines) <= MOST_LINES, (contact, len(lines))
        known = [label for label in sections_of(text) if label in SECTIONS]
        expected = [s for s in SECTIONS if s in known]
        assert known == expected, contact
        assert set(SECTIONS) - set(known) <= {"CAUTIONS", "DO NOT USE"}, contact
        assert all(section(text, label).strip() for label in known), contact
        assert section(text, "DEFER") == DEFER
        assert section(text, "ALWAYS") == " ".join(ALWAYS)
        cautions = [b for b in bullets(text, "CAUTIONS") if "--why" not in b]
        assert len(cautions) <= 5, contact


@pytest.mark.parametrize("key", KEYS)
def test_every_json_plan_holds_to_the_packaged_schema(key: str) -> None:
    name = load_chemicals()[key].name
    for contact in CONTACTS:
        result = run("plan", name, "--contact", contact, "--json")
        assert result.exit_code == 0, result.output
        plan = json.loads(result.stdout)
        problems = sorted(validator().iter_errors(plan), key=str)
        assert not problems, problems[0].message
        assert plan["chemical"]["name"] == name


@pytest.mark.parametrize("contact", CONTACTS)
def test_the_unknown_product_holds_to_the_schema_and_the_page_in_every_form(contact: str) -> None:
    for form in FORMS:
        words = ("--unknown", "--form", form, "--contact", contact)
        assert not list(validator().iter_errors(plan_of(*words)))
        lines = run("plan", *words).output.splitlines()
        assert len(lines) <= MOST_LINES
        assert max(map(len, lines)) <= WIDTH


@pytest.mark.parametrize("key", KEYS)
def test_the_trace_in_text_names_every_rule_of_the_trace_in_json(key: str) -> None:
    name = load_chemicals()[key].name
    text = run("plan", name, "--why").output
    plan = plan_of(name)
    in_json = {step["rule"] for step in plan["trace"]}
    in_text = set(re.findall(r"\b[A-Z]{3,5}-\d{3}\b", text))
    assert in_json == {r.id for r in ALL_RULES}
    assert in_json <= in_text, sorted(in_json - in_text)
    assert max(map(len, text.splitlines())) <= WIDTH


@pytest.mark.parametrize("key", KEYS)
def test_no_caution_is_lost_between_the_card_and_the_trace(key: str) -> None:
    name = load_chemicals()[key].name
    text = " ".join(run("plan", name, "--contact", "gross", "--why").output.split())
    for caution in plan_of(name, "--contact", "gross")["cautions"]:
        assert caution["text"] in text


def test_a_hidden_caution_is_announced() -> None:
    plan = plan_of("hydrazine", "--contact", "gross", "--air-temp", "95F")
    assert len(plan["cautions"]) > 5
    shown = run("plan", "hydrazine", "--contact", "gross", "--air-temp", "95F").output
    more = len(plan["cautions"]) - 5
    assert f"{more} more with --why" in section(shown, "CAUTIONS")


# --- options -----------------------------------------------------------------------------------


def test_each_contact_each_suit_and_each_technician_is_taken_and_shown() -> None:
    for contact in CONTACTS:
        assert plan_of("toluene", "--contact", contact)["scene"]["contact"] == contact
    for suit in SUITS:
        assert plan_of("toluene", "--suit", suit)["scene"]["suit"] == suit
        assert f"suit {suit}" in run("plan", "toluene", "--suit", suit).output
    for technician in TECHNICIANS:
        assert plan_of("toluene", "--technician", technician)["scene"]["technician"] == technician


def test_a_stated_form_is_planned_for() -> None:
    assert plan_of("chlorine", "--form", "gas")["physical_state"] == "gas"
    assert plan_of("toluene", "--form", "aerosol")["physical_state"] == "aerosol"
    assert plan_of("nitrogen", "--form", "cryogenic")["physical_state"] == "cryogenic"


def test_flags_reach_the_scene() -> None:
    quiet, said = plan_of("toluene")["scene"], plan_of("toluene", "--airing-place")["scene"]
    assert (quiet["airing_place"], said["airing_place"]) == (False, True)
    failed = plan_of("toluene", "--failed-check")
    assert failed["scene"]["failed_check"] is True
    assert any(c["rule"] == "CAU-460" for c in failed["cautions"])


@pytest.mark.parametrize("name", ["benzene", "hydrazine", "acrylonitrile", "sarin", "parathion"])
def test_a_failed_check_is_on_the_card_and_not_behind_an_option(name: str) -> None:
    text = run("plan", name, "--failed-check", "--contact", "gross").output
    assert "check failed" in section(text, "CAUTIONS").casefold()


def test_temperatures_and_wind_are_read_with_their_units() -> None:
    plan = plan_of("toluene", "--air-temp", "77F", "--wind", "10 km/h", "--product-temp", "300 K")
    assert plan["scene"]["air_temperature_c"] == pytest.approx(25.0)
    assert plan["scene"]["wind_m_s"] == pytest.approx(10 / 3.6, rel=1e-5)
    assert plan["scene"]["product_temperature_c"] == pytest.approx(26.85)


def test_bare_numbers_are_read_in_the_units_chosen() -> None:
    us = plan_of("toluene", "--air-temp", "50", "--wind", "10")["scene"]
    si = plan_of("toluene", "--air-temp", "50", "--wind", "10", "--units", "si")["scene"]
    assert us["air_temperature_c"] == pytest.approx(10.0)
    assert si["air_temperature_c"] == pytest.approx(50.0)
    assert us["wind_m_s"] == pytest.approx(4.4704)
    assert si["wind_m_s"] == pytest.approx(10.0)


def test_the_units_chosen_are_the_units_printed() -> None:
    us = run("plan", "toluene", "--air-temp", "68F", "--wind", "10mph")
    si = run("plan", "toluene", "--air-temp", "68F", "--wind", "10mph", "--units", "si")
    assert "air 68 F, wind 10 mph" in us.output
    assert "air 20 C, wind 4.5 m/s" in si.output
    recipe = plan_of("toluene")["solution"]["recipe"]
    assert recipe["us"] in section(us.output, "SOLUTION")
    assert recipe["si"] in section(si.output, "SOLUTION")


def test_an_answer_in_si_units_holds_no_us_unit() -> None:
    text = run("plan", "toluene", "--units", "si", "--air-temp", "20C", "--wind", "2m/s").output
    assert not re.search(r"\b(gal|mph|fl oz|lb|ft|F)\b", text), text


def test_what_was_not_stated_is_said_to_be_assumed() -> None:
    text = run("plan", "toluene").output
    assumed = section(text, "ASSUMED")
    assert "20 C" in assumed
    assert "2 m/s" in assumed
    stated = run("plan", "toluene", "--air-temp", "20C", "--wind", "2m/s").output
    assert "assumed" not in stated.casefold()


def test_a_converted_temperature_is_not_printed_with_false_precision() -> None:
    text = run("plan", "phenol", "--product-temp", "150F", "--why").output
    assert "planned as molten" in " ".join(text.split())
    assert not re.search(r"\d\.\d{3,} C", text)


def test_a_standard_line_is_shown_only_while_no_technician_is_on_scene() -> None:
    alone = plan_of("acetone")
    decided = plan_of("acetone", "--technician", "on-scene")
    assert alone["stations"]["standard_line"]["applies"] is True
    assert decided["stations"]["standard_line"]["applies"] is False
    assert "standard line" in run("plan", "acetone").output
    assert "standard line" not in run("plan", "acetone", "--technician", "on-scene").output


def test_the_crew_can_man_the_line_that_is_to_be_set_up() -> None:
    """Where the standard line is longer than the estimate, that is the line to be manned."""
    positions = int(load_limits()["policy.standard_line"].value)
    base = int(load_limits()["crew.base"].value)
    each = int(load_limits()["crew.per_position_low"].value)
    plan = plan_of("acetone")
    assert plan["stations"]["standard_line"]["applies"] is True
    assert plan["crew"]["low"] >= base + positions * each


def test_a_position_that_is_credited_away_and_floored_is_explained() -> None:
    plan = plan_of("benzene", "--suit", "disposable")
    why = section(run("plan", "benzene", "--suit", "disposable").output, "STATIONS")
    total = sum(d["mid"] for d in plan["stations"]["drivers"])
    assert plan["stations"]["recommended"] == 1
    assert total == 1 or "never below" in why or "at least" in why


def test_asking_for_why_adds_to_the_answer_and_takes_nothing_away() -> None:
    short = run("plan", "toluene").output
    long = run("plan", "toluene", "--why").output
    assert long.startswith(short)
    assert len(long) > 3 * len(short)


def test_words_need_no_quotation_marks() -> None:
    assert run("plan", "hydrochloric", "acid").output == run("plan", "hydrochloric acid").output


# --- misses and misuse -------------------------------------------------------------------------


@pytest.mark.parametrize(
    "words",
    [
        (),
        ("acetone", "--unknown"),
        ("--form", "liquid"),
        ("   ",),
        ("acetone", "--contact", "bath"),
        ("acetone", "--form", "plasma"),
        ("acetone", "--suit", "level a"),
        ("acetone", "--technician", "maybe"),
        ("acetone", "--units", "metric"),
        ("acetone", "--air-temp", "hot"),
        ("acetone", "--air-temp", ""),
        ("acetone", "--air-temp", "75K"),
        ("acetone", "--air-temp", "159F"),
        ("acetone", "--air-temp", "5mph"),
        ("acetone", "--product-temp", "5000C"),
        ("acetone", "--wind", "-3mph"),
        ("acetone", "--wind", "135mph"),
        ("acetone", "--wind", "75F"),
        ("acetone", "--concentration", "101%"),
        ("acetone", "--concentration", "0.37"),
        ("acetone", "--concentration", "-1%"),
        ("acetone", "--form", "powder"),
        ("acetone", "--form", "molten"),
        ("acetone", "--form", "cryogenic"),
        ("sodium", "--form", "liquid"),
        ("--unknown", "--concentration", "20%"),
        ("acetone", "--no-such-option"),
    ],
)
def test_input_that_cannot_be_used_ends_with_status_2_and_says_why(words: tuple[str, ...]) -> None:
    result = run("plan", *words)
    assert result.exit_code == 2
    assert result.stdout == ""
    assert "Error" in result.stderr
    assert "Traceback" not in result.stderr


def test_an_unknown_name_lists_the_nearest_and_what_to_do_when_not_identified() -> None:
    result = run("plan", "asetone")
    assert result.exit_code == 2
    assert result.stdout == ""
    assert "asetone" in result.stderr
    assert "Acetone" in result.stderr
    assert "--unknown" in result.stderr


def test_an_unknown_number_lists_no_names_that_only_look_like_it() -> None:
    """Nearest names to a UN number share letters with it, not chemistry."""
    for number in ("UN9999", "UN 1993", "7732-18-5"):
        result = run("plan", number)
        assert result.exit_code == 2
        assert "  - " not in result.stderr, result.stderr
        assert "--unknown" in result.stderr


def test_a_cas_number_with_a_wrong_digit_says_so_and_guesses_nothing() -> None:
    result = run("plan", "67-64-2")
    assert result.exit_code == 2
    assert "67-64-2" in result.stderr
    assert "digit" in result.stderr
    assert "Acetone" not in result.stderr


def shared_numbers() -> dict[str, set[str]]:
    """Return each UN and CAS number that stands for more than one identity, with its row names."""
    found: dict[str, list[Chemical]] = {}
    for chemical in load_chemicals().values():
        for number in chemical.un:
            found.setdefault(f"UN {number}", []).append(chemical)
        if chemical.cas:
            found.setdefault(chemical.cas, []).append(chemical)
    return {
        number: {c.name for c in rows}
        for number, rows in found.items()
        if len({c.identity for c in rows}) > 1
    }


GROUP_NUMBERS = {f"UN {row['un']}" for row in read_table("un_group_entries.csv")}
SHARED = shared_numbers()
AMBIGUOUS = sorted(set(SHARED) - GROUP_NUMBERS)


def test_hydrochloric_acid_and_hydrogen_chloride_share_a_number_on_purpose() -> None:
    """CAS 7647-01-0 is on the label of the acid and of the gas: two very different plans."""
    assert {"7647-01-0", "7664-39-3"} <= set(AMBIGUOUS)
    assert SHARED["7647-01-0"] == {"Hydrochloric acid 37 %", "Hydrogen chloride, anhydrous"}


@pytest.mark.parametrize("typed", AMBIGUOUS)
def test_an_ambiguous_number_is_refused_with_its_candidates_and_how_to_choose(typed: str) -> None:
    result = run("plan", typed)
    assert result.exit_code == 2
    assert result.stdout == ""
    for name in SHARED[typed]:
        assert name in result.stderr
        assert run("plan", name).exit_code == 0
    assert "full name" in result.stderr
    assert "--form" in result.stderr


@pytest.mark.parametrize("typed", sorted(GROUP_NUMBERS))
def test_a_number_that_names_no_product_is_refused_as_a_group_entry(typed: str) -> None:
    """UN 2810 is 'toxic liquid, organic, n.o.s.': sarin travels under it, and so does much else."""
    for words in ((typed,), (typed, "--form", "liquid"), (typed.replace(" ", ""),)):
        result = run("plan", *words)
        assert result.exit_code == 2
        assert result.stdout == ""
        assert "group entry" in result.stderr
        assert "unknown" in result.stderr
    for name in SHARED.get(typed, ()):
        assert name in result.stderr


def test_stating_the_form_settles_what_the_form_can_settle() -> None:
    assert plan_of("7647-01-0", "--form", "gas")["chemical"]["key"] == "hydrogen-chloride-gas"
    assert plan_of("7647-01-0", "--form", "solution")["chemical"]["key"] == "hydrochloric-acid-37"
    assert run("plan", "7647-01-0", "--form", "powder").exit_code == 2


def test_every_name_offered_after_a_miss_can_be_planned() -> None:
    for typed in ("asetone", "hydroflouric", "amonia gas", "mustrd", "clorine"):
        listed = re.findall(r"^ +- (.+)$", run("plan", typed).stderr, re.MULTILINE)
        assert listed, typed
        for name in listed:
            assert run("plan", name).exit_code == 0, name


def test_two_strengths_that_disagree_are_not_settled_silently() -> None:
    result = run("plan", "hydrochloric acid 37%", "--concentration", "20%")
    said = result.stderr + section(result.stdout, "ASSUMED")
    assert result.exit_code == 2 or "20" in said


def test_a_strength_above_any_held_is_said_on_the_card() -> None:
    for name in ("hydrofluoric acid", "hydrogen peroxide", "formic acid"):
        text = run("plan", name, "--concentration", "95%").output
        assert "stronger" in section(text, "CAUTIONS").casefold()


# --- other commands ----------------------------------------------------------------------------


def test_find_says_how_and_lists_the_other_rows() -> None:
    result = run("find", "muriatic")
    assert result.exit_code == 0
    assert "Hydrochloric acid 37 %" in result.output
    assert "muriatic is taken as" in " ".join(result.output.split())
    other = " ".join(run("find", "hydrogen", "peroxide").output.split())
    rows = [c for c in load_chemicals().values() if c.identity == "hydrogen-peroxide"]
    assert len(rows) > 1
    assert all(row.name in other for row in rows)


def test_find_prints_json_for_hits_misses_and_ambiguous_numbers() -> None:
    hit = json.loads(run("find", "battery acid", "--json").stdout)
    assert hit["rows"][0]["key"] == "sulfuric-acid-35"
    assert {row["key"] for row in hit["rows"]} == {"sulfuric-acid-35", "sulfuric-acid-98"}
    miss = run("find", "asetone", "--json")
    assert miss.exit_code == 2
    assert "acetone" in [near["key"] for near in json.loads(miss.stdout)["nearest"]]
    several = run("find", "7647-01-0", "--json")
    assert several.exit_code == 2
    found = {c["key"] for c in json.loads(several.stdout)["candidates"]}
    assert found == {"hydrochloric-acid-37", "hydrogen-chloride-gas"}


@pytest.mark.parametrize("words", [("find",), ("find", "67-64-2"), ("find", "asetone")])
def test_find_ends_with_status_2_when_nothing_is_found(words: tuple[str, ...]) -> None:
    result = run(*words)
    assert result.exit_code == 2
    assert result.stdout == ""


def test_every_rule_can_be_listed_and_shown() -> None:
    listing = run("rules")
    assert listing.exit_code == 0
    for a_rule in ALL_RULES:
        assert a_rule.id in listing.output
    shown = run("rules", "stn-050")
    assert shown.exit_code == 0
    assert "STN-050" in shown.output
    assert "Source:" in shown.output


def test_every_source_can_be_listed_and_shown() -> None:
    listing = run("sources")
    assert listing.exit_code == 0
    for name in load_sources():
        assert name in listing.output
        assert run("sources", name).exit_code == 0
    assert "STN-030" in run("sources", "doe-em-5503").output


@pytest.mark.parametrize(("command", "near"), [("rules", "STN-050"), ("sources", "judgement")])
def test_an_unknown_rule_or_source_is_refused_with_the_nearest(command: str, near: str) -> None:
    result = run(command, near.replace("0", "O").replace("e", "c"))
    assert result.exit_code == 2
    assert near in result.stderr


@pytest.mark.parametrize("words", [("rules",), ("sources",), ("rules", "STN-050")])
def test_reference_texts_fit_a_terminal(words: tuple[str, ...]) -> None:
    assert max(map(len, run(*words).output.splitlines())) <= WIDTH


def test_help_and_version_answer() -> None:
    for words in (("--help",), ("-h",), ("plan", "-h"), ("find", "--help"), ("rules", "-h")):
        result = run(*words)
        assert result.exit_code == 0
        assert "Usage" in result.output
    version = run("--version")
    assert version.exit_code == 0
    assert re.search(r"\d+\.\d+", version.output)


def test_every_example_in_the_help_text_works() -> None:
    help_text = run("plan", "--help").output
    examples = re.findall(r"^ +recommender (plan .+)$", help_text, re.MULTILINE)
    assert len(examples) >= 3
    for example in examples:
        words = [w.strip('"') for w in re.findall(r'"[^"]+"|\S+', example)]
        assert run(*words).exit_code == 0, example


# --- documentation -----------------------------------------------------------------------------


def documents() -> str:
    """Return the readme and the contributors' guide."""
    return "\n".join((ROOT / n).read_text(encoding="utf-8") for n in ("README.md", "DEVELOPERS.md"))


def test_every_command_is_documented() -> None:
    text = documents()
    for name in main.commands:
        assert f"recommender {name}" in text, name


def test_every_option_of_plan_is_documented() -> None:
    text = documents()
    for parameter in main.commands["plan"].params:
        for option in parameter.opts:
            if option.startswith("--") and option != "--help":
                assert option in text, option


def test_every_command_in_the_readme_works() -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    lines = re.findall(r"^recommender ([^#\n]+)", readme, re.MULTILINE)
    assert len(lines) >= 5
    for line in lines:
        words = [w.strip('"') for w in re.findall(r'"[^"]+"|\S+', line)]
        assert run(*words).exit_code == 0, line


def test_no_placeholder_is_left_in_a_document() -> None:
    assert not re.search(r"@@|\bTODO\b|\bFIXME\b|\bTBD\b|\bXXX\b", documents())


# --- terminals, pipes, encodings, processes ----------------------------------------------------


@pytest.mark.parametrize(
    ("words", "status"),
    [
        (("plan", "acetone"), 0),
        (("plan", "asetone"), 2),
        (("plan", "67-64-2"), 2),
        (("plan", "7647-01-0"), 2),
        (("plan", "acetone", "--air-temp", "hot"), 2),
        (("plan",), 2),
        (("find", "bleach"), 0),
        (("rules", "NOPE-1"), 2),
        (("no-such-command",), 2),
    ],
)
def test_a_process_ends_with_the_promised_status(words: tuple[str, ...], status: int) -> None:
    done = run_process(*words)
    assert done.returncode == status
    assert b"Traceback" not in done.stderr
    assert bool(done.stdout) == (status == 0)


def test_damaged_tables_end_with_status_1_and_name_the_table(tmp_path: Path) -> None:
    ignore = shutil.ignore_patterns("__pycache__")
    shutil.copytree(ROOT / "recommender", tmp_path / "recommender", ignore=ignore)
    shutil.copytree(ROOT / "data", tmp_path / "data")
    limits = tmp_path / "data" / "limits.csv"
    limits.write_text(limits.read_text(encoding="utf-8") + "only,three,cells\n", encoding="utf-8")
    done = run_process("plan", "acetone", cwd=tmp_path)
    assert done.returncode == 1
    assert b"limits.csv" in done.stderr
    assert b"Traceback" not in done.stderr
    assert done.stdout == b""


def test_without_a_terminal_the_text_is_plain() -> None:
    for words in (("plan", "acetone", "--why"), ("rules",), ("sources",), ("find", "bleach")):
        assert ESCAPE.encode() not in run_process(*words).stdout


def test_styling_changes_the_looks_and_not_the_words() -> None:
    plan = recommend("acetone")
    styled = plan_text(plan, styled=True)
    assert ESCAPE in styled
    assert re.sub(r"\x1b\[[0-9;]*m", "", styled) == plan_text(plan)


def test_a_reader_that_stops_early_sees_its_line_and_no_traceback() -> None:
    command = f'"{sys.executable}" -m recommender plan acetone --why | head -1'
    done = subprocess.run(
        ["/bin/sh", "-c", command], capture_output=True, cwd=ROOT, check=False, timeout=60
    )
    assert done.stdout.startswith(b"Acetone")
    assert done.stdout.count(b"\n") == 1
    assert done.stderr == b""


@pytest.mark.parametrize("words", [("plan", "acetone", "--why"), ("plan", "acetone", "--json")])
def test_a_pipe_that_is_closed_before_the_first_line_gives_no_traceback(
    words: tuple[str, ...],
) -> None:
    read, write = os.pipe()
    os.close(read)
    try:
        done = subprocess.run(
            [sys.executable, "-m", "recommender", *words],
            stdout=write,
            stderr=subprocess.PIPE,
            cwd=ROOT,
            check=False,
            timeout=60,
        )
    finally:
        os.close(write)
    assert b"Traceback" not in done.stderr
    assert b"Exception" not in done.stderr


@pytest.mark.parametrize(
    "env",
    [
        {"PYTHONIOENCODING": "ascii"},
        {"PYTHONIOENCODING": "latin-1"},
        {"LANG": "C", "LC_ALL": "C"},
    ],
)
@pytest.mark.parametrize("typed", ["acetone", "γ-BHC", "toluène", "no such γ"])
def test_an_old_terminal_gets_the_same_answer(env: dict[str, str], typed: str) -> None:
    for words in (("plan", typed), ("plan", typed, "--json"), ("find", typed)):
        done = run_process(*words, env=env)
        assert done.returncode == (2 if "no such" in typed else 0), done.stderr
        assert b"Traceback" not in done.stderr


def test_a_terminal_without_any_encoding_gets_an_answer_or_a_refusal() -> None:
    """Python's own fall-backs switched off: letters beyond ASCII may not arrive as typed."""
    env = {"LANG": "C", "LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"}
    assert run_process("plan", "acetone", env=env).returncode == 0
    for typed in ("γ-BHC", "toluène"):
        for words in (("plan", typed), ("plan", typed, "--json"), ("find", typed)):
            done = run_process(*words, env=env)
            assert done.returncode in (0, 2)
            assert b"Traceback" not in done.stderr


def test_bytes_that_are_no_text_are_survived() -> None:
    """A name pasted from a file in another encoding: the answer stays readable JSON."""
    for typed in (b"muriatic\xff", b"\xff\xfe", b"toluene\x80"):
        for env in ({"PYTHONIOENCODING": "utf-8:strict"}, {"LC_ALL": "C"}):
            done = subprocess.run(
                [sys.executable.encode(), b"-m", b"recommender", b"plan", typed, b"--json"],
                capture_output=True,
                env={**os.environ, **env},
                cwd=ROOT,
                check=False,
                timeout=60,
            )
            assert done.returncode in (0, 2), done.stderr
            assert b"Traceback" not in done.stderr
            if done.returncode == 0:
                json.loads(done.stdout.decode("utf-8"))


def test_two_runs_give_the_same_bytes_whatever_the_hash_seed() -> None:
    words = ("plan", "parathion", "--contact", "gross", "--json")
    first = run_process(*words, env={"PYTHONHASHSEED": "1"})
    second = run_process(*words, env={"PYTHONHASHSEED": "2"})
    assert first.returncode == 0
    assert first.stdout == second.stdout


def test_a_plan_needs_no_network() -> None:
    program = (
        "import socket, sys\n"
        "def refuse(*a, **k): raise AssertionError('the network was used')\n"
        "socket.socket = socket.create_connection = socket.getaddrinfo = refuse\n"
        "from recommender.cli import main\n"
        "main(['plan', 'sarin', '--why'])\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, cwd=ROOT, check=False, timeout=60
    )
    assert done.returncode == 0, done.stderr


# --- hostile and confused input ----------------------------------------------------------------

_PIECES = (
    "'; DROP TABLE chemicals; --",
    "../../../../etc/passwd",
    "$(reboot)",
    "`id`",
    "| cat /etc/shadow",
    "{0.__class__}",
    "{{7*7}}",
    "%s%s%s%n",
    "%(name)s",
    "${jndi:ldap://host/a}",
    "[bold red]acetone[/bold red]",
    "[/]",
    "[link=file:///etc/passwd]x[/link]",
    ":skull:",
    "\\x41\\x42",
    "__import__('os').system('id')",
    "<script>alert(1)</script>",
    "&lt;b&gt;",
    "NULL",
    "None",
    "nan",
    "inf",
    "-inf",
    "1e309",
    "0x41",
    "True",
    "-1",
    "0",
    "99999999999999999999",
    "1/0",
    "UN",
    "UN0000",
    "UN 99999",
    "UN-1-2-3-4",
    "UN١٢٣٤",
    "１８３０",
    "CAS",
    "CAS 0-00-0",
    "00-00-0",
    "0000000-00-0",
    "67–64–1",
    "67-64-1-67-64-1",
    "6764一1",
    "²³-⁴⁵-⁶",
    "37%",
    "%",
    "100%",
    "(37%)",
    "acid 0%",
    "acid 1000%",
    "acid -5%",
    "acid ٣٧%",
    "acid 37%%%%",
    "acid (37%",
    "....",
    "---",
    ",,,,",
    "()",
    "''",
    '"',
    "?",
    "*",
    "~",
    "\\",
    "/",
    "#",
    "!",
    "@",
    "é",
    "ß",
    "İ",
    "ﬃ",
    "ǅ",
    "Ω",
    "α",
    "日本語",
    "ацетон",
    "アセトン",
    "丙酮",
    "👩‍🚒🧪",
    "🔥" * 50,
    "a\u0301\u0302\u0303" * 30,
    "\u202eenotecA",
    "\u200bacetone\u200b",
    "acetone\u00a0",
    "\ufeffacetone",
    "acetone\x00",
    "\x00",
    "acetone\n",
    "acetone\r\n--unknown",
    "acetone\tacetone",
    "acetone\x07\x08\x7f",
    "\x1b[31macetone\x1b[0m",
    "muriatic\x1b]0;title\x07",
    "muria\x1b[tic",
    "\x9b31macetone",
    "acetone" * 28,
    "acetone" * 29,
    "a" * 200,
    "a" * 201,
    "a" * 5000,
    "9" * 200,
    "9" * 201,
    " " * 300 + "acetone",
    "x " * 500,
)
_FRAMES = ("{}", "acetone {}", "{} 37%")


def hostile_strings() -> list[str]:
    """Return what nobody should type, alone and around a real name."""
    built = [frame.replace("{}", piece) for frame in _FRAMES for piece in _PIECES]
    return list(dict.fromkeys(built))


def test_there_are_at_least_two_hundred_hostile_strings() -> None:
    assert len(hostile_strings()) >= 200


@pytest.mark.parametrize("typed", hostile_strings(), ids=range(len(hostile_strings())))
def test_a_hostile_string_gets_an_answer_or_a_refusal_and_nothing_else(typed: str) -> None:
    for words in (("plan", "--", typed), ("find", "--", typed)):
        result = run(*words)
        assert result.exception is None or isinstance(result.exception, SystemExit)
        assert result.exit_code in (0, 2)
        assert not re.search(r"[\x00-\x09\x0b-\x1f\x7f\x80-\x9f]", result.output), words
        if result.exit_code == 2:
            assert result.stdout == ""
            assert len(result.stderr) < 2000
        elif words[0] == "plan":
            assert "DEFER" in result.stdout
            assert max(map(len, result.stdout.splitlines())) <= WIDTH


@pytest.mark.parametrize("option", ["--air-temp", "--product-temp", "--wind", "--concentration"])
def test_a_hostile_quantity_is_refused_or_read_and_nothing_else(option: str) -> None:
    for typed in hostile_strings():
        result = run("plan", "acetone", f"{option}={typed}")
        assert result.exception is None or isinstance(result.exception, SystemExit), typed
        assert result.exit_code in (0, 2), typed
        assert len(result.stderr) < 2000, typed


@pytest.mark.parametrize("command", ["rules", "sources"])
def test_a_hostile_id_is_refused_and_nothing_else(command: str) -> None:
    for typed in hostile_strings():
        result = run(command, "--", typed)
        assert result.exception is None or isinstance(result.exception, SystemExit), typed
        assert result.exit_code == 2, typed
        assert len(result.stderr) < 2000, typed


@pytest.mark.parametrize("typed", ["muria\x1b[tic", "muriatic\x07", "muri\u202eatic", "muri\natic"])
def test_a_note_repeats_no_control_character(typed: str) -> None:
    """A name can come from a file; a terminal must not obey what stands in it."""
    notes = " ".join(find(typed).notes)
    assert "Hydrochloric acid" in notes
    assert notes.isprintable()


# --- the answer as a whole: nothing in it may contradict the rest ------------------------------


def plans_by_form(key: str, contact: str) -> dict[str | None, Plan]:
    """Return a plan of one name (or of the unknown product) in each form that is possible."""
    name = None if key == "unknown" else load_chemicals()[key].name
    plans: dict[str | None, Plan] = {}
    for form in (None, *FORMS):
        with suppress(SceneError):
            plans[form] = recommend(name, Scene(contact=contact, form=form))
    return plans


def negated(how: str, word: str) -> bool:
    """Tell whether each step that holds a word forbids it."""
    steps = [step for step in how.split(";") if word in step]
    return all(re.search(r"\b(never|no|not)\b", step) for step in steps)


def contradictions(plan: Plan) -> list[str]:
    """Return what one part of a plan asks for and another part forbids."""
    outcomes = plan.outcomes
    forbidden = {a.agent for a in outcomes.do_not_use if a.is_settled}
    mentioned = {a.agent for a in outcomes.do_not_use}
    how, first = outcomes.method.how, outcomes.method.first
    found = []
    if outcomes.method.conflict:
        found.append("two first steps disagree")
    if "water-first" in forbidden:
        if first in (Method.WET, Method.KEEP_WET) or "with water" in how:
            found.append("water comes first, and must not")
        if outcomes.gross.emphasis is not Emphasis.NONE:
            found.append("a rinse comes first, and must not")
    if "little-water" in mentioned and not (negated(how, "damp") and negated(how, "mist")):
        found.append("damp wipes or mist, and no small amounts of water")
    if "brush" in mentioned and not negated(how, "brush"):
        found.append("brushing, and no brushing")
    if "organic-sorbent" in forbidden and not negated(how, "rags"):
        found.append("rags, and no rags")
    if "hypochlorite" in mentioned and any(s.id.startswith("hypochlorite") for s, _ in plan.offers):
        found.append("hypochlorite offered, and forbidden")
    return found


@pytest.mark.parametrize("contact", CONTACTS)
@pytest.mark.parametrize("key", ["unknown", *KEYS])
def test_no_answer_asks_for_what_it_forbids(key: str, contact: str) -> None:
    found = {form: contradictions(plan) for form, plan in plans_by_form(key, contact).items()}
    assert not {form: problems for form, problems in found.items() if problems}


@pytest.mark.parametrize("key", [k for k in KEYS if load_chemicals()[k].form == "liquid"])
def test_no_stated_form_takes_positions_off_the_usual_form_of_a_liquid(key: str) -> None:
    """A wrong form picked from the list must not shorten the line.

    Only where a film cannot lie on the suit (a gas, a cryogenic liquid) may fewer be enough.
    """
    plans = plans_by_form(key, "splash")
    usual = plans.pop(None)
    for form, plan in plans.items():
        if plan.chemical is usual.chemical and form not in ("gas", "cryogenic"):
            assert plan.outcomes.stations.recommended >= usual.outcomes.stations.recommended, form


def test_an_unknown_liquid_is_not_both_washed_first_and_kept_from_water() -> None:
    text = run("plan", "--unknown", "--form", "liquid").output
    if section(text, "METHOD").startswith("Wet"):
        assert "water first" not in section(text, "DO NOT USE").casefold()


POISONS = ("nerve_agent", "vesicant", "cholinesterase_inhibitor", "cyanide", "pcb_or_dioxin")


@pytest.mark.parametrize("key", KEYS)
def test_neutral_paper_is_never_the_only_proof_that_a_poison_is_gone(key: str) -> None:
    """Paper sees the acid or the alkali of it: sarin and cyanide are still there when it is green.

    Where no instrument sees the poison itself, the check has to say so.
    """
    plan = recommend(load_chemicals()[key])
    view = Facts(plan.facts)
    if not any(view[name].is_yes for name in POISONS):
        return
    instruments = [c.text for c in plan.outcomes.checks if c.sees_it and "pH" not in c.text]
    vapor_meters = [text for text in instruments if "meter" in text]
    assert vapor_meters or "No field instrument" in release_text(plan), release_text(plan)


PERCENT_IN_PPM = 10_000.0
SEES_POISON = re.compile(r"photoionization|tube|meter for|sensor|detection paper|mercury vapor")


def passes_only_a_fire_meter(plan: Plan) -> bool:
    """Tell whether a pass on the fire meter alone could leave air that kills."""
    checks = [c.text for c in plan.outcomes.checks]
    view = Facts(plan.facts)
    limit, danger = view.number("lower_flammable_limit").mid, view.number("idlh").mid
    if limit is None or danger is None or not any("combustible-gas" in c for c in checks):
        return False
    share = plan.limits["checks.lower_limit_share"].value / 100.0
    too_much = limit * PERCENT_IN_PPM * share > danger
    named = any(SEES_POISON.search(c) for c in checks) or "fire" in release_text(plan)
    return too_much and not named


@pytest.mark.parametrize("contact", CONTACTS)
def test_a_fire_meter_is_not_taken_for_proof_that_the_air_can_be_breathed(contact: str) -> None:
    """A tenth of the lower limit of hydrogen cyanide is 5600 ppm; 50 ppm is dangerous at once.

    Where a pass on the combustible-gas meter leaves more than the immediately-dangerous
    concentration, another instrument has to be named or the check has to speak of fire alone.
    """
    plans = {k: recommend(c, Scene(contact=contact)) for k, c in load_chemicals().items()}
    assert not [key for key, plan in plans.items() if passes_only_a_fire_meter(plan)]


@pytest.mark.parametrize("contact", CONTACTS)
def test_the_check_does_not_both_ask_for_a_meter_and_say_there_is_none(contact: str) -> None:
    said = {
        key: release_text(recommend(load_chemicals().get(key), Scene(contact=contact)))
        for key in ("unknown", *KEYS)
    }
    assert not [k for k, s in said.items() if "Meter before" in s and "No field instrument" in s]


def test_porous_gear_is_not_rinsed_before_its_time() -> None:
    """The caution on structural gear must not ask for the rinse that the method forbids.

    Sodium on turnout gear: no water before the technician decides, whatever the gear.
    """
    asked = []
    for key, chemical in load_chemicals().items():
        plan = recommend(chemical, Scene(suit="turnout"))
        gear = [c.text for c in plan.outcomes.cautions if c.rule == "CAU-320"]
        assert gear, key
        if plan.outcomes.gross.emphasis is Emphasis.NONE and "gross rinse, take" in gear[0]:
            asked.append(key)
    assert not asked
