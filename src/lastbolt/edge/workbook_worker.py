"""The cells of a workbook, read in a process of its own: `python -m lastbolt.edge.workbook_worker FILE`.

The reader of workbooks is fast, trusts the file, and ends the whole process where it lies ("cell ZZZZ1"). So
it runs here, with bounds on memory and time, and writes its sheets to standard output as JSON.
"""

import sys
from datetime import date, datetime, time, timedelta
from typing import Literal

import msgspec
from msgspec import Struct

from lastbolt.edge.plain_text import plain
from lastbolt.edge.process_limits import limit_memory
from lastbolt.words.sheet import SheetRow

MOST_MEMORY_MB = 3072
MOST_SECONDS = 120
MOST_ROWS = 200_000
Cell = int | float | str | bool | time | date | datetime | timedelta


class SheetCells(Struct, frozen=True):
    """One sheet: its name, its rows with cells as the workbook numbers them, and whether it is hidden."""

    name: str
    rows: tuple[SheetRow, ...]
    hidden: bool


class BookCells(Struct, frozen=True):
    """The sheets of a workbook, or why there are none, and in what words."""

    sheets: tuple[SheetCells, ...] = ()
    fault: Literal["", "locked", "too many rows", "not readable"] = ""
    words: str = ""


def read_cells(path: str) -> BookCells:
    """Every sheet with its cells as text."""
    import python_calamine as calamine

    try:
        book = calamine.load_workbook(path)
        found = []
        for number, about in enumerate(book.sheets_metadata):
            if about.typ != calamine.SheetTypeEnum.WorkSheet:
                continue
            sheet = book.get_sheet_by_index(number)
            if sheet.total_height > MOST_ROWS:
                return BookCells(
                    fault="too many rows", words=f'Sheet "{about.name}" has {sheet.total_height} rows.'
                )
            cells = sheet.to_python(skip_empty_area=False)
            rows = (SheetRow(line, tuple(_text(c) for c in row)) for line, row in enumerate(cells, start=1))
            hidden = about.visible != calamine.SheetVisibleEnum.Visible
            found.append(SheetCells(about.name, tuple(row for row in rows if any(row.cells)), hidden))
    except calamine.PasswordError:
        return BookCells(fault="locked")
    except (calamine.CalamineError, calamine.XmlError, calamine.ZipError, OSError, ValueError) as error:
        return BookCells(fault="not readable", words=str(error))
    return BookCells(tuple(found))


def _text(cell: Cell) -> str:
    """The cell as people see it: whole numbers without ".0", days as year-month-day."""
    if isinstance(cell, float) and cell.is_integer() and abs(cell) < 1e15:
        return str(int(cell))
    if isinstance(cell, datetime) and cell.time() == time.min:
        return cell.date().isoformat()
    return plain(" ".join(str(cell).split()))


def main(path: str) -> None:
    """Read the file within the bounds and write what was found."""
    limit_memory(MOST_MEMORY_MB)
    sys.stdout.buffer.write(msgspec.json.encode(read_cells(path)))


if __name__ == "__main__":
    main(sys.argv[1])
