"""What the columns of a table file are: guessed and shown, remembered per layout, wrong memories caught."""

import json
from pathlib import Path

import pytest

from lastbolt.cli.main import main
from lastbolt.cli.read import read_files
from lastbolt.reading.column_memory import Understood, understood
from lastbolt.words.citation import CellPlace
from lastbolt.words.columns import ColumnMeaning, Layout
from lastbolt.words.sheet import Sheet, SheetRow

FOREIGN = ("Teil", "Bez.", "Stk", "x")
ROWS = (
    ("A-1", "Drum", "1", ""),
    ("A-2", "Screw M8x30", "4", ""),
    ("A-3", "Guard", "1", "k"),
    ("A-4", "Cover", "1", ""),
)
SAID = tuple(
    ColumnMeaning(column, means)  # type: ignore[arg-type]
    for column, means in zip(FOREIGN, ("part number", "name", "quantity", "nothing"), strict=True)
)


def sheet(heads: tuple[str, ...], rows: tuple[tuple[str, ...], ...]) -> Sheet:
    return Sheet(heads, tuple(SheetRow(number, cells) for number, cells in enumerate(rows, start=2)))


def told(found: Understood) -> list[str]:
    return [problem.code for problem in found.problems]


def means(found: Understood) -> list[str]:
    return [one.means for one in found.columns]


def test_known_headings_are_shown_with_the_reason() -> None:
    found = understood(
        sheet(("Pos", "Description", "Qty A", "Qty B", "Price"), (("1", "Bolt M8x30", "2", "4", "9"),)),
        "l",
        (),
        (),
    )
    assert [(one.means, one.variant) for one in found.columns] == [
        ("item", ""), ("name", ""), ("quantity", "a"), ("quantity", "b"), ("nothing", ""),
    ]  # fmt: skip
    assert {one.why for one in found.columns[:4]} == {"by its heading"}
    assert told(found) == []


def test_unknown_headings_are_proposed_and_not_used() -> None:
    found = understood(sheet(FOREIGN, ROWS), "l", (), ())
    assert means(found) == ["part number", "name", "quantity", "nothing"]
    assert found.sheet.columns == FOREIGN, "nothing is read by a proposal"
    assert found.layout.guessed


def test_what_a_person_said_is_used() -> None:
    found = understood(sheet(FOREIGN, ROWS), "l", (), (Layout(FOREIGN, SAID),))
    assert found.sheet.columns == ("part number", "description", "quantity")
    assert [row.cells for row in found.sheet.rows[:2]] == [("A-1", "Drum", "1"), ("A-2", "Screw M8x30", "4")]
    assert told(found) == []


def test_a_guess_that_nobody_looked_at_is_told() -> None:
    assert told(understood(sheet(FOREIGN, ROWS), "l", (), (Layout(FOREIGN, SAID, guessed=True),))) == [
        "LB-P20"
    ]


def test_a_layout_is_known_by_its_headings_case_and_points_aside() -> None:
    found = understood(sheet(("TEIL", "bez", "Stk.", "X"), ROWS), "l", (), (Layout(FOREIGN, SAID),))
    assert (means(found), told(found)) == (["part number", "name", "quantity", "nothing"], [])


@pytest.mark.parametrize(
    ("column", "wrong"),
    [("Stk", "quantity"), ("Bez.", "name"), ("Teil", "item")],
)
def test_a_meaning_that_does_not_fit_is_told_and_not_used(column: str, wrong: str) -> None:
    at = FOREIGN.index(column)
    bad = {"quantity": "see drawing", "name": "17", "item": "a long sentence"}[wrong]
    rows = tuple((*row[:at], bad, *row[at + 1 :]) for row in ROWS)
    said = tuple(ColumnMeaning(one.column, wrong if one.column == column else one.means) for one in SAID)  # type: ignore[arg-type]
    found = understood(sheet(FOREIGN, rows), "list.csv", (), (Layout(FOREIGN, said),))
    assert told(found) == ["LB-P18"]
    assert f'"{column}"' in found.problems[0].what
    assert found.problems[0].where == "list.csv, line 1"
    assert found.columns[at].means != wrong


def test_a_count_column_that_became_empty_is_told() -> None:
    rows = tuple((*row[:2], "", row[3]) for row in ROWS)
    assert told(understood(sheet(FOREIGN, rows), "l", (), (Layout(FOREIGN, SAID),))) == ["LB-P18"]


def test_a_layout_that_lost_a_column_is_told() -> None:
    short = tuple(row[:2] + row[3:] for row in ROWS)
    found = understood(sheet(("Teil", "Bez.", "x"), short), "l", (), (Layout(FOREIGN, SAID),))
    assert told(found) == ["LB-P19"]
    assert 'no "Stk" (the count)' in found.problems[0].what
    assert found.problems[0].grade == "doubt"


def test_a_layout_with_a_new_column_is_a_note() -> None:
    wide = tuple((*row, "9") for row in ROWS)
    found = understood(sheet((*FOREIGN, "Preis"), wide), "l", (), (Layout(FOREIGN, SAID),))
    assert [(p.code, p.grade) for p in found.problems] == [("LB-P19", "note")]


def test_a_strange_layout_says_nothing_of_others() -> None:
    assert (
        told(
            understood(
                sheet(("Item", "Name", "Qty"), (("1", "Bolt", "2"),)), "l", (), (Layout(FOREIGN, SAID),)
            )
        )
        == []
    )


def test_remembered_and_guessed_rows_are_the_same(tmp_path: Path) -> None:
    """What the rules know by themselves, said by a person, changes nothing."""
    text = "Fig,Pos,Part No,Description,Qty\n1,1,K-1,Drum,1\n1,2,K-2,Screw M8x30,4\n2,1,K-3,Nut M8,AR\n"
    (tmp_path / "a.csv").write_text(text)
    plain = read_files([tmp_path / "a.csv"])
    settled = tuple(Layout(layout.heads, layout.columns) for layout in plain.layouts)
    again = read_files([tmp_path / "a.csv"], layouts=settled)
    assert again.machine.rows == plain.machine.rows
    assert {one.why for one in again.report.columns[0].columns} == {"remembered"}


def test_from_the_shell(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    lines = [";".join(row) for row in (FOREIGN, *ROWS)]
    Path("list.csv").write_text("\n".join(lines) + "\n")
    command = ["read", "list.csv", "--out", "m.json", "--columns", "columns.json"]
    assert main(command) == 1
    assert '"Bez.": the name, perhaps, by what stands in it' in capsys.readouterr().out
    document = json.loads(Path("columns.json").read_text())
    assert document["schema"] == "lastbolt.columns/1"
    assert document["layouts"][0]["guessed"]
    del document["layouts"][0]["guessed"]
    Path("columns.json").write_text(json.dumps(document))
    assert main([*command, "--json"]) == 0
    report = json.loads(capsys.readouterr().out)["report"]
    assert [one["means"] for one in report["columns"][0]["columns"]] == [
        "part number",
        "name",
        "quantity",
        "nothing",
    ]
    rows = read_files([Path("list.csv")], layouts=(Layout(FOREIGN, SAID),)).machine.rows
    assert [(row.part_number, row.name, row.quantity.low) for row in rows[:2]] == [
        ("A-1", "Drum", 1),
        ("A-2", "Screw M8x30", 4),
    ]
    assert rows[0].citations[0].place == CellPlace(2, "Bez.")
    assert json.loads(Path("columns.json").read_text()) == document, "what a person wrote stays"


def test_a_columns_file_that_is_none_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    Path("list.csv").write_text("Item,Name,Qty\n1,Bolt,2\n")
    wrong = {"heads": ["a"], "columns": [{"column": "a", "means": "count"}]}
    Path("columns.json").write_text(json.dumps({"schema": "lastbolt.columns/1", "layouts": [wrong]}))
    assert main(["read", "list.csv", "--out", "m.json", "--columns", "columns.json"]) == 2
    assert not Path("m.json").exists()


def test_a_person_at_the_terminal_is_asked_once(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("list.csv").write_text("\n".join(";".join(row) for row in (FOREIGN, *ROWS)) + "\n")
    answers = iter(["", "x", "3", "0", "", "4"])
    monkeypatch.setattr("builtins.input", lambda prompt: next(answers))
    monkeypatch.setattr("sys.stdin.isatty", lambda: True, raising=False)
    monkeypatch.setattr("sys.stdout.isatty", lambda: True, raising=False)
    command = ["read", "list.csv", "--out", "m.json", "--columns", "columns.json"]
    assert main(command) == 0
    assert "A number from 0 to 4." in capsys.readouterr().out
    (layout,) = json.loads(Path("columns.json").read_text())["layouts"]
    assert [one["means"] for one in layout["columns"]] == ["part number", "name", "quantity", "remarks"]
    assert "guessed" not in layout
    assert main(command) == 0, "nobody is asked again: there are no more answers"
