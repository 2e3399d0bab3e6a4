"""Columns under headings that nobody knows, by what stands in them: proposed, for a person to say yes to."""

import re
from collections.abc import Sequence
from itertools import pairwise

from msgspec.structs import replace

from lastbolt.words.columns import ColumnRead, Meaning
from lastbolt.words.sheet import Sheet

_LEAST_ROWS = 3
_COUNT = re.compile(r"\d{1,3}(?:[.,]0+)?(?:\s?[A-Za-z]{1,4}\.?)?|[A-Za-z]{1,3}\.?(?:/[A-Za-z])?")
_PLAIN = re.compile(r"\d{1,3}(?:[.,]0+)?(?:\s?[A-Za-z]{1,4}\.?)?")
_ITEM = re.compile(r"\d{1,4}[a-z]?\.?")
_NUMBER = re.compile(r"(?=.*\d)[\w./ -]{3,30}")
_MOST = 0.8
PERHAPS = "perhaps, by what stands in it"
_PROPOSED: tuple[Meaning, ...] = ("name", "item", "quantity", "part number")


def cells_of(sheet: Sheet, index: int) -> list[str]:
    """What stands in a column, empty cells left out."""
    return [
        row.cells[index].strip() for row in sheet.rows if index < len(row.cells) and row.cells[index].strip()
    ]


def suggested(sheet: Sheet, columns: Sequence[ColumnRead]) -> tuple[ColumnRead, ...]:
    """The columns with proposals for name, count, item and part number, where one column alone can be it."""
    if len(sheet.rows) < _LEAST_ROWS:
        return tuple(columns)
    found = list(columns)
    for meaning in _PROPOSED:
        if any(one.means == meaning for one in found):
            continue
        free = [index for index, one in enumerate(found) if one.means == "nothing" and one.cells]
        fitting = [index for index in free if _fits(meaning, cells_of(sheet, index), len(sheet.rows))]
        if meaning == "name" and len(fitting) > 1:
            fitting = [max(fitting, key=lambda index: len(set(cells_of(sheet, index))))]
        if len(fitting) == 1:
            at = fitting[0]
            found[at] = replace(found[at], means=meaning, why=PERHAPS)
    return tuple(found)


def _fits(meaning: Meaning, cells: Sequence[str], rows: int) -> bool:
    if len(cells) < _MOST * rows and meaning != "item":
        return False
    match meaning:
        case "name":
            wordy = sum(
                sum(c.isalpha() for c in cell) > max(2, sum(c.isdigit() for c in cell)) for cell in cells
            )
            return wordy >= _MOST * len(cells) and len(set(cells)) > 0.6 * len(cells)
        case "item":
            return _share(_ITEM, cells) >= _MOST and len(set(cells)) == len(cells) and _rises(cells)
        case "quantity":
            return _share(_COUNT, cells) >= _MOST and _share(_PLAIN, cells) >= 0.6 and not _rises(cells)
        case _:
            return _share(_NUMBER, cells) >= _MOST and len(set(cells)) >= _MOST * len(cells)


def _share(pattern: re.Pattern[str], cells: Sequence[str]) -> float:
    return sum(pattern.fullmatch(cell) is not None for cell in cells) / max(len(cells), 1)


def _rises(cells: Sequence[str]) -> bool:
    """Whether the numbers of a column rise all the way, as items do."""
    numbers = [int(digits) for cell in cells if (digits := "".join(c for c in cell if c.isdecimal()))]
    return len(numbers) == len(cells) > 1 and all(a < b for a, b in pairwise(numbers))
