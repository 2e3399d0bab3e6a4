""" "1-7 out, 8 and 9 in, 10 open hole both sides": places in typed words, and what is said of them."""

import re
from typing import Literal

from msgspec import Struct

from lastbolt.app.typed_lines import BETWEEN
from lastbolt.app.typed_words import (
    BOTH_SIDES,
    FAR_AT_PLACE,
    FILLERS,
    PUT_IN,
    SAME_SIDE,
    SAW_WORDS,
    TAKEN_OUT,
)
from lastbolt.words.joint import LOOKED_THROUGH, Saw

LABELS = re.compile(
    r"^(\w+?)(?:\s*(?:-|–|\bto\b|\bthrough\b|(?<=\d)to(?=\d))\s*(\w+))?(?:\s*:)?(?:\s+(\S.*)|\s*)$", re.I
)
REMARK = re.compile(r"\s*,\s*(?=(?:from )?both (?:sides|ends)\b)", re.I)
MOST_PLACES = 200


class SaidOfPlaces(Struct, frozen=True):
    """Labels, and what was seen there or done; `sure`: looked into on purpose, from both sides."""

    labels: tuple[str, ...]
    far: bool = False
    saw: Saw | None = None
    did: Literal["", "took out", "put in"] = ""
    sure: bool = False


class Stopped(Struct, frozen=True):
    """Where reading of places stopped: the places as typed, and the words behind them that are not known."""

    at: str
    words: str


def said_of_places(words: str) -> tuple[SaidOfPlaces, ...]:
    """All that the line says of places; empty when any part of it is not understood."""
    read = _read(words)
    return () if isinstance(read, Stopped) else read


def stopped_at(words: str) -> Stopped | None:
    """Where the line stops saying anything of places that is understood; None if it is all understood."""
    read = _read(words)
    return read if isinstance(read, Stopped) else None


def _read(words: str) -> tuple[SaidOfPlaces, ...] | Stopped:
    found: list[SaidOfPlaces] = []
    waiting: list[str] = []
    named: list[str] = []
    for part in BETWEEN.split(REMARK.sub(" ", words)):
        match = LABELS.match(part.strip())
        labels = _labels(match[1], match[2]) if match else ()
        if match is None or not labels:
            return Stopped(", ".join(named), part.strip())
        rest = match[3] or ""
        named.append(part.strip()[: len(part.strip()) - len(rest)].strip(" :"))
        if not rest:
            waiting += labels
            continue
        said = _said((*waiting, *labels), rest)
        if said is None:
            return Stopped(", ".join(named), rest.strip())
        found.append(said)
        waiting, named = [], []
    return Stopped(", ".join(named), "") if waiting else tuple(found)


def _said(labels: tuple[str, ...], words: str) -> SaidOfPlaces | None:
    low = " ".join(words.lower().rstrip(" .").replace("\u2019", "'").split())
    far, low = _without_side(low)
    low = _behind(low, FILLERS)
    sure = False
    for ending in BOTH_SIDES:
        if low.endswith(" " + ending):
            low, sure = low.removesuffix(ending).strip(), True
            break
    if low in TAKEN_OUT or low in PUT_IN:
        return SaidOfPlaces(labels, far, None, "took out" if low in TAKEN_OUT else "put in")
    saw = SAW_WORDS.get(low)
    return None if saw is None else SaidOfPlaces(labels, far, saw, "", sure or saw in LOOKED_THROUGH)


def _without_side(low: str) -> tuple[bool, str]:
    """Whether its fastener is said to enter from the far side, and what else is said."""
    if low.startswith("("):
        low = low[1:].replace(")", "", 1)
    rest = _behind(low, FAR_AT_PLACE)
    return (True, rest) if rest != low else (False, _behind(low, SAME_SIDE))


def _behind(low: str, beginnings: tuple[str, ...]) -> str:
    """The words without one of these beginnings."""
    first = next((words for words in beginnings if low.startswith(words)), "")
    return low.removeprefix(first)


def _labels(first: str, last: str | None) -> tuple[str, ...]:
    """ "1" to "7" as labels; none when it is no such range or too long."""
    if last is None:
        return (first,) if any(sign.isdigit() for sign in first) else ()
    if not (first.isdecimal() and last.isdecimal()) or len(last) > 4:
        return ()
    low, high = int(first), int(last)
    return tuple(str(n) for n in range(low, high + 1)) if low <= high < low + MOST_PLACES else ()
