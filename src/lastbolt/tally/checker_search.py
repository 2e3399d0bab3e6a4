"""The checker's own search, for holders without a proof. It shares no code with the solver."""

from collections.abc import Iterable, Iterator
from itertools import combinations

from lastbolt.words.claims import ClaimSet

STEPS_AT_MOST = 50_000
"""How many narrowings of the bounds one check may make before it gives up."""

Bounds = dict[str, tuple[int, int]]
AtMost = tuple[tuple[tuple[str, int], ...], int]
"""Terms (each unknown once, coefficient not 0) whose sum is at most the number."""


class TooLarge(Exception):
    """The search would take too long to be worth its answer."""


def cheap_way_to_hold(claim_set: ClaimSet, holders: tuple[str, ...], limit: int) -> tuple[str, ...] | None:
    """Causes costing at most `limit` together with which these holders can add up to 1 or more, or None.

    Raises:
        TooLarge: after `STEPS_AT_MOST` narrowings.
    """
    steps = iter(range(STEPS_AT_MOST))
    bounds = {unknown.id: (unknown.lower, unknown.upper) for unknown in claim_set.unknowns}
    side = _at_most([(holder, 1) for holder in holders], ">=", 1)
    for causes in _largest_sets(claim_set, limit):
        rows = list(side)
        for claim in claim_set.claims:
            if not causes & set(claim.causes):
                rows += _at_most(claim.terms, claim.sense, claim.bound)
        if _possible(bounds, rows, steps):
            return tuple(sorted(causes))
    return None


def cheap_way_to_meet_all(
    conflicts: tuple[tuple[str, ...], ...], costs: dict[str, int], limit: int
) -> tuple[str, ...] | None:
    """Causes costing at most `limit` of which every conflict contains one, or None."""
    waiting: list[tuple[tuple[str, ...], int]] = [((), limit)]
    while waiting:
        causes, spare = waiting.pop()
        if spare < 0:
            continue
        not_met = next((conflict for conflict in conflicts if not {*conflict} & {*causes}), None)
        if not_met is None:
            return causes
        waiting += [((*causes, cause), spare - costs.get(cause, 0)) for cause in not_met]
    return None


def _largest_sets(claim_set: ClaimSet, limit: int) -> Iterator[frozenset[str]]:
    """Every set of causes within the limit that no further cause fits into; those at no cost are in each."""
    if limit < 0:
        return
    always = {cause.id for cause in claim_set.causes if cause.cost == 0}
    cost = {cause.id: cause.cost for cause in claim_set.causes if cause.cost > 0}
    for size in range(min(limit, len(cost)) + 1):
        for chosen in combinations(cost, size):
            spare = limit - sum(cost[cause] for cause in chosen)
            if spare >= 0 and not any(cost[other] <= spare for other in cost.keys() - set(chosen)):
                yield frozenset(always.union(chosen))


def _at_most(terms: Iterable[tuple[str, int]], sense: str, bound: int) -> list[AtMost]:
    total: dict[str, int] = {}
    for unknown, coefficient in terms:
        total[unknown] = total.get(unknown, 0) + coefficient
    plus = tuple((unknown, weight) for unknown, weight in total.items() if weight)
    minus = tuple((unknown, -weight) for unknown, weight in plus)
    return [(plus, bound)] * (sense != ">=") + [(minus, -bound)] * (sense != "<=")


def _possible(bounds: Bounds, rows: list[AtMost], steps: Iterator[int]) -> bool:
    """Whether some whole numbers within the bounds satisfy every row."""
    waiting = [bounds]
    while waiting:
        narrowed = _narrow(waiting.pop(), rows, steps)
        if narrowed is None:
            continue
        open_ones = [(high - low, unknown) for unknown, (low, high) in narrowed.items() if low < high]
        if not open_ones:
            return True
        _, unknown = min(open_ones)
        low, high = narrowed[unknown]
        middle = (low + high) // 2
        waiting += [{**narrowed, unknown: (middle + 1, high)}, {**narrowed, unknown: (low, middle)}]
    return False


def _narrow(bounds: Bounds, rows: list[AtMost], steps: Iterator[int]) -> Bounds | None:
    """Bounds without the values that some row alone rules out, or None if a row cannot be satisfied."""
    bounds, changed = dict(bounds), True
    while changed:
        changed = False
        if next(steps, None) is None:
            raise TooLarge
        for terms, most in rows:
            spare = most - sum(w * bounds[u][0] if w > 0 else w * bounds[u][1] for u, w in terms)
            if spare < 0:
                return None
            for unknown, weight in terms:
                low, high = bounds[unknown]
                if weight > 0:
                    high = min(high, low + spare // weight)
                else:
                    low = max(low, high - spare // -weight)
                if (low, high) != bounds[unknown]:
                    bounds[unknown], changed = (low, high), True
    return bounds
