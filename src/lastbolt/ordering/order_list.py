"""The order of one job: single-use parts, parts found bad, seals of opened joints, consumables."""

from collections.abc import Iterable, Iterator, Mapping, Sequence

from msgspec import Struct

from lastbolt.ordering.prices import newest, number_key, order_words, supersessions
from lastbolt.words.account import Account
from lastbolt.words.back import Back
from lastbolt.words.engine import Engine
from lastbolt.words.job import FoundBad, Job
from lastbolt.words.machine import Machine, PartsRow
from lastbolt.words.order import ORDER_SCHEMA, Order, OrderLine, Price, Reason
from lastbolt.words.plan import Plan
from lastbolt.words.problem import Problem
from lastbolt.words.quantity import Quantity
from lastbolt.words.standing import standing
from lastbolt.words.supplies import Consumable

NO_NUMBER = "No part number is known: look it up before ordering."
NO_COUNT = "The sources do not say how many."
CIRCLE = "The newer numbers run in a circle: ask the supplier which holds."
COMMON = "common practice, no source: an opened joint gets new gaskets and seals"


class _Wish(Struct, frozen=True):
    """One part wanted for one reason."""

    name: str
    reason: Reason
    rows: tuple[str, ...] = ()
    number: str = ""


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
    book = _Book(machine)
    wishes = [*_single_use(back, book), *_found_bad(work.job, book), *_missing(work.engine, book)]
    wishes += _seals(back, work.account, book, {row for one in wishes for row in one.rows})
    merged: dict[str, list[_Wish]] = {}
    for wish in wishes:
        merged.setdefault(book.key(wish), []).append(wish)
    remarks = supersessions(
        ((row.part_number, row.remarks) for row in machine.rows),
        [*(row.part_number for row in machine.rows), *(prices or {})],
    )
    lines = [_line(some, book, prices or {}, remarks) for some in merged.values()]
    lines.sort(key=lambda one: (not one.part_number, one.part_number))
    lines += _consumables(machine, work.plan, back)
    priced = [one for one in lines if one.price is not None and one.count]
    total = sum((one.price or 0.0) * (one.count or 0) for one in priced)
    return Order(
        ORDER_SCHEMA, work.plan.goal, work.plan.machine, tuple(lines),
        None if prices is None else round(total, 2),
        0 if prices is None else len(lines) - len(priced),
        tuple(_doubts(lines)),
    )  # fmt: skip


class _Book:
    """The parts list, by row and by name."""

    def __init__(self, machine: Machine) -> None:
        self.rows = {row.id: row for row in machine.rows}
        self.by_name: dict[str, list[PartsRow]] = {}
        for row in machine.rows:
            self.by_name.setdefault(row.name.strip().casefold(), []).append(row)

    def key(self, wish: _Wish) -> str:
        """What makes two wishes one line: the same number, else the same row, else the same name."""
        number = self.number(wish)
        return f"#{number_key(number)}" if number else "|".join(wish.rows) or wish.name.strip().casefold()

    def number(self, wish: _Wish) -> str:
        """The part number that the list has for it, if it has one only."""
        numbers = {self.rows[row].part_number for row in wish.rows if row in self.rows} - {""}
        return wish.number or (numbers.pop() if len(numbers) == 1 else "")

    def named(self, name: str) -> tuple[str, ...]:
        """The row of just that name, singular or plural, where there is one only."""
        key = name.strip().casefold()
        found = self.by_name.get(key) or self.by_name.get(key.removesuffix("s")) or []
        return (found[0].id,) if len(found) == 1 else ()

    def count(self, rows: Iterable[str]) -> int | None:
        """How many the figures show of it."""
        counts = [_exact(self.rows[row].quantity) for row in rows if row in self.rows]
        known = [one for one in counts if one is not None]
        return sum(known) if known and len(known) == len(counts) else None


def _exact(quantity: Quantity) -> int | None:
    return quantity.low if quantity.kind == "exactly" else None


def _single_use(back: Back, book: _Book) -> Iterator[_Wish]:
    for part in back.new_parts:
        words = part.words or "the source wants a new one"
        reason = Reason("single use", words, citations=part.citations)
        number = part.part_numbers[0] if len(part.part_numbers) == 1 else ""
        yield _Wish(part.part, reason, part.rows or book.named(part.part), number)


def _found_bad(job: Job | None, book: _Book) -> Iterator[_Wish]:
    for _, event in standing(job):
        if isinstance(event, FoundBad):
            rows = (event.row,) if event.row in book.rows else book.named(event.part)
            words = event.words or f"found {event.how}"
            reason = Reason(event.how, words, event.count, event.id, event.by, event.citations)
            yield _Wish(event.part, reason, rows)


def _missing(engine: Engine | None, book: _Book) -> Iterator[_Wish]:
    for fact in engine.as_found if engine else ():
        if fact.what == "missing":
            rows = (fact.line,) if fact.line in book.rows else ()
            name = book.rows[rows[0]].name if rows else (fact.kind.words() if fact.kind else fact.words)
            reason = Reason("missing", fact.words, fact.count, by=fact.by, citations=fact.citations)
            yield _Wish(name, reason, rows)


def _seals(back: Back, account: Account, book: _Book, known: set[str]) -> Iterator[_Wish]:
    """Gaskets and seals among what came off, where no source says whether they are used again."""
    off = {one.id for one in account.things if one.state != "on"}
    names = order_words()["seals"]["names"]
    renewed = {one.part.casefold() for one in back.new_parts}
    for one in back.removed:
        low = one.part.casefold()
        if (
            one.id not in off
            or one.renewed
            or not any(low.endswith(name) or low.endswith(f"{name}s") for name in names)
        ):
            continue
        if not set(one.rows) & known and low not in renewed:
            yield _Wish(one.part, Reason("single use", COMMON, one.count), one.rows or book.named(one.part))


def _line(
    wishes: Sequence[_Wish], book: _Book, prices: Mapping[str, Price], remarks: Mapping[str, str]
) -> OrderLine:
    rows = tuple(dict.fromkeys(row for one in wishes for row in one.rows if row in book.rows))
    row = book.rows[rows[0]] if rows else None
    listed = next((number for one in wishes if (number := book.number(one))), "")
    chain, circle = newest(listed, prices, remarks) if listed else ((), False)
    older = () if circle else chain[:-1]
    number = chain[-1] if older else listed
    price = prices.get(number_key(number))
    count = _count(wishes, book.count(rows))
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


def _count(wishes: Sequence[_Wish], in_figures: int | None) -> int | None:
    """As many as the reasons name together; a part that is used once is wanted as often as it is there."""
    named = [one.reason.count for one in wishes if one.reason.because != "single use"]
    known = sum(one for one in named if one)
    if all(one.reason.because != "single use" for one in wishes):
        return known or None
    said = max((one.reason.count or 0 for one in wishes), default=0)
    whole = max(in_figures or 0, said)
    return max(whole, known) if whole else None


def _consumables(machine: Machine, plan: Plan, back: Back) -> Iterator[OrderLine]:
    """What the plan and its way back use up, by amount where the sources print one."""
    procedures = {line.procedure for line in plan.lines} | {one.line.procedure for one in back.lines}
    steps = {line.step for line in plan.lines} | {one.line.step for one in back.lines}
    used: dict[str, list[Consumable]] = {}
    for procedure in machine.procedures:
        if procedure.id in procedures:
            own = [c for step in procedure.steps if step.id in steps for c in step.consumables]
            for one in (*procedure.consumables, *own):
                used.setdefault(one.name.strip().casefold(), []).append(one)
    for some in used.values():
        first = some[0]
        reasons = tuple(
            dict.fromkeys(
                Reason("consumable", one.words or one.name, citations=one.citations) for one in some
            )
        )
        yield OrderLine(first.name, amount=_amount(some), reasons=reasons, citations=first.citations)


def _amount(some: Iterable[Consumable]) -> str:
    """Amounts of one unit added; what has none as the source says it."""
    sums: dict[str, float] = {}
    said: dict[str, None] = {}
    for one in some:
        span = one.amount
        if span is not None and span.high is not None and span.unit:
            sums[span.unit] = sums.get(span.unit, 0.0) + span.high
        elif one.how:
            said[one.how] = None
    return ", ".join([*(f"{round(value, 6):g} {unit}" for unit, value in sums.items()), *said])


def _doubts(lines: Iterable[OrderLine]) -> Iterator[Problem]:
    for one in lines:
        if CIRCLE in one.doubt:
            yield Problem("LB-O04", f"{one.name}: {CIRCLE}", one.part_number, "Ask before you order.")
