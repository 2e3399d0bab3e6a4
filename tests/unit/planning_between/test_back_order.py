"""The order of the way back: what one thing stands on comes before it.

A general graph library (networkx) is the oracle; the books are made at random.
"""

from itertools import pairwise

import networkx as nx
import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace
from small_book import machine, names, proc, reverse_of, step, table_line

from lastbolt.app.make_back import make_back
from lastbolt.app.make_plan import make_plan
from lastbolt.planning.back_needs import WHYS, Before
from lastbolt.planning.back_order import consistent
from lastbolt.words.back import Back
from lastbolt.words.job import JOB_SCHEMA, Job, QuestionAnswered
from lastbolt.words.machine import Machine, Procedure, Reference, Step, TorqueRow, TorqueValue
from lastbolt.words.quantity import Kind

PARTS = ("cowl", "guard", "bracket", "pump", "lever", "flange", "duct", "pulley")


def asks(here: str, *numbers: str) -> tuple[Reference, ...]:
    """What a set-up asks to be done before."""
    return tuple(
        Reference(f"book/r/{here}/{n}", f"{n} done", "before", "resolved", (f"book/procedure/{n}",))
        for n in numbers
    )


def way_of(made: Machine, goal: str) -> Back:
    plan = make_plan(made, goal)
    assert plan.procedures
    return make_back(made, plan)


def off(number: str, part: str, thread: str, *needed: str) -> Procedure:
    """A section that takes a part and its screws off, after others."""
    screws = names("screws", count=4, kind=Kind("screw", thread, 20.0))
    made = proc(
        number, f"Removing the {part}", "remove", part,
        step("1", f"Remove the four screws {thread} x 20.", screws),
        step("2", f"Take the {part} off.", names(part)),
    )  # fmt: skip
    return replace(made, before=asks(number, *needed))


def fits(mark: str, part: str, thread: str) -> Step:
    return step(
        mark, f"Fit the {part}. Tighten the four screws {thread} x 20.", names(part, "install"),
        names("screws", "tighten", 4, Kind("screw", thread, 20.0)),
    )  # fmt: skip


class Puzzle:
    """A book, and of its parts which goes on before which."""

    def __init__(self, made: Machine, goal: str, order: "nx.DiGraph[str]") -> None:
        self.made, self.goal, self.order = made, goal, order


@st.composite
def puzzles(draw: st.DrawFn) -> Puzzle:
    """Parts that come off one after the other, each after some of those before it. Each has its way back in a
    section of its own, in one that is the reverse of removal, in a section shared with others, or none."""
    parts = draw(st.permutations(PARTS))[: draw(st.integers(2, len(PARTS)))]
    goal = f"1.{len(parts)}"
    order: nx.DiGraph[str] = nx.DiGraph()
    order.add_nodes_from(parts)
    things: list[Procedure] = []
    for n, part in enumerate(parts, 1):
        wanted = draw(st.sets(st.integers(1, n - 1))) if n > 1 else set()
        if n == len(parts):
            wanted |= {one for one in range(1, n) if not order.in_degree(parts[one - 1])}
        things.append(off(f"1.{n}", part, f"M{n + 4}", *(f"1.{one}" for one in sorted(wanted))))
        order.add_edges_from((part, parts[one - 1]) for one in wanted)
    ways = {part: draw(st.sampled_from(["own", "reverse", "shared", "none"])) for part in parts}
    shared = [part for part in nx.lexicographical_topological_sort(order) if ways[part] == "shared"]
    for n, part in enumerate(parts, 1):
        if ways[part] == "own":
            things.append(
                proc(f"2.{n}", f"Installing the {part}", "install", part, fits("1", part, f"M{n + 4}"))
            )
        if ways[part] == "reverse":
            again = step("1", "Installation is the reverse of removal.", references=reverse_of(f"1.{n}"))
            things.append(proc(f"2.{n}", f"Installing the {part}", "install", part, again))
    if shared:
        steps = [fits(str(n), part, f"M{parts.index(part) + 5}") for n, part in enumerate(shared, 1)]
        things.append(proc("3.1", "Installing the outer parts", "install", "outer parts", *steps))
        order.add_edges_from(pairwise(shared))
    backs = draw(st.permutations(things[len(parts) :]))
    return Puzzle(machine(*things[: len(parts)], *backs), goal, order)


def places_of(back: Back, part: str) -> list[int]:
    """Where the lines stand that put the part or its screws on, by what the account says of them."""
    by_id = {one.line.id: n for n, one in enumerate(back.lines)}
    numbers = {one.off_by.split("/")[2] for one in back.removed if one.part == part}
    own = [one for one in back.removed if one.off_by.split("/")[2] in numbers]
    return [by_id[name] for one in own for name in one.on_by if back.lines[by_id[name]].line.kind == "step"]


@given(puzzles())
def test_what_had_to_come_off_first_goes_back_last_whatever_way_each_part_has(puzzle: Puzzle) -> None:
    back = way_of(puzzle.made, puzzle.goal)
    assert nx.is_directed_acyclic_graph(puzzle.order)
    for first, then in nx.transitive_closure_dag(puzzle.order).edges:
        assert places_of(back, first)
        assert places_of(back, then)
        assert max(places_of(back, first)) < min(places_of(back, then)), (first, then)


@given(puzzles())
def test_each_thing_taken_off_has_a_line_and_each_line_stands_once(puzzle: Puzzle) -> None:
    back = way_of(puzzle.made, puzzle.goal)
    ids = [one.line.id for one in back.lines]
    assert len(ids) == len(set(ids))
    for one in back.removed:
        assert one.on_by, one
        assert set(one.on_by) <= set(ids), one


@given(puzzles())
def test_a_section_keeps_the_order_that_it_prints(puzzle: Puzzle) -> None:
    back = way_of(puzzle.made, puzzle.goal)
    for procedure in puzzle.made.procedures:
        own = [one for one in back.lines if one.line.procedure == procedure.id and one.how == "told"]
        marks = [one.line.mark for one in own if one.line.kind == "step"]
        assert marks == sorted(marks, key=int)


@given(st.integers(1, 9).flatmap(lambda n: st.tuples(st.just(n), st.lists(st.tuples(
    st.integers(0, n - 1), st.integers(0, n - 1), st.sampled_from(WHYS[1:])), max_size=25))))  # fmt: skip
def test_dependencies_kept_have_no_circle_and_only_what_closes_one_is_left_out(
    given_: tuple[int, list[tuple[int, int, str]]],
) -> None:
    count, edges = given_
    printed = [Before(a, a + 1, "section") for a in range(0, count - 1, 2)]
    found = [*printed, *(Before(a, b, why) for a, b, why in edges)]  # type: ignore[arg-type]
    kept = set(consistent(count, found))
    graph: nx.DiGraph[int] = nx.DiGraph(kept)
    assert nx.is_directed_acyclic_graph(graph)
    assert {(one.first, one.then) for one in printed} <= kept
    for one in found:
        if (one.first, one.then) not in kept:
            surer = {(o.first, o.then) for o in found if WHYS.index(o.why) <= WHYS.index(one.why)}
            assert one.first == one.then or nx.has_path(nx.DiGraph(surer), one.then, one.first)


GEARBOX = (
    off("3.1", "motor flange", "M10"),
    proc("2.2", "Draining the oil", "drain", "oil",
         step("1", "Put the tray under the gearbox.", deeds=("other",)),
         step("2", "Remove the drain plug.", names("drain plug"), names("oil", "drain")),
         step("3", "Fit the drain plug with a new sealing ring.", names("drain plug", "install"))),
    replace(
        proc("4.1", "Parting the housing", "separate", "housing",
             step("1", "Remove the ten housing screws.", names("housing screws", kind=Kind("screw"))),
             step("2", "Take the bearing cap off.", names("bearing cap")),
             step("3", "Lift the upper half off.", names("upper half"))),
        before=asks("4.1", "2.2", "3.1")),
    proc("4.2", "Joining the housing", "join", "housing",
         step("1", "Set the upper half on.", names("upper half", "install")),
         step("2", "Fit the housing screws.", names("housing screws", "install", kind=Kind("screw"))),
         step("3", "Tighten to 25 N·m.", deeds=("tighten",)),
         fits("4", "motor flange", "M10"),
         step("5", "Fill in oil.", names("oil", "fill")),
         step("6", "Start the drive and look for leaks.", deeds=("other",))),
)  # fmt: skip


def words_of(back: Back) -> list[str]:
    return [one.line.words for one in back.lines if one.line.kind == "step"]


def test_a_drain_plug_is_in_before_oil_is_filled_and_the_tray_of_draining_is_not_put_there_again() -> None:
    found = words_of(way_of(machine(*GEARBOX), "4.1"))
    assert "Put the tray under the gearbox." not in found
    row = [
        "Fit the drain plug with a new sealing ring.",
        "Fill in oil.",
        "Start the drive and look for leaks.",
    ]
    assert [words for words in found if words in row] == row


@pytest.mark.parametrize(
    ("words", "last"),
    [
        ("Run the winch for five minutes and look for leaks.", True),
        ("Start the engine.", True),
        ("Start the four screws by hand.", False),
        ("Run the bead round the inside.", False),
    ],
)
def test_the_machine_runs_only_when_everything_is_on(words: str, last: bool) -> None:
    join = replace(GEARBOX[3], steps=(*GEARBOX[3].steps[:3], replace(GEARBOX[3].steps[5], words=words)))
    guard = off("3.3", "guard", "M5")
    part = replace(GEARBOX[2], before=asks("4.1", "2.2", "3.1", "3.3"))
    on = proc("3.4", "Installing the guard", "install", "guard", fits("1", "guard", "M5"))
    found = words_of(way_of(machine(*GEARBOX[:2], part, join, guard, on), "4.1"))
    assert (found[-1] == words) is last
    assert found.index("Fit the guard. Tighten the four screws M5 x 20.") > found.index("Tighten to 25 N·m.")


def test_screws_that_a_table_says_to_sit_inside_a_cap_are_tight_before_the_cap_goes_on() -> None:
    inside = replace(table_line("5", "M8 x 30", 2, Kind("screw", "M8", 30.0)),
                     table="Table 4-1 Housing screws", positions="9 and 10, inside the cap")  # fmt: skip
    found = words_of(way_of(machine(*GEARBOX, inside), "4.1"))
    assert found.index("Tighten to 25 N·m.") < found.index("Put back: bearing cap.")
    assert found.index("Put back: bearing cap.") < found.index("Fill in oil.")


def test_what_the_joining_section_fits_with_its_screws_is_not_proposed_again() -> None:
    back = way_of(machine(*GEARBOX), "4.1")
    assert [one.parts for one in back.lines if one.how == "proposed"] == [("bearing cap",)]


def test_a_check_that_says_after_joining_stands_behind_the_section_that_joins() -> None:
    check = proc("4.3", "Setting the float", "other", "float",
                 step("1", "Choose the shims.", deeds=("other",)),
                 step("2", "After joining, check the float.", deeds=("other",)))  # fmt: skip
    join = replace(GEARBOX[3], before=asks("4.2", "4.3"))
    found = words_of(way_of(machine(*GEARBOX[:3], join, check), "4.1"))
    assert found.index("Choose the shims.") < found.index("Set the upper half on.")
    assert found.index("After joining, check the float.") > found.index("Tighten to 25 N·m.")


@pytest.mark.parametrize(("answer", "state"), [("yes", "done"), ("no", "to do"), ("", "to do")])
def test_what_is_asked_before_a_section_stands_below_its_title_until_it_is_answered(
    answer: str, state: str
) -> None:
    asked = Reference("book/r/4.2/lamp", "All guards installed", "before", "in words")
    made = machine(*GEARBOX[:3], replace(GEARBOX[3], before=(asked,)))
    said = QuestionAnswered(id="q", by="Ama", question=asked.id, answer=answer)
    job = Job(JOB_SCHEMA, "j", "4.1", events=(said,) if answer else ())
    back = make_back(made, make_plan(made, "4.1", None, job), job)
    kinds = [one.line.kind for one in back.lines if one.line.procedure == "book/procedure/4.2"]
    assert kinds[:2] == ["opening", "condition"]
    assert [one.line.state for one in back.lines if one.line.kind == "condition"] == [state]


def test_of_a_section_that_joins_more_only_the_steps_about_what_came_off_are_shown() -> None:
    found = way_of(machine(*GEARBOX), "3.1")
    assert words_of(found) == ["Fit the motor flange. Tighten the four screws M10 x 20."]
    assert "Only its steps" in found.lines[0].line.question


def test_a_section_that_fits_nothing_by_its_title_keeps_all_its_steps() -> None:
    start = proc("8.1", "First start", "other", "",
                 step("1", "Turn the shaft by hand.", deeds=("other",)),
                 step("2", "Put the motor flange on.", names("motor flange", "install")),
                 step("3", "Start the drive.", deeds=("other",)))  # fmt: skip
    found = words_of(way_of(machine(off("3.1", "motor flange", "M10"), start), "3.1"))
    assert [words for words in found if not words.startswith("Put back")] == [s.words for s in start.steps]


def test_what_was_never_drained_is_not_filled_again() -> None:
    oil_on = proc("2.3", "Filling the oil", "fill", "oil",
                  step("1", "Fit the drain plug.", names("drain plug", "install")),
                  step("2", "Fill in oil.", names("oil", "fill")))  # fmt: skip
    on = proc(
        "3.2", "Installing the motor flange", "install", "motor flange", fits("1", "motor flange", "M10")
    )
    first = replace(on, steps=(replace(on.steps[0], references=asks("3.2/1", "2.3")),))
    found = way_of(machine(off("3.1", "motor flange", "M10"), first, oil_on), "3.1")
    assert "Fill in oil." not in words_of(found)
    assert any(one.line.kind == "confirm" and "Filling the oil" in one.line.words for one in found.lines)


def test_the_torque_of_a_table_that_names_the_part_stands_at_its_screws() -> None:
    made = replace(
        machine(off("3.1", "bearing cap", "M6")),
        torques=(
            TorqueRow("t", "Bearing cap", TorqueValue((10, 10), ((10, 10, "N·m"),), words="10 N·m"), "M6"),
            TorqueRow("u", "Bearing cap", TorqueValue((49, 49), ((49, 49, "N·m"),), words="49 N·m"), "M10"),
        ),
    )
    said = {one.parts: [value.words for value in one.line.torques] for one in way_of(made, "3.1").lines}
    assert said["screws",] == ["10 N·m"]
