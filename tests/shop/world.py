"""One joint of a machine as it truly is: places, pieces, lines as designed, trays, histories."""

from dataclasses import dataclass, field
from random import Random

from lastbolt.words.quantity import Kind

from .settings import Settings

State = str  # "in", "slack", "shank", "empty"

SCREWS = tuple(
    Kind(what, thread, float(length))
    for what, thread, lengths in (
        ("screw", "M6", (25, 35, 45, 60)),
        ("bolt", "M8", (50, 70, 90)),
        ("screw", "M5", (16, 20)),
        ("bolt", "M10", (80, 110)),
    )
    for length in lengths
)
NUTS = (Kind("nut", "M8"), Kind("nut", "M6"), Kind("nut", "M10"))
STRANGE = Kind("screw", "M7", 40.0)

FORMS = ("through bolt", "blind screw", "stud", "empty boss", "solid dowel", "hollow dowel", "bolted dowel")
_FORM_CHANCE = (0.42, 0.30, 0.10, 0.07, 0.04, 0.03, 0.04)
TAKES_FASTENER = frozenset({"through bolt", "blind screw", "stud", "bolted dowel"})


class Piece:
    """One fastener: what it is, where the design wants it, and whether this engine ever had it."""

    __slots__ = ("actual", "by_design", "fitted", "id", "kind", "line", "place")

    def __init__(self, id_: str, kind: Kind, line: str | None, place: str | None):
        self.id, self.kind, self.actual, self.line, self.place = id_, kind, kind, line, place
        self.by_design = self.fitted = True


class Spot:
    """One spot on the casting. `history` holds (moment, state) at every change; the first is at moment 0."""

    __slots__ = ("drilled", "form", "history", "id", "listed", "piece", "side", "state", "through", "tray")

    def __init__(self, id_: str, form: str, rng: Random):
        self.id, self.form = id_, form
        self.side = "near" if rng.random() < 0.7 else "far"
        self.through = form in ("through bolt", "hollow dowel", "bolted dowel")
        self.drilled = form not in ("empty boss", "solid dowel") or (
            form == "empty boss" and rng.random() < 0.3
        )
        self.listed = True
        self.piece: Piece | None = None
        self.state: State = "empty"
        self.history: list[tuple[int, State]] = []
        self.tray: str | None = None

    def becomes(self, state: State, moment: int) -> None:
        """Note that the spot is in this state from this moment on."""
        self.state = state
        self.history.append((moment, state))

    @property
    def holds(self) -> bool:
        """Whether something here still keeps the joint together."""
        return self.state != "empty"


class TrueLine:
    """A row as the designer meant it; `listed` says whether any list at all prints it."""

    __slots__ = ("elsewhere", "here", "id", "kind", "known_to_file", "listed")

    def __init__(self, id_: str, kind: Kind):
        self.id, self.kind = id_, kind
        self.here: list[Spot] = []
        self.elsewhere: list[Piece] = []
        self.listed = True
        self.known_to_file = False

    @property
    def count(self) -> int:
        """Pieces of the line by design, on the whole machine."""
        return len(self.here) + len(self.elsewhere)


@dataclass(slots=True)
class World:
    """Everything that is so, whoever knows it. `tray_moves`: (moment, tray, kind, line, what, +1 or -1)."""

    spots: list[Spot] = field(default_factory=list)
    lines: list[TrueLine] = field(default_factory=list)
    extras: list[Piece] = field(default_factory=list)
    trays: tuple[str, ...] = ("tin",)
    tray_moves: list[tuple[int, str, Kind, str | None, str, int]] = field(default_factory=list)
    foreign: list[tuple[str, Kind]] = field(default_factory=list)
    lost: list[str] = field(default_factory=list)
    engine_odd: bool = False
    engine_known: bool = False

    def listed(self) -> list[Spot]:
        """The spots that are on somebody's map."""
        return [spot for spot in self.spots if spot.listed]

    def hidden(self) -> list[Spot]:
        """The spots nobody listed."""
        return [spot for spot in self.spots if not spot.listed]

    def in_trays(self, kind: Kind, line: str | None, tray: str, complete: bool) -> int:
        """How many pieces of this kind truly lie in the trays now ("" stands for all trays)."""
        total = 0
        for _, where, piece_kind, piece_line, what, change in self.tray_moves:
            if (
                (not tray or where == tray)
                and (line is None or line == piece_line)
                and (what == "whole" or not complete)
                and (piece_kind is kind or kind.matches(piece_kind) != "no")
            ):
                total += change
        return total


def build_world(rng: Random, settings: Settings, wanted: dict[str, int]) -> World:
    """A joint with its places, lines and pieces, made so that the wanted mistakes can happen on it."""
    world = World()
    low, high = settings.places
    if "missed a place" in wanted or "row left out" in wanted:
        low = max(low, 2)
    size = low + int(rng.random() * (high - low + 1))
    forms = rng.choices(FORMS, _FORM_CHANCE, k=size)
    if not any(form in TAKES_FASTENER for form in forms):
        forms[0] = "through bolt"
    world.spots = [Spot(f"p{number}", form, rng) for number, form in enumerate(forms, 1)]
    _share_out_lines(rng, world, settings)
    if settings.lines > 3 and rng.random() < 0.1 and len(world.lines) > 1:
        _same_kind_twice(world)
    _leave_unlisted(rng, world, settings, wanted)
    _put_elsewhere(rng, world, settings, wanted)
    _hide_places(rng, world, wanted)
    if "engine not as its papers" in wanted:
        _odd_engine(rng, world)
    elif rng.random() < 0.1:
        world.engine_known = True
        _odd_engine(rng, world)
    if settings.most_per_line > 2 and rng.random() < 0.4:
        world.trays = ("tin", "bag")
    _fit(rng, world)
    return world


def _share_out_lines(rng: Random, world: World, settings: Settings) -> None:
    screws, nuts = list(SCREWS), list(NUTS)
    for spot in world.spots:
        if spot.form not in TAKES_FASTENER:
            continue
        nut = spot.form == "stud"
        room = [
            line
            for line in world.lines
            if (line.kind.what == "nut") == nut and len(line.here) < settings.most_per_line
        ]
        pool = nuts if nut else screws
        full = len(world.lines) >= settings.lines or not pool
        if room and (full or rng.random() < 0.65):
            line = room[int(rng.random() * len(room))]
        elif not full:
            line = TrueLine(f"L{len(world.lines) + 1}", pool.pop(int(rng.random() * len(pool))))
            world.lines.append(line)
        else:
            spot.form, spot.through = "empty boss", False
            continue
        line.here.append(spot)
        spot.piece = Piece(f"{line.id}.{len(line.here)}", line.kind, line.id, spot.id)


def _same_kind_twice(world: World) -> None:
    first, second = world.lines[0], world.lines[1]
    if (first.kind.what == "nut") == (second.kind.what == "nut"):
        second.kind = first.kind
        for spot in second.here:
            assert spot.piece is not None
            spot.piece.kind = spot.piece.actual = first.kind


def _leave_unlisted(rng: Random, world: World, settings: Settings, wanted: dict[str, int]) -> None:
    if "row left out" not in wanted and rng.random() > 0.08:
        return
    line = world.lines[-1]
    line.listed = False
    for number, spot in enumerate(line.here, 1):
        assert spot.piece is not None
        spot.piece.id = f"U.{number}"


def _put_elsewhere(rng: Random, world: World, settings: Settings, wanted: dict[str, int]) -> None:
    needy = [line for line in world.lines if line.listed and line.count < settings.most_per_line]
    must = "line not wholly here" in wanted
    for line in needy:
        if must or rng.random() < 0.2:
            most = min(4, settings.most_per_line - line.count)
            for number in range(1 + int(rng.random() * most)):
                line.elsewhere.append(Piece(f"{line.id}.e{number + 1}", line.kind, line.id, None))
            must = False
    if len(world.lines) < settings.lines and rng.random() < 0.08:
        used = {line.kind for line in world.lines}
        free = [kind for kind in SCREWS if kind not in used]
        if free:
            stray = TrueLine(f"L{len(world.lines) + 1}", free[int(rng.random() * len(free))])
            stray.elsewhere.append(Piece(f"{stray.id}.e1", stray.kind, stray.id, None))
            world.lines.append(stray)


def _hide_places(rng: Random, world: World, wanted: dict[str, int]) -> None:
    if "missed a place" not in wanted and rng.random() > 0.15:
        return
    able = [spot for spot in world.spots if spot.piece is not None]
    if len(world.spots) > 1 and able:
        able[int(rng.random() * len(able))].listed = False


def _odd_engine(rng: Random, world: World) -> None:
    """Bolts missing, added or of another length for years; marks lines that the engine's file knows."""
    world.engine_odd = True
    named = {line.id: line for line in world.lines}
    own = [s for s in world.spots if s.piece is not None and named[s.piece.line or ""].listed]
    bosses = [s for s in world.spots if s.form == "empty boss"]
    if bosses and (rng.random() < 0.4 or not own):
        spot = bosses[0]
        alike = own and own[0].piece is not None and not world.engine_known and rng.random() < 0.5
        kind = own[0].piece.kind if alike and own[0].piece else STRANGE
        extra = Piece("X.1", kind, None, spot.id)
        extra.by_design = False
        spot.piece, spot.drilled = extra, True
        world.extras.append(extra)
    elif own:
        piece = own[int(rng.random() * len(own))].piece
        assert piece is not None
        if world.engine_known or rng.random() < 0.7 or piece.kind.length_mm is None:
            piece.fitted = False
        else:
            piece.actual = Kind(piece.kind.what, piece.kind.thread, piece.kind.length_mm + 5.0)
        named[piece.line or ""].known_to_file = world.engine_known


def _fit(rng: Random, world: World) -> None:
    for spot in world.spots:
        fitted = spot.piece is not None and spot.piece.fitted
        spot.becomes(("slack" if rng.random() < 0.04 else "in") if fitted else "empty", 0)
