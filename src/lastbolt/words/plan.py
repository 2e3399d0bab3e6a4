"""The plan: every line that a goal needs, in order, each with its source and the reason it is there.

`lastbolt plan` writes it; reports and the bench read it. A line names its step by id and repeats what a
person must read at the bench, so that a plan can be printed without the model file beside it.
"""

from typing import Literal

from msgspec import Struct

from lastbolt.words.citation import Citation
from lastbolt.words.machine import Caution, Mention, PutRight, TorqueValue
from lastbolt.words.problem import Problem

PLAN_SCHEMA = "lastbolt.plan/1"

LineKind = Literal["opening", "step", "confirm", "condition", "question"]
"""`opening`: a procedure begins here (its picture, its own warnings). `step`: something to do. `confirm`: a
procedure taken for done, to be looked at. `condition`: what a source requires in words, with no steps to
follow. `question`: a person must answer before the plan can go on."""

LineState = Literal["to do", "started", "done", "done, not looked at", "taken for done"]
"""`taken for done`: nobody ticked it, but something that needs it was ticked."""

Because = Literal["goal", "set-up", "step", "part of", "part named", "question answered", "repeat"]
"""Why a line is there. `set-up`: the required condition of a procedure. `step`: a step refers to it. `part
of`: its procedure is needed. `part named`: a set-up names a part, and the title of this procedure removes
it. `repeat`: a step says to repeat it."""

OpenKind = Literal["reference", "ambiguous", "question", "variant", "page", "cycle", "goal", "field", "job"]

BeforeKind = Literal[
    "crack while held",
    "left-hand thread",
    "lock to open",
    "drain",
    "stored energy",
    "mark",
    "falls out",
    "single use",
    "loosen in stages",
]

ReturnHow = Literal["procedure", "step", "reverse of removal", "torque table", "none"]
"""`torque table`: only the torque of it is given."""

ReadyKind = Literal["tool", "supply"]

HowSure = Literal[
    "its own section", "its parts row", "its name", "its joint and size", "its size", "its thread"
]
"""By what a step or a row is known to be of a fastener: the section that puts the joint together, the row of
the parts list, the very name, the joint's name with thread or size, size or thread alone."""


class RequiredBy(Struct, frozen=True):
    """One link of the chain "why is this line here?": the line that needs it, and the words that say so.

    `line` is a plan line's id, or "" when the goal itself is the reason. `lastbolt.planning.why` expands the
    chain on asking.
    """

    because: Because
    line: str = ""
    reference: str = ""
    words: str = ""
    citations: tuple[Citation, ...] = ()


class Line(Struct, frozen=True):
    """One line of the checklist. The warnings stand before the words and are to be shown so.

    `id` is the step's, procedure's or reference's id, with instance and occurrence added when there are more
    than one. `instance`: which of a pair ("left"). `occurrence` counts from 1. `depth`: how many procedures
    are still open around this one (0: the goal's own). `only_if`: words that limit it, to be judged by the
    person. `question`: what to ask at this line. `off`: for `confirm`, what must be off. `said`: who ticked
    it, in events of the job. `choices`: ids to choose from, for a `question`.
    """

    id: str
    kind: LineKind
    procedure: str
    required_by: RequiredBy
    cautions: tuple[Caution, ...] = ()
    words: str = ""
    number: str = ""
    """The procedure's number as printed ("4.2")."""
    mark: str = ""
    """The step's mark as printed ("5a")."""
    step: str = ""
    instance: str = ""
    occurrence: int = 1
    depth: int = 0
    state: LineState = "to do"
    by: tuple[str, ...] = ()
    """Ids of the people who ticked it."""
    looked: bool = False
    said: tuple[str, ...] = ()
    only_if: str = ""
    question: str = ""
    choices: tuple[str, ...] = ()
    off: tuple[str, ...] = ()
    figures: tuple[str, ...] = ()
    mentions: tuple[Mention, ...] = ()
    torques: tuple[TorqueValue, ...] = ()
    locks: tuple[str, ...] = ()
    left_hand: bool = False
    renew: tuple[str, ...] = ()
    tools: tuple[str, ...] = ()
    doubt: str = ""
    citations: tuple[Citation, ...] = ()
    beside: str = ""
    """Of a step out of a table: what the other columns of its row say."""


class Open(Struct, frozen=True):
    """One thing that keeps the plan from being complete, and what settles it.

    `subject`: the id of the reference, step or page concerned (what a `set aside` or an answer names).
    `choices`: procedure ids it may mean. `members`: for a cycle, the procedure ids round it.
    """

    kind: OpenKind
    words: str
    do: str
    subject: str = ""
    choices: tuple[str, ...] = ()
    members: tuple[str, ...] = ()
    citations: tuple[Citation, ...] = ()


class BeforeOff(Struct, frozen=True):
    """Something to do or to expect while things are still in place. `line`: the plan line it belongs to."""

    kind: BeforeKind
    words: str
    line: str
    number: str = ""
    mark: str = ""
    citations: tuple[Citation, ...] = ()


class Return(Struct, frozen=True):
    """How one removed thing goes back on, as far as the sources say. `how` none: no source says it.

    `off_by`: the plan line that takes it off. `on_by`: ids of the procedures or steps that put it on.
    `exceptions`: what differs from the reverse of removal, in the source's words.
    """

    part: str
    off_by: str
    how: ReturnHow
    on_by: tuple[str, ...] = ()
    exceptions: tuple[str, ...] = ()
    words: str = ""
    off_citations: tuple[Citation, ...] = ()
    on_citations: tuple[Citation, ...] = ()


class Fastening(Struct, frozen=True):
    """What the sources say of fitting or tightening fasteners that the plan takes out.

    `of`: the id of the procedure that takes them out. `part`: what they hold, or what they are. `row`: the
    line of the torque table, when it is one.
    """

    words: str
    of: str
    part: str
    sure: HowSure
    number: str = ""
    mark: str = ""
    step: str = ""
    row: str = ""
    torques: tuple[TorqueValue, ...] = ()
    citations: tuple[Citation, ...] = ()


class NewPart(Struct, frozen=True):
    """A part that the sources say must be new when it goes back. `rows`: its parts rows, where known."""

    part: str
    words: str = ""
    rows: tuple[str, ...] = ()
    part_numbers: tuple[str, ...] = ()
    citations: tuple[Citation, ...] = ()


class WayBack(Struct, frozen=True):
    """What the sources say about putting together what this plan takes apart.

    `procedures`: ids of the installation procedures, in the order in which they can be done.
    """

    returns: tuple[Return, ...] = ()
    procedures: tuple[str, ...] = ()
    new_parts: tuple[NewPart, ...] = ()
    fastenings: tuple[Fastening, ...] = ()
    """The goal's own first."""


class Ready(Struct, frozen=True):
    """A tool or a supply to lay ready. `number`: the section that names it first."""

    kind: ReadyKind
    words: str
    number: str = ""
    citations: tuple[Citation, ...] = ()


class General(Struct, frozen=True):
    """A warning that holds for all work. `signal`: its signal word, or the title that it stands under."""

    signal: str
    words: str
    citations: tuple[Citation, ...] = ()


class LeftOut(Struct, frozen=True):
    """What the plan leaves out on purpose, and why: another variant, or set aside by a person."""

    subject: str
    words: str
    why: str
    by: str = ""
    event: str = ""
    citations: tuple[Citation, ...] = ()


class Candidate(Struct, frozen=True):
    """A procedure that the goal's words may mean; `score` from 0 to 1."""

    procedure: str
    number: str
    title: str
    score: float
    citations: tuple[Citation, ...] = ()


class Plan(Struct, frozen=True):
    """The plan file.

    `procedures`: what the goal was taken to mean; empty when no procedure is named clearly enough, and then
    `candidates` says which come near. `complete` is true only when `open` is empty.
    """

    schema: str
    goal: str
    machine: str = ""
    procedures: tuple[str, ...] = ()
    candidates: tuple[Candidate, ...] = ()
    engine: str = ""
    variant: str = ""
    serial: int | None = None
    complete: bool = False
    open: tuple[Open, ...] = ()
    lines: tuple[Line, ...] = ()
    before_off: tuple[BeforeOff, ...] = ()
    way_back: WayBack = WayBack()
    left_out: tuple[LeftOut, ...] = ()
    general: tuple[General, ...] = ()
    ready: tuple[Ready, ...] = ()
    problems: tuple[Problem, ...] = ()
    put_right: tuple[PutRight, ...] = ()
    """What people put right in the sources' facts that this plan rests on, each with its author."""
