"""What one request asks for and by whom; and how a refusal is said."""

from typing import Any

import msgspec
from starlette.requests import Request
from starlette.responses import Response

from lastbolt.edge.bench_web.jobs import Jobs
from lastbolt.edge.bench_web.limits import Limits
from lastbolt.edge.bench_web.people import People, Ticket
from lastbolt.words.problem import Problem

_encode = msgspec.json.Encoder().encode


class Turned(Exception):
    """A request that is turned away: with its status and a problem to show."""

    def __init__(self, status: int, problem: Problem) -> None:
        super().__init__(problem.what)
        self.status, self.problem = status, problem


def turned(status: int, code: str, what: str, do: str, where: str = "lastbolt serve") -> Turned:
    """The exception to raise."""
    return Turned(status, Problem(code, what, where, do, "stop"))


def answered(value: Any, status: int = 200) -> Response:
    """A value as JSON."""
    return Response(_encode(value), status, {"cache-control": "no-store"}, "application/json")


async def say_turned(_: Request, error: Exception) -> Response:
    """The one shape of every refusal."""
    assert isinstance(error, Turned)
    made = answered({"problem": error.problem}, error.status)
    if error.status == 429:
        made.headers["retry-after"] = "5"
    return made


def ticket_of(request: Request, people: People, limits: Limits) -> Ticket:
    """Who asks.

    Raises:
        Turned: the token is none, or asks too often.
    """
    kind, _, token = request.headers.get("authorization", "").partition(" ")
    if kind.lower() != "bearer":
        token = request.query_params.get("token", "")
    found = people.ticket(token) if token and len(token) < 100 else None
    if found is None:
        raise turned(401, "LB-E61", "This device has not joined.", "Join with the code of the bench.")
    if not limits.take(token):
        raise turned(429, "LB-E64", "Too many requests.", "Wait a few seconds; nothing is lost.")
    return found


def job_of(request: Request, ticket: Ticket, jobs: Jobs) -> str:
    """The job that is asked for.

    Raises:
        Turned: it is another bench's, or there is none.
    """
    job = str(request.path_params["job"])
    if not ticket.reaches(job):
        what = "This device joined another bench."
        raise turned(403, "LB-E62", what, "Join here with this bench's code.", f"job {job[:64]}")
    if not jobs.has(job):
        raise turned(404, "LB-E63", "There is no such job.", "Join again.", f"job {job[:64]}")
    return job


def number_of(request: Request) -> int:
    """From which number on: `after`, or where a stream stopped."""
    asked = request.query_params.get("after") or request.headers.get("last-event-id") or "0"
    if not asked.isascii() or not asked.isdigit() or len(asked) > 15:
        raise turned(400, "LB-E65", '"after" is a number.', "Load the page again.")
    return int(asked)


def instructor_only(ticket: Ticket) -> None:
    """Let nobody else pass.

    Raises:
        Turned: it is somebody else.
    """
    if ticket.role != "instructor":
        what = f"This is the instructor's, and not for the role {ticket.role}."
        raise turned(403, "LB-E62", what, "Ask the instructor.")
