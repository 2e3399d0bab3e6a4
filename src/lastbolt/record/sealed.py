"""A sealed event: one line of bytes whose SHA-256 is its id. The bytes are kept, never written anew."""

import hashlib
import json
import re
from typing import Any

import msgspec
from msgspec import Struct

from lastbolt.record.bodies import fits
from lastbolt.record.kinds import KIND_OF, EventKind, Subject, subjects_of
from lastbolt.words.problem import Problem

Hash = str

MOST_LINE = 16_384
MOST_HEADS = MOST_SUBJECTS = 64
_NAME = re.compile(r"[A-Za-z0-9_-]{1,64}\Z")
_HASH = re.compile(r"[0-9a-f]{64}\Z")
_SORT = re.compile(r"[a-z][a-z ]{0,39}\Z")
_MOST_ID, _MOST_TIME, _MOST_SEQUENCE = 200, 40, 1 << 40


class Unsealed(Struct, frozen=True, kw_only=True):
    """The fields of an event before it is a line."""

    device: str
    sequence: int
    previous: str = ""
    heads: tuple[str, ...] = ()
    job: str
    kind: EventKind
    subjects: tuple[Subject, ...] = ()
    body: dict[str, Any]
    time: str = ""
    by: str


class SealedEvent(Struct, frozen=True, kw_only=True, eq=False):
    """An event as it was received."""

    hash: Hash
    device: str
    sequence: int
    previous: str
    heads: tuple[Hash, ...]
    job: str
    kind: EventKind
    subjects: tuple[Subject, ...]
    body: dict[str, Any]
    time: str
    by: str
    line: bytes

    @property
    def tag(self) -> str:
        """Which event it is: "took out"."""
        return str(self.body["event"])

    @property
    def named(self) -> tuple[Hash, ...]:
        """The events that it names as before it."""
        return (self.previous, *self.heads) if self.previous else self.heads


class NotAnEvent(Exception):
    """The line is no event; carries the problem to show."""

    def __init__(self, problem: Problem) -> None:
        super().__init__(problem.what)
        self.problem = problem


class _Received(Struct, frozen=True, kw_only=True):
    device: str
    sequence: int
    previous: str
    heads: tuple[str, ...]
    job: str
    kind: str
    subjects: tuple[Subject, ...]
    body: dict[str, Any]
    time: str
    by: str


_decode = msgspec.json.Decoder(_Received).decode
_encode = msgspec.json.Encoder().encode


def hash_of(line: bytes) -> Hash:
    """The id of the event that these bytes are."""
    return hashlib.sha256(line).hexdigest()


def seal(fields: Unsealed) -> bytes:
    """The line of an event that a program of ours makes."""
    return _encode(fields)


def read_line(line: bytes) -> SealedEvent:
    """The event that these bytes are.

    Raises:
        NotAnEvent: they are none; with what is wrong.
    """
    if wrong := _wrong_bytes(line):
        raise _not(wrong, line)
    try:
        got = _decode(line)
        json.loads(line, object_pairs_hook=_once, parse_int=str, parse_float=str)
    except (msgspec.DecodeError, ValueError, RecursionError) as error:
        raise _not(f"it is not the JSON of an event ({error})", line) from None
    if wrong := _wrong_names(got) or _wrong_links(got) or _wrong_subjects(got) or _wrong_body(got):
        raise _not(wrong, line)
    return SealedEvent(
        hash=hash_of(line), device=got.device, sequence=got.sequence, previous=got.previous, heads=got.heads,
        job=got.job, kind=KIND_OF[got.body["event"]], subjects=got.subjects, body=got.body, time=got.time,
        by=got.by, line=line,
    )  # fmt: skip


def _not(wrong: str, line: bytes) -> NotAnEvent:
    began = line[:60].decode("utf-8", "replace")
    what = f"This line is no event: {wrong}."
    do = (
        "Send it again as the device wrote it; if it was changed on the way, what it said must be said again."
    )
    return NotAnEvent(Problem("LB-E20", what, began, do, "stop"))


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    """The object, if no field stands twice: which of the two was meant nobody can say."""
    made = dict(pairs)
    if len(made) < len(pairs):
        raise ValueError("a field stands twice")
    return made


def _wrong_bytes(line: bytes) -> str:
    if len(line) > MOST_LINE:
        return f"it has more than {MOST_LINE} bytes"
    if b"\n" in line or b"\r" in line:
        return "it is more than one line"
    try:
        line.decode()
    except UnicodeDecodeError:
        return "it is not UTF-8"
    return ""


def _wrong_names(got: _Received) -> str:
    for field in ("device", "job", "by"):
        if not _NAME.match(getattr(got, field)):
            return f"its {field} is not 1 to 64 letters, digits, - and _"
    if len(got.time) > _MOST_TIME:
        return "its time is too long"
    return ""


def _wrong_links(got: _Received) -> str:
    if not 1 <= got.sequence < _MOST_SEQUENCE:
        return "its sequence does not count from 1"
    if (got.previous == "") != (got.sequence == 1):
        return "only the first event of a device has no previous one"
    named = (got.previous, *got.heads) if got.previous else got.heads
    if len(got.heads) > MOST_HEADS or len(set(named)) < len(named):
        return f"its heads are more than {MOST_HEADS}, or one stands twice"
    if not all(map(_HASH.match, named)):
        return "what it names as before it is no SHA-256"
    return ""


def _wrong_subjects(got: _Received) -> str:
    if len(got.subjects) > MOST_SUBJECTS:
        return f"it speaks of more than {MOST_SUBJECTS} things"
    for one in got.subjects:
        if not _SORT.match(one.sort) or not 1 <= len(one.id) <= _MOST_ID or len(one.joint) > _MOST_ID:
            return "one of its subjects has no right sort or id"
        if not 0 <= one.occupancy < _MOST_SEQUENCE:
            return "an occupancy does not count from 1"
    return ""


def _wrong_body(got: _Received) -> str:
    tag = got.body.get("event")
    kind = KIND_OF.get(tag) if isinstance(tag, str) else None
    if kind is None:
        return "what happened (body, event) is none of the known words"
    if kind != got.kind:
        return f'"{tag}" is of the kind {kind}'
    if wrong := fits(got.body):
        return wrong
    said = {subject.bare() for subject in got.subjects}
    lacking = [one for one in subjects_of(got.body) if one not in said]
    if lacking:
        return f'its subjects lack {lacking[0].sort} "{lacking[0].id}", of which its body speaks'
    return ""
