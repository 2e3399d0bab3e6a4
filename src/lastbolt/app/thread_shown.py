"""What a thread designation, or a measured thread, means at the bench: each number with its source."""

from collections.abc import Iterator

from msgspec import Struct

from lastbolt.threads.classes import class_of, proof_load_N, tensile_load_min_N
from lastbolt.threads.designation import Thread
from lastbolt.threads.fittings import (
    clearance_hole_mm,
    other_wrench_mm,
    repair_insert,
    source_of,
    tap_drill_mm,
    wrench_mm,
)
from lastbolt.threads.geometry import geometry, stress_area_mm2
from lastbolt.tightening.general import NoGeneralTorque, general_torque

PER_KILO = 1000.0


class Told(Struct, frozen=True):
    """One line: what it is, the value with its unit, and who says so."""

    what: str
    value: str
    source: str = ""


class Asked(Struct, frozen=True, omit_defaults=True):
    """What beside the thread is known: class, what it holds, how it is wetted, the metal it goes into."""

    property_class: str = ""
    purpose: str = ""
    condition: str = "unknown"
    metal: str = ""
    engagement_mm: float | None = None


def thread_shown(thread: Thread, asked: Asked) -> tuple[Told, ...]:
    """Everything that is known of a thread, the wrench first; nothing is made up for what is not."""
    return (*_sizes(thread), *_areas(thread), *_loads(thread, asked), *_torque(thread, asked))


def _sizes(thread: Thread) -> Iterator[Told]:
    hand = ", LEFT-HAND" if thread.left_hand else ""
    yield Told("diameter and pitch", f"{thread.major_mm:g} x {thread.pitch_mm:.4g} mm{hand}")
    wrenches = [
        f"{size:g} mm {head}"
        for head, size in (("hexagon", wrench_mm(thread)), ("socket head key", wrench_mm(thread, "socket")))
        if size is not None
    ]
    other = other_wrench_mm(thread)
    also = f" (older: {other:g} mm)" if other is not None else ""
    if wrenches:
        yield Told("wrench", ", ".join(wrenches) + also, source_of(thread, "hexagon"))
    drill, hole, insert = tap_drill_mm(thread), clearance_hole_mm(thread), repair_insert(thread)
    if drill is not None:
        yield Told("tap drill", f"{drill:g} mm", source_of(thread, "tap"))
    if hole is not None:
        yield Told("clearance hole", f"{hole:g} mm (medium)", source_of(thread, "clearance"))
    if insert is not None:
        value = f"drill {insert.drill_mm:g} mm, tap {insert.tap_major_mm:.2f} mm outside"
        yield Told("repair insert", value, insert.source)


def _areas(thread: Thread) -> Iterator[Told]:
    if thread.system == "pipe":
        return
    made = geometry(thread)
    core = f"core of the hole {made.minor_internal_mm:.3f} mm"
    yield Told("geometry", f"pitch diameter {made.pitch_diameter_mm:.3f} mm, {core}", made.source)
    standard = "ISO 898-1" if thread.system == "metric" else "ASME B1.1"
    yield Told("stress area", f"{stress_area_mm2(thread):.1f} mm²", standard)


def _loads(thread: Thread, asked: Asked) -> Iterator[Told]:
    if not asked.property_class:
        return
    found = class_of(thread, asked.property_class)
    proof, least = (load(thread, asked.property_class) for load in (proof_load_N, tensile_load_min_N))
    if found is None or proof is None or least is None:
        yield Told(f"class {asked.property_class}", "not stated for this thread")
        return
    value = f"proof load {proof / PER_KILO:.1f} kN, breaks at no less than {least / PER_KILO:.1f} kN"
    yield Told(f"class {found.name}", value, found.source)


def _torque(thread: Thread, asked: Asked) -> Iterator[Told]:
    if not asked.purpose:
        return
    found = general_torque(
        thread, asked.property_class, asked.condition, asked.purpose, asked.metal, asked.engagement_mm
    )
    if isinstance(found, NoGeneralTorque):
        yield Told("no general torque", found.why)
        return
    value = f"about {found.torque_Nm:.0f} N·m: {found.words}"
    yield Told("general torque, not the maker's", value, found.source)
    scatter = found.scatter
    band = f"{found.preload_low_N / PER_KILO:.1f} to {found.preload_high_N / PER_KILO:.1f} kN"
    said = f"{band}; a torque wrench alone scatters by {scatter.low:.0%} to {scatter.high:.0%}"
    yield Told("preload that it makes", said, scatter.source)
