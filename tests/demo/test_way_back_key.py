"""The key to the way back: what to order, which length and torque belongs where, in which order, and why."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest
from bench_asking import GOAL, Json, asked, on, papers, shown
from key_matching import ALLEGED, DEMO, KEY

BACK = KEY["way_back"]
ORDER = KEY["order"]
CASE = next(t for t in BACK["torques"] if t["id"] == "case")


@pytest.fixture(scope="module")
def order(kept_model: Path) -> Json:
    """The order of the day of measuring."""
    return asked("order", GOAL, *papers(kept_model, "job_apart"), "--prices", DEMO / "prices.csv")


@pytest.fixture(scope="module")
def refit(kept_model: Path) -> Json:
    """The way back as it stands before anything goes back."""
    return asked("refit", GOAL, *papers(kept_model, "job_apart"))


@pytest.fixture(scope="module")
def joint(refit: Json) -> Json:
    (tightening,) = refit["tightening"]
    found: Json = tightening
    return found


def lines(refit: Json) -> list[Json]:
    found: list[Json] = refit["back"]["lines"]
    return found


def at(refit: Json, name: str) -> int:
    """Where the key's "6.5/8", "6.2.installation" or "4.3" stands in the way back: its first line."""
    ids = [line["line"]["id"] for line in lines(refit)]
    wanted = (f"manual/step/{name}", f"manual/procedure/{name}", f"back/manual/step/{name}/2")
    return next(n for n, known in enumerate(ids) if known in wanted)


# --- What must be ordered


@pytest.mark.parametrize("line", ORDER["lines"], ids=lambda line: line["part_number"])
def test_what_must_be_ordered_is_ordered_with_its_page(order: Json, line: dict[str, Any]) -> None:
    (found,) = (o for o in order["lines"] if o.get("part_number") == line["part_number"])
    assert found["count"] == line["count"]
    listed = line["sources"][0]
    assert listed["words"] == found["name"]
    assert on(listed) in shown(found["citations"])
    assert found.get("replaces", []) == ([line["stands_for"]] if "stands_for" in line else [])
    because = {reason["because"] for reason in found["reasons"]}
    assert set(line["why"]) - {"odd length"} <= because


def test_nothing_else_is_ordered_by_number(order: Json) -> None:
    numbers = {o["part_number"] for o in order["lines"] if "part_number" in o}
    assert numbers <= {line["part_number"] for line in ORDER["lines"]}
    assert not numbers & set(ORDER["not_ordered"])


def test_nothing_is_without_number_or_count_but_the_oil(order: Json) -> None:
    (oil,) = ORDER["consumables"]
    rest = [o for o in order["lines"] if not o.get("part_number") or o.get("count") is None]
    assert [(o["name"], o.get("amount")) for o in rest] == [(oil["name"], oil["amount"])]
    assert on(oil["sources"][0]) in shown(rest[0]["citations"] + rest[0]["reasons"][0]["citations"])


def test_total_is_the_sum_of_the_price_list(order: Json) -> None:
    assert order["total"] == pytest.approx(ORDER["total_price"])


def test_all_of_it_being_in_nothing_is_to_be_ordered(kept_model: Path) -> None:
    after = asked("order", GOAL, *papers(kept_model, "job_finished"), "--prices", DEMO / "prices.csv")
    assert [o["part_number"] for o in after["lines"] if "part_number" in o] == []


# --- Which length belongs where


def test_no_length_but_the_keys_is_placed(joint: Json) -> None:
    placed = {p["place"]: p["length_mm"] for p in joint["lengths"]["placed"] if p.get("length_mm")}
    assert placed == {place: BACK["lengths_mm"][place] for place in placed}
    assert all(p["why"] for p in joint["lengths"]["placed"])
    filled = {length: list(placed.values()).count(length) for length in set(placed.values())}
    trays = {int(length): pieces for length, pieces in BACK["in_the_trays"].items()}
    assert filled == {length: pieces for length, pieces in trays.items() if length in filled}
    assert set(trays) - set(filled) == {BACK["left_over_length_mm"]}


def test_places_for_which_no_screw_is_left_are_told(joint: Json) -> None:
    empty = [p["place"] for p in joint["lengths"]["placed"] if not p.get("length_mm")]
    assert {BACK["lengths_mm"][place] for place in empty} <= {45}
    (screws,) = (line for line in ORDER["lines"] if "odd length" in line["why"])
    assert len(empty) == screws["count"]


def test_exchanged_lengths_show_by_how_far_the_heads_stand(kept_model: Path, tmp_path: Path) -> None:
    exchanged = BACK["exchanged"]
    job = json.loads((DEMO / "job_finished.json").read_text(encoding="utf-8"))
    at_heads = next(n for n, event in enumerate(job["events"]) if event["event"] == "heads stand")
    heads = job["events"][at_heads]
    for head in heads["proud"]:
        head["proud_mm"] = exchanged["proud_mm"].get(head["place"], exchanged["all_mm"])
    file = tmp_path / "job.json"
    for events, swapped in ((job["events"][: at_heads + 1], True), (unlike(job, exchanged, at_heads), False)):
        file.write_text(json.dumps({**job, "events": events}), encoding="utf-8")
        (tightening,) = asked("refit", GOAL, *papers(kept_model, file))["tightening"]
        told = [words for words in tightening.get("doubts", []) if "swapped" in words]
        assert bool(told) is swapped
        assert all(place[1:] in told[0] for place in exchanged["proud_mm"] if swapped)


def unlike(job: Json, exchanged: Json, at_heads: int) -> list[Json]:
    """The events up to the heads, which all stand equally proud."""
    heads = job["events"][at_heads]
    equal = [{**head, "proud_mm": exchanged["all_mm"]} for head in heads["proud"]]
    return [*job["events"][:at_heads], {**heads, "proud": equal}]


# --- Torques and order


def test_case_screws_have_the_sources_torque_with_its_page(joint: Json) -> None:
    assert joint.get("torque"), joint.get("no_value")
    for torque in CASE["torque_Nm"]:
        assert f"{torque} N·m" in joint["torque"]
    assert on(CASE["sources"][0]) in shown(joint["citations"])
    assert [
        f"{torque} N·m" in r["words"] for torque, r in zip(CASE["torque_Nm"], joint["rounds"], strict=True)
    ]


def test_case_screws_go_in_the_sources_order_each_once_a_round(joint: Json) -> None:
    for turn in joint["rounds"]:
        assert turn["places"] == BACK["order"]["places"]


def test_screw_of_the_bracket_has_no_turn_and_its_own_torque(joint: Json) -> None:
    apart = BACK["order"]["apart"]
    assert apart["place"][1:] not in joint["rounds"][0]["places"]
    (torque,) = (t for t in BACK["torques"] if t["id"] == apart["torque"])
    (source,) = torque["sources"]
    (told,) = (words for words in joint["elsewhere"] if words.startswith(f"{apart['place'][1:]}:"))
    assert f"{torque['torque_Nm'][0]} N·m" in told
    assert f"printed page {source['printed_page']}, PDF page {source['pdf_page']}" in told


@pytest.mark.parametrize("joint_", BACK["torques"], ids=lambda t: t["id"])
def test_every_torque_stands_at_its_line_with_its_page(refit: Json, joint_: dict[str, Any]) -> None:
    section = joint_["section"]
    found = [
        torque
        for line in lines(refit)
        if line["line"].get("number") == section or f"/{section}" in line["line"]["id"]
        if joint_["step"] in ("", line["line"].get("mark"))
        for torque in line["line"].get("torques", [])
    ]
    assert [t["torque_Nm"][0] for t in found] == joint_["torque_Nm"]
    assert {on(source) for source in joint_["sources"]} <= {p for t in found for p in shown(t["citations"])}


def test_units_that_disagree_are_told_where_the_nut_is_tightened(refit: Json) -> None:
    source = ALLEGED["units"]["sources"][0]
    (nut,) = (line for line in lines(refit) if line["line"]["id"] == "manual/step/5.4/3")
    told = str(nut["line"]) + str(refit["back"].get("problems"))
    assert f"{source['torque_Nm']} N·m" in told
    assert f"{source['torque_lbfft']} lbf·ft" in told


# --- Order of the work


@pytest.mark.parametrize(
    "pair", BACK["must_come_before"], ids=lambda pair: f"{pair['first']} before {pair['then']}"
)
def test_what_must_come_first_comes_first(refit: Json, pair: dict[str, str]) -> None:
    assert at(refit, pair["first"]) < at(refit, pair["then"]), pair["because"]


def test_what_no_source_puts_back_is_a_proposal(refit: Json) -> None:
    proposed = BACK["proposed"]
    found = [line for line in lines(refit) if line.get("how") == "proposed"]
    assert {line["reverses"].rpartition("/")[2] for line in found} == {proposed["procedure"]}
    assert {part for line in found for part in line["parts"]} == set(proposed["parts"])


def test_nothing_of_another_variant_is_missed(refit: Json) -> None:
    missed = {thing["part"] for thing in refit["account"]["things"]}
    for never in BACK["never"]:
        assert not [part for part in missed if re.search(rf"\b{never['words']}\b", part)], never["because"]


def test_every_line_and_new_part_has_its_source(refit: Json) -> None:
    for line in lines(refit):
        assert line["line"].get("citations"), line["line"]["id"]
    for part in refit["back"]["new_parts"]:
        assert part["citations"], part["part"]
