"""The figures of the service manual: which drawing, how large, and what its callouts are called."""

from __future__ import annotations

from dataclasses import dataclass

from demo.blocks import Figure
from demo.drawings import engine_end, gearcase, pump_end
from demo.drawings.scene import Maker, called_out


@dataclass(frozen=True)
class Picture:
    """One figure; `names` are (callout, spot of the drawing, words of the legend)."""

    number: str
    caption: str
    make: Maker
    scale: float
    names: tuple[tuple[str, str, str], ...]

    def figure(self) -> Figure:
        """The figure as a block of the manual; without words there is no legend."""
        drawing = called_out(self.make, self.scale, tuple((mark, spot) for mark, spot, _ in self.names))
        legend = tuple((mark, words) for mark, _, words in self.names if words)
        return Figure(self.number, self.caption, drawing, legend)


COLUMN = 0.52

PICTURES = {
    p.number: p
    for p in (
        Picture(
            "1-1",
            "The set, seen from the left",
            engine_end.general_view,
            0.5,
            (
                ("1", "guard", "Flywheel guard"),
                ("2", "engine", "Engine"),
                ("3", "silencer", "Exhaust silencer"),
                ("4", "gearcase", "Gearcase"),
                ("5", "priming", "Priming pump"),
                ("6", "coupling", "Coupling guard"),
                ("7", "pump", "Irrigation pump"),
                ("8", "frame", "Base frame"),
            ),
        ),
        Picture(
            "3-1",
            "Flywheel guard",
            engine_end.guard,
            COLUMN,
            (
                ("1", "guard", "Flywheel guard"),
                ("2", "stay", "Stay of fuel pipe"),
                ("3", "stay screw", "Screw M6 x 16"),
                ("4", "guard screw", "Screw M8 x 20"),
            ),
        ),
        Picture(
            "3-2",
            "Starter motor, variant E",
            engine_end.starter,
            COLUMN,
            (
                ("1", "starter", "Starter motor"),
                ("2", "cable", "Cable"),
                ("3", "terminal nut", "Nut M8"),
                ("4", "starter screw", "Screw M10 x 35"),
            ),
        ),
        Picture(
            "3-3",
            "Starting-handle bracket, variant H",
            engine_end.handle,
            COLUMN,
            (
                ("1", "bracket", "Bracket"),
                ("2", "bracket screw", "Screw M10 x 25"),
                ("3", "plate", "Cover plate"),
                ("4", "plate screw", "Screw M10 x 20"),
            ),
        ),
        Picture(
            "4-1",
            "Fan shroud, flywheel guard removed",
            engine_end.shroud,
            COLUMN,
            (
                ("1", "shroud", "Fan shroud"),
                ("2", "shroud screw", "Screw M6 x 16"),
            ),
        ),
        Picture(
            "4-2",
            "Cooling-air duct, turned out of its place",
            engine_end.duct,
            COLUMN,
            (
                ("1", "duct", "Cooling-air duct"),
                ("2", "duct screw", "Screw M6 x 12"),
                ("3", "seal strip", "Seal strip"),
            ),
        ),
        Picture(
            "4-3",
            "Exhaust silencer",
            engine_end.silencer,
            COLUMN,
            (
                ("1", "silencer", "Silencer"),
                ("2", "nut", "Nut M8"),
                ("3", "shield", "Heat shield"),
                ("4", "shield screw", "Screw M6 x 10"),
                ("5", "cap", "Rain cap"),
                ("6", "clamp", "Clamp"),
            ),
        ),
        Picture(
            "5-1",
            "Irrigation pump and coupling guard",
            pump_end.pump,
            COLUMN,
            (
                ("1", "pump", "Pump"),
                ("2", "guard", "Coupling guard"),
                ("3", "guard screw", "Screw M8 x 16"),
                ("4", "bolt", "Bolt M12 x 55"),
                ("5", "nut", "Nut M12"),
                ("6", "element", "Coupling element"),
            ),
        ),
        Picture(
            "5-2",
            "Output shaft, pump dismounted",
            pump_end.coupling,
            COLUMN,
            (
                ("1", "engine half", "Coupling half"),
                ("2", "key", "Key"),
                ("3", "tab washer", "Tab washer"),
                ("4", "shaft nut", "Output shaft nut, left-hand thread"),
            ),
        ),
        Picture(
            "6-1",
            "Section through both shafts, simplified",
            gearcase.section_view,
            COLUMN,
            (
                ("1", "housing", "Housing"),
                ("2", "cover", "Cover"),
                ("3", "pinion", "Pinion"),
                ("4", "gear", "Gear"),
                ("5", "shaft", "Output shaft"),
            ),
        ),
        Picture(
            "6-2",
            "Inspection cover",
            gearcase.inspection,
            COLUMN,
            (
                ("1", "inspection cover", "Inspection cover"),
                ("2", "inspection screw", "Screw M6 x 16"),
            ),
        ),
        Picture(
            "6-3",
            "Dial gauge at the open recess",
            gearcase.dial_gauge,
            COLUMN,
            (
                ("1", "bar", "Bar Q-19"),
                ("2", "gauge", "Dial gauge"),
                ("3", "tooth", "Tooth of the gear"),
            ),
        ),
        Picture(
            "6-4",
            "State at the beginning: pump, coupling half, inspection cover, priming pump and bracket removed",
            gearcase.separating,
            COLUMN,
            (
                ("1", "cover", "Cover"),
                ("2", "hollow dowel", "Dowel, hollow"),
                ("3", "solid dowel", "Dowel, solid"),
                ("4", "shaft", "End of the output shaft"),
            ),
        ),
        Picture(
            "6-5",
            "Positions of the screws, seen from the pump end",
            gearcase.positions,
            0.82,
            tuple((str(n), str(n), "") for n in range(1, 18)),
        ),
        Picture(
            "6-6",
            "Gears and shafts",
            pump_end.gears,
            COLUMN * 100 / 120,
            (
                ("1", "gear", "Gear"),
                ("2", "output shaft", "Output shaft"),
                ("3", "pinion", "Pinion"),
                ("4", "pinion nut", "Pinion nut"),
                ("5", "pinion washer", "Tab washer"),
                ("6", "pinion key", "Key"),
                ("7", "shims", "Shims"),
            ),
        ),
        Picture(
            "7-1",
            "Priming pump and bracket",
            pump_end.priming,
            0.78,
            (
                ("1", "priming", "Priming pump"),
                ("2", "bracket", "Bracket"),
                ("3", "lever", "Lever"),
            ),
        ),
        Picture(
            "7-2",
            "Priming pump, taken apart",
            pump_end.priming,
            0.78,
            (
                ("1", "priming", "Priming pump"),
                ("2", "bracket", "Bracket"),
                ("3", "lever", "Lever"),
                ("4", "split pin", "Split pin"),
                ("5", "hose", "Hose"),
                ("6", "clips", "Clip"),
                ("7", "pump screw", "Screw M6 x 20"),
                ("8", "long screw", "Screw M8 x 90"),
                ("9", "short screw", "Screw M8 x 35"),
            ),
        ),
    )
}
