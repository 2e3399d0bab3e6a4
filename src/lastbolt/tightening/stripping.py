"""When a tapped thread strips: shear areas, the engagement a screw needs, the torque a casting bears.

Source: FED-STD-H28/2 (from memory of its formulas). Its areas take the worst pair of limits: the
smallest outside thread in the largest inside one. Only full threads count as engaged.
"""

import math
import tomllib
from functools import lru_cache
from importlib import resources

from msgspec import Struct

from lastbolt.threads.designation import Thread
from lastbolt.threads.geometry import geometry, limits_of_size, stress_area_mm2
from lastbolt.tightening.preload import torque_Nm

SLOPE = 1 / math.sqrt(3)
"""Tangent of the flank: 0.57735."""
SAFETY = 1.5
CONNECTED_SHEAR = 0.6
"""Shear strength of screws as a part of tensile strength (common practice)."""
SOURCE = "FED-STD-H28/2, shear areas"


class ShearAreas(Struct, frozen=True):
    """Areas over which the threads of the screw (external) and of the hole (internal) would shear."""

    external_mm2: float
    internal_mm2: float
    source: str


class Metal(Struct, frozen=True):
    """A metal that is tapped. `shear_MPa`: low end of ordinary castings; `engagement_diameters`: a rule."""

    name: str
    shear_MPa: float
    shear_typical_MPa: float
    tensile_MPa: float
    engagement_diameters: float
    source: str


class Ceiling(Struct, frozen=True):
    """The torque above which the tapped thread is in danger, whatever the screw could bear."""

    torque_Nm: float
    strip_load_N: float
    words: str
    source: str


def shear_areas_mm2(
    major_min_mm: float,
    pitch_min_mm: float,
    pitch_max_internal_mm: float,
    minor_max_internal_mm: float,
    pitch_mm: float,
    engagement_mm: float,
) -> ShearAreas:
    """Shear areas of both threads over the engaged length.

    AS_s = pi (L/P) K_n,max (P/2 + 0.57735 (E_s,min - K_n,max))
    AS_n = pi (L/P) D_s,min (P/2 + 0.57735 (D_s,min - E_n,max))

    Source: FED-STD-H28/2.
    """
    for name, value in (
        ("pitch", pitch_mm),
        ("engagement", engagement_mm),
        ("diameter", minor_max_internal_mm),
    ):
        if not (math.isfinite(value) and value > 0):
            raise ValueError(f"{name} {value:g} mm is not above 0")
    turns = math.pi * engagement_mm / pitch_mm
    screw = turns * minor_max_internal_mm * (pitch_mm / 2 + SLOPE * (pitch_min_mm - minor_max_internal_mm))
    hole = turns * major_min_mm * (pitch_mm / 2 + SLOPE * (major_min_mm - pitch_max_internal_mm))
    return ShearAreas(max(screw, 0.0), max(hole, 0.0), SOURCE)


def areas_of_thread_mm2(thread: Thread, engagement_mm: float) -> ShearAreas:
    """Shear areas with the worst limits of the usual tolerances (6g in 6H, 2A in 2B), else basic sizes."""
    basic = geometry(thread)
    names = ("2A", "2B") if thread.system == "unified" else ("6g", "6H")
    outside, inside = (limits_of_size(thread, name) for name in names)
    sizes = (
        outside.major_min_mm if outside else thread.major_mm,
        outside.pitch_min_mm if outside else basic.pitch_diameter_mm,
        inside.pitch_max_mm if inside else basic.pitch_diameter_mm,
        inside.minor_max_mm if inside and inside.minor_max_mm else basic.minor_internal_mm,
    )
    return shear_areas_mm2(*sizes, thread.pitch_mm, engagement_mm)


def strip_load_N(area_mm2: float, shear_MPa: float) -> float:
    """The load at which an area shears off."""
    return area_mm2 * shear_MPa


def engagement_needed_mm(
    thread: Thread, bolt_tensile_MPa: float, tapped_tensile_MPa: float | None = None, safety: float = 1.0
) -> float:
    """Length of full thread with which the screw breaks before a thread strips.

    L = 2 A_t / (AS_s for each mm); lengthened by J = AS_s R_bolt / (AS_n R_tapped) where the hole is weaker.
    None for the tapped metal: as strong as the screw.

    Source: FED-STD-H28/2, length of engagement and factor J.

    >>> from lastbolt.threads.designation import thread_of
    >>> m8 = thread_of("M8")
    >>> 5 < engagement_needed_mm(m8, 800) < 7 < engagement_needed_mm(m8, 800, 230)
    True
    """
    if not bolt_tensile_MPa > 0 or (tapped_tensile_MPa is not None and not tapped_tensile_MPa > 0):
        raise ValueError("tensile strengths must be above 0")
    each = areas_of_thread_mm2(thread, 1.0)
    tapped = bolt_tensile_MPa if tapped_tensile_MPa is None else tapped_tensile_MPa
    weaker = (each.external_mm2 * bolt_tensile_MPa) / (each.internal_mm2 * tapped)
    return 2 * stress_area_mm2(thread) / each.external_mm2 * max(weaker, 1.0) * safety


@lru_cache(maxsize=1)
def metals() -> tuple[Metal, ...]:
    """The metals of the data file, in its order."""
    return tuple(metal for metal, _ in _rows())


def metal(name: str) -> Metal | None:
    """A metal by its name or another word for it; None: not known.

    >>> metal("cast iron").name, metal("cheese")
    ('grey iron', None)
    """
    word = " ".join(name.lower().replace("-", " ").split())
    return next((one for one, also in _rows() if word == one.name or word in also), None)


@lru_cache(maxsize=1)
def _rows() -> tuple[tuple[Metal, frozenset[str]], ...]:
    text = (resources.files("lastbolt.tightening") / "metals.toml").read_text("utf-8")
    return tuple(
        (
            Metal(
                row["name"], float(row["shear"][0]), float(row["shear"][1]), float(row["tensile"]),
                float(row["engagement"]), row["source"],
            ),
            frozenset(row["also"]),
        )
        for row in tomllib.loads(text)["metal"]
    )  # fmt: skip


def engagement_rule_mm(thread: Thread, tapped: Metal) -> float:
    """The length of full thread that common practice asks for in this metal."""
    return tapped.engagement_diameters * thread.major_mm


def ceiling_torque_Nm(
    thread: Thread,
    metal: Metal,
    engagement_mm: float,
    friction_low: float,
    bearing_diameter_mm: float,
    safety: float = SAFETY,
) -> Ceiling:
    """The torque at which the tapped thread keeps this safety against stripping, with the least friction.

    The least friction makes the most load of a torque, so it decides.

    Source: FED-STD-H28/2 for the area, VDI 2230-1 for the torque; metals from memory.
    """
    if not safety >= 1:
        raise ValueError(f"safety {safety:g} is below 1")
    area = areas_of_thread_mm2(thread, engagement_mm).internal_mm2
    load = strip_load_N(area, metal.shear_MPa)
    torque = torque_Nm(load / safety, thread, friction_low, friction_low, bearing_diameter_mm)
    words = (
        f"{thread.designation} in {metal.name}, {engagement_mm:g} mm of full thread: strips at about "
        f"{load / 1000:.1f} kN, so no more than {torque:.3g} N·m "
        f"(safety {safety:g}, friction {friction_low:g})"
    )
    return Ceiling(torque, load, words, f"{SOURCE}; VDI 2230-1; {metal.source}")
