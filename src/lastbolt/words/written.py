"""A text without pages (Markdown, HTML, plain) as an edge hands it to the reading rules: its blocks."""

from typing import Literal

from msgspec import Struct

BlockSort = Literal["heading", "text", "item", "table", "verbatim"]


class Run(Struct, frozen=True, array_like=True):
    """Words set one way."""

    text: str
    bold: bool = False
    italic: bool = False


class Link(Struct, frozen=True):
    """A link: its words, where it leads ("#part", "other.html#part"), and the line it stands on."""

    words: str
    target: str
    line: int
    alone: bool = False
    """It is all that its block says: an entry of a list of contents."""


Cells = tuple[tuple[Run, ...], ...]


class Block(Struct, frozen=True):
    """A heading, a paragraph, an entry of a list, a table, or lines to be kept as they stand.

    `level`: of a heading 1 to 6, of an entry how deep it stands. `mark`: of an entry ("1.", "•"); "" where a
    further paragraph of the entry stands. `lines`: of a table the line of each row.
    """

    sort: BlockSort
    line: int
    runs: tuple[Run, ...] = ()
    level: int = 0
    mark: str = ""
    anchor: str = ""
    rows: tuple[Cells, ...] = ()
    lines: tuple[int, ...] = ()

    @property
    def text(self) -> str:
        """Its words without their style."""
        return "".join(run.text for run in self.runs)


class Writing(Struct, frozen=True):
    """A whole text. `anchors`: every name in it that a link can lead to, with its line; `pictures`: how many
    it shows, of which nothing is read."""

    blocks: tuple[Block, ...]
    links: tuple[Link, ...] = ()
    anchors: tuple[tuple[str, int], ...] = ()
    pictures: int = 0
    title: str = ""
