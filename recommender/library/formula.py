"""Read a molecular formula and write it as the store does: carbon, hydrogen, then the rest."""

from __future__ import annotations

import re

_TOKEN = re.compile(r"([A-Z][a-z]?)(\d*)|(\()|(\))(\d*)")
_LONGEST = 60
_SUBSCRIPTS = str.maketrans("₀₁₂₃₄₅₆₇₈₉", "0123456789")


def hill_formula(text: str) -> str | None:
    """Return a formula in Hill order, such as ``H2O4S`` for ``H2SO4``; None where it is none.

    Parentheses are multiplied out. Charges, dots and strengths are not read.
    """
    plain = text.strip().translate(_SUBSCRIPTS)
    if not plain or len(plain) > _LONGEST:
        return None
    stack: list[dict[str, int]] = [{}]
    position = 0
    while position < len(plain):
        found = _TOKEN.match(plain, position)
        if found is None or found.end() == position:
            return None
        position = found.end()
        element, count, opened, closed, times = found.groups()
        if element:
            stack[-1][element] = stack[-1].get(element, 0) + int(count or 1)
        elif opened:
            stack.append({})
        elif closed and len(stack) > 1:
            inner = stack.pop()
            for name, number in inner.items():
                stack[-1][name] = stack[-1].get(name, 0) + number * int(times or 1)
        else:
            return None
    return _written(stack[0]) if len(stack) == 1 and stack[0] else None


def _written(counts: dict[str, int]) -> str:
    first = [e for e in ("C", "H") if e in counts] if "C" in counts else []
    rest = sorted(e for e in counts if e not in first)
    return "".join(e + (str(counts[e]) if counts[e] > 1 else "") for e in (*first, *rest))
