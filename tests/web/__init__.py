"""Shared by the tests of the correcting page: a small book of our own, and a way to ask the server."""

import asyncio
import json
from collections.abc import Iterable
from pathlib import Path
from typing import Any, NamedTuple

from lastbolt.cli.main import main
from lastbolt.edge import documents
from lastbolt.edge.report_files import source_files
from lastbolt.edge.source_words import passages_of
from lastbolt.edge.web.desk import Desk, Papers
from lastbolt.edge.web.guard import Guard
from lastbolt.edge.web.page_pictures import PagePictures
from lastbolt.edge.web.routes import Room, application
from lastbolt.words.machine import Machine

TOKEN = "a-token-for-tests"
PORT = 4711
HOST = f"127.0.0.1:{PORT}"
BOOK = (
    ("1 SAFETY", None),
    ("1.1 Making the winch safe", ("1. Switch the winch off.", "2. Drain the oil into a clean pan.")),
    ("2 GEARBOX", None),
    (
        "2.1 Separating the gearbox",
        (
            "1. Remove the cable drum (see 2.7).",
            "2. Remove the six screws M8 x 45 and the cover.",
            "3. Turn page for the next section.",
            "4. Lift the cover off; part number W90-114.",
        ),
    ),
    (
        "2.2 Joining the gearbox",
        ("1. Fit a new gasket and the cover.", "2. Tighten the six screws M8 x 45 to 24 N·m."),
    ),
    ("2.3 Removing the cable drum", ("1. Remove the four nuts M10.", "2. Lift the drum off.")),
)
"""An invented winch: one reference leads nowhere, and one step is none."""


def write_book(path: Path, book: Iterable[tuple[str, tuple[str, ...] | None]] = BOOK) -> None:
    """The book as a PDF, two sections on a page."""
    from reportlab.pdfgen.canvas import Canvas

    canvas = Canvas(str(path), pagesize=(595, 842), invariant=1)
    for number, (title, steps) in enumerate(book):
        if number % 2 == 0:
            if number:
                canvas.showPage()
            top = 780
        canvas.setFont("Helvetica-Bold", 18 if steps is None else 13)
        canvas.drawString(60, top, title)
        top -= 30
        canvas.setFont("Helvetica", 11)
        for words in steps or ():
            canvas.drawString(72, top, words)
            top -= 20
        top -= 24
    canvas.save()


def read_book(folder: Path, book: Iterable[tuple[str, tuple[str, ...] | None]] = BOOK) -> Path:
    """The book and a parts list, read; the model's path."""
    write_book(folder / "winch.pdf", book)
    rows = "item,part no.,description,qty\n1,W90-114,Cover,1\n2,W90-115,Screw M8 x 45,6\n"
    (folder / "list.csv").write_text(rows, encoding="utf-8")
    model = folder / "winch.model.json"
    files = [str(folder / "winch.pdf"), str(folder / "list.csv")]
    assert main(["read", "--json", *files, "--out", str(model)]) in (0, 1)
    return model


class Answer(NamedTuple):
    """What the server said."""

    status: int
    headers: dict[str, str]
    body: bytes

    def json(self) -> Any:
        """The body as JSON."""
        return json.loads(self.body)


def desk_of(model: Path, goal: str = "separate the gearbox") -> Desk:
    """A desk on a model, as `lastbolt correct` opens it."""
    machine = documents.load(model, Machine)
    corrections = model.with_name("winch.corrections.json")
    return Desk(Papers(machine, corrections, goal), lambda: passages_of(machine, model.parent)[0])


class Asking:
    """A browser's requests, without a network."""

    def __init__(self, model: Path, desk: Desk | None = None) -> None:
        machine = documents.load(model, Machine)
        files, _ = source_files(machine.sources, model.parent)
        pictures = PagePictures(files, {one.id: one for one in machine.sources})
        self.desk = desk or desk_of(model)
        self.app = Guard(application(Room(self.desk, pictures)), TOKEN, PORT)

    def get(self, path: str, token: str = TOKEN, **headers: str) -> Answer:
        """A GET of an address below the token."""
        return asyncio.run(self._ask("GET", f"/{token}/{path}", b"", {"host": HOST, **headers}))

    def post(self, path: str, body: Any, token: str = TOKEN, **headers: str) -> Answer:
        """A POST as the page makes it."""
        raw = body if isinstance(body, bytes) else json.dumps(body).encode()
        given = {
            "host": HOST, "origin": f"http://{HOST}", "content-type": "application/json",
            "content-length": str(len(raw)), **headers,
        }  # fmt: skip
        return asyncio.run(self._ask("POST", f"/{token}/{path}", raw, given))

    async def _ask(self, method: str, path: str, body: bytes, headers: dict[str, str]) -> Answer:
        path, _, query = path.partition("?")
        named = [
            (name.replace("_", "-").encode(), value.encode()) for name, value in headers.items() if value
        ]
        scope = {
            "type": "http", "method": method, "path": path, "raw_path": path.encode(), "headers": named,
            "query_string": query.encode(), "http_version": "1.1", "scheme": "http", "root_path": "",
            "server": ("127.0.0.1", PORT), "client": ("127.0.0.1", 1),
        }  # fmt: skip
        sent: list[Any] = []

        async def receive() -> Any:
            return {"type": "http.request", "body": body, "more_body": False}

        async def send(message: Any) -> None:
            sent.append(message)

        await self.app(scope, receive, send)
        got = {name.decode(): value.decode() for name, value in sent[0]["headers"]}
        return Answer(sent[0]["status"], got, b"".join(one.get("body", b"") for one in sent[1:]))

    def fact(self, sort: str, words: str) -> Any:
        """The one fact of a sort that has these words."""
        facts = self.get("api/list?view=all&count=200").json()["facts"]
        return next(one for one in facts if one["sort"] == sort and words in one["words"])

    def say(self, fact: Any, **more: Any) -> Answer:
        """Save a correction of a fact, having seen the present state."""
        seen = self.get("api/state").json()["seen"]
        return self.post(
            "api/save", {"fact": fact["id"], "saw": fact["words"], "by": "Ann", "seen": seen, **more}
        )
