"""Parts tables whose headings stand once: on the page before, over the left half, over the first part."""

from collections.abc import Sequence
from pathlib import Path

import pytest

from failure.made_pdf import typeset_pdf
from lastbolt.edge.pdf_in import PdfSettings, read_pages
from lastbolt.reading.manual import BookReader, BookSettings
from lastbolt.words.machine import PartsRow
from lastbolt.words.page import PageLayout

HEADS = ("Item", "Part no.", "Description", "Qty")
FIRST = (
    ("1", "K-210", "Cover, winch", "1"),
    ("2", "K-211", "Gasket", "1"),
    ("3", "K-212", "Screw, hex, M6 x 45", "7"),
)
SECOND = (
    ("4", "K-213", "Bolt M8 x 70", "2"),
    ("5", "K-214", "Dowel 6 x 20", "2"),
    ("6", "K-215", "Label", "1"),
)
RULES = {"ruled": "stroke: 0.5pt", "plain": "stroke: none", "lines": "stroke: (x, y) => (bottom: 0.4pt)"}
WIDTHS = "(1.5cm, 2.5cm, 6cm, 1.5cm)"
HALF = "(1cm, 1.6cm, 4cm, 1cm)"


def table(rows: Sequence[tuple[str, ...]], rules: str, widths: str = WIDTHS) -> str:
    """Rows as markup."""
    cells = "".join(", ".join(f"[{cell}]" for cell in row) + ",\n" for row in rows)
    return f"#table(columns: {widths}, {rules}, {cells})\n"


def rows_of(folder: Path, markup: str) -> tuple[PartsRow, ...]:
    """The parts rows of the pages."""
    typeset_pdf(folder / "list.pdf", markup)
    reader = BookReader(BookSettings("pl", "list.pdf"))
    for page in read_pages(folder / "list.pdf", PdfSettings(workers=1)):
        assert isinstance(page, PageLayout)
        reader.add(page)
    return reader.finish().rows


def short(rows: tuple[PartsRow, ...]) -> list[tuple[str, str, str, str]]:
    """What a person compares: item, part number, name, quantity as printed."""
    return [(row.item, row.part_number, row.name, row.quantity.words) for row in rows]


@pytest.mark.parametrize("rules", RULES)
@pytest.mark.parametrize("above", ["", "*Winch (continued)*\n\n"])
def test_over_a_page_break(tmp_path: Path, rules: str, above: str) -> None:
    first = table([HEADS, *FIRST], RULES[rules])
    markup = f"= Winch\n{first}\n#pagebreak()\n{above}{table(SECOND, RULES[rules])}"
    assert short(rows_of(tmp_path, markup)) == [*FIRST, *SECOND]


@pytest.mark.parametrize("rules", RULES)
def test_over_two_page_breaks_and_a_drawing(tmp_path: Path, rules: str) -> None:
    first = table([HEADS, *FIRST], RULES[rules])
    picture = "#pagebreak()\n#circle(radius: 3cm)\n"
    third = [("7", "K-216", "Nut M8", "2")]
    markup = f"= Winch\n{first}\n{picture}#pagebreak()\n{table(SECOND, RULES[rules])}"
    markup += f"#pagebreak()\n{table(third, RULES[rules])}"
    assert short(rows_of(tmp_path, markup)) == [*FIRST, *SECOND, *third]


@pytest.mark.parametrize("rules", ["ruled", "plain"])
def test_a_second_half_beside_the_first(tmp_path: Path, rules: str) -> None:
    left, right = table([HEADS, *FIRST], RULES[rules], HALF), table(SECOND, RULES[rules], HALF)
    beside = f"#grid(columns: (1fr, 1fr), [{left}], [#v(0.8cm)\n{right}])\n"
    assert short(rows_of(tmp_path, f"#set text(8pt)\n= Winch\n{beside}")) == [*FIRST, *SECOND]


def test_two_halves_in_one_grid(tmp_path: Path) -> None:
    rows = [(*HEADS, "", "", "", ""), *((*a, *b) for a, b in zip(FIRST, SECOND, strict=True))]
    markup = f"#set text(8pt)\n= Winch\n{table(rows, RULES['ruled'], HALF[:-1] + ', ' + HALF[1:])}"
    assert sorted(short(rows_of(tmp_path, markup))) == sorted([*FIRST, *SECOND])


def test_two_halves_with_headings_each_are_read_once(tmp_path: Path) -> None:
    left, right = (table([HEADS, *rows], RULES["plain"], HALF) for rows in (FIRST, SECOND))
    beside = f"#grid(columns: (1fr, 1fr), [{left}], [{right}])\n"
    assert short(rows_of(tmp_path, f"#set text(8pt)\n= Winch\n{beside}")) == [*FIRST, *SECOND]


@pytest.mark.parametrize("rules", ["ruled", "plain"])
def test_a_second_part_below_a_line_of_words(tmp_path: Path, rules: str) -> None:
    markup = f"= Winch\n{table([HEADS, *FIRST], RULES[rules])}\n#v(1cm)\nAttaching parts:\n#v(0.5cm)\n"
    assert short(rows_of(tmp_path, markup + table(SECOND, RULES[rules]))) == [*FIRST, *SECOND]


def test_the_rest_of_a_row_that_the_page_break_parted(tmp_path: Path) -> None:
    first = [HEADS, *FIRST, ("4", "K-213", "Bolt, hex", "")]
    rest = [("", "", "M8 x 70, far side", "2"), *SECOND[1:]]
    markup = f"= Winch\n{table(first, RULES['plain'])}\n#pagebreak()\n{table(rest, RULES['plain'])}"
    assert "M8 x 70, far side" in [row.name for row in rows_of(tmp_path, markup)]


def test_steps_behind_a_list_are_no_parts(tmp_path: Path) -> None:
    steps = (
        "= 4.1 Opening\n+ Drain the oil.\n+ Remove the 7 screws M6 x 45.\n+ Lift the cover by its 2 lugs.\n"
    )
    markup = f"= Winch\n{table([HEADS, *FIRST], RULES['plain'])}\n#pagebreak()\n{steps}"
    assert short(rows_of(tmp_path, markup)) == [*FIRST]


def test_a_table_of_torques_behind_a_list_is_none_of_it(tmp_path: Path) -> None:
    rows = [("Screw", "Thread", "N·m", ""), ("Cover", "M6", "10", ""), ("Drain", "M8", "22", "")]
    torques = table(rows, RULES["ruled"])
    markup = f"= Winch\n{table([HEADS, *FIRST], RULES['ruled'])}\n#pagebreak()\n= Torques\n{torques}"
    assert short(rows_of(tmp_path, markup)) == [*FIRST]
