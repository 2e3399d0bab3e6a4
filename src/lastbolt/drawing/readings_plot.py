"""Readings against their limits as SVG text: one line each, drawn to its own scale."""

from collections.abc import Sequence
from html import escape

from lastbolt.drawing.marks import INK, PAPER
from lastbolt.words.measured import Span
from lastbolt.words.readings import Decided, Readings, figures_of

WIDE, LEFT, RIGHT = 1000.0, 330.0, 800.0
ROW, TOP, FOOT = 76.0, 24.0, 62.0
SOFT, BAND = "#5c564c", "#e7e0d2"
_ROOM, LABEL = 0.14, 46.0
SHORT = {
    "within": "within", "worn, within limit": "worn", "beyond": "BEYOND",
    "too close for this tool": "too close", "not decided": "not decided",
}  # fmt: skip
KEY = (
    "Band: standard. Heavy line: limit. Ring: what decides, with its uncertainty. Small strokes: each place."
)
Scale = tuple[float, float]


def readings_svg(readings: Readings) -> str:
    """A self-contained SVG, 1000 units wide: the standard as a band, the limit as a heavy line with its
    bad side hatched, the value as a ring with its expanded uncertainty as a bar."""
    rows = [one for one in readings.decided if one.says]
    if not rows:
        return _svg(200.0, ['<text x="40" y="110" class="n">Nothing is measured yet.</text>'])
    body: list[str] = []
    for number, one in enumerate(rows):
        body += _row(one, TOP + number * ROW)
    height = TOP + len(rows) * ROW + FOOT
    body.append(f'<text x="{WIDE / 2:.0f}" y="{height - 20:.0f}" class="k">{KEY}</text>')
    return _svg(height, body)


def _row(one: Decided, top: float) -> list[str]:
    middle = top + ROW / 2
    spread = one.k * one.uncertainty if one.uncertainty else 0.0
    scale = _scale(one, spread)
    found = [_name(one, middle)]
    if one.standard is not None:
        found.append(_band(one.standard, scale, middle))
    found.append(f'<line x1="{LEFT}" y1="{middle:.1f}" x2="{RIGHT}" y2="{middle:.1f}" class="a"/>')
    found += _ends(one, scale, middle)
    x = _x(one.value, scale)
    for spot in one.spots if len(one.spots) > 1 else ():
        at = _x(spot.value, scale)
        found.append(
            f'<line x1="{at:.1f}" y1="{middle - 7:.1f}" x2="{at:.1f}" y2="{middle + 7:.1f}" class="t"/>'
        )
    if spread:
        low, high = _x(one.value - spread, scale), _x(one.value + spread, scale)
        found.append(
            f'<path d="M{low:.1f} {middle - 9:.1f}v18M{low:.1f} {middle:.1f}H{high:.1f}m0 -9v18" class="u"/>'
        )
    found.append(f'<circle cx="{x:.1f}" cy="{middle:.1f}" r="8" class="v"/>')
    value = f"{one.value:.{figures_of(spread, one.unit)}f}"
    found.append(f'<text x="{_clear(x, one, scale):.1f}" y="{middle - 17:.1f}" class="p">{value}</text>')
    return found


def _clear(x: float, one: Decided, scale: Scale) -> float:
    """Where the value is written: beside the heavy line of a limit, never across it."""
    service = one.service
    lines = [_x(end, scale) for end in (service.low, service.high) if end is not None] if service else []
    near = min(lines, key=lambda line: abs(line - x), default=None)
    if near is None or abs(near - x) >= LABEL:
        return x
    return near + (LABEL if x > near else -LABEL)


def _name(one: Decided, middle: float) -> str:
    what = f"{one.what}, {one.of}" if one.of else one.what
    lines = _wrapped(f"{one.number}  {what}" if one.number else what, 30)
    up = middle - 11 * (len(lines) - 1) + 6
    names = "".join(
        f'<text x="20" y="{up + 22 * row:.1f}" class="n">{escape(line)}</text>'
        for row, line in enumerate(lines)
    )
    says = SHORT.get(one.says or "", "")
    bold = ' style="font-weight:700"' if one.says == "beyond" else ""
    return f'{names}<text x="{RIGHT + 34:.0f}" y="{middle + 7:.1f}" class="n"{bold}>{says}</text>'


def _wrapped(text: str, most: int) -> list[str]:
    lines = [""]
    for word in text.split(" "):
        if lines[-1] and len(lines[-1]) + 1 + len(word) > most and len(lines) < 3:
            lines.append("")
        lines[-1] = f"{lines[-1]} {word}" if lines[-1] else word
    return lines


def _band(span: Span, scale: Scale, middle: float) -> str:
    low = LEFT if span.low is None else _x(span.low, scale)
    high = RIGHT if span.high is None else _x(span.high, scale)
    if high - low < 1:
        return (
            f'<line x1="{low:.1f}" y1="{middle - 13:.1f}" x2="{low:.1f}" y2="{middle + 13:.1f}" class="s"/>'
        )
    return f'<rect x="{low:.1f}" y="{middle - 13:.1f}" width="{high - low:.1f}" height="26" class="b"/>'


def _ends(one: Decided, scale: Scale, middle: float) -> list[str]:
    """The limit, its number below it, and short strokes on its bad side."""
    found = []
    service, standard = one.service, one.standard
    ends = [(service.low, -1), (service.high, 1)] if service else []
    if standard is not None:
        ends += [(end, 0) for end in (standard.low, standard.high) if end is not None]
    taken: list[float] = []
    for end, bad in ends:
        if end is None:
            continue
        x = _x(end, scale)
        if bad:
            found.append(
                f'<line x1="{x:.1f}" y1="{middle - 20:.1f}" x2="{x:.1f}" y2="{middle + 20:.1f}" class="l"/>'
            )
            found += [
                f'<line x1="{x + bad * 5 * n:.1f}" y1="{middle + 20:.1f}" x2="{x + bad * (5 * n + 5):.1f}" '
                f'y2="{middle + 12:.1f}" class="t"/>'
                for n in (1, 2, 3)
            ]
        if all(abs(x - other) > 52 for other in taken):
            taken.append(x)
            found.append(f'<text x="{x:.1f}" y="{middle + 36:.1f}" class="e">{_printed(end, one)}</text>')
    return found


def _scale(one: Decided, spread: float) -> Scale:
    spans: Sequence[Span] = [span for span in (one.standard, one.service) if span is not None]
    known = [end for span in spans for end in (span.low, span.high) if end is not None]
    known += [
        one.value - spread,
        one.value + spread,
        *(spot.value for spot in one.spots if len(one.spots) > 1),
    ]
    low, high = min(known), max(known)
    room = (high - low) * _ROOM or max(abs(high), 1.0) * 0.01
    return low - room, high + room


def _x(value: float, scale: Scale) -> float:
    low, high = scale
    return LEFT + (value - low) / (high - low) * (RIGHT - LEFT)


def _printed(end: float, one: Decided) -> str:
    """An end with as many figures behind the point as the others of its size."""
    spans = [span for span in (one.standard, one.service) if span is not None]
    ends = [number for span in spans for number in (span.low, span.high) if number is not None]
    return f"{end:.{max(len(f'{number:.7g}'.partition('.')[2]) for number in ends)}f}"


def _svg(height: float, body: list[str]) -> str:
    style = (
        f"<style>.rp .a{{stroke:{SOFT};stroke-width:1.5}}.rp .b{{fill:{BAND};stroke:{SOFT};stroke-width:1}}"
        f".rp .s{{stroke:{SOFT};stroke-width:2;stroke-dasharray:4 3}}.rp .l{{stroke:{INK};stroke-width:5}}"
        f".rp .t{{stroke:{INK};stroke-width:1.5}}.rp .u{{fill:none;stroke:{INK};stroke-width:2.5}}"
        f".rp .v{{fill:{PAPER};stroke:{INK};stroke-width:3}}"
        f".rp .n{{font:400 19px 'DejaVu Sans',Arial,sans-serif;fill:{INK}}}"
        f".rp .p{{font:700 18px 'DejaVu Sans',Arial,sans-serif;fill:{INK};text-anchor:middle}}"
        f".rp .e{{font:400 15px 'DejaVu Sans',Arial,sans-serif;fill:{SOFT};text-anchor:middle}}"
        f".rp .k{{font:400 15px 'DejaVu Sans',Arial,sans-serif;fill:{SOFT};text-anchor:middle}}</style>"
    )
    paper = f'<rect width="{WIDE:.0f}" height="{height:.0f}" fill="{PAPER}"/>'
    return (
        f'<svg class="rp" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDE:.0f} {height:.0f}" '
        f'role="img" aria-label="Readings against their limits">{style}{paper}{"".join(body)}</svg>'
    )
