"""Table files (CSV and its kin) into headings and rows with their lines."""

import csv
import io
from collections import Counter
from pathlib import Path
from typing import NamedTuple

from lastbolt.edge.pdf_in import check_file
from lastbolt.edge.plain_text import plain
from lastbolt.words.problem import Problem, Refusal
from lastbolt.words.sheet import Sheet, SheetRow

_SEPARATORS = ",;\t|"
LARGEST_BYTES = 64 * 2**20
_MOST_CELLS = 500
_SAMPLE_LINES = 60


class TableRead(NamedTuple):
    """The table, how its text was written, and what is to be said about the file."""

    sheet: Sheet
    encoding: str
    separator: str
    problems: tuple[Problem, ...]


def read_table(path: Path) -> TableRead:
    """The table in the file: its headings are the first line with more than one cell.

    Raises:
        Refusal: no such file, nothing in it, not a text, or no table in it.
    """
    check_file(path)
    if path.stat().st_size > LARGEST_BYTES:
        raise stop("LB-F31", "The file is too large for a parts list.", path, "Give the list alone.")
    raw = path.read_bytes()
    text, encoding, problems = decoded_text(raw, path)
    separator = _separator_of(text)
    table = table_of(list(_rows(text, separator, path)), path)
    return TableRead(table.sheet, encoding, separator, (*problems, *table.problems))


def table_of(rows: list[SheetRow], path: Path) -> TableRead:
    """The table among the rows of one sheet.

    Raises:
        Refusal: no row has more than one cell filled.
    """
    head = next((row for row in rows if sum(bool(cell) for cell in row.cells) > 1), None)
    if head is None:
        what = "The file holds no table: no line has more than one column."
        raise stop("LB-F32", what, path, "Give a table with headings, its columns parted by commas or tabs.")
    columns = tuple(cell.strip() for cell in head.cells)
    body = [row for row in rows if row.line > head.line and any(cell.strip() for cell in row.cells)]
    body, ragged = _even(body, len(columns))
    problems = (_ragged(ragged, len(columns), path),) if ragged else ()
    above = tuple(row for row in rows if row.line < head.line and any(row.cells))
    return TableRead(Sheet(columns, tuple(body), above), "", "", problems)


def decoded_text(raw: bytes, path: Path) -> tuple[str, str, list[Problem]]:
    """The file as text, by its mark, else as UTF-8, else as Windows-1252; mixed ones line by line."""
    for mark, encoding in (
        (b"\xef\xbb\xbf", "utf-8-sig"),
        (b"\xff\xfe", "utf-16"),
        (b"\xfe\xff", "utf-16"),
    ):
        if raw.startswith(mark):
            try:
                return raw.decode(encoding), encoding, []
            except UnicodeDecodeError:
                break
    sparse = raw[:4000]
    if sparse.count(0) > len(sparse) // 4:
        encoding = "utf-16-le" if sparse[1::2].count(0) > sparse[::2].count(0) else "utf-16-be"
        try:
            return raw.decode(encoding), encoding, []
        except UnicodeDecodeError:
            pass
    if raw.count(0) or _looks_binary(raw):
        what = "The file is not a text: it holds bytes that no table has."
        raise stop("LB-F33", what, path, "Save the list as CSV and give that file.")
    try:
        return raw.decode("utf-8"), "utf-8", []
    except UnicodeDecodeError:
        return _mixed(raw, path)


def _looks_binary(raw: bytes) -> bool:
    sample = raw[:20_000]
    control = sum(1 for byte in sample if byte < 32 and byte not in b"\t\r\n\x0c\x1a")
    return control > max(2, len(sample) // 200)


def _mixed(raw: bytes, path: Path) -> tuple[str, str, list[Problem]]:
    """A file that is not UTF-8: Windows-1252 throughout, or a mixture, which is said with its lines."""
    lines = raw.splitlines(keepends=True)
    utf8, other, decoded = [], [], []
    for number, line in enumerate(lines, start=1):
        try:
            decoded.append(line.decode("utf-8"))
            if any(byte > 127 for byte in line):
                utf8.append(number)
        except UnicodeDecodeError:
            decoded.append(_single_byte(line))
            other.append(number)
    if not utf8:
        return "".join(decoded), "cp1252", []
    named = ", ".join(str(number) for number in other[:8]) + (" ..." if len(other) > 8 else "")
    what = f"The file mixes two encodings: {len(other)} of its lines are not UTF-8 (read as Windows-1252)."
    do = "Look at these lines for wrong letters, or save the whole list again as UTF-8."
    where = f"{path}, line{'' if len(other) == 1 else 's'} {named}"
    return "".join(decoded), "mixed", [Problem("LB-F34", what, where, do)]


def _single_byte(line: bytes) -> str:
    try:
        return line.decode("cp1252")
    except UnicodeDecodeError:
        return line.decode("latin-1")


def _separator_of(text: str) -> str:
    """The separator that cuts most lines into the same number (above one) of cells."""
    sample = "".join(text.splitlines(keepends=True)[:_SAMPLE_LINES])
    best, best_score = ",", 0.0
    for separator in _SEPARATORS:
        try:
            rows = [row for row in csv.reader(io.StringIO(sample), delimiter=separator) if any(row)]
        except csv.Error:
            continue
        widths = Counter(len(row) for row in rows if len(row) > 1)
        if not widths:
            continue
        width, count = max(widths.items(), key=lambda item: (item[1], item[0]))
        score = count / len(rows) + 0.01 * min(width, 20)
        if score > best_score:
            best, best_score = separator, score
    return best


def _rows(text: str, separator: str, path: Path) -> list[SheetRow]:
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator)
    found: list[SheetRow] = []
    before = 0
    try:
        for cells in reader:
            line = before + 1
            before = reader.line_num
            if len(cells) > _MOST_CELLS:
                raise stop("LB-F32", f"Line {line} has {len(cells)} columns.", path, "Give a parts list.")
            found.append(SheetRow(line, tuple(_tidy(cell) for cell in cells)))
    except csv.Error as error:
        what = f"The table cannot be read from line {before + 1} on: {error}."
        raise stop("LB-F35", what, path, "Look for a quotation mark that is not closed.") from error
    return found


def _tidy(cell: str) -> str:
    """The cell with its line breaks as spaces, without signs that hide."""
    return plain(" ".join(cell.split()))


def _even(rows: list[SheetRow], width: int) -> tuple[list[SheetRow], list[int]]:
    """The rows all as wide as the headings; lines that had too many filled cells are named."""
    even, ragged = [], []
    for row in rows:
        if len(row.cells) > width and any(row.cells[width:]):
            ragged.append(row.line)
        cells = (*row.cells[:width], *("" for _ in range(width - len(row.cells))))
        even.append(SheetRow(row.line, cells, row.doubt))
    return even, ragged


def _ragged(lines: list[int], width: int, path: Path) -> Problem:
    named = ", ".join(str(line) for line in lines[:8]) + (" ..." if len(lines) > 8 else "")
    what = f"{len(lines)} lines have more cells than the {width} headings; the cells beyond were left out."
    do = "Look at these lines: a cell with a separator in it must stand in quotation marks."
    return Problem("LB-F36", what, f"{path}, lines {named}", do)


def stop(code: str, what: str, path: Path, do: str) -> Refusal:
    """The refusal of a table file."""
    return Refusal(Problem(code, what, str(path), do, "stop"))
