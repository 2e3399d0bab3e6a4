"""Tables that name standard and limit row by row: turned into one row for each thing measured."""

from collections.abc import Sequence

from lastbolt.reading.limit_rows import Place, RawRow
from lastbolt.reading.limit_words import LimitWords, plain

_KINDS = ("limit", "standard")
_MOST = 0.8
_FEWEST = 2


def in_columns(titles: list[str], rows: list[RawRow], words: LimitWords) -> tuple[list[str], list[RawRow]]:
    """Headings and rows; where a column says which is standard and which is limit, one row for both."""
    if not rows:
        return titles, rows
    top = RawRow(tuple(titles), Place(rows[0].place.pdf_page, rows[0].place.box))
    for body in (rows, [top, *rows]):
        column = _column_of_kinds(body, words)
        if column is not None:
            value = _column_of_values(body, column)
            if value is not None and (body is not rows or not _kind(titles[column], words)):
                return _turned(body, column, value, words)
    return titles, rows


def _kind(cell: str, words: LimitWords) -> str:
    if any(c.isdigit() for c in cell):
        return ""
    return next((kind for kind in _KINDS if words.pattern("heads", kind).search(plain(cell))), "")


def _column_of_kinds(rows: Sequence[RawRow], words: LimitWords) -> int | None:
    for at in range(len(rows[0].cells)):
        kinds = [_kind(row.cells[at], words) for row in rows if row.cells[at].strip()]
        if (
            len(kinds) >= 2 * _FEWEST
            and sum(map(bool, kinds)) >= _MOST * len(kinds)
            and len(set(kinds) - {""}) > 1
        ):
            return at
    return None


def _column_of_values(rows: Sequence[RawRow], kinds: int) -> int | None:
    """The first column right of the kinds whose cells hold figures."""
    for at in range(kinds + 1, len(rows[0].cells)):
        if sum(any(c.isdigit() for c in row.cells[at]) for row in rows) >= _MOST * len(rows):
            return at
    return None


def _turned(
    rows: Sequence[RawRow], kinds: int, value: int, words: LimitWords
) -> tuple[list[str], list[RawRow]]:
    made: list[tuple[str, dict[str, str], Place]] = []
    for row in rows:
        kind = _kind(row.cells[kinds], words)
        name = ", ".join(cell.strip() for at, cell in enumerate(row.cells) if at < kinds and cell.strip())
        if not kind:
            continue
        if not made or kind in made[-1][1] or (name and name != made[-1][0]):
            made.append((name or (made[-1][0] if made else ""), {}, row.place))
        made[-1][1][kind] = row.cells[value]
    titles = [
        words.words("heads", "name")[0],
        words.words("heads", "standard")[0],
        words.words("heads", "limit")[0],
    ]
    return titles, [
        RawRow((name, said.get("standard", ""), said.get("limit", "")), place) for name, said, place in made
    ]
