"""The plan of the way back: every line that puts together again what a plan takes apart."""

from typing import Literal

from msgspec import Struct

from lastbolt.words.plan import Fastening, Line, NewPart, Open
from lastbolt.words.problem import Problem

BACK_SCHEMA = "lastbolt.back/1"

BackHow = Literal["told", "reversed", "proposed"]
"""`told`: the source's own words for putting together. `reversed`: a source says "reverse of removal", and
this is the removal's line read the other way. `proposed`: no source says anything; the reverse of the removal
is offered, for a person to confirm."""


class BackLine(Struct, frozen=True, omit_defaults=True):
    """One line of the way back.

    `reverses` is the plan line that it undoes. `parts` go back on by it; with none of them nobody knows what
    there is to undo. `exceptions`: what the source says is not the reverse, in its words.
    """

    line: Line
    how: BackHow = "told"
    reverses: str = ""
    parts: tuple[str, ...] = ()
    exceptions: tuple[str, ...] = ()


class Removed(Struct, frozen=True, omit_defaults=True):
    """One thing that the plan takes off, and what becomes of it; nothing that comes off is absent.

    `off_by`: the plan line that takes it off. `on_by`: ids of the back lines by which it goes back. `with_`:
    it goes back with this part. `renewed`: the source throws it away, and a new one goes in. `count`: how
    many, where the source says it.
    """

    id: str
    part: str
    off_by: str
    count: int | None = None
    on_by: tuple[str, ...] = ()
    with_: str = ""
    renewed: bool = False
    rows: tuple[str, ...] = ()
    fastener: bool = False
    called: str = ""
    """With its count and size, as the source prints them."""
    where: str = ""
    """The section and step that takes it off."""


class Back(Struct, frozen=True):
    """The way back of one plan. `open`: what the sources leave open of it."""

    schema: str
    goal: str
    machine: str = ""
    lines: tuple[BackLine, ...] = ()
    removed: tuple[Removed, ...] = ()
    open: tuple[Open, ...] = ()
    new_parts: tuple[NewPart, ...] = ()
    fastenings: tuple[Fastening, ...] = ()
    problems: tuple[Problem, ...] = ()
