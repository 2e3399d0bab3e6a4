"""Words near a place of a source: in a box drawn on a page, or the lines around one of a table."""

from collections.abc import Iterable, Sequence

from lastbolt.searching.index import Passage
from lastbolt.words.citation import CellPlace, PdfPlace, XmlPlace

AROUND = 6


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


def lines_around(passages: Iterable[Passage], source: str, line: int) -> list[dict[str, object]]:
    """The lines of a table or module around one, each with its number."""
    found: list[dict[str, object]] = []
    for passage in passages:
        place = passage.place
        if passage.source != source or not isinstance(place, CellPlace | XmlPlace):
            continue
        if abs(place.line - line) <= AROUND:
            found.append({"line": place.line, "words": " ".join(passage.words)})
    return found
