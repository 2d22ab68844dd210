"""CAS numbers: published numbers are accepted, slips are refused with the digit that fits."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recommender.chemicals.cas import check_digit, looks_like_cas, normalize_cas
from recommender.errors import CasError, InputError

# 107-07-3 is the worked example of CAS itself ("Check Digit Verification of CAS Registry
# Numbers"). The others are numbers in everyday use; that they belong to the named substances was
# compared with the package chemicals 1.5.2.
PUBLISHED = (
    "107-07-3",  # 2-chloroethanol
    "50-00-0",  # formaldehyde
    "67-64-1",  # acetone
    "71-23-8",  # 1-propanol
    "107-44-8",  # sarin
    "505-60-2",  # sulfur mustard
    "7664-93-9",  # sulfuric acid
    "7732-18-5",  # water
    "7782-50-5",  # chlorine
    "50782-69-9",  # VX
)

bodies = st.integers(min_value=1000, max_value=999_999_999).map(str)


def hyphenated(body: str) -> str:
    return f"{body[:-2]}-{body[-2:]}-{check_digit(body)}"


@pytest.mark.parametrize("number", PUBLISHED)
def test_a_published_number_is_its_own_normal_form(number: str) -> None:
    assert normalize_cas(number) == number
    assert looks_like_cas(number)


def test_the_check_digit_of_the_published_worked_example_is_three() -> None:
    assert check_digit("107-07") == 3
    assert check_digit("10707") == 3


@pytest.mark.parametrize(
    "text",
    [
        "67-64-1",
        " 67-64-1 ",
        "67641",
        "0000067641",
        "000067-64-1",
        "67 64 1",
        "67 - 64 - 1",
        "CAS 67-64-1",
        "cas: 67-64-1",
        "CAS No. 67-64-1",
        "CAS-No.: 67-64-1",
        "CAS RN 67-64-1",
        "CASRN 67-64-1",
        "CAS#67-64-1",
        "CAS Registry Number 67-64-1",
        "CAS 67641",
        "[67-64-1]",
        "CAS [67-64-1]",
        "(CAS 67-64-1)",
        "67\u201064\u20101",
        "67\u201164\u20111",
        "67\u201364\u20131",
        "67\u221264\u22121",
        "67\uff0d64\uff0d1",
        "６７-６４-１",
        "67-64-1\u200b",
        "67\u00a064\u00a01",
    ],
)
def test_every_way_of_writing_acetone_is_the_same_number(text: str) -> None:
    assert normalize_cas(text) == "67-64-1"
    assert looks_like_cas(text)


@pytest.mark.parametrize("last", "023456789")
def test_a_wrong_last_digit_is_refused_with_the_digit_that_fits(last: str) -> None:
    with pytest.raises(CasError, match=r"last digit should be 1, not " + last):
        normalize_cas(f"67-64-{last}")
    assert looks_like_cas(f"67-64-{last}")


def test_two_exchanged_digits_are_refused() -> None:
    with pytest.raises(CasError, match="at least one digit is wrong"):
        normalize_cas("76-64-1")


@pytest.mark.parametrize(
    "text",
    [
        "",
        " ",
        "-",
        "acetone",
        "UN1090",
        "1090",
        "6-76-41",
        "676-41",
        "67-641",
        "67-64",
        "67--64--1",
        "12345678-90-1",
        "12345678901",
        "0-00-0",
        "000-00-0",
        "00000",
        "05-00-0",
        "67-64-1, 71-23-8",
        "67-64-1\u00b2",
        "67-64-\u00b9",
        "67/64/1",
        "67.64.1",
        "NaN",
        "1e5",
        "__import__('os')",
        "67-64-1\x00",
        "\x00",
        "\ud800",
        "9" * 10_000,
        "CAS",
        "CAS " * 5_000,
        "-" * 59,
    ],
)
def test_anything_else_is_refused_with_an_example(text: str) -> None:
    with pytest.raises(CasError, match="67-64-1"):
        normalize_cas(text)


@pytest.mark.parametrize("thing", [None, 67641, b"67-64-1", ["67-64-1"]])
def test_a_thing_that_is_not_text_is_refused(thing: object) -> None:
    with pytest.raises(CasError, match="of type"):
        normalize_cas(thing)  # type: ignore[arg-type]
    assert not looks_like_cas(thing)  # type: ignore[arg-type]
    with pytest.raises(CasError):
        check_digit(thing)  # type: ignore[arg-type]


def test_four_digits_are_said_to_be_a_un_number() -> None:
    with pytest.raises(CasError, match="UN number"):
        normalize_cas("1090")
    assert not looks_like_cas("1090")


@pytest.mark.parametrize("digits, accepted", [(4, False), (5, True), (10, True), (11, False)])
def test_a_number_has_five_to_ten_digits(digits: int, accepted: bool) -> None:
    body = "1" * (digits - 1)
    if accepted:
        assert normalize_cas(body + str(check_digit(body))).replace("-", "").startswith(body)
    else:
        with pytest.raises(CasError):
            normalize_cas("1" * digits)


@pytest.mark.parametrize(
    "body", ["", "1", "123", "1234567890", "67-64-1", "ab-cd", "6-764", "６７６４"]
)
def test_a_body_that_is_not_four_to_nine_digits_is_refused(body: str) -> None:
    with pytest.raises(CasError, match="67-64"):
        check_digit(body)


@pytest.mark.parametrize(
    "name",
    [
        "acetone",
        "2,4-D",
        "1,1,1-trichloroethane",
        "1-1-1-trichloroethane",
        "casein",
        "UN 1090",
        "HFC-134a",
        "PCB 1254",
        "case 12-34-5",
        "VX",
        "",
    ],
)
def test_names_do_not_look_like_cas_numbers(name: str) -> None:
    assert not looks_like_cas(name)


def test_digits_after_the_letters_cas_are_meant_as_a_number_even_when_malformed() -> None:
    assert looks_like_cas("CAS 67-641")
    with pytest.raises(CasError, match="2 to 7 digits"):
        normalize_cas("CAS 67-641")


def test_a_cas_error_is_an_input_error_and_a_value_error() -> None:
    assert issubclass(CasError, InputError)
    assert issubclass(CasError, ValueError)


def test_a_message_shows_no_control_characters_and_stays_short() -> None:
    with pytest.raises(CasError) as caught:
        normalize_cas("\x1b[2J" + "x" * 500)
    assert "\x1b" not in str(caught.value)
    assert len(str(caught.value)) < 300


@given(bodies)
def test_a_number_with_its_check_digit_survives_every_spelling(body: str) -> None:
    number = hyphenated(body)
    for spelled in (
        number,
        number.replace("-", ""),
        f"CAS {number}",
        number.replace("-", "\u2013"),
    ):
        assert normalize_cas(spelled) == number


@given(bodies, st.integers(min_value=1, max_value=9))
def test_every_other_last_digit_is_refused_with_the_right_one(body: str, off: int) -> None:
    right = check_digit(body)
    with pytest.raises(CasError, match=f"should be {right}, not {(right + off) % 10}"):
        normalize_cas(f"{body[:-2]}-{body[-2:]}-{(right + off) % 10}")


@given(bodies, st.data())
def test_exchanging_two_neighbors_before_the_check_digit_is_always_found(
    body: str, data: st.DataObject
) -> None:
    at = data.draw(st.integers(min_value=0, max_value=len(body) - 2))
    slip = body[:at] + body[at + 1] + body[at] + body[at + 2 :]
    if slip != body:
        assert check_digit(slip) != check_digit(body)


hostile = st.text(max_size=80) | st.text("0123456789-\u2013 CAScas#:.[]", max_size=30)


@given(hostile)
def test_any_text_gives_a_number_or_a_cas_error(text: str) -> None:
    looks = looks_like_cas(text)
    try:
        number = normalize_cas(text)
    except CasError:
        return
    assert looks
    assert re.fullmatch(r"[1-9][0-9]{1,6}-[0-9]{2}-[0-9]", number)
    assert normalize_cas(number) == number
