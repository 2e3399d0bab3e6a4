"""How well a model agrees with what its manual truly says: counts per kind, and what was missed."""

from __future__ import annotations

from collections import Counter

from lastbolt.words.machine import Caution, Machine, Mention, TorqueValue
from styles.counts import Count, Miss, Score
from styles.matching import (
    SAME_WORDS,
    alike,
    anchor,
    flat,
    match_sections,
    match_steps,
    page_of,
    pages_of,
    tokens,
    within,
)
from styles.score_limits import score_limits
from styles.score_references import ReferenceScorer
from styles.truth import Truth

TORQUE_WITHIN = 0.015
"""Rounding of a printed second unit; a value read in either unit is right."""


class Scorer:
    """Compares one model with one truth."""

    def __init__(self, machine: Machine, truth: Truth) -> None:
        self.machine = machine
        self.truth = truth
        self.section_of = match_sections(machine, truth)
        self.page = {one.key: one.page for one in truth.sections}
        self.name = {one.key: f"{one.number} {one.title}".strip() for one in truth.sections}
        self.score = Score()
        self.first_marks = {one.section: one.mark for one in reversed(truth.steps)}
        self.steps_of = {self.section_of.get(one.id, ""): one.steps for one in machine.procedures}

    def run(self) -> Score:
        """The whole comparison."""
        self._sections()
        self._steps()
        ReferenceScorer(self.machine, self.truth, self.section_of, self.score).run()
        self._torques()
        self._fasteners()
        self._cautions()
        self._parts()
        self.score.counts["limits"], missed = score_limits(self.machine, self.truth, self.section_of)
        self.score.misses += missed
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
