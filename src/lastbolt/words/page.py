"""One page as an edge hands it to the reading rules: words with boxes, and what is drawn."""

from typing import Literal

from msgspec import Struct

from lastbolt.words.citation import Box


class Word(Struct, frozen=True, gc=False, array_like=True):
    """One word. The box is in fractions of the page as displayed, origin top left."""

    text: str
    left: float
    top: float
    right: float
    bottom: float
    size_pt: float
    bold: bool = False
    italic: bool = False


class Drawn(Struct, frozen=True, gc=False, array_like=True):
    """One drawn object. `rule`: a straight thin line or bar; `box`: a rectangle; `curve`; `image`."""

    kind: Literal["rule", "box", "curve", "image"]
    left: float
    top: float
    right: float
    bottom: float


class Turned(Struct, frozen=True, gc=False, array_like=True):
    """Words that do not run from left to right. `angle`: degrees clockwise, as displayed; 90 runs down."""

    angle: int
    words: tuple[Word, ...]


class Aside(Struct, frozen=True, gc=False, array_like=True):
    """Something on a page that is no part of its printed lines, with what it says."""

    sort: Literal["sideways", "added", "field", "struck out", "strip", "beside"]
    words: str
    box: Box


class PageLayout(Struct, frozen=True):
    """Everything on one page. `words` stand in the order of the file, not yet in reading order."""

    pdf_page: int
    width_pt: float
    height_pt: float
    words: tuple[Word, ...] = ()
    drawn: tuple[Drawn, ...] = ()
    label: str | None = None
    """The page label of the file itself (PDF 32000-1, 12.4.2), if it has one."""
    scanned: bool = False
    """The words were read from a picture of the page and may be wrong."""
    turned: tuple[Turned, ...] = ()
    """The words that are set sideways, upside down or aslant; they are not among `words`."""
    notes: tuple[Aside, ...] = ()
    """What was put on the page after it was printed: typed notes, filled fields, words struck out."""
