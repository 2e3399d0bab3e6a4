"""An order that respects every edge, as close to the given order as the edges allow; and the circles."""

import heapq
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence

Edges = Iterable[tuple[str, str]]


def order(ids: Sequence[str], edges: Edges) -> list[str]:
    """The ids with `before` ahead of `after` for every edge; ties keep the order in which the ids were given.

    Raises:
        ValueError: the edges run in a circle, or name an id that is not given; the message names them.
    """
    after, waits = _links(ids, edges)
    place = {name: number for number, name in enumerate(ids)}
    ready = [place[name] for name, count in waits.items() if not count]
    heapq.heapify(ready)
    found: list[str] = []
    while ready:
        name = ids[heapq.heappop(ready)]
        found.append(name)
        for then in after[name]:
            waits[then] -= 1
            if not waits[then]:
                heapq.heappush(ready, place[then])
    if len(found) < len(waits):
        raise ValueError("the edges run in a circle: " + ", ".join(sorted(n for n in waits if waits[n])))
    return found


def circles(ids: Sequence[str], edges: Edges) -> list[tuple[str, ...]]:
    """Every largest set of ids that wait for each other (or one that waits for itself), in the given order.

    These are the strongly connected components that hold an edge.

    Source: R. Tarjan, "Depth-first search and linear graph algorithms", SIAM J. Comput. 1 (1972) 146-160.
    """
    after, _ = _links(ids, edges)
    place = {name: number for number, name in enumerate(ids)}
    found: list[tuple[str, ...]] = []
    number: dict[str, int] = {}
    low: dict[str, int] = {}
    held: list[str] = []
    on_hold: set[str] = set()
    for root in place:
        work: list[tuple[str, Iterator[str]]] = [] if root in number else [(root, iter(after[root]))]
        while work:
            name, rest = work[-1]
            if name not in number:
                number[name] = low[name] = len(number)
                held.append(name)
                on_hold.add(name)
            then = next(rest, None)
            if then is None:
                work.pop()
                if work:
                    low[work[-1][0]] = min(low[work[-1][0]], low[name])
                if low[name] == number[name]:
                    group = _let_go(name, held, on_hold)
                    if len(group) > 1 or name in after[name]:
                        found.append(tuple(sorted(group, key=place.__getitem__)))
            elif then not in number:
                work.append((then, iter(after[then])))
            elif then in on_hold:
                low[name] = min(low[name], number[then])
    return sorted(found, key=lambda group: place[group[0]])


def _let_go(name: str, held: list[str], on_hold: set[str]) -> list[str]:
    group: list[str] = []
    while not group or group[-1] != name:
        group.append(held.pop())
        on_hold.discard(group[-1])
    return group


def _links(ids: Sequence[str], edges: Edges) -> tuple[dict[str, list[str]], dict[str, int]]:
    after: dict[str, list[str]] = defaultdict(list)
    waits = dict.fromkeys(ids, 0)
    for first, then in edges:
        if first not in waits or then not in waits:
            raise ValueError(f"an edge names an unknown id: {first} -> {then}")
        after[first].append(then)
        waits[then] += 1
    return after, waits
