"""Preload and torque of a screw, both ways, and what prevailing torque and an angle add.

Source: VDI 2230-1. The torsion in the shank is taken with the factor 1.5 of the 2003 and later editions (full
yield of the cross-section); the 1986 edition took the elastic 2, which gives some per cent less preload.
"""

import math

from lastbolt.threads.designation import Thread
from lastbolt.threads.geometry import geometry, stress_area_mm2, stress_diameter_mm

TORSION = 1.5
"""d_0 / W_p times A_0 of the torsion term, plastic: VDI 2230-1:2003 and later."""
FLANK = 1.155
"""1 / cos 30 degrees: friction on a 60-degree flank."""
PITCH_PART, FLANK_PART = 0.16, 0.58
"""1 / (2 pi) and 1.155 / 2, as VDI 2230-1 rounds them."""


def assembly_preload_N(thread: Thread, yield_MPa: float, friction: float, utilisation: float = 0.9) -> float:
    """The preload at which tension and torsion together use this part of the yield strength.

    F = A_s u R_p / sqrt(1 + 3 (1.5 d_2/d_0 (P / (pi d_2) + 1.155 mu))^2)

    Args:
        thread: metric or unified
        yield_MPa: yield strength, > 0 [MPa]
        friction: in the thread, 0 .. 1 [-]
        utilisation: part of the yield strength used, > 0 .. 1 [-]
    Source: VDI 2230-1:2003 and later, R8/R9, table A1.

    >>> from lastbolt.threads.designation import thread_of
    >>> round(assembly_preload_N(thread_of("M8"), 640, 0.12) / 1000, 1)
    18.6
    """
    _check("yield strength", yield_MPa, positive=True)
    _check("friction", friction, most=1.0)
    _check("utilisation", utilisation, positive=True, most=1.0)
    middle = geometry(thread).pitch_diameter_mm
    lead = thread.pitch_mm / (math.pi * middle)
    twist = TORSION * middle / stress_diameter_mm(thread) * (lead + FLANK * friction)
    return stress_area_mm2(thread) * utilisation * yield_MPa / math.sqrt(1 + 3 * twist**2)


def torque_per_N(
    thread: Thread, friction_thread: float, friction_head: float, bearing_diameter_mm: float
) -> float:
    """Millimetres of lever for each newton of preload: 0.16 P + 0.58 d_2 mu_G + D_Km/2 mu_K."""
    _check("friction in the thread", friction_thread, most=1.0)
    _check("friction under the head", friction_head, most=1.0)
    _check("bearing diameter", bearing_diameter_mm, positive=True)
    middle = geometry(thread).pitch_diameter_mm
    return (
        PITCH_PART * thread.pitch_mm
        + FLANK_PART * middle * friction_thread
        + bearing_diameter_mm / 2 * friction_head
    )


def torque_Nm(
    preload_N: float,
    thread: Thread,
    friction_thread: float,
    friction_head: float,
    bearing_diameter_mm: float,
) -> float:
    """The torque that makes this preload.

    M = F (0.16 P + 0.58 d_2 mu_G + D_Km/2 mu_K)

    Source: VDI 2230-1, R13.

    >>> from lastbolt.threads.designation import thread_of
    >>> round(torque_Nm(18628, thread_of("M8"), 0.12, 0.12, 10.315), 1)
    24.6
    """
    _check("preload", preload_N)
    return preload_N * torque_per_N(thread, friction_thread, friction_head, bearing_diameter_mm) / 1000


def preload_N(
    torque_Nm: float, thread: Thread, friction_thread: float, friction_head: float, bearing_diameter_mm: float
) -> float:
    """The preload that this torque makes: the inverse of `torque_Nm`, without prevailing torque.

    Source: VDI 2230-1, R13, solved for the preload.
    """
    _check("torque", torque_Nm)
    return torque_Nm * 1000 / torque_per_N(thread, friction_thread, friction_head, bearing_diameter_mm)


def torque_by_nut_factor_Nm(preload_N: float, nut_factor: float, major_mm: float) -> float:
    """T = K D F: all friction in one factor.

    Source: common practice, as in Shigley chapter 8 (from memory).

    >>> round(torque_by_nut_factor_Nm(20000, 0.2, 8), 3)
    32.0
    """
    _check("preload", preload_N)
    _check("nut factor", nut_factor, positive=True)
    _check("diameter", major_mm, positive=True)
    return nut_factor * major_mm / 1000 * preload_N


def with_prevailing_Nm(torque_Nm: float, prevailing_Nm: float) -> float:
    """What the wrench must read when a self-locking thread takes its own torque: both added.

    The prevailing torque is measured on this very screw, turning, on the last turn before the head seats.

    Source: US FAA AC 43.13-1B, 7-40 (from memory); common practice.
    """
    _check("torque", torque_Nm)
    _check("prevailing torque", prevailing_Nm)
    return torque_Nm + prevailing_Nm


def advance_mm(thread: Thread, angle_deg: float) -> float:
    """How far a screw goes in over an angle: P times angle / 360. How much of it is stretch is not known.

    >>> from lastbolt.threads.designation import thread_of
    >>> advance_mm(thread_of("M8"), 90)
    0.3125
    """
    _check("angle", angle_deg)
    return thread.pitch_mm * angle_deg / 360


ANGLE_CAUTIONS = (
    "angle stages only where the source states them, with its own first torque",
    "mark the head before the angle stage, and turn in one go",
    "a screw stretched past its yield is renewed where the source says so; never turn it a second time",
)


def _check(name: str, value: float, positive: bool = False, most: float = math.inf) -> None:
    """Refuse a number that is no such quantity."""
    if not math.isfinite(value) or value < 0 or (positive and value == 0) or value > most:
        raise ValueError(f"{name} {value:g} is not {'above' if positive else 'at least'} 0" + _upto(most))


def _upto(most: float) -> str:
    return "" if math.isinf(most) else f" and at most {most:g}"
