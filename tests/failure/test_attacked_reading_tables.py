"""Ruled tables that no rule reads: their rows are told, and their page is not called explained."""

import json
from pathlib import Path

import pytest

from failure.made_pdf import typeset_pdf
from lastbolt.cli.main import main

LIST = """
= Figure 4 Gearbox
#table(columns: (20mm, 30mm, 60mm, 20mm), [Item], [Part number], [Description], [Qty],
  [1], [W-201], [Gearbox half left], [1], [2], [W-202], [Gearbox half right], [1],
  [3], [W-203], [Screw M8 x 45], [8])
"""
REST = """
#table(columns: (12mm, 40mm, 70mm, 12mm), [5], [W-305], [Screw M8 x 80], [1], [6], [W-306], [Plug], [1])
"""


@pytest.mark.parametrize("between", ["#pagebreak()", "The list goes on."])
def test_rows_of_a_continued_table_with_other_columns_are_read_or_told(
    between: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    typeset_pdf(tmp_path / "p.pdf", LIST + between + REST)
    main(["read", str(tmp_path / "p.pdf"), "--out", str(tmp_path / "m.json")])
    told = capsys.readouterr().out
    kept = (tmp_path / "m.json").read_text(encoding="utf-8")
    assert "Screw M8 x 80" in kept
    assert "LB-R24" in told or "W-305" in kept


def test_a_table_of_other_things_is_not_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    other = "#table(columns: (30mm, 60mm), [Fault], [Cure], [Noise], [Look for wear])"
    typeset_pdf(tmp_path / "p.pdf", LIST + other)
    main(["read", str(tmp_path / "p.pdf"), "--out", str(tmp_path / "m.json")])
    assert "LB-R24" not in capsys.readouterr().out


@pytest.mark.parametrize("note", ["Item 3: 9 off from serial no. 2000.", "1) Item 3: plus one at the rear."])
def test_a_note_beside_a_parts_table_is_a_doubt_of_the_row_it_names(
    note: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    typeset_pdf(tmp_path / "p.pdf", f"{LIST}\n{note}")
    main(["read", str(tmp_path / "p.pdf"), "--out", str(tmp_path / "m.json")])
    assert "LB-P08" in capsys.readouterr().out
    rows = json.loads((tmp_path / "m.json").read_text(encoding="utf-8"))["rows"]
    assert [row["item"] for row in rows if row.get("doubt")] == ["3"]
