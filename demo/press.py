"""Sets Typst code into a PDF with the maker's style: the same bytes every time."""

from __future__ import annotations

from pathlib import Path

import typst

from demo.blocks import Chapter, flow, literal

HERE = Path(__file__).parent
FONTS = HERE / "fonts"


def chapter_code(chapter: Chapter) -> str:
    """One chapter as Typst code."""
    return f"#{{\nchapter({literal(chapter.number)}, {literal(chapter.title)})\n{flow(chapter.blocks)}\n}}\n"


def manual_code(title: str, edition: str, front: str, chapters: tuple[Chapter, ...]) -> str:
    """A whole manual as Typst code; `front` is the code of cover and front matter."""
    body = "".join(chapter_code(chapter) for chapter in chapters)
    return (
        f'#import "style.typ": *\n'
        f"#show: manual.with(title: {literal(title)}, edition: {literal(edition)})\n{front}\n{body}"
    )


def press(code: str) -> bytes:
    """The PDF of a piece of Typst code."""
    made = typst.compile(
        {"main.typ": code.encode(), "style.typ": (HERE / "style.typ").read_bytes()},
        font_paths=[str(FONTS)],
        ignore_system_fonts=True,
    )
    assert isinstance(made, bytes)
    return made
