"""Who may ask the server on this machine: only the page that was opened with the address it printed.

A web site in the same browser must reach nothing: it does not know the token in the address, names another
host (DNS rebinding), or shows another origin. No page of ours may load anything from elsewhere either.
"""

import hmac
from collections.abc import Awaitable, Callable, MutableMapping
from typing import Any
from urllib.parse import urlsplit

from starlette.responses import PlainTextResponse

Scope = MutableMapping[str, Any]
Receive = Callable[[], Awaitable[MutableMapping[str, Any]]]
Send = Callable[[MutableMapping[str, Any]], Awaitable[None]]
App = Callable[[Scope, Receive, Send], Awaitable[None]]

MOST_BYTES = 64 * 1024
LOOPBACK = ("127.0.0.1", "localhost")
HEADERS = (
    (b"content-security-policy",
     b"default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; "
     b"base-uri 'none'; form-action 'none'; frame-ancestors 'none'"),
    (b"x-content-type-options", b"nosniff"),
    (b"x-frame-options", b"DENY"),
    (b"referrer-policy", b"no-referrer"),
    (b"cross-origin-opener-policy", b"same-origin"),
    (b"cross-origin-resource-policy", b"same-origin"),
    (b"permissions-policy", b"camera=(), microphone=(), geolocation=()"),
)  # fmt: skip


class TooLarge(Exception):
    """A request body beyond MOST_BYTES."""


class Guard:
    """Lets requests through that know the token, name this machine, and, to change anything, come from it."""

    def __init__(self, app: App, token: str, port: int) -> None:
        self._app = app
        self._token = token
        self._hosts = {f"{host}:{port}" for host in LOOPBACK}

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        headers = {name.lower(): value.decode("latin-1") for name, value in scope["headers"]}
        answer = _with_headers(send)
        refused = self._refused(scope, headers)
        if refused:
            await PlainTextResponse(*refused)(scope, receive, answer)
            return
        rest = scope["path"].removeprefix(f"/{self._token}") or "/"
        inner = {**scope, "path": rest, "raw_path": rest.encode()}
        await self._app(inner, _bounded(receive), answer)

    def _refused(self, scope: Scope, headers: dict[bytes, str]) -> tuple[str, int] | None:
        """The words and status of a refusal."""
        if headers.get(b"host", "") not in self._hosts:
            return "This server answers only to this machine.", 421
        first = scope["path"].strip("/").partition("/")[0]
        if not hmac.compare_digest(first.encode(), self._token.encode()):
            return "Open the address that lastbolt printed.", 404
        if scope["method"] in ("GET", "HEAD"):
            return None
        if scope["method"] != "POST":
            return "No such request.", 405
        origin = headers.get(b"origin", "")
        if (
            urlsplit(origin).netloc not in self._hosts
            or headers.get(b"sec-fetch-site", "same-origin") != "same-origin"
        ):
            return "This request comes from another page.", 403
        if headers.get(b"content-type", "").partition(";")[0].strip() != "application/json":
            return "Only JSON is taken.", 415
        if not headers.get(b"content-length", "").isdigit():
            return "How long it is must be said.", 411
        return ("This is too long.", 413) if int(headers[b"content-length"]) > MOST_BYTES else None


def _with_headers(send: Send) -> Send:
    async def answer(message: MutableMapping[str, Any]) -> None:
        if message["type"] == "http.response.start":
            message = {**message, "headers": [*message.get("headers", ()), *HEADERS]}
        await send(message)

    return answer


def _bounded(receive: Receive) -> Receive:
    """The body up to the most that is taken, whatever its length was said to be."""
    taken = 0

    async def bounded() -> MutableMapping[str, Any]:
        nonlocal taken
        message = await receive()
        taken += len(message.get("body", b""))
        if taken > MOST_BYTES:
            raise TooLarge
        return message

    return bounded
