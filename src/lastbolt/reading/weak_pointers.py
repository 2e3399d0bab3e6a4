"""Numbers of sections that no strong word points at: "as in 2.1", "→ 4.2", "[4.3]", "4.1 must be done"."""

import re
from collections.abc import Iterable
from functools import lru_cache
from itertools import pairwise
from typing import NamedTuple

from lastbolt.reading.lexicon import Lexicon, Scan
from lastbolt.reading.numbers import Numbered, any_of, may_point, numbers_in
from lastbolt.reading.order import comes_later, required_first


class Weak(NamedTuple):
    """Numbers that point, if the book has them."""

    start: int
    end: int
    numbers: tuple[str, ...]
    order: bool
    """Whether the words say that the work is to be done."""
    any_of: bool
    span: bool


@lru_cache(maxsize=4)
def _between(language: Lexicon) -> re.Pattern[str]:
    """What joins two numbers of a list or a run."""
    words = any_of(language.words("left_over", "further"))
    return re.compile(rf"\s?(?P<joint>(?:,\s)?(?:{words})|[,;&–—/+-])\s?")


@lru_cache(maxsize=4)
def _leads(language: Lexicon) -> tuple[re.Pattern[str], re.Pattern[str]]:
    """What stands right before a number that points: words and signs; and those that order its work."""
    section = any_of((*language.words("left_over", "section"), *language.words("pointing", "section")))
    noun = rf"(?:the\s)?(?:(?:{section})\.?\s(?:no\.?\s|nos\.?\s|number\s)?)?"
    signs = any_of(language.words("left_over", "signs"))
    looks = any_of((*language.words("left_over", "weak_cues"), *language.words("pointing", "strong_cues")))
    orders = any_of((*language.words("left_over", "orders"), *language.words("pointing", "perform")))
    return (
        re.compile(rf"(?:(?:{signs})\s?{noun}|(?<![^\W\d_])(?:{looks})\.?\s{noun}|\[\s?)$", re.IGNORECASE),
        re.compile(rf"(?<!\w)(?:{orders})\.?\s{noun}$", re.IGNORECASE),
    )


def weak_pointers(scan: Scan, language: Lexicon, taken: Iterable[tuple[int, int]]) -> list[Weak]:
    """The numbers outside the spans that are taken, where something about them points."""
    text = scan.text
    spans = list(taken)
    numbers = [
        n for n in numbers_in(text)
        if not any(start < n.end and n.start < end for start, end in spans)
        and may_point(text, n.start, n.end, language)
    ]  # fmt: skip
    looks, orders = _leads(language)
    found: list[Weak] = []
    for run in _runs(text, numbers, language):
        start, end = run[0].start, run[-1].end
        lead = text[max(0, start - 48) : start]
        order = orders.search(lead) is not None or required_first(scan, start, end, language)
        if order or looks.search(lead) is not None or comes_later(scan, start, end, language):
            found.append(_weak(text, run, language, order=order))
    return found


def _runs(text: str, numbers: list[Numbered], language: Lexicon) -> list[list[Numbered]]:
    """The numbers, those that a comma, "and" or "to" joins together."""
    runs: list[list[Numbered]] = []
    for number in numbers:
        if runs and _between(language).fullmatch(text, runs[-1][-1].end, number.start):
            runs[-1].append(number)
        else:
            runs.append([number])
    return runs


def _weak(text: str, run: list[Numbered], language: Lexicon, *, order: bool) -> Weak:
    joints = [
        match["joint"]
        for one, other in pairwise(run)
        if (match := _between(language).fullmatch(text, one.end, other.start))
    ]
    single = len(run) == 1 and run[0].last
    numbers = (run[0].first, run[0].last) if single else tuple(n.first for n in run)
    span = bool(single) or (len(run) == 2 and language.among(joints[0], "pointing", "through"))
    either = any(language.among(joint.strip(", "), "pointing", "alternatives") for joint in joints)
    return Weak(run[0].start, run[-1].end, numbers, order, either, span)
