"""A record as a job file: what the plan, the tally and the way back read.

Where the record leaves two values, nobody chooses between them here. Each is said, with a problem that asks a
person; and the one that is worse for what comes next stands last, so that nothing is cleared on the other:
before a joint is parted a fastener in doubt is in, before it is closed it is out.
"""

from collections.abc import Iterable, Iterator
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from lastbolt.app.record_doubt import Doubt, doubts
from lastbolt.app.record_order import in_line
from lastbolt.app.record_problems import record_problems
from lastbolt.record.bodies import Opened, decision_of, job_event
from lastbolt.record.chains import Record
from lastbolt.record.observed import counts
from lastbolt.record.registers import Register, registers
from lastbolt.record.sealed import Hash, SealedEvent
from lastbolt.record.undo import standing_events
from lastbolt.words.job import JOB_SCHEMA, Counted, Event, Job, Looked, StaysIn, TookOut, WentRound
from lastbolt.words.joint import Answer
from lastbolt.words.problem import Problem

WhereUnsure = Literal["in", "out"]
NOT_SETTLED = ("question", "holder")
"""What people said differently of these is asked again: neither answer is taken."""


class Replayed(Struct, frozen=True):
    """The job that a record comes to, and what a person must settle in it."""

    job: Job
    problems: tuple[Problem, ...]


def as_job(record: Record, where_unsure: WhereUnsure = "in") -> Replayed:
    """The job; `where_unsure`: what a fastener is taken for where both are possible ("in" before parting)."""
    made = _Replay(record, where_unsure)
    found = doubts(record, where_unsure)
    events = tuple(made.events(found))
    goal = next((one for one in record.present if one.tag == "opened"), None)
    opened = decision_of(goal.body) if goal else None
    about = opened if isinstance(opened, Opened) else Opened("")
    job = Job(JOB_SCHEMA, record.job, about.goal, about.machine, about.engine, about.variant, events)
    return Replayed(job, record_problems(record, found))


class _Replay:
    """Turns sealed events into those of the job, one by one."""

    def __init__(self, record: Record, where_unsure: WhereUnsure) -> None:
        self.record, self.where_unsure = record, where_unsure
        conflicts = [one for one in registers(record).values() if one.conflict]
        self.left_out = {name for one in conflicts if one.subject.sort in NOT_SETTLED for name in _all(one)}
        self.to_end = {name for one in conflicts if one.subject.sort == "step" for name in _begun(one)}
        self.spans = {one.event: one for one in counts(record)}

    def events(self, found: tuple[Doubt, ...]) -> Iterator[Event]:
        """The job's events in one line, what is worse of each doubt last."""
        last: dict[Hash, list[str]] = {}
        for doubt in found:
            for name in doubt.last:
                last.setdefault(name, []).append(doubt.place)
        line = in_line(self.record, standing_events(self.record))
        ending: list[Event] = []
        for event in line.events:
            if event.hash in self.left_out:
                continue
            said = said_in_job(event)
            if event.hash in self.to_end:
                ending.append(said)
                continue
            if isinstance(said, Counted) and event.hash in line.crowded:
                said = replace(said, pieces=self.spans[event.hash].low, all_trays=False)
            stays, goes = _parted(said, last.get(event.hash, ()))
            ending += goes
            if stays is not None:
                yield stays
        yield from ending


def said_in_job(event: SealedEvent) -> Event:
    """An observation or act in the words of the job."""
    said = job_event(event.body, event.hash, event.by)
    return replace(said, device=event.device, sequence=event.sequence, time=event.time)


def _parted(said: Event, places: Iterable[str]) -> tuple[Event | None, list[Event]]:
    """What of an event stays where it is, and what of it goes last: an act goes, a look is said again."""
    wanted = tuple(places)
    if isinstance(said, TookOut | StaysIn):
        rest = tuple(place for place in said.places if place not in wanted)
        goes = [replace(said, id=f"{said.id}/{one}", places=(one,)) for one in wanted]
        return (replace(said, places=rest) if rest or not wanted else None), list(goes)
    if isinstance(said, Looked | WentRound):
        answers = said.answers if isinstance(said, Looked) else said.round.answers
        return said, [_again(said, answer) for answer in answers if answer.place in wanted]
    return said, []


def _again(said: Looked | WentRound, answer: Answer) -> Event:
    return Looked(
        id=f"{said.id}/{answer.place}", by=said.by, device=said.device, sequence=said.sequence,
        time=said.time, words=said.words, joint=said.joint, answers=(answer,),
    )  # fmt: skip


def _all(register: Register) -> Iterator[Hash]:
    return (name for held in register.held for name in held.hashes)


def _begun(register: Register) -> Iterator[Hash]:
    return (name for held in register.held if held.value == "started" for name in held.hashes)
