"""Differences between two editions' limits of wear, consumables, special tools and legends."""

from collections.abc import Callable, Hashable, Iterator, Sequence
from typing import Generic, NamedTuple, TypeVar

from lastbolt.comparing.pairing import by_keys, folded
from lastbolt.comparing.resting import Resting
from lastbolt.comparing.said import consumable_said, count_said, limit_said, tool_said
from lastbolt.comparing.tables import row_change
from lastbolt.words.changes import About, Change
from lastbolt.words.machine import Figure, LegendLine, Machine
from lastbolt.words.measured import Limit
from lastbolt.words.supplies import Consumable, Tool

Fact = TypeVar("Fact", Limit, Consumable, Tool)


class _Sort(NamedTuple, Generic[Fact]):
    """How facts of one sort are told, and by what two of them are one, the surest first."""

    about: About
    section: str
    said: Callable[[Fact], str]
    name: Callable[[Fact], str]
    keys: tuple[Callable[[Fact], Hashable], ...]


_LIMITS: _Sort[Limit] = _Sort(
    "wear limit",
    "limits of wear",
    limit_said,
    lambda one: one.what,
    (
        lambda one: (folded(one.what), limit_said(one)),
        lambda one: folded(one.what),
        lambda one: (folded(one.part), folded(one.measure)) if one.measure else None,
    ),
)
_USED_UP: _Sort[Consumable] = _Sort(
    "consumable",
    "consumables",
    consumable_said,
    lambda one: one.name,
    (
        lambda one: (folded(one.name), folded(one.used_for)),
        lambda one: folded(one.name),
        lambda one: folded(one.used_for) or None,
    ),
)
_TOOLS: _Sort[Tool] = _Sort(
    "tool",
    "special tools",
    tool_said,
    lambda one: one.name,
    (
        lambda one: (one.number, folded(one.name)),
        lambda one: one.number or None,
        lambda one: folded(one.name),
    ),
)


def facts(old: Machine, new: Machine, resting: Resting) -> Iterator[Change]:
    """Limits of wear first, then consumables, special tools and legends."""
    yield from _told(_LIMITS, old.limits, new.limits, resting)
    yield from _told(_USED_UP, old.consumables, new.consumables, resting)
    yield from _told(_TOOLS, old.tools, new.tools, resting)
    yield from _legends(old.figures, new.figures)


def _told(sort: _Sort[Fact], old: Sequence[Fact], new: Sequence[Fact], resting: Resting) -> Iterator[Change]:
    """Each changed fact; where it reads the same but its printed words do not, with these words."""
    for was, now in _paired(sort, old, new):
        one = now or was
        assert one is not None
        words = sort.said(was) if was else "", sort.said(now) if now else ""
        if was and now and words[0] == words[1] and folded(was.words) != folded(now.words):
            words = was.words, now.words
        if was is None or now is None or words[0] != words[1]:
            steps = resting.on_table(was.citations) if was else ()
            yield row_change(sort.about, sort.name(one), sort.section, (was, now), words, steps)


def _paired(
    sort: _Sort[Fact], old: Sequence[Fact], new: Sequence[Fact]
) -> Iterator[tuple[Fact | None, Fact | None]]:
    """Pairs, each fact known by its place: ids may be the same where two lines of a table are."""

    def of(key: Callable[[Fact], Hashable]) -> Callable[[tuple[int, Fact]], Hashable]:
        return lambda placed: key(placed[1])

    keys = tuple(of(key) for key in sort.keys)
    for was, now in by_keys(list(enumerate(old)), list(enumerate(new)), keys, lambda placed: f"{placed[0]}"):
        yield (was[1] if was else None), (now[1] if now else None)


def _legends(old: Sequence[Figure], new: Sequence[Figure]) -> Iterator[Change]:
    """Entries of legends by their callouts, for figures that stand in both editions."""
    keys: tuple[Callable[[Figure], Hashable], ...] = (
        lambda one: (one.number, folded(one.title)),
        lambda one: one.number or None,
        lambda one: folded(one.title) or None,
    )
    drawn = [one for one in old if not one.parts_figure], [one for one in new if not one.parts_figure]
    for before, after in by_keys(drawn[0], drawn[1], keys, lambda one: one.id):
        entries = _entries(before), _entries(after)
        figure = after or before
        assert figure is not None
        for callouts in dict.fromkeys((*entries[1], *entries[0])):
            was, now = (some.get(callouts) for some in entries)
            words = _entry_said(was), _entry_said(now)
            if folded(words[0]) != folded(words[1]):
                what = f"figure {figure.number}, callout {', '.join(callouts)}"
                yield _legend_change(what, (before, after), (was, now), words)


def _entries(figure: Figure | None) -> dict[tuple[str, ...], LegendLine]:
    if figure is None:
        return {}
    lines = figure.legend_lines or tuple(LegendLine((number,), name) for number, name in figure.legend)
    return {line.callouts: line for line in lines}


def _entry_said(line: LegendLine | None) -> str:
    return f"{count_said(line.quantity)} {line.name}".strip() if line else ""


def _legend_change(
    what: str,
    figures: tuple[Figure | None, Figure | None],
    lines: tuple[LegendLine | None, LegendLine | None],
    words: tuple[str, str],
) -> Change:
    (before, after), (was, now) = figures, lines
    figure = after or before
    return Change(
        "new" if was is None else "gone" if now is None else "changed",
        "legend",
        what,
        words[0],
        words[1],
        f"figure {figure.number}" if figure else "",
        before.id if before else "",
        after.id if after else "",
        was.citations if was else (),
        now.citations if now else (),
    )
