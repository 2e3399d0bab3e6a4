"""Crosswise over a circle of screws: the legacy cross pattern of flanges, or opposite and then far away."""

import math
import tomllib
from collections.abc import Sequence
from functools import lru_cache
from importlib import resources

LEGACY = "ASME PCC-1, legacy cross pattern (from memory)"
PRACTICE = "common practice, no source"


def crosswise(places: Sequence[tuple[str, float, float]]) -> tuple[list[str], str, str]:
    """The places (name, x, y) in crosswise order, how it was made in words, and its source.

    Number one is the first place listed; the way round is that of the second. So a circle whose places are
    numbered one after the other gets the pattern in its own numbers.
    """
    around = _around(places)
    names = [places[index][0] for index in around]
    count = len(names)
    if count >= 4 and count % 4 == 0:
        return [names[i] for i in legacy_cross(count)], "crosswise, by fours, over the circle", LEGACY
    return (
        [names[i] for i in _opposite(count)],
        "crosswise over the circle, opposite before neighbour",
        PRACTICE,
    )


def once_round(places: Sequence[tuple[str, float, float]]) -> list[str]:
    """The places one after the other, from the first, in the way of the second."""
    return [places[index][0] for index in _around(places)]


def legacy_cross(count: int) -> list[int]:
    """Positions, from 0, of the legacy cross pattern for a multiple of four.

    Fours at right angles: the first, its opposite, then the two between; the next four start where the table
    says (crosswise.toml), so that load comes on evenly.

    >>> [place + 1 for place in legacy_cross(8)]
    [1, 5, 3, 7, 2, 6, 4, 8]
    """
    quarter = count // 4
    return [start + turn * quarter for start in _starts(quarter) for turn in (0, 2, 1, 3)]


def _starts(quarter: int) -> list[int]:
    """Which screw of the first quarter each four starts from, counted from 0."""
    text = (resources.files("lastbolt.tightening") / "crosswise.toml").read_text("utf-8")
    known = _table(text)["starts"].get(str(quarter))
    if known is not None:
        return [int(start) - 1 for start in known]
    return [start for first in range(3) for start in range(first, quarter, 3)]


@lru_cache(maxsize=1)
def _table(text: str) -> dict[str, dict[str, list[int]]]:
    return tomllib.loads(text)


def _around(places: Sequence[tuple[str, float, float]]) -> list[int]:
    """Indices of the places once round their centre, from the first, in the way of the second."""
    count = max(len(places), 1)
    x = sum(place[1] for place in places) / count
    y = sum(place[2] for place in places) / count
    turns = [math.atan2(place[2] - y, place[1] - x) for place in places]
    if not turns:
        return []
    rel = [round((turn - turns[0]) % math.tau, 9) % round(math.tau, 9) for turn in turns]
    if len(rel) > 1 and rel[1] > math.pi + 1e-6:
        rel = [(math.tau - turn) % math.tau if turn else 0.0 for turn in rel]
    return sorted(range(len(rel)), key=lambda index: (rel[index], index))


def _opposite(count: int) -> list[int]:
    """Positions of a circle: the first, the one opposite, then the one farthest from all done, and so on.

    With an odd number there is no opposite: a star, each time to the one most nearly across.

    >>> _opposite(5), _opposite(6)
    ([0, 2, 4, 1, 3], [0, 3, 1, 4, 2, 5])
    """
    if count % 2:
        step = count // 2
        return [place * step % count for place in range(count)] if count else []
    half = count // 2
    line: list[int] = []
    free = list(range(half))
    while free:
        start = free[0] if not line else max(free, key=lambda one: (_gap(one, line, count), -one))
        free.remove(start)
        line += [start, start + half]
    return line


def _gap(one: int, done: list[int], count: int) -> int:
    """How many steps round the circle to the nearest one done."""
    return min(min((one - other) % count, (other - one) % count) for other in done)
