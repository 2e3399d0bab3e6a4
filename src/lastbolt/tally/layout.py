"""Which pieces may be where: the unknowns of one joint and their names.

A known place takes one fastener. `*` stands for the places nobody listed, `else` for the rest of the machine.
Besides the lines of the parts lists there is, for every kind of fastener met, one line "not listed"; and one
for a kind that nobody has named, unless it is known of every place what goes there.
"""

from dataclasses import dataclass, field

from msgspec import Struct

from lastbolt.words.claims import Unknown
from lastbolt.words.evidence import Evidence, EvidencePlace, Line, StepSaid
from lastbolt.words.quantity import Belief, Kind, Quantity

NOWHERE_LISTED = "*"
ELSEWHERE = "else"
FAMILIES = {"bolt": "screw", "screw": "screw"}
NO_LENGTH = ("nut", "clip")
"""Sorts of fastener whose thread alone says the size."""
MANY_SIDES = 4
"""A quantity "each" or "per side" may stand for this many times as many pieces, at most (assumed)."""


class TallyLine(Struct, frozen=True):
    """A line as the tally uses it: `listed` is false for "not listed".

    `unnamed`: of no size that the joint is known for, so it fits no place of which somebody says the thread.
    """

    id: str
    kind: Kind
    listed: bool = True
    unnamed: bool = False

    @property
    def words(self) -> str:
        """The kind in words."""
        if self.unnamed:
            return "fastener of another size" if self.listed else "fastener of a kind nobody named"
        return self.kind.words()


class Piece(Struct, frozen=True):
    """What an unknown means: pieces of `line` at `spot`, in or out."""

    side: str
    spot: str
    line: str


@dataclass(frozen=True)
class Layout:
    """The unknowns of one joint; look them up by side, spot and line."""

    places: tuple[EvidencePlace, ...]
    lines: tuple[TallyLine, ...]
    at_place: dict[str, tuple[TallyLine, ...]]
    names: dict[tuple[str, str, str], str]
    most: int
    paired_nuts: frozenset[str]
    left_out: tuple[tuple[str, str], ...]
    """Lines of the evidence that stay out of the tally, and why."""
    pieces: dict[str, Piece] = field(default_factory=dict)

    @property
    def spots(self) -> tuple[str, ...]:
        """Every spot: known places, `*`, `else`."""
        return (*(place.id for place in self.places), NOWHERE_LISTED, ELSEWHERE)

    def lines_at(self, spot: str) -> tuple[TallyLine, ...]:
        """The lines that may have pieces at a spot."""
        return self.at_place.get(spot, self.lines)

    def at(self, side: str, spot: str, among: frozenset[str] | None = None) -> list[str]:
        """The unknowns of one side at one spot, of all lines or of those named."""
        return [
            self.names[side, spot, line.id]
            for line in self.lines_at(spot)
            if among is None or line.id in among
        ]

    def line_ids(self, kind: Kind | None, *, sure: bool = False) -> frozenset[str]:
        """Lines whose pieces may be of this kind; with `sure`, only those that certainly are."""
        if kind is None:
            return frozenset() if sure else frozenset(line.id for line in self.lines)
        meant = whole_kind(kind)
        fit = surely_one_size if sure else may_be
        # A size said in full is a kind that somebody named.
        open_kind = not sure and not _said_in_full(meant)
        return frozenset(
            line.id for line in self.lines if (open_kind if line.unnamed else fit(meant, line.kind))
        )

    def unknowns(self) -> tuple[Unknown, ...]:
        """All of them, with their bounds."""
        known = {place.id for place in self.places}
        return tuple(
            Unknown(name, 1 if spot in known else self.most) for (_, spot, _), name in self.names.items()
        )

    def holders(self) -> tuple[str, ...]:
        """What adds up to H: pieces in, at places and `*`."""
        return tuple(
            name for (side, spot, _), name in self.names.items() if side == "in" and spot != ELSEWHERE
        )


def whole_kind(kind: Kind) -> Kind:
    """The kind of the fastener that a piece stands for: a stud stands for its nut."""
    if kind.what == "stud":
        return Kind("nut", kind.thread)
    return Kind(FAMILIES.get(kind.what or "", kind.what), kind.thread, kind.length_mm)


def fits(place: EvidencePlace, kind: Kind, *, paired_nut: bool = False) -> bool:
    """Whether a piece of this kind may sit at the place.

    Lengths are not asked: one length can stand in another's hole, and that is how swapped lengths show. A
    dowel may be hollow and have any bolt through it.
    """
    if place.kind is None or place.kind.what == "dowel":
        return True
    there = whole_kind(place.kind)
    a = Kind(None if paired_nut else there.what, there.thread)
    return a.matches(Kind(kind.what, kind.thread)) != "no"


def layout_of(evidence: Evidence) -> Layout:
    """The unknowns that this evidence speaks of."""
    kept, left_out = _kept_lines(evidence.lines)
    listed = tuple(TallyLine(line.id, whole_kind(line.kind), unnamed=line.rest_of_list > 0) for line in kept)
    lines = listed + _not_listed(evidence, listed)
    paired = _paired_nuts(evidence, lines)
    places = all_places(evidence)
    at_place = {
        place.id: tuple(
            line
            for line in lines
            if (
                _kind_is_open(place) if line.unnamed else fits(place, line.kind, paired_nut=line.id in paired)
            )
        )
        for place in places
    }
    names: dict[tuple[str, str, str], str] = {}
    taken: set[str] = set()
    for spot in (*at_place, NOWHERE_LISTED, ELSEWHERE):
        for line in at_place.get(spot, lines):
            for side in ("in", "out"):
                names[side, spot, line.id] = _fresh(f"{side}[{spot},{line.id}]", taken)
    pieces = {name: Piece(*key) for key, name in names.items()}
    return Layout(places, lines, at_place, names, _most(evidence), paired, left_out, pieces)


def all_places(evidence: Evidence) -> tuple[EvidencePlace, ...]:
    """Every place that anyone suggests, once each; one that is only named in passing is a place too."""
    found: dict[str, EvidencePlace] = {}
    for place in evidence.places:
        found.setdefault(place.id, place)
    named = [
        *(place for line in evidence.lines for place in line.places),
        *(place for step in evidence.steps for place in step.places),
        *(look.place for look in evidence.looks),
        *(act.place for act in evidence.acts),
        *evidence.broken,
    ]
    for name in named:
        if name:
            found.setdefault(name, EvidencePlace(name, name))
    return tuple(place for id_, place in found.items() if id_ not in (NOWHERE_LISTED, ELSEWHERE))


def at_most(quantity: Quantity) -> int:
    """The largest number of pieces that a printed quantity may mean."""
    top = max(quantity.high or 0, quantity.low or 0)
    return top * MANY_SIDES if quantity.per in ("side", "each", "assembly") else top


MOST_PIECES = 5000
"""More pieces of a line than this are a slip; whoever gathers evidence says so."""


def _most(evidence: Evidence) -> int:
    printed = [at_most(printed.quantity) for line in evidence.lines for printed in line.printed]
    removed = [at_most(step.removes) for step in evidence.steps]
    engine = [line.on_engine or 0 for line in evidence.lines]
    counted = [count.pieces for count in evidence.counts]
    return min(MOST_PIECES, max([1, *printed, *removed, *engine, *counted]))


def _kept_lines(lines: tuple[Line, ...]) -> tuple[tuple[Line, ...], tuple[tuple[str, str], ...]]:
    kept: dict[str, Line] = {}
    left_out: list[tuple[str, str]] = []
    for line in lines:
        if line.kind.what == "stud" and _nuts_listed(line, lines):
            left_out.append((line.id, "a stud with its nut is counted as the nut"))
        elif line.kind.what == "dowel":
            left_out.append((line.id, "a dowel is settled with the other holders"))
        else:
            kept.setdefault(line.id, line)
    return tuple(kept.values()), tuple(left_out)


def _nuts_listed(stud: Line, lines: tuple[Line, ...]) -> bool:
    """Whether a row gives the nuts of these studs; without one the studs stand for as many nuts."""
    nuts = [line.kind for line in lines if line.kind.what == "nut"]
    if stud.kind.thread is None:
        return bool(nuts)
    return any(nut.thread == stud.kind.thread for nut in nuts)


def _not_listed(evidence: Evidence, listed: tuple[TallyLine, ...]) -> tuple[TallyLine, ...]:
    met: dict[Kind, None] = {line.kind: None for line in listed if not line.unnamed}
    others = [
        *(place.kind for place in evidence.places),
        *(step.kind for step in evidence.steps),
        *(act.kind for act in evidence.acts),
        *(count.kind for count in evidence.counts),
    ]
    for kind in others:
        if kind is not None and kind.what != "dowel" and (kind != Kind() or not met):
            met.setdefault(whole_kind(kind), None)
    taken = {line.id for line in listed}
    lines = [TallyLine(_fresh(f"not listed {k.words()}", taken), k, listed=False) for k in met]
    if not met or any(_kind_is_open(place) for place in all_places(evidence)):
        lines.append(TallyLine(_fresh("not listed, unnamed", taken), Kind(), listed=False, unnamed=bool(met)))
    return tuple(lines)


def _kind_is_open(place: EvidencePlace) -> bool:
    """Whether a fastener of a kind that nobody named may be there: nobody says its thread."""
    return place.kind is None or place.kind.what == "dowel" or place.kind.thread is None


def _said_in_full(kind: Kind) -> bool:
    """Whether the kind is one size."""
    if kind.what is None or kind.thread is None:
        return False
    return kind.length_mm is not None or kind.what in NO_LENGTH


def _paired_nuts(evidence: Evidence, lines: tuple[TallyLine, ...]) -> frozenset[str]:
    """Nuts that may sit on this joint's own bolts: no stud of their thread is listed, but a bolt is."""
    studs = [Kind(None, line.kind.thread) for line in evidence.lines if line.kind.what == "stud"]
    bolts = [Kind(None, line.kind.thread) for line in lines if line.listed and line.kind.what == "screw"]

    def any_of(kinds: list[Kind], nut: TallyLine) -> bool:
        return any(kind.matches(Kind(None, nut.kind.thread)) != "no" for kind in kinds)

    return frozenset(
        line.id
        for line in lines
        if line.kind.what == "nut" and any_of(bolts, line) and not any_of(studs, line)
    )


def _fresh(name: str, taken: set[str]) -> str:
    """The name, made different from those taken, and noted among them."""
    while name in taken:
        name += "'"
    taken.add(name)
    return name


def step_may_touch(step: StepSaid, place: EvidencePlace, kind_of_line: dict[str, Kind]) -> bool:
    """Whether the step may have had a fastener out at this place."""
    if step.places:
        return place.id in step.places
    kind = kind_of_line.get(step.line or "") or step.kind
    return kind is None or fits(place, whole_kind(kind))


def surely_one_size(kind: Kind, other: Kind) -> bool:
    """Whether two kinds are certainly one size; "bolt" or "pin" may be unsaid, a nut has no length."""
    belief = kind.matches(other)
    if belief != "unknown" or kind.thread is None or kind.thread != other.thread:
        return belief == "yes"
    no_length = kind.what == other.what and kind.what in NO_LENGTH
    return kind.length_mm == other.length_mm and (no_length or kind.length_mm is not None)


def may_be(kind: Kind | None, other: Kind | None) -> bool:
    """Whether two kinds, each possibly unsaid, may be the same."""
    belief: Belief = (
        "unknown" if kind is None or other is None else whole_kind(kind).matches(whole_kind(other))
    )
    return belief != "no"
