"""A price list out of a table: which column is which, and the newest of each number."""

import re
import tomllib
from collections.abc import Iterable, Mapping
from functools import lru_cache
from importlib import resources
from typing import Any

from lastbolt.words.order import Price
from lastbolt.words.problem import Problem
from lastbolt.words.sheet import Sheet

_NUMBER = re.compile(r"-?\d[\d.,' ]*")


@lru_cache(maxsize=1)
def order_words() -> dict[str, Any]:
    """The words of the language, as data."""
    return tomllib.loads((resources.files("lastbolt.ordering") / "words.toml").read_text("utf-8"))


def number_key(number: str) -> str:
    """A part number as it is compared: without blanks, in capitals.

    >>> number_key("q222-615 ")
    'Q222-615'
    """
    return re.sub(r"\s+", "", number).upper()


def prices_of(sheet: Sheet, name: str) -> tuple[dict[str, Price], tuple[Problem, ...]]:
    """The lines of a price list by part number, and what could not be understood of it.

    A number that stands twice with two prices has none, and is told.
    """
    at = {
        kind: _column(sheet.columns, order_words()["prices"][kind])
        for kind in ("number", "price", "superseded")
    }
    if at["number"] is None:
        there = ", ".join(f'"{one}"' for one in sheet.columns)
        what = f"The price list has no column for part numbers, only {there or 'empty ones'}."
        return {}, (Problem("LB-O01", what, name, 'Call the column "part number".'),)
    found: dict[str, Price] = {}
    problems: list[Problem] = []
    for row in sheet.rows:
        number = number_key(_cell(row.cells, at["number"]))
        if not number:
            continue
        said = _cell(row.cells, at["price"])
        price = price_of(said)
        if said and price is None:
            problems.append(_no_price(said, number, f"{name}, line {row.line}"))
        new = Price(number, price, number_key(_cell(row.cells, at["superseded"])), said)
        old = found.get(number)
        if old is not None and (old.price, old.superseded_by) != (new.price, new.superseded_by):
            problems.append(_twice(number, old, new, f"{name}, line {row.line}"))
            new = Price(number, None, new.superseded_by or old.superseded_by, "")
        found[number] = new
    return found, tuple(problems)


def price_of(said: str) -> float | None:
    """A price with point or comma: the last of both parts the cents; thousands may be parted by either.

    >>> price_of("1.234,50"), price_of("1,234.50"), price_of("12,5"), price_of("EUR 7")
    (1234.5, 1234.5, 12.5, 7.0)
    >>> price_of("on request") is None
    True
    >>> price_of("1,234") is None  # a thousand or one and a bit: nobody can tell
    True
    """
    found = _NUMBER.findall(said)
    if len(found) != 1:
        return None
    digits = re.sub(r"[' ]", "", found[0]).rstrip(".,")
    marks = [sign for sign in digits if sign in ".,"]
    if not marks:
        return float(digits)
    last = marks[-1]
    whole, _, cents = digits.rpartition(last)
    if len(marks) == 1 and len(cents) == 3:
        return None
    if marks.count(last) > 1:
        return None if len(set(marks)) > 1 else float(digits.replace(last, ""))
    return float(f"{re.sub('[.,]', '', whole)}.{cents}")


def newest(
    number: str, prices: Mapping[str, Price], remarks: Mapping[str, str]
) -> tuple[tuple[str, ...], bool]:
    """The numbers from the one in the list to the newest, and whether they run in a circle."""
    chain = [number_key(number)]
    while True:
        price = prices.get(chain[-1])
        further = (price.superseded_by if price else "") or remarks.get(chain[-1], "")
        if not further:
            return tuple(chain), False
        if further in chain:
            return tuple(chain), True
        chain.append(further)


def supersessions(remarks: Iterable[tuple[str, str]], known: Iterable[str]) -> dict[str, str]:
    """Of parts rows, by number: the newer number that a remark names. A number is one that stands in the
    parts list or in the price list, or has a figure in it."""
    phrases = "|".join(
        re.escape(one) for one in sorted(order_words()["superseded"]["by"], key=len, reverse=True)
    )
    pattern = re.compile(rf"(?<![a-z])(?:{phrases})[:\s]+(?:p/n\s*)?([A-Z0-9][\w./-]*\d[\w./-]*)", re.I)
    numbers = {number_key(one) for one in known}
    sure = order_words()["superseded"]["sure"]
    found: dict[str, str] = {}
    for number, remark in remarks:
        said = pattern.search(remark)
        if said and number:
            further = number_key(said[1].rstrip(".,;"))
            if further in numbers or any(one in said[0].lower() for one in sure):
                found[number_key(number)] = further
    return found


def _column(columns: Iterable[str], names: Iterable[str]) -> int | None:
    heads = [re.sub(r"\s+", " ", one.strip().lower()) for one in columns]
    for name in names:
        if name in heads:
            return heads.index(name)
    return next((at for at, head in enumerate(heads) if any(head.startswith(f"{n} ") for n in names)), None)


def _cell(cells: tuple[str, ...], at: int | None) -> str:
    return cells[at].strip() if at is not None and at < len(cells) else ""


def _no_price(said: str, number: str, where: str) -> Problem:
    what = f'"{said}" beside {number} is no price that can be read one way only; it is ordered without one.'
    return Problem("LB-O02", what, where, "Write it with a point and two digits behind it: 1234.50.")


def _twice(number: str, old: Price, new: Price, where: str) -> Problem:
    what = (
        f"{number} stands twice in the price list and differently: {old.words or '-'} and {new.words or '-'}."
    )
    return Problem("LB-O03", what, where, "Keep the line that holds; it is ordered without a price.")
