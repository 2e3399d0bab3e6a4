"""Jobs that look finished and are not: a piece left in a tray or lost, a step only ticked, a wrong hole.

Each is tried on a job that is finished without it.
"""

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace
from small_book import machine, names, proc, step

from lastbolt.app.make_plan import make_plan
from lastbolt.app.refit_joint import WayBackMade, refit_joint
from lastbolt.words.job import (
    JOB_SCHEMA,
    Counted,
    Event,
    FoundBad,
    HeadsStand,
    Job,
    LaidIn,
    PutIn,
    Renewed,
    StepDone,
    TakenAway,
    Tightened,
    TookOut,
)
from lastbolt.words.joint import WALK_SCHEMA, End, JointPlace, Walk
from lastbolt.words.lengths import Proud
from lastbolt.words.machine import TorqueValue
from lastbolt.words.quantity import Kind

M8 = Kind("screw", "M8", 45.0)
NEWTON_METRES = TorqueValue((9.0, 9.0), ((9.0, 9.0, "N·m"),), words="9 N·m")
LID = proc("4.1", "Removing the lid", "separate", "lid",
           step("1", "Remove the lid screws.", names("lid screws", kind=Kind("screw"))),
           step("2", "Take the washers off.", names("washers")),
           step("3", "Take the lid off.", names("lid")))  # fmt: skip
LID_ON = proc("4.2", "Joining the lid", "join", "lid",
              step("1", "Set the lid on.", names("lid", "install")),
              step("2", "Lay the washers on. Fit the lid screws.", names("washers", "install"),
                   names("lid screws", "install", kind=Kind("screw"))),
              step("3", "Tighten to 9 N·m.", deeds=("tighten",)),
              step("4", "Fill in oil.", names("oil", "fill")),
              step("5", "After the first ten hours, check the screws.", deeds=("check",)))  # fmt: skip
LID_ON = replace(
    LID_ON, steps=tuple(replace(s, torques=(NEWTON_METRES,)) if s.mark == "3" else s for s in LID_ON.steps)
)
MADE = machine(LID, LID_ON)
ENDS = tuple((End("lid", "near", 30.0 * n, 10.0 * (n % 2)),) for n in range(6))
PLACES = tuple(
    JointPlace(f"p{n}", str(n), ENDS[n], kind=M8, grip_mm=25.0, thread_mm=22.0, blind=True,
               metal="cast aluminium")
    for n in range(1, 6)
)  # fmt: skip
WALK = Walk(WALK_SCHEMA, "j", "lid joint", places=PLACES)
ALL = tuple(one.id for one in PLACES)


def ticks(section: str, marks: str, looked: bool = True) -> tuple[Event, ...]:
    return tuple(
        StepDone(id=f"{section}-{mark}", by="Ama", step=f"book/step/{section}/{mark}", looked=looked)
        for mark in marks
    )


APART: tuple[Event, ...] = (
    *ticks("4.1", "123"), TookOut(id="o", by="Ama", joint="j", places=ALL, kind=M8, tray="tin 1"),
    Counted(id="c", by="Kofi", joint="j", kind=M8, pieces=5, trays=("tin 1",)),
)  # fmt: skip
IN = PutIn(id="i", by="Ama", joint="j", places=ALL)
TIGHT = Tightened(id="t", by="Ama", joint="j", places=ALL, final=True, painted=True)
WHOLE: tuple[Event, ...] = (*APART, *ticks("4.2", "1"), IN, TIGHT, *ticks("4.2", "234"))


def made(*events: Event, walk: Walk = WALK) -> WayBackMade:
    job = Job(JOB_SCHEMA, "job", "4.1", events=events)
    return refit_joint(MADE, make_plan(MADE, "4.1", None, job), (walk,), None, job)


def stands(*events: Event) -> list[str]:
    found = made(*events).account
    assert found.finished is not bool(found.stands)
    return [one.words for one in found.stands]


def but(*left_out: str, events: tuple[Event, ...] = WHOLE) -> tuple[Event, ...]:
    """The whole job without the events of these ids."""
    assert set(left_out) <= {one.id for one in events}
    return tuple(one for one in events if one.id not in left_out)


def counted(number: int, by: str = "Kofi") -> Counted:
    return Counted(id=f"c{by}{number}", by=by, joint="j", kind=M8, pieces=number, trays=("tin 1",))


def test_the_whole_job_is_finished() -> None:
    assert stands(*WHOLE) == []
    assert stands(*WHOLE, counted(0)) == []


@pytest.mark.parametrize("mark", "1234")
def test_a_line_that_nobody_ticked_keeps_it_open(mark: str) -> None:
    assert stands(*but(f"4.2-{mark}")) != []


def test_work_that_comes_hours_later_does_not() -> None:
    assert stands(*WHOLE, *ticks("4.2", "5")) == []


def test_a_tick_without_a_look_is_no_torque() -> None:
    only_ticked = (*but("4.2-3", "t"), *ticks("4.2", "3", looked=False))
    other = Tightened(id="t", by="Ama", joint="drain plug", places=("plug",), final=True)
    found = stands(*only_ticked, other)
    assert any("nobody says that the torque was reached" in words for words in found)
    assert any("are in and not tightened" in words for words in found)


@pytest.mark.parametrize("place", ALL)
def test_a_place_that_nobody_ever_spoke_of_is_not_accounted_for(place: str) -> None:
    rest = tuple(one for one in ALL if one != place)
    events = (
        *ticks("4.1", "123"), TookOut(id="o", by="Ama", joint="j", places=rest, kind=M8),
        *ticks("4.2", "1"), replace(IN, places=rest), replace(TIGHT, places=rest), *ticks("4.2", "234"),
    )  # fmt: skip
    assert f"Place {place[1:]} is not accounted for" in stands(*events)


def test_a_screw_that_was_never_in_a_tray_may_lie_inside() -> None:
    short = (*APART[:-1], counted(4), *WHOLE[len(APART) :])
    assert "5 came out, and 4 were counted in the trays by Kofi" in stands(*short)
    assert "5 came out, and 4 were counted in the trays by Kofi" in stands(*short, counted(0))
    new = Renewed(id="n", by="Ama", part="screw M8 x 45")
    assert stands(*short, new) == []
    again = (*APART[:-1], counted(4), counted(5, "Ama"), *WHOLE[len(APART) :])
    assert stands(*again) == []


@pytest.mark.parametrize("left", [1, 2, 3])
def test_a_piece_left_in_a_tray_is_told_also_when_others_went_in_after_the_count(left: int) -> None:
    more = (*APART[:-1], counted(5 + left), *WHOLE[len(APART) :])
    assert any(words.startswith(f"{left} fastener") for words in stands(*more))
    assert any(words.startswith(f"{left} screw M8x45") for words in stands(*WHOLE, counted(left)))


def test_tightening_at_an_empty_place_hides_no_piece_in_a_tray() -> None:
    events = (*APART, *ticks("4.2", "1"), replace(IN, places=ALL[:4]), TIGHT, *ticks("4.2", "234"))
    assert stands(*events) == []
    assert any("1 screw M8x45 left over" in words for words in stands(*events, counted(1)))


def test_three_washers_lost_and_one_renewed_are_two_lost() -> None:
    lost = FoundBad(id="f", by="Ama", part="washers", how="lost", count=3)
    new = [Renewed(id=f"n{n}", by="Ama", part="washers") for n in range(3)]
    for have in range(3):
        assert any("washers: lost" in words for words in stands(*WHOLE, lost, *new[:have]))
    assert stands(*WHOLE, lost, *new) == []
    assert stands(*WHOLE, lost, Renewed(id="n", by="Ama", part="Washers", count=3)) == []


def test_a_rag_is_in_until_it_is_out_whatever_it_is_called() -> None:
    rag = LaidIn(id="l", by="Ama", thing="rag", count=2)
    assert stands(*WHOLE, rag, TakenAway(id="a", by="Ama", thing="rags")) == ["1 rag still in"]
    assert stands(*WHOLE, rag, TakenAway(id="a", by="Ama", thing="rags", count=2)) == []


def test_what_came_off_once_more_after_it_was_back_is_off() -> None:
    again = StepDone(id="again", by="Ama", step="book/step/4.1/3", looked=True)
    assert any("lid: off" in words for words in stands(*WHOLE, again))
    assert stands(*WHOLE, again, *(replace(one, id="on") for one in ticks("4.2", "1"))) == []


def test_a_screw_that_bottoms_keeps_the_job_open() -> None:
    deep = replace(PLACES[0], grip_mm=15.0)
    walk = replace(WALK, places=(deep, *PLACES[1:]))
    found = made(*WHOLE, walk=walk).account
    assert not found.finished
    assert any("bottoms" in one.words for one in found.stands)


def test_heads_that_tell_of_a_swapped_pair_keep_it_open_until_they_are_taken_out() -> None:
    high = tuple(Proud(f"p{n}", mm) for n, mm in enumerate((12.0, 17.0, 12.2, 7.0, 11.9), 1))
    heads = HeadsStand(id="h", by="Ama", joint="j", proud=high)
    before = WHOLE[: WHOLE.index(TIGHT)]
    after = WHOLE[WHOLE.index(TIGHT) :]
    assert any("swapped" in words for words in stands(*before, heads, *after))
    out = TookOut(id="o2", by="Ama", joint="j", places=("p2", "p4"))
    back = PutIn(id="i2", by="Ama", joint="j", places=("p2", "p4"))
    assert stands(*before, heads, out, back, *after) == []


@given(st.sets(st.integers(0, len(WHOLE) - 1)), st.permutations(range(3)))
def test_no_part_of_a_job_left_out_makes_it_finished_but_what_others_say_as_well(
    gone: set[int], order: list[int]
) -> None:
    """Left out may be: that a line was taken off and counted (the way back says more), and that a screw was
    put in (it was tightened)."""
    said_elsewhere = {"4.1-1", "4.1-2", "4.1-3", "c", "i", "o"}
    left = tuple(one for n, one in enumerate(WHOLE) if n not in gone)
    lost = {one.id for n, one in enumerate(WHOLE) if n in gone}
    if made(*left).account.finished:
        assert lost <= said_elsewhere


def test_every_tray_that_differs_is_told_whatever_the_order_of_counting() -> None:
    short = Kind("screw", "M8", 30.0)
    for numbers in itertools.permutations(((M8, 3), (short, 1))):
        counts = [
            Counted(id=f"k{n}", by="Kofi", joint="j", kind=kind, pieces=count)
            for n, (kind, count) in enumerate(numbers)
        ]
        assert "5 came out, and 4 were counted in the trays by Kofi" in stands(
            *APART[:-1], *counts, *WHOLE[len(APART) :]
        )
