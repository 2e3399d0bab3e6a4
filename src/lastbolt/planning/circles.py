"""Sections that need each other: the circles of a closure, with the words that close them."""

from collections.abc import Iterable, Iterator
from itertools import pairwise

from msgspec import Struct

from lastbolt.planning.book import Need, binding
from lastbolt.planning.reach import Asker, Reach, reach_from
from lastbolt.planning.sequence import circles
from lastbolt.words.machine import Procedure, Reference


class Circle(Struct, frozen=True):
    """The procedures that wait for each other, in document order, and the references among them."""

    members: tuple[str, ...]
    references: tuple[Reference, ...]


class _Edge(Struct, frozen=True):
    before: str
    after: str
    reference: Reference | None = None


def circles_of(goals: tuple[str, ...], asker: Asker) -> tuple[Circle, ...]:
    """Every circle within reach of the goals, step by step: a reference back to finished steps is none.

    The nodes are the opening and the wanted steps of each procedure, chained in the source's order; a ticked
    procedure is one node.
    """
    reach = reach_from(goals, asker)
    edges = list(_edges(_all_within(goals, asker, reach), asker, reach, frozenset(goals)))
    nodes = list(dict.fromkeys(node for edge in edges for node in (edge.before, edge.after)))
    owner = {node: node.partition("\n")[0] for node in nodes}
    found = []
    for group in circles(nodes, [(edge.before, edge.after) for edge in edges]):
        inside = set(group)
        closing = [e.reference for e in edges if e.reference and e.before in inside and e.after in inside]
        members = sorted({owner[node] for node in group}, key=asker.book.place.__getitem__)
        found.append(Circle(tuple(members), tuple({one.id: one for one in closing}.values())))
    return tuple(sorted(found, key=lambda circle: asker.book.place[circle.members[0]]))


def _all_within(goals: tuple[str, ...], asker: Asker, reach: Reach) -> tuple[str, ...]:
    """Every procedure that the goals reach, ticked or not, by the steps that stand in the plan."""
    seen = dict.fromkeys(goals)
    waiting = list(goals)
    while waiting:
        name = waiting.pop()
        some = None if name in asker.done.procedures else reach.some.get(name)
        wanted = None if some is None else some | reach.behind.get(name, frozenset())
        for reference, place in _binding(asker.book.procedures[name], asker):
            if wanted is not None and place >= 0 and place not in wanted:
                continue
            for need in asker.asked(reference).needs:
                if need.procedure not in seen:
                    seen[need.procedure] = None
                    waiting.append(need.procedure)
    return tuple(seen)


def _binding(procedure: Procedure, asker: Asker) -> Iterator[tuple[Reference, int]]:
    """The binding references with the place of their step; -1 for the set-up."""
    for reference in binding(procedure.before, asker.done):
        yield reference, -1
    for place, step in enumerate(procedure.steps):
        if step.references and asker.step_applies(step) != "no":
            for reference in binding(step.references, asker.done):
                yield reference, place


def _edges(names: Iterable[str], asker: Asker, reach: Reach, goals: frozenset[str]) -> Iterator[_Edge]:
    """Chains within procedures, and for every reference: its last step before the one that needs it."""
    nodes: dict[str, dict[int, str]] = {}
    for name in names:
        procedure = asker.book.procedures[name]
        one = name not in goals and (name not in reach.live or name in asker.done.procedures)
        wanted = reach.some.get(name)
        places = [] if one else [n for n in range(len(procedure.steps)) if wanted is None or n in wanted]
        nodes[name] = {-1: f"{name}\n", **{place: f"{name}\n{place}" for place in places}}
        if one:
            nodes[name].update(dict.fromkeys(range(len(procedure.steps)), f"{name}\n"))
        chain = list(dict.fromkeys(nodes[name].values()))
        yield from (_Edge(first, then) for first, then in pairwise(chain))
    for name in names:
        for reference, place in _binding(asker.book.procedures[name], asker):
            if place in nodes[name]:
                for need in asker.asked(reference).needs:
                    yield _Edge(_last(need, nodes[need.procedure], asker), nodes[name][place], reference)


def _last(need: Need, nodes: dict[int, str], asker: Asker) -> str:
    last = asker.book.span(need).last
    return nodes.get(last, nodes[-1])
