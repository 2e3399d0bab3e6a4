"""What a drawing of the joint shows: the outline and one spot per place."""

from typing import Literal

from msgspec import Struct

Mark = Literal[
    "in", "out", "not seen", "nothing", "broken", "solid dowel", "hollow dowel", "hollow dowel, bolt in"
]
MARK_WORDS: dict[Mark, str] = {
    "in": "fastener in",
    "out": "fastener out",
    "not seen": "nobody has looked",
    "nothing": "nothing there",
    "broken": "broken off, shank in",
    "solid dowel": "solid dowel",
    "hollow dowel": "hollow dowel, empty",
    "hollow dowel, bolt in": "bolt in hollow dowel",
}


Seen = Literal["", "nobody", "glance", "one", "two"]
"""Who has looked: "glance": not properly; "one", "two": persons who looked properly or took it out."""
SEEN_WORDS: dict[Seen, str] = {
    "nobody": "nobody has looked: one may be in",
    "glance": "half black: only a glance, one may be in",
    "one": "a line below: one person looked in or took it out",
    "two": "two lines: two persons or more looked in or took it out",
}


class Spot(Struct, frozen=True):
    """One place on the drawing: where, what its mark is, behind or in front, and whether to look there next.

    `for_years`: empty for years by the engine's own file. `open`: not accounted for.
    """

    label: str
    x_mm: float
    y_mm: float
    mark: Mark
    behind: bool = False
    look: bool = False
    seen: Seen = ""
    for_years: bool = False
    open: bool = False


class JointPicture(Struct, frozen=True):
    """The joint seen from its near side; `faces` are the two parts."""

    outline_mm: tuple[tuple[float, float], ...] = ()
    spots: tuple[Spot, ...] = ()
    faces: tuple[str, ...] = ()
