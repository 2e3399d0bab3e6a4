"""Workbooks read as their sheets' tables. They are written with openpyxl, a general-purpose library."""

import datetime
import zipfile
from pathlib import Path

import openpyxl
import openpyxl.comments
import pytest

from lastbolt.cli.main import main
from lastbolt.edge.documents import load
from lastbolt.edge.table_in import read_table
from lastbolt.edge.workbook_in import read_workbook
from lastbolt.words.machine import Machine
from lastbolt.words.problem import Refusal

HEAD = ["Fig", "Item", "Part no.", "Description", "Qty"]
ROWS = [
    ["8", "3", "GR-114", "SCREW, M8X70", 2],
    ["8", "4", "GR-115", "SCREW, M6X45", 7],
    ["8", "5", "GR-116", "GASKET", 1],
]


def workbook(path: Path, sheets: dict[str, list[list[object]]], hidden: str = "") -> Path:
    book = openpyxl.Workbook()
    book.remove(book.active)
    for name, rows in sheets.items():
        sheet = book.create_sheet(name)
        for row in rows:
            sheet.append(row)
        sheet.sheet_state = "hidden" if name == hidden else "visible"
    book.save(path)
    return path


def test_a_sheet_reads_as_the_same_csv_does(tmp_path: Path) -> None:
    path = workbook(tmp_path / "list.xlsx", {"Gearcase": [HEAD, *ROWS]})
    text = "\n".join(",".join(f'"{cell}"' for cell in row) for row in [HEAD, *ROWS])
    (tmp_path / "list.csv").write_text(text, encoding="utf-8")
    (read,) = read_workbook(path)
    assert read.name == "Gearcase"
    assert read.table.sheet == read_table(tmp_path / "list.csv").sheet
    assert read.table.problems == ()


def test_rows_keep_the_numbers_that_the_workbook_shows(tmp_path: Path) -> None:
    path = workbook(tmp_path / "list.xlsx", {"A": [["Parts of pump"], [], HEAD, [], *ROWS]})
    (read,) = read_workbook(path)
    assert [row.line for row in read.table.sheet.rows] == [5, 6, 7]


def test_the_command_reads_every_sheet_with_rows(tmp_path: Path) -> None:
    sheets = {
        "Case": [HEAD, *ROWS],
        "Notes": [["only words"]],
        "Pump": [HEAD, ["9", "1", "P-1", "NUT, M8", 4]],
    }
    path = workbook(tmp_path / "list.xlsx", sheets)
    out = tmp_path / "m.json"
    assert main(["read", str(path), "--out", str(out)]) in (0, 1)
    machine = load(out, Machine)
    assert sorted(row.item for row in machine.rows) == ["1", "3", "4", "5"]
    assert {problem.code for problem in machine.problems} >= {"LB-F42"}


def test_a_hidden_sheet_is_read_and_told(tmp_path: Path) -> None:
    path = workbook(tmp_path / "list.xlsx", {"A": [HEAD, *ROWS], "Old": [HEAD, *ROWS]}, hidden="Old")
    first, old = read_workbook(path)
    assert first.table.problems == ()
    assert [problem.code for problem in old.table.problems] == ["LB-F41"]


def test_a_size_that_became_a_date_is_doubted_with_its_row(tmp_path: Path) -> None:
    row = ["8", datetime.date(2026, 4, 23), "GR-117", "PLUG", 1]
    path = workbook(tmp_path / "list.xlsx", {"A": [HEAD, *ROWS, row]})
    (read,) = read_workbook(path)
    (problem,) = read.table.problems
    assert (problem.code, problem.grade) == ("LB-F43", "doubt")
    assert problem.where.endswith("sheet A, rows 5")


def _bomb(path: Path) -> None:
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr("xl/worksheets/sheet1.xml", b"0" * (500 * 2**20))


@pytest.mark.parametrize(
    ("code", "spoil"),
    [
        ("LB-F39", lambda path: path.write_bytes(path.read_bytes()[: path.stat().st_size // 2])),
        ("LB-F39", lambda path: path.write_bytes(b"Fig,Item\n8,3\n")),
        ("LB-F31", _bomb),
    ],
)
def test_a_spoilt_workbook_is_one_clear_problem(tmp_path: Path, code: str, spoil: object) -> None:
    path = workbook(tmp_path / "list.xlsx", {"A": [HEAD, *ROWS]})
    spoil(path)  # type: ignore[operator]
    with pytest.raises(Refusal) as refused:
        read_workbook(path)
    assert refused.value.problems[0].code == code
    out = tmp_path / "m.json"
    assert main(["read", str(path), "--out", str(out)]) == 2
    assert not out.exists()


def test_a_workbook_without_a_table_is_refused(tmp_path: Path) -> None:
    path = workbook(tmp_path / "list.xlsx", {"A": [["one"], ["two"]]})
    with pytest.raises(Refusal, match="No sheet"):
        read_workbook(path)


def test_one_stray_cell_far_out_is_refused_before_it_fills_the_memory(tmp_path: Path) -> None:
    """A sheet ends at XFD1048576; the reader of workbooks holds the whole rectangle up to the last cell."""
    path = workbook(tmp_path / "list.xlsx", {"Gearcase": [HEAD, *ROWS]})
    book = openpyxl.load_workbook(path)
    book.active.cell(1_048_576, 16_384, "x")
    book.save(path)
    with pytest.raises(Refusal) as refused:
        read_workbook(path)
    assert [problem.code for problem in refused.value.problems] == ["LB-F31"]
    assert "far out" in refused.value.problems[0].what


def test_comments_on_cells_are_told(tmp_path: Path) -> None:
    """A comment may tell of a bolt: its cell and its words are said, and the row stays as it is."""
    path = workbook(tmp_path / "list.xlsx", {"Case": [HEAD, *ROWS], "Pump": [HEAD, *ROWS]})
    book = openpyxl.load_workbook(path)
    book["Case"]["E3"].comment = openpyxl.comments.Comment("and 2 bolts M8x90 behind the bracket", "Ana")
    book.save(path)
    read = read_workbook(path)
    told = [one for sheet in read for one in sheet.table.problems]
    assert [one.code for one in told] == ["LB-F47"]
    assert 'E3: "' in told[0].what
    assert "2 bolts M8x90 behind the bracket" in told[0].what
    assert "Case" in told[0].where
