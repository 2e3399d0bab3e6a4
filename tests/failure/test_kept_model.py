"""Reading again never loses what another hand wrote into the model file."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from lastbolt.cli.main import main

LIST = "item,part no.,description,qty\n1,K-1,Cover,1\n2,K-2,Screw M8 x 70,2\n"
Change = Callable[[dict[str, Any]], None]


def read(folder: Path, capsys: pytest.CaptureFixture[str], content: str = LIST) -> tuple[int, Any]:
    """Read a parts list into the model and give the exit code and what was said as JSON."""
    source = folder / "list.csv"
    source.write_text(content, encoding="utf-8")
    code = main(["read", "--json", str(source), "--out", str(folder / "m.json")])
    return code, json.loads(capsys.readouterr().out)


def changed(path: Path, change: Change) -> bytes:
    """The model with a change made by hand; its bytes."""
    model = json.loads(path.read_text(encoding="utf-8"))
    change(model)
    path.write_text(json.dumps(model, ensure_ascii=False, indent=1), encoding="utf-8")
    return path.read_bytes()


def kept(said: Any) -> list[str]:
    return [problem["where"] for problem in said["problems"] if problem["code"] == "LB-D17"]


def corrected(model: dict[str, Any]) -> None:
    model["rows"][1]["quantity"] = {"at_least": 3, "at_most": 3, "words": "3"}


def renamed(model: dict[str, Any]) -> None:
    model["name"] = "our winch"


def remarked(model: dict[str, Any]) -> None:
    model["rows"][0]["looked_at_by"] = "Ann"


def broken(model: dict[str, Any]) -> None:
    model["rows"] = "none"


def unmarked(model: dict[str, Any]) -> None:
    del model["written_sha256"]


def test_the_same_sources_again_keep_nothing(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    read(tmp_path, capsys)
    first = (tmp_path / "m.json").read_bytes()
    _, said = read(tmp_path, capsys)
    assert kept(said) == []
    assert (tmp_path / "m.json").read_bytes() == first
    assert sorted(path.name for path in tmp_path.iterdir()) == ["list.csv", "m.json"]


@pytest.mark.parametrize("change", [corrected, renamed, remarked, broken, unmarked])
def test_what_another_hand_wrote_is_kept_and_said(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], change: Change
) -> None:
    read(tmp_path, capsys)
    old = changed(tmp_path / "m.json", change)
    _, said = read(tmp_path, capsys)
    assert kept(said) == [str(tmp_path / "m.json.bak")]
    assert (tmp_path / "m.json.bak").read_bytes() == old


def test_another_files_model_is_kept_and_each_change_under_its_own_name(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    read(tmp_path, capsys)
    first = (tmp_path / "m.json").read_bytes()
    _, said = read(tmp_path, capsys, LIST.replace(",2\n", ",4\n"))
    assert kept(said) == [str(tmp_path / "m.json.bak")]
    second = changed(tmp_path / "m.json", renamed)
    _, said = read(tmp_path, capsys)
    assert kept(said) == [str(tmp_path / "m.json.bak2")]
    assert (tmp_path / "m.json.bak").read_bytes() == first
    assert (tmp_path / "m.json.bak2").read_bytes() == second


def test_people_are_told_where_it_is(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    read(tmp_path, capsys)
    changed(tmp_path / "m.json", renamed)
    main(["read", str(tmp_path / "list.csv"), "--out", str(tmp_path / "m.json")])
    said = " ".join(capsys.readouterr().out.split())
    assert "another hand" in said
    assert "m.json.bak" in said


@pytest.mark.parametrize("schema", ["lastbolt.model/2", "lastbolt.walk/1", "", None])
def test_a_model_of_another_version_and_anything_else_is_left_as_it_is(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], schema: str | None
) -> None:
    old = json.dumps({"schema": schema, "name": "winch", "rows": []})
    (tmp_path / "m.json").write_text(old, encoding="utf-8")
    code, said = read(tmp_path, capsys)
    assert code == 2
    assert [problem["code"] for problem in said["problems"]] == ["LB-D05"]
    assert (tmp_path / "m.json").read_text(encoding="utf-8") == old
    assert sorted(path.name for path in tmp_path.iterdir()) == ["list.csv", "m.json"]


def test_the_demo_again_keeps_what_somebody_tried_in_its_documents(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "demo"
    out.mkdir()
    (out / "job.json").write_text("my own job", encoding="utf-8")
    assert main(["demo", "--json", "--out", str(out)]) == 0
    said = capsys.readouterr()
    assert (out / "job.json.bak").read_text(encoding="utf-8") == "my own job"
    assert "job.json.bak" in said.err
    assert not (out / "walk.json.bak").exists()
    assert json.loads(said.out)["answer"]["clear_to_part"] is False
