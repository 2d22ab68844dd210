"""The README's worked example and counts, made from the tool; ``--write`` puts them in."""

from __future__ import annotations

import re
import sys
from pathlib import Path

from click.testing import CliRunner

from recommender.chemicals.table import load_chemicals
from recommender.cli import main

README = Path(__file__).resolve().parent.parent / "README.md"
ARGUMENTS = ["plan", "hydrochloric acid", "--air-temp", "75F", "--wind", "5mph"]
EXAMPLE = re.compile(r"(?<=```text\n).*?(?=```)", re.DOTALL)
COUNTS = re.compile(r"^The packaged table holds .*?\.", re.MULTILINE)


def example_text() -> str:
    result = CliRunner().invoke(main, ARGUMENTS)
    assert result.exit_code == 0, result.output
    return result.output


def counts_text() -> str:
    rows = load_chemicals().values()
    identities = {row.identity for row in rows}
    return f"The packaged table holds {len(rows)} rows of {len(identities)} chemicals."


if __name__ == "__main__":
    text = README.read_text(encoding="utf-8")
    text = EXAMPLE.sub(lambda _: example_text(), text)
    text = COUNTS.sub(lambda _: counts_text(), text)
    if "--write" in sys.argv:
        README.write_text(text, encoding="utf-8")
    else:
        print(text)
