"""Which events of a job stand: undone ones do not, repeated ones stand once, and the order stays."""

from hypothesis import given
from hypothesis import strategies as st

from lastbolt.words.job import JOB_SCHEMA, Event, Job, StepDone, Undone
from lastbolt.words.standing import ids_of_several, standing, vain_undoes


def job(*events: Event) -> Job:
    return Job(JOB_SCHEMA, "j", "goal", events=events)


def done(name: str, by: str = "kim") -> StepDone:
    return StepDone(id=name, by=by, step=f"step {name}")


def undo(name: str, undoes: str) -> Undone:
    return Undone(id=name, by="kim", undoes=undoes)


def test_nothing_stands_without_a_job() -> None:
    assert standing(None) == ()


def test_an_undo_of_an_undo_brings_the_event_back() -> None:
    assert standing(job(done("a"), undo("b", "a"))) == ()
    assert standing(job(done("a"), undo("b", "a"), undo("c", "b"))) == ((0, done("a")),)


def test_an_event_that_came_from_two_devices_stands_once() -> None:
    assert standing(job(done("a"), done("b"), done("a"))) == ((0, done("a")), (1, done("b")))


def test_two_events_under_one_id_both_stand() -> None:
    assert len(standing(job(done("a"), done("a", "lee")))) == 2


def test_an_undo_takes_back_only_what_stood_before_it() -> None:
    later = job(undo("u", "a"), done("a"))
    assert standing(later) == ((1, done("a")),)
    assert vain_undoes(later) == ((0, undo("u", "a")),)
    assert vain_undoes(job(undo("u", "u"))) == ((0, undo("u", "u")),)
    assert vain_undoes(job(done("a"), undo("u", "a"))) == ()


def test_an_undo_of_an_id_that_two_events_carry_takes_back_neither() -> None:
    both = job(done("a"), done("a", "lee"), undo("u", "a"))
    assert [event for _, event in standing(both)] == [done("a"), done("a", "lee")]
    assert (ids_of_several(both), vain_undoes(both)) == (("a",), ((2, undo("u", "a")),))
    assert ids_of_several(job(done("a"), done("a"))) == ()


@given(st.lists(st.sampled_from("abcdef"), unique=True))
def test_a_record_held_twice_says_what_it_says_once(names: list[str]) -> None:
    events = [done(name) for name in names]
    events_once = standing(job(*events))
    assert standing(job(*events, *events)) == events_once
    assert [event for _, event in events_once] == events
