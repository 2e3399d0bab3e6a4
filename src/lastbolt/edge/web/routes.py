"""The addresses of the correcting page: JSON, pictures, and the files of the page itself."""

from collections.abc import Callable
from functools import cache
from importlib.resources import files
from typing import Any, NamedTuple

import msgspec
from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from lastbolt.edge.web.desk import Desk, Spot
from lastbolt.edge.web.guard import TooLarge
from lastbolt.edge.web.page_pictures import PagePictures
from lastbolt.edge.web.places import Wanted, lines_around, words_in_box
from lastbolt.words.problem import Problem, Refusal

TYPES = {"html": "text/html", "css": "text/css", "js": "text/javascript", "svg": "image/svg+xml"}
CONFLICT = "LB-K03"
LONGEST_QUERY = 300
PDF = "application/pdf"
_encode = msgspec.json.Encoder().encode


class Room(NamedTuple):
    """What the routes answer from."""

    desk: Desk
    pictures: PagePictures


def application(room: Room) -> Starlette:
    """The web application of one correcting session."""
    handlers: dict[str, Callable[[Room, Request], Any]] = {
        "/api/state": _state,
        "/api/list": _list,
        "/api/sections": _sections,
        "/api/sources": _sources,
        "/api/search": _search,
        "/api/words": _words,
        "/api/lines": _lines,
    }
    routes = [Route(path, _answering(room, handler)) for path, handler in handlers.items()]
    routes += [
        Route("/api/save", _posted(room, _save), methods=["POST"]),
        Route("/api/undo", _posted(room, _undo), methods=["POST"]),
        Route("/page/{source}/{page:int}/{fineness}", _picture(room)),
        Route("/", _file),
        Route("/{name}", _file),
    ]
    return Starlette(routes=routes, exception_handlers={TooLarge: _too_large})


def _json(value: Any, status: int = 200) -> Response:
    return Response(_encode(value), status, {"cache-control": "no-store"}, "application/json")


def _problem(problem: Problem) -> Response:
    """A refusal as every other edge says it: code, what, where, do."""
    return _json({"problem": problem}, 409 if problem.code == CONFLICT else 400)


async def _too_large(_: Request, __: Exception) -> Response:
    return Response("This is too long.", 413, media_type="text/plain")


def _answering(room: Room, handler: Callable[[Room, Request], Any]) -> Callable[[Request], Any]:
    async def answer(request: Request) -> Response:
        try:
            return _json(await run_in_threadpool(handler, room, request))
        except Refusal as refusal:
            return _problem(refusal.problems[0])
        except ValueError:
            return _json({"problem": _asked_wrongly()}, 400)

    return answer


def _posted(room: Room, handler: Callable[[Room, dict[str, Any]], Any]) -> Callable[[Request], Any]:
    async def answer(request: Request) -> Response:
        try:
            asked = msgspec.json.decode(await request.body())
            if not isinstance(asked, dict):
                raise ValueError
            return _json(await run_in_threadpool(handler, room, asked))
        except Refusal as refusal:
            return _problem(refusal.problems[0])
        except (ValueError, RecursionError):
            return _json({"problem": _asked_wrongly()}, 400)

    return answer


def _asked_wrongly() -> Problem:
    return Problem("LB-K04", "This request cannot be understood.", "the page", "Load the page again.", "stop")


def _state(room: Room, _: Request) -> Any:
    return room.desk.state()


def _list(room: Room, request: Request) -> Any:
    asked = request.query_params
    number = {name: int(asked.get(name, "0")) for name in ("first", "page", "from", "to")}
    source = asked.get("source", "")
    spot = Spot(source, number["page"], asked.get("file", ""), number["from"], number["to"])
    count = int(asked.get("count", "80"))
    return room.desk.listed(asked.get("view", "todo"), number["first"], count, spot if source else None)


def _sections(room: Room, _: Request) -> Any:
    return room.desk.sections()


def _sources(room: Room, _: Request) -> Any:
    printed: dict[str, dict[int, str]] = {}
    for page in room.desk.machine.pages:
        if page.printed_page:
            printed.setdefault(page.source, {})[page.pdf_page] = page.printed_page
    return [
        {"id": one.id, "title": one.title, "file": one.file,
         "pages": one.pages if one.media_type == PDF else 0,
         "pictures": room.pictures.has(one.id), "printed": printed.get(one.id, {})}
        for one in room.desk.machine.sources
    ]  # fmt: skip


def _search(room: Room, request: Request) -> Any:
    query = request.query_params.get("q", "")[:LONGEST_QUERY]
    return {"query": query, "hits": room.desk.index().search(query, 60)}


def _words(room: Room, request: Request) -> Any:
    asked = request.query_params
    box = tuple(float(edge) for edge in asked.get("box", "").split(","))
    if len(box) != 4:
        raise ValueError
    passages = room.desk.index().passages
    return {"words": words_in_box(passages, asked.get("source", ""), int(asked.get("page", "0")), box)}


def _lines(room: Room, request: Request) -> Any:
    asked = request.query_params
    wanted = Wanted(
        asked.get("source", ""),
        asked.get("file", ""),
        int(asked.get("line", "0")),
        int(asked.get("at", "-1")),
    )
    return lines_around(room.desk.index().passages, wanted)


def _save(room: Room, asked: dict[str, Any]) -> Any:
    return room.desk.save(asked)


def _undo(room: Room, asked: dict[str, Any]) -> Any:
    return room.desk.undo(
        str(asked.get("seen", "")), str(asked.get("by", "")), str(asked.get("correction", ""))
    )


def _picture(room: Room) -> Callable[[Request], Any]:
    async def answer(request: Request) -> Response:
        found = await run_in_threadpool(
            room.pictures.picture,
            request.path_params["source"], request.path_params["page"], request.path_params["fineness"],
        )  # fmt: skip
        if found is None:
            return Response("This page cannot be drawn.", 404, media_type="text/plain")
        headers = {"etag": found.mark, "cache-control": "private, no-cache"}
        if request.headers.get("if-none-match") == found.mark:
            return Response(status_code=304, headers=headers)
        return Response(found.png, 200, headers, "image/png")

    return answer


@cache
def _static() -> dict[str, bytes]:
    """The files of the page by name: no path is ever made of what a browser asks for."""
    folder = files("lastbolt.edge.web").joinpath("static")
    return {one.name: one.read_bytes() for one in folder.iterdir() if one.is_file()}


async def _file(request: Request) -> Response:
    name = request.path_params.get("name", "page.html")
    found = _static().get(name)
    if found is None:
        return Response("There is no such page.", 404, media_type="text/plain")
    kind = TYPES.get(name.rpartition(".")[2], "text/plain")
    return Response(found, 200, {"cache-control": "no-cache"}, f"{kind}; charset=utf-8")
