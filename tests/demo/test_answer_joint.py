"""The big machine's answer key: what may still hold the joint, with its page, and the answer."""

from __future__ import annotations

import msgspec
import pytest
from key_matching import (
    DEMO,
    KEY,
    MATTER,
    Told,
    conditions,
    count,
    heard,
    page_of,
    pages,
    pages_of,
    row_of,
    section_of,
    size_in,
    step_of,
    told,
)

from lastbolt.edge import documents
from lastbolt.words.answer import HolderState, PlaceState, Suspicion
from lastbolt.words.engine import Engine
from lastbolt.words.joint import Walk
from lastbolt.words.machine import Machine

BEFORE = KEY["truth_before_pressing"]
CLEARED = KEY["truth_cleared"]
APART = KEY["truth_apart"]


@pytest.fixture(scope="module")
def untied(machine: Machine) -> Told:
    """The same job, and nobody has tied any row of the parts list to the joint."""
    walk = documents.load(DEMO / "walk.json", Walk)
    return told(machine, "job", msgspec.structs.replace(walk, ties=()))


@pytest.fixture(scope="module")
def unnamed(machine: Machine) -> Told:
    """The same job, and the walk names nothing else that holds."""
    walk = documents.load(DEMO / "walk.json", Walk)
    return told(machine, "job", msgspec.structs.replace(walk, holders=()))


def place(said: Told, name: str) -> PlaceState:
    (state,) = (state for state in said.answer.places if state.place == name)
    return state


def suspicion(said: Told, name: str) -> Suspicion:
    """The suspicion that something still holds at that place."""
    (found,) = (s for s in said.answer.suspicions if name in s.about and s.sort == "may hold")
    return found


def holder(said: Told, name: str) -> HolderState:
    (found,) = (h for h in said.answer.holders if h.id == name)
    return found


# --- The joint


def test_fastener_drawn_and_removed_elsewhere_is_suspected(before: Told) -> None:
    matter = MATTER["elsewhere"]
    row, step, *_ = matter["sources"]
    found = suspicion(before, matter["place"])
    size = size_in(row["words"])
    for said in (
        f"Place {BEFORE['still_in'][1]['place'][1:]}",
        f"figure {row['figure']}, item {row['item']}",
        f"printed page {row['printed_page']}",
        f"ection {step['section']} step {step['step']}",
        f"printed page {step['printed_page']}",
        "only ticked",
    ):
        assert said in found.words
    assert size in found.words.replace(" ", "")
    assert pages(found.citations) == {page_of(row), page_of(step)}
    assert not place(before, matter["place"]).accounted


def test_the_other_witnesses_of_that_fastener_are_read(machine: Machine) -> None:
    row, step, *others, condition = MATTER["elsewhere"]["sources"]
    assert row_of(machine, row["figure"], row["item"]).name == row["words"]
    assert step["words"] in step_of(machine, step["section"], step["step"]).words
    for source in others:
        assert source["words"] in heard(machine, source["section"])
    (reference,) = (c for c in conditions(machine, condition["section"]) if c.words == condition["words"])
    assert [section_of(to) for to in reference.to] == [step["section"]]
    assert page_of(condition) in pages(reference.citations)


def test_far_side_is_read_and_looked_at_from_there(machine: Machine, before: Told) -> None:
    row, step = MATTER["far"]["sources"]
    name = MATTER["far"]["place"]
    assert row_of(machine, row["figure"], row["item"]).remarks == row["words"]
    assert step_of(machine, step["section"], step["step"]).words.startswith(step["words"])
    assert page_of(row) in pages(suspicion(before, name).citations)
    assert not place(before, name).accounted
    assert place(before, name).look
    (first, *_) = before.answer.next_steps
    assert name[1:] in first.places
    assert "both sides" in first.words


def test_far_side_is_said_where_it_is_suspected(before: Told) -> None:
    found = suspicion(before, MATTER["far"]["place"])
    assert "engine side" in found.words or "far side" in found.words


@pytest.mark.parametrize("name", ["hollow-dowel", "solid-dowel", "bracket", "shaft-nut"])
def test_other_holders_stand_with_their_page(machine: Machine, before: Told, name: str) -> None:
    manual = [s for s in MATTER[name]["sources"] if s["document"] == "manual.pdf"]
    found = holder(before, name)
    assert pages(found.citations) == {page_of(manual[0])}
    for source in MATTER[name]["sources"]:
        if "figure" in source:
            row = row_of(machine, source["figure"], source["item"])
            assert row.name == source["words"]
            assert page_of(source) in pages(row.citations)


def test_hollow_dowel_has_a_screw_through_it(machine: Machine, cleared: Told) -> None:
    table = MATTER["hollow-dowel"]["sources"][2]
    (row,) = (r for r in machine.bolt_rows if table["words"] in r.positions)
    assert pages(row.citations) == {page_of(table)}
    assert place(cleared, MATTER["hollow-dowel"]["place"]).mark == "hollow dowel"
    assert place(cleared, MATTER["solid-dowel"]["place"]).mark == "solid dowel"


def test_one_engines_own_facts_are_used(before: Told, engine: Engine) -> None:
    for fact in engine.as_found:
        if fact.what == "missing":
            assert fact.words in place(before, str(fact.place)).words
        if fact.what == "odd length":
            assert fact.words in suspicion(before, str(fact.place)).words
            assert count(before, "M8 x 50", "Engine file") == "1"


def test_the_repair_insert_is_shown(before: Told, engine: Engine) -> None:
    (insert,) = (fact for fact in engine.as_found if fact.what == "insert")
    shown = [state.words for state in before.answer.places if state.place == insert.place]
    shown += [s.words for s in before.answer.suspicions] + [b.words for b in before.plan.before_off]
    assert any("insert" in words for words in shown)


# --- The same from the papers alone


def test_fastener_drawn_elsewhere_is_suspected_without_a_tie(untied: Told) -> None:
    row, step, *_ = MATTER["elsewhere"]["sources"]
    found = suspicion(untied, MATTER["elsewhere"]["place"])
    assert f"figure {row['figure']}, item {row['item']}" in found.words
    removed = f"ection {step['section']} step {step['step']} (Manual, printed page {step['printed_page']}"
    assert removed in found.words
    assert page_of(row) in pages(found.citations)


def test_far_side_fastener_is_named_without_a_tie(untied: Told) -> None:
    row, _ = MATTER["far"]["sources"]
    assert f"figure {row['figure']}, item {row['item']}" in suspicion(untied, MATTER["far"]["place"]).words


@pytest.mark.parametrize(
    ("name", "sort"),
    [
        ("hollow-dowel", "dowel"),
        ("solid-dowel", "dowel"),
        ("bracket", "bridging part"),
        ("shaft-nut", "shaft-end nut"),
    ],
)
def test_other_holders_are_found_without_the_walk(unnamed: Told, name: str, sort: str) -> None:
    near = pages_of(MATTER[name]) | {page_of(MATTER["elsewhere"]["sources"][1])}
    words = {source["words"] for source in MATTER[name]["sources"]}
    found = [h for h in unnamed.answer.holders if h.sort == sort and pages(h.citations) & near]
    assert [h for h in found if h.name in words or sort != "dowel"]
    assert not any(h.settled for h in found)


# --- The answer


def test_before_pressing_the_answer_is_no(before: Told) -> None:
    answer = before.answer
    assert answer.verdict != "free"
    assert answer.clear_to_part is BEFORE["careful_answer"]["clear_to_part"]
    assert "Do not pull" in answer.sentence
    still_in = {entry["place"] for entry in BEFORE["still_in"]}
    unaccounted = {state.place for state in answer.places if not state.accounted}
    assert still_in <= unaccounted
    named = answer.sentence.replace(",", "").replace(".", "").split()
    assert {name[1:] for name in unaccounted} <= set(named)


def test_before_pressing_the_first_thing_to_do_is_to_look_there(before: Told) -> None:
    first = before.answer.next_steps[0].places
    assert {look["place"][1:] for look in BEFORE["careful_answer"]["look_next_at"]} <= set(first)


def test_before_pressing_holders_left_are_the_keys(before: Told) -> None:
    assert {h.id for h in before.answer.holders if not h.settled} == set(BEFORE["holders_not_settled"])
    assert set(BEFORE["holders"]) <= {h.id for h in before.answer.holders}


def test_the_total_that_balances_hides_nothing(before: Told) -> None:
    for size, pieces in BEFORE["tray"].items():
        assert count(before, size, "Tray").split()[0] == str(pieces)
    for entry in BEFORE["still_in"]:
        assert count(before, entry["screw"], "Parts list") == "1"
        assert count(before, entry["screw"], "Tray") not in ("0", "1")


def test_places_that_are_out_are_drawn_out(before: Told) -> None:
    for name, truth in BEFORE["places"].items():
        if truth.startswith("in"):
            assert place(before, name).mark != "out"
        elif truth.startswith("out"):
            assert place(before, name).mark in ("out", "hollow dowel")


def test_cleared_job_has_nothing_left_to_settle(cleared: Told) -> None:
    assert [h.id for h in cleared.answer.holders if not h.settled] == CLEARED["holders_not_settled"]
    assert [state.place for state in cleared.answer.places if not state.accounted] == []
    for size, pieces in CLEARED["tray"].items():
        assert f"{pieces} (Oduya)" in count(cleared, size, "Tray")


def test_cleared_job_is_clear(cleared: Told) -> None:
    assert cleared.answer.verdict == "free"
    assert cleared.answer.clear_to_part is CLEARED["careful_answer"]["clear_to_part"]


def test_remarks_beside_the_work_are_no_holders(apart: Told) -> None:
    assert [h.name for h in apart.answer.holders if not h.settled] == APART["holders_not_settled"]


def test_joint_that_is_apart_is_not_asked_to_be_left_alone(apart: Told) -> None:
    assert APART["careful_answer"]["apart"]
    assert "Do not pull" not in apart.answer.sentence
