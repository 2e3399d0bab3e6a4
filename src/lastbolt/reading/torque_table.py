"""Tables of tightening torques, keyed by joint or thread, in rows or in columns."""

import re
from collections.abc import Sequence
from typing import NamedTuple

import msgspec

from lastbolt.reading.lexicon import Lexicon, lexicon
from lastbolt.reading.tables import Table
from lastbolt.reading.tokens import Torque, read_torque, sizes_in, torque_unit
from lastbolt.words.citation import Citation, PdfPlace, rounded
from lastbolt.words.machine import TorqueRow
from lastbolt.words.problem import Problem
from lastbolt.words.where import where

_UNIT_IN_HEADING = re.compile(r"[\[(/]?\s*([A-Za-z][A-Za-z·.⋅\-\s]{0,10}[A-Za-z])\s*[\])]?$")
_SPAN_WORDS = re.compile(r"\b(?:to|thru|through|max|min)\b", re.IGNORECASE)
_NOT_A_VALUE = re.compile(r"[\s–—-]*")


class Torques(NamedTuple):
    """The rows of torque tables, and what is to be said about them."""

    rows: tuple[TorqueRow, ...]
    problems: tuple[Problem, ...]


def read_torque_table(
    table: Table, source: str, title: str, printed_page: str | None = None, language: str = "english"
) -> Torques | None:
    """The torques of the table, or None when no column of it is a torque."""
    lex = lexicon(language)
    units = [_unit_of(heading) for heading in table.titles]
    if not any(units) and table.column("torque") is None:
        return _turned(table, source, printed_page, lex)
    columns = [i for i, unit in enumerate(units) if unit] or [table.column("torque") or 0]
    rows, problems = [], []
    for row in table.rows:
        cells = [cell.text for cell in row.cells]
        what = _what(table, cells, columns)
        place = PdfPlace(table.pdf_page, printed_page, rounded(row.box))
        cite = Citation(source, place, " | ".join(c for c in cells if c))
        said = _said(cells, units, columns)
        torque = read_torque(said, language=lex) if said else None
        if torque is None or torque.value.torque_Nm is None:
            if said and any(c.isdigit() for c in said):
                problems.append(_no_value(what, cite, title, torque.doubt if torque else ""))
            continue
        if torque.doubt:
            problems.append(_doubtful(what, torque, cite, title))
        rows.append(_row(source, what, _thread(table, cells, columns), torque, cite))
        if torque.agree == "no":
            problems.append(_disagree(what, said, cite, title))
    return Torques(tuple(_told(rows)), tuple(problems))


def _unit_of(heading: str) -> str | None:
    """The torque unit that the heading names: alone ("N·m") or behind words ("Torque (N·m)")."""
    if torque_unit(heading):
        return heading
    match = _UNIT_IN_HEADING.search(heading)
    while match:
        if torque_unit(match[1]):
            return match[1]
        rest = match[1].partition(" ")[2]
        match = _UNIT_IN_HEADING.search(rest) if rest else None
    return None


def _said(cells: Sequence[str], units: Sequence[str | None], columns: Sequence[int]) -> str:
    """The torque cells as one text, each bare number with its column's unit: "22 N·m (16 lbf·ft)"."""
    parts = []
    for column in columns:
        cell = cells[column].strip()
        if _NOT_A_VALUE.fullmatch(cell):
            continue
        unit = units[column]
        bare = not any(c.isalpha() for c in _SPAN_WORDS.sub("", cell))
        parts.append(f"{cell} {unit}" if bare and unit is not None else cell)
    return parts[0] + "".join(f" ({part})" for part in parts[1:]) if parts else ""


def _what(table: Table, cells: Sequence[str], columns: Sequence[int]) -> str:
    named = [table.column("joint"), table.column("name"), table.column("item")]
    for column in named:
        if column is not None and column not in columns and cells[column].strip():
            return cells[column].strip()
    return next((c.strip() for i, c in enumerate(cells) if i not in columns and c.strip()), "")


def _thread(table: Table, cells: Sequence[str], columns: Sequence[int]) -> str | None:
    """The thread that the row names, from its size column or from any other cell but the torque's."""
    size = table.column("size")
    order = [size] if size is not None else [i for i in range(len(cells)) if i not in columns]
    for column in order:
        sizes = sizes_in(cells[column])
        if sizes and sizes[0].thread:
            return sizes[0].thread
    return None


def _turned(table: Table, source: str, printed_page: str | None, lex: Lexicon) -> Torques | None:
    """A table whose headings are threads and whose rows are units."""
    heads = enumerate(table.headings)
    threads = [(i, head.rest) for i, head in heads if head is not None and head.role == "thread"]
    unit_rows = [row for row in table.rows if row.cells and _unit_of(row.cells[0].text)]
    if len(threads) < 2 or not unit_rows:
        return None
    rows = []
    for column, heading in threads:
        parts = []
        for row in unit_rows:
            value = row.cells[column].text.strip()
            if any(c.isdigit() for c in value):
                parts.append(f"{value} {_unit_of(row.cells[0].text)}")
        said = parts[0] + "".join(f" ({part})" for part in parts[1:]) if parts else ""
        torque = read_torque(said, language=lex) if said else None
        if torque is not None and torque.value.torque_Nm is not None:
            place = PdfPlace(table.pdf_page, printed_page, rounded(table.box))
            cite = Citation(source, place, f"{heading}: {said}")
            sizes = sizes_in(heading)
            thread = sizes[0].thread if sizes else heading.replace(" ", "")
            rows.append(_row(source, heading, thread, torque, cite))
    return Torques(tuple(_told(rows)), ())


def _row(source: str, what: str, thread: str | None, torque: Torque, cite: Citation) -> TorqueRow:
    anchor = re.sub(r"[^\w]+", "-", f"{what} {thread or ''}".lower()).strip("-")[:60]
    value = msgspec.structs.replace(torque.value, citations=(cite,))
    return TorqueRow(f"{source}/torque/{anchor}", what, value, thread, (cite,))


def _told(rows: Sequence[TorqueRow]) -> list[TorqueRow]:
    seen: dict[str, int] = {}
    told = []
    for row in rows:
        seen[row.id] = seen.get(row.id, 0) + 1
        told.append(row if seen[row.id] == 1 else msgspec.structs.replace(row, id=f"{row.id}+{seen[row.id]}"))
    return told


def _no_value(what: str, cite: Citation, title: str, why: str = "") -> Problem:
    words = f'The torque of "{what}" is not understood: "{cite.words}"{": " + why if why else ""}.'
    return Problem("LB-P06", words, where(cite, title), "Read it from the page yourself.", citations=(cite,))


def _disagree(what: str, said: str, cite: Citation, title: str) -> Problem:
    words = f'The torque of "{what}" is printed in units that do not convert into each other: {said}.'
    do = "Find out which one is meant before tightening; until then neither is to be trusted."
    return Problem("LB-P05", words, where(cite, title), do, citations=(cite,))


def _doubtful(what: str, torque: Torque, cite: Citation, title: str) -> Problem:
    words = f'The torque of "{what}" is read with doubt, "{torque.value.words}": {torque.doubt}.'
    return Problem("LB-P07", words, where(cite, title), "Compare it with the page.", citations=(cite,))
