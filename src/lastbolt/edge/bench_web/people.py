"""Who may come in: short codes on the benches' sheets, and a token for each device that used one.

A token is kept only as its hash. Names stand in a table of their own, so that they can be erased.
"""

import hashlib
import re
import secrets
import sqlite3
from typing import NamedTuple

from lastbolt.edge.plain_text import plain
from lastbolt.edge.store.record_store import RecordStore
from lastbolt.words.problem import Problem, Refusal

LETTERS = "23456789ABCDEFGHJKMNPQRSTUVWXYZ"
"""None that is taken for another when read from a sheet."""
BENCH_CODE, ROLE_CODE = 6, 16
LONGEST_NAME = 60
EVERY_JOB = ""
_DEVICE = re.compile(r"[A-Za-z0-9_-]{8,64}\Z")


class Ticket(NamedTuple):
    """What a token lets its holder do; `job` empty: in every job."""

    job: str
    device: str
    person: str
    role: str

    def reaches(self, job: str) -> bool:
        """Whether it is good for this job."""
        return self.job in (EVERY_JOB, job)


class People:
    """The codes, tokens and names of one store."""

    def __init__(self, store: RecordStore) -> None:
        self._store = store
        self._known: dict[str, Ticket] = {}

    def code_of(self, job: str, role: str) -> str:
        """The code for this job (or for every one) in this role; made when there is none."""
        rows = self._store.ask("SELECT code FROM codes WHERE job = ? AND role = ?", (job, role))
        return str(rows[0][0]) if rows else self.new_code(job, role)

    def new_code(self, job: str, role: str) -> str:
        """A fresh code; one that was there for the same is good no more."""
        length = BENCH_CODE if role == "trainee" else ROLE_CODE
        code = "".join(secrets.choice(LETTERS) for _ in range(length))

        def work(database: sqlite3.Connection) -> None:
            database.execute("DELETE FROM codes WHERE job = ? AND role = ?", (job, role))
            database.execute("INSERT INTO codes VALUES (?, ?, ?)", (code, job, role))

        self._store.do(work).result()
        return code

    def meant(self, code: str) -> tuple[str, str] | None:
        """The job and role of a code as typed; None when there is no such code."""
        typed = re.sub(r"[\s-]", "", code).upper()
        rows = self._store.ask("SELECT job, role FROM codes WHERE code = ?", (typed,))
        return (str(rows[0][0]), str(rows[0][1])) if rows else None

    def admit(self, job: str, role: str, device: str, name: str) -> tuple[str, Ticket]:
        """A token for a device, and what it lets it do.

        Raises:
            Refusal: the device's id or the name is none.
        """
        called = " ".join(plain(name).split())
        if not _DEVICE.match(device) or not 1 <= len(called) <= LONGEST_NAME:
            what = f"A name of 1 to {LONGEST_NAME} letters and a device's own id are needed."
            raise Refusal(Problem("LB-E60", what, "joining", "Type your name, and join again.", "stop"))
        token = secrets.token_urlsafe(24)
        ticket = Ticket(job, device, f"p{secrets.token_hex(8)}", role)

        def work(database: sqlite3.Connection) -> None:
            database.execute("INSERT INTO devices VALUES (?, ?, ?, ?, ?)", (_hashed(token), *ticket))
            database.execute("INSERT INTO people VALUES (?, ?)", (ticket.person, called))

        self._store.do(work).result()
        return token, ticket

    def ticket(self, token: str) -> Ticket | None:
        """What a token lets its holder do; None when nobody has it."""
        name = _hashed(token)
        if name not in self._known:
            rows = self._store.ask("SELECT job, device, person, role FROM devices WHERE token = ?", (name,))
            if not rows:
                return None
            self._known[name] = Ticket(*rows[0])
        return self._known[name]

    def names(self) -> dict[str, str]:
        """The names of people by their ids."""
        return dict(self._store.ask("SELECT person, name FROM people"))

    def devices(self, job: str) -> tuple[Ticket, ...]:
        """The devices that joined a job."""
        rows = self._store.ask(
            "SELECT job, device, person, role FROM devices WHERE job = ? ORDER BY rowid", (job,)
        )
        return tuple(Ticket(*row) for row in rows)


def _hashed(token: str) -> str:
    return hashlib.sha256(token.encode()).hexdigest()
