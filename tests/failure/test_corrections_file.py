"""The corrections file: written whole, by one hand at a time, never over something else."""

import fcntl
import json
import os
import threading
from pathlib import Path

import pytest

from lastbolt.cli.main import main
from lastbolt.edge import corrections_file, documents
from lastbolt.words.corrections import Confirmed, NotAStep
from lastbolt.words.problem import Refusal
from planned import machine, proc, ref

GOOD = {
    "does": "leads to", "id": "c1", "fact": "r1", "saw": "see r1", "by": "Ann",
    "at": "2026-11-30T10:00:00+01:00", "to": ["3.3"],
}  # fmt: skip


def made(number: int) -> Confirmed:
    return Confirmed(id=f"c{number}", fact="9.1.1", saw="Do step 1.", by="Ann")


@pytest.fixture
def model(tmp_path: Path) -> Path:
    path = tmp_path / "winch.model.json"
    documents.save(path, machine(proc("9.1", "1", before=(ref("r1", status="dangling"),)), proc("3.3", "1")))
    return path


def write(model: Path, *corrections: object, **more: object) -> Path:
    path = model.with_name("winch.corrections.json")
    whole = {"schema": "lastbolt.corrections/1", **more, "corrections": corrections}
    path.write_text(json.dumps(whole), encoding="utf-8")
    return path


def plan(model: Path, *more: str) -> int:
    return main(["plan", "9.1", "--json", "--model", str(model), *more])


def codes(capsys: pytest.CaptureFixture[str]) -> list[str]:
    return [one["code"] for one in json.loads(capsys.readouterr().out)["problems"]]


def test_a_file_written_by_hand_lies_beside_the_model_and_is_used(
    model: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert plan(model) == 1
    write(model, GOOD)
    capsys.readouterr()
    assert plan(model) == 0
    said = json.loads(capsys.readouterr().out)
    assert said["complete"]
    assert said["put_right"][0]["words"] == '"see r1" leads to 3.3.'
    assert said["put_right"][0]["by"] == "Ann"


def test_another_file_can_be_named(model: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    write(model, GOOD)
    other = tmp_path / "other.json"
    other.write_text(json.dumps({"schema": "lastbolt.corrections/1"}), encoding="utf-8")
    assert plan(model, "--corrections", str(other)) == 1
    assert plan(model, "--corrections", str(tmp_path / "none.json")) == 2


def test_an_orphan_keeps_the_plan_open(model: Path, capsys: pytest.CaptureFixture[str]) -> None:
    orphan = {"does": "not a step", "id": "c2", "fact": "9.1.1", "saw": "Other words.", "by": "Ann"}
    write(model, GOOD, orphan)
    assert plan(model) == 1
    said = json.loads(capsys.readouterr().out)
    assert ["Other words." in one["words"] for one in said["open"]] == [True]


@pytest.mark.parametrize(
    ("corrections", "more", "code"),
    [
        ([GOOD, GOOD], {}, "LB-K02"),
        ([{**GOOD, "does": "eats"}], {}, "LB-D04"),
        ([{**GOOD, "to": "3.3"}], {}, "LB-D04"),
        ([{key: GOOD[key] for key in GOOD if key != "by"}], {}, "LB-D04"),
        ([], {"schema": "lastbolt.walk/1"}, "LB-D03"),
    ],
)
def test_a_wrong_file_is_told_and_nothing_answered(
    model: Path,
    capsys: pytest.CaptureFixture[str],
    corrections: list[object],
    more: dict[str, object],
    code: str,
) -> None:
    write(model, *corrections, **more)
    assert plan(model) == 2
    assert codes(capsys) == [code]


def test_a_field_that_nobody_reads_is_told(model: Path, capsys: pytest.CaptureFixture[str]) -> None:
    write(model, {**GOOD, "reasn": "I looked"})
    assert plan(model) == 1
    assert any("reasn" in one["words"] for one in json.loads(capsys.readouterr().out)["open"])


def test_saving_keeps_what_others_wrote_into_the_file(tmp_path: Path) -> None:
    path = tmp_path / "w.corrections.json"
    first = corrections_file.add(path, made(1), corrections_file.NOTHING, "winch")
    raw = json.loads(path.read_text())
    raw["x_note"] = "mine"
    path.write_text(json.dumps(raw), encoding="utf-8")
    with pytest.raises(Refusal) as refused:
        corrections_file.add(path, made(2), first.state)
    assert refused.value.problems[0].code == "LB-K03"
    corrections_file.add(path, made(2), corrections_file.read(path).state)
    again = json.loads(path.read_text())
    assert again["x_note"] == "mine"
    assert [one["id"] for one in again["corrections"]] == ["c1", "c2"]
    assert [one.name for one in tmp_path.glob("*.part")] == []


def test_while_another_program_writes_nothing_is_written(tmp_path: Path) -> None:
    path = tmp_path / "w.corrections.json"
    kept = corrections_file.add(path, made(1), corrections_file.NOTHING)
    handle = os.open(tmp_path / ".w.corrections.json.lock", os.O_RDWR)
    fcntl.flock(handle, fcntl.LOCK_EX)
    try:
        with pytest.raises(Refusal) as refused:
            corrections_file.add(path, made(2), kept.state)
        assert refused.value.problems[0].code == "LB-K03"
    finally:
        os.close(handle)
    assert len(corrections_file.add(path, made(2), kept.state).corrections.corrections) == 2


def test_of_many_at_once_each_is_written_or_told(tmp_path: Path) -> None:
    path = tmp_path / "w.corrections.json"
    saved: list[str] = []
    told: list[str] = []

    def work(first: int) -> None:
        for number in range(first, first + 10):
            try:
                corrections_file.add(path, made(number), corrections_file.read(path).state)
            except Refusal as refusal:
                told.append(refusal.problems[0].code)
            else:
                saved.append(f"c{number}")

    workers = [threading.Thread(target=work, args=(100 * one,)) for one in range(1, 5)]
    for one in workers:
        one.start()
    for one in workers:
        one.join()
    assert saved
    assert set(told) <= {"LB-K03"}
    assert sorted(one.id for one in corrections_file.read(path).corrections.corrections) == sorted(saved)


def test_a_file_that_is_something_else_is_left_as_it_is(tmp_path: Path) -> None:
    path = tmp_path / "w.corrections.json"
    path.write_text("my notes", encoding="utf-8")
    with pytest.raises(Refusal):
        corrections_file.add(path, NotAStep(id="c1", fact="f", saw="s", by="Ann"), "x")
    assert path.read_text(encoding="utf-8") == "my notes"


def test_a_folder_without_the_right_to_write_is_told(tmp_path: Path) -> None:
    with pytest.raises(Refusal) as refused:
        corrections_file.add(tmp_path / "none" / "w.corrections.json", made(1), corrections_file.NOTHING)
    assert refused.value.problems[0].code == "LB-F20"


@pytest.mark.parametrize("port", ["99999", "-1"])
def test_a_port_that_is_none_is_told(model: Path, port: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["correct", str(model), "--json", f"--port={port}"]) == 2
    assert codes(capsys) == ["LB-K06"]
