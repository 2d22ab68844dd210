"""Where the local store is: an option, else an environment variable, else the platform's place."""

from __future__ import annotations

import os
from pathlib import Path

from recommender.errors import StoreMissingError

ENVIRONMENT_VARIABLE = "RECOMMENDER_STORE"
APPLICATION = "decon-recommender"
FILE_NAME = "store.sqlite"


def store_file(place: str | Path | None = None) -> Path:
    """Return the file that the store is, or would be, kept in.

    Args:
        place: a folder, or a file whose name ends in ``.sqlite``; None to take the environment
            variable ``RECOMMENDER_STORE``, or else the platform's folder for a program's data.

    Raises:
        StoreMissingError: no place is given and the platform's cannot be found, because the
            packages that build and find the store are not installed.
    """
    given = place if place is not None else os.environ.get(ENVIRONMENT_VARIABLE)
    folder = Path(given).expanduser() if given else _platform_folder()
    return folder if folder.suffix == ".sqlite" else folder / FILE_NAME


def _platform_folder() -> Path:
    try:
        from platformdirs import user_data_path
    except ImportError:
        raise StoreMissingError(
            "the packages that build and find it are not installed", needs_packages=True
        ) from None
    return Path(user_data_path(APPLICATION, appauthor=False))
