"""Which length goes where, solved over all places at once; and what heads that stand unequally tell."""

from collections.abc import Iterable, Sequence
from math import floor
from statistics import median
from typing import Any

from lastbolt.words.lengths import Boss, Fit, Odd, Pieces, Placed, Placing, Proud

EMPTY_COST = 1e6
OTHER_THAN_SAID_COST = 1e3
TO_COME_COST = 50.0
"""Of places alike, those that wait for a new piece anyway stay empty first."""
NOT_KNOWN_COST = 1e2
"""A length that nobody can judge is taken only where the source names it, or nothing else is left."""
EVEN_LENGTH_MM = 0.05
EVEN_MM = 1.5
"""Heads that differ by less stand equally proud (common practice, no source)."""


def fit(boss: Boss, thread: str, length_mm: float) -> Fit:
    """How a fastener stands in a boss. A length that goes through the thread of a blind hole bottoms."""
    if thread != boss.thread:
        return Fit("other thread")
    if boss.grip_mm is None or boss.thread_mm is None or boss.needed_mm is None:
        return Fit("not known")
    reach_mm = length_mm - boss.grip_mm
    engaged_mm = max(0.0, min(reach_mm, boss.thread_mm))
    left_mm = boss.thread_mm - reach_mm
    if boss.blind and left_mm < 0:
        return Fit("bottoms", engaged_mm, left_mm)
    return Fit("short" if engaged_mm < boss.needed_mm else "good", engaged_mm, left_mm)


def place_lengths(bosses: Sequence[Boss], pieces: Sequence[Pieces]) -> Placing:
    """The lengths for all places: as many places filled as can be, then as the sources say, then with the
    least thread beyond what is needed. No length that bottoms, is short or has another thread is placed.

    Args:
        bosses: every place that takes a fastener; 40 of them take a few milliseconds
        pieces: what is there; two entries of one size are one pile
    """
    stock = _piled(pieces)
    costs = [[_cost(boss, one) for one in stock] for boss in bosses]
    chosen = _solved(costs, [one.count for one in stock])
    used = [0] * len(stock)
    for at in chosen:
        if at is not None:
            used[at] += 1
    over = tuple(
        Pieces(one.thread, one.length_mm, one.count - n)
        for one, n in zip(stock, used, strict=True)
        if one.count > n
    )
    return Placing(tuple(_placed(boss, at, stock) for boss, at in zip(bosses, chosen, strict=True)), over)


def as_put_in(boss: Boss, length_mm: float | None, by: str) -> Placed:
    """What went in at a place, and what is wrong with it: it bottoms, is short, or is not what is said."""
    who = f"went in ({by})" if by else "went in"
    if length_mm is None:
        return Placed(boss.place, None, Fit("not known"), f"{who}: nobody said which length", is_in=True)
    found = fit(boss, boss.thread, length_mm)
    said = boss.said_mm is None or abs(boss.said_mm - length_mm) < EVEN_LENGTH_MM
    wrong = {
        "bottoms": f", and it bottoms: {-(found.left_mm or 0.0):g} mm too long for the hole",
        "short": f", and it is short: {found.engaged_mm or 0.0:g} mm of thread, {boss.needed_mm:g} needed",
    }.get(found.says, "")
    other = "" if said else f", where the source says {boss.said_mm:g} mm"
    return Placed(boss.place, length_mm, found, f"{who}{other}{wrong}", boss.said_mm == length_mm, is_in=True)


def unequal(proud: Sequence[Proud], even_mm: float = EVEN_MM) -> tuple[Odd, ...]:
    """Heads that stand further out or in than the others, before tightening and turned in by hand.

    All heads of one joint should then stand equally proud (common practice, no source). One that stands out
    by as much as another stands in is a swapped pair.
    """
    if not proud:
        return ()
    middle = median(one.proud_mm for one in proud)
    off = [(one.place, one.proud_mm - middle) for one in proud if abs(one.proud_mm - middle) > even_mm]
    found: list[Odd] = []
    while off:
        place, by = off.pop(0)
        pair = next((other for other in off if abs(other[1] + by) <= even_mm), None)
        if pair is not None:
            off.remove(pair)
            high, low = (place, pair[0]) if by > 0 else (pair[0], place)
            words = f"{high} stands out and {low} stands in by {abs(by):g} mm: swapped?"
            found.append(Odd((high, low), words, abs(by), swapped=True))
        else:
            found.append(Odd((place,), _alone(place, by), abs(by)))
    return tuple(found)


def _alone(place: str, by: float) -> str:
    if by > 0:
        return (
            f"{place} stands {by:g} mm further out than the others: too long, bottomed, or dirt in the hole."
        )
    return f"{place} stands {-by:g} mm further in than the others: too short."


def _piled(pieces: Iterable[Pieces]) -> list[Pieces]:
    counts: dict[tuple[str, float], int] = {}
    for one in pieces:
        key = (one.thread, one.length_mm)
        counts[key] = counts.get(key, 0) + max(0, one.count)
    return [Pieces(thread, length, count) for (thread, length), count in sorted(counts.items()) if count]


def _cost(boss: Boss, one: Pieces) -> float | None:
    """What it costs to use this length here; None where it must not be used."""
    cost = _cost_of(boss, one)
    return cost if cost is None or not boss.to_come else cost + TO_COME_COST


def _cost_of(boss: Boss, one: Pieces) -> float | None:
    found = fit(boss, one.thread, one.length_mm)
    said = boss.said_mm is not None and abs(boss.said_mm - one.length_mm) < 1e-9
    other = 0.0 if said or boss.said_mm is None else OTHER_THAN_SAID_COST
    if found.says == "not known":
        if said:
            return 0.0
        return NOT_KNOWN_COST if boss.said_mm is None and one.thread == boss.thread else None
    if found.says != "good" or found.engaged_mm is None:
        return None
    return other + found.engaged_mm - (boss.needed_mm or 0.0)


def _solved(costs: Sequence[Sequence[float | None]], counts: Sequence[int]) -> list[int | None]:
    """For each place the pile to take from, at the least cost together: a transportation problem, whose
    linear programme has whole-numbered solutions."""
    cells = [
        (row, at, cost) for row, line in enumerate(costs) for at, cost in enumerate(line) if cost is not None
    ]
    if not cells:
        return [None] * len(costs)
    import highspy

    model: Any = highspy.Highs()  # type: ignore[no-untyped-call]
    model.silent()
    for number, (_, _, cost) in enumerate(cells):
        model.addVar(0.0, 1.0)
        model.changeColCost(number, cost - EMPTY_COST)
    by_row: dict[int, list[int]] = {}
    by_pile: dict[int, list[int]] = {}
    for number, (row, at, _) in enumerate(cells):
        by_row.setdefault(row, []).append(number)
        by_pile.setdefault(at, []).append(number)
    for own in by_row.values():
        model.addRow(-highspy.kHighsInf, 1.0, len(own), own, [1.0] * len(own))
    for at, own in by_pile.items():
        model.addRow(-highspy.kHighsInf, float(counts[at]), len(own), own, [1.0] * len(own))
    model.setOptionValue("solver", "simplex")
    model.run()
    values = model.getSolution().col_value
    chosen: list[int | None] = [None] * len(costs)
    for (row, at, _), value in zip(cells, values, strict=True):
        if value > 0.5:
            chosen[row] = at
    return chosen


def _placed(boss: Boss, at: int | None, stock: Sequence[Pieces]) -> Placed:
    good = [one.length_mm for one in stock if fit(boss, one.thread, one.length_mm).says == "good"]
    if at is None:
        wanted = boss.to_come and boss.said_mm is not None
        return Placed(boss.place, None, Fit("not known"), _none_fits(boss, stock), to_come=wanted)
    length = stock[at].length_mm
    found = fit(boss, stock[at].thread, length)
    said = boss.said_mm == length
    others = tuple(one for one in good if one != length)
    return Placed(boss.place, length, found, _why(boss, length, found, said, others), said, others)


def _why(boss: Boss, length_mm: float, found: Fit, said: bool, others: Sequence[float]) -> str:
    if found.says == "not known":
        return f"{length_mm:g} mm as the source says; grip and thread were not measured"
    kept = f"{_half(found.engaged_mm)} mm of thread, {boss.needed_mm:g} needed"
    bottom = f", {_half(found.left_mm)} mm free below" if boss.blind else ""
    source = (
        ", as the source says"
        if said
        else ""
        if boss.said_mm is None
        else f"; the source says {boss.said_mm:g}"
    )
    more = f"; {', '.join(f'{one:g}' for one in others)} would fit too" if others else ""
    return f"{length_mm:g} mm: {kept}{bottom}{source}{more}"


def _half(value_mm: float | None) -> str:
    """To half a millimetre, downwards: places of one kind read alike, and none looks better than it is."""
    return f"{floor((value_mm or 0.0) * 2 + 1e-9) / 2:g}"


def _none_fits(boss: Boss, stock: Sequence[Pieces]) -> str:
    same = [one for one in stock if one.thread == boss.thread]
    if boss.to_come and boss.said_mm is not None:
        return f"a new {boss.thread} x {boss.said_mm:g} is to come; none that is there is left for it"
    if not same:
        return f"no {boss.thread} is there"
    said = "" if boss.said_mm is None else f", the source says {boss.said_mm:g} mm"
    there = "; ".join(f"{one.length_mm:g} mm {_stands(boss, one)}" for one in same)
    return f"no length is left that is sure to fit{said}. There are: {there}"


def _stands(boss: Boss, one: Pieces) -> str:
    says = fit(boss, one.thread, one.length_mm).says
    return {"good": "(used elsewhere)", "not known": "(not measured)"}.get(says, f"({says})")
