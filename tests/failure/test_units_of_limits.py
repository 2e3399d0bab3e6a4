"""Limits in parts of a unit, notes that give one kind of size its own unit, a unit over one column only."""

import json
from pathlib import Path
from typing import Any

import pytest

from lastbolt.cli.main import main

REST = "\n\n## 3.1 Taking off the lid\n\n1. Remove the 4 screws M6x20.\n2. Lift off the lid.\n"


def limits_of(folder: Path, table: str, beside: str = "") -> list[dict[str, Any]]:
    """The limits of a small manual with one table."""
    text = f"# Mill: handbook\n\n## 2.2 Wear limits\n\n{table}\n\n{beside}{REST}"
    (folder / "m.md").write_text(text, encoding="utf-8")
    main(["read", str(folder / "m.md"), "--out", str(folder / "m.json")])
    limits: list[dict[str, Any]] = json.loads((folder / "m.json").read_text(encoding="utf-8")).get(
        "limits", []
    )
    return limits


def end(limit: dict[str, Any], side: str = "limit") -> float | None:
    """The number of a side in mm."""
    span = limit.get(side)
    return span and (span.get("high") or span.get("low"))


@pytest.mark.parametrize(
    ("unit", "expected"),
    [
        ("(1/100 mm)", 0.08),
        ("in hundredths of a millimetre", 0.08),
        ("[0.01 mm]", 0.08),
        ("(mm/100)", 0.08),
        ("(1/10 mm)", 0.8),
        ("(1/1000 mm)", 0.008),
        ("(1/1000 in)", 0.2032),
        ("(thousandths of an inch)", 0.2032),
        ("(mm)", 8.0),
    ],
)
def test_a_part_of_a_unit_in_the_heading_is_taken_for_what_it_is(
    unit: str, expected: float, tmp_path: Path
) -> None:
    """1 in = 25.4 mm exactly (NIST SP 811, appendix B.8)."""
    table = f"| Part | Limit {unit} |\n|---|---|\n| Spindle run-out | 8 |"
    assert end(limits_of(tmp_path, table)[0]) == pytest.approx(expected)


def test_a_part_of_a_unit_above_the_table_is_one_too(tmp_path: Path) -> None:
    table = "| Part | Limit |\n|---|---|\n| Spindle run-out | 8 |"
    assert end(limits_of(tmp_path, table, "Limits in 1/100 mm.")[0]) == pytest.approx(0.08)


def test_a_part_that_no_rule_knows_gives_no_number_and_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    table = "| Part | Limit (1/50 mm) |\n|---|---|\n| Spindle run-out | 8 |"
    assert limits_of(tmp_path, table) == []
    assert "LB-P09" in capsys.readouterr().out


NOTED = """| Part | New | Limit |
|---|---|---|
| Spindle diameter | 30.00 | 29.95 |
| Clearance, spindle in bush | 2 | 6 |
| Backlash | 4 | 9 |"""


def test_a_note_that_gives_a_kind_of_size_its_own_unit_is_heeded(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    beside = "Dimensions in mm; clearances in thousandths of an inch."
    spindle, clearance, backlash = limits_of(tmp_path, NOTED, beside)
    assert end(spindle) == pytest.approx(29.95)
    assert end(clearance) == pytest.approx(0.1524)
    assert "doubt" not in clearance
    assert "doubt" not in spindle
    assert "mil" in backlash["doubt"]  # it may be one of the clearances
    assert "LB-P11" in capsys.readouterr().out


def test_one_unit_for_all_is_no_doubt(tmp_path: Path) -> None:
    assert all(
        "is said as well" not in one.get("doubt", "")
        for one in limits_of(tmp_path, NOTED, "All sizes in mm.")
    )


def test_a_unit_over_one_column_is_not_lent_to_a_column_of_another(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    rows = "| Spindle dia. | 30 mm | 1.179 |\n| Backlash | 0.2 | 0.02 |"
    table = f"| Part | Nominal | Wear limit (in) |\n|---|---|---|\n{rows}"
    spindle, backlash = limits_of(tmp_path, table)
    assert end(spindle, "standard") == pytest.approx(30.0)
    assert end(backlash) == pytest.approx(0.508)
    assert backlash.get("standard") is None
    assert "LB-P11" in capsys.readouterr().out


def test_a_unit_over_the_last_of_two_columns_is_lent_with_a_doubt_where_it_is_unusual(tmp_path: Path) -> None:
    rows = "| Spindle dia. | 1.181 | 1.179 |\n| Backlash | 0.004 | 0.02 |"
    inches = limits_of(tmp_path, f"| Part | Nominal | Wear limit (in) |\n|---|---|---|\n{rows}")
    assert all(one["doubt"] for one in inches)
    usual = limits_of(tmp_path, f"| Part | Nominal | Wear limit (mm) |\n|---|---|---|\n{rows}")
    assert not any("taken from" in one.get("doubt", "") and "unit" in one["doubt"] for one in usual)
