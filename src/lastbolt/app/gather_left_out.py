"""Fastener rows left out as for other engines, with the words by which they were; and those kept in doubt."""

from collections.abc import Callable, Iterable

from lastbolt.tally.ledger import cited
from lastbolt.words.answer import TakenAs
from lastbolt.words.applies import engines_words, is_limited
from lastbolt.words.citation import Citation
from lastbolt.words.machine import Machine, PartsRow
from lastbolt.words.quantity import Kind

MOST_NAMED = 8
"""So many rows with the same words are named in one line, the others counted."""


def left_out(
    rows: Iterable[PartsRow], machine: Machine, own: Iterable[str], words: Callable[[PartsRow], str]
) -> tuple[TakenAs, ...]:
    """One line for all rows left out by the same words; rows of the figures `own` are named first."""
    first = set(own)
    titles = {source.id: source.title for source in machine.sources}
    groups: dict[str, list[PartsRow]] = {}
    for row in sorted(rows, key=lambda row: row.figure not in first):
        said = row.applies.words or engines_words(row.applies)
        groups.setdefault(said, []).append(row)
    return tuple(_line(said, group, titles, words) for said, group in groups.items())


def kept_open(
    rows: Iterable[PartsRow], own: Iterable[str], words: Callable[[PartsRow], str]
) -> tuple[TakenAs, ...]:
    """A line for each row of the figures `own` that is for some engines only, nobody knows for which."""
    first = set(own)
    return tuple(
        TakenAs(
            f"kept/{row.id}",
            f"{_named(row, words)}: for some engines only, and not understood for which "
            f'("{row.applies.words}"); it is kept',
            row.citations[:1],
        )
        for row in rows
        if row.applies.words and not is_limited(row.applies) and row.figure in first
    )


def _line(
    said: str, rows: list[PartsRow], titles: dict[str, str], words: Callable[[PartsRow], str]
) -> TakenAs:
    named = [cited(_named(row, words), _titled(row, titles)) for row in rows[:MOST_NAMED]]
    more = [f"{len(rows) - MOST_NAMED} more"] if len(rows) > MOST_NAMED else []
    return TakenAs(
        f"left out/{rows[0].id}",
        f'Left out as for other engines, by the words "{said}": {"; ".join((*named, *more))}',
        tuple(citation for row in rows[:MOST_NAMED] for citation in row.citations[:1]),
    )


def _named(row: PartsRow, words: Callable[[PartsRow], str]) -> str:
    return f"{words(row)}, {(row.kind or Kind()).words()}"


def _titled(row: PartsRow, titles: dict[str, str]) -> Citation | None:
    if not row.citations:
        return None
    first = row.citations[0]
    return Citation(first.source, first.place, first.words, title=titles.get(first.source, first.source))
