"""The same question gets the same answer, byte for byte, twice and in another process."""

from __future__ import annotations

import hashlib
import json
import os
import subprocess
import sys
from pathlib import Path

from recommender.chemicals.table import load_chemicals
from recommender.recommend import recommend
from recommender.render.as_json import plan_to_dict
from recommender.scene import Scene

HERE = Path(__file__).resolve().parent
CONTACTS = ("vapor", "splash", "gross")


def everything() -> str:
    """A digest of every curated plan, as recorded and as printed."""
    digest = hashlib.sha256()
    for chemical in (None, *load_chemicals().values()):
        for contact in CONTACTS:
            plan = recommend(chemical, Scene(contact=contact))
            digest.update(repr(plan.outcomes).encode())
            digest.update(json.dumps(plan_to_dict(plan)).encode())
    return digest.hexdigest()


def in_another_process(seed: str) -> str:
    command = "import test_same_answer; print(test_same_answer.everything())"
    paths = [str(HERE), str(HERE.parent)]
    environment = {**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": os.pathsep.join(paths)}
    done = subprocess.run(
        [sys.executable, "-c", command], env=environment, capture_output=True, text=True, check=True
    )
    return done.stdout.strip()


def test_the_same_question_gets_the_same_answer_twice() -> None:
    assert everything() == everything()


def test_the_answer_does_not_hang_on_the_seed_of_the_process() -> None:
    first, second = in_another_process("1"), in_another_process("2")
    assert first == second == everything()


def test_a_changed_scene_changes_the_digest() -> None:
    one = json.dumps(plan_to_dict(recommend("acetone", Scene())))
    other = json.dumps(plan_to_dict(recommend("acetone", Scene(contact="gross"))))
    assert one != other
