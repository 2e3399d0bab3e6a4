"""Sets a house's code into a PDF, and asks on which page each section came to stand."""

from __future__ import annotations

import json
from pathlib import Path

import typst

HERE = Path(__file__).parent
FONTS = HERE.parents[1] / "demo" / "fonts"


def literal(words: str) -> str:
    """The words as a Typst string."""
    return '"' + words.replace("\\", "\\\\").replace('"', '\\"') + '"'


def row(words: tuple[str, ...] | list[str]) -> str:
    """The words as a Typst array of strings."""
    return "(" + "".join(f"{literal(one)}, " for one in words) + ")"


def _files(code: str, look: str) -> dict[str, bytes]:
    common = (HERE / "common.typ").read_bytes()
    return {
        "main.typ": f'#import "look.typ": *\n{code}'.encode(),
        "common.typ": common,
        "look.typ": look.encode(),
    }


def pages_of(code: str, look: str) -> dict[str, int]:
    """The PDF page of each marked section."""
    found = typst.query(
        _files(code, look), "<mk>", field="value", font_paths=[str(FONTS)], ignore_system_fonts=True
    )
    return {one["key"]: one["page"] for one in json.loads(found)}


def press(code: str, look: str) -> bytes:
    """The PDF; the same bytes every time."""
    made = typst.compile(_files(code, look), font_paths=[str(FONTS)], ignore_system_fonts=True)
    assert isinstance(made, bytes)
    return made
