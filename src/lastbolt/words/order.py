"""Parts to order: what, how many, and why each is on the list."""

from typing import Literal

from msgspec import Struct

from lastbolt.words.citation import Citation
from lastbolt.words.problem import Problem

ORDER_SCHEMA = "lastbolt.order/1"

Because = Literal["single use", "beyond limit", "damaged", "lost", "missing", "odd length", "consumable"]
"""`missing`: the engine's own file says that it is not there. `odd length`: it says that another length
stands where this one belongs. `consumable`: used up, ordered by amount."""


class Reason(Struct, frozen=True, omit_defaults=True):
    """One reason for a line of the order: in words, with its place or the event that says it."""

    because: Because
    words: str
    count: int | None = None
    event: str = ""
    by: str = ""
    citations: tuple[Citation, ...] = ()


class OrderLine(Struct, frozen=True, omit_defaults=True):
    """One part. `count` None: no source says how many; `amount`: of a consumable, in the source's words.

    `part_number` is the newest; `replaces` the numbers that it stands for, the one in the list first.
    `price` is of one, in the currency of the price list, where that was given.
    """

    name: str
    part_number: str = ""
    count: int | None = None
    amount: str = ""
    size: str = ""
    replaces: tuple[str, ...] = ()
    rows: tuple[str, ...] = ()
    reasons: tuple[Reason, ...] = ()
    price: float | None = None
    doubt: str = ""
    citations: tuple[Citation, ...] = ()


class Price(Struct, frozen=True, omit_defaults=True):
    """One line of a price list. `superseded_by`: the number to ask for instead."""

    part_number: str
    price: float | None = None
    superseded_by: str = ""
    words: str = ""


class Order(Struct, frozen=True):
    """The order of one job. `total`: of the lines with a price and a count; `without`: so many have not."""

    schema: str
    goal: str
    machine: str = ""
    lines: tuple[OrderLine, ...] = ()
    total: float | None = None
    without: int = 0
    problems: tuple[Problem, ...] = ()
