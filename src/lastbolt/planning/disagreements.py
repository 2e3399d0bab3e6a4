"""Where two sources say different counts or sizes of the same thing, side by side.

Only what both places really say is alleged; a count that may be part of a sum, or that is no plain number, is
not compared.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from itertools import combinations

from msgspec import Struct

from lastbolt.planning.counts_of_steps import Said, count_problems, counted, plain, quantity_problem
from lastbolt.planning.pairs import Pairs
from lastbolt.planning.rows_meant import RowsMeant, one_thread, same_size, short, sizes_differ
from lastbolt.words.citation import Citation, PdfPlace
from lastbolt.words.machine import Machine, PartsRow, Procedure, TableRow
from lastbolt.words.problem import Problem
from lastbolt.words.quantity import Kind
from lastbolt.words.where import places


class _Sized(Struct, frozen=True):
    """A size that a step or a table's line gives to one row. `scope`: the procedure or the table."""

    row: PartsRow
    kind: Kind | None
    where: str
    scope: str
    citations: tuple[Citation, ...]


def disagreements(machine: Machine, procedures: frozenset[str] | None = None) -> tuple[Problem, ...]:
    """Every disagreement in which a procedure of the set, or what puts its work back, takes part (any, when
    None)."""
    asked = _with_way_back(machine, procedures)
    book = RowsMeant(machine)
    said: list[Said] = []
    for procedure in machine.procedures:
        if asked is None or procedure.id in asked:
            said += _of_procedure(procedure, book)
    sized = [
        _Sized(one.meant.rows[0], one.mention.kind, one.where, one.procedure.id, one.citations)
        for one in said
        if one.meant.named and len(one.meant.rows) == 1
    ]
    found = [*count_problems(said, machine, book), *_unnamed_sizes(said, book)]
    for lines in _tables(machine, asked):
        counts, sizes = _of_table(lines, book)
        found += counts
        sized += sizes
    return (*found, *_sizes(sized), *_part_numbers(machine.rows))


def _with_way_back(machine: Machine, procedures: frozenset[str] | None) -> frozenset[str] | None:
    if procedures is None:
        return None
    pairs = Pairs(machine)
    mirrored = (pairs.of(pairs.named[one]) for one in procedures if one in pairs.named)
    return procedures | {pair.procedure.id for some in mirrored for pair in some}


def _of_procedure(procedure: Procedure, book: RowsMeant) -> Iterator[Said]:
    for step in procedure.steps:
        for mention in step.mentions:
            where = f"{procedure.number or procedure.title} step {step.mark}".removesuffix(" step ")
            meant = book.of_mention(mention, procedure)
            yield Said(where, procedure, step, mention, meant, step.citations)


def _tables(machine: Machine, asked: frozenset[str] | None) -> list[list[TableRow]]:
    """The lines of each fastener table; of those that stand in other procedures, none."""
    groups: dict[tuple[str, str], list[TableRow]] = defaultdict(list)
    for line in machine.bolt_rows:
        groups[line.source, line.table or line.id.rpartition("/")[0]].append(line)
    return [lines for lines in groups.values() if asked is None or _home(lines[0], machine) in (None, *asked)]


def _home(line: TableRow, machine: Machine) -> str | None:
    """The procedure in which a table stands: the last that begins above it; None where no page tells."""
    at = _top(line.citations)
    if at is None:
        return None
    begun = [
        (top, procedure.id)
        for procedure in machine.procedures
        for top in [_top(procedure.citations)]
        if top is not None and procedure.citations[0].source == line.source and top <= at
    ]
    return max(begun)[1] if begun else None


def _top(citations: tuple[Citation, ...]) -> tuple[int, float] | None:
    place = citations[0].place if citations else None
    return (place.pdf_page, place.box[1] if place.box else 0.0) if isinstance(place, PdfPlace) else None


def _of_table(lines: list[TableRow], book: RowsMeant) -> tuple[list[Problem], list[_Sized]]:
    """The counts that differ, and the sizes that the table gives to rows."""
    meant = book.of_table(lines)
    by_rows: dict[tuple[str, ...], list[TableRow]] = defaultdict(list)
    sized: list[_Sized] = []
    for line in lines:
        rows = meant.get(line.id, ())
        if not rows:
            continue
        by_rows[tuple(row.id for row in rows)].append(line)
        if len(rows) == 1:
            named = f"{line.table or 'a table'}, {f'item {line.item}' if line.item else line.name}"
            sized.append(_Sized(rows[0], line.kind, named, line.table, line.citations))
    found = []
    for same in by_rows.values():
        rows = meant[same[0].id]
        counts = [plain(line.quantity) for line in same]
        printed = counted(rows)
        total = sum(count for count in counts if count is not None)
        if printed is None or None in counts or total in printed:
            continue
        item = f", item {same[0].item}" if same[0].item else f", {same[0].name}"
        says = f"{same[0].table or 'a table'}{item} says {total}"
        cited = tuple(one for line in same for one in line.citations[:1])
        found.append(quantity_problem(rows, says, cited))
    return found, sized


def _sizes(said: list[_Sized]) -> Iterator[Problem]:
    """Sizes that differ between row and step; two rows whose sizes are exchanged are told as one matter."""
    wrong = list({(one.row.id, one.scope, one.kind): one for one in said if _wrong(one)}.values())
    told: set[int] = set()
    for (i, one), (j, two) in combinations(enumerate(wrong), 2):
        if not {i, j} & told and one.scope == two.scope and one.row.id != two.row.id and _crossed(one, two):
            told |= {i, j}
            yield _swapped(one, two)
    yield from (_size_problem(one) for i, one in enumerate(wrong) if i not in told)


def _wrong(one: _Sized) -> bool:
    return sizes_differ(one.row.kind, one.kind)


def _crossed(one: _Sized, two: _Sized) -> bool:
    return not sizes_differ(one.row.kind, two.kind) and not sizes_differ(two.row.kind, one.kind)


def _unnamed_sizes(said: list[Said], book: RowsMeant) -> Iterator[Problem]:
    """Sizes of steps that name no item: told when counts show two of them exchanged in the part's own figure,
    or when the only row of that thread and count has a length that no row of any figure shares."""
    by_procedure: dict[str, list[Said]] = defaultdict(list)
    for one in said:
        if not one.meant.rows and one.mention.kind is not None and plain(one.mention.quantity):
            by_procedure[one.procedure.id].append(one)
    every = [row for row in book.rows.values() if row.kind is not None]
    for some in by_procedure.values():
        figure = book.figure_of(some[0].procedure)
        rows = [row for row in book.by_figure.get(figure, ()) if row.kind is not None] if figure else []
        spoken = [one.mention.kind for one in said if one.procedure.id == some[0].procedure.id]
        for one in some:
            like = [row for row in rows if _like(row, one)]
            if len(like) != 1 or any(same_size(row.kind, one.mention.kind) for row in every):
                continue
            if not any(same_size(like[0].kind, kind) for kind in spoken):
                sized = _Sized(like[0], one.mention.kind, one.where, one.procedure.id, one.citations)
                if _wrong(sized):
                    yield _size_problem(sized)


def _like(row: PartsRow, one: Said) -> bool:
    return one_thread(row.kind, one.mention.kind) and plain(row.quantity) == plain(one.mention.quantity)


def _swapped(one: _Sized, two: _Sized) -> Problem:
    citations = (
        *one.row.citations[:1], *two.row.citations[:1], *one.citations[:1], *two.citations[:1],
    )  # fmt: skip
    figure = short(one.row.figure)
    return Problem(
        "LB-B03",
        f"Lengths are exchanged between two sources: the parts list (figure {figure}) has item "
        f"{one.row.item} as {_size(one.row.kind)} and item {two.row.item} as {_size(two.row.kind)}; "
        f"{one.where} says {_size(one.kind)} and {_short_where(one, two)} {_size(two.kind)}.",
        places(citations),
        "Measure both before they go back: too long bottoms out, too short does not hold.",
        "doubt",
        citations,
    )


def _short_where(one: _Sized, two: _Sized) -> str:
    """The second place without the table or section that both stand in."""
    common, _, rest = two.where.partition(", ")
    return rest if rest and one.where.startswith(f"{common}, ") else two.where


def _size_problem(one: _Sized) -> Problem:
    citations = (*one.row.citations[:1], *one.citations[:1])
    return Problem(
        "LB-B02",
        f"{one.row.name}: the parts list (figure {short(one.row.figure)}, item {one.row.item}) has "
        f"{_size(one.row.kind)}, {one.where} says {_size(one.kind)}.",
        places(citations),
        "Measure the fastener itself before it goes back.",
        "doubt",
        citations,
    )


def _part_numbers(rows: Iterable[PartsRow]) -> Iterator[Problem]:
    by_number: dict[str, list[PartsRow]] = defaultdict(list)
    for row in rows:
        if any(sign.isdigit() for sign in row.part_number) and row.kind is not None:
            by_number[row.part_number].append(row)
    for number, same in by_number.items():
        first = same[0]
        other = next((one for one in same[1:] if sizes_differ(first.kind, one.kind)), None)
        if other is None:
            continue
        citations = (*first.citations[:1], *other.citations[:1])
        yield Problem(
            "LB-B04",
            f"Part number {number} is {_row(first)} and {_row(other)}.",
            places(citations),
            "Order by size, and ask the maker.",
            "doubt",
            citations,
        )


def _row(row: PartsRow) -> str:
    return f"{_size(row.kind)} (figure {short(row.figure)}, item {row.item})"


def _size(kind: Kind | None) -> str:
    return kind.words() if kind else "no size"
