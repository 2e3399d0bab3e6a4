"""Words beside a torque by which its number is no torque to tighten to, or not the only one."""

import re
from collections.abc import Iterator
from functools import lru_cache

from lastbolt.reading.lexicon import lexicon
from lastbolt.reading.numbers import any_of
from lastbolt.reading.torque_context import torque_language

_BEHIND = 48
_BETWEEN = 44
_SENTENCE = re.compile(r"\.\s+(?=[A-Z])")
_GOES_ON = re.compile(
    r"\s*(?:then|(?:and\s)?turn\s(?:an?|it|them|by|another|further|on))(?!\w)", re.IGNORECASE
)
_LEADS = frozenset(
    ("to", "of", "at", "with", "from", "is", "are", "by", "between", "and", "or", "about", "a")
)
"""Words right before the lower end of a range."""


_LONE = r"(?P<number>\d{1,4}(?:[.,]\d{1,2})?(?:\s?[-–]\s?\d{1,4})?)"
"""A number or a range alone."""


@lru_cache(maxsize=1)
def _fasteners() -> str:
    """The words for fasteners, one and several."""
    nouns = [word for words in lexicon().data["fasteners"].values() for word in words]
    return any_of(
        [f"{word}{ending}" for word in nouns for ending in ("", *lexicon().words("endings", "plural"))]
    )


@lru_cache(maxsize=1)
def _words() -> dict[str, str]:
    return {key: any_of(words).replace(r"\ ", r"[\s-]") for key, words in torque_language()["beside"].items()}


@lru_cache(maxsize=16)
def _pattern(name: str) -> re.Pattern[str]:
    word = _words()
    made = {
        "turn": rf"(?<!\w)(?:(?:{word['parts']})(?!\w)[\s-]?|\d\s?[/⁄]\s?\d\s?|[½¼¾]\s?)"
        rf"(?:of\s)?(?:an?\s)?(?:{word['turns']})(?!\w)(?:\sback)?",
        "either": rf"(?<!\w)(?:{word['either']})(?!\w)",
        "loosening": rf"(?:^|[.;:,]\s|\bthen\s|\bor\s|\band\s)({word['loosening']})(?!\w)[^.,;:]*$",
        "back": rf"(?<!\w)(?:{word['back']})\s$",
        "tightening": rf"(?<!\w)(?:{word['tightening']})(?!\w)",
        "by_and_by": rf"(?:{word['by_and_by']})\s$",
        "weighed": rf"(?<!\w)(?:{word['tightening']})(?!\w)[^.;:]{{0,80}}?\sto\s(?P<number>\d[\d.,]*)\s?"
        rf"(?:{word['weights']})(?:\s?\([a-z]{{2,4}}\))?(?![\w·/*]|[.\s-]?(?:m|f|in|cm)(?!\w)|\s?[x×])",
        "sized": rf"(?:\0|(?<!\w)(?:{_fasteners()}))\)?\s?(?:to|at|with|by|:|=|–|-)\s?{_LONE}"
        r"(?=\s?(?:$|[,;)]|\.(?:\s|$)|(?:and|or|then|but)\s(?!\d)))",
        "other_state": rf"(?:[,;(/]|\b(?:or|and|but))\s?{_LONE}\s(?:(?:when|if|where|with|for|threads?)\s)?"
        rf"(?:{word['states']})(?!\w)",
    }[name]
    return re.compile(made, re.IGNORECASE)


def turn_in_words(text: str, end: int, limit: int) -> str:
    """The turn that is told behind a torque and that no rule for angles read, as it stands; or ""."""
    behind = text[end : min(limit, end + _BEHIND)]
    if text[end - 1 : end] == "." and not _GOES_ON.match(behind):
        return ""
    sentence = _SENTENCE.search(behind)
    clause = behind[: sentence.start()] if sentence is not None else behind
    found = _pattern("turn").search(clause)
    return " ".join(clause[: found.end()].strip(" ,;").split()) if found is not None else ""


def either_of(text: str, end: int, start: int) -> str:
    """The words between two torques by which only one of them holds; or ""."""
    between = text[end:start]
    if len(between) > _BETWEEN or _SENTENCE.search(between) is not None:
        return ""
    found = _pattern("either").search(between)
    return found[0] if found is not None else ""


def loosened(text: str, start: int) -> str:
    """The word before a torque by which it loosens: "turn the nut back 25 Nm"; or ""."""
    head = text[:start]
    back = _pattern("back").search(head)
    if back is not None:
        return back[0].strip()
    found = _pattern("loosening").search(head)
    if found is None or _pattern("tightening").search(head, found.start(1)) is not None:
        return ""
    return found[1]


def by_and_by(text: str, start: int) -> bool:
    """Whether the number there says by how much at a time: "in steps of 5 Nm"."""
    return _pattern("by_and_by").search(text[:start]) is not None


def numbers_of_it(before: str) -> bool:
    """Whether a sentence tells to tighten something, and its name ends right before a number.

    "Tighten screw 18 to 25 Nm": the 18 may be the screw's own number.
    """
    words = re.findall(r"[^\W\d_]+|\d+|[^\w\s]", before)
    if not words or _pattern("tightening").search(before) is None:
        return False
    last = words[-1].lower()
    if last == "." and len(words) > 1 and words[-2].lower() in ("no", "nos", "pos", "item", "ref"):
        return True
    if last in ("at", "(", ")", ",", "and", "or", "&") or last.isdigit():
        return bool(re.search(r"(?:\d\s?(?:,|and|or|&)|\b[a-z]{3,}s?\sat)\s?$", before, re.IGNORECASE))
    return last.isalpha() and last not in _LEADS and _pattern("tightening").fullmatch(last) is None


def without_unit(text: str, *, found: bool) -> Iterator[re.Match[str]]:
    """Numbers that can only be torques and bear no unit: "M6 to 10 N·m, M8 to 25", "80 lb-ft dry, 60 oiled".

    `found`: a torque stands in the same text; without one a word of tightening has to.
    """
    for match in _pattern("sized").finditer(text):
        if found or _pattern("tightening").search(text, 0, match.start("number")) is not None:
            yield match
    if found:
        yield from _pattern("other_state").finditer(text)


def weighed(text: str) -> Iterator[re.Match[str]]:
    """Numbers to tighten to with a unit of weight or force."""
    return _pattern("weighed").finditer(text)
