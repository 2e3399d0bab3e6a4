"""The marks of a joint's places. Dark: a fastener is in, or nobody knows. Light, a line below: looked at.

The shape says what is there, a line below that one person has looked properly, two lines that two have. Own
marks, told apart without colour; nothing that is safe is crossed out.
"""

import math

from lastbolt.words.picture import Mark, Seen, Spot

INK, PAPER, ACCENT = "#1a1814", "#fbf8f2", "#a3360f"
RADIUS = 24.0
RING = 1.9
LINE_Y, LINE_STEP = 34.0, 9.0
"""Where the lines of those who looked stand below the middle of the mark."""
STILL_IN: tuple[Mark, ...] = ("in", "broken", "hollow dowel, bolt in")

MARK_STYLE = (
    f".jnt .m{{fill:{PAPER};stroke:{INK};stroke-width:5}}"
    f".jnt .f{{fill:{INK};stroke:{INK};stroke-width:3}}"
    f".jnt .e{{fill:none;stroke:{INK};stroke-width:3}}"
    f".jnt .g{{fill:{INK}}}"
    f".jnt .d{{stroke-dasharray:8 5.5}}"
    f".jnt .r{{fill:none;stroke:{ACCENT};stroke-width:6}}"
    f".jnt .h{{stroke:{INK};stroke-width:3}}"
    f".jnt .s{{fill:none;stroke:{INK};stroke-width:4.6}}"
    f".jnt .k{{fill:none;stroke:{PAPER};stroke-width:9.5}}"
    f".jnt .w{{fill:none;stroke:{PAPER};stroke-width:6}}"
    f".jnt .q{{font:700 38px 'DejaVu Sans',Arial,sans-serif;fill:{PAPER};text-anchor:middle}}"
)


def mark_svg(spot: Spot) -> str:
    """The mark of one spot alone, for a legend; its label and its position do not matter."""
    around = RADIUS * (RING + 0.2)
    return (
        f'<svg class="jnt" xmlns="http://www.w3.org/2000/svg" viewBox="{-around:.0f} {-around:.0f} '
        f'{2 * around:.0f} {2 * around:.0f}" width="34" height="34" aria-hidden="true">'
        f"<style>{MARK_STYLE}</style>{spot_mark(spot, (0.0, 0.0))}</svg>"
    )


def spot_mark(spot: Spot, at: tuple[float, float], size: float = 1.0) -> str:
    """The mark of a spot as SVG elements around `at`; `size` 1 is the full radius."""
    ring = f'<circle class="r" r="{RADIUS * RING:.1f}"/>' if spot.look else ""
    scaled = "" if size == 1.0 else f" scale({size:.3f})"
    return f'<g transform="translate({at[0]:.1f} {at[1]:.1f}){scaled}">{ring}{_mark(spot)}</g>'


def _mark(spot: Spot) -> str:
    dash = " d" if spot.behind else ""
    if spot.mark in STILL_IN:
        return _still_in(spot.mark, dash)
    if seen_there(spot) == "nobody":
        return _unknown(dash)
    return f"{_light(spot, dash)}{_looked(spot)}"


def seen_there(spot: Spot) -> Seen:
    """Who has looked, as it is drawn: what nobody has looked at is drawn as that, whatever papers say."""
    return spot.seen or ("nobody" if spot.mark == "not seen" else "")


def _still_in(mark: Mark, dash: str) -> str:
    r = RADIUS
    if mark == "broken":
        zigzag = f"M{-r * 1.2:.1f} -7l15 14 10-16 13 15 15-14"
        return f'{_around(dash)}<path class="f" d="{_hexagon(r)}"/><path class="w" d="{zigzag}"/>'
    if mark == "in":
        return f'{_around(dash)}<path class="f" d="{_hexagon(r)}"/>'
    return f'<circle class="m{dash}" r="{r * 1.2:.1f}"/><path class="f" d="{_hexagon(r * 0.78)}"/>'


def _around(dash: str) -> str:
    """Dashes round a dark mark that lies behind: on the dark itself they would not be seen."""
    return f'<circle class="e{dash}" r="{RADIUS * 1.35:.1f}"/>' if dash else ""


def _unknown(dash: str) -> str:
    r = RADIUS
    around = f'<path class="e{dash}" d="{_square(r * 1.25)}"/>' if dash else ""
    return f'{around}<path class="f" d="{_square(r * 0.96)}"/><text class="q" y="14">?</text>'


def _light(spot: Spot, dash: str) -> str:
    r = RADIUS
    if spot.mark == "nothing":
        return f'<path class="m{dash}" d="{_hump(r)}"/>'
    if spot.mark == "solid dowel":
        return f'<circle class="m{dash}" r="{r:.1f}"/>{_hatching(r)}'
    if spot.mark == "hollow dowel":
        return f'<circle class="m{dash}" r="{r:.1f}"/><circle class="h m" r="{r * 0.5:.1f}"/>'
    if spot.for_years:
        return f'<path class="m{dash}" d="{_diamond(r * 1.2)}"/>'
    return f'<circle class="m{dash}" r="{r:.1f}"/>'


def _looked(spot: Spot) -> str:
    """Half dark for a glance; a line below for each person who looked properly, two at most."""
    seen = seen_there(spot)
    if seen == "glance":
        return f'<path class="g" d="{_half(spot)}"/>'
    below = {"one": 1, "two": 2}.get(seen, 0)
    wide = RADIUS * 0.95
    lines = "".join(f"M{-wide:.1f} {LINE_Y + LINE_STEP * i:.1f}H{wide:.1f}" for i in range(below))
    return f'<path class="k" d="{lines}"/><path class="s" d="{lines}"/>' if lines else ""


def _half(spot: Spot) -> str:
    r = RADIUS
    if spot.mark == "nothing":
        return f"M{-r * 1.1:.1f} {r * 0.7:.1f}V{r * 0.2:.1f}H{r * 1.1:.1f}V{r * 0.7:.1f}Z"
    if spot.for_years and spot.mark == "out":
        return f"M{-r * 1.2:.1f} 0H{r * 1.2:.1f}L0 {r * 1.2:.1f}Z"
    return f"M{-r:.1f} 0A{r:.1f} {r:.1f} 0 0 0 {r:.1f} 0Z"


def _hexagon(r: float) -> str:
    corners = ((r * math.cos(a), r * math.sin(a)) for a in (math.pi * k / 3 for k in range(6)))
    return "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in corners) + "Z"


def _square(r: float) -> str:
    return f"M{-r:.1f} {-r:.1f}H{r:.1f}V{r:.1f}H{-r:.1f}Z"


def _hump(r: float) -> str:
    """A closed boss as a finger feels it: round above, flat below."""
    wide, low = r * 1.1, r * 0.7
    return (
        f"M{-wide:.1f} {low:.1f}V{r * 0.2:.1f}A{wide:.1f} {r:.1f} 0 0 1 {wide:.1f} {r * 0.2:.1f}V{low:.1f}Z"
    )


def _diamond(r: float) -> str:
    return f"M0 {-r:.1f}L{r:.1f} 0L0 {r:.1f}L{-r:.1f} 0Z"


def _hatching(r: float) -> str:
    """Level lines inside the circle: solid metal."""
    lines = []
    for off in (-0.5, 0.0, 0.5):
        half = math.sqrt(1 - off * off) * r
        lines.append(f"M{-half:.1f} {off * r:.1f}H{half:.1f}")
    return f'<path class="h" d="{"".join(lines)}"/>'
