"""Hold points: what is set for each, which acts are its force step, and what a signature rests on."""

import hashlib

import msgspec
from msgspec import Struct

from lastbolt.record.bodies import HoldSet, decision_of
from lastbolt.record.chains import Record
from lastbolt.record.kinds import Subject
from lastbolt.record.registers import Held, registers
from lastbolt.record.sealed import Hash, SealedEvent

FORCE_TAGS = ("step started", "step done")
OPENING = ("signed", "override")


class Hold(Struct, frozen=True):
    """What is set for a hold; None with `conflict` when people set it differently and nobody chose."""

    set: HoldSet | None
    conflict: bool


def holds_of(record: Record) -> tuple[str, ...]:
    """The holds that were set, by id."""
    return tuple(sorted({str(one.body["hold"]) for one in record.present if one.tag == "hold set"}))


def hold_of(record: Record, hold: str) -> Hold:
    """What is set for a hold."""
    found = registers(record).get(Subject("hold", hold))
    if found is None or found.conflict:
        return Hold(None, found is not None)
    return Hold(_set(found.held[0]), False)


def _set(held: Held) -> HoldSet:
    decision = decision_of(msgspec.json.decode(held.value))
    assert isinstance(decision, HoldSet)
    return decision


def evidence_digest(record: Record, at: Hash | None = None) -> str:
    """The digest of all observations and acts before an event, or of all that are here."""
    names = record.past(at) if at is not None else [one.hash for one in record.present]
    said = sorted(name for name in names if record.event(name).kind != "decision")
    return hashlib.sha256("\n".join(said).encode()).hexdigest()


def force_acts(record: Record, hold: HoldSet) -> tuple[SealedEvent, ...]:
    """Every act that begins or ends the step which the hold guards, taken back or not."""
    return tuple(
        one for one in record.present
        if hold.step and one.tag in FORCE_TAGS and str(one.body["step"]) == hold.step
    )  # fmt: skip


def touches(event: SealedEvent, joint: str) -> bool:
    """Whether an event may bear on the joint: it speaks of it, or of none."""
    joints = {subject.joint for subject in event.subjects if subject.joint}
    return not joint or not joints or joint in joints
