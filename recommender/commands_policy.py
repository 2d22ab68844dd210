"""Commands about local policy. They read a file, print what it does, and decide nothing."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

import click
from click.core import ParameterSource

from recommender.errors import DataError, PolicyError, RecommenderError

if TYPE_CHECKING:
    from recommender.policy import Policy

POLICY_VARIABLE = "RECOMMENDER_POLICY"
BAD_INPUT = 2
BROKEN_DATA = 1


def read_policy(policy_file: str) -> Policy:
    """Read the file that the running command was given, by option or by environment variable.

    Raises:
        PolicyError: it cannot be used; the message says so where the variable named it.
    """
    from recommender.policy import load_policy

    try:
        return load_policy(policy_file)
    except PolicyError as problem:
        context = click.get_current_context(silent=True)
        if context and context.get_parameter_source("policy_file") is ParameterSource.ENVIRONMENT:
            where = f"{problem.where} (named by {POLICY_VARIABLE})"
            raise PolicyError(where, problem.problems) from None
        raise


@click.group("policy")
def policy_commands() -> None:
    """Explain a local policy file."""


@policy_commands.command("check")
@click.argument("policy_file", metavar="FILE", envvar=POLICY_VARIABLE)
def check(policy_file: str) -> None:
    """Check FILE whole, and say what it changes, in which direction, and what it cannot.

    Exit status 2, with every problem listed, where the file cannot be used.
    """
    from recommender.policy_effect import compare_table
    from recommender.render.policy import policy_text

    try:
        policy = read_policy(policy_file)
        text = policy_text(policy, compare_table(policy), styled=sys.stdout.isatty())
    except RecommenderError as problem:
        click.echo(f"Error: {problem}", err=True)
        sys.exit(BROKEN_DATA if isinstance(problem, DataError) else BAD_INPUT)
    click.echo(text, nl=False)
