"""What is known about one joint's fasteners, from every source and person, before anything is concluded.

`app/` fills it from the model, walk, engine and job files; a person's ten typed lines fill it just as well.
It says what was said and by whom; how it may be wrong is the tally's business. `moment` orders what happened
(a larger number is later); things from paper have no moment.
"""

from typing import Literal

from msgspec import Struct

from lastbolt.words.citation import Citation
from lastbolt.words.joint import Saw
from lastbolt.words.quantity import Kind, Quantity


class Printed(Struct, frozen=True):
    """One printed count of a line. `lineage`: sources that descend from one another carry the same one.
    `reading`: the act of reading it (one extraction of one page may be wrong for all its rows). `kind`: the
    size it prints, where that is not the line's. `by`: the people who copied or compared it, when people did;
    each of them would have to be wrong."""

    quantity: Quantity
    source: str
    lineage: str
    reading: str = ""
    citation: Citation | None = None
    kind: Kind | None = None
    by: tuple[str, ...] = ()


class Line(Struct, frozen=True):
    """A fastener line that may have pieces in this joint.

    `belongs`: `wholly` (somebody ties every piece to this joint; `tied_by` says who or what does), `partly`
    (some pieces, number not known), `maybe` (only the size fits). `places`: where its pieces go, when said.
    `on_engine`: how many there are on this very engine by its own file, which then speaks instead of papers.
    `tied_lineage`, `tied_reading`: those of the paper that ties it, when a paper does. `remarks`: what its
    sources say beside it ("From engine side"). `rest_of_list`: it stands for so many rows of the list whose
    size fits no place that is known; one of them may still be at a place that nobody listed.
    """

    id: str
    kind: Kind
    printed: tuple[Printed, ...] = ()
    belongs: Literal["wholly", "partly", "maybe"] = "maybe"
    tied_by: str = ""
    places: tuple[str, ...] = ()
    on_engine: int | None = None
    on_engine_by: str = ""
    words: str = ""
    citation: Citation | None = None
    tied_lineage: str = ""
    tied_reading: str = ""
    remarks: tuple[str, ...] = ()
    rest_of_list: int = 0


class ListRead(Struct, frozen=True):
    """A list whose rows are claimed to be all there are for this joint, read to its end.

    `by`: the people who read it so, when people did; each of them would have to be wrong.
    """

    source: str
    lineage: str
    citation: Citation | None = None
    by: tuple[str, ...] = ()


class StepSaid(Struct, frozen=True):
    """A step of a source that takes fasteners out, and what was recorded of it.

    `line`/`kind`: which fasteners; `removes`: how many, if printed; `places`: where, when known. `by` and
    `moment` when it was recorded as done, `looked` if by somebody who looked; `started` when work on it began
    and no more was said, or (without a moment) when nobody keeps a record.
    """

    id: str
    line: str | None
    kind: Kind | None
    removes: Quantity
    source: str
    lineage: str
    places: tuple[str, ...] = ()
    state: Literal["not recorded", "started", "done"] = "not recorded"
    by: str = ""
    moment: int = 0
    words: str = ""
    citation: Citation | None = None
    looked: bool = False


class Look(Struct, frozen=True):
    """What one person saw at one place. `guided`: asked place by place; else a glance."""

    by: str
    place: str
    saw: Saw
    guided: bool
    moment: int
    event: str = ""


class RoundMade(Struct, frozen=True):
    """A person's complete guided round: they say there is no further place than those listed by then."""

    by: str
    moment: int
    event: str = ""


class Act(Struct, frozen=True):
    """A recorded act at a place: fasteners taken out there, or put back in."""

    by: str
    place: str
    did: Literal["took out", "put in"]
    moment: int
    line: str | None = None
    kind: Kind | None = None
    event: str = ""


class TrayCount(Struct, frozen=True):
    """Pieces of one kind in the trays. `complete_pieces`: from tip to head; else heads only.
    `all_trays`: over all trays of the job; else some only."""

    by: str
    kind: Kind
    pieces: int
    moment: int
    line: str | None = None
    complete_pieces: bool = True
    all_trays: bool = True
    tray: str = ""
    event: str = ""


class Break(Struct, frozen=True):
    """The bench was left or handed over at this moment."""

    moment: int
    words: str = ""


class EvidencePlace(Struct, frozen=True):
    """A known place and its label; `kind` and `lines` as some source or person says.

    `words`: from which side its fastener enters and what it lies under. `note`: what a walk notes there.
    `never_there`: the engine's own file says that its fastener has been missing, in its words; `found`:
    what else that file says of the place.
    """

    id: str
    label: str
    kind: Kind | None = None
    lines: tuple[str, ...] = ()
    words: str = ""
    never_there: str = ""
    note: str = ""
    found: tuple[str, ...] = ()
    blind: bool = False
    """Whether one end is closed, so that no rod or light passes through."""


class Evidence(Struct, frozen=True):
    """All there is to go by for one joint."""

    joint: str
    places: tuple[EvidencePlace, ...] = ()
    lines: tuple[Line, ...] = ()
    lists: tuple[ListRead, ...] = ()
    steps: tuple[StepSaid, ...] = ()
    looks: tuple[Look, ...] = ()
    rounds: tuple[RoundMade, ...] = ()
    acts: tuple[Act, ...] = ()
    counts: tuple[TrayCount, ...] = ()
    breaks: tuple[Break, ...] = ()
    people: tuple[tuple[str, str], ...] = ()
    """Person id -> how to call them."""
    broken: tuple[str, ...] = ()
    """Places where somebody said a fastener is broken off with its shank still in."""
