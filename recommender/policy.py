"""Local policy: what a department changes, within what may be changed.

A policy may move limits, switch rules off with a reason, change the standard line, say what is
carried, and add cautions and contact lines. What it makes less cautious is said in every plan.
What it cannot weaken: floor rules (the contact floor and the do-not-use list, with the first
steps and the rinse rule on which that list rests), floor limits (the contact floor, the unknown
answer and the cap), and the always-on and defer lines, which are no part of a policy's file.

A policy is checked whole before anything is planned; pydantic loads only when a file is read.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date as Date  # noqa: N812  (a field below is called date)
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from recommender.bounds import load_bounds, out_of_bounds
from recommender.chemicals.table import unknown_chemical
from recommender.effects import Check, Direction, Effect, Positions
from recommender.engine import Rule
from recommender.errors import PolicyError, UnitError
from recommender.facts import Facts
from recommender.limit_units import read_limit_value
from recommender.limits import Limit, Limits, load_limits
from recommender.plan import run_stages
from recommender.properties.build import build_facts
from recommender.rules import ALL_RULES
from recommender.scene import Scene

if TYPE_CHECKING:
    from recommender.policy_file import PolicyFile

SOURCE = "local-policy"
STANDARD_LINE = "policy.standard_line"
SAFER, LOOSER, EITHER = "more cautious", "less cautious", "either way"


@dataclass(frozen=True, slots=True)
class ChangedLimit:
    """One limit as local policy has it.

    Attributes:
        key: where in the file it stands.
        typed: the value as it was written.
    """

    limit: Limit
    packaged: Limit
    key: str
    typed: str

    @property
    def direction(self) -> str:
        """Whether plans become more or less cautious; either way where no direction is safer."""
        if self.limit.safer == "neither":
            return EITHER
        rises = self.limit.value > self.packaged.value
        return SAFER if rises == (self.limit.safer == "higher") else LOOSER

    @property
    def words(self) -> str:
        """The change in a few words."""
        unit = "" if self.limit.unit == "1" else f" {self.limit.unit}"
        return f"{self.limit.id} from {self.packaged.value:g} to {self.limit.value:g}{unit}"


@dataclass(frozen=True, slots=True)
class SwitchedOff:
    """One rule that local policy switches off, and why."""

    rule: Rule
    reason: str

    @property
    def loosens(self) -> bool:
        """Whether a plan may lose caution by it."""
        return could_add_caution(self.rule)


@dataclass(frozen=True, slots=True)
class LocalCaution:
    """One caution that local policy adds; ``when`` is a contact or ``always``."""

    text: str
    when: str = "always"


@dataclass(frozen=True, slots=True)
class Policy:
    """A department's policy, checked.

    Attributes:
        changes: the limits that differ from the packaged ones.
        off: the rules switched off.
        standard_positions: positions of the standard line where the policy states them.
        fewer_without_technician: whether fewer positions than the standard line may be set up
            before a technician has accepted them.
        carried: each item with its quantity.
        contacts: lines to print.

    Raises:
        PolicyError: a floor is weakened or a limit is out of bounds.
    """

    department: str
    date: Date
    changes: tuple[ChangedLimit, ...] = ()
    off: tuple[SwitchedOff, ...] = ()
    standard_positions: int | None = None
    fewer_without_technician: bool = False
    carried: tuple[tuple[str, str], ...] = ()
    cautions: tuple[LocalCaution, ...] = ()
    contacts: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        problems = [f"{o.rule.id} {_FLOOR_RULE}" for o in self.off if o.rule.floor]
        problems += [f"{o.rule.id} is off without a reason." for o in self.off if not o.reason]
        problems += _bound_problems(self.changes)
        if problems:
            raise PolicyError(f"of {self.department}", tuple(problems))

    @property
    def name(self) -> str:
        """Department and date, as every plan names the policy."""
        return f"{self.department}, {self.date.isoformat()}"

    @property
    def switched_off(self) -> Mapping[str, str]:
        """Rule id to reason."""
        return {off.rule.id: off.reason for off in self.off}

    def limits(self, base: Mapping[str, Limit]) -> Mapping[str, Limit]:
        """Return the limits in force: ``base`` with the changed ones in their places."""
        return {**base, **{c.limit.id: c.limit for c in self.changes}}

    @property
    def loosened(self) -> tuple[str, ...]:
        """What every plan says of changes that can make it less cautious."""
        whose = f"Local policy ({self.department})"
        said = [f"{whose} loosens {c.words}." for c in self.changes if c.direction is LOOSER]
        said += [
            f"{whose} may loosen: {c.words} (neither direction is the safer one)."
            for c in self.changes
            if c.direction is EITHER
        ]
        said += [
            f"{whose} loosens: rule {o.rule.id} is off ({o.rule.title}). Reason given: {o.reason}"
            for o in self.off
            if o.loosens
        ]
        if self.fewer_without_technician:
            said.append(
                f"{whose} loosens: fewer positions than the standard line may be set up before a "
                "technician accepts them, unless the product is not identified."
            )
        return tuple(said)

    def cautions_for(self, contact: str) -> tuple[str, ...]:
        """Return the local cautions that belong to a contact."""
        return tuple(c.text for c in self.cautions if c.when in ("always", contact))


_FLOOR_RULE = "is a floor rule and cannot be switched off."


@cache
def _unknown_facts() -> Facts:
    """Facts of the unknown product, with what the stages add to them."""
    used = load_limits()
    known = build_facts(unknown_chemical(""), Scene(), used)
    return Facts(run_stages(known.facts, used).facts)


def _adds_caution(effect: Effect) -> bool:
    if isinstance(effect, Positions):
        return max(effect.low, effect.mid, effect.high) > 0
    return isinstance(effect, Check) or effect.direction is not Direction.SUBTRACTS


@cache
def could_add_caution(rule: Rule) -> bool:
    """Whether a plan may lose caution without this rule.

    A rule that chooses between two first steps, or a check that ends the line, counts: without it
    the plan may take the wrong step or look less closely.
    """
    decision = rule.function(_unknown_facts(), Limits(load_limits()))
    return any(_adds_caution(effect) for effect in decision.effects)


def _near(name: str, known: Iterable[str]) -> str:
    from rapidfuzz import process

    found = process.extract(name[:60], list(known), limit=3)
    return ", ".join(item[0] for item in found)


def _bound_problems(changes: Iterable[ChangedLimit]) -> list[str]:
    """What is out of bounds once every change is in force; bounds may name each other."""
    changed = {c.limit.id: c for c in changes}
    in_force = {**load_limits(), **{name: c.limit for name, c in changed.items()}}
    problems = []
    for name, bound in load_bounds().items():
        ends = {bound.lowest, bound.highest}
        if name in changed:
            found, key = out_of_bounds(name, in_force), changed[name].key
        elif touched := [changed[e] for e in changed if e in ends and name not in changed]:
            found, key = out_of_bounds(name, in_force), touched[0].key
            found = found and f"with it {name} would be wrong: {found}"
        else:
            continue
        if found:
            problems.append(f"{key}: {found}.")
    unbound = sorted(set(changed) - set(load_bounds()))
    return problems + [f"{changed[n].key}: {out_of_bounds(n, in_force)}." for n in unbound]


class _Reading:
    """One reading of a file: what was found, and everything that is wrong with it."""

    def __init__(self, stated: PolicyFile) -> None:
        self.stated = stated
        self.problems: list[str] = []

    def changes(self) -> tuple[ChangedLimit, ...]:
        found = [self._change(name, value) for name, value in self._limit_values()]
        return tuple(c for c in found if c is not None and c.limit.value != c.packaged.value)

    def _limit_values(self) -> Iterable[tuple[str, str | float]]:
        yield from self.stated.limits.items()
        if self.stated.line.standard_positions is None:
            return
        if STANDARD_LINE in self.stated.limits:
            self.problems.append(
                f"[line], standard_positions: stands twice; [limits] has {STANDARD_LINE}."
            )
            return
        yield STANDARD_LINE, float(self.stated.line.standard_positions)

    def _change(self, name: str, value: str | float) -> ChangedLimit | None:
        from_line = name == STANDARD_LINE and name not in self.stated.limits
        key = "[line], standard_positions" if from_line else f"[limits], {name}"
        packaged = load_limits().get(name)
        if packaged is None:
            near = _near(name, load_limits())
            self.problems.append(f"{key}: no limit has this id. Near it: {near}.")
            return None
        try:
            number = read_limit_value(value, packaged.unit, what="value")
        except UnitError as problem:
            self.problems.append(f"{key}: {problem}")
            return None
        local = replace(
            packaged,
            value=number,
            kind="local",
            source=SOURCE,
            provenance="read",
            date=self.stated.date.isoformat(),
        )
        typed = value if isinstance(value, str) else f"{value:g} {packaged.unit}"
        return ChangedLimit(local, packaged, key, typed)

    def off(self) -> tuple[SwitchedOff, ...]:
        rules = {rule.id: rule for rule in ALL_RULES}
        found: dict[str, SwitchedOff] = {}
        for number, stated in enumerate(self.stated.off, start=1):
            key, rule = f"[[off]] number {number}, rule", rules.get(stated.rule)
            if rule is None:
                near = _near(stated.rule.upper(), rules)
                self.problems.append(f"{key}: no rule has the id {stated.rule}. Near it: {near}.")
            elif rule.floor:
                self.problems.append(f"{key}: {rule.id} {_FLOOR_RULE} {rule.title}.")
            elif rule.id in found:
                self.problems.append(f"{key}: {rule.id} stands twice.")
            else:
                found[rule.id] = SwitchedOff(rule, stated.reason)
        return tuple(found.values())


def load_policy(path: str | Path) -> Policy:
    """Read a policy file and check it whole.

    Raises:
        PolicyError: the file cannot be read or used; the message lists every problem with its
            key.
    """
    from recommender.policy_file import read_policy_file, show_path

    stated = read_policy_file(path)
    reading = _Reading(stated)
    changes, off = reading.changes(), reading.off()
    problems = reading.problems + _bound_problems(changes)
    if problems:
        raise PolicyError(show_path(path), tuple(problems))
    return Policy(
        department=stated.department,
        date=stated.date,
        changes=changes,
        off=off,
        standard_positions=stated.line.standard_positions,
        fewer_without_technician=stated.line.fewer_without_technician,
        carried=tuple(stated.carried.items()),
        cautions=tuple(LocalCaution(c.text, c.when) for c in stated.cautions),
        contacts=tuple(stated.contacts),
    )
