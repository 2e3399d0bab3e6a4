"""Which length goes where, solved over all places at once; and what heads that stand unequally tell."""

from collections.abc import Iterable, Sequence
from statistics import median
from typing import Any

from lastbolt.words.lengths import Boss, Fit, Odd, Pieces, Placed, Placing, Proud

EMPTY_COST = 1e6
OTHER_THAN_SAID_COST = 1e3
NOT_KNOWN_COST = 1e2
"""A length that nobody can judge is taken only where the source names it, or nothing else is left."""
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
        return Placed(boss.place, None, Fit("not known"), _none_fits(boss, stock))
    length = stock[at].length_mm
    found = fit(boss, stock[at].thread, length)
    said = boss.said_mm == length
    others = tuple(one for one in good if one != length)
    return Placed(boss.place, length, found, _why(boss, length, found, said, others), said, others)


def _why(boss: Boss, length_mm: float, found: Fit, said: bool, others: Sequence[float]) -> str:
    if found.says == "not known":
        return f"{length_mm:g} mm as the source says; grip and thread were not measured"
    kept = f"{found.engaged_mm:g} mm of thread, {boss.needed_mm:g} needed"
    bottom = f", {found.left_mm:g} mm free below" if boss.blind else ""
    source = (
        ", as the source says"
        if said
        else ""
        if boss.said_mm is None
        else f"; the source says {boss.said_mm:g}"
    )
    more = f"; {', '.join(f'{one:g}' for one in others)} would fit too" if others else ""
    return f"{length_mm:g} mm: {kept}{bottom}{source}{more}"


def _none_fits(boss: Boss, stock: Sequence[Pieces]) -> str:
    same = [one for one in stock if one.thread == boss.thread]
    if not same:
        return f"no {boss.thread} is there"
    said = "" if boss.said_mm is None else f", the source says {boss.said_mm:g} mm"
    there = "; ".join(f"{one.length_mm:g} mm {_stands(boss, one)}" for one in same)
    return f"no length is left that is sure to fit{said}. There are: {there}"


def _stands(boss: Boss, one: Pieces) -> str:
    says = fit(boss, one.thread, one.length_mm).says
    return {"good": "(used elsewhere)", "not known": "(not measured)"}.get(says, f"({says})")
