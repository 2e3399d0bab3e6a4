"""What is new, as server-sent events: a stream that broke off starts again where it stopped."""

import asyncio
from collections.abc import AsyncIterator, Sequence

import msgspec
from starlette.concurrency import run_in_threadpool

from lastbolt.edge.store.record_store import Fresh, RecordStore

ALIVE_S = 15.0
MOST_STREAMS = 400
EVERY_JOB = ""


class Streams:
    """Wakes those who listen, on the server's own loop."""

    def __init__(self, store: RecordStore) -> None:
        self._store = store
        self._loop: asyncio.AbstractEventLoop | None = None
        self._waiting: dict[str, set[asyncio.Event]] = {}
        self._ended = False
        store.tell(self._fresh)

    def _fresh(self, fresh: Sequence[Fresh]) -> None:
        """On the writing thread: hand over to the loop, if anybody ever listened."""
        if self._loop is not None and not self._loop.is_closed():
            jobs = {one.event.job for one in fresh}
            self._loop.call_soon_threadsafe(self._wake, jobs)

    def _wake(self, jobs: set[str]) -> None:
        for job in (*jobs, EVERY_JOB):
            for event in self._waiting.get(job, ()):
                event.set()

    def end(self) -> None:
        """Let every stream end."""
        self._ended = True
        for events in self._waiting.values():
            for event in events:
                event.set()

    @property
    def full(self) -> bool:
        """Whether no more can listen."""
        return sum(map(len, self._waiting.values())) >= MOST_STREAMS

    async def lines(self, job: str, after: int) -> AsyncIterator[bytes]:
        """The lines of a job beyond a number, and then those that come."""
        async for _ in self._turns(job):
            while some := await run_in_threadpool(self._store.read, job, after):
                for one in some:
                    yield b"id: %d\ndata: %b\n\n" % one
                after = some[-1].number
            if not some:
                yield b": here\n\n"

    async def news(self, after: int) -> AsyncIterator[bytes]:
        """For every event of any job beyond a number: its job, number and hash."""
        sql = "SELECT job, number, hash FROM events WHERE number > ? ORDER BY number LIMIT 1000"
        async for _ in self._turns(EVERY_JOB):
            while rows := await run_in_threadpool(self._store.ask, sql, (after,)):
                for job, number, name in rows:
                    said = msgspec.json.encode({"job": job, "number": number, "hash": name})
                    yield b"id: %d\ndata: %b\n\n" % (number, said)
                after = rows[-1][1]
            if not rows:
                yield b": here\n\n"

    async def _turns(self, job: str) -> AsyncIterator[None]:
        """One turn at once, one for each news of the job, and one now and then so that a dead line shows."""
        self._loop = asyncio.get_running_loop()
        event = asyncio.Event()
        self._waiting.setdefault(job, set()).add(event)
        try:
            while not self._ended:
                event.clear()
                yield None
                try:
                    await asyncio.wait_for(event.wait(), ALIVE_S)
                except TimeoutError:
                    continue
        finally:
            self._waiting[job].discard(event)
