"""A table file (CSV and the like) as an edge hands it to the reading rules."""

from msgspec import Struct


class SheetRow(Struct, frozen=True):
    """One row, with the line of the file it begins on (from 1, the headings' line included).

    `doubt`: what the file shows beside the cells that speaks against them ("cell F6 is struck out").
    """

    line: int
    cells: tuple[str, ...]
    doubt: str = ""


class Sheet(Struct, frozen=True):
    """Headings and rows, as they stand in the file; `above`: the lines of words before the headings."""

    columns: tuple[str, ...]
    rows: tuple[SheetRow, ...]
    above: tuple[SheetRow, ...] = ()
