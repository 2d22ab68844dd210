"""What the code promises about itself: layers, types, style, sizes, imports, words."""

from __future__ import annotations

import ast
import re
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
PACKAGE = ROOT / "recommender"
MODULES = sorted(PACKAGE.rglob("*.py"))
MOST_MODULE_LINES = 449
MOST_FUNCTION_LINES = 45
# A plan of a curated chemical needs none of these, and importing them takes longer than planning.
SLOW = (
    "pandas",
    "numpy",
    "scipy",
    "pint",
    "rapidfuzz",
    "chemicals",
    "thermo",
    "fluids",
    "rdkit",
    "sklearn",
    "pubchempy",
    "jsonschema",
    "requests",
)
AT_ONE_DOOR = ("pubchempy", "sklearn", "rdkit")
# Spelled backward, so that this file does not hold them.
BACKWARD = (
    "noisses",
    "snoisses",
    "tpircsnart",
    "stpircsnart",
    "tnegabus",
    "stnegabus",
    "tnega-bus",
    "tnega IA",
    "tnega gnidoc",
    "tnega suomonotua",
    "MLL",
    "sMLL",
    "ledom egaugnal",
    "sledom egaugnal",
    "tobtahc",
    "tnatsissa na sa",
    "edualc",
    "ciporhtna",
    "ianepo",
    "tpgtahc",
    "tolipoc",
    "/krow/",
    "/tpo/",
    "/pmt/",
    "/emoh/",
    "/toor/",
    "gro.ipyp",
    "detsohnohtyp",
    "lru-xedni",
    "sknil-dnif",
    "sjmpn",
    "gnalog.yxorp",
)
CASED_BACKWARD = ("IA",)


def whole(word: str) -> str:
    """Return a pattern for a word that is not a part of a longer one."""
    before = r"\b" if word[0].isalnum() else ""
    after = r"\b" if word[-1].isalnum() else ""
    return before + re.escape(word) + after


FORBIDDEN = re.compile(
    f"(?i:{'|'.join(whole(w[::-1]) for w in BACKWARD)})"
    f"|{'|'.join(whole(w[::-1]) for w in CASED_BACKWARD)}"
)
DISTRIBUTIONS = {"sklearn": "scikit-learn"}


def run(*words: str) -> subprocess.CompletedProcess[str]:
    """Run a tool of the environment at the root of the project."""
    return subprocess.run(
        list(words), cwd=ROOT, capture_output=True, text=True, check=False, timeout=300
    )


def said(done: subprocess.CompletedProcess[str]) -> str:
    """Return everything a tool printed."""
    return done.stdout + done.stderr


def tree_of(module: Path) -> ast.Module:
    """Parse one module."""
    return ast.parse(module.read_text(encoding="utf-8"))


def imported(module: Path) -> set[str]:
    """Return the top names of everything a module imports, anywhere in it."""
    names: set[str] = set()
    for node in ast.walk(tree_of(module)):
        if isinstance(node, ast.Import):
            names |= {alias.name.split(".")[0] for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
            names.add(node.module.split(".")[0])
    return names


def long_functions(tree: ast.Module, most: int) -> list[tuple[str, int]]:
    """Return the functions of a module that have more lines than allowed."""
    return [
        (node.name, node.end_lineno - node.lineno + 1)
        for node in ast.walk(tree)
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)
        and node.end_lineno is not None
        and node.end_lineno - node.lineno + 1 > most
    ]


def tracked_files() -> list[Path]:
    """Return the files that belong to the project: those Git tracks, or all that are shipped."""
    listed = run("git", "ls-files", "-z", "--cached", "--others", "--exclude-standard")
    if listed.returncode == 0 and listed.stdout:
        files = [ROOT / name for name in listed.stdout.split("\0") if name]
    else:
        files = [p for name in ("recommender", "data", "tests") for p in (ROOT / name).rglob("*")]
        files += list(ROOT.glob("*.*"))
    return [p for p in files if p.is_file() and "__pycache__" not in p.parts]


# --- tools -------------------------------------------------------------------------------------


def test_nothing_imports_upward() -> None:
    tool = Path(sys.executable).with_name("lint-imports")
    done = run(str(tool), "--no-cache")
    assert done.returncode == 0, said(done)
    assert "1 kept, 0 broken" in done.stdout


def test_the_types_hold() -> None:
    done = run(sys.executable, "-m", "mypy")
    assert done.returncode == 0, said(done)


@pytest.mark.parametrize("words", [("check",), ("format", "--check")])
def test_the_style_holds(words: tuple[str, ...]) -> None:
    done = run(sys.executable, "-m", "ruff", *words, "--no-cache", ".")
    assert done.returncode == 0, said(done)


# --- sizes -------------------------------------------------------------------------------------


@pytest.mark.parametrize("module", MODULES, ids=lambda p: p.relative_to(PACKAGE).as_posix())
def test_a_module_and_its_functions_stay_small(module: Path) -> None:
    assert len(module.read_text(encoding="utf-8").splitlines()) <= MOST_MODULE_LINES
    assert not long_functions(tree_of(module), MOST_FUNCTION_LINES)


def test_a_long_function_would_be_noticed() -> None:
    lines = ["def long():", *["    x = 1"] * MOST_FUNCTION_LINES]
    assert long_functions(ast.parse("\n".join(lines)), MOST_FUNCTION_LINES) == [
        ("long", MOST_FUNCTION_LINES + 1)
    ]
    assert not long_functions(ast.parse("\n".join(lines[:-1])), MOST_FUNCTION_LINES)


# --- imports -----------------------------------------------------------------------------------


@pytest.mark.parametrize("library", AT_ONE_DOOR)
def test_a_heavy_library_has_one_importer_at_most(library: str) -> None:
    importers = [m.relative_to(ROOT).as_posix() for m in MODULES if library in imported(m)]
    assert len(importers) <= 1, importers


def test_a_plan_of_a_curated_chemical_loads_nothing_slow() -> None:
    program = (
        "import sys, recommender.cli\n"
        "recommender.cli.main(['plan', 'acetone', '--air-temp', '75F'], standalone_mode=False)\n"
        f"print([name for name in {SLOW!r} if name in sys.modules])\n"
    )
    done = run(sys.executable, "-c", program)
    assert done.returncode == 0, said(done)
    assert done.stdout.startswith("Acetone")
    assert done.stdout.splitlines()[-1] == "[]"


def test_importing_the_package_reads_no_table_and_prints_nothing() -> None:
    program = (
        "import sys\n"
        "opened = []\n"
        "def hook(event, args):\n"
        "    if event == 'open' and str(args[0]).endswith(('.csv', '.json')):\n"
        "        opened.append(args[0])\n"
        "sys.addaudithook(hook)\n"
        "import recommender, recommender.cli\n"
        "sys.exit(str(opened) if opened else 0)\n"
    )
    done = run(sys.executable, "-c", program)
    assert done.returncode == 0, said(done)
    assert done.stdout == ""


def distribution(requirement: str) -> str:
    """Return the name of the package that a requirement asks for."""
    return re.split(r"[<>=!~ \[;]", requirement)[0].lower()


def test_every_declared_dependency_is_used_and_every_used_one_is_declared() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    needed = {distribution(d) for d in project["dependencies"]}
    extras = {distribution(d) for e in project["optional-dependencies"].values() for d in e}
    names = set().union(*(imported(m) for m in MODULES)) - set(sys.stdlib_module_names)
    used = {DISTRIBUTIONS.get(name, name).lower() for name in names - {"recommender"}}
    assert needed <= used
    assert used <= needed | extras


# --- words -------------------------------------------------------------------------------------


def test_no_file_speaks_of_anything_but_the_project() -> None:
    found = []
    for path in tracked_files():
        try:
            text = path.read_text(encoding="utf-8")
        except UnicodeDecodeError:
            continue
        found += [
            f"{path.relative_to(ROOT)}:{number}: {match[0]}"
            for number, line in enumerate(text.splitlines(), start=1)
            for match in FORBIDDEN.finditer(line)
        ]
    assert not found


@pytest.mark.parametrize(
    "text",
    [
        "nerve agent, blister agent, wetting agents",
        "a doffing helper and a recorder",
        "training of responders; possession; obsession",
        "read in a transcription",
        "aid station, said, main, AIHA, AIR",
        "tmp_path, optional, workplace, homework, rootless, network/working",
        "prompt removal of clothing",
    ],
)
def test_ordinary_words_are_not_forbidden(text: str) -> None:
    assert not FORBIDDEN.search(text)


def test_the_words_that_matter_would_be_noticed() -> None:
    for word in (*BACKWARD, *CASED_BACKWARD):
        assert FORBIDDEN.search(f"see {word[::-1]} there")
    for word in BACKWARD:
        assert FORBIDDEN.search(word[::-1].upper())


def test_there_are_files_to_read() -> None:
    assert len(tracked_files()) > 50
    assert Path(__file__) in tracked_files()
