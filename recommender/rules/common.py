"""Combinations of facts that more than one rule reads."""

from __future__ import annotations

from recommender.effects import Grade
from recommender.facts import Facts, Verdict, all_of, any_of, not_, settled
from recommender.limits import Limits


def harms_through_skin(facts: Facts, limits: Limits) -> Verdict:
    """Whether the product kills or maims through skin; volatility plays no part."""
    category = facts.number("dermal_category")
    return any_of(
        category.at_most(limits["stations.dermal_severe"]),
        all_of(category.at_most(limits["stations.dermal_with_notation"]), facts["skin_notation"]),
        facts["toxic_6_1_pg_i"],
        facts["vesicant"],
        facts["nerve_agent"],
        facts["cholinesterase_inhibitor"],
        facts["pcb_or_dioxin"],
        facts["hydrofluoric_type"],
    )


def stays_for_hours(facts: Facts) -> Verdict:
    """Whether the film stays for hours or days."""
    return facts.number("persistence").at_least(float(Grade.HOURS))


def is_thick(facts: Facts, limits: Limits) -> Verdict:
    """Whether it is thick, gummy or tarry."""
    return any_of(
        facts["thick_or_tarry"],
        facts.number("viscosity").above(limits["stations.thick_viscosity"]),
    )


def water_alone_fails(facts: Facts, limits: Limits) -> Verdict:
    """Whether it is sparingly soluble or thick."""
    sparing = facts.number("water_solubility").below(limits["stations.sparing_solubility"])
    return any_of(sparing, is_thick(facts, limits))


def leaves_nothing(facts: Facts, limits: Limits) -> Verdict:
    """Whether a cryogenic liquid or liquefied gas boils off and leaves nothing that harms skin."""
    return all_of(
        any_of(
            facts["form_cryogenic"],
            all_of(
                facts["form_gas"],
                facts["film_impossible"],
                facts.number("boiling_point").at_most(limits["state.frost_boiling_point"]),
            ),
        ),
        not_(harms_through_skin(facts, limits)),
        not_(facts["skin_corrosive"]),
        not_(facts["irritant_soluble_gas"]),
        not_(facts["pyrophoric"]),
        not_(facts["reacts_violently_with_water"]),
    )


def reads_on_paper(facts: Facts) -> Verdict:
    """Whether pH paper sees the residue."""
    return any_of(facts["acid"], facts["alkali"], facts["hydrolyzes_to_acid"])


def gives_vapor(facts: Facts) -> Verdict:
    """Whether it has a vapor at all: a solid without a measured vapor pressure has none."""
    return any_of(
        facts["form_liquid"],
        facts["form_gas"],
        facts["form_cryogenic"],
        settled(facts.number("vapor_pressure").is_known),
    )


def vapor_is_dangerous(facts: Facts, limits: Limits) -> Verdict:
    """Whether vapor off a wet suit can pass the immediately-dangerous level.

    Where no such level is published, traces of vapor below a stated concentration are passed over,
    and so is what gives off nothing but water or inert gas.
    """
    has_level = settled(facts.number("idlh").is_known)
    may_off_gas = any_of(
        has_level,
        facts["organic_liquid"],
        facts["fumes"],
        facts["irritant_soluble_gas"],
        facts["ammonia_or_amine"],
        facts["known_human_carcinogen"],
    )
    saturation = facts.number("saturation")
    return all_of(
        gives_vapor(facts),
        not_(facts["not_classified_for_health"]),
        not_(
            all_of(
                facts["asphyxiant"],
                not_(has_level),
                not_(facts["known_human_carcinogen"]),
                not_(facts["delayed_effect"]),
            )
        ),
        may_off_gas,
        any_of(
            has_level,
            saturation.at_least(limits["cautions.vapor_trace"]),
            all_of(facts["mixture"], facts["flammable"]),
        ),
        any_of(
            all_of(facts["film_impossible"], facts.number("idlh").above(0.0)),
            facts.number("vapor_hazard_ratio").above(limits["checks.vapor_hazard_ratio"]),
        ),
    )
