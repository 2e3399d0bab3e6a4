"""The wrench: what to set with an adaptor on it, and whether it is fit for a torque."""

import math
import re

from msgspec import Struct

from lastbolt.tightening.units_agree import newton_metres

USABLE_FROM = 0.2
"""Part of the top of its scale below which a torque wrench is not trusted (ISO 6789-1: the rated range)."""


class Wrench(Struct, frozen=True):
    """A torque wrench as the shop's list has it. `calibrated_until` is "2027-03-31", or "": unknown. `unit`:
    in which its scale is, and doubts are said."""

    name: str
    low_Nm: float
    high_Nm: float
    resolution_Nm: float
    calibrated_until: str
    accuracy_fraction: float = 0.04
    unit: str = "N·m"


def setting_Nm(torque_Nm: float, wrench_length_mm: float, adaptor_mm: float, angle_deg: float = 0.0) -> float:
    """What to set on the wrench so that the screw gets `torque_Nm` through an adaptor.

    T_set = T L / (L + E cos a). Straight ahead (0 degrees) the lever is longer, so set less; at 90 degrees
    nothing changes; turned back (180) set more. The hand stays on the middle of the grip.

    Args:
        torque_Nm: at the screw, >= 0 [N·m]
        wrench_length_mm: from the middle of the grip to the drive, > 0 [mm]
        adaptor_mm: from the drive to the middle of the screw, >= 0 [mm]
        angle_deg: between wrench and adaptor, 0: straight ahead [degrees]
    Source: US Army TM 9-243 and others, torque adaptors (from memory).

    >>> round(setting_Nm(100, 400, 100), 1), round(setting_Nm(100, 400, 100, 90), 1)
    (80.0, 100.0)
    """
    if not all(math.isfinite(v) for v in (torque_Nm, wrench_length_mm, adaptor_mm, angle_deg)):
        raise ValueError("torque, lengths and angle must be numbers")
    if torque_Nm < 0 or wrench_length_mm <= 0 or adaptor_mm < 0:
        raise ValueError("a torque or length below 0")
    lever = wrench_length_mm + adaptor_mm * math.cos(math.radians(angle_deg))
    if lever <= 0:
        raise ValueError("the adaptor reaches back past the hand: no setting gives this torque")
    return torque_Nm * wrench_length_mm / lever


def fits(wrench: Wrench, torque_Nm: float, today: str) -> tuple[str, ...]:
    """Doubts about this wrench for this torque, in words; () where there are none.

    Source: ISO 6789-1 (rated range from 20 % of the top; calibration), common practice.

    >>> fits(Wrench("blue", 20, 100, 1, "2027-03-31"), 50, "2026-12-01")
    ()
    """
    doubts = []
    bottom = max(wrench.low_Nm, USABLE_FROM * wrench.high_Nm)
    said, top = _in_unit(torque_Nm, wrench), _in_unit(wrench.high_Nm, wrench)
    if not (math.isfinite(torque_Nm) and torque_Nm > 0):
        doubts.append(f"{torque_Nm:g} N·m is no torque to set")
    elif torque_Nm < bottom:
        good = _in_unit(bottom, wrench).partition(" ")[0]
        doubts.append(f"{said} is below what {wrench.name} is good for: {good} to {top}")
    elif torque_Nm > wrench.high_Nm:
        doubts.append(f"{said} is above the top of {wrench.name}: {top}")
    elif wrench.resolution_Nm > 2 * wrench.accuracy_fraction * torque_Nm:
        apart = _in_unit(wrench.resolution_Nm, wrench)
        doubts.append(f"the marks of {wrench.name}, {apart} apart, are too coarse for it")
    if not wrench.low_Nm < wrench.high_Nm:
        doubts.append(f"the range of {wrench.name} is not known")
    return (*doubts, *_calibration(wrench, today))


def _in_unit(torque_Nm: float, wrench: Wrench) -> str:
    """A torque in the unit of the wrench's own scale."""
    return f"{torque_Nm / (newton_metres(wrench.unit) or 1.0):.3g} {wrench.unit}"


def _calibration(wrench: Wrench, today: str) -> tuple[str, ...]:
    """Dates are compared as written: both must be year-month-day."""
    day = re.compile(r"\d{4}-\d{2}-\d{2}", re.A)
    if not day.fullmatch(wrench.calibrated_until):
        return (f"it is not known until when {wrench.name} is calibrated",)
    if not day.fullmatch(today):
        return ("today's date is not known, so neither is whether the calibration holds",)
    if wrench.calibrated_until < today:
        return (f"{wrench.name} is out of calibration since {wrench.calibrated_until}",)
    return ()
