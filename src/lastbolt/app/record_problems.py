"""What in a record a person must settle, in words."""

from collections.abc import Iterator

from lastbolt.app.record_doubt import Doubt
from lastbolt.record.chains import Record
from lastbolt.record.observed import CountSpan, counts
from lastbolt.record.registers import Register, registers
from lastbolt.record.undo import vain_undoes
from lastbolt.words.problem import Problem

LOOK = "Look, and record what is there now with both in view; that settles it."


def record_problems(record: Record, found: tuple[Doubt, ...]) -> tuple[Problem, ...]:
    """Everything that waits for a person, places first."""
    return (
        *(_place(doubt) for doubt in found),
        *(
            _other(record, one)
            for one in registers(record).values()
            if one.conflict and one.subject.sort != "place"
        ),
        *(_count(record, one) for one in counts(record) if one.low != one.high),
        *_chains(record),
    )


def _place(doubt: Doubt) -> Problem:
    said = "; ".join(f"{one.by}: {one.words}" for one in doubt.said)
    what = f"Of one place two things were recorded by people who did not know of each other ({said})."
    return Problem("LB-E50", what, f'joint "{doubt.joint}", place "{doubt.place}"', LOOK)


def _other(record: Record, register: Register) -> Problem:
    said = "; ".join(
        f"{', '.join(record.event(name).by for name in held.hashes)}: {_short(held.value)}"
        for held in register.held
    )
    what = f"Two things were recorded by people who did not know of each other ({said})."
    where = f'{register.subject.sort} "{register.subject.id}"'
    return Problem(
        "LB-E50", what, where, "Ask both, and record once more what holds; neither is taken till then."
    )


def _short(value: str) -> str:
    return value if len(value) <= 120 else f"{value[:120]}..."


def _count(record: Record, span: CountSpan) -> Problem:
    event = record.event(span.event)
    what = (
        f"{event.by} counted {event.body['pieces']} while others took out or put in: "
        f"{span.low} to {span.high} lie there now."
    )
    where = f"event {event.sequence} of device {event.device}"
    return Problem("LB-E51", what, where, "Count once more when nobody takes out or puts in.")


def _chains(record: Record) -> Iterator[Problem]:
    if waiting := record.waiting:
        devices = ", ".join(sorted({one.event.device for one in waiting}))
        what = f"{len(waiting)} events wait: something that their device ({devices}) knew has not arrived."
        do = "Let every device of the bench send what it has; until then these events count for nothing."
        yield Problem("LB-E52", what, f"job {record.job}", do)
    for fork in record.forks:
        what = (
            f"Device {fork.device} wrote {len(fork.hashes)} different events as its number {fork.sequence}."
        )
        do = "Two tabs or a copied device: close one, and look at what both wrote. All of it counts."
        yield Problem("LB-E53", what, f"device {fork.device}", do)
    for fault in record.faults:
        do = "Ask who wrote it; it counts, and its chain cannot vouch for it."
        yield Problem("LB-E53", f"An event is not in its device's chain: {fault.words}.", fault.hash, do)
    for event in vain_undoes(record):
        what = f"{event.by} took back what that device had not seen, or a decision: it stands."
        where = f"event {event.sequence} of device {event.device}"
        yield Problem("LB-E54", what, where, "Say it again on a device that shows what is to be taken back.")
