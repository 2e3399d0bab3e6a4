"""The command line: exit codes, problems for people and as JSON, nothing half-written."""

import json
import os
from pathlib import Path

import pytest

from lastbolt.cli.main import main
from lastbolt.edge import documents
from lastbolt.edge.safe_files import write_file
from lastbolt.words.machine import MODEL_SCHEMA, Machine, Procedure, Step
from lastbolt.words.problem import Refusal

TYPED = "by Lea\n2 x M6x45\nend of list\nby Ann\n1-2 out\nwent round\nby Ben\ntray 2 x M6x45\n"


def run(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    code = main(words)
    out, err = capsys.readouterr()
    return code, out, err


def typed(tmp_path: Path, text: str) -> str:
    path = tmp_path / "joint.txt"
    path.write_text(text, encoding="utf-8")
    return str(path)


def test_help_says_who_comes_first(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as left:
        main(["--help"])
    assert left.value.code == 0
    assert "licensed practice come first" in capsys.readouterr().out


def test_two_people_and_a_list_clear_the_fasteners_but_not_the_joint(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code, out, _ = run(capsys, "tally", "--typed", typed(tmp_path, TYPED))
    assert "No fastener found in this joint." in " ".join(out.split())
    assert code == 1, "no holder was settled or even asked for: not clear to part"


def test_one_place_not_seen_is_not_shown(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = run(
        capsys, "tally", "--typed", typed(tmp_path, TYPED.replace("1-2 out", "1 out, 2 not seen"))
    )
    assert code == 1
    assert out.lstrip("=\n").startswith("Do not pull")


def test_json_is_the_answer_and_nothing_else(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = run(capsys, "tally", "--json", "--typed", typed(tmp_path, TYPED))
    answer = json.loads(out)
    assert (code, answer["schema"], answer["verdict"]) == (1, "lastbolt.answer/1", "free")


@pytest.mark.parametrize(
    ("words", "code"),
    [
        (("tally", "--typed", "nowhere.txt"), "LB-D08"),
        (("tally", "--model", "nowhere.json"), "LB-D09"),
        (("tally", "--walk", "nowhere.json"), "LB-D01"),
        (("plan", "x", "--model", "nowhere.json"), "LB-D01"),
    ],
)
def test_bad_input_is_one_problem_and_exit_2(
    words: tuple[str, ...], code: str, capsys: pytest.CaptureFixture[str]
) -> None:
    left, out, err = run(capsys, *words)
    assert left == 2
    assert err.startswith(code)
    assert "do    " in err
    assert out == ""
    left, out, _ = run(capsys, *words, "--json")
    assert left == 2
    assert [problem["code"] for problem in json.loads(out)["problems"]] == [code]


def test_what_was_typed_reaches_the_report(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    steps = (Step("m/step/4.2/1", "1", "Lift the cover off."),)
    procedure = Procedure("m/procedure/4.2", "4.2", "Parting the housing", "separate", ("housing",), steps)
    model = tmp_path / "m.json"
    documents.save(model, Machine(MODEL_SCHEMA, "winch", procedures=(procedure,)))
    words = ("report", "4.2", "--model", str(model), "--out", str(tmp_path / "out"))
    lines = typed(tmp_path, TYPED.replace("1-2 out", "1 out, 2 in"))
    code, out, _ = run(capsys, *words, "--typed", lines)
    assert code == 1
    assert "still in at place 2" in " ".join(out.split())
    html = (tmp_path / "out" / "report.html").read_text(encoding="utf-8")
    assert "still in at place 2" in html
    assert "Place by place" in html
    run(capsys, *words)
    assert "Nobody has gone round the joint yet" in (tmp_path / "out" / "report.html").read_text("utf-8")


def test_a_fault_of_the_program_is_never_an_answer(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: object) -> None:
        raise RuntimeError("a bug")

    monkeypatch.setattr("lastbolt.cli.selfcheck.run", broken)
    code, out, err = run(capsys, "selfcheck", "--json")
    assert code == 2
    assert [problem["code"] for problem in json.loads(out)["problems"]] == ["LB-D14"]
    assert "a bug" in err


def test_a_device_is_never_replaced(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    with pytest.raises(Refusal) as caught:
        write_file(pipe, b"x")
    assert caught.value.problems[0].code == "LB-F20"
    assert pipe.is_fifo()
