"""The running account of a job on its way back: what is off, where it lies, what is not yet tight."""

from typing import Literal

from msgspec import Struct

ACCOUNT_SCHEMA = "lastbolt.account/1"

Whereabouts = Literal["on", "off", "back", "to be renewed", "renewed", "lost", "damaged", "beyond limit"]
"""`on`: nobody has taken it off yet. `to be renewed`: it is off and a new one must go in."""

Held = Literal["in", "slack", "stage", "final", "out", "broken", "never there", "not known"]
"""`stage`: tightened to a stage and not to the end. `never there`: the engine's own file says so."""


class Thing(Struct, frozen=True, omit_defaults=True):
    """One thing that the plan takes off. `by`: who said so last; `event`: where."""

    id: str
    part: str
    state: Whereabouts
    count: int | None = None
    on_by: tuple[str, ...] = ()
    by: str = ""
    event: str = ""
    called: str = ""
    where: str = ""
    """With its count and size; the section and step that takes it off."""


class AtPlace(Struct, frozen=True, omit_defaults=True):
    """What stands at one place of a joint. `stage` counts from 1; `painted`: the paint mark is on."""

    joint: str
    place: str
    label: str
    state: Held
    stage: int = 0
    painted: bool = False
    tray: str = ""
    by: str = ""
    event: str = ""


class LeftIn(Struct, frozen=True, omit_defaults=True):
    """Something laid in that has not come out again. `count` below 0: more came out than went in."""

    thing: str
    count: int
    where: str = ""
    by: str = ""


class Leftover(Struct, frozen=True, omit_defaults=True):
    """Pieces that lie in a tray at the end. `pieces` below 0: more went in than came out."""

    what: str
    pieces: int
    tray: str = ""


StandsKind = Literal["missing", "slack", "left over", "left in", "won't close", "not read"]


class Stands(Struct, frozen=True, omit_defaults=True):
    """One thing that keeps the job from being finished: what, where, and what to do."""

    kind: StandsKind
    words: str
    do: str


class Account(Struct, frozen=True):
    """The account. `finished` only when nothing is left over, missing, slack or left in, and no joint stands
    open because it would not close."""

    schema: str
    goal: str
    finished: bool
    stands: tuple[Stands, ...] = ()
    things: tuple[Thing, ...] = ()
    places: tuple[AtPlace, ...] = ()
    left_in: tuple[LeftIn, ...] = ()
    leftovers: tuple[Leftover, ...] = ()
