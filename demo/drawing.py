"""Line drawings in millimetres, written as Typst code: native vector shapes with real text callouts."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

Point = tuple[float, float]

INK = "luma(25)"
THIN, PLAIN, HEAVY = 0.22, 0.35, 0.6
DASHED = "(2.2pt, 1.4pt)"
CENTRE_LINE = "(6pt, 1.4pt, 1pt, 1.4pt)"


def _n(value: float) -> str:
    return f"{value:.3f}".rstrip("0").rstrip(".") + "mm"


@dataclass
class Drawing:
    """One drawing; origin top left, x to the right, y down.

    Coordinates times `scale` are millimetres on paper; line weights and letters keep their size.
    """

    width_mm: float
    height_mm: float
    scale: float = 1.0
    parts: list[str] = field(default_factory=list)
    callouts: list[str] = field(default_factory=list)

    def _at(self, *values: float) -> str:
        return ", ".join(_n(value * self.scale) for value in values)

    def _stroke(self, weight_mm: float, dash: str | None) -> str:
        pattern = f", dash: (array: {dash}, phase: 0pt)" if dash else ""
        return f'(paint: {INK}, thickness: {_n(weight_mm)}, cap: "round", join: "round"{pattern})'

    def _put(self, x: float, y: float, code: str) -> None:
        self.parts.append(f"place(top + left, dx: {self._at(x)}, dy: {self._at(y)}, {code})")

    def line(self, start: Point, end: Point, weight: float = PLAIN, dash: str | None = None) -> Drawing:
        """Add a straight line; gives back the drawing."""
        first, last = (f"({self._at(x, y)})" for x, y in (start, end))
        self._put(0, 0, f"line(start: {first}, end: {last}, stroke: {self._stroke(weight, dash)})")
        return self

    def poly(
        self,
        points: list[Point],
        *,
        closed: bool = True,
        fill: str = "none",
        weight: float = PLAIN,
        dash: str | None = None,
    ) -> Drawing:
        """Add a polygon or an open run of lines; gives back the drawing."""
        moves = [f"curve.move(({self._at(*points[0])}))"]
        moves += [f"curve.line(({self._at(x, y)}))" for x, y in points[1:]]
        if closed:
            moves.append("curve.close()")
        self._put(0, 0, f"curve(fill: {fill}, stroke: {self._stroke(weight, dash)}, {', '.join(moves)})")
        return self

    def rect(
        self,
        corner: Point,
        size: Point,
        *,
        radius: float = 0,
        fill: str = "none",
        weight: float = PLAIN,
        dash: str | None = None,
    ) -> Drawing:
        """Add a rectangle by its top left corner and size; gives back the drawing."""
        self._put(
            *corner,
            f"rect(width: {self._at(size[0])}, height: {self._at(size[1])}, radius: {self._at(radius)}, "
            f"fill: {fill}, stroke: {self._stroke(weight, dash)})",
        )
        return self

    def circle(
        self,
        centre: Point,
        radius: float,
        *,
        fill: str = "none",
        weight: float = PLAIN,
        dash: str | None = None,
    ) -> Drawing:
        """Add a circle; gives back the drawing."""
        self._put(
            centre[0] - radius,
            centre[1] - radius,
            f"circle(radius: {self._at(radius)}, fill: {fill}, stroke: {self._stroke(weight, dash)})",
        )
        return self

    def arc(
        self, centre: Point, radius: float, degrees: Point, weight: float = PLAIN, dash: str | None = None
    ) -> Drawing:
        """Add an arc from one angle to another (degrees, clockwise on the page); gives back the drawing."""
        first, last = degrees
        count = max(6, int(abs(last - first) / 6))
        points = [
            (
                centre[0] + radius * math.cos(math.radians(first + (last - first) * i / count)),
                centre[1] + radius * math.sin(math.radians(first + (last - first) * i / count)),
            )
            for i in range(count + 1)
        ]
        return self.poly(points, closed=False, weight=weight, dash=dash)

    def hexagon(
        self,
        centre: Point,
        radius: float,
        *,
        fill: str = "white",
        weight: float = PLAIN,
        dash: str | None = None,
    ) -> Drawing:
        """Add a hexagon with one corner to the right; gives back the drawing."""
        points = [
            (
                centre[0] + radius * math.cos(math.radians(60 * i)),
                centre[1] + radius * math.sin(math.radians(60 * i)),
            )
            for i in range(6)
        ]
        return self.poly(points, fill=fill, weight=weight, dash=dash)

    def hex_head(self, centre: Point, radius: float, dash: str | None = None) -> Drawing:
        """Add the head of a hexagon screw seen from above; gives back the drawing."""
        self.circle(centre, radius * 1.18, fill="white", weight=THIN, dash=dash)
        return self.hexagon(centre, radius, weight=THIN, dash=dash)

    def socket_head(self, centre: Point, radius: float, dash: str | None = None) -> Drawing:
        """Add the head of a hexagon socket screw seen from above; gives back the drawing."""
        self.circle(centre, radius, fill="white", weight=PLAIN, dash=dash)
        return self.hexagon(centre, radius * 0.55, weight=THIN, dash=dash)

    def hole(self, centre: Point, radius: float) -> Drawing:
        """Add an empty hole with its centre lines; gives back the drawing."""
        self.circle(centre, radius, fill="white", weight=THIN)
        reach = radius * 1.7
        x, y = centre
        self.line((x - reach, y), (x + reach, y), 0.12, CENTRE_LINE)
        return self.line((x, y - reach), (x, y + reach), 0.12, CENTRE_LINE)

    def screw_side(
        self, head: Point, length: float, *, direction: float = 0.0, scale: float = 1.0, socket: bool = False
    ) -> Drawing:
        """Add a screw seen from the side, head first, shank along the given angle; gives back the drawing."""
        cos, sin = math.cos(math.radians(direction)), math.sin(math.radians(direction))

        def at(along: float, across: float) -> Point:
            return (head[0] + along * cos - across * sin, head[1] + along * sin + across * cos)

        half, deep, shank = 2.1 * scale, (2.8 if socket else 2.0) * scale, 1.05 * scale
        self.poly([at(0, -half), at(deep, -half), at(deep, half), at(0, half)], fill="white", weight=THIN)
        if not socket:
            self.line(at(0, -half * 0.4), at(deep, -half * 0.4), THIN)
            self.line(at(0, half * 0.4), at(deep, half * 0.4), THIN)
        end = deep + length
        self.poly(
            [at(deep, -shank), at(end, -shank), at(end, shank), at(deep, shank)], fill="white", weight=THIN
        )
        turns = max(3, int(length * 0.55 / 0.9))
        for i in range(turns):
            along = end - (i + 0.5) * 0.9
            self.line(at(along, -shank), at(along + 0.3, shank), 0.12)
        return self

    def axis(self, start: Point, end: Point) -> Drawing:
        """Add a chain-dotted centre line, as between exploded parts; gives back the drawing."""
        return self.line(start, end, 0.15, CENTRE_LINE)

    def text(self, centre: Point, words: str, size_pt: float = 7, bold: bool = False) -> Drawing:
        """Add words centred on a point; gives back the drawing."""
        weight = ', weight: "bold"' if bold else ""
        x, y = centre[0] - 30 / self.scale, centre[1] - 2.5 / self.scale
        style = f'font: "Roboto", size: {size_pt}pt{weight}'
        self._put(x, y, f'box(width: 60mm, height: 5mm, align(center + horizon, text({style}, "{words}")))')
        return self

    def callout(self, mark: str, label: Point, *targets: Point) -> Drawing:
        """Add a callout number with a leader line to each target; gives back the drawing."""
        for target in targets:
            dx, dy = target[0] - label[0], target[1] - label[1]
            reach = math.hypot(dx, dy)
            gap = (2.2 + 0.6 * (len(mark) - 1)) / self.scale
            start = (label[0] + dx / reach * gap, label[1] + dy / reach * gap) if reach > gap else label
            self.line(start, target, 0.18)
            dot = 0.35 / self.scale
            self.circle(target, dot, fill=INK, weight=0.01)
        self.callouts.append(mark)
        return self.text(label, mark, 8, bold=True)

    def typst(self) -> str:
        """The drawing as one Typst expression."""
        inner = "\n  ".join(self.parts)
        return f"box(width: {self._at(self.width_mm)}, height: {self._at(self.height_mm)}, {{\n  {inner}\n}})"
