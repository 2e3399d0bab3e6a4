"""The words right beside a number in a sentence that make it a limit, a standard size, or neither."""

import re
from collections.abc import Sequence
from functools import lru_cache
from typing import Literal, NamedTuple

from lastbolt.reading.limit_words import LimitWords
from lastbolt.words.measured import LimitSense

Cue = Literal["limit", "standard", "needed", "at most", "at least", "over", "under", "turned", "exceeded"]
_KEYS: dict[Cue, tuple[str, str]] = {
    "limit": ("cues", "limit"), "standard": ("cues", "standard"), "needed": ("cues", "needed"),
    "at most": ("sense", "at_most"), "at least": ("sense", "at_least"), "over": ("sense", "over"),
    "under": ("sense", "under"), "turned": ("sense", "turned"), "exceeded": ("cues", "exceeded"),
}  # fmt: skip
_REACH = 60
_WORD = re.compile(r"[^\W_]+(?:['’-][^\W_]+)*|[<>≤≥]")
_SIGNS_BEFORE = re.compile(r"[\s:=,.(–-]*")
_SIGNS_BEHIND = re.compile(r"[\s).]*")
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


class _Phrases(NamedTuple):
    """Cues and small words as runs of words, so that nothing has to be compiled for them."""

    cues: dict[tuple[str, ...], frozenset[Cue]]
    filling: frozenset[tuple[str, ...]]
    longest: int


@lru_cache(maxsize=4)
def _phrases(words: LimitWords) -> _Phrases:
    cues: dict[tuple[str, ...], set[Cue]] = {}
    for cue, key in _KEYS.items():
        for phrase in words.words(*key):
            cues.setdefault(_words(phrase), set()).add(cue)
    lists = [("cues", "between"), *(("measures", key) for key in ("grows", "shrinks", "either"))]
    filling = frozenset(_words(phrase) for key in lists for phrase in words.words(*key))
    longest = max(len(phrase) for phrase in (*cues, *filling))
    return _Phrases({phrase: frozenset(found) for phrase, found in cues.items()}, filling, longest)


def _words(phrase: str) -> tuple[str, ...]:
    return tuple(match[0].lower() for match in _WORD.finditer(phrase))


def cues_beside(text: str, span: tuple[int, int], room: tuple[int, int], words: LimitWords) -> Cues:
    """The cues that touch a number, or have nothing but small words between.

    Args:
        text: the whole text
        span: where the number begins and ends
        room: how far the words beside it reach (to the numbers before and behind)
        words: of the language
    """
    phrases = _phrases(words)
    before, start = _before(text[room[0] : span[0]], phrases)
    behind = _behind(text[span[1] : room[1]], phrases)
    implied = _implied(text[room[0] + start : span[0]], words)
    if not implied and words.pattern("sense", "needed").search(text[room[0] : span[0]]):
        implied = _implied(text[span[1] : room[1]].strip().partition(" ")[0].rstrip(".,;"), words)
    return Cues(frozenset(before), frozenset(behind), room[0] + start, implied)


def _before(head: str, phrases: _Phrases) -> tuple[set[Cue], int]:
    """The cues at the end of what stands before a number, and where they begin."""
    found: set[Cue] = set()
    start = end = len(head)
    tokens = list(_WORD.finditer(head))
    while tokens and _SIGNS_BEFORE.fullmatch(head, tokens[-1].end(), end):
        count, cues = _at_end(tokens, phrases)
        if not count:
            break
        end = tokens[-count].start()
        if cues:
            found |= cues
            start = end
        del tokens[-count:]
    return found, start


def _at_end(tokens: Sequence["re.Match[str]"], phrases: _Phrases) -> tuple[int, frozenset[Cue]]:
    """How many of the last words are a cue, or else a small word."""
    said = tuple(token[0].lower() for token in tokens[-phrases.longest :])
    for count in range(len(said), 0, -1):
        cues = phrases.cues.get(said[-count:])
        if cues:
            return count, cues
    for count in range(len(said), 0, -1):
        if said[-count:] in phrases.filling:
            return count, frozenset()
    return 0, frozenset()


def _behind(tail: str, phrases: _Phrases) -> set[Cue]:
    """The cues at the head of what stands behind a number."""
    found: set[Cue] = set()
    tokens = list(_WORD.finditer(tail[:_REACH]))
    at = end = 0
    while at < len(tokens) and _SIGNS_BEHIND.fullmatch(tail, end, tokens[at].start()):
        said = tuple(token[0].lower() for token in tokens[at : at + phrases.longest])
        count = next((n for n in range(len(said), 0, -1) if said[:n] in phrases.cues), 0)
        if not count:
            break
        found |= phrases.cues[said[:count]]
        at += count
        end = tokens[at - 1].end()
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
