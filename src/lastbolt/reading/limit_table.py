"""Tables of limits ("Part | Standard | Service limit | Unit") into cited limits, over page breaks."""

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from msgspec.structs import replace

from lastbolt.reading.drafts import slug
from lastbolt.reading.limit_cells import CellRead, Said, Side, one_side, read_cell
from lastbolt.reading.limit_columns import Column, columns_of, is_second_row, with_second_row
from lastbolt.reading.limit_facts import DOUBTFUL, NOT_READ, Read, made_limit, named, wears
from lastbolt.reading.limit_kinds import in_columns
from lastbolt.reading.limit_problems import Complaint, told
from lastbolt.reading.limit_rows import LimitRow, Place, RawRow, whole_rows
from lastbolt.reading.limit_units import Beside, lent, scaled_unit, units_beside
from lastbolt.reading.limit_words import LimitWords, limit_words, plain
from lastbolt.reading.measured_values import decimal_sign, values_in
from lastbolt.reading.tables import Table
from lastbolt.reading.units import torque_unit
from lastbolt.words.citation import Citation, PdfPlace, rounded
from lastbolt.words.measured import Limit, LimitSense
from lastbolt.words.problem import Problem

_SAME_EDGE = 0.02


class TableAt(NamedTuple):
    """A table with the words that stand beside it and the page it is on."""

    table: Table
    beside: str
    printed_page: str | None = None
    first: bool = False
    """It is the first thing of its page, and `last` the last."""
    last: bool = False
    left_over: str = ""
    """A row right below that does not fit its columns."""


class Limits(NamedTuple):
    """The limits of a source's tables, and what is to be said about them."""

    limits: tuple[Limit, ...]
    problems: tuple[Problem, ...]


class _Whole(NamedTuple):
    """A table with those on the next pages that go on with it."""

    columns: list[Column]
    rows: list[RawRow]
    titles: tuple[str, ...]
    beside: str
    printed: dict[int, str | None]
    left_over: list[tuple[str, Table]]


class _Given(NamedTuple):
    """What a whole table says of its numbers: units beside it, the sign of decimals, units in its cells."""

    beside: Beside
    sign: str
    printed: dict[int, frozenset[str]]
    """The units printed in the cells of each column of values."""


def read_limit_tables(tables: Iterable[TableAt], source: str, title: str) -> Limits:
    """The limits of a source's tables; of what looks like a table of limits and is none, a problem."""
    words = limit_words()
    found: list[Limit] = []
    complaints: list[Complaint] = []
    for whole in _together(list(tables), words):
        limits, more = _rows(whole, source, words)
        found += limits
        complaints += more
    return Limits(tuple(_apart(found)), told(complaints, title))


def _together(tables: Sequence[TableAt], words: LimitWords) -> Iterator[_Whole]:
    """Each table of limits with its continuations."""
    current: _Whole | None = None
    before: TableAt | None = None
    for at in tables:
        if current is not None and before is not None and _goes_on(at, before, words):
            current.rows.extend(_raw_rows(at.table, current.titles))
            current.left_over.extend([(at.left_over, at.table)] if at.left_over else [])
            current.printed[at.table.pdf_page] = at.printed_page
            before = at
            continue
        if current is not None:
            yield current
        current, before = _begun(at, words), at
    if current is not None:
        yield current


def _begun(at: TableAt, words: LimitWords) -> _Whole | None:
    """The table as the beginning of one of limits, or None when it is none."""
    table = at.table
    if any(_is_torque(title) for title in table.titles) or table.column("torque") is not None:
        return None
    titles, rows = in_columns(list(table.titles), _raw_rows(table, table.titles), words)
    if rows and is_second_row(rows[0].cells, words):
        titles, rows = with_second_row(titles, rows[0].cells), rows[1:]
    columns = columns_of(titles, words)
    called = words.pattern("heads", "titles").search(plain(at.beside)) is not None
    limited = words.pattern("heads", "limit")
    heads = zip(titles, columns, strict=True)
    sided = any(column.role == "limit" and limited.search(plain(title)) for title, column in heads)
    if not sided and not (called and any(column.role in ("limit", "standard") for column in columns)):
        return None
    return _Whole(columns, rows, table.titles, at.beside, {table.pdf_page: at.printed_page}, [])


def _is_torque(title: str) -> bool:
    """Whether a heading names a unit of torque."""
    return any(
        torque_unit(part) is not None for part in title.replace("(", " ( ").replace(")", " ) ").split("  ")
    )


def _goes_on(at: TableAt, before: TableAt, words: LimitWords) -> bool:
    """Whether a table is the rest of the one at the end of the page before."""
    one, other = before.table, at.table
    if other.pdf_page not in (one.pdf_page + 1, one.pdf_page) or len(other.titles) != len(one.titles):
        return False
    if other.titles == one.titles:
        return other.pdf_page != one.pdf_page
    alike = abs(one.box[0] - other.box[0]) < _SAME_EDGE and abs(one.box[2] - other.box[2]) < _SAME_EDGE
    bare = all(column.role in ("", "name") for column in columns_of(other.titles, words))
    return at.first and before.last and other.ruled and alike and bare and other.pdf_page != one.pdf_page


def _raw_rows(table: Table, titles: Sequence[str]) -> list[RawRow]:
    """The rows; the first, taken for headings where the table goes on, with them."""
    rows = []
    if tuple(table.titles) != tuple(titles):
        top = table.rows[0].box[1] if table.rows else table.box[3]
        left, _, right, _ = table.box
        rows.append(RawRow(tuple(table.titles), Place(table.pdf_page, (left, table.box[1], right, top))))
    for row in table.rows:
        cells = tuple(cell.text for cell in row.cells)
        if cells != tuple(titles):
            bold = all(cell.bold for cell in row.cells if cell.text)
            rows.append(RawRow(cells, Place(table.pdf_page, row.box), bold))
    return rows


def _rows(whole: _Whole, source: str, words: LimitWords) -> tuple[list[Limit], list[Complaint]]:
    columns = whole.columns
    valued = [at for at, column in enumerate(columns) if column.role in ("standard", "limit")]
    if all(column.role != "name" for column in columns):
        return [], [_unreadable(whole, source, "no column says what is measured")]
    default = _unit_beside(whole.beside, words)
    sign = decimal_sign([row.cells[at] for row in whole.rows for at in valued])
    given = _Given(default, sign, _printed_units(whole, valued, sign, words))
    found: list[Limit] = []
    complaints: list[Complaint] = []
    rows = whole_rows(whole.rows, columns, words)
    for row in rows:
        cite = _cite(row, whole, source)
        limit, more = _limit(row, columns, given, cite, words)
        complaints += more
        found += [limit] if limit is not None else []
    for said, table in whole.left_over:
        place = PdfPlace(table.pdf_page, whole.printed.get(table.pdf_page), rounded(table.box))
        complaints.append(
            Complaint(NOT_READ, said, "the row does not fit the columns", Citation(source, place, said))
        )
    if not found and not complaints and any(c.isdigit() for row in rows for c in "".join(row.cells)):
        complaints.append(_unreadable(whole, source, "no row was understood"))
    return found, complaints


def _limit(
    row: LimitRow, columns: Sequence[Column], given: _Given, cite: Citation, words: LimitWords
) -> tuple[Limit | None, list[Complaint]]:
    called = f"{row.group} {row.name}"
    unit_cells = [row.cells[at] for at, column in enumerate(columns) if column.role == "unit"]
    own = next((u for cell in unit_cells if (u := words.unit(cell.strip(" ()[]"))) is not None), "")
    default = own or given.beside.of(called)
    read = [
        (column.role, read_cell(row.cells[at], column, default, given.sign, words))
        for at, column in enumerate(columns)
        if column.role in ("standard", "limit")
    ]
    name = named(row.name, words, row.group)
    what = f"{row.group}: {name.what}" if row.group and name.measure == name.what.lower() else name.what
    name = name._replace(what=what, part=row.group if row.group and not name.part else name.part)
    unread = next((cell.unread for _, cell in read if cell.unread), "")
    standard, limit = _side(read, "standard"), _side(read, "limit")
    standard, limit, doubts = _own_units(standard, limit, columns, given.printed)
    unread = unread or standard.unread or limit.unread
    if not unread and not standard.values and not limit.values:
        return None, []
    if not unread and not name.what:
        unread = "the row has no name"
    if unread:
        return None, [Complaint(NOT_READ, name.what, unread, cite)]
    said = limit.sense or _named_side(name.what, words)
    made = made_limit(
        f"{cite.source}/limit/{slug(name.what, 60)}", name, Read(standard.values, limit.values, said), cite
    )
    beside = "; ".join(cell.beside for _, cell in read if cell.beside)
    other = given.beside.unsure(called) if not own and default == _unit_of(read) else ""
    if other and name.wears in {wears(kind, words) for kind, _ in given.beside.kinds} - {""}:
        doubts.append(f"{default or 'no unit'} is taken for it; beside the table {other} is said as well")
    tell = [Complaint(code, name.what, why, cite) for code, why in made.tell]
    kept = made.limit
    doubts += [f'beside the number stands "{beside}"'] if beside else []
    tell += [Complaint(DOUBTFUL, name.what, why, cite) for why in doubts]
    kept = replace(kept, doubt="; ".join(part for part in (kept.doubt, *doubts) if part))
    return kept, tell


def _printed_units(
    whole: _Whole, valued: Sequence[int], sign: str, words: LimitWords
) -> dict[int, frozenset[str]]:
    return {
        at: frozenset(
            value.span.unit
            for row in whole.rows
            for value in values_in(row.cells[at], sign, words)
            if value.span.unit
        )
        for at in valued
    }


def _unit_of(read: Sequence[tuple[str, CellRead]]) -> str:
    """The one unit of a row's values; "" where there are several."""
    units = {one.value.span.unit for _, cell in read for one in cell.said}
    return next(iter(units)) if len(units) == 1 else ""


def _own_units(
    standard: Side, limit: Side, columns: Sequence[Column], printed: dict[int, frozenset[str]]
) -> tuple[Side, Side, list[str]]:
    """The two sides of a row, one without a unit left out where the other's is hardly its own."""
    doubts = []
    sides = {"standard": standard, "limit": limit}
    for side, other in (("standard", "limit"), ("limit", "standard")):
        said = frozenset(u for at, units in printed.items() if columns[at].role == side for u in units)
        headed = any(column.units for column in columns if column.role == other)
        loan = lent(sides[side].values, sides[other].values, said, side) if headed else None
        if loan is not None:
            doubts.append(loan.doubt)
            sides[side] = Side((), "") if loan.drop else sides[side]
    return sides["standard"], sides["limit"], doubts


def _side(read: Sequence[tuple[str, CellRead]], role: str) -> Side:
    said: list[Said] = [one for of, cell in read if of == role for one in cell.said]
    return one_side(said, role == "standard")


def _named_side(what: str, words: LimitWords) -> LimitSense:
    """The side that the row's own name says: "Runout, max."."""
    if words.pattern("sense", "at_most").search(what):
        return "at most"
    return "at least" if words.pattern("sense", "at_least").search(what) else ""


def _unit_beside(beside: str, words: LimitWords) -> Beside:
    """The unit that the words above a table give to all its numbers, "Wear limits (mm)", or to some kinds."""
    for part in (part.partition(")")[0] for part in beside.split("(")[1:]):
        last = part.strip().rpartition(" ")[2]
        unit = scaled_unit(f"({part})", words) or words.unit(part.strip()) or words.unit(last)
        if unit:
            return Beside(unit)
    return units_beside(beside, words)


def _cite(row: LimitRow, whole: _Whole, source: str) -> Citation:
    first = row.places[0]
    boxes = [place.box for place in row.places if place.pdf_page == first.pdf_page]
    box = (
        min(b[0] for b in boxes),
        min(b[1] for b in boxes),
        max(b[2] for b in boxes),
        max(b[3] for b in boxes),
    )
    place = PdfPlace(first.pdf_page, whole.printed.get(first.pdf_page), rounded(box))
    return Citation(source, place, " | ".join(cell for cell in row.cells if cell))


def _unreadable(whole: _Whole, source: str, why: str) -> Complaint:
    place = whole.rows[0].place if whole.rows else Place(0, (0.0, 0.0, 0.0, 0.0))
    heads = ", ".join(f'"{title}"' for title in whole.titles if title)
    at = PdfPlace(place.pdf_page, whole.printed.get(place.pdf_page), rounded(place.box))
    said = "; ".join(" | ".join(cell for cell in row.cells if cell) for row in whole.rows[:3])
    return Complaint(NOT_READ, "", f"{why}, {len(whole.rows)} rows under {heads}", Citation(source, at, said))


def _apart(limits: Sequence[Limit]) -> list[Limit]:
    seen: dict[str, int] = {}
    apart = []
    for limit in limits:
        seen[limit.id] = seen.get(limit.id, 0) + 1
        again = seen[limit.id]
        apart.append(limit if again == 1 else replace(limit, id=f"{limit.id}+{again}"))
    return apart
