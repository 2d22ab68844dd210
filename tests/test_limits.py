"""Limits: what the table holds, and the view that records what is read from it."""

from __future__ import annotations

from pathlib import Path

import pytest

import recommender
from recommender.errors import DataError
from recommender.limits import SAFER, Limits, load_limits

PACKAGE = Path(recommender.__file__).parent
# Limits in families, whose names the code puts together out of a stem and an end.
FAMILIES = (
    "ghs.dermal_",
    "ghs.dermal_point_",
    "persistence.wind_share_",
    "stage_model.load_",
    "stage_model.removal_",
    "stage_model.floor_",
)
# Kept for the layout of the line, which is not planned yet.
NOT_YET_READ = ("kit.towels_per_person",)


def test_a_view_gives_the_limit_and_its_value_and_records_each_read_once() -> None:
    limits = Limits(load_limits())
    limit = limits["stations.cap"]
    assert limits.value("stations.cap") == limit.value == float(limit)
    limits.value("stations.floor")
    assert list(limits.reads) == ["stations.cap", "stations.floor"]


def test_a_limit_that_no_row_holds_is_an_error_that_names_it() -> None:
    with pytest.raises(DataError, match=r"stations\.most"):
        Limits(load_limits())["stations.most"]


def test_reading_one_view_leaves_no_mark_on_another() -> None:
    first, second = Limits(load_limits()), Limits(load_limits())
    first.value("stations.cap")
    assert second.reads == {}


def test_safer_directions_are_from_their_list() -> None:
    assert {limit.safer for limit in load_limits().values()} <= set(SAFER)


def test_every_limit_is_read_somewhere_in_the_code() -> None:
    code = "".join(path.read_text("utf-8") for path in PACKAGE.rglob("*.py"))

    def is_read(name: str) -> bool:
        own = (name, name.split(".")[1])
        return any(f'"{part}"' in code for part in own) or name.startswith(FAMILIES)

    assert {name for name in load_limits() if not is_read(name)} == set(NOT_YET_READ)


def test_every_family_of_limits_is_put_together_in_the_code() -> None:
    code = "".join(path.read_text("utf-8") for path in PACKAGE.rglob("*.py"))
    assert [stem for stem in FAMILIES if f'f"{stem}' not in code] == []


@pytest.mark.parametrize(
    ("smaller", "greater"),
    [
        ("persistence.minutes_end", "persistence.hour_end"),
        ("persistence.hour_end", "persistence.hours_end"),
        ("persistence.film_drained", "persistence.film"),
        ("persistence.film", "persistence.film_puddle"),
        ("persistence.wind_share_low", "persistence.wind_share_mid"),
        ("persistence.wind_share_mid", "persistence.wind_share_high"),
        ("uncertainty.default_density", "uncertainty.heavy_density"),
        ("stations.contact", "stations.unknown"),
        ("stations.unknown", "stations.cap"),
        ("stations.sparing_solubility", "stations.freely_soluble"),
        ("stage_model.oily_solubility", "stations.sparing_solubility"),
        ("stage_model.thin_viscosity", "stations.thick_viscosity"),
        ("stations.dermal_severe", "stations.dermal_with_notation"),
        ("ghs.dermal_1", "ghs.dermal_2"),
        ("ghs.dermal_2", "ghs.dermal_3"),
        ("ghs.dermal_3", "ghs.dermal_4"),
        ("ghs.dermal_4", "ghs.dermal_5"),
        ("ghs.dermal_point_1", "ghs.dermal_1"),
        ("ghs.dermal_point_2", "ghs.dermal_2"),
        ("ghs.dermal_point_3", "ghs.dermal_3"),
        ("ghs.dermal_point_4", "ghs.dermal_4"),
        ("stage_model.load_splash", "stage_model.load_gross"),
        ("stage_model.floor_smooth", "stage_model.floor_porous"),
        ("stage_model.removal_thick", "stage_model.removal_oily"),
        ("stage_model.removal_oily", "stage_model.removal_detergent"),
        ("stage_model.removal_detergent", "stage_model.removal_free"),
        ("cautions.freezing_line", "cautions.cold_wet_line"),
        ("cautions.cold_wet_line", "cautions.heat_check"),
        ("water.per_person_low", "water.per_person_high"),
        ("crew.per_position_low", "crew.per_position_high"),
    ],
)
def test_limits_that_belong_together_stand_in_order(smaller: str, greater: str) -> None:
    limits = load_limits()
    assert limits[smaller].value < limits[greater].value
