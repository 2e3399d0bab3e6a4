"""Tables of tightening torques, keyed by joint or thread, in rows or in columns."""

import re
from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

import msgspec

from lastbolt.reading.lexicon import Lexicon, lexicon
from lastbolt.reading.numbers import any_of
from lastbolt.reading.tables import Row, Table
from lastbolt.reading.tokens import Torque, read_torque, sizes_in, torque_unit, torques_in
from lastbolt.reading.torque_columns import value_columns, whole_rows
from lastbolt.reading.torque_conditions import (
    below_one_heading,
    beside_all,
    condition_of,
    in_row,
    is_condition,
    is_ditto,
    known_apart,
    tells_a_value,
    thread_alone,
    under_conditions,
    with_turns,
)
from lastbolt.reading.torque_turned import Turned, turned_rows
from lastbolt.words.citation import Citation, PdfPlace, rounded
from lastbolt.words.machine import TorqueLimit, TorqueRow
from lastbolt.words.problem import Problem
from lastbolt.words.where import where

_UNIT_IN_HEADING = re.compile(r"[\[(/]?\s*([A-Za-z][A-Za-z·.⋅\-\s]{0,10}[A-Za-z])\s*[\])]?$")
_SPAN_WORDS = re.compile(r"\b(?:to|thru|through|max|min)\b", re.IGNORECASE)
_NOT_A_VALUE = re.compile(r"[\s–—-]*")
_LIMIT_WORDS: dict[TorqueLimit, str] = {"at most": "at_most", "at least": "at_least"}
SEVERAL = "several torques stand beside each other, and nothing tells them apart"
_DIGITS_ONLY = re.compile(r"\d[\d.,]*")
_ONE_VALUE = re.compile(r"\d[\d.,]*(?:[-–]\d[\d.,]*)?")


class Torques(NamedTuple):
    """The rows of torque tables, and what is to be said about them."""

    rows: tuple[TorqueRow, ...]
    problems: tuple[Problem, ...]


def read_torque_table(
    table: Table,
    source: str,
    title: str,
    printed_page: str | None = None,
    language: str = "english",
    beside: str = "",
) -> Torques | None:
    """The torques of the table, or None when no column is a torque. `beside`: the words above and below."""
    lex = lexicon(language)
    table = below_one_heading(table)
    heads = [_heading(title, lex) for title in table.titles]
    columns = [i for i, head in enumerate(heads) if head.unit]
    unsure: tuple[int, ...] = ()
    at = Where(source, title, printed_page)
    if not columns:
        turned = turned_rows(table, beside, lex, _unit_of)
        if turned:
            return _turned(table, turned, at, lex)
        found = value_columns(table, beside, lex)
        if found is None:
            return None
        columns, unit, unsure = found
        heads = [head._replace(unit=unit) if at in columns else head for at, head in enumerate(heads)]
    rows, problems = list[TorqueRow](), _unsure(table, columns, unsure, at)
    valued, above = (*columns, *unsure), dict[str, str]()
    for over, some in under_conditions(table.rows):
        for row in whole_rows(some, valued):
            made, told = _of_row(_Line(table, row, over, beside, above), heads, columns, at, lex)
            rows += made
            problems += told
    if not rows and not problems:
        problems += _none_read(table, source, title, printed_page)
    return Torques(tuple(_told(rows)), tuple(problems))


class Where(NamedTuple):
    """The source of a table, its title, and the printed number of its page."""

    source: str
    title: str
    printed_page: str | None


class _Line(NamedTuple):
    """A row of a table, the condition that stands above it, and the words beside the table."""

    table: Table
    row: Row
    over: str
    beside: str
    above: dict[str, str]
    """What the row above says in each column, for "do." below it."""


def _of_row(
    line: _Line, heads: Sequence["_Head"], columns: Sequence[int], at: Where, lex: Lexicon
) -> tuple[list[TorqueRow], list[Problem]]:
    """The torques of one row, each with the condition under which it holds, and what is to be said."""
    table, cells = line.table, [cell.text for cell in line.row.cells]
    place = PdfPlace(table.pdf_page, at.printed_page, rounded(line.row.box))
    cite = Citation(at.source, place, " | ".join(c for c in cells if c))
    named, thread = _what(table, cells, columns), _thread(table, cells, columns)
    aside = [i for i in range(len(cells)) if i in columns or cells[i].strip() == named]
    holds = [line.over, *in_row(table.titles, cells, aside)]
    if thread is not None and thread_alone(named):
        holds.append(beside_all(line.beside))
    rows, problems = [], []
    for label, group in _columns_together(heads, columns):
        what = ", ".join(part for part in (named, condition_of(label) or label) if part)
        said = with_turns(_said(cells, heads, group, lex), table.titles, cells, group)
        if is_ditto([cells[i] for i in group]):
            said = line.above.get(label, said)
        torque = read_torque(said, language=lex) if said else None
        parted = _parted(said, lex)
        several = not label and len(group) > 1 and torque is not None and len(torques_in(said, lex)) > 1
        if parted:
            rows += [
                _row(
                    at.source,
                    f"{what}, {condition}",
                    thread,
                    one,
                    cite,
                    "; ".join(filter(None, (condition, *holds))),
                )
                for one, condition in parted
            ]
            continue
        if torque is None or torque.value.torque_Nm is None or several:
            if tells_a_value(said):
                why = SEVERAL if several else torque.doubt if torque else ""
                problems.append(_no_value(what, cite, at.title, why))
            continue
        line.above[label] = said
        if torque.doubt:
            problems.append(_doubtful(what, torque, cite, at.title))
        condition = "; ".join(dict.fromkeys(part for part in (condition_of(label), *holds) if part))
        rows.append(_row(at.source, what, thread, torque, cite, condition))
        if torque.agree == "no":
            problems.append(_disagree(what, said, cite, at.title))
    return rows, problems


class _Head(NamedTuple):
    """A column's heading: its torque unit, the words beside the unit, and the limit that they say."""

    unit: str | None
    label: str
    limit: TorqueLimit = ""
    units: tuple[str, ...] = ()
    """All units that it prints, where two columns stand under it as one: "lb-ft N·m"."""


@lru_cache(maxsize=4)
def _limit_words(lex: Lexicon) -> tuple[tuple[TorqueLimit, re.Pattern[str]], ...]:
    return tuple(
        (limit, re.compile(rf"(?<!\w)(?:{any_of(lex.words('torque', key))})(?!\w)\.?", re.IGNORECASE))
        for limit, key in _LIMIT_WORDS.items()
    )


def _heading(title: str, lex: Lexicon) -> _Head:
    """A heading with its unit and limit parted: "Max. torque (N·m)" is at most, in N·m."""
    for limit, words in _limit_words(lex):
        if words.search(title):
            bare = " ".join(words.sub(" ", title).replace("( )", " ").split()).strip(" ,;")
            return _Head(_unit_of(bare), title, limit)
    unit = _unit_of(title)
    label = title
    if unit:
        before, _, behind = title.strip(" ])").rpartition(unit)
        label = re.sub(r"[\[(/]?\s*$", "", before) + behind.rstrip()
    return _Head(unit, label, units=_units_in(title) if unit else ())


def _units_in(title: str) -> tuple[str, ...]:
    """Every different torque unit among the words of a heading, in order."""
    words = [word.strip("()[],;:/") for word in title.split()]
    return tuple(dict.fromkeys(word for word in words if torque_unit(word)))


def _columns_together(heads: Sequence[_Head], columns: Sequence[int]) -> list[tuple[str, list[int]]]:
    """The columns of one torque together, with the words that tell several torques of a row apart.

    A unit that comes again begins another torque ("8.8 N·m", "10.9 N·m"), but for a least and a most.
    """
    groups: list[list[int]] = []
    for column in columns:
        head = heads[column]
        for group in groups:
            same = [heads[i] for i in group if heads[i].unit == head.unit]
            if not same or (len(same) == 1 and {same[0].limit, head.limit} == {"at most", "at least"}):
                group.append(column)
                break
        else:
            groups.append([column])
    labels = [heads[group[0]].label.strip(" ,;:") for group in groups]
    if len(groups) > 1 and len(set(labels)) == len(groups) and all(labels):
        return list(zip(labels, groups, strict=True))
    return [("", list(columns))]


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
    inside = _units_in(heading)
    return inside[0] if len(inside) == 1 and is_condition(heading.replace(inside[0], " ")) else None


def _said(cells: Sequence[str], heads: Sequence[_Head], columns: Sequence[int], lex: Lexicon) -> str:
    """The torque cells as one text, each bare number with its column's unit: "22 N·m (16 lbf·ft)".

    A column's "min." or "max." is put before its number; of both columns a range is made.
    """
    parts: list[str] = []
    lows: dict[str | None, tuple[int, str]] = {}
    for column in sorted(columns, key=lambda i: heads[i].limit != "at least"):
        cell, unit, limit = cells[column].strip(), heads[column].unit, heads[column].limit
        if _NOT_A_VALUE.fullmatch(cell):
            continue
        units, values = heads[column].units, cell.split()
        if len(units) == len(values) > 1 and all(_ONE_VALUE.fullmatch(value) for value in values):
            parts += [f"{value} {each}" for value, each in zip(values, units, strict=True)]
            continue
        bare = not any(c.isalpha() for c in _SPAN_WORDS.sub("", cell))
        said = f"{cell} {unit}" if bare and unit is not None else cell
        if limit and _DIGITS_ONLY.fullmatch(cell):
            if limit == "at most" and unit in lows:
                index, low = lows[unit]
                parts[index] = f"{low} – {said}" if low != said else said
                continue
            if limit == "at least":
                lows[unit] = (len(parts), said)
            said = f"{lex.words('torque', _LIMIT_WORDS[limit])[0]} {said}"
        parts.append(said)
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


def _parted(said: str, lex: Lexicon) -> list[tuple[Torque, str]]:
    """Torques of one cell, each with the condition behind it: "10 N·m (8.8), 14 N·m (10.9)"."""
    found = torques_in(said, lex) if said else []
    ends = [*(one.start for one in found[1:]), len(said)]
    parted = [
        (one, said[one.end : end].strip(" ,;()[]/."))
        for one, end in zip(found, ends, strict=False)
        if one.value.torque_Nm is not None
    ]
    if len(parted) < 2 or len(parted) < len(found) or not all(is_condition(what) for _, what in parted):
        return []
    return parted


def _turned(table: Table, lines: Sequence[Turned], at: Where, lex: Lexicon) -> Torques:
    """The torques of a table whose headings are threads."""
    rows, problems = list[TorqueRow](), list[Problem]()
    place = PdfPlace(table.pdf_page, at.printed_page, rounded(table.box))
    for line in lines:
        torque = read_torque(line.said, language=lex)
        cite = Citation(at.source, place, f"{line.heading}: {line.said}")
        what = ", ".join(part for part in (line.heading, line.condition) if part)
        several = len(torques_in(line.said, lex)) > 1
        if torque is None or torque.value.torque_Nm is None or several:
            problems.append(
                _no_value(what, cite, at.title, SEVERAL if several else torque.doubt if torque else "")
            )
            continue
        if torque.doubt:
            problems.append(_doubtful(what, torque, cite, at.title))
        sizes = sizes_in(line.heading)
        thread = sizes[0].thread if sizes else line.heading.replace(" ", "")
        rows.append(_row(at.source, what, thread, torque, cite, line.condition))
    return Torques(tuple(_told(rows)), tuple(problems))


def _row(
    source: str, what: str, thread: str | None, torque: Torque, cite: Citation, condition: str
) -> TorqueRow:
    anchor = re.sub(r"[^\w]+", "-", f"{what} {thread or ''}".lower()).strip("-")[:60]
    value = msgspec.structs.replace(torque.value, citations=(cite,), condition=condition)
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


def _none_read(table: Table, source: str, title: str, printed_page: str | None) -> list[Problem]:
    """A table of torques with figures in it of which none was read."""
    said = [" | ".join(cell.text for cell in row.cells if cell.text) for row in table.rows]
    if not any(c.isdigit() for row in said for c in row):
        return []
    place = PdfPlace(table.pdf_page, printed_page, rounded(table.box))
    cite = Citation(source, place, "; ".join(said))
    what = f"No torque was read from a table of torques, {len(said)} rows under {_quoted_heads(table)}."
    return [Problem("LB-P06", what, where(cite, title), "Read it from the page yourself.", citations=(cite,))]


def _quoted_heads(table: Table) -> str:
    return ", ".join(f'"{title}"' for title in table.titles if title)


def _unsure(table: Table, columns: Sequence[int], unsure: Sequence[int], at: Where) -> list[Problem]:
    """What is to be told of columns of numbers beside each other whose headings do not tell them apart."""
    if len(columns) + len(unsure) < 2 or (not unsure and all(known_apart(table.titles[i]) for i in columns)):
        return []
    place = PdfPlace(table.pdf_page, at.printed_page, rounded(table.box))
    cite = Citation(at.source, place, " | ".join(title for title in table.titles if title))
    heads = _quoted_heads(table)
    if unsure:
        what = f"Of {len(unsure)} columns of torques without a heading no number was read, under {heads}."
        do = "Read them from the page yourself."
        return [Problem("LB-P06", what, where(cite, at.title), do, citations=(cite,))]
    what = f"The columns of a table of torques are told apart by headings that no rule knows: {heads}."
    do = "Look at the page for what each column holds; each number bears the heading that it stands under."
    return [Problem("LB-P07", what, where(cite, at.title), do, citations=(cite,))]


def _disagree(what: str, said: str, cite: Citation, title: str) -> Problem:
    words = f'The torque of "{what}" is printed in units that do not convert into each other: {said}.'
    do = "Find out which one is meant before tightening; until then neither is to be trusted."
    return Problem("LB-P05", words, where(cite, title), do, citations=(cite,))


def _doubtful(what: str, torque: Torque, cite: Citation, title: str) -> Problem:
    words = f'The torque of "{what}" is read with doubt, "{torque.value.words}": {torque.doubt}.'
    return Problem("LB-P07", words, where(cite, title), "Compare it with the page.", citations=(cite,))
