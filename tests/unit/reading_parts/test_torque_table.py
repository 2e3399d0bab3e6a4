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


@pytest.mark.parametrize(
    ("heading", "limit"),
    [
        ("Max. torque (N·m)", "at most"),
        ("N·m max.", "at most"),
        ("Minimum torque (N·m)", "at least"),
        ("N·m", ""),
    ],
)
def test_a_limit_in_the_heading_holds_for_its_column(tmp_path: Path, heading: str, limit: str) -> None:
    """Under "max." a number is no value to tighten to (common practice, no source)."""
    read = torques_of(tmp_path, f"[Thread], [{heading}], [M6], [10], [M8], [25],", 2)
    assert [(r.value.torque_Nm, r.value.limit) for r in read.rows] == [
        ((10.0, 10.0), limit),
        ((25.0, 25.0), limit),
    ]
    assert read.problems == ()


@pytest.mark.parametrize(
    "headings", ["[Min. N·m], [Max. N·m]", "[Torque N·m min], [Torque N·m max]", "[Max. N·m], [Min. N·m]"]
)
def test_a_least_and_a_most_are_one_range(tmp_path: Path, headings: str) -> None:
    values = "[10], [8]" if headings.startswith("[Max") else "[8], [10]"
    read = torques_of(tmp_path, f"[Joint], {headings}, [Cover], {values}, [Plate], {values},", 3)
    assert [(r.what, r.value.torque_Nm, r.value.limit) for r in read.rows] == [
        ("Cover", (8.0, 10.0), ""),
        ("Plate", (8.0, 10.0), ""),
    ]


def test_one_limit_missing_leaves_the_other_a_limit(tmp_path: Path) -> None:
    read = torques_of(tmp_path, "[Joint], [Min. N·m], [Max. N·m], [Cover], [8], [10], [Plate], [–], [25],", 3)
    assert [(r.value.torque_Nm, r.value.limit) for r in read.rows] == [
        ((8.0, 10.0), ""),
        ((25.0, 25.0), "at most"),
    ]


def test_columns_of_one_unit_are_torques_of_their_own(tmp_path: Path) -> None:
    """A table by thread and property class (the classes are those of ISO 898-1)."""
    cells = "[Thread], [8.8 N·m], [10.9 N·m], [M6], [10], [14], [M8], [25], [35],"
    read = torques_of(tmp_path, cells, 3)
    assert [(r.what, r.thread, r.value.torque_Nm) for r in read.rows] == [
        ("M6, 8.8", "M6", (10.0, 10.0)),
        ("M6, 10.9", "M6", (14.0, 14.0)),
        ("M8, 8.8", "M8", (25.0, 25.0)),
        ("M8, 10.9", "M8", (35.0, 35.0)),
    ]
    assert read.problems == ()


def test_a_table_of_which_nothing_is_read_is_told(tmp_path: Path) -> None:
    cells = "[Thread], [Class 8.8], [Class 10.9], [N·m], [M6], [10], [14], [], [M8], [25], [35], [],"
    read = torques_of(tmp_path, cells, 4)
    assert read.rows == ()
    assert [problem.code for problem in read.problems] == ["LB-P06"]
    assert "Class 8.8" in read.problems[0].what
