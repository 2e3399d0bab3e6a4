"""Typed lines as a record: a gearcase apart and together again, typed at the bench, without a job file."""

from pathlib import Path

import pytest
from small_book import M8X20, machine, names, proc, row, step

from lastbolt.app.typed_record import JOINT, typed_record
from lastbolt.cli.main import main
from lastbolt.edge import documents
from lastbolt.words.job import (
    Counted,
    Event,
    FoundBad,
    FoundWhy,
    LaidIn,
    Looked,
    PutIn,
    Renewed,
    Slackened,
    StepDone,
    TakenAway,
    Tightened,
    TookOut,
    WontClose,
)
from lastbolt.words.joint import WALK_SCHEMA, JointPlace, Walk

COVER = proc("4.1", "Separating the cover", "separate", "cover",
             step("1", "Remove the case screws.", names("case screws")),
             step("2", "Take the cover off.", names("cover")))  # fmt: skip
COVER_ON = proc("4.2", "Joining the cover", "join", "cover",
                step("1", "Set the cover on.", names("cover", "install")),
                step("2", "Fit the case screws.", names("case screws", "install")))  # fmt: skip
CAP = proc("4.3", "Removing the cap", "remove", "cap", step("1", "Take the cap off.", names("cap")))
MADE = machine(COVER, COVER_ON, CAP, row("2/1", "Screw, case", 3, M8X20, number="W-201"),
               row("2/2", "Key", 1, number="W-202"), row("3/2", "Key", 1, number="W-302"))  # fmt: skip


def events(text: str, *walks: Walk) -> tuple[Event, ...]:
    found = typed_record(text, MADE, walks)
    assert not found.problems, found.problems
    return found.events


def one(text: str) -> Event:
    (found,) = events(text)
    return found


@pytest.mark.parametrize(
    ("line", "kind", "what"),
    [
        ("1-3 taken out", TookOut, {"places": ("1", "2", "3")}),
        ("1 and 3 put back", PutIn, {"places": ("1", "3")}),
        ("1-3 stage 1", Tightened, {"places": ("1", "2", "3"), "stage": 1, "final": False}),
        ("1-3 tightened to stage 2", Tightened, {"stage": 2, "final": False}),
        ("1, 3 final", Tightened, {"places": ("1", "3"), "final": True, "painted": False, "stage": 0}),
        ("2 tightened to the end and marked", Tightened, {"final": True, "painted": True}),
        ("2 slackened", Slackened, {"places": ("2",)}),
        ("laid in 2 cloths, crankcase opening", LaidIn, {"thing": "cloth", "count": 2,
                                                         "where": "crankcase opening"}),
        ("took away a cloth", TakenAway, {"thing": "cloth", "count": 1}),
        ("Taken away: 2 guide studs", TakenAway, {"thing": "guide stud", "count": 2}),
        ("renewed 3 x W-201", Renewed, {"row": "list/row/2/1", "part_number": "W-201", "count": 3}),
        ("renewed case screw", Renewed, {"row": "list/row/2/1", "count": 1}),
        ("renewed key", Renewed, {"row": "", "part": "key"}),
        ("lost key", FoundBad, {"how": "lost", "part": "key", "row": ""}),
        ("damaged 2 W-302", FoundBad, {"how": "damaged", "row": "list/row/3/2", "count": 2}),
        ("it won't close", WontClose, {"joint": JOINT}),
        ("it won\u2019t close.", WontClose, {"joint": JOINT}),
        ("found why: dirt at 4", FoundWhy, {"cause": "dirt at 4"}),
        ("tray 3 x M8x20", Counted, {"pieces": 3}),
        ("4.1 step 1 done", StepDone, {"step": "book/step/4.1/1"}),
        ("4.3 back", StepDone, {"step": "back/book/step/4.3/1", "looked": False}),
        ("4.3 step 1 is back, looked at", StepDone, {"step": "back/book/step/4.3/1", "looked": True}),
    ],
)  # fmt: skip
def test_each_line_is_one_event(line: str, kind: type[Event], what: dict[str, object]) -> None:
    found = one(line)
    assert isinstance(found, kind)
    assert {name: getattr(found, name) for name in what} == what


def test_a_look_is_a_look_and_the_speaker_is_kept() -> None:
    by_two = events("by Ama\n1 out\nby Kofi\n2 slack\nAma: 3 in\n4 still in by Lio")
    assert [(type(one), one.by) for one in by_two] == [
        (Looked, "Ama"), (Looked, "Kofi"), (Looked, "Ama"), (Looked, "Lio"),
    ]  # fmt: skip


def test_places_are_those_of_the_walk_by_their_labels() -> None:
    walk = Walk(WALK_SCHEMA, "j", "", places=(JointPlace("p1", "1"), JointPlace("p2", "2")))
    found = events("1-2 final\n7 final", walk)
    assert [getattr(one, "places", ()) for one in found] == [("p1", "p2"), ("7",)]
    assert {getattr(one, "joint", "") for one in found} == {"j"}


@pytest.mark.parametrize(
    "line",
    [
        "1-3 tightened",
        "1-3 out, 4 final",
        "put in the rags",
        "9.9 back",
        "laid in",
        "renewed",
        "final",
        "1 finale",
    ],
)
def test_what_is_not_understood_is_told_and_records_nothing(line: str) -> None:
    found = typed_record(line, MADE)
    assert found.events == ()
    assert [one.code for one in found.problems] == ["LB-T07"]


def test_lines_of_the_tally_alone_and_lines_struck_say_nothing_here() -> None:
    text = (
        "went round\nlist compared\nholder bracket: off\n1 final\nstrike line 4\nno other holders\n# a remark"
    )
    assert events(text) == ()


TYPED = """by Ama
4.1 step 1-2 done
1-3 taken out
laid in a cloth
4.2 done
1-3 put in
took away a cloth
"""


def run(tmp_path: Path, text: str) -> int:
    documents.save(tmp_path / "m.json", MADE)
    (tmp_path / "t.txt").write_text(text)
    return main(["refit", "4.1", "--model", str(tmp_path / "m.json"), "--typed", str(tmp_path / "t.txt")])


def test_a_job_that_was_only_typed_comes_to_its_end(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(tmp_path, TYPED) == 1
    assert "Places 1-3 are in and not tightened" in capsys.readouterr().out
    assert run(tmp_path, f"{TYPED}1-3 stage 1\n") == 1
    assert "stage 1 only" in capsys.readouterr().out
    assert run(tmp_path, f"{TYPED}1-3 stage 1\n1-3 final\n") == 0
    assert "finished" in capsys.readouterr().out
    assert run(tmp_path, f"{TYPED}1-3 final\nsomething else\n") == 1


@pytest.mark.parametrize("lost", range(1, 7))
def test_no_typed_line_can_be_left_out(tmp_path: Path, lost: int) -> None:
    lines = TYPED.splitlines()
    rest = "\n".join(line for number, line in enumerate(lines) if number != lost)
    said_anyway = lost in (1, 5)  # what comes after says that the cover was off, and that the screws are in
    assert run(tmp_path, f"{rest}\n1-3 final\n") == (0 if said_anyway else 1)
