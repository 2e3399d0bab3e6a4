"""The model file: all facts about one kind of machine, each with where it stands.

`lastbolt read` writes it; a person or another program may write it too. Every id is `source/kind/anchor`,
where the anchor is a section number, step-mark path or figure and item, never an index or a page: so that an
id survives re-reading.
"""

from collections.abc import Mapping
from typing import Literal, get_args

from msgspec import Struct

from lastbolt.words.citation import Box, Citation, PdfPlace
from lastbolt.words.measured import Limit
from lastbolt.words.problem import Problem
from lastbolt.words.quantity import UNSAID, Kind, Quantity
from lastbolt.words.supplies import Consumable, Tool
from lastbolt.words.where import page_words

MODEL_SCHEMA = "lastbolt.model/1"

SourceRole = Literal["manual", "parts list", "bulletin", "other"]
Signal = Literal["danger", "warning", "caution", "note"]
Deed = Literal[
    "remove", "install", "loosen", "tighten", "separate", "join", "drain", "fill", "mark", "check", "other"
]
SIGNALS: Mapping[str, Signal] = {name: name for name in get_args(Signal)}
DEEDS: Mapping[str, Deed] = {name: name for name in get_args(Deed)}
"""By their own names: what a language file says is looked up here, so no other word gets into a model."""
PageState = Literal["read", "front matter", "blank", "drawing", "unexplained"]
ReferenceRole = Literal["before", "after", "see", "reverse of"]
ReferenceStatus = Literal["resolved", "doubtful", "ambiguous", "dangling", "self", "other book", "in words"]


class Source(Struct, frozen=True, omit_defaults=True):
    """One document that was read. Sources of one maker whose descent is unknown share a lineage."""

    id: str
    title: str
    role: SourceRole
    lineage: str
    edition: str = ""
    file: str = ""
    sha256: str = ""
    media_type: str = ""
    pages: int = 0
    rows: int = 0


class Serials(Struct, frozen=True, omit_defaults=True):
    """A run of serial numbers, both ends in it; None: no end on that side."""

    from_serial: int | None = None
    to_serial: int | None = None


class Applies(Struct, frozen=True, omit_defaults=True):
    """For which engines. Empty: for all. `words` is what the source says.

    `serials`: where there is more than one run of numbers; `from_serial` and `to_serial` are then empty.
    `except_variants`: all but these. With `words` alone people judge: nothing is left out by them.
    """

    variants: tuple[str, ...] = ()
    from_serial: int | None = None
    to_serial: int | None = None
    words: str = ""
    except_variants: tuple[str, ...] = ()
    serials: tuple[Serials, ...] = ()


EVERY = Applies()


class Reference(Struct, frozen=True, omit_defaults=True):
    """Words that point elsewhere. `to` holds procedure, section or step ids; more than one with `any_of`:
    alternatives, else all are meant. `from_step`/`to_step` narrow it to steps ("4.2 steps 3 to 7")."""

    id: str
    words: str
    role: ReferenceRole
    status: ReferenceStatus
    to: tuple[str, ...] = ()
    any_of: bool = False
    from_step: str | None = None
    to_step: str | None = None
    condition: str = ""
    """"only if" words: the reference binds only when they are true."""
    applies: Applies = EVERY
    citations: tuple[Citation, ...] = ()
    missing: tuple[str, ...] = ()
    """The numbers among the words that no source holds."""


class Caution(Struct, frozen=True, omit_defaults=True):
    """A warning with its signal word (ANSI Z535.6), never parted from its step."""

    signal: Signal
    words: str
    citations: tuple[Citation, ...] = ()


TorqueLimit = Literal["", "at most", "at least"]
"""Which end of a torque is said: "max. 30 N·m" is at most 30; "" where the value itself stands there."""


class TorqueValue(Struct, frozen=True, omit_defaults=True):
    """A tightening torque as printed. `printed`: every (low, high, unit) that stands there; `angle_deg` when
    a turn follows. `torque_Nm` is the first printed unit converted, (low, high). With `limit` only that one
    end is printed and the other is not said: both numbers are then the limit, not a value to tighten to.
    `condition`: when it holds, where the table says so ("8.8", "oiled"): without it the number is wrong."""

    torque_Nm: tuple[float, float] | None
    printed: tuple[tuple[float, float, str], ...]
    angle_deg: float | None = None
    stage: str = ""
    words: str = ""
    citations: tuple[Citation, ...] = ()
    limit: TorqueLimit = ""
    condition: str = ""


class Mention(Struct, frozen=True, omit_defaults=True):
    """A part that a step acts on: its words, callouts, count and (for a fastener) its kind."""

    name: str
    deed: Deed = "other"
    quantity: Quantity = UNSAID
    kind: Kind | None = None
    callouts: tuple[str, ...] = ()
    rows: tuple[str, ...] = ()
    """Ids of the parts rows it is, where callouts or names lead to one."""
    figure: str | None = None


class Step(Struct, frozen=True, omit_defaults=True):
    """One numbered (or lettered, or bare) instruction. `mark` is its path: "5", "5a"."""

    id: str
    mark: str
    words: str
    deeds: tuple[Deed, ...] = ()
    mentions: tuple[Mention, ...] = ()
    references: tuple[Reference, ...] = ()
    cautions: tuple[Caution, ...] = ()
    torques: tuple[TorqueValue, ...] = ()
    locks: tuple[str, ...] = ()
    """How it is locked, in the source's words: lock tab, lock wire, threadlocker, circlip, split pin."""
    left_hand: bool = False
    renew: tuple[str, ...] = ()
    """Parts the source says must be renewed (single use)."""
    tools: tuple[str, ...] = ()
    condition: str = ""
    applies: Applies = EVERY
    figures: tuple[str, ...] = ()
    citations: tuple[Citation, ...] = ()
    doubt: str = ""
    beside: str = ""
    """Of a row in a table of steps: what its other columns say (count and size, torque, where to see)."""
    limits: tuple[Limit, ...] = ()
    consumables: tuple[Consumable, ...] = ()
    numbered_tools: tuple[Tool, ...] = ()
    """Those of `tools` that have a number."""


class Procedure(Struct, frozen=True, omit_defaults=True):
    """A manual section that tells what to do. `before`/`after`: its set-up block and its follow-on."""

    id: str
    number: str
    title: str
    deed: Deed = "other"
    parts: tuple[str, ...] = ()
    """What the title says it is done to: ("flywheel housing",)."""
    steps: tuple[Step, ...] = ()
    before: tuple[Reference, ...] = ()
    after: tuple[Reference, ...] = ()
    cautions: tuple[Caution, ...] = ()
    figures: tuple[str, ...] = ()
    tools: tuple[str, ...] = ()
    materials: tuple[str, ...] = ()
    """What the set-up block asks to have ready: consumables, new parts."""
    applies: Applies = EVERY
    chapter: str = ""
    citations: tuple[Citation, ...] = ()
    doubt: str = ""
    text: str = ""
    """What stands before the first step and tells nothing to do."""
    consumables: tuple[Consumable, ...] = ()
    """Those of `materials` that are used up."""
    numbered_tools: tuple[Tool, ...] = ()
    """Those of `tools` that have a number."""


class Section(Struct, frozen=True, omit_defaults=True):
    """A heading of the source, whether or not it holds a procedure; `level` 1 is a chapter."""

    id: str
    number: str
    title: str
    level: int
    parent: str | None = None
    holds: Literal["procedure", "table", "text", "sections"] = "text"
    citations: tuple[Citation, ...] = ()
    text: str = ""
    """The words of a section that holds no procedure."""


class Callout(Struct, frozen=True, omit_defaults=True):
    """A number in a drawing and where it stands."""

    number: str
    box: Box


class LegendLine(Struct, frozen=True, omit_defaults=True):
    """An entry of a figure's legend: the callouts it explains, what they are, how many where that is said."""

    callouts: tuple[str, ...]
    name: str
    quantity: Quantity = UNSAID
    citations: tuple[Citation, ...] = ()
    doubt: str = ""


class Figure(Struct, frozen=True, omit_defaults=True):
    """A drawing: its region on the page, its callouts, and the procedures it belongs to."""

    id: str
    number: str
    title: str
    source: str
    place: PdfPlace | None = None
    callouts: tuple[Callout, ...] = ()
    procedures: tuple[str, ...] = ()
    parts_figure: bool = False
    legend: tuple[tuple[str, str], ...] = ()
    """Callout number -> words, where the figure has a legend."""
    legend_lines: tuple[LegendLine, ...] = ()
    """The entries of a printed legend with their places, counts and doubts."""


class PartsRow(Struct, frozen=True, omit_defaults=True):
    """One line of the parts list; a fastener line when `kind` is set.

    `unknown`: its name is of no fastener and of no part that the reader knows either, so it may be anything.
    """

    id: str
    source: str
    figure: str
    item: str
    part_number: str
    name: str
    quantity: Quantity
    kind: Kind | None = None
    remarks: str = ""
    indent: int = 0
    applies: Applies = EVERY
    renew: bool = False
    citations: tuple[Citation, ...] = ()
    doubt: str = ""
    unknown: bool = False


class TorqueRow(Struct, frozen=True, omit_defaults=True):
    """One line of a torque table: what it is for (a thread, a joint in words) and the value."""

    id: str
    what: str
    value: TorqueValue
    thread: str | None = None
    citations: tuple[Citation, ...] = ()


class TableRow(Struct, frozen=True, omit_defaults=True):
    """One line of a manual's table of fasteners: which, how many, at which positions of its drawing.

    `table` is the caption ("Table 6-2 Case screws"). `item` is the number by which the table names the line;
    `parts_figure` the figure of the parts list that the item belongs to, where the heading says so.
    """

    id: str
    source: str
    table: str
    name: str
    quantity: Quantity
    kind: Kind | None = None
    item: str = ""
    parts_figure: str = ""
    positions: str = ""
    citations: tuple[Citation, ...] = ()


class ListedPart(Struct, frozen=True, omit_defaults=True):
    """One line of an assembly's own list of parts, which a manual prints with the assembly's steps.

    `assembly`: the section it belongs to, by id; `title` what people call it. Such a list says what the steps
    there need; it is no parts list of the machine, and no fact of the tally.
    """

    id: str
    source: str
    assembly: str
    title: str
    name: str
    quantity: Quantity
    kind: Kind | None = None
    part_number: str = ""
    applies: Applies = EVERY
    citations: tuple[Citation, ...] = ()


class PutRight(Struct, frozen=True, omit_defaults=True):
    """What a person put right in the model: `words` in one sentence, `was` as it had been read.

    `aside`: the reference `fact` asks for nothing; `to` and `first`: where it leads, for references that
    only planning makes. `correction` is the id in the corrections file.
    """

    fact: str
    words: str
    by: str
    at: str = ""
    was: str = ""
    reason: str = ""
    correction: str = ""
    under: str = ""
    """The id of the procedure that it stands in."""
    aside: bool = False
    to: tuple[str, ...] = ()
    first: bool = False
    confirmed: bool = False
    """It was right as it was read."""
    citations: tuple[Citation, ...] = ()


class PageSeen(Struct, frozen=True, omit_defaults=True):
    """What became of one page. `unexplained` pages keep a plan from being called complete."""

    source: str
    pdf_page: int
    printed_page: str | None = None
    state: PageState = "read"
    words: int = 0
    unexplained_words: int = 0
    why: str = ""
    part: str = ""
    """Of a text without pages: which part of it, as people call it."""

    def called(self) -> str:
        """The page by its numbers, or the part of the text."""
        return self.part or page_words(self.pdf_page, self.printed_page)


class Machine(Struct, frozen=True, omit_defaults=True):
    """The model file."""

    schema: str
    name: str
    sources: tuple[Source, ...] = ()
    sections: tuple[Section, ...] = ()
    procedures: tuple[Procedure, ...] = ()
    figures: tuple[Figure, ...] = ()
    rows: tuple[PartsRow, ...] = ()
    torques: tuple[TorqueRow, ...] = ()
    bolt_rows: tuple[TableRow, ...] = ()
    components: tuple[ListedPart, ...] = ()
    """Of lists of parts that stand with the steps of one assembly."""
    limits: tuple[Limit, ...] = ()
    """Of tables of limits; those that a step states stand with the step."""
    consumables: tuple[Consumable, ...] = ()
    """Of tables of consumables."""
    tools: tuple[Tool, ...] = ()
    """Of tables of special tools."""
    pages: tuple[PageSeen, ...] = ()
    problems: tuple[Problem, ...] = ()
    variants: tuple[str, ...] = ()
    put_right: tuple[PutRight, ...] = ()
    """What people put right (docs/correcting.md); nothing in a file."""
    written_sha256: str = ""
    """Digest of the rest, set when the file is written: it shows whether another hand changed it since."""
