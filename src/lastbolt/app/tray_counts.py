"""Counts of the same trays that do not agree: a later one is lower, and nothing was put back in between.

A piece that is gone from the tray may be back in its hole. Who counts again and finds all of them settles it.
"""

from collections.abc import Iterable, Iterator

from lastbolt.tally.layout import whole_kind
from lastbolt.words.answer import HolderState
from lastbolt.words.evidence import Act, TrayCount
from lastbolt.words.quantity import Kind

TRAYS = "counts#trays"
COUNTS = "counts that differ"
"""The name it goes by."""


def counts_differ(counts: Iterable[TrayCount], acts: Iterable[Act], how: str = "") -> Iterator[HolderState]:
    """One holder where the last count of a kind over all trays is below an earlier one; `how` settles it."""
    told = [
        f"{_who(most)} counted {most.pieces} x {_called(most)}, {_who(last)} {last.pieces} after that"
        for most, last in _lower(counts, tuple(acts))
    ]
    if told:
        ask = f"count again, and look where the rest is: {'; '.join(told)}"
        yield HolderState(TRAYS, "other", COUNTS, bool(how), how or ask, answer="done")


def with_counts_told(
    holders: Iterable[HolderState], counts: Iterable[TrayCount], acts: Iterable[Act]
) -> tuple[HolderState, ...]:
    """The holders, that of the counts as it is by these counts."""
    held = tuple(holders)
    how = next((one.words for one in held if one.id == TRAYS and one.settled), "")
    return (*(one for one in held if one.id != TRAYS), *counts_differ(counts, acts, how))


def _lower(counts: Iterable[TrayCount], acts: tuple[Act, ...]) -> Iterator[tuple[TrayCount, TrayCount]]:
    """The highest and the last count of each kind, where the last one is lower."""
    by_kind: dict[tuple[Kind, str], list[TrayCount]] = {}
    for count in sorted(counts, key=lambda one: one.moment):
        if count.all_trays:
            by_kind.setdefault(_key(count), []).append(count)
    for of_kind in by_kind.values():
        last = of_kind[-1]
        most = max(of_kind, key=lambda one: one.pieces)
        put_in = sum(act.did == "put in" and most.moment < act.moment < last.moment for act in acts)
        if last.pieces + put_in < most.pieces:
            yield most, last


def _key(count: TrayCount) -> tuple[Kind, str]:
    kind = whole_kind(count.kind)
    return kind, "" if kind.thread else count.line or ""


def _who(count: TrayCount) -> str:
    return count.by or "somebody"


def _called(count: TrayCount) -> str:
    return count.kind.words() if count.kind != Kind() else count.line or "pieces"
