"""Words typed at the prompt, and typed lines, that cannot be used: one problem each, also as JSON, exit 2."""

import io
import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from failure.test_bad_json import MODEL, files
from lastbolt.cli.main import main

TYPED = "2 x M6x45\nend of list\nby Ann\n1-2 out\nwent round\nby Ben\ntray 2 x M6x45\n"


def run(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    code = main(words)
    out, err = capsys.readouterr()
    return code, out, err


@pytest.mark.parametrize(
    ("words", "said"),
    [
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
        (("selfcheck", "--bogus"), "--bogus"),
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


def test_no_word_at_all_lists_the_commands(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, err = run(capsys)
    assert (code, err) == (2, "")
    assert all(f"    {command}" in out for command in COMMANDS)
    assert "...." not in out


COMMANDS = ("read", "plan", "tally", "report", "changes", "demo", "selfcheck")


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


def test_words_that_name_no_procedure_are_refused_and_nothing_is_written(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    given = files(tmp_path)
    documents = [word for name, path in given.items() for word in (f"--{name}", str(path))]
    out = tmp_path / "out"
    for words in (
        ("report", "polish the moon", *documents, "--out", str(out)),
        ("report", "", *documents, "--out", str(out)),
        ("tally", "--goal", "polish the moon", *documents),
    ):
        code, said, err = run(capsys, *words)
        assert (code, said, err[:6]) == (2, "", "LB-D10")
        code, said, err = run(capsys, *words, "--json")
        assert (code, err) == (2, "")
        assert [problem["code"] for problem in json.loads(said)["problems"]] == ["LB-D10"]
    assert not out.exists()


def test_words_near_a_procedure_name_it(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    one = MODEL["procedures"][0]  # type: ignore[index]
    sides = [{**one, "id": f"m/procedure/{n}", "number": n, "title": f"Removal of the {side} cover"}
             for n, side in (("4", "left"), ("5", "right"))]  # fmt: skip
    given = files(tmp_path, model=json.dumps({**MODEL, "procedures": sides}).encode())
    words = ("report", "remove the cover", "--model", str(given["model"]), "--out", str(tmp_path / "out"))
    code, _, err = run(capsys, *words)
    said = " ".join(err.split())
    assert (code, said[:6]) == (2, "LB-D10")
    assert "4 Removal of the left cover" in said
    assert "5 Removal of the right cover" in said


def test_a_plan_of_nothing_is_not_written_over_a_plan(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    given, out = files(tmp_path), tmp_path / "plan.json"
    words = ("--model", str(given["model"]), "--out", str(out))
    assert run(capsys, "plan", "remove the cover", *words)[0] == 0
    plan = out.read_bytes()
    assert run(capsys, "plan", "polish the moon", *words)[0] == 2
    assert out.read_bytes() == plan


@pytest.mark.parametrize("command", COMMANDS)
def test_help_of_each_command_says_what_its_exit_codes_mean(
    command: str, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as left:
        main([command, "--help"])
    assert left.value.code == 0
    said = " ".join(capsys.readouterr().out.split()).partition("exit codes:")[2]
    for code in (0, 2) if command in ("demo", "selfcheck") else (0, 1, 2):
        assert re.search(rf"\b{code} \w", said)


@pytest.mark.parametrize("encoding", ["ascii", "cp1252", "utf-8"])
def test_a_terminal_without_some_letters_ends_nothing(tmp_path: Path, encoding: str) -> None:
    path = tmp_path / "joint.txt"
    path.write_text("by Lea\n" + TYPED.replace("Ann", "Jörg Żak"), encoding="utf-8")
    command = [sys.executable, "-m", "lastbolt.cli.main", "tally", "--typed", str(path)]
    settings = {**os.environ, "PYTHONIOENCODING": encoding}
    told = subprocess.run(command, capture_output=True, env=settings, check=False)
    assert (told.returncode, b"LB-D14" in told.stderr) == (1, False)
    assert "No fastener found" in told.stdout.decode(encoding)
    told = subprocess.run([*command, "--json"], capture_output=True, env=settings, check=False)
    assert told.returncode == 1
    assert "Jörg Żak" in " ".join(json.loads(told.stdout.decode(encoding))["witnesses"])


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no device that is always full")
@pytest.mark.parametrize("more", [(), ("--json",)])
@pytest.mark.parametrize("words", [("selfcheck",), ("tally", "--typed", "none.txt")])
def test_an_answer_that_cannot_be_written_is_none(words: tuple[str, ...], more: tuple[str, ...]) -> None:
    command = [sys.executable, "-m", "lastbolt.cli.main", *words, *more]
    with Path("/dev/full").open("wb") as full:
        told = subprocess.run(command, stdout=full, stderr=subprocess.PIPE, check=False)
    assert told.returncode == 2
    assert b"Traceback" not in told.stderr
    assert b"LB-F20" in told.stderr or (words[0] == "tally" and b"LB-D08" in told.stderr)


def test_the_nearest_command_and_option_are_offered(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["taly"]) == 2
    assert "Did you mean tally?" in " ".join(capsys.readouterr().err.split())
    assert main(["tally", "--modle", "x"]) == 2
    assert "Did you mean --model?" in " ".join(capsys.readouterr().err.split())


def test_a_parts_list_given_for_a_model_is_to_be_read_first(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "parts.csv").write_text("Fig,Item\n1,2\n", encoding="utf-8")
    assert main(["plan", "x", "--model", str(tmp_path / "parts.csv")]) == 2
    assert "lastbolt read parts.csv" in " ".join(capsys.readouterr().err.split())


def test_a_name_nearly_right_is_offered(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "winch.model.json").write_text("{}", encoding="utf-8")
    assert main(["plan", "x", "--model", str(tmp_path / "winch.model.jso")]) == 2
    assert '"winch.model.json"' in capsys.readouterr().err
