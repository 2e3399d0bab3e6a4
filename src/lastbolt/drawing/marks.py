"""The marks of a joint's places: the shape says what is there, what is drawn in it who has looked.

Own marks, told apart without colour: half black for a glance, one stroke for one person, a cross for two.
"""

import math

from lastbolt.words.picture import Mark, Seen, Spot

INK, PAPER, ACCENT = "#1a1814", "#fbf8f2", "#a3360f"
RADIUS = 24.0
RING = 1.75

MARK_STYLE = (
    f".jnt .m{{fill:{PAPER};stroke:{INK};stroke-width:3.6}}"
    f".jnt .f{{fill:{INK};stroke:{INK};stroke-width:3.6}}"
    f".jnt .g{{fill:{INK}}}"
    f".jnt .d{{stroke-dasharray:8 5.5}}"
    f".jnt .r{{fill:none;stroke:{ACCENT};stroke-width:6}}"
    f".jnt .h{{stroke:{INK};stroke-width:2.4}}"
    f".jnt .s{{fill:none;stroke:{INK};stroke-width:5}}"
    f".jnt .k{{fill:none;stroke:{PAPER};stroke-width:10;stroke-linecap:butt}}"
    f".jnt .w{{fill:none;stroke:{PAPER};stroke-width:4}}"
    f".jnt .q{{font:700 36px 'DejaVu Sans',Arial,sans-serif;fill:{INK};text-anchor:middle}}"
)


def mark_svg(spot: Spot) -> str:
    """The mark of one spot alone, for a legend; its label and its position do not matter."""
    around = RADIUS * (RING + 0.25)
    return (
        f'<svg class="jnt" xmlns="http://www.w3.org/2000/svg" viewBox="{-around:.0f} {-around:.0f} '
        f'{2 * around:.0f} {2 * around:.0f}" width="34" height="34" aria-hidden="true">'
        f"<style>{MARK_STYLE}</style>{spot_mark(spot, (0.0, 0.0))}</svg>"
    )


def spot_mark(spot: Spot, at: tuple[float, float], size: float = 1.0) -> str:
    """The mark of a spot as SVG elements around `at`; `size` 1 is the full radius."""
    ring = f'<circle class="r" r="{RADIUS * RING:.1f}"/>' if spot.look else ""
    shape = _shape(spot.mark, for_years=spot.for_years, dash=" d" if spot.behind else "")
    inside = "" if spot.mark in ("in", "broken", "hollow dowel, bolt in") else _seen(spot)
    scaled = "" if size == 1.0 else f" scale({size:.3f})"
    return f'<g transform="translate({at[0]:.1f} {at[1]:.1f}){scaled}">{ring}{shape}{inside}</g>'


def _shape(mark: Mark, *, for_years: bool, dash: str) -> str:
    r = RADIUS
    if mark == "broken":
        zigzag = f"M{-r:.1f} -5l13 11 9-15 13 14 13-11"
        return f'<circle class="f{dash}" r="{r:.1f}"/><path class="w" d="{zigzag}"/>'
    if mark == "in":
        return f'<circle class="m{dash}" r="{r:.1f}"/><path class="f" d="{_hexagon(r * 0.66)}"/>'
    if mark == "nothing":
        return f'<path class="m{dash}" d="{_square(r * 0.92)}"/>'
    if mark == "solid dowel":
        return f'<circle class="m{dash}" r="{r:.1f}"/>{_hatching(r)}'
    if mark.startswith("hollow dowel"):
        bolt = f'<path class="f" d="{_hexagon(r * 0.42)}"/>' if mark.endswith("bolt in") else ""
        return f'<circle class="m{dash}" r="{r * 1.2:.1f}"/><circle class="m" r="{r * 0.76:.1f}"/>{bolt}'
    if for_years and mark in ("out", "not seen"):
        return f'<path class="m{dash}" d="{_diamond(r * 1.28)}"/>'
    return f'<circle class="m{dash}" r="{r:.1f}"/>'


def _seen(spot: Spot) -> str:
    seen: Seen = spot.seen or ("nobody" if spot.mark == "not seen" else "")
    reach = RADIUS * 0.7
    rising = f"M{-reach:.1f} {reach:.1f}L{reach:.1f} {-reach:.1f}"
    falling = f"M{-reach:.1f} {-reach:.1f}L{reach:.1f} {reach:.1f}"
    if seen == "nobody":
        return '<text class="q" y="13">?</text>'
    if seen == "glance":
        return f'<path class="g" d="{_lower_half(spot)}"/>'
    strokes = {"one": rising, "two": rising + falling}.get(seen, "")
    casing = f'<path class="k" d="{strokes}"/>' if strokes and spot.mark == "solid dowel" else ""
    return f'{casing}<path class="s" d="{strokes}"/>' if strokes else ""


def _lower_half(spot: Spot) -> str:
    r = RADIUS
    if spot.mark == "nothing":
        return f"M{-r * 0.92:.1f} 0H{r * 0.92:.1f}V{r * 0.92:.1f}H{-r * 0.92:.1f}Z"
    if spot.for_years:
        return f"M{-r * 1.28:.1f} 0H{r * 1.28:.1f}L0 {r * 1.28:.1f}Z"
    return f"M{-r:.1f} 0A{r:.1f} {r:.1f} 0 0 0 {r:.1f} 0Z"


def _hexagon(r: float) -> str:
    corners = ((r * math.cos(a), r * math.sin(a)) for a in (math.pi * k / 3 for k in range(6)))
    return "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in corners) + "Z"


def _square(r: float) -> str:
    return f"M{-r:.1f} {-r:.1f}H{r:.1f}V{r:.1f}H{-r:.1f}Z"


def _diamond(r: float) -> str:
    return f"M0 {-r:.1f}L{r:.1f} 0L0 {r:.1f}L{-r:.1f} 0Z"


def _hatching(r: float) -> str:
    """Lines falling to the right inside the circle, so that a rising stroke over them is seen."""
    lines = []
    for off in (-0.66, -0.33, 0.0, 0.33, 0.66):
        half = math.sqrt(1 - off * off) * r / math.sqrt(2)
        x, y = off * r / math.sqrt(2), -off * r / math.sqrt(2)
        lines.append(f"M{x - half:.1f} {y - half:.1f}L{x + half:.1f} {y + half:.1f}")
    return f'<path class="h" d="{"".join(lines)}"/>'
