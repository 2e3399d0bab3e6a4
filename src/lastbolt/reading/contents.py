"""Which pages are a table of contents, also one without page numbers: its lines come again as headings."""

import re
from collections.abc import Sequence

from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.lines import Line

_LETTERS = re.compile(r"[^\W\d_]+")
_LEADERS = re.compile(r"(?:[.·…_]\s?){4,}\s?\S{1,8}$|(?:\t|\s)(?:\d{1,4}|\d{1,3}[-–.]\d{1,3}|[ivxl]{1,6})$")
_DOTS = re.compile(r"(?:[.·…_]\s?){4,}")
_PAGE = re.compile(r"(?:[A-Z]{1,2}[-.]?)?\d{0,4}(?:[-–.]\d{1,3}){0,3}|[ivxl]{1,6}")
"""What stands behind the leader of a line of contents: a page, a section, or nothing."""
_LEAST_LINES = 6
_SURELY = 0.8
"""The same where no heading says "Contents"."""
_SHARE = 0.6
"""Of the lines of a page of contents at least this share stand alone on a line of a later page, too."""


def contents_pages(pages: Sequence[tuple[int, Sequence[Line]]], language: Lexicon) -> frozenset[int]:
    """The pages of contents and of an index: by their leaders and page numbers, or, under a heading
    "Contents", by lines that are titles of later pages."""
    led = {n for n, lines in pages if _by_leaders(lines, language)}
    return frozenset(led | _by_titles(pages, language) | _by_headings(pages))


def _by_titles(pages: Sequence[tuple[int, Sequence[Line]]], language: Lexicon) -> set[int]:
    """The pages under a heading "Contents" whose lines are titles of later pages, and those after them."""
    words = {_key(word) for word in language.words("titles", "contents")}
    firsts = {word.partition(" ")[0] for word in words}
    opened = [
        at
        for at, (_, lines) in enumerate(pages)
        if any(_begins(line.text, firsts) and _key(line.text) in words for line in lines)
    ]
    if not opened:
        return set()
    last_seen: dict[str, int] = {}
    for at, (_, lines) in enumerate(pages):
        for line in lines:
            last_seen[_key(line.text)] = at
    found: set[int] = set()
    for first in opened:
        for at in range(first, len(pages)):
            number, lines = pages[at]
            if not _lists_titles(lines, at, last_seen, words):
                break
            found.add(number)
    return found


def _by_headings(pages: Sequence[tuple[int, Sequence[Line]]]) -> set[int]:
    """The pages before the first chapter on which nearly every line comes again later and louder."""
    at_pages: dict[str, dict[int, Line]] = {}
    for at, (_, lines) in enumerate(pages):
        for line in lines:
            at_pages.setdefault(_key(line.text), {})[at] = line
    found: set[int] = set()
    for at, (number, lines) in enumerate(pages):
        keys = [(key, line) for line in lines if not line.region and len(key := _key(line.text)) > 2]
        again = [
            (line, next((other for n, other in at_pages[key].items() if n > at), None)) for key, line in keys
        ]
        loud = sum(other is not None and _louder(other, line) for line, other in again)
        if len(keys) >= _LEAST_LINES:
            if loud < _SURELY * len(keys):
                break
            found.add(number)
    return found


def _louder(line: Line, than: Line) -> bool:
    """Whether a line stands out more than another of the same words."""
    larger = line.size_pt > 1.08 * than.size_pt
    return larger or line.bold > than.bold or (line.text.isupper() and not than.text.isupper())


def _lists_titles(lines: Sequence[Line], at: int, last_seen: dict[str, int], words: set[str]) -> bool:
    titles = [key for line in lines if len(key := _key(line.text)) > 2 and key not in words]
    again = sum(last_seen[key] > at for key in titles)
    ended = sum(line.text.rstrip().endswith(".") and "..." not in line.text for line in lines)
    return len(titles) >= _LEAST_LINES and again >= _SHARE * len(titles) and ended < 0.2 * len(lines)


def _begins(text: str, firsts: set[str]) -> bool:
    """Whether one of some words stands in a text, if only as a part of another."""
    low = text.lower()
    return any(first in low for first in firsts)


def _key(text: str) -> str:
    """The letters of a line without numbers, leaders and signs, in small letters."""
    return " ".join(_LETTERS.findall(text.lower()))


def _by_leaders(lines: Sequence[Line], language: Lexicon) -> bool:
    """Whether a page is a table of contents or an index: most lines end in a page number after leaders."""
    body = [line for line in lines if len(line.text) > 3]
    if len(body) < 4:
        return False
    ends = [line.text[match.end() :].strip() for line in body if (match := _last_dots(line.text))]
    paged = sum(_PAGE.fullmatch(end) is not None for end in ends)
    dotted = len(ends) if paged >= _SHARE * len(ends) else 0  # else a list of torques, or of parts
    if dotted >= 0.5 * len(body):
        return True
    firsts = (line.text.strip().lower().strip(".: ") for line in body[:4])
    titled = any(language.among(first, "titles", "contents") for first in firsts)
    return titled and sum(_LEADERS.search(line.text) is not None for line in body) >= 0.4 * len(body)


def _last_dots(text: str) -> "re.Match[str] | None":
    return next(iter(list(_DOTS.finditer(text))[-1:]), None)
