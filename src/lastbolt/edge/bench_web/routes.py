"""The addresses of the bench's server, as docs/record.md gives them."""

import asyncio
from collections.abc import Awaitable, Callable
from functools import cache
from importlib.resources import files
from typing import Any, NamedTuple

import msgspec
from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.requests import ClientDisconnect, Request
from starlette.responses import Response, StreamingResponse
from starlette.routing import Route

from lastbolt.edge.bench_web.asked import (
    Turned,
    answered,
    instructor_only,
    job_of,
    number_of,
    say_turned,
    ticket_of,
    turned,
)
from lastbolt.edge.bench_web.entering import Entering
from lastbolt.edge.bench_web.guard import TooLarge
from lastbolt.edge.bench_web.jobs import Jobs
from lastbolt.edge.bench_web.limits import OF_A_TOKEN, Limits
from lastbolt.edge.bench_web.people import People, Ticket
from lastbolt.edge.bench_web.photos import Photos
from lastbolt.edge.bench_web.sending import checked, lines_sent
from lastbolt.edge.bench_web.streams import Streams
from lastbolt.record.exported import lines_of, read_head
from lastbolt.words.problem import Refusal

TYPES = {"html": "text/html", "css": "text/css", "js": "text/javascript", "json": "application/json",
         "svg": "image/svg+xml"}  # fmt: skip
LINES = "application/x-ndjson"
Handler = Callable[["Room", Request, Ticket], Awaitable[Response]]


class Room(NamedTuple):
    """What the routes answer from."""

    jobs: Jobs
    people: People
    streams: Streams
    entering: Entering
    limits: Limits
    photos: Photos


def room_of(jobs: Jobs, *, secure: bool) -> Room:
    """A room for these jobs; `secure`: what is sent cannot be read on the way."""
    people = People(jobs.store)
    return Room(jobs, people, Streams(jobs.store), Entering(jobs, people, secure=secure), Limits(OF_A_TOKEN),
                Photos(jobs.store))  # fmt: skip


def application(room: Room) -> Starlette:
    """The web application of one class."""

    def on(path: str, handler: Handler, method: str = "GET") -> Route:
        async def endpoint(request: Request) -> Response:
            ticket = await run_in_threadpool(ticket_of, request, room.people, room.limits)
            return await handler(room, request, ticket)

        return Route(path, endpoint, methods=[method])

    async def join(request: Request) -> Response:
        body = await request.body()
        host = request.client.host if request.client else ""
        return answered(await run_in_threadpool(room.entering.join, body, host))

    return Starlette(
        routes=[
            Route("/api/join", join, methods=["POST"]),
            on("/api/people", _people),
            on("/api/stream", _news),
            on("/api/jobs", _listed),
            on("/api/jobs", _imported, "POST"),
            on("/api/jobs/{job}/events", _sent, "POST"),
            on("/api/jobs/{job}/events", _lines),
            on("/api/jobs/{job}/stream", _stream),
            on("/api/jobs/{job}/state", _state),
            on("/api/jobs/{job}/plan", _plan),
            on("/api/jobs/{job}/export", _export),
            on("/api/jobs/{job}/pictures/{key}", _picture),
            on("/api/jobs/{job}/photos/{name}", _photo_sent, "POST"),
            on("/api/jobs/{job}/photos/{name}", _photo),
            Route("/", _file),
            Route("/{name}", _file),
        ],
        exception_handlers={
            Turned: say_turned,
            TooLarge: _too_large,
            Refusal: _refused,
            ClientDisconnect: _gone,
        },
    )


async def _too_large(request: Request, _: Exception) -> Response:
    return await say_turned(request, turned(413, "LB-E65", "This is too long.", "Send it in parts."))


async def _gone(_: Request, __: Exception) -> Response:
    """The network went while a request came in: nobody hears the answer, and nothing of it was kept."""
    return Response(status_code=400)


async def _refused(_: Request, error: Exception) -> Response:
    assert isinstance(error, Refusal)
    return answered({"problem": error.problems[0]}, 400)


async def _sent(room: Room, request: Request, ticket: Ticket) -> Response:
    job = await run_in_threadpool(job_of, request, ticket, room.jobs)
    lines = lines_sent(await request.body())
    read = await run_in_threadpool(checked, lines, ticket, job)
    receipts = await asyncio.wrap_future(room.jobs.store.append_read(read))
    return answered({"receipts": receipts, "next": await run_in_threadpool(room.jobs.store.last, job)})


async def _lines(room: Room, request: Request, ticket: Ticket) -> Response:
    job = await run_in_threadpool(job_of, request, ticket, room.jobs)
    after = number_of(request)
    some = await run_in_threadpool(room.jobs.store.read, job, after)
    headers = {"lastbolt-next": str(some[-1].number if some else after), "cache-control": "no-store"}
    return Response(b"".join(one.line + b"\n" for one in some), 200, headers, LINES)


async def _stream(room: Room, request: Request, ticket: Ticket) -> Response:
    job = await run_in_threadpool(job_of, request, ticket, room.jobs)
    return _streaming(room, room.streams.lines(job, number_of(request)))


async def _news(room: Room, request: Request, ticket: Ticket) -> Response:
    instructor_only(ticket)
    return _streaming(room, room.streams.news(number_of(request)))


def _streaming(room: Room, lines: Any) -> Response:
    if room.streams.full:
        raise turned(429, "LB-E64", "Too many listen.", "Close what is not looked at, and load again.")
    return StreamingResponse(lines, 200, {"cache-control": "no-store"}, "text/event-stream")


async def _state(room: Room, request: Request, ticket: Ticket) -> Response:
    job = await run_in_threadpool(job_of, request, ticket, room.jobs)
    return answered(await run_in_threadpool(room.jobs.state, job))


async def _plan(room: Room, request: Request, ticket: Ticket) -> Response:
    job = await run_in_threadpool(job_of, request, ticket, room.jobs)
    return answered(await run_in_threadpool(room.jobs.plan, job))


async def _export(room: Room, request: Request, ticket: Ticket) -> Response:
    job = await run_in_threadpool(job_of, request, ticket, room.jobs)
    headers = {"content-disposition": f'attachment; filename="{job}.record"', "cache-control": "no-store"}
    return Response(await run_in_threadpool(room.jobs.store.export, job), 200, headers, LINES)


async def _picture(room: Room, request: Request, ticket: Ticket) -> Response:
    job = await run_in_threadpool(job_of, request, ticket, room.jobs)
    png = await run_in_threadpool(room.jobs.picture, job, str(request.path_params["key"]))
    if png is None:
        raise turned(404, "LB-E63", "There is no such picture.", "Look it up in the source itself.")
    return Response(png, 200, {"cache-control": "private, max-age=86400"}, "image/png")


async def _photo_sent(room: Room, request: Request, ticket: Ticket) -> Response:
    job = await run_in_threadpool(job_of, request, ticket, room.jobs)
    name, body = str(request.path_params["name"]), await request.body()
    await run_in_threadpool(room.photos.keep, job, name, body, ticket)
    return answered({"file": name})


async def _photo(room: Room, request: Request, ticket: Ticket) -> Response:
    job = await run_in_threadpool(job_of, request, ticket, room.jobs)
    jpeg = await run_in_threadpool(room.photos.read, job, str(request.path_params["name"]))
    if jpeg is None:
        raise turned(404, "LB-E63", "There is no such photo.", "It may still be on the phone that took it.")
    return Response(jpeg, 200, {"cache-control": "private, max-age=86400"}, "image/jpeg")


async def _people(room: Room, _: Request, ticket: Ticket) -> Response:
    return answered(await run_in_threadpool(room.people.names))


async def _listed(room: Room, _: Request, ticket: Ticket) -> Response:
    instructor_only(ticket)
    return answered(await run_in_threadpool(room.entering.listed))


async def _imported(room: Room, request: Request, ticket: Ticket) -> Response:
    instructor_only(ticket)
    lines = lines_of(await request.body())
    job = read_head(lines, "import").job
    receipts = await asyncio.wrap_future(room.jobs.store.append(job, lines[1:]))
    status = [one.status for one in receipts]
    said = {name: status.count(name) for name in ("kept", "known", "refused")}
    return answered({"job": job, "receipts": msgspec.to_builtins(said)})


@cache
def _page() -> dict[str, bytes]:
    """The files of the page by name: no path is ever made of what a browser asks for."""
    folder = files("lastbolt.edge.bench_web").joinpath("page")
    return {one.name: one.read_bytes() for one in folder.iterdir() if one.is_file()}


async def _file(request: Request) -> Response:
    name = request.path_params.get("name", "page.html")
    found = _page().get(name)
    if found is None:
        raise turned(404, "LB-E63", "There is no such page.", "Open the address that lastbolt printed.")
    kind = TYPES.get(name.rpartition(".")[2], "text/plain")
    return Response(found, 200, {"cache-control": "no-cache"}, f"{kind}; charset=utf-8")
