"""The readings of one job: what is to be measured, what was, and what each reading decides."""

import math
from typing import Literal

from msgspec import Struct

from lastbolt.words.citation import Citation
from lastbolt.words.measured import Span
from lastbolt.words.problem import Problem

READINGS_SCHEMA = "lastbolt.readings/1"

Beyond = Literal["part", "set"]
"""What a reading beyond the limit means: another part, or something that is set or shimmed."""

Verdict = Literal["within", "worn, within limit", "beyond", "too close for this tool", "not decided"]
NOT_WITHIN: tuple[Verdict, ...] = ("beyond", "too close for this tool", "not decided")


class ShopTool(Struct, frozen=True, omit_defaults=True):
    """A tool of the shop. Numbers in its `unit`; `uncertainty` expanded, k = 2. None: not known.
    `listed`: it stands in the shop's list or in the job."""

    name: str
    kind: str = ""
    unit: str = "mm"
    low: float | None = None
    high: float | None = None
    resolution: float | None = None
    uncertainty: float | None = None
    calibrated_until: str = ""
    listed: bool = True


class Size(Struct, frozen=True, omit_defaults=True):
    """One line of the reading sheet. `number`: its number there. `why`: why this job needs it. `barred`: why
    its limits cannot be used as they stand."""

    number: int
    limit: str
    what: str
    unit: str
    standard: Span | None = None
    service: Span | None = None
    dimension: str = ""
    how: str = ""
    how_source: str = ""
    """"common practice, no source"; "" where the sources themselves say it, at `how_citations`."""
    how_citations: tuple[Citation, ...] = ()
    decides: str = ""
    then_citations: tuple[Citation, ...] = ()
    """Where the sources say what is done beyond the limit; empty: common practice."""
    tools: tuple[str, ...] = ()
    """Kinds of tool."""
    at_hand: tuple[str, ...] = ()
    """Of the shop's own tools those that fit, the finest first."""
    readings: int = 1
    part: str = ""
    beyond: Beyond = "part"
    why: str = ""
    barred: str = ""
    told: str = ""
    citations: tuple[Citation, ...] = ()
    also: tuple[str, ...] = ()
    """Ids of limits that say the same of it."""


class Spot(Struct, frozen=True):
    """The mean of all readings at one place, in the unit of the size."""

    at: str
    value: float
    readings: int = 1


class Decided(Struct, frozen=True, omit_defaults=True):
    """One size of one part as it was measured. `uncertainty` is the standard one, `k` what it is taken times.
    `told`: what to know of it; `questions`: why it is not decided until somebody looks again. Without a
    `limit` it is a size to reckon with, and `says` is empty."""

    what: str
    value: float
    unit: str
    says: Verdict | Literal[""] = ""
    number: int = 0
    limit: str = ""
    of: str = ""
    side: Literal["", "low", "high"] = ""
    words: str = ""
    rule: str = ""
    source: str = ""
    uncertainty: float | None = None
    k: float = 2.0
    freedom: float | None = None
    """Degrees of freedom; None: without end."""
    parts: tuple[str, ...] = ()
    probability: float | None = None
    spots: tuple[Spot, ...] = ()
    beside: tuple[str, ...] = ()
    """What the same readings also tell: taper, ovality, mean."""
    questions: tuple[str, ...] = ()
    told: tuple[str, ...] = ()
    asked: tuple[str, ...] = ()
    """What to ask yet: "At room temperature?" with what it would change."""
    readers: tuple[str, ...] = ()
    tool: str = ""
    standard: Span | None = None
    service: Span | None = None
    part: str = ""
    beyond: Beyond = "part"
    events: tuple[str, ...] = ()
    citations: tuple[Citation, ...] = ()


def figures_of(spread: float, unit: str = "mm") -> int:
    """How many figures behind the point a value with that expanded uncertainty is told with: so many that the
    uncertainty has one, or two where the first is a 1 or a 2; without one three in millimetres.

    >>> figures_of(0.0082), figures_of(0.013), figures_of(2.6), figures_of(0.0)
    (3, 3, 1, 3)
    """
    if not spread > 0:
        return {"mm": 3, "in": 4}.get(unit, 2)
    place = math.floor(math.log10(spread))
    return min(5, max(0, -place + (1 if spread / 10**place < 3 else 0)))


class ShimsChosen(Struct, frozen=True, omit_defaults=True):
    """Shims from stock for one target. `choices`: best first, each with what it leaves, in words."""

    what: str
    target: str
    measured_mm: float
    convention: str
    wanted: str
    choices: tuple[str, ...] = ()
    told: tuple[str, ...] = ()
    citations: tuple[Citation, ...] = ()


class Readings(Struct, frozen=True, omit_defaults=True):
    """Everything that was measured for one goal. `open`: numbers of the sheet without a reading."""

    schema: str
    goal: str
    machine: str
    sheet: tuple[Size, ...] = ()
    decided: tuple[Decided, ...] = ()
    sizes: tuple[Decided, ...] = ()
    """Measured to reckon with; no limit is about them."""
    open: tuple[int, ...] = ()
    others: int = 0
    """Limits of the sources that this goal does not need."""
    shims: tuple[ShimsChosen, ...] = ()
    rule: str = "printed limit"
    problems: tuple[Problem, ...] = ()
