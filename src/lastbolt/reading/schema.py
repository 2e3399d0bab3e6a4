"""A book's own habits, learned before it is read: its body type, its headings, its numbering, its marks."""

import re
from collections import Counter
from collections.abc import Iterable
from typing import NamedTuple

from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.lines import Line

NUMBERED = re.compile(
    r"(?:(?P<word>[A-Za-z]+\.?)\s+)?(?P<number>\d{1,2}[A-Z]\d{1,2}|\d{4}|\d{1,3}(?:[.\-–]\d{1,3}){0,4}[A-Za-z]?|[A-Z](?:[.\-–]\d{1,3}){1,4}|[IVX]{1,5}|[A-Z])(?P<end>[.):]?)(?:[\s\t]+[–—-]?\s?|\s?[–—:]\s?)(?P<title>\S.*)"
)
_ALONE = re.compile(
    r"(?P<word>[A-Za-z]+\.?)\s+(?P<number>\d{1,3}(?:[.\-–]\d{1,3}){0,4}[A-Za-z]?|[IVX]{1,5}|[A-Z])[.:]?"
)
BARE = re.compile(r"(?:\d{1,3}|[A-Z])(?:[.\-–]\d{1,3}){1,4}[A-Za-z]?|\d{1,2}[A-Z]\d{1,2}")
"""A number of two parts or more, and nothing beside it."""
_TELLING = 20
"""So many signs of a line tell most often that it is not in capitals."""
_MULTI = re.compile(r"\d{1,3}[.\-–]\d")


def number_alone(text: str, language: Lexicon) -> tuple[str, str] | None:
    """The word and the number of a line that is a section's number and nothing more: "TASK 32-10-01"."""
    match = _ALONE.fullmatch(text.strip())
    if match is None:
        return None
    word = match["word"].lower()
    chapter = language.among(word, "titles", "chapter") or language.among(word, "pointing", "appendix")
    several = word.endswith(tuple(language.data["endings"]["plural"])) and not chapter
    named = language.among(word, "pointing", "section") and not several  # "Paragraphs 41-45" is a run
    if chapter or (named and _MULTI.match(match["number"])):
        return word, match["number"].replace("–", "-")
    return None


class Style(NamedTuple):
    """What the eye sees of a line: its size (in half points), whether bold, in capitals, underlined."""

    half_points: int
    bold: bool
    capitals: bool
    underlined: bool = False


class Schema(NamedTuple):
    """The learned habits. `ranks`: heading styles from the largest (0) down."""

    body: Style
    ranks: dict[Style, int]
    numbered_styles: frozenset[Style]
    joint: str
    """What joins the numbers of a heading: "." or "-"."""
    callouts_in_brackets: bool
    """Whether a lone number in brackets is a callout in this book (else a count)."""
    indents: frozenset[int] = frozenset()
    """Where the indented first lines of its paragraphs begin."""


def style_of(line: Line) -> Style:
    """The line's style."""
    return Style(round(line.size_pt * 2), line.bold, _in_capitals(line.text), line.underlined)


def _in_capitals(text: str) -> bool:
    """Whether next to all letters of a text are capitals."""
    if 9 * sum(map(str.islower, text[:_TELLING])) > len(text):
        return False
    lower, upper = sum(map(str.islower, text)), sum(map(str.isupper, text))
    return upper > 2 and upper >= 9 * lower


def learn_schema(lines: Iterable[Line], language: Lexicon) -> Schema:
    """The schema of a book from its lines (running heads, tables and figures left out)."""
    weight: Counter[Style] = Counter()
    count: Counter[Style] = Counter()
    numbered: Counter[Style] = Counter()
    joints: Counter[str] = Counter()
    plain: list[Line] = []
    for line in lines:
        style = style_of(line)
        weight[style] += len(line.text)
        count[style] += 1
        plain.append(line)
    body = weight.most_common(1)[0][0] if weight else Style(20, False, False)
    candidates: Counter[Style] = Counter()
    for line in plain:
        style = style_of(line)
        if not stands_out(style, body) or not could_head(line, language):
            continue
        candidates[style] += 1
        match = NUMBERED.fullmatch(line.text)
        if match is not None:
            numbered[style] += 1
            if _MULTI.match(match["number"]):
                joints["-" if "-" in match["number"] or "–" in match["number"] else "."] += 1
    ordered = sorted(candidates, key=lambda s: (-s.half_points, not s.bold, not s.capitals, not s.underlined))
    ranks: dict[Style, int] = {}
    for style in ordered:
        ranks[style] = len(ranks)
    return Schema(
        body,
        ranks,
        frozenset(style for style in numbered if numbered[style] >= 0.3 * candidates[style]),
        joints.most_common(1)[0][0] if joints else ".",
        _brackets_are_callouts(plain, language),
    )


def stands_out(style: Style, body: Style) -> bool:
    """Whether a style is clearly more than body text."""
    if style.half_points >= body.half_points * 1.09 + 0.5:
        return True
    if style.half_points < body.half_points * 0.9:
        return False
    more = zip(style[1:], body[1:], strict=True)
    return any(one and not plain for one, plain in more)


def could_head(line: Line, language: Lexicon) -> bool:
    """Whether a line is shaped like a heading: short, no sentence, no caption, no signal word."""
    text = line.text.strip()
    if len(text) > 110 or not any(c.isalpha() for c in text):
        return False
    if text[-1] in ",;" or (text[-1] == "." and len(text) > 60):
        return False
    letters = sum(c.isalpha() for c in text)
    if letters < 0.4 * len(text.replace(" ", "").replace("\t", "")):
        return False
    scan = language.scan(text)
    first = scan.tokens[0].start if scan.tokens else 0
    for table, keys in (("signals", ()), ("pointing", ("figure", "table"))):
        for hit in scan.of(table, *keys):
            behind = text[hit.end :].strip(" \t.:!")
            if hit.start == first and (not behind or behind[:1].isdigit() or table == "signals"):
                return False
    return True


def _brackets_are_callouts(lines: list[Line], language: Lexicon) -> bool:
    """Callouts when any list stands in brackets, or a lone number above 1 follows a singular word."""
    votes = 0
    pattern = re.compile(r"([A-Za-z]+)\s\((\d{1,3})([,\s\d–-]*)\)")
    for line in lines:
        if "(" not in line.text:
            continue
        for match in pattern.finditer(line.text):
            plural = match[1].lower().endswith("s")
            if match[3].strip() or (not plural and int(match[2]) > 1) or (plural and int(match[2]) == 1):
                votes += 1
    return votes > 0
