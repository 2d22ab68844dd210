"""The technician's table of properties, and the option that states one off a safety data sheet."""

from __future__ import annotations

import shutil
import sys
from collections import defaultdict
from typing import TYPE_CHECKING, Any

import click

from recommender.commands_policy import POLICY_VARIABLE, read_policy
from recommender.errors import DataError, RecommenderError, StoreError
from recommender.scene import Scene
from recommender.units import UnitSystem, parse_air_temperature, parse_percent, parse_temperature

if TYPE_CHECKING:
    from recommender.chemicals.table import Chemical
    from recommender.properties.property_rows import Findings
    from recommender.properties.stated import StatedValue

_NARROWEST, _WIDEST = 40, 80
BAD_INPUT = 2
BROKEN_DATA = 1
_FORMS = ("gas", "liquid", "solid", "powder", "aerosol", "solution", "molten", "cryogenic")
_HELP = (
    "State a value or a hazard off the safety data sheet; it leads over what is held. Repeatable. "
    'Such as "vapor pressure=0.5 mmHg @ 68 F", "solubility=1-5 g/L", "skin notation=yes".'
)


def _stop(problem: RecommenderError) -> Any:
    """Print an error as a person should read it and stop."""
    click.echo(f"Error: {problem}", err=True)
    sys.exit(BROKEN_DATA if isinstance(problem, DataError | StoreError) else BAD_INPUT)


def _read_stated(
    context: click.Context, option: click.Parameter, texts: tuple[str, ...]
) -> tuple[StatedValue, ...]:
    """Read every --set; the first that cannot be used stops the command."""
    if not texts:
        return ()
    from recommender.properties.stated import parse_stated

    try:
        return tuple(parse_stated(text) for text in texts)
    except RecommenderError as problem:
        _stop(problem)
        raise


stated_option = click.option(
    "--set", "stated", metavar="NAME=VALUE", multiple=True, callback=_read_stated, help=_HELP
)


def _scene(units: UnitSystem, given: dict[str, str | None]) -> Scene:
    """Read the scene's quantities as people type them."""
    air, product, strength = given["air_temp"], given["product_temp"], given["concentration"]
    return Scene(
        air_temperature_c=parse_air_temperature(air, units, what="--air-temp").value
        if air is not None
        else None,
        product_temperature_c=parse_temperature(product, units, what="--product-temp").value
        if product is not None
        else None,
        form=given["form"],
        concentration_percent=parse_percent(strength, what="--concentration").value
        if strength is not None
        else None,
    )


@click.command("properties")
@click.argument("chemical", nargs=-1, required=True)
@click.option("--form", type=click.Choice(_FORMS), help="The form that was seen.")
@click.option("--concentration", metavar="PERCENT", help="Strength by mass, such as 37%.")
@click.option("--air-temp", metavar="TEMP", help="Air temperature, such as 75F or 24C.")
@click.option("--product-temp", metavar="TEMP", help="Product temperature, such as 300F.")
@click.option("--units", type=click.Choice(("us", "si")), default="us", show_default=True)
@stated_option
@click.option(
    "--policy",
    "policy_file",
    metavar="FILE",
    envvar=POLICY_VARIABLE,
    help=f"Local policy (TOML), for its limits. Left out: {POLICY_VARIABLE}, if it is set.",
)
@click.option(
    "--store",
    metavar="PATH",
    help="Local store: folder or .sqlite file. Left out: RECOMMENDER_STORE, else the usual place.",
)
@click.option("--json", "as_json", is_flag=True, help="Print as JSON.")
def properties(
    chemical: tuple[str, ...],
    units: UnitSystem,
    stated: tuple[StatedValue, ...],
    policy_file: str | None,
    store: str | None,
    as_json: bool,
    **given: Any,
) -> None:
    """Show every property of CHEMICAL at the scene: range, basis, source, what was passed over.

    \b
    Examples:
      recommender properties toluene --air-temp 50F
      recommender properties UN2783 --set "vapor pressure=<0.001 mmHg @ 77 F"
    """
    from recommender.recommend import recommend
    from recommender.render.properties import properties_json, properties_text

    try:
        policy = None if policy_file is None else read_policy(policy_file)
        scene = _scene(units, given)
        plan = recommend(" ".join(chemical), scene, policy=policy, stated=stated, store=store)
        found = store_findings(plan.chemical, store)
    except RecommenderError as problem:
        _stop(problem)
    if as_json:
        click.echo(properties_json(plan, found), nl=False)
        return
    styled = sys.stdout.isatty()
    columns = shutil.get_terminal_size().columns if styled else _WIDEST
    width = max(_NARROWEST, min(_WIDEST, columns))
    click.echo(properties_text(plan, units, found, styled=styled, width=width), nl=False)


def store_findings(chemical: Chemical, place: str | None = None) -> Findings | None:
    """What the local store says of a chemical that comes out of it; None of any other."""
    from recommender.chemicals.table import LIBRARY_GROUP

    if chemical.group != LIBRARY_GROUP:
        return None
    from recommender.library.load import load_entry
    from recommender.library.store import open_store
    from recommender.properties.property_rows import Findings

    found: defaultdict[str, list[str]] = defaultdict(list)
    with open_store(place) as store:
        for one in store.disagreements(cas=chemical.cas):
            found[one.property].append(f"{one.what} ({one.action})")
        entry = load_entry(store, chemical.cas)
    return Findings(found, {} if entry is None else entry.rules)
