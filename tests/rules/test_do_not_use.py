"""What to keep off: each rule's cases and the agent it names."""

from __future__ import annotations

import pytest
from made_facts import BY_ID, Changes, step_of
from rule_cases import Cases, claim, each_case

from recommender.effects import DoNotUse
from recommender.engine import Outcome
from recommender.facts import Claim

DUST: Changes = {"form_solid": True, "toxic_particulate": True}
AFTER_CONTACT = Cases(({},), ({"contact_condensed": False},), ({"contact_condensed": None},))
DUST_OR_MERCURY = Cases(
    (DUST, {"mercury_metal": True}),
    ({}, {"toxic_particulate": True}, {"form_solid": True}),
    ({"form_solid": True, "toxic_particulate": None}, {"mercury_metal": None}),
)


def any_claim(*names: str) -> Cases:
    """Cases of a rule that any of these claims sets off."""
    return Cases(
        tuple({name: True} for name in names),
        ({},),
        tuple({name: None} for name in names),
    )


CASES = {
    "DNU-010": any_claim("acid", "hydrolyzes_to_acid"),
    "DNU-011": claim("ammonia_or_amine"),
    "DNU-012": claim("cyanide"),
    "DNU-013": claim("organic_liquid"),
    "DNU-014": claim("vesicant"),
    "DNU-020": claim("cyanide"),
    "DNU-021": claim("sulfide"),
    "DNU-022": claim("hypochlorite"),
    "DNU-023": Cases(
        ({"gives_off": "phosphine"},),
        ({}, {"gives_off": "hydrogen chloride", "hydrolyzes_to_acid": True}),
        ({"gives_off": "phosphine", "hydrolyzes_to_acid": None},),
    ),
    "DNU-030": claim("reacts_violently_with_water"),
    "DNU-031": any_claim(
        "brush_before_water",
        "oxidizing_powder",
        "heats_with_water",
        "reacts_violently_with_water",
    ),
    "DNU-040": any_claim("ignites_organic_sorbents", "strong_oxidizer"),
    "DNU-050": claim("opioid"),
    "DNU-060": claim("keep_wet"),
    "DNU-070": AFTER_CONTACT,
    "DNU-080": AFTER_CONTACT,
    "DNU-090": DUST_OR_MERCURY,
    "DNU-091": DUST_OR_MERCURY,
    "DNU-100": claim("gas_when_sealed"),
    "DNU-110": any_claim("acid", "alkali"),
}
EDGES: dict[str, tuple[()]] = {}
AS_VALUES: dict[str, set[str]] = {}

# What makes acid with water all by itself is not kept from acid on that account.
TAKES_BACK = {"DNU-023": {"hydrolyzes_to_acid"}}

AGENTS = {
    "DNU-010": "hypochlorite",
    "DNU-011": "hypochlorite",
    "DNU-012": "hypochlorite",
    "DNU-013": "hypochlorite",
    "DNU-014": "hypochlorite",
    "DNU-020": "acid",
    "DNU-021": "acid",
    "DNU-022": "acid",
    "DNU-023": "acid",
    "DNU-030": "water-first",
    "DNU-031": "little-water",
    "DNU-040": "organic-sorbent",
    "DNU-050": "alcohol-or-bleach-on-skin",
    "DNU-060": "copper-sulfate",
    "DNU-070": "solvent",
    "DNU-080": "blast",
    "DNU-090": "brush",
    "DNU-091": "vacuum",
    "DNU-100": "seal",
    "DNU-110": "neutralizer-on-people",
}


@pytest.mark.parametrize(("rule_id", "outcome", "changes"), each_case(CASES))
def test_the_rule_finds(rule_id: str, outcome: Outcome, changes: Changes) -> None:
    assert step_of(rule_id, changes).outcome is outcome


@pytest.mark.parametrize(("rule_id", "agent"), AGENTS.items())
def test_the_rule_names_its_agent_settled_and_in_doubt(rule_id: str, agent: str) -> None:
    for changes in (*CASES[rule_id].applies, *CASES[rule_id].cannot_tell):
        (effect,) = step_of(rule_id, changes).taken
        assert isinstance(effect, DoNotUse)
        assert effect.agent == agent
        assert effect.why


@pytest.mark.parametrize("rule_id", CASES)
def test_no_further_hazard_takes_a_do_not_use_back(rule_id: str) -> None:
    for changes in CASES[rule_id].applies:
        read = [fact for fact in step_of(rule_id, changes).facts if isinstance(fact, Claim)]
        hazards = {fact.name for fact in read} - {"contact_condensed", *changes}
        lost = {
            name
            for name in hazards
            for answer in (True, None)
            if not step_of(rule_id, {**changes, name: answer}).taken
        }
        assert lost == TAKES_BACK.get(rule_id, set())


@pytest.mark.parametrize("rule_id", CASES)
def test_no_do_not_use_can_be_switched_off(rule_id: str) -> None:
    assert BY_ID[rule_id].floor


def test_water_first_leaves_the_flush_of_skin_alone() -> None:
    for changes in CASES["DNU-030"].applies + CASES["DNU-030"].cannot_tell:
        (effect,) = step_of("DNU-030", changes).taken
        assert "skin is flooded at once" in effect.why  # type: ignore[union-attr]


def test_a_product_that_stays_dry_is_given_no_water_at_all() -> None:
    reactive = {"reacts_violently_with_water": True}
    for rule_id, words in (("DNU-030", "no water on suits"), ("DNU-031", "none on suits")):
        (dry,) = step_of(rule_id, {**reactive, "stays_dry": True}).taken
        (flooded,) = step_of(rule_id, reactive).taken
        assert words in dry.why  # type: ignore[union-attr]
        assert words not in flooded.why  # type: ignore[union-attr]
