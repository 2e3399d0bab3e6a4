"""The cautions at the head of a sheet: the sources' own warnings for all work first, then the usual ones.

What the checklist says at a task stands only there.
"""

from collections.abc import Iterator
from itertools import groupby

from lastbolt.app.pages import CautionShown
from lastbolt.app.shown import Shown, without_signal
from lastbolt.planning.names import sentences
from lastbolt.words.plan import General, Plan

MOST_LETTERS = 420
MADE_SAFE = "Stopped, kept from starting, pressure and charge let out, loads held? The cautions stand below."
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


def safety_shown(plan: Plan, shown: Shown) -> tuple[CautionShown, ...]:
    """The sources' own with their pages, then the usual ones, which fit any machine."""
    return (*_with_places(plan.general, shown), *USUAL)


def _with_places(general: tuple[General, ...], shown: Shown) -> Iterator[CautionShown]:
    """The page behind the last of those that stand on it."""
    for where, group in groupby(general, key=lambda item: shown.first_where(item.citations)):
        items = list(group)
        several = "all of these: " if len(items) > 1 else ""
        for item in items:
            at = f" ({several}{where})" if where and item is items[-1] else ""
            yield CautionShown(item.signal.lower(), f"{_cut(without_signal(item.signal, item.words))}{at}")


def _cut(words: str) -> str:
    """Whole sentences up to what a reader takes in, and that there is more."""
    kept: list[str] = []
    for sentence in sentences(words):
        if kept and sum(map(len, kept)) + len(sentence) > MOST_LETTERS:
            return f"{' '.join(kept)} More on the page."
        kept.append(sentence)
    return " ".join(kept)
