"""The answer in the terminal: nothing that may hold is hidden, and it can be read in a narrow window."""

import pytest

from lastbolt.app.answer_words import counts_to_print
from lastbolt.cli import say
from lastbolt.cli.answer_shown import show
from lastbolt.words.answer import ANSWER_SCHEMA, Answer, NextStep, PlaceState, Suspicion, TakenAs
from lastbolt.words.counts import CountSaid, CountTable, InTray, SizeCounts, SourceCounts

HEADS = ("Size", "List", "Table 6-2 Case screws", "Manual steps", "Places", "Seen out", "Tray", "Engine file")
ROWS = (
    ("screw M8x45", "9", "10", "–", "9", "9", "7 (Ana)", "7"),
    ("screw M8x20", "4 (may)", "–", "4", "–", "–", "–", "–"),
    ("nut M10", "1 + 0 to 1 (may)", "–", "–", "–", "–", "–", "–"),
)
NINE, FOUR, TEN = CountSaid("9", 9), CountSaid("4", 4), CountSaid("10", 10)
SIZES = (
    SizeCounts(
        "screw M8x45", (SourceCounts("List", (NINE,)), SourceCounts("Table 6-2 Case screws", (TEN,))),
        places=9, seen_out=9, tray=(InTray(7, "Ana"),), engine=(7,),
    ),
    SizeCounts("screw M8x20", (SourceCounts("List", (CountSaid("4", 4, may=True),)),), steps=(FOUR,)),
    SizeCounts("nut M10", (SourceCounts("List", (CountSaid("1", 1), CountSaid("0 to 1", may=True))),)),
)  # fmt: skip
COUNTS = CountTable(HEADS, ROWS, sizes=SIZES)


def answered(**more: object) -> Answer:
    return Answer(ANSWER_SCHEMA, "j", "J", "held", "Do not pull.", False, **more)  # type: ignore[arg-type]


def shown(answer: Answer, capsys: pytest.CaptureFixture[str]) -> str:
    show(answer)
    return capsys.readouterr().out


def test_every_place_that_may_hold_is_on_the_screen(capsys: pytest.CaptureFixture[str]) -> None:
    items = tuple(
        Suspicion(f"Place {n}: nobody has looked.", 0, "may hold", (str(n),), ways=f"One at place {n}.")
        for n in range(1, 30)
    )
    said = " ".join(shown(answered(suspicions=items), capsys).split())
    assert all(f"lace {n}" in said for n in range(1, 30))
    assert "--json" not in said


@pytest.mark.parametrize("columns", [40, 60, 80, 92, 200])
def test_the_counts_fit_the_window(
    columns: int, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", str(columns))
    said = shown(answered(counts=COUNTS), capsys)
    assert max(map(len, said.splitlines())) <= columns
    assert "7 (Ana)" in said


def test_the_rule_stands_under_its_column(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", "92")
    say.table(ROWS, HEADS)
    lines = capsys.readouterr().out.splitlines()
    rule = next(line for line in lines if line.strip("- ") == "" and line.strip())
    starts = [i for i, sign in enumerate(rule) if sign == "-" and rule[i - 1] == " "]
    row = next(line for line in lines if "screw M8x45" in line)
    assert [row[i] != " " and row[i - 1] == " " for i in starts] == [True] * len(HEADS)


def test_what_only_fits_by_size_is_a_note_and_empty_holes_are_told() -> None:
    places = tuple(PlaceState(f"p{n}", str(n), "out", "", True, never_there=n in (4, 9)) for n in (4, 5, 9))
    taken = (TakenAs("r", "row: tied", pieces="9 x screw M8x45", places=("4", "5", "9"), sure=True),)
    table = counts_to_print(answered(counts=COUNTS, places=places, taken_as=taken))
    assert [row[0] for row in table.rows] == ["screw M8x45", "nut M10"]
    assert "9, 2 empty" in table.rows[0]
    assert "1, perhaps 0 to 1 more" in table.rows[1]
    assert any(note.endswith("nothing came out: 4, 9.") for note in table.notes)
    assert any("screw M8x20" in note for note in table.notes)


def test_lines_to_type_stand_each_by_themselves(capsys: pytest.CaptureFixture[str]) -> None:
    step = NextStep("Place 8: look into it.", 1.0, to_type=("by NAME", "8 open hole both sides"))
    lines = [line.strip() for line in shown(answered(next_steps=(step,)), capsys).splitlines()]
    assert "8 open hole both sides" in lines
    assert not any(" / " in line for line in lines)


def test_one_witness_is_not_asked_to_be_another_person(capsys: pytest.CaptureFixture[str]) -> None:
    assert "one person's word: Ann." in shown(answered(witnesses=("Ann",)), capsys)
