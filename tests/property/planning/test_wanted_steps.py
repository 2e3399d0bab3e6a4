"""A plan against networkx where references want only some steps: closure, order and circles, step by step."""

import random

import networkx as nx
import pytest

from lastbolt.app.make_plan import make_plan
from lastbolt.words.machine import Machine, Reference
from lastbolt.words.plan import Plan
from planned import machine, proc, ref, step

Node = tuple[str, int]
"""A procedure and the number of its step; 0 is its opening."""
Want = tuple[str, int, str, int, int]
"""The procedure and step that refer, and the procedure with the first and last step that they want."""


class Book:
    """A random book: which procedures with how many steps, and who wants which steps of whom."""

    def __init__(self, seed: int) -> None:
        self.by_chance = random.Random(seed)
        count = self.by_chance.randint(2, 7)
        self.steps = {f"p{n}": self.by_chance.randint(1, 4) for n in range(count)}
        self.wants: list[Want] = []
        downwards = self.by_chance.random() < 0.5
        made = []
        for own, length in self.steps.items():
            others = [name for name in self.steps if name > own or (name < own and not downwards)]
            before = self._references(own, 0, others, 2)
            steps = [step(str(n), *self._references(own, n, others, 1)) for n in range(1, length + 1)]
            made.append(proc(own, *steps, before=tuple(before)))
        self.machine: Machine = machine(*made)

    def _references(self, own: str, place: int, others: list[str], most: int) -> list[Reference]:
        made = []
        for _ in range(self.by_chance.choice((0, 0, 1, most)) if others else 0):
            to = self.by_chance.choice(others)
            first, last, narrowed = 1, self.steps[to], self.by_chance.random() < 0.4
            if narrowed:
                first = self.by_chance.randint(1, last)
                last = self.by_chance.randint(first, last)
            self.wants.append((own, place, to, first, last))
            steps = (str(first), str(last)) if narrowed else None
            made.append(ref(f"r{len(self.wants)}", to, steps=steps))
        return made

    def graph(self, goal: str) -> "nx.DiGraph[Node]":
        """What the goal wants: the least set closed under every reference, each procedure a chain."""
        nodes = {(goal, n) for n in range(self.steps[goal] + 1)}
        while True:
            asked = [want for want in self.wants if want[:2] in nodes]
            more = {(to, n) for _, _, to, first, last in asked for n in (0, *range(first, last + 1))}
            if more <= nodes:
                break
            nodes |= more
        graph: nx.DiGraph[Node] = nx.DiGraph()
        for name in self.steps:
            nx.add_path(graph, sorted(node for node in nodes if node[0] == name))
        graph.add_edges_from(((to, last), (own, place)) for own, place, to, _, last in asked)
        return graph


def places(plan: Plan) -> dict[Node, int]:
    """Where each opening and step stands in the plan; every one is there once."""
    nodes = [(line.procedure, int(line.mark or 0)) for line in plan.lines]
    assert len(set(nodes)) == len(nodes)
    return {node: number for number, node in enumerate(nodes)}


def test_no_circle_among_sections_that_only_an_unwanted_step_leads_to() -> None:
    one, other = ref("r1", "other"), ref("r2", "one")
    part = proc("part", "1", step("2", ref("r3", "one")))
    book = machine(
        proc("goal", step("1", ref("r4", "part", steps=("1", "1")), ref("r5", "back")), "2"),
        part,
        proc("back", "1", before=(ref("r6", "goal"),)),
        proc("one", "1", before=(one,)),
        proc("other", "1", before=(other,)),
    )
    plan = make_plan(book, "goal")
    assert {line.procedure for line in plan.lines} == {"goal", "part", "back"}
    assert [item.members for item in plan.open] == [("goal", "back")]


@pytest.mark.parametrize("block", range(8))
def test_wanted_steps_agree_with_networkx(block: int) -> None:
    circular = 0
    for seed in range(block * 500, block * 500 + 500):
        book = Book(seed)
        plan, graph = make_plan(book.machine, "p0"), book.graph("p0")
        stands = places(plan)
        assert set(stands) == set(graph), seed
        groups = list(nx.strongly_connected_components(graph))
        group_of = {node: number for number, group in enumerate(groups) for node in group}
        for first, then in graph.edges:
            if group_of[first] != group_of[then] or first[0] == then[0]:
                assert stands[first] < stands[then], (seed, first, then)
        rings = sorted(tuple(sorted({name for name, _ in group})) for group in groups if len(group) > 1)
        assert sorted(one.members for one in plan.open if one.kind == "cycle") == rings, seed
        circular += bool(rings)
    assert circular > 50
