"""A read parts list with typed places: rows tied by a line, dowels asked for, ids of another edition."""

import json
from pathlib import Path
from typing import Any

import pytest

from lastbolt.app.typed_lines import lines_of
from lastbolt.app.typed_ties import typed_ties
from lastbolt.cli.main import main
from lastbolt.edge.documents import opened
from lastbolt.words.machine import Machine

CSV = """Fig,Fig title,Item,Part no.,Description,Qty
4,Gearbox,1,G-1,HOUSING,1
4,Gearbox,3,G-3,SCREW M6X45,3
7,Pump bracket,2,P-2,SCREW M6X45,3
"""


def model(folder: Path, name: str = "parts.csv") -> Path:
    (folder / name).write_text(CSV, encoding="utf-8")
    main(["read", str(folder / name), "--out", str(folder / "m.json")])
    return folder / "m.json"


def answer(folder: Path, typed: str, capsys: pytest.CaptureFixture[str], *more: str) -> dict[str, Any]:
    (folder / "t.txt").write_text(typed, encoding="utf-8")
    capsys.readouterr()
    main(["tally", "--json", "--model", str(folder / "m.json"), "--typed", str(folder / "t.txt"), *more])
    said: dict[str, Any] = json.loads(capsys.readouterr().out)
    return said


SEEN = "by Ann\n1-3 light through\nwent round\nby Ben\n1-3 light through\nwent round\ntray 3 x M6x45\n"


def test_a_typed_line_ties_a_row(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    model(tmp_path)
    untied = answer(tmp_path, SEEN, capsys)
    assert not any("Cid" in taken["words"] for taken in untied["taken_as"])
    tied = answer(tmp_path, f"by Cid\nfigure 4 item 3 here\n{SEEN}", capsys)
    row = next(taken for taken in tied["taken_as"] if taken["line"].endswith("4/3"))
    assert "Cid" in row["words"]
    assert "LB-T07" not in {problem["code"] for problem in tied["problems"]}


@pytest.mark.parametrize("words", ["figure 4 item 9 here", "item 33 here", "figure 9 item 3 here"])
def test_a_tie_to_no_row_is_not_understood(
    words: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    model(tmp_path)
    said = answer(tmp_path, f"by Cid\n{words}\n{SEEN}", capsys)
    assert "LB-T07" in {problem["code"] for problem in said["problems"]}


def test_an_item_alone_must_be_one_row(tmp_path: Path) -> None:
    machine = opened(model(tmp_path), Machine).document
    assert [tie.line for tie in typed_ties("item 3 here", machine).every] == ["parts/row/4/3"]
    assert [tie.wholly for tie in typed_ties("fig. 7, item 2 some here", machine).every] == [False]
    assert not typed_ties("strike line 2\nitem 3 here\nstrike line 2", machine).every


@pytest.mark.parametrize(
    ("words", "rows"),
    [
        ("figure 4 items 1-3 here", None),
        ("figure 4 items 1, 3 here", ["4/1", "4/3"]),
        ("figure 4 item 1 and 3 here", ["4/1", "4/3"]),
        ("4/3 here", ["4/3"]),
        ("fig 4 (3) here", ["4/3"]),
        ("G-3 here", ["4/3"]),
        ("part no. P-2 some here", ["7/2"]),
        ("the cover is here", None),
    ],
)
def test_rows_are_named_as_the_list_names_them(words: str, rows: list[str] | None, tmp_path: Path) -> None:
    said = typed_ties(f"by Cid\n{words}", opened(model(tmp_path), Machine).document)
    assert [tie.line.removeprefix("parts/row/") for tie in said.every] == (rows or [])
    assert {tie.by for tie in said.every} <= {"Cid"}


@pytest.mark.parametrize(
    ("words", "why"),
    [
        ("figure 9 item 3 here", "No figure 9 in the parts list (it has 4 and 7)."),
        ("figure 4 item 9 here", "No item 9 in figure 4 (it has 1 and 3)."),
        ("figure 4 items 1-3 here", "No item 2 in figure 4 (it has 1 and 3)."),
        ("item 33 here", "No item 33 in any figure."),
    ],
)
def test_a_tie_to_no_row_says_which_rows_there_are(
    words: str, why: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    model(tmp_path)
    said = answer(tmp_path, f"by Cid\n{words}\n{SEEN}", capsys)
    assert why in [problem["what"] for problem in said["problems"]]
    assert not said["clear_to_part"]


def test_no_walk_no_word_of_a_walk(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    model(tmp_path)
    said = answer(tmp_path, f"by Cid\nfigure 4 item 3 here\n{SEEN}", capsys)
    assert "LB-T03" not in {problem["code"] for problem in said["problems"]}
    assert "Cid" in said["witnesses"], "who ties the rows is a witness too"


def test_without_places_it_is_said_how_to_type_them(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    model(tmp_path)
    monkeypatch.chdir(tmp_path)
    assert main(["tally", "--model", "m.json", "--goal", "part the case"]) == 2
    assert '--model m.json --goal "part the case" --typed FILE' in " ".join(capsys.readouterr().err.split())


def test_a_number_sign_is_no_remark() -> None:
    assert lines_of("#4 in\n1 out # seen\n# 4 x in the drawer\n2 x #10-32 x 1/2") == [
        "4 in", "1 out", "", "2 x #10-32 x 1/2",
    ]  # fmt: skip


def test_a_remark_that_speaks_of_one_still_in_is_not_passed_over(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    model(tmp_path)
    said = answer(tmp_path, f"{SEEN}# 2 still in\n", capsys)
    assert any("2 still in" in problem["where"] for problem in said["problems"])
    plain = answer(tmp_path, f"{SEEN}# seen with a lamp\n", capsys)
    assert not any("lamp" in problem["where"] for problem in plain["problems"])


def test_what_hollow_dowel_alone_leaves_open_is_asked(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    model(tmp_path)
    said = answer(tmp_path, f"by Ann\n4 hollow dowel\n{SEEN}", capsys)
    assert any("bolt through it" in problem["what"] for problem in said["problems"])
    assert not said["clear_to_part"]


def test_dowels_are_a_holder_until_they_are_said_to_be_free(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    lines = "1 x M6x45\nend of list\nby Ann\n1 out, 2 solid dowel\nwent round\nby Ben\ntray 1 x M6x45\n"
    (tmp_path / "t.txt").write_text(f"{lines}no other holders\n", encoding="utf-8")
    capsys.readouterr()
    main(["tally", "--json", "--typed", str(tmp_path / "t.txt")])
    asked = json.loads(capsys.readouterr().out)
    assert [h["name"] for h in asked["holders"] if not h["settled"]] == ["dowels"]
    (tmp_path / "t.txt").write_text(f"{lines}no other holders\nholder dowels: free\n", encoding="utf-8")
    main(["tally", "--json", "--typed", str(tmp_path / "t.txt")])
    assert all(h["settled"] for h in json.loads(capsys.readouterr().out)["holders"])


def test_a_walk_made_beside_a_list_of_another_name_stays_good(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    model(tmp_path, "parts_2.csv")
    walk = {"schema": "lastbolt.walk/1", "joint": "j", "name": "j"}
    walk |= {"ties": [{"line": "parts/row/4/3", "wholly": True, "by": "Cid"}]}
    (tmp_path / "w.json").write_text(json.dumps(walk), encoding="utf-8")
    said = answer(tmp_path, SEEN, capsys, "--walk", str(tmp_path / "w.json"))
    assert "LB-T11" not in {problem["code"] for problem in said["problems"]}
    assert any(taken["line"].endswith("4/3") and "Cid" in taken["words"] for taken in said["taken_as"])
