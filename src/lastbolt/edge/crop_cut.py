"""Pictures cut along the white of the page: no line of print through the middle, no slice of a neighbour.

A picture comes with some page around the box it is to show. Each edge of the box moves outwards to the next
line of pixels without print; where there is none within reach, it stays, or leaves out the slice of the next
column. Rules that run right through the
picture (of a table) are no print.
"""

from collections.abc import Sequence

from lastbolt.edge.png import CHANNELS, Pixels, pixels_of, png_of
from lastbolt.words.citation import Box

SLACK_X, SLACK_Y = 0.02, 0.02
"""How much of the page to take around a box."""
PADDING = 4
"""Pixels of white to keep around what is shown."""
TALL = 0.05
"""From this share of the page's height a box is a drawing: a gap from top to bottom parts columns."""
INWARD_SHARE = 0.35
GAP = 8
"""So many pixels of white part two columns."""
BLUR = 2
"""So many pixels of print outside a box are only its blurred edge."""
INK = 160
"""A pixel whose green is darker is print."""
RULE_SHARE = 0.9
_DARK = bytes(1 if value < INK else 0 for value in range(256))


def around(box: Box) -> Box:
    """The box with the page around it that `cut` needs."""
    left, top, right, bottom = box
    return (
        max(0.0, left - SLACK_X),
        max(0.0, top - SLACK_Y),
        min(1.0, right + SLACK_X),
        min(1.0, bottom + SLACK_Y),
    )


def cut(png: bytes, taken: Box, wanted: Box) -> bytes:
    """The PNG of `taken` cut down to `wanted`, along white; unchanged when it is no plain RGB picture."""
    pixels = pixels_of(png)
    if pixels is None:
        return png
    ink = [row[1::CHANNELS].translate(_DARK) for row in pixels.rows]
    columns = [bytes(column) for column in zip(*ink, strict=True)]
    ruled_columns = {x for x, column in enumerate(columns) if sum(column) >= RULE_SHARE * pixels.height}
    ruled_rows = {y for y, row in enumerate(ink) if sum(row) >= RULE_SHARE * pixels.width}
    wide, high = taken[2] - taken[0], taken[3] - taken[1]
    left = round((wanted[0] - taken[0]) / wide * pixels.width)
    right = round((wanted[2] - taken[0]) / wide * pixels.width)
    top = round((wanted[1] - taken[1]) / high * pixels.height)
    bottom = round((wanted[3] - taken[1]) / high * pixels.height)
    # print beside the box does not count for its upper and lower edge, and the other way round
    row_ink = [sum(row[left:right]) - sum(row[x] for x in ruled_columns if left <= x < right) for row in ink]
    column_ink = [
        sum(column[top:bottom]) - sum(column[y] for y in ruled_rows if top <= y < bottom)
        for column in columns
    ]
    y0, y1 = _outward(row_ink, top, -1), _outward(row_ink, bottom, 1)
    inward = round((right - left) * INWARD_SHARE) if wanted[3] - wanted[1] >= TALL else 0
    x0, x1 = _outward(column_ink, left, -1, inward), _outward(column_ink, right, 1, inward)
    rows = tuple(row[x0 * CHANNELS : x1 * CHANNELS] for row in pixels.rows[y0:y1])
    return png_of(Pixels(x1 - x0, y1 - y0, rows)) if rows and x1 > x0 else png


def _outward(ink: Sequence[int], edge: int, step: int, inward: int = 0) -> int:
    """The edge moved to the first line without print, and a little further while there is none.

    Where print runs across the edge, it moves up to `inward` lines inwards to a gap, if there is one: what is
    parted off by that gap is a neighbour (a callout hangs on its leader).
    """
    at = min(max(edge, 0), len(ink))
    line = at if step > 0 else at - 1
    while 0 <= line < len(ink) and ink[line]:
        line += step
    crosses = abs(line - (at if step > 0 else at - 1)) > BLUR
    parted = _inward(ink, at, step, inward) if crosses else at
    if parted != at or not 0 <= line < len(ink):
        return parted
    for _ in range(PADDING):
        if not (0 <= line < len(ink)) or ink[line]:
            break
        line += step
    return line if step > 0 else line + 1


def _inward(ink: Sequence[int], edge: int, step: int, most: int) -> int:
    """The edge moved inwards behind the first gap without print; where it was when there is none."""
    white = 0
    line = edge - 1 if step > 0 else edge
    for _ in range(most):
        if not 0 <= line < len(ink):
            break
        white = 0 if ink[line] else white + 1
        if white == GAP:
            return line + PADDING if step > 0 else line + 1 - PADDING
        line -= step
    return edge
