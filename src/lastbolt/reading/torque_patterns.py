"""How a torque may be printed, as patterns; the words among them come from the language file."""

import re
from collections.abc import Iterable
from functools import lru_cache
from typing import NamedTuple

from lastbolt.reading.numbers import any_of
from lastbolt.reading.torque_context import LOWERED, MARK, RAISED, torque_language
from lastbolt.reading.units import UNIT

THIN = "[ \u00a0\u2009\u202f]"
_N = (
    rf"(?:\d{{1,3}}{THIN}\d{{3}}(?!\d)|\d{{1,3}}(?:,\d{{3}})+(?!\d)(?:\.\d+)?"
    r"|\d{1,3}[ -]\d{1,2}[/⁄]\d{1,2}(?!\d)|\d{1,2}⁄\d{1,2}|\d{0,3}\s?[½¼¾⅐-⅞]|\d{1,5}(?:[.,]\d{1,3})?)"
)
_U = rf"(?:\s?(?:{UNIT}))?"
_MINUS = r"[-−–]"
_UP = rf"[⁺⁻]?[{RAISED}]+(?:[.,][{RAISED}]+)?"
_DOWN = rf"[₊₋]?[{LOWERED}]+(?:[.,][{LOWERED}]+)?"
ANY = re.compile(
    rf"(?:(?<![A-Za-z])[OIl|S][\dOIl|S.,]|[\d½¼¾⅐-⅞{RAISED}{LOWERED}])"
    rf"[\dOIlS|.,/⁄*()½¼¾⅐-⅞{RAISED}{LOWERED}⁺⁻⁽⁾₊₋ \u00a0-]{{0,8}}(?P<unit>{UNIT})(?![A-Za-z_²³·^])",
    re.IGNORECASE,
)
"""Anything with a digit before a unit, misprints too."""

_METRES = re.compile(r"(?<![A-Za-z])N\s?[·.]?\s?m(?!\w)|\d\s?m[.\s]?N(?!\w)")
_NUMERIC = re.compile(rf"[\d½¼¾⅐-⅞{RAISED}{LOWERED}*†‡⁾]")


class NumberPatterns(NamedTuple):
    """The patterns of one language."""

    value: re.Pattern[str]
    quick: re.Pattern[str]
    """A number before what may be a unit."""
    telling: tuple[str, ...]
    """Words of a torque in words."""
    split: re.Pattern[str]
    """Between the numbers of a list."""
    length: re.Pattern[str]
    """A length or a diameter, which is no torque."""
    counted_to: re.Pattern[str]
    lead_to: re.Pattern[str]
    joining: str
    """Words and signs between callouts."""
    or_lead: frozenset[str]
    """Words of a range that may also lead from a count to its torque."""
    ordering: tuple[str, ...]
    """Words that make a list of torques one after the other."""


def spaced(words: Iterable[str]) -> str:
    """A pattern for any of the words, a space in them standing for any space."""
    return any_of(words).replace(r"\ ", r"\s")


@lru_cache(maxsize=1)
def number_patterns() -> NumberPatterns:
    """The patterns with the words of the language file."""
    words = torque_language()["numbers"]
    comma = rf"(?:,?\s(?:{spaced(words['list'])})\s|,\s|\s?/\s?)"
    ends = spaced((*words["least"], *words["most"]))
    return NumberPatterns(
        _value(words, comma),
        re.compile(
            rf"[\d½¼¾⅐-⅞{RAISED}{LOWERED}*†‡⁾][OIl|]{{0,2}}[\s.)%⁾“\"”″'’′‑-]*(?:(?:{ends})\S*\s)?"
            r"(?:[kcmd]?a?N|kg|kp|kilo|c?m\W?kg|m\W?kp|m\W?da|[lI1|]b|f[tl]|foot|in|oz|pound|newton)",
            re.IGNORECASE,
        ),
        tuple(words["telling"]),
        re.compile(comma, re.IGNORECASE),
        re.compile(rf"\b(?:{any_of(words['length'])})\.?\s?[=:]\s?\d[\d.,]*(?:\s?mm\b)?|[ØøΦ⌀]\s?\d[\d.,]*"),
        re.compile(rf"\d\s(?:{any_of(words['counted'])})\s$", re.IGNORECASE),
        re.compile(rf"(?:\b(?:{any_of(words['leading'])})|[:=])\s?$", re.IGNORECASE),
        rf",|;|{any_of(words['joining'])}|&|-|–",
        frozenset(words["or_lead"]),
        tuple(words["ordering"]),
    )


def may_hold_torque(text: str) -> bool:
    """Whether a text has what every text with a torque has."""
    patterns, low = number_patterns(), text.lower()
    if any(word in low for word in patterns.telling) or ("N" in text and _METRES.search(text) is not None):
        return True
    return _NUMERIC.search(text) is not None and patterns.quick.search(text) is not None


def _value(words: dict[str, list[str]], comma: str) -> re.Pattern[str]:
    """A number of any form with a torque's unit behind it."""
    least, most = (rf"(?:{any_of(words[key])})\.?" for key in ("least", "most"))
    ranged, both = spaced(words["range"]), any_of(words["both"])
    to = rf"(?:\s?(?:[-–—…]|\.\.\.?)\s?|\s(?:{ranged})\s)"
    plus_minus = rf"(?:±|\+/[-−]|\+-|{spaced(words['plus_minus'])})"
    first = any_of(words["range"][:1])
    return re.compile(
        rf"(?<![\w.,±])(?<!\d/)(?<!±\s)(?<!\+/[-−])(?<!\+/[-−]\s)(?:"
        rf"{least}\s?(?P<least>{_N}){_U}\s?[,;/–-]?\s?(?:(?:{both})\s)?{most}\s?(?P<most>{_N})"
        rf"|(?P<least2>{_N}){_U}\s?{least}\s?[,;/–-]?\s?(?:(?:{first}|{both})\s)?(?P<most2>{_N})(?:\s?{most}|(?=\s?(?:{UNIT})\s?{most}))"
        rf"|(?P<mid>{_N})\s?\(?{plus_minus}\s?(?P<tol>{_N})\s?(?P<pct>%?)\)?"
        rf"|(?P<base>{_N})\s?\(?\s?\+\s?(?P<plus>{_N})\s?[/,]?\s?{_MINUS}\s?(?P<minus>{_N})\s?\)?"
        rf"|(?P<base2>{_N})\s?\(?\s?{_MINUS}\s?(?P<minus2>{_N})\s?[/,]?\s?\+\s?(?P<plus2>{_N})\s?\)?"
        rf"|(?P<base4>{_N})\s?(?P<up>{_UP})\s?/?\s?(?P<down>{_DOWN})"
        rf"|(?:{any_of(words['between'])})\s(?P<from>{_N}){_U}\s(?:{both})\s(?P<upto>{_N})"
        rf"|(?P<list>{_N}(?:{comma}{_N})+)"
        rf"|(?P<low>{_N})(?P<dash>{to})(?P<high>{_N})"
        rf"|(?P<one>{_N}))"
        rf"(?P<mark>\s?{MARK})?(?:\s?|[-‑])(?P<unit>{UNIT})"
        rf"(?:(?P<power>[²³](?![{RAISED}⁾)]))|(?P<mark2>\s?{MARK}))?(?![\w·^⁺⁻])\.?"
        rf"(?:\s?\(?\s?(?:{plus_minus}\s?(?P<tol3>{_N})\s?(?P<pct3>%?)"
        rf"|\+\s?(?P<plus3>{_N})\s?[/,]?\s?{_MINUS}\s?(?P<minus3>{_N}))\s?{_U}(?![\d°])\)?)?",
        re.IGNORECASE,
    )
