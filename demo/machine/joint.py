"""The gearcase joint as the castings have it: outline and places in millimetres, seen from the pump end.

x to the right and y upwards from the lower left corner of the casting's envelope. The truth of the scene:
the walk and the answer key are written by hand from it, and the drawings show it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

OUTPUT_CENTRE = (180.0, 106.0)
PINION_CENTRE = (75.0, 134.3)
OUTPUT_RADIUS_MM = 104.0
PINION_RADIUS_MM = 72.0
GEAR_RADIUS_MM = 77.5
PINION_PITCH_RADIUS_MM = 31.25


@dataclass(frozen=True)
class Place:
    """One place of the joint as cast: position number in Fig. 6-5, size of its screw, where its head is."""

    position: int
    size: str
    x_mm: float
    y_mm: float
    side: str = "near"


PLACES = (
    Place(1, "M8 x 45", 30.0, 177.0),
    Place(2, "M8 x 45", 59.5, 194.5),
    Place(3, "M8 x 45", 98.5, 197.5),
    Place(4, "M8 x 45", 137.0, 199.0),
    Place(5, "M8 x 45", 263.5, 148.5),
    Place(6, "M8 x 45", 273.5, 114.0),
    Place(7, "M8 x 45", 261.5, 59.5),
    Place(8, "M8 x 45", 203.0, 15.0),
    Place(9, "M8 x 45", 150.0, 17.0),
    Place(10, "M8 x 45", 14.0, 147.0),
    Place(11, "M8 x 55", 178.5, 200.0),
    Place(12, "M8 x 55", 96.5, 47.5),
    Place(13, "M8 x 55", 125.0, 174.0),
    Place(14, "M8 x 70", 16.5, 113.5),
    Place(15, "M8 x 70", 237.0, 31.0),
    Place(16, "M8 x 60", 45.5, 80.0, "far"),
    Place(17, "M8 x 90", 235.0, 182.5),
)
HOLLOW_DOWEL_AT = 14
SOLID_DOWEL = (271.5, 87.0)


def outline(steps: int = 60, inset_mm: float = 0.0) -> list[tuple[float, float]]:
    """The parting line's outer edge: the hull of the two circles, as points."""
    points = []
    for i in range(steps):
        angle = 2 * math.pi * i / steps
        cos, sin = math.cos(angle), math.sin(angle)
        big = OUTPUT_CENTRE[0] * cos + OUTPUT_CENTRE[1] * sin + OUTPUT_RADIUS_MM
        small = PINION_CENTRE[0] * cos + PINION_CENTRE[1] * sin + PINION_RADIUS_MM
        centre, radius = (
            (OUTPUT_CENTRE, OUTPUT_RADIUS_MM) if big >= small else (PINION_CENTRE, PINION_RADIUS_MM)
        )
        radius -= inset_mm
        points.append((round(centre[0] + radius * cos, 1), round(centre[1] + radius * sin, 1)))
    return points
