"""`lastbolt plan --dita FILE --s1000d FILE`: what is written, kept, and refused."""

import json
from pathlib import Path

import pytest

from lastbolt.cli.main import main
from lastbolt.edge import documents
from lastbolt.edge.xml_in import read_publication
from planned import machine, proc, ref


@pytest.fixture
def model(tmp_path: Path) -> Path:
    path = tmp_path / "m.json"
    documents.save(path, machine(proc("9.1", "1", before=(ref("r", "3.3"),)), proc("3.3", "1")))
    return path


def test_both_forms_are_written_and_named(
    model: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    dita, s1000d = tmp_path / "p.dita", tmp_path / "p.xml"
    words = ["plan", "9.1", "--model", str(model), "--dita", str(dita), "--s1000d", str(s1000d)]
    assert main(words) == 0
    said = capsys.readouterr()
    assert f"Written: {dita}" in said.out
    assert f"Written: {s1000d}" in said.out
    assert "LB-" not in said.err
    assert read_publication(dita).modules[0].root.name == "task"
    assert read_publication(s1000d).modules[0].root.name == "dmodule"


def test_what_stood_there_is_kept_and_told(
    model: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "p.dita"
    out.write_text("my own notes", encoding="utf-8")
    assert main(["plan", "9.1", "--model", str(model), "--dita", str(out)]) == 0
    assert "LB-D20" in capsys.readouterr().err
    assert (tmp_path / "p.dita.bak").read_text(encoding="utf-8") == "my own notes"
    assert main(["plan", "9.1", "--model", str(model), "--dita", str(out)]) == 0
    assert "LB-D20" not in capsys.readouterr().err, "the same text again is no other"
    assert sorted(one.name for one in tmp_path.iterdir()) == ["m.json", "p.dita", "p.dita.bak"]


@pytest.mark.parametrize("option", ["--dita", "--s1000d"])
def test_the_model_is_never_written_over(
    option: str, model: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = model.read_bytes()
    assert main(["plan", "9.1", "--model", str(model), option, str(model)]) == 2
    assert "LB-D21" in capsys.readouterr().err
    assert model.read_bytes() == before


def test_two_forms_in_one_file_are_refused(
    model: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = str(tmp_path / "p.xml")
    assert main(["plan", "9.1", "--model", str(model), "--out", out, "--s1000d", out]) == 2
    assert "LB-D21" in capsys.readouterr().err
    assert not Path(out).exists()


def test_a_folder_that_is_not_there_is_said(
    model: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = str(tmp_path / "none" / "p.dita")
    assert main(["plan", "9.1", "--model", str(model), "--dita", out]) == 2
    assert "LB-F20" in capsys.readouterr().err


def test_without_a_goal_nothing_is_written(model: Path, tmp_path: Path) -> None:
    out = tmp_path / "p.dita"
    assert main(["plan", "polish the moon", "--model", str(model), "--dita", str(out)]) == 2
    assert not out.exists()


def test_json_stays_json(model: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "p.dita"
    assert main(["plan", "9.1", "--model", str(model), "--dita", str(out), "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["schema"] == "lastbolt.plan/1"
    assert out.exists()


def test_an_open_plan_is_written_and_says_so(tmp_path: Path) -> None:
    path, out = tmp_path / "m.json", tmp_path / "p.dita"
    documents.save(path, machine(proc("9.1", "1", before=(ref("r", status="dangling"),))))
    assert main(["plan", "9.1", "--model", str(path), "--dita", str(out)]) == 1
    assert "This plan is not complete." in out.read_text(encoding="utf-8")
