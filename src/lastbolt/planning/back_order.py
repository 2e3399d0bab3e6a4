"""The order of the way back: every dependency that sources state or imply is kept, and else the order given.

The lines are sorted by a graph. Where dependencies run in a circle the less certain kind gives way, never the
order that a source prints within one section.
"""

from collections.abc import Iterable, Sequence

from lastbolt.planning.back_needs import WHYS, Before, befores
from lastbolt.planning.book import Book
from lastbolt.planning.pairs import Pairs
from lastbolt.planning.sequence import circles, order
from lastbolt.words.back import BackLine, Removed
from lastbolt.words.plan import Plan


def in_order(
    lines: Sequence[BackLine], things: Sequence[Removed], plan: Plan, book: Book, pairs: Pairs
) -> list[BackLine]:
    """The lines so that what one stands on comes before it.

    Args:
        lines: the way back in a first order, which decides where nothing else does
        things: what the plan takes off, each with the lines that put it on
        plan: the way apart
        book: the same machine and engine as the plan's
        pairs: which sections put back what which take off
    """
    heads = _heads(lines)
    found = befores(lines, things, plan, book, pairs)
    kept = consistent(
        len(lines), [Before(heads[one.first], heads[one.then], one.why) for one in found if _two(one, heads)]
    )
    units = sorted(set(heads))
    placed = order([str(unit) for unit in units], [(str(a), str(b)) for a, b in kept])
    own: dict[int, list[BackLine]] = {}
    for number, line in enumerate(lines):
        own.setdefault(heads[number], []).append(line)
    return [line for unit in placed for line in _opened(own[int(unit)])]


def _opened(lines: Sequence[BackLine]) -> list[BackLine]:
    """What moves together, the section's title before what is asked."""
    return sorted(lines, key=lambda one: one.line.kind != "opening")


def consistent(count: int, found: Iterable[Before]) -> list[tuple[int, int]]:
    """The dependencies among so many lines, kind by kind from the surest: of a kind those that close a circle
    with what is kept already are left out."""
    by_why: dict[str, set[tuple[int, int]]] = {why: set() for why in WHYS}
    for one in found:
        by_why[one.why].add((one.first, one.then))
    ids = [str(number) for number in range(count)]
    kept: list[tuple[int, int]] = []
    for why in WHYS:
        more = sorted(by_why[why])
        rounds = circles(ids, [(str(a), str(b)) for a, b in (*kept, *more)]) if more else []
        group = {int(one): number for number, round_ in enumerate(rounds) for one in round_}
        kept += [(a, b) for a, b in more if a != b and (a not in group or group[a] != group.get(b))]
    return kept


def _two(one: Before, heads: Sequence[int]) -> bool:
    return heads[one.first] != heads[one.then]


def _heads(lines: Sequence[BackLine]) -> list[int]:
    """For each line the one with which it moves: a section's opening, and what is asked before it, stand
    right before the first step of the section."""
    step: dict[str, int] = {}
    for number, one in enumerate(lines):
        if one.how == "told" and one.line.kind == "step":
            step.setdefault(one.line.procedure, number)
    return [
        step[one.line.procedure]
        if one.how == "told" and one.line.kind in ("opening", "condition", "question")
        and number < step.get(one.line.procedure, -1)
        else number
        for number, one in enumerate(lines)
    ]  # fmt: skip
