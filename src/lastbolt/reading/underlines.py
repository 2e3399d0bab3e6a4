"""Which lines are underlined: by a drawn rule right below them, or by a typed row of dashes."""

import re
from bisect import bisect_left
from collections.abc import Sequence

from lastbolt.reading.lines import Line
from lastbolt.words.page import Drawn

_THIN = 0.004
_WIDEST = 0.7
_DASHES = re.compile(r"[-_=]{4,}")
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
        elif rules and not line.region and _ruled(line, rules, tops):
            found.append(line._replace(underlined=True))
        else:
            found.append(line)
    return found


def _ruled(line: Line, rules: list[tuple[float, float, float]], tops: list[float]) -> bool:
    """Whether rules right below the line cover its words, and not much more."""
    height = line.bottom - line.top
    covered = 0.0
    for top, left, right in rules[bisect_left(tops, line.bottom - 0.35 * height) :]:
        if top > line.bottom + 0.4 * height:
            break
        if left >= line.left - _OVER and right <= line.right + _OVER:
            covered += right - left
    return covered >= 0.8 * (line.right - line.left)


def _below(line: Line, dashes: Line) -> bool:
    """Whether a row of dashes stands right below a line and is about as long."""
    near = 0 <= dashes.top - line.top < 2.2 * (line.bottom - line.top)
    alike = abs(line.left - dashes.left) < _OVER and abs(line.right - dashes.right) < 3 * _OVER
    return near and alike and not line.region and not dashes.region and "\t" not in line.text
