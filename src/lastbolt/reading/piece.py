"""One piece of a book: a heading, a step, a caution, a paragraph; its words and the lines they stand on."""

from typing import Literal, NamedTuple

from lastbolt.reading.lines import Line
from lastbolt.reading.marks import Mark

STEPS = "steps"
"""The region of lines that are rows of a table of steps."""
END = "end"
"""The name of a piece that only says that a section is over."""
INDENT = 0.012
"""What begins this much further right is indented."""

PieceKind = Literal["heading", "step", "caution", "label", "text", "table", "figure", "contents"]


class At(NamedTuple):
    """A line and its page."""

    pdf_page: int
    line: Line


class Piece:
    """A heading, a step, a paragraph ...: its words and the lines they stand on."""

    __slots__ = ("boxed", "kind", "left", "lines", "mark", "name", "number", "rank", "said", "text")

    def __init__(self, kind: PieceKind, at: At, text: str) -> None:
        self.kind: PieceKind = kind
        self.lines = [at]
        self.text = text
        self.mark: Mark | None = None
        self.number = ""
        self.name = ""
        """Of a caution its signal word's list, of a label its list."""
        self.said = ""
        """A row of a table of steps as one sentence, with what its other columns say; else empty."""
        self.rank = 0
        self.left = at.line.left
        self.boxed = at.line.boxed

    @property
    def last(self) -> Line:
        """Its last line."""
        return self.lines[-1].line

    @property
    def hangs(self) -> bool:
        """Whether its second line begins right of its mark."""
        if len(self.lines) < 2 or self.mark is None:
            return False
        (page, first), (second_page, second) = self.lines[:2]
        same = page == second_page and first.column == second.column
        return same and second.left > first.left + INDENT

    def add(self, at: At) -> None:
        """Take in one more line."""
        self.text = joined(self.text, at.line.text)
        self.lines.append(at)


def joined(text: str, more: str) -> str:
    """Two lines as running text; a word broken at the end of the first is made whole."""
    more = more.replace("\t", " ")
    if not text:
        return more
    if text.endswith("\u00ad"):
        return text[:-1] + more
    if text.endswith("-") and more[:1].islower() and len(text) > 2 and text[-2].islower():
        return text[:-1] + more
    if text.endswith(("-", "/")) and more[:1].isalnum() and (text[-2:-1].isalnum() or text[-2:-1] == "."):
        return text + more
    return f"{text} {more}"


def titled(piece: Piece) -> Piece:
    """A heading that is a number and nothing more bears its line as its title: "Group 3"."""
    if piece.kind == "heading" and not piece.text:
        piece.text = piece.lines[0].line.text.strip(" .:")
    return piece
