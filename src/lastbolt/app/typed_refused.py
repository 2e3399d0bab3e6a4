"""Why a typed line was not understood: the word that stopped it, and lines to type instead."""

import re
from collections.abc import Iterator
from difflib import get_close_matches

from msgspec import Struct

from lastbolt.app.typed_kind import how_many_sizes, typed_kind, words_not_known
from lastbolt.app.typed_lines import BETWEEN, speaker_of
from lastbolt.app.typed_names import SEVERAL, name_in
from lastbolt.app.typed_pieces import COUNT, TRAY, counted_pieces, listed_pieces
from lastbolt.app.typed_places import said_of_places, stopped_at
from lastbolt.app.typed_words import HALF_SAID, SAW_WORDS, SETTLED
from lastbolt.tally.problems import typed_not_understood
from lastbolt.words.problem import Problem

HALF = re.compile(rf"\b{HALF_SAID}s?\b(?! (?:empty|bolt in))", re.I)
NAMED = re.compile(r"^([^\W\d_]+)\s*:\s+(\S.*)$")
SIZE_FIRST = re.compile(r"^(\S.*?)\s*:\s*(\d{1,3})$")
_STATES = "|".join(sorted(map(re.escape, SETTLED), key=len, reverse=True))
PART_AND_STATE = re.compile(rf"^(?:the\s+)?(\D+?)\s+(?:(?:is|are)\s+)?({_STATES})$", re.I)
LONGEST = 40
NEAR = 0.7
NEVER_OUT = ("not seen", "in")
"""What may be meant by a word that is like none: never that it is out."""


class Refused(Struct, frozen=True):
    """What stopped a line, and lines that may be meant; each of them is understood."""

    what: str
    offers: tuple[str, ...] = ()


class Examples(Struct, frozen=True):
    """Lines to go by where nothing better can be offered, in this joint's own sizes and places.

    `listed` is empty where papers give the list.
    """

    listed: str = "7 x M6x45"
    tray: str = "tray 7 x M6x45"
    seen: str = "1-7 out"

    @property
    def every(self) -> tuple[str, ...]:
        """All of them."""
        return tuple(line for line in (self.listed, self.tray, self.seen) if line)


def refusal(number: int, words: str, known: Refused | None = None, by: Examples | None = None) -> Problem:
    """The problem of a line that was not understood; `known`: why, if somebody has found it already."""
    why = known or why_refused(words, by or Examples())
    told = [f'"{line}"' for line in why.offers]
    instead = f"Type {' or '.join((', '.join(told[:-1]), told[-1]) if told[1:] else told)}" if told else ""
    return typed_not_understood(number, words, why.what, instead or "Say it in other words")


def why_refused(words: str, by: Examples | None = None) -> Refused:
    """Which word stopped the line, and what to type instead."""
    found = next(_reasons(words, by or Examples()))
    return Refused(found.what, tuple(line for line in found.offers if understood(line)))


def understood(line: str) -> bool:
    """Whether a line that says what was seen, listed or counted, or who speaks, is understood."""
    return bool(
        speaker_of(line)
        or line.startswith("holder ")
        or said_of_places(line)
        or counted_pieces(line, typed_kind)
        or listed_pieces(line, typed_kind)
    )


def half_said(words: str) -> tuple[str, ...]:
    """The places of which a line says no more than "hollow dowel"; none if it says anything else."""
    if not HALF.search(words):
        return ()
    said = said_of_places(HALF.sub(f"{HALF_SAID} empty", words))
    if any(one.saw != "hollow dowel, empty" for one in said):
        return ()
    return tuple(label for one in said for label in one.labels)


def _reasons(words: str, by: Examples) -> Iterator[Refused]:
    """The reasons that fit, the most telling first."""
    low = " ".join(words.casefold().split())
    if low.startswith("#"):
        yield Refused("This remark may speak of something that still holds.")
    if low.startswith("strike"):
        yield Refused('"strike line" takes numbers of earlier lines.')
    if re.match(r"(first )?by\b", low):
        yield _several_names(words)
    if HALF_SAID in low:
        yield _hollow_dowel(words)
    tray = TRAY.match(words)
    if tray or how_many_sizes(words):
        yield _of_sizes(words, tray[1] if tray else words, "tray " if tray else "", by)
    stopped = stopped_at(words)
    if stopped is not None and stopped.at:
        what = f"{_quoted(stopped.words)} is no word for what is seen" if stopped.words else "What is seen"
        tail = f" at place {stopped.at}." if stopped.words else f" at place {stopped.at} is not said."
        near = get_close_matches(stopped.words.casefold(), SAW_WORDS, 2, NEAR) or NEVER_OUT
        yield Refused(what + tail, tuple(f"{stopped.at} {saw}" for saw in near))
    named = NAMED.match(words)
    if named is not None and understood(named[2]):
        yield Refused(f"{_quoted(named[1])} has not spoken yet.", (f"by {named[1]}", named[2]))
    part = PART_AND_STATE.match(words.rstrip(" ."))
    if part is not None:
        yield Refused("Of which place, or of which other holder?", (f"holder {part[1]}: {part[2]}",))
    if stopped is not None and any(sign.isdigit() for sign in stopped.words):
        yield Refused(f"{_quoted(stopped.words)} is neither a place with a number nor a size.", by.every)
    first = words.split(maxsplit=1)[0] if words.split() else ""
    yield Refused(f"{_quoted(first)} begins no line that lastbolt knows.", by.every)


def _several_names(words: str) -> Refused:
    names = SEVERAL.split(re.sub(r"^(first\s+)?by\b\s*:?", "", words, flags=re.I))
    first = "first by" if words.casefold().startswith("first") else "by"
    offers = tuple(f"{first} {name_in(name)}" for name in names[:1] if name_in(name))
    return Refused('"by" takes the name of one person.', offers)


def _hollow_dowel(words: str) -> Refused:
    at = ", ".join(half_said(words))
    offers = (f"{at} {HALF_SAID} empty", f"{at} {HALF_SAID} bolt in") if at else ()
    return Refused("A hollow dowel may have a bolt through it; this line does not say.", offers)


def _of_sizes(words: str, told: str, front: str, by: Examples) -> Refused:
    sizes = how_many_sizes(told)
    if not sizes:
        return Refused("No size is read in it.", (by.tray if front else by.listed,))
    if sizes > 1:
        parts = tuple(f"{front}{part.strip()}" for part in BETWEEN.split(told))
        offers = parts if all(understood(part) and how_many_sizes(part) == 1 for part in parts) else ()
        return Refused("One size a line.", offers)
    unknown = words_not_known(COUNT.sub("", told))
    size_first = SIZE_FIRST.match(told)
    if size_first:
        one = f"{size_first[2]} x {size_first[1]}"
        return Refused("How many come first, then the size.", (one, f"tray {one}"))
    if unknown:
        where = "of what lies in the tray" if front else "with a size"
        return Refused(f"{_quoted(' '.join(unknown))} is no word that lastbolt knows in a line {where}.")
    return Refused("How many is not read: a number of at most three digits, then the size.", by.every[:-1])


def _quoted(words: str) -> str:
    short = words if len(words) <= LONGEST else f"{words[:LONGEST].rstrip()} ..."
    return f'"{short}"'
