"""A torque printed in two or more units: do they say the same? Asked before either is used."""

import math
import re
from collections.abc import Sequence

from msgspec import Struct

KGF_N, LBF_N, FOOT_M = 9.80665, 4.4482216152605, 0.3048
_LENGTHS = {"m": 1.0, "cm": 0.01, "mm": 0.001, "ft": FOOT_M, "in": FOOT_M / 12}
_FORCES = {
    "n": 1.0, "cn": 0.01, "kn": 1000.0, "dan": 10.0,
    "kgf": KGF_N, "kg": KGF_N, "kp": KGF_N, "gf": KGF_N / 1000,
    "lbf": LBF_N, "lb": LBF_N, "lbs": LBF_N, "ozf": LBF_N / 16, "oz": LBF_N / 16,
}  # fmt: skip
SLACK = 0.015
"""Makers round: this part of the value is let pass beside the last printed figure (common practice)."""


class Agreement(Struct, frozen=True):
    """Whether all printed units say one torque. `difference_fraction`: the largest, of the first one; None
    where a unit is not known."""

    agree: bool
    difference_fraction: float | None
    words: str


def newton_metres(unit: str) -> float | None:
    """How many N·m one of this unit is; None: no unit of torque that is known.

    Source: SI brochure and NIST SP 811 (kgf, lbf, foot).

    >>> newton_metres("N·m"), round(newton_metres("ft-lb"), 4), newton_metres("bar")
    (1.0, 1.3558, None)
    """
    text = re.sub(
        r"[\s·⋅•.\-–‐‑*×/()]+", " ", unit.strip().lower().replace("foot", "ft").replace("inch", "in")
    )
    text = text.replace("pounds", "lb").replace("pound", "lb").replace("newton", "n").replace("metres", "m")
    text = (
        text.replace("metre", "m").replace("meters", "m").replace("meter", "m").replace("feet", "ft").strip()
    )
    whole = text.replace(" ", "")
    for force, newton in _FORCES.items():
        for length, metre in _LENGTHS.items():
            if whole in (force + length, length + force) and whole not in ("mn", "mmn", "cmn"):
                return newton * metre
    return None


def both_units(printed: Sequence[tuple[float, float, str]]) -> Agreement:
    """Whether the values printed for one torque agree, as (low, high, unit) each.

    They agree where each end differs by no more than their last printed figures and rounding allow.

    >>> both_units(((25, 25, "N·m"), (18, 18, "lbf·ft"))).agree
    True
    >>> both_units(((25, 25, "N·m"), (81, 81, "lbf·ft"))).agree
    False
    """
    units = [newton_metres(unit) for _, _, unit in printed]
    unknown = [unit for (_, _, unit), factor in zip(printed, units, strict=True) if factor is None]
    if unknown:
        return Agreement(
            False, None, f"not compared: {', '.join(map(repr, unknown))} is no known unit of torque"
        )
    if any(not (math.isfinite(low) and math.isfinite(high) and 0 < low <= high) for low, high, _ in printed):
        return Agreement(
            False, None, "not compared: a value is not above 0, or its ends are the wrong way round"
        )
    if len(printed) < 2:
        return Agreement(True, 0.0, "one unit only: nothing to compare")
    ends = [
        (low * factor, high * factor, _half(low) * factor, _half(high) * factor)
        for (low, high, _), factor in zip(printed, units, strict=True)
        if factor is not None
    ]
    first = ends[0]
    agree, worst = True, 0.0
    for other in ends[1:]:
        for end in (0, 1):
            gap = abs(first[end] - other[end])
            agree = agree and gap <= max(first[end + 2] + other[end + 2], SLACK * max(first[end], other[end]))
            worst = max(worst, gap / first[end])
    said = " = ".join(_shown(low, high, unit) for low, high, unit in printed)
    verdict = "agree" if agree else "do NOT agree: use neither before it is settled which is meant"
    return Agreement(agree, worst, f"{said}: {worst:.1%} apart; they {verdict}")


def _half(value: float) -> float:
    """Half of the last printed figure: 18 -> 0.5, 2.5 -> 0.05. Whole noughts are taken as read."""
    text = f"{value:.10g}"
    decimals = len(text.partition(".")[2]) if "e" not in text else 0
    return float(0.5 * 10.0**-decimals)


def _shown(low: float, high: float, unit: str) -> str:
    return f"{low:g} {unit}" if low == high else f"{low:g}–{high:g} {unit}"
