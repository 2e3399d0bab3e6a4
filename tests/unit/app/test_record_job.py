"""A record as the job file: what is in doubt is never resolved for people, and never clears anything."""

import random
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bench_devices import Device, exchange
from lastbolt.app.gather import gather
from lastbolt.app.gather_documents import Documents
from lastbolt.app.gather_job import hear
from lastbolt.app.record_job import as_job
from lastbolt.app.tally_joint import tally_joint
from lastbolt.record.chains import Record
from lastbolt.record.registers import place_of
from lastbolt.record.undo import standing_events
from lastbolt.refitting.places import at_places
from lastbolt.words.job import Counted
from lastbolt.words.joint import JointPlace, Walk
from lastbolt.words.quantity import Kind

M6 = {"what": "screw", "thread": "M6", "length_mm": 45.0}
PLACES = ("p1", "p2", "p3")
WALK = Walk(
    "lastbolt.walk/1", "case", "case",
    places=tuple(JointPlace(place, place, kind=Kind("screw", "M6", 45.0)) for place in PLACES),
)  # fmt: skip


def go_round(device: Device) -> None:
    answers = [{"place": place, "saw": ["light through"]} for place in PLACES]
    made = {"id": "r", "by": device.by, "guided": True, "complete": True, "answers": answers}
    device.write("went round", joint="case", round=made)


def verdict(record: Record) -> str:
    job = as_job(record).job
    gathered = gather(Documents(walks=(WALK,), job=job), "case")
    return tally_joint(gathered.evidence, gathered.beside).verdict


def state_of(record: Record, place: str, unsure: Any) -> str:
    """What the way back takes the place for."""
    job = as_job(record, unsure).job
    return next(one.state for one in at_places((WALK,), None, job) if one.place == place)


def codes(record: Record) -> list[str]:
    return [problem.code for problem in as_job(record).problems]


@pytest.fixture
def clear() -> tuple[Device, Device]:
    """Two devices with a joint that is free: all taken out, gone round twice, counted."""
    one, other = Device("one"), Device("other")
    one.write("took out", joint="case", places=list(PLACES), kind=M6)
    go_round(one)
    other.hears(one)
    go_round(other)
    other.write("counted", joint="case", kind=M6, pieces=3)
    one.hears(other)
    return one, other


def test_a_record_without_doubt_is_answered_as_a_job_file_is(clear: tuple[Device, Device]) -> None:
    assert verdict(clear[0].record) == "free"
    assert codes(clear[0].record) == []
    events = as_job(clear[0].record).job.events
    assert [event.id for event in events] == [one.hash for one in clear[0].record.present]
    assert [(event.device, event.sequence) for event in events][:2] == [("one", 1), ("one", 2)]


@pytest.mark.parametrize("out_first", [True, False])
def test_in_and_out_apart_clears_nothing_either_way(clear: tuple[Device, Device], out_first: bool) -> None:
    one, other = clear if out_first else clear[::-1]
    one.write("took out", joint="case", places=["p2"])
    other.write("put in", joint="case", places=["p2"])
    exchange(one, other)
    assert verdict(one.record) != "free"
    assert codes(one.record) == ["LB-E50"]
    state = {unsure: state_of(one.record, "p2", unsure) for unsure in ("in", "out")}
    assert state == {"in": "in", "out": "out"}
    one.write("took out", joint="case", places=["p2"])
    assert codes(one.record) == []


def test_a_look_that_saw_it_in_while_another_took_it_out_is_not_swept_under(
    clear: tuple[Device, Device],
) -> None:
    one, other = clear
    one.write("looked", joint="case", answers=[{"place": "p2", "saw": ["in"]}])
    for _ in range(3):
        other.write("photo", joint="case", file="x.jpg")
    other.write("took out", joint="case", places=["p2"])
    exchange(one, other)
    assert codes(one.record) == ["LB-E50"]
    looks = [look for look in hear("case", (WALK,), as_job(one.record).job).looks if look.place == "p2"]
    acts = [act for act in hear("case", (WALK,), as_job(one.record).job).acts if act.place == "p2"]
    assert max(look.moment for look in looks if look.saw == "in") > max(act.moment for act in acts)
    assert verdict(one.record) != "free"


def test_a_look_before_the_act_that_knew_it_is_no_doubt(clear: tuple[Device, Device]) -> None:
    one, other = clear
    one.write("looked", joint="case", answers=[{"place": "p2", "saw": ["in"]}])
    other.hears(one)
    other.write("took out", joint="case", places=["p2"])
    exchange(one, other)
    assert codes(one.record) == []


def test_slack_seen_while_another_tightened_is_slack_before_closing() -> None:
    one, other = Device("one"), Device("other")
    one.write("looked", joint="case", answers=[{"place": "p1", "saw": ["slack"]}])
    other.write("tightened", joint="case", places=["p1", "p2"], final=True)
    exchange(one, other)
    states = {p.place: p.state for p in at_places((WALK,), None, as_job(one.record, "out").job)}
    assert (states["p1"], states["p2"]) == ("slack", "final")
    assert codes(one.record) == ["LB-E50"]


def test_tightened_apart_to_different_stages_is_the_lesser_before_closing() -> None:
    one, other = Device("one"), Device("other")
    one.write("tightened", joint="case", places=["p1"], final=True)
    other.write("tightened", joint="case", places=["p1"], stage=1)
    exchange(one, other)
    states = {p.place: (p.state, p.stage) for p in at_places((WALK,), None, as_job(one.record, "out").job)}
    assert states["p1"] == ("stage", 1)


def test_a_count_made_meanwhile_stands_before_what_it_did_not_know() -> None:
    one, other = Device("a"), Device("b")
    one.write("took out", joint="case", places=["p1"], kind=M6)
    two = Device("c")
    two.hears(one)
    two.write("photo", joint="case", file="x")
    two.write("counted", joint="case", kind=M6, pieces=1)
    other.write("took out", joint="case", places=["p2"], kind=M6)
    exchange(one, other, two)
    names = [type(event).__name__ for event in as_job(one.record).job.events]
    assert names == ["TookOut", "Photo", "Counted", "TookOut"]
    assert codes(one.record) == ["LB-E51"]


def test_counts_that_cannot_all_stand_first_are_only_lower_bounds() -> None:
    one, other = Device("a"), Device("b")
    one.write("put in", joint="case", places=["p1"])
    other.write("put in", joint="case", places=["p2"])
    one.write("counted", joint="case", kind=M6, pieces=5)
    other.write("counted", joint="case", kind=M6, pieces=5)
    exchange(one, other)
    counted = [event for event in as_job(one.record).job.events if isinstance(event, Counted)]
    assert [(count.pieces, count.all_trays) for count in counted] == [(5, True), (4, False)]


def test_other_answers_than_one_are_asked_again() -> None:
    one, other = Device("one"), Device("other")
    one.write("question answered", question="q", answer="yes")
    other.write("question answered", question="q", answer="no")
    one.write("holder settled", joint="case", holder="pump", how="taken off")
    one.write("step done", step="s")
    other.write("step started", step="s")
    exchange(one, other)
    events = as_job(one.record).job.events
    assert [type(event).__name__ for event in events] == ["HolderSettled", "StepDone", "StepStarted"]
    assert codes(one.record) == ["LB-E50", "LB-E50"]


def test_what_waits_is_told_and_counts_for_nothing() -> None:
    one, other = Device("one"), Device("other")
    one.write("photo", joint="case", file="1")
    one.write("took out", joint="case", places=["p1"])
    other.record.receive(one.lines[1])
    assert as_job(other.record).job.events == ()
    assert codes(other.record) == ["LB-E52"]


moves = st.lists(st.tuples(st.integers(0, 2), st.integers(0, 4), st.integers(0, 2)), max_size=16)


@settings(deadline=None, max_examples=150)
@given(moves, st.randoms(use_true_random=False), st.sampled_from(["in", "out"]))
def test_nothing_is_lost_and_the_worse_stands_last(
    steps: list[tuple[int, int, int]], dice: random.Random, unsure: Any
) -> None:
    devices = [Device(name) for name in "abc"]
    for who, what, number in steps:
        one, place = devices[who], PLACES[number]
        if what == 0:
            one.write("took out", joint="case", places=[place, PLACES[0]] if number else [place])
        elif what == 1:
            one.write("put in", joint="case", places=[place])
        elif what == 2:
            one.write("looked", joint="case", answers=[{"place": place, "saw": ["in"]}])
        elif what == 3:
            one.write("counted", joint="case", kind=M6, pieces=number)
        else:
            one.hears(dice.choice(devices))
    exchange(*devices)
    record = devices[0].record
    events = as_job(record, unsure).job.events
    assert {event.id.partition("/")[0] for event in events} == {one.hash for one in standing_events(record)}
    for place in PLACES:
        register = place_of(record, "case", place)
        last = [a.did for a in hear("case", (WALK,), as_job(record, unsure).job).acts if a.place == place]
        worse = {"in": "put in", "out": "took out"}[unsure]
        if {held.value for held in register.held} == {"in", "out"}:
            assert last[-1] == worse
        elif register.held:
            assert last[-1] == {"in": "put in", "out": "took out"}[register.held[0].value]
