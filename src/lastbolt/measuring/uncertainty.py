"""How far a reading can be trusted, after the GUM (JCGM 100:2008; clause numbers from memory)."""

import math
from collections.abc import Sequence
from functools import lru_cache
from statistics import NormalDist, mean, stdev
from typing import Literal

from msgspec import Struct

SHAPES = {"rectangular": math.sqrt(3), "triangular": math.sqrt(6), "u-shaped": math.sqrt(2)}
_MANY = 200


class Part(Struct, frozen=True):
    """One standard uncertainty, in the unit of the reading. `freedom` None: without end."""

    words: str
    value: float
    evaluated: Literal["A", "B"]
    freedom: float | None
    source: str


class Uncertainty(Struct, frozen=True):
    """All parts together. `freedom` is not cut to a whole number; `k` is."""

    standard: float
    expanded: float
    k: float
    freedom: float | None
    parts: tuple[Part, ...]


def repeats(values: Sequence[float]) -> Part:
    """The standard deviation of the mean of repeated readings; fewer than two raise ValueError."""
    if len(values) < 2:
        raise ValueError("how readings repeat is not told by fewer than two")
    value = stdev(values) / math.sqrt(len(values))
    return Part(f"{len(values)} repeats", value, "A", len(values) - 1, "JCGM 100:2008 4.2.3")


def two_readers(a: Sequence[float], b: Sequence[float]) -> Part:
    """Two people's readings of one thing: the larger of what all repeats tell and half their difference."""
    every = repeats([*a, *b])
    apart = abs(mean(a) - mean(b)) / 2
    source = "JCGM 100:2008 4.2.3 and, for the readers, H.5"
    if apart > every.value:
        return Part("two readers, who differ", apart, "A", 1, source)
    return Part(f"two readers, {len(a) + len(b)} readings", every.value, "A", every.freedom, source)


def half_width(a: float, shape: str = "rectangular") -> Part:
    """A value that is known to lie within `a` of the middle; an unknown shape raises ValueError."""
    if shape not in SHAPES or not a >= 0:
        raise ValueError(f"no such bound: {a} {shape}")
    return Part(f"within {a:g}, {shape}", a / SHAPES[shape], "B", None, "JCGM 100:2008 4.3.7 to 4.3.9")


def resolution(step: float) -> Part:
    """The last step of the scale."""
    part = half_width(step / 2)
    return Part(f"reads in steps of {step:g}", part.value, "B", None, "JCGM 100:2008 F.2.2.1")


def calibration(U: float, k: float = 2) -> Part:
    """An expanded uncertainty from a certificate."""
    if not (U >= 0 and k > 0):
        raise ValueError(f"no such certificate: U {U}, k {k}")
    return Part(f"calibration, {U:g} with k = {k:g}", U / k, "B", None, "JCGM 100:2008 4.3.3")


def combine(
    parts: Sequence[Part], sensitivities: Sequence[float] | None = None, level: float = 0.95
) -> Uncertainty:
    """Independent parts in one, with the degrees of freedom after Welch and Satterthwaite.

    Source: JCGM 100:2008 5.1.2, G.4.1; the freedom is cut to a whole number before k is taken, as in H.1.6
    """
    factors = sensitivities if sensitivities is not None else [1.0] * len(parts)
    shares = [abs(c) * part.value for c, part in zip(factors, parts, strict=True)]
    standard = math.sqrt(sum(share * share for share in shares))
    below = sum(
        (s / standard) ** 4 / p.freedom for s, p in zip(shares, parts, strict=True) if s and p.freedom
    )
    freedom = 1 / below if below > 0 else None
    k = _student(level, None if freedom is None else max(1, math.floor(freedom + 1e-9)))
    return Uncertainty(standard, k * standard, k, freedom, tuple(parts))


@lru_cache(maxsize=512)
def _student(level: float, freedom: int | None) -> float:
    """The two-sided quantile of Student's distribution (Abramowitz and Stegun 26.7.3, 26.7.4)."""
    if not 0 < level < 1:
        raise ValueError(f"no such level: {level}")
    if freedom is None or freedom > _MANY:
        z = NormalDist().inv_cdf((1 + level) / 2)
        return z if freedom is None else z + (z**3 + z) / (4 * freedom)
    low, high = 0.0, 1e6
    for _ in range(100):
        middle = (low + high) / 2
        low, high = (middle, high) if _inside(middle, freedom) < level else (low, middle)
    return (low + high) / 2


def _inside(t: float, freedom: int) -> float:
    angle = math.atan(t / math.sqrt(freedom))
    cos2 = math.cos(angle) ** 2
    odd = freedom % 2
    term = math.cos(angle) if odd else 1.0
    total = term if not odd or freedom > 1 else 0.0
    for n in range(2 + odd, freedom - 1, 2):
        term *= cos2 * (n - 1) / n
        total += term
    return 2 / math.pi * (angle + math.sin(angle) * total) if odd else math.sin(angle) * total
