"""Parts lists set in many ways: every row must come out with its item, number, name, quantity and place."""

from pathlib import Path

import pytest

from failure.made_pdf import typeset_pdf
from lastbolt.edge.pdf_in import PdfSettings, read_pages
from lastbolt.reading.figures import FiguresSeen, figures_on
from lastbolt.reading.parts import Parts, PartsSettings, is_parts_table
from lastbolt.reading.parts_list import PartsReader
from lastbolt.reading.tables import Table, tables_on
from lastbolt.words.citation import PdfPlace
from lastbolt.words.machine import Figure, PartsRow
from lastbolt.words.page import PageLayout

ROWS = [
    ("1", "K-210", "Cover, winch", "1", ""),
    ("2", "K-211", "Screw, hex, M8 x 70", "2", "long"),
    ("3", "K-212", "Screw, hex, M6 x 45", "7", ""),
    ("4", "K-213", "Washer, 6", "AR", ""),
    ("5", "K-214", "Gasket", "1", "Single use"),
]
HEADS = ("Item", "Part no.", "Description", "Qty", "Remarks")
EXPECTED = [(item, number, name, qty) for item, number, name, qty, _ in ROWS]


def pages_of(path: Path, markup: str) -> list[PageLayout]:
    """The pages that the markup makes."""
    typeset_pdf(path / "list.pdf", markup)
    read = read_pages(path / "list.pdf", PdfSettings(workers=1))
    return [item for item in read if isinstance(item, PageLayout)]


def read_list(pages: list[PageLayout], *variants: str) -> tuple[Parts, tuple[Figure, ...]]:
    """The pages read as a parts list."""
    reader = PartsReader(PartsSettings("pl", "list.pdf", variants))
    for page in pages:
        tables, figures = seen(page)
        reader.add_page(tables, figures.found)
    return reader.finish()


def seen(page: PageLayout) -> tuple[list[Table], FiguresSeen]:
    """Tables and figures of a page."""
    tables = tables_on(page)
    return tables, figures_on(page, "pl", tables)


def table(heads: tuple[str, ...], rows: list[tuple[str, ...]], options: str) -> str:
    """A table as markup."""
    cells = ", ".join(f"[*{head}*]" for head in heads) + ",\n"
    cells += "".join(", ".join(f"[{cell}]" for cell in row) + ",\n" for row in rows)
    return f"#table(columns: {len(heads)}, {options}\n{cells})\n"


def short(rows: tuple[PartsRow, ...]) -> list[tuple[str, str, str, str]]:
    """What a person compares: item, part number, name, quantity as printed."""
    return [(row.item, row.part_number, row.name, row.quantity.words) for row in rows]


STYLES = {
    "ruled": "stroke: 0.5pt,",
    "plain": "stroke: none,",
    "plain, tight": "stroke: none, column-gutter: 0pt, inset: (x: 4pt, y: 2pt),",
    "rules between rows": "stroke: (x, y) => (bottom: 0.4pt),",
    "rules between columns": "stroke: (x, y) => (left: 0.4pt, right: 0.4pt, top: 0.4pt),",
    "headings ruled": "stroke: (x, y) => if y == 0 { (top: 1pt, bottom: 0.5pt) },",
    "tinted rows": "stroke: none, fill: (x, y) => if calc.odd(y) { luma(230) },",
    "numbers right": "stroke: none, align: (x, y) => if x in (0, 3) { right } else { left },",
    "centred": "stroke: 0.3pt, align: center,",
}


@pytest.mark.parametrize("style", STYLES)
def test_ways_of_ruling(tmp_path: Path, style: str) -> None:
    markup = f"= Winch\nParts of the winch, seen from the rear.\n\n{table(HEADS, ROWS, STYLES[style])}\n"
    markup += "The list ends here and running text follows after the table on this page."
    parts, _ = read_list(pages_of(tmp_path, markup))
    assert short(parts.rows) == EXPECTED
    assert parts.problems == ()
    kinds = [row.kind.words() if row.kind else "" for row in parts.rows]
    assert kinds[1:3] == ["screw M8x70", "screw M6x45"]
    assert [row.renew for row in parts.rows] == [False, False, False, False, True]
    assert parts.rows[3].quantity.kind == "as required"


@pytest.mark.parametrize("style", ["ruled", "plain"])
@pytest.mark.parametrize("order", [(3, 0, 2, 1, 4), (2, 3, 1, 0, 4), (1, 2, 4, 3, 0)])
def test_columns_in_any_order(tmp_path: Path, order: tuple[int, ...], style: str) -> None:
    heads = tuple(HEADS[i] for i in order)
    rows = [tuple(row[i] for i in order) for row in ROWS]
    parts, _ = read_list(pages_of(tmp_path, table(heads, rows, STYLES[style])))
    assert short(parts.rows) == EXPECTED


@pytest.mark.parametrize("style", ["ruled", "plain"])
def test_other_words_for_the_headings(tmp_path: Path, style: str) -> None:
    heads = ("Ref.", "Order number", "Designation", "No. off", "Note")
    parts, _ = read_list(pages_of(tmp_path, table(heads, ROWS, STYLES[style])))
    assert short(parts.rows) == EXPECTED


@pytest.mark.parametrize("style", ["ruled", "plain"])
def test_a_name_over_two_lines_is_one_row_with_one_box(tmp_path: Path, style: str) -> None:
    rows = [
        ("1", "K-1", "Screw, hex, M8 x 70, zinc plated, for the far side of the winch", "2"),
        ("2", "K-2", "Nut", "3"),
    ]
    markup = "#set page(width: 12cm)\n" + table(
        HEADS[:4], rows, f"{STYLES[style]} columns: (1cm, 2cm, 4cm, 1cm),".replace("columns: 4, ", "")
    ).replace("columns: 4, ", "", 1)
    pages = pages_of(tmp_path, markup)
    parts, _ = read_list(pages)
    assert [row.name for row in parts.rows] == [rows[0][2], "Nut"]
    place = parts.rows[0].citations[0].place
    assert isinstance(place, PdfPlace)
    assert place.box is not None
    inside = [w.text for w in pages[0].words if place.box[1] <= (w.top + w.bottom) / 2 <= place.box[3]]
    assert set(rows[0][2].split()) <= set(inside)
    assert "Nut" not in inside


def test_one_quantity_column_per_variant(tmp_path: Path) -> None:
    heads = ("Item", "Part no.", "Description", "Qty E", "Qty H")
    rows = [
        ("1", "A-1", "Cover", "1", "1"),
        ("2", "A-2", "Screw M8 x 20", "2", "3"),
        ("3", "A-3", "Stud M6 x 30", "-", "4"),
    ]
    parts, _ = read_list(pages_of(tmp_path, table(heads, rows, STYLES["ruled"])), "E", "H")
    found = [(r.item, r.quantity.low, r.applies.variants) for r in parts.rows]
    assert found == [("1", 1, ()), ("2", 2, ("E",)), ("2", 3, ("H",)), ("3", 4, ("H",))]
    assert len({row.id for row in parts.rows}) == 4


def test_levels_by_dots(tmp_path: Path) -> None:
    rows = [
        ("1", "A-1", "Cover assembly", "1", ""),
        ("2", "A-2", ". Bush", "2", "incl. in 1"),
        ("3", "A-3", ". . Pin 4 x 20", "1", ""),
    ]
    parts, _ = read_list(pages_of(tmp_path, table(HEADS, rows, STYLES["plain"])))
    assert [(row.name, row.indent) for row in parts.rows] == [
        ("Cover assembly", 0),
        ("Bush", 1),
        ("Pin 4 x 20", 2),
    ]
    assert parts.rows[1].remarks == "incl. in 1"


def test_a_list_over_three_pages_with_its_headings_again(tmp_path: Path) -> None:
    rows = [(str(n), f"K-{n:03}", f"Screw, hex, M6 x {n}", "1", "") for n in range(1, 61)]
    markup = "#set page(height: 12cm)\n*Fig. 7* Winch drum\n" + table(HEADS, rows, "stroke: none,").replace(
        "[*Item*], [*Part no.*], [*Description*], [*Qty*], [*Remarks*],",
        "table.header([*Item*], [*Part no.*], [*Description*], [*Qty*], [*Remarks*]),",
    )
    pages = pages_of(tmp_path, markup)
    assert len(pages) >= 3
    parts, _ = read_list(pages)
    assert short(parts.rows) == [(a, b, c, d) for a, b, c, d, _ in rows]
    assert {
        c.place.pdf_page for r in parts.rows for c in r.citations if isinstance(c.place, PdfPlace)
    } == set(range(1, len(pages) + 1))


def test_a_shared_item_keeps_both_rows_apart(tmp_path: Path) -> None:
    rows = [("4", "A-1", "Bracket, left", "1", ""), ("4", "A-2", "Bracket, right", "1", "")]
    parts, _ = read_list(pages_of(tmp_path, table(HEADS, rows, STYLES["ruled"])))
    assert [row.name for row in parts.rows] == ["Bracket, left", "Bracket, right"]
    assert len({row.id for row in parts.rows}) == 2


def test_a_quantity_that_is_no_number_is_doubtful_not_lost(tmp_path: Path) -> None:
    rows = [("1", "A-1", "Cover", "1", ""), ("2", "A-2", "Screw M6 x 20", "l2?", "")]
    parts, _ = read_list(pages_of(tmp_path, table(HEADS, rows, STYLES["ruled"])))
    assert len(parts.rows) == 2
    assert "l2?" in parts.rows[1].doubt


def test_tables_that_are_no_parts_list_are_left_alone(tmp_path: Path) -> None:
    markup = table(("Fault", "Cause", "Remedy"), [("No water", "Filter blocked", "Clean")], STYLES["ruled"])
    markup += table(("Joint", "Thread", "N·m"), [("Cover", "M6", "10")], STYLES["ruled"])
    tables = tables_on(pages_of(tmp_path, markup)[0])
    assert len(tables) == 2
    assert not any(is_parts_table(found) for found in tables)


DRAWING = """
#set page(width: 16cm, height: 20cm)
#box(width: 12cm, height: 7cm)[
  #place(dx: 2cm, dy: 1cm, circle(radius: 2cm))
  #place(dx: 5cm, dy: 2cm, circle(radius: 1cm))
  #place(dx: 4cm, dy: 3cm, curve(curve.move((0cm, 0cm)), curve.cubic((1cm, 2cm), (2cm, -1cm), (3cm, 1cm))))
  #place(dx: 6.5cm, dy: 3cm, line(end: (2cm, 1cm)))
  #place(dx: 2cm, dy: 3cm, line(end: (-1cm, 2cm)))
  #place(dx: 5cm, dy: 2cm, line(end: (1cm, -1.5cm)))
  #place(dx: 8.6cm, dy: 3.9cm)[1]
  #place(dx: 0.7cm, dy: 5.1cm)[2]
  #place(dx: 6.1cm, dy: 0.2cm)[CALLOUT]
]
"""


def test_a_drawing_its_caption_callouts_and_rows(tmp_path: Path) -> None:
    markup = (
        DRAWING.replace("CALLOUT", "9")
        + "\n*Fig. 7.* Pump bracket\n\n"
        + table(HEADS, ROWS[:2], STYLES["ruled"])
    )
    parts, figures = read_list(pages_of(tmp_path, markup))
    assert [(f.number, f.title, f.parts_figure) for f in figures] == [("7", "Pump bracket", True)]
    assert [c.number for c in figures[0].callouts] == ["1", "2", "9"]
    assert [row.id for row in parts.rows] == ["pl/row/7/1", "pl/row/7/2"]
    assert [p.code for p in parts.problems] == ["LB-P03"]
    assert "callout 9" in parts.problems[0].what
    assert "PDF page 1" in parts.problems[0].where


def test_an_item_that_the_drawing_lacks_is_said(tmp_path: Path) -> None:
    markup = (
        DRAWING.replace("CALLOUT", "3")
        + "\n*Fig. 7.* Pump bracket\n\n"
        + table(HEADS, ROWS[:4], STYLES["ruled"])
    )
    parts, _ = read_list(pages_of(tmp_path, markup))
    assert [(p.code, "Item 4" in p.what) for p in parts.problems] == [("LB-P04", True)]


def test_a_legend_under_the_caption(tmp_path: Path) -> None:
    markup = (
        DRAWING.replace("CALLOUT", "3")
        + "\nFigure 2-4: Guard seen from below, drive side\\\n1 Guard\\\n2 Screw M6 x 16\\\n3 Stay"
    )
    found = seen(pages_of(tmp_path, markup)[0])[1].found
    assert [(f.figure.number, f.figure.title) for f in found] == [
        ("2-4", "Guard seen from below, drive side")
    ]
    assert found[0].figure.legend == (("1", "Guard"), ("2", "Screw M6 x 16"), ("3", "Stay"))
    assert [c.number for c in found[0].figure.callouts] == ["1", "2", "3"]


def test_a_sentence_about_a_figure_is_no_caption(tmp_path: Path) -> None:
    markup = (
        DRAWING.replace("CALLOUT", "3") + "\nFig. 3 shows the guard from the drive side, with its screws."
    )
    assert seen(pages_of(tmp_path, markup)[0])[1].found == ()


def test_a_drawing_without_a_caption_is_not_dropped(tmp_path: Path) -> None:
    assert len(seen(pages_of(tmp_path, DRAWING.replace("CALLOUT", "3"))[0])[1].unclaimed) == 1
