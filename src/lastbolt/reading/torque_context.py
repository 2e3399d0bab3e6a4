"""What stands around a torque and makes it another one: reckoning, marks of notes, other torques it leans on.

A torque is only told as a number when nothing around it is left over that could change the number.
"""

import re
import tomllib
from functools import lru_cache
from importlib import resources
from typing import Any, NamedTuple

from lastbolt.reading.numbers import any_of
from lastbolt.reading.units import UNIT

RAISED = "⁰¹²³⁴⁵⁶⁷⁸⁹"
LOWERED = "₀₁₂₃₄₅₆₇₈₉"
MARK = rf"(?:[{RAISED}]{{1,2}}⁾?|⁽[{RAISED}]{{1,2}}⁾|[ᵃᵇᶜᵈᵉᶠᵍʰ]⁾?|[{RAISED}]\)|\*{{1,3}}\)?|[†‡])"
"""The mark of a note: "²⁾", "³", "*)"."""
_PLAIN = str.maketrans(f"{RAISED}{LOWERED}⁺⁻₊₋", "01234567890123456789+-+-")
_RAISED_BEFORE = re.compile(rf"\d\s?[{RAISED}⁺⁻⁼⁽⁾{LOWERED}₊₋]+\)?\s?[-−–]?\s?$")
_SUM = re.compile(r"[+÷]\s?$")
_PRODUCT = re.compile(r"[\d½¼¾]\s?(?:[x×X*·⋅]\s?|\s[x×X*·⋅]\s)$")
_COUNTED = re.compile(r"(?<![\w.,])\d{1,2}[x×X]\s$")
_CHAIN = re.compile(r"\d\s?(?:[-−–—…/⁄]|\.\.\.?)\s?$")
_MINUS = re.compile(r"(?:^|[\s(:=])[-−–]$")
_SPACED = re.compile(r"(?<![\w.,/])(\d[\d.,]*)[ \u00a0\u2009\u202f]$")
_PRODUCT_BEHIND = re.compile(r"\s?[x×*]\s?\d{1,3}(?![\d\s]*[x×]|\w)")
_ONE_SIDED = re.compile(r"\s?\(?\s?[-−–+]\s?/?\s?\d[\d.,]*\s?(?:%|(?=[.,;)]?\s?$|[;)]))")
_NUMBER_BEFORE = re.compile(rf"[\d½¼¾][\d.,/⁄½¼¾{RAISED}⁾)-]*\s?(?:(?:{UNIT})\s?)?$", re.IGNORECASE)
_BEFORE = (
    (_RAISED_BEFORE, "raised or lowered figures stand before it"),
    (_SUM, "a sign of reckoning stands before it: it can be a tolerance or be added"),
    (_PRODUCT, "it is one factor of a product"),
    (_CHAIN, "more numbers stand before it in the same breath"),
    (_MINUS, "a minus sign stands before it"),
)
_BACK_REACH = 44
_LEANING = 110
"""How far before a torque the words may stand by which it is a part of another."""


class TorqueWords(NamedTuple):
    """The words of one language around a torque, compiled."""

    before: re.Pattern[str]
    behind: re.Pattern[str]
    each_its_own: re.Pattern[str]
    back: re.Pattern[str]
    lead: frozenset[str]
    turning: frozenset[str]
    unitless: re.Pattern[str]
    force: re.Pattern[str]
    """A number with a unit of force where a torque is to be."""
    scale: re.Pattern[str]
    """The range of a tool, from nought on."""


def plain_figures(text: str) -> str:
    """Raised and lowered figures as ordinary ones: "⁺⁵" is "+5"."""
    return text.translate(_PLAIN)


class Part(NamedTuple):
    """A number that is only a part of what is printed: where that begins and ends, and why."""

    start: int
    end: int
    why: str
    spaced: bool = False
    """Only a space parts it from a number before it, which may be a callout's, a count or a stage's."""


def part_of_more(text: str, start: int, end: int) -> Part | None:
    """What the number from `start` is only a part of; None where nothing speaks against it."""
    begin = max(0, start - 48)
    head = text[begin:start]
    words = torque_words()
    beside = head.rstrip()[-1:]
    for pattern, why in () if beside.isalpha() and beside not in "xX" else _BEFORE:
        match = pattern.search(head)
        if match is not None and not (pattern is _PRODUCT and _COUNTED.search(head)):
            return Part(begin + _reach_back(head, match.start()), end, why)
    begin = max(0, start - _LEANING)
    head = text[begin:start]
    relative = words.before.search(head)
    if relative is not None:
        why = f'"{relative[0].strip()}" before it makes it a part of another torque, or something added'
        return Part(begin + _reach_back(head, relative.start()), end, why)
    behind = words.behind.match(text, end)
    if behind is not None:
        clause = re.match(r"[^.,;:]*", text[behind.end() : behind.end() + 32])
        reach = behind.end() + (clause.end() if clause is not None else 0)
        return Part(start, reach, f'"{behind[0].strip(" ,")}" behind it measures it from another torque')
    one_sided = _ONE_SIDED.match(text, end)
    if one_sided is not None:
        return Part(start, one_sided.end(), f'the tolerance "{one_sided[0].strip()}" is not understood')
    product = _PRODUCT_BEHIND.match(text, end)
    if product is not None:
        return Part(start, product.end(), "it is one factor of a product")
    spaced = _SPACED.search(head)
    if spaced is None:
        return None
    why = f'"{spaced[1]}" before it can be its first figures, or another number'
    return Part(begin + spaced.start(), end, why, spaced=True)


def _reach_back(head: str, at: int) -> int:
    """Where the number (with its unit) begins that ends right before a place."""
    match = _NUMBER_BEFORE.search(head, 0, at)
    return match.start() if match is not None else at


def doubt_of_neighbours(text: str, begin: int, start: int, *, named: bool) -> str:
    """What is to be said of numbers beside a torque whose own number is sure; `begin`: of all its numbers."""
    head = text[max(0, begin - 16) : begin] if begin == start else ""
    counted = _COUNTED.search(head)
    if counted is not None:
        return f'"{counted[0].strip()}" before it is taken for a count'
    spaced = _SPACED.search(head)
    return f'"{spaced[1]}" before it is taken for no torque' if spaced is not None and named else ""


def each_its_own(text: str, end: int) -> str:
    """The word behind a list of torques that gives each to a thing of its own ("respectively"), or ""."""
    clause = re.match(r"[^;:]*", text[end : end + 60])
    found = torque_words().each_its_own.search(clause[0]) if clause is not None else None
    return found[0] if found is not None else ""


def let_go(text: str, start: int, end: int) -> str:
    """The words behind a torque that undo it again ("turn back", "slacken"), or ""."""
    clause = re.match(r"[^.;:]*", text[start : min(end, start + _BACK_REACH)])
    found = torque_words().back.search(clause[0]) if clause is not None else None
    return found[0] if found is not None else ""


@lru_cache(maxsize=1)
def torque_language() -> dict[str, dict[str, Any]]:
    """The language file beside this module."""
    text = resources.files(__package__).joinpath("torque_words.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


@lru_cache(maxsize=1)
def torque_words() -> TorqueWords:
    """The words around a torque, compiled."""
    data = torque_language()
    relative, unitless = data["relative"], data["unitless"]

    def spaced(words: list[str]) -> str:
        return any_of(words).replace(r"\ ", r"[\s-]")

    another = rf"(?:[\w-]+\s){{0,2}}(?:{spaced(relative['another'])})(?!\w)"
    sum_of = rf"plus\s[\d.,]+\s?(?:{UNIT})"
    share = rf"(?:(?:(?<!\w)|(?<=\d))(?:{spaced(relative['shares'])})|\d\s?[/⁄]\s?\d|[½¼¾⅐-⅞])"
    named = spaced(relative["named"])
    of_another = (
        rf"(?:\d\s?[/⁄]\s?\d|[½¼¾⅐-⅞])\s?of(?:\sthe)?"
        rf"|{share}\s(?:of\s)?(?:the\s|its\s|their\s)?(?:[\w-]+\s)?(?:{named})(?!\w)[^.;:]{{0,60}}?"
        rf"|(?<!not\s)(?<!no\s)(?<!\w)(?:{spaced(relative['beyond'])})\s(?:the|that|those)\s[^.;:]{{2,60}}?\("
    )
    behind = (
        rf"\s?,?\s?(?:(?:{spaced(relative['behind'])})(?!\w)"
        rf"|(?:{spaced(relative['over'])})\s{another}|{sum_of})"
    )
    joining = any_of(unitless["joining"])
    return TorqueWords(
        re.compile(
            rf"(?:(?:(?<!\w)|(?<=\d))(?:{spaced(relative['before'])})|{of_another})\s?$", re.IGNORECASE
        ),
        re.compile(behind, re.IGNORECASE),
        re.compile(rf"(?<!\w)(?:{spaced(relative['each_its_own'])})(?!\w)", re.IGNORECASE),
        re.compile(rf"(?<!\w)(?:{spaced(data['back']['words'])})(?!\w)", re.IGNORECASE),
        frozenset(data["turns"]["lead"]),
        frozenset(data["turns"]["turning"]),
        re.compile(
            rf"(?<!\w)(?:{spaced(unitless['naming'])})\s?(?::|=|(?:{joining})(?=\s))\s?"
            r"(?P<number>\d{1,4}(?:[.,]\d{1,2})?)(?=\s?(?:[.,;)]?$|[.,;)]\s|\(\d))",
            re.IGNORECASE,
        ),
        re.compile(
            rf"(?<!\w)(?i:{spaced(unitless['tightening'])})(?!\w)[^.;:]{{0,60}}?(?<![\w.,])"
            r"(?P<number>\d{1,4}(?:[.,]\d{1,2})?)\s?(?:(?:[mMk]\s?)?N)(?!\w)(?!\s?[·⋅.*•-]?\s?[cm]?m(?!\w))"
        ),
        re.compile(
            rf"(?<!\w)(?:{spaced(unitless['tools'])})s?[\s,(:]{{0,3}}0\s?(?:-|–|—|to\s)\s?\d", re.IGNORECASE
        ),
    )
