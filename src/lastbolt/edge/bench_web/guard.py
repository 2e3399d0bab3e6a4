"""What every answer carries, and what is turned away before anything of it is read.

No cookie is ever set: a page of another site has no token, so it can ask for nothing.
"""

from collections.abc import Awaitable, Callable, MutableMapping
from typing import Any
from urllib.parse import urlsplit

from starlette.responses import PlainTextResponse

Scope = MutableMapping[str, Any]
Receive = Callable[[], Awaitable[MutableMapping[str, Any]]]
Send = Callable[[MutableMapping[str, Any]], Awaitable[None]]
App = Callable[[Scope, Receive, Send], Awaitable[None]]

MOST_BYTES = 256 << 10
MOST_IMPORTED = 64 << 20
HEADERS = (
    (b"content-security-policy",
     b"default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob: data:; "
     b"connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"),
    (b"x-content-type-options", b"nosniff"),
    (b"x-frame-options", b"DENY"),
    (b"referrer-policy", b"no-referrer"),
    (b"cross-origin-opener-policy", b"same-origin"),
    (b"cross-origin-resource-policy", b"same-origin"),
    (b"permissions-policy", b"microphone=(), geolocation=()"),
)  # fmt: skip


class TooLarge(Exception):
    """A request body beyond what is taken."""


class Guard:
    """Adds the headers, bounds the body, and turns away what comes from a page of another site."""

    def __init__(self, app: App) -> None:
        self._app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        headers = {name.lower(): value.decode("latin-1") for name, value in scope["headers"]}
        most = MOST_IMPORTED if scope["path"] == "/api/jobs" else MOST_BYTES
        refused = _refused(scope, headers, most)
        answer = _with_headers(send)
        if refused:
            await PlainTextResponse(*refused)(scope, receive, answer)
            return
        await self._app(scope, _bounded(receive, most), answer)


def _refused(scope: Scope, headers: dict[bytes, str], most: int) -> tuple[str, int] | None:
    if scope["method"] not in ("GET", "HEAD", "POST"):
        return "No such request.", 405
    origin = headers.get(b"origin", "")
    if origin and urlsplit(origin).netloc != headers.get(b"host", ""):
        return "This request comes from another page.", 403
    if scope["method"] != "POST":
        return None
    length = headers.get(b"content-length", "")
    if not length.isdigit():
        return "How long it is must be said.", 411
    return ("This is too long.", 413) if int(length) > most else None


def _with_headers(send: Send) -> Send:
    async def answer(message: MutableMapping[str, Any]) -> None:
        if message["type"] == "http.response.start":
            message = {**message, "headers": [*message.get("headers", ()), *HEADERS]}
        await send(message)

    return answer


def _bounded(receive: Receive, most: int) -> Receive:
    """The body up to the most that is taken, whatever its length was said to be."""
    taken = 0

    async def bounded() -> MutableMapping[str, Any]:
        nonlocal taken
        message = await receive()
        taken += len(message.get("body", b""))
        if taken > most:
            raise TooLarge
        return message

    return bounded
