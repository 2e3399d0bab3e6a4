"""What a made manual truly says: plain values, known because the manual was set from them."""

from __future__ import annotations

import json
import re
from dataclasses import asdict, dataclass, field
from pathlib import Path

SIDE_TOLD = re.compile(
    r"\b(?:(?:min|max)(?:imum)?|less than|more than|not (?:under|over|below|above)|at least|at most)\b",
    re.IGNORECASE,
)
"""Words that tell which side of a limit is good; "worn", "limit", "reject at" leave that to the standard."""


@dataclass(frozen=True)
class TrueSection:
    """A heading: `number` and `title` as printed, `page` of the PDF from 1, `printed` as the page says."""

    key: str
    number: str
    title: str
    level: int
    parent: str
    page: int
    printed: str


@dataclass(frozen=True)
class TrueStep:
    """An instruction; `mark` is its path ("5", "5a"), empty where the manual prints none."""

    section: str
    mark: str
    words: str


@dataclass(frozen=True)
class TrueReference:
    """Words that point elsewhere. `expect`: resolved, dangling, other book, self, in words.

    `step` is the mark, "before", "after" or "" (the section's own text). `targets`: keys of sections.
    """

    section: str
    step: str
    words: str
    kind: str
    expect: str
    targets: tuple[str, ...] = ()
    steps: tuple[str, str] | None = None
    binds_only: bool = False


@dataclass(frozen=True)
class TrueTorque:
    """A torque in a step (`step` its mark) or in a table (`what` names the line), in N·m."""

    section: str
    step: str
    low_Nm: float
    high_Nm: float
    angle_deg: float | None
    words: str
    what: str = ""


@dataclass(frozen=True)
class TrueLimit:
    """A wear limit as printed, in mm. `what`: the measure, in a table "part, measure"; `rounding_mm`: half of
    the last printed digit."""

    section: str
    step: str
    what: str
    standard_mm: tuple[float, float] | None
    limit_mm: float | None
    words: str
    rounding_mm: float = 0.005

    @property
    def senses(self) -> tuple[str, ...]:
        """The senses that may be read: the side on which the standard lies; where no words tell, none too."""
        if self.limit_mm is None or self.standard_mm is None:
            return "at least", "at most", ""
        side = "at least" if self.limit_mm <= self.standard_mm[0] else "at most"
        return (side,) if SIDE_TOLD.search(self.words) else (side, "")


@dataclass(frozen=True)
class TrueFasteners:
    """How many fasteners of which size a step names."""

    section: str
    step: str
    what: str
    count: int | None
    thread: str | None
    length_mm: float | None
    words: str


@dataclass(frozen=True)
class TruePart:
    """A row of the parts list."""

    figure: str
    item: str
    number: str
    name: str
    quantity: int | None
    indent: int


@dataclass(frozen=True)
class TrueCaution:
    """A warning, caution or note and the step it stands at ("" when at the section's head)."""

    section: str
    step: str
    signal: str
    words: str


@dataclass
class Truth:
    """All of one manual."""

    style: str
    seed: int
    sections: list[TrueSection] = field(default_factory=list)
    steps: list[TrueStep] = field(default_factory=list)
    references: list[TrueReference] = field(default_factory=list)
    torques: list[TrueTorque] = field(default_factory=list)
    limits: list[TrueLimit] = field(default_factory=list)
    fasteners: list[TrueFasteners] = field(default_factory=list)
    parts: list[TruePart] = field(default_factory=list)
    cautions: list[TrueCaution] = field(default_factory=list)
    decoys: list[str] = field(default_factory=list)
    """Words that point at a thing, not a place ("engine on a stand"): reading them or not is both right."""

    def save(self, path: Path) -> None:
        """Write it as JSON."""
        path.write_text(json.dumps(asdict(self), indent=1, ensure_ascii=False), encoding="utf-8")
