"""The written blocks of a manual as plain values, and each one as Typst code."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from demo.drawing import Drawing

# Inline marks in the words of a block: **bold**, _italic_ is not used, {page:6.4} a printed page number.
_INLINE = re.compile(r"\*\*(.+?)\*\*|\{page:([0-9.]+)\}")


def literal(words: str) -> str:
    """The words as a Typst string literal."""
    return '"' + words.replace("\\", "\\\\").replace('"', '\\"') + '"'


def inline(words: str) -> str:
    """The words as Typst content, with bold and page references resolved."""
    pieces: list[str] = []
    place = 0
    for found in _INLINE.finditer(words):
        if found.start() > place:
            pieces.append(literal(words[place : found.start()]))
        if found.group(1) is not None:
            pieces.append(f"strong({literal(found.group(1))})")
        else:
            pieces.append(f"pageref({literal(found.group(2))})")
        place = found.end()
    if place < len(words):
        pieces.append(literal(words[place:]))
    return " + ".join(f"[#{piece}]" for piece in pieces) or "[]"


@dataclass(frozen=True)
class Para:
    """A paragraph."""

    words: str

    def typst(self) -> str:
        """The paragraph as Typst code."""
        return f"para({inline(self.words)})"


@dataclass(frozen=True)
class Heading:
    """A numbered section heading."""

    number: str
    title: str

    def typst(self) -> str:
        """The heading as Typst code."""
        return f"section({literal(self.number)}, {literal(self.title)})"


@dataclass(frozen=True)
class Sub:
    """An unnumbered heading inside a section, such as Removal."""

    title: str

    def typst(self) -> str:
        """The heading as Typst code."""
        return f"subhead({literal(self.title)})"


@dataclass(frozen=True)
class Alert:
    """A DANGER, WARNING, CAUTION, NOTICE or Note box."""

    signal: str
    words: str

    def typst(self) -> str:
        """The box as Typst code."""
        return f"alert({literal(self.signal)}, {inline(self.words)})"


@dataclass(frozen=True)
class Setup:
    """The block at the start of a task: what is needed and what must be true."""

    rows: tuple[tuple[str, str], ...]

    def typst(self) -> str:
        """The block as Typst code."""
        rows = ", ".join(f"({literal(label)}, {inline(words)})" for label, words in self.rows)
        return f"setup(({rows},))"


@dataclass(frozen=True)
class Step:
    """One step with its printed mark."""

    mark: str
    words: str

    def typst(self) -> str:
        """The step as Typst code."""
        return f"step({literal(self.mark)}, {inline(self.words)})"


@dataclass(frozen=True)
class Bullet:
    """One line of a list."""

    words: str

    def typst(self) -> str:
        """The line as Typst code."""
        return f'step("–", {inline(self.words)})'


@dataclass(frozen=True)
class Figure:
    """A drawing with caption and legend."""

    number: str
    caption: str
    drawing: Drawing
    legend: tuple[tuple[str, str], ...] = ()

    def typst(self) -> str:
        """The figure as Typst code."""
        legend = ", ".join(f"({literal(mark)}, {literal(words)})" for mark, words in self.legend)
        return (
            f"picture({literal(self.number)}, {literal(self.caption)}, {self.drawing.typst()}, "
            f"({legend}{',' if legend else ''}))"
        )


@dataclass(frozen=True)
class Table:
    """A table with a head; widths as Typst column sizes."""

    caption: str
    widths: tuple[str, ...]
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    ruled: bool = True

    def typst(self) -> str:
        """The table as Typst code."""
        cells = ", ".join(inline(cell) if cell else "[]" for row in self.rows for cell in row)
        head = ", ".join(inline(cell) for cell in self.head)
        return (
            f"sheet({literal(self.caption)}, ({', '.join(self.widths)},), ({head},), ({cells},), "
            f"{'true' if self.ruled else 'false'})"
        )


@dataclass(frozen=True)
class Beside:
    """A picture in the narrow column beside the blocks it belongs to."""

    figure: Figure | None
    blocks: tuple[Block, ...]

    def typst(self) -> str:
        """The row as Typst code."""
        picture = self.figure.typst() if self.figure else "[]"
        return f"beside({picture}, {{\n{flow(self.blocks)}\n}})"


@dataclass(frozen=True)
class Columns:
    """Blocks set in two columns."""

    blocks: tuple[Block, ...]

    def typst(self) -> str:
        """The columns as Typst code."""
        return f"twocolumns({{\n{flow(self.blocks)}\n}})"


@dataclass(frozen=True)
class NewPage:
    """A page break."""

    weak: bool = field(default=True)

    def typst(self) -> str:
        """The break as Typst code."""
        return "pagebreak(weak: true)"


@dataclass(frozen=True)
class NewColumn:
    """A column break."""

    def typst(self) -> str:
        """The break as Typst code."""
        return "colbreak(weak: true)"


Block = (
    Para
    | Heading
    | Sub
    | Alert
    | Setup
    | Step
    | Bullet
    | Figure
    | Table
    | Beside
    | Columns
    | NewPage
    | NewColumn
)


@dataclass(frozen=True)
class Chapter:
    """One chapter of a manual."""

    number: str
    title: str
    blocks: tuple[Block, ...]


def flow(blocks: tuple[Block, ...]) -> str:
    """The blocks one under the other as Typst code."""
    return "\n".join(block.typst() for block in blocks)


def every_block(blocks: tuple[Block, ...]) -> list[Block]:
    """All blocks in reading order, those inside columns and beside pictures too."""
    found: list[Block] = []
    for block in blocks:
        found.append(block)
        if isinstance(block, Beside):
            found.extend([block.figure] if block.figure else [])
            found.extend(every_block(block.blocks))
        elif isinstance(block, Columns):
            found.extend(every_block(block.blocks))
    return found
