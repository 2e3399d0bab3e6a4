"""Spreadsheet workbooks (XLSX, XLS, ODS) into the tables of their sheets."""

import re
import zipfile
import zlib
from collections.abc import Sequence
from datetime import date, datetime, time, timedelta
from pathlib import Path
from typing import NamedTuple

from lastbolt.edge.pdf_in import check_file
from lastbolt.edge.plain_text import plain
from lastbolt.edge.table_in import LARGEST_BYTES, TableRead, stop, table_of
from lastbolt.words.problem import Problem, Refusal
from lastbolt.words.sheet import SheetRow

WORKBOOKS = (".xlsx", ".xlsm", ".xls", ".xlsb", ".ods")
_MOST_UNPACKED_BYTES = 400 * 2**20
_MOST_ROWS = 200_000
_MOST_CELLS = 20_000_000
"""The reader holds the whole rectangle up to the last cell: one stray cell far out fills the memory."""
_SHEET = re.compile(r"xl/worksheets/[^/]+\.xml", re.IGNORECASE)
_PLACE = re.compile(rb"""\sr=["']([A-Z]{1,3})?(\d{1,7})["']""")
_PIECE = 1 << 20
_OVERLAP = 32
_MOST_NAMED = 8
Cell = int | float | str | bool | time | date | datetime | timedelta


class SheetRead(NamedTuple):
    """One sheet of a workbook, by its name."""

    name: str
    table: TableRead


def read_workbook(path: Path) -> list[SheetRead]:
    """The tables of all sheets that hold one; a sheet without is told by those that do.

    Raises:
        Refusal: no such file, too large, locked, not a workbook, or no table in any sheet.
    """
    check_file(path)
    _check_size(path)
    read: list[SheetRead] = []
    bare: list[str] = []
    for name, rows, hidden in _sheets(path):
        try:
            table = table_of(rows, path)
        except Refusal as refused:
            if refused.problems[0].code != "LB-F32":
                raise
            bare.append(name)
            continue
        told = [*table.problems, *_dates(rows, f"{path}, sheet {name}")]
        if hidden:
            what = f'Sheet "{name}" is hidden in the workbook; it was read all the same.'
            told.append(Problem("LB-F41", what, str(path), "Look whether it is still in use.", "note"))
        read.append(SheetRead(name, TableRead(table.sheet, "workbook", "", tuple(told))))
    if not read:
        what = "No sheet of the workbook holds a table with more than one column."
        raise stop("LB-F32", what, path, "Give a workbook with headings and one row for each part.")
    if bare:
        what = f"No table was found in {', '.join(bare[:_MOST_NAMED])}."
        told_bare = Problem("LB-F42", what, str(path), "Look whether these sheets hold parts.", "note")
        first = read[0].table
        read[0] = SheetRead(read[0].name, first._replace(problems=(*first.problems, told_bare)))
    return read


def _check_size(path: Path) -> None:
    if path.stat().st_size > LARGEST_BYTES:
        raise stop("LB-F31", "The file is too large for a parts list.", path, "Give the list alone.")
    if not zipfile.is_zipfile(path):
        return
    with zipfile.ZipFile(path) as packed:
        if sum(entry.file_size for entry in packed.infolist()) > _MOST_UNPACKED_BYTES:
            what = "The workbook unpacks to more than any parts list needs."
            raise stop("LB-F31", what, path, "Save the list alone as CSV and give that file.")
        for entry in packed.infolist():
            if _SHEET.fullmatch(entry.filename) and _cells(packed, entry) > _MOST_CELLS:
                what = "A sheet of the workbook has a cell far out, beyond any parts list."
                raise stop("LB-F31", what, path, "Save the list alone as CSV and give that file.")


def _cells(packed: zipfile.ZipFile, entry: zipfile.ZipInfo) -> int:
    """The cells of the rectangle up to the last row and column of a sheet; 0 where it cannot be unpacked."""
    columns = {b""}
    last = 0
    try:
        with packed.open(entry) as stream:
            kept = b""
            while piece := stream.read(_PIECE):
                for column, row in _PLACE.findall(kept + piece):
                    columns.add(column)
                    last = max(last, int(row))
                kept = piece[-_OVERLAP:]
    except (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, RuntimeError, OSError):
        return 0  # the reader of workbooks says what is wrong with it
    return last * max(_number(column) for column in columns)


def _number(column: bytes) -> int:
    """A column's number: A is 1, AA is 27."""
    number = 0
    for letter in column:
        number = 26 * number + letter - 64
    return number


def _sheets(path: Path) -> list[tuple[str, list[SheetRow], bool]]:
    """Name, rows (numbered as the workbook numbers them) and whether hidden, of each sheet with cells."""
    import python_calamine as calamine

    try:
        book = calamine.load_workbook(str(path))
        found = []
        for number, about in enumerate(book.sheets_metadata):
            if about.typ != calamine.SheetTypeEnum.WorkSheet:
                continue
            sheet = book.get_sheet_by_index(number)
            if sheet.total_height > _MOST_ROWS:
                what = f'Sheet "{about.name}" has {sheet.total_height} rows.'
                raise stop("LB-F31", what, path, "Give the list alone.")
            cells = sheet.to_python(skip_empty_area=False)
            rows = [SheetRow(line, tuple(_text(c) for c in row)) for line, row in enumerate(cells, start=1)]
            hidden = about.visible != calamine.SheetVisibleEnum.Visible
            found.append((about.name, [row for row in rows if any(row.cells)], hidden))
    except calamine.PasswordError as error:
        what = "The workbook is locked by a password."
        raise stop("LB-F40", what, path, "Save it without the password and give that file.") from error
    except (calamine.CalamineError, calamine.XmlError, calamine.ZipError) as error:
        what = f"The workbook cannot be read: {error}."
        raise stop("LB-F39", what, path, "Open it and save it again, or save the list as CSV.") from error
    return found


def _text(cell: Cell) -> str:
    """The cell as people see it: whole numbers without ".0", days as year-month-day."""
    if isinstance(cell, float) and cell.is_integer() and abs(cell) < 1e15:
        return str(int(cell))
    if isinstance(cell, datetime) and cell.time() == time.min:
        return cell.date().isoformat()
    return plain(" ".join(str(cell).split()))


def _dates(rows: Sequence[SheetRow], where: str) -> list[Problem]:
    """A doubt for cells that are days: a spreadsheet makes one of "4-23" or "3/8" without being asked."""
    lines = [str(row.line) for row in rows if any(_is_day(cell) for cell in row.cells)]
    if not lines:
        return []
    named = ", ".join(lines[:_MOST_NAMED]) + (" ..." if len(lines) > _MOST_NAMED else "")
    what = 'Some cells are dates; a spreadsheet may have made them of an item or a size ("4-23", "3/8").'
    do = "Compare these rows with the printed list and put the cells right as text."
    return [Problem("LB-F43", what, f"{where}, rows {named}", do)]


def _is_day(cell: str) -> bool:
    try:
        date.fromisoformat(cell[:10])
    except ValueError:
        return False
    return len(cell) >= 10 and cell[4:5] == "-"
