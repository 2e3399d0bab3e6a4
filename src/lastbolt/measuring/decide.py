"""A reading against its limits: within, worn, beyond, or too close for the tool (ISO 14253-1, JCGM 106)."""

import math
from statistics import NormalDist
from typing import Literal

from msgspec import Struct

Rule = Literal["printed limit", "guarded acceptance", "guarded rejection"]
Says = Literal["within", "worn, within limit", "beyond", "too close for this tool", "not decided"]
Side = Literal["", "low", "high"]
SOURCE = "ISO 14253-1:2017 and JCGM 106:2012 clauses 7 and 8, from memory"
_BAND: dict[Rule, tuple[float, float]] = {
    "printed limit": (1, 1), "guarded acceptance": (1, 0), "guarded rejection": (0, 1),
}  # fmt: skip
"""How many times k·u stays undecided inside a limit, and outside of it."""


class Limits(Struct, frozen=True):
    """Both ends of what is good; None: no end on that side."""

    low: float | None
    high: float | None


class Decision(Struct, frozen=True):
    """What a reading says. `accepted` is JCGM 106's two-way answer, None where there is none."""

    says: Says
    side: Side
    conformance_probability: float | None
    words: str
    rule: Rule
    source: str = SOURCE
    accepted: bool | None = None


def decide(
    value: float, limits: Limits, uncertainty: float | None, rule: Rule = "printed limit",
    k: float = 2.0, service: Limits | None = None,
) -> Decision:  # fmt: skip
    """Whether a reading is within its limits; with `service`, `limits` are the standard sizes.

    At exactly k standard uncertainties from a limit it is decided.
    """
    outer = limits if service is None else _outer(limits, service)
    why = _undecidable(value, outer, uncertainty, rule, k)
    if not why and service is not None and _clash(value, limits, service):
        why = "the limit lies inside the standard range: ask which of the two holds"
    if why:
        return Decision("not decided", "", None, f"Not decided: {why}.", rule)
    likely = None if uncertainty is None else _probability(value, outer, uncertainty)
    margin, side = _nearest(value, outer)
    band = 0.0 if uncertainty is None else k * uncertainty
    inside, outside = (times * band for times in _BAND[rule])
    accepted = margin >= {"guarded acceptance": band, "guarded rejection": -band}.get(rule, 0.0)
    near = f"{abs(margin):.4g} {'inside' if margin >= 0 else 'outside'} the limit"
    if -outside < margin < inside:
        words = f"Too close for this tool: {near}, uncertain by {band:.4g}. Measure again, or better."
        return Decision("too close for this tool", side, likely, words, rule, accepted=accepted)
    if margin < 0:
        return Decision("beyond", side, likely, f"Beyond the limit: {near}.", rule, accepted=accepted)
    if service is not None and _worn(value, limits, service):
        return Decision("worn, within limit", "", likely, f"Worn: {near}.", rule, accepted=accepted)
    return Decision("within", "", likely, f"Within limits: {near}.", rule, accepted=accepted)


def _undecidable(value: float, outer: Limits, uncertainty: float | None, rule: Rule, k: float) -> str:
    numbers = (value, k, *(n for n in (outer.low, outer.high, uncertainty) if n is not None))
    if not all(map(math.isfinite, numbers)) or (uncertainty or 0) < 0 or k <= 0:
        return "what was given is no number that can be measured"
    if outer.low is None and outer.high is None:
        return "no limit is known"
    if outer.low is not None and outer.high is not None and outer.low > outer.high:
        return "the limits run backwards"
    if uncertainty is None and rule != "printed limit":
        return "a guard band needs the uncertainty of the reading"
    return ""


def _outer(standard: Limits, service: Limits) -> Limits:
    """The ends of service; where it has none, those of a standard range (one number alone is no range)."""
    single = standard.low == standard.high
    if service.low is None and service.high is None:
        return standard
    low = service.low if service.low is not None or single else standard.low
    high = service.high if service.high is not None or single else standard.high
    return Limits(low, high)


def _clash(value: float, standard: Limits, service: Limits) -> bool:
    """Whether the value is of standard size and yet beyond the limit of service."""
    if _margin(value, standard) < 0:
        return False
    return _margin(value, service) < 0


def _worn(value: float, standard: Limits, service: Limits) -> bool:
    low = service.low is not None and standard.low is not None and value < standard.low
    high = service.high is not None and standard.high is not None and value > standard.high
    return low or high


def _margin(value: float, limits: Limits) -> float:
    return _nearest(value, limits)[0]


def _nearest(value: float, limits: Limits) -> tuple[float, Side]:
    """How far inside the nearest limit (negative: outside), and which one it is."""
    found: list[tuple[float, Side]] = []
    if limits.low is not None:
        found.append((value - limits.low, "low"))
    if limits.high is not None:
        found.append((limits.high - value, "high"))
    return min(found, default=(math.inf, ""))


def _probability(value: float, limits: Limits, uncertainty: float) -> float:
    if uncertainty == 0:
        return float(_margin(value, limits) >= 0)
    true = NormalDist(value, uncertainty)
    low = 0.0 if limits.low is None else true.cdf(limits.low)
    high = 1.0 if limits.high is None else true.cdf(limits.high)
    return high - low
