"""The order of a plan is one of the orders that are possible at all, and those are as many as is known.

Counts of linear extensions: tests/reference/data/assembly_graph_examples.csv (the two-chain grid: Catalan
numbers, OEIS A000108; the zigzag: Euler's numbers, OEIS A000111; the N of four), written there from memory.
networkx counts them anew.
"""

import csv
import re
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path

import networkx as nx
import pytest

from lastbolt.app.make_plan import make_plan
from lastbolt.planning.sequence import order
from planned import machine, proc, ref

DATA = Path(__file__).parent / "data" / "assembly_graph_examples.csv"
Edges = list[tuple[str, str]]


def published(name: str) -> list[int]:
    """The counts that the table cites for these orders; what stands in brackets or names a source is none."""
    with DATA.open(encoding="utf-8") as lines:
        said = next(row["linear_extensions"] for row in csv.DictReader(lines) if row["id"] == name)
    counts = re.search(r"\d+(?:, \d+)*", said)
    assert counts
    return [int(count) for count in counts.group().split(", ")]


def grid(size: int) -> tuple[list[str], Edges]:
    """Two chains, each link of the second behind its fellow in the first."""
    first, second = [f"a{n}" for n in range(size)], [f"b{n}" for n in range(size)]
    chains = [*pairwise(first), *pairwise(second)]
    return [*first, *second], [*chains, *zip(first, second, strict=True)]


def zigzag(size: int) -> tuple[list[str], Edges]:
    """x0 < x1 > x2 < x3 ..."""
    names = [f"x{n}" for n in range(size)]
    return names, [(names[n], names[n + 1]) if n % 2 == 0 else (names[n + 1], names[n])
                   for n in range(size - 1)]  # fmt: skip


def cases() -> Iterator[tuple[str, list[str], Edges, int]]:
    for size, count in enumerate(published("LE-grid2xn"), 1):
        yield f"grid 2 x {size}", *grid(size), count
    for size, count in enumerate(published("LE-zigzag"), 1):
        yield f"zigzag of {size}", *zigzag(size), count
    yield "N", ["a", "b", "c", "d"], [("a", "c"), ("b", "c"), ("b", "d")], published("LE-N")[0]


CASES = list(cases())


def test_the_table_is_whole() -> None:
    assert len(CASES) == 5 + 7 + 1


@pytest.mark.parametrize(("names", "edges", "count"), [c[1:] for c in CASES], ids=[c[0] for c in CASES])
def test_the_order_is_one_of_the_known_number(names: list[str], edges: Edges, count: int) -> None:
    graph: nx.DiGraph[str] = nx.DiGraph()
    graph.add_nodes_from(names)
    graph.add_edges_from(edges)
    possible = {tuple(one) for one in nx.all_topological_sorts(graph)}
    assert len(possible) == count
    assert tuple(order(names, edges)) in possible
    assert tuple(order(names[::-1], edges)) in possible


@pytest.mark.parametrize(("names", "edges"), [c[1:3] for c in CASES], ids=[c[0] for c in CASES])
def test_a_plan_for_such_a_machine_is_one_of_them_too(names: list[str], edges: Edges) -> None:
    needs = {name: [before for before, after in edges if after == name] for name in names}
    made = machine(
        proc("goal", "1", before=tuple(ref(f"r {name}", name) for name in names)),
        *(proc(name, "1", before=tuple(ref(f"r {name} {one}", one) for one in needs[name]))
          for name in names),
    )  # fmt: skip
    opened = [line.procedure for line in make_plan(made, "goal").lines if line.kind == "opening"]
    graph: nx.DiGraph[str] = nx.DiGraph()
    graph.add_nodes_from(names)
    graph.add_edges_from(edges)
    assert tuple(opened[:-1]) in {tuple(one) for one in nx.all_topological_sorts(graph)}
