"""Numbers such as "4.2" or "4-2" in a text, told apart from quantities and from numbers of other things."""

import re
from collections.abc import Iterable, Iterator
from functools import lru_cache
from typing import NamedTuple

from lastbolt.reading.lexicon import Lexicon

_NUMBER = re.compile(
    r"(?<![\w.,:×+±=<≤≥°$€£#*])(?:(?<![-‑–])|(?<=\d[-‑–]))"
    r"(\d{1,3}(?:[.\-‑–]\d{1,3}){1,4}[A-Za-z]?|\d{1,2}[A-Z]\d{1,2})(?!\w|[.,:]\d|\s?[%°×\"”′″±])"
)
RUN = re.compile(r"(\d{1,3}(?:\.\d{1,3})+[a-z]?)[-‑–](\d{1,3}(?:\.\d{1,3})+[a-z]?)")
"""Two numbers printed as one word: the first and the last of a run."""
_FIGURE = re.compile(r"[\d²³¹፩-፱᧚⁰⁴-⁹₀-₉①-⑨⑴-⑼⒈-⒐⓪⓵-⓽⓿❶-❾➀-➈➊-➒]")
_PLAIN = re.compile(r"(?<![\w.\-–])\d{1,3}[a-z]?(?![\w.\-–])")
_MORE = r"(?:\s?(?:-|–|—|to|and|or|x|×|…|\.{2,3}|/|±|\+)\s?\d[\d.,]*)*"
_LEAST_LETTERS = 12
"""Words with fewer letters before a page name no title."""
LETTERED = r"\d{1,2}[A-Z]\d{1,2}"
"""A section's number whose levels are told by letters and figures in turn: "2A1"."""
_REACH = 60
"""How far back the word that says what a number is may stand, with a list of numbers between."""


class Numbered(NamedTuple):
    """A number and where it stands; `last` when it is the first of a run printed as one word ("4.1-4.3")."""

    start: int
    end: int
    first: str
    last: str = ""


class _Patterns(NamedTuple):
    quantity: re.Pattern[str]
    """Behind a number: more numbers and a unit."""
    thing: re.Pattern[str]
    """Before a number: a word that makes it the number of a figure, a table, a part, a page ..."""


@lru_cache(maxsize=4)
def _patterns(language: Lexicon) -> _Patterns:
    things = [w for key in ("figure", "table", "page") for w in language.words("pointing", key)]
    named = any_of((*things, *language.words("left_over", "things")))
    number = r"[A-Z]?\d{1,4}(?:[.\-–]\d{1,4})*[a-z]?"
    return _Patterns(
        re.compile(rf"{_MORE}\s?-?(?:{any_of(language.words('left_over', 'units'))})(?![^\W\d_])"),
        re.compile(
            rf"(?:(?<!\w)(?:{named})\.?|[Ø⌀])[\s(]{{0,2}}(?:{number}\s?(?:,|;|and|or|to|&|-|–)\s?)*$",
            re.IGNORECASE,
        ),
    )


def any_of(words: Iterable[str]) -> str:
    """A pattern for any of the words, the longest first."""
    return "|".join(re.escape(word) for word in sorted(words, key=len, reverse=True))


def has_figure(text: str) -> bool:
    """Whether any figure stands in a text, raised or lowered ones too."""
    return _FIGURE.search(text) is not None


def numbers_in(text: str) -> Iterator[Numbered]:
    """Every number of two parts or more, whatever it is the number of."""
    for match in _NUMBER.finditer(text):
        run = RUN.fullmatch(match[1])
        if run is not None:
            yield Numbered(match.start(), match.end(), run[1], run[2])
        else:
            yield Numbered(match.start(), match.end(), match[1].replace("‑", "-").replace("–", "-"))


def may_point(text: str, start: int, end: int, language: Lexicon) -> bool:
    """Whether a number is neither a quantity nor the number of a figure, a tool, a callout ..."""
    patterns = _patterns(language)
    if patterns.quantity.match(text, end) or _among_callouts(text, start, end):
        return False
    lead = text[max(0, start - _REACH) : start]
    if " ".join(lead.casefold().split()).endswith(language.words("left_over", "pointing_by")):
        return True
    return not patterns.thing.search(lead)


def _among_callouts(text: str, start: int, end: int) -> bool:
    """Whether "3-5" is a run of callouts: in brackets, with plain numbers beside it: "(1, 3-5)"."""
    opening = text.rfind("(", 0, start)
    closing = text.find(")", end)
    if "." in text[start:end] or opening < 0 or closing < 0 or ")" in text[opening:start]:
        return False
    beside = f"{text[opening + 1 : start]} {text[end:closing]}"
    return _PLAIN.search(beside) is not None and not any(c.isalpha() for c in text[opening:start])


def last_digits(number: str) -> tuple[str, int | None]:
    """A number as what stands before its last digits, and these: "4.12" is "4." and 12."""
    match = re.fullmatch(r"(.*?)(\d+)", number)
    return (match[1], int(match[2])) if match is not None else (number, None)


def joints_of(number: str) -> list[str]:
    """What a number may be that lost its hyphen or point: "423" -> 4-23, 42-3."""
    if not number.isdigit() or len(number) < 2:
        return []
    return [f"{number[:cut]}-{number[cut:]}" for cut in range(1, len(number))]


def clause_of(words: str, page: str) -> str:
    """Of several pages in a sentence the words before this one: "fan (page 4), pump (page 8)"."""
    match = re.search(rf"[^),;]*\(?[^),;(]*(?<!\d){re.escape(page)}(?!\d)", words)
    said = match.group() if match is not None else ""
    return said if sum(c.isalpha() for c in said) > _LEAST_LETTERS else words
