"""Local policy: what it may change, what it cannot weaken, and that every plan says so.

Errors are checked by what they have to name (key, id, nearest ids, direction), not by wording.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path

import jsonschema
import pytest
from click.testing import CliRunner
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from recommender import Scene, load_policy, recommend
from recommender.bounds import end_value, load_bounds, out_of_bounds
from recommender.chemicals.table import FORMS, Chemical, load_chemicals
from recommender.cli import main
from recommender.effects import Direction, Method, Rank
from recommender.engine import Outcome, Stage
from recommender.errors import DataError, InputError, PolicyError
from recommender.facts import Facts
from recommender.limit_units import COUNTS
from recommender.limits import KINDS, PACKAGED_KINDS, Limit, Limits, load_limits
from recommender.policy import (
    EITHER,
    LOOSER,
    SAFER,
    SOURCE,
    ChangedLimit,
    Policy,
    SwitchedOff,
    could_add_caution,
)
from recommender.recommend import ALWAYS, DEFER, Plan
from recommender.render.as_json import plan_to_dict, schema_path
from recommender.render.text import plan_text
from recommender.rules import ALL_RULES
from recommender.scene import CONTACTS
from recommender.sources import load_sources

ROOT = Path(__file__).resolve().parent.parent
EXAMPLE = ROOT / "examples" / "policy.toml"
HEAD = 'department = "Invented Valley"\ndate = 2026-11-25\n'
LIMITS = load_limits()
DIRECTED = tuple(name for name, limit in LIMITS.items() if limit.safer != "neither")
ROWS = tuple(load_chemicals().values())
SOFT_RULES = tuple(rule for rule in ALL_RULES if not rule.floor)
# Only what comes first on the line can bear on what is kept off.
STAGES_BEFORE_DO_NOT_USE = (Stage.METHOD,)


@pytest.fixture
def write(tmp_path):
    """Write a policy file and return its path."""

    def write_file(text: str | bytes, head: str = HEAD) -> Path:
        path = tmp_path / "policy.toml"
        content = text if isinstance(text, bytes) else (head + text).encode()
        path.write_bytes(content)
        return path

    return write_file


def change(name: str, value: float) -> ChangedLimit:
    """Return one changed limit, as a file would give it."""
    local = replace(LIMITS[name], value=float(value), kind="local", source=SOURCE)
    return ChangedLimit(local, LIMITS[name], f"[limits], {name}", f"{value:g}")


def policy_of(values: Mapping[str, float] | None = None, **given_: object) -> Policy:
    """Return a policy with these limits."""
    changes = tuple(change(name, value) for name, value in (values or {}).items())
    return Policy("Invented Valley", date(2026, 11, 25), changes=changes, **given_)


def off(*ids: str) -> tuple[SwitchedOff, ...]:
    """Return these rules switched off."""
    rules = {rule.id: rule for rule in ALL_RULES}
    return tuple(SwitchedOff(rules[name], "an invented reason") for name in ids)


def refusal(path: Path) -> str:
    """Return the message that a file is refused with."""
    with pytest.raises(PolicyError) as caught:
        load_policy(path)
    return str(caught.value)


def flat(text: str) -> str:
    """Return a printed text without its line breaks."""
    return " ".join(text.split())


# --- a file that can be used -------------------------------------------------------------------


def test_the_example_can_be_used_and_says_that_it_is_invented():
    policy = load_policy(EXAMPLE)
    assert "invented" in EXAMPLE.read_text(encoding="utf-8").splitlines()[0].lower()
    assert "Invented" in policy.department
    assert {c.direction for c in policy.changes} == {SAFER, LOOSER}
    assert policy.off and policy.carried and policy.cautions and policy.contacts


def test_department_and_date_alone_are_a_policy_that_changes_nothing(write):
    policy = load_policy(write(""))
    assert policy == Policy("Invented Valley", date(2026, 11, 25))
    assert policy.limits(LIMITS) == LIMITS
    assert policy.switched_off == {}
    assert policy.loosened == ()
    with_it, without = recommend("toluene", policy=policy), recommend("toluene")
    assert with_it.outcomes == without.outcomes
    assert with_it.standard_line == without.standard_line


def test_everything_a_file_may_say_is_read(write):
    policy = load_policy(
        write(
            'contacts = ["Call 555-0100"]\n[limits]\n"persistence.minutes_end" = "300 s"\n'
            '[[off]]\nrule = "STN-060"\nreason = "two\\n lines"\n'
            "[line]\nstandard_positions = 3\nfewer_without_technician = true\n"
            '[carried]\npools = 4\n"pH paper" = "3 rolls"\n'
            '[[cautions]]\ntext = "Always."\n[[cautions]]\ntext = "Gross."\nwhen = "gross"\n'
        )
    )
    assert {c.limit.id: c.limit.value for c in policy.changes} == {
        "persistence.minutes_end": 5.0,
        "policy.standard_line": 3.0,
    }
    assert policy.switched_off == {"STN-060": "two lines"}
    assert policy.fewer_without_technician
    assert policy.carried == (("pools", "4"), ("pH paper", "3 rolls"))
    assert policy.cautions_for("gross") == ("Always.", "Gross.")
    assert policy.cautions_for("vapor") == ("Always.",)
    assert policy.contacts == ("Call 555-0100",)
    assert policy.name == "Invented Valley, 2026-11-25"


@pytest.mark.parametrize(
    "text",
    [
        '[limits]\n"persistence.minutes_end" = 5',
        "[limits]\npersistence.minutes_end = 5",
        "[limits.persistence]\nminutes_end = 5.0",
        '[limits]\npersistence.minutes_end = "5 min"',
        '[limits]\n"persistence.minutes_end" = "0.0833333333333 h"',
    ],
)
def test_a_limit_may_be_written_in_any_way_that_toml_and_units_allow(write, text):
    (found,) = load_policy(write(text)).changes
    assert found.limit.id == "persistence.minutes_end"
    assert found.limit.value == pytest.approx(5.0)
    assert found.limit.kind == "local" and found.limit.source == SOURCE
    assert found.limit.date == "2026-11-25"


def test_windows_line_ends_and_a_byte_order_mark_are_read(write):
    text = (HEAD + "[line]\nstandard_positions = 3\n").replace("\n", "\r\n")
    assert load_policy(write(b"\xef\xbb\xbf" + text.encode())).standard_positions == 3


def test_a_limit_set_to_its_packaged_value_is_no_change(write):
    policy = load_policy(write('[limits]\n"persistence.minutes_end" = "600 s"'))
    assert policy.changes == ()
    assert policy.limits(LIMITS)["persistence.minutes_end"].kind == "sourced"


def test_only_local_policy_makes_a_limit_local():
    assert set(KINDS) - set(PACKAGED_KINDS) == {"local"}
    assert "local" not in {limit.kind for limit in LIMITS.values()}
    assert SOURCE in load_sources()


# --- files that cannot be used -----------------------------------------------------------------

REFUSED = {
    "no department": ("date = 2026-11-25\n", ["department", "missing"], ""),
    "no date": ('department = "X"\n', ["date", "missing"], ""),
    "nothing": ("", ["department", "date", "missing"], ""),
    "department empty": ('department = "  "\ndate = 2026-11-25\n', ["department", "empty"], ""),
    "department no text": ("department = 5\ndate = 2026-11-25\n", ["department", "text"], ""),
    "department long": (
        f'department = "{"x" * 81}"\ndate = 2026-11-25\n',
        ["department", "too long", "80"],
        "",
    ),
    "department unprintable": (
        'department = "X\\u001b[31m"\ndate = 2026-11-25\n',
        ["department", "cannot be printed"],
        "",
    ),
    "date as text": ('department = "X"\ndate = "2026-11-25"\n', ["date", "without quotes"], ""),
    "date with time": (
        'department = "X"\ndate = 2026-11-25T10:00:00\n',
        ["date", "without a time"],
        "",
    ),
    "no such date": ('department = "X"\ndate = 2026-02-30\n', ["not TOML"], ""),
    "unknown key": ("contact = []", ["contact", "no key", "contacts"], HEAD),
    "unknown table": ("[limit]\n", ["limit", "no key", "limits"], HEAD),
    "a plan's own lines": ('always = ["nothing"]\n', ["always", "no key"], HEAD),
    "the defer line": ('defer = "no"\n', ["defer", "no key"], HEAD),
    "unknown limit": (
        '[limits]\n"persistence.minute_end" = 5',
        ["[limits]", "persistence.minute_end", "persistence.minutes_end"],
        HEAD,
    ),
    "incompatible unit": (
        '[limits]\n"persistence.minutes_end" = "5 kg"',
        ["persistence.minutes_end", "kg", "min"],
        HEAD,
    ),
    "no unit": ('[limits]\n"persistence.minutes_end" = "5"', ["no unit", "min"], HEAD),
    "limit is a bool": (
        '[limits]\n"persistence.minutes_end" = true',
        ["persistence.minutes_end", "number, or text"],
        HEAD,
    ),
    "limit is a list": (
        '[limits]\n"persistence.minutes_end" = [5]',
        ["persistence.minutes_end", "number, or text"],
        HEAD,
    ),
    "limit is a date": (
        '[limits]\n"persistence.minutes_end" = 2026-11-25',
        ["persistence.minutes_end", "number, or text"],
        HEAD,
    ),
    "limit nested too deep": (
        "[limits.persistence.minutes]\nend = 5",
        ["persistence.minutes", "number, or text"],
        HEAD,
    ),
    "limit infinite": (
        '[limits]\n"persistence.minutes_end" = inf',
        ["persistence.minutes_end", "not finite"],
        HEAD,
    ),
    "limit not a number": (
        '[limits]\n"persistence.minutes_end" = nan',
        ["persistence.minutes_end", "not finite"],
        HEAD,
    ),
    "limit too large": (
        f'[limits]\n"persistence.minutes_end" = 1{"0" * 400}',
        ["persistence.minutes_end", "too large"],
        HEAD,
    ),
    "limit below zero": (
        '[limits]\n"persistence.minutes_end" = -5',
        ["persistence.minutes_end", "out of bounds", "1 to 60 (persistence.hour_end) min"],
        HEAD,
    ),
    "limit out of order": (
        '[limits]\n"persistence.minutes_end" = "2 h"',
        ["persistence.minutes_end", "persistence.hour_end"],
        HEAD,
    ),
    "another limit out of order": (
        '[limits]\n"stations.freely_soluble" = "9 g/L"',
        ["stations.freely_soluble", "stations.sparing_solubility"],
        HEAD,
    ),
    "limit twice": (
        '[limits]\n"persistence.minutes_end" = 5\npersistence.minutes_end = 6',
        ["persistence.minutes_end", "twice"],
        HEAD,
    ),
    "count not whole": (
        '[limits]\n"crew.base" = 3.5',
        ["crew.base", "whole"],
        HEAD,
    ),
    "limits no table": ("limits = 5", ["limits", "table"], HEAD),
    "unknown rule": (
        '[[off]]\nrule = "stn-060"\nreason = "x"',
        ["[[off]] number 1", "stn-060", "STN-060"],
        HEAD,
    ),
    "floor rule": (
        '[[off]]\nrule = "STN-060"\nreason = "x"\n[[off]]\nrule = "STN-030"\nreason = "x"',
        ["[[off]] number 2", "STN-030", "floor"],
        HEAD,
    ),
    "no reason": ('[[off]]\nrule = "STN-060"', ["[[off]] number 1", "reason", "missing"], HEAD),
    "empty reason": (
        '[[off]]\nrule = "STN-060"\nreason = " "',
        ["[[off]] number 1", "reason", "empty"],
        HEAD,
    ),
    "rule off twice": (
        '[[off]]\nrule = "STN-060"\nreason = "x"\n[[off]]\nrule = "STN-060"\nreason = "y"',
        ["[[off]] number 2", "STN-060", "twice"],
        HEAD,
    ),
    "off in single brackets": (
        '[off]\nrule = "STN-060"\nreason = "x"',
        ["off", "double brackets"],
        HEAD,
    ),
    "off with another key": (
        '[[off]]\nrule = "STN-060"\nreason = "x"\nreasons = "y"',
        ["[[off]] number 1", "reasons", "Near it: reason"],
        HEAD,
    ),
    "line no number": ('[line]\nstandard_positions = "2"', ["[line]", "whole number"], HEAD),
    "line not whole": ("[line]\nstandard_positions = 2.5", ["[line]", "whole number"], HEAD),
    "line bool": ("[line]\nstandard_positions = true", ["[line]", "whole number"], HEAD),
    "line none": (
        "[line]\nstandard_positions = 0",
        ["[line], standard_positions", "out of bounds", "stations.floor"],
        HEAD,
    ),
    "line above the cap": (
        "[line]\nstandard_positions = 4",
        ["[line], standard_positions", "out of bounds", "stations.cap"],
        HEAD,
    ),
    "line twice": (
        '[limits]\n"policy.standard_line" = 3\n[line]\nstandard_positions = 3',
        ["[line], standard_positions", "twice"],
        HEAD,
    ),
    "fewer no bool": (
        '[line]\nfewer_without_technician = "yes"',
        ["[line]", "fewer_without_technician", "true or false"],
        HEAD,
    ),
    "carried a list": ("[carried]\npools = [1]", ["[carried]", "pools", "text"], HEAD),
    "caution for no contact": (
        '[[cautions]]\ntext = "x"\nwhen = "never"',
        ["[[cautions]] number 1", "when", "splash"],
        HEAD,
    ),
    "caution with a rank": (
        '[[cautions]]\ntext = "x"\nrank = "life"',
        ["[[cautions]] number 1", "rank", "no key"],
        HEAD,
    ),
    "caution empty": ('[[cautions]]\ntext = ""', ["[[cautions]] number 1", "empty"], HEAD),
    "contacts a text": ('contacts = "555-0100"', ["contacts", "list"], HEAD),
    "contact no text": ("contacts = [5550100]", ["contacts number 1", "text"], HEAD),
    "too many contacts": (f"contacts = {['x'] * 21}", ["contacts", "20 at most"], HEAD),
}


@pytest.mark.parametrize("name", REFUSED)
def test_a_file_that_cannot_be_used_is_refused_and_says_where_and_why(write, name):
    text, fragments, head = REFUSED[name]
    path = write(text, head=head)
    said = refusal(path)
    assert str(path) in said
    for fragment in fragments:
        assert fragment in said, said
    result = CliRunner().invoke(main, ["plan", "acetone", "--policy", str(path)])
    assert result.exit_code == 2
    assert result.stdout == ""
    assert said in result.stderr


def test_every_problem_is_listed_at_once(write):
    said = refusal(
        write(
            '[limits]\n"no.such" = 5\n"persistence.minutes_end" = "5 kg"\n"crew.base" = 99\n'
            '[[off]]\nrule = "DNU-010"\nreason = "x"\n[[off]]\nrule = "NO-1"\nreason = "x"'
        )
    )
    for key in ("no.such", "persistence.minutes_end", "crew.base", "DNU-010", "NO-1"):
        assert key in said


def test_a_policy_error_is_an_input_error():
    assert issubclass(PolicyError, InputError)


HOSTILE: dict[str, bytes] = {
    "binary": bytes(range(256)),
    "latin-1": HEAD.replace("Valley", "Vall\u00e9e").encode("latin-1"),
    "utf-16": HEAD.encode("utf-16"),
    "nul bytes": b"\x00" * 100,
    "many deep keys": HEAD.encode()
    + b"".join(b"k%d.%s = 1\n" % (i, b".".join([b"a"] * 900)) for i in range(40)),
    "a list over many lines": HEAD.encode() + b"contacts = [" + b'"x",\n' * 15_000 + b"]",
    "a deep list over many lines": HEAD.encode() + b"contacts = " + b"[\n" * 40_000,
    "huge": HEAD.encode() + b"#" * 200_000,
    "endless list": HEAD.encode() + b"contacts = [" + b'"x",' * 30_000 + b"]",
    "deep list": HEAD.encode() + b"contacts = " + b"[" * 40_000,
    "deep table": HEAD.encode() + b"x = " + b"{a = " * 15_000,
    "deep key": HEAD.encode() + b".".join([b"a"] * 40_000) + b" = 1",
    "deep heading": HEAD.encode() + b"[" + b".".join([b"a"] * 40_000) + b"]\n",
    "many headings": HEAD.encode() + b"".join(b"[a%d]\n" % i for i in range(10_000)),
    "many limits": HEAD.encode()
    + b"[limits]\n"
    + b"".join(b'"a.%d" = 1\n' % i for i in range(5000)),
    "thousands of digits": HEAD.encode() + b"x = " + b"9" * 90_000,
    "duplicate key": (HEAD + HEAD).encode(),
    "duplicate table": HEAD.encode() + b"[line]\n[line]\n",
    "unfinished": HEAD.encode() + b'contacts = ["x',
    "no value": HEAD.encode() + b"[line]\nstandard_positions =\n",
    "json": b'{"department": "X", "date": "2026-11-25"}',
    "yaml": b"department: X\ndate: 2026-11-25\n",
    "a key of control characters": HEAD.encode() + b'"\\u001b[2J\\u202e" = 1\n',
    "a list of everything": b"[[department]]\n[[date]]\n[[limits]]\n[[line]]\n[[carried]]\n",
}


@pytest.mark.parametrize("name", HOSTILE)
def test_a_hostile_file_is_refused_in_a_few_printable_lines(write, name):
    said = refusal(write(HOSTILE[name]))
    assert all(line.isprintable() for line in said.splitlines())
    assert len(said) < 20_000


@settings(max_examples=150, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.binary(max_size=300) | st.text(max_size=300).map(lambda t: (HEAD + t).encode()))
def test_any_content_is_used_or_refused(write, content):
    try:
        load_policy(write(content))
    except PolicyError as problem:
        assert all(line.isprintable() for line in str(problem).splitlines())


WORDS = st.sampled_from(
    ["department", "date", "limits", "off", "line", "carried", "cautions", "contacts", "rule"]
)
VALUES = st.recursive(
    st.integers() | st.floats() | st.booleans() | st.dates() | st.text(max_size=10),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(WORDS, inner, max_size=3),
    max_leaves=8,
)


@settings(max_examples=200)
@given(st.dictionaries(WORDS, VALUES, max_size=6))
def test_any_shape_is_used_or_refused(content):
    from pydantic import ValidationError

    from recommender.policy_file import PolicyFile, _problem

    try:
        PolicyFile.model_validate(content)
    except ValidationError as problem:
        for error in problem.errors(include_url=False, include_input=False):
            assert _problem(error).isprintable()


@pytest.mark.parametrize("name", ["missing.toml", "", ".", "x" * 5000, "nul\0byte", "esc\x1b[2J"])
def test_a_path_that_is_no_file_is_refused(tmp_path, name):
    path = name if name in ("", "nul\0byte") else str(tmp_path / name)
    said = refusal(path)
    assert all(line.isprintable() for line in said.splitlines())
    assert len(said) < 1000


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no named pipes here")
def test_a_named_pipe_is_refused_and_not_waited_for(tmp_path):
    os.mkfifo(tmp_path / "pipe")
    assert "not a file" in refusal(tmp_path / "pipe")


# --- limits, in each direction -----------------------------------------------------------------


def just_beside(limit: Limit, direction: int) -> float:
    """Return the nearest value worth the name on one side of a limit."""
    step = 1.0 if limit.unit in COUNTS else max(abs(limit.value), 1.0) * 1e-6
    return limit.value + direction * step


def toml_limit(name: str, value: float) -> str:
    return f'[limits]\n"{name}" = {value!r}'


@pytest.mark.parametrize("direction", [-1, 1])
@pytest.mark.parametrize("name", LIMITS)
def test_a_limit_just_changed_is_safer_looser_or_refused(write, name, direction):
    limit = LIMITS[name]
    value = just_beside(limit, direction)
    if out_of_bounds(name, {**LIMITS, name: replace(limit, value=value)}):
        assert name in refusal(write(toml_limit(name, value)))
        return
    policy = load_policy(write(toml_limit(name, value)))
    (found,) = policy.changes
    if limit.safer == "neither":
        assert found.direction == EITHER and len(policy.loosened) == 1
    elif (direction > 0) == (limit.safer == "higher"):
        assert found.direction == SAFER and policy.loosened == ()
    else:
        assert found.direction == LOOSER
        (said,) = policy.loosened
        assert "Local policy (Invented Valley) loosens" in said and name in said


def test_every_limit_has_bounds_that_hold_its_packaged_value():
    assert set(load_bounds()) == set(LIMITS)
    assert {name: out_of_bounds(name, LIMITS) for name in LIMITS} == dict.fromkeys(LIMITS, "")
    assert all(bound.why for bound in load_bounds().values())


def test_a_limit_without_bounds_cannot_be_changed(monkeypatch, write):
    bounds = {name: bound for name, bound in load_bounds().items() if name != "crew.base"}
    monkeypatch.setattr("recommender.policy.load_bounds", lambda: bounds)
    monkeypatch.setattr("recommender.bounds.load_bounds", lambda: bounds)
    assert "crew.base: no bounds" in refusal(write(toml_limit("crew.base", 4)))


@pytest.mark.parametrize("end", ["lowest", "highest"])
@pytest.mark.parametrize("name", LIMITS)
def test_a_limit_at_its_bound_is_taken_and_beyond_it_refused(name, end):
    bound = end_value(getattr(load_bounds()[name], end), LIMITS)
    beyond = bound + (1 if end == "highest" else -1) * max(abs(bound), 1.0) * 1e-6
    at = {**LIMITS, name: replace(LIMITS[name], value=bound)}
    assert out_of_bounds(name, at) == ""
    with pytest.raises(PolicyError) as caught:
        policy_of({name: beyond})
    assert name in str(caught.value)


@pytest.mark.parametrize("end", ["lowest", "highest"])
@pytest.mark.parametrize("name", LIMITS)
def test_a_limit_at_its_bound_can_be_planned_with(name, end):
    """No equation is called out of its range, whatever a policy may do."""
    bound = end_value(getattr(load_bounds()[name], end), LIMITS)
    try:
        policy = policy_of({name: bound})
    except PolicyError:  # another limit has to move with it
        return
    for number, chemical in enumerate(ROWS[len(name) :: len(ROWS) // 5]):
        scene = Scene(contact=CONTACTS[number % 3])
        plan_text(recommend(chemical, scene, policy=policy), why=True)
    plan_to_dict(recommend(None, policy=policy))


# --- a safer policy never makes a plan milder --------------------------------------------------


def milder(before: Plan, after: Plan) -> list[str]:
    """Say in what a plan is less cautious than another."""
    a, b = before.outcomes, after.outcomes
    said = {c.rule for c in b.cautions}
    # A freezing line replaces the caution for a cool one.
    lost = {c.rule for c in a.cautions} - said - ({"CAU-430"} if "CAU-431" in said else set())
    # A rinse that waits for another first step is not a milder rinse.
    waits = b.method.first is not a.method.first and b.method.first not in (Method.WET, Method.AIR)
    checks = {
        "aired": b.method.first is Method.AIR and a.method.first is not Method.AIR,
        "estimate": b.stations.recommended < a.stations.recommended,
        "range": b.stations.high < a.stations.high,
        "persistence": b.persistence.grade < a.persistence.grade,
        "gross decon": b.gross.emphasis < a.gross.emphasis and not waits,
        "do-not-use": {x.agent for x in a.do_not_use} - {x.agent for x in b.do_not_use},
        "cautions": lost,
        "kept dry": a.stays_dry and not b.stays_dry,
        "crew": after.needs.crew_high < before.needs.crew_high
        or after.needs.crew_low < before.needs.crew_low,
        "crew notes": set(a.crew_notes) - set(b.crew_notes),
        "water": after.needs.water_high_gal < before.needs.water_high_gal
        and b.stations.kind == "wash",
        "standard line": before.standard_line.applies
        and not after.standard_line.applies
        and b.stations.recommended < after.standard_line.positions,
    }
    return [name for name, found in checks.items() if found]


@cache
def plan_without(chemical: Chemical | None, scene: Scene) -> Plan:
    return recommend(chemical, scene)


def safer_end(name: str, in_force: Mapping[str, Limit]) -> float:
    bound = load_bounds()[name]
    return end_value(bound.highest if LIMITS[name].safer == "higher" else bound.lowest, in_force)


@st.composite
def safer_policies(draw) -> Policy:
    """Several limits, each moved some way toward the end of its room on the safer side."""
    in_force = dict(LIMITS)
    for name in draw(st.lists(st.sampled_from(DIRECTED), min_size=1, max_size=8, unique=True)):
        limit, end = in_force[name], safer_end(name, in_force)
        value = limit.value + (end - limit.value) * draw(st.sampled_from([0.02, 0.3, 0.7, 1.0]))
        value = round(value) if limit.unit in COUNTS else value
        in_force[name] = replace(limit, value=float(value))
    try:
        return policy_of({n: x.value for n, x in in_force.items() if x.value != LIMITS[n].value})
    except PolicyError:
        assume(False)
        raise


SCENES = st.builds(
    Scene,
    contact=st.sampled_from(CONTACTS),
    air_temperature_c=st.sampled_from([None, -10.0, 5.0, 22.0, 35.0]),
    wind_m_s=st.sampled_from([None, 0.0, 5.0]),
    suit=st.sampled_from(["unspecified", "disposable", "turnout"]),
    airing_place=st.booleans(),
)


@settings(max_examples=150, deadline=None)
@given(safer_policies(), st.lists(st.sampled_from([None, *ROWS]), min_size=4, max_size=4), SCENES)
def test_a_policy_that_only_tightens_never_makes_a_plan_milder(policy, rows, scene):
    assert policy.loosened == ()
    for chemical in rows:
        found = milder(plan_without(chemical, scene), recommend(chemical, scene, policy=policy))
        assert not found, (chemical and chemical.key, [c.words for c in policy.changes])


@pytest.mark.parametrize("name", DIRECTED)
def test_a_limit_at_its_safer_end_never_makes_a_plan_milder(name):
    if safer_end(name, LIMITS) == LIMITS[name].value:
        return
    try:
        policy = policy_of({name: safer_end(name, LIMITS)})
    except PolicyError:  # another limit has to move with it
        return
    start = DIRECTED.index(name) % 17
    for number, chemical in enumerate((None, *ROWS[start::17])):
        scene = Scene(contact=CONTACTS[(number + start) % 3])
        found = milder(plan_without(chemical, scene), recommend(chemical, scene, policy=policy))
        assert not found, (chemical and chemical.key, scene.contact)


def test_a_milder_plan_would_be_noticed():
    loose = policy_of({"stations.sparing_solubility": 0.2, "persistence.minutes_end": 60})
    assert milder(recommend("toluene"), recommend("toluene", policy=loose))
    assert not milder(recommend("toluene"), recommend("toluene"))


# --- floors ------------------------------------------------------------------------------------


def test_the_floors_are_these():
    floors = {bound.id for bound in load_bounds().values() if bound.is_floor}
    assert floors == {
        "stations.contact",
        "stations.floor",
        "stations.unknown",
        "stations.cap",
    }
    rules = {rule.id for rule in ALL_RULES if rule.floor}
    assert "STN-030" in rules
    assert {rule.id for rule in ALL_RULES if rule.id.startswith("DNU-")} <= rules


@pytest.mark.parametrize("rule", [r for r in ALL_RULES if r.floor], ids=lambda r: r.id)
def test_a_floor_rule_cannot_be_switched_off_by_any_door(write, rule):
    assert rule.id in refusal(write(f'[[off]]\nrule = "{rule.id}"\nreason = "x"'))
    with pytest.raises(PolicyError, match=rule.id):
        policy_of(off=off(rule.id))
    with pytest.raises(DataError, match=rule.id):
        recommend("acetone", switched_off={rule.id: "x"})


@pytest.mark.parametrize(
    "name", ["stations.contact", "stations.floor", "stations.unknown", "stations.cap"]
)
def test_a_floor_limit_can_be_raised_within_the_cap_and_never_lowered(write, name):
    lower = toml_limit(name, LIMITS[name].value - 1)
    said = refusal(write(lower))
    assert name in said and "floor" in said
    with pytest.raises(PolicyError, match="floor"):
        policy_of({name: LIMITS[name].value - 1})
    if name == "stations.cap":
        assert "floor" in refusal(write(toml_limit(name, 4)))
    else:
        assert load_policy(write(toml_limit(name, 2 if name != "stations.unknown" else 3)))


@pytest.mark.parametrize("contact", ["splash", "gross"])
@pytest.mark.parametrize("form", FORMS)
def test_the_unknown_answer_stands_with_every_soft_rule_off(contact, form):
    policy = policy_of(off=off(*(rule.id for rule in SOFT_RULES)))
    plan = recommend(None, Scene(contact=contact, form=form), policy=policy)
    least = int(LIMITS["stations.unknown"].value)
    assert plan.outcomes.stations.recommended >= least
    assert plan.outcomes.stations.high >= least
    shown = sum(d.mid for d in plan.outcomes.stations.drivers)
    assert shown >= plan.outcomes.stations.recommended


@pytest.mark.parametrize("rule", SOFT_RULES, ids=lambda r: r.id)
def test_no_soft_rule_takes_anything_off_the_do_not_use_list(rule):
    policy = policy_of(off=off(rule.id))
    rows = ROWS if rule.stage in STAGES_BEFORE_DO_NOT_USE else ROWS[:: len(ROWS) // 5]
    for chemical in rows:
        before = plan_without(chemical, Scene()).outcomes
        after = recommend(chemical, policy=policy).outcomes
        entries = {(a.agent, a.why, a.is_settled) for a in before.do_not_use}
        assert entries <= {(a.agent, a.why, a.is_settled) for a in after.do_not_use}, chemical.key
        assert after.stays_dry or not before.stays_dry, chemical.key


@pytest.mark.parametrize("name", LIMITS)
def test_no_limit_takes_anything_off_the_do_not_use_list(name):
    for end in (load_bounds()[name].lowest, load_bounds()[name].highest):
        try:
            policy = policy_of({name: end_value(end, LIMITS)})
        except PolicyError:
            continue
        for chemical in ROWS[len(name) % 19 :: 19]:
            before = plan_without(chemical, Scene()).outcomes.do_not_use
            after = recommend(chemical, policy=policy).outcomes.do_not_use
            assert {a.agent for a in before} <= {a.agent for a in after}, chemical.key


def test_always_and_defer_lines_stand_in_every_plan():
    policy = policy_of(off=off(*(rule.id for rule in SOFT_RULES)), fewer_without_technician=True)
    text = flat(plan_text(recommend("acetone", policy=policy)))
    assert flat(DEFER) in text
    assert all(flat(line) in text for line in ALWAYS)


# --- rules switched off ------------------------------------------------------------------------


def test_a_rule_that_is_off_stands_in_the_trace_with_its_reason():
    plan = recommend("parathion", policy=policy_of(off=off("STN-040")))
    (step,) = [s for s in plan.outcomes.steps if s.rule.id == "STN-040"]
    assert step.outcome is Outcome.OFF
    assert step.off_because == "an invented reason"
    assert step.taken == () and step.refused
    trace = {s["rule"]: s for s in plan_to_dict(plan)["trace"]}
    assert trace["STN-040"]["outcome"] == "off"
    assert trace["STN-040"]["off_because"] == "an invented reason"
    text = flat(plan_text(plan, why=True))
    assert "STN-040 off" in text and "reason given: an invented reason" in text


@pytest.mark.parametrize("rule", SOFT_RULES, ids=lambda r: r.id)
def test_switching_off_a_rule_that_could_add_caution_is_said(rule):
    policy = policy_of(off=off(rule.id))
    if could_add_caution(rule):
        (said,) = policy.loosened
        assert rule.id in said and "loosens" in said and "an invented reason" in said
    else:
        assert policy.loosened == ()


@pytest.mark.parametrize("rule", SOFT_RULES, ids=lambda r: r.id)
def test_a_rule_whose_loss_is_not_said_never_makes_a_plan_milder(rule):
    if could_add_caution(rule):
        return
    policy = policy_of(off=off(rule.id))
    for number, chemical in enumerate((None, *ROWS[::3])):
        scene = Scene(
            contact=CONTACTS[number % 3], suit="disposable" if number % 2 else "unspecified"
        )
        found = milder(plan_without(chemical, scene), recommend(chemical, scene, policy=policy))
        assert not found, chemical and chemical.key


def test_a_rule_that_only_subtracts_is_switched_off_without_a_caution():
    soft = {rule.id for rule in SOFT_RULES if not could_add_caution(rule)}
    assert {"STN-080", "STN-090", "PERS-010", "METH-110"} <= soft
    assert not {"STN-040", "METH-100", "CHK-010", "CAU-010", "GROSS-070", "SOL-010"} & soft


def test_what_could_add_caution_does_not_depend_on_the_chemical():
    for rule in SOFT_RULES:
        kinds = set()
        for chemical in (None, *ROWS[::20]):
            facts = plan_without(chemical, Scene()).facts
            effects = rule.function(Facts(facts), Limits(LIMITS)).effects
            kinds.add(any(e.direction is not Direction.SUBTRACTS for e in effects))
        assert len(kinds) == 1, rule.id


# --- in plans ----------------------------------------------------------------------------------


@cache
def validator() -> jsonschema.Draft202012Validator:
    return jsonschema.Draft202012Validator(json.loads(schema_path().read_text(encoding="utf-8")))


def example_plans() -> Iterator[Plan]:
    policy = load_policy(EXAMPLE)
    for number, chemical in enumerate((None, *ROWS[::10])):
        yield recommend(chemical, Scene(contact=CONTACTS[number % 3]), policy=policy)


def test_every_plan_names_the_policy_and_says_what_it_loosens_and_adds():
    policy = load_policy(EXAMPLE)
    assert policy.loosened
    for plan in example_plans():
        text, found = flat(plan_text(plan)), plan_to_dict(plan)
        assert not list(validator().iter_errors(found))
        assert plan.versions["policy"] == policy.name == found["versions"]["policy"]
        assert found["policy"]["loosened"] == list(policy.loosened)
        cautions = [c["text"] for c in found["cautions"] if c["rule"] == SOURCE]
        said = (*policy.loosened, *policy.cautions_for(plan.scene.contact))
        assert cautions == list(said)
        assert policy.name in text
        for line in (*said, *policy.contacts):
            assert flat(line) in text


def test_a_plan_without_a_policy_says_nothing_of_one():
    plan = recommend("acetone")
    assert plan.policy is None
    assert plan_to_dict(plan)["policy"] is None
    assert "policy" not in plan.versions
    text = plan_text(plan)
    assert "LOCAL" not in text and "CONTACTS" not in text


def test_local_cautions_are_ranked_last_and_never_hidden():
    policy = policy_of(cautions=load_policy(EXAMPLE).cautions * 3)
    plan = recommend("hydrazine", Scene(contact="gross", air_temperature_c=35), policy=policy)
    ranks = [c.rank for c in plan.outcomes.cautions]
    assert ranks[-1] == Rank.LOCAL == max(Rank)
    ordinary = [c for c in plan.outcomes.cautions if c.rank != Rank.LOCAL]
    assert ordinary == list(recommend("hydrazine", plan.scene).outcomes.cautions)
    text = flat(plan_text(plan))
    assert all(flat(c.text) in text for c in plan.outcomes.cautions if c.rank == Rank.LOCAL)


def test_a_local_caution_belongs_to_its_contact(write):
    policy = load_policy(write('[[cautions]]\ntext = "Only when drenched."\nwhen = "gross"'))
    for contact in CONTACTS:
        text = plan_text(recommend("toluene", Scene(contact=contact), policy=policy))
        assert ("Only when drenched." in text) == (contact == "gross")


def test_a_changed_limit_is_local_in_the_trace_and_moves_the_answer():
    policy = policy_of({"stations.sparing_solubility": 0.2, "stage_model.oily_solubility": 0.1})
    before, after = recommend("toluene"), recommend("toluene", policy=policy)
    assert after.limits["stations.sparing_solubility"].value == 0.2
    limits = {limit["limit"]: limit for s in plan_to_dict(after)["trace"] for limit in s["limits"]}
    found = limits["stations.sparing_solubility"]
    assert (found["kind"], found["source"], found["value"]) == ("local", SOURCE, 0.2)
    assert before.limits["stations.sparing_solubility"].kind == "judgement"
    policy = policy_of({"stations.sparing_solubility": 12})
    text = flat(plan_text(recommend("parathion", policy=policy), why=True))
    assert "limit stations.sparing_solubility 12 g/L [local; local-policy;" in text


def test_a_plan_never_calls_a_local_line_published():
    policy = policy_of({"persistence.minutes_end": 5, "persistence.hours_end": 1500})
    text = flat(plan_text(recommend("toluene", policy=policy)))
    assert "Published lines" not in text and "army" not in text
    assert "5 min (local)" in text and "25 h (local)" in text
    assert "Published lines" in plan_text(recommend("toluene", policy=policy_of()))


def test_policy_comes_on_top_of_limits_and_rules_given_otherwise():
    base = {**LIMITS, "crew.base": replace(LIMITS["crew.base"], value=9.0)}
    policy = policy_of({"stations.sparing_solubility": 11}, off=off("STN-060"))
    plan = recommend("toluene", limits=base, switched_off={"STN-040": "test"}, policy=policy)
    assert plan.limits["crew.base"].value == 9.0
    assert plan.limits["stations.sparing_solubility"].value == 11
    gone = {s.rule.id for s in plan.outcomes.steps if s.outcome is Outcome.OFF}
    assert gone == {"STN-040", "STN-060"}


def test_local_water_is_not_called_practice():
    policy = policy_of({"water.per_person_high": 150})
    assert "30 to 150 gal a person (local policy)" in flat(
        plan_text(recommend("toluene", policy=policy))
    )


# --- the standard line -------------------------------------------------------------------------


def test_the_standard_line_of_the_policy_is_asked_for():
    plan = recommend("acetone", policy=policy_of({"policy.standard_line": 3}))
    assert plan.outcomes.stations.recommended == 1
    assert plan.standard_line.applies and plan.standard_line.positions == 3
    assert "3 wash-and-rinse" in plan.standard_line.text


def test_a_shorter_standard_line_is_said_in_every_plan():
    policy = policy_of({"policy.standard_line": 1})
    assert "policy.standard_line from 2 to 1" in policy.loosened[0]
    assert not recommend("acetone", policy=policy).standard_line.applies


def test_fewer_without_a_technician_under_the_name_of_the_department():
    policy = policy_of(fewer_without_technician=True)
    plan = recommend("acetone", policy=policy)
    assert not plan.standard_line.applies
    assert "local policy (Invented Valley)" in plan.standard_line.text
    assert "set up the standard line" not in plan_text(plan)
    assert any("fewer positions" in said for said in policy.loosened)


@pytest.mark.parametrize("form", [None, "liquid", "powder"])
def test_an_unidentified_product_keeps_the_standard_line(form):
    policy = policy_of({"policy.standard_line": 3}, fewer_without_technician=True)
    plan = recommend(None, Scene(form=form), policy=policy)
    assert plan.standard_line.applies


@pytest.mark.parametrize("contact", ["splash", "gross"])
def test_fewer_never_hurries_water_or_a_hold(contact):
    policy = policy_of({"policy.standard_line": 3}, fewer_without_technician=True)
    for chemical in ROWS:
        plan = recommend(chemical, Scene(contact=contact), policy=policy)
        text = plan.standard_line.text
        if "local policy" not in text:
            continue
        if plan.outcomes.stays_dry:
            assert "no water on suits before the technician decides" in text, chemical.key
        elif plan.outcomes.method.first.value in ("hold", "dry", "wipe"):
            assert "behind the" in text, chemical.key


def test_a_technician_on_scene_decides_whatever_the_policy_says():
    scene = Scene(technician="on-scene")
    for policy in (policy_of(fewer_without_technician=True), policy_of()):
        line = recommend("acetone", scene, policy=policy).standard_line
        assert line == recommend("acetone", scene).standard_line


# --- the command line --------------------------------------------------------------------------


def run(*words: str, env: Mapping[str, str] | None = None):
    return CliRunner(env={"RECOMMENDER_POLICY": None, **(env or {})}).invoke(main, list(words))


def test_check_explains_what_changes_in_which_direction_and_what_cannot():
    result = run("policy", "check", str(EXAMPLE))
    assert result.exit_code == 0, result.output
    text, policy = flat(result.output), load_policy(EXAMPLE)
    for found in policy.changes:
        assert found.words in text
    assert "more cautious" in text and "LESS cautious" in text
    for item, quantity in policy.carried:
        assert f"{item}: {quantity}" in text
    for line in (*policy.loosened, *policy.contacts, *(c.text for c in policy.cautions)):
        assert flat(line) in text
    for name in ("STN-030", "DNU-010", "stations.unknown", "stations.floor", "defer line"):
        assert name in text
    assert max(map(len, result.output.splitlines())) <= 80


def test_check_says_which_plans_change(write):
    loose = toml_limit("stations.sparing_solubility", 0.2) + "\n[line]\nstandard_positions = 3"
    text = flat(run("policy", "check", str(write(loose))).output)
    assert "FEWER positions for" in text and "2 to 1" in text
    assert "The standard line is now asked for" in text
    tight = flat(run("policy", "check", str(write(toml_limit("persistence.film", 0.5)))).output)
    assert "FEWER" not in tight and "longer persistence grade" in tight
    nothing = flat(run("policy", "check", str(write(""))).output)
    assert "Nothing is loosened." in nothing and "No number of positions changes" in nothing


def test_check_refuses_what_plan_refuses(write):
    path = str(write('[[off]]\nrule = "DNU-010"\nreason = "x"'))
    checked, planned = run("policy", "check", path), run("plan", "acetone", "--policy", path)
    assert checked.exit_code == planned.exit_code == 2
    assert checked.stderr == planned.stderr
    assert checked.stdout == planned.stdout == ""


def test_the_option_leads_and_the_variable_is_the_default(write):
    path = str(write('contacts = ["From the variable"]'))
    env = {"RECOMMENDER_POLICY": path}
    assert "From the variable" in run("plan", "acetone", env=env).output
    assert "From the variable" in run("policy", "check", env=env).output
    both = run("plan", "acetone", "--policy", str(EXAMPLE), env=env).output
    assert "From the variable" not in both and "Invented county" in both
    assert "LOCAL" not in run("plan", "acetone", env={"RECOMMENDER_POLICY": ""}).output
    assert "LOCAL" not in run("plan", "acetone").output


def test_a_variable_that_names_no_file_is_refused_and_named():
    result = run("plan", "acetone", env={"RECOMMENDER_POLICY": "no-such-file.toml"})
    assert result.exit_code == 2
    assert result.stdout == ""
    assert "RECOMMENDER_POLICY" in result.stderr and "no-such-file.toml" in result.stderr
    assert "RECOMMENDER_POLICY" not in run("plan", "acetone", "--policy", "no-such.toml").stderr


def test_the_policy_is_in_the_json_of_the_command():
    plan = json.loads(run("plan", "toluene", "--policy", str(EXAMPLE), "--json").stdout)
    assert plan["policy"]["department"] == "Invented Valley Fire District"
    assert plan["policy"]["date"] == "2026-11-25"
    assert not list(validator().iter_errors(plan))


def test_a_plan_without_a_policy_does_not_load_pydantic_and_one_with_it_does():
    program = (
        "import sys, recommender.cli\n"
        "recommender.cli.main(['plan', 'acetone', *sys.argv[1:]], standalone_mode=False)\n"
        "print([m for m in ('pydantic', 'tomllib') if m in sys.modules])\n"
    )
    env = {k: v for k, v in os.environ.items() if k != "RECOMMENDER_POLICY"}

    def loaded(*words: str) -> str:
        done = subprocess.run(
            [sys.executable, "-c", program, *words],
            cwd=ROOT, env=env, capture_output=True, text=True, check=True,
        )  # fmt: skip
        return done.stdout.splitlines()[-1]

    assert loaded() == "[]"
    assert loaded("--policy", str(EXAMPLE)) == "['pydantic', 'tomllib']"
