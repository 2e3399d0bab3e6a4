"""Counts per kind, and what was missed."""

from __future__ import annotations

from dataclasses import dataclass, field


@dataclass
class Count:
    """How many are true, how many of these were found, how many were read, how many of those are true."""

    true: int = 0
    found: int = 0
    read: int = 0
    right: int = 0

    @property
    def recall(self) -> float:
        """Found of true; 1 when there is none."""
        return self.found / self.true if self.true else 1.0

    @property
    def precision(self) -> float:
        """True of read; 1 when none was read."""
        return self.right / self.read if self.read else 1.0

    @property
    def f1(self) -> float:
        """The harmonic mean of the two."""
        both = self.precision + self.recall
        return 2 * self.precision * self.recall / both if both else 0.0

    def add(self, other: Count) -> None:
        """Add another manual's counts."""
        self.true += other.true
        self.found += other.found
        self.read += other.read
        self.right += other.right


@dataclass(frozen=True)
class Miss:
    """One thing missed or read wrongly, with the PDF page of its section."""

    kind: str
    page: int
    section: str
    words: str
    what: str


@dataclass
class Score:
    """All counts of one manual, or of several added up."""

    counts: dict[str, Count] = field(default_factory=dict)
    silent: int = 0
    wrong: int = 0
    unflagged: int = 0
    """Silent misses of a section on whose first page nothing is said to be unexplained either."""
    doubtful: int = 0
    led: int = 0
    misses: list[Miss] = field(default_factory=list)

    def add(self, other: Score) -> None:
        """Add another manual's score."""
        for kind, count in other.counts.items():
            self.counts.setdefault(kind, Count()).add(count)
        self.silent += other.silent
        self.wrong += other.wrong
        self.unflagged += other.unflagged
        self.doubtful += other.doubtful
        self.led += other.led
        self.misses += other.misses
