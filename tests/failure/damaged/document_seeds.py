"""Whole JSON documents of one small joint: a case held by seven screws, its walk, its job and its engine.

All content is invented. With the finished job the joint is clear to part; with the unfinished one it is not.
"""

import contextlib
import functools
import io
import json
import os
import tempfile
from pathlib import Path
from typing import Any

from failure.damaged.pdf_seeds import printed

GOAL = "separating the case"
PLACES = tuple(f"p{n}" for n in range(1, 8))
PARTS = (
    "figure,figure_title,item,part_number,description,qty\n6,Case,1,W-601,Case half,2\n"
    '6,Case,2,W-602,"Screw, hex, M6 x 45",7\n4,Cover,1,W-401,Cover,1\n4,Cover,2,W-402,"Screw, hex, M8 '
    'x 70",2\n'
    "5,Pump,1,W-501,Pump,1\n5,Pump,2,W-502,Nut M6,4\n"
)
ROW = "parts/row/6/2"
SCREW = {"what": "screw", "thread": "M6", "length_mm": 45.0}


def _event(number: int, event: str, by: str, **more: Any) -> dict[str, Any]:
    return {
        "event": event, "id": f"e{number}", "by": by, "device": "phone", "sequence": number,
        "time": f"2031-03-01T10:{number:02}", **more,
    }  # fmt: skip


def walk() -> dict[str, Any]:
    """Seven places along a rectangle, each tied to the row of the screws."""
    places = [
        {"id": one, "label": one[1:], "ends": [
            {"part": "case half", "side": "near", "x_mm": 20.0 * n, "y_mm": 0.0, "form": "boss"},
            {"part": "other case half", "side": "far", "x_mm": 20.0 * n, "y_mm": 0.0, "form": "blind boss"},
        ], "kind": SCREW}
        for n, one in enumerate(PLACES)
    ]  # fmt: skip
    return {
        "schema": "lastbolt.walk/1", "joint": "case", "name": "Case joint",
        "faces": ["case half", "other case half"],
        "outline_mm": [[0.0, -10.0], [150.0, -10.0], [150.0, 10.0], [0.0, 10.0]], "places": places,
        "ties": [{"line": ROW, "wholly": True, "places": list(PLACES), "by": "Imke"}],
        "holders": [{"id": "strap", "sort": "bridging part", "name": "Strap across the joint"}],
    }  # fmt: skip


def job(*, finished: bool) -> dict[str, Any]:
    """Two people took the screws out, counted them and went round; unfinished, one place still holds its
    screw."""
    saw = [{"place": one, "saw": ["open hole" if finished or one != "p7" else "in"]} for one in PLACES]
    out = list(PLACES if finished else PLACES[:6])
    whole = {"guided": True, "complete": True, "direction": "clockwise", "answers": saw}
    counted = {"joint": "case", "kind": SCREW, "pieces": len(out), "complete_pieces": True, "all_trays": True}
    holders = ("strap", "manual/procedure/6.1#steps")
    events = [
        _event(1, "procedure done", "Jarl", procedure="manual/procedure/4.1", looked=True),
        _event(2, "procedure done", "Jarl", procedure="manual/procedure/5.1", looked=True),
        _event(3, "took out", "Jarl", joint="case", places=out, tray="A"),
        _event(4, "step done", "Sanna", step="manual/step/6.1/1", looked=True),
        _event(14, "step done", "Sanna", step="manual/step/6.1/2", looked=True),
        _event(5, "counted", "Jarl", **counted),
        _event(6, "counted", "Sanna", **counted),
        _event(7, "went round", "Imke", joint="case", round={"id": "r1", "by": "Imke", **whole}),
        _event(8, "went round", "Sanna", joint="case", round={"id": "r2", "by": "Sanna", **whole}),
    ]
    for number, holder in enumerate(holders, start=9):
        events.append(_event(number, "holder settled", "Jarl", joint="case", holder=holder, how="off"))
    return {
        "schema": "lastbolt.job/1", "id": "winch-1", "goal": GOAL, "engine": "winch-1",
        "events": events,
    }  # fmt: skip


def engine() -> dict[str, Any]:
    """The engine's own file."""
    return {
        "schema": "lastbolt.engine/1", "id": "winch-1", "name": "no. 1", "variant": "A", "serial": 207,
        "as_found": [{"what": "insert", "words": "Threaded insert M6 at 3.", "place": "p3", "by": "Imke"}],
    }  # fmt: skip


TYPED = (
    "2 x M6x45\nend of list\nby Ann\n1-2 out\nwent round\nno other holders\nby Ben\nlist compared\n"
    "tray 2 x M6x45\n"
)
TYPED_IN = TYPED.replace("1-2 out", "1 out, 2 in")


def text(document: dict[str, Any]) -> bytes:
    """The document as people write it."""
    return json.dumps(document, indent=1, ensure_ascii=False).encode() + b"\n"


@functools.cache
def model() -> bytes:
    """The model of the manual and the parts list of the joint, as the program writes it."""
    return _made(["read", "manual.pdf", "parts.csv", "--out", "made.json"])


@functools.cache
def plan() -> bytes:
    """The plan for parting the case, as the program writes it."""
    return _made(["plan", GOAL, "--model", "model.json", "--out", "made.json"], model())


def _made(argv: list[str], given: bytes = b"") -> bytes:
    from lastbolt.cli.main import main

    before = Path.cwd()
    with tempfile.TemporaryDirectory() as folder, contextlib.redirect_stdout(io.StringIO()):
        try:
            os.chdir(folder)
            Path("manual.pdf").write_bytes(printed())
            Path("parts.csv").write_text(PARTS, encoding="utf-8")
            Path("model.json").write_bytes(given)
            assert main(argv) in {0, 1}
            return Path("made.json").read_bytes()
        finally:
            os.chdir(before)
