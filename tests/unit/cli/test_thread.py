"""`lastbolt thread`: each number with its source, no torque where none may be shown, and helpful refusals."""

import json

import pytest

from lastbolt.cli.main import main


def said(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str]:
    code = main(["thread", *words])
    found = capsys.readouterr()
    return code, " ".join((found.out + found.err).split())


def test_every_number_but_the_size_itself_has_a_source(capsys: pytest.CaptureFixture[str]) -> None:
    asked = ["M8", "--class", "8.8", "--purpose", "bracket to frame", "--json"]
    assert main(["thread", *asked]) == 0
    told = json.loads(capsys.readouterr().out)["told"]
    assert len(told) > 6
    assert [one["what"] for one in told if not one["source"]] == ["diameter and pitch"]


@pytest.mark.parametrize(
    "purpose", ["cylinder head", "connecting rod", "drain plug", "flywheel", "main bearing cap"]
)
def test_no_general_torque_where_none_may_be_shown(purpose: str, capsys: pytest.CaptureFixture[str]) -> None:
    code, words = said(capsys, "M10", "--class", "10.9", "--purpose", purpose)
    assert code == 0
    assert "no general torque" in words
    assert "N·m" not in words


@pytest.mark.parametrize("words", ["M8x1.1", "hello", "M7.3", "5/17-18"])
def test_what_is_no_thread_is_refused(words: str, capsys: pytest.CaptureFixture[str]) -> None:
    code, told = said(capsys, words)
    assert code == 2
    assert "LB-T51" in told


def test_one_measured_thread_and_several(capsys: pytest.CaptureFixture[str]) -> None:
    code, words = said(capsys, "--measured", "9.8", "--pitch", "1.5")
    assert (code, "M10" in words) == (0, True)
    code, words = said(capsys, "--measured", "7.9")
    assert code == 1
    assert "M8" in words
    assert "5/16-18 UNC" in words
    assert "measure again" in words
    assert said(capsys, "--measured", "7.3", "--pitch", "9")[0] == 1
    assert said(capsys)[0] == 2
