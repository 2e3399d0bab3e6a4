"""Readings at the keyboard: decided line by line, kept at once, and no line lost."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from lastbolt.cli import measure
from lastbolt.cli.main import main

LIMIT = "end float: standard 0.10 to 0.20, at most 0.35 mm"
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

    heads = "name,kind,unit,range,resolution,uncertainty,calibrated until"
    (tmp_path / "t.csv").write_text(f"{heads}\ndial,dial gauge,mm,0-10,0.01,0.01,2099-01-01\n")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr("builtins.input", answer)
    monkeypatch.setattr(measure, "somebody_there", lambda: True)
    yield keys
    assert keys == [], "it stopped asking too early"


def run() -> int:
    return main(["measure", "--typed", "r.txt", "--tools", "t.csv"])


def kept() -> list[str]:
    return Path("r.txt").read_text(encoding="utf-8").splitlines()


def test_each_reading_is_decided_as_it_is_typed(
    typing: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    typing += ["Lena", LIMIT, "with dial", "zero 0", "1: 0.41 0.42 0.41", "", ""]
    assert run() == 1
    out = capsys.readouterr().out
    assert out.index("Beyond the limit: 0.063 mm above 0.35") < out.index("Of 1 size")
    assert kept() == ["by Lena", LIMIT, "with dial", "zero 0", "1: 0.41 0.42 0.41"]


def test_what_is_strange_or_not_understood_is_said_at_once(
    typing: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    typing += [
        "by Lena",
        LIMIT,
        "with dial",
        "end float: 1.4 1.4",
        "hullabaloo",
        "undo",
        "strike line 4",
        "sizes",
        END,
    ]
    assert run() == 1
    out = " ".join(capsys.readouterr().out.split())
    assert "? 1.4 mm would be 0.14 if the decimal point has slipped." in out
    assert '"hullabaloo" is not understood' in out
    assert 'Line 5 is struck: "hullabaloo".' in out
    assert kept()[-2:] == ["strike line 5", "strike line 4"]


def test_a_tool_that_is_not_there_and_a_misspelled_name_are_said_at_once(
    typing: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    typing += ["Lena", LIMIT, "with mike", "with dial", "end flaot: 0.2", "undo", END]
    run()
    out = " ".join(capsys.readouterr().out.split())
    assert '"mike" is not in the shop\'s list: dial.' in out
    assert "Name it as the sheet does (end float)" in out


def test_ctrl_c_loses_nothing(typing: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    typing += ["Lena", LIMIT, STOP]
    assert run() == 1
    assert "Every line is in r.txt" in capsys.readouterr().out
    assert kept() == ["by Lena", LIMIT]


def test_a_file_is_gone_on_with(typing: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    Path("r.txt").write_text(f"by Lena\n{LIMIT}\nwith dial\nzero 0\n")
    typing += ["end float: 0.15 0.15 0.15", "", ""]
    assert main(["measure", "--typed", "r.txt", "--tools", "t.csv", "--more"]) == 0
    assert kept() == ["by Lena", LIMIT, "with dial", "zero 0", "end float: 0.15 0.15 0.15"]


def test_a_file_that_is_there_is_read(typing: list[str]) -> None:
    Path("r.txt").write_text(f"{LIMIT}\nby Lena\nwith dial\nzero 0\nend float: 0.15 0.15 0.15")
    assert run() == 0
