"""The big machine's answer key, whole: what is alleged, nothing else, and what the goal needs."""

from __future__ import annotations

import re
from itertools import pairwise

import msgspec
import pytest
from key_matching import (
    ALLEGED,
    ASKS_ONLY,
    KEY,
    KIND_OF_CODE,
    MATTER,
    Told,
    alleged,
    begins,
    conditions,
    count,
    key_names,
    line_of,
    page_of,
    pages,
    pages_of,
    row_of,
    section_of,
    size_in,
    step_of,
    table_lines,
)

from lastbolt.app.make_plan import make_plan
from lastbolt.words.engine import Engine
from lastbolt.words.machine import Machine
from lastbolt.words.plan import Plan
from lastbolt.words.problem import Problem

CLOSURE = KEY["closure"]


@pytest.fixture(scope="module")
def plan(machine: Machine, engine: Engine) -> Plan:
    """The goal's plan for engine no. 3 with nothing ticked."""
    return make_plan(machine, goal_title(machine), engine)


@pytest.fixture(scope="module")
def plans(machine: Machine, engine: Engine) -> dict[str, Plan]:
    """One plan for each procedure of the manual, nothing ticked, for each variant."""
    other = msgspec.structs.replace(engine, variant="E")
    return {
        f"{procedure.id} {one.variant}": make_plan(machine, procedure.title, one)
        for procedure in machine.procedures
        for one in (engine, other)
    }


def goal_title(machine: Machine) -> str:
    """The title of the section that the key names as the goal."""
    (title,) = (p.title for p in machine.procedures if section_of(p.id) == CLOSURE["goal"])
    return title


def everything_alleged(machine: Machine, plans: dict[str, Plan], *jobs: Told) -> list[Problem]:
    """Every problem of the reading and of every plan, each once."""
    found = [*machine.problems]
    for plan in [*plans.values(), *(job.plan for job in jobs)]:
        found += plan.problems
    return list(dict.fromkeys(found))


# --- Nothing but the planted


def test_every_kind_of_the_program_is_one_of_the_keys() -> None:
    assert set(KIND_OF_CODE.values()) <= set(KEY["kinds_of_allegation"]["kinds"])


def test_nothing_else_is_alleged(
    machine: Machine, plans: dict[str, Plan], before: Told, cleared: Told
) -> None:
    problems = everything_alleged(machine, plans, before, cleared)
    assert {p.code for p in problems} <= KIND_OF_CODE.keys() | ASKS_ONLY
    other = [
        (kind, problem.what)
        for kind, cited, problem in alleged(problems)
        if len(key_names(kind, cited, ALLEGED.values())) != 1
    ]
    assert other == []


def test_no_cycle_and_nothing_ambiguous_is_left_open(plans: dict[str, Plan]) -> None:
    left = [(name, o.words) for name, p in plans.items() for o in p.open if o.kind in ("cycle", "ambiguous")]
    assert left == []


@pytest.mark.parametrize("name", sorted(ALLEGED))
def test_every_allegation_is_made_once_with_all_its_pages(
    machine: Machine, plans: dict[str, Plan], name: str
) -> None:
    found = [
        cited
        for kind, cited, _ in alleged(everything_alleged(machine, plans))
        if key_names(kind, cited, ALLEGED.values()) == [name]
    ]
    assert found == [frozenset(pages_of(ALLEGED[name]))]


def words_of(name: str, problems: list[Problem]) -> str:
    (what,) = (
        problem.what
        for kind, cited, problem in alleged(problems)
        if key_names(kind, cited, ALLEGED.values()) == [name]
    )
    return what


def test_misprinted_quantity_names_both_numbers(plan: Plan, machine: Machine) -> None:
    paper, _, manual = ALLEGED["quantity"]["sources"]
    said = words_of("quantity", list(plan.problems))
    assert f"(figure {paper['figure']}, item {paper['item']}) has {paper['quantity']}," in said
    assert f"says {manual['quantity']}" in said
    row = row_of(machine, paper["figure"], paper["item"])
    assert (row.quantity.low, row.quantity.high) == (paper["quantity"], paper["quantity"])
    assert table_lines(row.citations), "the table file says the same of the row"


def test_swapped_lengths_name_both_rows_and_both_lengths(plan: Plan) -> None:
    paper, manual = words_of("lengths", list(plan.problems)).split("; ")
    for said, source in (
        (manual, ALLEGED["lengths"]["sources"][0]),
        (paper, ALLEGED["lengths"]["sources"][1]),
    ):
        found = set(re.findall(r"item (\d+).*?(M8x\d+)", said))
        assert found == {(row["item"], size_in(row["words"])) for row in source["rows"]}


def test_units_that_disagree_are_both_shown(machine: Machine) -> None:
    source = ALLEGED["units"]["sources"][0]
    said = words_of("units", list(machine.problems))
    assert source["row"] in said
    assert f"{source['torque_Nm']} N·m" in said
    assert f"{source['torque_lbfft']} lbf·ft" in said


def test_dangling_reference_keeps_the_plan_open(machine: Machine, plan: Plan) -> None:
    source = ALLEGED["dangling"]["sources"][0]
    assert source["points_at"] in words_of("dangling", list(machine.problems))
    (reference,) = step_of(machine, source["section"], source["step"]).references
    assert reference.status == "dangling"
    assert [page_of(source)] == [p for o in plan.open if o.kind == "reference" for p in pages(o.citations)]
    assert not plan.complete


def test_what_has_no_way_back_is_named(plan: Plan) -> None:
    source = ALLEGED["no-way-back"]["sources"][0]
    said = words_of("no-way-back", list(plan.problems))
    assert f"{source['section']} {source['words']}" in said
    assert source["parts"][0] in said
    lost = [r for r in plan.way_back.returns if r.how == "none"]
    assert [r.part for r in lost] == [source["parts"][0]]
    assert pages(lost[0].off_citations) == {page_of(source)}


# --- The goal and what it requires


def test_goal_step_gives_no_count_and_the_counts_come_from_the_parts_list(plan: Plan, before: Told) -> None:
    source = MATTER["goal"]["sources"][0]
    for shown in (plan, before.plan):
        line = line_of(shown, source["section"], source["step"])
        assert line.words == source["words"]
        assert pages(line.citations) == {page_of(source)}
        assert [m.quantity.kind for m in line.mentions] == ["unsaid"]
    listed = {size_in(row["words"]): row["quantity"] for row in ALLEGED["lengths"]["sources"][1]["rows"]}
    listed["M8 x 45"] = ALLEGED["quantity"]["sources"][0]["quantity"]
    for size, quantity in listed.items():
        assert count(before, size, "Parts list") == str(quantity)


def test_closure_is_the_keys(plan: Plan) -> None:
    assert plan.variant == CLOSURE["variant"]
    assert [section_of(p) for p in plan.procedures] == [CLOSURE["goal"]]
    assert sorted(begins(plan)) == sorted(CLOSURE["procedures"])
    order = begins(plan)
    # A goal opens after the procedures that it needs are shown whole.
    late = [(a, b) for a, b in CLOSURE["must_come_before"] if order.index(a) > order.index(b)]
    assert late == []


def test_conditions_are_confirmed_in_the_same_order_when_done(before: Told) -> None:
    order = begins(before.plan)
    assert sorted(order) == sorted(CLOSURE["procedures"])
    late = [(a, b) for a, b in CLOSURE["must_come_before"] if order.index(a) > order.index(b)]
    assert late == []


@pytest.mark.parametrize("source", MATTER["deep"]["sources"], ids=lambda s: f"{s['section']} {s['words']}")
def test_each_link_of_the_deep_chain_is_read_where_it_stands(
    machine: Machine, source: dict[str, str]
) -> None:
    found = [c for c in conditions(machine, source["section"]) if page_of(source) in pages(c.citations)]
    for part in source["words"].split("; "):
        assert [c for c in found if c.words.casefold().startswith(part.casefold())], part


@pytest.mark.parametrize("chain", MATTER["deep"]["chain"], ids="-".join)
def test_deep_chain_is_followed(machine: Machine, plan: Plan, chain: list[str]) -> None:
    for needs, needed in pairwise(chain):
        assert needed in [section_of(to) for c in conditions(machine, needs) for to in c.to]
    order = [begins(plan).index(section) for section in chain]
    assert order == sorted(order, reverse=True)


def test_shared_procedure_comes_once_and_both_need_it(machine: Machine, plan: Plan, before: Told) -> None:
    shared = MATTER["shared"]
    for shown in (plan, before.plan):
        order = begins(shown)
        assert order.count(shared["procedure"]) == 1
        assert all(order.index(shared["procedure"]) < order.index(other) for other in shared["needed_by"])
    for source in shared["sources"]:
        (reference,) = (
            c for c in conditions(machine, source["section"]) if section_of(c.to[0]) == shared["procedure"]
        )
        assert page_of(source) in pages(reference.citations)
    steps = [ln.mark for ln in plan.lines if ln.number == shared["procedure"] and ln.kind == "step"]
    assert len(steps) == len(set(steps))


def test_variant_alternative_goes_by_the_engine(machine: Machine, engine: Engine, plan: Plan) -> None:
    matter = MATTER["variant"]
    other = make_plan(machine, goal_title(machine), msgspec.structs.replace(engine, variant="E", serial=None))
    for shown, variant, without in ((plan, "H", "E"), (other, "E", "H")):
        assert matter["alternatives"][variant] in begins(shown)
        assert matter["alternatives"][without] not in begins(shown)
        left = [o for o in shown.left_out if f"({matter['alternatives'][without]})" in o.words]
        assert [pages(o.citations) for o in left] == [{page_of(matter["sources"][0])}]


def test_variant_of_the_job_too(before: Told) -> None:
    assert MATTER["variant"]["for_engine_no_3"] in begins(before.plan)
    assert CLOSURE["only_for_variant_E"][0] not in begins(before.plan)


def test_left_hand_thread_is_said_before_it_comes_off(machine: Machine, plan: Plan) -> None:
    warning, row, torque = MATTER["left-hand"]["sources"]
    line = line_of(plan, warning["section"], warning["step"])
    assert line.left_hand
    assert [c for c in line.cautions if c.words.startswith(warning["words"])]
    assert pages(c for caution in line.cautions for c in caution.citations) == {page_of(warning)}
    (before_off,) = (b for b in plan.before_off if b.kind == "left-hand thread")
    assert (before_off.number, before_off.mark) == (warning["section"], warning["step"])
    assert pages(before_off.citations) == {page_of(warning)}
    nut = row_of(machine, row["figure"], row["item"])
    assert nut.remarks == row["words"]
    assert page_of(row) in pages(nut.citations)
    (tightened,) = (t for t in machine.torques if t.what == ALLEGED["units"]["sources"][0]["row"])
    assert page_of(torque) in pages(tightened.citations)
