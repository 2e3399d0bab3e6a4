"""The profile of a thread by formula, its stress area, and the limits of its tolerance classes."""

import math
import re

from msgspec import Struct

from lastbolt.threads.designation import Thread
from lastbolt.threads.tables import INCH_MM, key_of, rows, table

SHARP = math.sqrt(3) / 2
"""Height of the sharp 60-degree triangle, of its pitch: H / P."""
WHITWORTH_SHARP = 0.960491
WHITWORTH_DEPTH = 0.640327
PIPE_TAPER = 0.0625
R_40 = (
    1.0, 1.06, 1.12, 1.18, 1.25, 1.32, 1.4, 1.5, 1.6, 1.7, 1.8, 1.9, 2.0, 2.12, 2.24, 2.36, 2.5, 2.65, 2.8,
    3.0, 3.15, 3.35, 3.55, 3.75, 4.0, 4.25, 4.5, 4.75, 5.0, 5.3, 5.6,
    6.0, 6.3, 6.7, 7.1, 7.5, 8.0, 8.5, 9.0, 9.5,
)  # fmt: skip
"""Preferred numbers of ISO 3, in which tolerances of threads are stated."""
UNIFIED_OUTSIDE = {"1A": 1.5, "2A": 1.0, "3A": 0.75}
UNIFIED_INSIDE = {"1B": 1.95, "2B": 1.3, "3B": 0.975}


UNR_DEPTH = 11 / 8
"""Twice the depth of an outside UNR thread, in heights of the sharp triangle (ASME B1.1)."""


class Geometry(Struct, frozen=True):
    """Basic dimensions of a thread [mm]: D2, D1 of the inside thread, d3 of the outside thread, H."""

    pitch_diameter_mm: float
    minor_internal_mm: float
    minor_external_mm: float
    sharp_height_mm: float
    source: str


class ThreadLimits(Struct, frozen=True):
    """Between what a thread's diameters may lie [mm]; None where the standard sets no bound.

    An outside thread has no smallest minor diameter here, an inside thread no largest major diameter.
    """

    major_min_mm: float
    major_max_mm: float | None
    pitch_min_mm: float
    pitch_max_mm: float
    minor_min_mm: float | None
    minor_max_mm: float | None
    tolerance: str
    source: str


def geometry(thread: Thread) -> Geometry:
    """The basic dimensions of a thread.

    D2 = D - 0.649519 P, D1 = D - 1.082532 P, H = 0.866025 P (60 degrees); the core of a screw is
    D - 1.226869 P (metric, d3) and D - 1.190785 P (unified, UNR root).

    Source: ISO 68-1, ISO 724 and ISO 898-1 (d3); ASME B1.1; ISO 228-1; ASME B1.20.1.

    >>> from lastbolt.threads.designation import thread_of
    >>> g = geometry(thread_of("M8"))
    >>> round(g.pitch_diameter_mm, 3), round(g.minor_internal_mm, 3), round(g.minor_external_mm, 3)
    (7.188, 6.647, 6.466)
    """
    d, p = thread.major_mm, thread.pitch_mm
    if thread.system != "pipe":
        source = (
            "ISO 68-1, ISO 724; d3 as in ISO 898-1"
            if thread.system == "metric"
            else "ASME B1.1, same profile"
        )
        h = SHARP * p
        core = d - 17 / 12 * h if thread.system == "metric" else d - UNR_DEPTH * h
        return Geometry(d - 0.75 * h, d - 1.25 * h, core, h, source)
    if "NPT" in thread.designation:
        pitch = d - (0.05 * d + 1.1 * p)
        deep = 0.8 * p
        return Geometry(
            pitch, pitch - deep, pitch - deep, SHARP * p, "ASME B1.20.1, at the small end; full depth 0.8 p"
        )
    deep = WHITWORTH_DEPTH * p
    source = "ISO 228-1, Whitworth profile" if thread.designation[0] == "G" else "ISO 7-1, at the gauge plane"
    return Geometry(d - deep, d - 2 * deep, d - 2 * deep, WHITWORTH_SHARP * p, source)


def stress_area_mm2(thread: Thread) -> float:
    """The area that carries the load in a screw.

    Metric: pi/4 ((d2 + d3)/2)^2. Unified: pi/4 (d - 0.9743 p)^2.

    Source: ISO 898-1:2013, 9.1.6; ASME B1.1, appendix B.
    Raises:
        ValueError: a pipe thread, for which no standard states one.

    >>> from lastbolt.threads.designation import thread_of
    >>> round(stress_area_mm2(thread_of("M8")), 1)
    36.6
    """
    if thread.system == "pipe":
        raise ValueError(f"{thread.designation}: no standard states a stress area for pipe threads")
    return math.pi / 4 * stress_diameter_mm(thread) ** 2


def stress_diameter_mm(thread: Thread) -> float:
    """The diameter of the stress area: (d2 + d3)/2, or d - 0.9743 p for unified threads."""
    if thread.system == "unified":
        return thread.major_mm - 0.9743 * thread.pitch_mm
    basic = geometry(thread)
    return (basic.pitch_diameter_mm + basic.minor_external_mm) / 2


def limits_of_size(thread: Thread, tolerance: str) -> ThreadLimits | None:
    """Limits of an outside ("6g", "2A") or inside ("6H", "2B") thread; None where the tables have none.

    Source: ISO 965-1 (grade 6 as tabulated, other grades by their steps); ASME B1.1, section 5 (formulas).

    >>> from lastbolt.threads.designation import thread_of
    >>> outside = limits_of_size(thread_of("M8"), "6g")
    >>> round(outside.major_min_mm, 3), round(outside.major_max_mm, 3)
    (7.76, 7.972)
    """
    if thread.system == "unified":
        return _unified_limits(thread, tolerance.upper())
    match = re.fullmatch(r"([3-9])([efghGH])(?:([3-9])([efghGH]))?", tolerance)
    if thread.system != "metric" or match is None or (match[4] and match[4] != match[2]):
        return None
    pitch_grade, place = int(match[1]), match[2]
    return _metric_limits(thread, (pitch_grade, int(match[3] or pitch_grade)), place, tolerance)


def _metric_limits(thread: Thread, grades: tuple[int, int], place: str, name: str) -> ThreadLimits | None:
    shift = _shift_um(thread, place)
    pitch = _pitch_6_um(thread)
    crest = table("metric")["diameters_6"].get(key_of(thread.pitch_mm))
    inside = place in "GH"
    if shift is None or pitch is None or crest is None or not crest[inside]:
        return None
    td2 = _graded(pitch, grades[0], 5 if inside else 0) / 1000
    td = _graded(crest[inside], grades[1]) / 1000
    basic, move = geometry(thread), shift / 1000
    d, d2, d1 = thread.major_mm + move, basic.pitch_diameter_mm + move, basic.minor_internal_mm + move
    source = "ISO 965-1:1998, tolerances from memory"
    if inside:
        return ThreadLimits(d, None, d2, d2 + td2, d1, d1 + td, name, source)
    return ThreadLimits(d - td, d, d2 - td2, d2, None, d1, name, source)


def _shift_um(thread: Thread, place: str) -> float | None:
    """How far the whole profile is moved outwards (G) or inwards (e, f, g)."""
    if place in "hH":
        return 0.0
    row = table("metric")["deviations"].get(key_of(thread.pitch_mm))
    if row is None:
        return None
    size = float(row["efg".index(place.lower())])
    return (size if place == "G" else -size) if size else None


def _pitch_6_um(thread: Thread) -> float | None:
    for largest, pitches in rows(table("metric")["pitch_6"]).items():
        if thread.major_mm <= float(largest):
            found = pitches.get(key_of(thread.pitch_mm))
            return None if found is None else float(found)
    return None


def _graded(grade_6: float, grade: int, coarser: int = 0) -> float:
    """A tolerance of another grade: four steps of the R 40 series for each grade, plus `coarser` steps.

    >>> _graded(118, 8), _graded(118, 6, 5)
    (190.0, 160.0)
    """
    decade = 10 ** math.floor(math.log10(grade_6))
    start = min(range(len(R_40)), key=lambda i: abs(R_40[i] - grade_6 / decade))
    up, place = divmod(start + 4 * (grade - 6) + coarser, len(R_40))
    return float(round(R_40[place] * decade * 10.0**up, 3))


def _unified_limits(thread: Thread, name: str) -> ThreadLimits | None:
    d, p = thread.major_mm / INCH_MM, thread.pitch_mm / INCH_MM
    long = d if thread.series in ("coarse", "fine") else 9 * p
    pitch_2a: float = 0.0015 * d ** (1 / 3) + 0.0015 * math.sqrt(long) + 0.015 * p ** (2 / 3)
    basic = geometry(thread)
    d2, d1 = basic.pitch_diameter_mm / INCH_MM, basic.minor_internal_mm / INCH_MM
    crest: float
    source = "ASME B1.1-2003, section 5, formulas from memory"
    if name in UNIFIED_OUTSIDE:
        allowance = 0.0 if name == "3A" else 0.3 * pitch_2a
        tolerance = UNIFIED_OUTSIDE[name] * pitch_2a
        crest = (0.09 if name == "1A" else 0.06) * p ** (2 / 3)
        top, middle, root = d - allowance, d2 - allowance, d1 - allowance
        low, high, p_low, p_high = (INCH_MM * s for s in (top - crest, top, middle - tolerance, middle))
        return ThreadLimits(low, high, p_low, p_high, None, root * INCH_MM, name, source)
    if name in UNIFIED_INSIDE:
        tolerance = UNIFIED_INSIDE[name] * pitch_2a
        crest = _minor_tolerance(d, p, name)
        p_low, p_high, m_low, m_high = (INCH_MM * size for size in (d2, d2 + tolerance, d1, d1 + crest))
        return ThreadLimits(d * INCH_MM, None, p_low, p_high, m_low, m_high, name, source)
    return None


def _minor_tolerance(d: float, p: float, name: str) -> float:
    """Tolerance of the minor diameter of an inside unified thread, in inches."""
    curve: float = 0.05 * p ** (2 / 3) + 0.03 * p / d - 0.002
    if name == "3B":
        least = 0.12 * p if p >= 1 / 13 - 1e-9 else 0.23 * p - 1.5 * p * p
        return min(max(curve, least), 0.394 * p)
    if d >= 0.25:
        return 0.25 * p - 0.4 * p * p if p <= 0.25 else 0.15 * p
    return min(max(curve, 0.25 * p - 0.4 * p * p), 0.394 * p)
