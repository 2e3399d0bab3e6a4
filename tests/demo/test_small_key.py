"""The small winch's answer key, whole: four pages and ten rows, nothing planted, nothing alleged."""

from __future__ import annotations

from pathlib import Path

import pytest
from key_matching import (
    ASKS_ONLY,
    KIND_OF_CODE,
    SMALL,
    begins,
    line_of,
    pages,
    row_of,
    section_of,
    step_of,
    table_lines,
)

from lastbolt.app.make_plan import make_plan
from lastbolt.cli.papers import Papers, answer_for
from lastbolt.cli.read import read_files
from lastbolt.words.answer import Answer, TakenAs
from lastbolt.words.joint import WALK_SCHEMA, End, JointPlace, Walk
from lastbolt.words.machine import Machine, Step
from lastbolt.words.plan import Plan
from lastbolt.words.quantity import Kind

GOAL = SMALL["goal"]
JOINT = SMALL["joint"]


@pytest.fixture(scope="module")
def machine(small: Path) -> Machine:
    return read_files([small / "manual.pdf", small / "parts_list.csv"], "W1 sluice winch").machine


@pytest.fixture(scope="module")
def plan(machine: Machine) -> Plan:
    return make_plan(machine, GOAL["title"])


@pytest.fixture(scope="module")
def answer(machine: Machine, plan: Plan) -> Answer:
    """The answer from the key's places alone: six, of its fasteners' thread, and nobody looked."""
    (thread,) = {fastener["size"].split(" x ")[0] for fastener in JOINT["fasteners"]}
    places = tuple(
        JointPlace(
            f"p{n}",
            str(n),
            (End("gearbox cover", "near", 20.0 * n, 0.0, "head"),),
            kind=Kind("screw", thread),
        )
        for n in range(1, JOINT["places"] + 1)
    )
    walk = Walk(WALK_SCHEMA, "cover", JOINT["name"], ("gearbox cover", "gearbox housing"), (), places)
    return answer_for(Papers(machine, True, (walk,)), plan)


def where(named: str, machine: Machine) -> Step:
    """The step that the key names as "2.1 step 2"."""
    section, _, mark = named.split()
    return step_of(machine, section, mark)


def taken_as(answer: Answer, fastener: dict[str, str]) -> TakenAs:
    """What was taken of the parts row that the key names."""
    at = f"figure {fastener['figure']}, item {fastener['item']}, screw {fastener['size'].replace(' ', '')}"
    (found,) = (taken for taken in answer.taken_as if at in taken.words)
    return found


def test_nothing_is_alleged(machine: Machine) -> None:
    plans = [make_plan(machine, procedure.title) for procedure in machine.procedures]
    problems = [*machine.problems, *(p for plan in plans for p in plan.problems)]
    assert {p.code for p in problems} <= KIND_OF_CODE.keys() | ASKS_ONLY
    assert [p.what for p in problems if p.code in KIND_OF_CODE] == SMALL["allegations"]
    assert [o.words for plan in plans for o in plan.open] == []


def test_goal_is_found_by_its_title_on_its_page(machine: Machine, plan: Plan) -> None:
    (procedure,) = (p for p in machine.procedures if p.id in plan.procedures)
    assert (procedure.number, procedure.title) == (GOAL["section"], GOAL["title"])
    assert pages(procedure.citations) == {("manual.pdf", GOAL["pdf_page"], GOAL["printed_page"])}
    assert plan.complete


def test_required_procedure_comes_first_and_says_why(machine: Machine, plan: Plan) -> None:
    (required,) = SMALL["required"]
    assert begins(plan) == [required["section"], GOAL["section"]]
    opening = next(line for line in plan.lines if line.procedure.endswith(required["section"]))
    assert opening.required_by.because == "set-up"
    assert section_of(opening.required_by.line) == GOAL["section"]
    assert f'"{opening.required_by.words[:1].lower()}{opening.required_by.words[1:]}"' in required["because"]
    assert pages(opening.required_by.citations) == {("manual.pdf", GOAL["pdf_page"], GOAL["printed_page"])}
    assert pages(opening.citations) == {("manual.pdf", required["pdf_page"], required["printed_page"])}


def test_steps_are_all_there_in_order(plan: Plan) -> None:
    expected = [(entry["section"], mark) for entry in SMALL["order_of_steps"] for mark in entry["steps"]]
    assert [(line.number, line.mark) for line in plan.lines if line.kind == "step"] == expected


def test_goal_step_gives_neither_count_nor_place(plan: Plan) -> None:
    section, _, mark = JOINT["fasteners"][0]["removed_in"].split()
    line = line_of(plan, section, mark)
    assert [m.quantity.kind for m in line.mentions] == ["unsaid"]


@pytest.mark.parametrize("fastener", JOINT["fasteners"], ids=lambda f: f["size"])
def test_fasteners_of_the_joint_are_read(machine: Machine, fastener: dict[str, str | int]) -> None:
    row = row_of(machine, str(fastener["figure"]), str(fastener["item"]))
    assert row.name.endswith(str(fastener["size"]))
    assert (row.quantity.low, row.quantity.high) == (fastener["quantity"], fastener["quantity"])
    assert table_lines(row.citations)
    assert [m for m in where(str(fastener["removed_in"]), machine).mentions if m.deed == "remove"]
    put_on = where(str(fastener["way_back"]), machine)
    assert [m for m in put_on.mentions if row.id in m.rows and m.deed == "install"]


def test_way_back_leads_where_the_key_says(machine: Machine, plan: Plan) -> None:
    on_by = {target for entry in plan.way_back.returns for target in entry.on_by}
    for fastener in JOINT["fasteners"]:
        step = where(fastener["way_back"], machine)
        section = next(p for p in machine.procedures if step in p.steps)
        assert on_by & {step.id, section.id}
    assert [r.part for r in plan.way_back.returns if r.how == "none"] == []


@pytest.mark.parametrize("fastener", JOINT["fasteners"], ids=lambda f: f["size"])
def test_every_fastener_of_the_joint_is_counted_and_cited(answer: Answer, fastener: dict[str, str]) -> None:
    size = fastener["size"].replace(" ", "")
    listed = answer.counts.heads.index(SMALL["documents"]["parts_list"])
    (row,) = (r for r in answer.counts.rows if r[0].endswith(size))
    assert str(fastener["quantity"]) in row[listed].split()
    taken = taken_as(answer, fastener)
    assert f"figure {fastener['figure']}" in taken.words
    assert table_lines(taken.citations)


def test_screw_of_another_figure_is_tied_by_the_step_that_removes_it(answer: Answer) -> None:
    _, other = JOINT["fasteners"]
    assert f"section {other['removed_in']} removes it" in taken_as(answer, other).words


def test_the_joints_own_screws_are_tied_by_the_step_that_removes_them(answer: Answer) -> None:
    own, _ = JOINT["fasteners"]
    assert f"section {own['removed_in']} removes it" in taken_as(answer, own).words


def test_nothing_is_said_to_be_begun_without_a_job(answer: Answer) -> None:
    assert [s.words for s in answer.suspicions if "was begun" in s.words] == []


def test_nobody_looked_so_nothing_is_cleared(answer: Answer) -> None:
    assert answer.verdict != "free"
    assert not answer.clear_to_part
    assert [state.place for state in answer.places if state.accounted] == []
