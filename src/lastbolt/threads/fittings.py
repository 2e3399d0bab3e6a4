"""What belongs to a thread: wrench, clearance hole, tap drill, repair insert, bearing face of the head."""

import math
from typing import Literal

from msgspec import Struct

from lastbolt.threads.designation import Thread
from lastbolt.threads.geometry import SHARP, geometry
from lastbolt.threads.tables import INCH_MM, inches, key_of, table

Head = Literal["hexagon", "socket", "hexagon flange"]
Fit = Literal["close", "medium", "loose"]
FITS = ("close", "medium", "loose")


class RepairInsert(Struct, frozen=True):
    """Sizes for a coiled wire insert that gives back this thread [mm]: the tap it needs, the drill before."""

    thread: Thread
    tap_major_mm: float
    drill_mm: float
    source: str


def wrench_mm(thread: Thread, head: Head = "hexagon") -> float | None:
    """Width across flats of the wrench; None where the tables have none.

    Source: ISO 272, ISO 4014, ISO 4162, ISO 4762; ASME B18.2.1, B18.3.

    >>> from lastbolt.threads.designation import thread_of
    >>> wrench_mm(thread_of("M8")), wrench_mm(thread_of("M8"), "socket")
    (13.0, 6.0)
    """
    return _first_mm(thread, head, f"inch_{head}")


def other_wrench_mm(thread: Thread) -> float | None:
    """The width across flats that older hexagons of this size have, where it differs."""
    return _first_mm(thread, "hexagon_other", "")


def clearance_hole_mm(thread: Thread, fit: Fit = "medium") -> float | None:
    """Diameter of the hole that a screw passes.

    Source: ISO 273; ASME B18.2.8.

    >>> from lastbolt.threads.designation import thread_of
    >>> clearance_hole_mm(thread_of("M8"))
    9.0
    """
    row = _row(thread, "clearance", "inch_clearance")
    return _mm(row[FITS.index(fit)]) if isinstance(row, list) and fit in FITS else None


def tap_drill_mm(thread: Thread) -> float | None:
    """Diameter of the drill before tapping.

    Metric: D - P, to a drill that is made. Unified and pipe: common practice.

    Source: ISO 2306.

    >>> from lastbolt.threads.designation import thread_of
    >>> tap_drill_mm(thread_of("M8")), tap_drill_mm(thread_of("M10"))
    (6.8, 8.5)
    """
    data = table("fittings")
    if thread.system == "metric":
        made = data["tap"].get(thread.designation)
        return float(made) if made is not None else round(thread.major_mm - thread.pitch_mm, 3)
    if thread.system == "pipe":
        made = data["pipe_tap"].get(thread.designation)
        return None if made is None else float(made)
    made = data["inch_tap"].get(thread.designation.split()[0])
    return None if made is None else round(made * INCH_MM, 2)


def repair_insert(thread: Thread) -> RepairInsert | None:
    """The tap and drill for a coiled wire insert of this thread; None for pipe threads.

    The wire fills one more thread depth: tap major diameter D + 1.299038 P, its minor diameter
    D + 0.216506 P; the drill is the next tenth of a millimetre above that.

    Source: by the geometry of ISO 68-1 (common practice for such inserts; the insert's maker comes first).

    >>> from lastbolt.threads.designation import thread_of
    >>> insert = repair_insert(thread_of("M8"))
    >>> round(insert.tap_major_mm, 3), insert.drill_mm
    (9.624, 8.3)
    """
    if thread.system == "pipe":
        return None
    p = thread.pitch_mm
    drill = math.ceil(round((thread.major_mm + 0.25 * SHARP * p) * 10, 6)) / 10
    source = "geometry of ISO 68-1; common practice for wire inserts"
    return RepairInsert(thread, thread.major_mm + 1.5 * SHARP * p, drill, source)


def bearing_diameter_mm(thread: Thread, head: Head = "hexagon") -> float | None:
    """Mean diameter at which the head rubs: half way between bearing face and medium hole.

    Source: VDI 2230-1, D_Km; ISO 4014, 4162, 4762 for the faces. Inch hexagons: face 0.95 of the flats.
    """
    hole = clearance_hole_mm(thread)
    if thread.system == "unified":
        flats = wrench_mm(thread, "hexagon")
        return None if hole is None or flats is None else (0.95 * flats + hole) / 2
    face = _first_mm(thread, f"face_{head}", "")
    return None if hole is None or face is None else (face + hole) / 2


def source_of(thread: Thread, what: str) -> str:
    """From where a table of this file has its figures: "hexagon", "clearance", "tap", ..."""
    if thread.system == "pipe" and what == "tap":
        what = "pipe_tap"
    elif thread.system == "unified":
        what = f"inch_{what}"
    section = table("fittings").get(what, {})
    return str(section.get("source", ""))


def thread_depth_mm(thread: Thread) -> float:
    """How deep the basic profile is cut, one side."""
    return (thread.major_mm - geometry(thread).minor_internal_mm) / 2


def _first_mm(thread: Thread, metric: str, inch: str) -> float | None:
    row = _row(thread, metric, inch)
    return None if row is None else _mm(row)


def _row(thread: Thread, metric: str, inch: str) -> float | str | None:
    data = table("fittings")
    found: float | str | None = None
    if thread.system == "metric":
        found = data.get(metric, {}).get(key_of(thread.major_mm))
    elif thread.system == "unified":
        found = data.get(inch, {}).get(thread.designation.rsplit("-", 1)[0])
    return found


def _mm(value: float | str) -> float:
    """A figure of the tables in mm: inch sizes stand there as fractions."""
    return round(inches(value) * INCH_MM, 3) if isinstance(value, str) else float(value)
