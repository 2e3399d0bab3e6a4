"""Work that is done in one go, and halves that do not close."""

import json
from pathlib import Path

import pytest
from small_book import machine, names, proc, step

from lastbolt.app.make_back import make_back
from lastbolt.app.make_plan import make_plan
from lastbolt.cli.main import main
from lastbolt.edge import documents
from lastbolt.refitting.account import account
from lastbolt.refitting.closing import causes
from lastbolt.refitting.no_stop import no_stop_blocks, not_to_begin
from lastbolt.words.back_watch import NoStop
from lastbolt.words.engine import ENGINE_SCHEMA, AsFound, Engine
from lastbolt.words.job import JOB_SCHEMA, Event, Job, LaidIn, Tightened, WontClose
from lastbolt.words.joint import WALK_SCHEMA, Holder, JointPlace, Walk

OFF = proc("4.1", "Removing the cover", "separate", "cover", step("1", "Take the cover off.", names("cover")))
WALK = Walk(
    WALK_SCHEMA, "j", "cover", places=(JointPlace("p1", "1"), JointPlace("p2", "2")),
    holders=(Holder("d", "dowel", "two dowels"),),
)  # fmt: skip


def blocks(*words: str) -> tuple[NoStop, ...]:
    steps = [step(str(n), one, names("cover", "install")) for n, one in enumerate(words, 1)]
    made = machine(OFF, proc("4.2", "Fitting the cover", "join", "cover", *steps))
    plan = make_plan(made, "4.1")
    return no_stop_blocks(make_back(made, plan).lines)


@pytest.mark.parametrize(
    ("words", "first", "last", "minutes", "source"),
    [
        (("Apply a thin bead of sealant.", "Set the cover on within 8 minutes.", "Fit the bolts.",
          "Tighten to 10 N·m."), "1", "4", 8, "the source"),
        (("Clean the faces.", "Apply liquid gasket.", "Set the cover on.", "Tighten the bolts."),
         "2", "4", 15, "common practice, no source"),
        (("Warm the cover to 80 °C in the oven.", "Drop the bearing in.", "Let it cool."), "1", "2", 5,
         "common practice, no source"),
        (("Tighten to 40 N·m.", "Tighten through a further 45 degrees.", "Turn further by 45 degrees."),
         "2", "3", 10, "common practice, no source"),
    ],
)  # fmt: skip
def test_a_block_runs_from_its_first_line_to_the_last_that_belongs_to_it(
    words: tuple[str, ...], first: str, last: str, minutes: float, source: str
) -> None:
    (found,) = blocks(*words)
    assert (found.first, found.last) == (f"book/step/4.2/{first}", f"book/step/4.2/{last}")
    assert (found.minutes, found.source) == (minutes, source)


@pytest.mark.parametrize(
    "words",
    ["Scrape the old sealant off.", "Set the cover on dry.", "Fit the angle bracket.", "Do not heat it."],
)
def test_what_can_be_left_is_no_block(words: str) -> None:
    assert blocks(words, "Tighten the bolts.") == ()


def test_a_block_is_not_begun_when_the_lesson_is_shorter() -> None:
    found = blocks(
        "Apply a thin bead of sealant.", "Set the cover on within 8 minutes.", "Tighten the bolts."
    )
    assert not_to_begin(found, 7) == found
    assert not_to_begin(found, 8) == ()
    unknown = NoStop("x", "a", "b", "words")
    assert not_to_begin((unknown,), 600) == (unknown,)


def hints(*events: Event, engine: Engine | None = None) -> list[tuple[str, tuple[str, ...]]]:
    made = machine(OFF)
    job = Job(JOB_SCHEMA, "x", "4.1", events=events)
    plan = make_plan(made, "4.1", engine, job)
    stand = account(plan, make_back(made, plan, job), (WALK,), engine, job)
    return [(one.what, one.because) for one in causes("j", stand, (WALK,), engine)]


def test_the_records_own_hints_stand_first() -> None:
    engine = Engine(
        ENGINE_SCHEMA, "e", "no. 3", as_found=(AsFound("odd length", "M8 x 50 at 2", place="p2"),)
    )
    found = hints(
        Tightened(id="t", by="Ama", joint="j", places=("p1",), stage=1),
        LaidIn(id="l", by="Ama", thing="guide stud", count=2, where="at 3"),
        engine=engine,
    )
    assert [because for _, because in found[:4]] == [
        ("turned in at 1",), ("2 guide stud at 3",), ("M8 x 50 at 2",), ("two dowels",),
    ]  # fmt: skip
    assert len(found) == len(hints()) == 8


def test_wont_close_stops_the_job_and_names_the_causes(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    documents.save(tmp_path / "m.json", machine(OFF))
    documents.save(tmp_path / "w.json", WALK)
    events = (WontClose(id="w", by="Ama", joint="j"),)
    documents.save(tmp_path / "j.json", Job(JOB_SCHEMA, "x", "4.1", events=events))
    files = ["--model", "m.json", "--walk", "w.json", "--job", "j.json"]
    args = ["refit", "4.1", *(str(tmp_path / one) if one.endswith("json") else one for one in files)]
    assert main(args) == 1
    said = capsys.readouterr().out
    assert "Stop. Why j may not close" in said
    assert "two dowels" in said
    assert main([*args, "--json"]) == 1
    assert set(json.loads(capsys.readouterr().out)) == {
        "back",
        "account",
        "no_stop",
        "apart",
        "tightening",
        "sentence",
        "renewed",
        "wrenches",
        "adaptor",
    }
