"""Visit every state and every set of causes of a small claim set.

Two ways, so that each can judge the other:

- `visit`: every state, every set of causes. Small claim sets only.
- `cheapest_by_causes`: sets of causes in order of cost; for each, look for one state by trying values, one
  unknown after another, and turning back when a claim in force can no longer come true. Middling claim sets.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations, product

from lastbolt.words.claims import Claim, ClaimSet, Settings


@dataclass(frozen=True)
class Side:
    """What explains one side (free or held): the least cost, and every subset-minimal set of causes."""

    cost: int | None
    minimal: frozenset[frozenset[str]]


@dataclass(frozen=True)
class Truth:
    """The whole answer for a small claim set."""

    free: Side
    held: Side


def is_true(claim: Claim, state: dict[str, int]) -> bool:
    """Whether the claim's relation holds in this state."""
    left = sum(coefficient * state[unknown] for unknown, coefficient in claim.terms)
    if claim.sense == "=":
        return left == claim.bound
    return left <= claim.bound if claim.sense == "<=" else left >= claim.bound


def states(claim_set: ClaimSet) -> Iterator[dict[str, int]]:
    """Every state within the bounds."""
    ids = [unknown.id for unknown in claim_set.unknowns]
    ranges = [range(unknown.lower, unknown.upper + 1) for unknown in claim_set.unknowns]
    for values in product(*ranges):
        yield dict(zip(ids, values, strict=True))


def holds(claim_set: ClaimSet, state: dict[str, int]) -> bool:
    """Whether anything holds in this state: H >= 1."""
    return sum(state[holder] for holder in claim_set.holders) >= 1


def subsets(ids: list[str]) -> Iterator[frozenset[str]]:
    """Every subset, small ones first."""
    for size in range(len(ids) + 1):
        for chosen in combinations(ids, size):
            yield frozenset(chosen)


def cost_of(claim_set: ClaimSet, causes: frozenset[str]) -> int:
    """Sum of the costs of these causes."""
    return sum(cause.cost for cause in claim_set.causes if cause.id in causes)


def visit(claim_set: ClaimSet) -> Truth:
    """The answer, by every state and every set of causes."""
    needs: dict[bool, set[frozenset[frozenset[str]]]] = {False: set(), True: set()}
    for state in states(claim_set):
        broken = [claim for claim in claim_set.claims if not is_true(claim, state)]
        needs[holds(claim_set, state)].add(frozenset(frozenset(claim.causes) for claim in broken))
    return Truth(free=_side(claim_set, needs[False]), held=_side(claim_set, needs[True]))


def _side(claim_set: ClaimSet, needs: set[frozenset[frozenset[str]]]) -> Side:
    """A set of causes explains a side if, in some state of it, every broken claim has one of its causes."""
    ids = [cause.id for cause in claim_set.causes]
    minimal: list[frozenset[str]] = []
    for chosen in subsets(ids):
        if any(smaller <= chosen for smaller in minimal):
            continue
        if any(all(chosen & causes for causes in need) for need in needs):
            minimal.append(chosen)
    costs = [cost_of(claim_set, chosen) for chosen in minimal]
    return Side(cost=min(costs) if costs else None, minimal=frozenset(minimal))


def verdict_of(free_cost: int | None, held_cost: int | None, settings: Settings) -> str:
    """The verdict of the table in docs/tally.md; None means that nothing explains that side."""
    if held_cost is None:
        return "not shown"
    if free_cost is None:
        return "held"
    margin = held_cost - free_cost
    if margin >= settings.least_margin and free_cost <= settings.most_mistakes:
        return "free"
    return "held" if margin <= -1 else "not shown"


# ---- the second way ----------------------------------------------------------------------------------


def find_state(claim_set: ClaimSet, causes: frozenset[str], *, held: bool) -> dict[str, int] | None:
    """A state of this side that fits when exactly these causes may have happened, or None."""
    in_force = [claim for claim in claim_set.claims if not causes & set(claim.causes)]
    ones = tuple((holder, 1) for holder in claim_set.holders)
    side = Claim(id="side", kind="side", terms=ones, sense=">=" if held else "=", bound=1 if held else 0)
    relations = [_Relation(claim) for claim in [side, *in_force]]
    return _search(claim_set, relations)


class _Relation:
    """A claim, its sum so far, and how far the unknowns not yet set can move it."""

    def __init__(self, claim: Claim) -> None:
        self.sense, self.bound = claim.sense, claim.bound
        self.weight: dict[str, int] = {}
        for unknown, coefficient in claim.terms:
            self.weight[unknown] = self.weight.get(unknown, 0) + coefficient

    def can_hold(self, set_values: dict[str, int], bounds: dict[str, tuple[int, int]]) -> bool:
        least = most = 0
        for unknown, weight in self.weight.items():
            low, high = bounds[unknown]
            if unknown in set_values:
                low = high = set_values[unknown]
            least += min(weight * low, weight * high)
            most += max(weight * low, weight * high)
        return not (self.sense != ">=" and least > self.bound) and not (
            self.sense != "<=" and most < self.bound
        )


def _search(claim_set: ClaimSet, relations: list[_Relation]) -> dict[str, int] | None:
    bounds = {unknown.id: (unknown.lower, unknown.upper) for unknown in claim_set.unknowns}
    touching = {
        unknown: [relation for relation in relations if unknown in relation.weight] for unknown in bounds
    }
    order = list(bounds)
    values: dict[str, int] = {}
    if not all(relation.can_hold(values, bounds) for relation in relations):
        return None

    def go(depth: int) -> bool:
        if depth == len(order):
            return True
        unknown = order[depth]
        for value in range(bounds[unknown][0], bounds[unknown][1] + 1):
            values[unknown] = value
            if all(relation.can_hold(values, bounds) for relation in touching[unknown]) and go(depth + 1):
                return True
        del values[unknown]
        return False

    return dict(values) if go(0) else None


def cheapest_by_causes(claim_set: ClaimSet, *, held: bool, up_to: int) -> tuple[int, frozenset[str]] | None:
    """The least cost (and one set of causes) that explains a side, or None if it is more than `up_to`.

    Causes of cost 0 may all happen at once: more causes never make a side harder to explain.
    """
    at_no_cost = frozenset(cause.id for cause in claim_set.causes if cause.cost == 0)
    paid = [cause.id for cause in claim_set.causes if cause.cost > 0]
    if any(cause.cost > 1 for cause in claim_set.causes):
        raise ValueError("counts causes, so each must cost 0 or 1")
    for size in range(up_to + 1):
        for chosen in combinations(paid, size):
            if find_state(claim_set, frozenset(chosen) | at_no_cost, held=held) is not None:
                return size, frozenset(chosen)
    return None
