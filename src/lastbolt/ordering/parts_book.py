"""The parts list as an order looks things up in it, and what is wanted of it."""

from collections.abc import Iterable

from msgspec import Struct

from lastbolt.ordering.prices import number_key
from lastbolt.words.machine import Machine, PartsRow
from lastbolt.words.order import Reason
from lastbolt.words.quantity import Quantity


class Wish(Struct, frozen=True):
    """One part wanted for one reason."""

    name: str
    reason: Reason
    rows: tuple[str, ...] = ()
    number: str = ""


class PartsBook:
    """The parts list, by row and by name."""

    def __init__(self, machine: Machine) -> None:
        self.rows = {row.id: row for row in machine.rows}
        self.by_name: dict[str, list[PartsRow]] = {}
        for row in machine.rows:
            self.by_name.setdefault(row.name.strip().casefold(), []).append(row)

    def key(self, wish: Wish) -> str:
        """What makes two wishes one line: the same number, else the same row, else the same name."""
        number = self.number(wish)
        return f"#{number_key(number)}" if number else "|".join(wish.rows) or wish.name.strip().casefold()

    def number(self, wish: Wish) -> str:
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
