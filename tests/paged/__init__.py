"""A small book made page by page, without a file: its section 5.1 holds the sentences under test."""

from collections.abc import Iterator

from lastbolt.app.read_sources import Paged, SourceFile, read_sources, references_of
from lastbolt.words.machine import Machine, Procedure, Reference
from lastbolt.words.page import PageLayout, Word

BEFORE = (
    "# 2 LUBRICATION",
    "## 2.1 Draining the oil",
    "1. Undo the drain plug.",
    "2. Drain the oil into a tin.",
    "# 4 COOLING",
    "## 4.1 Removing the grille",
    "1. Remove the two screws.",
    "## 4.2 Removing the blower",
    "1. Undo the nut.",
    "2. Pull off the blower.",
    "## 4.3 Removing the duct",
    "1. Lift off the duct.",
    "## 4.4 Checking the belt",
    "1. Measure the belt.",
    "# 5 DRIVE",
)
BEHIND = ("# 7 DATA", "## 7.1 Torque values", "The values hold for dry threads.")


def _wrapped(text: str) -> Iterator[str]:
    line = ""
    for word in text.split():
        if line and len(line) + len(word) > 94:
            yield line
            line = word
        else:
            line = f"{line} {word}".strip()
    yield line


def _pages(paragraphs: tuple[str, ...]) -> list[PageLayout]:
    made: list[PageLayout] = []
    words: list[Word] = []
    top = 0.06
    for paragraph in paragraphs:
        marks, _, text = paragraph.partition(" ") if paragraph[0] == "#" else ("", "", paragraph)
        size_pt = {"#": 16.0, "##": 13.0}.get(marks, 10.0)
        if top > 0.85:
            made.append(PageLayout(len(made) + 1, 595.0, 842.0, tuple(words)))
            words, top = [], 0.06
        top += 0.02 if marks else 0.0
        for line in _wrapped(text):
            left = 0.1
            for word in line.split():
                right = left + len(word) * size_pt / 1190
                words.append(Word(word, left, top, right, top + size_pt / 842, size_pt, bool(marks)))
                left = right + size_pt / 2000
            top += size_pt / 670
        top += 0.012
    return [*made, PageLayout(len(made) + 1, 595.0, 842.0, tuple(words))]


def book(*section: str, opening: tuple[str, ...] = (), more: tuple[str, ...] = ()) -> Machine:
    """The book with these paragraphs in its section 5.1; `opening` stands under the title of chapter 5."""
    lines = (*BEFORE, *opening, "## 5.1 Removing the lever", *section, *more, *BEHIND)
    return read_sources([Paged(SourceFile("book.pdf"), _pages(lines))]).machine


def numbered(machine: Machine, number: str) -> Procedure:
    (found,) = [one for one in machine.procedures if one.number == number]
    return found


def pointing(*section: str) -> list[Reference]:
    """What section 5.1 points at."""
    return list(references_of(numbered(book(*section), "5.1")))


def said(references: list[Reference]) -> list[tuple[str, str, list[str]]]:
    """Role, status and the numbers that each leads to."""
    return [(r.role, r.status, [to.rpartition("/")[2] for to in r.to]) for r in references]
