"""The packaged tables hold together: they parse, cite known sources, and are complete.

A failing test lists every row at fault, so that one run shows all there is to settle.
"""

from __future__ import annotations

import csv
import re
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from datetime import date
from pathlib import Path

import pytest

import recommender
from recommender.chemicals.lookup import normalize_name
from recommender.chemicals.table import (
    FORMS,
    fact_dictionary,
    load_chemicals,
)
from recommender.data_files import chemical_groups, data_folder, read_table
from recommender.effects import DoNotUse, Offer, UseSolution
from recommender.facts import Facts, Truth
from recommender.limits import Limits, load_limits
from recommender.recommend import do_not_use_words, load_solutions, recommend
from recommender.rules import ALL_RULES
from recommender.sources import PROVENANCE_WORDS, load_sources

PACKAGE = Path(recommender.__file__).parent
LEAST_IDENTITIES = 60
# A source is named on a row of a table, beside a rule, or in the code that derives a value.
NO_SOURCE = "unknown"
AFTER_FIRST = ("flood", "keep_dry", "wet", "technician", "doff")

# Names that two rows share on purpose, with the reason. A person who types one is asked which.
SHARED_NAMES: dict[str, str] = {}

HEADERS = {
    "facts.csv": "fact kind unit label meaning no_means",
    "limits.csv": "id value unit safer kind source provenance date meaning",
    "limit_bounds.csv": "id lowest highest floor why source provenance",
    "un_group_entries.csv": "un words source provenance",
    "un_numbers.csv": "un words form cas cas_source source provenance",
    "identity_traps.csv": "typed wrong right names reason source provenance",
    "property_names.csv": "name fact unit instead provenance",
    "solutions.csv": "id name recipe_us recipe_si contact_minutes on_what not_on role source "
    "provenance",
    "do_not_use.csv": "agent words source provenance",
    "sources.csv": "id title publisher year kind provenance note",
    "library_corrections.csv": "cas name property table action value reason source provenance",
    "names.csv": "key identity name cas formula form strength_percent usual un synonyms "
    "trade_names source provenance note",
    "chemical facts.csv": "key fact value source provenance note",
    "properties.csv": "key property value unit temperature_c low high source provenance note",
}

Row = dict[str, str]


def table_names() -> list[str]:
    root = data_folder()
    return sorted(p.relative_to(root).as_posix() for p in root.rglob("*.csv"))


def chemical_rows(table: str) -> Iterator[tuple[str, Row]]:
    for group in chemical_groups():
        name = f"chemicals/{group}/{table}"
        for row in read_table(name):
            yield name, row


def rows_with(column: str) -> Iterator[tuple[str, Row]]:
    for name in table_names():
        for row in read_table(name):
            if column in row:
                yield name, row


def label(name: str, row: Row) -> str:
    return f"{name}: {', '.join(list(row.values())[:3])}"


def nothing_in(problems: Iterable[str]) -> None:
    found = list(problems)
    assert not found, f"{len(found)} to settle:\n" + "\n".join(found)


@pytest.mark.parametrize("name", table_names())
def test_a_table_parses_and_has_the_columns_it_should(name: str) -> None:
    last = name.rsplit("/", 1)[-1]
    kind = "chemical facts.csv" if name.startswith("chemicals/") and last == "facts.csv" else last
    rows = read_table(name)
    assert rows
    assert list(rows[0]) == HEADERS[kind].split()


def test_every_group_of_chemicals_has_its_three_tables() -> None:
    wanted = {"facts.csv", "names.csv", "properties.csv"}
    for group in chemical_groups():
        folder = data_folder() / "chemicals" / group
        assert {p.name for p in folder.iterdir()} == wanted


def test_no_cell_holds_a_stray_blank_quotation_mark_or_line_break() -> None:
    def bad_cells() -> Iterator[str]:
        for name in table_names():
            with (data_folder() / name).open(encoding="utf-8", newline="") as file:
                for number, row in enumerate(csv.reader(file), start=1):
                    for cell in row:
                        odd = "\n" in cell or "  " in cell or cell.count('"') % 2
                        if odd or cell != cell.strip():
                            yield f"{name}, row {number}: {cell!r}"

    nothing_in(bad_cells())


@pytest.mark.parametrize(
    ("name", "column"),
    [
        ("facts.csv", "fact"),
        ("limits.csv", "id"),
        ("limit_bounds.csv", "id"),
        ("solutions.csv", "id"),
        ("do_not_use.csv", "agent"),
        ("sources.csv", "id"),
    ],
)
def test_ids_are_unique(name: str, column: str) -> None:
    counted = Counter(row[column] for row in read_table(name))
    assert [key for key, count in counted.items() if count > 1 or not key] == []


def test_keys_of_chemicals_are_unique_and_plain() -> None:
    counted = Counter(row["key"] for _, row in chemical_rows("names.csv"))
    plain = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
    assert [k for k, n in counted.items() if n > 1 or not plain.fullmatch(k)] == []


def test_every_source_named_on_a_row_is_in_the_table_of_sources() -> None:
    sources = load_sources()
    nothing_in(label(n, r) for n, r in rows_with("source") if r["source"] not in sources)


def test_every_source_named_beside_a_rule_is_in_the_table_of_sources() -> None:
    sources = load_sources()
    nothing_in(f"{r.id}: {s}" for r in ALL_RULES for s in r.sources if s not in sources)
    nothing_in(f"{r.id} names no source" for r in ALL_RULES if not r.sources)


def test_every_source_is_used() -> None:
    used = {row["source"] for _, row in rows_with("source")}
    used |= {source for rule in ALL_RULES for source in rule.sources}
    code = "".join(p.read_text("utf-8") for p in PACKAGE.rglob("*.py"))
    nothing_in(s for s in load_sources() if s not in used and f'"{s}"' not in code)


def test_every_row_carries_a_provenance_word() -> None:
    nothing_in(
        label(n, r) for n, r in rows_with("provenance") if r["provenance"] not in PROVENANCE_WORDS
    )
    named = {n for n, _ in rows_with("provenance")}
    assert set(table_names()) - named == {"facts.csv"}


def test_a_value_marked_read_cites_a_source_that_was_read() -> None:
    sources = load_sources()
    nothing_in(
        label(name, row)
        for name, row in rows_with("source")
        if row["provenance"] == "read" and sources[row["source"]].provenance != "read"
    )


def test_judgement_and_practice_never_pass_for_a_publication() -> None:
    own = {
        "judgement": {"judgement", "identity", "unknown"},
        "practice": {"common-practice"},
        "library": {"chemicals-lib", "thermo-lib"},
    }
    nothing_in(
        f"{label(name, row)} ({row['source']}, {row['provenance']})"
        for name, row in rows_with("source")
        if row["provenance"] not in own
        and row["source"] in {s for ids in own.values() for s in ids}
    )


def test_a_limit_says_what_kind_of_number_it_is_and_means_it() -> None:
    fitting = {
        "judgement": ("judgement",),
        "practice": ("practice",),
        "sourced": ("read", "memory"),
    }
    own = ("judgement", "common-practice", "unknown", "identity")
    for limit in load_limits().values():
        assert limit.provenance in fitting[limit.kind], limit.id
        assert (limit.source in own) == (limit.kind != "sourced"), limit.id
        assert limit.meaning and limit.unit, limit.id
        date.fromisoformat(limit.date)


def test_facts_have_a_kind_a_label_and_a_meaning() -> None:
    for definition in fact_dictionary().values():
        assert definition.kind in ("claim", "word", "number"), definition.name
        assert definition.label, definition.name
        assert definition.meaning, definition.name
        assert bool(definition.unit) == (definition.kind == "number"), definition.name
        assert bool(definition.no_means) == (definition.kind == "claim"), definition.name


def test_there_are_enough_identities_to_be_of_use() -> None:
    assert len({c.identity for c in load_chemicals().values()}) >= LEAST_IDENTITIES


def test_every_claim_is_answered_once_for_every_row_and_nothing_else_is() -> None:
    claims = [d.name for d in fact_dictionary().values() if d.kind == "claim"]
    words = {d.name for d in fact_dictionary().values() if d.kind == "word"}
    counted = Counter((row["key"], row["fact"]) for _, row in chemical_rows("facts.csv"))
    keys = set(load_chemicals())
    nothing_in(f"{k} has no row of {c}" for k in keys for c in claims if not counted[k, c])
    nothing_in(f"{k}, {f} stands {n} times" for (k, f), n in counted.items() if n > 1)
    nothing_in(f"{k} is no key" for k, _ in counted if k not in keys)
    nothing_in(f"{f} is no claim" for _, f in counted if f not in claims and f not in words)


def test_every_row_of_facts_and_properties_is_filed_with_its_chemical() -> None:
    group = {key: chemical.group for key, chemical in load_chemicals().items()}
    for table in ("facts.csv", "properties.csv"):
        nothing_in(
            label(name, row)
            for name, row in chemical_rows(table)
            if name != f"chemicals/{group.get(row['key'])}/{table}"
        )


def test_claims_are_yes_no_or_unknown_and_only_unknown_is_without_a_source() -> None:
    kinds = {d.name: d.kind for d in fact_dictionary().values()}
    words = {truth.value for truth in Truth}
    claims = [(n, r) for n, r in chemical_rows("facts.csv") if kinds[r["fact"]] == "claim"]
    nothing_in(label(n, r) for n, r in claims if r["value"] not in words)
    nothing_in(
        label(n, r) for n, r in claims if (r["value"] == "unknown") != (r["source"] == NO_SOURCE)
    )


def test_words_are_from_their_lists_and_not_empty() -> None:
    for name, row in chemical_rows("facts.csv"):
        if row["fact"] == "after_first":
            assert row["value"] in AFTER_FIRST, label(name, row)
        if row["fact"] == "first_detail":
            assert row["value"], label(name, row)


def test_properties_are_numbers_in_the_unit_of_their_fact() -> None:
    units = {d.name: d.unit for d in fact_dictionary().values() if d.kind == "number"}

    def faults() -> Iterator[str]:
        for name, row in chemical_rows("properties.csv"):
            if row["unit"] != units.get(row["property"], "no such property"):
                yield f"{label(name, row)}: unit {row['unit']}"
            for column in ("value", "low", "high", "temperature_c"):
                if row[column] or column == "value":
                    float(row[column])
            ends = [float(row[c]) for c in ("low", "value", "high") if row[c]]
            if ends != sorted(ends):
                yield f"{label(name, row)}: low, value and high are out of order"

    nothing_in(faults())


def test_no_value_stands_twice() -> None:
    counted = Counter(
        tuple(row[c] for c in ("key", "property", "value", "temperature_c", "source"))
        for _, row in chemical_rows("properties.csv")
    )
    assert [found for found, count in counted.items() if count > 1] == []


def test_each_identity_has_exactly_one_usual_row() -> None:
    usual: dict[str, list[str]] = defaultdict(list)
    for chemical in load_chemicals().values():
        usual[chemical.identity] += [chemical.key] if chemical.usual else []
    assert {identity: keys for identity, keys in usual.items() if len(keys) != 1} == {}


def test_rows_of_one_identity_differ_in_form_or_strength() -> None:
    counted = Counter((c.identity, c.form, c.strength_percent) for c in load_chemicals().values())
    assert [found for found, count in counted.items() if count > 1] == []


def test_forms_and_strengths_go_together() -> None:
    for chemical in load_chemicals().values():
        assert chemical.form in FORMS, chemical.key
        if chemical.strength_percent is not None:
            assert 0 < chemical.strength_percent <= 100, chemical.key
            assert chemical.form in ("solution", "liquid"), chemical.key


def test_a_name_belongs_to_one_row() -> None:
    owners: dict[str, set[str]] = defaultdict(set)
    for chemical in load_chemicals().values():
        for name in (*chemical.all_names, chemical.key):
            owners[normalize_name(name)].add(chemical.key)
    shared = {name: sorted(keys) for name, keys in owners.items() if len(keys) > 1}
    assert {name: keys for name, keys in shared.items() if name not in SHARED_NAMES} == {}
    assert set(SHARED_NAMES) <= set(shared)


def test_every_name_has_letters_and_no_separator_of_the_list() -> None:
    for chemical in load_chemicals().values():
        for name in chemical.all_names:
            assert normalize_name(name), (chemical.key, name)
            assert len(name) <= 100, (chemical.key, name)


def test_un_numbers_have_four_digits() -> None:
    found = [(c.key, un) for c in load_chemicals().values() for un in c.un]
    assert [pair for pair in found if not re.fullmatch("[0-9]{4}", pair[1])] == []


def test_agents_and_solutions_that_rules_name_are_in_their_tables_and_the_reverse() -> None:
    agents, solutions = set(), {"none"}
    facts = Facts(recommend(None).facts)
    for rule in ALL_RULES:
        for effect in rule.function(facts, Limits(load_limits())).effects:
            if isinstance(effect, DoNotUse):
                agents.add(effect.agent)
            if isinstance(effect, UseSolution | Offer):
                solutions.add(effect.solution)
    assert agents == set(do_not_use_words())
    assert solutions == set(load_solutions())
