"""Which wash solution, and which reagents a technician may choose."""

from __future__ import annotations

from recommender.effects import Offer, UseSolution
from recommender.engine import Decision, Stage, rule, when
from recommender.facts import Facts, Verdict, all_of, any_of, not_
from recommender.limits import Limits

_STAGE = Stage.SOLUTION


def _is_washed(facts: Facts) -> Verdict:
    """Whether any wash follows: nothing is mixed for airing, a hold, or a product kept dry."""
    return all_of(
        not_(facts["first_is_air"]), not_(facts["first_is_hold"]), not_(facts["stays_dry"])
    )


@rule(
    "SOL-010",
    title="Liquid detergent and water",
    stage=_STAGE,
    sources=("doe-em-5503", "ppe-line-study"),
)
def detergent(facts: Facts, limits: Limits) -> Decision:
    """Removal does the work: brushing with detergent beats a reagent in a two-minute line."""
    return when(
        _is_washed(facts),
        UseSolution("detergent", "removal does the work, not chemistry"),
    )


@rule("SOL-020", title="Plain water", stage=_STAGE, sources=("judgement", "tccc-burns"))
def plain_water(facts: Facts, limits: Limits) -> Decision:
    """Very soluble salts, acids and alkalis leave with water; detergent adds nothing.

    So does lime or cement once it has been brushed off, and an oxidizing solid.
    """
    soluble = facts.number("water_solubility").at_least(limits["solution.plain_water_solubility"])
    return when(
        all_of(
            _is_washed(facts),
            any_of(
                all_of(soluble, any_of(facts["acid"], facts["alkali"], facts["salt"])),
                all_of(facts["brush_before_water"], facts["alkali"]),
                all_of(facts["strong_oxidizer"], facts["form_solid"]),
            ),
            not_(facts["biological"]),
            not_(facts["radioactive"]),
        ),
        UseSolution("plain-water", "very soluble salt, acid or alkali"),
    )


@rule("SOL-030", title="Washing soda on equipment", stage=_STAGE, sources=("fao-v8966e",))
def carbonate(facts: Facts, limits: Limits) -> Decision:
    """A published text follows detergent with washing soda for phosphate and carbamate residues."""
    return when(
        all_of(facts["carbonate_helps"], not_(facts["reacts_violently_with_water"])),
        Offer("sodium-carbonate", "on equipment, after detergent"),
    )


@rule(
    "SOL-040",
    title="Hypochlorite on equipment",
    stage=_STAGE,
    sources=("tm-9-1300-275-2", "ppe-line-study"),
)
def hypochlorite_offer(facts: Facts, limits: Limits) -> Decision:
    """Some products break down in hypochlorite, slowly: thirty minutes on equipment, not a line."""
    return when(
        facts["hypochlorite_breaks_down"],
        Offer("hypochlorite-0.5", "on equipment once the product itself is off, never on people"),
    )


RULES = (
    detergent,
    plain_water,
    carbonate,
    hypochlorite_offer,
)
