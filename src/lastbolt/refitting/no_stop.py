"""Work that is not left half done: wet sealant, hot parts, angle stages; not begun when time is short."""

import re
from collections.abc import Iterable, Sequence
from functools import lru_cache

from lastbolt.refitting.refit_words import refit_words, says
from lastbolt.words.back import BackLine
from lastbolt.words.back_watch import NoStop

COMMON = "common practice, no source"
SOURCE = "the source"


def no_stop_blocks(lines: Sequence[BackLine]) -> tuple[NoStop, ...]:
    """The blocks of a way back, each from the line that begins it to the last that belongs to it."""
    found: list[NoStop] = []
    for kind in refit_words()["no_stop"]:
        past = -1
        for at, one in enumerate(lines):
            if at <= past or not _begins(one, kind):
                continue
            past = _last(lines, at, kind["through"])
            inside = lines[at : past + 1]
            said = _minutes(line.line.words for line in inside)
            minutes = said if said is not None else (kind["minutes"] or None)
            found.append(
                NoStop(
                    kind["why"], one.line.id, lines[past].line.id, one.line.words, minutes,
                    SOURCE if said is not None else COMMON, one.line.citations,
                )
            )  # fmt: skip
    place = {one.line.id: number for number, one in reversed(tuple(enumerate(lines)))}
    return tuple(sorted(found, key=lambda block: place[block.first]))


def not_to_begin(blocks: Iterable[NoStop], minutes_left: float) -> tuple[NoStop, ...]:
    """The blocks that do not fit into the time that is left; one of unknown length never does."""
    return tuple(one for one in blocks if one.minutes is None or one.minutes > minutes_left)


def _begins(one: BackLine, kind: dict[str, Sequence[str]]) -> bool:
    if one.line.kind != "step":
        return False
    words = one.line.words
    turned = (
        bool(kind["through"]) and "turn" in kind["through"] and any(t.angle_deg for t in one.line.torques)
    )
    return (turned or says(words, kind["cues"])) and not says(words, kind["not_cues"])


def _last(lines: Sequence[BackLine], at: int, through: Sequence[str]) -> int:
    """The last line of the same section that still belongs to the block; at least the next one."""
    own = [
        number
        for number in range(at + 1, len(lines))
        if lines[number].line.procedure == lines[at].line.procedure and lines[number].line.kind == "step"
    ]
    named = [number for number in own if says(lines[number].line.words, through)]
    return named[-1] if named else own[0] if own and not through else at


def _minutes(texts: Iterable[str]) -> float | None:
    """The shortest time that one of the texts sets: "within 10 minutes"."""
    found = [float(one.replace(",", ".")) for text in texts for one in _time().findall(text.lower())]
    return min(found, default=None)


@lru_cache(maxsize=1)
def _time() -> re.Pattern[str]:
    known = refit_words()["minutes"]
    before, unit = ("|".join(map(re.escape, known[name])) for name in ("before", "unit"))
    return re.compile(rf"(?:{before})\s+(\d+(?:[.,]\d+)?)\s*(?:{unit})\b")
