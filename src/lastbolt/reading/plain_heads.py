"""Headings that stand out by nothing but their number or their sloping type, learned from the book."""

import re
from collections.abc import Sequence
from itertools import pairwise

from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.lines import Line
from lastbolt.reading.schema import could_head
from lastbolt.reading.titles import names_work, only_a_deed

_NUMBERED = re.compile(
    r"(?:[^\W\d_]{2,10}\.?\s)?(?P<number>\d{1,3}(?:[.\-–/]\d{1,3}){1,3}|[A-Z](?:[.\-–]?\d{1,3}){1,3})[.)]?"
    r"[\s\t]+(?P<title>[A-Z“\"].*)"
)
_DIGITS = re.compile(r"\d+|[A-Z]")
_FEWEST = 4
_SHARE = 0.8
_LONGEST = 9
"""A heading has no more words than this."""
_ENDS = (".", ",", ";", ":")
Body = Sequence[tuple[int, list[Line]]]


def with_plain_heads(body: Body, language: Lexicon) -> list[tuple[int, list[Line]]]:
    """The lines of the pages, those that the book shows to be headings set in bold."""
    found = _numbered(body, language) or _sloping(body, language)
    if not found:
        return list(body)
    return [
        (page, [line._replace(bold=True, lead=len(line.text)) if (page, n) in found else line
                for n, line in enumerate(lines)])
        for page, lines in body
    ]  # fmt: skip


def _numbered(body: Body, language: Lexicon) -> set[tuple[int, int]]:
    """Lines "4.2 Cover, removal" whose numbers count up, in a book whose headings are set like its text."""
    found: list[tuple[tuple[int, int], tuple[int, ...], Line]] = []
    for page, lines in body:
        for n, line in enumerate(lines):
            match = None if line.region else _NUMBERED.fullmatch(line.text)
            if match is None or len(match["title"].split()) > _LONGEST or not could_head(line, language):
                continue
            if line.bold or line.underlined or match["title"].isupper():
                return set()
            found.append(((page, n), _places(match["number"]), line))
    alone = [one for one in found if not one[2].text.rstrip().endswith(_ENDS)]
    if len(alone) < _FEWEST or len(alone) < _SHARE * len(found):
        return set()
    telling = sum(_is_title(one[2].text, language) for one in alone)
    rising = sum(first[1] < second[1] for first, second in pairwise(alone))
    distinct = len({one[1] for one in alone}) == len(alone)
    if not distinct or rising < _SHARE * (len(alone) - 1) or 2 * telling < len(alone):
        return set()
    return {one[0] for one in alone}


def _places(number: str) -> tuple[int, ...]:
    return tuple(int(one) if one.isdigit() else ord(one) for one in _DIGITS.findall(number))


def _is_title(text: str, language: Lexicon) -> bool:
    match = _NUMBERED.fullmatch(text)
    title = match["title"] if match is not None else text
    return names_work(title, language) or only_a_deed(title, language)


def _sloping(body: Body, language: Lexicon) -> set[tuple[int, int]]:
    """Short lines in sloping type, most of which are titles of work, where no line is bold."""
    found: list[tuple[tuple[int, int], Line]] = []
    for page, lines in body:
        for n, line in enumerate(lines):
            if line.region or not line.italic or line.text.rstrip().endswith(_ENDS):
                continue
            if len(line.text.split()) <= _LONGEST and could_head(line, language):
                found.append(((page, n), line))
    telling = [one for one in found if _is_title(one[1].text, language)]
    if len(telling) < _FEWEST or len(telling) < _SHARE * len(found):
        return set()
    return {place for place, _ in found}
