"""Torque tables: by joint, by thread, turned, and with units that do not agree."""

from pathlib import Path

import pytest

from failure.made_pdf import typeset_pdf
from lastbolt.edge.pdf_in import PdfSettings, read_pages
from lastbolt.reading.tables import tables_on
from lastbolt.reading.torque_table import Torques, read_torque_table
from lastbolt.words.page import PageLayout


def torques_of(path: Path, cells: str, columns: int, stroke: str = "0.5pt") -> Torques:
    """The torques of a page with one table."""
    typeset_pdf(path / "t.pdf", f"= Data\n#table(columns: {columns}, stroke: {stroke},\n{cells})")
    pages = [p for p in read_pages(path / "t.pdf", PdfSettings(workers=1)) if isinstance(p, PageLayout)]
    found = [read_torque_table(table, "m", "t.pdf") for table in tables_on(pages[0])]
    assert len(found) == 1
    assert found[0] is not None
    return found[0]


@pytest.mark.parametrize("stroke", ["0.5pt", "none"])
def test_by_joint_with_two_units(tmp_path: Path, stroke: str) -> None:
    """10 N·m = 7.4 lbf·ft, 25 N·m = 18 lbf·ft (NIST SP 811, appendix B.8: 1 lbf·ft = 1.355 818 N·m)."""
    cells = "[Joint], [Thread], [N·m], [lbf·ft], [Cover], [M6], [10], [7.4], [Bracket], [M8], [25], [18],"
    read = torques_of(tmp_path, cells, 4, stroke)
    assert [(r.what, r.thread, r.value.torque_Nm) for r in read.rows] == [
        ("Cover", "M6", (10.0, 10.0)),
        ("Bracket", "M8", (25.0, 25.0)),
    ]
    assert read.rows[0].value.printed == ((10.0, 10.0, "N·m"), (7.4, 7.4, "lbf·ft"))
    assert read.problems == ()


def test_units_that_do_not_convert_are_said_with_the_row(tmp_path: Path) -> None:
    cells = "[Joint], [Torque (N·m)], [Torque (lbf·ft)], [Shaft nut], [120], [98], [Cover], [10], [7.4],"
    read = torques_of(tmp_path, cells, 3)
    assert len(read.rows) == 2
    assert [problem.code for problem in read.problems] == ["LB-P05"]
    assert "Shaft nut" in read.problems[0].what


def test_turned_table(tmp_path: Path) -> None:
    cells = "[Thread], [M6], [M8], [M10], [N·m], [10], [25], [49],"
    read = torques_of(tmp_path, cells, 4)
    assert [(r.thread, r.value.torque_Nm) for r in read.rows] == [
        ("M6", (10.0, 10.0)),
        ("M8", (25.0, 25.0)),
        ("M10", (49.0, 49.0)),
    ]


def test_range_and_unit_in_the_cell(tmp_path: Path) -> None:
    cells = (
        "[Screw], [Size], [Tightening torque], [Cover], [M6 x 45], [8–10 N·m], [Plug], [M18 x 1.5], [45 N·m],"
    )
    read = torques_of(tmp_path, cells, 3)
    assert [(r.thread, r.value.torque_Nm) for r in read.rows] == [
        ("M6", (8.0, 10.0)),
        ("M18x1.5", (45.0, 45.0)),
    ]
