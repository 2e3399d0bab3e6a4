"""The cautions at the head of a sheet: the manual's own general warnings first, then the usual ones.

General are the warnings of a section that tells no steps or stands among the general matters, and the words
of a section about safety. Those of a task stand at that task.
"""

import re
from collections.abc import Iterable, Iterator
from itertools import groupby
from typing import NamedTuple

from lastbolt.app.pages import CautionShown
from lastbolt.app.shown import Shown, cautions_shown
from lastbolt.words.machine import Machine, Procedure
from lastbolt.words.plan import Plan

ABOUT_SAFETY = re.compile(r"\b(safety|warnings?|cautions?|dangers?|precautions?)\b", re.IGNORECASE)
GENERAL = re.compile(r"\b(general|introduction|before (?:you )?(?:begin|start)\w*)\b", re.IGNORECASE)
EXPLAINS = re.compile(r"\bsignal\b|\bsymbols?\b|\bexplain", re.IGNORECASE)
"""A section that only says what its signal words mean."""
MOST_LETTERS = 420
USUAL: tuple[CautionShown, ...] = (
    CautionShown(
        "warning",
        "Before anything is loosened: stop the machine and keep it from starting; let out pressure, springs, "
        "fuel and charge; take every load off; hold what can fall, swing or turn on a stand or hoist rated "
        "for its weight. Goggles and gloves.",
    ),
    CautionShown(
        "caution",
        "Force only when nothing holds: pull evenly and lightly, watch the gap at four places, back off when "
        "it opens unevenly (about 0.5 mm) or one end sticks. Never lever on sealing faces.",
    ),
    CautionShown(
        "note",
        "The two above are common practice, no source. The maker's current manual, local codes and licensed "
        "practice come first; this sheet is no replacement.",
    ),
)


def safety_shown(machine: Machine, plan: Plan, shown: Shown) -> tuple[CautionShown, ...]:
    """The manual's own with their pages, then the usual ones; what the checklist says is not said twice."""
    there = {caution.words for line in plan.lines for caution in line.cautions}
    own = [item for item in _own(machine, shown) if item.words not in there]
    return (*_with_places(list(dict.fromkeys(own))), *USUAL)


def _with_places(own: list["_Own"]) -> Iterator[CautionShown]:
    """The page behind the last of those that stand on it."""
    for where, group in groupby(own, key=lambda item: item.where):
        items = list(group)
        several = "all of these: " if len(items) > 1 else ""
        for item in items:
            at = f" ({several}{where})" if where and item is items[-1] else ""
            yield CautionShown(item.signal, f"{item.words}{at}")


class _Own(NamedTuple):
    """A warning of the manual and where it stands."""

    signal: str
    words: str
    where: str


def _own(machine: Machine, shown: Shown) -> Iterator[_Own]:
    for section in machine.sections:
        named = ABOUT_SAFETY.search(section.title) and not EXPLAINS.search(section.title)
        if named and section.text and section.holds == "text":
            words = _cut(section.text)
            yield _Own(section.title.lower(), words, shown.first_where(section.citations))
    for procedure in machine.procedures:
        if procedure.steps and not _general(procedure):
            continue
        for caution, plain in zip(procedure.cautions, cautions_shown(procedure.cautions), strict=True):
            yield _Own(plain.signal, _cut(plain.words), shown.first_where(caution.citations))


def _general(procedure: Procedure) -> bool:
    titles = f"{procedure.chapter} {procedure.title}"
    return procedure.deed == "other" and bool(GENERAL.search(titles) or ABOUT_SAFETY.search(titles))


def _cut(words: str) -> str:
    """Whole sentences up to what a reader takes in, and that there is more."""
    if len(words) <= MOST_LETTERS:
        return words
    return f"{_sentences(words)} More on the page:"


def _sentences(words: str) -> str:
    kept: list[str] = []
    for sentence in _split(words):
        if kept and sum(map(len, kept)) + len(sentence) > MOST_LETTERS:
            break
        kept.append(sentence)
    return " ".join(kept)


def _split(words: str) -> Iterable[str]:
    return re.split(r"(?<=[.!?])\s+", words)
