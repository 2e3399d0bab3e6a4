"""Tables of torques whose headings name no unit: which columns hold the values, and what the unit is."""

import re
from collections.abc import Callable, Sequence

from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.table_shape import Cell, Row, Table, gone_on
from lastbolt.reading.tokens import torques_in
from lastbolt.reading.units import UNIT, torque_unit

_BARE = re.compile(r"\d[\d.,]*(?:\s?(?:[-–±]|to)\s?\d[\d.,]*)?")
_UNITS = re.compile(rf"(?<![\w.])(?:{UNIT})(?!\w)", re.IGNORECASE)
_MOST = 0.6
_FEWEST = 2


def value_columns(table: Table, beside: str, lex: Lexicon) -> tuple[list[int], str | None] | None:
    """The columns of torques, and the unit that the words beside the table give to bare numbers.

    None where nothing says that the table lists torques. Of several units beside it none is taken.
    """
    torque = table.column("torque")
    titled = any(word in beside.lower() for word in lex.words("titles", "torque_table"))
    unit = unit_in(beside)
    if torque is not None:
        return [torque], unit
    cells = [
        [row.cells[at].text for row in table.rows if row.cells[at].text] for at in range(len(table.titles))
    ]
    whole = [
        at for at, column in enumerate(cells) if _share(column, lambda cell: bool(torques_in(cell, lex)))
    ]
    if whole and (titled or table.column("size") is not None or table.column("thread") is not None):
        return whole, None
    if not titled or unit is None:
        return None
    bare = [at for at, column in enumerate(cells) if _share(column, is_bare)]
    return (bare[-1:], unit) if bare and len(table.titles) > len(bare) else None


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
