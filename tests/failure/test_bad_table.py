"""Bad table files: one clear problem each; common encodings and separators are simply read."""

from pathlib import Path

import pytest

from lastbolt.edge.table_in import TableRead, read_table
from lastbolt.reading.parts import PartsSettings, rows_of_sheet
from lastbolt.words.problem import Problem, Refusal

GOOD = 'fig;item;part no.;description;qty\n6;1;K-1;"Gehäuse, ½";1\n6;2;K-2;Screw M8 x 70;2\n'


def written(path: Path, content: str | bytes, encoding: str = "utf-8") -> Path:
    """The content in a file."""
    path.write_bytes(content if isinstance(content, bytes) else content.encode(encoding))
    return path


def refused(path: Path) -> Problem:
    """The one problem with which the file is refused."""
    with pytest.raises(Refusal) as caught:
        read_table(path)
    assert len(caught.value.problems) == 1
    return caught.value.problems[0]


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "cp1252"])
@pytest.mark.parametrize("separator", [";", ",", "\t", "|"])
def test_encodings_and_separators(tmp_path: Path, encoding: str, separator: str) -> None:
    content = GOOD.replace("Gehäuse, ½", "Gehäuse ½").replace(";", separator)
    table = read_table(written(tmp_path / "t.csv", content, encoding))
    assert table.sheet.columns == ("fig", "item", "part no.", "description", "qty")
    assert [row.cells[3] for row in table.sheet.rows] == ["Gehäuse ½", "Screw M8 x 70"]
    assert [row.line for row in table.sheet.rows] == [2, 3]
    assert table.problems == ()


def test_decimal_comma_beside_semicolons_and_cells_of_two_lines(tmp_path: Path) -> None:
    content = 'item;name;qty\n1;"Plug,\nM18 x 1,5";1\n2;Shim 0,15;3\n'
    table = read_table(written(tmp_path / "t.csv", content))
    assert table.separator == ";"
    assert [(row.line, row.cells[1]) for row in table.sheet.rows] == [
        (2, "Plug, M18 x 1,5"),
        (4, "Shim 0,15"),
    ]


def test_lines_above_the_headings_are_passed_over(tmp_path: Path) -> None:
    table = read_table(written(tmp_path / "t.csv", "Parts of the winch\n\nitem,name,qty\n1,Cover,1\n"))
    assert table.sheet.columns == ("item", "name", "qty")
    assert table.sheet.rows[0].line == 4


def test_missing_columns_are_one_problem_that_names_found_and_needed(tmp_path: Path) -> None:
    table = read_table(written(tmp_path / "t.csv", "item,colour\n1,red\n2,blue\n"))
    parts = rows_of_sheet(table.sheet, PartsSettings("p", "t.csv"))
    assert parts.rows == ()
    assert [problem.code for problem in parts.problems] == ["LB-P02"]
    assert parts.problems[0].grade == "stop"
    for word in ("name", "quantity", '"item"', '"colour"'):
        assert word in parts.problems[0].what


def test_mixed_encodings_are_flagged_with_their_lines(tmp_path: Path) -> None:
    content = "item,name,qty\n1,Gehäuse,1\n".encode() + "2,Schlüssel,1\n".encode("cp1252")
    table: TableRead = read_table(written(tmp_path / "t.csv", content))
    assert [row.cells[1] for row in table.sheet.rows] == ["Gehäuse", "Schlüssel"]
    assert [problem.code for problem in table.problems] == ["LB-F34"]
    assert table.problems[0].where.endswith("line 3")


def test_too_many_cells_are_named_and_the_row_kept(tmp_path: Path) -> None:
    table = read_table(written(tmp_path / "t.csv", "item,name,qty\n1,Cover,1\n2,Screw, hex, M6,4\n3,Nut,1\n"))
    assert len(table.sheet.rows) == 3
    assert [problem.code for problem in table.problems] == ["LB-F36"]
    assert "lines 3" in table.problems[0].where


@pytest.mark.parametrize(
    ("content", "code"),
    [
        (b"", "LB-F04"),
        (bytes(range(256)) * 20, "LB-F33"),
        (b"%PDF-1.7\n\x00\x01\x02\x03" * 50, "LB-F33"),
        (b"just some words\nand some more\n", "LB-F32"),
        (b'item,name,qty\n1,"' + b"x" * 200_000 + b",1\n", "LB-F35"),
    ],
)
def test_what_is_no_table_is_refused(tmp_path: Path, content: bytes, code: str) -> None:
    assert refused(written(tmp_path / "t.csv", content)).code == code


def test_missing_and_folder(tmp_path: Path) -> None:
    assert refused(tmp_path / "none.csv").code == "LB-F01"
    assert refused(tmp_path).code == "LB-F02"
