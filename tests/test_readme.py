"""The documents say what the tool does today."""

from __future__ import annotations

import re
import shlex
import subprocess
import sys
from pathlib import Path

import pytest
from readme_example import ARGUMENTS, COUNTS, EXAMPLE, README, counts_text, example_text

ROOT = README.parent
TEXT = README.read_text(encoding="utf-8")
SHELL_BLOCKS = re.findall(r"```sh\n(.*?)```", TEXT, re.DOTALL)


def test_the_worked_example_is_what_the_first_command_prints():
    found = EXAMPLE.search(TEXT)
    assert found and found.group(0) == example_text()
    assert "recommender plan " + shlex.join(ARGUMENTS[1:]).replace("'", '"') in SHELL_BLOCKS[0]


def test_the_counts_are_those_of_the_table():
    found = COUNTS.search(TEXT)
    assert found and found.group(0) == counts_text()


def test_the_readme_opens_with_the_job_in_one_paragraph():
    title, blank, paragraph, after = TEXT.split("\n")[:4]
    assert title.startswith("# ") and blank == "" and after == ""
    for word in ("first-due officer", "technician", "pre-planner", "never decides", "not for mass"):
        assert word in paragraph


def test_ci_runs_the_test_command_of_the_readme():
    script = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    pattern = re.search(r'grep -F "(.+)" README.md', script).group(1)
    lines = [line for line in TEXT.splitlines() if pattern in line]
    assert lines == [SHELL_BLOCKS[1].strip()]


def test_the_python_example_runs():
    block = re.search(r"```python\n(.*?)```", TEXT, re.DOTALL).group(1)
    names: dict[str, object] = {}
    exec(compile(block, "README", "exec"), names)
    assert names["plan"].outcomes.stations.recommended >= 1


def usage_lines() -> list[str]:
    lines = SHELL_BLOCKS[2].splitlines()
    return [line.split("#")[0].strip() for line in lines if line.startswith("recommender ")]


@pytest.mark.parametrize("line", usage_lines())
def test_each_usage_line_runs(line):
    arguments = shlex.split(line)[1:]
    done = subprocess.run(
        [sys.executable, "-m", "recommender", *arguments],
        cwd=ROOT, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    assert done.stdout.strip()


def test_both_documents_exist_and_the_contributors_guide_names_each_top_folder():
    guide = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    for folder in sorted(p.name for p in (ROOT / "recommender").iterdir() if p.is_dir()):
        if folder.startswith("__") or folder == "schema":
            continue
        assert f"recommender/{folder}/" in guide, folder
    assert Path(ROOT / "LICENSE").is_file()
