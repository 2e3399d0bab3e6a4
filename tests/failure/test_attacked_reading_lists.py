"""Parts lists that an attacker bent: what they say of a count reaches the tally, or is told as a doubt."""

import json
from pathlib import Path

import pytest

from lastbolt.cli.main import main

HEAD = "Figure,Figure title,Item,Part number,Description,Qty\n"
ROWS = (
    "4,Gearbox,1,W-201,Gearbox half left,1\n4,Gearbox,3,W-203,Screw M8 x 45,{}\n4,Gearbox,4,W-204,Gasket,1\n"
)
TYPED = """by Ann
figure 4 item 3 here
1-8 open hole both sides
went round
no other holders
by Ben
1-8 open hole both sides
went round
tray 8 x M8x45
"""
OPEN = "Not shown"


def told(folder: Path, files: list[str], capsys: pytest.CaptureFixture[str]) -> tuple[str, str]:
    """What `read` tells of the files, and what the tally says of eight empty places."""
    (folder / "t.txt").write_text(TYPED, encoding="utf-8")
    capsys.readouterr()
    main(["read", *(str(folder / name) for name in files), "--out", str(folder / "m.json")])
    read = capsys.readouterr().out
    main(["tally", "--model", str(folder / "m.json"), "--typed", str(folder / "t.txt")])
    return read, capsys.readouterr().out


def test_one_list_alone_clears(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "a.csv").write_text(HEAD + ROWS.format(8), encoding="utf-8")
    assert "Clear to part" in told(tmp_path, ["a.csv"], capsys)[1]


@pytest.mark.parametrize("files", [["a.csv", "b.csv"], ["b.csv", "a.csv"]])
def test_two_lists_that_disagree_keep_both_counts_whatever_their_order(
    files: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "a.csv").write_text(HEAD + ROWS.format(8), encoding="utf-8")
    (tmp_path / "b.csv").write_text(HEAD + ROWS.format(9), encoding="utf-8")
    read, answer = told(tmp_path, files, capsys)
    assert "LB-R12" in read
    assert OPEN in answer
    assert "a.csv" in answer
    assert "b.csv" in answer


def test_a_last_line_in_words_is_told_and_no_row_takes_it_in(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    last = "Not illustrated: 1 centre screw M10 x 90\n"
    (tmp_path / "a.csv").write_text(HEAD + ROWS.format(8) + last, encoding="utf-8")
    read, answer = told(tmp_path, ["a.csv"], capsys)
    assert "LB-P01" in read
    assert OPEN in answer


def test_words_above_the_headings_that_name_a_fastener_are_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    first = "Gearbox list - centre screw M10 x 90 not shown\n"
    (tmp_path / "a.csv").write_text(first + HEAD + ROWS.format(8), encoding="utf-8")
    read, answer = told(tmp_path, ["a.csv"], capsys)
    assert "LB-P01" in read
    assert OPEN in answer
    (tmp_path / "a.csv").write_text("Gearbox list, third edition\n" + HEAD + ROWS.format(8), encoding="utf-8")
    assert "LB-P01" not in told(tmp_path, ["a.csv"], capsys)[0]


def test_a_figures_title_over_a_block_of_rows_gives_them_their_figure(tmp_path: Path) -> None:
    heads = "Ref.,Part No,Designation,No. off\n"
    text = (
        f"Figure 3 Guard,,,\n{heads}1,W-1,Screw M6 x 16,2\n"
        f"Fig. 4 Gearbox,,,\n{heads}1,W-2,Screw M8 x 45,8\n2,W-3,Gasket,1\n"
    )
    (tmp_path / "a.csv").write_text(text, encoding="utf-8")
    main(["read", str(tmp_path / "a.csv"), "--out", str(tmp_path / "m.json")])
    model = json.loads((tmp_path / "m.json").read_text(encoding="utf-8"))
    assert [(row["figure"], row["item"]) for row in model["rows"]] == [("3", "1"), ("4", "1"), ("4", "2")]
    assert [(one["number"], one["title"]) for one in model["figures"]] == [("3", "Guard"), ("4", "Gearbox")]
