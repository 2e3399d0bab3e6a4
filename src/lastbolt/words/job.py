"""The job file: what happened at the bench, in order. Events are only ever added.

The order of the list is the order in which things happened as far as one device knows it; `sequence` counts
per device. `by` names a person by an id that means nothing by itself.
"""

from typing import Literal

from msgspec import Struct

from lastbolt.words.citation import Citation
from lastbolt.words.joint import Answer, Round
from lastbolt.words.lengths import Proud
from lastbolt.words.measured import Reading
from lastbolt.words.quantity import Kind

JOB_SCHEMA = "lastbolt.job/1"


class Said(Struct, frozen=True, omit_defaults=True, kw_only=True, tag_field="event"):
    """What every event carries. `time` is the device's own clock, for people; order never rests on it."""

    id: str
    by: str
    device: str = ""
    sequence: int = 0
    time: str = ""
    words: str = ""


class StepStarted(Said, frozen=True, omit_defaults=True, kw_only=True, tag="step started"):
    """Work on a step began; it says nothing about what is out."""

    step: str


class StepDone(Said, frozen=True, omit_defaults=True, kw_only=True, tag="step done"):
    """A step was ticked. `looked`: the person says that they looked at the result, not only ticked."""

    step: str
    looked: bool = False


class ProcedureDone(Said, frozen=True, omit_defaults=True, kw_only=True, tag="procedure done"):
    """A whole procedure was ticked at once, or confirmed as already off (`looked`)."""

    procedure: str
    looked: bool = False


class Undone(Said, frozen=True, omit_defaults=True, kw_only=True, tag="undone"):
    """An earlier event was taken back: it never happened."""

    undoes: str


class Looked(Said, frozen=True, omit_defaults=True, kw_only=True, tag="looked"):
    """A glance at some places of a joint, not a guided round."""

    joint: str
    answers: tuple[Answer, ...]


class WentRound(Said, frozen=True, omit_defaults=True, kw_only=True, tag="went round"):
    """A round of the joint (the round's own `by` is this event's)."""

    joint: str
    round: Round


class TookOut(Said, frozen=True, omit_defaults=True, kw_only=True, tag="took out"):
    """Fasteners were taken out at named places, or `count` of a kind at places not said."""

    joint: str
    places: tuple[str, ...] = ()
    kind: Kind | None = None
    line: str | None = None
    count: int | None = None
    tray: str = ""


class PutIn(Said, frozen=True, omit_defaults=True, kw_only=True, tag="put in"):
    """Fasteners went back in at named places (a trial fit, a refit)."""

    joint: str
    places: tuple[str, ...]
    line: str | None = None


class Tightened(Said, frozen=True, omit_defaults=True, kw_only=True, tag="tightened"):
    """Fasteners were tightened at named places: to `stage`, counted from 1, or with `final` to the end, where
    `painted` says that the paint mark is on."""

    joint: str
    places: tuple[str, ...]
    stage: int = 0
    final: bool = False
    painted: bool = False
    torque_Nm: float | None = None
    wrench: str = ""


class Slackened(Said, frozen=True, omit_defaults=True, kw_only=True, tag="slackened"):
    """Fasteners were slackened and stay in: they no longer hold as they should, and are not out."""

    joint: str
    places: tuple[str, ...]


class LaidIn(Said, frozen=True, omit_defaults=True, kw_only=True, tag="laid in"):
    """Something was put in that must come out again before closing: a rag, a port plug, a locking pin, a
    guide stud, a tool. `count` of them, at `where`."""

    thing: str
    count: int = 1
    where: str = ""


class TakenAway(Said, frozen=True, omit_defaults=True, kw_only=True, tag="taken away"):
    """Something that was laid in is out again."""

    thing: str
    count: int = 1
    where: str = ""


class FoundBad(Said, frozen=True, omit_defaults=True, kw_only=True, tag="found bad"):
    """A part cannot go back: it is lost, damaged or beyond its limit. `row` is its line of the parts list;
    `citations`: where its limit stands."""

    part: str
    how: Literal["lost", "damaged", "beyond limit"]
    row: str = ""
    count: int = 1
    citations: tuple[Citation, ...] = ()


class Renewed(Said, frozen=True, omit_defaults=True, kw_only=True, tag="renewed"):
    """A new part went in for one that came off."""

    part: str
    row: str = ""
    part_number: str = ""
    count: int = 1


class HeadsStand(Said, frozen=True, omit_defaults=True, kw_only=True, tag="heads stand"):
    """How far heads stand off their seats, fasteners turned in by hand and nothing tightened."""

    joint: str
    proud: tuple[Proud, ...]


class WontMove(Said, frozen=True, omit_defaults=True, kw_only=True, tag="won't move"):
    """The halves of a joint do not part, or a part does not come off: the load was taken off, and somebody
    looks. It says nothing about any fastener."""

    joint: str


class WontClose(Said, frozen=True, omit_defaults=True, kw_only=True, tag="won't close"):
    """The halves of a joint do not come together by hand: work stops until `FoundWhy` names the cause."""

    joint: str


class FoundWhy(Said, frozen=True, omit_defaults=True, kw_only=True, tag="found why"):
    """What kept the halves apart, found and put right."""

    joint: str
    cause: str


class Counted(Said, frozen=True, omit_defaults=True, kw_only=True, tag="counted"):
    """Pieces of one kind in the trays of this job. `complete_pieces`: each looked at from tip to head;
    else heads only. `all_trays`: every tray of the job was counted."""

    kind: Kind
    pieces: int
    joint: str = ""
    line: str | None = None
    complete_pieces: bool = True
    all_trays: bool = True
    trays: tuple[str, ...] = ()


class HandedOver(Said, frozen=True, omit_defaults=True, kw_only=True, tag="handed over"):
    """The bench was left or went to others: what was put in or taken out meanwhile may be unrecorded."""

    to: str = ""
    kind: Literal["handover", "break"] = "handover"


class HolderSettled(Said, frozen=True, omit_defaults=True, kw_only=True, tag="holder settled"):
    """One of the other holders was dealt with: how it was seen that it no longer holds."""

    joint: str
    holder: str
    how: str


class SetAside(Said, frozen=True, omit_defaults=True, kw_only=True, tag="set aside"):
    """A reference was looked at and does not apply here."""

    reference: str
    reason: str


class QuestionAnswered(Said, frozen=True, kw_only=True, tag="question answered"):
    """A question of the plan was answered. `question`: the id of the reference or step that asks it;
    `answer`: "yes", "no", or the id of the procedure chosen among alternatives."""

    question: str
    answer: str


class ToolTaken(Said, frozen=True, omit_defaults=True, kw_only=True, tag="tool taken"):
    """A measuring tool as it was on that day. All numbers in its `unit`; `uncertainty` is the expanded one of
    its certificate (k = 2), `low` and `high` what it can read. None: not known."""

    name: str
    kind: str = ""
    unit: str = "mm"
    low: float | None = None
    high: float | None = None
    resolution: float | None = None
    uncertainty: float | None = None
    calibrated_until: str = ""


class ZeroChecked(Said, frozen=True, omit_defaults=True, kw_only=True, tag="zero checked"):
    """A tool was checked before a series: it `reads` so `on` nothing, or on a master of that size."""

    tool: str
    reads: float
    on: float = 0.0


class Measured(Said, frozen=True, omit_defaults=True, kw_only=True, tag="measured"):
    """Readings of one size, as on the tool. `limit`: its id in the model, or `what` in words; `of`: which one
    of several alike ("cylinder 2"). `less`: a bar that lies between. `difference`: the names of two sizes,
    the first less the second, instead of readings."""

    readings: tuple[Reading, ...] = ()
    limit: str = ""
    what: str = ""
    of: str = ""
    tool: str = ""
    unit: str = ""
    temperature_C: float | None = None
    tool_temperature_C: float | None = None
    material: str = ""
    less: float = 0.0
    difference: tuple[str, ...] = ()
    anew: bool = False
    """Something was set since this size was read last: what was read before no longer counts."""


class ReadingConfirmed(Said, frozen=True, omit_defaults=True, kw_only=True, tag="reading confirmed"):
    """A reading that was questioned was looked at again, and it is as it was said."""

    reading: str


class Photo(Said, frozen=True, omit_defaults=True, kw_only=True, tag="photo"):
    """A picture was taken. It can suggest places; it clears none."""

    joint: str
    file: str
    places: tuple[str, ...] = ()


MeasuringEvent = ToolTaken | ZeroChecked | Measured | ReadingConfirmed

StaysIn = PutIn | Tightened | Slackened
"""After each of these a fastener is at the places named."""

Event = (
    StepStarted
    | StepDone
    | ProcedureDone
    | Undone
    | Looked
    | WentRound
    | TookOut
    | PutIn
    | Tightened
    | Slackened
    | LaidIn
    | TakenAway
    | FoundBad
    | Renewed
    | HeadsStand
    | WontMove
    | WontClose
    | FoundWhy
    | Counted
    | HandedOver
    | HolderSettled
    | SetAside
    | QuestionAnswered
    | ToolTaken
    | ZeroChecked
    | Measured
    | ReadingConfirmed
    | Photo
)


class Job(Struct, frozen=True, omit_defaults=True):
    """The job file: one engine, one goal, and everything that was said about it.

    `machine`: what its model is called. Section numbers of two manuals may be the same, so a job without it
    can be taken for that of another machine.
    """

    schema: str
    id: str
    goal: str
    machine: str = ""
    engine: str = ""
    variant: str = ""
    events: tuple[Event, ...] = ()
