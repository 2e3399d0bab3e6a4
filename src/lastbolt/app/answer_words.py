"""Parts of an answer put shortly: further places that may hold, rows taken as this joint's, the counts."""

from collections.abc import Iterable

from lastbolt.tally.wording_counts import MAY_NOTE, NOTHING, SEEN_OUT, STEPS
from lastbolt.words.answer import Answer, Suspicion, TakenAs
from lastbolt.words.counts import CountSaid, CountTable, SizeCounts

PERHAPS = '"perhaps": only the size fits; nobody has said that it belongs to this joint.'


def in_short(items: Iterable[Suspicion]) -> tuple[str, ...]:
    """Only which places, and what would have to be wrong; those with the same reason together."""
    alike: dict[str, list[str]] = {}
    for item in items:
        alike.setdefault(item.ways_there, []).append(item.where or item.words)
    return tuple(_together(about, reason) for reason, about in alike.items())


def _together(about: list[str], reason: str) -> str:
    rest = (f"{words[0].lower()}{words[1:]}" for words in about[1:])
    named = "; ".join((about[0], *rest))
    return f"{named}: {reason}" if reason else named


def sure_rows(taken_as: Iterable[TakenAs]) -> tuple[str, ...]:
    """The rows taken as this joint's, those with one reason together."""
    return _by_reason(taken for taken in taken_as if taken.sure)


def taken_words(taken_as: Iterable[TakenAs]) -> tuple[str, ...]:
    """Every row with why it was taken so, rows with one reason together; then what is no row."""
    taken_as = tuple(taken_as)
    rows = [taken for taken in taken_as if taken.line and taken.pieces]
    perhaps_rows = (taken for taken in rows if not taken.sure)
    others = (taken.words for taken in taken_as if taken not in rows and not taken.sure)
    return (*sure_rows(taken_as), *_by_reason(perhaps_rows), *others)


def _by_reason(taken_as: Iterable[TakenAs]) -> tuple[str, ...]:
    reasons: dict[str, list[str]] = {}
    for taken in taken_as:
        tied = f"{taken.tied_by} says that these belong to this joint" if taken.tied_by else taken.reason
        reasons.setdefault(tied or "taken as this joint's", []).append(taken.what or taken.words)
    return tuple(f"{reason[0].upper()}{reason[1:]}: {'; '.join(rows)}." for reason, rows in reasons.items())


def not_read_words(answer: Answer) -> tuple[str, ...]:
    """What no file was given for, as one sentence."""
    named = [words.rstrip(".") for words in answer.not_read]
    return (f"Not read: {', '.join(named)}.",) if named else ()


def counts_to_print(answer: Answer) -> CountTable:
    """The table for a terminal: rows that only fit by their size in a note, empty columns left out."""
    table = answer.counts
    shown = [pair for pair in zip(table.sizes, table.rows, strict=True) if not pair[0].only_fits]
    rows, years = [], []
    for counts, row in shown:
        cells = dict(zip(table.heads, row, strict=True))
        cells |= {one.source: perhaps(one.numbers) for one in counts.printed}
        empty = _empty_for_years(answer, counts.size)
        if empty and counts.seen_out is not None:
            cells[SEEN_OUT] = f"{counts.seen_out}, {len(empty)} empty"
            why = "empty for years by the engine file, so nothing came out"
            years.append(f"{counts.size}: {why}: {', '.join(empty)}.")
        rows.append(cells)
    kept = [
        head for number, head in enumerate(table.heads)
        if not number or any(cells[head] != NOTHING for cells in rows)
    ]  # fmt: skip
    cells_kept = tuple(tuple(cells[head] for head in kept) for cells in rows)
    return CountTable(tuple(kept), cells_kept, (*years, *_notes(table)))


def _notes(table: CountTable) -> list[str]:
    notes = [note for note in table.notes if note != MAY_NOTE]
    fitting = [_fitting(counts) for counts in table.sizes if counts.only_fits]
    shown = [counts for counts in table.sizes if not counts.only_fits]
    if any(number.may for counts in shown for source in counts.printed for number in source.numbers):
        notes.append(PERHAPS)
    if fitting:
        notes.append(f"Not in the table, because only their size fits: {', '.join(fitting)}.")
    return notes


def _fitting(counts: SizeCounts) -> str:
    said = [*((one.source, one.numbers) for one in counts.printed), (STEPS, counts.steps)]
    told = (f"{head} {_in_words(numbers)}" for head, numbers in said if numbers)
    return f"{counts.size} ({', '.join(told)})"


def _in_words(numbers: Iterable[CountSaid]) -> str:
    return " + ".join(number.words for number in numbers)


def perhaps(numbers: Iterable[CountSaid]) -> str:
    """Numbers in a cell, those apart that may be another joint's.

    >>> perhaps((CountSaid("1", 1), CountSaid("0 to 1", may=True))), perhaps((CountSaid("4", 4, may=True),))
    ('1, perhaps 0 to 1 more', 'perhaps 4')
    """
    numbers = tuple(numbers)
    sure = _in_words(number for number in numbers if not number.may)
    may = _in_words(number for number in numbers if number.may)
    if not may:
        return sure
    return f"{sure}, perhaps {may} more" if sure else f"perhaps {may}"


def _empty_for_years(answer: Answer, size: str) -> list[str]:
    """Places of this size that were empty before anybody began: those gave nothing to the tray."""
    empty = {state.label for state in answer.places if state.never_there}
    named = [taken.places for taken in answer.taken_as if taken.pieces.partition(" x ")[2] == size]
    return list(dict.fromkeys(label for places in named for label in places if label in empty))
