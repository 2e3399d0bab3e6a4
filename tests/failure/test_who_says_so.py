"""Names in a job file that are no one person's, and decisions nobody stands for, keep a joint from clear."""

import json
from pathlib import Path
from typing import Any

import pytest

from lastbolt.app.gather_documents import Documents
from lastbolt.app.who_says_so import who_says_so
from lastbolt.edge import documents
from lastbolt.words.job import Job


def codes(tmp_path: Path, *events: dict[str, Any]) -> list[str]:
    made = [{"id": f"e{n}", **event} for n, event in enumerate(events)]
    path = tmp_path / "job.json"
    path.write_text(json.dumps({"schema": "lastbolt.job/1", "id": "j", "goal": "", "events": made}))
    return [one.code for one in who_says_so(Documents(job=documents.load(path, Job)), ())]


def done(by: str, **more: Any) -> dict[str, Any]:
    return {"event": "step done", "step": "s1", "by": by, **more}


@pytest.mark.parametrize("second", ["Lio and Tobin", "Lio/Tobin", "both", "same", "everybody"])
def test_several_people_or_nobody_in_particular(tmp_path: Path, second: str) -> None:
    assert codes(tmp_path, done("Lio"), done("Tobin"), done(second)) == ["LB-T44"]


@pytest.mark.parametrize(
    "second", ["Lio again", "Lio (2)", "Lio, 2nd round", "Lio (self-check)", "L.", "Lio Berg", "Lio 2"]
)
def test_one_person_by_two_names(tmp_path: Path, second: str) -> None:
    assert codes(tmp_path, done("Lio"), done("Tobin"), done(second)) == ["LB-T45"]


@pytest.mark.parametrize("second", ["lio", "Lionel", "Kim, L.", "Group 4", "m2", "bench 3", "A"])
def test_people_as_they_are_called(tmp_path: Path, second: str) -> None:
    assert codes(tmp_path, done("Lio"), done("Ann Berg"), done(second)) == []


def test_decisions_need_a_name_and_to_set_aside_a_reason(tmp_path: Path) -> None:
    aside = {"event": "set aside", "reference": "r", "reason": "", "by": ""}
    assert codes(tmp_path, aside) == ["LB-T21", "LB-T21"]
    assert codes(tmp_path, {**aside, "by": "Ann", "reason": "is not fitted here"}) == []
    assert codes(tmp_path, done("", looked=True)) == ["LB-T21"]
    assert codes(tmp_path, done("")) == []
