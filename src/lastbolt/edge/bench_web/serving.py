"""The server of a class: a port of this machine, plain or with the shop's certificate."""

import contextlib
import socket
from pathlib import Path
from typing import NamedTuple

import uvicorn

from lastbolt.edge.bench_web.guard import Guard
from lastbolt.edge.bench_web.routes import Room, application
from lastbolt.words.problem import Problem, Refusal

ANYWHERE, LOOPBACK = "0.0.0.0", "127.0.0.1"
MOST_CONNECTIONS = 1_000


class Place(NamedTuple):
    """Where to serve: `host` to listen at, `port` (0: any free one), and a certificate with its key."""

    host: str = ANYWHERE
    port: int = 0
    cert: str = ""
    key: str = ""


class Served(NamedTuple):
    """A server that is ready to run, and the address to open."""

    server: uvicorn.Server
    listening: socket.socket
    address: str
    room: Room

    def run(self) -> None:
        """Serve until the person ends it."""
        self.server.run(sockets=[self.listening])


class _Server(uvicorn.Server):
    """Lets the streams end first: they would hold the server open."""

    def __init__(self, config: uvicorn.Config, room: Room) -> None:
        super().__init__(config)
        self._room = room

    async def shutdown(self, sockets: list[socket.socket] | None = None) -> None:
        """End the streams, and then the server."""
        self._room.streams.end()
        await super().shutdown(sockets)


def serve(room: Room, place: Place) -> Served:
    """Bind the port; the address is known before anything is answered.

    Raises:
        Refusal: the port cannot be had, or the certificate cannot be read.
    """
    for file in (place.cert, place.key):
        if file and not Path(file).is_file():
            what = "The certificate or its key is not there."
            raise Refusal(Problem("LB-E67", what, file, "Give the files of the certificate.", "stop"))
    listening = _bound(place)
    port = listening.getsockname()[1]
    config = uvicorn.Config(
        Guard(application(room)), log_level="error", access_log=False, server_header=False,
        date_header=False, lifespan="off", limit_concurrency=MOST_CONNECTIONS, timeout_keep_alive=30,
        h11_max_incomplete_event_size=32 * 1024, ws="none", timeout_graceful_shutdown=3,
        ssl_certfile=place.cert or None, ssl_keyfile=place.key or None,
    )  # fmt: skip
    scheme = "https" if place.cert else "http"
    shown = own_address() if place.host == ANYWHERE else place.host
    return Served(_Server(config, room), listening, f"{scheme}://{shown}:{port}/", room)


def _bound(place: Place) -> socket.socket:
    listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listening.bind((place.host, place.port))
        listening.listen(256)
    except (OSError, OverflowError) as error:
        listening.close()
        why = str(getattr(error, "strerror", None) or error).removeprefix("bind(): ").rstrip(".")
        do = "Give --port the number of a free port, and --host an address of this machine."
        problem = Problem("LB-E67", f"Cannot serve: {why}.", f"{place.host}:{place.port}", do, "stop")
        raise Refusal(problem) from error
    return listening


def own_address() -> str:
    """This machine's address on the network of the shop; its loopback when it has none. Nothing is sent."""
    with contextlib.suppress(OSError), socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as tried:
        tried.connect(("192.0.2.1", 9))  # an address for documents (RFC 5737): only the route is asked for
        return str(tried.getsockname()[0])
    return LOOPBACK
