"""Explanations in which some of the holders hold, asked of the engine that already knows the whole joint.

Places that can be exchanged are worked out once; what was learnt for one is moved to the others.
"""

from collections.abc import Collection, Iterator

from lastbolt.tally.exchange import bits
from lastbolt.tally.model import lift
from lastbolt.tally.oracle import FREE, HELD, Found
from lastbolt.tally.search import Search, Stopped
from lastbolt.words.claims import Explanation, Group

State = tuple[tuple[str, int], ...]


class HeldThere:
    """Answers about groups of holders of one claim set."""

    def __init__(self, search: Search, most_nodes: int) -> None:
        self.search = search
        self.nodes = most_nodes
        self._alike: dict[tuple[int, int, int], list[int]] = {}

    def cheapest(self, holders: Collection[str], most: int, below: int) -> tuple[tuple[Group, ...], bool]:
        """At most `most` minimal explanations, of a cost under `below`, in which one of these holds; and
        whether no limit stopped the search. Holders that can only be asked about together with others:
        none, stopped.
        """
        wanted = set(holders)
        model = self.search.oracle.model
        sides = [g for g, own in enumerate(model.group_holders) if not wanted.isdisjoint(own)]
        if any(not wanted.issuperset(model.group_holders[g]) for g in sides):
            return (), False
        try:
            masks = self._masks(sides, most, below)
            return tuple(group for mask in masks for group in self._group(sides, mask)), True
        except Stopped:
            return (), False

    def _masks(self, sides: list[int], most: int, below: int) -> list[int]:
        if len(sides) != 1:
            return self._searched(sides, most, below)
        start, moved = self.search.exchange.swap_to(sides[0])
        key = (start, most, below)
        if key not in self._alike:
            self._alike[key] = self._searched([start], most, below)
        return [self.search.exchange.move_causes(mask, moved) for mask in self._alike[key]]

    def _searched(self, sides: list[int], most: int, below: int) -> list[int]:
        """Sets of causes to all of which some side of these needs every cause."""
        search, exchange = self.search, self.search.exchange
        starts = {exchange.common_form(side, 0)[0]: side for side in reversed(sides)}
        found: list[int] = []
        for side, common, _ in search.ordered(list(starts), 0, self.nodes):
            if search.cost(common) >= below:
                break
            own = starts[exchange.common_form(side, 0)[0]]
            mask = exchange.move_causes(common, exchange.swap(side, own))
            if mask not in found and self._minimal(sides, mask):
                found.append(mask)
                if len(found) == most:
                    break
        return found

    def _minimal(self, sides: list[int], mask: int) -> bool:
        """Whether without any one of the causes none of the sides can be explained."""
        return all(self.search.explains(side, mask & ~(1 << i)) is None for i in bits(mask) for side in sides)

    def _group(self, sides: list[int], mask: int) -> Iterator[Group]:
        search = self.search
        for side in sides:
            state = search.explains(side, mask)
            if state is None:
                continue
            checked = checked_state(search, HELD, mask, search.oracle.tidy(side, mask) or state)
            if checked is not None:
                causes = tuple(search.oracle.model.claims.causes[i].id for i in bits(mask))
                first = Explanation(causes, search.cost(mask), search.weight(mask), checked)
                yield Group(first, 1, tuple((cause,) for cause in causes))
                return


def checked_state(search: Search, side: int, mask: int, state: Found) -> State | None:
    """The state in the claim set's own unknowns (only those not 0), if it fits there."""
    model = search.oracle.model
    values = lift(model, list(state.values))
    unknowns = model.claims.unknowns
    if any(not u.lower <= v <= u.upper for u, v in zip(unknowns, values, strict=True)):
        return None
    there = [(number, value) for number, value in enumerate(values) if value]
    held = sum(value for number, value in there if unknowns[number].id in model.holder_ids)
    if (held != 0) if side == FREE else (held < 1):
        return None
    totals = [0] * len(model.claims.claims)
    for number, value in there:
        for row, coefficient in model.stands_in[number]:
            totals[row] += coefficient * value
    for claim, total, own in zip(model.claims.claims, totals, model.cause_masks, strict=True):
        if own & mask:
            continue
        if (claim.sense != ">=" and total > claim.bound) or (claim.sense != "<=" and total < claim.bound):
            return None
    return tuple((unknowns[number].id, value) for number, value in there)
