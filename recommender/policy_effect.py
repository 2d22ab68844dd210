"""What a local policy does to the packaged table: which plans come out more or less cautious."""

from __future__ import annotations

from dataclasses import dataclass

from recommender.chemicals.table import Chemical, load_chemicals
from recommender.policy import Policy
from recommender.recommend import Plan, recommend
from recommender.scene import Scene


@dataclass(frozen=True, slots=True)
class TableEffect:
    """Plans for every packaged row after a splash, everything else left out.

    Attributes:
        more, fewer: (name, positions without the policy, positions with it).
        less_range: names whose range ends lower although the estimate stands.
        longer, shorter: rows whose persistence grade is longer or shorter.
        line_no_longer: rows for which the standard line is no longer asked for.
        line_now: rows for which it now is.
    """

    rows: int
    more: tuple[tuple[str, int, int], ...]
    fewer: tuple[tuple[str, int, int], ...]
    less_range: tuple[str, ...]
    longer: int
    shorter: int
    line_no_longer: int
    line_now: int


def _pairs(policy: Policy) -> list[tuple[Chemical, Plan, Plan]]:
    scene = Scene()
    return [
        (chemical, recommend(chemical, scene), recommend(chemical, scene, policy=policy))
        for chemical in load_chemicals().values()
    ]


def compare_table(policy: Policy) -> TableEffect:
    """Plan every packaged row with and without the policy and compare the two."""
    pairs = _pairs(policy)
    counts = [
        (c.name, a.outcomes.stations.recommended, b.outcomes.stations.recommended)
        for c, a, b in pairs
    ]
    grades = [(a.outcomes.persistence.grade, b.outcomes.persistence.grade) for _, a, b in pairs]
    lines = [(a.standard_line.applies, b.standard_line.applies) for _, a, b in pairs]
    return TableEffect(
        rows=len(pairs),
        more=tuple(x for x in counts if x[2] > x[1]),
        fewer=tuple(x for x in counts if x[2] < x[1]),
        less_range=tuple(
            c.name
            for c, a, b in pairs
            if a.outcomes.stations.recommended == b.outcomes.stations.recommended
            and b.outcomes.stations.high < a.outcomes.stations.high
        ),
        longer=sum(after > before for before, after in grades),
        shorter=sum(after < before for before, after in grades),
        line_no_longer=sum(before and not after for before, after in lines),
        line_now=sum(after and not before for before, after in lines),
    )
