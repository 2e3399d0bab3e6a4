"""A general torque where the source gives none: never the maker's, capped by the casting, and for some never.

Source: VDI 2230-1 at 90 % of the smallest yield strength; friction of its table A5 (from memory).
"""

import re
import tomllib
from functools import lru_cache
from importlib import resources
from typing import Any, Literal

from msgspec import Struct

from lastbolt.threads.classes import PropertyClass, class_of
from lastbolt.threads.designation import Thread
from lastbolt.threads.fittings import bearing_diameter_mm
from lastbolt.tightening.preload import assembly_preload_N, torque_Nm
from lastbolt.tightening.scatter import Scatter, preload_range_N, scatter_of
from lastbolt.tightening.stripping import Ceiling, ceiling_torque_Nm, metal, metals

Condition = Literal["dry", "oiled", "plated", "unknown"]
FRICTION: dict[str, tuple[float, float]] = {
    "dry": (0.12, 0.24),
    "oiled": (0.08, 0.16),
    "plated": (0.10, 0.20),
    "unknown": (0.08, 0.24),
}
"""Least friction, which the value is for, and the most: VDI 2230-1 table A5, from memory."""
UTILISATION = 0.9
SHORT_ENGAGEMENT = 1.0
"""Diameters of engagement taken where nobody told: less than any rule for light metal asks for."""
WORD = re.compile(r"[^\W_]+")


class GeneralTorque(Struct, frozen=True):
    """General practice for a screw of this size and class, not the maker's value.

    `low_Nm` and `high_Nm`: what the least and the most friction of the condition would ask for.
    `preload_low_N` and `preload_high_N`: what `torque_Nm` makes of it. `capped_by`: the tapped metal, or "".
    """

    torque_Nm: float
    low_Nm: float
    high_Nm: float
    capped_by: str
    words: str
    source: str
    scatter: Scatter
    preload_low_N: float
    preload_high_N: float
    ceiling: Ceiling | None = None


class NoGeneralTorque(Struct, frozen=True):
    """No value is shown, and why."""

    why: str


def general_torque(
    thread: Thread,
    property_class: str,
    condition: str,
    purpose: str,
    metal: str = "",
    engagement_mm: float | None = None,
) -> GeneralTorque | NoGeneralTorque:
    """The general torque, or why there is none. The maker's value comes first wherever there is one.

    Args:
        thread: metric or unified
        property_class: "8.8", "grade 5"; unknown: no value
        condition: "dry", "oiled", "plated" or "unknown"
        purpose: what it holds, in words; none, or one of refused.toml: no value
        metal: what it is tapped into, "" for a nut or not told
        engagement_mm: length of full thread in that metal [mm]
    """
    refused = why_refused(purpose)
    if refused or not WORD.search(purpose):
        return NoGeneralTorque(
            refused or "what it holds is not told, and for some things there is no general torque"
        )
    found = class_of(thread, property_class)
    arm = bearing_diameter_mm(thread)
    why = _unknown(thread, property_class, found, arm, condition) or _unknown_metal(metal, engagement_mm)
    if why or found is None or arm is None:
        return NoGeneralTorque(why)
    least, most = FRICTION[condition]
    low, high = (
        torque_Nm(assembly_preload_N(thread, found.yield_min_MPa, mu, UTILISATION), thread, mu, mu, arm)
        for mu in (least, most)
    )
    ceiling = _ceiling(thread, metal, engagement_mm, least, arm)
    capped = ceiling is not None and ceiling.torque_Nm < low
    if ceiling is not None:
        low, high = (min(value, ceiling.torque_Nm) for value in (low, high))
    torque = low
    loads = preload_range_N(torque, thread, least, most, arm)
    return GeneralTorque(
        torque,
        low,
        high,
        metal if capped else "",
        _words(thread, found, condition, ceiling if capped else None, (metal, engagement_mm)),
        f"VDI 2230-1 at {UTILISATION:.0%} of yield, torsion factor 1.5; {found.source}",
        scatter_of("torque wrench, friction estimated"),
        *loads,
        ceiling,
    )


def _unknown(
    thread: Thread, name: str, found: PropertyClass | None, arm: float | None, condition: str
) -> str:
    if thread.system == "pipe":
        return f"{thread.designation} is a pipe thread: it seals, and no general torque holds for it"
    if not name.strip():
        return "the property class is not known, so neither is the strength: no general torque"
    if found is None:
        return f"no class {name!r} is known for {thread.designation}: no general torque"
    if arm is None:
        return f"no head is known for {thread.designation}, so neither is its friction: no general torque"
    if condition not in FRICTION:
        return f"condition {condition!r} is not known ({', '.join(FRICTION)}): its friction may be far lower"
    return ""


def _unknown_metal(name: str, engagement_mm: float | None) -> str:
    if name and metal(name) is None:
        known = ", ".join(one.name for one in metals())
        return f"the metal {name!r} is not known ({known}), so neither is what its thread bears"
    if engagement_mm is not None and not engagement_mm > 0:
        return f"an engagement of {engagement_mm:g} mm holds nothing"
    return ""


def _ceiling(
    thread: Thread, name: str, engagement_mm: float | None, friction: float, arm: float
) -> Ceiling | None:
    tapped = metal(name) if name else None
    if tapped is None:
        return None
    length = SHORT_ENGAGEMENT * thread.major_mm if engagement_mm is None else engagement_mm
    return ceiling_torque_Nm(thread, tapped, length, friction, arm)


def _words(
    thread: Thread,
    found: PropertyClass,
    condition: str,
    ceiling: Ceiling | None,
    tapped: tuple[str, float | None],
) -> str:
    least, most = FRICTION[condition]
    said = [
        f"General practice, not the maker's value: {thread.designation}, {found.name}, {condition} "
        f"(for friction {least:g}, the least it may be; it may be up to {most:g}, and then holds less)"
    ]
    name, engagement = tapped
    if ceiling is not None:
        said.append(f"held down by the tapped metal: {ceiling.words}")
    if not name:
        said.append("what it is tapped into is not told: in light metal its thread may strip first")
    elif engagement is None:
        said.append(f"engagement not told: {SHORT_ENGAGEMENT:g} diameter taken")
    return "; ".join(said) + "."


def why_refused(purpose: str) -> str:
    """Why no general torque is shown for this purpose; "" where nothing in its words speaks against one.

    >>> why_refused("big-end bolts").partition(":")[0], why_refused("bracket, socket head screw")
    ('connecting rods', '')
    """
    words = [_singular(word) for word in WORD.findall(purpose.lower())]
    data = _refused()
    bare = words
    for phrase in data["without_gasket"]["words"]:
        bare = _without(bare, _phrase(phrase))
    for row in data["refused"]:
        searched = bare if row.get("cover") else words
        if row.get("cover") and len(bare) < len(words):
            continue
        if any(_stands(searched, _phrase(phrase), row.get("not_before", ())) for phrase in row["words"]):
            return f"{row['what']}: {row['why']}. Find the maker's value"
    return ""


def _phrase(phrase: str) -> tuple[str, ...]:
    return tuple(_singular(word) for word in WORD.findall(phrase))


def _singular(word: str) -> str:
    """The word without its plural s; "mains" is a word of its own."""
    plural = len(word) > 3 and word.endswith("s") and not word.endswith("ss") and word != "mains"
    return word[:-1] if plural else word


def _stands(words: list[str], phrase: tuple[str, ...], not_before: tuple[str, ...]) -> bool:
    size = len(phrase)
    for at in range(len(words) - size + 1):
        if tuple(words[at : at + size]) == phrase and not (at and words[at - 1] in not_before):
            return True
    return False


def _without(words: list[str], phrase: tuple[str, ...]) -> list[str]:
    size = len(phrase)
    for at in range(len(words) - size + 1):
        if tuple(words[at : at + size]) == phrase:
            return words[:at] + words[at + size :]
    return words


@lru_cache(maxsize=1)
def _refused() -> dict[str, Any]:
    return tomllib.loads((resources.files("lastbolt.tightening") / "refused.toml").read_text("utf-8"))
