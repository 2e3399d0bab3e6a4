"""Tables of torques whose headings name no unit: which columns hold the values, and what the unit is."""

import re
from collections.abc import Callable, Sequence
from typing import NamedTuple

from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.table_shape import Cell, Row, Table, gone_on
from lastbolt.reading.tokens import torques_in
from lastbolt.reading.torque_conditions import heads_conditions, heads_no_torques, is_condition
from lastbolt.reading.units import UNIT, torque_unit

_BARE = re.compile(r"\d[\d.,]*(?:\s?(?:[-–±]|to)\s?\d[\d.,]*)?")
_UNITS = re.compile(rf"(?<![\w.])(?:{UNIT})(?!\w)", re.IGNORECASE)
_MOST = 0.6
_FEWEST = 2


class ValueColumns(NamedTuple):
    """The columns of torques, the unit of their bare numbers, and those of which nobody can tell."""

    columns: list[int]
    unit: str | None
    unsure: tuple[int, ...] = ()


def value_columns(table: Table, beside: str, lex: Lexicon) -> ValueColumns | None:
    """The columns of torques, and the unit that the words beside the table give to bare numbers.

    None where nothing says that the table lists torques. Of several units beside it none is taken.
    """
    titled = any(word in beside.lower() for word in lex.words("titles", "torque_table"))
    unit = unit_in(beside)
    torques = [at for at, head in enumerate(table.headings) if head is not None and head.role == "torque"]
    if torques:
        return ValueColumns(torques, unit)
    cells = [
        [row.cells[at].text for row in table.rows if row.cells[at].text] for at in range(len(table.titles))
    ]
    whole = [
        at for at, column in enumerate(cells) if _share(column, lambda cell: bool(torques_in(cell, lex)))
    ]
    if whole and (titled or table.column("size") is not None or table.column("thread") is not None):
        return ValueColumns(whole, None)
    if not titled or unit is None:
        return None
    bare = [at for at, column in enumerate(cells) if _share(column, is_bare)]
    if not bare or len(table.titles) <= len(bare):
        return None
    return _of_bare(table, bare, unit)


def _of_bare(table: Table, bare: Sequence[int], unit: str) -> ValueColumns:
    """Of several columns of bare numbers those that can be torques; without a heading nobody can tell."""
    named = [at for at in bare if not _is_aside(table, at)]
    if len(named) < 2:
        return ValueColumns(named or list(bare[-1:]), unit)
    unsure = tuple(at for at in named if not table.titles[at].strip())
    return ValueColumns([at for at in named if at not in unsure], unit, unsure)


def _is_aside(table: Table, at: int) -> bool:
    """Whether the heading of a column of numbers says that they are no torques."""
    heading, title = table.headings[at], table.titles[at]
    if heads_no_torques(title) or heads_conditions(title):
        return True
    if heading is None or heading.role in ("torque", "limit"):
        return False
    return not is_condition(title) or not (heading.rest or heading.role == "quantity")


def whole_rows(rows: Sequence[Row], columns: Sequence[int]) -> list[Row]:
    """The rows with the second lines of their names taken in: those have no values and begin small."""
    made: list[Row] = []
    waiting: Row | None = None
    for row in rows:
        valued = any(row.cells[at].text for at in columns if at < len(row.cells))
        said = next((cell.text for cell in row.cells if cell.text), "")
        goes_on = said[:1].islower() or said[:1] == "("
        if not valued and goes_on and made and waiting is None:
            made[-1] = _joined(made[-1], row)
        elif not valued:
            waiting = _joined(waiting, row) if waiting is not None and goes_on else row
        else:
            made.append(_joined(waiting, row) if waiting is not None and goes_on else row)
            waiting = None
    return made


def _joined(above: Row, below: Row) -> Row:
    cells = tuple(
        Cell(gone_on(a.text, b.text), min(a.left or b.left, b.left or a.left), a.bold)
        for a, b in zip(above.cells, below.cells, strict=True)
    )
    box = (
        min(above.box[0], below.box[0]), min(above.box[1], below.box[1]),
        max(above.box[2], below.box[2]), max(above.box[3], below.box[3]),
    )  # fmt: skip
    return Row(cells, box)


def _share(cells: Sequence[str], looks: Callable[[str], bool]) -> bool:
    return len(cells) >= _FEWEST and sum(looks(cell) for cell in cells) >= _MOST * len(cells)


def is_bare(cell: str) -> bool:
    """Whether a cell is a number or a range without a unit."""
    return _BARE.fullmatch(cell) is not None


def unit_in(beside: str) -> str | None:
    """The one unit of torque that the words name."""
    found = {
        unit: match[0] for match in _UNITS.finditer(beside) if (unit := torque_unit(match[0])) is not None
    }
    return next(iter(found.values())) if len(found) == 1 else None
