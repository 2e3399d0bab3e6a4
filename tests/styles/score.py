"""How well a model agrees with what its manual truly says: counts per kind, and what was missed."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field

from lastbolt.words.machine import Caution, Machine, Mention, TorqueValue
from styles.matching import (
    SAME_WORDS,
    alike,
    anchor,
    assign,
    core,
    flat,
    match_sections,
    match_steps,
    page_of,
    pages_of,
    pointers,
    targets_of,
    tokens,
    within,
)
from styles.truth import TrueReference, Truth

TORQUE_WITHIN = 0.015
"""Rounding of a printed second unit; a value read in either unit is right."""
RIGHT_STATUS = {
    "resolved": {"resolved", "doubtful"}, "dangling": {"dangling"}, "other book": {"other book"},
    "self": {"self"}, "in words": {"in words", "resolved", "doubtful"},
}  # fmt: skip
REPORTED = {"doubtful", "ambiguous", "dangling", "self", "other book", "in words"}


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
    doubtful: int = 0
    led: int = 0
    limits_held: bool = False
    misses: list[Miss] = field(default_factory=list)

    def add(self, other: Score) -> None:
        """Add another manual's score."""
        for kind, count in other.counts.items():
            self.counts.setdefault(kind, Count()).add(count)
        self.silent += other.silent
        self.wrong += other.wrong
        self.doubtful += other.doubtful
        self.led += other.led
        self.limits_held = self.limits_held or other.limits_held
        self.misses += other.misses


class Scorer:
    """Compares one model with one truth."""

    def __init__(self, machine: Machine, truth: Truth) -> None:
        self.machine = machine
        self.truth = truth
        self.section_of = match_sections(machine, truth)
        self.page = {one.key: one.page for one in truth.sections}
        self.name = {one.key: f"{one.number} {one.title}".strip() for one in truth.sections}
        self.parent = {one.key: one.parent for one in truth.sections}
        self.score = Score()
        self.first_marks = {one.section: one.mark for one in reversed(truth.steps)}
        self.decoys = [*truth.decoys, *(one.words for one in truth.cautions)]
        self.steps_of = {self.section_of.get(one.id, ""): one.steps for one in machine.procedures}

    def run(self) -> Score:
        """The whole comparison."""
        self._sections()
        self._steps()
        self._references()
        self._torques()
        self._fasteners()
        self._cautions()
        self._parts()
        self.score.limits_held = hasattr(self.machine, "limits")
        self.score.counts["limits"] = Count(true=len(self.truth.limits))
        return self.score

    def _miss(self, kind: str, section: str, words: str, what: str = "missed") -> None:
        self.score.misses.append(
            Miss(kind, self.page.get(section, 0), self.name.get(section, ""), words, what)
        )

    def _sections(self) -> None:
        last = self.page.get("parts", 10_000)
        read = {one.id for one in self.machine.sections if (page_of(one.citations) or 0) <= last}
        got = {self.section_of[one.id] for one in self.machine.sections if one.id in self.section_of}
        pages = {one.key: one.page for one in self.truth.sections}
        count = Count(len(self.truth.sections), len(got), len(read), len(got))
        for section in self.machine.sections:
            key = self.section_of.get(section.id)
            if key is not None and pages[key] not in pages_of(section.citations):
                count.found -= 1
                count.right -= 1
                self._miss("sections", key, section.title, f"read on page {page_of(section.citations)}")
        for true in self.truth.sections:
            if true.key not in got:
                self._miss("sections", true.key, self.name[true.key])
        self.score.counts["sections"] = count

    def _steps(self) -> None:
        found, read, right, marked = match_steps(self.machine, self.truth, self.section_of)
        self.score.counts["steps"] = Count(len(self.truth.steps), len(found), read, right)
        with_mark = sum(1 for index, one in enumerate(self.truth.steps) if one.mark and index in found)
        if with_mark:
            self.score.counts["marks of found steps"] = Count(with_mark, marked, with_mark, marked)
        for index, true in enumerate(self.truth.steps):
            if index not in found:
                self._miss("steps", true.section, f"{true.mark} {true.words}".strip())

    # ---- references

    def _references(self) -> None:
        truth, read = self.truth.references, pointers(self.machine, self.section_of)
        whose = assign(truth, read, self.decoys)
        groups: dict[int, list[int]] = {}
        for at, index in enumerate(whose):
            if index is not None and index >= 0:
                groups.setdefault(index, []).append(at)
        count = Count(true=len(truth), read=sum(1 for one in whose if one != -1))
        only = Count()
        for index, true in enumerate(truth):
            ours = [read[at].reference for at in groups.get(index, [])]
            right = self._led_right(true, ours)
            if true.kind == "figure" and not right:
                right = self._figure_held(true)
            count.found += right
            count.right += right * len(ours)
            self.score.led += right
            self.score.doubtful += bool(right and any(one.status == "doubtful" for one in ours))
            if true.binds_only and right:
                kept = any(one.condition or one.applies.words or one.applies.variants for one in ours)
                kept = kept or any(one.applies.from_serial or one.applies.to_serial for one in ours)
                kept = kept or self._step_kept(true)
                only.add(Count(1, int(kept), 1, int(kept)))
                if not kept:
                    self._miss("conditions", true.section, true.words, "led right, but binds always")
            if not right:
                self._wrong_pointer(true, [one.status for one in ours])
        count.right = min(count.right, count.read)
        for at, index in enumerate(whose):
            if index is None:
                self._miss("references", read[at].section, read[at].reference.words, "points at nothing true")
        self.score.counts["references"] = count
        self.score.counts["conditions of references"] = only

    def _wrong_pointer(self, true: TrueReference, statuses: list[str]) -> None:
        if any(one in REPORTED for one in statuses):
            self._miss(
                "references", true.section, true.words, f"{true.kind}: said to be {', '.join(statuses)}"
            )
        elif statuses:
            self.score.silent += 1
            self.score.wrong += 1
            self._miss("references", true.section, true.words, f"SILENT {true.kind}: led elsewhere")
        elif not self._told(true):
            self.score.silent += 1
            self._miss(
                "references", true.section, true.words, f"SILENT {true.kind}: not read (step {true.step})"
            )
        else:
            self._miss("references", true.section, true.words, f"{true.kind}: told as a problem")

    def _led_right(self, true: TrueReference, ours: list[object]) -> bool:
        statuses = {one.status for one in ours}  # type: ignore[attr-defined]
        if not statuses:
            return False
        if true.kind == "repeat":
            return True
        if not statuses <= RIGHT_STATUS[true.expect]:
            return false_if_resolved(statuses, true)
        if true.expect not in ("resolved", "in words"):
            return True
        targets = set().union(*(targets_of(one, self.machine, self.section_of) for one in ours))  # type: ignore[arg-type]
        if true.expect == "in words" and not targets:
            return True
        reached = all(any(self._under(one, wanted) for one in targets) for wanted in true.targets)
        return reached and all(any(self._under(one, wanted) for wanted in true.targets) for one in targets)

    def _under(self, key: str, above: str) -> bool:
        while key:
            if key == above:
                return True
            key = self.parent.get(key, "")
        return False

    def _figure_held(self, true: TrueReference) -> bool:
        number = anchor(" ".join(core(true.words, "figure")))
        for step in self.steps_of.get(true.section, ()):
            named = any(number in anchor(one) or anchor(one).endswith(number) for one in step.figures)
            if named and (not true.step or anchor(step.mark) == anchor(true.step)):
                return True
        return False

    def _step_kept(self, true: TrueReference) -> bool:
        for step in self.steps_of.get(true.section, ()):
            if (step.condition or step.applies.words) and within(
                tokens(true.words), tokens(step.words)
            ) >= 0.8:
                return True
        return False

    def _told(self, true: TrueReference) -> bool:
        page = self.page[true.section]
        wanted = flat(true.words)
        for problem in self.machine.problems:
            at = page_of(problem.citations)
            if at is not None and page <= at <= page + 2 and wanted in flat(problem.what):
                return True
        return False

    # ---- values

    def _torques(self) -> None:
        count = Count(true=len(self.truth.torques))
        read: list[tuple[str, str, TorqueValue]] = []
        for key, steps in self.steps_of.items():
            read += [(key, anchor(step.mark), value) for step in steps for value in step.torques]
        read += [("table", flat(one.what), one.value) for one in self.machine.torques]
        left = list(read)
        for true in self.truth.torques:
            where = ("table", flat(true.what)) if true.what else (true.section, anchor(true.step))
            hit = next(
                (one for one in left if self._same_place(one, where) and _same_torque(one[2], true)), None
            )
            if hit is None:
                self._miss("torques", true.section, f"{true.step} {true.what} {true.words}".strip())
            else:
                left.remove(hit)
                count.found += 1
        count.read, count.right = len(read), len(read) - len(left)
        self.score.counts["torques"] = count
        for key, _, value in left:
            self._miss("torques", key, value.words or str(value.printed), "no such torque there")

    @staticmethod
    def _same_place(read: tuple[str, str, TorqueValue], where: tuple[str, str]) -> bool:
        if read[0] != where[0]:
            return False
        if where[0] == "table":
            return (
                within(tokens(where[1]), tokens(read[1])) >= 0.8
                or alike(tokens(where[1]), tokens(read[1])) >= 0.8
            )
        return not where[1] or read[1] == where[1]

    def _fasteners(self) -> None:
        wanted = [one for one in self.truth.fasteners if one.count is not None or one.thread is not None]
        count = Count(true=len(wanted))
        for true in wanted:
            steps = self.steps_of.get(true.section, ())
            mentions = [
                m for s in steps if not true.step or anchor(s.mark) == anchor(true.step) for m in s.mentions
            ]
            if any(_same_fasteners(one, true.count, true.thread, true.length_mm) for one in mentions):
                count.found += 1
            else:
                self._miss("fasteners", true.section, f"{true.step} {true.words}")
        count.read = count.true
        count.right = count.found
        self.score.counts["fasteners"] = count

    def _cautions(self) -> None:
        read: list[tuple[str, str, Caution]] = []
        for procedure in self.machine.procedures:
            key = self.section_of.get(procedure.id, "")
            read += [(key, "", one) for one in procedure.cautions]
            read += [(key, anchor(step.mark), one) for step in procedure.steps for one in step.cautions]
        count, held = Count(true=len(self.truth.cautions), read=len(read)), Count()
        left = list(read)
        for true in self.truth.cautions:
            same = [
                one for one in left
                if one[0] == true.section and one[2].signal == true.signal
                and alike(tokens(one[2].words), tokens(true.words)) >= SAME_WORDS
            ]  # fmt: skip
            if not same:
                self._miss("cautions", true.section, f"{true.signal}: {true.words}")
                continue
            hit = next((one for one in same if one[1] == anchor(true.step)), same[0])
            left.remove(hit)
            count.found += 1
            if true.step:
                first = true.step == self.first_marks.get(true.section)
                right = int(hit[1] == anchor(true.step) or (first and not hit[1]))
                held.add(Count(1, right, 1, right))
                if not right:
                    self._miss("cautions", true.section, true.words, f"at step {hit[1]!r}, not {true.step!r}")
        count.right = count.found
        self.score.counts["cautions"] = count
        if held.true:
            self.score.counts["cautions at their step"] = held

    def _parts(self) -> None:
        count = Count(true=len(self.truth.parts), read=len(self.machine.rows))
        rows = Counter(
            (one.part_number, anchor(one.name), one.quantity.low, one.item) for one in self.machine.rows
        )
        figures = {(one.part_number, one.item): anchor(one.figure) for one in self.machine.rows}
        for true in self.truth.parts:
            key = (true.number, anchor(true.name), true.quantity, true.item)
            figure = figures.get((true.number, true.item), "")
            if rows[key] and figure.endswith(anchor(true.figure)):
                rows[key] -= 1
                count.found += 1
            else:
                self.score.misses.append(
                    Miss(
                        "parts", 0, f"Fig. {true.figure}", f"{true.item} {true.number} {true.name}", "missed"
                    )
                )
        count.right = count.found
        self.score.counts["parts rows"] = count


def false_if_resolved(statuses: set[str], true: TrueReference) -> bool:
    """A pointer of another status than its own is not led right; a pointer at itself may be led to itself."""
    return true.expect == "self" and statuses <= {"self", "doubtful"}


def _same_torque(read: TorqueValue, true: object) -> bool:
    low, high, angle = true.low_Nm, true.high_Nm, true.angle_deg  # type: ignore[attr-defined]
    if read.torque_Nm is None or (angle or None) != (read.angle_deg or None):
        return False
    ends = zip(read.torque_Nm, (low, high), strict=True)
    return all(abs(one - other) <= TORQUE_WITHIN * max(abs(other), 0.1) for one, other in ends)


def _same_fasteners(read: Mention, count: int | None, thread: str | None, length: float | None) -> bool:
    if count is not None and read.quantity.low != count:
        return False
    if thread is None:
        return True
    return (
        read.kind is not None
        and read.kind.thread == thread
        and (length is None or read.kind.length_mm == length)
    )


def score(machine: Machine, truth: Truth) -> Score:
    """The score of one model against its truth."""
    return Scorer(machine, truth).run()
