"""Table files whose columns can be taken in several ways: the names are found, what is not used is told."""

import pytest

from lastbolt.reading.parts import Parts, PartsSettings, figures_of_sheet, rows_of_sheet
from lastbolt.words.sheet import Sheet, SheetRow


def sheet_of(text: str, separator: str = ",") -> Sheet:
    """The text as a table file's sheet."""
    lines = [tuple(cell.strip() for cell in line.split(separator)) for line in text.strip().splitlines()]
    return Sheet(lines[0], tuple(SheetRow(n, cells) for n, cells in enumerate(lines[1:], start=2)))


def read(text: str, separator: str = ",") -> Parts:
    """The rows of the text."""
    return rows_of_sheet(sheet_of(text, separator), PartsSettings("p", "p.csv"))


def columns(parts: Parts) -> list[str]:
    """What is told of columns."""
    return [f"{problem.grade}: {problem.what}" for problem in parts.problems if problem.code == "LB-P15"]


FIGURES = """
Figure,Title,Item,Part no,Description,Qty,Remarks
4,GEARCASE,1,100-1,HOUSING,1,
4,GEARCASE,3,100-3,SCREW M6x45,7,
4,GEARCASE,4,100-4,BOLT M8x70,2,new
5,COVER,1,100-5,COVER,1,
5,COVER,2,100-6,SCREW M6x20,4,
"""


@pytest.mark.parametrize("swapped", [False, True])
def test_the_title_of_the_figure_is_not_the_name_of_the_part(swapped: bool) -> None:
    text = FIGURES.replace("Title", "x").replace("Description", "Title").replace("x", "Description", 1)
    parts = read(text if swapped else FIGURES)
    assert [row.name for row in parts.rows] == [
        "HOUSING",
        "SCREW M6x45",
        "BOLT M8x70",
        "COVER",
        "SCREW M6x20",
    ]
    assert sum(row.kind is not None for row in parts.rows) == 3
    taken, other = ("Title", "Description") if swapped else ("Description", "Title")
    assert columns(parts) == [
        f'doubt: Columns of the parts list: Both "{taken}" and "{other}" can be the part\'s name: '
        f'"{taken}" was taken, the other was taken for the figure\'s title.'
    ]
    titles = figures_of_sheet(sheet_of(FIGURES), PartsSettings("p", "p.csv"))
    assert [(figure.number, figure.title) for figure in titles] == [("4", "GEARCASE"), ("5", "COVER")]


def test_a_title_alone_is_the_name() -> None:
    parts = read("Item,Title,Qty\n1,SCREW M6x45,7\n2,COVER,1\n")
    assert [row.name for row in parts.rows] == ["SCREW M6x45", "COVER"]
    assert columns(parts) == []


def test_two_names_that_both_change_are_both_kept() -> None:
    text = "Item,Designation,Description,Qty\n1,Screw,M6x45 zinc,7\n2,Cover,sheet steel,1\n3,Bolt,M8x70,2\n"
    parts = read(text)
    assert [row.name for row in parts.rows] == ["Screw", "Cover", "Bolt"]
    assert [row.kind.words() if row.kind else "" for row in parts.rows] == ["screw M6x45", "", "bolt M8x70"]
    assert parts.rows[1].remarks == "sheet steel"
    assert len(columns(parts)) == 1


def test_columns_that_were_not_used_are_told_in_one_problem() -> None:
    text = "Station;Pos;Art. no.;Name;Pcs;X\nNorth;1;N-1;Housing;1;\nNorth;2;N-2;Screw M6x45;7;single use\n"
    parts = read(text, ";")
    assert [row.part_number for row in parts.rows] == ["N-1", "N-2"]
    assert columns(parts) == [
        'doubt: Columns of the parts list: Not used: "Station" ("North"), "X" ("single use").'
    ]


def test_a_price_that_is_not_used_is_a_note() -> None:
    parts = read("Item,Part no,Description,Qty,Price\n1,N-1,Screw M6x45,7,0.20\n")
    assert columns(parts) == ['note: Columns of the parts list: Not used: "Price" ("0.20").']


def test_a_group_tells_items_apart_where_no_figure_does() -> None:
    text = "Group,Pos,Name,Pcs\nDrum,1,Drum,1\nDrum,2,Screw M6x45,7\nBrake,1,Disc,1\nBrake,2,Screw M6x20,4\n"
    parts = read(text)
    assert [(row.figure, row.item) for row in parts.rows] == [
        ("Drum", "1"), ("Drum", "2"), ("Brake", "1"), ("Brake", "2")
    ]  # fmt: skip
    assert len({row.id.rsplit("/", 2)[-2] for row in parts.rows}) == 2


def test_a_second_number_that_is_no_item_is_the_part_number() -> None:
    parts = read("Nr,Ref,Name,Count\n1,NW-80400-1,Screw M6x45,7\n2,NW-80400-2,Cover,1\n")
    assert [(row.item, row.part_number) for row in parts.rows] == [("1", "NW-80400-1"), ("2", "NW-80400-2")]


def test_part_beside_number_is_the_name() -> None:
    parts = read("Item,Part,Number,Qty\n1,Screw M6x45,80-1,7\n2,Cover,80-2,1\n")
    assert [(row.name, row.part_number) for row in parts.rows] == [("Screw M6x45", "80-1"), ("Cover", "80-2")]


def test_other_headings_further_down_hold_from_there() -> None:
    text = (
        "Figure,Item,Part no,Description,Qty\n4,1,K-1,COVER,1\n4,3,K-3,SCREW M6x45,7\n"
        "Item,Qty,Description,Part no,Figure\n9,2,BOLT M8x70,K-9,4\nFigure,Item,Part no,Description,Qty\n"
        "5,1,K-5,NUT M8,2\n"
    )
    parts = read(text)
    assert [(row.figure, row.item, row.part_number, row.name, row.quantity.words) for row in parts.rows] == [
        ("4", "1", "K-1", "COVER", "1"),
        ("4", "3", "K-3", "SCREW M6x45", "7"),
        ("4", "9", "K-9", "BOLT M8x70", "2"),
        ("5", "1", "K-5", "NUT M8", "2"),
    ]


def test_a_column_without_a_heading_is_told_when_it_holds_words() -> None:
    parts = read("Item,Part no,Description,Qty,\n1,K-1,COVER,1,2 x BOLT M8x70\n2,K-2,SCREW M6x45,7,\n")
    assert columns(parts) == [
        'doubt: Columns of the parts list: Not used: a column without a heading ("2 x BOLT M8x70").'
    ]
    assert columns(read("Item,Part no,Description,Qty,\n1,K-1,COVER,1,*\n2,K-2,LABEL,7,\n")) == []


def test_names_under_an_unknown_heading_are_found_by_their_cells() -> None:
    text = (
        "Group,Pos,Art. no.,Bezeichnung,Pcs\nA,1,K-1,Cover,1\nA,2,K-2,Screw M6x45,7\nB,1,K-3,Bolt M8x70,2\n"
    )
    parts = read(text)
    assert [(row.figure, row.name) for row in parts.rows] == [
        ("A", "Cover"), ("A", "Screw M6x45"), ("B", "Bolt M8x70")
    ]  # fmt: skip
    assert columns(parts) == [
        'doubt: Columns of the parts list: "Bezeichnung" was taken for the part\'s name, '
        "by what stands in it."
    ]
