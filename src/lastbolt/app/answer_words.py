"""Parts of an answer put shortly: further places that may hold, rows taken as this joint's, the counts."""

from collections.abc import Iterable

from lastbolt.app.counts_shown import MAY, NOTHING, only_fits
from lastbolt.words.answer import Answer, CountTable, Suspicion, TakenAs

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
    fitting: list[str] = []
    rows: list[tuple[str, ...]] = []
    for row in table.rows:
        cells = dict(zip(table.heads, row, strict=True))
        if only_fits(cells):
            said = (f"{head} {cell.replace(MAY, '')}" for head, cell in cells.items() if cell != NOTHING)
            fitting.append(f"{row[0]} ({', '.join(list(said)[1:])})")
        else:
            rows.append(tuple(perhaps(cell) for cell in row))
    notes = [note for note in table.notes if not note.startswith('"may"')]
    if any("perhaps" in cell for row in rows for cell in row):
        notes.append(PERHAPS)
    if fitting:
        notes.append(f"Not in the table, because only their size fits: {', '.join(fitting)}.")
    rows, years = _with_years(answer, table.heads, rows)
    kept = [i for i, _ in enumerate(table.heads) if i == 0 or any(row[i] != NOTHING for row in rows)]
    return CountTable(
        tuple(table.heads[i] for i in kept),
        tuple(tuple(row[i] for i in kept) for row in rows),
        (*years, *notes),
    )


def perhaps(cell: str) -> str:
    """ "1 + 0 to 1 (may)" in words.

    >>> perhaps("1 + 0 to 1 (may)"), perhaps("4 (may)"), perhaps("9")
    ('1, perhaps 0 to 1 more', 'perhaps 4', '9')
    """
    parts = cell.split(" + ")
    sure = [part for part in parts if MAY not in part]
    may = " + ".join(part.replace(MAY, "") for part in parts if MAY in part)
    if not may:
        return cell
    return f"{' + '.join(sure)}, perhaps {may} more" if sure else f"perhaps {may}"


def _with_years(
    answer: Answer, heads: tuple[str, ...], rows: list[tuple[str, ...]]
) -> tuple[list[tuple[str, ...]], list[str]]:
    """Beside "seen out" how many were empty before anybody began: those gave nothing to the tray."""
    empty = {state.label for state in answer.places if state.never_there}
    by_size: dict[str, list[str]] = {}
    for taken in answer.taken_as:
        size = taken.pieces.partition(" x ")[2]
        by_size.setdefault(size, []).extend(label for label in taken.places if label in empty)
    if "Seen out" not in heads:
        return rows, []
    at = heads.index("Seen out")
    made, notes = [], []
    for row in rows:
        years = list(dict.fromkeys(by_size.get(row[0], ())))
        told = row[at]
        if years and told != NOTHING:
            told = f"{told}, {len(years)} empty"
            notes.append(
                f"{row[0]}: empty for years by the engine file, so nothing came out: {', '.join(years)}."
            )
        made.append((*row[:at], told, *row[at + 1 :]))
    return made, notes
