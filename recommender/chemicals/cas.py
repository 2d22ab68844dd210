"""Read CAS Registry Numbers and verify their check digit.

A number has two to seven digits, two digits, and one check digit. The check digit is the last
digit of the sum in which the digits before it, counted from the right, are multiplied by 1, 2, 3
and so on. Source: CAS, "Check Digit Verification of CAS Registry Numbers" (cas.org).

A check digit finds most slips, not all of them, and a number that passes can still be another
chemical's. Compare the name as well.
"""

from __future__ import annotations

import re
import unicodedata

from recommender.errors import CasError
from recommender.units import show_typed

_EXAMPLE = "Write it as on the SDS, for example 67-64-1."
_LONGEST = 60
_HYPHENS = str.maketrans(
    {
        **dict.fromkeys("\u00ad\u2010\u2011\u2012\u2013\u2014\u2015\u2043\u2212", "-"),
        **dict.fromkeys("\u200b\u200e\u200f\u2060\ufeff"),
    }
)
_PREFIX = re.compile(
    r"CAS(?:[\s-]*(?:RN|Registry|Reg\.?))?(?:[\s-]*(?:Numbers?|No\.?|Nr\.?|#))?[\s:.#=(\[-]*(?=[0-9])",
    re.IGNORECASE,
)
_GROUPED = re.compile(r"0*([1-9][0-9]{1,6})\s*-\s*([0-9]{2})\s*-\s*([0-9])")
_SPACED = re.compile(r"0*([1-9][0-9]{1,6}) ([0-9]{2}) ([0-9])")
_SOLID = re.compile(r"0*([1-9][0-9]{1,6})([0-9]{2})([0-9])")
_BODY = re.compile(r"([0-9]{2,7})-?([0-9]{2})")


def _plain(text: object) -> tuple[str, bool]:
    """Return the number in plain characters, and whether a CAS prefix stood before it."""
    if not isinstance(text, str) or len(text) > 10 * _LONGEST:
        return "", False
    if any(unicodedata.category(c) == "No" for c in text):  # a raised footnote sign is no digit
        return "", False
    plain = unicodedata.normalize("NFKC", text.translate(_HYPHENS)).translate(_HYPHENS)
    plain = " ".join(plain.split()).strip("[]() ")
    if len(plain) > _LONGEST:
        return "", False
    prefix = _PREFIX.match(plain)
    return (plain[prefix.end() :], True) if prefix else (plain, False)


def _groups(plain: str) -> re.Match[str] | None:
    """Match a number in one of the ways it is written: hyphens, blanks or nothing between."""
    return _GROUPED.fullmatch(plain) or _SPACED.fullmatch(plain) or _SOLID.fullmatch(plain)


def check_digit(body: str) -> int:
    """Return the check digit that belongs after a body, such as ``67-64`` or ``6764``.

    Raises:
        CasError: the body is not four to nine digits.
    """
    found = _BODY.fullmatch(body) if isinstance(body, str) else None
    if not found:
        raise CasError(
            f"The CAS number without its last digit {show_typed(body)} cannot be used: it has to "
            "be 2 to 7 digits and 2 digits, for example 67-64."
        )
    digits = found[1] + found[2]
    return sum(place * int(digit) for place, digit in enumerate(reversed(digits), 1)) % 10


def looks_like_cas(text: str) -> bool:
    """Tell whether a text is meant as a CAS number, right or wrong; never raises.

    True for anything that has the shape of one, and for digits after the letters CAS, so that a
    slip is answered with what is wrong with it and not with "no chemical has this name".
    """
    plain, has_prefix = _plain(text)
    if has_prefix:
        return re.fullmatch(r"[0-9][0-9\s-]*", plain) is not None
    return _groups(plain) is not None


def normalize_cas(text: str) -> str:
    """Return a CAS number with hyphens and without leading zeros: ``67641`` gives ``67-64-1``.

    Raises:
        CasError: the text is not shaped like a CAS number, or its check digit does not fit.
    """
    plain, _ = _plain(text)
    found = _groups(plain)
    if found is None:
        hint = " Four digits alone are a UN number." if re.fullmatch("[0-9]{4}", plain) else ""
        raise CasError(
            f"The CAS number {show_typed(text)} cannot be used: a CAS number is 2 to 7 digits, "
            f"2 digits and 1 digit.{hint} {_EXAMPLE}"
        )
    first, second, last = found.groups()
    expected = check_digit(first + second)
    if int(last) != expected:
        raise CasError(
            f"The CAS number {show_typed(text)} cannot be right: after {first}-{second} the last "
            f"digit should be {expected}, not {last}, so at least one digit is wrong. Compare "
            "every digit with the label or the SDS; do not just change the last one."
        )
    return f"{first}-{second}-{last}"
