"""A row that is half understood to be for other engines keeps the joint from clear; one left out is named."""

import json
from pathlib import Path

import pytest

from lastbolt.cli.main import main

HEAD = 'Fig,Item,Part no.,Description,Qty,Remarks\n1,1,A1,"SCREW M6X45",3,\n'
PLACES = ("1", "2", "3")


def tallied(folder: Path, remark: str, capsys: pytest.CaptureFixture[str]) -> tuple[str, dict[str, object]]:
    """What `read` says, and the answer for engine K 1300: three places out, one more row with a remark."""
    (folder / "p.csv").write_text(f'{HEAD}1,2,A2,"SCREW M8X70",2,"{remark}"\n', encoding="utf-8")
    main(["read", str(folder / "p.csv"), "--out", str(folder / "m.json")])
    said = " ".join("".join(capsys.readouterr()).split())
    model = json.loads((folder / "m.json").read_text(encoding="utf-8"))
    first = next(one["id"] for one in model["rows"] if one["item"] == "1")
    places = [{"id": place, "label": place, "lines": [first]} for place in PLACES]
    bracket = {"id": "h", "sort": "bridging part", "name": "bracket", "settled": True, "how": "off"}
    ties = [{"line": first, "wholly": True, "places": PLACES}]
    answers = [{"place": place, "saw": ["light through"]} for place in PLACES]
    went = {"id": "r", "by": "Ann", "guided": True, "complete": True, "answers": answers}
    size = {"what": "screw", "thread": "M6", "length_mm": 45}
    files = {
        "walk": {"joint": "j", "name": "j", "places": places, "ties": ties, "holders": [bracket]},
        "engine": {"id": "e", "name": "no. 1", "variant": "K", "serial": 1300},
        "job": {
            "id": "job",
            "goal": "",
            "events": [
                {"event": "went round", "id": "e1", "by": "Ann", "joint": "j", "round": went},
                {"event": "counted", "id": "e2", "by": "Cid", "joint": "j", "kind": size, "pieces": 3},
            ],
        },
    }
    options = ["--model", str(folder / "m.json")]
    for name, value in files.items():
        path = folder / f"{name}.json"
        path.write_text(json.dumps({"schema": f"lastbolt.{name}/1", **value}), encoding="utf-8")
        options += [f"--{name}", str(path)]
    main(["tally", "--json", *options])
    answer: dict[str, object] = json.loads(capsys.readouterr().out)
    return said, answer


def taken_as(answer: dict[str, object]) -> list[str]:
    taken = answer["taken_as"]
    assert isinstance(taken, list)
    return [one["words"] for one in taken]


@pytest.mark.parametrize(
    "remark",
    ["not for model H", "S/N 1000 on", "S/N 1000 & above", "S/N 1000-", "added at serial no. 1000",
     "serial no. 1200; 1300-1400", "from serial no. 1200 to 1250 and from 1290",
     "deleted from serial no. 5000", "serial no. 1200, 1300"],
)  # fmt: skip
def test_a_row_for_this_engine_too_is_counted(
    remark: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    said, answer = tallied(tmp_path, remark, capsys)
    assert "LB-P08" not in said
    assert (answer["verdict"], answer["clear_to_part"]) == ("not shown", False)


@pytest.mark.parametrize(
    "remark",
    ["serial no. 900 (approx.)", "not fitted to serial no. 900", "was M8x65 to serial no. 1000",
     "M8x65 up to serial no. 1000, then M8x70", "replaces item 3 on model H", "to S/N 1000 and K 1300"],
)  # fmt: skip
def test_a_row_whose_engines_are_not_understood_stays_possible_and_is_told(
    remark: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    said, answer = tallied(tmp_path, remark, capsys)
    assert "LB-P08" in said
    assert f'which engines "{remark}" means is not understood' in said
    assert (answer["verdict"], answer["clear_to_part"]) == ("not shown", False)
    assert any(f'("{remark}"); it is kept' in words for words in taken_as(answer))


@pytest.mark.parametrize("remark", ["from serial no. 5000", "not for model K", "model H only"])
def test_a_row_for_other_engines_is_named_with_the_words_that_left_it_out(
    remark: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    _, answer = tallied(tmp_path, remark, capsys)
    assert (answer["verdict"], answer["clear_to_part"]) == ("free", True)
    (told,) = [words for words in taken_as(answer) if words.startswith("Left out")]
    assert f'"{remark}"' in told
    assert "item 2, screw M8x70 (p.csv, line 3)" in told


def test_a_model_with_a_long_serial_number_is_read_again(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    _, answer = tallied(tmp_path, "from serial no. 12001300", capsys)
    assert answer["verdict"] == "free"
