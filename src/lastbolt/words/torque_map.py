"""How one joint is tightened: places in their order, rounds with their torque, the length for each place."""

from msgspec import Struct

from lastbolt.words.citation import Citation
from lastbolt.words.lengths import Placing


class MapPlace(Struct, frozen=True, omit_defaults=True):
    """One place of the map: its label, where it is [mm], and its turn in the order (0: it has none).

    `to_come`: no screw of it is there yet, a new one has to come.
    """

    place: str
    label: str
    x_mm: float
    y_mm: float
    turn: int = 0
    length: str = ""
    behind: bool = False
    to_come: bool = False


class Round(Struct, frozen=True, omit_defaults=True):
    """One round over all places. `words` say to what."""

    number: int
    words: str
    places: tuple[str, ...]


class TorqueMap(Struct, frozen=True, omit_defaults=True):
    """The tightening of one joint.

    `torque`: the value in words; `source`: who says so ("the source", or the standard of a general value).
    `order_source`: the same of the order. `no_value`: why no torque is shown. `lap`: places gone over once
    more. `loosening`: the way apart, last tightened first. `doubts`: what a person must see to. `elsewhere`:
    what the source's order leaves out and another place of the sources tightens. `scatter`: what friction and
    the wrench make of the torque.
    """

    joint: str
    name: str
    places: tuple[MapPlace, ...]
    outline_mm: tuple[tuple[float, float], ...] = ()
    rounds: tuple[Round, ...] = ()
    lap: tuple[str, ...] = ()
    loosening: tuple[Round, ...] = ()
    torque: str = ""
    source: str = ""
    order_source: str = ""
    no_value: str = ""
    lengths: Placing | None = None
    doubts: tuple[str, ...] = ()
    elsewhere: tuple[str, ...] = ()
    scatter: str = ""
    citations: tuple[Citation, ...] = ()
