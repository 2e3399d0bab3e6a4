"""A manual's own table of fasteners ("Case screws: item, size, quantity, positions") into cited rows."""

import re
from collections.abc import Iterable, Sequence
from typing import NamedTuple

from lastbolt.reading.cell_counts import read_quantity
from lastbolt.reading.drafts import slug
from lastbolt.reading.fasteners import kind_of, read_kind, sizes_in
from lastbolt.reading.lexicon import lexicon
from lastbolt.reading.lines import Line
from lastbolt.reading.table_words import TableWords, clean, table_words
from lastbolt.reading.tables import Table
from lastbolt.words.citation import Box, Citation, PdfPlace, rounded
from lastbolt.words.machine import TableRow
from lastbolt.words.quantity import Kind

_LEAST_ROWS = 2
_CAPTION = re.compile(r"([A-Za-z]+)\.?\s(\d{1,3}(?:[.\-–]\d{1,3})*[a-z]?)(?:[\s.:–—-]|$)")
_CAPTION_GAP = 2.5
"""A caption stands at most this many of its own line heights above (or below) its table."""


class _Columns(NamedTuple):
    item: int | None
    quantity: int
    positions: int | None
    named: tuple[int, ...]
    """The columns whose words name the fastener."""


def read_bolt_table(
    table: Table, source: str, caption: str, printed_page: str | None = None, language: str = "english"
) -> tuple[TableRow, ...]:
    """The rows of the table, or nothing when it is no table of fasteners with their numbers."""
    words = table_words()
    columns = _columns(table, words)
    if columns is None:
        return ()
    figure = _parts_figure(table.titles[columns.item], words) if columns.item is not None else ""
    noun = read_kind(_last_of(caption), lexicon(language)) or _noun_of(table, columns, language)
    rows: list[TableRow] = []
    for row in table.rows:
        cells = [cell.text.strip() for cell in row.cells]
        quantity = read_quantity(cells[columns.quantity], lexicon(language))
        name = " ".join(cells[i] for i in columns.named if cells[i])
        kind = _kind(name, noun, language)
        if kind is None or kind.thread is None or quantity.kind == "unsaid":
            continue
        item = cells[columns.item] if columns.item is not None else ""
        place = PdfPlace(table.pdf_page, printed_page, rounded(row.box))
        cite = Citation(source, place, " | ".join(cell for cell in cells if cell))
        positions = cells[columns.positions] if columns.positions is not None else ""
        anchor = f"{slug(caption or f'page-{table.pdf_page}', 40)}/{slug(item or name, 24)}"
        rows.append(
            TableRow(
                f"{source}/bolt-row/{anchor}", source, caption, name, quantity, kind, item, figure,
                positions, (cite,),
            )
        )  # fmt: skip
    return _told_apart(rows) if len(rows) >= _LEAST_ROWS else ()


def caption_of(table: Table, lines: Iterable[Line]) -> str:
    """The line that names the table ("Table 6-2 Case screws"): the nearest above it, else below it."""
    lead = table_words().bolt_table["lead"]
    named = []
    for line in lines:
        match = _CAPTION.match(line.text.strip())
        if match is None or clean(match[1]) not in lead or not _over(line, table.box):
            continue
        height = line.bottom - line.top
        above, below = table.box[1] - line.bottom, line.top - table.box[3]
        if -height / 2 <= above <= _CAPTION_GAP * height:
            named.append((0, above, line.text))
        elif -height / 2 <= below <= _CAPTION_GAP * height:
            named.append((1, below, line.text))
    return " ".join(min(named)[2].split()) if named else ""


def _over(line: Line, box: Box) -> bool:
    return line.left < box[2] and line.right > box[0]


def _columns(table: Table, words: TableWords) -> _Columns | None:
    quantity = table.column("quantity")
    if quantity is None:
        return None
    item = positions = None
    others: list[int] = []
    for index, title in enumerate(table.titles):
        heading = table.headings[index]
        first = clean(title).split()[:1]
        if index == quantity:
            continue
        if item is None and first and first[0] in words.bolt_table["item"]:
            item = index
        elif positions is None and first and first[0] in words.bolt_table["positions"]:
            positions = index
        elif heading is None or heading.role not in ("torque", "limit", "remarks", "part_number"):
            others.append(index)
    sized = [i for i in others if any(sizes_in(row.cells[i].text) for row in table.rows)]
    if not sized:
        return None
    worded = [i for i in others if table.headings[i] is not None and i not in sized]
    return _Columns(item, quantity, positions, tuple(sorted({*worded, *sized})))


def _parts_figure(title: str, words: TableWords) -> str:
    """The figure that the item column's heading names: "Item in PL Fig. 6" is "6"."""
    parts = clean(title.replace("-", "~")).split()
    for at, part in enumerate(parts[:-1]):
        if part in words.figure_lead and parts[at + 1][:1].isdigit():
            return parts[at + 1].replace("~", "-")
    return ""


def _last_of(caption: str) -> str:
    """What the caption calls its subject: "Table 6-2 Case screws" is "Case screws"."""
    match = _CAPTION.match(caption)
    return caption[match.end() :].strip() if match else caption


def _noun_of(table: Table, columns: _Columns, language: str) -> Kind | None:
    """The fastener word in the heading of a column that names it: "Screw"."""
    titles = [table.titles[i] for i in columns.named]
    return next((kind for title in titles if (kind := read_kind(title, lexicon(language)))), None)


def _kind(name: str, noun: Kind | None, language: str) -> Kind | None:
    """The kind of the row: its own words, else the fastener word of the caption or the heading."""
    own = read_kind(name, lexicon(language))
    if own is not None and own.what is not None and own.thread is not None:
        return own
    sizes = sizes_in(name)
    what = next((kind.what for kind in (own, noun) if kind is not None and kind.what is not None), None)
    if not sizes or what is None:
        return None
    return kind_of(what, sizes[0])


def _told_apart(rows: Sequence[TableRow]) -> tuple[TableRow, ...]:
    seen: dict[str, int] = {}
    told = []
    for row in rows:
        seen[row.id] = seen.get(row.id, 0) + 1
        told.append(
            row
            if seen[row.id] == 1
            else TableRow(
                f"{row.id}~{seen[row.id]}", row.source, row.table, row.name, row.quantity, row.kind,
                row.item, row.parts_figure, row.positions, row.citations,
            )
        )  # fmt: skip
    return tuple(told)
