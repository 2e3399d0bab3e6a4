"""Pointers end to end: found where they stand, led to where they truly lead, or said not to lead anywhere."""

from __future__ import annotations

from lastbolt.words.machine import Machine, Reference
from styles.counts import Count, Miss, Score
from styles.matching import anchor, assign, core, flat, page_of, pointers, targets_of, tokens, within
from styles.truth import TrueReference, Truth

RIGHT_STATUS = {
    "resolved": {"resolved", "doubtful"}, "dangling": {"dangling"}, "other book": {"other book"},
    "self": {"self", "doubtful"}, "in words": {"in words", "resolved", "doubtful"},
}  # fmt: skip
REPORTED = {"doubtful", "ambiguous", "dangling", "self", "other book", "in words"}


class ReferenceScorer:
    """Compares the pointers of one model with the truth."""

    def __init__(self, machine: Machine, truth: Truth, section_of: dict[str, str], score: Score) -> None:
        self.machine = machine
        self.truth = truth
        self.section_of = section_of
        self.score = score
        self.page = {one.key: one.page for one in truth.sections}
        self.name = {one.key: f"{one.number} {one.title}".strip() for one in truth.sections}
        self.parent = {one.key: one.parent for one in truth.sections}
        self.decoys = [*truth.decoys, *(one.words for one in truth.cautions)]
        self.unexplained = {one.pdf_page for one in machine.pages if one.state == "unexplained"}
        self.steps_of = {self.section_of.get(one.id, ""): one.steps for one in machine.procedures}

    def _miss(self, kind: str, section: str, words: str, what: str) -> None:
        self.score.misses.append(
            Miss(kind, self.page.get(section, 0), self.name.get(section, ""), words, what)
        )

    def run(self) -> None:
        """Count the pointers found and led right, the silent misses, what was narrowed or bound."""
        truth, read = self.truth.references, pointers(self.machine, self.section_of)
        whose = assign(truth, read, self.decoys)
        groups: dict[int, list[int]] = {}
        for at, indexes in enumerate(whose):
            for index in indexes:
                groups.setdefault(index, []).append(at)
        count = Count(true=len(truth), read=sum(1 for one in whose if one != [-1]))
        only, narrowed = Count(), Count()
        good: set[int] = set()
        for index, true in enumerate(truth):
            ours = [read[at].reference for at in groups.get(index, [])]
            beside = {key for at in groups.get(index, []) for one in whose[at] for key in truth[one].targets}
            right = self._led_right(true, ours, beside)
            if right:
                good |= set(groups[index])
            if true.kind == "figure" and not right:
                right = self._figure_held(true)
            count.found += right
            self.score.led += right
            self.score.doubtful += bool(right and any(one.status == "doubtful" for one in ours))
            if true.binds_only and right:
                kept = any(one.condition or one.applies.words or one.applies.variants for one in ours)
                kept = kept or any(one.applies.from_serial or one.applies.to_serial for one in ours)
                kept = kept or self._step_kept(true)
                only.add(Count(1, int(kept), 1, int(kept)))
                if not kept:
                    self._miss("conditions", true.section, true.words, "led right, but binds always")
            if true.steps and true.kind == "steps" and right:
                kept = any(self._narrowed(true.steps, one) for one in ours)
                narrowed.add(Count(1, int(kept), 1, int(kept)))
                if not kept:
                    self._miss("step ranges", true.section, true.words, "led right, but to all steps")
            if not right:
                self._wrong_pointer(true, [one.status for one in ours])
        count.right = len(good)
        for at, indexes in enumerate(whose):
            if not indexes:
                self._miss("references", read[at].section, read[at].reference.words, "points at nothing true")
        self.score.counts["references"] = count
        self.score.counts["conditions of references"] = only
        self.score.counts["step ranges of references"] = narrowed

    def _narrowed(self, steps: tuple[str, str], read: Reference) -> bool:
        if [anchor(one or "") for one in (read.from_step, read.to_step)] == [anchor(one) for one in steps]:
            return True
        marks = {step.id: anchor(step.mark) for one in self.machine.procedures for step in one.steps}
        return {anchor(one) for one in steps} <= {marks.get(one, "") for one in read.to}

    def _wrong_pointer(self, true: TrueReference, statuses: list[str]) -> None:
        if any(one in REPORTED for one in statuses):
            self._miss(
                "references", true.section, true.words, f"{true.kind}: said to be {', '.join(statuses)}"
            )
        elif statuses:
            self.score.silent += 1
            self.score.wrong += 1
            self.score.unflagged += self.page[true.section] not in self.unexplained
            self._miss("references", true.section, true.words, f"SILENT {true.kind}: led elsewhere")
        elif not self._told(true):
            self.score.silent += 1
            self.score.unflagged += self.page[true.section] not in self.unexplained
            self._miss(
                "references", true.section, true.words, f"SILENT {true.kind}: not read (step {true.step})"
            )
        else:
            self._miss("references", true.section, true.words, f"{true.kind}: told as a problem")

    def _led_right(self, true: TrueReference, ours: list[Reference], beside: set[str]) -> bool:
        """`beside`: where the same words also truly lead, for another pointer in them."""
        if true.kind == "repeat":
            return bool(ours)
        right = [one for one in ours if one.status in RIGHT_STATUS[true.expect]]
        if true.expect not in ("resolved", "in words"):
            return bool(right) and len(right) == len(ours)
        targets = set().union(*(targets_of(one, self.machine, self.section_of) for one in right))
        if true.expect == "in words" and not targets:
            return bool(right)
        reached = all(any(self._under(one, wanted) for one in targets) for wanted in true.targets)
        return reached and all(any(self._under(one, wanted) for wanted in beside) for one in targets)

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
