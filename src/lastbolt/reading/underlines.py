"""Which lines are underlined: by a drawn rule right below them, or by a typed row of dashes."""

import re
from bisect import bisect_left
from collections.abc import Sequence

from lastbolt.reading.lines import Line
from lastbolt.words.page import Drawn

_THIN = 0.004
_WIDEST = 0.7
_DASHES = re.compile(r"[-_=]{4,}")
_STOP = re.compile(r"[.:—–](?=\s)")
_OFF = 4
"""Letters are not all of one width: a rule ends at a stop that is no more characters away than this."""
_OVER = 0.01
"""A rule may stand out this far beyond the words on either side."""


def underlined(lines: Sequence[Line], drawn: Sequence[Drawn]) -> list[Line]:
    """The lines, each told whether it is underlined; rows of dashes that only underline are left out."""
    rules = sorted(
        (d.top, d.left, d.right) for d in drawn
         if d.kind == "rule" and d.bottom - d.top < _THIN and d.right - d.left < _WIDEST
    )  # fmt: skip
    tops = [rule[0] for rule in rules]
    found: list[Line] = []
    for line in lines:
        if found and _DASHES.fullmatch(line.text) and _below(found[-1], line):
            found[-1] = found[-1]._replace(underlined=True)
        elif rules and not line.region and (ruled := _ruled(line, rules, tops)):
            part = 0 if ruled == len(line.text) else ruled
            found.append(line._replace(lead=part) if part else line._replace(underlined=True))
        else:
            found.append(line)
    return found


def _ruled(line: Line, rules: list[tuple[float, float, float]], tops: list[float]) -> int:
    """How many characters of a line rules right below it cover: all, those up to a stop, or none."""
    height, width = line.bottom - line.top, line.right - line.left
    covered, ends = 0.0, line.left
    for top, left, right in rules[bisect_left(tops, line.bottom - 0.35 * height) :]:
        if top > line.bottom + 0.4 * height:
            break
        if left >= line.left - _OVER and right <= line.right + _OVER:
            covered, ends = covered + right - left, max(ends, right)
    if covered >= 0.8 * width:
        return len(line.text)
    if line.lead or covered < 0.8 * (ends - line.left) or ends - line.left < 0.1 * width:
        return 0
    about = round(len(line.text) * (ends - line.left) / width)
    stops = [match.end() for match in _STOP.finditer(line.text) if abs(match.end() - about) <= _OFF]
    return min(stops, key=lambda stop: abs(stop - about), default=0)


def _below(line: Line, dashes: Line) -> bool:
    """Whether a row of dashes stands right below a line and is about as long."""
    near = 0 <= dashes.top - line.top < 2.2 * (line.bottom - line.top)
    alike = abs(line.left - dashes.left) < _OVER and abs(line.right - dashes.right) < 3 * _OVER
    return near and alike and not line.region and not dashes.region and "\t" not in line.text
