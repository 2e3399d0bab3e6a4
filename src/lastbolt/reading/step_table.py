"""Tables whose rows are steps ("Line | Work | Qty | Size | Torque | See"): told from others, and as lines.

What stands in the further columns is put behind the step's own words, as a sentence would say it, so that the
rules for sentences read it and a person sees it in the step.
"""

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import NamedTuple

from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.lines import Line
from lastbolt.reading.piece import STEPS
from lastbolt.reading.step_runs import bids
from lastbolt.reading.table_words import Heading
from lastbolt.reading.tables import Row, Table
from lastbolt.reading.torques import torques_in
from lastbolt.reading.units import torque_unit

_FURTHER = ("quantity", "size", "length", "torque", "see", "tool", "remarks", "item")
_NOTHING = "-–— "
_PARTS = re.compile(r"[,()\[\]]|\bin\b|\s")
_FEWEST_ROWS = 2
_COUNT = re.compile(r"\d{1,4}(?:\.\d{1,2})?|[A-Za-z]|[A-Za-z]?\d{1,3}[a-z]?")
_WORDY = 0.6
"""In a table of steps this share of the rows with words has two words or more in the column of work."""


class _Entry(NamedTuple):
    """One row with the rows that go on with it: what it says in each column."""

    rows: list[Row]
    cells: list[list[str]]


def is_step_table(table: Table) -> bool:
    """Whether the table's rows are instructions: a column of work, and numbers or facts beside it."""
    work = table.column("work")
    if work is None or not any(table.column(role) is not None for role in _FURTHER):
        return False
    said = [row.cells[work].text for row in table.rows if row.cells[work].text]
    return bool(said) and sum(" " in text.strip() for text in said) >= _WORDY * len(said)


def step_table_of(table: Table, language: Lexicon) -> Table | None:
    """The table when its rows are instructions: by its headings, or, under headings that nobody knows, by a
    column of orders; its columns are then told by what stands in them."""
    if is_step_table(table):
        return table
    titles = " ".join(table.titles).lower()
    other = any(language.among(word, "titles", "other_tables") for word in re.findall(r"[^\W\d_]+", titles))
    if other or len(table.titles) < 2:
        return None
    known = {heading.role for heading in table.headings if heading is not None}
    if known & {"part_number", "limit"}:
        return None
    table = _without_headings(table, language)
    if len(table.rows) < _FEWEST_ROWS:
        return None
    shares = [_share(table, at, lambda text: bids(text, language)) for at in range(len(table.titles))]
    work = max(range(len(shares)), key=lambda at: shares[at])
    if shares[work] < _WORDY or table.column("name") not in (None, work):
        return None
    item = next((at for at in range(work) if _share(table, at, _counts) >= _WORDY), None)
    headings = list(table.headings)
    for at, role in ((table.column("work"), None), (work, "work"), (item, "item")):
        if at is not None:
            headings[at] = Heading(role, "") if role else None
    return table._replace(headings=tuple(headings))


def _without_headings(table: Table, language: Lexicon) -> Table:
    """The table with its first row among the others, where that row is a step and no headings."""
    if table.top is None or not any(bids(cell.text, language) for cell in table.top.cells):
        return table
    blank = ("",) * len(table.titles)
    return table._replace(rows=(table.top, *table.rows), titles=blank, headings=(None,) * len(blank))


def _share(table: Table, column: int, fits: Callable[[str], bool]) -> float:
    """The share of the filled cells of a column that fit, where most are filled."""
    said = [
        text for row in table.rows if (text := row.cells[column].text.strip()) and text not in table.titles
    ]
    return sum(fits(text) for text in said) / len(table.rows) if said else 0.0


def _counts(text: str) -> bool:
    """Whether a cell is a number or a letter that counts."""
    bare = text.strip("().:")
    return _COUNT.fullmatch(bare) is not None


def as_lines(lines: Sequence[Line], tables: dict[int, Table], language: Lexicon) -> list[Line]:
    """The page's lines with those of each table of steps made anew: one line per step or caution in it.

    `tables`: the table of each region that holds steps, by its index. The line of a step is its number (or
    nothing), its words, and these with what the other columns say, with tabs between; a caution has no tab.
    """
    made: list[Line] = []
    told: set[int] = set()
    for line in lines:
        if line.region != STEPS:
            made.append(line)
        elif line.place not in told:
            told.add(line.place)
            words = sum(one.words for one in lines if one.region == STEPS and one.place == line.place)
            made += _of_table(tables[line.place], line, words, language)
    return made


def _of_table(table: Table, model: Line, words: int, language: Lexicon) -> Iterator[Line]:
    work = table.column("work")
    assert work is not None
    entries = list(_entries(table, language))
    counts = [len(" ".join(part for parts in entry.cells for part in parts).split()) for entry in entries]
    if counts:  # every word of the table belongs to one of its lines: the first carries the headings too
        counts[0] = words - sum(counts[1:])
    for entry, count in zip(entries, counts, strict=True):
        left, top, right, bottom = _around(entry.rows)
        cells = [" ".join(parts) for parts in entry.cells]
        caution = _opens_caution(cells[work], language)
        text = _of_caution(table, cells) if caution else _text(table, cells)
        yield model._replace(
            text=text, left=left, top=top, right=right, bottom=bottom, bold=False, lead=0, words=count
        )


def _of_caution(table: Table, cells: Sequence[str]) -> str:
    """The row of a caution, its signal word first: a number that it may have is no part of it."""
    work, item = table.column("work"), table.column("item")
    first = [cells[work]] if work is not None else []
    return " ".join([*first, *(cell for at, cell in enumerate(cells) if cell and at not in (work, item))])


def _entries(table: Table, language: Lexicon) -> Iterator[_Entry]:
    """The rows gathered: a row without a number goes on with the one above, unless it opens a caution."""
    work, item = table.column("work"), table.column("item")
    assert work is not None
    current: _Entry | None = None
    for row in table.rows:
        cells = [cell.text.strip() for cell in row.cells]
        if cells == list(table.titles):
            continue
        begins = (
            bool(cells[item]) if item is not None else table.ruled or _follows_a_whole(current, cells, work)
        )
        if current is not None and not begins and not _opens_caution(cells[work], language):
            current.rows.append(row)
            for said, cell in zip(current.cells, cells, strict=True):
                said.extend([cell] if cell else [])
            continue
        if current is not None:
            yield current
        current = _Entry([row], [[cell] if cell else [] for cell in cells])
    if current is not None:
        yield current


def _follows_a_whole(current: _Entry | None, cells: Sequence[str], work: int) -> bool:
    """Whether the row above has come to its end and this one begins large."""
    above = " ".join(current.cells[work]).rstrip() if current is not None else ""
    return above.endswith((".", ":", "!", "?")) and cells[work][:1].isupper()


def _opens_caution(text: str, language: Lexicon) -> bool:
    head, colon, _ = text.partition(":")
    first = head.strip(" !").lower()
    signals = language.data["signals"].values()
    loud = text.split(None, 1)[0].strip("!:.") if text.strip() else ""
    if loud.isupper() and any(loud.lower() in words for words in signals):
        return True
    known = any(first in words for words in signals)
    return known and (bool(colon) or text.strip(" !").isupper() or head == text)


def _text(table: Table, cells: Sequence[str]) -> str:
    """The row as number, words of the work, and these with the further columns as sentences; tabs between."""
    said = {role: cells[at] for role in (*_FURTHER, "work") if (at := table.column(role)) is not None}
    work, beside = said.get("work", ""), _beside(said)
    number = said.get("item", "").rstrip(".)")
    first = f"{work.removesuffix('.')} {beside}" if beside else work
    return "\t".join(
        (
            number,
            work,
            " ".join(part for part in (first, *_sentences(table, said, _unknown(table, cells))) if part),
        )
    )


def _beside(said: dict[str, str]) -> str:
    """Count, size and the section to see, in brackets as a sentence would have them."""
    size = " x ".join(part for part in (said.get("size", ""), said.get("length", "")) if part)
    count = said.get("quantity", "").strip(_NOTHING)
    counted = f"{count} x {size}" if count and size else size or (f"qty {count}" if count else "")
    see = said.get("see", "").strip(_NOTHING)
    parts = [f"({counted})" if counted else "", f"(see {see})" if see else ""]
    bracketed = " ".join(part for part in parts if part)
    return f"{bracketed}." if bracketed and said.get("work", "").endswith(".") else bracketed


def _unknown(table: Table, cells: Sequence[str]) -> list[str]:
    """What stands under headings that nobody knows, with the heading."""
    found = []
    for title, heading, cell in zip(table.titles, table.headings, cells, strict=True):
        said = cell.strip(_NOTHING)
        if heading is None and said:
            found.append(f"{title.strip(' .:')}: {said.removesuffix('.')}." if title.strip() else f"{said}.")
    return found


def _sentences(table: Table, said: dict[str, str], unknown: Iterable[str]) -> Iterable[str]:
    """The other further columns, a sentence each."""
    torque = said.get("torque", "").strip(_NOTHING)
    if torque:
        printed = torque if torques_in(torque) else _with_unit(torque, _unit(table))
        yield f"Torque in stages: {printed}." if torque.count("/") > 1 else f"Torque: {printed}."
    tool = said.get("tool", "").strip(_NOTHING)
    if tool:
        yield f"Tool: {tool}."
    remarks = said.get("remarks", "").strip(_NOTHING)
    if remarks:
        yield f"{remarks.removesuffix('.')}."
    yield from unknown


def _with_unit(torque: str, unit: str) -> str:
    """The torque with the unit of its column, before a further turn: "130 N·m + 90°"."""
    value, plus, turn = torque.partition("+")
    if plus and "°" in turn:
        return f"{value.strip()} {unit} + {turn.strip()}"
    return f"{torque} {unit}".strip()


def _unit(table: Table) -> str:
    """The unit of torque that the heading of the column prints."""
    column = table.column("torque")
    title = table.titles[column] if column is not None else ""
    parts = (part.strip() for part in _PARTS.split(title))
    return next((part for part in parts if part and torque_unit(part) is not None), "")


def _around(rows: Sequence[Row]) -> tuple[float, float, float, float]:
    boxes = [row.box for row in rows]
    return (
        min(b[0] for b in boxes), min(b[1] for b in boxes), max(b[2] for b in boxes), max(b[3] for b in boxes)
    )  # fmt: skip
