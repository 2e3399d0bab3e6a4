"""A parts row in the joint's own figure that nobody ties to it keeps one round from clearing the joint."""

import json
from pathlib import Path

import pytest

from lastbolt.cli.main import main

HEAD = 'Fig,Item,Part no.,Description,Qty\n1,1,A1,"SCREW M6X45",3\n1,9,A9,"GASKET",1\n'
PLACES = ("1", "2", "3")


def answer_to(
    folder: Path, row: str, capsys: pytest.CaptureFixture[str], rounds: tuple[str, ...] = ("Ann",)
) -> dict[str, object]:
    """The answer for three places whose screws are out, with one more row in the list."""
    (folder / "p.csv").write_text(f"{HEAD}{row}\n", encoding="utf-8")
    main(["read", str(folder / "p.csv"), "--out", str(folder / "m.json")])
    model = json.loads((folder / "m.json").read_text(encoding="utf-8"))
    first = next(one["id"] for one in model["rows"] if one["item"] == "1")
    bracket = {"id": "h", "sort": "bridging part", "name": "bracket", "settled": True, "how": "off"}
    walk = {
        "schema": "lastbolt.walk/1",
        "joint": "j",
        "name": "j",
        "places": [{"id": place, "label": place, "lines": [first]} for place in PLACES],
        "ties": [{"line": first, "wholly": True, "places": PLACES}],
        "holders": [bracket],
    }
    answers = [{"place": place, "saw": ["light through"]} for place in PLACES]
    went = [
        {
            "event": "went round",
            "id": f"e1{by}",
            "by": by,
            "joint": "j",
            "round": {"id": by, "by": by, "guided": True, "complete": True, "answers": answers},
        }
        for by in rounds
    ]
    size = {"what": "screw", "thread": "M6", "length_mm": 45}
    job = {
        "schema": "lastbolt.job/1",
        "id": "job",
        "goal": "",
        "events": [
            *went,
            {"event": "counted", "id": "e2", "by": "Cid", "joint": "j", "kind": size, "pieces": 3},
        ],
    }
    (folder / "w.json").write_text(json.dumps(walk), encoding="utf-8")
    (folder / "j.json").write_text(json.dumps(job), encoding="utf-8")
    files = [
        "--model",
        str(folder / "m.json"),
        "--walk",
        str(folder / "w.json"),
        "--job",
        str(folder / "j.json"),
    ]
    capsys.readouterr()
    main(["tally", "--json", *files])
    said: dict[str, object] = json.loads(capsys.readouterr().out)
    return said


@pytest.mark.parametrize(
    "name",
    ["SCREW M8X70", "SHCS M8X70", "M8X70 HEX SOCKET", "TIE ROD M10", "FASTENER M8X70", "THUMBSCREW",
     "SELF-TAPPER 4.2X16", "STUDBOLT M8X40", "HX-HD M8", "SCREVV", "BO1T", "S CREW", "NUTT", "BLOT"],
)  # fmt: skip
def test_a_row_that_may_hold_keeps_the_joint_from_clear(
    name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    said = answer_to(tmp_path, f'1,2,A2,"{name}",2', capsys)
    assert (said["verdict"], said["clear_to_part"]) == ("not shown", False)


def test_other_parts_do_not(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    said = answer_to(tmp_path, '1,2,A2,"SHIM",1', capsys)
    assert (said["verdict"], said["clear_to_part"]) == ("free", True)


def test_another_figures_row_wants_a_second_round(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """One place that Ann missed could hide it: a bolt through the joint may be drawn with its bracket."""
    row = '2,2,A2,"SCREW M8X70",2'
    once = answer_to(tmp_path, row, capsys)
    assert (once["verdict"], once["clear_to_part"]) == ("not shown", False)
    twice = answer_to(tmp_path, row, capsys, rounds=("Ann", "Ben"))
    assert (twice["verdict"], twice["clear_to_part"]) == ("free", True)


@pytest.mark.parametrize("name", ["WIDGET", "BOLI", "HARDWARE KIT"])
def test_a_name_that_nobody_knows_is_asked_for(
    name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    said = answer_to(tmp_path, f'1,2,A2,"{name}",2', capsys)
    holders = said["holders"]
    assert isinstance(holders, list)
    assert not said["clear_to_part"]
    assert [holder["name"] for holder in holders if not holder["settled"]] == [name]
