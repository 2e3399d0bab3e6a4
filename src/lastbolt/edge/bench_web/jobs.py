"""The jobs of a class as they stand: records kept up to date, and what the server itself writes in them."""

import secrets
import sqlite3
import threading
from collections.abc import Callable
from typing import Any, NamedTuple

import msgspec

from lastbolt.app.record_doubt import doubts
from lastbolt.app.record_job import as_job
from lastbolt.edge.bench_web.pictures import Pictures
from lastbolt.edge.store.record_store import RecordStore, brought_on
from lastbolt.record.chains import Record
from lastbolt.record.holds import holds_of
from lastbolt.record.kinds import KIND_OF, subjects_of
from lastbolt.record.observed import counts
from lastbolt.record.registers import place_of, places_acted_on, registers
from lastbolt.record.sealed import MOST_HEADS, Unsealed, seal
from lastbolt.record.signatures import hold_state
from lastbolt.words.answer import Answer
from lastbolt.words.job import Job
from lastbolt.words.joint import Walk
from lastbolt.words.plan import Plan

MOST_VIEWS = 64
"""So many states of what came late are weighed for a signature; beyond, it lapses and is given afresh."""
NO_TALLY = "not shown"
HOLDERS_OPEN = "other holders open"


class Papers(NamedTuple):
    """What is known of the machine beside the record: how a job is planned and tallied."""

    plan: Callable[[Job], Plan | None]
    tally: Callable[[Job], Answer | None]
    walks: tuple[Walk, ...] = ()
    pictures: Pictures | None = None


class _Live:
    """One job's record as far as it was read, and what was computed from it."""

    def __init__(self, job: str) -> None:
        self.record, self.number = Record(job), 0
        self.lock = threading.RLock()
        self.made: dict[str, tuple[int, Any]] = {}
        self.verdicts: dict[frozenset[str], str] = {}


class Jobs:
    """All jobs of the store."""

    def __init__(self, store: RecordStore, papers: Papers) -> None:
        self.store, self.papers = store, papers
        self._live: dict[str, _Live] = {}
        self._lock = threading.Lock()
        self.device = self._own_device()

    def _own_device(self) -> str:
        fresh = f"s{secrets.token_hex(12)}"

        def work(database: sqlite3.Connection) -> None:
            database.execute("INSERT OR IGNORE INTO own VALUES ('device', ?)", (fresh,))

        self.store.do(work).result()
        return str(self.store.ask("SELECT value FROM own WHERE name = 'device'")[0][0])

    def ids(self) -> tuple[str, ...]:
        """The jobs that there are."""
        return tuple(row[0] for row in self.store.ask("SELECT DISTINCT job FROM events ORDER BY job"))

    def has(self, job: str) -> bool:
        """Whether there is such a job."""
        return bool(self.store.ask("SELECT 1 FROM events WHERE job = ? LIMIT 1", (job,)))

    def open_job(self, **about: str) -> str:
        """Begin a job; its id."""
        job = f"j{secrets.token_hex(6)}"
        self.write(job, {"event": "opened", **about})
        return job

    def goal(self, job: str) -> str:
        """What the job is for."""
        live = self._at(job)
        with live.lock:
            return as_job(live.record).job.goal

    def _at(self, job: str) -> _Live:
        with self._lock:
            live = self._live.setdefault(job, _Live(job))
        with live.lock:
            live.record, live.number = brought_on(live.record, self.store, live.number)
        return live

    def write(self, job: str, body: dict[str, Any]) -> None:
        """Have the server's own device write an event."""
        live = self._at(job)
        with live.lock:
            self._at(job)
            own = [one for one in live.record.present if one.device == self.device]
            last = max(own, key=lambda one: one.sequence, default=None)
            heads = tuple(name for name in live.record.heads if last is None or name != last.hash)
            line = seal(
                Unsealed(
                    device=self.device, job=job, kind=KIND_OF[body["event"]], subjects=subjects_of(body),
                    body=body, by=self.device, heads=heads[:MOST_HEADS],
                    sequence=last.sequence + 1 if last else 1, previous=last.hash if last else "",
                )
            )  # fmt: skip
            receipt = self.store.append(job, [line]).result()[0]
            assert receipt.status == "kept", receipt

    def joined(self, job: str, person: str, role: str, device: str) -> None:
        """Write that somebody joined, once."""
        live = self._at(job)
        with live.lock:
            known = any(
                one.tag == "joined" and one.body["person"] == person and one.body["device"] == device
                for one in live.record.present
            )
            if not known:
                body = {"event": "joined", "person": person, "role": role, "device": device}
                self.write(job, body)

    def state(self, job: str) -> dict[str, Any]:
        """What the record of a job comes to."""
        return dict(self._once(job, "state", self._state))

    def plan(self, job: str) -> dict[str, Any]:
        """The plan of a job as it stands, the walks, and the tally."""
        return dict(self._once(job, "plan", self._plan))

    def _once(self, job: str, name: str, make: Callable[[_Live], Any]) -> Any:
        """What was made of the record as it is now, made at most once."""
        live = self._at(job)
        with live.lock:
            if name not in live.made or live.made[name][0] != live.number:
                live.made[name] = (live.number, msgspec.to_builtins(make(live)))
            return live.made[name][1]

    def _state(self, live: _Live) -> dict[str, Any]:
        record = live.record
        found = [*registers(record).values()]
        places = [place_of(record, *one) for one in places_acted_on(record)]
        other = [one for one in found if one.subject.sort != "place"]
        return {
            "job": record.job,
            "next": live.number,
            "heads": record.heads,
            "forks": record.forks,
            "faults": record.faults,
            "waiting": [{"hash": one.event.hash, "missing": one.missing} for one in record.waiting],
            "registers": [*places, *other],
            "conflicts": [one.subject for one in (*places, *other) if one.conflict],
            "doubts": doubts(record, "in"),
            "counts": counts(record),
            "holds": [
                hold_state(record, hold, lambda view: self._verdict(live, view), MOST_VIEWS)
                for hold in holds_of(record)
            ],
            "problems": as_job(record).problems,
            "devices": _devices(record),
        }

    def _verdict(self, live: _Live, view: Record) -> str:
        """The tally's verdict on a view; worked out once for the same evidence."""
        said = frozenset(one.hash for one in view.present if one.kind != "decision")
        if said not in live.verdicts:
            answer = self.papers.tally(as_job(view).job)
            live.verdicts[said] = verdict_word(answer)
        return live.verdicts[said]

    def _plan(self, live: _Live) -> dict[str, Any]:
        job = as_job(live.record).job
        tally = self.papers.tally(job)
        plan = self.papers.plan(job)
        pictures = self.papers.pictures.of(plan) if self.papers.pictures else {}
        return {"plan": plan, "walks": self.papers.walks, "tally": tally, "pictures": pictures}

    def picture(self, job: str, key: str) -> bytes | None:
        """A piece of a source's page that the plan of a job cites."""
        pictures = self.papers.pictures
        if pictures is None:
            return None
        if not pictures.cited(key):  # as after the server was started anew
            self.plan(job)
        return pictures.png(key)


def verdict_word(answer: Answer | None) -> str:
    """The verdict as a signature must carry it: "free" only when every other holder is settled as well."""
    if answer is None:
        return NO_TALLY
    return HOLDERS_OPEN if answer.verdict == "free" and not answer.clear_to_part else answer.verdict


def _devices(record: Record) -> list[dict[str, Any]]:
    """Each device of the job: who joined with it, and how many events it has sent."""
    found: dict[str, dict[str, Any]] = {}
    for event in record.all_events():
        own = found.setdefault(event.device, {"device": event.device, "person": "", "role": "", "last": 0})
        own["last"] = max(own["last"], event.sequence)
        if event.tag == "joined":
            body = event.body
            known = found.setdefault(body["device"], {"device": body["device"], "last": 0})
            known.update(person=body["person"], role=body["role"])
    return list(found.values())
