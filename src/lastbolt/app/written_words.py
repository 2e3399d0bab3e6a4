"""What people wrote beside their answers, where it speaks of a fastener that may still hold.

An answer, an event or a note of the walk counts by its fields; its free words count nothing. But "the second
one is still in" must not be passed over: such words are asked for like any other holder.
"""

import re
from collections.abc import Iterator

from msgspec import Struct

from lastbolt.app.gather_documents import Documents
from lastbolt.app.gather_job import Heard
from lastbolt.app.holder_words import says
from lastbolt.reading.fasteners import names_fastener
from lastbolt.words.answer import HolderState
from lastbolt.words.job import Looked, WentRound
from lastbolt.words.joint import Answer, Walk
from lastbolt.words.standing import standing

LONGEST = 90
_NOT_ALL = re.compile(r"\bonly \d+ of \d+\b", re.IGNORECASE)


class Written(Struct, frozen=True):
    """Free words: an id for them, who wrote them, where."""

    id: str
    words: str
    by: str = ""
    where: str = ""


def asked_of_words(documents: Documents, joint: str, heard: Heard) -> tuple[HolderState, ...]:
    """A holder, open until somebody settles it, for all words that speak of a fastener still in."""
    walks = tuple(walk for walk in documents.walks if walk.joint == joint)
    return tuple(
        _asked(written, heard)
        for written in (*_of_walks(walks), *_of_job(documents, joint))
        if speaks_of_one_in(written.words)
    )


def speaks_of_one_in(words: str) -> bool:
    """Whether free words may say that something still holds: "still in", or one more fastener somewhere."""
    if says("still_in", words) or _NOT_ALL.search(words):
        return True
    return says("one_more", words) and names_fastener(words)


def _of_walks(walks: tuple[Walk, ...]) -> Iterator[Written]:
    for walk in walks:
        for place in walk.places:
            yield Written(f"note/{place.id}", place.note, "", f"place {place.label or place.id}")
        for round_ in walk.rounds:
            yield from _of_answers(f"walk/{round_.id}", round_.answers, round_.by)


def _of_job(documents: Documents, joint: str) -> Iterator[Written]:
    for _, event in standing(documents.job):
        if getattr(event, "joint", joint) not in ("", joint):
            continue
        yield Written(f"words/{event.id}", event.words, event.by)
        if isinstance(event, Looked):
            yield from _of_answers(f"words/{event.id}", event.answers, event.by)
        elif isinstance(event, WentRound):
            yield from _of_answers(f"words/{event.id}", event.round.answers, event.by)


def _of_answers(called: str, answers: tuple[Answer, ...], by: str) -> Iterator[Written]:
    for answer in answers:
        yield Written(f"{called}/{answer.place}", answer.words, by, f"place {answer.place}")


def _asked(written: Written, heard: Heard) -> HolderState:
    how = heard.settling(written.id)
    at = f" at {written.where}" if written.where else ""
    name = f"what {written.by} wrote{at}" if written.by else f"what is noted{at}"
    short = written.words if len(written.words) <= LONGEST else f"{written.words[:LONGEST].rstrip()} ..."
    return HolderState(written.id, "fastener not counted", name, bool(how), how or f'"{short}" Is it out?')
