"""The bench's own record against the castings and the key: checked on the data alone, not on an answer."""

from __future__ import annotations

import csv
import json
from collections import Counter
from itertools import pairwise
from typing import Any

import pytest
from key_matching import DEMO, KEY

WALK: dict[str, Any] = json.loads((DEMO / "walk.json").read_text(encoding="utf-8"))
FINISHED: dict[str, Any] = json.loads((DEMO / "job_finished.json").read_text(encoding="utf-8"))
EVENTS: list[dict[str, Any]] = FINISHED["events"]
BACK = KEY["way_back"]
PLACES = {place["id"]: place for place in WALK["places"] if place["id"] in BACK["lengths_mm"]}
PITCH_M8 = 1.25  # ISO 261, coarse pitch of M8
LEAST_MM = 2 * 8.0  # two diameters in light alloy: common practice, no source


def named(kind: str) -> list[dict[str, Any]]:
    return [event for event in EVENTS if event["event"] == kind]


def rows(name: str) -> list[dict[str, str]]:
    with (DEMO / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def test_each_record_goes_on_from_the_one_before() -> None:
    jobs = [
        json.loads((DEMO / f"{name}.json").read_text(encoding="utf-8"))["events"]
        for name in ("job", "job_cleared", "job_apart", "job_finished")
    ]
    for shorter, longer in pairwise(jobs):
        assert longer[: len(shorter)] == shorter
        assert len(longer) > len(shorter)
    assert len({event["id"] for event in EVENTS}) == len(EVENTS)
    times = [(event["device"], event["sequence"], event["time"]) for event in EVENTS]
    for (device, number, time), (next_device, next_number, next_time) in pairwise(times):
        assert device != next_device or (number < next_number and time <= next_time)


@pytest.mark.parametrize("place", PLACES)
def test_length_of_the_key_holds_and_does_not_bottom(place: str) -> None:
    measured = PLACES[place]
    in_thread = BACK["lengths_mm"][place] - measured["grip_mm"]
    assert LEAST_MM <= in_thread <= measured["thread_mm"]
    assert measured["blind"]


def test_lengths_as_the_table_exchanges_them_bottom_or_have_too_little_thread() -> None:
    for place in ("p11", "p12", "p13"):
        assert 70 - PLACES[place]["grip_mm"] > PLACES[place]["thread_mm"]
    for place in ("p14", "p15"):
        assert 55 - PLACES[place]["grip_mm"] < LEAST_MM


def test_odd_screw_bottoms_two_turns_early_as_the_engine_file_says() -> None:
    at_7 = PLACES["p7"]
    assert (50 - at_7["grip_mm"] - at_7["thread_mm"]) / PITCH_M8 == pytest.approx(2.0)


def test_castings_lengths_are_the_keys() -> None:
    from demo.machine.joint import PLACES as CAST

    assert {f"p{c.position}": c.size for c in CAST} == {p: f"M8 x {n}" for p, n in BACK["lengths_mm"].items()}


def test_trays_before_and_after() -> None:
    wanted = Counter(str(length) for length in BACK["lengths_mm"].values())
    missing = wanted - Counter(BACK["in_the_trays"])
    (screws,) = (o for o in KEY["order"]["lines"] if o["part_number"] == "Q222-606")
    assert missing == {"45": screws["count"]}
    assert Counter(BACK["in_the_trays"]) - wanted == {str(BACK["left_over_length_mm"]): 1}
    last = {event["kind"]["length_mm"]: event["pieces"] for event in named("counted")}
    assert set(last.values()) == {0}
    assert {f"{length:g}" for length in last} == set(BACK["in_the_trays"])


def test_every_screw_went_in_and_was_tightened_to_the_end() -> None:
    went_in = [place for event in named("put in") for place in event["places"]]
    assert sorted(went_in) == sorted(PLACES)
    final = [
        p for e in named("tightened") if e["joint"] == "gearcase" and e.get("final") for p in e["places"]
    ]
    assert sorted(final) == sorted(PLACES)
    assert all(event["painted"] for event in named("tightened") if event.get("final"))
    order = [f"p{number}" for number in BACK["order"]["places"]]
    rounds = [e for e in named("tightened") if e["joint"] == "gearcase" and len(e["places"]) > 1]
    assert [(e["places"], e["torque_Nm"]) for e in rounds] == [(order, 12.0), (order, 24.0)]


def test_all_that_was_laid_in_came_out() -> None:
    def pieces(kind: str) -> Counter[str]:
        count: Counter[str] = Counter()
        for event in named(kind):
            count[event["thing"]] += event["count"]
        return count

    assert pieces("laid in") == pieces("taken away")
    assert {"cloth", "plug", "locking pin Q-04", "guide stud Q-12"} <= set(pieces("laid in"))


def test_torques_of_the_record_are_the_keys() -> None:
    tightened = Counter(
        (event["torque_Nm"], len(event["places"])) for event in named("tightened") if event.get("final")
    )
    key = Counter((joint["torque_Nm"][-1], joint["pieces"]) for joint in BACK["torques"])
    key.subtract([(24, 2)])  # the key has both screws of the bracket as one joint
    key.update([(24, 1), (24, 1)])
    assert tightened == +key


def test_every_new_part_was_ordered_or_in_stock() -> None:
    new = Counter({event["part_number"]: event["count"] for event in named("renewed")})
    ordered = Counter({line["part_number"]: line["count"] for line in KEY["order"]["lines"]})
    stock = {row["part number"] for row in rows("shims.csv")}
    assert {number: count for number, count in new.items() if number not in stock} == ordered
    assert new - ordered == {"Q222-709": KEY["measured"]["end_float"]["shims"]["Q222-709"]}


def test_prices_are_of_parts_that_are_listed() -> None:
    from demo.machine.parts import FIGURES

    listed = {row.part_number for figure in FIGURES for row in figure.rows}
    newer = {row["superseded by"]: row["part number"] for row in rows("prices.csv") if row["superseded by"]}
    assert newer == {o["part_number"]: o["stands_for"] for o in KEY["order"]["lines"] if "stands_for" in o}
    assert {row["part number"] for row in rows("prices.csv")} <= listed | set(newer)
    price = {row["part number"]: float(row["price"]) for row in rows("prices.csv") if row["price"]}
    total = sum(price[line["part_number"]] * line["count"] for line in KEY["order"]["lines"])
    assert total == pytest.approx(KEY["order"]["total_price"])


def test_shims_of_the_key_leave_what_the_manual_asks_for() -> None:
    float_ = KEY["measured"]["end_float"]
    stock = {row["part number"]: row for row in rows("shims.csv")}
    thick = sum(float(stock[number]["thickness"]) * count for number, count in float_["shims"].items())
    assert float_["without_shims_mm"] - thick == pytest.approx(float_["remains_mm"])
    low, high = float_["target_mm"]
    assert low < float_["remains_mm"] < high
    assert all(int(stock[number]["count"]) >= count for number, count in float_["shims"].items())


@pytest.mark.parametrize("limit", KEY["measured"]["limits"], ids=lambda limit: limit["limit"])
def test_limits_of_the_key_are_printed_so(limit: dict[str, Any]) -> None:
    from demo.blocks import Table, every_block
    from demo.machine.book import chapters

    table = next(
        b
        for c in chapters()
        for b in every_block(c.blocks)
        if isinstance(b, Table) and b.caption.startswith("Table 8-3")
    )
    (row,) = (row for row in table.rows if row[0] == limit["row"])
    low, high = (float(word) for word in row[1].removesuffix(" mm").split(" – "))
    assert [low, high] == limit["standard_mm"]
    assert float(row[2].removesuffix(" mm")) == limit["limit_mm"]
    worn = limit["limit_mm"] - limit["read_mm"]
    beyond = worn < 0 if limit["sense"] == "at most" else worn > 0
    assert beyond is (limit["says"] == "beyond")


def test_tools_named_in_the_key_are_on_the_list_and_in_date() -> None:
    listed = {row["name"]: row["calibrated until"] for row in rows("tools.csv")}
    used = {limit["tool"] for limit in (*KEY["measured"]["limits"], *KEY["measured"]["again"]["limits"])}
    assert all(listed[tool] > "2026-10-06" for tool in used)
    assert listed["dial gauge 2"] < "2026-09-22"
