"""The W1 sluice winch as data: every word of its four-page manual and its ten parts rows."""

from __future__ import annotations

from demo.blocks import Alert, Beside, Block, Chapter, Figure, Heading, Para, Setup, Step, Table
from demo.drawing import Drawing

PARTS = (
    ("1", "Chain guard", "1", "W1-110", "Guard, chain", "1", ""),
    ("1", "Chain guard", "2", "W1-111", "Screw, hex, M6 x 16", "2", ""),
    ("1", "Chain guard", "3", "W1-112", "Screw, hex, M6 x 50", "1", ""),
    ("1", "Chain guard", "4", "W1-113", "Washer, 6", "3", ""),
    ("2", "Gearbox", "1", "W1-201", "Housing, gearbox", "1", ""),
    ("2", "Gearbox", "2", "W1-202", "Cover, gearbox", "1", ""),
    ("2", "Gearbox", "3", "W1-203", "Gasket, cover", "1", "Single use"),
    ("2", "Gearbox", "4", "W1-204", "Screw, hex, M6 x 25", "5", ""),
    ("2", "Gearbox", "5", "W1-205", "Plug, drain, M14 x 1.5", "1", ""),
    ("2", "Gearbox", "6", "W1-206", "Ring, sealing, 14", "1", "Single use"),
)
HEAD = ("figure", "figure_title", "item", "part_number", "description", "qty", "remarks")


def guard_drawing() -> Drawing:
    """The chain guard in front of the gearbox, with its three screws."""
    d = Drawing(52, 52)
    d.rect((6, 16), (26, 28), radius=3).rect((9, 19), (20, 22), radius=2, weight=0.2)
    d.poly([(24, 8), (44, 8), (47, 12), (47, 38), (42, 43), (24, 43), (20, 38), (20, 12)], fill="white")
    d.line((24, 12), (43, 12), 0.2).line((24, 39), (42, 39), 0.2)
    d.hex_head((26, 40.5), 1.7).hex_head((41, 40.5), 1.7).hex_head((23.5, 16), 1.9)
    d.callout("1", (50, 4), (43, 20)).callout("2", (48, 49), (41, 40.5)).callout("3", (13, 6), (23.5, 16))
    return d


def cover_drawing() -> Drawing:
    """The gearbox with the chain guard already off: five screws and one open hole."""
    d = Drawing(52, 52)
    d.poly([(10, 8), (42, 8), (47, 13), (47, 40), (42, 45), (10, 45), (5, 40), (5, 13)], weight=0.5)
    d.poly([(12, 11), (40, 11), (44, 15), (44, 38), (40, 42), (12, 42), (8, 38), (8, 15)], weight=0.2)
    d.circle((26, 26), 8).circle((26, 26), 3)
    for x, y in ((11, 12), (41, 12), (44, 27), (40, 41), (11, 41)):
        d.hex_head((x, y), 1.7)
    d.hole((7.2, 24), 1.3).circle((26, 43.4), 1.6, fill="white")
    d.callout("1", (50, 4), (36, 18)).callout("2", (1.8, 6), (11, 12)).callout("3", (1.8, 32), (7.2, 24))
    d.callout("4", (32, 49.5), (26, 43.4))
    return d


CHAPTER_1: tuple[Block, ...] = (
    Heading("1.1", "Description"),
    Para(
        "The W1 winch lifts sluice boards of up to 400 kg by hand. The crank drives a worm in the gearbox; a "
        "chain under a sheet-metal guard drives the drum. The gearbox holds 0.3 l of gear oil and is closed "
        "by a cover with a paper gasket."
    ),
    Heading("1.2", "Removing the chain guard"),
    Alert(
        "WARNING",
        "A loaded winch can turn by itself and crush hands. Lower the sluice board to the ground and "
        "slacken the rope before the guard is removed.",
    ),
    Beside(
        Figure(
            "1-1",
            "Chain guard",
            guard_drawing(),
            (("1", "Chain guard"), ("2", "Screws M6 x 16"), ("3", "Screw M6 x 50")),
        ),
        (
            Step("1", "Remove the two screws M6 x 16 (2) with their washers at the bottom of the guard."),
            Step("2", "Remove the screw M6 x 50 (3) with its washer at the upper lug."),
            Step("3", "Take the guard (1) off to the front."),
        ),
    ),
    Heading("1.3", "Installing the chain guard"),
    Step("1", "Hold the guard in place and start the two screws M6 x 16 with washers."),
    Step(
        "2",
        "Fit the screw M6 x 50 with its washer through the upper lug. It goes through the gearbox cover into "
        "the housing.",
    ),
    Step("3", "Tighten the three screws to 9 N·m (6.6 lbf·ft)."),
)

CHAPTER_2: tuple[Block, ...] = (
    Heading("2.1", "Removing the gearbox cover"),
    Setup(
        (
            ("Tools", "Socket 10 mm; soft mallet; tray for 0.5 l"),
            ("Materials", "Gasket (single use); sealing ring 14 (single use)"),
            ("Equipment condition", "Chain guard removed (1.2)"),
        )
    ),
    Beside(
        Figure(
            "2-1",
            "Gearbox, chain guard removed",
            cover_drawing(),
            (
                ("1", "Gearbox cover"),
                ("2", "Cover screw"),
                ("3", "Hole for the guard screw"),
                ("4", "Drain plug"),
            ),
        ),
        (
            Step("1", "Hold the tray under the gearbox and remove the drain plug (4). Let the oil run out."),
            Step("2", "Remove the cover screws."),
            Alert("CAUTION", "Never lever on the sealing faces: the cover cracks at the lugs."),
            Step("3", "Free the cover (1) with light taps of a soft mallet and take it off straight."),
            Step("4", "Remove the gasket and throw it away."),
        ),
    ),
    Heading("2.2", "Installing the gearbox cover"),
    Step("1", "Clean both faces. Fit a new gasket and the cover."),
    Step("2", "Fit the five screws M6 x 25 and tighten them crosswise to 9 N·m (6.6 lbf·ft)."),
    Step("3", "Fit the drain plug with a new sealing ring and tighten to 25 N·m (18 lbf·ft)."),
    Step("4", "Install the chain guard (see 1.3)."),
    Step("5", "Fill in 0.3 l of gear oil SAE 90."),
)

CHAPTER_3: tuple[Block, ...] = (
    Heading("3.1", "Tightening torques"),
    Table(
        "Table 3-1  Tightening torques",
        ("1fr", "30mm", "22mm", "22mm"),
        ("Joint", "Thread", "N·m", "lbf·ft"),
        (
            ("Chain guard, short screws", "M6 x 16", "9", "6.6"),
            ("Chain guard, long screw", "M6 x 50", "9", "6.6"),
            ("Gearbox cover", "M6 x 25", "9", "6.6"),
            ("Drain plug", "M14 x 1.5", "25", "18"),
        ),
    ),
    Heading("3.2", "Oil"),
    Para("Gear oil SAE 90, 0.3 l. Change once a year, before the irrigation season."),
)

CHAPTERS = (
    Chapter("1", "Winch and guard", CHAPTER_1),
    Chapter("2", "Gearbox", CHAPTER_2),
    Chapter("3", "Data", CHAPTER_3),
)

TITLE = "W1 Sluice Winch  Service Manual"
EDITION = "Quenmoor Pump Works · SM-W1 · Edition 2"
FRONT = """
#v(50mm)
#text(font: sans, size: 11pt, weight: "bold")[QUENMOOR PUMP WORKS]
#v(4mm)
#text(font: sans, size: 30pt, weight: "bold")[W1 Sluice Winch]
#v(2mm)
#text(font: sans, size: 16pt)[Service manual]
#v(8mm)
#line(length: 100%, stroke: 1.4pt)
#text(font: sans, size: 9pt)[SM-W1 · Edition 2]
#v(1fr)
Maker and machine are invented. This manual teaches nothing about any real machine.
"""
