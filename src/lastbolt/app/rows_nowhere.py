"""Rows of this joint that nobody has found: on its list, at no place, in no tray, never taken out.

Three people who looked into every hole they know outweigh a list; but a whole size that is nowhere may sit
at a place that all three passed. So it is asked for by name, as another holder is.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence

from lastbolt.tally.build_papers import line_words
from lastbolt.tally.layout import whole_kind
from lastbolt.tally.wording_steps import FIRST
from lastbolt.words.answer import HolderState, NextStep
from lastbolt.words.evidence import Act, Evidence, EvidencePlace, Line, Look, TrayCount
from lastbolt.words.joint import NO_HOLE, HolderSort
from lastbolt.words.place_runs import is_number
from lastbolt.words.quantity import Kind

NOWHERE = "nowhere#"
"""Before a line's id: the holder that asks for it."""
SORT: HolderSort = "fastener not counted"
NOT_OF_IT = "not fitted"
ASK = "on the list of this joint, at no place and in no tray"


def with_rows_nowhere(
    evidence: Evidence, holders: Iterable[HolderState], settling: Callable[[str], str] = lambda _: ""
) -> tuple[HolderState, ...]:
    """The holders with one for each row that is nowhere, open unless somebody settled it.

    `settling`: a holder's id -> how a record settles it. One that was only typed goes by its name.
    """
    held = tuple(holders)
    how = {key: one.words for one in held if one.settled for key in (one.id, _key(one.name))}
    asked = []
    for line in _nowhere(evidence):
        name, called = f"{NOWHERE}{line.id}", _called(line)
        words = settling(name) or how.get(name) or how.get(_key(called)) or ""
        words_shown = words or f"{_told(line)}: {ASK}"
        asked.append(HolderState(name, SORT, called, bool(words), words_shown, answer=NOT_OF_IT))
    taken = {key for one in asked for key in (one.id, _key(one.name))}
    kept = [one for one in held if not {one.id, _key(one.name)} & taken and not is_nowhere(one)]
    return (*kept, *asked)


def step_to_find(holders: Iterable[HolderState], places: Sequence[EvidencePlace]) -> tuple[NextStep, ...]:
    """Asks for every row that is nowhere; to type: that none of them is of the joint."""
    open_ = [one for one in holders if is_nowhere(one) and not one.settled]
    if not open_:
        return ()
    named = " and ".join(one.name for one in open_)
    further = max((int(place.label) for place in places if is_number(place.label)), default=0) + 1
    words = (
        f'Find {named}: {ASK}. Found in: type it under the next number ("{further} in"). Found out: count '
        f'the tray ("tray {open_[0].name}"). Sure that none of them is of this joint:'
    )
    typed = ("by NAME", *(f"holder {one.name}: {one.answer}" for one in open_))
    return (NextStep(words, 2.0, FIRST, to_type=typed),)


def is_nowhere(holder: HolderState) -> bool:
    """Whether a holder asks for a row that is nowhere."""
    return holder.id.startswith(NOWHERE)


def _nowhere(evidence: Evidence) -> Iterator[Line]:
    """The lines of which no piece was ever met, where the places known have no room for them."""
    open_places, lines = _without_size(evidence), [line for line in evidence.lines if _counts(line)]
    found = [line for line in lines if not _at_own_place(line, evidence.places)]
    if sum(_least(line) for line in found) <= len(open_places):
        return
    met = _kinds_met(evidence.counts, evidence.acts)
    short = sum(_least(line) for line in found) - len(open_places)
    for line in found:
        in_hand = any(_may_be(line, kind, of) for kind, of in met)
        if not in_hand and (met or _least(line) <= short):
            yield line


def _counts(line: Line) -> bool:
    """Whether the line says that at least one fastener of its own is in this joint."""
    return line.belongs != "maybe" and line.kind.what not in ("stud", "dowel") and _least(line) > 0


def _least(line: Line) -> int:
    if line.on_engine is not None:
        return line.on_engine
    return min((printed.quantity.low or 0 for printed in line.printed), default=0)


def _at_own_place(line: Line, places: Iterable[EvidencePlace]) -> bool:
    """Whether some place is said to be the line's, or to take its size."""
    if line.places:
        return True
    return any(
        line.id in place.lines or (place.kind is not None and _one_size(line.kind, place.kind))
        for place in places
    )


def _one_size(kind: Kind, other: Kind) -> bool:
    return whole_kind(kind).matches(whole_kind(other)) != "no"


def _without_size(evidence: Evidence) -> list[EvidencePlace]:
    """Places that may take a fastener of any size: nobody says which, and no dowel was seen there."""
    looks: dict[str, list[Look]] = {}
    for look in evidence.looks:
        looks.setdefault(look.place, []).append(look)
    return [
        place
        for place in evidence.places
        if place.kind is None
        and not place.lines
        and not any(look.saw in NO_HOLE for look in looks.get(place.id, []))
    ]


def _kinds_met(counts: Iterable[TrayCount], acts: Iterable[Act]) -> list[tuple[Kind, str]]:
    """Sizes and rows that somebody had in hand: counted in a tray, or taken out."""
    pieces = [(one.kind, one.line or "") for one in counts if one.pieces > 0]
    out = [(act.kind, act.line or "") for act in acts if act.did == "took out" and (act.kind or act.line)]
    return [*pieces, *((kind or Kind(), line) for kind, line in out)]


def _may_be(line: Line, kind: Kind, of: str) -> bool:
    if of and of == line.id:
        return True
    return kind != Kind() and _one_size(line.kind, kind)


def _called(line: Line) -> str:
    """ "4 x M5x16", or as somebody typed it: "2 x M8x70 far side"."""
    if line.words.startswith('"'):
        return line.words.strip('"')
    return f"{_least(line)} x {line.kind.words().removeprefix('screw ')}"


def _told(line: Line) -> str:
    words = line_words(line)
    return words if any(letter.isdigit() for letter in words) and not words.startswith('"') else _called(line)


def _key(name: str) -> str:
    """What a row may be typed as: "4 x M5x16" and "4 x screw M5x16" are one."""
    return " ".join(word for word in name.casefold().split() if word != "screw")
