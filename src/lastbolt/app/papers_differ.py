"""Where two sources print different counts of one row of the joint, both places, and what to do about it."""

from collections.abc import Iterable, Iterator

from lastbolt.tally.wording_steps import PAPERWORK
from lastbolt.words.answer import NextStep
from lastbolt.words.evidence import Line, Printed
from lastbolt.words.where import where

MOST = 3
"""Counts of one row that are told."""
PUT_RIGHT = (
    "Look at both pages. What was misread is put right with lastbolt correct; what is misprinted is not."
)


def papers_differ(lines: Iterable[Line]) -> tuple[NextStep, ...]:
    """One step for all rows of which sources print different counts; none where the engine's file speaks."""
    told = [words for line in lines for words in _told(line)]
    if not told:
        return ()
    words = f"The sources differ: {'; '.join(told)}. {PUT_RIGHT}"
    return (NextStep(words, 1.0 * len(told), PAPERWORK),)


def _told(line: Line) -> Iterator[str]:
    if line.belongs == "maybe" or line.on_engine is not None:
        return
    exact: dict[int, Printed] = {}
    for printed in line.printed:
        if printed.quantity.low is not None and printed.quantity.low == printed.quantity.high:
            exact.setdefault(printed.quantity.low, printed)
    if len(exact) > 1 and not all(printed.by for printed in exact.values()):
        said = [f"{_place(one)} says {count}" for count, one in exact.items()]
        yield f"{line.kind.words()}: {', '.join(said[:MOST])}"


def _place(one: Printed) -> str:
    place = where(one.citation) if one.citation else ""
    return place if one.source in place else f"{one.source} ({place})" if place else one.source
