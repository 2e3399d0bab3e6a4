"""Sizes as sources print them: "M6 x 45", "1/4-20 x 1-1/2", "6 x 20"; what may be misread is told."""

import re
from collections.abc import Iterable
from functools import lru_cache
from typing import NamedTuple

from lastbolt.reading.units import UNIT

COARSE_PITCH_MM: dict[str, float] = {
    "1": 0.25, "1.2": 0.25, "1.4": 0.3, "1.6": 0.35, "1.8": 0.35, "2": 0.4, "2.2": 0.45, "2.5": 0.45,
    "3": 0.5, "3.5": 0.6, "4": 0.7, "4.5": 0.75, "5": 0.8, "6": 1.0, "7": 1.0, "8": 1.25, "9": 1.25,
    "10": 1.5, "11": 1.5, "12": 1.75, "14": 2.0, "16": 2.0, "18": 2.5, "20": 2.5, "22": 2.5, "24": 3.0,
    "27": 3.0, "30": 3.5, "33": 3.5, "36": 4.0, "39": 4.0, "42": 4.5, "45": 4.5, "48": 5.0, "52": 5.0,
    "56": 5.5, "60": 5.5, "64": 6.0,
}  # fmt: skip
"""Nominal diameter -> coarse pitch. Source: ISO 261:1998, table 2 (ISO general purpose metric threads)."""

THREADS_PER_INCH: dict[str, frozenset[int]] = {
    size: frozenset(counts)
    for size, counts in {
        "#0": [80], "#1": [64, 72], "#2": [56, 64], "#3": [48, 56], "#4": [40, 48], "#5": [40, 44],
        "#6": [32, 40], "#8": [32, 36], "#10": [24, 32], "#12": [24, 28], "1/4": [20, 28],
        "5/16": [18, 24], "3/8": [16, 24], "7/16": [14, 20], "1/2": [13, 20], "9/16": [12, 18],
        "5/8": [11, 18], "3/4": [10, 16], "7/8": [9, 14], "1": [8, 12], "1-1/8": [7, 12],
        "1-1/4": [7, 12], "1-1/2": [6, 12],
    }.items()
}  # fmt: skip
"""Size -> threads per inch, coarse and fine. Source: ASME B1.1 (UNC and UNF), as in Shigley table 8-2."""

_NUMBER = r"\d{1,3}(?:[.,]\d{1,3})?"
_FRACTION = r"\d{1,2}[-\s]\d{1,2}/\d{1,2}|\d{1,2}/\d{1,2}|\d{1,2}\.\d{1,3}|\.\d{1,3}|\d{1,2}"
_TIMES = r"\s?(?:[x×X*]|by)\s?"
_GRADES = r"3\.6|4\.6|4\.8|5\.6|5\.8|6\.8|8\.8|9\.8|10\.9|12\.9"
_VALUE_GOES_ON = r"\d{1,4}(?:[.,]\d{1,3})?\s?%?"
_TOLERANCE = rf"(?:\s?\(?\s?(?:±|\+/?[-−]|/?\+|/[-−])\s?{_VALUE_GOES_ON}\s?\)?){{0,2}}"
_NO_TORQUE = rf"(?!{_TOLERANCE}\s?(?i:{UNIT})(?!\w))(?![gGhHeE]\d?[gGhH]?(?!\w))"
"""Behind a number: it is no length where a torque's unit follows, with or without a tolerance before it."""
_NO_RANGE = rf"(?!\s?(?:[-–—…]|\.\.\.?|to|thru|or|and)\s?{_VALUE_GOES_ON}{_TOLERANCE}\s?(?i:{UNIT})(?!\w))"
_CLASS = (
    r"(?:\s?[-–,]?\s?(?:(?:class|grade|property class|quality)\s)?"
    rf"(?P<strength>(?:{_GRADES})(?!\d){_NO_TORQUE}|A[24][- ]?[78]0))?"
)
_MARKED = r"\s?[¹²³⁴-⁹]{1,2}⁾?"
"""A raised figure inside a size: the mark of a note, and no figure of the size."""
_METRIC = re.compile(
    rf"(?<![\w.])M\s?(?P<d>\d{{1,2}}(?:[.,]\d)?)(?![\d])(?P<mark>{_MARKED}(?=\s?[x×X*-]))?(?:(?P<join1>{_TIMES}|\s?[-–]\s?)(?P<a>{_NUMBER})(?!\d|[.,]\d|/){_NO_TORQUE})?"
    rf"(?:(?P<join2>{_TIMES}|\s?[-–]\s?)(?P<b>{_NUMBER})(?!\d|[.,]\d|/){_NO_TORQUE})?(?P<unit>\s?[mc]m\b|\s?(?:\"|”|inch(?:es)?\b))?"
)
_LETTERS = r"[OoSIlB]"
_MISREAD = re.compile(
    rf"(?<![\w.])M\s?(?=\d|[Il][OoSIlB\d])(?:\d*{_LETTERS}[\dOoSIlB]*)(?P<rest>(?:{_TIMES}\d(?:[.,]\d{{1,2}})?(?={_TIMES}\d))?{_TIMES}(?P<a>\d{{1,3}})(?!\w))?(?!\w)"
)
_HALF_READ = re.compile(rf"{_LETTERS}\d*(?!\w)")
_MORE_LENGTHS = re.compile(
    rf"\s?(?:-|–|—|…|/|to|thru|or)\s?(?P<further>\d{{1,3}})(?![\w/-]|[.,]\d|\s?(?!mm\b)[xX×A-Za-z]){_NO_TORQUE}{_NO_RANGE}"
)
_MORE_SIZE = re.compile(r"\s?[x×X*]\s?\d")
_LONG = re.compile(
    rf"\s?,?\s?(?:\(\s?)?(?:(?:L|l|length|Length|LENGTH|lg|LG|long)\.?\s?[=:]?\s?(?P<after>{_NUMBER})\s?(?:mm)?|(?:{_TIMES})?(?P<before>{_NUMBER})\s?(?:mm\s)?\s?(?:long|LONG|lg|LG)\b)\.?(?:\s?\))?"
)
_STRENGTH = re.compile(_CLASS)
_UNIFIED = re.compile(
    rf"(?<![\w./])(?P<size>(?:No\.?\s?|#\s?)?\d{{1,2}}(?:-\d/\d{{1,2}}|/\d{{1,2}})?)\s?[-–]\s?(?P<tpi>\d{{1,2}})(?![\d.])"
    rf"(?P<series>\s?(?:UN[CF]?|UNEF)(?:-?[123][AB])?)?(?:{_TIMES}(?P<length>{_FRACTION})(?![\d/]){_NO_TORQUE}\s?(?P<inch>in\b\.?|inch(?:es)?|\"|”)?)?"
)
_INCH = re.compile(
    rf"(?<![\w./-])(?P<size>\d{{1,2}}/\d{{1,2}})\s?(?:in\b\.?|\"|”)?{_TIMES}(?P<length>{_FRACTION})(?![\d/]){_NO_TORQUE}\s?(?:in\b\.?|\"|”)?"
)
_PLAIN = re.compile(
    rf"(?<![\w.,/#-])(?:[ØøΦ⌀]\s?|dia\.?\s)?(?P<d>{_NUMBER})(?:\s?(?:mm|[a-z]{{1,2}}\d))?{_TIMES}(?P<a>{_NUMBER})(?!\d|[.,]\d|/){_NO_TORQUE}(?:{_TIMES}(?P<b>{_NUMBER})(?!\d){_NO_TORQUE})?(?P<unit>\s?mm\b)?"
)
_SIGN = re.compile(r"[\dM]")
_QUICK = re.compile(r"\d\s?(?:mm\s?)?[x×X*]|\bM\s?[\dIl]|\d/\d|[-–]\s?\d|\dby|\d by")


class Size(NamedTuple):
    """A size found in a text. `plain`: no thread letter; what it is depends on the noun beside it."""

    start: int
    end: int
    thread: str | None
    length_mm: float | None
    strength: str | None
    plain: bool
    doubt: str = ""
    """Why it may be another size; what is doubtful of it is None."""


def sizes_in(text: str) -> list[Size]:
    """Every size that the text prints, in order, none overlapping."""
    return list(_sizes_in(text))


@lru_cache(maxsize=256)
def _sizes_in(text: str) -> Iterable[Size]:
    if not _SIGN.search(text) or not _QUICK.search(text):
        return ()
    found: list[Size] = []
    for match in _METRIC.finditer(text):
        found.append(_doubted(text, _with_tail(text, _metric(match)), match))
    found += _misread(text)
    for match in _UNIFIED.finditer(text):
        size = _unified(match)
        if size is not None:
            found.append(size)
    for match in _INCH.finditer(text):
        length = _fraction(match["length"]) * 25.4
        found.append(Size(match.start(), match.end(), match["size"], round(length, 3), None, False))
    for match in _PLAIN.finditer(text):
        length = float((match["b"] or match["a"]).replace(",", "."))
        found.append(Size(match.start(), match.end(), _tidy(match["d"]), length, None, True))
    found.sort(key=lambda size: (size.start, size.plain, -size.end))
    kept: list[Size] = []
    for size in found:
        if not kept or size.start >= kept[-1].end:
            kept.append(size)
    return kept


def _metric(match: "re.Match[str]") -> Size:
    diameter = _tidy(match["d"])
    thread, length, strength = f"M{diameter}", None, None
    end = match.end()
    values = [(match["join1"], match["a"]), (match["join2"], match["b"])]
    for position, (joint, number) in enumerate(values):
        if number is None:
            continue
        value = float(number.replace(",", "."))
        coarse = COARSE_PITCH_MM.get(diameter)
        dashed = "-" in joint or "–" in joint
        if dashed and re.fullmatch(_GRADES, number):
            strength = number
        elif position == 0 and coarse is not None and value <= coarse:
            thread = f"M{diameter}" if value == coarse else f"M{diameter}x{value:g}"
        elif length is None:
            length = value
        else:
            end = match.start("join2")
    unit, doubt = (match["unit"] or "").strip(), ""
    if match["mark"]:
        doubt = f'the mark "{match["mark"].strip()}" stands in "{match.group().strip()}": read its note'
    if unit == "cm" and length is not None:
        length *= 10
    elif unit and unit not in ("mm", "cm"):
        said = match["b"] or match["a"]
        doubt = f'"{said}{unit}" on a metric thread is read as inches'
        thread = f"M{diameter}" if match["b"] is None else thread
        length = None if said is None else round(float(said.replace(",", ".")) * 25.4, 3)
    return Size(match.start(), end, thread, length, strength, False, doubt)


def _doubted(text: str, size: Size, match: "re.Match[str]") -> Size:
    """The size without its length where more stands behind it than was understood."""
    half = _HALF_READ.match(text, size.end)
    if half is not None:
        end = half.end()
        doubt = f'"{text[size.start : end]}" has a letter among its figures'
        return size._replace(end=end, length_mm=None, thread=size.thread if match["a"] else None, doubt=doubt)
    more = _MORE_LENGTHS.match(text, size.end) if size.length_mm is not None else None
    if more is not None and int(more["further"]) > (size.length_mm or 0):
        doubt = f'"{text[size.start : more.end()]}" names more than one length'
        return size._replace(end=more.end(), length_mm=None, doubt=doubt)
    if size.length_mm is None and _MORE_SIZE.match(text, size.end):
        return size._replace(doubt=f'what stands behind "{text[size.start : size.end]}" is not understood')
    return size


def _misread(text: str) -> list[Size]:
    """Sizes with a letter among the figures of their thread: "M1O x 40"."""
    found = []
    for match in _MISREAD.finditer(text):
        length = float(match["a"]) if match["a"] else None
        doubt = f'"{match.group()}" has a letter among its figures'
        found.append(Size(match.start(), match.end(), None, length, None, False, doubt))
    return found


def _with_tail(text: str, size: Size) -> Size:
    """The size with a length or a strength class that follows in other words."""
    if size.length_mm is None:
        tail = _LONG.match(text, size.end)
        if tail is not None:
            length = float((tail["after"] or tail["before"]).replace(",", "."))
            size = size._replace(length_mm=length, end=tail.end())
    strength = _STRENGTH.match(text, size.end)
    if strength is not None and strength["strength"]:
        size = size._replace(strength=strength["strength"], end=strength.end())
    return size


def _unified(match: "re.Match[str]") -> Size | None:
    name = re.sub(r"^(?:No\.?\s?|#\s?)", "#", match["size"])
    tpi = int(match["tpi"])
    if "/" not in name and not name.startswith("#"):
        name = f"#{name}" if tpi in THREADS_PER_INCH.get(f"#{name}", ()) else name
    if tpi not in THREADS_PER_INCH.get(name, ()):
        return None
    certain = (
        match["series"] or match["length"] or "/" in name or match["size"].lstrip().startswith(("#", "N"))
    )
    if not certain:
        return None
    length = None if match["length"] is None else round(_fraction(match["length"]) * 25.4, 3)
    return Size(match.start(), match.end(), f"{name}-{tpi}", length, None, False)


def _fraction(text: str) -> float:
    """ "1-1/2" as 1.5."""
    total = 0.0
    for part in re.split(r"[-\s]", text):
        top, slash, bottom = part.partition("/")
        total += float(top) / float(bottom) if slash and float(bottom) else float(top)
    return total


def _tidy(number: str) -> str:
    return f"{float(number.replace(',', '.')):g}"
