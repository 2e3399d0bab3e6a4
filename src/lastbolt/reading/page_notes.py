"""Notes at the foot of a page, told by a mark ("²⁾"): their words go to the place that bears the mark."""

import re
from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from lastbolt.reading.lines import Line
from lastbolt.reading.piece import At, Piece
from lastbolt.reading.torque_context import RAISED, plain_figures

_MARK = re.compile(
    rf"(?<![\s(⁺⁻{RAISED}])\s?(?P<mark>(?:(?<![mnt])[²³]|[¹⁴⁵⁶⁷⁸⁹]|[¹²³][{RAISED}])⁾?|[²³]⁾|[ᵃᵇᶜᵈᵉᶠᵍʰ]⁾?"
    rf"|⁽[{RAISED}]{{1,2}}⁾|(?<=\w)\*{{1,3}}\)?(?!\w)|[†‡])(?![{RAISED}])"
)
_LETTERS = str.maketrans("ᵃᵇᶜᵈᵉᶠᵍʰ⁽⁾", "abcdefgh()")
_OPENS = re.compile(
    rf"\s?(?P<mark>[{RAISED}]{{1,2}}[⁾)]?|[ᵃᵇᶜᵈᵉᶠᵍʰ][⁾)]?|⁽?\(?\d{{1,2}}[⁾)]|\d{{1,2}}(?=\s)|[a-h]\)"
    r"|\*{1,3}\)?|[†‡])\s?"
)
_SMALLER = 0.92
_TAKES = ("step", "text", "caution", "label")


class Note(NamedTuple):
    """A note of a page: its mark as plain figures, its words, the lines it stands on."""

    mark: str
    words: str
    lines: tuple[At, ...]


def marks_in(text: str) -> tuple[str, ...]:
    """The marks of notes in a text as printed, without those that are powers ("mm²")."""
    if text.isascii() and "*" not in text:
        return ()
    return tuple(dict.fromkeys(match["mark"] for match in _MARK.finditer(text)))


def plain_mark(mark: str) -> str:
    """A mark without brackets, in ordinary figures: "²⁾" is "2"."""
    return plain_figures(mark).translate(_LETTERS).strip("()") or mark


def notes_of(pdf_page: int, lines: Sequence[Line]) -> tuple[list[Line], list[Note]]:
    """The lines of a page without the notes at its foot, and these notes.

    A note begins with a mark that stands beside a word above it, and is set smaller than the page or its
    mark is raised.
    """
    wanted = {plain_mark(mark) for line in lines for mark in marks_in(line.text)}
    if not wanted:
        return list(lines), []
    sizes = sorted(line.size_pt for line in lines)
    typical = sizes[len(sizes) // 2]
    taken: dict[int, list[int]] = {}
    current = -1
    for index, line in enumerate(lines):
        small = line.size_pt <= _SMALLER * typical
        match = _OPENS.match(line.text)
        opens = (
            match is not None
            and plain_mark(match["mark"]) in wanted
            and (small or match["mark"][0] in RAISED)
            and not line.region
            and all(other.top < line.top for other in lines[:index] if marks_in(other.text))
        )
        if opens:
            current = index
            taken[index] = [index]
        elif current >= 0 and small and not line.region and lines[index - 1].size_pt == line.size_pt:
            taken[current].append(index)
        else:
            current = -1
    aside = {index for indexes in taken.values() for index in indexes}
    return [line for i, line in enumerate(lines) if i not in aside], [
        _note(pdf_page, [lines[i] for i in indexes]) for indexes in taken.values()
    ]


def _note(pdf_page: int, lines: Sequence[Line]) -> Note:
    match = _OPENS.match(lines[0].text)
    assert match is not None
    words = " ".join([lines[0].text[match.end() :], *(line.text for line in lines[1:])])
    at = tuple(At(pdf_page, line) for line in lines)
    return Note(plain_mark(match["mark"]), words.replace("\t", " ").strip(), at)


def with_notes(pieces: Iterable[Piece], notes: dict[int, list[Note]]) -> Iterator[Piece]:
    """The pieces, each with the notes of its page that its marks point to; a note of no place is a text."""
    waiting = {page: list(found) for page, found in sorted(notes.items())}
    claimed: set[int] = set()
    pages = list(waiting)[::-1]
    for piece in pieces:
        while pages and pages[-1] < piece.lines[0].pdf_page:
            page = pages.pop()
            yield from _as_texts(n for n in waiting.pop(page) if id(n) not in claimed)
        if waiting and piece.kind in _TAKES:
            _annotate(piece, waiting, claimed)
        yield piece
    for found in waiting.values():
        yield from _as_texts(n for n in found if id(n) not in claimed)


def _as_texts(notes: Iterable[Note]) -> Iterator[Piece]:
    for note in notes:
        piece = Piece("text", note.lines[0], note.words)
        piece.lines += note.lines[1:]
        yield piece


def _annotate(piece: Piece, waiting: dict[int, list[Note]], claimed: set[int]) -> None:
    """Put the words of the notes behind the words of the piece that bears their marks."""
    pages = sorted({at.pdf_page for at in piece.lines if at.pdf_page in waiting})
    for mark in marks_in(piece.text):
        for page in pages:
            for note in waiting[page]:
                if note.mark == plain_mark(mark):
                    stop = "" if piece.text.rstrip().endswith((".", "!", "?")) else "."
                    piece.text = f"{piece.text.rstrip()}{stop} {mark} {note.words}"
                    piece.lines += note.lines
                    claimed.add(id(note))
