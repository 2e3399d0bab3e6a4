"""Order, circles and closure against networkx, on random graphs."""

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lastbolt.app.make_plan import make_plan
from lastbolt.planning.sequence import circles, order
from lastbolt.words.machine import Machine
from planned import machine, proc, ref, step

MOST = 12
Pairs = set[tuple[int, int]]


def name(number: int) -> str:
    return f"p{number:02d}"


@st.composite
def graphs(draw: st.DrawFn, acyclic: bool) -> tuple[int, Pairs]:
    """Edges (before, after); the numbering follows no edge, so that document order and edges quarrel."""
    count = draw(st.integers(1, MOST))
    rank = draw(st.permutations(range(count)))
    number = st.integers(0, count - 1)
    pairs = draw(st.sets(st.tuples(number, number), max_size=3 * count))
    if acyclic:
        pairs = {(a, b) if rank[a] < rank[b] else (b, a) for a, b in pairs if a != b}
    return count, pairs


def graph_of(count: int, pairs: Pairs) -> "nx.DiGraph[str]":
    graph: nx.DiGraph[str] = nx.DiGraph()
    graph.add_nodes_from(name(n) for n in range(count))
    graph.add_edges_from((name(a), name(b)) for a, b in sorted(pairs))
    return graph


def in_setup(count: int, pairs: Pairs) -> Machine:
    """Every edge a required condition of a procedure."""
    needs = {n: [a for a, b in sorted(pairs) if b == n] for n in range(count)}
    return machine(*(
        proc(name(n), "1", "2", before=tuple(ref(f"r{n}-{a}", name(a)) for a in needs[n]))
        for n in range(count)
    ))  # fmt: skip


@given(graphs(acyclic=True))
@settings(max_examples=200, deadline=None)
def test_order_is_the_least_linear_extension(graph: tuple[int, Pairs]) -> None:
    theirs = graph_of(*graph)
    ids = list(theirs)
    assert order(ids, theirs.edges) == list(nx.lexicographical_topological_sort(theirs, key=ids.index))


@given(graphs(acyclic=False))
@settings(max_examples=200, deadline=None)
def test_circles_are_the_strongly_connected_components(graph: tuple[int, Pairs]) -> None:
    theirs = graph_of(*graph)
    expected = {
        frozenset(group)
        for group in nx.strongly_connected_components(theirs)
        if len(group) > 1 or theirs.has_edge(*(list(group) * 2))
    }
    found = circles(list(theirs), theirs.edges)
    assert {frozenset(group) for group in found} == expected
    assert len(found) == len(expected)
    if expected:
        with pytest.raises(ValueError, match="circle"):
            order(list(theirs), theirs.edges)


@given(graphs(acyclic=True), st.data())
@settings(max_examples=200, deadline=None)
def test_closure_is_goal_and_ancestors_and_respects_every_edge(
    graph: tuple[int, Pairs], data: st.DataObject
) -> None:
    theirs = graph_of(*graph)
    goal = data.draw(st.sampled_from(sorted(theirs)))
    plan = make_plan(in_setup(*graph), goal)
    opened = [line.procedure for line in plan.lines if line.kind == "opening"]
    assert set(opened) == nx.ancestors(theirs, goal) | {goal}
    assert len(opened) == len(set(opened))
    for before, after in theirs.subgraph(opened).edges:
        assert opened.index(before) < opened.index(after)
    marks = [(line.procedure, line.mark) for line in plan.lines if line.kind == "step"]
    assert marks == [(one, mark) for one in opened for mark in ("1", "2")], "whole, and in the source's order"
    assert plan.complete


@given(graphs(acyclic=False), st.data())
@settings(max_examples=200, deadline=None)
def test_circles_are_named_and_lose_nothing(graph: tuple[int, Pairs], data: st.DataObject) -> None:
    theirs = graph_of(*graph)
    goal = data.draw(st.sampled_from(sorted(theirs)))
    plan = make_plan(in_setup(*graph), goal)
    needed = theirs.subgraph(nx.ancestors(theirs, goal) | {goal})
    expected = {
        frozenset(group)
        for group in nx.strongly_connected_components(needed)
        if len(group) > 1 or needed.has_edge(*(list(group) * 2))
    }
    named = [item for item in plan.open if item.kind == "cycle"]
    assert {frozenset(item.members) for item in named} == expected
    assert len(named) == len(expected)
    assert all(item.citations for item in named)
    opened = [line.procedure for line in plan.lines if line.kind == "opening"]
    assert sorted(opened) == sorted(needed)
    loose = [edge for edge in needed.edges if not any(set(edge) <= group for group in expected)]
    assert all(opened.index(before) < opened.index(after) for before, after in loose)
    assert plan == make_plan(in_setup(*graph), goal)


@st.composite
def bound_to_steps(draw: st.DrawFn) -> tuple[Machine, "nx.DiGraph[str]", str]:
    """Procedures whose single steps need ranges of steps of others; and the same as a graph of steps."""
    count = draw(st.integers(1, 7))
    sizes = [draw(st.integers(1, 5)) for _ in range(count)]
    graph: nx.DiGraph[str] = nx.DiGraph()
    made = []
    for n in range(count):
        marks = [str(m) for m in range(1, sizes[n] + 1)]
        nx.add_path(graph, [f"{name(n)}.{mark}" for mark in marks])
        graph.add_nodes_from(f"{name(n)}.{mark}" for mark in marks)
        steps = []
        for mark in marks:
            references = []
            for other in draw(st.sets(st.integers(0, count - 1), max_size=2)):
                first = draw(st.integers(1, sizes[other]))
                last = draw(st.integers(first, sizes[other]))
                references.append(ref(f"r{n}.{mark}-{other}", name(other), steps=(str(first), str(last))))
                for wanted in range(first, last + 1):
                    graph.add_edge(f"{name(other)}.{wanted}", f"{name(n)}.{mark}", needs=True)
            steps.append(step(mark, *references))
        made.append(proc(name(n), *steps))
    return machine(*made), graph, draw(st.sampled_from([name(n) for n in range(count)]))


def wanted_steps(graph: "nx.DiGraph[str]", goal: str) -> set[str]:
    """The goal's steps and whatever steps those need, by the references alone (chains need nothing)."""
    needs = nx.DiGraph((a, b) for a, b, needed in graph.edges(data="needs") if needed)
    own = {node for node in graph if node.partition(".")[0] == goal}
    return own.union(*(nx.ancestors(needs, node) for node in own if node in needs))


@given(bound_to_steps())
@settings(max_examples=300, deadline=None)
def test_steps_stand_before_the_step_that_needs_them(case: tuple[Machine, "nx.DiGraph[str]", str]) -> None:
    made, graph, goal = case
    wanted = wanted_steps(graph, goal)
    kept = nx.transitive_closure(graph.subgraph(()).copy())
    kept.add_nodes_from(wanted)
    kept.add_edges_from((a, b) for a, b, needed in graph.edges(data="needs") if needed and {a, b} <= wanted)
    for one in {node.partition(".")[0] for node in wanted}:
        nx.add_path(kept, sorted(node for node in wanted if node.partition(".")[0] == one))
    plan = make_plan(made, goal)
    lines = [line.step for line in plan.lines if line.kind == "step"]
    assert sorted(lines) == sorted(wanted), "nothing that nothing requires, and nothing twice"
    groups = [set(g) for g in nx.strongly_connected_components(kept)]
    place = {line: n for n, line in enumerate(lines)}
    for before, after in kept.edges:
        if not any({before, after} <= group for group in groups if before != after):
            assert before == after or place[before] < place[after]
    circular = any(len(group) > 1 for group in groups) or bool(list(nx.selfloop_edges(kept)))
    assert any(item.kind == "cycle" for item in plan.open) == circular
    for one in {node.partition(".")[0] for node in wanted}:
        own = [line for line in lines if line.partition(".")[0] == one]
        assert own == sorted(own), "the source's own order stands even in a circle"
