"""Work ticked by typing: which section or steps a line means, and what the tick does in plan and tally."""

from pathlib import Path

import pytest

from lastbolt.app.typed_ticks import typed_ticks
from lastbolt.cli.main import main
from lastbolt.edge import documents
from lastbolt.words.job import Event, ProcedureDone, StepDone, StepStarted
from lastbolt.words.machine import Machine

MANUAL = """# Winch

## 2.1 Draining the gearbox

1. Take the drain plug out.

## 3.3 Hand brake: removal

1. Take the brake off.

## 3.3 Hand brake: installation

1. Put the brake on.

## 4.1 Parting the housing

Before: do 2.1.

1. Remove the six screws M8x50 (1).
2. Fit the jacking screws.
3. Press the halves apart.
4. Lift the upper half off.
"""
PARTS = "Fig,Fig title,Item,Part no.,Description,Qty\n1,Housing,1,H-1,SCREW M8X50,6\n"


@pytest.fixture
def machine(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Machine:
    monkeypatch.chdir(tmp_path)
    Path("manual.md").write_text(MANUAL, encoding="utf-8")
    Path("parts.csv").write_text(PARTS, encoding="utf-8")
    main(["read", "manual.md", "parts.csv", "--name", "Winch", "--out", "w.model.json"])
    return documents.load(Path("w.model.json"), Machine)


def said(events: tuple[Event, ...]) -> list[tuple[type[Event], str, str, bool]]:
    return [
        (
            type(one),
            (getattr(one, "procedure", "") or getattr(one, "step", "")).removeprefix("manual/"),
            one.by,
            getattr(one, "looked", False),
        )
        for one in events
    ]


@pytest.mark.parametrize(
    ("line", "events"),
    [
        ("2.1 done", [(ProcedureDone, "procedure/2.1", "Ann", False)]),
        ("done 2.1", [(ProcedureDone, "procedure/2.1", "Ann", False)]),
        ("section 2.1 is done, looked at it", [(ProcedureDone, "procedure/2.1", "Ann", True)]),
        ("3.3 removal done", [(ProcedureDone, "procedure/3.3", "Ann", False)]),
        ("4.1 step 2 done", [(StepDone, "step/4.1/2", "Ann", False)]),
        (
            "4.1 steps 1-2 and 4 done and looked",
            [(StepDone, f"step/4.1/{mark}", "Ann", True) for mark in (1, 2, 4)],
        ),
        ("4.1 step 3 begun", [(StepStarted, "step/4.1/3", "Ann", False)]),
    ],
)
def test_which_work_a_line_ticks(
    machine: Machine, line: str, events: list[tuple[type[Event], str, str, bool]]
) -> None:
    found = typed_ticks(f"by Ann\n{line}\n", machine)
    assert said(found.every) == events
    assert not found.refused


@pytest.mark.parametrize("line", ["3.3 done", "9.9 done", "4.1 step 7 done", "4.1 step 3-1 done"])
def test_what_leads_to_no_one_section_or_step_ticks_nothing_and_says_why(machine: Machine, line: str) -> None:
    found = typed_ticks(f"by Ann\n{line}\n", machine)
    assert not found.ticks
    assert found.refused[2].what


@pytest.mark.parametrize(
    "line", ["4 done", "8 x M6x45 done", "2.1 not done", "done", "2.1", "2.1 will be done"]
)
def test_what_is_no_tick_is_none(machine: Machine, line: str) -> None:
    found = typed_ticks(f"by Ann\n{line}\n", machine)
    assert not found.ticks


def test_a_struck_tick_never_happened(machine: Machine) -> None:
    assert not typed_ticks("by Ann\n2.1 done\nstrike line 2\n", machine).ticks


def test_the_plan_shows_what_was_typed_as_done(machine: Machine, capsys: pytest.CaptureFixture[str]) -> None:
    Path("day.txt").write_text("by Ann\n2.1 done\n4.1 step 1 done\n4.1 step 3 begun\n", encoding="utf-8")
    main(["plan", "4.1", "--model", "w.model.json", "--typed", "day.txt"])
    told = capsys.readouterr().out
    assert "Confirm done: Draining" in told
    assert "[x] 1  Remove the six screws" in told
    assert "is begun, past the stop" in told


def test_in_the_tally_a_tick_is_no_look_and_what_is_not_ticked_says_nothing(
    machine: Machine, capsys: pytest.CaptureFixture[str]
) -> None:
    lines = "by Ann\n2.1 done\n1-6 light through\nwent round\nby Ben\ntray 6 x M8x50\nno other holders\n"
    Path("day.txt").write_text(lines, encoding="utf-8")
    main(["tally", "--model", "w.model.json", "--goal", "4.1", "--typed", "day.txt"])
    told = capsys.readouterr()
    assert "not understood" not in told.out + told.err
    assert "not recorded" not in told.out
