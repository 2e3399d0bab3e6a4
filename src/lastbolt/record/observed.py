"""What people saw, and which of it still speaks of the present: an act that knew of it retires it."""

from msgspec import Struct

from lastbolt.record.bodies import job_event
from lastbolt.record.chains import Record
from lastbolt.record.kinds import Subject
from lastbolt.record.sealed import Hash, SealedEvent
from lastbolt.record.undo import standing_acts, standing_events
from lastbolt.words.job import Counted, PutIn, TookOut


class Observed(Struct, frozen=True):
    """One observation of one thing. `retired_by`: acts on it that knew of the observation; `against`: acts
    on it that neither knew of it nor were known to it."""

    event: Hash
    subject: Subject
    retired_by: tuple[Hash, ...]
    against: tuple[Hash, ...]


class CountSpan(Struct, frozen=True):
    """A count of a tray, with what others did meanwhile: between `low` and `high` lie there after that."""

    event: Hash
    low: int
    high: int


def observations(record: Record) -> tuple[Observed, ...]:
    """Every standing observation, once for each thing that it speaks of."""
    acts: dict[Subject, list[Hash]] = {}
    for act in standing_acts(record):
        for subject in dict.fromkeys(one.bare() for one in act.subjects):
            acts.setdefault(subject, []).append(act.hash)
    found = []
    for event in standing_events(record):
        if event.kind == "observation":
            for subject in dict.fromkeys(event.subjects):
                found.append(_observed(record, event.hash, subject, acts.get(subject.bare(), [])))
    return tuple(found)


def _observed(record: Record, seen: Hash, subject: Subject, acts: list[Hash]) -> Observed:
    retired = tuple(act for act in acts if record.before(seen, act))
    against = tuple(act for act in acts if act not in retired and not record.before(act, seen))
    return Observed(seen, subject, retired, against)


def counts(record: Record) -> tuple[CountSpan, ...]:
    """Every standing count as an interval. Two counts are never merged."""
    moved = [one for one in standing_acts(record) if one.tag in ("took out", "put in")]
    return tuple(_span(record, one, moved) for one in standing_events(record) if one.tag == "counted")


def _span(record: Record, count: SealedEvent, moved: list[SealedEvent]) -> CountSpan:
    said = job_event(count.body, count.hash, count.by)
    assert isinstance(said, Counted)
    low = high = said.pieces
    for act in moved:
        if record.before(act.hash, count.hash) or record.before(count.hash, act.hash):
            continue
        done = job_event(act.body, act.hash, act.by)
        if isinstance(done, TookOut) and _concerns(said, done):
            high += len(done.places) or (1 if done.count is None else done.count)
        elif isinstance(done, PutIn) and _concerns(said, done):
            low -= len(done.places)
    return CountSpan(count.hash, max(0, low), high)


def _concerns(count: Counted, act: TookOut | PutIn) -> bool:
    """Whether pieces of this act may be among those counted; what was not said may be."""
    if count.joint and act.joint and count.joint != act.joint:
        return False
    if count.line and act.line and count.line != act.line:
        return False
    if isinstance(act, PutIn):
        return True
    if act.kind is not None and count.kind.matches(act.kind) == "no":
        return False
    return not (act.tray and count.trays and act.tray not in count.trays)
