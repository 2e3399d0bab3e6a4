"""Which pages are covers: the first of a book, with its title and little else."""

from collections.abc import Sequence

from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.lines import Line
from lastbolt.reading.marks import mark_of
from lastbolt.reading.schema import NUMBERED, number_alone
from lastbolt.reading.sentences import sentences
from lastbolt.reading.swallowed import instructs

_MOST_WORDS = 90
_LONGEST_SENTENCE = 12
_MOST = 2
"""So many pages may be covers: a cover and a page of title."""


def cover_pages(pages: Sequence[tuple[int, Sequence[Line]]], language: Lexicon) -> frozenset[int]:
    """The covers of a book: pages before all others without a step, a numbered heading or running text."""
    found: set[int] = set()
    for number, lines in pages[:_MOST]:
        if not _is_cover(lines, language):
            break
        found.add(number)
    return frozenset(found) if len(pages) > len(found) else frozenset()


def _is_cover(lines: Sequence[Line], language: Lexicon) -> bool:
    if any(line.region for line in lines) or sum(line.words for line in lines) > _MOST_WORDS:
        return False
    return not any(_tells(line, language) for line in lines)


def _tells(line: Line, language: Lexicon) -> bool:
    """Whether a line is a step, the heading of a section or a sentence."""
    text = line.text.strip()
    headed = NUMBERED.fullmatch(text)
    word = (headed["word"] or "").lower().rstrip(".") if headed is not None else ""
    named = bool(word) and language.among(word, "titles", "chapter")
    if named or (headed is not None and not word and not headed["number"].isdigit()):
        return True
    if number_alone(text, language) is not None or mark_of(text, language) is not None:
        return True
    if instructs(text, language) or _orders(text, language):
        return True
    return any(len(one.split()) > _LONGEST_SENTENCE for one in sentences(text, language))


def _orders(text: str, language: Lexicon) -> bool:
    """Whether a sentence says what comes first: "before separating the case carry out 2.1"."""
    scan = language.scan(text)
    works = scan.has("deeds") or any(sign.isdigit() for sign in text)
    return bool(scan.of("order", "before")) and works and text.endswith(".")
