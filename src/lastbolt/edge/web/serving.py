"""The server of one correcting session: this machine only, a free port, an address nobody can guess."""

import secrets
import socket
from typing import NamedTuple

import uvicorn

from lastbolt.edge.web.guard import Guard
from lastbolt.edge.web.routes import Room, application
from lastbolt.words.problem import Problem, Refusal

LOOPBACK = "127.0.0.1"


class Served(NamedTuple):
    """A server that is ready to run, and the address to open."""

    server: uvicorn.Server
    listening: socket.socket
    address: str

    def run(self) -> None:
        """Serve until the person ends it."""
        self.server.run(sockets=[self.listening])


def free_port() -> int:
    """A port of this machine that nobody listens on.

    Raises:
        OSError: there is none.
    """
    with socket.socket(socket.AF_INET, socket.SOCK_STREAM) as tried:
        tried.bind((LOOPBACK, 0))
        return int(tried.getsockname()[1])


def serve(room: Room, port: int = 0, token: str = "") -> Served:
    """Bind the port; the address is known before anything is answered.

    Raises:
        Refusal: the port cannot be had.
    """
    listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listening.bind((LOOPBACK, port))
        listening.listen(64)  # a browser that comes before the server runs waits, and is not turned away
    except (OSError, OverflowError) as error:
        listening.close()
        why = str(getattr(error, "strerror", None) or error).removeprefix("bind(): ").rstrip(".")
        what = f"The page cannot be served: {why}."
        do = "Leave --port away, or give the number of a free port."
        raise Refusal(Problem("LB-K06", what, f"{LOOPBACK}:{port}", do, "stop")) from error
    number = listening.getsockname()[1]
    secret = token or secrets.token_urlsafe(24)
    guarded = Guard(application(room), secret, number)
    config = uvicorn.Config(
        guarded, log_level="error", access_log=False, server_header=False, date_header=False, lifespan="off",
        limit_concurrency=40, timeout_keep_alive=20, h11_max_incomplete_event_size=32 * 1024, ws="none",
        timeout_graceful_shutdown=3,
    )  # fmt: skip
    return Served(uvicorn.Server(config), listening, f"http://{LOOPBACK}:{number}/{secret}/")
