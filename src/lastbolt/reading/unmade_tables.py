"""Tables whose words speak of fasteners and of which no rule made anything: told, so that no row is lost."""

import re
from collections.abc import Iterable, Sequence
from typing import Protocol

from lastbolt.reading.beside_lists import speaks_of_a_fastener
from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.running import PageText
from lastbolt.reading.sizes import sizes_in
from lastbolt.reading.table_shape import Row, Table
from lastbolt.words.citation import Box, Citation, PdfPlace
from lastbolt.words.page import Aside

_OTHERS = frozenset(("tool", "work", "see"))
"""Tables under such headings name fasteners and list none."""
_NUMBER = re.compile(r"[(x×]?\s?\d{1,3}\s?[)x×]?")


class Cited(Protocol):
    """Any fact with its places."""

    @property
    def citations(self) -> tuple[Citation, ...]:
        """Where it stands."""
        ...


def with_tables_told(
    pages: Sequence[PageText], tables: Iterable[Table], facts: Iterable[Cited], language: Lexicon
) -> list[PageText]:
    """The pages with the rows of such tables among what stands aside."""
    places: dict[int, list[Box]] = {}
    for fact in facts:
        for cited in fact.citations:
            if isinstance(cited.place, PdfPlace) and cited.place.box is not None:
                places.setdefault(cited.place.pdf_page, []).append(cited.place.box)
    lost: dict[int, list[Aside]] = {}
    for table in tables:
        rows = (table.top, *table.rows) if table.top is not None else table.rows
        made = any(_within(box, table.box) for box in places.get(table.pdf_page, ()))
        told_by_name = made or table.of == "tool" or any(h and h.role in _OTHERS for h in table.headings)
        named = [] if told_by_name else [row for row in rows if _names_some(row, language)]
        if named:
            told = " / ".join(_words(row) for row in named)
            lost.setdefault(table.pdf_page, []).append(Aside("beside", told, _around(named)))
    return [
        page._replace(asides=(*page.asides, *lost[page.pdf_page])) if page.pdf_page in lost else page
        for page in pages
    ]


def _around(rows: Sequence[Row]) -> Box:
    boxes = [row.box for row in rows]
    return (
        min(box[0] for box in boxes),
        min(box[1] for box in boxes),
        max(box[2] for box in boxes),
        max(box[3] for box in boxes),
    )


def _names_some(row: Row, language: Lexicon) -> bool:
    """Whether a row names a fastener with its size, or beside a number that may be its count."""
    words = _words(row)
    counted = any(_NUMBER.fullmatch(cell.text.strip()) for cell in row.cells)
    sized = any(not size.plain for size in sizes_in(words))
    return (counted or sized) and speaks_of_a_fastener(words, language)


def _words(row: Row) -> str:
    return " ".join(cell.text for cell in row.cells if cell.text)


def _within(place: Box, table: Box) -> bool:
    """Whether the middle of a fact's place lies in the table."""
    x, y = (place[0] + place[2]) / 2, (place[1] + place[3]) / 2
    return table[0] - 0.01 <= x <= table[2] + 0.01 and table[1] - 0.01 <= y <= table[3] + 0.01
