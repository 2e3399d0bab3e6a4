"""Units that headings and notes of tables of limits give: hundredths of a millimetre, one for clearances."""

import re
from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

from lastbolt.reading.limit_words import LimitWords
from lastbolt.reading.measured_values import Value
from lastbolt.reading.numbers import any_of
from lastbolt.words.measured import Span

SCALED: dict[str, tuple[str, float]] = {
    "1/10 mm": ("mm", 0.1),
    "1/100 mm": ("mm", 0.01),
    "1/100 in": ("in", 0.01),
    "1/10000 in": ("in", 0.0001),
}
"""A unit that is a part of another -> that one, and how much of it."""
_UNKNOWN_SCALE = re.compile(
    r"(?<![\d/])1\s?[/⁄]\s?(?!(?:2|4|8|16|32|64)\s?(?:in|\"|″))\d{1,5}\s?(?:mm|cm|m\b|in\b|inch|\"|″)"
    r"|10\s?(?:\^|⁻)|[x×*]\s?10-\d",
    re.IGNORECASE,
)
_LEAD = re.compile(r"[^.;:|,()]{0,24}?\b(?:in|of)\s|\s?[:(\[]\s?", re.IGNORECASE)
_REACH = 70
_USUAL = "mm"
UNKNOWN = "?"
"""Of a heading whose unit is a part of another that no rule knows."""


class Beside(NamedTuple):
    """The unit that words beside a table give to its numbers, and those for some kinds of size only."""

    unit: str = ""
    kinds: tuple[tuple[str, str], ...] = ()
    """The word for a kind of size ("clearance") and its unit."""

    def of(self, what: str) -> str:
        """The unit for what is measured."""
        low = what.lower()
        other = self.unit or next((unit for _, unit in self.kinds), "")
        return next((unit for kind, unit in self.kinds if kind in low), other)

    def unsure(self, what: str) -> str:
        """The other unit that may be meant where one is said for some kind of size only; or ""."""
        if any(kind in what.lower() for kind, _ in self.kinds):
            return ""
        return next((unit for _, unit in self.kinds if unit != (self.unit or _USUAL)), "")


@lru_cache(maxsize=4)
def _scaled(words: LimitWords) -> re.Pattern[str]:
    """Spellings of parts of a unit; those that begin with a nought only in brackets or behind "in" or "x"."""
    spelled = [one for some in words.data["scaled"].values() for one in some]
    plain = any_of(one for one in spelled if one[0] not in "0.")
    noughts = any_of(one for one in spelled if one[0] in "0.")
    return re.compile(
        rf"(?<![\w.,])(?:{plain})(?!\w)|(?:(?<=[(\[])|(?<=in\s)|(?<=[x×]\s))(?:{noughts})(?!\w)",
        re.IGNORECASE,
    )


def _unit_spelled(spelled: str, words: LimitWords) -> str:
    low = " ".join(spelled.lower().split())
    scaled: dict[str, list[str]] = words.data["scaled"]
    return next(unit for unit, some in scaled.items() if low in (one.lower() for one in some))


def scaled_unit(text: str, words: LimitWords) -> str:
    """The part of a unit that a heading names: "Limit (1/100 mm)"; UNKNOWN where it is one no rule knows."""
    found = _scaled(words).search(text)
    if found is not None:
        return _unit_spelled(found[0], words)
    return UNKNOWN if _UNKNOWN_SCALE.search(text) else ""


def in_whole_units(value: Value) -> Value:
    """A value in a part of a unit as one in that unit: 5 hundredths of a millimetre are 0.05 mm."""
    base, factor = SCALED.get(value.span.unit, ("", 1.0))
    if not base:
        return value
    low, high = (None if end is None else round(end * factor, 9) for end in (value.span.low, value.span.high))
    return value._replace(span=Span(low, high, base), half=value.half * factor)


def units_beside(beside: str, words: LimitWords) -> Beside:
    """The units that the words beside a table give: "Dimensions in mm; clearances in 1/100 mm"."""
    whole, kinds = "", list[tuple[str, str]]()
    for match in _said(words).finditer(beside):
        unit = _unit_in(beside[match.end() : match.end() + _REACH], words)
        kind = match[0].lower().removesuffix("s")
        if unit and any(words.among(kind, "measures", key) for key in ("grows", "shrinks")):
            kinds.append((kind, unit))
        elif unit:
            whole = whole or unit
    return Beside(whole, tuple(kinds))


@lru_cache(maxsize=4)
def _said(words: LimitWords) -> re.Pattern[str]:
    """What a note gives a unit to: all sizes, or a kind of size."""
    measures = [w for key in ("grows", "shrinks", "either") for w in words.words("measures", key)]
    every = {*words.words("heads", "all_in"), *measures, *(f"{one}s" for one in measures)}
    return re.compile(rf"(?<!\w)(?:{any_of(every)})(?!\w)", re.IGNORECASE)


def _unit_in(rest: str, words: LimitWords) -> str:
    """The unit behind "in" a few words after what it is of, in the same clause."""
    lead = _LEAD.match(rest)
    if lead is None:
        return ""
    rest = rest[lead.end() :]
    found = _scaled(words).match(rest)
    if found is not None:
        return _unit_spelled(found[0], words)
    if _UNKNOWN_SCALE.match(rest):
        return UNKNOWN
    unit = words.unit((rest.split() or [""])[0].strip(" .,;:()"))
    return unit if unit is not None and unit not in words.ambiguous else ""


class Lent(NamedTuple):
    """A side of a row without a unit, beside one whose unit stands in its heading; `drop`: not to be told."""

    doubt: str
    drop: bool


def lent(bare: Sequence[Value], other: Sequence[Value], printed: frozenset[str], side: str) -> Lent | None:
    """Whether numbers without a unit may be in that of the other side; None where nothing speaks against it.

    Args:
        bare: the values of one side
        other: those of the other side
        printed: the units that other rows print in the columns of `bare`
        side: what the side is called
    """
    units = {value.span.unit for value in other if value.span.unit}
    if (
        not bare
        or not units
        or any(value.span.unit for value in bare)
        or units == {_USUAL} == units | printed
    ):
        return None
    others = printed - units
    if others:
        said = " and ".join(sorted(others))
        return Lent(f"the {side} has no unit, and other rows of its column are in {said}", True)
    if printed or _USUAL in units:
        return None
    return Lent(f"the unit of the {side} is taken from the number beside it", False)
