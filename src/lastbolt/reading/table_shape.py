"""What a table is: cells, rows, headings; and how words become cells."""

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from lastbolt.reading.table_words import Heading, TableWords
from lastbolt.reading.units import torque_unit
from lastbolt.words.citation import Box
from lastbolt.words.page import Word


class Cell(NamedTuple):
    """The words in one cell; `left` is where they begin."""

    text: str
    left: float
    bold: bool


class Row(NamedTuple):
    """One row of cells, as many as the table has columns."""

    cells: tuple[Cell, ...]
    box: Box


class Table(NamedTuple):
    """A table. `headings` holds one entry per column, None where the words mean nothing to us."""

    pdf_page: int
    box: Box
    ruled: bool
    titles: tuple[str, ...]
    headings: tuple[Heading | None, ...]
    rows: tuple[Row, ...]
    heads: tuple[tuple[Word, ...], ...] = ()
    """The words of each heading where they stand on the page."""
    edges: tuple[float, ...] = ()
    """Where the columns of a ruled table begin and end."""
    top: Row | None = None
    """The row that was taken for the headings of a ruled table."""
    told: str = ""
    """What is to be told of how its columns were known."""
    above: str = ""
    """The words of the rows above the headings, inside the table's rules: its caption."""
    of: str = ""
    """What the words above it say it lists, where these are no parts: "tool"."""

    def column(self, role: str) -> int | None:
        """The first column of that role."""
        return next((i for i, h in enumerate(self.headings) if h is not None and h.role == role), None)


EMPTY_CELL = Cell("", 0.0, False)


def inside(word: Word, box: Box) -> bool:
    """Whether the word's middle lies in the box."""
    x, y = (word.left + word.right) / 2, (word.top + word.bottom) / 2
    return box[0] <= x <= box[2] and box[1] <= y <= box[3]


def text_rows(words: Iterable[Word]) -> list[list[Word]]:
    """Words that stand on one line, from top to bottom, each from left to right."""
    rows: list[list[Word]] = []
    middle = height = 0.0
    for word in sorted(words, key=lambda w: w.top + w.bottom):
        centre = (word.top + word.bottom) / 2
        if rows and centre - middle < 0.4 * max(height, word.bottom - word.top):
            rows[-1].append(word)
        else:
            rows.append([word])
            middle, height = centre, word.bottom - word.top
    for row in rows:
        row.sort(key=lambda w: w.left)
    return rows


def box_around(words: Sequence[Word]) -> Box:
    """The box around the words."""
    return (
        min(w.left for w in words),
        min(w.top for w in words),
        max(w.right for w in words),
        max(w.bottom for w in words),
    )


def cell_of(words: list[Word]) -> Cell:
    """The words of one cell as text, line by line."""
    if not words:
        return EMPTY_CELL
    lines = text_rows(words) if len(words) > 1 else [words]
    text = ""
    for line in lines:
        text = gone_on(text, " ".join(word.text for word in line))
    return Cell(text, min(w.left for w in words), all(w.bold for w in words))


def gone_on(text: str, more: str) -> str:
    """A cell's words with those of its next line; a word broken at the end of the first is made whole."""
    if not text or not more:
        return text or more
    if text.endswith("\u00ad"):
        return text[:-1] + more
    before = text[-2:-1]
    if not text.endswith("-") or not more[0].isalnum() or not before.isalnum():
        return f"{text} {more}"
    return text[:-1] + more if before.islower() and more[0].islower() else text + more


def phrases_of(row: list[Word], width_pt: float, spread: float = 1.0) -> list[list[Word]]:
    """The row cut where the gap is wider than a space."""
    phrases = [[row[0]]]
    for word in row[1:]:
        last = phrases[-1][-1]
        if (word.left - last.right) * width_pt > 0.75 * spread * max(word.size_pt, last.size_pt):
            phrases.append([word])
        else:
            phrases[-1].append(word)
    return phrases


def _begun_again(phrase: list[Word]) -> list[list[Word]]:
    """Headings set close together that begin with one word: "Torque, lb-ft Torque, N·m" is two."""
    first = phrase[0].text.casefold().strip(",.:;")
    cuts = [i for i, word in enumerate(phrase) if word.text.casefold().strip(",.:;") == first]
    if len(cuts) < 2 or len(first) < 3:
        return [phrase]
    return [phrase[a:b] for a, b in zip(cuts, (*cuts[1:], len(phrase)), strict=True)]


def heading_phrases(
    row: list[Word], width_pt: float, language: TableWords, spread: float = 1.0
) -> list[list[Word]]:
    """A row of headings cut at wide gaps, where a heading's first word comes again, and by known words."""
    phrases = [part for one in phrases_of(row, width_pt, spread) for part in _begun_again(one)]
    return [part for phrase in phrases for part in _parted(phrase, language)]


def _parted(phrase: list[Word], language: TableWords) -> list[list[Word]]:
    """Headings set close together, told apart by their words: "Item Part no." is two."""
    parts: list[list[Word]] = []
    at = 0
    while at < len(phrase):
        for length in range(min(4, len(phrase) - at), 0, -1):
            part = phrase[at : at + length]
            heading = language.heading(" ".join(word.text for word in part))
            if heading is not None and (not heading.rest or _with_unit(heading, part)):
                parts.append(part)
                at += length
                break
        else:
            return [phrase]
    return parts


def _with_unit(heading: Heading, part: list[Word]) -> bool:
    """Whether what stands behind the known words can be a unit: "Torque, lb-ft"."""
    if heading.role not in ("torque", "limit"):
        return False
    ends = (" ".join(word.text for word in part[-length:]) for length in (1, 2))
    return len(heading.rest.split()) == 1 or any(torque_unit(end.strip("()[],;:")) for end in ends)


def split_at(row: list[Word], bounds: list[float]) -> list[list[Word]]:
    """The words of a row by the columns that their middles stand in."""
    cells: list[list[Word]] = [[] for _ in range(len(bounds) + 1)]
    for word in row:
        middle = (word.left + word.right) / 2
        cells[sum(middle > bound for bound in bounds)].append(word)
    return cells
