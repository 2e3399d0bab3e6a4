"""The claim table of the model, section 2 and 4, written out a second time for the tests.

A `Scene` is what people said and what papers print, as plain data. `claims_of` turns it into claims by hand,
one short function per row of the table. It knows nothing of the shipped builder.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field

from lastbolt.words.claims import Cause, Claim, ClaimSet, Unknown

NOWHERE_LISTED = "*"
ELSEWHERE = "else"
UNNAMED = "a kind nobody named"


@dataclass(frozen=True)
class Line:
    """A row of a parts list: a kind of fastener."""

    id: str
    kind: str


@dataclass(frozen=True)
class Row:
    """What one source prints for a line; `tied`: the source gives the line wholly to this joint."""

    source: str
    line: str
    prints: int
    tied: bool = True
    lineage: str = ""


@dataclass(frozen=True)
class Step:
    """A step that takes pieces of a line out at its own places; `removes` None when no number is printed."""

    id: str
    line: str
    places: tuple[str, ...]
    removes: int | None
    mark: str
    """`done`, `not recorded` or `started`."""
    by: str = ""
    lineage: str = ""


@dataclass(frozen=True)
class Look:
    """What a person saw at a place: `out`, `open hole`, `nothing`, `in`. `weak`: an unguided look."""

    person: str
    place: str
    saw: str
    weak: bool = False


@dataclass(frozen=True)
class Count:
    """Complete pieces of a kind that a person counted over all trays."""

    person: str
    kind: str
    number: int
    weak: bool = False


@dataclass(frozen=True)
class Scene:
    """One joint, as told by papers and people."""

    places: tuple[str, ...]
    lines: tuple[Line, ...]
    rows: tuple[Row, ...] = ()
    read_to_end: tuple[str, ...] = ()
    steps: tuple[Step, ...] = ()
    looks: tuple[Look, ...] = ()
    rounds: tuple[str, ...] = ()
    counts: tuple[Count, ...] = ()
    engine_file: tuple[tuple[str, int], ...] = ()
    """What this engine's own file says of lines: (line, number). It stands in place of what papers print."""
    breaks: bool = False
    """Whether a break or handover came after all that was looked at and counted."""
    places_named: bool = False
    """Whether it is said of every place that the kind of the first line goes there."""


@dataclass(frozen=True)
class Reading:
    """Where the text can be read in two ways: which one is taken."""

    broken_places: bool = True
    """Give each look that did not see it the shared cause `broken at p`."""
    tray_holds_other_work: bool = True
    """The tray count includes pieces of the kind taken out elsewhere on the machine."""
    not_listed: bool = True
    """Keep one not-listed line per kind."""
    builder_roots: bool = False
    """Add the readings of docs/tally.md, "Readings that the table leaves open": what was seen in may have
    come out since (look and tray); a hole seen empty may always have been empty (engine); steps ticked at one
    moment are one act, and nobody may have ticked any; a line is wrongly tied once, a row left out of a
    lineage once; what went at a break went unrecorded; where nobody says what goes into a place, it may be of
    a kind that no line names."""


@dataclass
class _Writer:
    scene: Scene
    reading: Reading
    claims: list[Claim] = field(default_factory=list)
    causes: dict[str, Cause] = field(default_factory=dict)

    def cause(self, kind: str, *about: str, cost: int = 1) -> str:
        key = ":".join((kind, *about))
        self.causes.setdefault(key, Cause(id=key, kind=kind, cost=cost))
        return key

    def claim(
        self,
        kind: str,
        about: str,
        pieces: Iterable[str],
        bound: int,
        causes: Iterable[str],
        sense: str = "=",
    ) -> None:
        self.claims.append(
            Claim(
                id=f"{kind}:{about}",
                kind=kind,
                terms=tuple((piece, 1) for piece in pieces),
                sense=sense,  # type: ignore[arg-type]
                bound=bound,
                causes=tuple(dict.fromkeys(causes)),
            )
        )

    @property
    def lines(self) -> list[Line]:
        kinds = dict.fromkeys(line.kind for line in self.scene.lines)
        extra = [Line(f"not listed {kind}", kind) for kind in kinds] if self.reading.not_listed else []
        if self.reading.builder_roots and self.scene.places and not self.scene.places_named:
            extra.append(Line("not listed, unnamed", UNNAMED))
        return [*self.scene.lines, *extra]

    @property
    def spots(self) -> list[str]:
        return [*self.scene.places, NOWHERE_LISTED, ELSEWHERE]


def unknown(side: str, spot: str, line: str) -> str:
    """The id of `in[p,l]` or `out[p,l]`."""
    return f"{side}[{spot},{line}]"


def both(spot: str, line: str) -> list[str]:
    """Pieces of a line at a spot, in or out."""
    return [unknown("in", spot, line), unknown("out", spot, line)]


def claims_of(scene: Scene, reading: Reading = Reading()) -> ClaimSet:
    """The scene as claims with causes, straight from the table."""
    writer = _Writer(scene, reading)
    _room_for_one(writer)
    _rows(writer)
    _engine_file(writer)
    _lists_read_to_their_end(writer)
    _steps(writer)
    _looks(writer)
    _rounds(writer)
    _counts(writer)
    most = max(
        [
            1,
            *(row.prints for row in scene.rows),
            *(count.number for count in scene.counts),
            *dict(scene.engine_file).values(),
        ]
    )
    unknowns = [
        Unknown(id=unknown(side, spot, line.id), upper=1 if spot in scene.places else most)
        for spot in writer.spots
        for line in writer.lines
        for side in ("in", "out")
    ]
    holders = [
        unknown("in", spot, line.id) for spot in (*scene.places, NOWHERE_LISTED) for line in writer.lines
    ]
    return ClaimSet(tuple(unknowns), tuple(writer.causes.values()), tuple(writer.claims), tuple(holders))


def _room_for_one(w: _Writer) -> None:
    for place in w.scene.places:
        pieces = [piece for line in w.lines for piece in both(place, line.id)]
        w.claim("room", place, pieces, 1, (), sense="<=")


def _rows(w: _Writer) -> None:
    for row in w.scene.rows:
        about = f"{row.source}/{row.line}"
        pieces = [piece for spot in w.spots for piece in both(spot, row.line)]
        causes = (w.cause("misprint", about), *_lineage(w, row.lineage), w.cause("engine"))
        if row.line not in dict(w.scene.engine_file):
            w.claim("prints", about, pieces, row.prints, causes)
        if row.tied:
            tied = (
                w.cause("wrongly tied", row.line if w.reading.builder_roots else about),
                w.cause("engine"),
            )
            w.claim("tied", about, both(ELSEWHERE, row.line), 0, tied)


def _engine_file(w: _Writer) -> None:
    for line, number in w.scene.engine_file:
        pieces = [piece for spot in w.spots for piece in both(spot, line)]
        causes = [w.cause("engine file wrong", line)]
        if len(w.scene.engine_file) > 1:
            causes.append(w.cause("engine file out of date"))
        w.claim("engine file", line, pieces, number, causes)


def _lineage(w: _Writer, lineage: str) -> tuple[str, ...]:
    return (w.cause("lineage", lineage),) if lineage else ()


def _lists_read_to_their_end(w: _Writer) -> None:
    if not w.reading.not_listed:
        return
    lineage = {row.source: row.lineage for row in w.scene.rows if row.lineage and w.reading.builder_roots}
    for source in w.scene.read_to_end:
        for line in w.lines[len(w.scene.lines) :]:
            causes = (w.cause("row left out", lineage.get(source, source), line.kind), w.cause("engine"))
            for spot in w.spots:
                w.claim("whole list", f"{source}/{spot}/{line.kind}", both(spot, line.id), 0, causes)


def _steps(w: _Writer) -> None:
    for step in w.scene.steps:
        pieces = [piece for place in step.places for piece in both(place, step.line)]
        if step.removes is not None:
            causes = (w.cause("misprint", step.id), *_lineage(w, step.lineage), w.cause("engine"))
            w.claim("removes", step.id, pieces, step.removes, causes)
        if step.mark == "done":
            ticked = [w.cause("ticked, not done", *_ticked(w, step)), w.cause("did not look", step.by)]
            ticked += [w.cause("broken", place) for place in step.places if w.reading.broken_places]
            w.claim("done", step.id, pieces[::2], 0, [*ticked, *_changed(w)])
        if step.mark == "not recorded":
            unticked = [*_unticked(w, step), *(_changed(w) if w.reading.builder_roots else ())]
            w.claim("not recorded", step.id, pieces[1::2], 0, unticked)


def _ticked(w: _Writer, step: Step) -> tuple[str, ...]:
    """What one act of ticking covers: with the builder's roots all that a person ticked at one moment."""
    own = [other for other in w.scene.steps if other.mark == "done" and other.by == step.by]
    return ("at once", step.by) if w.reading.builder_roots and len(own) > 1 else (step.id,)


def _unticked(w: _Writer, step: Step) -> list[str]:
    causes = [w.cause("done, not recorded", step.id)]
    marks = [other.mark for other in w.scene.steps]
    if w.reading.builder_roots and "done" not in marks and marks.count("not recorded") > 1:
        causes.append(w.cause("record not kept"))
    return causes


def _gone_since(w: _Writer, place: str) -> list[str]:
    """How what was seen in at a place may have come out: unrecorded, or by an unticked step there."""
    unticked = [s for s in w.scene.steps if s.mark == "not recorded" and place in s.places]
    return [
        w.cause("taken out, not recorded", place),
        *(cause for step in unticked for cause in _unticked(w, step)),
    ]


def _gone_after_count(w: _Writer, kind: str) -> list[str]:
    """What may have put more pieces of a kind into the tray after it was counted."""
    seen_in = dict.fromkeys(look.place for look in w.scene.looks if look.saw == "in")
    kinds = {line.id: line.kind for line in w.scene.lines}
    unticked = [s for s in w.scene.steps if s.mark == "not recorded" and kinds[s.line] == kind]
    return [
        *(w.cause("taken out, not recorded", place) for place in seen_in),
        *(cause for step in unticked for cause in _unticked(w, step)),
    ]


def _changed(w: _Writer) -> tuple[str, ...]:
    return (w.cause("changed since"),) if w.scene.breaks else ()


def _looks(w: _Writer) -> None:
    for look in w.scene.looks:
        about = f"{look.person}/{look.place}"
        ins = [unknown("in", look.place, line.id) for line in w.lines]
        outs = [unknown("out", look.place, line.id) for line in w.lines]
        pieces, bound = {
            "out": (outs, 1),
            "open hole": (ins, 0),
            "nothing": (ins + outs, 0),
            "in": (ins, 1),
        }[look.saw]
        causes = [
            w.cause("misjudged", about, cost=0 if look.weak and look.saw != "in" else 1),
            w.cause("did not look", look.person),
        ]
        if w.reading.broken_places and look.saw != "in":
            causes.append(w.cause("broken", look.place))
        causes += _changed(w)
        if w.reading.builder_roots and look.saw == "in":
            causes += _gone_since(w, look.place)
        if w.reading.builder_roots and look.saw == "out":
            w.claim("nothing in", about, ins, 0, causes)
            causes.append(w.cause("engine"))
        w.claim("look", about, pieces, bound, causes)


def _rounds(w: _Writer) -> None:
    for person in w.scene.rounds:
        pieces = [piece for line in w.lines for piece in both(NOWHERE_LISTED, line.id)]
        causes = (w.cause("missed a place", person), w.cause("did not look", person), *_changed(w))
        w.claim("round", person, pieces, 0, causes)


def _counts(w: _Writer) -> None:
    for count in w.scene.counts:
        about = f"{count.person}/{count.kind}"
        spots = w.spots if w.reading.tray_holds_other_work else w.spots[:-1]
        outs = [
            unknown("out", spot, line.id) for spot in spots for line in w.lines if line.kind == count.kind
        ]
        causes = [w.cause("miscount", about, cost=0 if count.weak else 1), w.cause("tray mixed")]
        causes.append(w.cause("did not look", count.person))
        causes += _changed(w)
        since = _gone_after_count(w, count.kind) if w.reading.builder_roots else []
        if since:
            w.claim("tray", f"{about}/least", outs, count.number, causes, ">=")
            w.claim("tray", f"{about}/most", outs, count.number, [*causes, *since], "<=")
        else:
            w.claim("tray", about, outs, count.number, causes)
