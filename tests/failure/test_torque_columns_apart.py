"""Tables of torques whose columns, rows or words beside them say when each number holds.

The numbers are invented; the property classes are those of ISO 898-1 and ISO 3506-1 (from memory).
"""

import json
from pathlib import Path
from typing import Any

import pytest

from failure.made_pdf import typeset_pdf
from lastbolt.cli.main import main

REST = "\n\n## 3.1 Taking off the lid\n\n1. Remove the 4 screws M6x20.\n2. Lift off the lid.\n"


def torques_of(folder: Path, table: str, beside: str = "All torques in N·m.") -> list[dict[str, Any]]:
    """The torques of a small manual with one table."""
    text = f"# Mill: handbook\n\n## 2.1 Tightening torques\n\n{table}\n\n{beside}{REST}"
    (folder / "manual.md").write_text(text, encoding="utf-8")
    main(["read", str(folder / "manual.md"), "--out", str(folder / "m.json")])
    model = json.loads((folder / "m.json").read_text(encoding="utf-8"))
    torques: list[dict[str, Any]] = model.get("torques", [])
    return torques


def said(torques: list[dict[str, Any]]) -> list[tuple[Any, ...]]:
    """Thread, condition and torque of each."""
    return [(t.get("thread"), t["value"].get("condition", ""), t["value"]["torque_Nm"][1]) for t in torques]


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("8.8", "12.9"),
        ("A2-50", "A2-70"),
        ("grade 5", "grade 8"),
        ("Without lubrication", "Lubricated"),
        ("into cast iron", "into aluminum"),
        ("1st stage", "2nd stage"),
        ("Bolts new", "Bolts used before"),
        ("zinc plated", "plain steel"),
    ],
)
def test_each_column_of_bare_numbers_is_a_torque_with_its_condition(
    one: str, other: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    table = f"| Thread | {one} | {other} |\n|---|---|---|\n| M5 | 5 | 6 |\n| M10 | 43 | 51 |"
    found = said(torques_of(tmp_path, table))
    assert [(thread, value) for thread, _, value in found] == [
        ("M5", 5.0), ("M5", 6.0), ("M10", 43.0), ("M10", 51.0)
    ]  # fmt: skip
    assert [condition for _, condition, _ in found[:2]] == [one, other]
    assert "LB-P07" not in capsys.readouterr().out


def test_least_and_most_are_one_range(tmp_path: Path) -> None:
    table = "| Thread | min. | max. |\n|---|---|---|\n| M5 | 5 | 6 |\n| M10 | 43 | 51 |"
    assert [t["value"]["torque_Nm"] for t in torques_of(tmp_path, table)] == [[5.0, 6.0], [43.0, 51.0]]


def test_headings_that_no_rule_knows_are_kept_and_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    table = "| Joint | Type 20 | Type 30 |\n|---|---|---|\n| Lid | 5 | 6 |\n| Arm | 43 | 51 |"
    assert [c for _, c, _ in said(torques_of(tmp_path, table))] == ["Type 20", "Type 30"] * 2
    assert "LB-P07" in capsys.readouterr().out


def test_columns_without_headings_give_no_number_and_are_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    table = "| Joint | | |\n|---|---|---|\n| Lid | 5 | 6 |\n| Arm | 43 | 51 |"
    assert torques_of(tmp_path, table) == []
    assert "LB-P06" in capsys.readouterr().out


def test_two_columns_of_one_heading_with_its_unit_give_no_number_and_are_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    table = "| Joint | Torque (N·m) | Torque (N·m) |\n|---|---|---|\n| Lid | 5 | 6 |\n| Arm | 43 | 51 |"
    assert torques_of(tmp_path, table) == []
    assert "LB-P06" in capsys.readouterr().out


def test_numbers_that_are_no_torques_stay_out(tmp_path: Path) -> None:
    heads = "| Thread | Pitch | Spanner size | Value |\n|--|--|--|--|\n"
    table = heads + "| M5 | 0.8 | 8 | 5 |\n| M10 | 1.5 | 17 | 43 |"
    assert said(torques_of(tmp_path, table)) == [("M5", "", 5.0), ("M10", "", 43.0)]


def test_a_class_in_a_column_of_its_own_stays_with_its_torque(tmp_path: Path) -> None:
    table = "| Thread | Class | Torque, N·m |\n|---|---|---|\n| M5 | 8.8 | 5 |\n| M5 | 10.9 | 7 |"
    assert said(torques_of(tmp_path, table)) == [("M5", "8.8", 5.0), ("M5", "10.9", 7.0)]


def test_a_condition_in_a_row_of_its_own_holds_for_the_rows_below(tmp_path: Path) -> None:
    rows = "| Threads dry | |\n| M5 | 5 |\n| M10 | 43 |\n| Threads oiled | |\n| M5 | 4 |"
    found = said(torques_of(tmp_path, f"| Thread | Torque, N·m |\n|---|---|\n{rows}"))
    assert found == [("M5", "Threads dry", 5.0), ("M10", "Threads dry", 43.0), ("M5", "Threads oiled", 4.0)]


def test_threads_as_headings_and_classes_as_rows(tmp_path: Path) -> None:
    table = "| Class | M5 | M6 | M10 |\n|---|---|---|---|\n| 8.8 | 5 | 9 | 43 |\n| 10.9 | 7 | 13 | 63 |"
    found = said(torques_of(tmp_path, table))
    assert found[:2] == [("M5", "Class 8.8", 5.0), ("M6", "Class 8.8", 9.0)] or found[:2] == [
        ("M5", "8.8", 5.0), ("M6", "8.8", 9.0)
    ]  # fmt: skip
    assert len(found) == 6


def test_words_beside_a_table_of_bare_threads_stay_with_its_torques(tmp_path: Path) -> None:
    table = "| Thread | Torque |\n|---|---|\n| M5 | 5 |\n| M10 | 43 |"
    found = said(torques_of(tmp_path, table, "Torques in N·m for bolts of class 8.8, lightly oiled."))
    assert all("class 8.8, lightly oiled" in condition for _, condition, _ in found)


def test_a_turn_in_a_column_of_its_own_is_part_of_the_torque(tmp_path: Path) -> None:
    table = "| Joint | Torque, N·m | Angle |\n|---|---|---|\n| Lid | 5 | 60° |\n| Arm | 43 | 90 |"
    assert [t["value"]["angle_deg"] for t in torques_of(tmp_path, table)] == [60.0, 90.0]


HEADED = """
= Tightening torques
#table(columns: (30mm, 30mm, 30mm), [Thread], table.cell(colspan: 2)[Torque, N·m], [], [greased], [dry],
  [M5], [4], [5], [M10], [36], [43])
= Taking off the lid
1. Remove the 4 screws M5x20.
"""


def test_a_second_row_of_headings_parts_the_columns_of_a_printed_table(tmp_path: Path) -> None:
    typeset_pdf(tmp_path / "p.pdf", HEADED)
    main(["read", str(tmp_path / "p.pdf"), "--out", str(tmp_path / "m.json")])
    torques = json.loads((tmp_path / "m.json").read_text(encoding="utf-8"))["torques"]
    assert said(torques) == [
        ("M5", "greased", 4.0), ("M5", "dry", 5.0), ("M10", "greased", 36.0), ("M10", "dry", 43.0)
    ]  # fmt: skip


def test_the_plan_prints_no_torque_of_a_table_without_its_condition(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    table = "| Thread | 8.8 | 12.9 |\n|---|---|---|\n| M6 | 9 | 15 |\n| M10 | 43 | 73 |"
    torques_of(tmp_path, table)
    capsys.readouterr()
    main(["plan", "take off the lid", "--model", str(tmp_path / "m.json")])
    told = " ".join(capsys.readouterr().out.split())
    assert "M6, 8.8: 9 N·m" in told
    assert "M6, 12.9: 15 N·m" in told
    assert "M6: " not in told


def test_two_rows_of_conditions_over_the_columns_are_both_kept(tmp_path: Path) -> None:
    rows = (
        '<tr><th rowspan="2">Thread</th><th colspan="2">8.8</th><th colspan="2">12.9</th></tr>'
        "<tr><th>dry</th><th>greased</th><th>dry</th><th>greased</th></tr>"
        "<tr><td>M5</td><td>5</td><td>4</td><td>8</td><td>7</td></tr>"
        "<tr><td>M10</td><td>43</td><td>36</td><td>73</td><td>60</td></tr>"
    )
    text = f"<h1>Mill</h1><h2>2.1 Tightening torques</h2><p>All torques in N·m.</p><table>{rows}</table>"
    (tmp_path / "m.html").write_text(text, encoding="utf-8")
    main(["read", str(tmp_path / "m.html"), "--out", str(tmp_path / "m.json")])
    torques = json.loads((tmp_path / "m.json").read_text(encoding="utf-8"))["torques"]
    assert [(condition, value) for _, condition, value in said(torques)[:4]] == [
        ("dry 8.8", 5.0), ("greased 8.8", 4.0), ("dry 12.9", 8.0), ("greased 12.9", 7.0)
    ]  # fmt: skip


def test_several_torques_in_a_cell_are_told_apart_by_what_stands_behind_each(tmp_path: Path) -> None:
    table = "| Joint | Torque |\n|---|---|\n| Bolt M5 | 5 N·m (8.8), 8 N·m (12.9) |\n| Nut M10 | 43 N·m |"
    assert said(torques_of(tmp_path, table)) == [("M5", "8.8", 5.0), ("M5", "12.9", 8.0), ("M10", "", 43.0)]
