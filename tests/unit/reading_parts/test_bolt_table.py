"""A manual's own table of fasteners: which tables are one, and what their lines say."""

from pathlib import Path

import pytest

from failure.made_pdf import typeset_pdf
from lastbolt.edge.pdf_in import PdfSettings, read_pages
from lastbolt.reading.bolt_table import caption_of, read_bolt_table
from lastbolt.reading.lines import lines_of
from lastbolt.reading.tables import tables_on
from lastbolt.words.machine import TableRow
from lastbolt.words.page import PageLayout
from lastbolt.words.quantity import Kind


def rows_of(path: Path, above: str, cells: str, columns: int, stroke: str = "0.5pt") -> tuple[TableRow, ...]:
    """The fastener lines of a page with one table under a line of text."""
    text = f"= Cover\n{above}\n#table(columns: {columns}, stroke: {stroke},\n{cells})"
    typeset_pdf(path / "t.pdf", text)
    pages = [p for p in read_pages(path / "t.pdf", PdfSettings(workers=1)) if isinstance(p, PageLayout)]
    (table,) = tables_on(pages[0])
    return read_bolt_table(table, "m", caption_of(table, lines_of(pages[0], [])), "4-2")


@pytest.mark.parametrize("stroke", ["0.5pt", "none"])
def test_items_of_the_parts_list_sizes_counts_and_places(tmp_path: Path, stroke: str) -> None:
    cells = (
        "[Item in Fig. 3], [Screw], [Qty], [Positions], [4], [M6 x 45], [7], [1 to 7],"
        "[5], [M8 x 70], [2], [8 and 9, far side],"
    )
    rows = rows_of(tmp_path, "Table 4-1 Case screws", cells, 4, stroke)
    assert [(r.item, r.parts_figure, r.kind, r.quantity.low, r.positions) for r in rows] == [
        ("4", "3", Kind("screw", "M6", 45.0), 7, "1 to 7"),
        ("5", "3", Kind("screw", "M8", 70.0), 2, "8 and 9, far side"),
    ]
    assert {row.table for row in rows} == {"Table 4-1 Case screws"}
    assert rows[0].citations[0].words == "4 | M6 x 45 | 7 | 1 to 7"
    assert len({row.id for row in rows}) == 2


def test_the_fastener_word_may_stand_in_the_row_or_in_the_caption(tmp_path: Path) -> None:
    cells = "[Size], [Quantity], [Hex bolt M8 x 20], [4], [M6 x 16], [2],"
    rows = rows_of(tmp_path, "Table 2 Cover bolts", cells, 2)
    assert [(r.kind and (r.kind.what, r.kind.thread), r.quantity.low) for r in rows] == [
        (("bolt", "M8"), 4),
        (("bolt", "M6"), 2),
    ]


NO_TABLE_OF_FASTENERS = {
    "torques without counts": (
        "Table 8-1 Torques",
        "[Joint], [Thread], [N·m], [Cover], [M6], [10], [Bracket], [M8], [25],",
        3,
    ),
    "fluids": (
        "Table 8-2 Fluids",
        "[Where], [What], [Quantity], [Engine], [Oil SAE 30], [3 l], [Gearbox], [Oil SAE 90], [1 l],",
        3,
    ),
    "rings with sizes": (
        "Table 8-3 Seals",
        "[Seal], [Quantity], [O-ring 26 x 2.5], [1], [O-ring 62 x 3], [2],",
        2,
    ),
    "one line only": ("Table 8-4 Screws", "[Screw], [Quantity], [M6 x 45], [7],", 2),
    "screws without counts": (
        "Table 8-5 Screws",
        "[Screw], [Where], [M6 x 45], [rim], [M8 x 70], [far side],",
        2,
    ),
}


@pytest.mark.parametrize("said", NO_TABLE_OF_FASTENERS.values(), ids=NO_TABLE_OF_FASTENERS)
def test_other_tables_are_left_alone(tmp_path: Path, said: tuple[str, str, int]) -> None:
    assert rows_of(tmp_path, *said) == ()
