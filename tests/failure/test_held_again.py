"""A clear joint is held again: a part put back across it, a pin laid in, heads turned in, one more screw."""

import json
from pathlib import Path
from typing import Any

import pytest

from lastbolt.cli.main import main

MANUAL = """# Winch

## 2.1 Removing the brake bracket

1. Remove the two screws M8x70 (2).
2. Take the brake bracket off.

## 2.2 Installing the brake bracket

1. Put the brake bracket on.
2. Fit the two screws M8x70 (2).

## 2.3 Removing the inspection cover

1. Take the inspection cover off.

## 4.1 Separating the drum case

1. Remove the brake bracket, see 2.1.
2. Remove the inspection cover, see 2.3.
3. Remove the six screws M6x45 (1).
4. Press the halves apart.
"""
PARTS = """Fig,Fig title,Item,Part no.,Description,Qty
1,Drum case,1,D-1,SCREW M6X45,6
2,Brake bracket,2,D-2,SCREW M8X70,2
2,Brake bracket,3,D-3,BRAKE BRACKET,1
"""
WALK: dict[str, Any] = {
    "schema": "lastbolt.walk/1", "joint": "case", "name": "Drum case",
    "places": [{"id": f"p{n}", "label": str(n)} for n in range(1, 7)],
}  # fmt: skip
PLACES = [f"p{n}" for n in range(1, 7)]
M6 = {"what": "screw", "thread": "M6", "length_mm": 45}


def off(step: str) -> dict[str, Any]:
    return {"event": "procedure done", "procedure": f"manual/procedure/{step}", "looked": True}


def went_round(by: str) -> dict[str, Any]:
    answers = [{"place": place, "saw": ["light through"]} for place in PLACES]
    made = {"id": f"r-{by}", "by": by, "guided": True, "complete": True, "answers": answers}
    return {"event": "went round", "joint": "case", "by": by, "round": made}


CLEAR: list[dict[str, Any]] = [
    off("2.1"),
    off("2.3"),
    {"event": "took out", "joint": "case", "places": PLACES, "kind": M6},
    {
        "event": "counted",
        "joint": "case",
        "kind": M6,
        "pieces": 6,
        "complete_pieces": True,
        "all_trays": True,
    },
    went_round("Ann"),
    went_round("Ben"),
]


@pytest.fixture(autouse=True)
def _models(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    monkeypatch.chdir(tmp_path)
    Path("manual.md").write_text(MANUAL, encoding="utf-8")
    Path("parts.csv").write_text(PARTS, encoding="utf-8")
    main(["read", "manual.md", "parts.csv", "--name", "Winch W5", "--out", "w.model.json"])
    capsys.readouterr()


def told(
    capsys: pytest.CaptureFixture[str],
    *events: dict[str, Any],
    base: list[dict[str, Any]] = CLEAR,
    walk: dict[str, Any] | None = None,
    engine: list[dict[str, Any]] | None = None,
) -> tuple[int, str]:
    numbered = [{"id": f"e{n}", "by": "Cid", **event} for n, event in enumerate((*base, *events))]
    job = {"schema": "lastbolt.job/1", "id": "j", "machine": "Winch W5", "goal": "separate the drum case",
           "events": numbered}  # fmt: skip
    Path("job.json").write_text(json.dumps(job), encoding="utf-8")
    Path("walk.json").write_text(json.dumps({**WALK, **(walk or {})}), encoding="utf-8")
    files = ["--model", "w.model.json", "--walk", "walk.json", "--job", "job.json"]
    if engine is not None:
        made = {"schema": "lastbolt.engine/1", "id": "W5-1", "name": "no. 1", "as_found": engine}
        Path("engine.json").write_text(json.dumps(made), encoding="utf-8")
        files += ["--engine", "engine.json"]
    done = main(["tally", "--goal", "separate the drum case", *files, "--all"])
    out = " ".join(capsys.readouterr().out.split())
    assert ("Clear to part" in out) == (done == 0), out
    assert done == 0 or "Do not pull" in out, out
    return done, out


def test_the_case_itself_is_clear(capsys: pytest.CaptureFixture[str]) -> None:
    done, out = told(capsys)
    assert done == 0, out


ON = [
    {"event": "procedure done", "procedure": "manual/procedure/2.2", "looked": True},
    {"event": "procedure done", "procedure": "manual/procedure/2.2"},
    {"event": "step done", "step": "manual/step/2.2/2"},
    {"event": "step started", "step": "manual/step/2.2/1"},
]


@pytest.mark.parametrize("event", ON)
def test_a_part_put_back_lies_across_the_joint_until_it_is_off_again(
    capsys: pytest.CaptureFixture[str], event: dict[str, Any]
) -> None:
    done, out = told(capsys, event)
    assert done == 1
    assert "2.2" in out
    assert told(capsys, event, {**off("2.1"), "looked": False})[0] == 1
    assert told(capsys, event, off("2.1"))[0] == 0


HEADS = {"event": "heads stand", "joint": "case", "proud": [{"place": "p3", "proud_mm": 12.0}]}
AT_3 = {"event": "looked", "joint": "case", "answers": [{"place": "p3", "saw": ["light through"]}]}


@pytest.mark.parametrize(
    "event",
    [
        HEADS,
        {"event": "won't close", "joint": "case"},
        {"event": "found why", "joint": "case", "cause": "screw in 4"},
        {"event": "laid in", "thing": "locking pin through both halves", "where": "case"},
        {"event": "laid in", "thing": "clamp", "count": 2},
        {"event": "found bad", "part": "screw of place 4, shank still in the housing", "how": "damaged"},
    ],
)
def test_what_was_recorded_after_the_rounds_holds_again(
    capsys: pytest.CaptureFixture[str], event: dict[str, Any]
) -> None:
    assert told(capsys, event)[0] == 1


def test_what_was_taken_away_again_or_holds_nothing_is_not_asked(capsys: pytest.CaptureFixture[str]) -> None:
    pin = {"thing": "locking pin", "count": 1}
    assert told(capsys, {"event": "laid in", **pin}, {"event": "taken away", **pin})[0] == 0
    assert told(capsys, {"event": "laid in", "thing": "cloth", "count": 2})[0] == 0


@pytest.mark.parametrize("name", ["Cover", "cover"])
def test_a_short_name_on_the_walk_is_not_every_part_that_ends_so(
    capsys: pytest.CaptureFixture[str], name: str
) -> None:
    without = [event for event in CLEAR if event != off("2.3")]
    assert told(capsys, base=without)[0] == 1
    held = {"id": "c", "sort": "bridging part", "name": name, "settled": True, "by": "Lio", "how": "off"}
    done, out = told(capsys, base=without, walk={"holders": [held]})
    assert done == 1
    assert "inspection cover" in out


def test_a_walked_holder_whose_words_take_it_back_is_open(capsys: pytest.CaptureFixture[str]) -> None:
    held = {"id": "c", "sort": "other", "name": "strap", "settled": True, "by": "Lio"}
    assert told(capsys, walk={"holders": [held]})[0] == 0
    assert told(capsys, walk={"holders": [{**held, "words": "still on at one end"}]})[0] == 1


@pytest.mark.parametrize(
    "fact",
    [
        {"what": "extra", "words": "a second long screw", "kind": {"what": "screw", "thread": "M10",
         "length_mm": 90}, "count": 1},
        {"what": "extra", "words": "one more of the six", "kind": M6, "count": 1},
        {"what": "insert", "place": "p3", "words": "the insert is pinned through both halves"},
    ],
)  # fmt: skip
def test_what_only_this_engines_file_knows_is_asked(
    capsys: pytest.CaptureFixture[str], fact: dict[str, Any]
) -> None:
    assert told(capsys, engine=[fact])[0] == 1


def test_an_odd_screw_of_unknown_length_is_a_screw_all_the_same(capsys: pytest.CaptureFixture[str]) -> None:
    model = json.loads(Path("w.model.json").read_text(encoding="utf-8"))
    row = model["rows"][0]["id"]
    fact = {"what": "odd length", "line": row, "place": "p3", "words": "a longer one", "count": 1}
    five = [{**event, "pieces": 5} if event["event"] == "counted" else event for event in CLEAR]
    glances = [event for event in five if event["event"] not in ("went round", "took out")]
    answers = [{"place": place, "saw": ["out"]} for place in PLACES]
    looks = [{"event": "looked", "joint": "case", "by": by, "answers": answers} for by in ("Ann", "Ben")]
    assert told(capsys, base=[*glances, *looks], engine=[fact])[0] == 1


def test_a_piece_of_another_size_taken_out_somewhere_retires_no_look(
    capsys: pytest.CaptureFixture[str],
) -> None:
    places = [*WALK["places"][:4], {"id": "p5", "label": "5", "kind": {"what": "screw", "thread": "M8"}},
              WALK["places"][5]]  # fmt: skip
    seen_in = [{"event": "looked", "joint": "case", "by": by, "answers": [{"place": "p5", "saw": ["in"]}]}
               for by in ("Dee", "Eve")]  # fmt: skip
    m6_out = {"event": "took out", "joint": "case", "count": 1, "kind": M6}
    glance = {"event": "looked", "joint": "case", "by": "Ben", "answers": [{"place": "p5", "saw": ["out"]}]}
    done, out = told(capsys, *seen_in, m6_out, glance, walk={"places": places})
    assert done == 1
    assert "still in at place 5" in out


@pytest.mark.parametrize(
    "line",
    ["machine screw 3 still in", "goal 3 still in", "machine bolt at 3\nmachine Winch W5", "goal x\ngoal y"],
)
def test_what_looks_like_a_head_of_the_lines_is_not_passed_over(
    capsys: pytest.CaptureFixture[str], line: str
) -> None:
    seen = "1-6 light through\nwent round\ntray 6 x M6x45\n"
    base = f"by Lea\n6 x M6x45\nend of list\nby Ann\n{seen}by Ben\n{seen}no other holders\n"
    for text, clear in ((base, True), (f"{base}{line}\n", False)):
        Path("lines.txt").write_text(text, encoding="utf-8")
        done = main(["tally", "--typed", "lines.txt"])
        out = capsys.readouterr().out
        assert (done == 0) == clear, out


def test_a_typed_tick_that_closes_it_ends_with_a_typed_round_behind_it(
    capsys: pytest.CaptureFixture[str],
) -> None:
    joins = MANUAL + "\n## 4.2 Joining the drum case\n\n1. Fit the six screws M6x45 (1).\n"
    Path("manual.md").write_text(joins, encoding="utf-8")
    main(["read", "manual.md", "parts.csv", "--name", "Winch W5", "--out", "w.model.json"])
    Path("walk.json").write_text(json.dumps(WALK), encoding="utf-8")
    seen = "1-6 light through\nwent round\ntray 6 x M6x45\n"
    off_first = "by Cid\n2.1 done, looked\n2.3 done, looked\nfigure 1 item 1 here\n"
    rounds = f"by Ann\n{seen}by Ben\n{seen}no other holders\n"
    for text, clear in (
        (f"{off_first}4.2 done\n{rounds}", True),
        (f"{off_first}{rounds}4.2 done\n", False),
        (f"{off_first}by Ann\n{seen}4.2 step 1 done\nby Ben\n{seen}no other holders\n", True),
    ):
        Path("lines.txt").write_text(text, encoding="utf-8")
        capsys.readouterr()
        files = ["--model", "w.model.json", "--walk", "walk.json", "--typed", "lines.txt"]
        done = main(["tally", "--goal", "separate the drum case", *files])
        out = capsys.readouterr().out
        assert (done == 0) == clear, out
