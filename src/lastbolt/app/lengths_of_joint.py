"""Which length goes where in one joint: from its walk, its engine, and what was counted in the trays."""

from collections.abc import Iterable

from lastbolt.refitting.lengths import place_lengths, unequal
from lastbolt.threads.designation import thread_of
from lastbolt.tightening.stripping import engagement_rule_mm, metal
from lastbolt.words.engine import Engine
from lastbolt.words.job import Counted, HeadsStand, Job, TookOut
from lastbolt.words.joint import JointPlace, Walk
from lastbolt.words.lengths import Boss, Odd, Pieces, Placing, Proud
from lastbolt.words.machine import Machine
from lastbolt.words.quantity import Kind
from lastbolt.words.standing import standing


def lengths_of(walk: Walk, machine: Machine, engine: Engine | None, job: Job | None) -> Placing | None:
    """The length for each place; nothing where no place says what goes there or how deep it is.

    The pieces are those of the last count of each size; without a count, those that were taken out by size.
    """
    rows = {row.id: row.kind for row in machine.rows if row.kind is not None}
    tied = {place: rows[tie.line] for tie in walk.ties if tie.line in rows for place in tie.places}
    came = _came_out(walk.joint, job)
    missing = engine.missing_places() if engine else frozenset()
    bosses = [
        boss
        for place in walk.places
        if place.id not in missing
        and (boss := _boss(place, _best(place.kind, tied.get(place.id), came.get(place.id)))) is not None
    ]
    pieces = tuple(_pieces(walk.joint, job))
    return place_lengths(bosses, pieces) if bosses and pieces else None


def is_turned(kind: Kind | None) -> bool:
    """Whether a fastener is screwed in, and so has an order, a torque and a length that matters."""
    return kind is not None and kind.what not in ("dowel", "pin", "clip")


def _best(*kinds: Kind | None) -> Kind | None:
    """What the walk says goes there, else the row tied to it, else what came out: the first with a length."""
    known = [kind for kind in kinds if kind is not None]
    return next((kind for kind in known if kind.length_mm), known[0] if known else None)


def _came_out(joint: str, job: Job | None) -> dict[str, Kind]:
    return {
        place: event.kind
        for _, event in standing(job)
        if isinstance(event, TookOut) and event.joint == joint and event.kind is not None
        for place in event.places
    }


def _boss(place: JointPlace, kind: Kind | None) -> Boss | None:
    if kind is None or not kind.thread or not is_turned(kind):
        return None
    return Boss(
        place.id, kind.thread, place.grip_mm, place.thread_mm, place.blind, _needed_mm(place, kind.thread),
        kind.length_mm, place.citations,
    )  # fmt: skip


def _needed_mm(place: JointPlace, thread: str) -> float | None:
    """How much thread the metal of the place wants; not known where its metal is not."""
    known, size = metal(place.metal) if place.metal else None, thread_of(thread)
    return engagement_rule_mm(size, known) if known is not None and size is not None else None


def _pieces(joint: str, job: Job | None) -> Iterable[Pieces]:
    counted: dict[tuple[str, float], int] = {}
    taken: dict[tuple[str, float], int] = {}
    for _, event in standing(job):
        if isinstance(event, Counted) and event.joint in ("", joint) and (size := _size(event.kind)):
            counted[size] = event.pieces
        elif isinstance(event, TookOut) and event.joint == joint and (size := _size(event.kind)):
            taken[size] = taken.get(size, 0) + (len(event.places) or event.count or 1)
    for (thread, length_mm), count in (taken | counted).items():
        yield Pieces(thread, length_mm, count)


def _size(kind: Kind | None) -> tuple[str, float] | None:
    return (kind.thread, kind.length_mm) if kind and kind.thread and kind.length_mm else None


def heads_of(walk: Walk, job: Job | None) -> tuple[Odd, ...]:
    """Heads that do not stand as the others do, by the last word about each place of the joint."""
    labels = {place.id: place.label or place.id for place in walk.places}
    last: dict[str, float] = {}
    for _, event in standing(job):
        if isinstance(event, HeadsStand) and event.joint == walk.joint:
            last |= {labels.get(one.place, one.place): one.proud_mm for one in event.proud}
    return unequal([Proud(place, proud_mm) for place, proud_mm in last.items()])
