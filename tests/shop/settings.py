"""What a made-up scene may contain: its size, its mistakes, and how often they happen (assumed).

Every number here is assumed. None of them was measured; they are round numbers of the size that published
studies of inspection and of clerical work speak of, from memory, and they serve to make scenes, not to
claim how often real mechanics err.
"""

from dataclasses import dataclass, field
from typing import Literal

RootKind = Literal[
    "misprint",
    "misreading",
    "inherited misprint",
    "row left out",
    "line not wholly here",
    "engine not as its papers",
    "ticked, not done",
    "done, not recorded",
    "misjudged a place",
    "did not look",
    "missed a place",
    "broken head",
    "hole deeper than known",
    "changed at a break",
    "miscounted",
    "tray mixed or short",
]

ROOT_KINDS: tuple[RootKind, ...] = RootKind.__args__  # type: ignore[attr-defined]

REPEATABLE = frozenset(
    {"misprint", "misjudged a place", "did not look", "ticked, not done", "miscounted", "broken head"}
)
"""Kinds that may happen more than once in one scene, each time as a root of its own."""

PERSON_ROOTS = frozenset({"did not look"})
LINEAGE_ROOTS = frozenset({"inherited misprint"})


@dataclass(frozen=True)
class Rates:
    """Assumed chance of each mistake, per opportunity named in the comment."""

    misprint: float = 0.01  # per printed count
    misreading: float = 0.01  # per page read
    inherited_misprint: float = 0.01  # per line of a copied list
    row_left_out: float = 0.03  # per list claimed complete
    line_not_wholly_here: float = 0.03  # per line said to be wholly this joint's
    engine_not_as_its_papers: float = 0.05  # per engine
    ticked_not_done: float = 0.02  # per ticked step
    done_not_recorded: float = 0.03  # per step
    misjudged_a_place: float = 0.01  # per person and place
    did_not_look: float = 0.02  # per person
    missed_a_place: float = 0.2  # per guided round, of a place nobody had listed
    broken_head: float = 0.005  # per fastener
    hole_deeper_than_known: float = 0.02  # per shank in a blind hole: fools every rod put to it
    changed_at_a_break: float = 0.05  # per break
    miscounted: float = 0.02  # per count
    tray_mixed_or_short: float = 0.03  # per tray
    glance_sees: float = 0.33  # per place where something is: seen without guidance
    look_detects: float = 0.97  # per guided look at a fastener that is there
    light_detects: float = 0.995  # per rod, light or lamp at a fastener that is there
    sham_again: float = 0.5  # that somebody who did not look the first time does not look again


@dataclass(frozen=True)
class Settings:
    """How one scene is to be made; `None` leaves the choice to the scene's own seed."""

    places: tuple[int, int] = (2, 12)
    lines: int = 6
    most_per_line: int = 99
    people: tuple[int, int] = (1, 4)
    mistakes: int | None = None
    """Exactly so many roots; None: as the assumed rates have it."""
    kinds: tuple[RootKind, ...] = ()
    """The kinds of mistake that must be among them (at most `mistakes` of them)."""
    held: bool | None = None
    quiet: bool | None = None
    """Held, and no true look or count shows it: what was said of the holder is mistaken or absent."""
    without: frozenset[RootKind] = frozenset()
    """Mistakes that never happen here, for instance the common causes."""
    elsewhere_in_trays: float = 0.3
    """Chance that a piece of a line not wholly this joint's was taken out elsewhere, into the trays."""
    broken_fools_open_hole: bool = False
    """Whether a shank deep in its hole is also missed by somebody who looks into the hole."""
    rates: Rates = field(default_factory=Rates)


SMALL = Settings(places=(1, 4), lines=3, most_per_line=2, people=(1, 2))
LARGE = Settings(places=(20, 60), lines=10, people=(2, 5))
