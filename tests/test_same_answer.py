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
# A few rows of every group, so that other processes answer within seconds.
EVERY = 7
CONTACTS = ("vapor", "splash", "gross")


def answers(every: int = EVERY) -> dict[str, str]:
    """A digest of each plan as it is printed."""
    found = {}
    for chemical in (None, *list(load_chemicals().values())[::every]):
        for contact in CONTACTS:
            plan = recommend(chemical, Scene(contact=contact))
            printed = json.dumps(plan_to_dict(plan)).encode()
            name = chemical.key if chemical else "unknown product"
            found[f"{name}, {contact}"] = hashlib.sha256(printed).hexdigest()
    return found


def answers_of_another_process(seed: str) -> dict[str, str]:
    command = "import json, test_same_answer; print(json.dumps(test_same_answer.answers()))"
    paths = os.pathsep.join([str(HERE), str(HERE.parent)])
    environment = {**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": paths}
    done = subprocess.run(
        [sys.executable, "-c", command], env=environment, capture_output=True, text=True, check=True
    )
    answered: dict[str, str] = json.loads(done.stdout)
    return answered


def test_the_same_question_gets_the_same_answer_twice() -> None:
    assert answers() == answers()


def test_the_record_of_every_step_is_the_same_twice() -> None:
    for chemical in list(load_chemicals().values())[::EVERY]:
        first, second = (repr(recommend(chemical).outcomes) for _ in range(2))
        assert first == second


def test_the_answer_does_not_hang_on_the_seed_of_the_process() -> None:
    first, second = answers_of_another_process("1"), answers_of_another_process("2")
    assert first == second
    assert first == answers()


def test_another_question_gets_another_answer() -> None:
    printed = [
        json.dumps(plan_to_dict(recommend("acetone", Scene(contact=contact))))
        for contact in CONTACTS
    ]
    assert len(set(printed)) == len(CONTACTS)
