"""Spreadsheet workbooks (XLSX, XLS, ODS) into the tables of their sheets."""

import re
import subprocess
import sys
import zipfile
import zlib
from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import NamedTuple

import msgspec

from lastbolt.edge.pdf_in import check_file
from lastbolt.edge.table_in import LARGEST_BYTES, TableRead, stop, table_of
from lastbolt.edge.workbook_comments import comments_in, comments_told
from lastbolt.edge.workbook_marks import beside_told, marks_in, with_marks
from lastbolt.edge.workbook_worker import MOST_SECONDS, BookCells, SheetCells
from lastbolt.words.problem import Problem, Refusal
from lastbolt.words.sheet import SheetRow

WORKBOOKS = (".xlsx", ".xlsm", ".xls", ".xlsb", ".ods")
_MOST_UNPACKED_BYTES = 400 * 2**20
_MOST_CELLS = 20_000_000
"""The reader holds the whole rectangle up to the last cell: one stray cell far out fills the memory."""
_SHEET = re.compile(r"xl/worksheets/[^/]+\.xml", re.IGNORECASE)
_PLACE = re.compile(rb"""\sr=["']([A-Z]{1,3})?(\d{1,7})["']""")
_PIECE = 1 << 20
_OVERLAP = 32
_MOST_NAMED = 8
_BROKEN = (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, RuntimeError, OSError, ValueError)
WORKER = "lastbolt.edge.workbook_worker"


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
    sheets, seen = _sheets(path), marks_in(path)
    for name, rows, hidden in ((one.name, one.rows, one.hidden) for one in sheets):
        try:
            table = table_of(list(with_marks(rows, seen.get(name))), path)
        except Refusal as refused:
            if refused.problems[0].code != "LB-F32":
                raise
            bare.append(name)
            continue
        where = f"{path}, sheet {name}"
        told = [*table.problems, *_dates(rows, where), *beside_told(seen.get(name), where)]
        if hidden:
            what = f'Sheet "{name}" is hidden in the workbook; it was read all the same.'
            told.append(Problem("LB-F41", what, str(path), "Look whether it is still in use.", "note"))
        read.append(SheetRead(name, TableRead(table.sheet, "workbook", "", tuple(told))))
    if not read:
        what = "No sheet of the workbook holds a table with more than one column."
        raise stop("LB-F32", what, path, "Give a workbook with headings and one row for each part.")
    remarks = comments_told(comments_in(path), path)
    if remarks:
        last = read[-1].table
        read[-1] = SheetRead(read[-1].name, last._replace(problems=(*last.problems, *remarks)))
    if bare:
        what = f"No table was found in {', '.join(bare[:_MOST_NAMED])}."
        told_bare = Problem("LB-F42", what, str(path), "Look whether these sheets hold parts.", "note")
        first = read[0].table
        read[0] = SheetRead(read[0].name, first._replace(problems=(*first.problems, told_bare)))
    return read


def _check_size(path: Path) -> None:
    if path.stat().st_size > LARGEST_BYTES:
        raise stop("LB-F31", "The file is too large for a parts list.", path, "Give the list alone.")
    try:
        if zipfile.is_zipfile(path):
            with zipfile.ZipFile(path) as packed:
                _check_unpacked(packed, path)
    except _BROKEN as error:
        raise _not_readable(path, str(error)) from error


def _check_unpacked(packed: zipfile.ZipFile, path: Path) -> None:
    if sum(entry.file_size for entry in packed.infolist()) > _MOST_UNPACKED_BYTES:
        what = "The workbook unpacks to more than any parts list needs."
        raise stop("LB-F31", what, path, "Save the list alone as CSV and give that file.")
    for entry in packed.infolist():
        if _SHEET.fullmatch(entry.filename) and _cells(packed, entry) > _MOST_CELLS:
            what = "A sheet of the workbook has a cell far out, beyond any parts list."
            raise stop("LB-F31", what, path, "Save the list alone as CSV and give that file.")


def _not_readable(path: Path, why: str) -> Refusal:
    what = f"The workbook cannot be read: {why.rstrip('.')}."
    return stop("LB-F39", what, path, "Open it and save it again, or save the list as CSV.")


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
    except _BROKEN:
        return 0  # the reader of workbooks says what is wrong with it
    return last * max(_number(column) for column in columns)


def _number(column: bytes) -> int:
    """A column's number: A is 1, AA is 27."""
    number = 0
    for letter in column:
        number = 26 * number + letter - 64
    return number


def _sheets(path: Path) -> tuple[SheetCells, ...]:
    """Each sheet with cells, read by a process of its own: it may end for want of memory or time."""
    command = [sys.executable, "-P", "-m", WORKER, str(path)]
    try:
        done = subprocess.run(command, capture_output=True, timeout=MOST_SECONDS, check=False)
    except subprocess.TimeoutExpired as error:
        raise _not_readable(path, "it takes too long") from error
    if done.returncode:
        raise _not_readable(path, "its reader could not hold it")
    book = msgspec.json.decode(done.stdout, type=BookCells)
    if book.fault == "locked":
        what = "The workbook is locked by a password."
        raise stop("LB-F40", what, path, "Save it without the password and give that file.")
    if book.fault == "too many rows":
        raise stop("LB-F31", book.words, path, "Give the list alone.")
    if book.fault:
        raise _not_readable(path, book.words)
    return book.sheets


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
