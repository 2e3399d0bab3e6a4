"""What lies in the trays when everything is said to be back."""

from collections import Counter

from msgspec import Struct

from lastbolt.refitting.refit_words import refit_words, says
from lastbolt.words.account import Leftover
from lastbolt.words.job import Counted, Job, PutIn, Renewed, TookOut
from lastbolt.words.quantity import Kind
from lastbolt.words.standing import standing

ANY = Kind()
PIECES = "fastener"


class _Pile(Struct):
    """Of one joint: the empty places, and the pieces that came out at no place that anybody named."""

    empty: set[str]
    loose: Counter[str]
    trays: dict[str, None]


def leftovers(job: Job | None) -> tuple[Leftover, ...]:
    """Pieces that came out at places not named and have not gone in again; and what the last count found.

    A piece that goes in where none came out is one of those; with none of them left it is one too many, which
    is told as well, unless as many are said to be new. Empty places are told by themselves
    (`refitting.places`). A count of all trays speaks as long as nothing goes in after it.
    """
    piles: dict[str, _Pile] = {}
    counted: dict[str, Leftover] = {}
    new = 0
    for _, event in standing(job):
        if isinstance(event, TookOut):
            _out(piles.setdefault(event.joint, _Pile(set(), Counter(), {})), event)
        elif isinstance(event, PutIn):
            _in(piles.setdefault(event.joint, _Pile(set(), Counter(), {})), event)
            counted.clear()
        elif isinstance(event, Renewed) and _is_fastener(event.part):
            new += event.count
        elif isinstance(event, Counted) and event.all_trays:
            what = event.kind.words() if event.kind != ANY else (event.line or PIECES)
            counted[what] = Leftover(what, event.pieces, ", ".join(event.trays))
    apart = [one for pile in piles.values() for one in _of(pile) if one.what not in counted]
    uncounted = _less_the_new(apart, new)
    empty = any(pile.empty for pile in piles.values())
    found = [one for one in counted.values() if one.pieces and not empty]
    return (*uncounted, *found)


def _less_the_new(apart: list[Leftover], new: int) -> list[Leftover]:
    """What went in beyond what came out may be a new one, as many as were said to be new."""
    found = []
    for one in apart:
        taken = min(new, max(0, -one.pieces))
        new -= taken
        left = one.pieces + taken
        found += [Leftover(one.what, left, one.tray)] if left else []
    return found


def _is_fastener(part: str) -> bool:
    return says(part, refit_words()["fasteners"]["names"])


def _out(pile: _Pile, event: TookOut) -> None:
    if event.tray:
        pile.trays[event.tray] = None
    pile.empty |= set(event.places)
    if not event.places:
        pile.loose[event.kind.words() if event.kind else PIECES] += event.count or 1


def _in(pile: _Pile, event: PutIn) -> None:
    for place in event.places:
        if place in pile.empty:
            pile.empty.remove(place)
        else:
            names = [name for name, count in pile.loose.items() if count > 0]
            pile.loose[names[0] if names else PIECES] -= 1


def _of(pile: _Pile) -> list[Leftover]:
    tray = ", ".join(pile.trays)
    return [Leftover(name, count, tray) for name, count in pile.loose.items() if count]
