"""The bolt board of a joint: its pattern at full size over as many sheets as needed, to be glued together.

The card made of them holds each fastener at its own place while the engine is apart, so that no length is
lost or exchanged. All lengths are in mm, from the top left corner of the whole board, y downwards.
"""

import math
from collections.abc import Iterable, Sequence

from msgspec import Struct

from lastbolt.app.places_drawn import from_behind
from lastbolt.threads.designation import thread_of
from lastbolt.threads.fittings import clearance_hole_mm
from lastbolt.words.joint import JointPlace, Walk
from lastbolt.words.problem import Problem, Refusal

TILE_MM = (180.0, 235.0)
"""What of the board one A4 sheet shows, without the strip that lies under its neighbour."""
STRIP_MM = 10.0
EDGE_MM = 15.0
USUAL_HOLE_MM = 8.0
"""Where nobody says the size: wide enough to see, and said to be no size."""
MOST_SHEETS = 60
ROWS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


class BoardHole(Struct, frozen=True):
    """One hole: punched to pass its screw. `far`: its fastener enters from the other side."""

    x_mm: float
    y_mm: float
    diameter_mm: float
    label: str
    length: str = ""
    far: bool = False
    sized: bool = True


class BoardSheet(Struct, frozen=True):
    """One sheet of paper: "B2", its corner on the board, and the sheets glued to its right and below it."""

    name: str
    left_mm: float
    top_mm: float
    right: str = ""
    below: str = ""


class BoltBoard(Struct, frozen=True):
    """The whole board, its outline and its holes, and the sheets it is printed on."""

    joint: str
    width_mm: float
    height_mm: float
    outline_mm: tuple[tuple[float, float], ...]
    holes: tuple[BoardHole, ...]
    sheets: tuple[BoardSheet, ...]
    tile_mm: tuple[float, float] = TILE_MM
    strip_mm: float = STRIP_MM


def bolt_board(walk: Walk) -> BoltBoard:
    """The board of a walked joint, seen from the near side.

    Raises:
        Refusal: no place of the walk says where it is, or the joint needs more sheets than a board has.
    """
    places = [place for place in walk.places if place.ends and not _is_dowel(place)]
    if not places:
        what = "No place of this walk says where it is, so there is no pattern to print."
        do = "Give the ends of the places in the walk file (x_mm, y_mm), as measured or from a drawing."
        raise Refusal(Problem("LB-A01", what, walk.name or walk.joint, do, "stop"))
    points = [*walk.outline_mm, *((place.ends[0].x_mm, place.ends[0].y_mm) for place in places)]
    left, high = min(x for x, _ in points) - EDGE_MM, max(y for _, y in points) + EDGE_MM
    width = max(x for x, _ in points) + EDGE_MM - left
    height = high - min(y for _, y in points) + EDGE_MM
    sheets = tuple(_sheets(width, height))
    if not sheets:
        what = f"The joint is {width:.0f} x {height:.0f} mm: more than {MOST_SHEETS} sheets."
        do = "Are its places in mm? A board of that size is drawn on the wood itself."
        raise Refusal(Problem("LB-A01", what, walk.name or walk.joint, do, "stop"))
    return BoltBoard(
        walk.name or walk.joint,
        width,
        height,
        tuple((x - left, high - y) for x, y in walk.outline_mm),
        tuple(_hole(place, left, high) for place in places),
        sheets,
    )


def _is_dowel(place: JointPlace) -> bool:
    return place.kind is not None and place.kind.what == "dowel"


def _hole(place: JointPlace, left: float, high: float) -> BoardHole:
    end, kind = place.ends[0], place.kind
    thread = thread_of(kind.thread) if kind is not None and kind.thread else None
    diameter = clearance_hole_mm(thread) if thread is not None else None
    length = f"x {kind.length_mm:g}" if kind is not None and kind.length_mm else ""
    size = f"{kind.thread} {length}".strip() if kind is not None and kind.thread else ""
    return BoardHole(
        end.x_mm - left, high - end.y_mm, diameter or USUAL_HOLE_MM, place.label or place.id,
        size, from_behind(place), diameter is not None,
    )  # fmt: skip


def _sheets(width: float, height: float) -> Iterable[BoardSheet]:
    """Row by row; none if there would be too many."""
    # The last sheet of a row needs no strip: it shows that much more of the board.
    across, down = (
        max(1, math.ceil((size - STRIP_MM) / tile))
        for size, tile in zip((width, height), TILE_MM, strict=True)
    )
    if across * down > MOST_SHEETS or down > len(ROWS):
        return ()
    return _named(across, down)


def _named(across: int, down: int) -> Sequence[BoardSheet]:
    return [
        BoardSheet(
            f"{ROWS[row]}{column + 1}",
            column * TILE_MM[0],
            row * TILE_MM[1],
            f"{ROWS[row]}{column + 2}" if column + 1 < across else "",
            f"{ROWS[row + 1]}{column + 1}" if row + 1 < down else "",
        )
        for row in range(down)
        for column in range(across)
    ]
