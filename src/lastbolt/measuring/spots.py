"""Readings of one size with one tool -> one value and its uncertainty, with every part of it named (GUM)."""

from collections.abc import Callable, Iterable, Sequence
from itertools import chain
from statistics import mean

from msgspec import Struct

from lastbolt.measuring.dimensions import Dimension
from lastbolt.measuring.takes import Take
from lastbolt.measuring.tools import tool_words
from lastbolt.measuring.uncertainty import (
    Part,
    Uncertainty,
    calibration,
    combine,
    repeats,
    resolution,
    two_readers,
)
from lastbolt.measuring.units import told_in
from lastbolt.measuring.warmth import Warmth, warmth_of
from lastbolt.words.readings import Spot

TWO = "common practice, no source: two are too few for statistics (JCGM 100:2008 4.3.2: by judgement)"
Values = dict[str, dict[str, list[float]]]
"""Place -> reader -> values, in the unit of the size, the zero taken off."""


class Taking(Struct, frozen=True):
    """What one tool tells of one size."""

    value: float
    unit: str
    spots: tuple[Spot, ...]
    uncertainty: Uncertainty | None
    singles: tuple[float, ...]
    """Every number that must be possible by itself, corrected, in the unit of the size."""
    readers: tuple[str, ...]
    repeated: bool
    apart: float
    """How far the readings that decide lie apart, of one spot or of one travel."""
    warmth: Warmth


def taking(takes: Sequence[Take], kind: Dimension, unit: str, margin: Callable[[float], float]) -> Taking:
    """Everything that was read with one tool of one size.

    Args:
        takes: all with one tool
        kind: which of the readings decides
        unit: of the size; the tool's is converted into it
        margin: how far inside its limits a value is; the least decides where each place counts
    """
    warm = warmth_of(takes, unit) if kind.warm else Warmth()
    values = _values(takes, unit, kind)
    spots = tuple(Spot(at, mean(_all(read)), len(_all(read))) for at, read in values.items())
    decides = _deciding(values, spots, kind, margin)
    by_reader: dict[str, list[float]] = {}
    for read in decides:
        for reader, numbers in read.items():
            by_reader.setdefault(reader, []).extend(numbers)
    every = _all(by_reader)
    value = mean(every)
    parts = [*_repeated(list(by_reader.values())), *_tool_parts(takes, unit, kind), *warm.parts(value)]
    return Taking(
        value, unit, spots, combine(parts) if parts else None,
        tuple(chain.from_iterable(map(_all, values.values()))),
        tuple(dict.fromkeys(take.event.by for take in takes)), len(every) > 1,
        max(every) - min(every), warm,
    )  # fmt: skip


def _all(read: dict[str, list[float]]) -> list[float]:
    return list(chain.from_iterable(read.values()))


def _values(takes: Sequence[Take], unit: str, kind: Dimension) -> Values:
    """Of a spread each series is one value: its largest less its smallest."""
    found: Values = {}
    for take in takes:
        warm = warmth_of([take], unit) if kind.warm else Warmth()
        read = [(one.at, warm.at_20_C(_one(take, one.value, one.to, unit))) for one in take.event.readings]
        if kind.by == "spread":
            numbers = [value for _, value in read]
            read = [("", max(numbers) - min(numbers) if len(numbers) > 1 else numbers[0])]
        for at, value in read:
            found.setdefault(at, {}).setdefault(take.event.by, []).append(value)
    return found


def _one(take: Take, value: float, to: float | None, unit: str) -> float:
    """One reading in the unit of the size: of a travel its length, else less the zero's error and the bar."""
    said = take.event.unit or take.tool.unit
    if to is not None:
        return told_in(abs(to - value), said, unit)
    zero = take.zero.reads - take.zero.on if take.zero else 0.0
    return told_in(value - zero - take.event.less, said, unit)


def _deciding(
    values: Values, spots: Sequence[Spot], kind: Dimension, margin: Callable[[float], float]
) -> list[dict[str, list[float]]]:
    """The places that decide: all of them, or the worst."""
    if kind.by != "worst" or len(spots) == 1:
        return list(values.values())
    worst = min(spots, key=lambda spot: margin(spot.value))
    return [values[worst.at]]


def _repeated(by_reader: Sequence[Sequence[float]]) -> Iterable[Part]:
    numbers = list(chain.from_iterable(by_reader))
    if len(numbers) < 2:
        return
    if len(numbers) == 2:
        # Student's factor for two is 12.7: nobody at a bench believes it, and a third reading is quick.
        apart = abs(numbers[0] - numbers[1])
        yield Part(f"two readings {apart:.4g} apart, taken whole", apart, "B", None, TWO)
        return
    yield two_readers(*by_reader) if len(by_reader) == 2 else repeats(numbers)


def _tool_parts(takes: Sequence[Take], unit: str, kind: Dimension) -> Iterable[Part]:
    """The step of the tool, twice where two readings make the value, and its certificate."""
    first = takes[0]
    tool, said = first.tool, first.event.unit or first.tool.unit
    step = tool.resolution if tool.resolution is not None else _typed_step(takes)
    travel = kind.by == "spread" or any(one.to is not None for take in takes for one in take.event.readings)
    twice = travel or first.zero is not None or tool.kind in tool_words()["travel"]["kinds"]
    if step:
        yield from [resolution(told_in(step, said, unit))] * (2 if twice else 1)
    if tool.uncertainty:
        yield calibration(told_in(tool.uncertainty, tool.unit, unit))


def _typed_step(takes: Sequence[Take]) -> float:
    """The last figure typed, where nobody knows the tool."""
    texts = (f"{one.value:.10f}".rstrip("0") for take in takes for one in take.event.readings)
    return 10.0 ** -max((len(text.partition(".")[2]) for text in texts), default=0)
