"""Headings and labels that stand in the first line of their text, cut off as lines of their own.

"**To remove cylinder head.** Tools: peg spanner T.11. Before starting: Silencer removed (page B.3)."
"""

import re
from collections.abc import Iterable, Iterator, Sequence
from typing import Literal, NamedTuple

from lastbolt.reading.blocks import block_label
from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.lines import Line
from lastbolt.reading.piece import joined
from lastbolt.reading.schema import could_head
from lastbolt.reading.titles import names_work, only_a_deed

Kind = Literal["bold", "capitals"]

_STOPS = ".:—–"
_BOLD_STOP = re.compile(r"\s?[.:—–]{1,2}-?(?=\s|$)|\s-(?=\s)")
_CAPITALS = re.compile(
    r"(?:\(?[\dIVX]{1,4}(?:[.\-–]\d{1,3})*[.)]?\s)?[A-Z][A-Z'’/&,()-]*(?:\s[A-Z0-9&][A-Z0-9'’/&,()-]*)+[.:—–](?=\s)"
)
_NUMBER = re.compile(r"\(?\d{1,4}(?:[.\-–]\d{1,3})*[A-Za-z]?[.)]?\s+")
_BREAK = re.compile(r"[.;]\s(?=[A-Z])")
_LONGEST = 12
"""Words of a heading that is run in, at most."""
_FEWEST = 3
_SHARE = 0.4


class _Head(NamedTuple):
    kind: Kind
    end: int
    """Where the heading ends in the line, its stop included."""


def learn_run_in(lines: Iterable[Line], language: Lexicon) -> frozenset[Kind]:
    """How a book sets headings that are run into their text: in bold, in capitals, or not at all."""
    every: dict[Kind, set[str]] = {"bold": set(), "capitals": set()}
    work: dict[Kind, set[str]] = {"bold": set(), "capitals": set()}
    for line in lines:
        head = _head_of(line, language)
        if head is None or head.end >= len(line.text):
            continue
        title = _title(line.text[: head.end])
        every[head.kind].add(title)
        if names_work(title, language) or only_a_deed(title, language):
            work[head.kind].add(title)
    found = (k for k in every if len(work[k]) >= _FEWEST and len(work[k]) >= _SHARE * len(every[k]))
    return frozenset(found)


def without_run_ins(lines: Sequence[Line], kinds: frozenset[Kind], language: Lexicon) -> list[Line]:
    """The lines of a page with run-in headings, and labels behind them, cut off as lines of their own."""
    found: list[Line] = []
    for line in lines:
        if line.region or not kinds:
            found.append(line)
            continue
        head = _head_of(line, language)
        if head is None or head.kind not in kinds or head.end >= len(line.text):
            found.append(line)
            continue
        first, rest = _cut(line, head.end)
        found.append(first._replace(bold=line.bold or head.kind == "bold", lead=len(first.text)))
        found.append(rest._replace(bold=False, lead=0))
    return list(_with_labels(found, language)) if kinds else found


def _head_of(line: Line, language: Lexicon) -> _Head | None:
    """A heading at the start of a line, told by its type and a stop behind it."""
    text = line.text
    if line.region or not text:
        return None
    if line.lead:
        end = line.lead
        if text[end - 1] not in _STOPS:
            stop = _BOLD_STOP.match(text, end)
            end = stop.end() if stop is not None else 0
        return _Head("bold", end) if end and _is_title(line, text[:end], language) else None
    match = _CAPITALS.match(text)
    if match is None or not _is_title(line, match.group(), language):
        return None
    return _Head("capitals", match.end())


def _is_title(line: Line, text: str, language: Lexicon) -> bool:
    """Whether words are shaped like a title: no label, no caption, no signal word, no mark alone."""
    title = _title(text)
    words = title.split()
    numbered = len(title) < len(text.rstrip(" -" + _STOPS))
    least = 1 if numbered or only_a_deed(title, language) else 2
    if not least <= len(words) <= _LONGEST or not title[:1].isupper():
        return False
    if block_label(f"{title}:", 0, language) is not None:
        return False
    return could_head(line._replace(text=title), language)


def _title(text: str) -> str:
    return _NUMBER.sub("", text.strip(), count=1).rstrip(" -" + _STOPS)


def _cut(line: Line, end: int) -> tuple[Line, Line]:
    """A line in two at a position in its text."""
    before, behind = line.text[:end].rstrip(), line.text[end:].lstrip()
    words = len(before.split())
    share = line.left + (line.right - line.left) * end / max(1, len(line.text))
    first = line._replace(text=before, words=words, right=share, lead=min(line.lead, len(before)))
    return first, line._replace(text=behind, words=max(0, line.words - words))


def _with_labels(lines: Sequence[Line], language: Lexicon) -> Iterator[Line]:
    """The lines, cut where a sentence ends and a label follows, also one that is broken over two lines."""
    waiting = list(lines)
    at = 0
    while at < len(waiting):
        line = waiting[at]
        following = waiting[at + 1] if at + 1 < len(waiting) else None
        at += 1
        place = None if line.region else _label_in(line.text, language)
        if place is not None:
            first, waiting[at - 1] = _cut(line, place)
            yield first
            at -= 1
            continue
        whole = _over_two(line, following, language) if following is not None else None
        if whole is None:
            yield line
        else:
            yield from whole[0]
            waiting[at] = whole[1]


def _label_in(text: str, language: Lexicon) -> int | None:
    """Where a label stands behind the end of a sentence."""
    if ":" not in text:
        return None
    for match in _BREAK.finditer(text):
        label = block_label(text[match.end() :], 0, language)
        if label is not None and text[match.end() + label[1] :].lstrip()[:1] == ":":
            return match.end()
    return None


def _over_two(line: Line, following: Line, language: Lexicon) -> tuple[list[Line], Line] | None:
    """A line before the label that begins in it and ends on the next, and that next line with all of it."""
    if line.region or following.region or following.column != line.column or ":" not in following.text[:40]:
        return None
    breaks = [0, *(match.end() for match in _BREAK.finditer(line.text))]
    for start in breaks[::-1]:
        tail = line.text[start:]
        if len(tail) > 40:
            return None
        text = joined(tail, following.text)
        label = block_label(text, 0, language)
        if (
            label is not None
            and label[1] > len(tail.rstrip("\u00ad-"))
            and text[label[1] :].lstrip()[:1] == ":"
        ):
            first = [_cut(line, start)[0]] if start else []
            rest = following._replace(text=text, top=line.top, words=following.words + len(tail.split()))
            return first, rest
    return None
