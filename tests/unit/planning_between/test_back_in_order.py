"""The order of the way back, and what stands at its lines: behind joining, torques out of tables, names."""

import networkx as nx
import pytest
from hypothesis import given
from hypothesis import strategies as st
from small_book import M6X20, names

from lastbolt.planning.after_joining import behind_joining
from lastbolt.planning.said_names import one_word_fastener, with_count_and_size
from lastbolt.planning.table_torques import with_table_torques
from lastbolt.words.back import BackLine
from lastbolt.words.machine import MODEL_SCHEMA, Machine, Procedure, TorqueRow, TorqueValue
from lastbolt.words.plan import Line, RequiredBy
from lastbolt.words.quantity import Kind

JOIN = Procedure("6.5", "6.5", "Joining the gearcase", "join", ("gearcase",))
FLOAT = Procedure("6.8", "6.8", "Setting the end float", "check")
GAUGE = Procedure("6.3", "6.3", "Checking the end float", "check")
NUT = TorqueRow(
    "t1", "Pinion nut", TorqueValue((110.0, 110.0), ((110.0, 110.0, "N·m"),), words="110 N·m"), "M20x1.5"
)
M6 = TorqueRow("t2", "M6", TorqueValue((9.0, 9.0), ((9.0, 9.0, "N·m"),), words="9 N·m"), "M6")


def size_of(row: TorqueRow) -> Kind:
    return Kind(None, row.thread)


def opening(procedure: Procedure, by: str = "") -> BackLine:
    return BackLine(
        Line(procedure.id, "opening", procedure.id, RequiredBy("step", by), words=procedure.title)
    )


def step(procedure: Procedure, mark: int, words: str) -> BackLine:
    name = f"{procedure.id}/{mark}"
    return BackLine(Line(name, "step", procedure.id, RequiredBy("part of", procedure.id), words=words))


def ids(lines: list[BackLine]) -> list[str]:
    return [one.line.id for one in lines]


BOOK = {one.id: one for one in (JOIN, FLOAT, GAUGE)}


@pytest.mark.parametrize("words", ["After joining, check it following 6.3.", "Once joined, check it (6.3)."])
def test_what_is_done_after_joining_stands_behind_it_with_what_it_asks_for(words: str) -> None:
    lines = [
        opening(FLOAT), step(FLOAT, 1, "Measure the depth."), opening(GAUGE, "6.8/2"),
        step(GAUGE, 3, "Set the dial gauge."), step(FLOAT, 2, words), opening(JOIN), step(JOIN, 1, "Join."),
    ]  # fmt: skip
    assert ids(behind_joining(lines, BOOK)) == [
        "6.8", "6.8/1", "6.5", "6.5/1", "6.3", "6.3/3", "6.8/2",
    ]  # fmt: skip


def test_without_a_section_that_joins_nothing_moves() -> None:
    lines = [opening(FLOAT), step(FLOAT, 2, "After joining, check it.")]
    assert behind_joining(lines, BOOK) == lines


@given(st.permutations(range(4)), st.integers(0, 3))
def test_no_line_is_lost_and_each_section_keeps_its_order(order: list[int], after: int) -> None:
    sections = [JOIN, FLOAT, GAUGE, Procedure("7.3", "7.3", "Fitting the pump", "install")]
    lines = []
    for number in order:
        one = sections[number]
        said = "After joining, look." if number == after else "Look."
        lines += [opening(one), step(one, 1, "Do it."), step(one, 2, said)]
    moved = behind_joining(lines, {one.id: one for one in sections})
    assert sorted(ids(moved)) == sorted(ids(lines))
    graph = nx.DiGraph([(f"{one.id}/1", f"{one.id}/2") for one in sections])
    if after != 0:
        graph.add_edge("6.5/2", f"{sections[after].id}/2")
    assert nx.is_directed_acyclic_graph(graph)
    place = {name: number for number, name in enumerate(ids(moved))}
    assert all(place[before] < place[behind] for before, behind in graph.edges)


def fits(words: str, how: str = "told", name: str = "pinion nut", kind: Kind | None = None) -> BackLine:
    mention = names(name, "install", kind=kind or Kind("nut"))
    line = Line("6.5/4", "step", "6.5", RequiredBy("part of", "6.5"), words=words, mentions=(mention,))
    return BackLine(line, how)  # type: ignore[arg-type]


def torques(*lines: BackLine) -> list[list[str]]:
    machine = Machine(MODEL_SCHEMA, "", procedures=(JOIN,), torques=(NUT, M6))
    return [
        [value.words for value in one.line.torques] for one in with_table_torques(lines, machine, size_of)
    ]


def test_a_torque_that_a_line_leaves_to_a_table_stands_at_the_line() -> None:
    assert torques(fits("Fit the pinion nut. Tighten to the torque given in 8.1.")) == [["110 N·m"]]
    assert torques(fits("Start the pinion nut by hand.")) == [[]]


def test_a_proposed_line_has_the_makers_general_torque_of_its_size() -> None:
    assert torques(fits("Put back: screws.", "proposed", "screws", M6X20)) == [["9 N·m"]]
    assert torques(fits("Tighten the screws.", "told", "screws", M6X20)) == [[]]


def test_names_say_how_many_and_which_size() -> None:
    assert with_count_and_size("screws", [names("screws", count=4, kind=M6X20)]) == "4 screws M6 x 20"
    assert with_count_and_size("cover", [names("cover", count=1)]) == "cover"
    assert with_count_and_size("screw M6x20", [names("screw M6x20", count=2, kind=M6X20)]) == "2 screw M6x20"
    assert one_word_fastener("screws")
    assert not one_word_fastener("case screws")
