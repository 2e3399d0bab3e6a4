"""The order of tightening as a map: each place with its own number, beside it its turn and its length.

A number in a ring is a place, here as on every other picture of a joint.
"""

import math
from html import escape

from lastbolt.drawing.joint import WIDE, Point, apart, beside, frame, mark_size, middle_of, outline
from lastbolt.drawing.marks import INK, PAPER
from lastbolt.words.torque_map import MapPlace, TorqueMap

RADIUS = 40.0
SOFT = "#5c564c"
MOST = 0.8
LABEL_GAP = 58.0
NUMERAL = 44.0
ASIDE = 80.0
"""Room on both sides for words."""
ROOM, TEXT_HIGH, HALF_WORD = 8.0, 24.0, 40.0
"""Between a ring and its words; how high these are; half of how long they are."""
KEY = "In the ring: the place. Beside it: when its turn is, and the length that goes there."
KEY_UP, KEY_HIGH = 0.0, 40.0


def order_svg(made: TorqueMap) -> str:
    """A self-contained SVG. A place behind the joint is drawn dashed (ISO 128)."""
    points = [*made.outline_mm, *((one.x_mm, one.y_mm) for one in made.places)]
    if not points:
        return _svg(200.0, ['<text x="40" y="110" class="n">No places on the map yet.</text>'])
    place, height = frame(points)
    at = [place(one.x_mm, one.y_mm) for one in made.places]
    size = min(MOST, mark_size(at))
    line = [place(x, y) for x, y in made.outline_mm]
    labels = apart(beside(at, middle_of(line or at), 1.0), at, (WIDE, height), LABEL_GAP)
    body = [outline(line)]
    for one, here, label in zip(made.places, at, labels, strict=True):
        body += _place(one, here, label, size)
    body.append(f'<text x="{WIDE / 2:.0f}" y="{height + KEY_UP:.0f}" class="s">{KEY}</text>')
    return _svg(height + KEY_HIGH, body)


def _place(one: MapPlace, here: Point, label: Point, size: float) -> list[str]:
    x, y = here
    radius = RADIUS * size
    dash = ' stroke-dasharray="9 6"' if one.behind else ""
    beside_it = " ".join(part for part in (nth(one.turn), one.length) if part)
    found = [f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{radius:.1f}" class="c"{dash}/>']
    large = f'style="font-size:{NUMERAL * size * min(1.0, 2.4 / max(len(one.label), 1)):.0f}px"'
    found.append(f'<text x="{x:.1f}" y="{y + 15 * size:.1f}" class="n" {large}>{escape(one.label)}</text>')
    if beside_it:
        anchor, at = _anchor(here, label, radius)
        found.append(
            f'<text x="{at:.1f}" y="{label[1] + 8:.1f}" class="s" style="text-anchor:{anchor}">'
            f"{escape(beside_it)}</text>"
        )
    return found


def _anchor(here: Point, label: Point, radius: float) -> tuple[str, float]:
    """From which end the words beside a ring run, and where: never into the ring."""
    aside = label[0] - here[0]
    if abs(aside) < radius / 2:
        return "middle", label[0]
    clear = here[0] + math.copysign(radius + ROOM, aside)
    level = abs(label[1] - here[1]) < radius + TEXT_HIGH
    if aside > 0:
        return "start", max(label[0] - HALF_WORD, clear) if level else label[0] - HALF_WORD
    return "end", min(label[0] + HALF_WORD, clear) if level else label[0] + HALF_WORD


def nth(turn: int) -> str:
    """A turn in words; 0: it has none.

    >>> [nth(turn) for turn in (0, 1, 2, 3, 11, 22, 113)]
    ['', '1st', '2nd', '3rd', '11th', '22nd', '113th']
    """
    if not turn:
        return ""
    ends = {1: "st", 2: "nd", 3: "rd"}
    return f"{turn}{'th' if turn % 100 in (11, 12, 13) else ends.get(turn % 10, 'th')}"


def _svg(height: float, body: list[str]) -> str:
    style = (
        f"<style>.om .o{{fill:none;stroke:{INK};stroke-width:4;stroke-linejoin:round}}"
        f".om .c{{fill:{PAPER};stroke:{INK};stroke-width:3}}"
        f".om .n{{font:700 44px 'DejaVu Sans',Arial,sans-serif;fill:{INK};text-anchor:middle}}"
        f".om .s{{font:400 24px 'DejaVu Sans',Arial,sans-serif;fill:{SOFT};text-anchor:middle}}</style>"
    )
    box = f"{-ASIDE:.0f} 0 {WIDE + 2 * ASIDE:.0f} {height:.0f}"
    return (
        f'<svg class="om" xmlns="http://www.w3.org/2000/svg" viewBox="{box}" '
        f'role="img" aria-label="The order of tightening">{style}{"".join(body)}</svg>'
    )
