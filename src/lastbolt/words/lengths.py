"""Which length goes where: what a boss takes, what lies in the trays, and what was found of both."""

from typing import Literal

from msgspec import Struct

from lastbolt.words.citation import Citation


class Boss(Struct, frozen=True, omit_defaults=True):
    """What one place takes.

    `grip_mm`: from under the head to where the thread of the hole begins, gasket and fixed washers included.
    `thread_mm`: the thread that is there to be used. `blind`: the hole ends behind it. `needed_mm`: how much
    of the thread must be in engagement. `said_mm`: the length that a source or the record names for it.
    `to_come`: it had none, or one of odd length, so a new one is wanted for it before any other place.
    """

    place: str
    thread: str
    grip_mm: float | None = None
    thread_mm: float | None = None
    blind: bool = True
    needed_mm: float | None = None
    said_mm: float | None = None
    to_come: bool = False
    citations: tuple[Citation, ...] = ()


class Pieces(Struct, frozen=True, omit_defaults=True):
    """Fasteners of one size that are there to be used."""

    thread: str
    length_mm: float
    count: int


FitSays = Literal["good", "short", "bottoms", "other thread", "not known"]


class Fit(Struct, frozen=True, omit_defaults=True):
    """How one length stands in one boss. `left_mm`: what stays free of the thread below it."""

    says: FitSays
    engaged_mm: float | None = None
    left_mm: float | None = None


class Placed(Struct, frozen=True, omit_defaults=True):
    """The length for one place, and why. `length_mm` None: none of those that are there will do.

    `others_mm`: further lengths that are there and would do as well: nothing but the record tells them apart.
    `is_in`: it went in already, and this is what the record says of it. `to_come`: a new one is wanted here.
    """

    place: str
    length_mm: float | None
    fit: Fit
    why: str
    as_said: bool = False
    others_mm: tuple[float, ...] = ()
    is_in: bool = False
    to_come: bool = False


class Placing(Struct, frozen=True, omit_defaults=True):
    """All places, and the pieces that are over."""

    placed: tuple[Placed, ...]
    over: tuple[Pieces, ...] = ()


class Proud(Struct, frozen=True, omit_defaults=True):
    """How far the head of one fastener stands off its seat before tightening, turned in by hand."""

    place: str
    proud_mm: float


class Odd(Struct, frozen=True, omit_defaults=True):
    """Places whose heads do not stand as the others do: one place, or two that may be swapped."""

    places: tuple[str, ...]
    words: str
    by_mm: float
    swapped: bool = False
