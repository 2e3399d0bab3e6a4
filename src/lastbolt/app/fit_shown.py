"""What a fit means: both parts' limits, clearance or interference, how far to warm the hub."""

import re
from collections.abc import Iterator

from msgspec import Struct

from lastbolt.measuring.expansion import coefficient, coefficient_range, heating_for_interference_K
from lastbolt.measuring.fits import bearing_clearance_um, fit, limits_um

_ASKED = re.compile(
    r"[ØøO⌀]?\s*(\d+(?:[.,]\d+)?)\s*(?:mm)?\s*([A-Z]{1,2}\d{1,2})?\s*[/ ]?\s*([a-z]{1,2}\d{1,2})?", re.ASCII
)
ROOM_C = 20.0
SLIDE_MM = 0.02
"""Play with which a warmed hub goes over its shaft before it cools (common practice, no source)."""
CARE = (
    "What heat a bearing, a seal, a gasket or a casting stands is for its maker to say. Oven or hot air, "
    "measured with a contact probe; no flame on magnesium, near fuel or seals. Hot parts burn hands."
)


class FitAsked(Struct, frozen=True):
    """A nominal size with the classes of hole and shaft; one of them may be missing."""

    nominal_mm: float
    hole: str = ""
    shaft: str = ""


class Told(Struct, frozen=True):
    """One thing that is said, and where it comes from."""

    what: str
    value: str
    source: str = ""


def fit_asked(words: str) -> FitAsked | None:
    """ "72 H7/m6", "Ø35 k6", "40H7"; None when it is not understood.

    >>> fit_asked("72 H7/m6"), fit_asked("35k6"), fit_asked("H7")
    (FitAsked(nominal_mm=72.0, hole='H7', shaft='m6'), FitAsked(nominal_mm=35.0, hole='', shaft='k6'), None)
    """
    found = _ASKED.fullmatch(words.strip())
    if not found or not (found[2] or found[3]):
        return None
    return FitAsked(float(found[1].replace(",", ".")), found[2] or "", found[3] or "")


def fit_shown(asked: FitAsked, hub: str = "", play_mm: float = SLIDE_MM) -> tuple[Told, ...]:
    """The limits of each part and what they make together; with `hub` how far to warm it.

    Raises:
        ValueError: a class or size that is not in the tables, a metal that is not known.
    """
    found = [
        Told(f"{kind} {asked.nominal_mm:g} {name}", _limits(asked.nominal_mm, name), "ISO 286-1")
        for kind, name in (("hole", asked.hole), ("shaft", asked.shaft)) if name
    ]  # fmt: skip
    if asked.hole and asked.shaft:
        made = fit(asked.nominal_mm, asked.hole, asked.shaft)
        found.append(Told("together", _together(made.min_um, made.max_um), made.source))
        if hub:
            found += _warmed(asked.nominal_mm, max(0.0, -made.min_um) / 1000, hub, play_mm)
    return tuple(found)


def measured_fit(
    hole_mm: float, shaft_mm: float, hub: str = "", play_mm: float = SLIDE_MM
) -> tuple[Told, ...]:
    """What two measured sizes make together."""
    between = hole_mm - shaft_mm
    kind = "clearance" if between >= 0 else "interference"
    found = [Told(kind, f"{abs(between):.4g} mm", "hole less shaft, both at one temperature")]
    return (*found, *(_warmed(shaft_mm, max(0.0, -between), hub, play_mm) if hub else ()))


def bearing_shown(bore_mm: float, group: str) -> tuple[Told, ...]:
    """The radial clearance of a ball bearing before it is fitted; empty when it is not in the table."""
    found = bearing_clearance_um(bore_mm, group)
    if found is None:
        return ()
    name = group.strip().upper() or "CN"
    source = "ISO 5753-1, deep groove ball bearing, not fitted (figures from memory)"
    fitted = Told("once fitted", "less: a tight seat takes part of it away", "common practice, no source")
    return (Told(f"radial clearance {name}", f"{found[0]:g} to {found[1]:g} µm", source), fitted)


def _limits(nominal_mm: float, name: str) -> str:
    low, high = limits_um(nominal_mm, name)
    return f"{nominal_mm + low / 1000:.4f} to {nominal_mm + high / 1000:.4f} mm ({low:+g} to {high:+g} µm)"


def _together(least: float, most: float) -> str:
    if least >= 0:
        return f"clearance of {least:g} to {most:g} µm"
    if most <= 0:
        return f"interference of {-most:g} to {-least:g} µm"
    return f"transition, from {-least:g} µm interference to {most:g} µm clearance"


def _warmed(diameter_mm: float, interference_mm: float, hub: str, play_mm: float) -> Iterator[Told]:
    known, spread = coefficient(hub), coefficient_range(hub)
    if known is None or spread is None:
        raise ValueError(f"how {hub} grows with warmth is not known")
    if interference_mm <= 0:
        yield Told("warming", "none: it goes together cold")
        return
    least, most = (
        heating_for_interference_K(interference_mm, diameter_mm, alpha, play_mm)
        for alpha in (spread[1], spread[0])
    )
    value = f"by {least:.0f} to {most:.0f} K, from {ROOM_C:g} °C to {ROOM_C + most:.0f} °C at most"
    yield Told(f"warm the hub of {hub}", f"{value}, to go over with {play_mm:g} mm play", known[1])
    yield Told("take care", CARE)
