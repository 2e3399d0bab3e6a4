"""The certificate of `free`: conflicts that share no cause, each with weights that add up to a contradiction.

The format is described in docs/tally.md, "Certificate". Everything put into a certificate is added up
here once more, on the claim set itself and in fractions, before it is handed out.
"""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import lcm

from lastbolt.tally.exchange import bits
from lastbolt.tally.model import Model
from lastbolt.tally.oracle import Conflict, Found
from lastbolt.tally.search import Search
from lastbolt.words.claims import Certificate, HolderProof

PACKING_STEPS = 4000
"""How many choices of disjoint conflicts are tried for one group of holders."""

MOST_TO_SHORTEN = 16
"""A conflict of more causes than this is kept as found: hardly any gets shorter, and no reader gains."""

Weights = tuple[tuple[str, int, int], ...]


@dataclass(frozen=True)
class Proven:
    """A conflict ready to be written down: causes (bits), weights of claims, and the weight of `held`."""

    causes: int
    claims: tuple[tuple[int, Fraction], ...]
    held: Fraction


def certificate(search: Search, free: tuple[int, Sequence[tuple[str, int]]], needed: int) -> Certificate:
    """Proofs that every group of holders costs at least `needed`; what resists is left to exhaustive search.

    `free` is the witness: causes (bits) and state. That a search found no explanation of held below
    `needed` must already be known.
    """
    model = search.oracle.model
    names = [c.id for c in model.claims.causes]
    disjoint: list[HolderProof] = []
    crossing: list[HolderProof] = []
    known: dict[int, tuple[list[Proven], bool]] = {}
    for group, holders in enumerate(model.group_holders):
        start, moved = search.exchange.swap_to(group)
        if start not in known:
            apart = _disjoint_conflicts(search, start, needed)
            known[start] = (apart, True) if apart else (_crossing_conflicts(search, start, needed), False)
        conflicts, are_disjoint = known[start]
        proof = _written(model, [_move(search, c, moved) for c in conflicts], holders)
        if proof is not None:
            (disjoint if are_disjoint else crossing).append(proof)
    return Certificate(
        free_causes=tuple(names[i] for i in bits(free[0])),
        free_state=tuple(free[1]),
        proofs=tuple(disjoint),
        exhaustive_up_to=None if len(disjoint) == len(model.groups) else needed - 1,
        crossing=tuple(crossing),
    )


def _written(model: Model, conflicts: list[Proven], holders: tuple[str, ...]) -> HolderProof | None:
    """The proof in the claim set's own names, if there is one and all of it adds up there."""
    names = [c.id for c in model.claims.causes]
    weights = [w for c in conflicts if (w := _weights(model, c, holders)) is not None]
    if not conflicts or len(weights) < len(conflicts):
        return None
    return HolderProof(
        holders, tuple(tuple(names[i] for i in bits(c.causes)) for c in conflicts), tuple(weights)
    )


def _disjoint_conflicts(search: Search, side: int, needed: int) -> list[Proven]:
    """Disjoint conflicts of a group of holders that together cost at least `needed`; empty: none found."""
    search.disjoint(side, search.weak)
    best = _packing(search, side, needed)
    if best is None:
        # Searching this group on its own turns up the conflicts that greedy choice passed over.
        for _ in search.ordered([side], search.weak, PACKING_STEPS):
            break
        best = _packing(search, side, needed)
    if best is None:
        for bound in list(_usable(search, side)):
            search.disjoint(side, search.weak | bound.causes)
        best = _packing(search, side, needed)
    if best is None:
        return []
    return [_proven(search, side, _shorter(search, side, c)) for c in best]


def _proven(search: Search, side: int, conflict: Conflict) -> Proven:
    side_row = search.oracle.side_row(side)
    claims = len(search.oracle.model.claims.claims)
    return Proven(
        conflict.causes,
        tuple((i, w) for i, w in conflict.rows if i < claims),
        next((w for i, w in conflict.rows if i == side_row), Fraction(0)),
    )


def _crossing_conflicts(search: Search, side: int, needed: int) -> list[Proven]:
    """Conflicts that no causes of a cost below `needed` meet all of, as few as leaving out finds; or none."""
    chosen = _usable(search, side)
    if _met_below(search, [c.causes for c in chosen], needed):
        return []
    # Large conflicts are tried first: what is left reads better.
    for conflict in reversed(list(chosen)):
        without = [c for c in chosen if c is not conflict]
        if not _met_below(search, [c.causes for c in without], needed):
            chosen = without
    return [_proven(search, side, c) for c in chosen]


def _met_below(search: Search, conflicts: list[int], needed: int) -> bool:
    """Whether some set of causes of a cost below `needed` has a cause in every conflict."""
    open_sets = [(0, 0)]
    while open_sets:
        mask, cost = open_sets.pop()
        unmet = next((c for c in conflicts if not c & mask), None)
        if unmet is None:
            return True
        for i in bits(unmet):
            if cost + search.costs[i] < needed:
                open_sets.append((mask | 1 << i, cost + search.costs[i]))
    return False


def _usable(search: Search, side: int) -> list[Conflict]:
    """Known conflicts of a side that were added up exactly and rest on no weak witness, shortest first."""
    known = [
        c
        for (own, _), c in search.pool.proofs.items()
        if (own == side or c.bare) and c.rows and not c.causes & search.weak
    ]
    unique = {c.causes: c for c in known}
    return sorted(unique.values(), key=lambda c: (c.causes.bit_count(), c.causes))


def _packing(search: Search, side: int, needed: int) -> list[Conflict] | None:
    """Pairwise disjoint conflicts worth `needed`, with as few causes altogether as a bounded search finds."""
    conflicts = _usable(search, side)
    worth = [min((search.costs[i] for i in bits(c.causes)), default=needed) for c in conflicts]
    best: list[int] | None = None
    best_size = -1
    steps = 0

    def extend(first: int, chosen: list[int], used: int, value: int, size: int) -> None:
        nonlocal best, best_size, steps
        if best is not None and size >= best_size:
            return
        if value >= needed:
            best, best_size = list(chosen), size
            return
        for i in range(first, len(conflicts)):
            steps += 1
            if steps > PACKING_STEPS:
                return
            if not conflicts[i].causes & used:
                extend(
                    i + 1,
                    [*chosen, i],
                    used | conflicts[i].causes,
                    value + worth[i],
                    size + conflicts[i].causes.bit_count(),
                )

    extend(0, [], 0, 0, 0)
    return None if best is None else [conflicts[i] for i in best]


def _shorter(search: Search, side: int, conflict: Conflict) -> Conflict:
    """A conflict within the given one from which no single cause can be left out, if it is not long."""
    if conflict.causes.bit_count() > MOST_TO_SHORTEN:
        return conflict
    everything = (1 << len(search.costs)) - 1
    needed = 0
    while loose := conflict.causes & ~needed:
        one = loose & -loose
        answer = search.oracle.ask(side, everything & ~(conflict.causes & ~one))
        if isinstance(answer, Conflict) and answer.rows:
            conflict = answer
        elif isinstance(answer, Found):
            # What this state breaks, other causes may excuse as well: none of those can be left out either.
            needed |= one | search.oracle.excusing_all(answer, conflict.causes)
        else:
            needed |= one
    return conflict


def _move(search: Search, conflict: Proven, moved: dict[int, int]) -> Proven:
    """The same conflict after an exchange of places."""
    if not moved:
        return conflict
    first = search.exchange.claim_vertex(0)
    return Proven(
        search.exchange.move_causes(conflict.causes, moved),
        tuple((moved.get(first + j, first + j) - first, w) for j, w in conflict.claims),
        conflict.held,
    )


def _weights(model: Model, conflict: Proven, holders: tuple[str, ...]) -> Weights | None:
    """The weights on claims, bounds and `held`, if on the claim set itself they add up below zero."""
    claims = model.claims
    # Times their common denominator the weights are whole numbers, which add up faster and read better.
    scale = lcm(conflict.held.denominator, *(w.denominator for _, w in conflict.claims))
    held = int(conflict.held * scale)
    left: dict[str, int] = defaultdict(int)
    right = held
    written: list[tuple[str, int, int]] = []
    for j, weight in ((j, int(w * scale)) for j, w in conflict.claims):
        claim = claims.claims[j]
        if model.cause_masks[j] & ~conflict.causes:
            return None
        if claim.sense != "=" and (weight > 0) != (claim.sense == "<="):
            return None
        written.append((f"claim:{claim.id}", weight, 1))
        right += weight * claim.bound
        for unknown, a in claim.terms:
            left[unknown] += weight * a
    if held > 0:
        return None
    if held:
        written.append(("held", held, 1))
        for unknown in holders:
            left[unknown] += held
    for unknown, rest in left.items():
        if rest:
            bounds = model.unknown(unknown)
            written.append((f"lower:{unknown}" if rest > 0 else f"upper:{unknown}", -rest, 1))
            right -= rest * (bounds.lower if rest > 0 else bounds.upper)
    return tuple(written) if right < 0 else None
