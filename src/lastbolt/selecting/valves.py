"""Shims for a head's worth of valves: those at hand are moved between valves before new ones are bought."""

import math
from collections.abc import Mapping, Sequence
from typing import Literal

from msgspec import Struct

from lastbolt.selecting.shims import Ends, Shim, met_probability

_OFF, _MOVED, _NEW, _UNMET, _NEVER = 1, 10**10, 10**13, 10**16, 10**20
"""Each outweighs any sum of those before it: far from the middle, moved, new, none fits, forbidden."""


class ValveShim(Struct, frozen=True):
    """One valve's shim; `came_from` the valve or the stock's name. Where none fits, the numbers are None."""

    valve: str
    thickness_mm: float | None
    from_: Literal["stays", "moved", "new", "none fits"]
    came_from: str
    lash_after_mm: float | None
    probability: float | None


class Assignment(Struct, frozen=True):
    """Every valve's shim, how many are new, and the valves for which there is none."""

    valves: tuple[ValveShim, ...]
    new_parts: int
    unmet: tuple[str, ...]
    words: str


def matrix(
    lashes: Mapping[str, float], shims_now: Mapping[str, float], target: Ends | Mapping[str, Ends],
    stock: Sequence[Shim], uncertainty: float | None = None,
) -> Assignment:  # fmt: skip
    """The exact best: fewest valves unmet, then fewest new parts, then fewest moved, then nearest the middle.

    Lash after = lash + shim now - shim chosen; mm. Lashes are taken at the warmth the source says.
    """
    _refuse_nonsense(lashes, shims_now, stock, uncertainty)
    names = list(lashes)
    wanted = {v: target[v] if isinstance(target, Mapping) else target for v in names}
    shared = [("now", v, Shim(v, shims_now[v])) for v in names]
    shared += [
        ("new", s.name, s) for s in stock if s.count is not None for _ in range(min(s.count, len(names)))
    ]
    endless = [("new", s.name, s) for s in stock if s.count is None]
    costs, own = [], []
    for valve in names:
        room = lashes[valve] + shims_now[valve]
        best = min(endless, key=lambda one: _cost(valve, one, room, wanted[valve]), default=None)
        if best is not None and _cost(valve, best, room, wanted[valve]) >= _NEVER:
            best = None
        own.append(best)
        alone = _UNMET if best is None else _cost(valve, best, room, wanted[valve])
        row = [_cost(valve, one, room, wanted[valve]) for one in shared]
        costs.append(row + [alone if other == valve else _NEVER for other in names])
    found = []
    for n, column in enumerate(_cheapest(costs)):
        one = shared[column] if column < len(shared) else own[n]
        room = lashes[names[n]] + shims_now[names[n]]
        found.append(_told(names[n], one, room, wanted[names[n]], uncertainty))
    new = sum(one.from_ == "new" for one in found)
    unmet = tuple(one.valve for one in found if one.from_ == "none fits")
    words = f"{new} new, {sum(one.from_ == 'moved' for one in found)} moved"
    words += f"; none fits {', '.join(unmet)}." if unmet else "."
    return Assignment(tuple(found), new, unmet, words)


_Source = tuple[str, str, Shim]


def _refuse_nonsense(
    lashes: Mapping[str, float], now: Mapping[str, float], stock: Sequence[Shim], u: float | None
) -> None:
    if set(lashes) != set(now):
        raise ValueError("every valve needs its lash and the shim it has now")
    thick = [*now.values(), *(shim.thickness_mm for shim in stock)]
    if not all(map(math.isfinite, (*lashes.values(), *thick, u or 0.0))) or min(thick, default=1) <= 0:
        raise ValueError("what was given is no number that can be measured")


def _cost(valve: str, one: _Source, room: float, wanted: Ends) -> int:
    kind, name, shim = one
    left = room - shim.thickness_mm
    low, high = wanted.low, wanted.high
    if (low is not None and left < low - 1e-9) or (high is not None and left > high + 1e-9):
        return _NEVER
    off = 0.0 if low is None or high is None else abs(left - (low + high) / 2)
    work = _NEW if kind == "new" else 0 if name == valve else _MOVED
    return work + round(off * 1e6) * _OFF


def _told(valve: str, one: _Source | None, room: float, wanted: Ends, u: float | None) -> ValveShim:
    if one is None:
        return ValveShim(valve, None, "none fits", "", None, None)
    kind, name, shim = one
    left = room - shim.thickness_mm
    likely = None if u is None else met_probability(left, wanted, math.hypot(u, shim.uncertainty_mm))
    how: Literal["stays", "moved", "new"] = "new" if kind == "new" else "stays" if name == valve else "moved"
    return ValveShim(valve, shim.thickness_mm, how, name, left, likely)


def _cheapest(costs: Sequence[Sequence[int]]) -> list[int]:
    """For each row its column, at the least cost in sum: shortest paths with potentials, in whole numbers."""
    rows, columns = len(costs), len(costs[0]) if costs else 0
    u, v, row_of = [0] * (rows + 1), [0] * (columns + 1), [0] * (columns + 1)
    for row in range(1, rows + 1):
        row_of[0], at = row, 0
        least, way = [_NEVER * 10**6] * (columns + 1), [0] * (columns + 1)
        done = [False] * (columns + 1)
        while row_of[at]:
            done[at] = True
            for j in range(1, columns + 1):
                cost = costs[row_of[at] - 1][j - 1] - u[row_of[at]] - v[j]
                if not done[j] and cost < least[j]:
                    least[j], way[j] = cost, at
            following = min((j for j in range(1, columns + 1) if not done[j]), key=least.__getitem__)
            step = least[following]
            for j in range(columns + 1):
                if done[j]:
                    u[row_of[j]] += step
                    v[j] -= step
                else:
                    least[j] -= step
            at = following
        while at:
            row_of[at], at = row_of[way[at]], way[at]
    chosen = {row_of[j] - 1: j - 1 for j in range(1, columns + 1) if row_of[j]}
    return [chosen[n] for n in range(rows)]
