"""One torque value as printed: numbers of every form, tolerances, ranges, lists; each way it can be read."""

import re
import unicodedata
from collections.abc import Iterator
from functools import lru_cache
from itertools import pairwise
from typing import NamedTuple

from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.numbers import any_of
from lastbolt.reading.sizes import sizes_in
from lastbolt.reading.torque_beside import numbers_of_it, weighed, without_unit
from lastbolt.reading.torque_context import (
    RAISED,
    Part,
    doubt_of_neighbours,
    each_its_own,
    part_of_more,
    plain_figures,
    torque_words,
)
from lastbolt.reading.torque_patterns import ANY, THIN, number_patterns
from lastbolt.reading.units import ENGLISH, NEWTON_METRES, UNIT, Printed, half_digit, meant_unit, torque_unit

_BEHIND_SIZE = re.compile(r"\x00\s?[x×X*]\s?$")
_POWERLESS = frozenset(unit for unit in NEWTON_METRES if unit not in ("kgf·m", "kgf·cm", "kgf·mm", "lbf·ft"))
"""Units of which no square or cube is printed in a book of this kind: behind them a figure is a mark."""
_WIDEST = 4.0
"""A range with a dash wider than this: the first number is a stage's or a callout's, or of a wrench."""
_MOST_SPAN = 2.0
"""A range with "to" whose top is more than so many times its bottom: more likely a count, then a torque."""


class Reading(NamedTuple):
    """One printed value in a text. `options`: every way to read it, each a list of stages (mostly one)."""

    start: int
    end: int
    options: tuple[tuple[Printed, ...], ...]
    doubt: str = ""


class _Number(NamedTuple):
    """A printed number, each way it can be read, in digits with a point."""

    ways: tuple[str, ...]


class NotRead(Exception):
    """The numbers before a unit make no torque: why, and where what is printed begins and ends."""

    def __init__(self, why: str, part: Part | None = None) -> None:
        super().__init__(why)
        self.why = why
        self.span = (part.start, part.end) if part is not None else None


def readings_in(text: str, language: Lexicon) -> list[Reading]:
    """Every number with a torque unit behind it; sizes and lengths of fasteners are never part of one."""
    masked = _without_sizes(text)
    sign, patterns = _decimal_sign(masked), _patterns(language)
    found: list[Reading] = []
    for match in number_patterns().value.finditer(masked):
        unit = torque_unit(match["unit"])
        doubts = []
        if unit is None:
            unit = meant_unit(match["unit"])
            if unit is None or ("/" in match["unit"] and patterns.other.search(text)):
                continue
            doubts.append(f'the unit "{match["unit"]}" is taken for {unit}')
        if match["power"] and "/" in match["unit"]:
            continue
        try:
            start, options, more = _whole(match, unit, sign, masked, language)
        except NotRead as refusal:
            start, end = refusal.span or match.span()
            start = max(start, found[-1].end if found else 0)
            if start < match.start("unit"):
                found.append(Reading(start, max(end, match.end()), (), refusal.why))
            continue
        marks = dict.fromkeys(m.strip() for m in (match["mark"], match["power"], match["mark2"]) if m)
        doubts += [f'the mark "{mark}" stands beside it: read its note' for mark in marks]
        found.append(Reading(start, match.end(), options, "; ".join([more] if more else doubts)))
    return sorted([*found, *_left_over(masked, found, language)])


def _whole(
    match: "re.Match[str]", unit: str, sign: str, masked: str, language: Lexicon
) -> tuple[int, tuple[tuple[Printed, ...], ...], str]:
    """As `_read`, and refused where something left over beside it could change the number."""
    before = masked[: match.start()]
    if _BEHIND_SIZE.search(before):
        raise NotRead("the number behind the x of a size may be a length or the torque")
    if match["power"] and unit not in _POWERLESS:
        raise NotRead(f'the raised "{match["power"]}" behind its unit can be a power or the mark of a note')
    if match["mark"] and re.fullmatch(r"10", match["one"] or "") and match["mark"].strip() in RAISED:
        raise NotRead(f'"{match["one"]}{match["mark"].strip()}" can be a power of ten, or 10 with a mark')
    part = part_of_more(masked, match.start(), match.end())
    named = part is not None and part.spaced and _named(before, language)
    if part is not None and not named and not (part.spaced and _staged(before, language)):
        raise NotRead(part.why, part)
    start, options, more = _read(match, unit, sign, before, language)
    return start, options, more or doubt_of_neighbours(masked, match.start(), start, named=named)


def _left_over(masked: str, found: list[Reading], language: Lexicon) -> list[Reading]:
    """Numbers with a torque unit that no rule took, numbers in words, and torques without a unit."""
    left: list[Reading] = []
    other = _patterns(language).other
    for match in ANY.finditer(masked):
        unit_at = match.start("unit")
        if any(one.start <= unit_at < one.end for one in found):
            continue
        if "/" not in match["unit"] or not other.search(masked):
            left.append(Reading(match.start(), match.end(), (), "the number is not understood"))
    for match in _patterns(language).worded.finditer(masked):
        if not any(one.start < match.end() and match.start() < one.end for one in (*found, *left)):
            left.append(Reading(match.start(), match.end(), (), "its number is printed in words"))
    for lone in _without_unit(masked, found=bool(found)):
        if not any(one.start < lone.end and lone.number < one.end for one in (*found, *left)):
            left.append(Reading(lone.start, lone.end, (), lone.why))
    return left


class _Lone(NamedTuple):
    """A number that is to be a torque and bears no unit of one: what is printed of it, and what is amiss."""

    start: int
    number: int
    end: int
    why: str


def _without_unit(masked: str, *, found: bool) -> Iterator[_Lone]:
    """Every such number; `found`: a torque stands beside them."""
    bare = "no unit is printed with it"
    for match in weighed(masked):
        yield _Lone(match.start("number"), match.start("number"), match.end(), "its unit is none of a torque")
    for match in torque_words().unitless.finditer(masked):
        yield _Lone(match.start(), match.start("number"), match.end(), bare)
    for match in without_unit(masked, found=found):
        yield _Lone(match.start("number"), match.start("number"), match.end("number"), bare)
    for match in torque_words().force.finditer(masked):
        start = match.start("number")
        yield _Lone(start, start, match.end(), "its unit is of a force, not of a torque")


def _lengths(text: str) -> list[tuple[int, int]]:
    return [match.span() for match in number_patterns().length.finditer(text)]


def _without_sizes(text: str) -> str:
    spans = [(size.start, size.end) for size in sizes_in(text)] + [
        m.span() for m in number_patterns().length.finditer(text)
    ]
    for start, end in spans:
        text = f"{text[:start]}{chr(0) * (end - start)}{text[end:]}"
    return text


def _decimal_sign(text: str) -> str:
    """The sign before decimals, where the text's other numbers tell it; "" where they do not."""
    points = re.search(r"\d\.\d{1,2}(?!\d)", text) is not None
    commas = re.search(r"\d,\d{1,2}(?!\d)", text) is not None
    return "" if points == commas else "." if points else ","


def _read(
    match: "re.Match[str]", unit: str, sign: str, before: str, language: Lexicon
) -> tuple[int, tuple[tuple[Printed, ...], ...], str]:
    """Where the torque begins, every way to read it, and what is doubtful of it."""
    if match["list"]:
        return _listed(match, unit, sign, before, language)
    if match["low"] and not _may_lead(match["dash"]):
        low, high = (float(_number(match[n], unit, sign).ways[0]) for n in ("low", "high"))
        if high > _WIDEST * low:
            if not _staged(before, language):
                raise NotRead(f'"{match["low"]}" can be the lowest torque or a number before the torque')
            return match.start("high"), _options(match, unit, sign, [match["high"]] * 2), ""
    if match["low"] and _may_lead(match["dash"]):
        numbers = [match["low"], match["high"]]
        low, high = (float(_number(n, unit, sign).ways[0]) for n in numbers)
        if low > high or high > _MOST_SPAN * low:
            options = _options(match, unit, sign, [match["high"]] * 2)
            sure = low > high or _named(before, language)
            doubt = "" if sure else f'"{match["low"]}" is taken for a count, not for the lowest torque'
            return match.start("high"), options, doubt
        if numbers_of_it(before) and "." not in match["low"] and "," not in match["low"]:
            raise NotRead(f'"{match["low"]}" can be the lowest torque or a number of what is tightened')
    pairs = [("least", "most"), ("least2", "most2"), ("from", "upto"), ("low", "high")]
    for low_name, high_name in pairs:
        if match[low_name]:
            return match.start(), _options(match, unit, sign, [match[low_name], match[high_name]]), ""
    middle = match["mid"] or match["base"] or match["base2"] or match["base4"] or match["one"]
    if re.match(rf"\d{{1,3}}{THIN}", middle) and not re.search(r"[/⁄½¼¾⅐-⅞]", middle):
        head, _, tail = re.sub(THIN, " ", middle).partition(" ")
        if head != "1" or _named(before, language):
            raise NotRead(f'"{middle}" can be {head}{tail}, or {tail} with a number before it')
    return match.start(), _options(match, unit, sign, [middle, middle]), ""


def _may_lead(dash: str) -> bool:
    """Whether a range is printed with a word that may also lead from a count to its torque."""
    return " ".join(dash.lower().split()) in number_patterns().or_lead


def _options(
    match: "re.Match[str]", unit: str, sign: str, ends: list[str]
) -> tuple[tuple[Printed, ...], ...]:
    """Each way to read a value from its two ends and its tolerance."""
    lows, highs = (_number(end, unit, sign).ways for end in ends)
    up, down = _tolerances(match, unit, sign)
    found = []
    ways = max(len(lows), len(highs))
    for way in range(ways):
        low_digits, high_digits = lows[min(way, len(lows) - 1)], highs[min(way, len(highs) - 1)]
        low, high = sorted((float(low_digits), float(high_digits)))
        above, below = (high * up[1] / 100, low * down[1] / 100) if up[1] else (up[0], down[0])
        half = max(half_digit(low_digits), 0.0)
        found.append((Printed(round(low - below, 6), round(high + above, 6), unit, half),))
    return tuple(found)


def _tolerances(
    match: "re.Match[str]", unit: str, sign: str
) -> tuple[tuple[float, float], tuple[float, float]]:
    """Up and down, each as (in the unit, in per cent)."""
    for tol, pct in (("tol", "pct"), ("tol3", "pct3")):
        if match[tol]:
            size = float(_number(match[tol], unit, sign).ways[0])
            both = (0.0, size) if match[pct] else (size, 0.0)
            return both, both
    for plus, minus in (("plus", "minus"), ("plus2", "minus2"), ("plus3", "minus3")):
        if match[plus]:
            up, down = (float(_number(match[name], unit, sign).ways[0]) for name in (plus, minus))
            return (up, 0.0), (down, 0.0)
    if match["base4"]:
        up, down = (float(plain_figures(match[n]).replace(",", ".")) for n in ("up", "down"))
        if up < down:
            raise NotRead(f'the tolerance "{match["up"]} {match["down"]}" is not understood')
        return (up, 0.0), (-down, 0.0)
    return (0.0, 0.0), (0.0, 0.0)


def _listed(
    match: "re.Match[str]", unit: str, sign: str, before: str, language: Lexicon
) -> tuple[int, tuple[tuple[Printed, ...], ...], str]:
    """Several numbers before one unit: stages where something says so, else callouts or a question."""
    said = match["list"]
    numbers = number_patterns().split.split(said)
    whole = re.fullmatch(r"(\d{1,2})/(\d{1,2})", said)
    if whole and unit in ENGLISH and said in ("1/2", "1/4", "3/4"):
        value = float(whole[1]) / float(whole[2])
        return match.start(), ((Printed(value, value, unit, 0.0),),), ""
    own = each_its_own(match.string, match.end())
    if own:
        raise NotRead(f'"{said}" belong to different things, each to its own ("{own}")')
    values = [_number(number, unit, sign).ways[0] for number in numbers]
    rising = all(float(a) < float(b) for a, b in pairwise(values))
    around = f"{before[-60:]} {match.string[match.end() : match.end() + 40]}"
    staged = any(word in said.lower() for word in number_patterns().ordering) or (
        _patterns(language).stage.search(around) is not None and rising
    )
    led = len(values) > 2 and rising and number_patterns().lead_to.search(before) is not None
    if staged or led:
        stages = tuple(Printed(float(v), float(v), unit, half_digit(v)) for v in values)
        return match.start(), (stages,), ""
    start = match.start("list") + said.rindex(numbers[-1])
    last = ((Printed(float(values[-1]), float(values[-1]), unit, half_digit(values[-1])),),)
    if _named(before, language):
        if number_patterns().counted_to.search(before):
            raise NotRead(f'"{said}" can be torques, or callouts and a torque')
        return start, last, ""
    if "," in said:
        others = said[: start - match.start("list")].strip(" ,")
        return start, last, f'"{others}" before the torque is taken for no torque'
    raise NotRead(f'"{said}" can be stages, a range or torques of different fasteners')


def _number(said: str, unit: str, sign: str) -> _Number:
    """The ways to read one printed number: "1,200" may be 1200 or 1.2, "7 1/2" is 7.5."""
    fraction = re.fullmatch(r"(\d{1,3})[ -](\d{1,2})[/⁄](\d{1,2})", said)
    if fraction is not None:
        top, bottom = int(fraction[2]), int(fraction[3])
        if bottom not in (2, 3, 4, 8, 16, 32) or top >= bottom:
            raise NotRead(f'"{said}" is no whole number with a fraction')
        return _Number((f"{int(fraction[1]) + top / bottom:g}",))
    if not said[-1].isdigit():
        return _Number((f"{int(said[:-1] or 0) + unicodedata.numeric(said[-1]):.6g}",))
    if "⁄" in said:
        top, bottom = (int(part) for part in said.split("⁄"))
        if not 0 < top < bottom:
            raise NotRead(f'"{said}" is no fraction')
        return _Number((f"{top / bottom:.6g}",))
    bare = re.sub(THIN, "", said)
    if bare.count(",") > 1 or ("," in bare and "." in bare):
        return _Number((bare.replace(",", ""),))
    grouped = re.fullmatch(r"([1-9]\d{0,2})[.,](\d{3})", bare)
    if grouped is None:
        return _Number((bare.replace(",", "."),))
    thousands, decimals = f"{grouped[1]}{grouped[2]}", f"{grouped[1]}.{grouped[2]}"
    mark = "," if "," in bare else "."
    if sign and mark == sign:
        return _Number((decimals,))
    if mark == "." and (unit in ENGLISH or unit == "kgf·m"):
        return _Number((decimals,))
    if (mark == "," and unit in ENGLISH) or sign:
        return _Number((thousands,))
    return _Number((thousands, decimals))


class _Patterns(NamedTuple):
    naming: re.Pattern[str]
    """Before a number: what makes it a callout, a size or a count."""
    stage: re.Pattern[str]
    numbered_stage: re.Pattern[str]
    worded: re.Pattern[str]
    """A number in words before a unit."""
    other: re.Pattern[str]
    """Words of springs and pressures, whose units look like a torque's misprinted."""


@lru_cache(maxsize=4)
def _patterns(language: Lexicon) -> _Patterns:
    endings = ("", *language.words("endings", "plural"))
    nouns = [word + e for words in language.data["fasteners"].values() for word in words for e in endings]
    things = language.words("left_over", "things")
    named = any_of({*nouns, *(w for w in things if len(w) > 1), *language.words("torque", "counted")})
    number = r"[A-Za-z]?\d{1,3}[A-Za-z]?"
    joining = number_patterns().joining
    stages = any_of(word + e for word in language.words("torque", "stage") for e in endings)
    return _Patterns(
        re.compile(
            rf"(?<!\w)(?:{named})\.?[\s(]{{0,2}}(?:{number}\s?(?:{joining})\s?)*$",
            re.IGNORECASE,
        ),
        re.compile(rf"(?<!\w)(?:{stages})(?!\w)", re.IGNORECASE),
        re.compile(rf"(?<!\w)(?:{stages})\.?\s?(?:\d{{1,2}}\.?\s?)?[:.)]?\s?$", re.IGNORECASE),
        re.compile(rf"(?<!\w)(?:{any_of(language.numbers)})\s(?P<unit>{UNIT})(?!\w)", re.IGNORECASE),
        re.compile(rf"(?<!\w)(?:{any_of(language.words('torque', 'no_torque'))})", re.IGNORECASE),
    )


def _named(before: str, language: Lexicon) -> bool:
    """Whether a word stands before the numbers that makes them callouts, sizes or counts: "screws 6, 10"."""
    return _patterns(language).naming.search(before[-60:]) is not None


def _staged(before: str, language: Lexicon) -> bool:
    """Whether the number of a stage stands right before: "stage 2", "2nd stage", "stage 2:"."""
    return _patterns(language).numbered_stage.search(before[-24:]) is not None
