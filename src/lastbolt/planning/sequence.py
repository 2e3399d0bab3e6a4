"""An order that respects every edge, as close to the given order as the edges allow."""

import heapq
from collections import defaultdict
from collections.abc import Iterable, Sequence


def order(ids: Sequence[str], edges: Iterable[tuple[str, str]]) -> list[str]:
    """The ids with `before` ahead of `after` for every edge; ties keep the order in which the ids were given.

    Raises:
        ValueError: the edges run in a circle, or name an id that is not given; the message names them.
    """
    place = {name: number for number, name in enumerate(ids)}
    after: dict[str, list[str]] = defaultdict(list)
    waits = dict.fromkeys(ids, 0)
    for first, then in edges:
        if first not in place or then not in place:
            raise ValueError(f"an edge names an unknown id: {first} -> {then}")
        after[first].append(then)
        waits[then] += 1
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
    if len(found) < len(ids):
        raise ValueError("the edges run in a circle: " + ", ".join(sorted(n for n in ids if waits[n])))
    return found
