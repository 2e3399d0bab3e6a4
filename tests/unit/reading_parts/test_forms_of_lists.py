"""Parts lists in forms that no heading tells: each a small page under a figure's caption."""

from collections.abc import Callable, Sequence
from pathlib import Path

import pytest

from failure.made_pdf import typeset_pdf
from lastbolt.edge.pdf_in import PdfSettings, read_pages
from lastbolt.reading.manual import BookRead, BookReader, BookSettings
from lastbolt.reading.tables import tables_on
from lastbolt.words.page import PageLayout

Part = tuple[str, str, str, str]
PARTS: tuple[Part, ...] = (
    ("1", "713-3266", "Cover assembly", "1"),
    ("2", "713-3267", "Gasket", "2"),
    ("3", "414-2201", "Screw, M6 x 45", "12"),
    ("4", "414-2202", "Nut, M8", "4"),
    ("5", "101-3310", "Dowel pin 6 x 20", "2"),
    ("6", "202-1180", "Oil seal", "1"),
)
PAGE = """#set page(width: 210mm, height: 297mm, margin: 20mm)
#set text(size: 9pt, font: "DejaVu Sans")
#let dots = box(width: 1fr, repeat[.])
*Figure 7-1. WINCH COVER*

"""


def table(heads: Sequence[str], rows: Sequence[Sequence[str]], stroke: str = "none") -> str:
    """Rows under headings as markup."""
    cells = "".join(", ".join(f"[{cell}]" for cell in row) + ",\n" for row in rows)
    above = "".join(f"[*{head}*], " for head in heads)
    return f"#table(columns: {len(rows[0])}, stroke: {stroke}, {above}{cells})\n"


def lines(line: Callable[[Part], str]) -> str:
    """Each part on a line of its own."""
    return "".join(f"{line(part)} \\\n" for part in PARTS)


def circled(item: str) -> str:
    """The number as a sign in a circle."""
    return chr(0x2460 + int(item) - 1)


VARIANT_HEADS = ("Ref", "Part No.", "Description", "Model A", "Model B")
FORMS = {
    "headings nobody knows": table(("Zz.", "Depot", "Called", "Fitted"), PARTS),
    "the same, ruled": table(("Zz.", "Depot", "Called", "Fitted"), PARTS, "0.4pt"),
    "no headings": table((), PARTS),
    "no headings, ruled": table((), PARTS, "0.4pt"),
    "no headings, name first": table((), [(p[2], p[1], p[0], p[3]) for p in PARTS]),
    "leaders": lines(lambda p: f"{p[0]} #h(2mm) {p[2]} #dots {p[1]} #h(5mm) {p[3]}"),
    "leaders before the count": lines(lambda p: f"{p[0]} #h(2mm) {p[1]} #h(4mm) {p[2]} #dots {p[3]}"),
    "items in circles": table(
        ("", "Description", "Part No.", "Qty"), [(circled(p[0]), p[2], p[1], p[3]) for p in PARTS], "0.4pt"
    ),
    "items in circles in the name": table(
        ("Description", "Part No.", "Qty"), [(f"{circled(p[0])} {p[2]}", p[1], p[3]) for p in PARTS]
    ),
    "items in brackets behind the name": table(
        ("Description", "Part No.", "Qty"), [(f"{p[2]} ({p[0]})", p[1], p[3]) for p in PARTS], "0.4pt"
    ),
    "figure and item": table(
        ("Fig.-Item", "Part Number", "Nomenclature", "Units per Assy"),
        [(f"7-1-{p[0]}" if p[0] == "1" else f"-{p[0]}", *p[1:]) for p in PARTS],
        "0.4pt",
    ),
    "columns with numbers": table(
        ("(1) ITEM NO.", "(2) PART NO.", "(3) DESCRIPTION", "(4) QTY"), PARTS, "0.4pt"
    ),
    "running words": "Parts: " + " ".join(f"{p[0]}. {p[2]}, {p[1]} ({p[3]})." for p in PARTS),
    "lines with counts in words": lines(lambda p: f"{p[0]}. {p[2]}, part no. {p[1]}, {p[3]} off"),
    "lines with dashes": lines(lambda p: f"{p[0]} – {p[2]} – {p[1]} – {p[3]}"),
    "number below the name": table(
        ("Item", "Description / Part No.", "Qty"), [(p[0], f"{p[2]} \\ {p[1]}", p[3]) for p in PARTS], "0.4pt"
    ),
    "a column for each model": table(VARIANT_HEADS, [(*p, p[3]) for p in PARTS], "0.4pt"),
}


def read(folder: Path, markup: str) -> BookRead:
    """The book of the pages."""
    typeset_pdf(folder / "list.pdf", PAGE + markup)
    reader = BookReader(BookSettings("pl", "list.pdf"))
    for page in read_pages(folder / "list.pdf", PdfSettings(workers=1)):
        assert isinstance(page, PageLayout)
        reader.add(page)
    return reader.finish()


@pytest.mark.parametrize("form", FORMS)
def test_each_form_is_read(tmp_path: Path, form: str) -> None:
    """Item, part number, name and count of every part, under the figure's number."""
    rows = read(tmp_path, FORMS[form]).rows
    found = [(row.item, row.part_number, row.name, str(row.quantity.low)) for row in rows]
    assert sorted(found) == sorted(PARTS)
    assert {row.figure for row in rows} == {"7-1"}


def test_columns_without_headings_are_told(tmp_path: Path) -> None:
    """What was taken by the cells alone is said, once."""
    told = [one for one in read(tmp_path, FORMS["no headings"]).problems if one.code == "LB-P15"]
    assert len(told) == 1
    assert "No headings tell the columns" in told[0].what


def test_contents_are_no_parts(tmp_path: Path) -> None:
    """Section numbers with titles and pages read like part numbers with names and counts."""
    rows = [(f"32-10-{n:02}", f"COVER {n} - REMOVAL", str(20 + n)) for n in range(1, 9)]
    assert not read(tmp_path, table((), rows)).rows


def test_a_list_of_tools_is_no_parts_list(tmp_path: Path) -> None:
    """The words above it say what it lists."""
    rows = [
        ("1", "117-0401", "Hook spanner", "1"),
        ("2", "117-0402", "Puller", "1"),
        ("3", "117-0403", "Drift", "2"),
    ]
    markup = "*Special tools*\n\n" + table(("Item", "Part No.", "Description", "Qty"), rows, "0.4pt")
    assert not read(tmp_path, markup).rows


def test_models_with_one_quantity_share_a_row(tmp_path: Path) -> None:
    """Each quantity that differs is one row, for all models that have it; a dash is none."""
    heads = "[*Ref*], [*Part No.*], [*Description*], table.cell(colspan: 3)[*Qty per model*], "
    heads += "[], [], [], [*60*], [*60E*], [*60X*],"
    cells = "".join(f"[{p[0]}], [{p[1]}], [{p[2]}], [2], [4], [4],\n" for p in PARTS[:4])
    last = "[7], [236-6044], [Label], [1], [-], [1],"
    rows = read(tmp_path, f"#table(columns: 6, stroke: 0.4pt, {heads} {cells} {last})").rows
    found = [(row.item, row.quantity.low, row.applies.variants) for row in rows]
    assert found[:2] == [("1", 2, ("60",)), ("1", 4, ("60E", "60X"))]
    assert found[-1] == ("7", 1, ("60", "60X"))


def test_a_step_beside_the_signal_word_of_another_column_heads_no_table(tmp_path: Path) -> None:
    markup = """#set page(width: 210mm, height: 297mm, margin: 20mm)
#set text(size: 9pt, font: "DejaVu Sans")
#grid(columns: (80mm, 80mm), gutter: 10mm, row-gutter: 6pt,
[#align(center)[NOTE]], [(3) Torque studs (4, 7) to 18 lb-ft (24 N·m).],
[(1) Clean the joint faces.], [(4) Tighten three screws crosswise.],
[(2) Blow out the oil way.], [(5) Fit the crank hub.],
[(3) Turn the inlet valve.], [(6) Fit the starter ring.])
"""
    (page,) = [p for p in read_pages(typeset_pdf(tmp_path / "m.pdf", markup)) if isinstance(p, PageLayout)]
    assert tables_on(page) == []
