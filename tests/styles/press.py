"""Sets a house's code into a PDF, and asks on which page each section came to stand."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TypeAlias

import typst

Value: TypeAlias = "str | int | tuple[Value, ...]"
Call = tuple[str, tuple[Value, ...]]

HERE = Path(__file__).parent
FONTS = HERE.parents[1] / "demo" / "fonts"


def literal(value: Value) -> str:
    """A string, number or tuple of these in Typst code."""
    if isinstance(value, int):
        return str(value)
    if isinstance(value, str):
        return '"' + value.replace("\\", "\\\\").replace('"', '\\"') + '"'
    return "(" + "".join(f"{literal(one)}, " for one in value) + ")"


def code_of(calls: list[Call]) -> str:
    """The calls as Typst code; a call without a name is code already."""
    lines = [
        str(given[0]) if not name else f"{name}({', '.join(map(literal, given))})" for name, given in calls
    ]
    return "#set document(date: none)\n#show: frame\n#{\n" + "\n".join(lines) + "\n}\n"


def _files(code: str, look: str) -> dict[str, bytes]:
    common = (HERE / "common.typ").read_bytes()
    return {
        "main.typ": f'#import "look.typ": *\n{code}'.encode(),
        "common.typ": common,
        "look.typ": look.encode(),
    }


def press(calls: list[Call], look: Path) -> tuple[bytes, dict[str, int]]:
    """The PDF (the same bytes every time) and the page on which each section stands."""
    files = _files(code_of(calls), look.read_text(encoding="utf-8"))
    where = {"font_paths": [str(FONTS)], "ignore_system_fonts": True}
    found = json.loads(typst.query(files, "<mk>", field="value", **where))
    made = typst.compile(files, **where)
    assert isinstance(made, bytes)
    return made, {one["key"]: one["page"] for one in found}
