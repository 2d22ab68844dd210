"""The shape of a local policy file: TOML, read within bounds and validated whole by pydantic.

This module is imported on first need only, because pydantic takes longer to load than a plan
takes to make. It knows the file's shape; what the ids mean is checked in ``policy``.
"""

from __future__ import annotations

import difflib
import math
import re
import tomllib
from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import Annotated, Any, Literal

from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    PlainValidator,
    ValidationError,
)

from recommender.errors import PolicyError
from recommender.units import show_typed

MOST_BYTES = 100_000
# A key of thousands of parts takes a TOML reader minutes, and keys do not cross lines.
MOST_IN_A_LINE = 2_000
_MOST_ENTRIES = 200
_LARGEST = 1e100


def _one_line(text: str) -> str:
    """Tidy blanks and line ends; refuse what could not be printed on a terminal."""
    tidy = " ".join(text.split())
    if not tidy:
        raise ValueError("is empty")
    if not tidy.isprintable():
        raise ValueError("holds a character that cannot be printed")
    return tidy


def _number_or_text(value: object) -> str | float:
    """A limit's value: a number in the limit's own unit, or text with a unit."""
    if isinstance(value, str):
        return _one_line(value)
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise ValueError("has to be a number, or text with a unit such as '5 min'")
    if abs(value) > _LARGEST or not math.isfinite(value):
        raise ValueError("is no measurement: the number is not finite or far too large")
    return float(value)


def _flattened(limits: object) -> object:
    """Join nested tables: ``a.b = 1``, ``"a.b" = 1`` and ``[limits.a]`` mean the same."""
    if not isinstance(limits, dict):
        return limits
    flat: dict[str, object] = {}
    for name, value in limits.items():
        inner = {f"{name}.{k}": v for k, v in value.items()} if isinstance(value, dict) else {}
        for key, found in (inner or {name: value}).items():
            if key in flat:
                raise ValueError(f"{key} stands twice")
            flat[key] = found
    return flat


def _quantity(value: object) -> object:
    """A whole number of things that are carried is taken as text."""
    return str(value) if isinstance(value, int) and not isinstance(value, bool) else value


Short = Annotated[str, Field(max_length=80), AfterValidator(_one_line)]
Long = Annotated[str, Field(max_length=300), AfterValidator(_one_line)]
Id = Annotated[str, Field(max_length=60), AfterValidator(_one_line)]
LimitValue = Annotated[str | float, PlainValidator(_number_or_text)]


class _Strict(BaseModel):
    model_config = ConfigDict(strict=True, extra="forbid", frozen=True)


class StatedOff(_Strict):
    """One rule switched off."""

    rule: Id
    reason: Long


class StatedCaution(_Strict):
    """One caution to add."""

    text: Long
    when: Literal["vapor", "splash", "gross", "always"] = "always"


class StatedLine(_Strict):
    """The standard line."""

    standard_positions: int | None = None
    fewer_without_technician: bool = False


class PolicyFile(_Strict):
    """A local policy as it is written."""

    department: Short
    date: date
    limits: Annotated[dict[Id, LimitValue], BeforeValidator(_flattened)] = Field(
        default={}, max_length=_MOST_ENTRIES
    )
    off: list[StatedOff] = Field(default=[], max_length=_MOST_ENTRIES)
    line: StatedLine = StatedLine()
    carried: dict[Short, Annotated[Short, BeforeValidator(_quantity)]] = Field(
        default={}, max_length=_MOST_ENTRIES
    )
    cautions: list[StatedCaution] = Field(default=[], max_length=20)
    contacts: list[Long] = Field(default=[], max_length=20)


_KEYS: Mapping[str, tuple[str, ...]] = {
    "": tuple(PolicyFile.model_fields),
    "off": tuple(StatedOff.model_fields),
    "line": tuple(StatedLine.model_fields),
    "cautions": tuple(StatedCaution.model_fields),
}
_SAID = {
    "missing": "is missing",
    "string_type": "has to be text in quotes",
    "bool_type": "has to be true or false, without quotes",
    "int_type": "has to be a whole number, without quotes",
    "date_type": "has to be a date such as 2026-11-25, without quotes and without a time",
    "list_type": "has to be a list: write [[off]] or [[cautions]] in double brackets, and "
    "contacts = [...]",
    "dict_type": "has to be a table",
    "model_type": "has to be a table",
    "literal_error": "has to be one of: vapor, splash, gross, always",
}
_TOO_LONG = {
    "string_too_long": "is too long: {max_length} characters at most",
    "too_long": "has too many entries: {max_length} at most",
}


def _place(location: tuple[int | str, ...]) -> str:
    """Say where in the file: ``[[off]] number 2, reason``."""
    parts = [p for p in location if p != "[key]"]
    words: list[str] = []
    for position, part in enumerate(parts):
        if isinstance(part, int):
            continue
        follows = parts[position + 1] if position + 1 < len(parts) else None
        if isinstance(follows, int):
            heading = f"[[{part}]]" if part in ("off", "cautions") else str(part)
            words.append(f"{heading} number {follows + 1}")
        elif position == 0 and follows is not None:
            words.append(f"[{part}]")
        else:
            words.append(_shown(part))
    return ", ".join(words)


def _shown(key: str) -> str:
    """A key as a message may show it."""
    return key if re.fullmatch(r"[\w.-]{1,60}", key, re.ASCII) else show_typed(key)


def _no_such_key(location: tuple[int | str, ...]) -> str:
    known = _KEYS[str(location[0]) if len(location) > 1 else ""]
    near = difflib.get_close_matches(str(location[-1])[:60], known, n=2)
    hint = f" Near it: {', '.join(near)}." if near else ""
    return f"is no key of a policy.{hint} Known: {', '.join(known)}"


def _problem(error: Any) -> str:
    """Word one finding of pydantic: where, and what is wrong."""
    kind, location = error["type"], error["loc"]
    if kind == "extra_forbidden":
        said = _no_such_key(location)
    elif kind == "value_error":
        said = str(error["ctx"]["error"])
    elif kind in _TOO_LONG:
        said = _TOO_LONG[kind].format(**error["ctx"])
    else:
        said = _SAID.get(kind) or error["msg"]
    return f"{_place(location)}: {said}."


def show_path(path: str | Path) -> str:
    """Return a path as a message may show it."""
    text = "".join(c if c.isprintable() else "?" for c in str(path))
    return text if 0 < len(text) <= 200 else show_typed(str(path))


def _read_text(path: str | Path) -> str:
    """Read the file as text, never more of it than a policy can need."""
    where = show_path(path)
    try:
        if not str(path) or not Path(path).exists():
            raise PolicyError(where, ("there is no such file.",))
        if not Path(path).is_file():
            raise PolicyError(where, ("it is not a file.",))
        with Path(path).open("rb") as file:
            content = file.read(MOST_BYTES + 1)
    except (OSError, ValueError) as problem:
        if isinstance(problem, PolicyError):
            raise
        reason = getattr(problem, "strerror", None) or "its name cannot be used"
        raise PolicyError(where, (f"it cannot be read: {reason}.",)) from None
    if len(content) > MOST_BYTES:
        raise PolicyError(where, (f"it is longer than {MOST_BYTES} bytes.",))
    for number, line in enumerate(content.split(b"\n"), start=1):
        if len(line) > MOST_IN_A_LINE:
            raise PolicyError(where, (f"line {number} is longer than {MOST_IN_A_LINE} bytes.",))
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as problem:
        found = f"it is not text in UTF-8 (byte {problem.start + 1})."
        raise PolicyError(where, (found,)) from None


def read_policy_file(path: str | Path) -> PolicyFile:
    """Read the file and hold it to its shape.

    Raises:
        PolicyError: the file cannot be read, is not TOML, or has another shape. Every problem of
            its shape is listed.
    """
    where, text = show_path(path), _read_text(path)
    try:
        content = tomllib.loads(text)
    except RecursionError:
        raise PolicyError(where, ("it is not TOML: nested too deep.",)) from None
    except ValueError as problem:  # TOMLDecodeError, and numbers of thousands of digits
        said = "".join(c if c.isprintable() else "?" for c in str(problem))[:200]
        raise PolicyError(where, (f"it is not TOML: {said}.",)) from None
    try:
        return PolicyFile.model_validate(content)
    except ValidationError as problem:
        found = problem.errors(include_url=False, include_input=False)
        raise PolicyError(where, tuple(_problem(error) for error in found)) from None
