"""The running account: when a job is finished, and every way in which it is not."""

import pytest
from msgspec.structs import replace
from small_book import machine, names, proc, step

from lastbolt.app.make_back import make_back
from lastbolt.app.make_plan import make_plan
from lastbolt.refitting.account import account
from lastbolt.words.account import Account
from lastbolt.words.engine import ENGINE_SCHEMA, AsFound, Engine
from lastbolt.words.job import (
    JOB_SCHEMA,
    Counted,
    Event,
    FoundBad,
    FoundWhy,
    Job,
    LaidIn,
    Looked,
    PutIn,
    Renewed,
    Slackened,
    StepDone,
    TakenAway,
    Tightened,
    TookOut,
    Undone,
    WontClose,
)
from lastbolt.words.joint import WALK_SCHEMA, Answer, JointPlace, Walk
from lastbolt.words.machine import TorqueValue
from lastbolt.words.quantity import Kind

M6 = Kind("screw", "M6", 45.0)
COVER = proc("4.1", "Removing the cover", "separate", "cover",
             step("1", "Remove the case screws.", names("case screws")),
             step("2", "Take the cover off.", names("cover")))  # fmt: skip
COVER_ON = proc("4.2", "Fitting the cover", "join", "cover",
                step("1", "Set the cover on.", names("cover", "install")),
                step("2", "Fit the case screws.", names("case screws", "install")))  # fmt: skip
MADE = machine(COVER, COVER_ON)
WALK = Walk(WALK_SCHEMA, "j", "cover", places=tuple(JointPlace(p, p[1:]) for p in ("p1", "p2", "p3")))
APART = tuple(StepDone(id=f"a{n}", by="Ama", step=f"book/step/4.1/{n}") for n in (1, 2))
BACK = tuple(StepDone(id=f"b{n}", by="Ama", step=f"book/step/4.2/{n}") for n in (1, 2))
OUT = TookOut(id="o", by="Ama", joint="j", places=("p1", "p2", "p3"), tray="tin 1")
IN = PutIn(id="i", by="Ama", joint="j", places=("p1", "p2", "p3"))
TIGHT = Tightened(id="t", by="Ama", joint="j", places=("p1", "p2", "p3"), final=True, painted=True)
WHOLE: tuple[Event, ...] = (*APART, OUT, IN, TIGHT, *BACK)


def stand(*events: Event, engine: Engine | None = None) -> Account:
    job = Job(JOB_SCHEMA, "job", "4.1", events=events)
    plan = make_plan(MADE, "4.1", engine, job)
    return account(plan, make_back(MADE, plan, job), (WALK,), engine, job)


def kinds(found: Account) -> set[str]:
    return {one.kind for one in found.stands}


def test_finished_when_all_is_back_and_tight() -> None:
    found = stand(*WHOLE)
    assert found.finished, found.stands
    assert {one.state for one in found.places} == {"final"}
    assert {one.state for one in found.things} == {"back"}


def test_nothing_is_finished_that_was_not_begun() -> None:
    assert not stand().finished
    assert not stand(*APART).finished


@pytest.mark.parametrize("lost", range(len(WHOLE)))
def test_no_event_of_a_whole_job_can_be_left_out(lost: int) -> None:
    events = WHOLE[:lost] + WHOLE[lost + 1 :]
    if WHOLE[lost] == IN or WHOLE[lost] in APART:  # what comes after says as much
        assert stand(*events).finished
    else:
        assert not stand(*events).finished


@pytest.mark.parametrize(
    ("more", "kind", "words"),
    [
        (Slackened(id="x", by="Kofi", joint="j", places=("p2",)), "slack", "Place 2 is slack"),
        (Tightened(id="x", by="Kofi", joint="j", places=("p3",), stage=1), "slack", "stage 1 only"),
        (TookOut(id="x", by="Kofi", joint="j", places=("p1",)), "missing", "Place 1 is out"),
        (Looked(id="x", by="Kofi", joint="j", answers=(Answer("p1", ("slack",)),)), "slack", "Place 1"),
        (Looked(id="x", by="Kofi", joint="j", answers=(Answer("p1", ("broken off",)),)), "missing", "broken"),
        (LaidIn(id="x", by="Kofi", thing="rag", where="intake"), "left in", "1 rag still in (intake)"),
        (TakenAway(id="x", by="Kofi", thing="guide stud"), "left in", "more came out"),
        (FoundBad(id="x", by="Kofi", part="cover", how="damaged"), "missing", "cover: damaged"),
        (FoundBad(id="x", by="Kofi", part="filler cap", how="lost"), "missing", "filler cap: lost"),
        (Counted(id="x", by="Kofi", kind=M6, pieces=1, trays=("tin 1",)), "left over", "1 screw M6x45"),
        (TookOut(id="x", by="Kofi", joint="j", kind=M6, count=2, tray="tin 2"), "left over", "2 screw M6x45"),
        (PutIn(id="x", by="Kofi", joint="j", places=("p1",)), "slack", "Place 1 is in and not tightened"),
        (WontClose(id="x", by="Kofi", joint="j"), "won't close", "Kofi says"),
        (TookOut(id="x", by="Kofi", joint="k", places=("q1",)), "missing", "Place q1 is out"),
    ],
)
def test_what_keeps_a_job_from_being_finished(more: Event, kind: str, words: str) -> None:
    found = stand(*WHOLE, more)
    assert not found.finished
    assert kinds(found) >= {kind}
    assert any(words in one.words for one in found.stands), found.stands
    taken_back = stand(*WHOLE, more, Undone(id="y", by="Kofi", undoes="x"))
    assert taken_back.finished


def test_what_is_put_right_stands_no_longer() -> None:
    right: tuple[Event, ...] = (
        LaidIn(id="r1", by="Ama", thing="Rag", count=2), TakenAway(id="r2", by="Ama", thing="rag ", count=2),
        WontClose(id="w1", by="Ama", joint="j"), FoundWhy(id="w2", by="Ama", joint="j", cause="dowel"),
        FoundBad(id="f1", by="Ama", part="Cover", how="damaged"), Renewed(id="f2", by="Ama", part="cover"),
    )  # fmt: skip
    found = stand(*WHOLE, *right)
    assert found.finished, found.stands
    assert "renewed" in {one.state for one in found.things}


def test_no_cause_named_leaves_it_standing() -> None:
    found = stand(
        *WHOLE, WontClose(id="w1", by="Ama", joint="j"), FoundWhy(id="w2", by="Ama", joint="j", cause=" ")
    )
    assert kinds(found) == {"won't close"}


def test_a_hole_that_the_engines_own_file_calls_empty_is_not_missing() -> None:
    engine = Engine(ENGINE_SCHEMA, "e", "no. 3", as_found=(AsFound("missing", "for years", place="p2"),))
    events = (*APART, TookOut(id="o", by="Ama", joint="j", places=("p1", "p3")),
              Tightened(id="t", by="Ama", joint="j", places=("p1", "p3"), final=True), *BACK)  # fmt: skip
    assert stand(*events, engine=engine).finished
    assert {one.place: one.state for one in stand(*events, engine=engine).places}["p2"] == "never there"


def test_a_head_seen_in_is_as_tight_as_it_was() -> None:
    seen = Looked(id="x", by="Kofi", joint="j", answers=(Answer("p1", ("in",)),))
    assert stand(*WHOLE, seen).finished
    assert not stand(*APART, OUT, IN, seen, *BACK).finished


def test_ticks_alone_do_not_say_that_a_torque_was_reached() -> None:
    value = TorqueValue((9.0, 9.0), ((9.0, 9.0, "N·m"),), words="9 N·m")
    on = replace(COVER_ON, steps=(COVER_ON.steps[0], replace(COVER_ON.steps[1], torques=(value,))))
    made = machine(COVER, on)
    for events, done in (((*APART, *BACK), False), ((*APART, *BACK, TIGHT), True)):
        job = Job(JOB_SCHEMA, "job", "4.1", events=events)
        plan = make_plan(made, "4.1", None, job)
        found = account(plan, make_back(made, plan, job), (), None, job)
        assert found.finished is done, found.stands


def test_a_new_part_that_is_found_bad_as_well_stands_again() -> None:
    bad = FoundBad(id="f1", by="Ama", part="cover", how="damaged")
    new = Renewed(id="f2", by="Ama", part="cover")
    again = FoundBad(id="f3", by="Kofi", part="Cover", how="damaged")
    assert stand(*WHOLE, bad, new).finished
    found = stand(*WHOLE, bad, new, again)
    assert not found.finished
    assert any("cover: damaged" in one.words.casefold() for one in found.stands)
