"""What there is to tell of the rows of a parts list: words that are no part, fasteners that are in doubt."""

from collections.abc import Sequence

from lastbolt.words.citation import Citation
from lastbolt.words.machine import PartsRow
from lastbolt.words.problem import Problem
from lastbolt.words.where import where

_NAMED = 8
"""So many doubted rows are named in one problem, the others counted."""


def set_aside(cells: Sequence[str], title: str, citation: Citation) -> Problem:
    """One problem on a row of words that is no part."""
    said = " | ".join(cell for cell in cells if cell)
    what = f'A row has neither item, part number nor quantity and was set aside: "{said}".'
    do = "Look at the row; if it is a part, put its quantity into the model file."
    return Problem("LB-P01", what, where(citation, title), do, citations=(citation,))


def doubted(rows: Sequence[PartsRow], title: str) -> tuple[Problem, ...]:
    """The fasteners whose row cannot be relied on, in one problem."""
    doubted = [row for row in rows if row.doubt and row.kind is not None]
    if not doubted:
        return ()
    named = [f"{_row_name(row)}: {row.doubt}" for row in doubted[:_NAMED]]
    more = f"; and {len(doubted) - _NAMED} more" if len(doubted) > _NAMED else ""
    count = "1 fastener is" if len(doubted) == 1 else f"{len(doubted)} fasteners are"
    what = f"{count} listed with a doubt: {'; '.join(named)}{more}."
    do = "Look at the row and at the machine; until then its count and size are not relied on."
    citations = tuple(citation for row in doubted for citation in row.citations)
    return (Problem("LB-P08", what, where(citations[0], title), do, citations=citations),)


def _row_name(row: PartsRow) -> str:
    item = " ".join(
        part for part in (row.figure and f"figure {row.figure}", row.item and f"item {row.item}") if part
    )
    return f'{item} ("{row.name}")' if item else f'"{row.name}"'
