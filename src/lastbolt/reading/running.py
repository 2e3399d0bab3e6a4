"""Running heads and feet, learned from their repetition, and the page numbers printed in them."""

import re
from collections import Counter
from collections.abc import Callable, Sequence
from typing import NamedTuple

from lastbolt.reading.lines import Line
from lastbolt.words.page import Aside

EDGE = 0.12
"""Heads and feet stand in this part of the page at the top and the bottom."""
_DEEPEST = 3
_FEWEST_LETTERS = 3
"""A line below the outermost that runs has so many: "0.4 h" stands beside many headings."""
_DIGITS = re.compile(r"\d+")
_ROMAN = re.compile(r"[ivxlc]{1,7}|[IVXLC]{1,7}")
_PLAIN = re.compile(r"\d{1,4}")
_CHAPTERED = re.compile(
    r"(?:\d{1,3}[A-Z]?|[A-Z]{1,3}\d?)(?:[-–./:·]\d{1,3}){1,2}|[A-Z]{1,2}\d{1,3}|\d{1,3}[a-z]"
)
_OF_ALL = re.compile(r"(?<![\d.\-–])(\d{1,4})\s?(?:[^\W\d_]{2,4}|/)\s?\d{1,4}(?![\d.\-–])")
"""The page and how many there are: "Page 6 of 21", "6/21"."""
_SPACED = re.compile(r"(?<=\d)\s[-–]\s(?=\d)")
"""Inside a page number that is printed "5 - 12"."""
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
    scanned: bool = False
    asides: tuple[Aside, ...] = ()
    """What stands on it beside its lines."""


class Running(NamedTuple):
    """Which lines of each page are running heads or feet, and the printed page number of each page."""

    lines: dict[int, frozenset[int]]
    printed: dict[int, str]
    by_printed: dict[str, tuple[int, ...]]


def running_of(
    pages: Sequence[PageText],
    heads: Callable[[str], bool] | None = None,
    orders: Callable[[str], bool] | None = None,
) -> Running:
    """The running heads, feet and page numbers of a book.

    Args:
        pages: the pages in order
        heads: whether a line is a section's number alone ("TASK 32-10-01"), which often comes first on a page
            and is then no running head
        orders: whether a line tells what to do: a step, which is none unless half the pages have it
    """
    need = 2 if len(pages) < 8 else max(3, len(pages) // 12)
    shared = _shared(pages, need, orders)
    lines: dict[int, set[int]] = {}
    for page in pages:
        for rows in (_edge_rows(page, top=True), _edge_rows(page, top=False)):
            for depth, row in enumerate(rows):
                if heads is not None and depth > 0 and any(heads(page.lines[i].text) for i in row):
                    break
                if not any(_repeats(page.lines[index], shared, depth) for index in row):
                    break
                lines.setdefault(page.pdf_page, set()).update(row)
    _complete_rows(pages, lines, need)
    if heads is not None:
        _give_back(pages, lines, heads)
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
    return re.sub(r"[–—./:·]", "-", number).strip().lower()


def _lettered(text: str) -> bool:
    return any(c.isalpha() for c in text)


def _shape(text: str) -> str:
    if _ROMAN.fullmatch(text.strip(_TRIM)):
        return "#"
    return _DIGITS.sub("#", text).replace("\t", " ").strip().lower()


def _edge_rows(page: PageText, *, top: bool) -> list[list[int]]:
    """The outermost rows of lines at the top or the bottom of a page, from the edge inwards."""
    found = [
        (line.top, index)
        for index, line in enumerate(page.lines)
        if not line.region and (line.top < EDGE if top else line.bottom > 1 - EDGE)
    ]
    found.sort(reverse=not top)
    rows: list[list[int]] = []
    for _, index in found:
        line = page.lines[index]
        last = page.lines[rows[-1][0]] if rows else None
        if last is not None and last.top < (line.top + line.bottom) / 2 < last.bottom:
            rows[-1].append(index)
        elif len(rows) == _DEEPEST:
            break
        else:
            rows.append([index])
    return rows


def _level(line: Line) -> int:
    return round(line.top * 100)


def _shared(
    pages: Sequence[PageText], need: int, orders: Callable[[str], bool] | None
) -> dict[str, set[int]]:
    """Texts (numbers levelled) that stand at one level near the edge of enough pages, with those levels."""
    seen: dict[tuple[str, int], set[int]] = {}
    printed: dict[str, str] = {}
    for page in pages:
        for rows in (_edge_rows(page, top=True), _edge_rows(page, top=False)):
            for depth, row in enumerate(rows):
                for index in row:
                    line = page.lines[index]
                    for piece in _pieces(line, depth):
                        printed.setdefault(piece, line.text)
                        for level in (_level(line), _level(line) + 1):
                            seen.setdefault((piece, level), set()).add(page.pdf_page)
    shared: dict[str, set[int]] = {}
    for (piece, level), found in seen.items():
        few = 2 * len(found) < len(pages) and orders is not None
        if len(found) >= need and not (few and orders is not None and orders(printed[piece])):
            shared.setdefault(piece, set()).update((level, level - 1))
    return shared


def _pieces(line: Line, depth: int) -> set[str]:
    """The whole text; of the outermost row also its parts that hold letters."""
    whole = _shape(line.text)
    if depth > 0:
        return {whole} if sum(map(str.isalpha, whole)) >= _FEWEST_LETTERS else set()
    named = (part for part in line.text.split("\t") if sum(map(str.isalpha, part)) > 1)  # "(b)" is a mark
    return {whole, *(_shape(part) for part in named)}


def _repeats(line: Line, shared: dict[str, set[int]], depth: int) -> bool:
    return any(_level(line) in shared.get(piece, ()) for piece in _pieces(line, depth))


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
            level_with = any(other.top <= middle <= other.bottom for other in running)
            usual = levels[round(line.top * 100)] >= max(need, len(pages) // 2)
            if level_with or (usual and _outermost(page, index)):
                lines.setdefault(page.pdf_page, set()).add(index)


def _give_back(pages: Sequence[PageText], lines: dict[int, set[int]], heads: Callable[[str], bool]) -> None:
    """A section's number is no running line where others are."""
    for page in pages:
        found = lines.get(page.pdf_page, set())
        own = {index for index in found if heads(page.lines[index].text)}
        if own != found:
            found -= own


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
            text = page.lines[index].text
            for piece in _edge_pieces(text):
                for pattern, into in ((_PLAIN, plain), (_CHAPTERED, chaptered), (_ROMAN, roman)):
                    if pattern.fullmatch(piece):
                        into.setdefault(page.pdf_page, []).append(piece)
            of_all = _OF_ALL.search(text)
            if of_all is not None:
                plain.setdefault(page.pdf_page, []).append(of_all[1])
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
    text = _SPACED.sub("-", text)
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
