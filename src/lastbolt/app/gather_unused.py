"""What walks, job and engine file say of a joint that cannot be used, so that nothing is called free."""

from collections import Counter
from collections.abc import Iterable, Iterator

from msgspec.structs import replace

from lastbolt.app.gather_documents import Documents
from lastbolt.app.gather_job import MOST_PIECES, Heard, left_out_of
from lastbolt.app.removals import Removal
from lastbolt.app.typed_words import person_key, settles
from lastbolt.app.who_says_so import who_says_so
from lastbolt.tally.layout import may_be
from lastbolt.tally.unused import (
    by_two,
    does_not_settle,
    joint_of_no_walk,
    more_than_listed,
    nearly_a_place,
    not_all_asked,
    says_nothing,
    several_of_one_id,
    size_of_no_row,
    strange_field,
    too_much,
    undo_of_later,
    wrong_papers,
)
from lastbolt.words.evidence import EvidencePlace, Line, StepSaid
from lastbolt.words.job import Counted, Event, HolderSettled, Looked, StaysIn, TookOut, WentRound
from lastbolt.words.joint import Answer, Round, Walk
from lastbolt.words.problem import Problem
from lastbolt.words.quantity import Kind
from lastbolt.words.standing import ids_of_several, standing, vain_undoes

MOST_NAMED = 5
MOST_PLACES = 200
"""A joint with more is taken for a slip; the typed lines stop there too."""
MOST_UNLISTED = 30
"""More places that are looked at and that no walk lists are a slip: the wrong joint, or the wrong ids."""


def unusable(documents: Documents, joint: str) -> list[Problem]:
    """A problem for each statement about this joint that says nothing, or nobody knows of what."""
    walks = tuple(walk for walk in documents.walks if walk.joint == joint)
    return [
        *_strange(documents, joint),
        *_papers(documents),
        *_walks(documents, walks, joint),
        *_ids(documents),
        *_events(documents, joint),
        *who_says_so(documents, walks),
    ]


def nearly_listed(places: Iterable[EvidencePlace], walks: Iterable[Walk]) -> Iterator[Problem]:
    """A problem for each two places whose ids, or whose labels, differ by case, spaces or zeros only.

    Also for one that no walk lists and that goes by the label of another.
    """
    places = tuple(places)
    listed = {place.id for walk in walks for place in walk.places}
    walked = [place for place in places if place.id in listed]
    unlisted = [place for place in places if place.id not in listed]
    first: dict[str, str] = {}
    for place in (*walked, *unlisted):
        other = first.setdefault(_folded(place.id), place.id)
        if other != place.id:
            yield nearly_a_place(place.id, other)
    labels: dict[str, str] = {}
    for place in walked:
        other = labels.setdefault(_folded(place.label), place.label)
        if other != place.label:
            yield nearly_a_place(place.label, other)
    for place in unlisted:
        if _folded(place.id) in labels and first[_folded(place.id)] == place.id:
            yield nearly_a_place(place.id, labels[_folded(place.id)])


def steps_take_more(
    removed: Iterable[Removal], lines: Iterable[Line], line_of: dict[str, str]
) -> Iterator[Problem]:
    """A problem for each row of which the steps of one section take out more than any source prints."""
    taken: Counter[tuple[str, str]] = Counter()
    for removal in removed:
        ids = {line_of[row] for row in removal.rows if row in line_of}
        if len(ids) == 1:
            section = removal.procedure.number or removal.procedure.title
            taken[ids.pop(), section] += removal.mention.quantity.low or 0
    known = {line.id: line for line in lines if line.printed}
    for (name, section), count in taken.items():
        line = known.get(name)
        most = [one.quantity.high for one in line.printed] if line is not None else [None]
        if line is not None and None not in most and count > max(high or 0 for high in most):
            yield more_than_listed(section, count, line.kind.words(), line.words)


def too_many_pieces(lines: Iterable[Line], steps: Iterable[StepSaid]) -> Iterator[Problem]:
    """A problem for each row or step of this joint with more pieces, or fewer than none, than can be."""
    said = [(f"Parts row {line.id}", printed.quantity) for line in lines for printed in line.printed]
    said += [(f"Step {step.id}", step.removes) for step in steps]
    for called, quantity in said:
        numbers = [number for number in (quantity.low, quantity.high) if number is not None]
        if any(number > MOST_PIECES for number in numbers):
            yield too_much(f"{called} gives {max(numbers)} pieces", MOST_PIECES)
        elif any(number < 0 for number in numbers):
            yield says_nothing(called, f"gives {min(numbers)} pieces")
    for line in lines:
        if (line.on_engine or 0) > MOST_PIECES:
            yield too_much(f"The engine file gives {line.on_engine} pieces of {line.id}", MOST_PIECES)


def out_of_no_row(
    documents: Documents, joint: str, places: Iterable[EvidencePlace], lines: Iterable[Line]
) -> Iterator[Problem]:
    """A problem for each piece taken out here, nobody says where, of a size that no row or place has."""
    kinds = [line.kind for line in lines if not line.rest_of_list]
    kinds += [place.kind for place in places if place.kind is not None]
    for _, event in standing(documents.job):
        if not isinstance(event, TookOut) or event.joint != joint or event.places or event.line:
            continue
        if event.kind is not None and not any(may_be(event.kind, kind) for kind in kinds):
            yield size_of_no_row(_called(event), event.kind.words())


def _folded(name: str) -> str:
    """A name without case, spaces and leading zeros."""
    return "".join(name.casefold().split()).lstrip("0")


def _strange(documents: Documents, joint: str) -> Iterator[Problem]:
    for field in documents.strange:
        yield strange_field(field, here=field.joint in ("", joint))


def _papers(documents: Documents) -> Iterator[Problem]:
    job, engine = documents.job, documents.engine
    if job is None or engine is None:
        return
    for what, says, other in (
        ("engine", job.engine, engine.id),
        ("variant", job.variant, engine.variant),
    ):
        if says and other and person_key(says) != person_key(other):
            yield wrong_papers(what, says, other)


def _walks(documents: Documents, walks: tuple[Walk, ...], joint: str) -> Iterator[Problem]:
    for walk in documents.walks:
        if walk.joint != joint and _folded(walk.joint) == _folded(joint):
            yield joint_of_no_walk("A walk", walk.joint)
    for walk in walks:
        times = Counter(place.id for place in dict.fromkeys(walk.places))
        yield from (several_of_one_id("places", name) for name, count in times.items() if count > 1)
        for holder in walk.holders:
            if holder.settled and holder.how and not settles(holder.how):
                yield does_not_settle("The walk", holder.name, holder.how)
        for round_ in walk.rounds:
            yield from _asked(f'Round "{round_.id}" of the walk', round_, walks)
            yield from _answers(f'Round "{round_.id}" of the walk', round_.answers)


def _ids(documents: Documents) -> Iterator[Problem]:
    several = ids_of_several(documents.job)
    yield from (several_of_one_id("events", name) for name in several)
    ids = {event.id for event in documents.job.events} if documents.job else set()
    for _, event in vain_undoes(documents.job):
        if event.undoes in ids:
            yield undo_of_later(_called(event), event.undoes)


def _events(documents: Documents, joint: str) -> Iterator[Problem]:
    walked = {walk.joint for walk in documents.walks}
    walks = tuple(walk for walk in documents.walks if walk.joint == joint)
    rows = {row.id for row in documents.machine.rows} if documents.machine else set()
    for _, event in standing(documents.job):
        about = getattr(event, "joint", "")
        if about and about != joint:
            if about not in walked:
                yield joint_of_no_walk(_called(event), about)
            continue
        if isinstance(event, WentRound):
            yield from _asked(_called(event), event.round, walks)
        yield from _says(event, rows)


def _asked(called: str, round_: Round, walks: tuple[Walk, ...]) -> Iterator[Problem]:
    left = left_out_of(round_, walks)
    if round_.complete and left:
        more = f" and {len(left) - MOST_NAMED} more" if len(left) > MOST_NAMED else ""
        yield not_all_asked(called, f"places {', '.join(left[:MOST_NAMED])}{more}")


def _says(event: Event, rows: set[str]) -> Iterator[Problem]:
    called = _called(event)
    if isinstance(event, Looked):
        yield from _answers(called, event.answers)
    elif isinstance(event, WentRound):
        yield from _answers(called, event.round.answers)
        by, other = person_key(event.by), person_key(event.round.by)
        if by and other and by != other:
            yield by_two(called, event.by, event.round.by)
    elif isinstance(event, Counted):
        yield from _count(event, called, rows)
    elif isinstance(event, HolderSettled) and not event.how.strip():
        yield says_nothing(called, f'does not say how holder "{event.holder}" was settled')
    elif isinstance(event, HolderSettled) and not settles(event.how):
        yield does_not_settle(called, event.holder, event.how)
    elif isinstance(event, TookOut | StaysIn):
        if any(not place.strip() for place in event.places):
            yield says_nothing(called, "names a place without an id")
        yield from _taken(event, called)


def _taken(event: TookOut | StaysIn, called: str) -> Iterator[Problem]:
    count = event.count if isinstance(event, TookOut) else None
    if count is not None and count > MOST_PIECES:
        yield too_much(f"{called} takes out {count} pieces", MOST_PIECES)
    if count is not None and count < 1:
        yield says_nothing(called, f"takes out {count} pieces")
    if count is not None and event.places and count != len(event.places):
        yield says_nothing(called, f"takes out {count} pieces at {len(event.places)} places")


def _count(event: Counted, called: str, rows: set[str]) -> Iterator[Problem]:
    if event.kind == Kind() and event.line not in rows:
        yield says_nothing(called, f"counts {event.pieces} pieces of a size it does not say")
    if event.pieces < 0:
        yield says_nothing(called, f"counts {event.pieces} pieces")
    if event.pieces > MOST_PIECES:
        yield too_much(f"{called} counts {event.pieces} pieces", MOST_PIECES)


def _answers(called: str, answers: Iterable[Answer]) -> Iterator[Problem]:
    for answer in answers:
        if not answer.place.strip():
            yield says_nothing(called, "names no place")
        elif not answer.saw:
            yield says_nothing(called, f'does not say what was seen at "{answer.place}"')


def _called(event: Event) -> str:
    return f'Event "{event.id}"'


# ---- one person, one id ------------------------------------------------------------------------------


def people_named(heard: Heard) -> dict[str, str]:
    """Everybody heard, by what tells people apart."""
    return {person_key(by): by for by in heard.people}


def by_people_heard(lines: Iterable[Line], people: dict[str, str]) -> tuple[Line, ...]:
    """The lines with whoever ties or counts them under the id that the same person goes by elsewhere."""
    return tuple(
        replace(
            line,
            tied_by=people.get(person_key(line.tied_by), line.tied_by),
            on_engine_by=people.get(person_key(line.on_engine_by), line.on_engine_by),
        )
        for line in lines
    )
