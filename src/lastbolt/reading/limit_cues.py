"""The words right beside a number in a sentence that make it a limit, a standard size, or neither."""

import re
from functools import lru_cache
from typing import Literal, NamedTuple

from lastbolt.reading.limit_words import LimitWords, every_phrase
from lastbolt.words.measured import LimitSense

Cue = Literal["limit", "standard", "needed", "at most", "at least", "over", "under", "turned", "exceeded"]
_KEYS: dict[Cue, tuple[str, str]] = {
    "limit": ("cues", "limit"), "standard": ("cues", "standard"), "needed": ("cues", "needed"),
    "at most": ("sense", "at_most"), "at least": ("sense", "at_least"), "over": ("sense", "over"),
    "under": ("sense", "under"), "turned": ("sense", "turned"), "exceeded": ("cues", "exceeded"),
}  # fmt: skip
_MOST_STEPS = 8
_SIGNS_BEFORE = re.compile(r"[\s:=,(–-]+$")
_SIGNS_BEHIND = re.compile(r"[\s,)(]+")
_OTHER_SIDE: dict[LimitSense, LimitSense] = {"at most": "at least", "at least": "at most"}


class Cues(NamedTuple):
    """The cues beside a number; `start`: where those before it begin; `implied`: "thinner" is a thickness."""

    before: frozenset[Cue]
    behind: frozenset[Cue]
    start: int
    implied: str = ""

    @property
    def every(self) -> frozenset[Cue]:
        """All of them."""
        return self.before | self.behind


class _Patterns(NamedTuple):
    ends: tuple[tuple[Cue, re.Pattern[str]], ...]
    begins: tuple[tuple[Cue, re.Pattern[str]], ...]
    filling: re.Pattern[str]


@lru_cache(maxsize=4)
def _patterns(words: LimitWords) -> _Patterns:
    each = [(cue, words.any_of(*key)) for cue, key in _KEYS.items()]
    measures = every_phrase(words.words("measures", key) for key in ("grows", "shrinks", "either"))
    filling = rf"(?<!\w)(?:{words.any_of('cues', 'between')}|{measures})$"
    return _Patterns(
        tuple((cue, re.compile(rf"(?<!\w)(?:{text})$", re.IGNORECASE)) for cue, text in each),
        tuple((cue, re.compile(rf"(?:{text})(?!\w)", re.IGNORECASE)) for cue, text in each),
        re.compile(filling, re.IGNORECASE),
    )


def cues_beside(text: str, span: tuple[int, int], room: tuple[int, int], words: LimitWords) -> Cues:
    """The cues that touch a number, or have nothing but small words between.

    Args:
        text: the whole text
        span: where the number begins and ends
        room: how far the words beside it reach (to the numbers before and behind)
        words: of the language
    """
    patterns = _patterns(words)
    before, start = _before(text[room[0] : span[0]], patterns)
    behind = _behind(text[span[1] : room[1]], patterns)
    implied = _implied(text[room[0] + start : span[0]], words)
    if not implied and words.pattern("sense", "needed").search(text[room[0] : span[0]]):
        implied = _implied(text[span[1] : room[1]].strip().partition(" ")[0].rstrip(".,;"), words)
    return Cues(frozenset(before), frozenset(behind), room[0] + start, implied)


def _before(head: str, patterns: _Patterns) -> tuple[set[Cue], int]:
    found: set[Cue] = set()
    start = len(head)
    for _ in range(_MOST_STEPS):
        head = _SIGNS_BEFORE.sub("", head)
        hits = [(m.start(), cue) for cue, pattern in patterns.ends if (m := pattern.search(head)) is not None]
        if hits:
            longest = min(at for at, _ in hits)
            found |= {cue for at, cue in hits if at == longest}
            head, start = head[:longest], longest
            continue
        match = patterns.filling.search(head)
        if match is None:
            break
        head = head[: match.start()]
    return found, start


def _behind(tail: str, patterns: _Patterns) -> set[Cue]:
    found: set[Cue] = set()
    while True:
        signs = _SIGNS_BEHIND.match(tail)
        if signs is not None:
            if "," in signs[0] or "(" in signs[0]:
                break
            tail = tail[signs.end() :]
        hits = [(m.end(), cue) for cue, pattern in patterns.begins if (m := pattern.match(tail)) is not None]
        if not hits:
            break
        longest = max(at for at, _ in hits)
        found |= {cue for at, cue in hits if at == longest}
        tail = tail[longest:]
    return found


def _implied(said: str, words: LimitWords) -> str:
    """The kind of size in the cue itself: "thinner than"."""
    implied: dict[str, str] = words.data["measures"]["implied"]
    return next((implied[word] for word in said.lower().split() if word in implied), "")


def good_side(text: str, at: int, cues: Cues, words: LimitWords) -> LimitSense:
    """The side of a number that is good; "" where the words name none.

    Args:
        text: the whole text
        at: where the number begins
        cues: beside it
        words: of the language
    """
    start = max(text.rfind(sign, 0, cues.start) for sign in (". ", "; ", ": ")) + 1
    end = text.find(". ", at)
    clause, sentence = text[start : cues.start], text[start : end if end >= 0 else len(text)]
    every = cues.every
    if "exceeded" in every:
        return "at most"
    bad = words.pattern("sense", "if").search(clause) is not None
    renewed = words.pattern("sense", "renew").search(sentence) is not None
    unless = words.pattern("sense", "unless").search(clause) is not None
    said: LimitSense = "at most" if "at most" in every else "at least" if "at least" in every else ""
    if said:
        needed = "needed" in every or words.pattern("sense", "needed").search(clause) is not None
        return _OTHER_SIDE[said] if "turned" in every and renewed and not (needed or unless) else said
    if not every & {"over", "under"}:
        return ""
    beyond: LimitSense = "at least" if "over" in every else "at most"
    refused = words.pattern("sense", "refusing").search(clause[-30:]) is not None
    if refused or ((bad or renewed) and not unless):
        return _OTHER_SIDE[beyond]
    if unless or "needed" in every or words.pattern("sense", "needed").search(clause) is not None:
        return beyond
    return ""
