"""An order as rows of a table: for files, the printed sheet and the terminal."""

from lastbolt.ordering.order_list import COMMON
from lastbolt.words.order import Order, OrderLine
from lastbolt.words.where import where

HEADS = ("Part number", "Name", "Size", "Quantity", "Why", "Where", "Stands for", "Look", "Price", "Sum")
PRICED = ("Price", "Sum")


def heads(order: Order) -> tuple[str, ...]:
    """The headings: prices only where a price list was given."""
    return HEADS if order.total is not None else tuple(one for one in HEADS if one not in PRICED)


def cells(line: OrderLine, priced: bool) -> tuple[str, ...]:
    """One line, as the headings have it."""
    both = line.price is not None and line.count
    money = (_money(line.price), _money((line.price or 0.0) * (line.count or 0)) if both else "")
    found = (
        line.part_number,
        line.name,
        line.size,
        quantity(line),
        why(line),
        where(line.citations[0]) if line.citations else "",
        ", ".join(line.replaces),
        line.doubt,
    )
    return (*found, *money) if priced else found


def quantity(line: OrderLine) -> str:
    """How many, or how much; "?" where nobody says."""
    return str(line.count) if line.count else line.amount or "?"


def why(line: OrderLine) -> str:
    """All reasons: the kind of each, once, who found it, and the page that says so."""
    said = []
    for reason in line.reasons:
        by = f" ({reason.by})" if reason.by else ""
        # A limit that was passed is told with what was measured: the part may be dear.
        told = (reason.event and reason.citations) or reason.because == "odd length" or reason.words == COMMON
        words = f": {reason.words.rstrip('.')}" if told else ""
        cited = reason.citations[:1]
        page = f" [{where(cited[0])}]" if cited and cited[0] not in line.citations else ""
        said.append(f"{reason.because}{by}{words}{page}")
    return ", ".join(dict.fromkeys(said))


def _money(amount: float | None) -> str:
    return "" if amount is None else f"{amount:.2f}"
