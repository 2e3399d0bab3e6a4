"""Counts that a procedure's steps give of one row, beside the count that the parts list prints."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence

from msgspec import Struct

from lastbolt.planning.names import any_of, words
from lastbolt.planning.pairs import OFF
from lastbolt.planning.rows_meant import Meant, RowsMeant, family, same_size, short
from lastbolt.words.citation import Citation
from lastbolt.words.machine import EVERY, Machine, Mention, PartsRow, Procedure, Step
from lastbolt.words.problem import Problem
from lastbolt.words.quantity import Quantity
from lastbolt.words.where import places

ON = ("install", "join")


class Said(Struct, frozen=True):
    """What one step says of one thing, and the rows it means."""

    where: str
    procedure: Procedure
    step: Step
    mention: Mention
    meant: Meant
    citations: tuple[Citation, ...]


def count_problems(said: Sequence[Said], machine: Machine, book: RowsMeant) -> Iterator[Problem]:
    """Each row whose count no reading of the steps explains, once for taking off and once for putting on."""
    by_rows: dict[tuple[tuple[str, ...], str], list[Said]] = defaultdict(list)
    for one in said:
        way = _way(one.mention.deed)
        if one.meant.rows and way:
            by_rows[tuple(row.id for row in one.meant.rows), way].append(one)
    for (_, way), all_said in by_rows.items():
        rows = all_said[0].meant.rows
        printed = counted(rows)
        if printed is None or any(_limited(one) for one in all_said):
            continue
        totals = _totals(all_said)
        told_once = any(plain(one.mention.quantity) in printed for one in all_said)
        if told_once or any(total in printed for total, _, _ in totals):
            continue
        for total, complete, here in totals:
            if total is None:
                continue
            over = total > max(printed)
            more = not complete or any(_more_than_it_names(one) for one in here)
            if not over and (more or _rest_elsewhere(here, way, min(printed) - total, machine, book)):
                continue
            says = " and ".join(f"{one.where} says {one.mention.quantity.low}" for one in here[:3])
            says += f", {total} together" if len(here) > 1 else ""
            cited = tuple(one.citations[0] for one in here if one.citations)
            yield quantity_problem(rows, says, cited)
            break


def _totals(said: Sequence[Said]) -> list[tuple[int | None, bool, list[Said]]]:
    """For each procedure the sum of its plain counts, whether all are plain, and who said them."""
    by_procedure: dict[str, list[Said]] = defaultdict(list)
    for one in said:
        by_procedure[one.procedure.id].append(one)
    found: list[tuple[int | None, bool, list[Said]]] = []
    for some in by_procedure.values():
        counts = [plain(one.mention.quantity) for one in some]
        known = [count for count in counts if count is not None]
        told = [one for one, count in zip(some, counts, strict=True) if count is not None]
        found.append((sum(known) if known else None, len(known) == len(counts), told))
    return found


def _limited(one: Said) -> bool:
    """Whether a step holds only sometimes, or counts by the side, by the piece or by the assembly."""
    sometimes = bool(one.step.condition) or one.step.applies != EVERY
    return sometimes or one.mention.quantity.per in ("side", "each", "assembly")


def _more_than_it_names(one: Said) -> bool:
    """Whether a step may stand for more pieces than its number: it is repeated, or says "likewise"."""
    repeats = any(any_of(step.words, words()["again"]["repeat"]) for step in one.procedure.steps)
    return repeats or bool(any_of(one.step.words, words()["again"]["words"]))


def _rest_elsewhere(here: Sequence[Said], way: str, rest: int, machine: Machine, book: RowsMeant) -> bool:
    """Whether another step may take the rest: one of this size without a row, or one that names no size."""
    kinds = [row.kind for row in here[0].meant.rows if row.kind is not None]
    own = {(one.step.id, one.mention) for one in here}
    for procedure in machine.procedures:
        for step in procedure.steps:
            for mention in step.mentions:
                if _way(mention.deed) != way or mention.kind is None or (step.id, mention) in own:
                    continue
                meant = book.of_mention(mention, procedure).rows
                if any(row in here[0].meant.rows for row in meant):
                    return True
                count = plain(mention.quantity)
                if meant or not kinds or family(mention.kind) != family(kinds[0]):
                    continue
                if same_size(mention.kind, kinds[0]) and (count is None or count == rest):
                    return True
                unsized = mention.kind.thread is None
                if unsized and procedure.id == here[0].procedure.id and count in (None, rest):
                    return True
    return False


def counted(rows: Sequence[PartsRow]) -> frozenset[int] | None:
    """The counts that the rows can stand for: each variant's own, or all together; None when not plain."""
    if any(row.quantity.per not in ("", "figure") for row in rows):
        return None
    counts = [plain(row.quantity) for row in rows]
    known = [count for count in counts if count is not None]
    if not known or len(known) < len(counts):
        return None
    places_ = {(row.figure, row.item) for row in rows}
    if len(places_) == 1 or any(row.applies != EVERY for row in rows):
        return frozenset([*known, sum(known)])
    return frozenset([sum(known)])


def plain(quantity: Quantity) -> int | None:
    """The number of a plain count, else None."""
    return quantity.low if quantity.kind == "exactly" else None


def quantity_problem(rows: Sequence[PartsRow], says: str, cited: Iterable[Citation]) -> Problem:
    """The parts list's count beside another source's."""
    row = rows[0]
    items = ", ".join(dict.fromkeys(one.item for one in rows))
    printed = " or ".join(str(count) for count in sorted(counted(rows) or ()))
    citations = (*(one for each in rows for one in each.citations[:1]), *cited)
    return Problem(
        "LB-B01",
        f"{row.name}: the parts list (figure {short(row.figure)}, item {items}) has {printed}, {says}.",
        places(citations),
        "Count the places on the casting before anything is ordered or forced.",
        "doubt",
        tuple(citations),
    )


def _way(deed: str) -> str:
    return "off" if deed in OFF else "on" if deed in ON else ""
