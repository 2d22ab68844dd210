"""The three ways to have the tool: a wheel, an editable install, a checkout.

Nothing is downloaded: the dependencies are those of the environment that runs the tests, put on
the path of each fresh environment by one .pth file.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
import sysconfig
import tarfile
import tomllib
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
SHIPPED = ("recommender", "data", "README.md", "DEVELOPERS.md", "LICENSE", "pyproject.toml")
WHERE = (
    "import json, recommender, recommender.data_files as d, recommender.render.as_json as j\n"
    "from importlib.metadata import version\n"
    "print(json.dumps([recommender.__file__, str(d.data_folder()), str(j.schema_path()),"
    " version('decon-recommender')]))\n"
)


def run(command: list[str | Path], cwd: Path) -> str:
    """Run a command that has to succeed, without network, and return what it prints."""
    env = {k: v for k, v in os.environ.items() if k not in ("PYTHONPATH", "VIRTUAL_ENV")}
    env |= {"PIP_NO_INDEX": "1", "PIP_DISABLE_PIP_VERSION_CHECK": "1", "PIP_NO_INPUT": "1"}
    done = subprocess.run(
        [str(part) for part in command],
        cwd=cwd,
        env=env,
        capture_output=True,
        text=True,
        check=False,
        timeout=300,
    )
    assert done.returncode == 0, f"{command}\n{done.stdout}\n{done.stderr}"
    return done.stdout


def folder_bytes(folder: Path) -> dict[str, bytes]:
    """Return every file below a folder by its path, without what Python leaves behind."""
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file() and "__pycache__" not in path.parts
    }


def copy_of_the_checkout(target: Path) -> Path:
    """Copy what is needed to build, so that building leaves no trace in the checkout."""
    target.mkdir()
    for name in SHIPPED:
        source = ROOT / name
        if source.is_dir():
            ignore = shutil.ignore_patterns("__pycache__")
            shutil.copytree(source, target / name, ignore=ignore)
        else:
            shutil.copy2(source, target / name)
    return target


@dataclass(frozen=True)
class Environment:
    """A fresh virtual environment that borrows the installed dependencies."""

    folder: Path

    @property
    def python(self) -> Path:
        """The interpreter of the environment."""
        return self.folder / "bin" / "python"

    @property
    def command(self) -> Path:
        """The installed command."""
        return self.folder / "bin" / "recommender"

    def install(self, *words: str | Path) -> None:
        """Install one thing without its dependencies."""
        pip: list[str | Path] = [sys.executable, "-m", "pip", "--python", self.python, "install"]
        run([*pip, "-q", "--no-deps", "--no-index", *words], self.folder)

    def where(self, cwd: Path) -> list[str]:
        """Return where the package, its data and its schema are found, and its version."""
        found: list[str] = json.loads(run([self.python, "-c", WHERE], cwd))
        return found


def fresh_environment(folder: Path) -> Environment:
    """Create an environment without pip; its packages come from this one by a .pth file."""
    run([sys.executable, "-m", "venv", "--without-pip", folder], folder.parent)
    environment = Environment(folder)
    site = "import sysconfig; print(sysconfig.get_path('purelib'))"
    target = Path(run([environment.python, "-c", site], folder).strip())
    (target / "borrowed.pth").write_text(sysconfig.get_path("purelib") + "\n", encoding="utf-8")
    return environment


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Build the wheel of the checkout."""
    folder = tmp_path_factory.mktemp("wheel")
    source = copy_of_the_checkout(folder / "source")
    build: list[str | Path] = [sys.executable, "-m", "build", "--wheel", "--no-isolation"]
    run([*build, "--outdir", folder, source], folder)
    (built,) = folder.glob("*.whl")
    return built


@pytest.fixture(scope="module")
def installed(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Environment:
    """Install the wheel into a fresh environment."""
    environment = fresh_environment(tmp_path_factory.mktemp("installed") / "venv")
    environment.install(wheel)
    return environment


@pytest.fixture(scope="module")
def editable(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Environment, Path]]:
    """Install a copy of the checkout in editable mode into a fresh environment."""
    folder = tmp_path_factory.mktemp("editable")
    source = copy_of_the_checkout(folder / "source")
    environment = fresh_environment(folder / "venv")
    environment.install("--no-build-isolation", "-e", source)
    yield environment, source


# --- the wheel ---------------------------------------------------------------------------------


def test_the_wheel_holds_the_same_tables_as_the_checkout(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as archive:
        inside = {
            name.removeprefix("recommender/data/"): archive.read(name)
            for name in archive.namelist()
            if name.startswith("recommender/data/")
        }
    assert inside == folder_bytes(ROOT / "data")
    assert len(inside) >= 5


def test_the_wheel_holds_the_whole_package_and_nothing_else(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as archive:
        names = archive.namelist()
        code = {
            name.removeprefix("recommender/"): archive.read(name)
            for name in names
            if name.startswith("recommender/") and not name.startswith("recommender/data/")
        }
    assert code == folder_bytes(ROOT / "recommender")
    assert "schema/plan-v1.json" in code
    assert "py.typed" in code
    others = {name.split("/")[0] for name in names if not name.startswith("recommender/")}
    assert len(others) == 1
    assert others.pop().endswith(".dist-info")


def test_the_wheel_carries_license_and_entry_point(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as archive:
        text = {
            n.split("/", 1)[-1]: archive.read(n) for n in archive.namelist() if "dist-info" in n
        }
    assert text["licenses/LICENSE"] == (ROOT / "LICENSE").read_bytes()
    assert b"recommender = recommender.cli:main" in text["entry_points.txt"]
    metadata = text["METADATA"].decode("utf-8")
    for dependency in PROJECT["dependencies"]:
        assert f"Requires-Dist: {dependency}" in metadata


def test_an_installed_wheel_plans_from_any_folder(installed: Environment, tmp_path: Path) -> None:
    plan = json.loads(run([installed.command, "plan", "acetone", "--json"], tmp_path))
    assert plan["chemical"]["key"] == "acetone"
    assert plan["versions"]["recommender"] == PROJECT["version"]


def test_an_installed_wheel_finds_its_data_and_schema_inside_itself(
    installed: Environment, tmp_path: Path
) -> None:
    package, data, schema, version = installed.where(tmp_path)
    for place in (package, data, schema):
        assert Path(place).is_relative_to(installed.folder), place
    assert Path(data) == Path(package).parent / "data"
    assert json.loads(Path(schema).read_text(encoding="utf-8"))["$schema"]
    assert version == PROJECT["version"]


def test_an_installed_wheel_is_not_misled_by_a_folder_called_data(
    installed: Environment, tmp_path: Path
) -> None:
    (tmp_path / "data").mkdir()
    (tmp_path / "data" / "facts.csv").write_text("not,the,table\n", encoding="utf-8")
    assert Path(installed.where(tmp_path)[1]).is_relative_to(installed.folder)
    assert run([installed.command, "plan", "acetone"], tmp_path).startswith("Acetone")


def test_an_installed_wheel_runs_as_a_module_too(installed: Environment, tmp_path: Path) -> None:
    by_module = run([installed.python, "-m", "recommender", "plan", "acetone"], tmp_path)
    assert by_module == run([installed.command, "plan", "acetone"], tmp_path)


# --- editable and checkout ---------------------------------------------------------------------


def test_an_editable_install_reads_the_tables_beside_the_package(
    editable: tuple[Environment, Path], tmp_path: Path
) -> None:
    environment, source = editable
    package, data, schema, version = environment.where(tmp_path)
    assert Path(package) == source / "recommender" / "__init__.py"
    assert Path(data) == source / "data"
    assert Path(schema).is_relative_to(source)
    assert version == PROJECT["version"]


def test_an_editable_install_plans_from_any_folder_and_follows_an_edit(
    editable: tuple[Environment, Path], tmp_path: Path
) -> None:
    environment, source = editable
    assert run([environment.command, "plan", "acetone"], tmp_path).startswith("Acetone (CAS")
    for names in source.glob("data/chemicals/*/names.csv"):
        text = names.read_text(encoding="utf-8")
        names.write_text(text.replace(",Acetone,", ",Acetone edited,"), encoding="utf-8")
    assert run([environment.command, "plan", "67-64-1"], tmp_path).startswith("Acetone edited")


def test_a_checkout_runs_without_being_installed(tmp_path: Path) -> None:
    source = copy_of_the_checkout(tmp_path / "source")
    plan = json.loads(
        run([sys.executable, "-m", "recommender", "plan", "acetone", "--json"], source)
    )
    assert plan["chemical"]["key"] == "acetone"
    found = json.loads(run([sys.executable, "-c", WHERE], source))
    assert Path(found[1]) == source / "data"


def test_all_three_give_the_same_answer(
    installed: Environment, editable: tuple[Environment, Path], tmp_path: Path
) -> None:
    words = ["plan", "parathion", "--contact", "gross", "--json"]
    by_wheel = run([installed.command, *words], tmp_path)
    by_editable = run([editable[0].command, *words], tmp_path)
    by_checkout = run([sys.executable, "-m", "recommender", *words], ROOT)
    plans = [json.loads(text) for text in (by_wheel, by_editable, by_checkout)]
    for plan in plans:
        plan["versions"].pop("recommender")
    assert plans[0] == plans[1] == plans[2]


# --- the source distribution -------------------------------------------------------------------


def test_the_source_distribution_builds_the_same_wheel(wheel: Path, tmp_path: Path) -> None:
    source = copy_of_the_checkout(tmp_path / "source")
    build: list[str | Path] = [sys.executable, "-m", "build", "--sdist", "--no-isolation"]
    run([*build, "--outdir", tmp_path, source], tmp_path)
    (packed,) = tmp_path.glob("*.tar.gz")
    with tarfile.open(packed) as archive:
        archive.extractall(tmp_path / "unpacked", filter="data")
    (unpacked,) = (tmp_path / "unpacked").iterdir()
    again: list[str | Path] = [sys.executable, "-m", "build", "--wheel", "--no-isolation"]
    run([*again, "--outdir", tmp_path / "again", unpacked], tmp_path)
    (rebuilt,) = (tmp_path / "again").glob("*.whl")
    with zipfile.ZipFile(wheel) as first, zipfile.ZipFile(rebuilt) as second:
        assert {n: first.read(n) for n in first.namelist()} == {
            n: second.read(n) for n in second.namelist()
        }
