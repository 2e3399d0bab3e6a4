"""What was done last to each thing: causally later wins; concurrent and different is for a person."""

from collections.abc import Iterable

import msgspec
from msgspec import Struct

from lastbolt.record.chains import Record
from lastbolt.record.kinds import Subject
from lastbolt.record.sealed import Hash, SealedEvent
from lastbolt.record.undo import standing_acts

ADDS_UP = "thing"
"""What is laid in and taken away adds up: no later word replaces an earlier one."""
SET_BY_DECISION = ("setting", "edition", "hold set")
_WORD = {"took out": "out", "put in": "in", "slackened": "slack", "step started": "started",
         "step done": "done", "procedure done": "done"}  # fmt: skip
_SAID = {"holder settled": "how", "question answered": "answer", "found why": "cause"}
_encode = msgspec.json.Encoder(order="sorted").encode


class Held(Struct, frozen=True, order=True):
    """One value that a thing may have, and the events that say so."""

    value: str
    hashes: tuple[Hash, ...]


class Register(Struct, frozen=True):
    """What a thing's last acts say; more than one value: each is possible until a person decides."""

    subject: Subject
    held: tuple[Held, ...]
    conflict: bool


def value_of(event: SealedEvent) -> str:
    """What an act says of each thing that it was done to, or a decision sets."""
    tag = event.tag
    if tag in SET_BY_DECISION:
        return _encode(event.body).decode()
    if tag == "tightened":
        return "final" if event.body.get("final") else f"stage {event.body.get('stage', 0)}"
    if said := _SAID.get(tag):
        return str(event.body[said])
    return _WORD.get(tag, tag)


def registers(record: Record) -> dict[Subject, Register]:
    """The register of each thing that an act or a setting names, by the thing."""
    last: dict[Subject, list[SealedEvent]] = {}
    decided = (one for one in record.present if one.tag in SET_BY_DECISION)
    for event in (*standing_acts(record), *decided):
        for subject in set(event.subjects):
            if subject.sort != ADDS_UP:
                last[subject] = [*_not_before(record, last.get(subject, ()), event), event]
    return {subject: _register(subject, last[subject]) for subject in sorted(last)}


def place_of(record: Record, joint: str, place: str) -> Register:
    """What may be at a place, whichever fastener was there: a conflict also when the fasteners differ."""
    wanted = Subject("place", place, joint)
    last: list[SealedEvent] = []
    fastener: dict[Hash, set[int]] = {}
    for event in standing_acts(record):
        for subject in event.subjects:
            if subject.bare() == wanted:
                fastener.setdefault(event.hash, set()).add(subject.occupancy)
        if event.hash in fastener:
            last = [*_not_before(record, last, event), event]
    numbers = {one for event in last for one in fastener[event.hash] if one}
    made = _register(wanted, last)
    return Register(wanted, made.held, made.conflict or len(numbers) > 1)


def places_acted_on(record: Record) -> tuple[tuple[str, str], ...]:
    """Every place that an act names, with its joint."""
    return tuple(
        sorted({(s.joint, s.id) for one in standing_acts(record) for s in one.subjects if s.sort == "place"})
    )


def _not_before(record: Record, last: Iterable[SealedEvent], event: SealedEvent) -> list[SealedEvent]:
    return [one for one in last if not record.before(one.hash, event.hash)]


def _register(subject: Subject, last: list[SealedEvent]) -> Register:
    by_value: dict[str, list[Hash]] = {}
    for event in last:
        by_value.setdefault(value_of(event), []).append(event.hash)
    held = tuple(Held(value, tuple(sorted(hashes))) for value, hashes in sorted(by_value.items()))
    return Register(subject, held, len(held) > 1)
