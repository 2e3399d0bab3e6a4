"""Places of which a record says two things: acts, or looks and acts, that did not know of each other."""

from collections.abc import Iterator
from typing import Literal

from msgspec import Struct

from lastbolt.record.chains import Record
from lastbolt.record.observed import Observed, observations
from lastbolt.record.registers import Register, place_of, places_acted_on
from lastbolt.record.sealed import Hash, SealedEvent
from lastbolt.words.joint import NOTHING_IN, SOMETHING_IN, Saw

OUT, SLACK, IN, TIGHT = 0, 1, 2, 3


class Said(Struct, frozen=True):
    """One of the last words on a place: by whom, in which words, and how firmly the fastener sits by it."""

    hash: Hash
    by: str
    words: str
    firm: int
    act: bool


class Doubt(Struct, frozen=True):
    """A place of which two things are possible; `last`: the events that say the worse of them."""

    joint: str
    place: str
    said: tuple[Said, ...]
    last: tuple[Hash, ...]


def doubts(record: Record, where_unsure: Literal["in", "out"]) -> tuple[Doubt, ...]:
    """Every place in doubt, by joint and place."""
    apart: dict[tuple[str, str], list[Observed]] = {}
    for one in observations(record):
        if one.subject.sort == "place" and one.against and not one.retired_by:
            apart.setdefault((one.subject.joint, one.subject.id), []).append(one)
    found = []
    for joint, place in places_acted_on(record):
        register = place_of(record, joint, place)
        acts = tuple(_acts(record, register))
        looks = tuple(
            said for one in apart.get((joint, place), ()) for said in _looks(record.event(one.event), place)
            if _contradicts(said, acts)
        )  # fmt: skip
        if register.conflict or looks:
            found.append(_doubt(joint, place, (*acts, *looks), where_unsure))
    return tuple(found)


def _doubt(joint: str, place: str, said: tuple[Said, ...], where_unsure: str) -> Doubt:
    least = min(one.firm for one in said)
    if where_unsure == "out":
        last = [one.hash for one in said if one.firm == least]
    else:
        last = [one.hash for one in said if one.firm > OUT]
    settled = len({one.firm for one in said}) == 1
    return Doubt(joint, place, said, () if settled else tuple(dict.fromkeys(last)))


def _acts(record: Record, register: Register) -> Iterator[Said]:
    for held in register.held:
        for name in held.hashes:
            yield Said(name, record.event(name).by, held.value, _firm(held.value), True)


def _firm(value: str) -> int:
    if value in ("out", "slack", "in"):
        return (OUT, SLACK, IN)[("out", "slack", "in").index(value)]
    stage = value.removeprefix("stage ")
    return TIGHT + (int(stage) if stage.isdigit() else 1_000)


def _looks(event: SealedEvent, place: str) -> Iterator[Said]:
    """What a look or round says of the place, each statement by itself; of no fastener nothing."""
    body = event.body
    answers = (*(body.get("answers") or ()), *((body.get("round") or {}).get("answers") or ()))
    for answer in answers:
        for saw in answer["saw"] if answer["place"] == place else ():
            firm = _firm_when_seen(saw)
            if firm is not None:
                yield Said(event.hash, event.by, f"seen: {saw}", firm, False)


def _firm_when_seen(saw: Saw) -> int | None:
    if saw == "out" or saw in NOTHING_IN:
        return OUT
    if saw == "slack":
        return SLACK
    return IN if saw in SOMETHING_IN else None


def _contradicts(said: Said, acts: tuple[Said, ...]) -> bool:
    """Whether a look says other than an act: out or not, slack or tight."""
    return any(
        (said.firm == OUT) != (act.firm == OUT) or (said.firm == SLACK and act.firm >= TIGHT) for act in acts
    )
