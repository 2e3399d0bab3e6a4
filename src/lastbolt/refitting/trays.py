"""What lies in the trays when everything is said to be back; whether counts agree with what came out."""

from collections import Counter
from collections.abc import Iterator

from msgspec import Struct

from lastbolt.refitting.refit_words import refit_words, says
from lastbolt.words.account import Leftover
from lastbolt.words.job import Counted, Event, Job, PutIn, Renewed, Slackened, Tightened, TookOut
from lastbolt.words.quantity import Kind
from lastbolt.words.standing import standing

ANY = Kind()
PIECES = "fastener"


class Short(Struct, frozen=True):
    """Fewer pieces were counted than came out, and nobody has told since where the others are."""

    out: int
    counted: int
    by: str


class Trays(Struct, frozen=True):
    """Pieces left over (below 0: more went in than came out), and counts that fell short."""

    over: tuple[Leftover, ...]
    short: Short | None = None


def trays_of(job: Job | None) -> Trays:
    """Pieces that came out at places not named and have not gone in again; what the last counts found; and
    what was never in a tray although it came out.

    A piece that goes in where none came out is one of the loose ones; with none of them left it is one too
    many, which is told as well, unless as many are said to be new. Empty places are told by themselves
    (`refitting.places`). What is tightened or slackened at an empty place must have gone in.
    """
    made = _Trays()
    for _, event in standing(job):
        made.event(event)
    return Trays(tuple(made.over()), made.missing())


class _Pile(Struct):
    """Of one joint: the empty places, and the pieces that came out at no place that anybody named."""

    empty: set[str]
    loose: Counter[str]
    trays: dict[str, None]


class _Count(Struct, frozen=True):
    """The last count of one kind. `put`: how many pieces had gone in until then."""

    pieces: int
    put: int
    trays: tuple[str, ...]


class _Trays:
    def __init__(self) -> None:
        self.piles: dict[str, _Pile] = {}
        self.counts: dict[str, _Count] = {}
        self.put = self.new = 0
        self.fresh = ""
        """Who counted since pieces last moved."""
        self.short: tuple[int, int, str, int] | None = None
        """How many were out, how many were counted, who counted, and how many new ones there were then."""

    def event(self, event: Event) -> None:
        """One event: pieces out, in, new or counted."""
        match event:
            case TookOut():
                self._series_ends()
                self._out(event)
            case PutIn():
                self._series_ends()
                self._in(event.joint, event.places)
            case Tightened() | Slackened():
                pile = self.piles.get(event.joint)
                self._in(event.joint, tuple(place for place in event.places if pile and place in pile.empty))
            case Renewed() if says(event.part, refit_words()["fasteners"]["names"]):
                self.new += event.count
            case Counted() if event.all_trays:
                what = event.kind.words() if event.kind != ANY else (event.line or PIECES)
                self.counts[what] = _Count(event.pieces, self.put, event.trays)
                self.fresh = event.by

    def over(self) -> Iterator[Leftover]:
        """What is left over, by what came out and by the counts."""
        new = self.new
        for pile in self.piles.values():
            for name, count in pile.loose.items():
                if name in self.counts and self.counts[name].put == self.put:
                    continue
                taken = min(new, max(0, -count))
                new -= taken
                if left := count + taken:
                    yield Leftover(name, left, ", ".join(pile.trays))
        if not any(pile.empty for pile in self.piles.values()):
            yield from self._counted()

    def _counted(self) -> Iterator[Leftover]:
        """What the last counts found, less what has gone in since the oldest of them."""
        since = self.put - min((one.put for one in self.counts.values()), default=self.put)
        if not since:
            yield from (
                Leftover(what, one.pieces, ", ".join(one.trays))
                for what, one in self.counts.items()
                if one.pieces
            )
        elif (left := sum(one.pieces for one in self.counts.values()) - since) > 0:
            trays = dict.fromkeys(tray for one in self.counts.values() if one.pieces for tray in one.trays)
            yield Leftover(PIECES, left, ", ".join(trays))

    def missing(self) -> Short | None:
        """The last series of counts, if it fell short and new ones do not make it good."""
        self._series_ends()
        if self.short is None:
            return None
        out, counted, by, new = self.short
        left = out - counted - (self.new - new)
        return Short(out, counted, by) if left > 0 else None

    def _series_ends(self) -> None:
        """A series of counts is compared with what is out when pieces move, or at the end."""
        if not self.fresh:
            return
        out = sum(len(pile.empty) + max(0, sum(pile.loose.values())) for pile in self.piles.values())
        since = self.put - min((one.put for one in self.counts.values()), default=self.put)
        counted = sum(one.pieces for one in self.counts.values())
        if not since and counted < out:
            self.short = (out, counted, self.fresh, self.new)
        elif not since and out:
            self.short = None
        self.fresh = ""

    def _out(self, event: TookOut) -> None:
        pile = self.piles.setdefault(event.joint, _Pile(set(), Counter(), {}))
        if event.tray:
            pile.trays[event.tray] = None
        pile.empty |= set(event.places)
        if not event.places:
            pile.loose[event.kind.words() if event.kind else PIECES] += event.count or 1

    def _in(self, joint: str, places: tuple[str, ...]) -> None:
        pile = self.piles.setdefault(joint, _Pile(set(), Counter(), {}))
        self.put += len(places)
        for place in places:
            if place in pile.empty:
                pile.empty.remove(place)
            else:
                names = [name for name, count in pile.loose.items() if count > 0]
                pile.loose[names[0] if names else PIECES] -= 1
