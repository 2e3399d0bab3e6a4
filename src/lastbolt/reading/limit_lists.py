"""Limits in lines under a title that says so: "Valve guide, bore: standard 8.00-8.02 mm, limit 8.10"."""

import re
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from lastbolt.reading.drafts import Cite, SectionDraft, slug
from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.limit_facts import made_limit, named
from lastbolt.reading.limit_problems import Complaint
from lastbolt.reading.limit_prose import ProseLimit, limits_in
from lastbolt.reading.limit_words import LimitWords, limit_words, plain
from lastbolt.reading.piece import At, Piece
from lastbolt.words.citation import Citation, PdfPlace, rounded
from lastbolt.words.measured import Limit

_LEADER = re.compile(r"\s*(?:[.·…_]\s?){3,}\s*")
_FEWEST = 2
_LONGEST = 10
"""A name has at most so many words."""


class Listed(NamedTuple):
    """The limits of lines, and what is to be told of them."""

    limits: tuple[Limit, ...]
    complaints: tuple[Complaint, ...]


def limits_in_lines(sections: Iterable[SectionDraft], cite: Cite, language: Lexicon) -> Listed:
    """The limits of sections whose title says that they list limits, and that have no steps."""
    words = limit_words()
    limits: list[Limit] = []
    told: list[Complaint] = []
    for section in sections:
        if any(item.kind == "step" for item in section.items):
            continue
        if not words.among(plain(section.title), "heads", "titles"):
            continue
        for item in section.items:
            made = [one for piece in item.pieces for one in _of_piece(piece, cite, language, words)]
            if len(made) >= _FEWEST:
                limits += [limit for limit, _ in made]
                told += [one for _, complaints in made for one in complaints]
    return Listed(tuple(limits), tuple(told))


def _of_piece(
    piece: Piece, cite: Cite, language: Lexicon, words: LimitWords
) -> Iterator[tuple[Limit, list[Complaint]]]:
    for at in piece.lines:
        text = _LEADER.sub(": ", at.line.text.replace("\t", " "))
        digit = re.search(r"\d", text)
        if digit is None:
            continue
        what = words.pattern("cues", "limit", "standard").sub(" ", text[: digit.start()]).strip(" :;,.(–-")
        prose = limits_in(text, language)
        if len(prose.limits) != 1 or prose.unread or not 0 < len(what.split()) <= _LONGEST:
            continue
        yield _made(what, text, at, cite, prose.limits[0], words)


def _made(
    what: str, text: str, at: At, cite: Cite, prose: ProseLimit, words: LimitWords
) -> tuple[Limit, list[Complaint]]:
    line = at.line
    place = PdfPlace(
        at.pdf_page, cite.printed.get(at.pdf_page), rounded((line.left, line.top, line.right, line.bottom))
    )
    said = Citation(cite.source, place, text)
    made = made_limit(f"{cite.source}/limit/{slug(what, 60)}", named(what, words), prose.read, said)
    return made.limit, [Complaint(code, what, why, said) for code, why in made.tell]
