"""Where two sources say different counts or sizes of the same thing, side by side.

Only what both places really say is alleged; a count that may be part of a sum, or that is no plain number, is
not compared.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator

from msgspec import Struct

from lastbolt.words.citation import CellPlace, Citation, PdfPlace
from lastbolt.words.machine import Machine, Mention, PartsRow
from lastbolt.words.problem import Problem
from lastbolt.words.quantity import Kind, Quantity

OFF, ON = ("remove", "separate"), ("install", "join", "tighten")


class _Said(Struct, frozen=True):
    """What one step says of one row."""

    where: str
    deed: str
    procedure: str
    mention: Mention
    citations: tuple[Citation, ...]


def disagreements(machine: Machine, procedures: frozenset[str] | None = None) -> tuple[Problem, ...]:
    """Every disagreement in which a procedure of the set (or any, when None) takes part."""
    rows = {row.id: row for row in machine.rows}
    said: dict[str, list[_Said]] = defaultdict(list)
    for procedure in machine.procedures:
        if procedures is not None and procedure.id not in procedures:
            continue
        for step in procedure.steps:
            for mention in step.mentions:
                if len(mention.rows) == 1 and mention.rows[0] in rows:
                    where = f"{procedure.number} step {step.mark}".strip()
                    item = _Said(where, _way(mention.deed), procedure.id, mention, step.citations)
                    said[mention.rows[0]].append(item)
    found = [problem for row_id, all_said in said.items() for problem in _counts(rows[row_id], all_said)]
    sizes = [(rows[row_id], one) for row_id, all_said in said.items() for one in all_said]
    return (*found, *_sizes(sizes), *_part_numbers(machine.rows))


def _way(deed: str) -> str:
    return "off" if deed in OFF else "on" if deed in ON else "other"


def _counts(row: PartsRow, said: list[_Said]) -> Iterator[Problem]:
    printed = _plain(row.quantity)
    if printed is None:
        return
    for way in ("off", "on"):
        here = [one for one in said if one.deed == way]
        counts = [_plain(one.mention.quantity) for one in here]
        total = sum(count for count in counts if count is not None)
        partial = any(count is None for count in counts)
        wrong = total > printed or (total < printed and not partial)
        if not here or None in (counts[0],) or not wrong:
            continue
        if any(one.mention.quantity.per in ("side", "each") for one in here) or printed in counts:
            continue
        yield _quantity_problem(row, here, total)


def _quantity_problem(row: PartsRow, here: list[_Said], total: int) -> Problem:
    steps = " and ".join(f"{one.where} says {one.mention.quantity.low}" for one in here[:3])
    citations = (*row.citations[:1], *(one.citations[0] for one in here if one.citations))
    return Problem(
        "LB-B01",
        f"{row.name}: the parts list (figure {_short(row.figure)}, item {row.item}) has {row.quantity.low}, "
        f"{steps}{f', {total} together' if len(here) > 1 else ''}.",
        _places(citations),
        "Count the places on the casting before anything is ordered or forced.",
        "doubt",
        tuple(citations),
    )


def _sizes(said: list[tuple[PartsRow, _Said]]) -> Iterator[Problem]:
    """Sizes that differ between row and step; two rows whose sizes are exchanged are told as one matter."""
    wrong = [(row, one) for row, one in said if _differ(row.kind, one.mention.kind)]
    told: set[int] = set()
    for i, (row, one) in enumerate(wrong):
        if i in told:
            continue
        for j, (other, two) in enumerate(wrong[i + 1 :], i + 1):
            crossed = one.procedure == two.procedure and other.id != row.id
            if (
                crossed
                and not _differ(row.kind, two.mention.kind)
                and not _differ(other.kind, one.mention.kind)
            ):
                told |= {i, j}
                yield _swapped(row, one, other, two)
                break
        else:
            told.add(i)
            yield _size_problem(row, one)


def _differ(a: Kind | None, b: Kind | None) -> bool:
    return a is not None and b is not None and a.matches(b) == "no"


def _swapped(row: PartsRow, one: _Said, other: PartsRow, two: _Said) -> Problem:
    citations = (*row.citations[:1], *other.citations[:1], *one.citations[:1], *two.citations[:1])
    return Problem(
        "LB-B03",
        f"Lengths are exchanged between two sources: the parts list has item {row.item} as {_size(row.kind)} "
        f"and item {other.item} as {_size(other.kind)}, {one.where} says {_size(one.mention.kind)} and "
        f"{two.where} {_size(two.mention.kind)}.",
        _places(citations),
        "Measure both before they go back: too long bottoms out, too short does not hold.",
        "doubt",
        citations,
    )


def _size_problem(row: PartsRow, one: _Said) -> Problem:
    citations = (*row.citations[:1], *one.citations[:1])
    return Problem(
        "LB-B02",
        f"{row.name}: the parts list (figure {_short(row.figure)}, item {row.item}) has {_size(row.kind)}, "
        f"{one.where} says {_size(one.mention.kind)}.",
        _places(citations),
        "Measure the fastener itself before it goes back.",
        "doubt",
        citations,
    )


def _part_numbers(rows: Iterable[PartsRow]) -> Iterator[Problem]:
    by_number: dict[str, list[PartsRow]] = defaultdict(list)
    for row in rows:
        if row.part_number and row.kind is not None:
            by_number[row.part_number].append(row)
    for number, same in by_number.items():
        first = same[0]
        for other in same[1:]:
            if _differ(first.kind, other.kind):
                citations = (*first.citations[:1], *other.citations[:1])
                sizes = f"{_size(first.kind)} in one row and {_size(other.kind)} in another"
                what = f"Part number {number} is {sizes}."
                yield Problem(
                    "LB-B04",
                    what,
                    _places(citations),
                    "Order by size, and ask the maker.",
                    "doubt",
                    citations,
                )
                break


def _plain(quantity: Quantity) -> int | None:
    return quantity.low if quantity.kind == "exactly" else None


def _size(kind: Kind | None) -> str:
    return kind.words() if kind else "no size"


def _short(figure: str) -> str:
    return figure.rpartition("/")[2]


def _places(citations: Iterable[Citation]) -> str:
    said = []
    for citation in citations:
        place = citation.place
        if isinstance(place, PdfPlace):
            printed = f"page {place.printed_page}, " if place.printed_page else ""
            said.append(f"{citation.source}, {printed}PDF page {place.pdf_page}")
        elif isinstance(place, CellPlace):
            said.append(f"{citation.source}, line {place.line}")
    return "; ".join(dict.fromkeys(said))
