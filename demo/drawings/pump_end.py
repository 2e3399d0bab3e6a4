"""Pump, coupling, gears and priming pump, drawn on a field 100 wide (the parts list's: 120)."""

from __future__ import annotations

from demo.drawing import DASHED, THIN, Drawing, Point
from demo.drawings.engine_end import cog
from demo.drawings.scene import Scene


def _coupling_half(d: Drawing, x: float, y: float, jaws: float) -> None:
    d.rect((x, y - 13), (7, 26), fill="white", weight=0.45).rect(
        (x + (7 if jaws < 0 else -8), y - 6), (8, 12), fill="white"
    )
    side = x + (7 if jaws > 0 else -4)
    for dy in (-12, -2.5, 7):
        d.rect((side, y + dy), (4, 5), fill="white", weight=THIN)


def pump(scale: float) -> Scene:
    """Pump on its base with guard, bolts and the coupling between."""
    d = Drawing(100, 92, scale)
    d.rect((2, 80), (96, 5), fill="white", weight=0.45)
    d.rect((2, 42), (8, 10), fill="white")
    _coupling_half(d, 12, 47, 1)
    for y in (37, 44.5, 54):
        d.circle((31, y), 2.6, fill="luma(150)", weight=THIN)
    _coupling_half(d, 42, 47, -1)
    d.axis((4, 47), (60, 47))
    d.rect((56, 42), (6, 10), fill="white").circle((76, 48), 20, fill="white", weight=0.45).circle(
        (76, 48), 9
    )
    d.rect((83, 10), (12, 20), fill="white").rect((80.5, 7), (17, 4), fill="white")
    d.rect((62, 66), (30, 6), fill="white")
    d.poly([(14, 26), (46, 26), (46, 20), (42, 14), (18, 14), (14, 20)], fill="white", weight=0.45)
    for x in (17, 43):
        d.hex_head((x, 23.5), 1.4).hex_head((x, 18.5), 1.4)
    for x in (66, 88):
        d.line((x, 64), (x, 89), 1.0).rect((x - 2, 62), (4, 3), fill="white").rect(
            (x - 2.2, 88), (4.4, 2.6), fill="white"
        )
        d.rect((x - 2.6, 65), (5.2, 0.9), fill="white", weight=0.15)
    d.circle((54, 72), 5, weight=THIN).circle((54, 72), 4, weight=THIN).rect(
        (52.6, 65.6), (2.8, 2), fill="white", weight=THIN
    )
    return Scene(
        d,
        {
            "pump": ((97, 36), (92, 42)),
            "guard": ((30, 6), (30, 17)),
            "guard screw": ((6, 12), (17, 18.5)),
            "bolt": ((78, 89.5), (88, 80)),
            "nut": ((97, 60), (89.5, 63)),
            "washer": ((76, 76), (68.4, 65.6)),
            "pump half": ((56, 33), (46, 39)),
            "element": ((30, 66), (31, 54)),
            "hose clamp": ((42, 76), (49.4, 73)),
        },
    )


def coupling(scale: float) -> Scene:
    """Coupling half on the output shaft with key, tab washer and nut."""
    d = Drawing(100, 60, scale)
    d.poly([(0, 6), (10, 6), (14, 16), (14, 46), (10, 56), (0, 56)], weight=0.45, fill="luma(240)")
    d.rect((14, 25), (20, 12), fill="white").rect((34, 27), (6, 8), fill="white")
    for i in range(5):
        d.line((35 + i, 27), (35.4 + i, 35), 0.15)
    d.rect((18, 21.5), (10, 2.6), fill="luma(200)")
    d.axis((14, 31), (98, 31))
    _coupling_half(d, 54, 31, 1)
    d.circle((76, 31), 5.6, fill="white").circle((76, 31), 3.4, weight=THIN)
    d.poly([(75, 25.6), (76, 21.4), (78, 21.4), (78, 25.8)], fill="white", weight=THIN)
    d.hexagon((89, 31), 6.4, weight=0.45).circle((89, 31), 3.4)
    return Scene(
        d,
        {
            "engine half": ((58, 8), (58, 22)),
            "key": ((26, 10), (24, 22.4)),
            "tab washer": ((76, 10), (77, 22.4)),
            "shaft nut": ((92, 12), (90, 26)),
        },
    )


def pump_and_coupling(scale: float) -> Scene:
    """Both drawings of the pump end on one field, for the parts list."""
    top, below = pump(scale), coupling(scale)
    d = Drawing(100, 158, scale, [*top.drawing.parts])
    inner = below.drawing.typst()
    d.parts.append(f"place(top + left, dx: 0mm, dy: {98 * scale:.3f}mm, {inner})")
    d.rect((68, 142), (10, 1.4), fill="luma(200)", weight=0.15)
    lower: dict[str, tuple[Point, ...]] = {
        name: tuple((x, y + 98) for x, y in points) for name, points in below.spots.items()
    }
    return Scene(d, {**top.spots, **lower, "foot shim": ((88, 150), (76, 142.7))})


def gears(scale: float) -> Scene:
    """Gears, shafts, bearings and shims in the order in which they go together."""
    d = Drawing(120, 84, scale)
    d.axis((4, 24), (84, 24)).axis((2, 60), (118, 60))
    cog(d, (40, 24), 9, 25)
    d.circle((40, 24), 4)
    d.circle((58, 24), 4.2, fill="white").circle((58, 24), 2.6, weight=THIN).hexagon((70, 24), 4.6).circle(
        (70, 24), 2.6
    )
    d.rect((8, 20), (16, 8), fill="white").rect((24, 21.4), (5, 5.2), fill="white").rect(
        (14, 14), (8, 2), fill="luma(200)"
    )
    for x, r in ((8, 9), (92, 9)):
        d.circle((x + 3, 60), r, fill="white", weight=0.45).circle((x + 3, 60), r * 0.5)
        for i in range(8):
            d.circle((x + 3 + r * 0.75 * _cos(i), 60 + r * 0.75 * _sin(i)), 1.1, weight=THIN)
    for i in range(3):
        d.circle((24 + 4 * i, 60), 6.4, fill="white", weight=THIN).circle((24 + 4 * i, 60), 4.6, weight=THIN)
    cog(d, (52, 60), 17, 62)
    d.circle((52, 60), 5).circle((52, 60), 11, weight=THIN)
    d.rect((68, 56.6), (14, 6.8), fill="white").rect((82, 57.6), (5, 4.8), fill="white")
    d.arc((110, 60), 8, (40, 320), 0.8)
    return Scene(
        d,
        {
            "gear": ((52, 38.5), (54, 46)),
            "output shaft": ((74, 48), (74, 58)),
            "pinion": ((40, 8), (42, 16)),
            "pinion nut": ((84, 14), (73, 21)),
            "pinion washer": ((58, 10), (58.6, 20.4)),
            "pinion key": ((8, 6), (16, 14.6)),
            "shims": ((28, 78), (24, 66), (28, 66), (32, 66)),
            "shim 10": ((20, 77), (23, 66.2)),
            "shim 15": ((29, 79), (28, 66.2)),
            "shim 30": ((38, 80), (33, 66)),
            "rear bearing": ((6, 80), (10, 68)),
            "cover bearing": ((94, 80), (95, 68.6)),
            "circlip": ((114, 44), (112, 52.4)),
        },
    )


def _cos(i: int) -> float:
    return (1, 0.707, 0, -0.707, -1, -0.707, 0, 0.707)[i]


def _sin(i: int) -> float:
    return (0, 0.707, 1, 0.707, 0, -0.707, -1, -0.707)[i]


def priming(scale: float) -> Scene:
    """Priming pump, lever, hose and bracket with their screws, taken apart."""
    d = Drawing(100, 104, scale)
    d.poly([(4, 66), (30, 66), (44, 76), (50, 98), (4, 98)], weight=THIN, dash=DASHED)
    d.text((18, 90), "gearcase", 6.5)
    d.circle((36, 74.5), 1.5, weight=THIN).circle((49, 90), 1.5, weight=THIN)
    d.poly(
        [(34, 46), (72, 46), (72, 52), (62, 54), (62, 78), (56, 84), (50, 84), (50, 64), (34, 58)],
        fill="white",
        weight=0.45,
    )
    d.circle((40, 54), 1.6).circle((56, 79), 1.6)
    for x in (52, 60, 68):
        d.circle((x, 48.6), 0.9, weight=THIN)
    d.screw_side((20, 42), 22.5, direction=32).screw_side((84, 92), 8.75, direction=205)
    d.circle((32, 49.4), 1.9, weight=THIN).circle((70, 85.6), 1.9, weight=THIN)
    d.circle((60, 40), 5.4).circle((60, 40), 4.4, weight=THIN)
    d.rect((46, 20), (28, 14), radius=3, fill="white", weight=0.45).rect((42, 32), (36, 3.4), fill="white")
    d.poly([(50, 20), (56, 10), (64, 10), (70, 20)], fill="white").circle((60, 13), 1.5)
    for x in (44.4, 75.6):
        d.screw_side((x, 25), 5, direction=90, scale=0.8)
    d.screw_side((88, 26), 5, direction=90, scale=0.8)
    d.poly([(58, 3), (62, 3), (98, 9), (98, 12), (62, 7.5), (58, 7)], fill="white")
    d.line((50, 13), (55, 13), 0.6).arc((49, 13), 1, (0, 360), 0.4)
    d.poly([(46, 27), (36, 27), (28, 33), (16, 33)], closed=False, weight=2.4)
    d.poly([(45.5, 27), (36.2, 27), (28.2, 33), (16.5, 33)], closed=False, weight=1.6)
    d.parts[-1] = d.parts[-1].replace("luma(25)", "white")
    d.rect((40, 24.6), (2, 4.8), fill="white", weight=THIN).rect(
        (20, 30.6), (2, 4.8), fill="white", weight=THIN
    )
    return Scene(
        d,
        {
            "priming": ((84, 18), (72, 26)),
            "bracket": ((82, 60), (61, 60)),
            "lever": ((92, 4), (86, 8.6)),
            "split pin": ((38, 8), (49, 12.6)),
            "hose": ((22, 22), (28, 32)),
            "clips": ((8, 24), (21, 30.8), (41, 24.8)),
            "pump screw": ((97, 22), (89.5, 26.6)),
            "long screw": ((10, 36), (21, 42)),
            "short screw": ((94, 84), (83, 90.4)),
            "bracket washer": ((22, 56), (30.4, 50.4)),
            "o-ring": ((44, 40), (54.8, 40)),
        },
    )
