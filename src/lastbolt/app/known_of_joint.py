"""What is known of a joint's fasteners, by which sentences of the book are explained."""

from collections.abc import Iterable
from typing import NamedTuple

from lastbolt.app.counts_added import every_count
from lastbolt.app.gather_rows import Rows
from lastbolt.app.other_numbers import counts_of
from lastbolt.app.removals import Removal
from lastbolt.words.answer import HolderState
from lastbolt.words.evidence import Line


class Known(NamedTuple):
    """What explains a sentence: the joint's own lines, its parts' words, what is asked for by itself.

    `places`: labels of its places; `figures`: those its own rows stand in; `rows`: these, by id; `loose`:
    rows that only may belong to it.
    """

    lines: tuple[Line, ...]
    counted: frozenset[tuple[str, str]]
    """Step and name of each mention that leads to a line with a count."""
    joint: frozenset[str]
    asked: tuple[HolderState, ...]
    places: frozenset[str]
    figures: tuple[str, ...] = ()
    rows: frozenset[str] = frozenset()
    loose: frozenset[str] = frozenset()

    @property
    def counts(self) -> list[int]:
        """Every count of its lines, and what all of them come to."""
        return every_count(self.lines)


def known_of(
    rows: Rows,
    removed: Iterable[Removal],
    joint: frozenset[str],
    asked: tuple[HolderState, ...],
    places: frozenset[str],
    summed: frozenset[tuple[str, str]] = frozenset(),
) -> Known:
    """What is known of the joint's fasteners; `joint`: the words by which sources call its parts; `summed`:
    further mentions that its rows explain."""
    lines = tuple(line for line in rows.lines if line.belongs != "maybe")
    own = {line.id for line in lines if counts_of(line) or line.places}
    counted = summed | frozenset(
        (removal.step.id, removal.mention.name)
        for removal in removed
        if any(rows.line_of.get(row) in own for row in removal.rows)
    )
    sure = {line.id for line in lines}
    mine = frozenset(row for row, line in rows.line_of.items() if line in sure)
    return Known(lines, counted, joint, asked, places, rows.figures, mine, frozenset(rows.line_of) - mine)
