"""Every rule has its three cases, every change in them matters, every limit has its edge."""

from __future__ import annotations

import test_cautions
import test_check_rules
import test_do_not_use
import test_gross
import test_method
import test_persistence
import test_solution
import test_stage_model
import test_stations
from made_facts import BY_ID, step_of
from rule_cases import Cases, Edge

from recommender.engine import Outcome

TABLES = (
    test_method,
    test_persistence,
    test_gross,
    test_stations,
    test_stage_model,
    test_solution,
    test_do_not_use,
    test_check_rules,
    test_cautions,
)
CASES: dict[str, Cases] = {k: v for table in TABLES for k, v in table.CASES.items()}
EDGES: dict[str, tuple[Edge, ...]] = {k: v for table in TABLES for k, v in table.EDGES.items()}
AS_VALUES: dict[str, set[str]] = {k: v for table in TABLES for k, v in table.AS_VALUES.items()}

# A rule that always holds, or hangs on a word that is either stated or not.
ALWAYS = {"CREW-010", "CREW-030"}
# Where the product is, not what it is: vapor in air in place of product on the suit.
WHERE = ("contact_condensed", False)
NEVER_IN_DOUBT = {"CAU-025", "CHK-110"}


def test_every_rule_applies_in_a_case() -> None:
    assert {rule_id for rule_id, cases in CASES.items() if cases.applies} == set(BY_ID)


def test_every_rule_does_not_apply_in_a_case() -> None:
    found = {rule_id for rule_id, cases in CASES.items() if cases.does_not}
    assert found == set(BY_ID) - ALWAYS


def test_every_rule_cannot_tell_in_a_case() -> None:
    found = {rule_id for rule_id, cases in CASES.items() if cases.cannot_tell}
    assert found == set(BY_ID) - ALWAYS - NEVER_IN_DOUBT


def test_no_rule_stands_in_two_tables() -> None:
    assert sum(len(table.CASES) for table in TABLES) == len(CASES)


def test_no_case_in_which_a_rule_applies_changes_more_than_it_has_to() -> None:
    idle = [
        (rule_id, name)
        for rule_id, cases in CASES.items()
        for changes in cases.applies
        for name, change in changes.items()
        if (name, change) != WHERE
        and step_of(rule_id, {k: v for k, v in changes.items() if k != name}).outcome
        is Outcome.APPLIES
    ]
    assert idle == []


def test_what_a_rule_cannot_tell_it_blames_on_a_fact_or_on_a_range() -> None:
    for rule_id, cases in CASES.items():
        for changes in cases.cannot_tell:
            step = step_of(rule_id, changes)
            unknown = {name for name, change in changes.items() if change is None}
            assert bool(step.missing) == bool(unknown), (rule_id, changes)
            assert set(step.missing) <= unknown, (rule_id, changes)


def test_every_limit_that_a_rule_reads_has_its_edge_or_is_used_as_a_value() -> None:
    for rule_id, cases in CASES.items():
        read = {limit.id for _, changes in cases for limit in step_of(rule_id, changes).limits}
        tested = {name for edge in EDGES.get(rule_id, ()) for name in edge.limits}
        values = AS_VALUES.get(rule_id, set())
        assert tested <= read <= tested | values, rule_id
        assert not tested & values, rule_id
