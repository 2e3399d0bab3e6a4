"""Words near a place of a source: in a box drawn on a page, or the lines around one of a text or table."""

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from msgspec import Struct

from lastbolt.searching.index import Passage
from lastbolt.words.citation import CellPlace, PdfPlace, Place, TextPlace, XmlPlace

BEFORE, BEHIND = 12, 48
"""Lines shown around the one that is meant."""


class LineShown(Struct, frozen=True):
    """One line of a text, table or module; `at`: its turn in the source."""

    at: int
    line: int
    file: str
    words: str
    here: bool = False


class LinesShown(Struct, frozen=True):
    """Some lines of a source, of `total` in all."""

    total: int
    lines: tuple[LineShown, ...]


class Wanted(NamedTuple):
    """The line to show: by its turn, or (`at` below 0) by file and number."""

    source: str
    file: str = ""
    line: int = 0
    at: int = -1


def line_of(place: Place) -> tuple[str, int]:
    """The file and line of a place that has no page; ("", 0) of others."""
    match place:
        case TextPlace():
            return "", place.line
        case CellPlace(line):
            return "", line
        case XmlPlace(_, file, line):
            return file, line
    return "", 0


def words_in_box(passages: Iterable[Passage], source: str, pdf_page: int, box: Sequence[float]) -> str:
    """The words whose middle lies in the box, in the order of the page."""
    left, top, right, bottom = box
    for passage in passages:
        place = passage.place
        if passage.source != source or not isinstance(place, PdfPlace) or place.pdf_page != pdf_page:
            continue
        inside = (
            word
            for word, (x0, y0, x1, y1) in zip(passage.words, passage.boxes, strict=False)
            if left <= (x0 + x1) / 2 <= right and top <= (y0 + y1) / 2 <= bottom
        )
        return " ".join(inside)
    return ""


def lines_around(passages: Iterable[Passage], wanted: Wanted) -> LinesShown:
    """The lines of a source around the one that is wanted."""
    own = [(*line_of(one.place), one) for one in passages if one.source == wanted.source]
    if not own:
        return LinesShown(0, ())
    here = min(wanted.at, len(own) - 1) if wanted.at >= 0 else _nearest(own, wanted)
    first = max(0, here - BEFORE)
    return LinesShown(
        len(own),
        tuple(
            LineShown(at, line, file, " ".join(one.words), at == here)
            for at, (file, line, one) in enumerate(own[first : here + BEHIND], first)
        ),
    )


def _nearest(own: Sequence[tuple[str, int, Passage]], wanted: Wanted) -> int:
    """The turn of the line that is wanted, or of the nearest in its file."""

    def far(at: int) -> tuple[bool, int]:
        file, line, _ = own[at]
        return file != wanted.file, abs(line - wanted.line)

    return min(range(len(own)), key=far)
