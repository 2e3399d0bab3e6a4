"""The walk file: one joint as somebody went round it, place by place."""

from typing import Literal

from msgspec import Struct

from lastbolt.words.citation import Citation
from lastbolt.words.quantity import Kind

WALK_SCHEMA = "lastbolt.walk/1"

Saw = Literal[
    "out",
    "in",
    "slack",
    "broken off",
    "open hole",
    "light through",
    "rod to the bottom",
    "nothing here",
    "solid dowel",
    "solid dowel, both ends",
    "hollow dowel, empty",
    "hollow dowel, bolt in",
    "cannot see",
]
"""What a person may answer at a place. "out": the hole is there and its fastener is gone. "open hole": looked
into it, nothing in it. "light through": a rod or a light went through. "rod to the bottom": a rod goes into a
blind hole to its known depth, so no shank is left in it. "solid dowel, both ends": both ends were seen, so no
fastener can pass there. "cannot see" says nothing."""

SOMETHING_IN: tuple[Saw, ...] = ("in", "slack", "broken off", "hollow dowel, bolt in")
"""A fastener, or what is left of one, is there."""
NOTHING_IN: tuple[Saw, ...] = ("open hole", "light through", "rod to the bottom", "hollow dowel, empty")
"""There is a hole, and nothing in it. ("out" says more: its fastener is gone.)"""
SOLID_DOWEL: tuple[Saw, ...] = ("solid dowel", "solid dowel, both ends")
NO_HOLE: tuple[Saw, ...] = ("nothing here", *SOLID_DOWEL)
"""No fastener can be there."""
A_DOWEL: tuple[Saw, ...] = (*SOLID_DOWEL, "hollow dowel, empty", "hollow dowel, bolt in")
TO_THE_BOTTOM: Saw = "rod to the bottom"
LOOKED_THROUGH: tuple[Saw, ...] = ("light through", TO_THE_BOTTOM, "solid dowel, both ends")
"""What nobody can say from a glance, nor where a head is off and its shank still in."""
SHANK_STAYS: Saw = "broken off"

HolderSort = Literal[
    "fastener not counted", "bridging part", "shaft-end nut", "circlip", "dowel", "fit", "sealant", "other"
]
"""What may hold beside the fasteners that the tally counts; "fastener not counted": one that a source or a
person speaks of and that leads to no row, place or count."""


class End(Struct, frozen=True, omit_defaults=True):
    """One end of a place: on which casting and side, and where, in mm on the joint's own axes."""

    part: str
    side: Literal["near", "far"]
    x_mm: float
    y_mm: float
    form: str = ""
    """What is there to see: "head", "boss", "blind boss", "nut", "stud"."""


class JointPlace(Struct, frozen=True, omit_defaults=True):
    """A spot on the joint where a fastener may be. `label` is only the number on the picture.

    `under` names the part that hides it; `kind` what a source or person says goes there; `lines` the parts
    rows or typed lines said to belong there; `passes` the other joints the same fastener goes through.
    """

    id: str
    label: str
    ends: tuple[End, ...] = ()
    round: Literal["rim", "inside", "under"] = "rim"
    under: str = ""
    kind: Kind | None = None
    lines: tuple[str, ...] = ()
    passes: tuple[str, ...] = ()
    citations: tuple[Citation, ...] = ()
    note: str = ""
    grip_mm: float | None = None
    """From under the head to where the thread of the hole begins, as measured with a depth gauge."""
    thread_mm: float | None = None
    """The thread that is there to be used."""
    blind: bool = True
    """The hole ends behind the thread."""
    metal: str = ""
    """What the thread is cut in: "cast aluminium", "grey iron"."""


class Answer(Struct, frozen=True, omit_defaults=True):
    """What one person said of one place; several answers may be true at once."""

    place: str
    saw: tuple[Saw, ...]
    words: str = ""


class Round(Struct, frozen=True, omit_defaults=True):
    """One person going round the joint. `guided`: place by place, both sides, along the parting line.

    `complete`: every place was asked and the person said that there is no further place.
    """

    id: str
    by: str
    guided: bool
    complete: bool
    answers: tuple[Answer, ...] = ()
    direction: Literal["", "clockwise", "anticlockwise"] = ""


class Tie(Struct, frozen=True, omit_defaults=True):
    """Somebody says that a line belongs to this joint: `wholly`, or in part; at which places, if known."""

    line: str
    wholly: bool
    places: tuple[str, ...] = ()
    by: str = ""
    citations: tuple[Citation, ...] = ()


class Holder(Struct, frozen=True, omit_defaults=True):
    """Something other than a fastener of this joint that may keep it together."""

    id: str
    sort: HolderSort
    name: str
    words: str = ""
    settled: bool = False
    by: str = ""
    how: str = ""
    citations: tuple[Citation, ...] = ()


class Walk(Struct, frozen=True, omit_defaults=True):
    """The walk file. Rounds in it are taken as made before every event of a job."""

    schema: str
    joint: str
    name: str
    faces: tuple[str, ...] = ()
    """The two parts that come apart, in the manual's words."""
    outline_mm: tuple[tuple[float, float], ...] = ()
    places: tuple[JointPlace, ...] = ()
    rounds: tuple[Round, ...] = ()
    ties: tuple[Tie, ...] = ()
    holders: tuple[Holder, ...] = ()
