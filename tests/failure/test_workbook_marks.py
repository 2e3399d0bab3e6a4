"""What a workbook shows beside the values of its cells: struck cells, formats with words, comments, footers.

None may pass for a plain count. Workbooks are written with openpyxl, a general-purpose library.
"""

import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import openpyxl
import openpyxl.comments
import pytest
from openpyxl.styles import Font

from lastbolt.cli.main import main
from lastbolt.edge.documents import load
from lastbolt.edge.number_formats import shown_as
from lastbolt.words.machine import Machine, PartsRow

HEAD = ["Fig", "Item", "Part no.", "Description", "Qty"]
ROWS = [["8", "3", "GR-114", "SCREW, M8X70", 2], ["8", "4", "GR-115", "SCREW, M6X45", 7]]


def read(folder: Path, change: Callable[[Any], object]) -> tuple[PartsRow, set[str]]:
    """The row of the sheet whose count stands in E3, and the codes of all problems."""
    book = openpyxl.Workbook()
    for row in [HEAD, *ROWS]:
        book.active.append(row)
    change(book.active)
    book.save(folder / "list.xlsx")
    out = folder / "m.json"
    main(["read", str(folder / "list.xlsx"), "--out", str(out)])
    machine = load(out, Machine)
    row = next(one for one in machine.rows if one.item == "4")
    return row, {problem.code for problem in machine.problems}


def strike(sheet: Any) -> None:
    sheet["E3"].font = Font(strike=True)


def strike_name(sheet: Any) -> None:
    sheet["D3"].font = Font(strike=True)


def one_more(sheet: Any) -> None:
    sheet["E3"].number_format = '0" +1"'


def hidden(sheet: Any) -> None:
    sheet["E3"].number_format = ";;;"


def remarked(sheet: Any) -> None:
    sheet["E3"].comment = openpyxl.comments.Comment("nine from serial 2000 on", "shop")


@pytest.mark.parametrize("change", [strike, strike_name, one_more, hidden, remarked])
def test_a_count_that_people_see_otherwise_is_doubted(
    tmp_path: Path, change: Callable[[Any], object]
) -> None:
    row, codes = read(tmp_path, change)
    assert row.doubt
    assert "LB-P08" in codes


def pieces(sheet: Any) -> None:
    sheet["E3"].number_format = '0" pcs"'


def plain(sheet: Any) -> None:
    sheet["E3"].number_format = "0"
    sheet["E2"].font = Font(bold=True, strike=False)
    sheet["A1"].comment = openpyxl.comments.Comment("checked", "shop")
    sheet.oddFooter.center.text = "Page &P of &N, list 7, &D"


@pytest.mark.parametrize("change", [pieces, plain])
def test_a_plain_count_stays_one(tmp_path: Path, change: Callable[[Any], object]) -> None:
    row, codes = read(tmp_path, change)
    assert (row.quantity.low, row.quantity.high, row.doubt) == (7, 7, "")
    assert not codes & {"LB-P08", "LB-F48"}


def test_a_footer_that_names_a_fastener_is_told(tmp_path: Path) -> None:
    def footer(sheet: Any) -> None:
        sheet.oddFooter.center.text = "1 centre screw M10 x 90 is not listed"

    _, codes = read(tmp_path, footer)
    assert "LB-F48" in codes


def test_a_text_box_that_counts_is_told(tmp_path: Path) -> None:
    """The box is put into the archive by hand: openpyxl writes none."""
    read(tmp_path, lambda sheet: None)
    path, boxed = tmp_path / "list.xlsx", tmp_path / "boxed.xlsx"
    drawing = (
        '<wsDr xmlns:a="a"><anchor><sp><txBody><a:p><a:r><a:t>and two more</a:t></a:r></a:p></txBody></sp>'
        "</anchor></wsDr>"
    )
    relations = '<Relationships><Relationship Id="r1" Target="../drawings/drawing1.xml"/></Relationships>'
    with zipfile.ZipFile(path) as old, zipfile.ZipFile(boxed, "w") as new:
        for name in old.namelist():
            new.writestr(name, old.read(name))
        new.writestr("xl/drawings/drawing1.xml", drawing)
        new.writestr("xl/worksheets/_rels/sheet1.xml.rels", relations)
    main(["read", str(boxed), "--out", str(tmp_path / "b.json")])
    told = [one for one in load(tmp_path / "b.json", Machine).problems if one.code == "LB-F48"]
    assert len(told) == 1
    assert "two more" in told[0].what


@pytest.mark.parametrize(
    ("value", "code", "shown"),
    [
        ("8", '0"+1"', "8+1"),
        ("8", "0\\+\\1", "8+1"),
        ("8", '"eight or nine"', "eight or nine"),
        ("0", '0;-0;"ref"', "ref"),
        ("8.6", '0" off"', "9 off"),
        ("8", "General", ""),
        ("8", "0_)", ""),
        ("45000", "yyyy\\-mm\\-dd", ""),
        ("two", '0"x"', ""),
    ],
)
def test_what_a_format_shows(value: str, code: str, shown: str) -> None:
    assert shown_as(value, code) == shown
