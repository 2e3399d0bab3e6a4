"""Guard, starting equipment, cooling air, exhaust, lubrication and air cleaner, drawn on a field 100 wide."""

from __future__ import annotations

import math

from demo.drawing import CENTRE_LINE, DASHED, HEAVY, THIN, Drawing, Point
from demo.drawings.scene import Scene


def guard(scale: float) -> Scene:
    """Flywheel guard with stay and screws, the flywheel behind it."""
    d = Drawing(100, 84, scale)
    d.circle((36, 44), 26, weight=HEAVY).circle((36, 44), 22, weight=THIN).circle((36, 44), 6)
    for i in range(48):
        a = math.radians(7.5 * i)
        d.line(
            (36 + 26 * math.cos(a), 44 + 26 * math.sin(a)),
            (36 + 27.4 * math.cos(a), 44 + 27.4 * math.sin(a)),
            0.15,
        )
    d.axis((40, 44), (92, 44))
    d.poly(
        [(58, 18), (80, 12), (88, 20), (88, 66), (80, 74), (58, 70), (54, 62), (54, 26)],
        fill="white",
        weight=0.45,
    )
    d.poly([(60, 23), (79, 17.5), (84, 23), (84, 64), (79, 69), (60, 65.5), (58, 61), (58, 27)], weight=THIN)
    for y in range(30, 62, 5):
        d.line((64, y), (78, y), 0.3)
    for x, y in ((57, 26), (85.5, 21), (85.5, 66), (57, 64)):
        d.hex_head((x, y), 1.8)
    d.rect((62, 4), (16, 4), radius=1, fill="white").hex_head((65, 6), 1.3).hex_head((75, 6), 1.3)
    d.line((70, 8), (70, 14.5), 0.3)
    return Scene(
        d,
        {
            "guard": ((96, 44), (81, 44)),
            "stay": ((52, 3), (63, 5)),
            "stay screw": ((88, 4), (75, 6)),
            "stay washer": ((58, 12), (65.5, 7.2)),
            "guard screw": ((97, 13), (85.5, 21)),
            "guard washer": ((97, 74), (86.6, 67.4)),
        },
    )


def _starter(d: Drawing, x: float, y: float) -> None:
    d.rect((x, y), (34, 14), radius=2, fill="white", weight=0.45).line((x + 8, y), (x + 8, y + 14), THIN)
    d.rect((x + 4, y - 6), (20, 6), radius=1.5, fill="white").rect((x + 24, y - 4.4), (4, 2.6), fill="white")
    d.poly(
        [
            (x + 34, y + 2),
            (x + 40, y + 4),
            (x + 46, y + 4),
            (x + 46, y + 10),
            (x + 40, y + 10),
            (x + 34, y + 12),
        ],
        fill="white",
    )
    d.rect((x + 33, y - 5), (2.4, 24), fill="white", weight=0.45)
    for i in range(4):
        d.line((x + 40 + 1.6 * i, y + 4), (x + 40 + 1.6 * i, y + 10), 0.15)


def starter(scale: float) -> Scene:
    """Starter motor drawn out of its opening, with cable and screws."""
    d = Drawing(100, 62, scale)
    _starter(d, 22, 24)
    d.arc((112, 31), 34, (150, 210), 0.6).arc((112, 31), 31, (148, 212), THIN)
    d.axis((70, 31), (82, 31))
    d.screw_side((10, 20.4), 9).axis((22, 20.4), (56, 20.4)).screw_side((10, 42), 9).axis((22, 42), (56, 42))
    d.circle((23.2, 20.4), 1.7, fill="white").circle((23.2, 42), 1.7, fill="white")
    d.poly([(50, 8), (40, 8), (34, 12), (52, 20.5)], closed=False, weight=0.9)
    d.hexagon((54, 20.9), 1.6)
    return Scene(
        d,
        {
            "starter": ((46, 54), (44, 34)),
            "cable": ((34, 4), (41, 8)),
            "terminal nut": ((66, 12), (54, 20.9)),
            "starter screw": ((5, 52), (11, 42)),
            "starter washer": ((26, 54), (23.2, 42.6)),
        },
    )


def handle(scale: float) -> Scene:
    """Starting-handle bracket, handle and the cover plate of the starter opening."""
    d = Drawing(100, 66, scale)
    d.poly(
        [(32, 12), (54, 12), (60, 22), (60, 42), (54, 50), (32, 50), (27, 42), (27, 20)],
        fill="white",
        weight=0.45,
    )
    d.circle((43, 31), 9).circle((43, 31), 5, fill="white")
    for x, y in ((34, 17), (54, 17), (43, 46)):
        d.hex_head((x, y), 1.9)
    d.axis((43, 31), (8, 31))
    d.poly(
        [(20, 29.5), (12, 29.5), (12, 52), (4, 52), (4, 55), (15, 55), (15, 32.5), (20, 32.5)], fill="white"
    )
    d.poly([(70, 26), (88, 26), (92, 32), (88, 52), (70, 52), (66, 46), (66, 32)], fill="white", weight=0.45)
    d.hex_head((69.5, 39), 1.8).hex_head((88, 39), 1.8)
    return Scene(
        d,
        {
            "bracket": ((58, 5), (51, 22)),
            "bracket screw": ((24, 6), (34, 17)),
            "plate": ((80, 60), (79, 48)),
            "plate screw": ((96, 22), (88, 39)),
            "handle": ((22, 62), (10, 53.5)),
        },
    )


def shroud(scale: float) -> Scene:
    """Fan shroud over the fan, its six screws."""
    d = Drawing(100, 78, scale)
    d.circle((30, 42), 24, weight=THIN).circle((30, 42), 6)
    for i in range(18):
        a = math.radians(20 * i)
        d.line(
            (30 + 8 * math.cos(a), 42 + 8 * math.sin(a)),
            (30 + 23 * math.cos(a + 0.25), 42 + 23 * math.sin(a + 0.25)),
            0.25,
        )
    d.axis((30, 42), (90, 42))
    d.poly(
        [(50, 12), (74, 6), (90, 14), (92, 40), (88, 64), (72, 72), (50, 66), (45, 54), (45, 24)],
        fill="white",
        weight=0.45,
    )
    d.circle((68, 40), 17, weight=THIN).circle((68, 40), 15, fill="white")
    for i in range(18):
        a = math.radians(20 * i)
        d.line(
            (68 + 5 * math.cos(a), 40 + 5 * math.sin(a)),
            (68 + 14 * math.cos(a + 0.3), 40 + 14 * math.sin(a + 0.3)),
            0.2,
        )
    d.circle((68, 40), 4.4, fill="white", weight=THIN)
    for x, y in ((50, 16), (74, 10), (88.5, 20), (86, 61), (71, 68), (49, 61)):
        d.hex_head((x, y), 1.5)
    return Scene(
        d,
        {
            "shroud": ((97, 50), (89, 46)),
            "shroud screw": ((84, 3), (74, 10)),
            "shroud washer": ((60, 3), (51.2, 15.2)),
        },
    )


def duct(scale: float) -> Scene:
    """Cooling-air duct turned out of its place beside the gearcase housing."""
    d = Drawing(100, 70, scale)
    d.poly([(60, 8), (92, 12), (94, 58), (62, 62), (56, 50), (56, 20)], weight=THIN, dash=DASHED)
    d.text((77, 35), "gearcase", 6.5)
    d.poly(
        [(10, 24), (30, 18), (48, 24), (50, 30), (50, 44), (46, 50), (30, 46), (10, 52), (6, 46), (6, 30)],
        fill="white",
        weight=0.45,
    )
    d.poly([(10, 28), (30, 22), (46, 28)], closed=False, weight=THIN)
    d.poly([(10, 48), (30, 42), (46, 46)], closed=False, weight=THIN)
    d.poly([(50.8, 27), (53, 27), (53, 47), (50.8, 47)], fill="luma(210)", weight=THIN)
    for x, y in ((12, 25.5), (30, 20), (45, 25), (45, 48.5), (14, 49)):
        d.hex_head((x, y), 1.4)
    d.arc((24, 60), 6, (200, 350), 0.4).poly([(29, 57), (31.5, 60), (27.5, 60.5)], fill="black", weight=0.1)
    return Scene(
        d,
        {
            "duct": ((20, 8), (22, 34)),
            "duct screw": ((42, 10), (45, 25)),
            "seal strip": ((58, 66), (52, 44)),
        },
    )


def silencer(scale: float) -> Scene:
    """Silencer with heat shield, rain cap, gaskets, studs and nuts."""
    d = Drawing(100, 84, scale)
    d.rect((14, 38), (62, 22), radius=8, fill="white", weight=0.45)
    d.line((24, 38), (24, 60), THIN).line((66, 38), (66, 60), THIN)
    d.rect((66, 20), (7, 18), fill="white").rect((64.5, 15), (10, 3), radius=1, fill="white")
    d.circle((75.5, 16.5), 1.2, fill="white")
    d.poly([(63, 9), (77, 4), (78, 6), (76, 10), (64, 12)], fill="white")
    for x in (22, 52):
        d.rect((x, 60), (14, 5), fill="white").rect((x - 3, 65), (20, 2.6), fill="white")
        d.rect((x - 3, 71), (20, 1.6), fill="luma(220)", weight=THIN)
        for dx in (-1.2, 13):
            d.line((x + dx + 1, 63), (x + dx + 1, 81), 0.9)
            d.rect((x + dx - 0.8, 61.8), (3.6, 2.4), fill="white", weight=THIN)
    d.poly([(10, 30), (58, 30), (60, 34), (60, 36), (10, 36)], fill="white", weight=0.45)
    for x in (15, 34, 53):
        d.hex_head((x, 33), 1.4)
    return Scene(
        d,
        {
            "silencer": ((90, 48), (70, 49)),
            "nut": ((8, 57), (22, 63)),
            "shield": ((38, 22), (42, 32)),
            "shield screw": ((10, 22), (15, 33)),
            "cap": ((90, 4), (75, 7)),
            "clamp": ((90, 22), (75.5, 16.5)),
            "gasket": ((84, 68), (67, 72)),
            "stud": ((84, 80), (66, 79)),
        },
    )


def oil(scale: float) -> Scene:
    """Filter with cover, dipstick and drain plug of the engine."""
    d = Drawing(100, 70, scale)
    d.rect((6, 22), (16, 26), radius=1, fill="white", weight=0.45).circle((14, 35), 5, weight=THIN)
    d.rect((30, 25), (20, 20), fill="white")
    for i in range(9):
        d.line((32 + 2 * i, 25), (32 + 2 * i, 45), 0.2)
    d.circle((59, 35), 9).circle((59, 35), 7.6)
    d.poly(
        [(72, 22), (80, 20), (88, 22), (91, 35), (88, 48), (80, 50), (72, 48), (69, 35)],
        fill="white",
        weight=0.45,
    )
    for x, y in ((80, 23.5), (73, 43.5), (87, 43.5)):
        d.hex_head((x, y), 1.6)
    d.axis((22, 35), (96, 35))
    d.poly(
        [(8, 4), (12, 4), (12, 6), (10.6, 6), (10.6, 18), (9.4, 18), (9.4, 6), (8, 6)],
        fill="white",
        weight=THIN,
    )
    d.circle((10, 3), 2.2)
    d.screw_side((16, 62), 5, scale=1.4).circle((31, 62), 2.6).circle((31, 62), 1.7)
    return Scene(
        d,
        {
            "element": ((40, 14), (40, 29)),
            "cover": ((97, 58), (88, 40)),
            "cover screw": ((92, 12), (80, 23.5)),
            "o-ring": ((59, 14), (59, 26.7)),
            "dipstick": ((22, 8), (10, 10)),
            "plug": ((8, 56), (17.5, 62)),
            "ring": ((42, 62), (33.4, 62)),
        },
    )


def air_cleaner(scale: float) -> Scene:
    """Air cleaner: bowl, element, wing nut, gasket and foot screws."""
    d = Drawing(100, 78, scale)
    d.axis((50, 2), (50, 76))
    d.poly([(45, 6), (48, 9), (52, 9), (55, 6), (53, 11), (47, 11)], fill="white")
    d.poly([(36, 16), (64, 16), (68, 22), (68, 34), (32, 34), (32, 22)], fill="white", weight=0.45)
    d.rect((37, 39), (26, 14), fill="white")
    for i in range(12):
        d.line((39 + 2 * i, 39), (39 + 2 * i, 53), 0.2)
    d.rect((34, 57), (32, 2), fill="luma(220)", weight=THIN)
    d.poly(
        [(32, 63), (68, 63), (68, 68), (76, 68), (76, 72), (24, 72), (24, 68), (32, 68)],
        fill="white",
        weight=0.45,
    )
    d.screw_side((28, 58), 8, direction=90).screw_side((72, 58), 8, direction=90)
    return Scene(
        d,
        {
            "bowl": ((80, 24), (64, 26)),
            "element": ((80, 44), (60, 46)),
            "wing nut": ((68, 6), (53.5, 8)),
            "gasket": ((20, 50), (35, 58)),
            "foot screw": ((88, 62), (73, 60)),
        },
    )


def cog(d: Drawing, centre: Point, radius: float, teeth: int) -> None:
    """Draw a gear wheel's rim with its teeth into the drawing."""
    points: list[Point] = []
    for i in range(teeth):
        for part, reach in ((0.0, radius), (0.25, radius), (0.35, radius * 0.94), (0.9, radius * 0.94)):
            a = 2 * math.pi * (i + part) / teeth
            points.append((centre[0] + reach * math.cos(a), centre[1] + reach * math.sin(a)))
    d.poly(points, fill="white", weight=THIN)


def general_view(scale: float) -> Scene:
    """The whole set on its base frame: engine, gearcase, coupling and pump, seen from the left."""
    d = Drawing(160, 84, scale)
    d.rect((6, 74), (148, 5), fill="white", weight=0.45).line((6, 76.5), (154, 76.5), THIN)
    d.rect((14, 30), (12, 42), radius=2, fill="white", weight=0.45)
    d.rect((26, 42), (48, 30), radius=2, fill="white", weight=0.45).line((26, 64), (74, 64), THIN)
    for x in (30, 51):
        d.rect((x, 18), (18, 24), fill="white")
        for y in range(20, 42, 3):
            d.line((x - 1.5, y), (x + 19.5, y), 0.3)
        d.rect((x + 2, 12), (14, 6), radius=1, fill="white")
    d.rect((34, 3), (30, 7), radius=3, fill="white").line((39, 10), (39, 12), 1.2).line(
        (60, 10), (60, 12), 1.2
    )
    d.poly([(74, 38), (84, 34), (90, 36), (90, 72), (74, 72)], fill="white", weight=0.45).line(
        (84, 34), (84, 72), 0.5
    )
    d.rect((82, 24), (12, 11), radius=1.5, fill="white").line((90, 24), (98, 14), 0.8)
    d.rect((90, 57), (8, 6), fill="white").rect((98, 52), (6, 16), fill="white").rect(
        (106, 52), (6, 16), fill="white"
    )
    d.poly([(96, 50), (114, 50), (114, 71), (96, 71)], weight=THIN, dash=DASHED)
    d.rect((112, 57), (8, 6), fill="white").circle((132, 56), 14, fill="white", weight=0.45).circle(
        (132, 56), 6
    )
    d.rect((141, 32), (10, 14), fill="white").rect((139, 29), (14, 3), fill="white").rect(
        (126, 70), (14, 4), fill="white"
    )
    d.line((10, 60), (158, 60), 0.15, CENTRE_LINE)
    return Scene(
        d,
        {
            "guard": ((8, 22), (18, 34)),
            "engine": ((46, 68), (46, 58)),
            "silencer": ((78, 6), (62, 6.5)),
            "gearcase": ((78, 24), (79, 42)),
            "priming": ((108, 16), (92, 28)),
            "coupling": ((105, 42), (105, 54)),
            "pump": ((120, 32), (128, 46)),
            "frame": ((150, 66), (148, 76)),
        },
    )
