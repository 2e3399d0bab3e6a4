"""The gearcase joint in the drawings: always from the same places in millimetres as the casting has them."""

from __future__ import annotations

from dataclasses import dataclass

from demo.drawing import CENTRE_LINE, DASHED, HEAVY, THIN, Drawing, Point
from demo.drawings.scene import Scene
from demo.machine.joint import HOLLOW_DOWEL_AT, OUTPUT_CENTRE, PINION_CENTRE, PLACES, SOLID_DOWEL, outline

HEIGHT_MM = 210.0
RECESS = ((92.0, 154.0), (66.0, 38.0))
BRACKET_LOWER = (281.0, 196.0)


@dataclass(frozen=True)
class Sheet:
    """Where the joint lies on a drawing: the casting's millimetres to the drawing's own."""

    left: float
    top: float
    factor: float
    mirrored: bool = False

    def at(self, place: Point) -> Point:
        """The point of the drawing for a point of the casting."""
        x = 287.0 - place[0] if self.mirrored else place[0]
        return (self.left + x * self.factor, self.top + (HEIGHT_MM - place[1]) * self.factor)

    def size(self, length_mm: float) -> float:
        """The length on the drawing of a length of the casting."""
        return length_mm * self.factor


def face(d: Drawing, sheet: Sheet) -> None:
    """Draw the casting's outline, its inner land and the two shaft bosses."""
    d.poly([sheet.at(p) for p in outline(90)], weight=HEAVY, fill="white")
    d.poly([sheet.at(p) for p in outline(90, 19)], weight=THIN)
    for place in PLACES:
        if place.position != 13:
            d.circle(sheet.at((place.x_mm, place.y_mm)), sheet.size(9.5), weight=THIN, fill="white")


def near_heads(d: Drawing, sheet: Sheet, *, holes: bool = False, skip: tuple[int, ...] = ()) -> None:
    """Draw what is seen at every place from the near side: a head, an open hole, or a blind boss."""
    for place in PLACES:
        at = sheet.at((place.x_mm, place.y_mm))
        if place.position in skip:
            continue
        if place.side == "far":
            d.circle(at, sheet.size(4.4), weight=THIN, dash=DASHED)
        elif holes or place.position == 17:
            d.hole(at, sheet.size(4.4))
        else:
            d.socket_head(at, sheet.size(6.5))


def shaft_end(d: Drawing, sheet: Sheet, *, coupling: bool = False) -> None:
    """Draw the output shaft end in the cover, and the bulge over the pinion."""
    centre = sheet.at(OUTPUT_CENTRE)
    d.circle(centre, sheet.size(46)).circle(centre, sheet.size(36), weight=THIN)
    if coupling:
        d.circle(centre, sheet.size(33), fill="white", weight=0.45)
    d.circle(centre, sheet.size(15)).circle(centre, sheet.size(11), weight=THIN)
    pinion = sheet.at(PINION_CENTRE)
    d.circle(pinion, sheet.size(30), weight=THIN).circle(pinion, sheet.size(22), weight=THIN)
    for c, reach in ((centre, 54.0), (pinion, 36.0)):
        r = sheet.size(reach)
        d.line((c[0] - r, c[1]), (c[0] + r, c[1]), 0.15, CENTRE_LINE)
        d.line((c[0], c[1] - r), (c[0], c[1] + r), 0.15, CENTRE_LINE)


def recess(d: Drawing, sheet: Sheet, *, covered: bool) -> None:
    """Draw the recess between the shafts, open with its pillar, or under the inspection cover."""
    (x, y), (w, h) = RECESS
    corner = sheet.at((x, y + h))
    d.rect(corner, (sheet.size(w), sheet.size(h)), radius=sheet.size(9), fill="white", weight=0.45)
    for at in (
        (x + 6, y + 6),
        (x + w / 2, y + 5),
        (x + w - 6, y + 6),
        (x + 6, y + h - 6),
        (x + w / 2, y + h - 5),
        (x + w - 6, y + h - 6),
    ):
        if covered:
            d.hex_head(sheet.at(at), sheet.size(3.6))
        else:
            d.circle(sheet.at(at), sheet.size(2.2), weight=THIN)
    if not covered:
        inner = sheet.at((x + 10, y + h - 9))
        d.rect(
            inner,
            (sheet.size(w - 20), sheet.size(h - 18)),
            radius=sheet.size(5),
            fill="luma(235)",
            weight=THIN,
        )
    else:
        d.circle(sheet.at((x + 50, y + h / 2)), sheet.size(5.5), weight=THIN)


def _spot(sheet: Sheet, position: int) -> Point:
    place = next(p for p in PLACES if p.position == position)
    return sheet.at((place.x_mm, place.y_mm))


def inspection(scale: float) -> Scene:
    """The gearcase cover with the inspection cover lifted off towards the reader."""
    d = Drawing(100, 86, scale)
    sheet = Sheet(4, 18, 0.32)
    face(d, sheet)
    near_heads(d, sheet, skip=(13,))
    shaft_end(d, sheet, coupling=True)
    recess(d, sheet, covered=True)
    return Scene(
        d,
        {
            "inspection cover": ((30, 8), sheet.at((115, 178))),
            "inspection screw": ((58, 8), sheet.at((152, 186))),
        },
    )


def dial_gauge(scale: float) -> Scene:
    """The open recess with the bar and the dial gauge against a tooth."""
    d = Drawing(100, 70, scale)
    d.rect((8, 20), (84, 44), radius=8, weight=HEAVY).rect(
        (16, 27), (68, 30), radius=5, fill="luma(240)", weight=THIN
    )
    for i in range(7):
        x = 22 + i * 8
        d.poly([(x, 57), (x + 1.6, 48), (x + 4.6, 48), (x + 6.2, 57)], closed=False)
    d.rect((2, 14), (66, 3.4), fill="white").rect((60, 6), (5, 18), fill="white")
    d.circle((46, 9), 8, fill="white", weight=0.45).circle((46, 9), 6.4, weight=THIN).line(
        (46, 9), (49.5, 5.5), 0.3
    )
    d.line((46, 17), (46, 44), 0.8).circle((46, 45), 1, fill="black")
    return Scene(
        d,
        {
            "bar": ((8, 6), (14, 15.6)),
            "gauge": ((74, 6), (52, 8)),
            "tooth": ((92, 68), (58, 52)),
        },
    )


def _lug(d: Drawing, sheet: Sheet) -> None:
    """Draw the housing's lug for the lower screw of the bracket."""
    x, y = BRACKET_LOWER
    d.poly(
        [sheet.at(p) for p in ((262, 168), (x + 8, y - 6), (x - 4, y + 9), (248, 182))],
        weight=0.35,
        fill="white",
    )


def separating(scale: float) -> Scene:
    """The cover as it stands when the separation begins: shaft bare, recess open, bracket off."""
    d = Drawing(100, 88, scale)
    sheet = Sheet(3, 14, 0.325)
    _lug(d, sheet)
    face(d, sheet)
    near_heads(d, sheet, skip=(13,))
    shaft_end(d, sheet)
    recess(d, sheet, covered=False)
    d.socket_head(_spot(sheet, 13), sheet.size(6.5))
    d.circle(sheet.at(BRACKET_LOWER), sheet.size(9.5), weight=THIN, fill="white")
    d.hole(sheet.at(BRACKET_LOWER), sheet.size(4))
    hollow, solid = _spot(sheet, HOLLOW_DOWEL_AT), sheet.at(SOLID_DOWEL)
    d.circle(hollow, sheet.size(9), weight=THIN, dash=DASHED).circle(
        solid, sheet.size(4.5), weight=THIN, dash=DASHED
    )
    return Scene(
        d,
        {
            "cover": ((60, 84), sheet.at((165, 30))),
            "hollow dowel": ((2, 76), (hollow[0], hollow[1] + sheet.size(9))),
            "solid dowel": ((97, 68), solid),
            "shaft": ((84, 84), sheet.at((188, 100))),
        },
    )


def positions(scale: float) -> Scene:
    """The empty joint with the number of every position."""
    d = Drawing(130, 96, scale)
    sheet = Sheet(12, 6, 0.38)
    face(d, sheet)
    near_heads(d, sheet, holes=True, skip=(13,))
    shaft_end(d, sheet)
    recess(d, sheet, covered=False)
    d.hole(_spot(sheet, 13), sheet.size(4.4))
    spots: dict[str, tuple[Point, ...]] = {}
    middle = sheet.at((140, 106))
    for place in PLACES:
        at = _spot(sheet, place.position)
        out = (at[0] - middle[0], at[1] - middle[1])
        reach = (out[0] ** 2 + out[1] ** 2) ** 0.5
        away = 10.0 if place.position == 16 else 7.8
        label = (at[0] + out[0] / reach * away, at[1] + out[1] / reach * away)
        if place.position == 13:
            label = (at[0] - 1, at[1] + 15.5)
        spots[str(place.position)] = (label, at)
    return Scene(d, spots)


def exploded(scale: float) -> Scene:
    """Housing, gasket and cover side by side with every screw and dowel of the joint (parts list)."""
    d = Drawing(170, 122, scale)
    cover = Sheet(88, 16, 0.27)
    house = Sheet(2, 16, 0.27)
    face(d, house)
    near_heads(d, house, holes=True)
    d.circle(house.at(OUTPUT_CENTRE), house.size(72), weight=THIN)
    d.circle(house.at(OUTPUT_CENTRE), house.size(36)).circle(house.at(PINION_CENTRE), house.size(38))
    d.circle(_spot(house, HOLLOW_DOWEL_AT), house.size(9), weight=0.45)
    d.circle(house.at(SOLID_DOWEL), house.size(4.5), fill="luma(80)")
    face(d, cover)
    near_heads(d, cover, skip=(13, 17))
    d.hole(_spot(cover, 17), cover.size(4.4))
    shaft_end(d, cover)
    recess(d, cover, covered=False)
    d.socket_head(_spot(cover, 13), cover.size(6.5))
    d.poly([(60 + p[0] * 0.13, 84 + (210 - p[1]) * 0.13) for p in outline(90)], weight=0.45, fill="luma(235)")
    d.poly([(60 + p[0] * 0.13, 84 + (210 - p[1]) * 0.13) for p in outline(90, 19)], weight=THIN, fill="white")
    d.rect((116, 2), (18, 10), radius=2, fill="white").rect(
        (138, 2), (18, 10), radius=2, fill="luma(235)", weight=THIN
    )
    for x, y in ((118, 4), (125, 3.6), (132, 4), (118, 10), (125, 10.4), (132, 10)):
        d.hex_head((x, y), 0.8)
    d.circle((130, 7), 1.4, fill="white", weight=THIN)
    for i, length in enumerate((11.25, 13.75, 17.5)):
        d.screw_side((106, 86 + 6.5 * i), length, socket=True)
    d.screw_side((30, 108), 15, direction=180).circle((33.5, 108), 2, weight=0.45)
    d.rect((140, 84), (5, 4.4), fill="white").line((140, 85.2), (145, 85.2), 0.15).line(
        (140, 87.2), (145, 87.2), 0.15
    )
    d.rect((140, 93), (6, 2.2), fill="luma(80)")
    d.screw_side((40, 84), 4, direction=180, scale=1.5).circle((45, 84), 3).circle((45, 84), 2, weight=THIN)
    d.circle((158, 94), 6).circle((158, 94), 4.2, weight=THIN)
    return Scene(
        d,
        {
            "housing": ((6, 8), house.at((60, 176))),
            "cover": ((92, 8), cover.at((60, 176))),
            "gasket": ((104, 113), (93, 106)),
            "hollow dowel": ((136, 80), (141, 85)),
            "solid dowel": ((152, 99), (144, 94.4)),
            "screw 45": ((128, 84), (118, 86)),
            "screw 55": ((130, 91), (120, 92.5)),
            "screw 70": ((133, 104), (122, 99.2)),
            "screw 60": ((20, 117), (20, 108.6)),
            "sealing washer": ((40, 116), (34, 110)),
            "inspection cover": ((110, 4), (117.5, 7)),
            "inspection gasket": ((162, 6), (152, 7)),
            "inspection screw": ((147, 15), (132, 10)),
            "plug": ((32, 78), (37.6, 83)),
            "plug ring": ((52, 92), (47, 86)),
            "seal": ((166, 82), (161, 89)),
        },
    )


def section_view(scale: float) -> Scene:
    """A simplified section through both shafts."""
    d = Drawing(100, 84, scale)
    d.poly(
        [(18, 10), (44, 10), (44, 76), (18, 76), (18, 60), (24, 60), (24, 24), (18, 24)],
        weight=0.45,
        fill="luma(240)",
    )
    d.poly(
        [(44.8, 10), (58, 10), (62, 18), (74, 34), (74, 66), (62, 76), (44.8, 76)],
        weight=0.45,
        fill="luma(240)",
    )
    d.rect((26, 15), (34, 56), fill="white", weight=THIN).line((44.4, 6), (44.4, 80), 0.7)
    d.rect((4, 27), (46, 8), fill="white").rect((36, 20), (12, 22), fill="white")
    d.rect((18, 51), (76, 8), fill="white").rect((36, 44), (12, 22), fill="white")
    d.rect((36, 42.2), (12, 1.6), fill="black", weight=0.1)
    for y in (46.4, 59):
        d.rect((19, y), (6, 4.6), fill="white").circle((22, y + 2.3), 1.7)
        d.rect((64, y), (6, 4.6), fill="white").circle((67, y + 2.3), 1.7)
    d.line((0, 31), (54, 31), 0.15, CENTRE_LINE).line((12, 55), (100, 55), 0.15, CENTRE_LINE)
    return Scene(
        d,
        {
            "housing": ((30, 4), (34, 12)),
            "cover": ((64, 5), (52, 12)),
            "pinion": ((62, 24), (46, 24)),
            "gear": ((10, 44), (38, 46)),
            "shaft": ((92, 44), (86, 53)),
        },
    )
