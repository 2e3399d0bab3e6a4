"""The general torque of a joint for which the sources give none, and what friction makes of any torque."""

from collections.abc import Mapping, Sequence

from msgspec import Struct

from lastbolt.app.class_said import class_said, general_row
from lastbolt.app.plan_shown import torque_words
from lastbolt.threads.designation import Thread, thread_of
from lastbolt.threads.fittings import bearing_diameter_mm
from lastbolt.tightening.general import FRICTION, NoGeneralTorque, general_torque, why_refused
from lastbolt.tightening.scatter import preload_range_N, scatter_of
from lastbolt.words.citation import Citation
from lastbolt.words.joint import JointPlace
from lastbolt.words.machine import Machine, TorqueValue
from lastbolt.words.plan import Plan
from lastbolt.words.quantity import Kind
from lastbolt.words.where import where

KILO = 1000.0
CLASS = "no source or person tells the strength class of the fasteners"


class General(Struct, frozen=True):
    """The value in words and who says so; or why there is none."""

    words: str = ""
    source: str = ""
    why_not: str = ""
    scatter: str = ""
    citations: tuple[Citation, ...] = ()


NO_GENERAL = General()


def general_of(
    places: Sequence[JointPlace], kinds: Mapping[str, Kind], plan: Plan, machine: Machine
) -> General:
    """The sources' own general table first, then the standard's; none for several sizes, or where refused."""
    own = [(kinds.get(one.id) or one.kind, one.metal) for one in places]
    found = {(kind.thread, kind.strength, metal) for kind, metal in own if kind is not None}
    if len(found) != 1:
        return General(
            why_not="no source gives a torque, and the joint has fasteners of several sizes or classes"
        )
    ((thread_words, strength, metal),) = found
    thread = thread_of(thread_words) if thread_words else None
    said = None if strength else class_said(machine)
    if (refused := why_refused(plan.goal)) or thread is None:
        why = f"no general one is shown: {refused}" if refused else CLASS
        return General(why_not=f"no source gives a torque, and {why}")
    if not strength and (row := general_row(machine, thread_words or "")):
        cited = row.citations or row.value.citations
        return General(
            torque_words(row.value), "the source's general table, for screws that no other line names", "",
            _scatter_at(row.value, thread), cited,
        )  # fmt: skip
    if not strength and said is None:
        return General(why_not=f"no source gives a torque, and {CLASS}")
    made = general_torque(thread, strength or (said.name if said else ""), "unknown", plan.goal, metal)
    if isinstance(made, NoGeneralTorque):
        return General(why_not=f"no source gives a torque, and no general one is shown: {made.why}")
    by = f"; class by {where(said.citations[0])}: {said.words}" if said and said.citations else ""
    return General(
        f"at most about {made.torque_Nm:.0f} N·m ({made.words}{by}) [{made.source}]",
        "general practice, not the maker's", "",
        _range_words(made.preload_low_N, made.preload_high_N), said.citations if said else (),
    )  # fmt: skip


def scatter_words(
    places: Sequence[JointPlace], kinds: Mapping[str, Kind], values: Sequence[TorqueValue], machine: Machine
) -> str:
    """What friction makes of the last of the sources' torques; nothing for several threads."""
    threads = {kind.thread for one in places if (kind := kinds.get(one.id) or one.kind) and kind.thread}
    thread = thread_of(threads.pop()) if len(threads) == 1 else None
    return _scatter_at(values[-1], thread) if thread is not None and values else ""


def _scatter_at(value: TorqueValue, thread: Thread) -> str:
    arm = bearing_diameter_mm(thread)
    if value.torque_Nm is None or arm is None or value.angle_deg or value.limit:
        return ""
    return _range_words(*preload_range_N(value.torque_Nm[1], thread, *FRICTION["unknown"], arm))


def _range_words(low_N: float, high_N: float) -> str:
    low, high = FRICTION["unknown"]
    wrench = scatter_of("torque wrench, friction estimated")
    return (
        f"By friction ({low:g} to {high:g}, surface not told) it clamps with {low_N / KILO:.0f} to "
        f"{high_N / KILO:.0f} kN: clean, oil or not as the source says. [{wrench.source}]"
    )
