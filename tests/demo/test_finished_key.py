"""The end of the demo's job: finished with nothing left over, and not finished with one thing left."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from bench_asking import GOAL, Json, asked, papers
from key_matching import DEMO, KEY

END = KEY["finished"]
LEFT = {left["id"]: left for left in END["one_thing_left"]}
Event = dict[str, Any]


def job() -> Json:
    found: Json = json.loads((DEMO / "job_finished.json").read_text(encoding="utf-8"))
    return found


def without_place(event: Event, kinds: tuple[str, ...], place: str) -> Event | None:
    """The event as if that place had been passed over; None if nothing of it is left."""
    if event["event"] not in kinds or place not in event["places"]:
        return event
    rest = [other for other in event["places"] if other != place]
    return {**event, "places": rest} if rest else None


def never_put_in(events: list[Event], left: Json) -> list[Event]:
    kept = [without_place(event, ("put in", "tightened"), left["place"]) for event in events]
    return [event for event in kept if event]


def at_stage_1(events: list[Event], left: Json) -> list[Event]:
    kept = [
        without_place(event, ("tightened",), left["place"]) if event.get("final") else event
        for event in events
    ]
    return [event for event in kept if event]


def only_turned_in(events: list[Event], left: Json) -> list[Event]:
    kept = [without_place(event, ("tightened",), left["place"]) for event in events]
    return [event for event in kept if event]


def not_taken_out(events: list[Event], left: Json) -> list[Event]:
    """The last of that thing stays in: one piece of it, or the one there is."""
    last = [e for e in events if e["event"] == "taken away" and e["thing"] == left["thing"]][-1]
    fewer = [{**last, "count": last["count"] - 1}] if last["count"] > 1 else []
    at = events.index(last)
    return [*events[:at], *fewer, *events[at + 1 :]]


def one_in_the_tray(events: list[Event], left: Json) -> list[Event]:
    last = [e for e in events if e["event"] == "counted" and e["kind"]["length_mm"] == left["length_mm"]][-1]
    return [{**e, "pieces": 1} if e is last else e for e in events]


def never_ticked(events: list[Event], left: Json) -> list[Event]:
    return [
        e
        for e in events
        if e.get("step") != left["step"] and not (e["event"] == "renewed" and e["row"] == left.get("renewed"))
    ]


def slackened(events: list[Event], left: Json) -> list[Event]:
    more = {
        "event": "slackened",
        "id": "late",
        "by": "Lio",
        "device": "bench phone",
        "sequence": events[-1]["sequence"] + 1,
        "time": events[-1]["time"],
        "joint": "gearcase",
        "places": [left["place"]],
    }
    return [*events, more]


CHANGED: dict[str, Callable[[list[Event], Json], list[Event]]] = {
    "place": never_put_in,
    "stage": at_stage_1,
    "slack": only_turned_in,
    "laid in": not_taken_out,
    "tray": one_in_the_tray,
    "tick": never_ticked,
    "slackened": slackened,
}


@pytest.fixture(scope="module")
def refit(kept_model: Path) -> Json:
    return asked("refit", GOAL, *papers(kept_model, "job_finished"))


def told(stands: list[Json]) -> set[str]:
    return {f"{s['kind']}: {s['words']}" for s in stands}


def test_finished_is_said_and_nothing_stands(refit: Json) -> None:
    account = refit["account"]
    assert told(account.get("stands", [])) == set()
    assert account["finished"] is END["finished"]
    assert "not finished" not in refit["sentence"]


def test_nothing_is_left_over_or_left_in(refit: Json) -> None:
    assert refit["account"].get("leftovers", []) == []
    assert [thing for thing in refit["account"].get("left_in", []) if thing] == []


def test_every_screw_of_the_joint_is_final_and_painted(refit: Json) -> None:
    places = {p["place"]: p for p in refit["account"]["places"] if p["joint"] == "gearcase"}
    for place in KEY["way_back"]["lengths_mm"]:
        assert (places[place]["state"], places[place]["painted"]) == ("final", True)


@pytest.mark.parametrize("name", LEFT)
def test_with_one_thing_left_it_is_not_finished_and_the_thing_is_named(
    kept_model: Path, tmp_path: Path, refit: Json, name: str
) -> None:
    left = LEFT[name]
    changed = job()
    changed["events"] = CHANGED[left["kind"]](changed["events"], left)
    assert changed["events"] != job()["events"]
    file = tmp_path / "job.json"
    file.write_text(json.dumps(changed), encoding="utf-8")
    after = asked("refit", GOAL, *papers(kept_model, file))
    assert after["account"]["finished"] is False
    assert "not finished" in after["sentence"]
    more = told(after["account"]["stands"]) - told(refit["account"].get("stands", []))
    assert len(more) >= 1
    wanted = left["named"]
    assert [words for words in more if wanted in words], (wanted, more)
