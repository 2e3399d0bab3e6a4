"""Which length goes where in one joint: from its walk, its engine, and what was counted in the trays."""

from collections.abc import Container, Iterable, Mapping

from lastbolt.refitting.lengths import as_put_in, place_lengths, unequal
from lastbolt.threads.designation import thread_of
from lastbolt.tightening.stripping import engagement_rule_mm, metal
from lastbolt.words.engine import Engine
from lastbolt.words.job import Counted, HeadsStand, Job, PutIn, Renewed, TookOut
from lastbolt.words.joint import JointPlace, Walk
from lastbolt.words.lengths import Boss, Odd, Pieces, Placing, Proud
from lastbolt.words.machine import Machine
from lastbolt.words.quantity import Kind
from lastbolt.words.standing import standing


def lengths_of(
    walk: Walk, machine: Machine, engine: Engine | None, job: Job | None, to_come: Container[str] = ()
) -> Placing | None:
    """The length for each place that is still empty, and what went in at the others; nothing where no place
    says what goes there or how deep it is.

    The pieces are those of the last count of each size, less what went in since; without a count, those that
    were taken out by size. `to_come`: places for which a new piece is wanted.
    """
    kinds = kinds_of(walk, machine, job)
    went = _went_in(walk.joint, job)
    missing = engine.missing_places() if engine else frozenset()
    odd = _odd_places(engine)
    bosses = {
        place.id: boss
        for place in walk.places
        if (place.id not in missing or place.id in to_come or place.id in went)
        and (boss := _boss(place, kinds.get(place.id), place.id in to_come or place.id in odd)) is not None
    }
    rows = {row.id: row.kind for row in machine.rows if row.kind is not None}
    pieces = tuple(_pieces(walk.joint, job, kinds, rows))
    empty = [boss for place, boss in bosses.items() if place not in went]
    found = place_lengths(empty, pieces) if empty and pieces else None
    is_in = [
        as_put_in(bosses[place], _length(event, kinds.get(place), rows), event.by)
        for place, event in went.items()
        if place in bosses
    ]
    if not is_in:
        return found
    placed = {one.place: one for one in (*(found.placed if found else ()), *is_in)}
    over = found.over if found else pieces if not empty else ()
    return Placing(
        tuple(placed[place] for place in bosses if place in placed), tuple(p for p in over if p.count)
    )


def kinds_of(walk: Walk, machine: Machine, job: Job | None) -> dict[str, Kind]:
    """What goes into each place: by the walk, else the row tied to it, else what came out there."""
    rows = {row.id: row.kind for row in machine.rows if row.kind is not None}
    tied = {place: rows[tie.line] for tie in walk.ties if tie.line in rows for place in tie.places}
    came = _came_out(walk.joint, job)
    best = {p.id: _best(p.kind, tied.get(p.id), came.get(p.id)) for p in walk.places}
    return {place: kind for place, kind in best.items() if kind is not None}


def _went_in(joint: str, job: Job | None) -> dict[str, PutIn]:
    """By place the last event that put something in, as long as nothing came out there since."""
    found: dict[str, PutIn] = {}
    for _, event in standing(job):
        if isinstance(event, PutIn) and event.joint == joint:
            found |= dict.fromkeys(event.places, event)
        elif isinstance(event, TookOut) and event.joint == joint:
            found = {place: one for place, one in found.items() if place not in event.places}
    return found


def _length(event: PutIn, kind: Kind | None, rows: Mapping[str, Kind]) -> float | None:
    """The length that went in: of the row named, else what belongs there."""
    put = rows.get(event.line or "", kind)
    return put.length_mm if put is not None else None


def _odd_places(engine: Engine | None) -> frozenset[str]:
    facts = engine.as_found if engine else ()
    return frozenset(one.place for one in facts if one.what == "odd length" and one.place)


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


def _boss(place: JointPlace, kind: Kind | None, to_come: bool) -> Boss | None:
    if kind is None or not kind.thread or not is_turned(kind):
        return None
    return Boss(
        place.id, kind.thread, place.grip_mm, place.thread_mm, place.blind, _needed_mm(place, kind.thread),
        kind.length_mm, to_come, place.citations,
    )  # fmt: skip


def _needed_mm(place: JointPlace, thread: str) -> float | None:
    """How much thread the metal of the place wants; not known where its metal is not."""
    known, size = metal(place.metal) if place.metal else None, thread_of(thread)
    return engagement_rule_mm(size, known) if known is not None and size is not None else None


def _pieces(
    joint: str, job: Job | None, kinds: Mapping[str, Kind], rows: Mapping[str, Kind]
) -> Iterable[Pieces]:
    """What is there: a count of a size says all of it; what comes out or is bought adds, what goes in takes
    away."""
    stock: dict[tuple[str, float], int] = {}
    here = {size for kind in kinds.values() if is_turned(kind) and (size := _size(kind))}
    for _, event in standing(job):
        if isinstance(event, Counted) and event.joint in ("", joint) and (size := _size(event.kind)):
            stock[size] = event.pieces
        elif isinstance(event, TookOut) and event.joint == joint and (size := _size(event.kind)):
            stock[size] = stock.get(size, 0) + (len(event.places) or event.count or 1)
        elif isinstance(event, Renewed) and (size := _size(rows.get(event.row))) in here:
            stock[size] = stock.get(size, 0) + event.count
        elif isinstance(event, PutIn) and event.joint == joint:
            for place in event.places:
                if size := _size(rows.get(event.line or "", kinds.get(place))):
                    stock[size] = stock.get(size, 0) - 1
    for (thread, length_mm), count in stock.items():
        yield Pieces(thread, length_mm, max(0, count))


def _size(kind: Kind | None) -> tuple[str, float] | None:
    return (kind.thread, kind.length_mm) if kind and kind.thread and kind.length_mm else None


def heads_of(walk: Walk, job: Job | None) -> tuple[Odd, ...]:
    """Heads that do not stand as the others do, by the last word about each place of the joint; of what moved
    since nothing is known."""
    labels = {place.id: place.label or place.id for place in walk.places}
    last: dict[str, float] = {}
    for _, event in standing(job):
        if isinstance(event, HeadsStand) and event.joint == walk.joint:
            last |= {labels.get(one.place, one.place): one.proud_mm for one in event.proud}
        elif isinstance(event, TookOut | PutIn) and event.joint == walk.joint:
            for place in event.places:
                last.pop(labels.get(place, place), None)
    return unequal([Proud(place, proud_mm) for place, proud_mm in last.items()])
