"""The ways one name may be written: spelling changes, meaning does not."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recommender.chemicals.lookup import normalize_name
from recommender.library.normalize import plainest, readings


def texts(typed: str) -> list[str]:
    """Return the names that are looked for."""
    return [way.text for way in readings(typed)]


@pytest.mark.parametrize(
    ("typed", "read"),
    [
        ("sulphuryl fluoride", "sulfuryl fluoride"),
        ("aluminium phosphide", "aluminum phosphide"),
        ("caesium hydroxide", "cesium hydroxide"),
        ("t-butyl alcohol", "tert-butyl alcohol"),
        ("tertiary butyl alcohol", "tert-butyl alcohol"),
        ("methyl t-butyl ether", "methyl tert-butyl ether"),
        ("s-butyl alcohol", "sec-butyl alcohol"),
        ("i-propyl alcohol", "isopropyl alcohol"),
        ("n-butyl acetate", "butyl acetate"),
        ("di-n-butylamine", "di-butylamine"),
        ("hexane", "n-hexane"),
        ("ortho-xylene", "o-xylene"),
        ("p-nitrotoluene", "4-nitrotoluene"),
        ("2-nitrotoluene", "o-nitrotoluene"),
        ("butan-2-ol", "2-butanol"),
        ("pent-1-ene", "1-pentene"),
        ("hexanone-2", "2-hexanone"),
        ("Benzene, chloro-", "chloroBenzene"),
        ("acid, nitric", "nitric acid"),
        ("toluene, anhydrous", "toluene"),
        ("anhydrous toluene", "toluene"),
        ("chlorine, liquefied gas", "chlorine"),
        ("naphthalene, molten", "naphthalene"),
        ("acrylonitrile, stabilized", "acrylonitrile"),
        ("potassium cyanide solution 20 %", "potassium cyanide"),
        ("20% potassium cyanide solution", "potassium cyanide"),
        ("hydrogen chloride (anhydrous)", "hydrogen chloride"),
        ("toluene-2,4-diisocyanate (TDI)", "toluene-2,4-diisocyanate"),
    ],
)
def test_a_name_is_also_read_in_its_other_spelling(typed: str, read: str) -> None:
    assert read in texts(typed)


@pytest.mark.parametrize(
    ("typed", "never"),
    [
        ("N-methylaniline", "methylaniline"),
        ("n-butylaniline", "butylaniline"),
        ("mustard gas", "mustard"),
        ("water gas", "water"),
        ("tear gas", "tear"),
        ("marsh gas", "marsh"),
        ("fuming nitric acid", "nitric acid"),
        ("crude oil", "oil"),
        ("copper sulfate pentahydrate", "copper sulfate"),
        ("iron (III) chloride", "iron chloride"),
        ("xylene (mixed isomers)", "xylene"),
        ("nitrotoluene (o-isomer)", "nitrotoluene"),
        ("boron trifluoride compound with methyl ether (1:1)", "boron trifluoride"),
        ("nicotine sulfate", "nicotine"),
    ],
)
def test_a_word_that_carries_meaning_stays(typed: str, never: str) -> None:
    assert normalize_name(never) not in [way.key for way in readings(typed)]


def test_what_stood_in_the_name_is_kept() -> None:
    last = readings("potassium cyanide solution 20 %")[-1]
    assert (last.form, last.strength, last.left_off) == ("solution", 20.0, ("solution",))
    assert readings("hydrazine, anhydrous")[-1].undiluted
    assert not readings("hydrazine")[0].undiluted


def test_what_was_typed_comes_first() -> None:
    assert texts("o-nitrotoluene")[0] == "o-nitrotoluene"
    assert readings("o-nitrotoluene")[0].left_off == ()


def test_the_plainest_reading_is_what_near_names_are_sought_for() -> None:
    assert plainest("sulphuric acid solution 30 %") == "sulfuricacid"
    assert plainest("") == ""


@given(st.text(max_size=80))
def test_any_text_has_readings_each_once(text: str) -> None:
    keys = [way.key for way in readings(text)]
    assert len(keys) == len(set(keys)) <= 60
    assert all(keys)
