"""The order of one job: single-use parts, parts found bad, seals of opened joints, consumables."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence

from msgspec import Struct

from lastbolt.ordering.by_engine import by_engine
from lastbolt.ordering.parts_book import PartsBook, Wish
from lastbolt.ordering.prices import newest, number_key, order_words, supersessions
from lastbolt.ordering.said_count import said_count
from lastbolt.ordering.still_wanted import still_wanted
from lastbolt.ordering.used_up import used_up
from lastbolt.words.account import Account
from lastbolt.words.back import Back
from lastbolt.words.engine import Engine
from lastbolt.words.job import FoundBad, Job
from lastbolt.words.machine import Machine
from lastbolt.words.order import ORDER_SCHEMA, Order, OrderLine, Price, Reason
from lastbolt.words.plan import Plan
from lastbolt.words.problem import Problem
from lastbolt.words.standing import standing

NO_NUMBER = "No part number is known: look it up before ordering."
NO_COUNT = "The sources do not say how many."
CIRCLE = "The newer numbers run in a circle: ask the supplier which holds."
COMMON = "common practice, no source: an opened joint gets new gaskets and seals"


class Work(Struct, frozen=True):
    """What an order is made of."""

    machine: Machine
    plan: Plan
    back: Back
    account: Account
    engine: Engine | None = None
    job: Job | None = None


def order_list(work: Work, prices: Mapping[str, Price] | None = None) -> Order:
    """Everything that has to be ordered for a job, one line for each part, with all reasons for it.

    Args:
        work: the plan with its way back, and what was found at the bench
        prices: a price list by part number (`ordering.prices.prices_of`); None: no prices are wanted
    """
    machine, back = work.machine, work.back
    book = PartsBook(machine)
    wishes = [*_single_use(back, book), *_found_bad(work.job, book), *by_engine(work.engine, book)]
    wishes += _seals(work, book, {row for one in wishes for row in one.rows})
    merged: dict[str, list[Wish]] = {}
    for wish in wishes:
        merged.setdefault(book.key(wish), []).append(wish)
    remarks = supersessions(
        ((row.part_number, row.remarks) for row in machine.rows),
        [*(row.part_number for row in machine.rows), *(prices or {})],
    )
    made = (_line(some, book, prices or {}, remarks, work.job) for some in merged.values())
    lines = [line for line in made if line is not None]
    lines.sort(key=lambda one: (not one.part_number, one.part_number))
    lines += used_up(machine, work.plan, back)
    priced = [one for one in lines if one.price is not None and one.count]
    total = sum((one.price or 0.0) * (one.count or 0) for one in priced)
    return Order(
        ORDER_SCHEMA, work.plan.goal, work.plan.machine, tuple(lines),
        None if prices is None else round(total, 2),
        0 if prices is None else len(lines) - len(priced),
        tuple(_doubts(lines)),
    )  # fmt: skip


def _single_use(back: Back, book: PartsBook) -> Iterator[Wish]:
    for part in back.new_parts:
        words = part.words or "the source wants a new one"
        reason = Reason("single use", words, said_count(part.words, part.part), citations=part.citations)
        number = part.part_numbers[0] if len(part.part_numbers) == 1 else ""
        yield Wish(part.part, reason, part.rows or book.named(part.part), number)


def _found_bad(job: Job | None, book: PartsBook) -> Iterator[Wish]:
    for _, event in standing(job):
        if isinstance(event, FoundBad):
            rows = (event.row,) if event.row in book.rows else book.named(event.part)
            words = event.words or f"found {event.how}"
            reason = Reason(event.how, words, event.count, event.id, event.by, event.citations)
            yield Wish(event.part, reason, rows)


def _seals(work: Work, book: PartsBook, known: set[str]) -> Iterator[Wish]:
    """Gaskets and seals among what came off, where no source says whether they are used again."""
    back, places = work.back, {line.id: line.citations[:1] for line in work.plan.lines}
    off = {one.id for one in work.account.things if one.state != "on"}
    names = order_words()["seals"]["names"]
    told = [frozenset(one.part.casefold().split()) for one in back.new_parts]
    for one in back.removed:
        low = one.part.casefold()
        seal = any(low.endswith(name) or low.endswith(f"{name}s") for name in names)
        if one.id not in off or one.renewed or not seal or set(one.rows) & known:
            continue
        if same := next((words for words in told if set(low.split()) <= words), None):
            told.remove(same)
            continue
        reason = Reason("single use", COMMON, one.count, citations=places.get(one.off_by, ()))
        yield Wish(one.part, reason, one.rows or book.named(one.part))


def _line(
    wishes: Sequence[Wish],
    book: PartsBook,
    prices: Mapping[str, Price],
    remarks: Mapping[str, str],
    job: Job | None,
) -> OrderLine | None:
    """The line for one part; nothing where new ones went in for all that are wanted."""
    rows = tuple(dict.fromkeys(row for one in wishes for row in one.rows if row in book.rows))
    row = book.rows[rows[0]] if rows else None
    listed = next((number for one in wishes if (number := book.number(one))), "")
    chain, circle = newest(listed, prices, remarks) if listed else ((), False)
    older = () if circle else chain[:-1]
    number = chain[-1] if older else listed
    price = prices.get(number_key(number))
    wanted = still_wanted(_counted(book.count(rows)), wishes, rows, listed, job)
    if wanted is None:
        return None
    count = wanted or None
    doubts = [CIRCLE] if circle else []
    doubts += [] if listed else [NO_NUMBER]
    doubts += [] if count else [NO_COUNT]
    return OrderLine(
        row.name if row else wishes[0].name,
        number,
        count,
        size=row.kind.words() if row and row.kind else "",
        replaces=older,
        rows=rows,
        reasons=tuple(one.reason for one in wishes),
        price=price.price if price else None,
        doubt=" ".join(doubts),
        citations=row.citations if row else wishes[0].reason.citations,
    )


def _counted(in_figures: int | None) -> Callable[[Sequence[Wish]], int]:
    """How many some wishes ask for; 0: nobody says how many."""

    def count(wishes: Sequence[Wish]) -> int:
        named = [one.reason.count for one in wishes if one.reason.because != "single use"]
        known = sum(one for one in named if one)
        if all(one.reason.because != "single use" for one in wishes):
            return known
        said = max((one.reason.count or 0 for one in wishes), default=0)
        return max(in_figures or 0, said, known)

    return count


def _doubts(lines: Iterable[OrderLine]) -> Iterator[Problem]:
    for one in lines:
        if CIRCLE in one.doubt:
            yield Problem("LB-O04", f"{one.name}: {CIRCLE}", one.part_number, "Ask before you order.")
