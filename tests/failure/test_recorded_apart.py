"""A joint is said to be apart only by looked-at steps of the parting, and by nothing that came after."""

import json
from pathlib import Path

import pytest

from lastbolt.cli.main import main

MANUAL = """# Winch

## 4.1 Parting the housing

1. Remove the six screws M8x50 (1).
2. Press the halves apart with the press frame.
3. Lift the upper half off.

## 4.2 Joining the housing

1. Set the upper half on.
2. Fit the six screws M8x50 (1).
"""
PARTS = "Fig,Fig title,Item,Part no.,Description,Qty\n1,Housing,1,H-1,SCREW M8X50,6\n"
WALK = {
    "schema": "lastbolt.walk/1", "joint": "housing", "name": "Housing",
    "places": [{"id": f"p{n}", "label": str(n)} for n in range(1, 7)],
}  # fmt: skip


def tick(step: str, *, looked: bool = True) -> dict[str, object]:
    return {"event": "step done", "step": step, "looked": looked, "words": "as it should"}


def act(kind: str, **more: object) -> dict[str, object]:
    return {"event": kind, "joint": "housing", **more}


OUT = act("took out", places=[f"p{n}" for n in range(1, 7)])


@pytest.fixture
def steps(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> list[str]:
    """The ids of 4.1's steps, then of 4.2's."""
    monkeypatch.chdir(tmp_path)
    Path("manual.md").write_text(MANUAL, encoding="utf-8")
    Path("parts.csv").write_text(PARTS, encoding="utf-8")
    main(["read", "manual.md", "parts.csv", "--name", "Winch W5", "--out", "w.model.json"])
    capsys.readouterr()
    Path("walk.json").write_text(json.dumps(WALK), encoding="utf-8")
    model = json.loads(Path("w.model.json").read_text(encoding="utf-8"))
    return [step["id"] for procedure in model["procedures"] for step in procedure["steps"]]


def sentence(capsys: pytest.CaptureFixture[str], *events: dict[str, object]) -> tuple[str, int]:
    numbered = [{"id": f"e{n}", "by": "Ann", **event} for n, event in enumerate(events)]
    job = {
        "schema": "lastbolt.job/1",
        "id": "j1",
        "machine": "Winch W5",
        "goal": "part the housing",
        "events": numbered,
    }
    Path("job.json").write_text(json.dumps(job), encoding="utf-8")
    files = ["--model", "w.model.json", "--walk", "walk.json", "--job", "job.json"]
    done = main(["tally", "--goal", "part the housing", *files, "--json"])
    out = capsys.readouterr()
    assert "sentence" in out.out, out.out + out.err
    answer = json.loads(out.out)
    assert bool(answer.get("apart")) == ("Recorded as apart" in answer["sentence"])
    assert answer.get("apart") or "Do not pull" in answer["sentence"] or answer["clear_to_part"]
    return answer["sentence"], done


def test_every_step_looked_at_says_apart_and_remarks_are_no_holders(
    steps: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    said, done = sentence(capsys, OUT, *(tick(step) for step in steps[:3]))
    assert "Recorded as apart: 4.1 step 3, looked at by Ann" in said
    assert "take that tick back" in said
    assert done == 1  # nothing was shown to be free before it was pulled


@pytest.mark.parametrize("case", ["glance", "one left", "begun", "before force"])
def test_less_than_every_step_looked_at_does_not(
    steps: list[str], capsys: pytest.CaptureFixture[str], case: str
) -> None:
    one, two, three = steps[:3]
    events = {
        "glance": [tick(one), tick(two), tick(three, looked=False)],
        "one left": [tick(one), tick(three)],
        "begun": [tick(one), tick(two), {"event": "step started", "step": three}],
        "before force": [tick(one)],
    }[case]
    assert "Do not pull" in sentence(capsys, OUT, *events)[0]


@pytest.mark.parametrize("case", ["put in", "seen in", "set on", "joined", "undone"])
def test_what_came_after_takes_it_back(
    steps: list[str], capsys: pytest.CaptureFixture[str], case: str
) -> None:
    after = {
        "put in": act("put in", places=["p4"]),
        "seen in": act("looked", answers=[{"place": "p4", "saw": ["in"]}]),
        "set on": tick(steps[3]),
        "joined": tick(steps[4], looked=False),
        "undone": {"event": "undone", "undoes": "e3"},
    }[case]
    said, _ = sentence(capsys, OUT, *(tick(step) for step in steps[:3]), after)
    assert "Do not pull" in said


@pytest.mark.parametrize("line", ["3 still in", "3 put back in", "3 hangs somehow"])
def test_typed_lines_that_speak_against_it_take_it_back(
    steps: list[str], capsys: pytest.CaptureFixture[str], line: str
) -> None:
    Path("lines.txt").write_text(f"4.1 steps 1-3 done, looked\nby Dan\n{line}\n", encoding="utf-8")
    files = ["--model", "w.model.json", "--walk", "walk.json", "--typed", "lines.txt"]
    main(["tally", "--goal", "part the housing", *files])
    out = capsys.readouterr().out
    assert "Recorded as apart" not in out
    assert "Do not pull" in out
    Path("lines.txt").write_text("4.1 steps 1-3 done, looked\nby Dan\n3 out\n", encoding="utf-8")
    main(["tally", "--goal", "part the housing", *files])
    assert "Recorded as apart" in capsys.readouterr().out


@pytest.mark.parametrize("opens", ["Press the halves apart.", "Lift the upper half off by hand."])
def test_of_two_sections_that_part_something_both_must_be_through(
    steps: list[str], capsys: pytest.CaptureFixture[str], opens: str
) -> None:
    two = """# Winch

## 4.1 Parting the cover

1. Press the cover off.
2. Lay it down.

## 4.3 Parting the housing halves

1. Remove the six screws M8x50 (1).
2. {opens}

## 4.5 Removing the main shaft

1. Do 4.1 and 4.3.
2. Lift the shaft out.
"""
    Path("two.md").write_text(two.format(opens=opens), encoding="utf-8")
    main(["read", "two.md", "parts.csv", "--name", "Winch W5", "--out", "two.model.json"])
    Path("lines.txt").write_text("4.1 steps 1-2 done, looked\n", encoding="utf-8")
    files = ["--model", "two.model.json", "--walk", "walk.json", "--typed", "lines.txt"]
    main(["tally", "--goal", "remove the main shaft", *files])
    out = capsys.readouterr().out
    assert "Recorded as apart" not in out
    assert "Do not pull" in out


TIED = "figure 1 item 1 here"


@pytest.mark.parametrize("order", [("wholly", TIED), ("in part", TIED)])
def test_no_place_that_anybody_ties_is_lost_and_disagreement_is_told(
    steps: list[str], capsys: pytest.CaptureFixture[str], order: tuple[str, str]
) -> None:
    how, line = order
    model = json.loads(Path("w.model.json").read_text(encoding="utf-8"))
    tie = {"line": model["rows"][0]["id"], "wholly": how == "wholly", "by": "Ann",
           "places": [f"p{n}" for n in range(1, 7)]}  # fmt: skip
    walk = {**WALK, "places": WALK["places"][:5], "ties": [tie]}
    Path("walk.json").write_text(json.dumps(walk), encoding="utf-8")
    seen = "1-5 light through\nwent round\ntray 5 x M8x50\n"
    Path("lines.txt").write_text(f"by Dan\n{line}\n{seen}by Eva\n{seen}no other holders\n", encoding="utf-8")
    files = ["--model", "w.model.json", "--walk", "walk.json", "--typed", "lines.txt"]
    assert main(["tally", "--goal", "part the housing", *files]) == 1
    out = " ".join(capsys.readouterr().out.split())
    assert "Do not pull" in out
    assert "p6" in out
    if how != "wholly":
        assert "Dan says all of row" in out
