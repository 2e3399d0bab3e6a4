"""Entries that cannot be right as they stand are questioned at once (common practice, no source)."""

import math
from collections.abc import Iterator, Sequence
from typing import Literal

from msgspec import Struct

from lastbolt.measuring.decide import Limits

INCH = 25.4
_SLIPS: tuple[tuple[float, str, str], ...] = (
    (10, "the decimal point has slipped", "slipped decimal"),
    (0.1, "the decimal point has slipped", "slipped decimal"),
    (INCH, "it is in inches where millimetres are wanted", "wrong unit"),
    (1 / INCH, "it is in millimetres where inches are wanted", "wrong unit"),
    (0.001, "it is in thousandths", "wrong unit"),
    (1000, "it is in thousands of the unit", "wrong unit"),
    (100, "the decimal point has slipped by two places", "slipped decimal"),
    (0.01, "the decimal point has slipped by two places", "slipped decimal"),
)
"""What the entry has to be taken times to fit, and what that would mean."""
_MANY = 4.0
"""A play or a gap that starts at nothing may well be a few times its limit: worn, not mistyped."""
_NARROW, _FAR, _WIDTHS = 0.2, 0.15, 3.0
"""Of a size that is known to a fifth of itself, a part that fits its place is never off by a seventh and by
three times the range in which the sources know it."""


class Question(Struct, frozen=True):
    """What to look at again, and why: "slipped decimal", "wrong unit", "negative", "tool range", "beside"."""

    words: str
    why: str


class Beside(Struct, frozen=True):
    """Another size of the same place: it must be `is_` than the entry ("larger": inside its housing)."""

    words: str
    value: float
    is_: Literal["larger", "smaller"]


def questioned(
    value: float, unit: str, expected: Limits, tool_range: tuple[float | None, float | None] | None = None,
    beside: Sequence[Beside] = (),
) -> tuple[Question, ...]:  # fmt: skip
    """What is strange about an entry; nothing for one that is only worn, however far beyond its limit.

    Args:
        value: as typed [unit]
        unit: of all numbers here
        expected: from the smallest to the largest size that the sources speak of
        tool_range: what the tool can read at all
        beside: sizes that go with it

    >>> questioned(7.2, "mm", Limits(71.9, 72.1))[0].why
    'slipped decimal'
    """
    if not math.isfinite(value):
        return (Question("This is no number that can be measured.", "no number"),)
    found = [*_sign(value, expected), *_size(value, unit, expected)]
    return (*found, *_range(value, unit, tool_range), *_beside(value, unit, beside))


def _sign(value: float, expected: Limits) -> Iterator[Question]:
    low = expected.low if expected.low is not None else 0.0
    if value < 0 <= low:
        yield Question(f"{value:g} is negative, and no such size is.", "negative")


def _size(value: float, unit: str, expected: Limits) -> Iterator[Question]:
    low, high = expected.low, expected.high
    if low and low > 0 and high is None:
        high = _MANY * low
    if value <= 0 or _inside(value, Limits(low, high)):
        return
    if not low or low < 0:
        if not high or high <= 0 or value <= _MANY * high:
            return
        # From nothing to the limit every smaller number fits: only how much too large it is tells something.
        low = 0.0
    for factor, means, why in _SLIPS:
        if _inside(value * factor, Limits(low, high)) and (low or factor < 1):
            yield Question(f"{value:g} {unit} would be {value * factor:.6g} if {means}.", why)
            return
    yield from _far(value, unit, expected)


def _far(value: float, unit: str, expected: Limits) -> Iterator[Question]:
    low, high = expected.low, expected.high
    known = [end for end in (low, high) if end]
    if not known or any(end <= 0 for end in known):
        return
    middle = sum(known) / len(known)
    if len(known) == 2 and max(known) - min(known) > _NARROW * middle:
        return
    off = max(min(known) - value, value - max(known), 0.0)
    far = off > max(_FAR * middle, _WIDTHS * (max(known) - min(known)))
    if far and (len(known) == 2 or value > middle == high):
        yield Question(f"{value:g} {unit} is far from {middle:.6g}: is it this part, this place?", "far off")


def _inside(value: float, limits: Limits) -> bool:
    slack = 1e-9 * max(1.0, abs(value))
    low = limits.low is None or value >= limits.low - slack
    return low and (limits.high is None or value <= limits.high + slack)


def _range(value: float, unit: str, tool: tuple[float | None, float | None] | None) -> Iterator[Question]:
    if tool is None or _inside(value, Limits(*tool)):
        return
    ends = " to ".join("?" if end is None else f"{end:g}" for end in tool)
    yield Question(f"The tool reads {ends} {unit}: it cannot have read {value:g}.", "tool range")


def _beside(value: float, unit: str, beside: Sequence[Beside]) -> Iterator[Question]:
    for one in beside:
        wrong = one.value < value if one.is_ == "larger" else one.value > value
        if wrong:
            other = "larger" if one.value > value else "smaller"
            yield Question(
                f"{one.words}, {one.value:g} {unit}, is {other} than this, {value:g}: one cannot go into "
                "the other.", "beside",
            )  # fmt: skip
