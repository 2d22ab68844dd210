"""The judgement: every rule, by stage, in the order in which it is run and shown."""

from __future__ import annotations

from recommender.engine import Rule, Stage
from recommender.rules import (
    cautions_life,
    cautions_other,
    checks,
    do_not_use,
    gross,
    method,
    persistence,
    solution,
    stage_model,
    stations,
)

ALL_RULES: tuple[Rule, ...] = (
    *method.RULES,
    *persistence.RULES,
    *gross.RULES,
    *stations.RULES,
    *stage_model.RULES,
    *solution.RULES,
    *do_not_use.RULES,
    *checks.RULES,
    *cautions_life.RULES,
    *cautions_other.RULES,
)

BY_STAGE: dict[Stage, tuple[Rule, ...]] = {
    stage: tuple(r for r in ALL_RULES if r.stage is stage) for stage in Stage
}
