"""The big machine's answer key, whole: every planted matter found with its page, nothing else alleged."""

from __future__ import annotations

import re
from itertools import pairwise
from pathlib import Path

import msgspec
import pytest
from key_matching import (
    ALLEGED,
    ASKS_ONLY,
    DEMO,
    KEY,
    KIND_OF_CODE,
    MATTER,
    Told,
    alleged,
    begins,
    conditions,
    heard,
    key_names,
    line_of,
    page_of,
    pages,
    pages_of,
    row_of,
    section_of,
    step_of,
    table_lines,
    told,
)

from lastbolt.app.make_plan import make_plan
from lastbolt.cli.demo import SOURCES
from lastbolt.cli.read import read_files
from lastbolt.edge import documents
from lastbolt.words.answer import HolderState, PlaceState, Suspicion
from lastbolt.words.engine import Engine
from lastbolt.words.machine import Machine
from lastbolt.words.plan import Plan
from lastbolt.words.problem import Problem

BEFORE = KEY["truth_before_pressing"]
CLEARED = KEY["truth_cleared"]
CLOSURE = KEY["closure"]


@pytest.fixture(scope="module")
def machine(made: Path) -> Machine:
    return read_files([made / name for name in SOURCES], "Q222 irrigation pump engine").machine


@pytest.fixture(scope="module")
def engine() -> Engine:
    return documents.load(DEMO / "engine_3.json", Engine)


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


@pytest.fixture(scope="module")
def before(machine: Machine) -> Told:
    return told(machine, "job")


@pytest.fixture(scope="module")
def cleared(machine: Machine) -> Told:
    return told(machine, "job_cleared")


def goal_title(machine: Machine) -> str:
    """The title of the section that the key names as the goal."""
    (title,) = (p.title for p in machine.procedures if section_of(p.id) == CLOSURE["goal"])
    return title


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


def count(said: Told, size: str, source: str) -> str:
    """One cell of the counts side by side; sizes are written without blanks in it."""
    at = said.answer.counts.heads.index(source)
    (row,) = (r for r in said.answer.counts.rows if r[0].replace(" ", "").endswith(size.replace(" ", "")))
    return row[at]


def size_in(words: str) -> str:
    """The size and length at the end of a name, without blanks: "M8x45"."""
    return words.rsplit(", ", maxsplit=1)[-1].replace(" ", "")


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
    assert name[1:] in first.words.replace(",", "").split()
    assert "both sides" in first.words


@pytest.mark.xfail(
    reason="The suspicion says what was seen and listed, not from which side the fastener enters."
)
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


@pytest.mark.xfail(
    reason="A repair insert in the engine's own file is shown nowhere in the answer or the plan."
)
def test_the_repair_insert_is_shown(before: Told, engine: Engine) -> None:
    (insert,) = (fact for fact in engine.as_found if fact.what == "insert")
    shown = [state.words for state in before.answer.places if state.place == insert.place]
    shown += [s.words for s in before.answer.suspicions] + [b.words for b in before.plan.before_off]
    assert any("insert" in words for words in shown)


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
    first = before.answer.next_steps[0].words.replace(",", " ").replace(":", " ").split()
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


@pytest.mark.xfail(
    reason="The scene writes every look down as a look into the hole, and a shank broken off inside fools "
    "them all at once (docs/tally.md); the papers' own mistake excuses the count. One mistake more is enough."
)
def test_cleared_job_is_clear(cleared: Told) -> None:
    assert cleared.answer.verdict == "free"
    assert cleared.answer.clear_to_part is CLEARED["careful_answer"]["clear_to_part"]
