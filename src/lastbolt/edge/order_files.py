"""An order as a file: CSV, a workbook, or a sheet of paper. Words of sources are data in all of them."""

import csv
import io
from pathlib import Path

from lastbolt.app.order_shown import cells, heads
from lastbolt.edge.plain_text import plain
from lastbolt.edge.typeset import typeset
from lastbolt.words.order import Order
from lastbolt.words.problem import Problem, Refusal

FORMULA_SIGNS = ("=", "+", "-", "@", "\t", "\r")
FORMS = (".csv", ".xlsx", ".pdf")
_WIDEST = 60


def order_file(order: Order, path: Path, foot: str) -> bytes:
    """The order in the form that the file's name asks for.

    Raises:
        Refusal: it asks for none of those there are.
    """
    match path.suffix.lower():
        case ".csv":
            return _csv(order)
        case ".xlsx":
            return _workbook(order)
        case ".pdf":
            return _sheet(order, foot)
    do = f"End its name in one of: {', '.join(FORMS)}."
    raise Refusal(Problem("LB-O05", "No form of an order is known by that ending.", str(path), do, "stop"))


def _rows(order: Order) -> list[tuple[str, ...]]:
    priced = order.total is not None
    return [heads(order), *(tuple(plain(cell) for cell in cells(line, priced)) for line in order.lines)]


def _csv(order: Order) -> bytes:
    """Commas, UTF-8 with its mark (spreadsheets then read it so); no cell begins as a formula does."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    for row in _rows(order):
        writer.writerow([f"'{cell}" if cell.startswith(FORMULA_SIGNS) else cell for cell in row])
    return out.getvalue().encode("utf-8-sig")


def _workbook(order: Order) -> bytes:
    import openpyxl
    from openpyxl.cell.cell import ILLEGAL_CHARACTERS_RE
    from openpyxl.styles import Alignment, Font

    book = openpyxl.Workbook()
    sheet = book.active
    if sheet is None:
        raise TypeError("a new workbook has no sheet")
    sheet.title = "Order"
    names = heads(order)
    rows = _rows(order)
    for number, row in enumerate(rows, 1):
        for at, cell in enumerate(row, 1):
            made = sheet.cell(number, at)
            made.value = ILLEGAL_CHARACTERS_RE.sub("", cell)
            made.data_type = "s"
            made.alignment = Alignment(wrap_text=True, vertical="top")
            if number == 1:
                made.font = Font(bold=True)
            elif names[at - 1] in ("Quantity", "Price", "Sum") and _is_number(cell):
                made.value = float(cell) if "." in cell else int(cell)
    for at, column in enumerate(zip(*rows, strict=True), 1):
        wide = min(_WIDEST, max(len(cell) for cell in column) + 2)
        sheet.column_dimensions[openpyxl.utils.get_column_letter(at)].width = wide
    sheet.freeze_panes = "A2"
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def _is_number(cell: str) -> bool:
    return cell.replace(".", "", 1).isdecimal()


def _sheet(order: Order, foot: str) -> bytes:
    """On A4, with a box to tick for what came."""
    priced = order.total is not None
    data = {
        "goal": plain(order.goal),
        "machine": plain(order.machine),
        "lines": [
            {
                "number": plain(line.part_number),
                "cells": [plain(cell) for cell in cells(line, priced)],
                "replaces": ", ".join(line.replaces),
                "doubt": plain(line.doubt),
            }
            for line in order.lines
        ],
        "total": f"{order.total:.2f}" if priced else "",
        "without": order.without,
        "foot": foot,
    }
    return typeset("order.typ", data)
