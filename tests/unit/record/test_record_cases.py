"""Small cases of the record, each told as it happens at a bench."""

import json
from typing import Any

import pytest

from bench_devices import JOB, Device, exchange
from lastbolt.record.chains import received
from lastbolt.record.kinds import Subject
from lastbolt.record.observed import counts, observations
from lastbolt.record.registers import place_of, registers
from lastbolt.record.rights import may
from lastbolt.record.sealed import NotAnEvent, hash_of, read_line
from lastbolt.record.undo import standing_events, vain_undoes


def out(device: Device, place: str = "p7", **more: Any) -> str:
    return device.write("took out", joint="case", places=[place], **more)


def look(device: Device, saw: str, place: str = "p7") -> str:
    return device.write("looked", joint="case", answers=[{"place": place, "saw": [saw]}])


@pytest.fixture
def pair() -> tuple[Device, Device]:
    return Device("a"), Device("b")


def test_two_say_the_same_apart_and_it_is_no_conflict(pair: tuple[Device, Device]) -> None:
    one, other = pair
    said = {out(one), out(other)}
    exchange(one, other)
    found = place_of(one.record, "case", "p7")
    assert not found.conflict
    assert [(held.value, set(held.hashes)) for held in found.held] == [("out", said)]


def test_two_say_different_things_apart_and_both_stay_possible_until_one_who_saw_both_acts(
    pair: tuple[Device, Device],
) -> None:
    one, other = pair
    out(one)
    other.write("put in", joint="case", places=["p7"])
    exchange(one, other)
    found = place_of(other.record, "case", "p7")
    assert found.conflict
    assert [held.value for held in found.held] == ["in", "out"]
    out(other)
    exchange(one, other)
    assert not place_of(one.record, "case", "p7").conflict
    assert [held.value for held in place_of(one.record, "case", "p7").held] == ["out"]


def test_the_clock_decides_nothing(pair: tuple[Device, Device]) -> None:
    one, other = pair
    one.say({"event": "took out", "joint": "case", "places": ["p7"]}, time="2030")
    other.hears(one)
    other.say({"event": "put in", "joint": "case", "places": ["p7"]}, time="1999")
    assert [held.value for held in place_of(other.record, "case", "p7").held] == ["in"]


def test_another_fastener_at_the_place_is_another_register(pair: tuple[Device, Device]) -> None:
    one, other = pair
    one.say({"event": "took out", "joint": "case", "places": ["p7"]}, occupancies={"p7": 1})
    one.say({"event": "put in", "joint": "case", "places": ["p7"]}, occupancies={"p7": 2})
    other.say({"event": "took out", "joint": "case", "places": ["p7"]}, occupancies={"p7": 1})
    exchange(one, other)
    by = registers(one.record)
    first, second = (by[Subject("place", "p7", "case", number)] for number in (1, 2))
    assert [held.value for held in first.held] == ["out"]
    assert len(first.held[0].hashes) == 2
    assert [held.value for held in second.held] == ["in"]
    assert (first.conflict, second.conflict) == (False, False)
    assert place_of(one.record, "case", "p7").conflict, "whether it is out now nobody has said"


def test_an_undo_brings_back_what_was_before_and_can_be_undone(pair: tuple[Device, Device]) -> None:
    one, other = pair
    one.write("put in", joint="case", places=["p7"])
    taken = out(one)
    taken_back = one.write("undone", undoes=taken)
    assert [held.value for held in place_of(one.record, "case", "p7").held] == ["in"]
    other.hears(one)
    other.write("undone", undoes=taken_back)
    assert [held.value for held in place_of(other.record, "case", "p7").held] == ["out"]


def test_an_undo_of_what_it_had_not_seen_is_vain(pair: tuple[Device, Device]) -> None:
    one, other = pair
    taken = out(one)
    undo = other.write("undone", undoes=taken)
    exchange(one, other)
    assert [event.hash for event in standing_events(one.record)] == [taken]
    assert [event.hash for event in vain_undoes(one.record)] == [undo]


def test_a_later_act_retires_a_look_and_one_apart_does_not(pair: tuple[Device, Device]) -> None:
    one, other = pair
    seen = look(one, "in")
    apart = look(other, "in")
    taken = out(one)
    exchange(one, other)
    found = {item.event: item for item in observations(one.record)}
    assert found[seen].retired_by == (taken,)
    assert found[seen].against == ()
    assert found[apart].retired_by == ()
    assert found[apart].against == (taken,)
    after = look(one, "open hole")
    last = {item.event: item for item in observations(one.record)}[after]
    assert (last.retired_by, last.against) == ((), ())


def test_a_round_stays_true_of_the_places_nobody_touched() -> None:
    one = Device("a")
    answers = [{"place": place, "saw": ["in"]} for place in ("p1", "p2")]
    made = {"id": "r", "by": "a", "guided": True, "complete": True, "answers": answers}
    one.write("went round", joint="case", round=made)
    out(one, "p1")
    retired = {item.subject.id: bool(item.retired_by) for item in observations(one.record)}
    assert retired == {"p1": True, "p2": False}


def test_a_count_made_while_others_worked_is_an_interval(pair: tuple[Device, Device]) -> None:
    one, other = pair
    out(one, "p1")
    other.hears(one)
    count = one.write("counted", joint="case", kind={"what": "screw", "thread": "M6"}, pieces=5)
    other.write("took out", joint="case", places=["p2", "p3"])
    other.write("put in", joint="case", places=["p1"])
    other.write("took out", joint="lid", places=["q1"])
    other.write("took out", joint="case", places=["p4"], kind={"what": "screw", "thread": "M8"})
    exchange(one, other)
    assert [(c.event, c.low, c.high) for c in counts(one.record)] == [(count, 4, 7)]
    out(one, "p5")
    assert [(c.low, c.high) for c in counts(one.record)] == [(4, 7)], "what knew of the count changes it not"


def test_a_gap_is_waited_for_and_named(pair: tuple[Device, Device]) -> None:
    one, _ = pair
    for place in ("p1", "p2", "p3"):
        out(one, place)
    record = received(JOB, (one.lines[0], one.lines[2]))
    assert len(record.present) == 1
    assert [(w.event.sequence, w.missing) for w in record.waiting] == [(3, (hash_of(one.lines[1]),))]
    record.receive(one.lines[1])
    assert record.waiting == ()
    assert len(record.present) == 3


def test_a_fork_of_a_chain_is_found_and_both_are_kept(pair: tuple[Device, Device]) -> None:
    one, _ = pair
    out(one, "p1")
    twin = Device("a")
    twin.hears(one)
    twin.sequence, twin.previous = one.sequence, one.previous
    hashes = {out(one, "p2"), out(twin, "p3")}
    one.hears(twin)
    (fork,) = one.record.forks
    assert (fork.device, fork.sequence, set(fork.hashes)) == ("a", 2, hashes)
    assert len(one.record.present) == 3


def test_a_chain_that_is_not_one_is_told(pair: tuple[Device, Device]) -> None:
    one, other = pair
    first = out(one, "p1")
    other.sequence, other.previous = 4, first
    other.hears(one)
    wrong = out(other, "p2")
    assert [fault.hash for fault in other.record.faults] == [wrong]
    assert len(other.record.present) == 2, "it happened, and is told"


def edited(written: Device, **fields: Any) -> bytes:
    return json.dumps({**json.loads(written.lines[-1]), **fields}).encode()


@pytest.mark.parametrize(
    "fields",
    [
        {"sequence": 0}, {"sequence": 2}, {"sequence": "1"}, {"previous": "a" * 64}, {"heads": ["a"]},
        {"heads": ["a" * 64, "a" * 64]}, {"kind": "observation"}, {"kind": "decision"}, {"device": ""},
        {"device": "a b"}, {"by": "../x"}, {"job": "x" * 65}, {"subjects": []}, {"time": "x" * 41},
        {"body": {"event": "flew away"}}, {"body": {}}, {"body": []}, {"body": {"event": "took out"}},
        {"body": {"event": "took out", "joint": "case", "places": ["p7"], "count": -1}},
        {"body": {"event": "took out", "joint": "case", "places": "p7"}},
        {"body": {"event": ["took out"]}}, {"more": "x" * 16_384},
    ],
)  # fmt: skip
def test_what_is_no_event_is_refused_with_its_reason(fields: dict[str, Any]) -> None:
    one = Device("a")
    out(one)
    with pytest.raises(NotAnEvent) as refused:
        read_line(edited(one, **fields))
    assert refused.value.problem.code == "LB-E20"


@pytest.mark.parametrize(
    "line",
    [b"", b"{}", b"null", b"[" * 9_000, b"\xff", b'{"a":"\\ud800"}', b'{"device":"a","device":"a"}'],
)
def test_bytes_that_are_no_event_are_refused(line: bytes) -> None:
    assert received(JOB, [line]).present == ()
    with pytest.raises(NotAnEvent):
        read_line(line)


def test_a_field_that_stands_twice_and_a_second_line_are_refused() -> None:
    one = Device("a")
    out(one)
    for line in (one.lines[0][:-1] + b',"by":"other"}', one.lines[0] + b"\n", b"\r" + one.lines[0]):
        with pytest.raises(NotAnEvent):
            read_line(line)


def test_unknown_fields_are_kept_and_hashed() -> None:
    one = Device("a")
    out(one)
    line = edited(one, mood="good")
    assert read_line(line).line == line
    assert hash_of(line) != hash_of(one.lines[0])


def test_another_jobs_event_is_refused() -> None:
    one = Device("a", job="other")
    out(one)
    record = received(JOB, one.lines)
    assert len(record) == 0
    receipt = record.receive(one.lines[0])
    assert receipt.status == "refused"
    assert receipt.problem is not None
    assert receipt.problem.code == "LB-E21"


@pytest.mark.parametrize(
    ("role", "can", "cannot"),
    [
        ("instructor", ("signed", "override", "took out", "hold set"), ("joined", "opened", "nothing known")),
        ("trainee", ("took out", "looked", "signed", "closing head"), ("override", "hold set", "joined")),
        ("parts room", ("counted", "found bad"), ("took out", "signed", "undone")),
        ("visitor", (), ("looked", "photo", "signed")),
        ("", (), ("looked",)),
    ],
)
def test_rights(role: str, can: tuple[str, ...], cannot: tuple[str, ...]) -> None:
    assert [may(role, tag) for tag in can] == [True] * len(can)
    assert [may(role, tag) for tag in cannot] == [False] * len(cannot)
