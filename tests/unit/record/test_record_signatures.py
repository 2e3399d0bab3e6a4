"""Signatures that meet late events, barriers, overrides and self-checks."""

from typing import Any, NamedTuple

import pytest

from bench_devices import Device, exchange
from lastbolt.record.chains import Record
from lastbolt.record.faults import signature_faults
from lastbolt.record.signatures import hold_state, standing_of
from lastbolt.record.undo import standing_events


def verdict_of(view: Record) -> str:
    """Held as soon as anybody saw a bolt in."""
    seen = (one.body.get("answers", ()) for one in standing_events(view))
    return "held" if any("in" in answer["saw"] for some in seen for answer in some) else "free"


class Bench(NamedTuple):
    server: Device
    bench: Device
    second: Device
    chief: Device

    @property
    def all(self) -> tuple[Device, ...]:
        return (self.server, self.bench, self.second, self.chief)

    def codes(self, name: str) -> list[str]:
        return [problem.code for problem in signature_faults(self.chief.record, name)]

    def state(self, name: str) -> Any:
        exchange(*self.all)
        return standing_of(self.chief.record, name, verdict_of)

    def is_open(self) -> bool:
        exchange(*self.all)
        return hold_state(self.chief.record, "h", verdict_of).open


def bench(role: str = "instructor", chief_role: str = "instructor") -> Bench:
    made = Bench(Device("server"), Device("bench"), Device("second"), Device("chief"))
    made.server.write("opened", goal="split the case")
    made.server.write("hold set", hold="h", step="pull", joint="case", role=role, wants="free")
    for one in made.all[1:]:
        as_role = chief_role if one is made.chief else "trainee"
        made.server.write("joined", person=one.by, role=as_role, device=one.name)
    exchange(*made.all)
    made.bench.write("took out", joint="case", places=["p1"])
    return made


@pytest.fixture
def ready() -> Bench:
    """Both benches have said that all is sent, and the instructor has it."""
    made = bench()
    made.bench.write("closing head", hold="h")
    made.second.write("closing head", hold="h")
    exchange(*made.all)
    return made


def look(device: Device, saw: str) -> str:
    return device.write("looked", joint="case", answers=[{"place": "p1", "saw": [saw]}])


def test_a_signature_over_a_whole_barrier_stands_and_opens(ready: Bench) -> None:
    assert not ready.is_open()
    name = ready.chief.sign("h")
    assert ready.codes(name) == []
    assert ready.state(name).state == "standing"
    assert ready.is_open()


def test_late_words_that_change_nothing_confirm_it(ready: Bench) -> None:
    name = ready.chief.sign("h")
    look(ready.second, "open hole")
    assert ready.state(name).state == "confirmed"
    assert ready.is_open()


def test_a_look_made_before_and_arriving_after_lapses_it_for_ever(ready: Bench) -> None:
    name = ready.chief.sign("h")
    seen = look(ready.second, "in")
    found = ready.state(name)
    assert (found.state, found.events, found.incidents) == ("lapsed", (seen,), ())
    ready.second.write("undone", undoes=seen)
    again = ready.state(name)
    assert (again.state, again.events) == ("lapsed", (seen,)), "taken back, and still it needs a fresh one"
    assert not ready.is_open()
    ready.bench.write("closing head", hold="h")
    ready.second.write("closing head", hold="h")
    exchange(*ready.all)
    fresh = ready.chief.sign("h")
    assert ready.codes(fresh) == []
    assert ready.is_open()
    assert ready.state(name).state == "lapsed"


def test_force_before_it_lapsed_leaves_an_incident_for_ever(ready: Bench) -> None:
    name = ready.chief.sign("h")
    ready.bench.hears(ready.chief)
    pulled = ready.bench.write("step started", step="pull")
    look(ready.second, "in")
    assert ready.state(name).incidents == (pulled,)
    ready.bench.write("undone", undoes=pulled)
    assert ready.state(name).incidents == (pulled,)


def test_what_follows_the_force_changes_nothing(ready: Bench) -> None:
    name = ready.chief.sign("h")
    ready.bench.hears(ready.chief)
    ready.bench.write("step done", step="pull")
    look(ready.bench, "in")
    assert ready.state(name).state == "standing"


def test_another_joints_words_do_not_touch_it(ready: Bench) -> None:
    name = ready.chief.sign("h")
    ready.second.write("looked", joint="lid", answers=[{"place": "q1", "saw": ["in"]}])
    assert ready.state(name).state == "standing"


def test_two_late_events_that_only_together_change_it(ready: Bench) -> None:
    name = ready.chief.sign("h")
    pair = {
        ready.bench.write("photo", joint="case", file="1"),
        ready.second.write("photo", joint="case", file="2"),
    }
    exchange(*ready.all)
    ready.bench.write("photo", joint="case", file="3")

    def two_but_not_three(view: Record) -> str:
        return "held" if sum(one.tag == "photo" for one in standing_events(view)) == 2 else "free"

    exchange(*ready.all)
    found = standing_of(ready.chief.record, name, two_but_not_three)
    assert (found.state, set(found.events)) == ("lapsed", pair), "as a device that had only these two saw it"


def test_more_late_events_than_can_be_weighed_lapse_it(ready: Bench) -> None:
    name = ready.chief.sign("h")
    for one in (ready.bench, ready.second):
        for number in range(5):
            one.write("photo", joint="case", file=str(number))
    exchange(*ready.all)
    assert standing_of(ready.chief.record, name, verdict_of, most_views=36).state == "confirmed"
    assert standing_of(ready.chief.record, name, verdict_of, most_views=35).state == "lapsed"


def test_a_verdict_that_its_own_evidence_does_not_give_lapses_it_at_once(ready: Bench) -> None:
    look(ready.chief, "in")
    name = ready.chief.sign("h", "free")
    found = ready.state(name)
    assert (found.state, found.events) == ("lapsed", (name,))


def test_without_every_closing_head_it_is_refused(ready: Bench) -> None:
    ready.second.write("photo", joint="case", file="late.jpg")
    exchange(*ready.all)
    name = ready.chief.sign("h")
    assert ready.codes(name) == ["LB-E11"]
    assert ready.state(name).state == "refused"
    assert not ready.is_open()
    assert ready.codes(ready.chief.sign("h", missing=[{"device": "second", "reason": " "}])) == ["LB-E11"]
    assert ready.codes(ready.chief.sign("h", missing=[{"device": "second", "reason": "battery flat"}])) == []


def test_a_forked_device_has_not_closed(ready: Bench) -> None:
    twin = Device("second")
    twin.hears(ready.second)
    twin.sequence, twin.previous = 1, ready.second.previous
    twin.write("photo", joint="case", file="x")
    ready.second.write("photo", joint="case", file="y")
    ready.second.write("closing head", hold="h")
    ready.chief.hears(twin, ready.second)
    assert ready.codes(ready.chief.sign("h")) == ["LB-E11"]


def test_a_hold_nobody_set_or_set_twice_differently_is_not_signed(ready: Bench) -> None:
    assert "LB-E12" in ready.codes(ready.chief.sign("other"))
    ready.chief.write("hold set", hold="h", joint="case", wants="")
    ready.server.write("hold set", hold="h", joint="lid", wants="")
    exchange(*ready.all)
    assert ready.codes(ready.chief.sign("h")) == ["LB-E12"]
    assert not ready.is_open()


def test_other_evidence_another_verdict_another_role(ready: Bench) -> None:
    assert ready.codes(ready.chief.write("signed", hold="h", verdict="free", evidence="0" * 64)) == ["LB-E13"]
    assert ready.codes(ready.chief.sign("h", "not shown")) == ["LB-E14"]
    by_trainee = ready.second.sign("h", missing=[{"device": "chief", "reason": "at another bench"}])
    ready.chief.hears(ready.second)
    assert ready.codes(by_trainee) == ["LB-E15"]


def test_who_did_the_work_does_not_sign(ready: Bench) -> None:
    ready.chief.write("took out", joint="case", places=["p2"])
    assert ready.codes(ready.chief.sign("h")) == ["LB-E16"]


def walk(device: Device, way: str) -> None:
    made = {"id": way, "by": device.by, "guided": True, "complete": True, "direction": way}
    device.write("went round", joint="case", round=made)


def test_a_mechanic_alone_checks_himself_after_a_second_walk() -> None:
    made = bench(role="instructor", chief_role="trainee")
    made.bench.hears(*made.all)
    missing = [{"device": name, "reason": "not here"} for name in ("second", "chief")]
    walk(made.bench, "clockwise")
    first = made.bench.sign("h", missing=missing, self_check=True)
    walk(made.bench, "anticlockwise")
    second = made.bench.sign("h", missing=missing, self_check=True)
    exchange(*made.all)
    assert made.codes(first) == ["LB-E17"]
    found = made.state(second)
    assert (found.state, found.self_check) == ("standing", True)


def test_a_self_check_does_not_stand_for_an_instructor_who_is_there(ready: Bench) -> None:
    for way in ("clockwise", "anticlockwise"):
        walk(ready.bench, way)
    missing = [{"device": name, "reason": "not here"} for name in ("second", "chief")]
    name = ready.bench.sign("h", missing=missing, self_check=True)
    exchange(*ready.all)
    assert ready.codes(name) == ["LB-E19"]


def test_an_override_says_why_and_is_an_instructors(ready: Bench) -> None:
    look(ready.chief, "in")
    assert ready.codes(ready.chief.sign("h", "held", "override", reason=" ")) == ["LB-E18"]
    name = ready.chief.sign("h", "held", "override", reason="broken stud drilled out")
    assert ready.state(name).override
    assert ready.is_open()
    by_trainee = ready.bench.sign("h", "held", "override", reason="we want to go on")
    exchange(*ready.all)
    assert "LB-E15" in ready.codes(by_trainee)


def test_reopening_closes_what_was_signed_before_and_apart(ready: Bench) -> None:
    ready.chief.sign("h")
    assert ready.is_open()
    ready.chief.write("reopened", hold="h", reason="a bolt was heard to fall")
    assert not ready.is_open()
    ready.chief.sign("h")
    assert ready.is_open()


def test_a_gap_keeps_the_hold_closed(ready: Bench) -> None:
    ready.chief.sign("h")
    lost = ready.second.write("photo", joint="case", file="1")
    ready.second.write("photo", joint="case", file="2")
    exchange(ready.bench, ready.chief)
    before = hold_state(ready.chief.record, "h", verdict_of)
    ready.chief.record.receive(ready.second.lines[-1])
    after = hold_state(ready.chief.record, "h", verdict_of)
    assert (before.open, after.open) == (True, False)
    assert ready.chief.record.waiting[0].missing == (lost,)


def test_force_that_knew_of_no_signature_is_told(ready: Bench) -> None:
    pulled = ready.bench.write("step started", step="pull")
    exchange(*ready.all)
    ready.bench.write("closing head", hold="h")
    exchange(*ready.all)
    ready.chief.sign("h")
    exchange(*ready.all)
    assert hold_state(ready.chief.record, "h", verdict_of).unsigned_force == (pulled,)
