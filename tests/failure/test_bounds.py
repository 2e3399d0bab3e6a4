"""What is too large to be meant: files, endless devices, numbers. One problem each, and no long wait."""

import json
import os
import subprocess
import sys
import threading
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest

from failure.test_bad_json import ENGINE, GOOD, JOB, MODEL, WALK, files, tally
from lastbolt.app.typed_holders import key_of
from lastbolt.cli.main import main
from lastbolt.edge import json_text, typed_in

END = {"part": "case", "side": "near", "x_mm": "N", "y_mm": 0.0}
MISSING = {"what": "missing", "words": "w", "line": "r"}
VALUE = {"torque_Nm": [24, 24], "printed": [[24, 24, "N·m"]]}
TORQUE = {"id": "t", "what": "cover screws", "value": VALUE}


def run(capsys: pytest.CaptureFixture[str], words: Sequence[str]) -> tuple[int, list[dict[str, str]]]:
    code = main((*words, "--json"))
    out, err = capsys.readouterr()
    assert err == ""
    return code, json.loads(out).get("problems", [])


def spaced(path: Path, size: int) -> None:
    """Make the file as large by spaces after it, most of which take no room on the disk."""
    with path.open("r+b") as stream:
        stream.seek(size)
        stream.write(b" ")


@pytest.mark.parametrize("name", GOOD)
def test_a_document_beyond_its_limit(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    monkeypatch.setattr(json_text, "MOST_BYTES", (20_000, 40_000))
    given = files(tmp_path)
    given[name].write_bytes(given[name].read_bytes() + b" " * (50_000 if name == "model" else 30_000))
    code, (problem,) = run(capsys, tally(given))
    assert (code, problem["code"], problem["where"]) == (2, "LB-D18", str(given[name]))


def test_the_limits_are_told_in_the_message(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    given = files(tmp_path)
    spaced(given["walk"], 64 << 20)
    code, (problem,) = run(capsys, tally(given))
    assert (code, problem["code"]) == (2, "LB-D18")
    assert "64 MB" in problem["what"]


@pytest.mark.parametrize("option", ["--walk", "--job", "--engine", "--model", "--typed"])
def test_an_endless_device_ends(tmp_path: Path, capsys: pytest.CaptureFixture[str], option: str) -> None:
    given = files(tmp_path)
    words = tally({name: path for name, path in given.items() if f"--{name}" != option}, option, "/dev/zero")
    code, (problem,) = run(capsys, words)
    assert code == 2
    assert problem["code"] in ("LB-D18", "LB-D02", "LB-D08")
    assert "/dev/zero" in problem["where"]


def test_typed_lines_beyond_their_limit(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "joint.txt"
    path.write_text("2 x M6x45\n" * (typed_in.MOST_BYTES // 10 + 1), encoding="utf-8")
    code, (problem,) = run(capsys, ("tally", "--typed", str(path)))
    assert (code, problem["code"]) == (2, "LB-D18")


@pytest.mark.parametrize("name", GOOD)
def test_a_document_through_a_pipe_is_read_like_any_other(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], name: str
) -> None:
    given = files(tmp_path)
    plain = run(capsys, tally(given))
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    content = given[name].read_bytes()
    writer = threading.Thread(target=pipe.write_bytes, args=(content,))
    writer.start()
    assert run(capsys, tally({**given, name: pipe})) == plain
    writer.join()


LARGE: list[tuple[str, str, dict[str, Any]]] = [
    ("walk", 'places "7"', {**WALK, "places": [{"id": "7", "label": "7", "ends": [END]}]}),
    ("walk", "outline_mm", {**WALK, "outline_mm": [[0, 0], [1, "N"]]}),
    ("engine", "as_found", {**ENGINE, "as_found": [{**MISSING, "count": "N"}]}),
    ("job", 'events "e9"', {**JOB, "events": [
        {"event": "counted", "id": "e9", "by": "Ann", "kind": {}, "pieces": "N", "joint": "cover"}]}),
    ("model", 'torques "t"', {**MODEL, "torques": [{**TORQUE, "value": {**VALUE, "torque_Nm": [24, "N"]}}]}),
    ("model", "sources", {**MODEL, "sources": [{"id": "s", "title": "t", "role": "manual", "pages": "N"}]}),
]  # fmt: skip


@pytest.mark.parametrize(
    "number", ["1e300", "-1e300", "1e400", "10000001", "-99999999999", "9" * 30, "9" * 5000]
)
@pytest.mark.parametrize(("name", "place", "value"), LARGE)
def test_a_number_that_no_engine_has_is_named_with_its_field(
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    name: str,
    place: str,
    value: dict[str, Any],
    number: str,
) -> None:
    raw = json.dumps(value).replace('"N"', number).encode()
    given = files(tmp_path, **{name: raw})
    code, (problem,) = run(capsys, tally(given))
    assert (code, problem["code"]) == (2, "LB-D19")
    assert problem["where"].startswith(str(given[name]))
    assert place in problem["where"]


@pytest.mark.parametrize("number", ["1e400", "9" * 5000, "1764086400"])
def test_serial_numbers_and_remarks_of_other_programs_may_be_long(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], number: str
) -> None:
    engine = json.dumps({**ENGINE, "serial": 123456789012})[:-1] + f', "x_time": {number}}}'
    code, problems = run(capsys, tally(files(tmp_path, engine=engine.encode())))
    assert code == 1
    assert not {"LB-D19", "LB-D14", "LB-T20"} & {problem["code"] for problem in problems}


def test_a_device_is_no_source(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["read", "/dev/zero", "--out", str(tmp_path / "m.json")]) == 2
    assert "LB-F02" in capsys.readouterr().err
    assert not (tmp_path / "m.json").exists()


def test_a_name_of_another_encoding_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    name = tmp_path / os.fsdecode(b"m\xe9n.pdf")
    name.write_bytes(b"%PDF-1.4")
    assert main(["read", str(name), "--out", str(tmp_path / "m.json")]) == 2
    assert "LB-F17" in capsys.readouterr().err


def test_a_closed_output_ends_nothing(tmp_path: Path) -> None:
    said = tmp_path / "t.txt"
    said.write_text("1 x M6x45\n1 in\n", encoding="utf-8")
    words = (
        f"import sys; from lastbolt.cli.main import main; sys.exit(main(['tally', '--typed', {str(said)!r}]))"
    )
    ran = subprocess.run(
        [sys.executable, "-c", f"import sys; sys.stdout = None; {words}"], capture_output=True, check=False
    )
    assert (ran.returncode, b"Traceback" in ran.stderr) == (1, False)


@pytest.mark.parametrize("letter", ["A", '"', "\\", "\u00e4"])
@pytest.mark.parametrize("name", ["job", "walk", "engine"])
def test_a_text_that_nobody_wrote_is_named_with_its_field(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], name: str, letter: str
) -> None:
    given = files(tmp_path, **{name: json.dumps({**GOOD[name], "joint": letter * 100_001}).encode()})
    code, (problem,) = run(capsys, tally(given))
    assert (code, problem["code"]) == (2, "LB-D23")
    assert problem["where"] == f"{given[name]}, joint"


def test_a_long_name_of_a_field_is_shown_short(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    given = files(tmp_path, engine=json.dumps({**ENGINE, "b" * 200_000: 1}).encode())
    code, (problem,) = run(capsys, tally(given))
    assert (code, problem["code"]) == (2, "LB-D23")
    assert len(problem["where"]) < len(str(given["engine"])) + 60


@pytest.mark.parametrize(
    ("lines", "place"),
    [
        ("2 x M6x45\n" + "9" * 5000 + " out\n", ", line 2"),
        ("9" * 5000 + " x M6x45\n", ", line 1"),
        ("1 out\n" * 1_001, ""),
        ("2 x M6x45\n" * 5_000, ""),
    ],
)
def test_more_or_longer_lines_than_anybody_types(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], lines: str, place: str
) -> None:
    typed = tmp_path / "typed.txt"
    typed.write_text(lines)
    code, (problem,) = run(capsys, ("tally", "--typed", str(typed)))
    assert (code, problem["code"], problem["where"]) == (2, "LB-D18", f"{typed}{place}")


def test_a_number_of_thousands_of_digits_is_compared_as_words() -> None:
    assert key_of("007") == "7"
    assert key_of("9" * 5000) == "9" * 5000
