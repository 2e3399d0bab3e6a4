"""Running heads and feet, learned from their repetition, and the page numbers printed in them."""

import re
from collections import Counter
from collections.abc import Sequence
from typing import NamedTuple

from lastbolt.reading.lines import Line

EDGE = 0.14
"""Heads and feet stand in this part of the page at the top and the bottom."""
_DIGITS = re.compile(r"\d+")
_ROMAN = re.compile(r"[ivxlc]{1,7}|[IVXLC]{1,7}")
_PLAIN = re.compile(r"\d{1,4}")
_CHAPTERED = re.compile(r"(?:\d{1,3}|[A-Z]{1,3}\d?)(?:[-–.]\d{1,3}){1,2}")
_PIECES = re.compile(r"[\t|·•]|\s{1,}")
_TRIM = "()[]|,;:·•- –—"


class PageText(NamedTuple):
    """One page as lines in reading order, without its words: light enough to keep a whole book."""

    pdf_page: int
    lines: tuple[Line, ...]
    label: str | None = None
    words: int = 0
    pictured: bool = False
    """Whether a picture covers a good part of the page."""
    drawn: int = 0


class Running(NamedTuple):
    """Which lines of each page are running heads or feet, and the printed page number of each page."""

    lines: dict[int, frozenset[int]]
    printed: dict[int, str]
    by_printed: dict[str, tuple[int, ...]]


def running_of(pages: Sequence[PageText]) -> Running:
    """The running heads, feet and page numbers of a book."""
    rows: dict[int, list[tuple[int, int, str]]] = {}
    for page in pages:
        for index, line in enumerate(page.lines):
            near_edge = line.top < EDGE or line.bottom > 1 - EDGE
            if near_edge and not line.region and (_lettered(line.text) or _outermost(page, index)):
                rows.setdefault(round(line.top * 250), []).append((page.pdf_page, index, line.text))
    lines: dict[int, set[int]] = {}
    need = 2 if len(pages) < 8 else max(3, len(pages) // 12)
    for level in sorted(rows):
        near = rows[level] + rows.get(level + 1, [])
        shared = _repeated(near, need)
        for pdf_page, index, text in near:
            if shared and (_shape(text) in shared or _has_shared(text, shared)):
                lines.setdefault(pdf_page, set()).add(index)
    _complete_rows(pages, lines, need)
    printed = _printed(pages, lines)
    by_printed: dict[str, list[int]] = {}
    for pdf_page, number in printed.items():
        by_printed.setdefault(same_page(number), []).append(pdf_page)
    return Running(
        {page: frozenset(found) for page, found in lines.items()},
        printed,
        {number: tuple(found) for number, found in by_printed.items()},
    )


def same_page(number: str) -> str:
    """A printed page number in one spelling, for comparing."""
    return re.sub(r"[–—.]", "-", number).strip().lower()


def _lettered(text: str) -> bool:
    return any(c.isalpha() for c in text)


def _shape(text: str) -> str:
    return _DIGITS.sub("#", text).replace("\t", " ").strip().lower()


def _repeated(rows: list[tuple[int, int, str]], need: int) -> set[str]:
    """The pieces of text that stand on this level of enough pages."""
    pages: dict[str, set[int]] = {}
    for pdf_page, _, text in rows:
        whole = _shape(text)
        for piece in {whole, *(_shape(part) for part in text.split("\t"))}:
            if piece and (piece == whole or _lettered(piece)):
                pages.setdefault(piece, set()).add(pdf_page)
    return {piece for piece, found in pages.items() if len(found) >= need}


def _has_shared(text: str, shared: set[str]) -> bool:
    return any(_shape(part) in shared and _lettered(part) for part in text.split("\t"))


def _complete_rows(pages: Sequence[PageText], lines: dict[int, set[int]], need: int) -> None:
    """Also what stands level with a running line on its own page: the chapter's name in the head; and what
    stands on a level where nearly every page has a running line, when nothing stands beyond it."""
    levels: Counter[int] = Counter()
    for page in pages:
        for index in lines.get(page.pdf_page, ()):
            levels[round(page.lines[index].top * 100)] += 1
    for page in pages:
        running = [page.lines[index] for index in lines.get(page.pdf_page, ())]
        for index, line in enumerate(page.lines):
            if line.region or not (line.top < EDGE or line.bottom > 1 - EDGE):
                continue
            middle = (line.top + line.bottom) / 2
            if any(other.top <= middle <= other.bottom for other in running):
                lines.setdefault(page.pdf_page, set()).add(index)
            elif levels[round(line.top * 100)] >= max(need, len(pages) // 2) and _outermost(page, index):
                lines.setdefault(page.pdf_page, set()).add(index)


def _outermost(page: PageText, index: int) -> bool:
    line = page.lines[index]
    tops = [other.top for other in page.lines]
    return line.top <= min(tops) + 0.004 or line.top >= max(tops) - 0.004


def _printed(pages: Sequence[PageText], lines: dict[int, set[int]]) -> dict[int, str]:
    """The printed number of each page, by the scheme that advances with the pages."""
    plain: dict[int, list[str]] = {}
    chaptered: dict[int, list[str]] = {}
    roman: dict[int, list[str]] = {}
    for page in pages:
        for index in lines.get(page.pdf_page, ()):
            for piece in _edge_pieces(page.lines[index].text):
                for pattern, into in ((_PLAIN, plain), (_CHAPTERED, chaptered), (_ROMAN, roman)):
                    if pattern.fullmatch(piece):
                        into.setdefault(page.pdf_page, []).append(piece)
    advancing = _advancing(chaptered)
    offset = _offset(plain)
    steady = (
        {}
        if offset is None
        else {p: str(p - offset) for p, found in plain.items() if str(p - offset) in found}
    )
    numbers: dict[int, str] = {}
    for page in pages:
        number = page.pdf_page
        pair = (advancing, steady) if len(advancing) >= len(steady) else (steady, advancing)
        chosen = pair[0].get(number) or pair[1].get(number)
        if chosen is None and len(roman.get(number, [])) > 0:
            chosen = roman[number][-1]
        if chosen is None and page.label:
            chosen = page.label
        if chosen is not None:
            numbers[number] = chosen
    return numbers


def _edge_pieces(text: str) -> list[str]:
    """What stands at the outer ends of a running line, where page numbers stand."""
    pieces = [piece.strip(_TRIM) for piece in _PIECES.split(text)]
    pieces = [piece for piece in pieces if piece]
    parts = {pieces[0], pieces[-1]} if pieces else set()
    for part in text.split("\t"):
        words = part.split()
        if words:
            parts |= {words[0].strip(_TRIM), words[-1].strip(_TRIM)}
    return sorted(parts)


def _advancing(found: dict[int, list[str]]) -> dict[int, str]:
    """Chapter-page numbers that change from page to page (an edition or form number does not)."""
    count: Counter[str] = Counter(piece for pieces in found.values() for piece in set(pieces))
    limit = max(2, len(found) // 5)
    chosen: dict[int, str] = {}
    for page, pieces in found.items():
        usable = [piece for piece in pieces if count[piece] <= limit]
        if usable:
            chosen[page] = usable[-1]
    return chosen


def _offset(found: dict[int, list[str]]) -> int | None:
    """PDF page less printed page, where most pages agree."""
    offsets: Counter[int] = Counter(
        page - int(piece) for page, pieces in found.items() for piece in set(pieces)
    )
    if not offsets:
        return None
    offset, count = offsets.most_common(1)[0]
    return offset if count >= max(1, len(found) // 3) else None
