"""Designations of threads: metric coarse and fine, unified, pipe. What is not understood gives nothing.

Sources: ISO 965-1 and ISO 261 (metric), ASME B1.1 (unified), ISO 228-1, ISO 7-1 and ASME B1.20.1 (pipe).
"""

import re
from collections.abc import Iterator
from functools import lru_cache
from typing import Literal

from msgspec import Struct

from lastbolt.threads.tables import INCH_MM, inches, key_of, rows, table

System = Literal["metric", "unified", "pipe"]
Series = Literal["coarse", "fine", "other"]


class Thread(Struct, frozen=True):
    """A thread by its designation. `tolerance` is as written ("6g", "2A"), "" where none is."""

    designation: str
    system: System
    series: Series
    major_mm: float
    pitch_mm: float
    left_hand: bool = False
    tolerance: str = ""


UNSURE = 6.0
"""No pitch of the metric series is larger [mm]: a larger number after the diameter is a length."""
VULGAR = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
LONGEST = 80
_LEFT = re.compile(r"[\s\-–,(]*\b(?:l\.?h\.?|left[\s-]?hand(?:ed)?|left)(?:\b|$)\.?\)?", re.I)
_NUMBER = r"\d{1,3}(?:\.\d{1,3})?"
_FRACTION = r"(?:\d{1,2}[\s-]+)?\d{1,2}/\d{1,2}"
_INCH_END = r"(?:\s*(?:\"|''|in(?:ch)?\b\.?))?"
_LENGTH = (
    rf"(?:\s*x\s*(?P<length>{_FRACTION}|{_NUMBER})\s*(?:mm|\"|''|in(?:ch)?\b\.?)?(?:\s*(?:long|lg)\b\.?)?)?"
)
_CLASS = r"(?:[\s-]+(?:grade\s*[1-8](?:\.[12])?|\d{1,2}\.\d|A[1-5]-\d{2,3}))?"
_METRIC = re.compile(
    rf"m\s*(?P<major>{_NUMBER})(?:\s*[x-]\s*(?P<first>{_NUMBER})(?:\s*mm)?)??"
    rf"(?:[\s-]*(?P<tolerance>[3-9][defgh](?:[3-9][defgh])?|[4-8][gh](?:/[3-9][defgh](?:[3-9][defgh])?)?))?"
    rf"{_LENGTH}{_CLASS}",
    re.I | re.A,
)
_UNIFIED = re.compile(
    rf"(?P<number>#|no\.?\s*|nr\.?\s*)?\s*(?P<size>{_FRACTION}|\d{{1,2}}|0?\.\d{{2,4}}){_INCH_END}"
    rf"(?:\s*[-x\s]\s*(?P<tpi>\d{{1,2}}(?:\.5)?)(?:\s*tpi)?)?"
    rf"(?:[\s-]*(?P<series>unc|unf|unef|uns|un|nc|nf))?(?:[\s-]*(?P<tolerance>[123][ab]))?{_LENGTH}{_CLASS}",
    re.I | re.A,
)
_SIZE = rf"(?P<size>{_FRACTION}|[1-6])"
_PIPE = (
    re.compile(
        rf"(?P<kind>g|rp|rc|r|bspp|bspt|bsp|nptf|npt)[\s-]*{_SIZE}{_INCH_END}\s*(?P<tolerance>[ab])?",
        re.I | re.A,
    ),
    re.compile(
        rf"{_SIZE}{_INCH_END}(?:\s*-\s*(?P<tpi>\d{{1,2}}(?:\.5)?))?\s*-?\s*(?P<kind>bspp|bspt|bsp|nptf|npt)",
        re.I | re.A,
    ),
)
_LEAD = re.compile(r"(?:thread|bolt|screw|stud|nut)s?\b[\s:]*", re.I)


def thread_of(words: str) -> Thread | None:
    """The thread that a designation names, or None: nothing is guessed.

    A number behind the diameter is a pitch only where the standard pairs it with that diameter; otherwise it
    is a length, or, where it is too short for one, the designation is not understood.

    >>> thread_of("M 10 × 1,25 LH - 6g")
    Thread(designation='M10x1.25', system='metric', series='fine', major_mm=10.0, pitch_mm=1.25, \
left_hand=True, tolerance='6g')
    >>> thread_of("M8x45").pitch_mm, thread_of('7/16"-14').designation, thread_of("M8x1.1")
    (1.25, '7/16-14 UNC', None)
    """
    if len(words) > LONGEST:
        return None
    text = _plain(words)
    text, left = _LEFT.subn(" ", text)
    text = re.sub(r"\s*-\s*(?=$|\s*-)", " ", " ".join(text.split())).strip()
    for reader in (_metric, _pipe, _unified):
        found = reader(text, left > 0)
        if found is not None:
            return found
    return None


def _plain(words: str) -> str:
    for sign, fraction in VULGAR.items():
        words = words.replace(sign, f" {fraction}")
    words = re.sub(r"(?<=\d),(?=\d)", ".", words)
    words = re.sub(r"[×✕*]|(?<=[\d\s])[xX](?=[\d\s])", "x", words)
    words = re.sub(r"[‐‑–—−]", "-", words)
    words = words.replace("″", '"').replace("”", '"').replace("“", '"').replace("№", "#").replace("⁄", "/")
    return _LEAD.sub("", " ".join(words.split()), count=1)


def _metric(text: str, left: bool) -> Thread | None:
    match = _METRIC.fullmatch(text)
    if match is None:
        return None
    major = float(match["major"])
    pitches = metric_pitches(major)
    if not pitches or "/" in (match["length"] or ""):
        return None
    numbers = [float(part) for part in (match["first"], match["length"]) if part]
    coarse, fine = pitches
    pitch = next((p for p in (coarse, *fine) if p and numbers and p == numbers[0]), None)
    if pitch is None:
        pitch = coarse
        if pitch is None or (numbers and numbers[0] < major / 2 and numbers[0] <= UNSURE) or len(numbers) > 1:
            return None
    series: Series = "coarse" if pitch == coarse else "fine"
    name = f"M{key_of(major)}" if pitch == coarse else f"M{key_of(major)}x{key_of(pitch)}"
    return Thread(name, "metric", series, major, pitch, left, _as_written(match["tolerance"], text))


def _as_written(tolerance: str | None, text: str) -> str:
    """The tolerance with its own letters: "6g" and "6H" are different things."""
    if not tolerance:
        return ""
    at = text.find(tolerance)
    return text[at : at + len(tolerance)]


def metric_pitches(major_mm: float) -> tuple[float | None, tuple[float, ...]] | None:
    """Coarse pitch (None: there is none) and fine pitches that ISO 261 pairs with a diameter, if it has it.

    >>> metric_pitches(8.0), metric_pitches(13.0)
    ((1.25, (1.0, 0.75)), None)
    """
    row = table("metric")["pitches"].get(key_of(major_mm))
    return None if row is None else (float(row[0]) or None, tuple(float(p) for p in row[1:]))


def _unified(text: str, left: bool) -> Thread | None:
    match = _UNIFIED.fullmatch(text)
    if match is None or not (match["tpi"] or match["series"]):
        return None
    series, tpi = (match["series"] or "").upper(), match["tpi"]
    series = {"NC": "UNC", "NF": "UNF"}.get(series, series)
    for thread in _unified_threads():
        size, rest = thread.designation.rsplit("-", 1)
        own_tpi, own_series = rest.split()
        if not _same_size(match["size"], size, bool(match["number"])):
            continue
        if (tpi is None or float(tpi) == float(own_tpi)) and series in ("", "UN", own_series):
            tolerance = (match["tolerance"] or "").upper()
            return Thread(
                thread.designation,
                "unified",
                thread.series,
                thread.major_mm,
                thread.pitch_mm,
                left,
                tolerance,
            )
    return None


def _same_size(written: str, size: str, numbered: bool) -> bool:
    written = re.sub(r"[\s-]+", " ", written)
    if "/" in written or written.startswith((".", "0.")):
        if numbered:
            return False
        try:
            return abs(inches(written) - inches(size)) < 0.0006
        except (ValueError, ZeroDivisionError):
            return False
    return f"#{written}" == size or (not numbered and written == size)


@lru_cache(maxsize=1)
def _unified_threads() -> tuple[Thread, ...]:
    data = table("unified")
    kinds: tuple[tuple[str, Series], ...] = (
        ("UNC", "coarse"), ("UNF", "fine"), ("UNEF", "other"), ("UNS", "other"),
    )  # fmt: skip
    return tuple(
        Thread(
            f"{size}-{tpi:g} {name}",
            "unified",
            series,
            round(inches(size) * INCH_MM, 4),
            INCH_MM / float(tpi),
        )
        for name, series in kinds
        for size, tpi in data[name].items()
    )


def _pipe(text: str, left: bool) -> Thread | None:
    match = next((m for pattern in _PIPE if (m := pattern.fullmatch(text))), None)
    if match is None:
        return None
    kind = match["kind"].upper()
    size = re.sub(r"[\s-]+", " ", match["size"])
    section = table("pipe")["taper" if kind.startswith("NPT") else "parallel"]
    if size not in section:
        return None
    tpi = section[size][0]
    written = match.groupdict()
    if written.get("tpi") and float(written["tpi"]) != tpi:
        return None
    made = _pipe_thread(kind, size)
    return Thread(
        made.designation,
        "pipe",
        "other",
        made.major_mm,
        made.pitch_mm,
        left,
        (written.get("tolerance") or "").upper(),
    )


def _pipe_thread(kind: str, size: str) -> Thread:
    kind = {"BSPP": "G", "BSP": "G", "BSPT": "R"}.get(kind, kind)
    if kind.startswith("NPT"):
        tpi, outside = table("pipe")["taper"][size]
        name = f"{size}-{tpi:g} {kind}"
        return Thread(name, "pipe", "other", round(outside * INCH_MM, 3), INCH_MM / tpi)
    tpi, major = table("pipe")["parallel"][size]
    name = f"{kind.capitalize()} {size}"
    return Thread(name, "pipe", "other", float(major), INCH_MM / tpi)


def all_threads() -> Iterator[Thread]:
    """Every thread of the tables, for the one that is looked for by measure."""
    for major in rows(table("metric")["pitches"]):
        coarse, fine = metric_pitches(float(major)) or (None, ())
        if coarse:
            yield Thread(f"M{major}", "metric", "coarse", float(major), coarse)
        for pitch in fine:
            yield Thread(f"M{major}x{key_of(pitch)}", "metric", "fine", float(major), pitch)
    yield from _unified_threads()
    for section, kind in (("parallel", "G"), ("taper", "NPT")):
        for size in rows(table("pipe")[section]):
            yield _pipe_thread(kind, size)
