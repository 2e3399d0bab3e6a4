"""Which thread is it? Candidates for what a student measured, best first, and what would part them."""

from typing import Literal

from msgspec import Struct

from lastbolt.threads.designation import Thread, all_threads
from lastbolt.threads.geometry import geometry, limits_of_size
from lastbolt.threads.tables import INCH_MM

PITCH_SLACK = 0.06
"""Part of the pitch within which a student's pitch counts as the thread's (common practice)."""
SMALL_MM, SMALL_OF_PITCH = 0.10, 0.15
"""How much below its smallest limit a worn or dirty thread may measure (common practice, no source)."""
LARGE_MM = 0.06
"""How much above its nominal size: burrs, dirt, the caliper."""
MOST = 6
COMMON = {"coarse": 0.0, "fine": 0.15, "other": 0.3}
RARER_PITCH = 0.02


class Match(Struct, frozen=True):
    """A thread that the measurements allow. Differences: measured less nominal; None where not measured."""

    thread: Thread
    difference_mm: float
    pitch_difference_mm: float | None
    words: str


def identify(
    major_mm: float,
    pitch_mm: float | None = None,
    threads_per_inch: float | None = None,
    of: Literal["outside", "inside"] = "outside",
) -> tuple[Match, ...]:
    """The threads that a measured diameter (over the crests; of a hole: its bore) and pitch allow.

    More than one where the measurements do not part them. A screw measures below its nominal size, worn
    ones more so; a nut's bore measures above the basic minor diameter.

    Source: limits of ISO 965-1 (6g, 6H) and ASME B1.1 (2A, 2B); slack: common practice, no source.

    >>> [m.thread.designation for m in identify(7.86, 1.25)]
    ['M8']
    """
    if not major_mm > 0 or (pitch_mm is not None and not pitch_mm > 0):
        return ()
    if pitch_mm is None and threads_per_inch is not None:
        if not threads_per_inch > 0:
            return ()
        pitch_mm = INCH_MM / threads_per_inch
    found = []
    for thread in all_threads():
        score = _score(thread, major_mm, pitch_mm, of)
        if score is not None:
            found.append((score, thread))
    found.sort(key=lambda item: (item[0], item[1].designation))
    threads = [thread for _, thread in found[:MOST]]
    return tuple(_match(thread, major_mm, pitch_mm, of, threads) for thread in threads)


def _score(thread: Thread, measured: float, pitch: float | None, of: str) -> float | None:
    """How badly it fits: 0 in the middle of what a new one measures; None: it cannot be."""
    low, high = _window(thread, of)
    wear = SMALL_MM + SMALL_OF_PITCH * thread.pitch_mm
    below, above = (wear, LARGE_MM) if of == "outside" else (LARGE_MM, wear)
    if not low - below <= measured <= high + above:
        return None
    off = max(low - measured, measured - high, 0.0)
    score = off / (below if measured < low else above) + COMMON[thread.series]
    score += 0.1 * abs(measured - (low + high) / 2) / (high - low)
    if pitch is None:
        return score
    part = abs(pitch - thread.pitch_mm) / thread.pitch_mm
    return None if part > PITCH_SLACK else score + part / RARER_PITCH


def _window(thread: Thread, of: str) -> tuple[float, float]:
    """What a new thread of this size measures."""
    inside = of == "inside"
    metric = thread.system == "metric"
    name = ("6H" if metric else "2B") if inside else ("6g" if metric else "2A")
    limits = limits_of_size(thread, name)
    nominal = _nominal(thread, of)
    if limits is None:
        give = 0.15 * thread.pitch_mm
        return (nominal, nominal + give) if inside else (nominal - give, nominal)
    low, high = (
        (limits.minor_min_mm, limits.minor_max_mm) if inside else (limits.major_min_mm, limits.major_max_mm)
    )
    return (low if low is not None else nominal, high if high is not None else nominal)


def _nominal(thread: Thread, of: str) -> float:
    return geometry(thread).minor_internal_mm if of == "inside" else thread.major_mm


def _match(thread: Thread, measured: float, pitch: float | None, of: str, all_: list[Thread]) -> Match:
    difference = round(measured - _nominal(thread, of), 4)
    by_pitch = None if pitch is None else round(pitch - thread.pitch_mm, 4)
    return Match(thread, difference, by_pitch, _words(thread, difference, of, all_, pitch is not None))


def _words(thread: Thread, difference: float, of: str, all_: list[Thread], pitched: bool) -> str:
    where = "bore" if of == "inside" else "crests"
    way = "below" if difference < 0 else "above"
    said = [f"measured {abs(difference):.2f} mm {way} the nominal {where} ({_nominal(thread, of):.2f} mm)"]
    rivals = [other for other in all_ if other.designation != thread.designation]
    close = [r.designation for r in rivals if r.system != thread.system and _alike(r, thread)]
    if close:
        said.append(
            f"close pair with {', '.join(close)}, inch and metric: count threads over 25.4 mm, never force "
            "one into the other"
        )
    elif rivals:
        said.append("not parted from the others: " + ("try a known nut" if pitched else "measure the pitch"))
    return "; ".join(said)


def _alike(one: Thread, other: Thread) -> bool:
    return (
        abs(one.pitch_mm - other.pitch_mm) <= PITCH_SLACK * one.pitch_mm
        and abs(one.major_mm - other.major_mm) <= SMALL_MM + 0.5 * one.pitch_mm
    )
