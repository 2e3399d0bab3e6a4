"""A fastener that a step, a note or a person speaks of, and that no list has, keeps the joint from clear.

Each case was one careless round and a tray away from "clear to part" before (found by attack).
"""

import csv
import json
from pathlib import Path
from typing import Any, NamedTuple

import pytest

from lastbolt.cli.main import main

Json = dict[str, Any]
M6 = {"what": "screw", "thread": "M6", "length_mm": 45.0}
PLACES = ("p1", "p2", "p3")
HEAD = ("Figure", "Figure title", "Item", "Part no", "Description", "Qty")
ROWS = (
    ("4", "Gearcase housing and cover", "1", "100-1", "HOUSING, GEARCASE", "1"),
    ("4", "Gearcase housing and cover", "2", "100-2", "COVER, GEARCASE", "1"),
    ("4", "Gearcase housing and cover", "3", "100-3", "SCREW M6x45", "3"),
)
DRAIN = {"id": "s1", "mark": "1", "words": "Drain the oil.", "deeds": ["drain"]}
SCREWS = {
    "id": "s2", "mark": "2", "words": "Remove the screws M6 x 45.", "deeds": ["remove"],
    "mentions": [{"name": "screws", "deed": "remove", "kind": M6, "rows": []}],
}  # fmt: skip
LIFT = {
    "id": "s9", "mark": "9", "words": "Lift the gearcase cover off.", "deeds": ["remove"],
    "mentions": [{"name": "gearcase cover", "deed": "remove"}],
}  # fmt: skip


def on_page(number: int) -> Json:
    return {"source": "manual", "place": {"at": "pdf", "pdf_page": number}}


class More(NamedTuple):
    """What one case has beside the clear joint."""

    step: Json | None = None
    caution: str = ""
    note: str = ""
    answer_words: str = ""
    saw: tuple[str, ...] = ("light through",)
    extra: tuple[Json, ...] = ()
    before: tuple[Json, ...] = ()
    unread_page: int = 0
    goal: str = "separate the gearcase"


def said_by(folder: Path, capsys: pytest.CaptureFixture[str], **case: Any) -> Json:
    """The answer for three places that one person cleared and another counted, with one thing more."""
    step, caution, note, answer_words, saw, extra, before, unread_page, goal = More(**case)
    with (folder / "p.csv").open("w", newline="", encoding="utf-8") as stream:
        csv.writer(stream).writerows((HEAD, *ROWS))
    main(["read", str(folder / "p.csv"), "--out", str(folder / "m.json")])
    model = json.loads((folder / "m.json").read_text(encoding="utf-8"))
    row = next(one["id"] for one in model["rows"] if one["item"] == "3")
    SCREWS["mentions"][0]["rows"] = [row]
    steps = [DRAIN, SCREWS, *([{"id": "s3", "mark": "3", **step}] if step else []), LIFT]
    cautions = [{"signal": "note", "words": caution}] if caution else []
    model["procedures"] = [
        {
            "id": "g", "number": "4.1", "title": "Separating the gearcase", "deed": "separate",
            "parts": ["gearcase cover"], "steps": steps, "cautions": cautions, "before": list(before),
            "citations": [on_page(page) for page in (2, 4)],
        }
    ]  # fmt: skip
    if unread_page:
        page = {"source": "manual", "pdf_page": unread_page, "state": "unexplained", "words": 9}
        model["pages"] = [*model.get("pages", ()), page]
    (folder / "m.json").write_text(json.dumps(model), encoding="utf-8")
    bracket = {"id": "h", "sort": "bridging part", "name": "bracket", "settled": True, "how": "off"}
    places = [{"id": place, "label": place[1:], "kind": M6, "lines": [row]} for place in PLACES]
    places[0]["note"] = note
    answers = [{"place": place, "saw": list(saw), "words": answer_words} for place in PLACES[:1]]
    answers += [{"place": place, "saw": ["light through"]} for place in PLACES[1:]]
    round_ = {"id": "R", "by": "Ann", "guided": True, "complete": True, "answers": answers}
    walk = {
        "schema": "lastbolt.walk/1", "joint": "j", "name": "Gearcase joint",
        "faces": ["gearcase cover", "gearcase housing"], "places": places, "holders": [bracket],
    }  # fmt: skip
    events = [
        {"event": "went round", "id": "e1", "by": "Ann", "joint": "j", "round": round_},
        {"event": "counted", "id": "e2", "by": "Cid", "joint": "j", "kind": M6, "pieces": 3},
        {"event": "step done", "id": "e3", "by": "Dora", "step": "s2", "looked": True},
        *extra,
    ]
    job = {"schema": "lastbolt.job/1", "id": "job", "goal": goal, "events": events}
    (folder / "w.json").write_text(json.dumps(walk), encoding="utf-8")
    (folder / "j.json").write_text(json.dumps(job), encoding="utf-8")
    capsys.readouterr()
    files = ["--model", "m.json", "--walk", "w.json", "--job", "j.json"]
    main(["tally", "--json", *(str(folder / f) if f.endswith(".json") else f for f in files)])
    said: Json = json.loads(capsys.readouterr().out)
    return said


def test_with_nothing_more_the_joint_is_clear(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    said = said_by(tmp_path, capsys)
    assert (said["verdict"], said["clear_to_part"]) == ("free", True)


LONG_BOLTS = {
    "words": "Remove the two long bolts from the far side.", "deeds": ["remove"],
    "mentions": [{"name": "long bolts", "deed": "remove", "kind": {"what": "bolt"}}],
}  # fmt: skip
REMAINING = {"words": "Remove the remaining four.", "deeds": ["remove"]}
BAND = {
    "words": "Remove the clamp band.", "deeds": ["remove"],
    "mentions": [{"name": "clamp band", "deed": "remove"}],
}  # fmt: skip
FORGET = {
    "words": "Do not forget the bolt M8 x 70.", "deeds": ["other"],
    "mentions": [{"name": "bolt", "kind": {"what": "bolt", "thread": "M8", "length_mm": 70.0}}],
}  # fmt: skip
INSIDE = {
    "words": "Remove the screw inside the hollow dowel.", "deeds": ["remove"],
    "mentions": [{"name": "screw", "deed": "remove", "kind": {"what": "screw"}}],
}  # fmt: skip


@pytest.mark.parametrize(
    "step", [LONG_BOLTS, REMAINING, BAND, FORGET, INSIDE], ids=lambda step: step["words"]
)
def test_a_step_of_the_goal(step: Json, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    said = said_by(tmp_path, capsys, step=step)
    assert not said["clear_to_part"]
    assert "not accounted for" in said["sentence"]
    assert any(step["words"].rstrip(".") in holder["words"] for holder in said["holders"])
    looked = {"event": "step done", "id": "e4", "by": "Eve", "step": "s3", "looked": True}
    assert said_by(tmp_path, capsys, step=step, extra=(looked,))["clear_to_part"]


def test_each_step_is_settled_by_what_the_answer_calls_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    asked = said_by(tmp_path, capsys, step=LONG_BOLTS)
    (name,) = [holder["id"] for holder in asked["holders"] if not holder["settled"]]
    settled = {"event": "holder settled", "id": "e6", "by": "Eve", "joint": "j", "holder": name, "how": "out"}
    assert said_by(tmp_path, capsys, step=LONG_BOLTS, extra=(settled,))["clear_to_part"]


def test_the_step_that_parts_it(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    both = {
        "words": "Remove the two long bolts and lift the gearcase cover off.", "deeds": ["remove"],
        "mentions": [*LONG_BOLTS["mentions"], *LIFT["mentions"]],
    }  # fmt: skip
    assert not said_by(tmp_path, capsys, step=both)["clear_to_part"]
    more = [{"signal": "note", "words": "One more bolt enters from the far side."}]
    lift = {"words": LIFT["words"], "deeds": ["remove"], "mentions": LIFT["mentions"], "cautions": more}
    assert not said_by(tmp_path, capsys, step=lift)["clear_to_part"]


@pytest.mark.parametrize(
    "words", ["Two nuts on the far side hold the case.", "Check that the bolt behind it is out."]
)
def test_a_step_without_a_known_deed(words: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert not said_by(tmp_path, capsys, step={"words": words, "deeds": ["other"]})["clear_to_part"]


def test_a_size_of_its_own_without_a_count(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    bolts = {"name": "M8 bolts", "deed": "remove", "kind": {"what": "bolt", "thread": "M8"}}
    step = {"words": "Remove the M8 bolts.", "deeds": ["remove"], "mentions": [bolts]}
    assert not said_by(tmp_path, capsys, step=step)["clear_to_part"]


def test_a_manual_without_a_goal_is_not_passed_over(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    said = said_by(tmp_path, capsys, goal="")
    assert ("LB-T37" in {problem["code"] for problem in said["problems"]}, said["clear_to_part"]) == (
        True,
        False,
    )


@pytest.mark.parametrize("saw", ["in", "slack", "broken off"])
def test_the_last_word_in(saw: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    last = {
        "event": "looked",
        "id": "e9",
        "by": "Dan",
        "joint": "j",
        "answers": [{"place": "p3", "saw": [saw]}],
    }
    assert not said_by(tmp_path, capsys, extra=(last,))["clear_to_part"]


def test_guide_studs_that_the_section_itself_put_in_are_none(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    studs = {
        "words": "Screw in two guide studs.", "deeds": ["install"],
        "mentions": [{"name": "guide studs", "deed": "install", "kind": {"what": "stud"}}],
    }  # fmt: skip
    assert said_by(tmp_path, capsys, step=studs)["clear_to_part"]


@pytest.mark.parametrize(
    "note",
    [
        "One bolt M8 x 70 enters from the far side.",
        "A screw is hidden under the oil filter.",
        "Two nuts M12 hold the bracket.",
    ],
)
def test_a_note_of_the_goal(note: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    said = said_by(tmp_path, capsys, caution=note)
    assert not said["clear_to_part"]
    assert any(note in holder["words"] for holder in said["holders"])


@pytest.mark.parametrize(
    "words",
    [
        "one is out, the second one is still in",
        "head sheared, shank still in",
        "not sure",
        "it won\u2019t come out",
        "only 2 of 3 came out",
    ],
)
def test_what_people_write(words: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert not said_by(tmp_path, capsys, answer_words=words)["clear_to_part"]
    assert not said_by(tmp_path, capsys, note=words)["clear_to_part"]
    look = {"event": "looked", "id": "e5", "by": "Eve", "joint": "j", "words": words}
    look["answers"] = [{"place": "p1", "saw": ["open hole"]}]
    assert not said_by(tmp_path, capsys, extra=(look,))["clear_to_part"]


def test_a_size_that_came_out_and_no_list_has(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    kind = {"what": "bolt", "thread": "M8", "length_mm": 70.0}
    took = {"event": "took out", "id": "e6", "by": "Eve", "joint": "j", "kind": kind, "count": 1}
    said = said_by(tmp_path, capsys, extra=(took,))
    assert (said["verdict"], said["clear_to_part"]) == ("not shown", False)


def test_an_open_point_of_the_goals_own_section(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    lost = {"id": "r1", "words": "pump bracket removed, see 4.9", "role": "before", "status": "dangling"}
    said = said_by(tmp_path, capsys, before=(lost,))
    assert not said["clear_to_part"]
    settled = {
        "event": "holder settled",
        "id": "e6",
        "by": "Eve",
        "joint": "j",
        "holder": "plan/r1",
        "how": "off",
    }
    assert said_by(tmp_path, capsys, before=(lost,), extra=(settled,))["clear_to_part"]
    aside = {"event": "set aside", "id": "e6", "by": "Eve", "reference": "r1", "reason": "has no pump"}
    assert said_by(tmp_path, capsys, before=(lost,), extra=(aside,))["clear_to_part"]


@pytest.mark.parametrize(("page", "clear"), [(3, False), (9, True)])
def test_an_unread_page_within_it(
    page: int, clear: bool, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert said_by(tmp_path, capsys, unread_page=page)["clear_to_part"] is clear


def test_in_stands_until_somebody_looks(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    both = said_by(tmp_path, capsys, saw=("light through", "in"))
    assert not both["clear_to_part"]
    seen = {
        "event": "looked",
        "id": "e7",
        "by": "Eve",
        "joint": "j",
        "answers": [{"place": "p2", "saw": ["in"]}],
    }
    tick = {"event": "step done", "id": "e8", "by": "Dora", "step": "s2", "looked": False}
    ticked = said_by(tmp_path, capsys, extra=(seen, tick))
    assert not ticked["clear_to_part"]
    took = {"event": "took out", "id": "e9", "by": "Eve", "joint": "j", "places": ["p2"]}
    look = {**seen, "id": "e10", "by": "Ann", "answers": [{"place": "p2", "saw": ["light through"]}]}
    count = {"event": "counted", "id": "e11", "by": "Cid", "joint": "j", "kind": M6, "pieces": 3}
    assert said_by(tmp_path, capsys, extra=(seen, tick, took, look, count))["clear_to_part"]


def test_a_solid_dowel_and_an_open_hole_at_one_place(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    dowel = {"event": "looked", "id": "e7", "by": "Eve", "joint": "j"}
    dowel["answers"] = [{"place": "p2", "saw": ["solid dowel"]}]
    said = said_by(tmp_path, capsys, extra=(dowel,))
    assert ("LB-T34" in {problem["code"] for problem in said["problems"]}, said["clear_to_part"]) == (
        True,
        False,
    )
