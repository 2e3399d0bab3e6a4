"""In which order screws are tightened, and loosened: the source's own, or what is common practice.

Where a source gives an order it is kept to the letter. Where it gives none: larger sizes first (one not told
comes last); on a circle crosswise, elsewhere from the centre outwards, changing sides; round by round.
"""

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import Literal

from msgspec import Struct

from lastbolt.tightening.crosswise import crosswise, once_round

Joint = Literal["circular", "outline", ""]
THIRDS = (1 / 3, 2 / 3, 1.0)
SAME_DISTANCE = 0.05
"""Part of the largest distance within which places count as equally far from the centre (common practice)."""
EVEN_GAP = 1.75
"""A circle's largest gap between neighbours, of the mean one: more, and it is no ring of screws."""
FEW_FOR_A_CIRCLE = 3


class At(Struct, frozen=True):
    """A place and where it is [mm]. `major_mm`: the screw's diameter, None where not told."""

    place: str
    x_mm: float
    y_mm: float
    major_mm: float | None = None


class Stage(Struct, frozen=True):
    """One round over the places. `fraction`: of the full torque; when loosening, what may still be held."""

    number: int
    fraction: float | None
    torque_Nm: float | None
    angle_deg: float | None
    places: tuple[str, ...]
    words: str


class Order(Struct, frozen=True):
    """Rounds in their order. `lap`: places to go round once more at the full torque, where that is harmless.

    `unnamed`: places that the source's own order leaves out; nothing is made up for them.
    """

    stages: tuple[Stage, ...]
    from_: Literal["source", "common practice"]
    words: str
    source: str
    lap: tuple[str, ...] = ()
    unnamed: tuple[str, ...] = ()


def tightening_order(  # noqa: PLR0913 - what a joint is, and what its source says
    places: Sequence[At],
    given: Sequence[str] = (),
    torque_Nm: float | None = None,
    joint: Joint = "",
    locked: frozenset[str] = frozenset(),
    angle: bool = False,
    *,
    fractions: Sequence[float] | None = None,
) -> Order:
    """The order of tightening, each place once in each round.

    Args:
        places: where the screws are; on a circle their order tells number one and the way round
        given: the source's own order, kept as it is, in one round unless `fractions` are said
        torque_Nm: the full torque, None where there is none [N·m]
        joint: "circular", "outline", or "": told from the places
        locked: places with threadlocker: they get no final lap
        angle: tightened by an angle after the torque: no final lap at all
        fractions: the rounds, rising to 1; thirds where not said
    Source: ASME PCC-1 legacy cross pattern (circles of a multiple of four, from memory); common practice.
    """
    rounds = tuple(fractions) if fractions is not None else ((1.0,) if given else THIRDS)
    _check(places, rounds)
    if given:
        here = {at.place for at in places}
        line, words = tuple(given), "The source's own order."
        unnamed = tuple(at.place for at in places if at.place not in set(given))
        if unnamed:
            words += f" It does not name {', '.join(unnamed)}: ask, nothing is made up for them."
        strange = [place for place in dict.fromkeys(given) if here and place not in here]
        if strange:
            words += f" It names {', '.join(strange)}, where no place is known."
        if fractions is None:
            words += " It states no rounds, so one is shown."
        return Order(_stages(line, rounds, torque_Nm, angle), "source", words, "the source", (), unnamed)
    line, words, source = _by_practice(places, joint)
    last = _round_lap(places, joint) or line
    lap = () if angle or not line else tuple(place for place in last if place not in locked)
    words += _lap_words(lap, line, locked, angle)
    return Order(_stages(line, rounds, torque_Nm, angle), "common practice", words, source, lap)


def loosening_order(order: Order) -> Order:
    """The way back: the last tightened first, in as many rounds, a little each time.

    Source: common practice (the load leaves the joint evenly; a casting let go at one end warps).
    """
    if not order.stages:
        return Order((), order.from_, "Nothing to loosen.", order.source)
    line = tuple(dict.fromkeys(reversed(order.stages[-1].places)))
    left = [stage.fraction for stage in order.stages[:-1]]
    if not left:
        left = [2 / 3, 1 / 3]
    rounds: list[float] = sorted((part for part in left if part is not None), reverse=True)
    stages = [
        Stage(number, part, None, None, line, f"round {number}: a little each, about an eighth of a turn")
        for number, part in enumerate(rounds, 1)
    ]
    stages.append(
        Stage(len(stages) + 1, 0.0, None, None, line, "last round: until free; leave none forgotten")
    )
    words = "Loosening: the order of tightening backwards, in rounds."
    return Order(tuple(stages), order.from_, words, f"reverse of: {order.source}", (), order.unnamed)


def _check(places: Sequence[At], rounds: tuple[float, ...]) -> None:
    names = [at.place for at in places]
    twice = sorted({name for name in names if names.count(name) > 1})
    if twice:
        raise ValueError(f"places listed twice: {', '.join(twice)}")
    if any(not (math.isfinite(at.x_mm) and math.isfinite(at.y_mm)) for at in places):
        raise ValueError("a place has no position")
    rising = all(low < high for low, high in pairwise(rounds))
    if not rounds or not rising or rounds[0] <= 0 or rounds[-1] != 1:
        raise ValueError("rounds must rise from above 0 to 1")


def _stages(
    line: tuple[str, ...], rounds: tuple[float, ...], torque_Nm: float | None, angle: bool
) -> tuple[Stage, ...]:
    if not line:
        return ()
    last = "then the angle as the source states it" if angle else "final: mark each head as it is done"
    return tuple(
        Stage(
            number,
            part,
            None if torque_Nm is None else torque_Nm * part,
            None,
            line,
            f"round {number} of {len(rounds)}, {part:.0%} of the torque"
            + (f"; {last}" if number == len(rounds) else "; not finished"),
        )
        for number, part in enumerate(rounds, 1)
    )


def _lap_words(lap: tuple[str, ...], line: tuple[str, ...], locked: frozenset[str], angle: bool) -> str:
    if angle:
        return " No final lap: a screw tightened by angle is not touched again."
    left_out = [place for place in line if place in locked]
    said = (
        f" No final lap on {', '.join(left_out)}: turning breaks the threadlocker's hold." if left_out else ""
    )
    return f" Then once round at the full torque.{said}" if lap else said


def _round_lap(places: Sequence[At], joint: Joint) -> tuple[str, ...]:
    """The last lap on a circle: once round, one after the other (ASME PCC-1, from memory)."""
    sizes = {at.major_mm or 0.0 for at in places}
    inner, ring = _inner(places)
    if len(sizes) > 1 or inner or not (joint == "circular" or (not joint and _is_ring(places))):
        return ()
    return tuple(once_round([(at.place, at.x_mm, at.y_mm) for at in ring]))


def _by_practice(places: Sequence[At], joint: Joint) -> tuple[tuple[str, ...], str, str]:
    """Larger sizes first; within a size crosswise on a circle, else from the centre outwards."""
    line: list[str] = []
    words, sources = [], []
    sizes = sorted({at.major_mm or 0.0 for at in places}, reverse=True)
    centre = _centre(places)
    for size in sizes:
        group = [at for at in places if (at.major_mm or 0.0) == size]
        round_ = joint == "circular" or (not joint and _is_ring(group))
        if round_:
            inner, ring = _inner(group)
            order, how, source = crosswise([(at.place, at.x_mm, at.y_mm) for at in ring])
            order = [*_outwards(inner, centre), *order]
        else:
            order, how, source = _outwards(group, centre), "from the centre outwards, changing sides", ""
        line += order
        words.append(how)
        sources.append(source or "common practice, no source")
    said = "Larger sizes first. " if len(sizes) > 1 else ""
    how = "; ".join(dict.fromkeys(words))
    return (
        tuple(line),
        f"{said}{how[:1].upper()}{how[1:]}." if how else "No places.",
        "; ".join(dict.fromkeys(sources)),
    )


def _centre(places: Sequence[At]) -> tuple[float, float]:
    count = max(len(places), 1)
    return sum(at.x_mm for at in places) / count, sum(at.y_mm for at in places) / count


def _inner(places: Sequence[At]) -> tuple[list[At], list[At]]:
    """Places well inside a circle, and those on it."""
    x, y = _centre(places)
    far = [math.hypot(at.x_mm - x, at.y_mm - y) for at in places]
    edge = max(far, default=0.0) / 2
    inner = [at for at, distance in zip(places, far, strict=True) if distance < edge]
    return inner, [at for at, distance in zip(places, far, strict=True) if distance >= edge]


def _is_ring(places: Sequence[At]) -> bool:
    """Whether places stand on one circle, about evenly."""
    if len(places) < FEW_FOR_A_CIRCLE:
        return False
    x, y = _centre(places)
    far = [math.hypot(at.x_mm - x, at.y_mm - y) for at in places]
    if max(far) <= 0 or max(far) - min(far) > 2 * SAME_DISTANCE * max(far):
        return False
    turns = sorted(math.atan2(at.y_mm - y, at.x_mm - x) for at in places)
    gaps = [after - before for before, after in zip(turns, [*turns[1:], turns[0] + math.tau], strict=True)]
    return max(gaps) <= EVEN_GAP * math.tau / len(places)


def _outwards(places: Sequence[At], centre: tuple[float, float]) -> list[str]:
    """By distance from the centre; among equally far ones always the one most opposite to the last."""
    x, y = centre
    far = {at.place: math.hypot(at.x_mm - x, at.y_mm - y) for at in places}
    waiting = sorted(places, key=lambda at: far[at.place])
    slack = SAME_DISTANCE * max(far.values(), default=0.0)
    line: list[At] = []
    while waiting:
        edge = far[waiting[0].place] + slack
        band = [at for at in waiting if far[at.place] <= edge]
        chosen = band[0] if not line else min(band, key=lambda at: _side(line, at, x, y))
        waiting.remove(chosen)
        line.append(chosen)
    return [at.place for at in line]


def _side(line: list[At], at: At, x: float, y: float) -> float:
    """How much a place lies on the last one's side, seen from the centre: -1 opposite, 1 the same."""
    last = line[-1]
    long = math.hypot(last.x_mm - x, last.y_mm - y) * math.hypot(at.x_mm - x, at.y_mm - y)
    if long <= 0:
        return 0.0
    return round(((last.x_mm - x) * (at.x_mm - x) + (last.y_mm - y) * (at.y_mm - y)) / long, 6)
