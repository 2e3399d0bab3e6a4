"""What a workbook (XLSX) shows beside the values of its cells: cells struck out, numbers that a format shows
with further words, words in headers, footers and text boxes.

A reader of values passes all of that by, and a person who looks at the sheet sees it.
"""

import re
import zipfile
from pathlib import Path
from typing import NamedTuple

from lastbolt.edge.number_formats import shown_as
from lastbolt.edge.workbook_comments import Comment, comments_in, root_of, targets
from lastbolt.reading.fasteners import names_fastener
from lastbolt.reading.lexicon import lexicon
from lastbolt.words.problem import Problem, Refusal
from lastbolt.words.sheet import SheetRow
from lastbolt.words.tree import Element

_CELL = re.compile(r"([A-Z]{1,3})(\d{1,7})")
_CODES = re.compile(r'&"[^"]*"|&K[0-9A-Fa-f]{6}|&\d+|&[A-Za-z]')
_LONGEST = 120
_MOST_NAMED = 12
_OFF = ("0", "false")


class Mark(NamedTuple):
    """What is seen of one cell: `shown` in place of its value, `doubt` what speaks against it."""

    shown: str = ""
    doubt: str = ""


class SheetMarks(NamedTuple):
    """The marks of a sheet by row (from 1) and column (from 0), and words beside its cells."""

    marks: dict[tuple[int, int], Mark]
    beside: tuple[str, ...]


class _Styles(NamedTuple):
    """By the number of a cell's style: whether it is struck out, and the code of its number format."""

    struck: frozenset[int]
    formats: dict[int, str]
    struck_texts: frozenset[int]
    """Shared texts of which a part is struck out."""


def marks_in(path: Path) -> dict[str, SheetMarks]:
    """The marks of each sheet by its name; none of a workbook of another kind."""
    if not zipfile.is_zipfile(path):
        return {}
    try:
        with zipfile.ZipFile(path) as packed:
            return _marks(packed, str(path), comments_in(path))
    except (Refusal, zipfile.BadZipFile, KeyError, RuntimeError, OSError, NotImplementedError, ValueError):
        return {}  # what is wrong with the workbook is said where its cells are read


def with_marks(rows: tuple[SheetRow, ...], marks: SheetMarks | None) -> tuple[SheetRow, ...]:
    """The rows as people see them, those with a struck cell or a comment that counts with a doubt."""
    if marks is None or not marks.marks:
        return rows
    by_row: dict[int, dict[int, Mark]] = {}
    for (line, column), mark in marks.marks.items():
        by_row.setdefault(line, {})[column] = mark
    return tuple(_marked(row, by_row[row.line]) if row.line in by_row else row for row in rows)


def beside_told(marks: SheetMarks | None, where: str) -> list[Problem]:
    """One doubt for words in headers, footers and text boxes that may speak of a fastener."""
    if marks is None or not marks.beside:
        return []
    said = "; ".join(f'"{_short(words)}"' for words in marks.beside[:_MOST_NAMED])
    what = f"Words beside the cells, which are in no row: {said}."
    do = "Look whether they tell of a part or a count, and write it into a row of its own."
    return [Problem("LB-F48", what, where, do)]


def _marked(row: SheetRow, marks: dict[int, Mark]) -> SheetRow:
    cells = [
        marks[at].shown if cell and at in marks and marks[at].shown else cell
        for at, cell in enumerate(row.cells)
    ]
    doubts = [marks[at].doubt for at in sorted(marks) if marks[at].doubt]
    return SheetRow(row.line, tuple(cells), "; ".join(filter(None, (row.doubt, *doubts))))


def _short(words: str) -> str:
    return words if len(words) <= _LONGEST else f"{words[: _LONGEST - 1]}…"


# ---- one workbook ------------------------------------------------------------------------------------


def _marks(packed: zipfile.ZipFile, where: str, comments: list[Comment]) -> dict[str, SheetMarks]:
    names = set(packed.namelist())
    book = root_of(packed, "xl/workbook.xml", where)
    parts = targets(packed, "xl/workbook.xml", where)
    styles = _styles(packed, names, where)
    found: dict[str, SheetMarks] = {}
    for sheet in book.below("sheet"):
        part = parts.get(sheet.get("id"), "")
        if part not in names:
            continue
        name, root = sheet.get("name"), root_of(packed, part, where)
        marks = dict(_of_comments([one for one in comments if one.sheet == name]))
        for at, mark in _of_cells(root, styles):
            first = marks.get(at, Mark())
            marks[at] = Mark(mark.shown, "; ".join(filter(None, (first.doubt, mark.doubt))))
        found[name] = SheetMarks(marks, (*_around(root), *_boxes(packed, part, names, where)))
    return found


def _styles(packed: zipfile.ZipFile, names: set[str], where: str) -> _Styles:
    if "xl/styles.xml" not in names:
        return _Styles(frozenset(), {}, frozenset())
    root = root_of(packed, "xl/styles.xml", where)
    fonts = [_struck(font) for part in root.below("fonts") for font in part.children("font")]
    codes = {one.get("numFmtId"): one.get("formatCode") for one in root.below("numFmt")}
    struck, formats = set[int](), dict[int, str]()
    for cells in root.below("cellXfs"):
        for number, xf in enumerate(cells.children("xf")):
            font = xf.get("fontId")
            if font.isdecimal() and int(font) < len(fonts) and fonts[int(font)]:
                struck.add(number)
            if xf.get("numFmtId") in codes:
                formats[number] = codes[xf.get("numFmtId")]
    texts = frozenset[int]()
    if "xl/sharedStrings.xml" in names:
        shared = root_of(packed, "xl/sharedStrings.xml", where).children("si")
        texts = frozenset(number for number, one in enumerate(shared) if _struck(one))
    return _Styles(frozenset(struck), formats, texts)


def _struck(element: Element) -> bool:
    return any(one.get("val") not in _OFF for one in element.below("strike"))


def _of_cells(root: Element, styles: _Styles) -> list[tuple[tuple[int, int], Mark]]:
    found = []
    for cell in root.below("c"):
        at, style = _place(cell.get("r")), cell.get("s")
        number = int(style) if style.isdecimal() else 0
        value = cell.child("v")
        said = value.words() if value is not None else ""
        shared = cell.get("t") == "s" and said.isdecimal() and int(said) in styles.struck_texts
        if at is None or not (said or cell.child("is")):
            continue
        doubt = (
            f"cell {cell.get('r')} is struck out"
            if number in styles.struck or shared or _struck(cell)
            else ""
        )
        shown = ""
        if number in styles.formats and cell.get("t") in ("", "n"):
            shown = shown_as(said, styles.formats[number])
        if shown or doubt:
            found.append((at, Mark(shown, doubt)))
    return found


def _of_comments(comments: list[Comment]) -> list[tuple[tuple[int, int], Mark]]:
    """A doubt for each row with a comment that has a number or names a fastener."""
    found = []
    for one in comments:
        at = _place(one.cell)
        if at is not None and _counts(one.words):
            found.append((at, Mark(doubt=f'a comment at {one.cell} says "{_short(one.words)}"')))
    return found


def _around(root: Element) -> list[str]:
    """Words of headers and footers that name a fastener; page numbers, dates and titles do not."""
    found = []
    for part in root.children("headerFooter"):
        for one in part.children():
            words = " ".join(_CODES.sub(" ", one.words()).split())
            if words and names_fastener(words):
                found.append(words)
    return list(dict.fromkeys(found))


def _boxes(packed: zipfile.ZipFile, part: str, names: set[str], where: str) -> list[str]:
    """Words of text boxes that have a number or name a fastener."""
    found = []
    for target in targets(packed, part, where).values():
        if target in names and "/drawings/drawing" in target:
            for body in root_of(packed, target, where).below("txBody"):
                words = " ".join(paragraph.words() for paragraph in body.children("p")).strip()
                if words and _counts(words):
                    found.append(" ".join(words.split()))
    return found


def _counts(words: str) -> bool:
    """Whether words name a fastener or have a number."""
    scan = lexicon().scan(words)
    return names_fastener(words) or bool(scan.of("numbers")) or any(char.isdigit() for char in words)


def _place(name: str) -> tuple[int, int] | None:
    """The row (from 1) and the column (from 0) of a cell by its name."""
    match = _CELL.fullmatch(name)
    if match is None:
        return None
    column = 0
    for letter in match[1]:
        column = 26 * column + ord(letter) - 64
    return int(match[2]), column - 1
