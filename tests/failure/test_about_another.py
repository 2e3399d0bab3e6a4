"""Typed lines and job files of another machine or joint are refused, and never read as this one's."""

import json
from pathlib import Path

import pytest

from lastbolt.cli.main import main

MANUAL = """# Winch

## 2.1 Draining

1. Take the drain plug out.

## 4.1 Parting the housing

1. Do 2.1.
2. Remove the six screws M8x50 (1).
3. Lift the upper half off.

## 4.3 Removing the bearing cap

1. Remove the four screws M6x20 (2).
2. Take the bearing cap off.
"""
PARTS = """Fig,Fig title,Item,Part no.,Description,Qty
1,Housing,1,H-1,SCREW M8X50,6
1,Housing,2,H-2,SCREW M6X20,4
"""
LINES = "by Ann\n1-6 light through\nwent round\ntray 6 x M8x50\nby Ben\n1-6 light through\nwent round\n"


@pytest.fixture(autouse=True)
def _models(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    monkeypatch.chdir(tmp_path)
    Path("manual.md").write_text(MANUAL, encoding="utf-8")
    Path("parts.csv").write_text(PARTS, encoding="utf-8")
    for name in ("Winch W5", "Hoist H9"):
        main(["read", "manual.md", "parts.csv", "--name", name, "--out", f"{name[-2:].lower()}.model.json"])
    capsys.readouterr()


def typed(about: str) -> str:
    Path("lines.txt").write_text(about + LINES, encoding="utf-8")
    return "lines.txt"


def job(**said: object) -> str:
    events = said.pop("events", [{"event": "procedure done", "id": "e1", "by": "Ann", "procedure": "2.1"}])
    document = {"schema": "lastbolt.job/1", "id": "j", "goal": "part the housing", "events": events, **said}
    Path("job.json").write_text(json.dumps(document), encoding="utf-8")
    return "job.json"


def test_typed_lines_of_another_machine(capsys: pytest.CaptureFixture[str]) -> None:
    lines = typed("machine Hoist H9\n")
    assert main(["tally", "--model", "w5.model.json", "--goal", "4.1", "--typed", lines]) == 2
    assert "Hoist H9" in capsys.readouterr().err


def test_typed_lines_of_another_joint(capsys: pytest.CaptureFixture[str]) -> None:
    lines = typed("goal part the housing\n")
    assert main(["tally", "--model", "w5.model.json", "--goal", "4.3", "--typed", lines]) == 2
    assert "part the housing" in capsys.readouterr().err
    assert main(["report", "4.3", "--model", "w5.model.json", "--typed", lines, "--out", "r"]) == 2


def test_one_goal_in_other_words_is_the_same(capsys: pytest.CaptureFixture[str]) -> None:
    lines = typed("goal part the housing\n")
    assert main(["tally", "--model", "w5.model.json", "--goal", "4.1", "--typed", lines]) == 1
    assert "4.1 Parting the housing, Winch W5" in capsys.readouterr().out


def test_the_lines_name_their_model_and_goal(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["tally", "--typed", typed("machine Winch W5\ngoal part the housing\n")]) == 1
    assert "4.1 Parting the housing, Winch W5" in capsys.readouterr().out


def test_a_machine_of_which_no_model_is_here(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["tally", "--typed", typed("machine Crane C1\n")]) == 2
    said = capsys.readouterr().err
    assert "Crane C1" in said
    assert "w5.model.json" in said


def test_a_struck_line_says_nothing(capsys: pytest.CaptureFixture[str]) -> None:
    lines = typed("machine Hoist H9\nstrike line 1\n")
    assert main(["tally", "--model", "w5.model.json", "--goal", "4.1", "--typed", lines]) == 1


@pytest.mark.parametrize("command", ["plan", "refit", "order"])
def test_a_job_of_another_machine(command: str, capsys: pytest.CaptureFixture[str]) -> None:
    file = job(machine="Hoist H9")
    assert main([command, "4.1", "--model", "w5.model.json", "--job", file]) == 2
    assert "Hoist H9" in capsys.readouterr().err


def test_the_machine_may_be_named_shorter() -> None:
    assert main(["plan", "4.1", "--model", "w5.model.json", "--job", job(machine="W5")]) != 2


def test_a_job_that_ticks_what_the_model_has_not(capsys: pytest.CaptureFixture[str]) -> None:
    events = [
        {"event": "procedure done", "id": f"e{number}", "by": "Ann", "procedure": section}
        for number, section in enumerate(("2.1", "7.2"))
    ]
    assert main(["plan", "4.1", "--model", "w5.model.json", "--job", job(events=events)]) == 1
    said = capsys.readouterr().out
    assert "7.2" in said
    assert "job of this machine" in " ".join(said.split())
