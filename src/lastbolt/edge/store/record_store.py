"""Events on disk: an append is durable before it is answered, and answered with many others at once.

One thread writes. While it syncs one commit the next events gather, and go together into the next commit; so
the disk's pace bounds the wait and not the number of devices. What is handed in together is kept together or
not at all.
"""

import queue
import sqlite3
import threading
from collections.abc import Callable, Sequence
from concurrent.futures import Future
from pathlib import Path
from typing import Any, NamedTuple

from lastbolt.edge.store.database import opened, reading
from lastbolt.record.chains import Receipt, Record
from lastbolt.record.exported import export_lines
from lastbolt.record.sealed import NotAnEvent, SealedEvent, read_line
from lastbolt.words.problem import Problem

MOST_TOGETHER = 2_000
MOST_READ = 2_000
_INSERT = "INSERT OR IGNORE INTO events (job, hash, device, sequence, line) VALUES (?, ?, ?, ?, ?)"

Work = Callable[[sqlite3.Connection], Any]


class Numbered(NamedTuple):
    """A line and its number in the store: later ones have higher numbers."""

    number: int
    line: bytes


class Fresh(NamedTuple):
    """An event that was just made durable."""

    number: int
    event: SealedEvent


class _Asked(NamedTuple):
    work: Work
    answer: "Future[Any]"


class RecordStore:
    """The records of all jobs in one file."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self._writing = opened(path)
        self._reading = reading(path)
        self._read_lock = threading.Lock()
        self._asked: queue.SimpleQueue[_Asked | None] = queue.SimpleQueue()
        self._told: list[Callable[[Sequence[Fresh]], None]] = []
        self._fresh: list[Fresh] = []
        self._closed = False
        self._thread = threading.Thread(target=self._write, name="record store", daemon=True)
        self._thread.start()

    def tell(self, listener: Callable[[Sequence[Fresh]], None]) -> None:
        """Call the listener, on the writing thread, after each commit that kept something."""
        self._told.append(listener)

    def append(self, job: str, lines: Sequence[bytes]) -> "Future[tuple[Receipt, ...]]":
        """Keep the events among these lines; done when they are on the disk. One receipt for each line."""
        return self.append_read([_read(job, line) for line in lines])

    def append_read(self, read: Sequence[SealedEvent | Receipt]) -> "Future[tuple[Receipt, ...]]":
        """Keep these events; what was refused before stays so, at its place among the receipts."""

        def work(database: sqlite3.Connection) -> tuple[Receipt, ...]:
            return tuple(one if isinstance(one, Receipt) else self._insert(database, one) for one in read)

        return self.do(work)

    def do(self, work: Work) -> "Future[Any]":
        """Have the writing thread do this within its next commit; done when that is on the disk."""
        answer: Future[Any] = Future()
        if self._closed:
            raise RuntimeError("the store is closed")
        self._asked.put(_Asked(work, answer))
        return answer

    def _insert(self, database: sqlite3.Connection, event: SealedEvent) -> Receipt:
        row = (event.job, event.hash, event.device, event.sequence, event.line)
        done = database.execute(_INSERT, row)
        if done.rowcount < 1:
            return Receipt("known", event.hash)
        self._fresh.append(Fresh(int(done.lastrowid or 0), event))
        return Receipt("kept", event.hash)

    def _write(self) -> None:
        """The writing thread: what was asked since the last commit goes into the next."""
        ending = False
        while not ending:
            together = [self._asked.get()]
            while len(together) < MOST_TOGETHER and not self._asked.empty():
                together.append(self._asked.get())
            ending = None in together
            self._commit([one for one in together if one is not None])

    def _commit(self, together: list[_Asked]) -> None:
        """Do all of it in one commit; where it fails, each alone, so that none spoils the others."""
        try:
            done = self._in_one(together)
        except Exception as error:
            if len(together) == 1:
                together[0].answer.set_exception(error)
                return
            for one in together:
                self._commit([one])
            return
        for one, result in zip(together, done, strict=True):
            one.answer.set_result(result)
        for listener in self._told if self._fresh else ():
            listener(self._fresh)

    def _in_one(self, together: list[_Asked]) -> list[Any]:
        self._fresh = []
        if not together:
            return []
        self._writing.execute("BEGIN IMMEDIATE")
        try:
            done = [one.work(self._writing) for one in together]
            self._writing.execute("COMMIT")
        except BaseException:
            if self._writing.in_transaction:
                self._writing.execute("ROLLBACK")
            raise
        return done

    def read(self, job: str, after: int = 0, most: int = MOST_READ) -> tuple[Numbered, ...]:
        """The lines of a job with numbers above `after`, in the order in which they were kept."""
        rows = self.ask(
            "SELECT number, line FROM events WHERE job = ? AND number > ? ORDER BY number LIMIT ?",
            (job, after, most),
        )
        return tuple(Numbered(number, bytes(line)) for number, line in rows)

    def ask(self, sql: str, values: tuple[Any, ...] = ()) -> list[Any]:
        """The rows of a question to the database."""
        with self._read_lock:
            return self._reading.execute(sql, values).fetchall()

    def last(self, job: str) -> int:
        """The number of a job's last event; 0 when it has none."""
        return int(self.ask("SELECT coalesce(max(number), 0) FROM events WHERE job = ?", (job,))[0][0])

    def record(self, job: str) -> Record:
        """A job's whole record."""
        return brought_on(Record(job), self)[0]

    def export(self, job: str) -> bytes:
        """A job's export file."""
        return b"".join(line + b"\n" for line in export_lines(self.record(job)))

    def close(self) -> None:
        """Finish what was asked, and close the file."""
        if not self._closed:
            self._closed = True
            self._asked.put(None)
            self._thread.join()
            self._writing.close()
            self._reading.close()


def brought_on(record: Record, store: RecordStore, after: int = 0) -> tuple[Record, int]:
    """The record with what the store has beyond this number, and the number it reaches now."""
    while some := store.read(record.job, after):
        for one in some:
            record.receive(one.line)
        after = some[-1].number
    return record, after


def _read(job: str, line: bytes) -> SealedEvent | Receipt:
    try:
        event = read_line(line)
    except NotAnEvent as wrong:
        return Receipt("refused", problem=wrong.problem)
    if event.job == job:
        return event
    what = f'This event is of the job "{event.job}", not of this one.'
    problem = Problem("LB-E21", what, f'job "{job}"', "Send it to its own job.", "stop")
    return Receipt("refused", event.hash, problem)
