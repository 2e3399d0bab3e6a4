"""The joint as a mechanic would sketch it: the outline and numbered places, dashed where they lie behind.

Line types after ISO 128: continuous wide for the outline, dashed for what lies behind. A place that is not
accounted for has its number in a filled box; the marks are in `marks`.
"""

import math
from collections.abc import Callable, Iterable, Sequence

from lastbolt.drawing.marks import ACCENT, INK, MARK_STYLE, PAPER, RADIUS, spot_mark
from lastbolt.words.picture import JointPicture, Spot

WIDE, MARGIN, REACH = 1000.0, 112.0, 74.0
LABEL_H = 52.0
CLEAR = 66.0
"""How far the middle of a label should stay from other marks."""
TURNS = tuple(math.radians(turn) for turn in (0, 30, -30, 60, -60, 90, -90, 135, -135, 180))
LEAST_TEXT = 0.6
"""How small numbers may get in a crowd, of their full size."""
EDGE = 34.0
"""How near to the border the middle of a label may come."""


def joint_svg(picture: JointPicture) -> str:
    """A self-contained SVG, 1000 units wide; y upwards in mm, as on the walk's axes."""
    points = [*picture.outline_mm, *((s.x_mm, s.y_mm) for s in picture.spots)]
    if not points:
        return _svg(200.0, ['<text x="40" y="110" class="t">No places on the map yet.</text>'])
    place, height = frame(points)
    at = [place(s.x_mm, s.y_mm) for s in picture.spots]
    middle = middle_of([place(x, y) for x, y in picture.outline_mm] or at)
    body = [outline([place(x, y) for x, y in picture.outline_mm])]
    size = mark_size(at)
    text = max(LEAST_TEXT, size)
    labels = apart(beside(at, middle, text), at, (WIDE, height), LABEL_H * text)
    for spot, here, label in zip(picture.spots, at, labels, strict=True):
        body += [_leader(here, label, text), _label(spot, label, text)]
    body += [spot_mark(spot, here, size) for spot, here in zip(picture.spots, at, strict=True)]
    return _svg(height, body)


Point = tuple[float, float]


def frame(points: Sequence[Point]) -> tuple[Callable[[float, float], Point], float]:
    """Where a point of the joint [mm] stands in a drawing that is 1000 units wide, and how high that is."""
    left, low = min(x for x, _ in points), min(y for _, y in points)
    right, high = max(x for x, _ in points), max(y for _, y in points)
    scale = (WIDE - 2 * MARGIN) / max(right - left, (high - low) * 0.9, 1e-9)
    shift = (WIDE - scale * (right - left)) / 2

    def place(x_mm: float, y_mm: float) -> Point:
        return shift + (x_mm - left) * scale, MARGIN + (high - y_mm) * scale

    return place, scale * (high - low) + 2 * MARGIN


def _svg(height: float, body: Iterable[str]) -> str:
    return (
        f'<svg class="jnt" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDE:.0f} {height:.0f}" '
        f'role="img" aria-label="The joint with its numbered places">{_style()}'
        f"{''.join(body)}</svg>"
    )


def _style() -> str:
    return (
        f"<style>.jnt .o{{fill:none;stroke:{INK};stroke-width:4;stroke-linejoin:round}}"
        f".jnt .l{{stroke:{INK};stroke-width:1.6}}"
        f".jnt .t{{font:600 40px 'DejaVu Sans',Arial,sans-serif;fill:{INK};text-anchor:middle}}"
        f".jnt .b{{fill:{PAPER}}}.jnt .a{{fill:{ACCENT}}}.jnt .ta{{fill:{PAPER}}}{MARK_STYLE}</style>"
    )


def outline(points: Sequence[tuple[float, float]]) -> str:
    """The joint's outline, closed; nothing where fewer than three points are known."""
    if len(points) < 3:
        return ""
    return '<path class="o" d="M' + "L".join(f"{x:.1f} {y:.1f}" for x, y in points) + 'Z"/>'


def mark_size(at: Sequence[tuple[float, float]]) -> float:
    """How large marks may be so that neighbours do not lie on each other."""
    gaps = [math.dist(a, b) for i, a in enumerate(at) for b in at[i + 1 :]]
    return min(1.0, max(0.45, min(gaps, default=WIDE) / (2.5 * RADIUS)))


def middle_of(points: Sequence[tuple[float, float]]) -> tuple[float, float]:
    """The mean of some points."""
    return sum(x for x, _ in points) / len(points), sum(y for _, y in points) / len(points)


def beside(
    marks: Sequence[tuple[float, float]], middle: tuple[float, float], size: float
) -> list[tuple[float, float]]:
    """A spot for each label: outward of its mark, else where other marks and labels leave most room."""
    found: list[tuple[float, float]] = []
    for here in marks:
        dx, dy = here[0] - middle[0], here[1] - middle[1]
        outward = math.atan2(dy, dx) if dx or dy else -math.pi / 2
        others = [mark for mark in marks if mark != here] + found
        tries = [
            (
                here[0] + REACH * size * math.cos(outward + turn),
                here[1] + REACH * size * math.sin(outward + turn),
            )
            for turn in TURNS
        ]
        room = [min((math.dist(spot, other) for other in others), default=CLEAR * size) for spot in tries]
        free = next((spot for spot, gap in zip(tries, room, strict=True) if gap >= CLEAR * size), None)
        found.append(free or tries[room.index(max(room))])
    return found


def apart(
    labels: Sequence[tuple[float, float]],
    marks: Sequence[tuple[float, float]],
    bounds: tuple[float, float],
    gap_least: float,
) -> list[tuple[float, float]]:
    """Push labels off each other and off the marks, a little at a time; the same input, the same answer."""
    spots = [list(p) for p in labels]
    for _ in range(60):
        for i, here in enumerate(spots):
            for other in [*(s for j, s in enumerate(spots) if j != i), *marks]:
                dx, dy = here[0] - other[0], here[1] - other[1]
                gap = math.hypot(dx, dy)
                if gap < gap_least:
                    push = (gap_least - gap) / 3
                    here[0] += push * (dx / gap if gap else 0.6)
                    here[1] += push * (dy / gap if gap else 0.8)
            here[0] = min(max(here[0], EDGE), bounds[0] - EDGE)
            here[1] = min(max(here[1], EDGE), bounds[1] - EDGE)
    return [(x, y) for x, y in spots]


def _leader(at: tuple[float, float], label: tuple[float, float], size: float) -> str:
    if math.dist(at, label) < REACH * size * 1.15:
        return ""
    return f'<path class="l" d="M{at[0]:.1f} {at[1]:.1f}L{label[0]:.1f} {label[1]:.1f}"/>'


def _label(spot: Spot, at: tuple[float, float], size: float) -> str:
    wide = 16.0 + 27.0 * len(spot.label)
    back, text = ("a", "t ta") if spot.open else ("b", "t")
    return (
        f'<g transform="translate({at[0]:.1f} {at[1]:.1f}) scale({size:.3f})">'
        f'<rect class="{back}" x="{-wide / 2:.1f}" y="-22" width="{wide:.0f}" height="44"/>'
        f'<text class="{text}" y="14">{_plain(spot.label)}</text></g>'
    )


def _plain(text: str) -> str:
    return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
