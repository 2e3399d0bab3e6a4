"""Bad JSON documents: one clear problem each, exit code 2, and with --json still JSON on standard output."""

import json
from collections.abc import Sequence
from pathlib import Path

import pytest

from lastbolt.cli.main import main

MODEL = {
    "schema": "lastbolt.model/1",
    "name": "winch",
    "procedures": [
        {"id": "m/procedure/4", "number": "4", "title": "Removal of the cover", "deed": "remove",
         "parts": ["cover"], "steps": [{"id": "m/step/4/1", "mark": "1", "words": "Lift off the cover."}]},
    ],
}  # fmt: skip
WALK = {
    "schema": "lastbolt.walk/1",
    "joint": "cover",
    "name": "cover on case",
    "faces": ["cover", "case"],
    "places": [{"id": "1", "label": "1"}, {"id": "2", "label": "2"}],
}
ENGINE = {"schema": "lastbolt.engine/1", "id": "3", "name": "no. 3"}
JOB = {
    "schema": "lastbolt.job/1",
    "id": "j",
    "goal": "remove the cover",
    "events": [{"event": "took out", "id": "e1", "by": "Ann", "joint": "cover", "places": ["1", "2"]}],
}
GOOD = {"model": MODEL, "walk": WALK, "engine": ENGINE, "job": JOB}
LEVELS = 200_000


def files(folder: Path, **instead: bytes) -> dict[str, Path]:
    """A whole set of documents, with these bytes instead of some of them."""
    found = {}
    for name, good in GOOD.items():
        found[name] = folder / f"{name}.json"
        found[name].write_bytes(instead.get(name, json.dumps(good).encode()))
    return found


def tally(given: dict[str, Path], *more: str) -> tuple[str, ...]:
    """The words of a tally with every document."""
    return ("tally", *(word for name, path in given.items() for word in (f"--{name}", str(path))), *more)


def run(capsys: pytest.CaptureFixture[str], words: Sequence[str]) -> tuple[int, str, str]:
    code = main(words)
    out, err = capsys.readouterr()
    return code, out, err


def deep(good: dict[str, object], inside: bool) -> bytes:
    """The document with a field of very many lists in each other, or nothing but those."""
    lists = "[" * LEVELS + "]" * LEVELS
    return (json.dumps(good)[:-1] + f', "more": {lists}}}' if inside else lists).encode()


def test_the_good_documents_are_good(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out, err = run(capsys, tally(files(tmp_path), "--json"))
    assert (code, err) == (1, "")
    assert "LB-T20" not in [problem["code"] for problem in json.loads(out)["problems"]]


@pytest.mark.parametrize("inside", [True, False])
@pytest.mark.parametrize("name", GOOD)
def test_very_deep_is_one_problem_that_names_the_file(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], name: str, inside: bool
) -> None:
    given = files(tmp_path, **{name: deep(GOOD[name], inside)})
    code, out, err = run(capsys, tally(given, "--json"))
    assert (code, err) == (2, "")
    (problem,) = json.loads(out)["problems"]
    assert problem["code"] == "LB-D15"
    assert problem["where"] == str(given[name])
    assert problem["do"]
    code, out, err = run(capsys, tally(given))
    assert (code, out) == (2, "")
    assert err.startswith("LB-D15")
    assert "Traceback" not in err


@pytest.mark.parametrize("levels", [300, 900, 950, 970, 980, 990, 1000, 1100])
def test_any_depth_is_a_problem_or_an_answer(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], levels: int
) -> None:
    """Close to the depth at which the parsers give up, no two of them may give up differently."""
    more = f', "more": {"[" * levels}{"]" * levels}}}'
    given = files(tmp_path, job=(json.dumps(JOB)[:-1] + more).encode())
    code, out, _ = run(capsys, tally(given, "--json"))
    codes = {problem["code"] for problem in json.loads(out)["problems"]}
    assert (code == 2 and codes == {"LB-D15"}) or (code == 1 and "LB-T20" in codes)


@pytest.mark.parametrize("line", ["(" * LEVELS, "[" * LEVELS, "1-" * LEVELS, "not " * LEVELS])
def test_typed_lines_of_nothing_but_brackets_end(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], line: str
) -> None:
    path = tmp_path / "joint.txt"
    path.write_text(f"2 x M6x45\n{line}\n", encoding="utf-8")
    code, out, _ = run(capsys, ("tally", "--json", "--typed", str(path)))
    assert code in (1, 2)
    assert "LB-D14" not in [problem["code"] for problem in json.loads(out)["problems"]]


@pytest.mark.parametrize("name", GOOD)
def test_a_field_that_stands_twice_is_told_and_keeps_the_joint_from_clear(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], name: str
) -> None:
    """RFC 8259, 4: names within an object SHOULD be unique; readers differ in what they make of others."""
    field = {"model": "procedures", "walk": "places", "engine": "as_found", "job": "events"}[name]
    twice = f'{{"{field}": [], {json.dumps(GOOD[name])[1:-1]}, "{field}": []}}'
    code, out, _ = run(capsys, tally(files(tmp_path, **{name: twice.encode()}), "--json", "--goal", "4"))
    if name == "model":  # its last procedures are none, so that the goal is not in it
        assert code == 2
        assert [problem["code"] for problem in json.loads(out)["problems"]] == ["LB-D10", "LB-T20"]
        return
    answer = json.loads(out)
    assert (code, answer["clear_to_part"]) == (1, False)
    assert answer["verdict"] != "free"
    told = [problem for problem in answer["problems"] if problem["code"] == "LB-T20"]
    assert [problem["grade"] for problem in told] == ["stop"]
    assert f'"{field}"' in told[0]["what"]
    assert "twice" in told[0]["what"]


def test_a_field_of_the_model_that_stands_twice_is_told_by_plan_and_tally(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    twice = json.dumps(MODEL).replace('"mark": "1"', '"torques": [], "mark": "1", "torques": []').encode()
    given = files(tmp_path, model=twice)
    _, out, _ = run(capsys, tally(given, "--json"))
    answer = json.loads(out)
    assert answer["verdict"] != "free"
    (told,) = [problem for problem in answer["problems"] if problem["code"] == "LB-T20"]
    assert "m/step/4/1" in told["where"]
    code, out, _ = run(capsys, ("plan", "remove the cover", "--model", str(given["model"]), "--json"))
    plan = json.loads(out)
    assert (code, plan["complete"]) == (1, False)
    assert [item["kind"] for item in plan["open"]] == ["field"]
    assert "LB-T20" in [problem["code"] for problem in plan["problems"]]


@pytest.mark.parametrize("name", GOOD)
def test_a_byte_order_mark_does_no_harm(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], name: str
) -> None:
    _, plain, _ = run(capsys, tally(files(tmp_path), "--json"))
    _, marked, _ = run(
        capsys, tally(files(tmp_path, **{name: json.dumps(GOOD[name]).encode("utf-8-sig")}), "--json")
    )
    assert json.loads(marked) == json.loads(plain)


@pytest.mark.parametrize("encoding", ["utf-16", "utf-16-le", "utf-16-be", "utf-32"])
@pytest.mark.parametrize("name", GOOD)
def test_utf_16_is_told_by_name(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], name: str, encoding: str
) -> None:
    given = files(tmp_path, **{name: json.dumps(GOOD[name]).encode(encoding)})
    code, out, _ = run(capsys, tally(given, "--json"))
    (problem,) = json.loads(out)["problems"]
    assert (code, problem["code"], problem["where"]) == (2, "LB-D02", str(given[name]))
    assert "UTF-16" in problem["what"]
    assert "UTF-8" in problem["do"]


def test_letters_that_are_no_utf_8_are_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    latin = json.dumps({**ENGINE, "name": "Gehäuse"}, ensure_ascii=False).encode("cp1252")
    code, out, _ = run(capsys, tally(files(tmp_path, engine=latin), "--json"))
    (problem,) = json.loads(out)["problems"]
    assert (code, problem["code"]) == (2, "LB-D02")
    assert "UTF-8" in problem["what"] + problem["do"]


def test_a_deep_file_is_never_written_over(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    given = files(tmp_path)
    out = tmp_path / "plan.json"
    out.write_bytes(b"[" * LEVELS)
    words = ("plan", "remove the cover", "--model", str(given["model"]), "--out", str(out))
    code, _, err = run(capsys, words)
    assert code == 2
    assert err.startswith("LB-D05")
    assert out.read_bytes() == b"[" * LEVELS
