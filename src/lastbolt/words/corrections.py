"""The corrections file: what people put right in a model, beside it and never in it.

Corrections are only ever added, in order; of two about one fact the later holds. Each names its
fact by id and by the words it saw there: when the source is read again and other words stand there, it is
shown as an orphan and changes nothing.
"""

from typing import Literal

from msgspec import Struct

from lastbolt.words.citation import Citation, PdfPlace
from lastbolt.words.machine import Deed
from lastbolt.words.measured import LimitSense, Span

CORRECTIONS_SCHEMA = "lastbolt.corrections/1"

FastenerWord = Literal["", "bolt", "screw", "stud", "nut", "pin", "clip", "dowel"]


class Stated(Struct, frozen=True, omit_defaults=True, kw_only=True, tag_field="does"):
    """What every correction carries. `saw`: the source's words; `read_as`: what had been read from them;
    `at`: the device's own clock, for people. `by` is the person's name as they gave it."""

    id: str
    fact: str
    saw: str
    by: str
    at: str = ""
    read_as: str = ""
    reason: str = ""
    seen_at: Citation | None = None
    """Where the words stood."""


class Confirmed(Stated, frozen=True, omit_defaults=True, kw_only=True, tag="confirmed"):
    """Looked at on the page: it is as it was read. Holds only while `read_as` is still what is read."""


class NotAStep(Stated, frozen=True, omit_defaults=True, kw_only=True, tag="not a step"):
    """What was read as a step tells nothing to do."""


class StepReads(Stated, frozen=True, omit_defaults=True, kw_only=True, tag="step reads"):
    """The step's own words, mark or kind; None: as read."""

    words: str | None = None
    mark: str | None = None
    deeds: tuple[Deed, ...] | None = None


class StepMissing(Stated, frozen=True, omit_defaults=True, kw_only=True, tag="step missing"):
    """A step that was not read. `fact` is the procedure, `saw` its title; `behind` the step before it, ""
    when it is the first; `place` where it stands on the page."""

    words: str
    source: str
    mark: str = ""
    behind: str = ""
    place: PdfPlace | None = None


class LeadsTo(Stated, frozen=True, omit_defaults=True, kw_only=True, tag="leads to"):
    """Where words that point elsewhere lead. `first`: that work comes before; None: as read."""

    to: tuple[str, ...]
    any_of: bool = False
    first: bool | None = None


class AsksNothing(Stated, frozen=True, omit_defaults=True, kw_only=True, tag="asks nothing"):
    """Words that point elsewhere ask for nothing here; `reason` says why."""


class TorqueReads(Stated, frozen=True, omit_defaults=True, kw_only=True, tag="torque reads"):
    """The torque, in the unit as printed; `angle_deg` where a turn follows."""

    low: float
    high: float
    unit: str
    angle_deg: float | None = None
    limit: Literal["", "at most", "at least"] = ""


class LimitReads(Stated, frozen=True, omit_defaults=True, kw_only=True, tag="limit reads"):
    """The size when new and the limit; None: as read."""

    standard: Span | None = None
    limit: Span | None = None
    sense: LimitSense | None = None


class CountReads(Stated, frozen=True, omit_defaults=True, kw_only=True, tag="count reads"):
    """How many of a part a step or a table of fasteners means."""

    low: int
    high: int


class RowReads(Stated, frozen=True, omit_defaults=True, kw_only=True, tag="row reads"):
    """A row of the parts list; None: as read. `what`: the sort of fastener, "" when it is none."""

    name: str | None = None
    part_number: str | None = None
    low: int | None = None
    high: int | None = None
    what: FastenerWord | None = None
    thread: str | None = None
    length_mm: float | None = None


class Withdrawn(Stated, frozen=True, omit_defaults=True, kw_only=True, tag="withdrawn"):
    """An earlier correction no longer holds, as if it had never been made."""

    withdraws: str


Correction = (
    Confirmed
    | NotAStep
    | StepReads
    | StepMissing
    | LeadsTo
    | AsksNothing
    | TorqueReads
    | LimitReads
    | CountReads
    | RowReads
    | Withdrawn
)


class Corrections(Struct, frozen=True, omit_defaults=True):
    """The corrections file of one model."""

    schema: str
    machine: str = ""
    corrections: tuple[Correction, ...] = ()


def standing(corrections: Corrections) -> tuple[Correction, ...]:
    """Those that still hold: not withdrawn, the later of two about one fact.

    A withdrawal can itself be withdrawn; one that names no correction before it takes nothing back.
    """
    gone: set[str] = set()
    kept: list[Correction] = []
    for one in reversed(corrections.corrections):
        if one.id in gone:
            continue
        if isinstance(one, Withdrawn):
            gone.add(one.withdraws)
        else:
            kept.append(one)
    last: dict[str, Correction] = {}
    added: list[Correction] = []
    for one in reversed(kept):
        if isinstance(one, StepMissing):
            added.append(one)
        else:
            last.pop(one.fact, None)
            last[one.fact] = one
    return (*added, *last.values())
