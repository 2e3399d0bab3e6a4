"""Steps that are sentences of running paragraphs: a paragraph cut into one item for each thing to do."""

import re

from lastbolt.reading.drafts import Item, SectionDraft
from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.piece import At, Piece, joined
from lastbolt.reading.pointers import pointers_in
from lastbolt.reading.sentences import sentences
from lastbolt.reading.swallowed import in_general
from lastbolt.reading.titles import names_work
from lastbolt.reading.verbs import leads, orders, told_passively, verbs_in
from lastbolt.words.machine import Deed

_OPENS_WITH_VALUE = re.compile(r"\d*[.,]\d+\s?(?:[-–—]|to\s|mm\b|in\b)")
_FEWEST = 3
_SHARE = 0.6
"""Of the sentences of a section whose title tells nothing, this share tells to do something."""


def by_sentences(item: Item, language: Lexicon) -> list[Item]:
    """The sentences of a paragraph as items of their own; what tells nothing stays with the one before."""
    piece = item.pieces[0]
    said = sentences(item.text, language)
    if len(said) < 2 or len(item.pieces) > 1:
        return [item]
    groups: list[str] = []
    for sentence in said:
        if groups and not _tells(sentence, language):
            groups[-1] = f"{groups[-1]} {sentence}"
        else:
            groups.append(sentence)
    if len(groups) < 2:
        return [item]
    return [Item(item.kind, part) for part in _parts(piece, groups)]


def steps_are_sentences(section: SectionDraft, deed: Deed, language: Lexicon) -> bool:
    """Whether the sentences of a section without marks can be its steps: its title is work on a part, and not
    something under general information ("Lifting"); or most of its sentences tell to do something."""
    if deed == "other":
        return _mostly_orders(section, language)
    if names_work(section.title, language) or section.parent is None:
        return True
    words = section.parent.title.lower().split()
    return not any(language.among(word, "pointing", "for_information") for word in words)


def _mostly_orders(section: SectionDraft, language: Lexicon) -> bool:
    """Whether most sentences of a section order something, and it is not for all work in general."""
    if in_general(section, language):
        return False
    said = [one for item in section.items if item.kind == "text" for one in sentences(item.text, language)]
    told = sum(_orders(one, language) for one in said)
    return told >= max(_FEWEST, _SHARE * len(said))


def _orders(sentence: str, language: Lexicon) -> bool:
    scan = language.scan(sentence)
    found = verbs_in(scan, language)
    return (bool(found) and leads(scan, found[0], language)) or orders(scan, language)


def tells_somehow(sentence: str, language: Lexicon) -> bool:
    """Whether a sentence tells what to do by a verb that no list has, or by what is done ("is removed")."""
    scan = language.scan(sentence)
    return orders(scan, language) or told_passively(scan, language)


def _tells(sentence: str, language: Lexicon) -> bool:
    """Whether a sentence says to do something, or points somewhere; one that opens with a value goes on with
    the one before ("Read the bore. 4.97 to 4.99 mm, replace at 4.85 mm.")."""
    if _OPENS_WITH_VALUE.match(sentence):
        return False
    scan = language.scan(sentence)
    if verbs_in(scan, language) or orders(scan, language) or told_passively(scan, language):
        return True
    return bool(pointers_in(scan, language))


def _parts(piece: Piece, groups: list[str]) -> list[Piece]:
    """One piece for each group of sentences, with the lines it stands on."""
    ends: list[tuple[At, int]] = []
    text = ""
    for at in piece.lines:
        text = joined(text, at.line.text)
        ends.append((at, len(text)))
    ahead = max(0, text.find(piece.text[:20]))
    parts: list[Piece] = []
    start = ahead
    for group in groups:
        end = start + len(group)
        on = [at for at, last, first in _spans(ends) if first < end and last > start] or [piece.lines[-1]]
        part = Piece("text", on[0], group)
        part.lines = on
        part.left, part.boxed = piece.left, piece.boxed
        parts.append(part)
        start = end + 1
    return parts


def _spans(ends: list[tuple[At, int]]) -> list[tuple[At, int, int]]:
    """Each line with where its words end and begin in the text."""
    starts = [0, *(end for _, end in ends)]
    return [(at, end, first) for (at, end), first in zip(ends, starts, strict=False)]
