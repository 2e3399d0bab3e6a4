"""Sections that make safe stand first in the plan, wherever the sources' own order allows it."""

import pytest

from lastbolt.app.make_plan import make_plan
from lastbolt.planning.safe_first import makes_safe
from lastbolt.words.job import JOB_SCHEMA, Job, ProcedureDone
from lastbolt.words.machine import Machine
from planned import machine, proc, ref, step

SAFE = proc("1.3", "1", "2", title="Making the winch safe", deed="other")
OIL = proc("3.1", "1", title="Draining the oil", deed="drain")
FLANGE = proc("3.2", "1", before=(ref("safe", "1.3"),))


def order(made: Machine, job: Job | None = None) -> list[str]:
    plan = make_plan(made, "9.1", None, job)
    assert plan.complete
    return [line.procedure for line in plan.lines if line.kind in ("opening", "confirm")]


def test_what_a_later_section_asks_for_is_made_safe_before_the_first() -> None:
    goal = proc("9.1", "1", before=(ref("a", "3.1"), ref("b", "3.2")))
    assert order(machine(goal, SAFE, OIL, FLANGE)) == ["1.3", "3.1", "3.2", "9.1"]


def test_its_own_requirements_come_with_it() -> None:
    goal = proc("9.1", "1", before=(ref("a", "3.1"), ref("b", "3.2")))
    safe = proc("1.3", "1", title="Making the winch safe", deed="other", before=(ref("c", "1.1"),))
    cool = proc("1.1", "1", title="Letting the winch cool", deed="other")
    assert order(machine(goal, safe, cool, OIL, FLANGE)) == ["1.1", "1.3", "3.1", "3.2", "9.1"]


def test_steps_that_stand_before_the_one_that_asks_for_it_keep_their_place() -> None:
    goal = proc("9.1", step("1"), step("2", ref("b", "3.2")), before=(ref("a", "3.1"),))
    plan = make_plan(machine(goal, SAFE, OIL, FLANGE), "9.1")
    steps = [line.id for line in plan.lines if line.kind == "step"]
    assert steps == ["3.1.1", "9.1.1", "1.3.1", "1.3.2", "3.2.1", "9.1.2"]


def test_only_the_steps_that_are_wanted_move_with_it() -> None:
    flange = proc("3.2", "1", before=(ref("safe", "1.3", steps=("1", "1")),))
    goal = proc("9.1", "1", before=(ref("a", "3.1"), ref("b", "3.2")))
    plan = make_plan(machine(goal, SAFE, OIL, flange), "9.1")
    assert [line.id for line in plan.lines if line.kind == "step"] == ["1.3.1", "3.1.1", "3.2.1", "9.1.1"]


def test_a_ticked_one_is_confirmed_first() -> None:
    goal = proc("9.1", "1", before=(ref("a", "3.1"), ref("b", "3.2")))
    job = Job(JOB_SCHEMA, "j", "a", events=(ProcedureDone(id="e", by="kim", procedure="1.3"),))
    plan = make_plan(machine(goal, SAFE, OIL, FLANGE), "9.1", None, job)
    assert (plan.lines[0].kind, plan.lines[0].procedure) == ("confirm", "1.3")


@pytest.mark.parametrize(
    ("title", "safe"),
    [
        ("Making the engine safe", True),
        ("Isolating the drive", True),
        ("LOCKOUT", True),
        ("Isolating valve: Removal", False),
        ("Securing screws", False),
        ("Securing the engine on the stand", False),
        ("Securing the load with straps", False),
        ("Locking the crankshaft against turning", False),
        ("Securing the engine against starting", True),
        ("Securing the drive against being switched on again", True),
        ("Making the gaskets", False),
        ("Safety valve: Removal", False),
        ("", False),
    ],
)
def test_titles_of_making_safe(title: str, safe: bool) -> None:
    assert makes_safe(title) is safe
