"""The documentation of the equations is part of the product, and so is their purity."""

from __future__ import annotations

import ast
import importlib
import inspect
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

import recommender.physics

FOLDER = Path(recommender.physics.__file__ or "").parent
FILES = sorted(FOLDER.glob("*.py"))
EQUATION_MODULES = (
    "vapor",
    "diffusion",
    "mass_transfer",
    "evaporation",
    "removal",
    "persistence_index",
)


def _equations() -> list[Callable[..., object]]:
    found: list[Callable[..., object]] = []
    for name in EQUATION_MODULES:
        module = importlib.import_module(f"recommender.physics.{name}")
        found += [
            member
            for key, member in inspect.getmembers(module, inspect.isfunction)
            if member.__module__ == module.__name__ and not key.startswith("_")
        ]
    return found


EQUATIONS = _equations()


def test_all_equations_were_found() -> None:
    assert len(EQUATIONS) >= 30


@pytest.mark.parametrize("equation", EQUATIONS, ids=lambda e: e.__name__)
def test_an_equation_states_arguments_result_errors_reference_and_defects(
    equation: Callable[..., object],
) -> None:
    text = inspect.getdoc(equation) or ""
    for heading in ("Args:", "Returns:", "Raises:", "Reference:", "Known defects:"):
        assert heading in text, heading
    for argument in inspect.signature(equation).parameters:
        assert f"{argument}:" in text, argument


@pytest.mark.parametrize("equation", EQUATIONS, ids=lambda e: e.__name__)
def test_an_equation_is_fully_annotated(equation: Callable[..., object]) -> None:
    signature = inspect.signature(equation)
    assert signature.return_annotation is not inspect.Signature.empty
    for parameter in signature.parameters.values():
        assert parameter.annotation is not inspect.Parameter.empty, parameter.name


@pytest.mark.parametrize("path", FILES, ids=lambda p: p.stem)
def test_physics_imports_only_the_standard_library_itself_and_the_errors(path: Path) -> None:
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        names: list[str] = []
        if isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            names = [node.module or ""]
        for name in names:
            local = name == "recommender.errors" or name.startswith("recommender.physics")
            assert local or name.split(".")[0] in sys.stdlib_module_names, name


@pytest.mark.parametrize("path", FILES, ids=lambda p: p.stem)
def test_modules_stay_below_400_lines_and_functions_below_40(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert len(text.splitlines()) < 400
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.FunctionDef):
            assert (node.end_lineno or 0) - node.lineno + 1 < 40, node.name
