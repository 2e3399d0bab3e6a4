"""Shims from stock for a float, a lash or a preload, with the uncertainty carried through."""

import math
from bisect import bisect_left, bisect_right
from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import combinations_with_replacement
from statistics import NormalDist
from typing import Protocol

from msgspec import Struct

_SAME = 1e-9


class Ends(Protocol):
    """Anything with a low and a high end, in mm; None: no end on that side."""

    @property
    def low(self) -> float | None:
        """The lower end."""

    @property
    def high(self) -> float | None:
        """The upper end."""


class Limits(Struct, frozen=True):
    """Both ends of what is wanted, mm; None: no end on that side."""

    low: float | None
    high: float | None


class Convention(Struct, frozen=True):
    """How a source counts, in its own words: `factor` +1 where more adds, -1 where more takes away."""

    words: str
    factor: float


class Shim(Struct, frozen=True):
    """A shim in stock. `count` None: as many as wanted; `uncertainty_mm`: standard, of one shim."""

    name: str
    thickness_mm: float
    count: int | None = 1
    uncertainty_mm: float = 0.0


class Choice(Struct, frozen=True):
    """Shims that meet the target; `probability` that they truly do, None where no uncertainty is known."""

    shims: tuple[Shim, ...]
    total_mm: float
    left_mm: float
    uncertainty_mm: float | None
    probability: float | None
    words: str


def _factor(convention: Convention | None) -> float:
    """+1 or -1; with no convention the shims fill the measured free space: a fact of geometry, no default."""
    factor = -1.0 if convention is None else convention.factor
    if abs(factor) != 1:
        raise ValueError(f"a source counts with +1 or -1, not {factor}")
    return factor


def thickness_wanted(measured: float, target: Ends, convention: Convention | None = None) -> Limits:
    """The total thickness that meets the target, mm.

    >>> thickness_wanted(1.5, Limits(0.25, 0.5))
    Limits(low=1.0, high=1.25)
    """
    factor = _factor(convention)
    ends = [None if end is None else (end - measured) * factor for end in (target.low, target.high)]
    return Limits(*(ends if factor > 0 else reversed(ends)))


def choose(
    measured: float, target: Ends, stock: Sequence[Shim], most: int = 3,
    uncertainty: float | None = None, convention: Convention | None = None,
) -> tuple[Choice, ...]:  # fmt: skip
    """All packs of at most `most` shims that meet the target: fewest first, then nearest its middle.

    An empty pack is among them where what was measured is good without a shim.
    """
    _refuse_nonsense(measured, target, stock, uncertainty)
    factor = _factor(convention)
    found: list[tuple[tuple[float, float, float, tuple[int, ...]], Choice]] = []
    wanted = thickness_wanted(measured, target, convention)
    for picks in _packs(wanted, stock, most):
        if not _there(picks, stock):
            continue
        choice = _choice(measured, factor, [stock[n] for n in picks], target, uncertainty)
        if _meets(choice.left_mm, target):
            off = round(_off_middle(choice.left_mm, target), 9)
            found.append(((len(picks), off, -(choice.probability or 0.0), picks), choice))
    return tuple(choice for _, choice in sorted(found, key=lambda pair: pair[0]))


def _packs(wanted: Limits, stock: Sequence[Shim], most: int) -> Iterator[tuple[int, ...]]:
    """Packs that may make what is wanted, as places in the stock: all but the thickest are tried, and the
    thickest looked up."""
    by_size = sorted(range(len(stock)), key=lambda n: stock[n].thickness_mm)
    sizes = [stock[n].thickness_mm for n in by_size]
    low = -math.inf if wanted.low is None else wanted.low - 2 * _SAME
    high = math.inf if wanted.high is None else wanted.high + 2 * _SAME
    if low <= 0 <= high:
        yield ()
    for size in range(1, most + 1):
        for thinner in combinations_with_replacement(range(len(sizes)), size - 1):
            so_far = math.fsum(sizes[n] for n in thinner)
            first = max(thinner[-1] if thinner else 0, bisect_left(sizes, low - so_far))
            for last in range(first, bisect_right(sizes, high - so_far)):
                yield tuple(sorted(by_size[n] for n in (*thinner, last)))


def _refuse_nonsense(measured: float, target: Ends, stock: Sequence[Shim], uncertainty: float | None) -> None:
    numbers = [measured, uncertainty or 0.0, target.low or 0.0, target.high or 0.0]
    if not all(map(math.isfinite, numbers)) or (uncertainty or 0.0) < 0:
        raise ValueError("what was given is no number that can be measured")
    if target.low is None and target.high is None:
        raise ValueError("no target is known")
    if target.low is not None and target.high is not None and target.low > target.high:
        raise ValueError("the ends of the target run backwards")
    for shim in stock:
        if not (0 < shim.thickness_mm < math.inf and 0 <= shim.uncertainty_mm < math.inf):
            raise ValueError(f"no such shim: {shim.name}, {shim.thickness_mm} mm")


def _there(picks: Sequence[int], stock: Sequence[Shim]) -> bool:
    counts = ((stock[n].count, used) for n, used in Counter(picks).items())
    return all(count is None or used <= count for count, used in counts)


def _choice(
    measured: float, factor: float, shims: Sequence[Shim], target: Ends, uncertainty: float | None
) -> Choice:
    total = math.fsum(shim.thickness_mm for shim in shims)
    left = measured + factor * total
    names = " + ".join(shim.name for shim in shims) or "no shim"
    words = f"{names}: {total:.3f} mm, leaves {left:.3f} mm"
    if uncertainty is None:
        return Choice(tuple(shims), total, left, None, None, words + ".")
    spread = math.hypot(uncertainty, *(shim.uncertainty_mm for shim in shims))
    likely = met_probability(left, target, spread)
    words += f" (standard uncertainty {spread:.3f} mm)."
    return Choice(tuple(shims), total, left, spread, likely, words)


def _meets(left: float, target: Ends) -> bool:
    low = target.low is None or left >= target.low - _SAME
    return low and (target.high is None or left <= target.high + _SAME)


def _off_middle(left: float, target: Ends) -> float:
    """How far from the middle; 0 where the target has one end only, and so no middle."""
    if target.low is None or target.high is None:
        return 0.0
    return abs(left - (target.low + target.high) / 2)


def met_probability(left: float, target: Ends, uncertainty: float) -> float:
    """How probable it is that what is left truly meets the target (JCGM 106:2012 clause 7, from memory)."""
    if uncertainty == 0:
        return float(_meets(left, target))
    true = NormalDist(left, uncertainty)
    low = 0.0 if target.low is None else true.cdf(target.low)
    return (1.0 if target.high is None else true.cdf(target.high)) - low


def pinion(old: float, new: float, old_mark: float, new_mark: float, convention: Convention) -> float:
    """The pack for a new pinion: the old, moved by the marks as the source counts, less the wider bearing.

    `old` is the pack that was in, `new` how much wider the new bearing is; all in one unit. A factor
    of +1: a more positive mark wants a thicker pack. There is no default, published sources use both.

    >>> round(pinion(1.50, 0.0, -0.05, 0.05, Convention("add the difference", 1)), 3)
    1.6
    """
    return old + _factor(convention) * (new_mark - old_mark) - new
