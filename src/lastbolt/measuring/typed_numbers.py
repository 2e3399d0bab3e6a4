"""The numbers of one typed reading: places, repeats, travels, the unit; or why it is not understood."""

import re

from msgspec import Struct

from lastbolt.measuring.shapes import crush_strip
from lastbolt.measuring.tools import unit_of
from lastbolt.measuring.typed_words import words_pattern
from lastbolt.words.measured import Reading

NUMBER = r"[-+]?(?:\d+(?:\.\d+)?|\.\d+)"
_TOKEN = re.compile(
    rf"(?P<number>{NUMBER})|(?P<word>[^\W\d_][\w²³°-]*\.?|[\"″°])|(?P<sign>[,;/])|(?P<other>\S)"
)
_COMMA = re.compile(r"(?<=\d),(?=\d)")
_LESS = re.compile(rf"\b(?:{words_pattern('less')})\s+({NUMBER})\s*([^\W\d_]*)\s*$", re.I)


_PAIR = re.compile(rf"({NUMBER})\s*=\s*({NUMBER})")
_STRIP = re.compile(
    rf"\s*(?:{words_pattern('strip')})\s+({NUMBER})\s*((?:[,;]\s*{NUMBER}\s*=\s*{NUMBER}\s*)+)([^\W\d_]*)\s*",
    re.I,
)


class Numbers(Struct, frozen=True):
    """What stands behind the colon. `wrong`: why it is not understood; then nothing else holds."""

    readings: tuple[Reading, ...] = ()
    unit: str = ""
    less: float = 0.0
    wrong: str = ""


def plain_numbers(text: str) -> str:
    """Minus signs as they are typed, and decimal commas as points.

    A comma between two figures, without a blank, is a decimal comma where there is no point in the line.

    >>> plain_numbers("0,12 0,13"), plain_numbers("0.12,0.13")
    ('0.12 0.13', '0.12, 0.13')
    """
    text = text.replace("−", "-")
    return _COMMA.sub(", " if re.search(r"\d\.\d|(?<!\d)\.\d", text) else ".", text)


def numbers_of(text: str) -> Numbers:
    """The readings typed behind a colon."""
    text = plain_numbers(text)
    if strip := _STRIP.fullmatch(text):
        return _strip(strip)
    less = _LESS.search(text)
    made = _Numbers()
    for token in _TOKEN.finditer(text[: less.start()] if less else text):
        made.take(token.lastgroup or "other", token[0])
        if made.wrong:
            return Numbers(wrong=made.wrong)
    if made.label or made.joins:
        return Numbers(wrong=f'no number stands behind "{made.label or made.joins}"')
    if not made.found:
        return Numbers(wrong="there is no number")
    if less and (unit := unit_of(less[2])):
        made.unit = made.unit or unit
    return Numbers(made.readings(), made.unit, float(less[1]) if less else 0.0)


def _strip(found: re.Match[str]) -> Numbers:
    """A crush strip by its width and two or more widths of the packet's scale with their clearances."""
    scale = [(float(wide), float(clear)) for wide, clear in _PAIR.findall(found[2])]
    value = crush_strip(float(found[1]), scale) if len(scale) > 1 else None
    if value is None:
        return Numbers(wrong="the strip's width is not between two widths of the scale typed behind it")
    return Numbers((Reading(round(value, 6), "1"),), unit_of(found[3]))


class _Numbers:
    """Numbers with the label that stands before them: (label, number of the spot, value, other end)."""

    def __init__(self) -> None:
        self.found: list[tuple[str, int, float, float | None]] = []
        self.unit = self.label = self.wrong = self.joins = ""
        self.under = ""

    def take(self, kind: str, text: str) -> None:
        """One token more."""
        if kind == "number":
            self._number(float(text))
        elif kind == "sign":
            if text == "/":
                self.joins = "/" if self.found else ""
            self.wrong = "" if self.found or text == "," else f'"{text}" stands before any number'
        elif kind == "word":
            self._word(text)
        else:
            self.wrong = f'"{text}" is not understood'

    def _word(self, text: str) -> None:
        if self.found and not self.label and re.fullmatch(words_pattern("to"), text, re.I):
            self.joins = "to"
            return
        unit = unit_of(text) if self.found and not self.label else ""
        if not unit:
            self.label = f"{self.label} {text}".strip()
            return
        if self.unit and unit != self.unit:
            self.wrong = f"two units: {self.unit} and {unit}"
        self.unit = unit

    def _number(self, value: float) -> None:
        if self.joins == "to":
            label, spot, first, other = self.found[-1]
            self.wrong = "" if other is None else "a travel has two ends"
            self.found[-1] = (label, spot, first, value)
        elif self.joins == "/":
            label, spot, _, _ = self.found[-1]
            self.found.append((label, spot, value, None))
        else:
            if self.label:
                self.under = self.label
            spots = {spot for label, spot, _, _ in self.found if label == self.under}
            self.found.append((self.under, len(spots) + 1, value, None))
        self.label = self.joins = ""

    def readings(self) -> tuple[Reading, ...]:
        """As the job keeps them: places by their label, with a number where it has several."""
        many = {label for label, spot, _, _ in self.found if spot > 1}
        return tuple(
            Reading(value, f"{label} {spot}".strip() if label in many or not label else label, other)
            for label, spot, value, other in self.found
        )
