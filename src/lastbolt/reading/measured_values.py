"""Measured sizes as printed: ranges, tolerances, decimal commas, fractions of an inch; each with its unit."""

import re
from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

from lastbolt.reading.limit_words import LimitWords, limit_words
from lastbolt.reading.numbers import any_of
from lastbolt.reading.units import UNIT as TORQUE
from lastbolt.words.measured import Span

_THIN = "[ \u00a0\u2009\u202f]"
_N = (
    r"(?>\d{1,2}[ -]\d{1,2}/\d{1,2}(?![\d/])|\d{1,2}/(?:2|4|8|16|32|64)(?![\d/])"
    rf"|\d{{1,3}}(?:{_THIN}\d{{3}})+(?!\d)|\d{{1,3}}(?:,\d{{3}}){{2,}}(?!\d)"
    r"|\d{1,6}(?:[.,]\d{1,6})?|[.,]\d{1,6})"
)
_NUMBERS = (
    "from", "upto", "mid", "tol", "base", "dev1", "dev2", "base2", "plus", "low", "high", "low2", "high2",
    "one",
)  # fmt: skip
_WHOLE = 0.5
"""Half of the last digit of a number without decimals."""
_SIGN = "[+−–-]"
_LED = rf"(?:(?<![\w).]){_SIGN})?"
"""A sign that belongs to the number behind it, and parts no two numbers."""
_RAISED = "\\s?[⁰⁴-⁹⁺⁻₀-₉₊₋]"
"""Tolerances set raised or lowered behind a number are not read: then the number is none."""
_PLUS_MINUS = r"(?:±|\+/[-−]|\+-)"
_DIAMETER = re.compile("[ØøΦφ⌀]")
_COMMA = re.compile(r"(?<![\d.,])(?:0,\d+|\d+,\d{1,2})(?![\d,])")
_POINT = re.compile(r"(?<![\d,])\d*\.\d+(?![\d.])")
_FRACTION = re.compile(r"(?:(\d{1,2})[ -])?(\d{1,2})/(\d{1,2})")
_ENDS = re.compile(r"\s*(?:[^\w\s]|$)")
_NEXT = re.compile(r"\s*([A-Za-z]+)")
_FORCES = ("N", "kN", "lbf", "kgf", "kg", "lb", "oz")
_ARM = re.compile(r"\s?[·⋅.*-]?\s?(?:m|cm|ft|in|foot|feet)\b")


class Value(NamedTuple):
    """One printed value: `half` is half of what its last digit is worth; with a `doubt` and no ends it was
    not understood."""

    start: int
    end: int
    span: Span
    half: float
    doubt: str = ""
    fraction: bool = False
    """Printed as one ("1/2"): of an inch, or not understood."""

    @property
    def understood(self) -> bool:
        """Whether any number of it is known."""
        return self.span.low is not None or self.span.high is not None


@lru_cache(maxsize=4)
def _pattern(words: LimitWords) -> re.Pattern[str]:
    unit = rf"(?:\s?-?(?:{any_of(words.spellings)})(?![^\W\d_]|[²³]))"
    spaced = any_of(words.words("numbers", "range"))
    between, both = (words.any_of("numbers", key) for key in ("between", "both"))
    gap = rf"(?:\s?(?:[-–—−…÷~]|\.\.\.?)\s?|\s(?:{spaced})\s)"
    dev = rf"(?>{_SIGN}{_N}|0(?![\d.,]))"
    inside = rf"(?:\s?-?(?:{any_of(words.words('units', 'inside'))})(?![^\W\d_]|[²³]))"
    return re.compile(
        rf"(?<![\w.,±])(?<!\d/)(?<![^\W\d_][-–])(?:"
        rf"(?:{between})\s(?P<from>{_SIGN}?{_N}){inside}?\s(?:{both})\s(?P<upto>{_SIGN}?{_N})"
        rf"|(?P<mid>{_LED}{_N}){inside}?\s?{_PLUS_MINUS}\s?(?P<tol>{_N})"
        rf"|(?P<base>{_N}){inside}?\s?\(?(?P<dev1>{dev})\s?[/;]?\s?(?P<dev2>{dev})\)?(?![\w.,])"
        rf"|(?P<base2>{_N}){inside}?\s?\+(?P<plus>{_N})(?![\w.,/]\d)"
        rf"|(?P<low>{_LED}{_N})(?P<ulow>{inside})?{gap}(?P<high>{_SIGN}?{_N})"
        rf"|(?P<low2>{_N})\s?/\s?(?P<high2>{_N})"
        rf"|(?P<one>(?:(?<![\w).])[−–-])?{_N}))(?:(?P<unit>{unit})|(?![.,/]\d))(?!\w|\s?(?i:{TORQUE})(?![^\W\d_])|{_RAISED})",
        re.IGNORECASE,
    )


def decimal_sign(texts: Sequence[str]) -> str:
    """The sign before decimals that the texts use; "" where they use none or both."""
    comma = any(_COMMA.search(text) for text in texts)
    point = any(_POINT.search(text) for text in texts)
    return "" if comma == point else "," if comma else "."


def values_in(text: str, sign: str = "", words: LimitWords | None = None) -> list[Value]:
    """Every number of a text as a value, with its unit where one stands beside it ("" where none does).

    Args:
        text: a cell or a sentence
        sign: before decimals, where the book shows it; "" where it must be told from each number
        words: of the language
    """
    lex = words or limit_words()
    plain = _DIAMETER.sub(" ", text)
    found = []
    for match in _pattern(lex).finditer(plain):
        spelled = lex.unit((match["unit"] or "").strip(" -"))
        if spelled in _FORCES and _ARM.match(plain, match.end()):
            continue
        unit, end = _unit(match, plain, lex)
        found.append(_value(match, unit, end, sign))
    return found


def not_of_inches(value: Value) -> bool:
    """Whether a fraction got a unit of which nobody prints fractions, from a heading or a value beside it."""
    return value.fraction and value.span.unit not in ("in", "")


def _unit(match: "re.Match[str]", text: str, lex: LimitWords) -> tuple[str, int]:
    """The unit of a match and where the value with it ends; a word such as "in" may be none."""
    spelled = match["unit"] or ""
    unit = lex.unit(spelled.strip(" -")) if spelled else None
    end = match.end()
    if unit is not None and unit in lex.ambiguous and not _may_end(text, end, unit, lex):
        unit, end = None, match.start("unit")
    if spelled and unit is None:
        end = match.start("unit")
    if unit is None and match["ulow"]:
        unit = lex.unit(match["ulow"].strip(" -"))
    return unit or "", end


def _may_end(text: str, end: int, unit: str, lex: LimitWords) -> bool:
    if _ENDS.match(text, end):
        return True
    behind = _NEXT.match(text, end)
    if behind is None:
        return True
    word = behind[1].lower()
    if unit in ("l", "g") and lex.among(word, "measures", "of"):
        return True
    lists = (("sense", "at_most"), ("sense", "at_least"), ("numbers", "both"), ("numbers", "range"))
    return any(
        word == phrase.split()[0].rstrip(".") for table, key in lists for phrase in lex.words(table, key)
    )


def _value(match: "re.Match[str]", unit: str, end: int, sign: str) -> Value:
    groups = match.groupdict()
    read: dict[str, float] = {}
    halves: list[float] = []
    for name in _NUMBERS:
        if groups[name] is None:
            continue
        number, half_digit, doubt = _number(groups[name], unit, sign)
        if number is None:
            return Value(match.start(), end, Span(None, None, unit), 0.0, doubt)
        read[name] = number
        halves.append(half_digit)
    if "low2" in read and (halves[0] != halves[1] or halves[0] == _WHOLE):
        doubt = f'"{match[0].strip()}" may be a range or two values'
        return Value(match.start(), end, Span(None, None, unit), 0.0, doubt)
    low, high = _ends(read)
    if low > high:
        return Value(match.start(), end, Span(None, None, unit), 0.0, "the range runs backwards")
    if low < 0 and next(iter(read.values())) > 0:
        return Value(match.start(), end, Span(None, None, unit), 0.0, "the tolerance is more than the size")
    half = max(halves) if {"low", "from", "low2"} & read.keys() else min(halves)
    fraction = any(_FRACTION.fullmatch(groups[name].lstrip("+−–-")) for name in read)
    return Value(match.start(), end, Span(round(low, 6), round(high, 6), unit), half, fraction=fraction)


def _ends(read: dict[str, float]) -> tuple[float, float]:
    if "from" in read:
        return read["from"], read["upto"]
    if "mid" in read:
        return read["mid"] - read["tol"], read["mid"] + read["tol"]
    if "base" in read:
        low, high = sorted((read["dev1"], read["dev2"]))
        return read["base"] + low, read["base"] + high
    if "base2" in read:
        return read["base2"], read["base2"] + read["plus"]
    if "low2" in read:
        return read["low2"], read["high2"]
    return (read["low"], read["high"]) if "low" in read else (read["one"], read["one"])


def _number(printed: str, unit: str, sign: str) -> tuple[float | None, float, str]:
    """A number, half of its last digit, and why it cannot be read."""
    negative = printed[:1] in "−–-"
    bare = printed.lstrip("+−–-")
    fraction = _FRACTION.fullmatch(bare)
    if fraction is not None:
        if unit not in ("in", "") or int(fraction[3]) == 0:
            return None, 0.0, f'"{printed}" may be a fraction or two values'
        size = int(fraction[1] or 0) + int(fraction[2]) / int(fraction[3])
        return -size if negative else size, 0.005, ""
    bare = re.sub(_THIN, "", bare)
    if bare.count(",") > 1:
        bare = bare.replace(",", "")
    head, mark, tail = bare.partition("," if "," in bare else ".")
    thousands = bool(mark) and len(tail) == 3 and 0 < len(head) <= 3 and head != "0"
    if thousands and mark == ",":
        if sign == "":
            return None, 0.0, f'"{printed}" can be read in two ways: the decimal sign cannot be told here'
        if sign == ".":
            head, mark, tail = head + tail, "", ""
    elif thousands and sign == ",":
        return None, 0.0, f'"{printed}" can be read in two ways: other numbers here have a decimal comma'
    value = float(f"{head or '0'}.{tail or '0'}")
    return -value if negative else value, 0.5 * 10.0 ** -len(tail), ""
