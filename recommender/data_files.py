"""Find and read the packaged tables.

The tables live in the top-level folder ``data/``. A built wheel carries them inside the package
as ``recommender/data``; a checkout and an editable install see them beside the package. Both
places are tried, in that order, so the three kinds of installation read the same files.
"""

from __future__ import annotations

import csv
import io
from functools import cache
from pathlib import Path

from recommender.errors import DataError

_PACKAGE = Path(__file__).resolve().parent


@cache
def data_folder() -> Path:
    """Return the folder that holds the packaged tables.

    Raises:
        DataError: neither place holds the tables (a broken installation).
    """
    for folder in (_PACKAGE / "data", _PACKAGE.parent / "data"):
        if (folder / "facts.csv").is_file():
            return folder
    raise DataError(
        f"The packaged tables are missing: looked for facts.csv in {_PACKAGE / 'data'} and "
        f"{_PACKAGE.parent / 'data'}. Install the package again."
    )


def read_table(name: str) -> list[dict[str, str]]:
    """Read one CSV table, given its path below ``data/``, as dictionaries of stripped strings.

    Raises:
        DataError: the file is missing, has a row of the wrong length or is not UTF-8. The message
            names the file and the row.
    """
    path = data_folder() / name
    try:
        text = path.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as problem:
        raise DataError(f"Cannot read the table {name}: {problem}") from problem
    rows = csv.reader(io.StringIO(text))
    header = next(rows, None)
    if not header:
        raise DataError(f"The table {name} is empty.")
    table = []
    for number, row in enumerate(rows, start=2):
        if not row:
            continue
        if len(row) != len(header):
            raise DataError(
                f"{name}, row {number}: {len(row)} cells, expected {len(header)} "
                f"({', '.join(header)})."
            )
        table.append({key: cell.strip() for key, cell in zip(header, row, strict=True)})
    return table


def chemical_groups() -> tuple[str, ...]:
    """Return the names of the folders of curated chemicals, in alphabetical order."""
    root = data_folder() / "chemicals"
    return tuple(sorted(p.name for p in root.iterdir() if (p / "names.csv").is_file()))
