"""Sentences of the book that speak of known places: the rest is still read; and dowels, one by one."""

from pathlib import Path

import pytest

from lastbolt.app.quick import read_typed
from lastbolt.app.tally_joint import tally_joint
from lastbolt.app.typed_kind import typed_kind
from lastbolt.cli.main import main

MANUAL = """# Winch

## 4.1 Parting the housing

{before}

1. Remove the six screws M8x50 (1).
{more}3. Press the housing apart.
"""
PARTS = "Fig,Fig title,Item,Part no.,Description,Qty\n1,Housing,1,H-1,SCREW M8X50,6\n"
LINES = (
    "figure 1 item 1 here\nby Ann\n1-6 light through\nwent round\ntray 6 x M8x50\nby Ben\n1-6 light through\n"
    "went round\nno other holders\n{more}"
)


@pytest.fixture(autouse=True)
def _here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    Path("parts.csv").write_text(PARTS, encoding="utf-8")


def told(
    capsys: pytest.CaptureFixture[str], before: str = "", more: str = "", lines: str = ""
) -> tuple[int, str]:
    Path("manual.md").write_text(MANUAL.format(before=before, more=more), encoding="utf-8")
    Path("lines.txt").write_text(LINES.format(more=lines), encoding="utf-8")
    main(["read", "manual.md", "parts.csv", "--name", "Winch W5", "--out", "w.model.json"])
    capsys.readouterr()
    files = ["--model", "w.model.json", "--typed", "lines.txt"]
    done = main(["tally", "--goal", "part the housing", *files])
    return done, " ".join(capsys.readouterr().out.split())


def test_the_case_itself_is_clear(capsys: pytest.CaptureFixture[str]) -> None:
    done, out = told(capsys)
    assert done == 0, out


@pytest.mark.parametrize(
    "before",
    [
        "Two tie bolts sit at holes 3 and 9.",
        "Two tie bolts sit at holes 3, 9.",
        "Two tie bolts sit at holes 9 and 3.",
        "The bolt at place 3 is long, and two tie bolts hold the flange.",
        "The bolt at place 3 is long; a tie bolt holds the flange.",
        "Screws at the places 1 to 6 and at place 11.",
        "The bearing cap ties both halves.",
        "The lid is fastened from below as well.",
        "A tie rod runs along the shaft.",
    ],
)
def test_of_a_sentence_only_what_speaks_of_known_places_is_passed_over(
    capsys: pytest.CaptureFixture[str], before: str
) -> None:
    done, out = told(capsys, before)
    assert done == 1
    assert "what 4.1 says" in out


def test_a_tick_alone_settles_no_step_before_the_press(capsys: pytest.CaptureFixture[str]) -> None:
    catches = "2. Release the two catches on the rear.\n"
    done, out = told(capsys, more=catches, lines="4.1 step 2 done\n")
    assert done == 1
    assert "steps of 4.1" in out
    assert told(capsys, more=catches, lines="4.1 step 2 done, looked\n")[0] == 0


DOWELS = (
    "by Lea\n7 x M6x45\nend of list\nby Ann\n1-7 out, 8 solid dowel, 9 solid dowel\nwent round\n"
    "tray 7 x M6x45\nby Ben\n1-7 open hole, 8-9 dowel both ends\nwent round\nno other holders\n"
)


@pytest.mark.parametrize(
    ("typed", "clear"),
    [
        ("", False),
        ("holder dowel at 8: free", False),
        ("holder dowel 8: free", False),
        ("holder dowel: free", False),
        ("holder dowel at 8: free\nholder dowel at 9: free", True),
        ("holder dowels at 8 and 9: free", True),
        ("holder dowels: free", True),
        ("holder the dowels: free", True),
        ("holder dowels: seized", False),
    ],
)
def test_one_dowel_freed_frees_no_other(typed: str, clear: bool) -> None:
    made = read_typed(DOWELS + typed, typed_kind)
    assert tally_joint(made.evidence, made.beside).clear_to_part is clear


@pytest.mark.parametrize(
    "before",
    [
        "The seventh sits below the oil filter.",
        "There are seven of them.",
        "NOTE: A long one is hidden below the filler neck.",
    ],
)
def test_a_fastener_without_its_name_is_asked_in_the_joints_own_section(
    capsys: pytest.CaptureFixture[str], before: str
) -> None:
    assert told(capsys, before)[0] == 1


def test_a_number_that_the_counts_explain_is_not_asked(capsys: pytest.CaptureFixture[str]) -> None:
    done, out = told(capsys, "There are six of them.")
    assert done == 0, out


@pytest.mark.parametrize(("line", "done"), [("M8x60 at neck | 25 Nm", 1), ("M8x50 | 25 Nm", 0)])
def test_a_torque_of_a_size_that_no_row_has_is_asked(
    capsys: pytest.CaptureFixture[str], line: str, done: int
) -> None:
    table = f"\n| Item | Torque |\n|---|---|\n| {line} |\n"
    joins = "\n## 4.2 Joining the housing\n\n1. Fit the six screws M8x50 (1).\n"
    assert told(capsys, more="", before="")[0] == 0
    Path("manual.md").write_text(
        MANUAL.format(before="", more="").rstrip() + "\n" + joins + table, encoding="utf-8"
    )
    main(["read", "manual.md", "parts.csv", "--name", "Winch W5", "--out", "w.model.json"])
    capsys.readouterr()
    files = ["--model", "w.model.json", "--typed", "lines.txt"]
    assert main(["tally", "--goal", "part the housing", *files]) == done
