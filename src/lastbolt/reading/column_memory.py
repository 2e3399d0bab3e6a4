"""Which column of a table file is what: as remembered for its layout, else as guessed; whether it fits."""

import re
from collections.abc import Callable, Iterable, Sequence
from typing import NamedTuple

from lastbolt.reading.cell_counts import read_quantity
from lastbolt.reading.column_guess import PERHAPS, cells_of, suggested
from lastbolt.reading.heads import Heads, heads_of_list
from lastbolt.reading.table_words import TableWords, clean, table_words
from lastbolt.words.columns import ColumnMeaning, ColumnRead, Layout, Meaning
from lastbolt.words.problem import Problem
from lastbolt.words.sheet import Sheet, SheetRow

_ROLES: dict[str, Meaning] = {
    "name": "name", "item": "item", "part_number": "part number", "figure": "figure",
    "figure_title": "figure's title", "remarks": "remarks", "size": "size", "length": "length",
}  # fmt: skip
_HEADINGS: dict[Meaning, str] = {
    "name": "description", "item": "item no", "part number": "part number", "quantity": "quantity",
    "figure": "figure", "figure's title": "figure title", "remarks": "remarks", "size": "size",
    "length": "length",
}  # fmt: skip
"""Headings that the rules for lists know, one for each meaning."""
_ITEM = re.compile(r"[\dA-Za-z]{1,4}(?:[-.]\d{1,3})?[a-zA-Z]?\.?")
_FITS = 0.5
"""So many of the cells must fit a meaning that is remembered."""
_ALIKE = 0.6
"""From this share of common headings on a table may be a remembered layout that was changed."""
_SHOWN = 2


class Understood(NamedTuple):
    """The table as it is to be read, its columns with their meanings, what to say, and its layout."""

    sheet: Sheet
    columns: tuple[ColumnRead, ...]
    problems: tuple[Problem, ...]
    layout: Layout
    name: str = ""
    """The heading of the names, as it stands in the file."""


def understood(sheet: Sheet, title: str, known: Iterable[str], layouts: Sequence[Layout]) -> Understood:
    """The table with the meanings of its columns, remembered ones first."""
    words = table_words()
    guess = _guess(sheet, known, words)
    found = next((one for one in layouts if signature(one.heads) == signature(sheet.columns)), None)
    sure = all(one.why != PERHAPS for one in guess)
    if found is None or (found.guessed and sure):
        problems = tuple(_changed(sheet, title, layouts)) if found is None else ()
        layout = Layout(sheet.columns, tuple(_as_layout(guess)), True, title)
        name = next((one.column for one in guess if one.means == "name"), "")
        return Understood(sheet, guess, problems, layout, name)
    columns, told = _remembered(sheet, title, found, guess)
    name = next((one.column for one in columns if one.means == "name"), "")
    if found.guessed:
        told = (*told, _nobody_looked(columns, title))
    return Understood(_renamed(sheet, columns), columns, told, found, name)


def signature(heads: Iterable[str]) -> tuple[str, ...]:
    """By what two tables are of one layout: their headings in order, as they are compared.

    >>> signature(("Pos.", "Part-No", ""))
    ('pos', 'part no', '')
    """
    return tuple(clean(head) for head in heads)


def _guess(sheet: Sheet, known: Iterable[str], words: TableWords) -> tuple[ColumnRead, ...]:
    """What the rules for lists take each column for, and why."""
    rows = [row.cells for row in sheet.rows]
    heads = heads_of_list(sheet.columns, list(known), rows, words)
    columns = tuple(_column(sheet, index, heads, words) for index in range(len(sheet.columns)))
    if {"name", "quantity"} <= {one.means for one in columns}:
        return columns
    return suggested(sheet, columns)


def _column(sheet: Sheet, index: int, heads: Heads, words: TableWords) -> ColumnRead:
    head = sheet.columns[index]
    heading = words.heading(head)
    cells = _examples(sheet, index)
    variant = next((said for at, said in heads.quantities if at == index), None)
    role = next((role for role, at in heads.roles.items() if at == index and role in _ROLES), "")
    if variant is not None:
        by = heading is not None and heading.role == "quantity"
        return ColumnRead(head, "quantity", _why(by_heading=by), variant, cells)
    if role:
        by = heading is not None and heading.role == role
        return ColumnRead(head, _ROLES[role], _why(by_heading=by), cells=cells)
    if index in heads.more:
        return ColumnRead(head, "remarks", "a second column of names", cells=cells)
    why = (
        "nothing stands in it"
        if not cells
        else "its heading is not known"
        if heading is None
        else "not needed"
    )
    return ColumnRead(head, "nothing", why, cells=cells)


def _why(*, by_heading: bool) -> str:
    return "by its heading" if by_heading else "by what stands in it"


def _examples(sheet: Sheet, index: int) -> tuple[str, ...]:
    return tuple(list(dict.fromkeys(cell[:40] for cell in cells_of(sheet, index)))[:_SHOWN])


def _as_layout(columns: Iterable[ColumnRead]) -> Iterable[ColumnMeaning]:
    return (ColumnMeaning(one.column, one.means, one.variant) for one in columns)


def _remembered(
    sheet: Sheet, title: str, layout: Layout, guess: Sequence[ColumnRead]
) -> tuple[tuple[ColumnRead, ...], tuple[Problem, ...]]:
    """The columns by memory; one whose cells do not fit is told and taken as guessed."""
    said: dict[str, list[ColumnMeaning]] = {}
    for one in layout.columns:
        said.setdefault(clean(one.column), []).append(one)
    columns: list[ColumnRead] = []
    problems: list[Problem] = []
    for index, guessed in enumerate(guess):
        waiting = said.get(clean(guessed.column), [])
        meant = waiting.pop(0) if len(waiting) > 1 else waiting[0] if waiting else None
        if meant is None or (layout.guessed and meant.means == "nothing"):
            columns.append(guessed)
            continue
        why = "remembered, and nobody has looked at it yet" if layout.guessed else "remembered"
        wrong = _misfit(meant.means, sheet, index)
        if wrong:
            problems.append(_not_fitting(meant, wrong, guessed, sheet, title))
            columns.append(guessed)
        else:
            columns.append(ColumnRead(guessed.column, meant.means, why, meant.variant, guessed.cells))
    strange = [one for one in layout.columns if clean(one.column) not in {clean(h) for h in sheet.columns}]
    problems += [_missing(one, title) for one in strange]
    return tuple(columns), tuple(problems)


def _misfit(meaning: Meaning, sheet: Sheet, index: int) -> str:
    """Why the cells of a column do not hold what it is said to hold; "" where they may."""
    test = _TESTS.get(meaning)
    if test is None:
        return ""
    cells = cells_of(sheet, index)
    if not cells:
        return "nothing stands in it" if meaning in ("name", "quantity") and sheet.rows else ""
    wrong = [cell for cell in cells if not test(cell)]
    if len(cells) - len(wrong) >= _FITS * len(cells):
        return ""
    examples = ", ".join(f'"{cell[:40]}"' for cell in dict.fromkeys(wrong[:_SHOWN]))
    return f"{len(wrong)} of {len(cells)} cells do not fit, as {examples}"


_TESTS: dict[Meaning, Callable[[str], bool]] = {
    "name": lambda cell: sum(sign.isalpha() for sign in cell) > 1,
    "quantity": lambda cell: read_quantity(cell).kind != "unsaid" or "|" in cell,
    "item": lambda cell: _ITEM.fullmatch(cell) is not None,
    "part number": lambda cell: any(sign.isdigit() for sign in cell),
    "size": lambda cell: any(sign.isdigit() for sign in cell),
    "length": lambda cell: any(sign.isdigit() for sign in cell),
    "figure": lambda cell: len(cell) <= 24,
}


def _not_fitting(meant: ColumnMeaning, wrong: str, guessed: ColumnRead, sheet: Sheet, title: str) -> Problem:
    instead = f"it was taken for {_said(guessed.means)}" if guessed.means != "nothing" else "it was left out"
    said = f'Column "{meant.column}" is remembered as {_said(meant.means)}'
    what = f"{said}, but {wrong}. For this file {instead}."
    line = max(sheet.rows[0].line - 1, 1) if sheet.rows else 1
    do = "Look at the column, and put its meaning right in the columns file, or the list itself."
    return Problem("LB-P18", what, f"{title}, line {line}", do)


def _nobody_looked(columns: Iterable[ColumnRead], title: str) -> Problem:
    used = ", ".join(f'"{one.column}" as {_said(one.means)}' for one in columns if one.means != "nothing")
    what = f"The columns were taken as the columns file guesses them, and nobody looked at it: {used}."
    do = 'Look at the columns file; take "guessed" away there when it is right.'
    return Problem("LB-P20", what, title, do)


def _missing(meant: ColumnMeaning, title: str) -> Problem:
    what = f'The columns file gives "{meant.column}" a meaning, and its own headings have no such column.'
    do = "Write the column there as its heading stands in the list."
    return Problem("LB-P19", what, title, do)


def _changed(sheet: Sheet, title: str, layouts: Iterable[Layout]) -> Iterable[Problem]:
    """A layout that looks like a remembered one and lacks a column that had a meaning, or has others."""
    here = [head for head in signature(sheet.columns) if head]
    for layout in layouts:
        there = [head for head in signature(layout.heads) if head]
        common = set(here) & set(there)
        if len(common) < _ALIKE * max(len(set(here)), len(set(there)), 1):
            continue
        lost = [one for one in layout.columns if one.means != "nothing" and clean(one.column) not in here]
        new = [head for head in sheet.columns if head and clean(head) not in there]
        said = [f'it has no "{one.column}" ({_said(one.means)})' for one in lost]
        said += [f'"{head}" is new' for head in new] or (
            [] if lost else ["its columns stand in another order"]
        )
        what = f"The columns are nearly those of a remembered layout: {', '.join(said)}. They were guessed."
        do = "Look at what each column was taken for; a layout of its own is kept in the columns file."
        yield Problem("LB-P19", what, title, do, "doubt" if lost else "note")
        return


def _said(meaning: Meaning) -> str:
    return {"quantity": "the count", "nothing": "nothing"}.get(meaning, f"the {meaning}")


def _renamed(sheet: Sheet, columns: Sequence[ColumnRead]) -> Sheet:
    """The table with headings that say what was meant; columns that mean nothing are left out."""
    kept = [index for index, one in enumerate(columns) if one.means != "nothing"]
    heads = tuple(f"{_HEADINGS[columns[i].means]} {columns[i].variant}".strip() for i in kept)
    rows = tuple(
        SheetRow(row.line, tuple(row.cells[i] for i in kept if i < len(row.cells)), row.doubt)
        for row in sheet.rows
    )
    return Sheet(heads, rows, sheet.above)
