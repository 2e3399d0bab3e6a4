"""The illustrated parts list PL-Q222 as data: ten figures, their rows and their drawings."""

from __future__ import annotations

from dataclasses import dataclass

from demo.drawings import engine_end, gearcase, pump_end
from demo.drawings.scene import Maker


@dataclass(frozen=True)
class Row:
    """One line of the list; `spot` names the point of the drawing that its callout points at."""

    item: str
    spot: str
    part_number: str
    description: str
    quantity: str
    remarks: str = ""


@dataclass(frozen=True)
class PartsFigure:
    """One figure with its rows; `scale` sets the size of the drawing on the page."""

    number: str
    title: str
    make: Maker
    scale: float
    rows: tuple[Row, ...]


E_START, H_START, ONCE = "Electric start (E)", "Hand start (H)", "Single use"

FIGURES = (
    PartsFigure(
        "1",
        "Flywheel guard",
        engine_end.guard,
        1.25,
        (
            Row("1", "guard", "Q222-101", "Guard, flywheel", "1"),
            Row("2", "guard screw", "Q222-102", "Screw, hex, M8 x 20", "4"),
            Row("3", "guard washer", "Q222-103", "Washer, 8", "4"),
            Row("4", "stay", "Q222-104", "Stay, fuel pipe", "1"),
            Row("5", "stay screw", "Q222-105", "Screw, hex, M6 x 16", "2"),
            Row("6", "stay washer", "Q222-106", "Washer, 6", "2"),
        ),
    ),
    PartsFigure(
        "2",
        "Starter motor (variant E)",
        engine_end.starter,
        1.3,
        (
            Row("1", "starter", "Q222-201", "Starter motor, 12 V", "1", E_START),
            Row("2", "starter screw", "Q222-202", "Screw, hex, M10 x 35", "2", E_START),
            Row("3", "starter washer", "Q222-203", "Washer, spring, 10", "2", E_START),
            Row("4", "cable", "Q222-204", "Cable, starter", "1", E_START),
            Row("5", "terminal nut", "Q222-205", "Nut, hex, M8", "1", E_START),
        ),
    ),
    PartsFigure(
        "3",
        "Starting handle (variant H)",
        engine_end.handle,
        1.3,
        (
            Row("1", "bracket", "Q222-301", "Bracket, starting handle", "1", H_START),
            Row("2", "bracket screw", "Q222-302", "Screw, hex, M10 x 25", "3", H_START),
            Row("3", "handle", "Q222-303", "Handle, starting", "1", H_START),
            Row("4", "plate", "Q222-304", "Plate, cover, starter opening", "1", H_START),
            Row("5", "plate screw", "Q222-305", "Screw, hex, M10 x 20", "2", H_START),
        ),
    ),
    PartsFigure(
        "4",
        "Fan shroud",
        engine_end.shroud,
        1.25,
        (
            Row("1", "shroud", "Q222-401", "Shroud, fan", "1"),
            Row("2", "shroud screw", "Q222-402", "Screw, hex, M6 x 16", "6"),
            Row("3", "shroud washer", "Q222-403", "Washer, 6", "6"),
        ),
    ),
    PartsFigure(
        "5",
        "Cooling-air duct",
        engine_end.duct,
        1.25,
        (
            Row("1", "duct", "Q222-411", "Duct, cooling air", "1"),
            Row("2", "duct screw", "Q222-412", "Screw, hex, M6 x 12", "5"),
            Row("3", "seal strip", "Q222-413", "Strip, seal, duct", "1"),
        ),
    ),
    PartsFigure(
        "6",
        "Gearcase housing and cover",
        gearcase.exploded,
        1.0,
        (
            Row("1", "housing", "Q222-601", "Housing, gearcase", "1"),
            Row("2", "cover", "Q222-602", "Cover, gearcase", "1"),
            Row("3", "gasket", "Q222-603", "Gasket, gearcase", "1", ONCE),
            Row("4", "hollow dowel", "Q222-604", "Dowel, hollow, 14 x 12", "1", "With a screw through it"),
            Row("5", "solid dowel", "Q222-605", "Dowel, solid, 8 x 24", "1"),
            Row("6", "screw 45", "Q222-606", "Screw, hex socket, M8 x 45", "9"),
            Row("7", "screw 55", "Q222-607", "Screw, hex socket, M8 x 55", "3"),
            Row("8", "screw 70", "Q222-608", "Screw, hex socket, M8 x 70", "2"),
            Row("9", "screw 60", "Q222-609", "Screw, hex, M8 x 60", "1", "From engine side"),
            Row("10", "sealing washer", "Q222-610", "Washer, sealing, 8", "1", ONCE),
            Row("11", "inspection cover", "Q222-611", "Cover, inspection", "1"),
            Row("12", "inspection gasket", "Q222-612", "Gasket, inspection cover", "1", ONCE),
            Row("13", "inspection screw", "Q222-613", "Screw, hex, M6 x 16", "6"),
            Row("14", "plug", "Q222-614", "Plug, drain, M18 x 1.5", "1"),
            Row("15", "plug ring", "Q222-615", "Ring, sealing, 18", "1", ONCE),
            Row("16", "seal", "Q222-616", "Seal, shaft, 35 x 52 x 7", "1", ONCE),
        ),
    ),
    PartsFigure(
        "7",
        "Gears, shafts and bearings",
        pump_end.gears,
        1.2,
        (
            Row("1", "output shaft", "Q222-701", "Shaft, output", "1"),
            Row("2", "gear", "Q222-702", "Gear, 62 teeth", "1"),
            Row("3", "pinion", "Q222-703", "Pinion, 25 teeth", "1"),
            Row("4", "pinion nut", "Q222-704", "Nut, pinion, M20 x 1.5", "1"),
            Row("5", "pinion washer", "Q222-705", "Washer, tab, pinion", "1", ONCE),
            Row("6", "rear bearing", "Q222-706", "Bearing, ball, 35 x 72 x 17", "1", "In housing"),
            Row("7", "cover bearing", "Q222-707", "Bearing, ball, 30 x 72 x 19", "1", "In cover"),
            Row("8", "circlip", "Q222-708", "Circlip, internal, 72", "1", "In cover"),
            Row("9", "shim 10", "Q222-709", "Shim, 0.10 mm", "AR"),
            Row("10", "shim 15", "Q222-710", "Shim, 0.15 mm", "AR"),
            Row("11", "shim 30", "Q222-711", "Shim, 0.30 mm", "AR"),
            Row("12", "pinion key", "Q222-712", "Key, 6 x 6 x 25", "1"),
        ),
    ),
    PartsFigure(
        "8",
        "Priming pump and bracket",
        pump_end.priming,
        1.15,
        (
            Row("1", "priming", "Q222-801", "Pump, priming", "1"),
            Row("2", "bracket", "Q222-802", "Bracket, priming pump", "1"),
            Row("3", "long screw", "Q222-803", "Screw, hex, M8 x 90", "1"),
            Row("4", "short screw", "Q222-804", "Screw, hex, M8 x 35", "1"),
            Row("5", "bracket washer", "Q222-805", "Washer, 8", "2"),
            Row("6", "pump screw", "Q222-806", "Screw, hex, M6 x 20", "3"),
            Row("7", "o-ring", "Q222-807", "O-ring, 26 x 2.5", "1", ONCE),
            Row("8", "lever", "Q222-808", "Lever, priming", "1"),
            Row("9", "split pin", "Q222-809", "Pin, split, 2 x 16", "1", ONCE),
            Row("10", "hose", "Q222-810", "Hose, priming, 19 mm", "1"),
            Row("11", "clips", "Q222-811", "Clip, hose, 28 mm", "2"),
        ),
    ),
    PartsFigure(
        "9",
        "Irrigation pump and coupling",
        pump_end.pump_and_coupling,
        0.92,
        (
            Row("1", "pump", "Q222-501", "Pump, irrigation", "1"),
            Row("2", "pump half", "Q222-502", "Coupling half, pump side", "1"),
            Row("3", "element", "Q222-503", "Element, coupling", "1"),
            Row("4", "engine half", "Q222-504", "Coupling half, engine side", "1"),
            Row("5", "key", "Q222-505", "Key, 8 x 7 x 36", "1"),
            Row("6", "tab washer", "Q222-506", "Washer, tab, output shaft", "1", ONCE),
            Row("7", "shaft nut", "Q222-507", "Nut, output shaft, M24 x 1.5 LH", "1", "Left-hand thread"),
            Row("8", "guard", "Q222-508", "Guard, coupling", "1"),
            Row("9", "guard screw", "Q222-509", "Screw, hex, M8 x 16", "4"),
            Row("10", "bolt", "Q222-510", "Bolt, hex, M12 x 55", "4"),
            Row("11", "nut", "Q222-511", "Nut, hex, M12", "4"),
            Row("12", "washer", "Q222-512", "Washer, 12", "4"),
            Row("13", "hose clamp", "Q222-513", "Clamp, suction hose, 60 mm", "2"),
            Row("14", "foot shim", "Q222-514", "Shim, pump foot, 0.2 mm", "AR"),
        ),
    ),
    PartsFigure(
        "10",
        "Exhaust silencer",
        engine_end.silencer,
        1.2,
        (
            Row("1", "silencer", "Q222-901", "Silencer", "1"),
            Row("2", "nut", "Q222-902", "Nut, hex, M8, coppered", "4"),
            Row("3", "stud", "Q222-903", "Stud, M8 x 30", "4"),
            Row("4", "gasket", "Q222-904", "Gasket, exhaust", "2", ONCE),
            Row("5", "shield", "Q222-905", "Shield, heat", "1"),
            Row("6", "shield screw", "Q222-906", "Screw, hex, M6 x 10", "3"),
            Row("7", "cap", "Q222-907", "Cap, rain", "1"),
            Row("8", "clamp", "Q222-908", "Clamp, rain cap", "1"),
        ),
    ),
    PartsFigure(
        "11",
        "Oil filter, dipstick and drain plug",
        engine_end.oil,
        1.3,
        (
            Row("1", "element", "Q222-921", "Element, filter", "1"),
            Row("2", "o-ring", "Q222-922", "O-ring, 62 x 3", "1", ONCE),
            Row("3", "cover", "Q222-923", "Cover, filter", "1"),
            Row("4", "cover screw", "Q222-924", "Screw, hex, M6 x 25", "3"),
            Row("5", "dipstick", "Q222-925", "Dipstick", "1"),
            Row("6", "plug", "Q222-926", "Plug, drain, M14 x 1.5", "1"),
            Row("7", "ring", "Q222-927", "Ring, sealing, 14", "1", ONCE),
        ),
    ),
    PartsFigure(
        "12",
        "Air cleaner",
        engine_end.air_cleaner,
        1.2,
        (
            Row("1", "wing nut", "Q222-941", "Nut, wing, M6", "1"),
            Row("2", "bowl", "Q222-942", "Bowl, air cleaner", "1"),
            Row("3", "element", "Q222-943", "Element, air cleaner", "1"),
            Row("4", "gasket", "Q222-944", "Gasket, air cleaner", "1", ONCE),
            Row("5", "foot screw", "Q222-945", "Screw, hex, M6 x 30", "2"),
        ),
    ),
)
