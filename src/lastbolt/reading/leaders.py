"""Leaders ("Cover ........ 2") and typed rules ("-----") of tables: taken out, so that columns stand free."""

import re
from collections.abc import Iterable, Sequence

from msgspec.structs import replace

from lastbolt.words.page import Word

_LEADER = re.compile(r"[.·…_․‥]{3,}|[…‥]+")
_RULE = re.compile(r"[-–—_=~]{3,}")
_GLUED = re.compile(r"(?<=[^\s.·…])(?:[.·․]{4,}|…{2,}|…$|_{4,})|^(?:[.·․]{6,}|…{2,}|_{4,})(?=\w)")
_LEADS = re.compile(r"\.\.|--|__|[…‥·–—=~․]")
"""What every leader and every rule has."""
_DOT = re.compile(r"[.·․]{1,2}")
_FEWEST_DOTS = 4
"""So many dots one behind the other are a leader; fewer may tell how deep a part's name is indented."""


def without_leaders(words: Iterable[Word]) -> tuple[Word, ...]:
    """The words of a page without leaders and typed rules; a word glued to its leader is cut from it."""
    kept: list[Word] = []
    dots: list[Word] = []
    for word in words:
        text = word.text
        if not dots and text.isalnum():
            kept.append(word)
            continue
        if _DOT.fullmatch(text):
            dots.append(word)
            continue
        kept += _few(dots, kept)
        dots = []
        if _LEADS.search(text) is None:
            kept.append(word)
        elif not (_LEADER.fullmatch(text) or _RULE.fullmatch(text)):
            kept += _cut(word)
    return (*kept, *_few(dots, kept))


def _few(dots: Sequence[Word], before: Sequence[Word]) -> list[Word]:
    """The dots that stand alone, where they are no leader."""
    if len(dots) >= _FEWEST_DOTS and before and before[-1].right <= dots[0].left:
        return []
    return list(dots)


def _cut(word: Word) -> list[Word]:
    """The parts of a word before and behind its leader, each with its share of the box."""
    text, width = word.text, word.right - word.left
    parts, at = [], 0
    for match in (*_GLUED.finditer(text), None):
        end = match.start() if match is not None else len(text)
        if text[at:end]:
            left = word.left + width * at / len(text)
            parts.append(
                replace(word, text=text[at:end], left=left, right=word.left + width * end / len(text))
            )
        at = match.end() if match is not None else at
    return parts
