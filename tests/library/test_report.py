"""Coverage and disagreements in figures and words."""

from __future__ import annotations

from recommender.library.report import COVERED, coverage, disagreement_text
from recommender.library.store import Store


def test_coverage_counts_what_is_held_by_basis_and_by_rule(store: Store) -> None:
    found = coverage(store, ["108-88-3", "67-64-1", "7647-14-5", "50-99-7", "108-88-3"])
    assert (found.asked, found.held) == (4, 3)
    assert set(found.properties) == set(COVERED)
    assert found.properties["vapor_pressure"] == {"correlated": 2, "rule": 1}
    assert sum(found.properties["melting_point"].values()) == 3


def test_disagreements_are_listed_with_name_number_action_and_reason(store: Store) -> None:
    text = disagreement_text(store, cas="78-00-2", name="melting_point")
    assert "(CAS 78-00-2), melting point, drop: Common Chemistry says 133" in text
    assert len(disagreement_text(store, limit=5).splitlines()) == 5
