# ruff: noqa: E501
"""Invented machine content from a seed: what a manual has to say, before any house decides how to say it."""

from __future__ import annotations

import random
from dataclasses import dataclass, field

from styles.lexicon import Lexicon

TORQUE_BY_THREAD = {"M5": 6.0, "M6": 10.0, "M8": 24.0, "M10": 48.0, "M12": 85.0, "M14": 130.0}
LENGTHS = (12, 16, 20, 25, 30, 35, 40, 45, 55, 65, 70, 80, 95)
FORMS = ("plain", "plain", "plain", "range", "tolerance", "staged", "angle")


@dataclass(frozen=True)
class Torque:
    """A torque meant: `form` says whether it is printed plain, as a range, with a tolerance, staged or with a turn."""

    nominal_Nm: float
    form: str = "plain"
    angle_deg: float | None = None


@dataclass(frozen=True)
class Fastener:
    """A group of like fasteners."""

    what: str
    thread: str
    length_mm: int | None
    count: int
    torque: Torque


@dataclass(frozen=True)
class Limit:
    """A size to measure: standard range and limit of wear."""

    what: str
    low_mm: float
    high_mm: float
    limit_mm: float


@dataclass(frozen=True)
class Ref:
    """A pointer by its kind; `targets` are section keys (or figure/table keys)."""

    kind: str
    targets: tuple[str, ...] = ()
    steps: tuple[int, int] | None = None
    words: str = ""
    role: str = "see"


Slot = str | Fastener | Torque | Limit | Ref


@dataclass
class Step:
    """A sentence with slots, its sub-steps, and the cautions that stand at it."""

    template: str
    slots: dict[str, Slot] = field(default_factory=dict)
    children: list[Step] = field(default_factory=list)
    cautions: list[tuple[str, str]] = field(default_factory=list)


@dataclass
class Section:
    """A heading and what stands under it. `kind`: group, procedure, text, torques, limits."""

    key: str
    kind: str
    action: str
    thing: str
    level: int = 2
    parent: str = ""
    steps: list[Step] = field(default_factory=list)
    text: list[str] = field(default_factory=list)
    lead: list[Step] = field(default_factory=list)
    before: list[Step] = field(default_factory=list)
    after: list[Step] = field(default_factory=list)
    tools: list[str] = field(default_factory=list)
    rows: list[tuple[str, Slot]] = field(default_factory=list)
    children: list[Section] = field(default_factory=list)
    figure: bool = False


@dataclass
class PartsFigure:
    """A figure of the parts list: rows of (item, number, name, quantity, indent)."""

    thing: str
    rows: list[tuple[str, str, str, int | None, int]]


@dataclass
class Book:
    """The whole manual."""

    machine: str
    chapters: list[Section]
    parts: list[PartsFigure]

    def sections(self) -> list[Section]:
        """Every section in printed order, chapters included."""
        found: list[Section] = []
        waiting = list(reversed(self.chapters))
        while waiting:
            one = waiting.pop()
            found.append(one)
            waiting.extend(reversed(one.children))
        return found


@dataclass
class Component:
    """Something that comes off, opens and goes back on."""

    key: str
    name: str
    inner: tuple[str, ...]
    fasteners: list[Fastener]
    seal: str


def make_component(
    key: str, name: str, inner: tuple[str, ...], rng: random.Random, lexicon: Lexicon
) -> Component:
    """A component with its own fasteners."""
    fasteners = []
    for what in rng.sample(lexicon.fasteners, k=rng.choice((2, 3))):
        thread = rng.choice(tuple(TORQUE_BY_THREAD))
        form = rng.choice(FORMS)
        torque = Torque(TORQUE_BY_THREAD[thread], form, 90.0 if form == "angle" else None)
        length = None if what == "nut" else rng.choice(LENGTHS)
        fasteners.append(Fastener(what, thread, length, rng.choice((2, 3, 4, 5, 6, 8, 10, 12)), torque))
    return Component(key, name, inner, fasteners, rng.choice(lexicon.seals))
