"""The record is a function of the set of its lines: in any order, doubled or split, it ends alike."""

import random
from typing import Any

import msgspec
from hypothesis import given, settings
from hypothesis import strategies as st

from bench_devices import JOB, Device
from lastbolt.record.chains import Record, received
from lastbolt.record.holds import evidence_digest, holds_of
from lastbolt.record.observed import counts, observations
from lastbolt.record.registers import registers
from lastbolt.record.signatures import hold_state
from lastbolt.record.undo import standing_events, vain_undoes

PLACES = ("p1", "p2")
moves = st.lists(
    st.tuples(
        st.integers(0, 2),
        st.sampled_from(
            [
                "out",
                "in",
                "look",
                "count",
                "undo",
                "hear",
                "close",
                "sign",
                "force",
                "reopen",
                "fork",
                "thing",
            ]
        ),
        st.integers(0, 9),
    ),
    max_size=14,
)


def play(steps: list[tuple[int, str, int]]) -> list[bytes]:
    """Three devices and a server do as they are told; all lines that were ever written."""
    server = Device("server", "s")
    server.write("opened", goal="split the case")
    server.write("hold set", hold="h", step="pull", joint="case", role="instructor", wants="free")
    devices = [Device(name) for name in ("a", "b", "c")]
    for one in devices:
        role = "instructor" if one.name == "c" else "trainee"
        server.write("joined", person=one.by, role=role, device=one.name)
    forked: list[bytes] = []
    for one in devices:
        one.hears(server)
    for who, what, number in steps:
        _do(devices, who, what, number, forked)
    return [line for one in (server, *devices) for line in one.lines] + forked


def _do(devices: list[Device], who: int, what: str, number: int, forked: list[bytes]) -> None:
    one, place = devices[who], PLACES[number % 2]
    if what == "out":
        one.write("took out", joint="case", places=[place], tray="t1")
    elif what == "in":
        one.write("put in", joint="case", places=[place])
    elif what == "look":
        saw = ["in"] if number % 3 else ["open hole"]
        one.write("looked", joint="case", answers=[{"place": place, "saw": saw}])
    elif what == "count":
        one.write("counted", joint="case", kind={"what": "screw"}, pieces=number)
    elif what == "undo":
        present = one.record.present
        one.write("undone", undoes=present[number % len(present)].hash)
    elif what == "hear":
        one.hears(devices[(who + 1 + number % 2) % 3])
    elif what == "close":
        one.write("closing head", hold="h")
    elif what == "sign":
        missing = [{"device": d.name, "reason": "flat"} for d in devices] if number % 2 else []
        one.sign("h", missing=missing)
    elif what == "force":
        one.write("step started", step="pull")
    elif what == "reopen":
        one.write("reopened", hold="h", reason="doubt")
    elif what == "thing":
        one.write("laid in", thing="rag")
    else:
        twin = Device(one.name, one.by)
        twin.hears(one)
        twin.sequence, twin.previous = one.sequence, one.previous
        twin.write("photo", joint="case", file=f"{number}.jpg")
        forked.extend(twin.lines)


def verdict_of(view: Record) -> str:
    """A rule of a few words for what a tally would say: free when the last word of both places is out."""
    out = {s.id: r for s, r in registers(view).items() if s.sort == "place"}
    held = any(r.conflict or r.held[0].value != "out" for r in out.values())
    looks = {
        o.subject.id for o in observations(view) if not o.retired_by and o.subject.sort == "place"
        and any("in" in one["saw"] for one in view.event(o.event).body.get("answers", ()))
    }  # fmt: skip
    return "held" if held or looks or set(out) != set(PLACES) else "free"


def told(record: Record) -> Any:
    """All that the record comes to, as plain values."""
    return msgspec.to_builtins(
        (
            [one.hash for one in record.present],
            [(one.event.hash, one.missing) for one in record.waiting],
            record.forks,
            record.faults,
            record.heads,
            [one.hash for one in standing_events(record)],
            [one.hash for one in vain_undoes(record)],
            sorted(registers(record).items()),
            observations(record),
            counts(record),
            evidence_digest(record),
            [hold_state(record, hold, verdict_of, 64) for hold in holds_of(record)],
        )
    )


@settings(deadline=None, max_examples=120)
@given(moves, st.randoms(use_true_random=False))
def test_any_order_and_doubling_ends_alike(steps: list[tuple[int, str, int]], dice: random.Random) -> None:
    lines = play(steps)
    wanted = told(received(JOB, lines))
    mixed = lines + dice.choices(lines, k=dice.randrange(len(lines)))
    dice.shuffle(mixed)
    record = received(JOB, mixed)
    assert len(record) == len(set(lines)), "nothing is lost, nothing is there twice"
    assert record.waiting == ()
    assert told(record) == wanted


@settings(deadline=None, max_examples=60)
@given(moves, st.randoms(use_true_random=False))
def test_part_of_the_lines_ends_alike_and_the_rest_completes_it(
    steps: list[tuple[int, str, int]], dice: random.Random
) -> None:
    lines = play(steps)
    part = dice.sample(lines, dice.randrange(len(lines) + 1))
    one, other = received(JOB, part), received(JOB, dice.sample(part, len(part)))
    assert told(one) == told(other)
    for waiting in one.waiting:
        assert waiting.missing
        assert not any(name in one for name in waiting.missing), "what it waits for is not here"
    for line in dice.sample(lines, len(lines)):
        one.receive(line)
    assert told(one) == told(received(JOB, lines))


@settings(deadline=None, max_examples=60)
@given(moves, st.randoms(use_true_random=False))
def test_a_lapsed_signature_never_revives(steps: list[tuple[int, str, int]], dice: random.Random) -> None:
    lines = play(steps)
    dice.shuffle(lines)
    record, lapsed = Record(JOB), dict[str, set[str]]()
    for line in lines:
        record.receive(line)
        if "h" not in holds_of(record):
            continue
        now = {one.signature: one for one in hold_state(record, "h", verdict_of, 64).signatures}
        for name, incidents in lapsed.items():
            assert now[name].state == "lapsed"
            assert incidents <= set(now[name].incidents), "an incident stays for ever"
        lapsed = {name: set(one.incidents) for name, one in now.items() if one.state == "lapsed"}
        assert all(now[name].events for name in lapsed), "it names the event"


@settings(deadline=None, max_examples=60)
@given(moves)
def test_before_is_the_past_that_the_events_name(steps: list[tuple[int, str, int]]) -> None:
    record = received(JOB, play(steps))
    for later in record.present:
        past = record.past(later.hash)
        assert past == {one.hash for one in record.present if record.before(one.hash, later.hash)}
    position = {one.hash: number for number, one in enumerate(record.present)}
    assert all(position[name] < position[one.hash] for one in record.present for name in one.named)
