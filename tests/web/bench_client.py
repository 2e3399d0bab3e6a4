"""A class's server on a free port, and browsers' requests to it, for tests."""

import http.client
import json
import re
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, NamedTuple

import msgspec

from bench_devices import Device
from lastbolt.app.gather import gather
from lastbolt.app.gather_documents import Documents
from lastbolt.app.tally_joint import tally_joint
from lastbolt.edge.bench_web.jobs import Jobs, Papers
from lastbolt.edge.bench_web.routes import Room, room_of
from lastbolt.edge.bench_web.serving import LOOPBACK, Place, serve
from lastbolt.edge.store.record_store import RecordStore
from lastbolt.words.answer import Answer
from lastbolt.words.job import Job
from lastbolt.words.joint import JointPlace, Walk
from lastbolt.words.quantity import Kind

M6 = {"what": "screw", "thread": "M6", "length_mm": 45.0}
PLACES = ("p1", "p2", "p3")
WALK = Walk(
    "lastbolt.walk/1", "case", "case",
    places=tuple(JointPlace(place, place, kind=Kind("screw", "M6", 45.0)) for place in PLACES),
)  # fmt: skip


def tallied(job: Job) -> Answer:
    """The tally of the small joint."""
    gathered = gather(Documents(walks=(WALK,), job=job), "case")
    return tally_joint(gathered.evidence, msgspec.structs.replace(gathered.beside, holders_asked=True))


class Reply(NamedTuple):
    """What the server answered."""

    status: int
    headers: dict[str, str]
    body: bytes

    @property
    def json(self) -> Any:
        """The body as values."""
        return json.loads(self.body)

    @property
    def code(self) -> str:
        """The code of the problem that it says."""
        return str(self.json["problem"]["code"])


class Bench(NamedTuple):
    """A running server with one job."""

    port: int
    room: Room
    job: str
    store: RecordStore

    def ask(self, method: str, path: str, body: bytes | None = None, **headers: str) -> Reply:
        """One request."""
        link = http.client.HTTPConnection(LOOPBACK, self.port, timeout=20)
        named = {name.replace("_", "-"): value for name, value in headers.items()}
        link.request(method, path, body, named)
        got = link.getresponse()
        reply = Reply(got.status, {k.lower(): v for k, v in got.getheaders()}, got.read())
        link.close()
        return reply

    def code(self, role: str = "trainee") -> str:
        """The code for this job in a role."""
        own = self.room.people.code_of(self.job, "trainee")
        return own if role == "trainee" else f"{own}+{self.room.people.code_of('', role)}"

    def join(self, name: str, role: str = "trainee", code: str = "") -> "Joined":
        """A device that has joined, with all that the job has so far."""
        wish = {
            "code": code or self.code(role),
            "device": f"device-{re.sub(r'[^A-Za-z]', '', name)}",
            "name": name,
        }
        told = self.ask("POST", "/api/join", json.dumps(wish).encode()).json
        device = Device(told["device"], told["person"], self.job)
        joined = Joined(self, device, told["token"])
        joined.fetch()
        return joined


class Joined(NamedTuple):
    """A device that joined."""

    bench: Bench
    device: Device
    token: str

    def ask(self, method: str, path: str, body: bytes | None = None, **headers: str) -> Reply:
        """A request with its token, about its job."""
        path = f"/api/jobs/{self.bench.job}/{path}" if not path.startswith("/") else path
        return self.bench.ask(method, path, body, authorization=f"Bearer {self.token}", **headers)

    def send(self, *lines: bytes) -> Reply:
        """Send these lines, or all that the device wrote."""
        return self.ask("POST", "events", b"".join(line + b"\n" for line in lines or self.device.lines))

    def fetch(self) -> None:
        """Get what others wrote."""
        for line in self.ask("GET", "events").body.splitlines():
            self.device.record.receive(line)

    def state(self) -> Any:
        """The state of the job."""
        return self.ask("GET", "state").json


@contextmanager
def served(path: Path) -> Iterator[Bench]:
    """A server of one job with a hold before its force step."""
    store = RecordStore(path)
    jobs = Jobs(store, Papers(lambda job: None, tallied, (WALK,)))
    job = jobs.open_job(goal="split the case")
    hold = {"hold": "h", "step": "pull", "joint": "case", "role": "instructor", "wants": "free"}
    jobs.write(job, {"event": "hold set", **hold})
    made = serve(room_of(jobs, secure=False), Place(LOOPBACK, 0))
    thread = threading.Thread(target=made.run)
    thread.start()
    while not made.server.started:
        time.sleep(0.01)
    try:
        yield Bench(made.listening.getsockname()[1], made.room, job, store)
    finally:
        made.server.should_exit = True
        thread.join(20)
        made.listening.close()
        store.close()
