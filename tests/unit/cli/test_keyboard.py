"""At the keyboard: it asks on after each answer, flags a bad line at once, and loses no line."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from lastbolt.app.quick import read_typed
from lastbolt.app.typed_kind import typed_kind
from lastbolt.cli import keyboard
from lastbolt.cli.main import main

SAID = ["7 x M6x45", "end of list", "1-7 out", "went round"]
TYPED = ["Ann", *SAID]
LINES = ["by Ann", *SAID]
MORE = ["by Ben", "tray 7 x M6x45", "list compared", "no other holders"]
END, STOP = "\x04", "\x03"


@pytest.fixture
def typing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[list[str]]:
    """What somebody types, in an empty folder; Ctrl-D and Ctrl-C as their signs."""
    keys: list[str] = []

    def answer(prompt: str) -> str:
        line = keys.pop(0)
        if line == END:
            raise EOFError
        if line == STOP:
            raise KeyboardInterrupt
        return line

    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr("builtins.input", answer)
    monkeypatch.setattr(keyboard, "somebody_there", lambda: True)
    yield keys
    assert keys == [], "it stopped asking too early"


def kept(name: str = "joint.txt") -> list[str]:
    return Path(name).read_text(encoding="utf-8").splitlines()


def test_it_answers_asks_on_and_ends_at_the_second_empty_line(
    typing: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    typing += [*TYPED, "", *MORE, "", ""]
    assert main(["tally"]) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert said.index("Not shown") < said.index("Clear to part")
    assert "then type: by NAME tray N x M6x45" in said
    assert kept() == LINES + MORE


def test_the_end_of_input_gives_the_answer_and_the_second_one_ends(typing: list[str]) -> None:
    typing += [*TYPED, END, END]
    assert main(["tally"]) == 1
    assert kept() == LINES


def test_a_line_not_understood_is_flagged_as_typed_and_kept(
    typing: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    typing += [*TYPED, *MORE, "3 what", STOP]
    main(["tally"])
    assert "strike line 10" in " ".join(capsys.readouterr().out.split())
    assert kept()[-1] == "3 what"


def test_ctrl_c_loses_nothing_and_says_where_it_is(
    typing: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    typing += [*TYPED, STOP]
    assert main(["tally"]) == 2
    assert "Every line is in joint.txt" in capsys.readouterr().out
    assert kept() == LINES


def test_an_existing_file_is_left_alone(typing: list[str]) -> None:
    Path("joint.txt").write_text("mine", encoding="utf-8")
    typing += ["7 x M6x45", STOP]
    main(["tally"])
    assert kept() == ["mine"]
    assert kept("joint-2.txt") == ["7 x M6x45"]


def test_a_name_not_there_yet_names_the_file(typing: list[str]) -> None:
    typing += [*TYPED, "", ""]
    assert main(["tally", "--typed", "pump.txt"]) == 1
    assert kept("pump.txt") == LINES


def test_nothing_typed_is_no_answer_and_leaves_no_file(typing: list[str]) -> None:
    typing += [""]
    assert main(["tally"]) == 2
    assert list(Path().iterdir()) == []


def test_a_file_that_cannot_be_written_is_said_once_and_stops_nothing(
    typing: list[str], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def full(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "open", full)
    typing += [*TYPED, "", ""]
    assert main(["tally"]) == 1
    assert capsys.readouterr().out.count("No space left") == 1


def test_a_folder_that_is_not_there_is_a_wrong_name(
    typing: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["tally", "--typed", "no/such/folder.txt"]) == 2
    assert "Check the name" in capsys.readouterr().err


def test_lines_typed_before_a_name_wait_for_it(typing: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    typing += ["7 x M6x45", "end of list", "Ann and Ben", "Ann", STOP]
    main(["tally"])
    assert kept() == ["by Ann", "7 x M6x45", "end of list"]
    assert "Whose line is that?" in capsys.readouterr().out


@pytest.mark.parametrize("word", ["help", "?", "Help"])
def test_help_shows_the_lines_and_is_none(
    word: str, typing: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    typing += [word, "Ann", word, STOP]
    main(["tally"])
    assert capsys.readouterr().out.count("went round  ") == 2
    assert kept() == ["by Ann"]


def test_every_line_that_help_shows_is_understood() -> None:
    lines = [line for line, _ in keyboard.HELP] + [line for _, lines in keyboard.ASK for line in lines]
    for line in lines:
        text = "by Ann\n1 out\n2 out\n3 out\n" + line
        assert not read_typed(text, typed_kind).beside.unused, line


@pytest.mark.parametrize("word", ["quit", "exit", "done"])
def test_quit_gives_the_answer_and_ends(word: str, typing: list[str]) -> None:
    typing += [*TYPED, word]
    assert main(["tally"]) == 1
    assert kept() == LINES


def test_end_alone_is_asked_about_and_kept_nowhere(
    typing: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    typing += ["Ann", "end", STOP]
    main(["tally"])
    assert '"quit" to stop' in capsys.readouterr().out
    assert kept() == ["by Ann"]


def test_undo_strikes_the_last_line(typing: list[str]) -> None:
    typing += [*TYPED, "8 in", "undo", "undo", STOP]
    main(["tally"])
    assert kept() == [*LINES, "8 in", "strike line 6", "strike line 5"]


def test_clear_to_part_says_whom_it_rests_on_what_it_does_not_cover_and_to_take_care(
    typing: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    typing += [*TYPED, *MORE, "", ""]
    assert main(["tally"]) == 0
    said = " ".join(capsys.readouterr().out.split())
    clear = said.partition("Clear to part")[2]
    assert "Ann (list, round), Ben (list, tray): different people" in clear
    assert "Not covered: a nut that is off while its stud is seized" in clear
    assert "The maker's manual" in clear
    assert "stop and go round again" in clear
    assert "Next" not in clear


def test_beside_a_model_a_file_not_there_yet_is_typed_at_the_keyboard(
    typing: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    parts = "Fig,Fig title,Item,Part no.,Description,Qty\n"
    parts += "4,Gearbox,1,G-1,HOUSING,1\n4,Gearbox,3,G-3,SCREW M6X45,3\n"
    Path("parts.csv").write_text(parts, encoding="utf-8")
    main(["read", "parts.csv", "--out", "m.json"])
    typing += ["Cid", "figure 9 item 3 here", "undo", "4/3 here", "1-3 out", "went round", "", "quit"]
    assert main(["tally", "--model", "m.json", "--typed", "mine.txt"]) == 1
    said = " ".join(capsys.readouterr().out.split())
    assert "No figure 9 in the parts list (it has 4)." in said
    assert "Do not pull" in said
    assert said.endswith("lastbolt tally --model m.json --typed mine.txt | less")
    assert kept("mine.txt")[:3] == ["machine parts.csv", "by Cid", "figure 9 item 3 here"]
