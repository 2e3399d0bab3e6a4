"""Least-cost sets of causes that explain a side, in order, with proof.

A best-first search over sets of causes (implicit hitting sets, after Reiter 1987 and de Kleer & Williams
1987): every explanation must contain a cause of every conflict. A set that meets all conflicts known so
far is put to the oracle, which answers with a state (it explains) or with one more conflict. Sets come up
in order of a bound on cost and weight, so what comes first is least, and the order itself is the proof.
All counting is in whole numbers.
"""

import heapq
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field
from math import log

from lastbolt.tally.exchange import Exchange, bits
from lastbolt.tally.oracle import FREE, HELD, Conflict, Found, Oracle

NEAR_CERTAIN = 1e-9
"""Assumed chances are kept this far from 0 and 1 when they are turned into weights."""

FINISHED = -1
"""In the queue, in place of a size: a set that explains and waits for those before it in the order."""


class Stopped(Exception):
    """A limit was reached before the question was settled; the text says which."""


@dataclass(frozen=True)
class Bound:
    """A conflict with the least that hitting it costs."""

    mask: int
    size: int
    cost: int
    weight: float


@dataclass
class Pool:
    """Conflicts known so far: those of each side, and those that hold on every side."""

    everywhere: list[Bound] = field(default_factory=list)
    of_side: dict[int, list[Bound]] = field(default_factory=lambda: defaultdict(list))
    proofs: dict[tuple[int, int], Conflict] = field(default_factory=dict)
    """The full conflict by (side, causes); those that hold everywhere stand under the side they came from."""


class Search:
    """Explanations of one claim set; what was learnt for one question is kept for the next."""

    def __init__(self, oracle: Oracle, exchange: Exchange, pool: Pool | None = None) -> None:
        causes = oracle.model.claims.causes
        self.oracle = oracle
        self.exchange = exchange
        self.costs = [c.cost for c in causes]
        self.weights = [weight_of(c.chance) for c in causes]
        self.weak = sum(1 << i for i, c in enumerate(causes) if c.cost == 0)
        self.pool = pool or Pool()
        self.nodes = 0
        self.reached = 0
        """What the last ordered search has not tried costs at least this."""
        self._states: dict[tuple[int, int], Found] = {}
        self._refill = sum(w for w in self.weights if w < 0)

    def cost(self, mask: int) -> int:
        """What a set of causes costs."""
        return sum(self.costs[i] for i in bits(mask))

    def weight(self, mask: int) -> float:
        """The weight by which explanations of one cost are put in order."""
        return sum(self.weights[i] for i in bits(mask))

    def sides_of_held(self) -> list[int]:
        """One group of holders for each kind that exchanging places cannot turn into another."""
        groups = range(len(self.oracle.model.groups))
        return list(dict.fromkeys(self.exchange.common_form(g, 0)[0] for g in groups))

    def explains(self, side: int, mask: int) -> Found | None:
        """A state if these causes explain the side; else None, and the pool has a conflict not met."""
        if any(not b.mask & mask for b in self._bounds(side)):
            return None
        found = self._states.get((side, mask))
        if found is None:
            answer = self.oracle.ask(side, mask)
            if isinstance(answer, Conflict):
                self.learn(side, answer)
                return None
            if not isinstance(answer, Found):
                raise Stopped(answer.why)
            found = self._states[side, mask] = answer
        return found

    def learn(self, side: int, conflict: Conflict) -> None:
        """Keep a conflict."""
        mask = conflict.causes
        bound = Bound(
            mask,
            mask.bit_count(),
            min((self.costs[i] for i in bits(mask)), default=0),
            min((max(self.weights[i], 0.0) for i in bits(mask)), default=0.0),
        )
        kept = self.pool.everywhere if conflict.bare else self.pool.of_side[side]
        place = next((i for i, b in enumerate(kept) if b.size > bound.size), len(kept))
        kept.insert(place, bound)
        self.pool.proofs[side, mask] = conflict

    def _bounds(self, side: int) -> Iterable[Bound]:
        yield from self.pool.of_side[side]
        yield from self.pool.everywhere

    def disjoint(self, side: int, excused: int) -> list[Conflict]:
        """Conflicts of the side that share no cause with each other or with `excused`."""
        found: list[Conflict] = []
        while True:
            answer = self.oracle.ask(side, excused)
            if not isinstance(answer, Conflict):
                return found
            self.learn(side, answer)
            found.append(answer)
            if not answer.causes:
                return found
            excused |= answer.causes

    def ahead(self, side: int, mask: int) -> tuple[int, float, Bound | None]:
        """At least what completing `mask` still costs and weighs, and the conflict to meet next."""
        used, cost, weight, packed = 0, 0, 0.0, 0
        meet: int = -1
        union, chosen = 0, None
        for bound in self._bounds(side):
            if bound.mask & mask:
                continue
            if chosen is None or bound.size < chosen.size:
                chosen = bound
            meet &= bound.mask
            union |= bound.mask
            if not bound.mask & used:
                used |= bound.mask
                cost += bound.cost
                weight += bound.weight
                packed += 1
        if packed == 1 and not meet:
            # No single cause meets all of them, so at least two more are needed.
            cheapest = sorted(self.costs[i] for i in bits(union))[:2]
            cost = max(cost, sum(cheapest))
        return cost, weight, chosen

    def ordered(
        self, sides: list[int], base: int, most_nodes: int, most_cost: int | None = None
    ) -> Iterable[tuple[int, int, Found]]:
        """(side, causes, state) of sets that explain, cheapest first; `base` is excused and costs nothing.

        Nothing that contains a set given earlier for the same side is given again. Sides and sets come in
        their common form. Ends when there are no more.
        Raises: Stopped at a limit, or where all that is left costs more than `most_cost`.
        """
        self.reached = 0
        heap: list[tuple[int, float, int, int, int]] = []
        seen = set()
        given: dict[int, list[int]] = defaultdict(list)
        finished: dict[tuple[int, int], Found] = {}
        for side in sides:
            self.disjoint(side, base)
            heapq.heappush(heap, (0, self._refill, 0, side, 0))
        budget = self.nodes + most_nodes
        while heap:
            cost, weight, size, side, mask = heapq.heappop(heap)
            self.reached = cost
            if most_cost is not None and cost > most_cost:
                raise Stopped("what is left needs too many mistakes")
            if size == FINISHED:
                yield side, mask, finished[side, mask]
                continue
            more, weighs, chosen = self.ahead(side, mask | base)
            if chosen is None and (state := self.explains(side, mask | base)) is not None:
                # Its bound allowed for causes more likely than not; complete, it waits its turn.
                given[side].append(mask)
                finished[side, mask] = state
                heapq.heappush(heap, (self.cost(mask), self.weight(mask), FINISHED, side, mask))
                continue
            if chosen is None:
                more, weighs, chosen = self.ahead(side, mask | base)
            assert chosen is not None
            bound = (self.cost(mask) + more, self.weight(mask) + weighs + self._refill)
            if not chosen.mask:
                continue
            if bound[0] > cost or (bound[0] == cost and bound[1] > weight + 1e-9):
                heapq.heappush(heap, (*bound, size, side, mask))
                continue
            self._count(budget)
            for i in bits(chosen.mask):
                child = self.exchange.common_form(side, mask | 1 << i)
                if child in seen or any(g & child[1] == g for g in given[child[0]]):
                    continue
                seen.add(child)
                key = (max(cost, self.cost(child[1])), self.weight(child[1]) + self._refill)
                heapq.heappush(heap, (*key, size + 1, *child))

    def _count(self, budget: int) -> None:
        self.nodes += 1
        if self.nodes > budget:
            raise Stopped("too many sets of causes to try")
        if self.oracle.limit is not None and self.oracle.limit.over():
            raise Stopped(self.oracle.limit.words)
        if self.oracle.spent_s > self.oracle.seconds:
            raise Stopped(f"not settled within {self.oracle.seconds:g} s")

    def least(
        self, sides: list[int], most_nodes: int, base: int | None = None
    ) -> tuple[int, int, int, Found] | None:
        """(cost, side, causes, state) of a cheapest explanation; None: there is none.

        The causes of `base`, if not given all weak witnesses, are excused at no cost.
        Raises: Stopped at a limit.
        """
        for side, mask, state in self.ordered(sides, self.weak if base is None else base, most_nodes):
            return self.cost(mask), side, mask, state
        return None

    def minimal(self, side: int, mask: int) -> bool:
        """Whether every cause is needed: without any one of them the side (FREE or HELD) fails."""
        return all(self.explains(side, mask & ~(1 << i)) is None for i in bits(mask))

    def listed(self, sides: list[int], most_nodes: int, most_cost: int) -> Iterable[tuple[int, Found]]:
        """(causes, state) of the subset-minimal explanations in order; of those alike by exchange, one.

        Raises: Stopped at a limit.
        """
        whole = FREE if sides == [FREE] else HELD
        seen = set()
        for _, mask, state in self.ordered(sides, 0, most_nodes, most_cost):
            common = self.exchange.common_form(FREE, mask)[1]
            if common not in seen and self.minimal(whole, mask):
                seen.add(common)
                yield mask, state


def weight_of(chance: float) -> float:
    """ln((1 - chance) / chance), with chances of 0 and 1 taken as nearly so."""
    p = min(max(chance, NEAR_CERTAIN), 1 - NEAR_CERTAIN)
    return log((1 - p) / p)
