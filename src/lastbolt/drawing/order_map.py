"""The order of tightening as a map: at each place its turn in large numerals, label and length below."""

from html import escape

from lastbolt.drawing.joint import WIDE, Point, apart, beside, frame, mark_size, middle_of, outline
from lastbolt.drawing.marks import INK, PAPER
from lastbolt.words.torque_map import MapPlace, TorqueMap

RADIUS = 40.0
SOFT = "#5c564c"
MOST = 0.8
LABEL_GAP = 58.0
KEY = "In the ring: its turn. Beside it: the place, and the length that goes there."
KEY_UP, KEY_HIGH = 0.0, 40.0


def order_svg(made: TorqueMap) -> str:
    """A self-contained SVG, 1000 units wide. A place behind the joint is drawn dashed (ISO 128); one without
    a turn is an empty ring."""
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
    beside_it = " ".join(part for part in (one.label, one.length) if part)
    found = [f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{radius:.1f}" class="c"{dash}/>']
    if one.turn:
        large = f'style="font-size:{44 * size:.0f}px"'
        found.append(f'<text x="{x:.1f}" y="{y + 15 * size:.1f}" class="n" {large}>{one.turn}</text>')
    found.append(f'<text x="{label[0]:.1f}" y="{label[1] + 8:.1f}" class="s">{escape(beside_it)}</text>')
    return found


def _svg(height: float, body: list[str]) -> str:
    style = (
        f"<style>.om .o{{fill:none;stroke:{INK};stroke-width:4;stroke-linejoin:round}}"
        f".om .c{{fill:{PAPER};stroke:{INK};stroke-width:3}}"
        f".om .n{{font:700 44px 'DejaVu Sans',Arial,sans-serif;fill:{INK};text-anchor:middle}}"
        f".om .s{{font:400 24px 'DejaVu Sans',Arial,sans-serif;fill:{SOFT};text-anchor:middle}}</style>"
    )
    return (
        f'<svg class="om" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDE:.0f} {height:.0f}" '
        f'role="img" aria-label="The order of tightening">{style}{"".join(body)}</svg>'
    )
