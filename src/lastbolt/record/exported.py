"""A whole record as lines: one that says what follows, and then every event as it was received."""

from collections.abc import Iterable, Iterator

import msgspec
from msgspec import Struct

from lastbolt.record.chains import Record
from lastbolt.record.sealed import Hash
from lastbolt.words.problem import Problem, Refusal

RECORD_SCHEMA = "lastbolt.record/1"
MOST_EVENTS = 200_000
MOST_BYTES = 64 << 20


class RecordHead(Struct, frozen=True, kw_only=True):
    """The first line of an exported record."""

    schema: str
    job: str
    events: int
    heads: tuple[Hash, ...]


def export_lines(record: Record) -> Iterator[bytes]:
    """The lines of the export, without their line ends: the head, then each event after its past."""
    head = RecordHead(schema=RECORD_SCHEMA, job=record.job, events=len(record), heads=record.heads)
    yield msgspec.json.encode(head)
    yield from (event.line for event in record.all_events())


def read_head(lines: tuple[bytes, ...], where: str) -> RecordHead:
    """What the first line says.

    Raises:
        Refusal: this is no exported record, one of another version, or more than anybody wrote.
    """
    try:
        head = msgspec.json.decode(lines[0] if lines else b"", type=RecordHead)
    except (msgspec.DecodeError, RecursionError):
        what = f'This is no exported record: its first line does not say "{RECORD_SCHEMA}".'
        raise Refusal(Problem("LB-E30", what, where, "Give the file that was exported.", "stop")) from None
    if head.schema != RECORD_SCHEMA:
        what = f'Its first line says "{head.schema}"; an exported record says "{RECORD_SCHEMA}".'
        raise Refusal(Problem("LB-E30", what, where, "Give the file that was exported.", "stop"))
    if len(lines) > MOST_EVENTS + 1:
        what = f"The file has more than {MOST_EVENTS:,} events, which no job has."
        raise Refusal(Problem("LB-E30", what, where, "Give the file that was exported.", "stop"))
    return head


def lines_of(raw: bytes) -> tuple[bytes, ...]:
    """The lines of a file; what is empty at its end is none."""
    lines = raw.split(b"\n")
    while lines and not lines[-1]:
        lines.pop()
    return tuple(lines)


def read_record(lines: Iterable[bytes], where: str) -> tuple[Record, tuple[Problem, ...]]:
    """The record in an export, and what of its lines is no event of it.

    Raises:
        Refusal: it is no export.
    """
    given = tuple(lines)
    head = read_head(given, where)
    record = Record(head.job)
    wrong = (record.receive(line).problem for line in given[1:])
    return record, tuple(problem for problem in wrong if problem)
