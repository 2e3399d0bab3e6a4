"""Whether a sentence says the work of a title: "isolate the drive" is of "Isolating the drive"."""

import re
from functools import lru_cache
from typing import Literal

from lastbolt.planning.names import any_of, words

_WORD = re.compile(r"[a-z][a-z\-']*")
_SHORTEST, _LONGEST = 2, 7
_CLAUSE_END = re.compile(r"[.,;:!?](?=\s|$)|\s[-–—]\s|[()]")


def key_word(title: str) -> str:
    """A word that every sentence holds which says this title; nothing when no sentence can."""
    asked = _bases(title)
    possible = _SHORTEST <= len(asked) <= _LONGEST and _is_deed(title)
    return max(asked[1:], key=len) if possible else ""


def key_words(sentence: str) -> frozenset[str]:
    """The words of a sentence in the form in which `key_word` gives them."""
    return frozenset(_bases(sentence))


def says_title(sentence: str, title: str) -> bool:
    """Whether the words of the title stand in the sentence in their order, the deed in any of its forms.

    >>> says_title("First isolate the drive (page 1).", "Isolating the drive")
    True
    >>> says_title("Before any work make the winch safe.", "Making the winch safe")
    True
    >>> says_title("The winch must be made safe.", "Making the winch safe")
    True
    >>> says_title("Drive the pin out.", "Isolating the drive")
    False
    """
    asked = _bases(title)
    if not _SHORTEST <= len(asked) <= _LONGEST or not _is_deed(title):
        return False
    said = _bases(sentence)
    return _holds(said, asked) or _holds(said, _as_state(asked))


def title_denied(sentence: str, title: str) -> Literal["", "yes", "doubt"]:
    """Whether the sentence says not to do the work of the title, as far as the title's own clause tells.

    >>> title_denied("First isolate the drive and do not switch it on again.", "Isolating the drive")
    ''
    >>> title_denied("Do not isolate the drive.", "Isolating the drive")
    'yes'
    >>> title_denied("Never start before isolating the drive.", "Isolating the drive")
    'doubt'
    >>> title_denied("The hole stays free until the drive is isolated.", "Isolating the drive")
    'doubt'
    """
    clause = next((one for one in _CLAUSE_END.split(sentence) if says_title(one, title)), sentence)
    lead = clause[: _title_at(clause, title)].lower().replace("’", "'")
    known = words()["named_work"]
    if not any_of(lead, known["not_so"]):
        return "doubt" if any_of(lead, known["until"]) else ""
    spoken = _WORD.findall(lead)
    while spoken and (spoken[-1] in known["between"] or spoken[-1] in words()["titles"]["left_out"]):
        spoken.pop()
    said = " ".join(spoken)
    ends = [phrase for phrase in known["not_so"] if f" {said}".endswith(f" {phrase}")]
    rest = said[: len(said) - max(map(len, ends))] if ends else said
    return "doubt" if not ends or any_of(rest, known["not_so"]) else "yes"


def _title_at(clause: str, title: str) -> int:
    """Where the words of the title begin in a clause that says it."""
    left_out = words()["titles"]["left_out"]
    spoken = [one for one in _WORD.finditer(clause.lower()) if one[0] not in left_out]
    said, asked = tuple(_base(one[0]) for one in spoken), _bases(title)
    for wanted in (asked, _as_state(asked)):
        for place in range(len(said) - len(wanted) + 1):
            if said[place : place + len(wanted)] == wanted:
                return spoken[place].start()
    return len(clause)


def _as_state(asked: tuple[str, ...]) -> tuple[str, ...]:
    """ "isolate drive" as "drive isolated", "make winch safe" as "winch made safe"."""
    deed, *thing = asked
    states = {_base(word) for word in words()["titles"]["states"]}
    if len(thing) > 1 and thing[-1] in states:
        return (*thing[:-1], deed, thing[-1])
    return (*thing, deed)


def _holds(said: tuple[str, ...], asked: tuple[str, ...]) -> bool:
    long = len(asked)
    return any(said[place : place + long] == asked for place in range(len(said) - long + 1))


def _is_deed(title: str) -> bool:
    """Whether a title begins with a deed: "Isolating the drive", not "Drive"."""
    first = _WORD.search(title.lower())
    known = words()["titles"]
    if first is None or first[0] in known["not_deeds"]:
        return False
    return any(first[0].endswith(end) for end in known["deed_ends"])


@lru_cache(maxsize=20_000)
def _bases(text: str) -> tuple[str, ...]:
    left_out = words()["titles"]["left_out"]
    return tuple(_base(word) for word in _WORD.findall(text.lower()) if word not in left_out)


@lru_cache(maxsize=20_000)
def _base(word: str) -> str:
    """A word without what its form adds: "isolating", "isolated", "isolate" are one."""
    known: str = words()["titles"]["forms"].get(word, word)
    for end in words()["titles"]["ends"]:
        if known.endswith(end) and len(known) - len(end) >= _SHORTEST + 1:
            known = known[: -len(end)]
            break
    if len(known) > _SHORTEST + 1 and known[-1] == known[-2]:
        known = known[:-1]
    return known
