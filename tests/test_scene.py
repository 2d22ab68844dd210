"""The scene: what it takes, what it refuses, and what it leaves unstated."""

from __future__ import annotations

import math
from dataclasses import FrozenInstanceError, fields
from typing import Any

import pytest

from recommender.chemicals.table import FORMS
from recommender.dimensions import AIR_TEMPERATURE_C, HIGHEST_WIND_M_S, PRODUCT_TEMPERATURE_C
from recommender.errors import InputError, SceneError
from recommender.scene import CONTACTS, SUITS, TECHNICIANS, Scene

STEP = 1e-6
RANGES = {
    "air_temperature_c": AIR_TEMPERATURE_C,
    "product_temperature_c": PRODUCT_TEMPERATURE_C,
    "wind_m_s": (0.0, HIGHEST_WIND_M_S),
    "concentration_percent": (0.0, 100.0),
}
CHOICES = {
    "contact": CONTACTS,
    "suit": SUITS,
    "technician": TECHNICIANS,
    "form": FORMS,
}


def scene_with(name: str, value: Any) -> Scene:
    """Build a scene with one field given."""
    return Scene(**{name: value})


def test_nothing_stated_is_a_splash_with_no_technician_and_no_credit() -> None:
    scene = Scene()
    assert scene.contact == "splash"
    assert scene.technician == "not-yet"
    assert scene.suit == "unspecified"
    assert not scene.airing_place
    assert not scene.failed_check
    for name in (*RANGES, "form"):
        assert getattr(scene, name) is None


@pytest.mark.parametrize("name", RANGES)
def test_a_value_at_either_end_is_taken(name: str) -> None:
    for end in RANGES[name]:
        assert getattr(scene_with(name, end), name) == end


@pytest.mark.parametrize("name", RANGES)
def test_a_value_just_inside_either_end_is_taken(name: str) -> None:
    low, high = RANGES[name]
    for value in (low + STEP, high - STEP):
        assert getattr(scene_with(name, value), name) == value


@pytest.mark.parametrize("name", RANGES)
def test_a_value_just_outside_either_end_is_refused_with_the_range(name: str) -> None:
    low, high = RANGES[name]
    for value in (low - STEP, high + STEP):
        with pytest.raises(SceneError, match="between") as refused:
            scene_with(name, value)
        assert f"{low:g}" in str(refused.value)
        assert f"{high:g}" in str(refused.value)


@pytest.mark.parametrize("name", RANGES)
@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_a_number_that_is_no_measurement_is_refused(name: str, value: float) -> None:
    with pytest.raises(SceneError):
        scene_with(name, value)


@pytest.mark.parametrize("name", RANGES)
@pytest.mark.parametrize("value", ["20", "20C", [20], (20,), {}, object(), 20j])
def test_a_value_that_is_no_number_is_refused(name: str, value: Any) -> None:
    with pytest.raises(SceneError):
        scene_with(name, value)


@pytest.mark.parametrize("name", CHOICES)
def test_each_listed_word_is_taken(name: str) -> None:
    for word in CHOICES[name]:
        assert getattr(scene_with(name, word), name) == word


@pytest.mark.parametrize("name", CHOICES)
@pytest.mark.parametrize("word", ["", "Splash", "SPLASH ", "other", "level a", "none", "0"])
def test_a_word_that_is_not_listed_is_refused_with_the_list(name: str, word: str) -> None:
    with pytest.raises(SceneError) as refused:
        scene_with(name, word)
    for listed in CHOICES[name]:
        assert listed in str(refused.value)


@pytest.mark.parametrize("name", ["contact", "suit", "technician"])
def test_a_choice_cannot_be_left_empty(name: str) -> None:
    with pytest.raises(SceneError):
        scene_with(name, None)


def test_a_refused_scene_is_an_input_error_and_a_value_error() -> None:
    with pytest.raises(InputError):
        Scene(wind_m_s=-1.0)
    with pytest.raises(ValueError, match="wind"):
        Scene(wind_m_s=-1.0)


def test_a_scene_cannot_be_changed_after_it_was_checked() -> None:
    scene = Scene()
    for field in fields(scene):
        with pytest.raises(FrozenInstanceError):
            setattr(scene, field.name, "anything")


def test_the_same_scene_stated_twice_is_the_same_scene() -> None:
    assert Scene(contact="gross", wind_m_s=3.0) == Scene(contact="gross", wind_m_s=3.0)
    assert Scene(contact="gross") != Scene(contact="splash")


def test_whole_numbers_are_numbers() -> None:
    assert Scene(air_temperature_c=20, wind_m_s=0).air_temperature_c == 20
