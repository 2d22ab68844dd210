"""What a store was built from, in a form that can be compared without building it again."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from functools import cache
from importlib import metadata
from importlib.util import find_spec
from pathlib import Path

from recommender.chemicals.lookup import normalize_name
from recommender.data_files import data_folder
from recommender.library.corrections import TABLE
from recommender.library.schema import PACKAGES, SCHEMA_VERSION

# Bump when the build's judgement changes (tolerances, checks, equations), so that stores follow.
BUILD_VERSION = 1
# Folded into the fingerprint, so that a store whose names were folded another way is rebuilt.
_PROBE = "Ünï-α,β' 1,2-(±)[x]/{Y}.z+−–№ ²"


@cache
def installed_versions() -> Mapping[str, str]:
    """Versions of the data-bearing packages here; those not installed are left out."""
    found = {}
    for package in PACKAGES:
        if find_spec(package) is not None:
            try:
                found[package] = metadata.version(package)
            except metadata.PackageNotFoundError:
                continue
    return found


@cache
def own_part() -> str:
    """What this project adds to the fingerprint: format, judgement, corrections, name folding."""
    corrections = (data_folder() / TABLE).read_bytes() + normalize_name(_PROBE).encode()
    digest = hashlib.blake2b(corrections, digest_size=6).hexdigest()
    return f"{SCHEMA_VERSION}.{BUILD_VERSION}.{digest}"


def fingerprint(versions: Mapping[str, str]) -> str:
    """One line that names everything a store is built from."""
    packages = " ".join(f"{name}-{versions[name]}" for name in sorted(versions))
    return f"{own_part()} {packages}"


def file_checksum(path: Path) -> str:
    """Checksum of a whole file."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, lambda: hashlib.blake2b(digest_size=16)).hexdigest()
