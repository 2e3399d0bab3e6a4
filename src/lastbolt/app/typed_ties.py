"""Typed lines that say which rows of a read parts list belong to the joint: "figure 7 item 3 here"."""

import re
from collections import defaultdict
from collections.abc import Mapping
from functools import cached_property
from typing import NamedTuple

from lastbolt.app.typed_lines import BETWEEN, first_speaker, lines_of, speaker_of, struck
from lastbolt.app.typed_refused import Refused
from lastbolt.app.typed_words import NOBODY
from lastbolt.words.joint import Tie
from lastbolt.words.machine import Machine, PartsRow
from lastbolt.words.place_runs import with_and
from lastbolt.words.quantity import Kind

HERE = re.compile(r"^(.+?),?\s+(?:is\s+|are\s+)?(some\s+)?here$", re.I)
ITEMS = re.compile(r"^(?:(?:fig(?:ure|\.)?)\s*(\S+?),?\s+)?items?\s+(\S.*)$", re.I)
SHORT = re.compile(r"^(?:fig(?:ure|\.)?\s*)?([^\s/]+)\s*/\s*([^\s/]+)$", re.I)
BRACKETED = re.compile(r"^fig(?:ure|\.)?\s*(\S+?),?\s*\((\S+)\)$", re.I)
RUN = re.compile(r"^(\d{1,4})\s*(?:-|–|\bto\b)\s*(\d{1,4})$", re.I)
MOST_ITEMS = 60
LEAST_DIGITS = 5
"""Of a part number of digits only; a shorter one may be a place or an item."""
MOST_NAMED = 12


class TypedTies(NamedTuple):
    """The ties by the number of their line, and why other lines that speak of rows tie nothing."""

    ties: Mapping[int, tuple[Tie, ...]]
    refused: Mapping[int, Refused]

    @property
    def every(self) -> tuple[Tie, ...]:
        """All ties, in the order of their lines."""
        return tuple(tie for ties in self.ties.values() for tie in ties)


def typed_ties(text: str, machine: Machine) -> TypedTies:
    """The rows that lines tie; a line of which any part fits no row, or several, ties none."""
    lines = lines_of(text)
    gone, strikes = struck(lines)
    by, _ = first_speaker(lines, gone)
    by = by or NOBODY
    parts = _PartsList(machine)
    found: dict[int, tuple[Tie, ...]] = {}
    refused: dict[int, Refused] = {}
    for number, words in enumerate(lines, start=1):
        if number in gone or number in strikes:
            continue
        by = speaker_of(words) or by
        here = HERE.match(words.rstrip("."))
        rows = _named(parts, here[1].strip()) if here else None
        if isinstance(rows, Refused):
            refused[number] = rows
        elif here and rows:
            found[number] = tuple(Tie(row.id, wholly=not here[2], by=by) for row in rows)
    return TypedTies(found, refused)


class _PartsList:
    """The rows of a parts list by what people call them: figure and item, or the part number."""

    def __init__(self, machine: Machine) -> None:
        self.machine = machine
        self._numbers = {one.id: one.number for one in machine.figures}

    def figure(self, row: PartsRow) -> str:
        """The number of the row's figure."""
        return self._numbers.get(row.figure) or row.figure.rsplit("/", 1)[-1]

    @cached_property
    def figures(self) -> list[str]:
        """Numbers of the figures that have rows, in the order of the list."""
        return list(dict.fromkeys(self.figure(row) for row in self.machine.rows))

    @cached_property
    def _by_item(self) -> dict[str, list[PartsRow]]:
        found: dict[str, list[PartsRow]] = defaultdict(list)
        for row in self.machine.rows:
            found[row.item.casefold()].append(row)
        return found

    def items(self, figure: str) -> list[str]:
        """The items of a figure."""
        own = [row for row in self.machine.rows if self.figure(row).casefold() == figure.casefold()]
        return list(dict.fromkeys(row.item for row in own if row.item))

    def of_item(self, figure: str, item: str) -> list[PartsRow]:
        """The rows of this item, in this figure or ("") in any; those of one size in several sources count as
        the first."""
        found: dict[tuple[str, Kind | None], PartsRow] = {}
        for row in self._by_item.get(item.casefold(), ()):
            number = self.figure(row)
            if figure.casefold() in ("", number.casefold()):
                found.setdefault((number, row.kind), row)
        return list(found.values())

    def of_number(self, words: str) -> list[PartsRow]:
        """The rows with this part number, those of one figure and item counted once."""
        wanted = re.sub(r"^part\s+(?:no\.?\s+|number\s+)?", "", words, flags=re.I).casefold()
        if wanted.isdecimal() and len(wanted) < LEAST_DIGITS:
            return []
        found: dict[tuple[str, str, Kind | None], PartsRow] = {}
        for row in self.machine.rows:
            if row.part_number and row.part_number.casefold() == wanted:
                found.setdefault((row.figure.rsplit("/", 1)[-1], row.item, row.kind), row)
        return list(found.values())


def _named(parts: _PartsList, words: str) -> list[PartsRow] | Refused | None:
    """The rows that words name, why they name none, or None if they do not speak of rows at all."""
    said = ITEMS.match(words) or SHORT.match(words) or BRACKETED.match(words)
    part = parts.of_number(words)
    if part:
        several = Refused(f"Part {words} stands in several rows: name its figure and item.")
        return part if len(part) == 1 else several
    if said is None:
        return None
    figure, items = said[1] or "", _items(said[2])
    if figure and figure.casefold() not in [one.casefold() for one in parts.figures]:
        return Refused(f"No figure {figure} in the parts list (it has {_few(parts.figures)}).")
    if not items:
        return Refused(f'"{said[2]}" names no items: "items 1-3" or "item 4".')
    rows = []
    for item in items:
        fitting = parts.of_item(figure, item)
        if len(fitting) != 1:
            return _not_one(parts, figure, item, fitting)
        rows += fitting
    return rows


def _not_one(parts: _PartsList, figure: str, item: str, fitting: list[PartsRow]) -> Refused:
    if fitting:
        within = [one for one in parts.figures if parts.of_item(one, item)]
        told = "more than once there" if figure else f"in figures {_few(within)}: name the figure"
        return Refused(f"Item {item} stands {told}.")
    where = f"figure {figure} (it has {_few(parts.items(figure))})" if figure else "any figure"
    return Refused(f"No item {item} in {where}.")


def _items(words: str) -> list[str]:
    """ "1-3, 5 and (7)" as item numbers; none if any part is no number or run."""
    found: list[str] = []
    for part in BETWEEN.split(words.strip()):
        run = RUN.match(part)
        if run and int(run[1]) <= int(run[2]) < int(run[1]) + MOST_ITEMS:
            found += [str(number) for number in range(int(run[1]), int(run[2]) + 1)]
        elif part and not re.search(r"\s", part) and not run:
            found.append(part.strip("()"))
        else:
            return []
    return list(dict.fromkeys(found))


def _few(names: list[str]) -> str:
    more = [f"{len(names) - MOST_NAMED} more"] if len(names) > MOST_NAMED else []
    return with_and([*names[:MOST_NAMED], *more]) if names else "none"
