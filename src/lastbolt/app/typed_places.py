""" "1-7 out, 8 and 9 in, 10 open hole both sides": places in typed words, and what is said of them."""

import re
from typing import Literal

from msgspec import Struct

from lastbolt.app.typed_words import BOTH_SIDES, LOOKED_THROUGH, PUT_IN, SAW_WORDS, TAKEN_OUT
from lastbolt.words.joint import Saw

LABELS = re.compile(r"^(\w+?)(?:\s*(?:-|–|to)\s*(\w+))?(?:\s*:)?(?:\s+(\S.*)|\s*)$", re.I)
BETWEEN = re.compile(r"\s*(?:,|;|\band\b|&)\s*", re.I)
REMARK = re.compile(r"\s*,\s*(?=(?:from )?both (?:sides|ends)\b)", re.I)
MOST_PLACES = 200


class SaidOfPlaces(Struct, frozen=True):
    """Labels, and what was seen there or done; `sure`: looked into on purpose, from both sides."""

    labels: tuple[str, ...]
    far: bool = False
    saw: Saw | None = None
    did: Literal["", "took out", "put in"] = ""
    sure: bool = False


def said_of_places(words: str) -> tuple[SaidOfPlaces, ...]:
    """All that the line says of places; empty when any part of it is not understood."""
    found: list[SaidOfPlaces] = []
    waiting: list[str] = []
    for part in BETWEEN.split(REMARK.sub(" ", words)):
        match = LABELS.match(part.strip())
        labels = _labels(match[1], match[2]) if match else ()
        if match is None or not labels:
            return ()
        if not match[3]:
            waiting += labels
            continue
        said = _said((*waiting, *labels), match[3])
        if said is None:
            return ()
        found.append(said)
        waiting = []
    return () if waiting else tuple(found)


def _said(labels: tuple[str, ...], words: str) -> SaidOfPlaces | None:
    low = " ".join(words.lower().rstrip(" .").split())
    far = low.startswith("far side ")
    low = low.removeprefix("far side ").removeprefix("near side ")
    sure = False
    for ending in BOTH_SIDES:
        if low.endswith(" " + ending):
            low, sure = low.removesuffix(ending).strip(), True
            break
    if low in TAKEN_OUT or low in PUT_IN:
        return SaidOfPlaces(labels, far, None, "took out" if low in TAKEN_OUT else "put in")
    saw = SAW_WORDS.get(low)
    return None if saw is None else SaidOfPlaces(labels, far, saw, "", sure or saw in LOOKED_THROUGH)


def _labels(first: str, last: str | None) -> tuple[str, ...]:
    """ "1" to "7" as labels; none when it is no such range or too long."""
    if last is None:
        return (first,) if any(sign.isdigit() for sign in first) else ()
    if not (first.isdecimal() and last.isdecimal()) or len(last) > 4:
        return ()
    low, high = int(first), int(last)
    return tuple(str(n) for n in range(low, high + 1)) if low <= high < low + MOST_PLACES else ()
