"""Words typed at the prompt, and typed lines, that cannot be used: one problem each, also as JSON, exit 2."""

import io
import json
from pathlib import Path

import pytest

from lastbolt.cli.main import main

TYPED = "2 x M6x45\nend of list\nby Ann\n1-2 out\nwent round\nby Ben\ntray 2 x M6x45\n"


def run(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    code = main(words)
    out, err = capsys.readouterr()
    return code, out, err


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ((), "COMMAND"),
        (("--bogus",), "COMMAND"),
        (("untighten",), "untighten"),
        (("tally", "--bogus"), "--bogus"),
        (("tally", "stray"), "stray"),
        (("tally", "--typed"), "--typed"),
        (("plan", "x"), "--model"),
        (("plan", "--model", "m.json"), "GOAL"),
        (("read", "--out", "m.json"), "FILE"),
        (("read", "a.pdf"), "--out"),
        (("report", "x", "--model", "m.json"), "--out"),
        (("doctor", "--bogus"), "--bogus"),
        (("demo", "--out"), "--out"),
    ],
)
def test_words_not_understood_are_one_problem(
    words: tuple[str, ...], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    code, out, err = run(capsys, *words)
    assert (code, out) == (2, "")
    assert err.startswith("LB-D16")
    assert said in err
    code, out, err = run(capsys, *words[:1], "--json", *words[1:])
    assert (code, err) == (2, "")
    (problem,) = json.loads(out)["problems"]
    assert problem["code"] == "LB-D16"
    assert problem["where"] == " ".join(("lastbolt", *[w for w in words[:1] if w in COMMANDS]))


COMMANDS = ("read", "plan", "tally", "report", "demo", "doctor")


def test_typed_lines_with_a_byte_order_mark(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "joint.txt"
    path.write_text(TYPED, encoding="utf-8")
    _, plain, _ = run(capsys, "tally", "--json", "--typed", str(path))
    path.write_text(TYPED, encoding="utf-8-sig")
    _, marked, _ = run(capsys, "tally", "--json", "--typed", str(path))
    assert json.loads(marked) == json.loads(plain)


@pytest.mark.parametrize(("encoding", "named"), [("utf-16", "UTF-16"), ("cp1252", "UTF-8")])
def test_typed_lines_of_another_encoding_are_told_by_name(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], encoding: str, named: str
) -> None:
    path = tmp_path / "joint.txt"
    path.write_text(f"by Jörg\n{TYPED}", encoding=encoding)
    code, out, _ = run(capsys, "tally", "--json", "--typed", str(path))
    (problem,) = json.loads(out)["problems"]
    assert (code, problem["code"]) == (2, "LB-D08")
    assert named in problem["what"]


@pytest.mark.parametrize(("encoding", "left"), [("utf-8-sig", 1), ("utf-16", 2), ("cp1252", 2)])
def test_another_programs_lines_are_held_to_the_same(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, encoding: str, left: int
) -> None:
    raw = io.BytesIO(TYPED.replace("Ann", "Jörg").encode(encoding))
    monkeypatch.setattr("sys.stdin", io.TextIOWrapper(raw, encoding="utf-8"))
    code, out, _ = run(capsys, "tally", "--json", "--typed", "-")
    assert code == left
    codes = [problem["code"] for problem in json.loads(out)["problems"]]
    assert ("LB-D08" in codes) == (left == 2)
    assert "LB-D14" not in codes
