"""The command line. It reads what people type, calls ``recommend`` and prints; it decides nothing.

Exit status: 0 for an answer, 2 for input that cannot be used or a chemical that is not held.
"""

from __future__ import annotations

import io
import json
import shutil
import sys
from collections.abc import Callable
from typing import TYPE_CHECKING, Any, NoReturn

import click

from recommender.commands_policy import POLICY_VARIABLE, policy_commands, read_policy
from recommender.commands_properties import properties, stated_option
from recommender.commands_store import setup
from recommender.errors import (
    AmbiguousChemicalError,
    ChemicalNotFoundError,
    DataError,
    RecommenderError,
)
from recommender.scene import CONTACTS, SUITS, TECHNICIANS, Scene
from recommender.units import UnitSystem, parse_air_temperature, parse_percent, parse_speed
from recommender.units import parse_temperature as parse_product_temperature

if TYPE_CHECKING:
    from recommender.properties.stated import StatedValue

BAD_INPUT = 2
BROKEN_DATA = 1
_NARROWEST = 40
store_option = click.option(
    "--store",
    metavar="PATH",
    help="Local store: folder or .sqlite file. Left out: RECOMMENDER_STORE, else the usual place.",
)
_FORMS = ("gas", "liquid", "solid", "powder", "aerosol", "solution", "molten", "cryogenic")


def _fail(problem: RecommenderError) -> NoReturn:
    """Print an error as a person should read it and stop."""
    if isinstance(problem, ChemicalNotFoundError):
        lines = [problem.headline]
        if problem.nearest:
            lines += ["Nearest names:", *(f"  - {_near(*near)}" for near in problem.nearest)]
        if problem.advice:
            lines.append(problem.advice)
        lines.append("Not identified? Use: recommender plan --unknown [--form FORM]")
    elif isinstance(problem, AmbiguousChemicalError):
        lines = [problem.headline, "Use the full name, or state the form with --form:"]
        lines += [f"  - {name} ({form})" for name, form, _ in problem.candidates]
    else:
        lines = [str(problem)]
    click.echo("Error: " + "\n".join(lines), err=True)
    sys.exit(BROKEN_DATA if isinstance(problem, DataError) else BAD_INPUT)


def _near(name: str, key: str) -> str:
    """A name to try, with its CAS number where it is not in the curated table."""
    return f"{name} (CAS {key})" if key.replace("-", "").isdigit() else name


def _styled() -> bool:
    return sys.stdout.isatty()


def _width() -> int:
    """80 columns, or fewer on a narrow terminal (a phone)."""
    if not sys.stdout.isatty():
        return 80
    return max(_NARROWEST, min(80, shutil.get_terminal_size().columns))


def _maybe(text: str | None, parse: Callable[[str], float]) -> float | None:
    return None if text is None else parse(text)


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 88})
@click.version_option(package_name="decon-recommender")
def main() -> None:
    """Recommend how to set up a decontamination line, and say why.

    An estimate: the hazmat technician, local procedures and the safety data sheet decide.
    """
    for stream in (sys.stdout, sys.stderr):  # a terminal that lacks a letter still gets the plan
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")


@main.command()
@click.argument("chemical", nargs=-1)
@click.option("--unknown", is_flag=True, help="The product is not identified.")
@click.option(
    "--contact",
    type=click.Choice(CONTACTS),
    default="splash",
    show_default=True,
    help="vapor: gas or vapor only; splash: some product; gross: drenched, kneeling.",
)
@click.option("--form", type=click.Choice(_FORMS), help="The form that was seen.")
@click.option("--concentration", metavar="PERCENT", help="Strength by mass, such as 37%.")
@click.option("--air-temp", metavar="TEMP", help="Air temperature, such as 75F or 24C.")
@click.option("--product-temp", metavar="TEMP", help="Product temperature, such as 300F.")
@click.option("--wind", metavar="SPEED", help="Wind, such as 5mph, 8kt or 2m/s.")
@click.option("--suit", type=click.Choice(SUITS), default="unspecified", show_default=True)
@click.option("--technician", type=click.Choice(TECHNICIANS), default="not-yet", show_default=True)
@click.option("--airing-place", is_flag=True, help="Suits can be aired in a safe place.")
@click.option("--failed-check", is_flag=True, help="A release check has already failed.")
@click.option("--units", type=click.Choice(("us", "si")), default="us", show_default=True)
@stated_option
@click.option(
    "--policy",
    "policy_file",
    metavar="FILE",
    envvar=POLICY_VARIABLE,
    help=f"Local policy (TOML). Left out: {POLICY_VARIABLE}, if it is set.",
)
@store_option
@click.option("--json", "as_json", is_flag=True, help="Print the whole plan as JSON.")
@click.option("--why", is_flag=True, help="Add the trace: every rule, fact, limit and source.")
def plan(
    chemical: tuple[str, ...],
    unknown: bool,
    as_json: bool,
    why: bool,
    units: UnitSystem,
    policy_file: str | None,
    stated: tuple[StatedValue, ...],
    store: str | None,
    **given: Any,
) -> None:
    """Plan the line for CHEMICAL: a name, trade name, CAS number or UN number.

    \b
    Examples:
      recommender plan "hydrochloric acid" --air-temp 75F --wind 5mph
      recommender plan UN1830 --contact gross --why
      recommender plan --unknown --form powder
    """
    from recommender.recommend import recommend

    name = " ".join(chemical).strip()
    if bool(name) == unknown:
        raise click.UsageError(
            "Give a chemical, or --unknown for a product that is not identified (not both)."
        )
    try:
        policy = None if policy_file is None else read_policy(policy_file)
        known = None if unknown else name
        scene = _scene(units, given)
        result = recommend(known, scene, policy=policy, stated=stated, store=store)
    except RecommenderError as problem:
        _fail(problem)
    if as_json:
        from recommender.render.as_json import plan_to_json

        click.echo(plan_to_json(result), nl=False)
        return
    from recommender.render.text import plan_text

    click.echo(plan_text(result, units, why=why, styled=_styled(), width=_width()), nl=False)


def _scene(units: UnitSystem, given: dict[str, Any]) -> Scene:
    """Read the scene's quantities as people type them."""
    return Scene(
        contact=given["contact"],
        air_temperature_c=_maybe(
            given["air_temp"], lambda t: parse_air_temperature(t, units, what="--air-temp").value
        ),
        product_temperature_c=_maybe(
            given["product_temp"],
            lambda t: parse_product_temperature(t, units, what="--product-temp").value,
        ),
        wind_m_s=_maybe(given["wind"], lambda t: parse_speed(t, units, what="--wind").value),
        form=given["form"],
        concentration_percent=_maybe(
            given["concentration"], lambda t: parse_percent(t, what="--concentration").value
        ),
        suit=given["suit"],
        technician=given["technician"],
        airing_place=given["airing_place"],
        failed_check=given["failed_check"],
    )


@main.command("find")
@click.argument("text", nargs=-1, required=True)
@store_option
@click.option("--json", "as_json", is_flag=True, help="Print as JSON.")
def find_command(text: tuple[str, ...], store: str | None, as_json: bool) -> None:
    """Find a chemical by name, synonym, trade name, CAS or UN number, formula or SMILES."""
    from recommender.chemicals.table import load_chemicals
    from recommender.library.resolve import resolve, store_at

    query = " ".join(text)
    try:
        match = resolve(query, store=store_at(store))
    except (ChemicalNotFoundError, AmbiguousChemicalError) as problem:
        if as_json:
            click.echo(json.dumps(_miss(query, problem), indent=2, ensure_ascii=False))
            sys.exit(BAD_INPUT)
        _fail(problem)
    except RecommenderError as problem:
        _fail(problem)
    others = tuple(
        c
        for c in load_chemicals().values()
        if c.identity == match.chemical.identity and c is not match.chemical
    )
    if as_json:
        rows = [_row(match.chemical), *(_row(c) for c in others)]
        found = {"query": query, "how": match.how, "notes": list(match.notes), "rows": rows}
        click.echo(json.dumps(found, indent=2, ensure_ascii=False))
        return
    from recommender.render.text import match_text

    click.echo(match_text(match, others, styled=_styled()), nl=False)


def _row(chemical: Any) -> dict[str, Any]:
    names = ("key", "identity", "name", "cas", "formula", "form", "strength_percent", "usual")
    row = {name: getattr(chemical, name) for name in names}
    return row | {
        "un": list(chemical.un),
        "synonyms": list(chemical.synonyms),
        "trade_names": list(chemical.trade_names),
    }


def _miss(query: str, problem: ChemicalNotFoundError | AmbiguousChemicalError) -> dict[str, Any]:
    if isinstance(problem, ChemicalNotFoundError):
        near = [{"name": name, "key": key} for name, key in problem.nearest]
        missed = {"query": query, "rows": [], "nearest": near, "candidates": []}
        return {**missed, "advice": problem.advice} if problem.advice else missed
    candidates = [{"name": n, "form": f, "key": k} for n, f, k in problem.candidates]
    missed = {"query": query, "rows": [], "nearest": [], "candidates": candidates}
    return {**missed, "why": problem.why} if problem.why else missed


@main.command()
@click.argument("rule_id", required=False)
def rules(rule_id: str | None) -> None:
    """List the judgement, or show one rule with its reason, limits and sources."""
    from recommender.render.reference import rule_list_text, rule_text

    _show(rule_id, rule_list_text, rule_text)


@main.command()
@click.argument("source_id", required=False)
def sources(source_id: str | None) -> None:
    """List the authorities, or show one with what rests on it."""
    from recommender.render.reference import source_list_text, source_text

    _show(source_id, source_list_text, source_text)


def _show(name: str | None, listing: Callable[..., str], detail: Callable[..., str]) -> None:
    try:
        text = listing(styled=_styled()) if name is None else detail(name, styled=_styled())
    except RecommenderError as problem:
        _fail(problem)
    click.echo(text, nl=False)


main.add_command(policy_commands)
main.add_command(setup)
main.add_command(properties)

if __name__ == "__main__":
    main()
