"""At the keyboard: it asks on after each answer, flags a bad line at once, and loses no line."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from lastbolt.cli import keyboard
from lastbolt.cli.main import main

LINES = ["7 x M6x45", "end of list", "by Ann", "1-7 out", "went round"]
MORE = ["by Ben", "tray 7 x M6x45", "no other holders"]
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
    typing += [*LINES, "", *MORE, "", ""]
    assert main(["tally"]) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert said.index("Not shown") < said.index("Clear to part")
    assert "then type: by NAME tray N x M6x45" in said
    assert kept() == LINES + MORE


def test_the_end_of_input_gives_the_answer_and_the_second_one_ends(typing: list[str]) -> None:
    typing += [*LINES, END, END]
    assert main(["tally"]) == 1
    assert kept() == LINES


def test_a_line_not_understood_is_flagged_as_typed_and_kept(
    typing: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    typing += [*LINES, *MORE, "3 what", STOP]
    main(["tally"])
    assert "strike line 9" in " ".join(capsys.readouterr().out.split())
    assert kept()[-1] == "3 what"


def test_ctrl_c_loses_nothing_and_says_where_it_is(
    typing: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    typing += [*LINES, STOP]
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
    typing += [*LINES, "", ""]
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
    typing += [*LINES, "", ""]
    assert main(["tally"]) == 1
    assert capsys.readouterr().out.count("No space left") == 1


def test_a_folder_that_is_not_there_is_a_wrong_name(
    typing: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["tally", "--typed", "no/such/folder.txt"]) == 2
    assert "Check the name" in capsys.readouterr().err
