"""The joint as a mechanic would sketch it: outline, numbered places, dashed where behind, centre-lines.

Line types after ISO 128: continuous wide for the outline, dashed for what lies behind, long-dash dotted
narrow for centre-lines. Each state has a mark of its own and is never told by colour alone.
"""

import math
from collections.abc import Iterable, Sequence

from lastbolt.words.picture import JointPicture, Mark, Spot

INK, PAPER, ACCENT = "#1a1814", "#fbf8f2", "#a3360f"
WIDE, MARGIN, RADIUS, REACH = 1000.0, 100.0, 15.0, 58.0
LABEL_H = 40.0


def joint_svg(picture: JointPicture) -> str:
    """A self-contained SVG, 1000 units wide; y upwards in mm, as on the walk's axes."""
    points = [*picture.outline_mm, *((s.x_mm, s.y_mm) for s in picture.spots)]
    if not points:
        return _svg(200.0, ['<text x="40" y="110" class="t">No places on the map yet.</text>'])
    left, low = min(x for x, _ in points), min(y for _, y in points)
    right, high = max(x for x, _ in points), max(y for _, y in points)
    scale = (WIDE - 2 * MARGIN) / max(right - left, (high - low) * 0.9, 1e-9)
    shift = (WIDE - scale * (right - left)) / 2
    height = scale * (high - low) + 2 * MARGIN

    def place(x_mm: float, y_mm: float) -> tuple[float, float]:
        return shift + (x_mm - left) * scale, MARGIN + (high - y_mm) * scale

    at = [place(s.x_mm, s.y_mm) for s in picture.spots]
    middle = _middle([place(x, y) for x, y in picture.outline_mm] or at)
    body = [_outline([place(x, y) for x, y in picture.outline_mm])]
    labels = _apart([_outward(p, middle) for p in at], at, (WIDE, height))
    for spot, here, label in zip(picture.spots, at, labels, strict=True):
        body += [_leader(here, label), *_spot(spot, here), _label(spot, label)]
    return _svg(height, body)


def mark_svg(mark: Mark, *, behind: bool = False, look: bool = False) -> str:
    """The mark alone, for a legend."""
    spot = Spot("", 0, 0, mark, behind, look)
    return (
        f'<svg class="jnt" xmlns="http://www.w3.org/2000/svg" viewBox="-34 -34 68 68" width="34" height="34" '
        f'aria-hidden="true">{_style()}<defs>{_hatch()}</defs>{"".join(_spot(spot, (0.0, 0.0)))}</svg>'
    )


def _svg(height: float, body: Iterable[str]) -> str:
    return (
        f'<svg class="jnt" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDE:.0f} {height:.0f}" '
        f'role="img" aria-label="The joint with its numbered places">{_style()}'
        f"<defs>{_hatch()}</defs>{''.join(body)}</svg>"
    )


def _style() -> str:
    return (
        f"<style>.jnt .o{{fill:none;stroke:{INK};stroke-width:3.5;stroke-linejoin:round}}"
        f".jnt .m{{fill:{PAPER};stroke:{INK};stroke-width:3}}"
        f".jnt .f{{fill:{INK};stroke:{INK};stroke-width:3}}"
        f".jnt .c{{stroke:{INK};stroke-width:1.1;stroke-dasharray:14 4 3 4;fill:none}}"
        f".jnt .d{{stroke-dasharray:7 5}}.jnt .r{{fill:none;stroke:{ACCENT};stroke-width:5}}"
        f".jnt .l{{stroke:{INK};stroke-width:1.1}}.jnt .w{{fill:none;stroke:{PAPER};stroke-width:2.6}}"
        f".jnt .t{{font:600 30px 'DejaVu Sans',Arial,sans-serif;fill:{INK};text-anchor:middle}}"
        f".jnt .b{{fill:{PAPER}}}.jnt .a{{fill:{ACCENT}}}.jnt .ta{{fill:{PAPER}}}</style>"
    )


def _hatch() -> str:
    return (
        '<pattern id="h" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">'
        f'<rect width="7" height="7" fill="{PAPER}"/>'
        f'<path d="M0 0V7" stroke="{INK}" stroke-width="3"/></pattern>'
    )


def _outline(points: Sequence[tuple[float, float]]) -> str:
    if len(points) < 3:
        return ""
    return '<path class="o" d="M' + "L".join(f"{x:.1f} {y:.1f}" for x, y in points) + 'Z"/>'


def _spot(spot: Spot, at: tuple[float, float]) -> list[str]:
    x, y = at
    reach = RADIUS * 1.7
    dash = " d" if spot.behind else ""
    cross = f"M{x - reach:.1f} {y:.1f}h{2 * reach:.0f}M{x:.1f} {y - reach:.1f}v{2 * reach:.0f}"
    parts = [f'<path class="c" d="{cross}"/>']
    if spot.look:
        parts.insert(0, f'<circle class="r" cx="{x:.1f}" cy="{y:.1f}" r="{RADIUS * 1.75:.1f}"/>')
    return [*parts, *_mark(spot.mark, x, y, dash)]


def _mark(mark: Mark, x: float, y: float, dash: str) -> list[str]:
    def ring(r: float, extra: str = "m", more: str = "") -> str:
        return f'<circle class="{extra}{dash}" cx="{x:.1f}" cy="{y:.1f}" r="{r:.1f}"{more}/>'

    if mark == "nothing":
        return [f'<circle class="f" cx="{x:.1f}" cy="{y:.1f}" r="3.5"/>']
    if mark == "out":
        return [ring(RADIUS), _cross(x, y)]
    if mark == "not seen":
        return [
            ring(RADIUS),
            f'<text class="t" style="font-size:24px" x="{x:.1f}" y="{y + 8.5:.1f}">?</text>',
        ]
    if mark == "in":
        return [ring(RADIUS), f'<path class="f" d="{_hexagon(x, y, RADIUS * 0.72)}"/>']
    if mark == "broken":
        zigzag = f"M{x - 15:.1f} {y - 3:.1f}l8 7 6-10 8 9 8-7"
        return [ring(RADIUS, "f"), f'<path class="w" d="{zigzag}"/>']
    if mark == "solid dowel":
        return [f'<circle class="m{dash}" style="fill:url(#h)" cx="{x:.1f}" cy="{y:.1f}" r="{RADIUS:.1f}"/>']
    inner = [f'<path class="f" d="{_hexagon(x, y, RADIUS * 0.5)}"/>'] if mark.endswith("bolt in") else []
    return [ring(RADIUS * 1.15), ring(RADIUS * 0.72), *inner]


def _cross(x: float, y: float) -> str:
    r = RADIUS
    return f'<path class="l" d="M{x - r:.1f} {y:.1f}h{2 * r:.1f}M{x:.1f} {y - r:.1f}v{2 * r:.1f}"/>'


def _hexagon(x: float, y: float, r: float) -> str:
    corners = ((x + r * math.cos(a), y + r * math.sin(a)) for a in (math.pi * k / 3 for k in range(6)))
    return "M" + "L".join(f"{cx:.1f} {cy:.1f}" for cx, cy in corners) + "Z"


def _middle(points: Sequence[tuple[float, float]]) -> tuple[float, float]:
    return sum(x for x, _ in points) / len(points), sum(y for _, y in points) / len(points)


def _outward(at: tuple[float, float], middle: tuple[float, float]) -> tuple[float, float]:
    dx, dy = at[0] - middle[0], at[1] - middle[1]
    size = math.hypot(dx, dy) or 1.0
    return at[0] + dx / size * REACH, at[1] + (dy / size if dx or dy else -1.0) * REACH


def _apart(
    labels: Sequence[tuple[float, float]], marks: Sequence[tuple[float, float]], bounds: tuple[float, float]
) -> list[tuple[float, float]]:
    """Push labels off each other and off the marks, a little at a time; the same input, the same answer."""
    spots = [list(p) for p in labels]
    for _ in range(60):
        for i, here in enumerate(spots):
            for other in [*(s for j, s in enumerate(spots) if j != i), *marks]:
                dx, dy = here[0] - other[0], here[1] - other[1]
                gap = math.hypot(dx, dy)
                if gap < LABEL_H:
                    push = (LABEL_H - gap) / 3
                    here[0] += push * (dx / gap if gap else 0.6)
                    here[1] += push * (dy / gap if gap else 0.8)
            here[0] = min(max(here[0], 26.0), bounds[0] - 26.0)
            here[1] = min(max(here[1], 26.0), bounds[1] - 26.0)
    return [(x, y) for x, y in spots]


def _leader(at: tuple[float, float], label: tuple[float, float]) -> str:
    gap = math.hypot(label[0] - at[0], label[1] - at[1])
    if gap < REACH * 1.15:
        return ""
    return f'<path class="l" d="M{at[0]:.1f} {at[1]:.1f}L{label[0]:.1f} {label[1]:.1f}"/>'


def _label(spot: Spot, at: tuple[float, float]) -> str:
    x, y = at
    wide = 18.0 + 19.0 * len(spot.label)
    back, text = ("a", "t ta") if spot.look else ("b", "t")
    return (
        f'<rect class="{back}" x="{x - wide / 2:.1f}" y="{y - 18:.1f}" width="{wide:.0f}" height="36"/>'
        f'<text class="{text}" x="{x:.1f}" y="{y + 11:.1f}">{_plain(spot.label)}</text>'
    )


def _plain(text: str) -> str:
    return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
