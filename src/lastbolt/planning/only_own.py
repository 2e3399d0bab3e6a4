"""Sections of the way back that put together more than came off: of these only the steps about what did."""

from collections.abc import Iterable, Sequence

from msgspec.structs import replace

from lastbolt.planning.book import Book
from lastbolt.planning.going_back import speaks_of
from lastbolt.planning.pairs import OFF, ON, TOGETHER, Pairs
from lastbolt.planning.removed import same_size
from lastbolt.words.back import BackLine
from lastbolt.words.machine import Mention
from lastbolt.words.plan import Plan

SOME = "Only its steps about what came off here; the rest of the section was not undone."


def only_own(told: Sequence[BackLine], plan: Plan, book: Book, pairs: Pairs) -> list[BackLine]:
    """The told lines, without those steps of a joining section that fit what this plan never took off.

    Such a section is known by this: its title joins or installs something, nothing of the plan is undone by
    it as a whole, and single steps of it put on single parts. The steps that name such a part or its
    fasteners stay, and what tightens them. A section that fits nothing by its title ("First start") stays.
    """
    own = dict.fromkeys(line.procedure for line in plan.lines)
    whole = {by for item in plan.way_back.returns for by in item.on_by}
    whole |= {pair.procedure.id for one in own if one in pairs.named for pair in pairs.of(pairs.named[one])}
    wanted: dict[str, set[str]] = {}
    for item in plan.way_back.returns:
        for by in item.on_by:
            home = book.steps[by][0] if by in book.steps else ""
            fits = home and book.procedures[home].deed in ON
            if fits and home not in whole and home not in own:
                wanted.setdefault(home, set()).add(by)
    parts = tuple(item.part for item in plan.way_back.returns)
    off = tuple(m for line in plan.lines for m in line.mentions if m.deed in OFF)
    for home, some in wanted.items():
        lines = [one for one in told if one.line.procedure == home]
        some.update(_with_theirs(lines, frozenset(some), parts, off, book))
    return [_said(one, wanted) for one in told if _stays(one, wanted)]


def _stays(one: BackLine, wanted: dict[str, set[str]]) -> bool:
    steps = wanted.get(one.line.procedure)
    return steps is None or one.line.kind != "step" or one.line.step in steps


def _said(one: BackLine, wanted: dict[str, set[str]]) -> BackLine:
    if one.line.kind != "opening" or one.line.procedure not in wanted:
        return one
    return replace(one, line=replace(one.line, question=SOME))


def _with_theirs(
    lines: Iterable[BackLine], steps: frozenset[str], parts: Sequence[str], off: Sequence[Mention], book: Book
) -> set[str]:
    """The steps that name the parts or fasteners which came off, and what tightens right behind one."""
    found: set[str] = set()
    behind = False
    for one in lines:
        if one.line.kind != "step":
            continue
        step = book.steps.get(one.line.step)
        deeds = set(step[1].deeds) if step else set()
        fits = any(m.deed in TOGETHER and same_size(m, other) for m in one.line.mentions for other in off)
        names = fits or one.line.step in steps or any(speaks_of(one.line.words, part) for part in parts)
        if names or (behind and "tighten" in deeds and not deeds & set(ON)):
            found.add(one.line.step)
            behind = True
        else:
            behind = False
    return found
