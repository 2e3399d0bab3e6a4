"""What people wrote beside their answers, where it may speak of something that still holds.

An answer, an event or a note of the walk counts by its fields; its free words count nothing. But "the second
one is still in" must not be passed over. No list holds every way to say so, in any language: so all words are
asked for like any other holder, but those made of harmless ones only, and those behind which somebody went
round the whole joint again. Notes of the walk, which are about the casting, and what is said where a holder
is settled are asked for by what they say.
"""

import re
from collections.abc import Iterator

from msgspec import Struct

from lastbolt.app.gather_documents import Documents
from lastbolt.app.gather_job import WALKED, Heard
from lastbolt.app.holder_words import listed, says
from lastbolt.app.typed_words import PUT_BY
from lastbolt.planning.names import stems
from lastbolt.reading.fasteners import names_fastener
from lastbolt.words.answer import HolderState
from lastbolt.words.job import Event, HolderSettled, Looked, WentRound
from lastbolt.words.joint import Answer, Walk
from lastbolt.words.machine import Machine
from lastbolt.words.standing import standing

LONGEST = 90
_NOT_ALL = re.compile(r"\bonly \d+ of \d+\b", re.IGNORECASE)
_WORD = re.compile(r"[^\W_]+(?:['\u2019][^\W_]+)*")
_PUT_BY = re.compile(rf"\b(?:in|into|on) (?:the )?(?:{'|'.join(PUT_BY)})s?(?: (?:no\.? )?\w{{1,2}})?\b")


class Written(Struct, frozen=True):
    """Free words: an id for them, who wrote them, where and when."""

    id: str
    words: str
    by: str = ""
    where: str = ""
    moment: int = 0


def asked_of_words(documents: Documents, joint: str, heard: Heard) -> tuple[HolderState, ...]:
    """A holder, open until somebody settles it, for all words that may speak of one still in."""
    walks = tuple(walk for walk in documents.walks if walk.joint == joint)
    last_round = max((round_.moment for round_ in heard.rounds), default=None)
    parts = part_words(documents.machine)
    noted = [one for one in _notes(walks) if speaks_of_one_in(one.words)]
    said = [
        one
        for one in (*_of_walks(walks), *_of_job(documents, joint))
        if speaks_of_one_in(one.words)
        or (last_round is not None and one.moment >= last_round and not is_harmless(one.words, parts))
    ]
    taken_back = [one for one in _settling(documents, joint) if says("takes_back", one.words)]
    return tuple(_asked(written, heard) for written in (*noted, *said, *taken_back))


def speaks_of_one_in(words: str) -> bool:
    """Whether free words say that something still holds: "still in", or one more fastener somewhere."""
    if says("still_in", words) or _NOT_ALL.search(words):
        return True
    return says("one_more", words) and names_fastener(words)


def is_harmless(words: str, parts: frozenset[str] = frozenset()) -> bool:
    """Whether free words are made of harmless ones only ("bagged, in tin 2, checked with a lamp").

    `parts`: words by which the sources call parts that are no fasteners.
    """
    if speaks_of_one_in(words):
        return False
    low = _PUT_BY.sub(" ", " ".join(words.casefold().split()))
    told = _WORD.findall(low)
    return all(word in _harmless() or (word.isalpha() and set(stems(word)) <= parts) for word in told)


def _harmless() -> frozenset[str]:
    return frozenset(listed("harmless_words"))


def part_words(machine: Machine | None) -> frozenset[str]:
    """Words by which a model calls its parts; none that a fastener's name has."""
    if machine is None:
        return frozenset()
    names = [row.name for row in machine.rows if row.kind is None]
    names += [part for procedure in machine.procedures for part in procedure.parts]
    return frozenset(
        stem for name in names if not names_fastener(name) for stem in stems(name) if stem.isalpha()
    )


def _notes(walks: tuple[Walk, ...]) -> Iterator[Written]:
    for walk in walks:
        for place in walk.places:
            yield Written(f"note/{place.id}", place.note, "", f"place {place.label or place.id}")


def _of_walks(walks: tuple[Walk, ...]) -> Iterator[Written]:
    for walk in walks:
        for round_ in walk.rounds:
            yield from _of_answers(f"walk/{round_.id}", round_.answers, round_.by, WALKED)


def _of_job(documents: Documents, joint: str) -> Iterator[Written]:
    for number, event in standing(documents.job):
        if getattr(event, "joint", joint) not in ("", joint) or isinstance(event, HolderSettled):
            continue
        moment = WALKED + 1 + number
        yield Written(f"words/{event.id}", event.words, event.by, moment=moment)
        for field, text in _texts_beside(event):
            if speaks_of_one_in(text):
                yield Written(f"words/{event.id}/{field}", text, event.by, moment=moment)
        if isinstance(event, Looked):
            yield from _of_answers(f"words/{event.id}", event.answers, event.by, moment)
        elif isinstance(event, WentRound):
            yield from _of_answers(f"words/{event.id}", event.round.answers, event.by, moment)


def _texts_beside(event: Event) -> Iterator[tuple[str, str]]:
    """Texts of an event that are no remark and may hold one: the part found bad, the cause, the thing."""
    for field in ("part", "cause", "thing", "where", "tray", "reason"):
        text = getattr(event, field, "")
        if isinstance(text, str) and text:
            yield field, text


def _settling(documents: Documents, joint: str) -> Iterator[Written]:
    for _, event in standing(documents.job):
        if isinstance(event, HolderSettled) and event.joint in ("", joint):
            yield Written(f"words/{event.id}", event.words, event.by, event.holder)


def _of_answers(called: str, answers: tuple[Answer, ...], by: str, moment: int) -> Iterator[Written]:
    for answer in answers:
        yield Written(f"{called}/{answer.place}", answer.words, by, f"place {answer.place}", moment)


def _asked(written: Written, heard: Heard) -> HolderState:
    how = heard.settling(written.id)
    at = f" at {written.where}" if written.where else ""
    name = f"what {written.by} wrote{at}" if written.by else f"what is noted{at}"
    short = written.words if len(written.words) <= LONGEST else f"{written.words[:LONGEST].rstrip()} ..."
    return HolderState(written.id, "fastener not counted", name, bool(how), how or f'"{short}" Is it out?')
