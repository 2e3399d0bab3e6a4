"""What one engine's own file wants ordered: fasteners that are missing, and right lengths for odd ones."""

from collections import Counter
from collections.abc import Iterator
from typing import Literal

from lastbolt.ordering.parts_book import PartsBook, Wish
from lastbolt.words.engine import AsFound, Engine
from lastbolt.words.order import Reason
from lastbolt.words.quantity import Kind

Size = tuple[str | None, float | None]


def by_engine(engine: Engine | None, book: PartsBook) -> Iterator[Wish]:
    """One wish for each fact. A piece of odd length that is the right one where another odd piece stands
    goes there: two that were exchanged want nothing new."""
    facts = engine.as_found if engine else ()
    yield from (_wish(fact, "missing", book) for fact in facts if fact.what == "missing")
    odd = [fact for fact in facts if fact.what == "odd length"]
    free = Counter(_size(fact.kind) for fact in odd if fact.kind is not None)
    for fact in odd:
        row = book.rows.get(fact.line or "")
        belongs = _size(row.kind) if row is not None and row.kind is not None else None
        if belongs is not None and free[belongs] > 0:
            free[belongs] -= 1
        elif belongs is not None:
            yield _wish(fact, "odd length", book)


def _wish(fact: AsFound, because: Literal["missing", "odd length"], book: PartsBook) -> Wish:
    rows = (fact.line,) if fact.line in book.rows else ()
    name = book.rows[rows[0]].name if rows else (fact.kind.words() if fact.kind else fact.words)
    count = fact.count if because == "missing" else fact.count or 1
    return Wish(name, Reason(because, fact.words, count, by=fact.by, citations=fact.citations), rows)


def _size(kind: Kind) -> Size:
    return kind.thread, kind.length_mm
