"""Typed lines that say which rows of a read parts list belong to the joint: "figure 7 item 3 here"."""

import re

from lastbolt.app.typed_lines import lines_of, struck
from lastbolt.words.joint import Tie
from lastbolt.words.machine import Machine, PartsRow
from lastbolt.words.quantity import Kind

TIED = re.compile(
    r"^(?:(?:fig(?:ure|\.)?)\s+(.+?),?\s+)?item\s+(\S+?),?\s+(?:is\s+|are\s+)?(some\s+)?here$", re.I
)
_SPEAKER = re.compile(r"^by\s+(.+)$", re.I)


def typed_ties(text: str, machine: Machine) -> dict[int, Tie]:
    """The ties by the number of their line; a line whose words fit no row, or several, is not among them."""
    lines = lines_of(text)
    gone, strikes = struck(lines)
    by, found = "you", {}
    for number, words in enumerate(lines, start=1):
        if number in gone or number in strikes:
            continue
        if speaker := _SPEAKER.match(words):
            by = speaker[1].strip(" :.")
        match = TIED.match(words.rstrip("."))
        rows = _rows(machine, match[1] or "", match[2]) if match else []
        if match and len(rows) == 1:
            found[number] = Tie(rows[0].id, wholly=not match[3], by=by)
    return found


def _rows(machine: Machine, figure: str, item: str) -> list[PartsRow]:
    """The row that a figure and an item name; rows of one size in several sources count as the first."""
    numbers = {one.id: one.number for one in machine.figures}
    found: dict[tuple[str, Kind | None], PartsRow] = {}
    for row in machine.rows:
        number = numbers.get(row.figure) or row.figure.rsplit("/", 1)[-1]
        if row.item.casefold() == item.casefold() and figure.casefold() in ("", number.casefold()):
            found.setdefault((number, row.kind), row)
    return list(found.values())
