"""The cells of a row of limits into values: units from the cell or its heading, ends from "min.", "max."."""

import re
from collections.abc import Sequence
from typing import NamedTuple

from lastbolt.reading.limit_columns import Column
from lastbolt.reading.limit_units import UNKNOWN, in_whole_units
from lastbolt.reading.limit_words import LimitWords
from lastbolt.reading.measured_values import Value, not_of_inches, values_in
from lastbolt.words.measured import LimitSense, Span

_NOTHING = re.compile(r"[\s–—−*.-]*")
_SENSES: tuple[tuple[LimitSense, str], ...] = (("at most", "at_most"), ("at least", "at_least"))
_SIGNS = re.compile(r"[\s()\[\],;:/.|+<>≤≥=Øø⌀–—-]+")


class Said(NamedTuple):
    """A value of a cell with the side that the cell or its heading names."""

    value: Value
    sense: LimitSense


class CellRead(NamedTuple):
    """What a cell says. `unread`: why it is not understood; `beside`: words that stand with its number."""

    said: tuple[Said, ...] = ()
    unread: str = ""
    beside: str = ""


def read_cell(text: str, column: Column, default: str, sign: str, words: LimitWords) -> CellRead:
    """The values of one cell.

    Args:
        text: the cell
        column: what its heading says
        default: the unit of the row or the table, "" where none is said
        sign: before decimals, where the table shows it
        words: of the language
    """
    if _NOTHING.fullmatch(text) or words.among(text, "numbers", "nothing"):
        return CellRead()
    values = values_in(text, sign, words)
    beside, digits = _left(text, values, words)
    bad = next((value.doubt for value in values if not value.understood), "")
    if bad or digits:
        return CellRead(unread=bad or f'"{text}" is no plain value')
    if not values:
        return CellRead(beside=text)
    placed = _with_units(values, column, default)
    if placed is None:
        return CellRead(unread=f"one value stands under {' and '.join(column.units)}")
    if any(value.span.unit == UNKNOWN for value in placed):
        return CellRead(unread="its unit is a part of another that is not understood")
    if any(not_of_inches(value) for value in placed):
        return CellRead(unread=f'"{text}" may be a fraction or two values')
    said = [Said(value, _sense_beside(text, value, words) or column.sense) for value in placed]
    counted: dict[tuple[str, LimitSense], int] = {}
    for one in said:
        key = (one.value.span.unit, one.sense)
        counted[key] = counted.get(key, 0) + 1
    if any(count > 1 for count in counted.values()):
        return CellRead(unread=f'"{text}" holds several values')
    return CellRead(tuple(said), "", beside)


def _left(text: str, values: Sequence[Value], words: LimitWords) -> tuple[str, bool]:
    """The words of a cell that belong to no value, and whether digits are among them."""
    rest = text
    for value in reversed(values):
        rest = f"{rest[: value.start]} {rest[value.end :]}"
    digits = any(c.isdigit() for c in rest)
    for table, keys in (
        ("sense", ("at_most", "at_least")),
        ("cues", ("limit", "standard")),
        ("numbers", ("both", "range")),
    ):
        rest = words.pattern(table, *keys).sub(" ", rest)
    return _SIGNS.sub(" ", rest).strip(), digits


def _with_units(values: Sequence[Value], column: Column, default: str) -> list[Value] | None:
    """The values with the units of their heading, in its order; None where they cannot be told apart."""
    bare = [value for value in values if not value.span.unit]
    if not bare:
        return [in_whole_units(value) for value in values]
    units = [unit for unit in column.units if unit not in {value.span.unit for value in values}]
    if len(units) > 1 and len(units) != len(bare):
        return None
    if len(bare) > 1 and len(units) != len(bare):
        units = []
    waiting = list(units)
    made = []
    for value in values:
        span = value.span
        unit = span.unit or (waiting.pop(0) if waiting else default)
        made.append(in_whole_units(value._replace(span=Span(span.low, span.high, unit))))
    return made


def _sense_beside(text: str, value: Value, words: LimitWords) -> LimitSense:
    """The side that words right before or right behind a value name."""
    before, behind = text[: value.start].rstrip(" :="), text[value.end :]
    for sense, key in _SENSES:
        ends = [m.end() for m in words.pattern("sense", key).finditer(before)]
        if ends and len(before.rstrip(".")) <= ends[-1]:
            return sense
    for sense, key in _SENSES:
        match = words.pattern("sense", key).search(behind)
        if match is not None and not behind[: match.start()].strip(" .,("):
            return sense
    return ""


class Side(NamedTuple):
    """The values of one side of a row, one for each unit, and the sense they share."""

    values: tuple[Value, ...]
    sense: LimitSense
    unread: str = ""


def one_side(said: Sequence[Said], standard: bool) -> Side:
    """Several cells as one value in each unit: "min." and "max." are the two ends of a range."""
    by_unit: dict[str, dict[LimitSense, Value]] = {}
    for one in said:
        ends = by_unit.setdefault(one.value.span.unit, {})
        if one.sense in ends:
            return Side((), "", "it is printed twice")
        ends[one.sense] = one.value
    values: list[Value] = []
    senses: list[LimitSense] = []
    for unit, ends in by_unit.items():
        if set(ends) == {"at least", "at most"}:
            low, high = ends["at least"], ends["at most"]
            span = Span(low.span.low, high.span.high, unit)
            if (span.low or 0.0) > (span.high or 0.0):
                return Side((), "", "the least is more than the most")
            values.append(low._replace(span=span, half=max(low.half, high.half)))
            senses.append("between" if not standard else "")
        elif len(ends) > 1:
            return Side((), "", "it holds several values")
        else:
            ((sense, value),) = ends.items()
            values.append(_end_only(value, sense) if standard else value)
            senses.append(sense)
    return Side(tuple(values), senses[0] if len(set(senses)) == 1 else "")


def _end_only(value: Value, sense: LimitSense) -> Value:
    """A standard of which only one end is said."""
    span = value.span
    if sense == "at most" and span.low == span.high:
        return value._replace(span=Span(None, span.high, span.unit))
    if sense == "at least" and span.low == span.high:
        return value._replace(span=Span(span.low, None, span.unit))
    return value
