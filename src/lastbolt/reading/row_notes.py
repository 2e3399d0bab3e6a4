"""Notes beside a parts table that name an item of it: "Item 3: 9 off from serial no. 2000."."""

import re
from collections.abc import Iterable, Sequence
from functools import lru_cache

from msgspec.structs import replace

from lastbolt.reading.lexicon import lexicon
from lastbolt.reading.numbers import any_of
from lastbolt.reading.parts_doubts import doubted
from lastbolt.reading.problems import quoted
from lastbolt.reading.running import PageText
from lastbolt.words.citation import PdfPlace
from lastbolt.words.machine import PartsRow
from lastbolt.words.problem import Problem

_MOST = 90


def with_notes_of_rows(
    rows: Sequence[PartsRow], pages: Iterable[PageText], title: str, language: str = "english"
) -> tuple[tuple[PartsRow, ...], tuple[Problem, ...]]:
    """The rows, those that a note names with a doubt that says so, and what is to be told of them."""
    found: dict[str, str] = {}
    on_page = _by_page(rows)
    for page in pages:
        here = on_page.get(page.pdf_page, ())
        for line in page.lines if here else ():
            match = None if line.region else _note(language).match(line.text.strip())
            if match is None:
                continue
            named = [(top, row.id) for top, row in here if row.item == match["item"]]
            above = [one for one in named if one[0] < line.top]
            nearest = max(above or named, key=lambda one: one[0], default=None)
            if nearest is not None:
                found[nearest[1]] = f"a note beside the table says {quoted(line.text.strip(), _MOST)}"
    if not found:
        return tuple(rows), ()
    told = tuple(
        replace(row, doubt="; ".join(filter(None, (row.doubt, found[row.id])))) if row.id in found else row
        for row in rows
    )
    return told, doubted([row for row in told if row.id in found], title)


def _by_page(rows: Iterable[PartsRow]) -> dict[int, list[tuple[float, PartsRow]]]:
    """The rows by the PDF pages they stand on, each with how far down it stands."""
    found: dict[int, list[tuple[float, PartsRow]]] = {}
    for row in rows:
        tops: dict[int, float] = {}
        for citation in row.citations:
            place = citation.place
            if isinstance(place, PdfPlace) and place.box is not None:
                tops.setdefault(place.pdf_page, place.box[1])
        for pdf_page, top in tops.items():
            found.setdefault(pdf_page, []).append((top, row))
    return found


@lru_cache(maxsize=4)
def _note(language: str) -> re.Pattern[str]:
    """A line that begins with an item: behind the mark of a note, or alone."""
    words = any_of(lexicon(language).words("row_notes", "item"))
    return re.compile(
        rf"(?:(?:[\d¹²³⁴⁵⁶⁷⁸⁹]{{1,2}}|[a-z]|\*+|[†‡]|note)\s?[).:⁾]?\s+)?(?:{words})\.?\s(?P<item>\d{{1,3}}[A-Za-z]?)"
        r"(?![\d.,]*\d)\b.*[^\W\d_]{2}",
        re.IGNORECASE,
    )
