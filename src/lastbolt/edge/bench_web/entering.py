"""Joining: a code from the bench's sheet and a name; the instructor's and the shop's codes besides."""

from typing import Any

import msgspec
from msgspec import Struct

from lastbolt.edge.bench_web.asked import turned
from lastbolt.edge.bench_web.jobs import Jobs
from lastbolt.edge.bench_web.limits import OF_JOINING, Limits
from lastbolt.edge.bench_web.people import EVERY_JOB, People

OWN_MACHINE = ("127.0.0.1", "::1")
BETWEEN = "+"
"""Between the code of a bench and the code of a role: "K7Q4XM+…"."""


class Wish(Struct):
    """What is sent to join."""

    code: str
    device: str
    name: str


class Entering:
    """Lets devices in."""

    def __init__(self, jobs: Jobs, people: People, *, secure: bool) -> None:
        self._jobs, self._people, self._secure = jobs, people, secure
        self._limits = Limits(OF_JOINING)

    def join(self, body: bytes, host: str) -> dict[str, Any]:
        """A token for the device, and what it joined as.

        Raises:
            Turned: no such code, asked too often, or an instructor where others can read along.
        """
        if not self._limits.take(host):
            raise turned(429, "LB-E64", "Too many tries from this address.", "Wait a minute, and join again.")
        try:
            wish = msgspec.json.decode(body, type=Wish)
        except (msgspec.DecodeError, RecursionError):
            raise turned(400, "LB-E65", "This cannot be understood.", "Load the page again.") from None
        job, role = self._meant(wish.code)
        if role == "instructor" and not self._secure and host not in OWN_MACHINE:
            what = "An instructor joins from this machine, or where the address begins with https."
            do = "Serve with --cert and --key (docs/record.md says how), or sign on the server's own machine."
            raise turned(403, "LB-E66", what, do)
        token, ticket = self._people.admit(job, role, wish.device, wish.name)
        if job != EVERY_JOB:
            self._jobs.joined(job, ticket.person, role, ticket.device)
        return {
            "token": token, "person": ticket.person, "role": role, "job": job, "device": ticket.device,
            "server_device": self._jobs.device,
        }  # fmt: skip

    def _meant(self, typed: str) -> tuple[str, str]:
        """The job and role of a code, or of a bench's code and a role's code together."""
        bench, _, role = typed.partition(BETWEEN)
        first = self._people.meant(bench)
        second = self._people.meant(role) if role else first
        if first is None or second is None or (role and second[0] != EVERY_JOB):
            raise turned(403, "LB-E60", "There is no such code.", "Read it again from the bench's sheet.")
        return (first[0] if first[0] != EVERY_JOB else second[0]), second[1]

    def listed(self) -> list[dict[str, Any]]:
        """Every job with its goal, its bench's code and its devices."""
        found = []
        for job in self._jobs.ids():
            state = self._jobs.state(job)
            goal = self._jobs.goal(job)
            code = self._people.code_of(job, "trainee")
            found.append({"job": job, "goal": goal, "code": code, "next": state["next"],
                          "devices": state["devices"]})  # fmt: skip
        return found
