"""A gathered section into a procedure: its steps, set-up block, cautions, and what it points at, raw."""

import re
from collections.abc import Iterator
from itertools import takewhile

import msgspec

from lastbolt.reading.caution_habit import ANYWHERE, CautionHabit
from lastbolt.reading.common import common_conditions, speaks_for_others
from lastbolt.reading.drafts import Cite, Item, SectionDraft
from lastbolt.reading.inline_signals import part_signals
from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.piece import INDENT, STEPS
from lastbolt.reading.problems import Reporter, quoted
from lastbolt.reading.procedure_drafts import ProcedureDraft, StepDraft
from lastbolt.reading.requirements import asked_in, asks_for_list, hinted_in, listed
from lastbolt.reading.schema import Schema
from lastbolt.reading.sentence_steps import by_sentences, steps_are_sentences, tells_somehow
from lastbolt.reading.set_up import BlockReader
from lastbolt.reading.step_runs import RUN
from lastbolt.reading.steps import (
    RawReference,
    Scope,
    SentenceFacts,
    StepFacts,
    is_work,
    read_step,
)
from lastbolt.reading.swallowed import in_general
from lastbolt.reading.title_asks import asked_by, without_asks
from lastbolt.reading.titles import read_title
from lastbolt.reading.untaken import keep_the_rest, untaken
from lastbolt.words.citation import Citation
from lastbolt.words.machine import EVERY, SIGNALS, Caution, Deed, TorqueValue


class ProcedureReader:
    """Reads one section after another with the book's schema."""

    def __init__(
        self,
        language: Lexicon,
        schema: Schema,
        cite: Cite,
        reporter: Reporter,
        *,
        cautions: CautionHabit = ANYWHERE,
    ) -> None:
        self.language = language
        self.schema = schema
        self.cite = cite
        self.reporter = reporter
        self.cautions = cautions
        self.texts: list[ProcedureDraft] = []
        """Sections that tell nothing to do but may point somewhere."""
        self.waiting: dict[str, ProcedureDraft] = {}
        """Set-up blocks that stand above the tasks they are for."""
        self.scopes: list[Scope] = []
        """Conditions that stand between steps and cover some of them."""
        self.asking: tuple[Deed, ...] = ()
        """What must have been done with the things of the list that follows."""
        self.blocks = BlockReader(language, cite, self._facts)
        self._known: dict[str, SentenceFacts] = {}
        """The sentences of this section that were read already."""

    def read(self, section: SectionDraft) -> ProcedureDraft | None:
        """The section as a procedure, or None when it tells nothing to do."""
        draft = ProcedureDraft(section)
        self._known.clear()
        self.asking = ()
        self._inherit(draft)
        facts = read_title(without_asks(section.title, self.language), self.language)
        cited = self.cite.of(section.heading, words=section.title)
        draft.before += [(raw, cited) for raw in asked_by(section.title, self.language)]
        draft.deed, draft.parts = facts.deed, facts.parts
        if self.language.among(section.title.strip(" .:").lower(), "titles", "torque_table"):
            draft.deed = "other"
        if facts.applies != EVERY:
            draft.applies = facts.applies
        if facts.deed != "other" and not facts.parts and section.parent is not None:
            above = read_title(section.parent.title, self.language)
            draft.parts = above.parts
            draft.applies = above.applies if draft.applies == EVERY else draft.applies
            draft.title = f"{section.parent.title}: {section.title}"
        self._walk(draft)
        if draft.steps:
            self._states_in_tables(draft)
        keep_the_rest(draft)
        if not draft.steps:
            self._tell_untaken(draft)
        if not draft.steps and section.children:
            self.waiting[section.anchor] = draft
            self.texts.append(draft)
            return None
        if not draft.before and (not draft.steps or (draft.deed == "other" and not _tells(draft))):
            self.texts.append(draft)
            return None
        self._number(draft)
        return draft

    def _tell_untaken(self, draft: ProcedureDraft) -> None:
        """Say that a section reads like instructions, and that no step was made of it."""
        section = draft.section
        if in_general(section, self.language):
            return
        section.untaken = untaken(section, self.language, work=is_work((draft.deed,)))
        if section.untaken:
            what = f"{_named(draft)} tells what to do, and no step was made of its words."
            do = "Read the section in the source: nothing of it is in a plan."
            cited = self.cite.of(*(item.pieces[0] for item in section.items if item.kind == "text"))
            self.reporter.add("LB-R18", what, do, cited)

    def _inherit(self, draft: ProcedureDraft) -> None:
        """A set-up block above "a. Removal" belongs to that first task, and its cautions with it."""
        parent = draft.section.parent
        above = self.waiting.pop(parent.anchor, None) if parent is not None else None
        if above is None:
            return
        draft.before, draft.tools, draft.materials = above.before, above.tools, above.materials
        draft.cautions, draft.applies = list(above.cautions), above.applies
        above.before, above.cautions = [], []
        draft.items = [item for item in above.items if item.kind == "label"] + draft.items
        above.items = [item for item in above.items if item.kind != "label"]

    def _walk(self, draft: ProcedureDraft) -> None:
        marked = any(item.kind == "step" for item in draft.section.items)
        draft.in_sentences = not marked and steps_are_sentences(draft.section, draft.deed, self.language)
        pending: list[tuple[Caution, Item]] = []
        bare = 0
        for item in self._items(draft):
            if item.kind == "caution":
                self._caution(draft, item, pending)
            elif item.kind == "label":
                self.blocks.read(draft, item)
            elif item.kind == "step":
                self._marked(draft, item, pending)
            elif self._is_caption(item):
                continue
            else:
                bare = self._paragraph(draft, item, pending, bare, marked=marked)
        for step in draft.steps:
            if len(step.items) > 1:  # read as a whole once, when all its paragraphs are known
                step.facts = self._facts(step.said)
        for scope in self.scopes:
            _bind(draft, scope)
        self.scopes.clear()
        for caution, _ in pending:
            target = draft.steps[-1].cautions if draft.steps else draft.cautions
            target.append(caution)

    def _marked(self, draft: ProcedureDraft, item: Item, pending: list[tuple[Caution, Item]]) -> None:
        """Take up a step, or an entry of a list before the first one."""
        if not draft.steps and self._listed(draft, item):
            return
        if not draft.steps:
            self._open_cautions(draft, pending, item)
        elif item.mark is not None and item.mark.kind == "word":
            draft.steps[-1].cautions.extend(caution for caution, _ in pending)
            pending.clear()
        self._step(draft, StepDraft(item.path, [item]), pending)

    def _states_in_tables(self, draft: ProcedureDraft) -> None:
        """Take up the rows of small tables that tell a state: "Pump bracket | off"."""
        for piece in draft.section.tables:
            for at in piece.lines:
                text = at.line.text.replace("\t", " ")
                cited = self.cite.of(piece, words=text)
                draft.before += [(raw, cited) for raw in hinted_in(text, (), self.language)]

    def _listed(self, draft: ProcedureDraft, item: Item) -> bool:
        """Take up an entry of a list of what must be off or drained."""
        asked = listed(item.text, self.asking, self.language) if self.asking else None
        if asked is None:
            self.asking = ()
            return False
        draft.before.append((asked, self.cite.of(*item.pieces)))
        return True

    def _items(self, draft: ProcedureDraft) -> Iterator[Item]:
        """What stands in a section; where nothing bears a mark, the sentences of its paragraphs."""
        for item in draft.section.items:
            whole = not draft.in_sentences or item.kind != "text" or self._is_caption(item)
            yield from [item] if whole else by_sentences(item, self.language)

    def _open_cautions(self, draft: ProcedureDraft, pending: list[tuple[Caution, Item]], item: Item) -> None:
        """Cautions before the first step stay with the procedure and go with its first step too."""
        draft.cautions.extend(caution for caution, _ in pending)
        pending.clear()

    def _step(self, draft: ProcedureDraft, step: StepDraft, pending: list[tuple[Caution, Item]]) -> None:
        step.facts = self._facts(step.said)
        if step.facts.scope is not None:
            self.scopes.append(step.facts.scope)
        step.cautions.extend(caution for caution, _ in pending)
        pending.clear()
        if not any(is_work(one.facts.deeds) and not one.further for one in draft.steps if one.facts):
            step.further += hinted_in(step.words, step.facts.references, self.language)
        draft.steps.append(step)

    def _facts(self, words: str) -> StepFacts:
        brackets = self.schema.callouts_in_brackets
        return read_step(words, self.language, callouts_in_brackets=brackets, known=self._known)

    def _caution(self, draft: ProcedureDraft, item: Item, pending: list[tuple[Caution, Item]]) -> None:
        cited = self.cite.of(*item.pieces)
        caution = Caution(SIGNALS[item.name], item.text, cited)
        raw = self._facts(item.text).references
        if self._common(draft, item, raw):
            pending.append((caution, item))
            return
        last = draft.steps[-1] if draft.steps else None
        habit = self.cautions
        behind = last is not None and not habit.stand and habit.inside(item, last.items[0])
        if last is not None and (behind or habit.stand == "behind"):
            last.cautions.append(caution)
            last.further += raw
            return
        draft.seen += [(reference, cited) for reference in raw]
        if last is None:
            draft.before += [(asked, cited) for asked in hinted_in(item.text, raw, self.language)]
        pending.append((caution, item))

    def _common(self, draft: ProcedureDraft, item: Item, read: tuple[RawReference, ...]) -> bool:
        """Take up what an introduction asks before all work in the sections below it."""
        others = speaks_for_others(draft.section, item.text, self.language)
        found = common_conditions(item.text, read, self.language) if others else []
        if not found:
            return False
        cited = self.cite.of(*item.pieces)
        draft.common += [(raw, cited) for raw in found]
        words = {raw.words for raw in found}
        draft.seen += [(raw, cited) for raw in read if raw.words not in words]
        return True

    def _paragraph(
        self,
        draft: ProcedureDraft,
        item: Item,
        pending: list[tuple[Caution, Item]],
        bare: int,
        *,
        marked: bool,
    ) -> int:
        """A paragraph without a mark: an instruction, more of the step above, or text that points."""
        facts = self._facts(item.text)
        if facts.scope is not None and not facts.deeds:
            self.scopes.append(facts.scope)
            return bare
        if not draft.steps and self._common(draft, item, facts.references):
            draft.text = f"{draft.text} {item.text}".strip()
            return bare
        last = draft.steps[-1] if draft.steps else None
        reverse = any(reference.pointer.form == "reverse" for reference in facts.references)
        wordy = last is not None and last.items[0].mark is not None and last.items[0].mark.kind == "word"
        apart = last is not None and _stands_apart(draft, last, item)
        opening = last is None and (marked or draft.in_sentences)
        asks = opening and all(one.pointer.cue == "perform" for one in facts.references)
        only_points = (apart or asks) and facts.deeds == ("other",) and bool(facts.references)
        only_points = only_points or (opening and self._only_asks(item, facts))
        loose = draft.in_sentences
        points = last is not None and bool(facts.references)
        orders_so = loose and (bool(facts.deeds) or points or tells_somehow(item.text, self.language))
        tells = (orders_so or (facts.imperative and bool(facts.deeds))) and not only_points
        if last is not None and not wordy and not reverse and not apart and (marked or not tells):
            last.items.append(item)
            last.cautions.extend(caution for caution, _ in pending)
            pending.clear()
            return bare
        reverse = reverse and draft.deed != "other"
        if reverse or (tells and (marked or wordy or loose or draft.deed != "other" or is_work(facts.deeds))):
            top = last.path.partition(".")[0] if wordy and last is not None else ""
            bare += 0 if top else 1
            path = (
                f"{top}.{1 + sum(s.path.startswith(f'{top}.') for s in draft.steps)}" if top else f"b{bare}"
            )
            if not draft.steps and not top:
                self._open_cautions(draft, pending, item)
            self._step(draft, StepDraft(path, [item]), pending)
            return bare
        if last is not None and wordy:
            last.items.append(item)
            return bare
        self._tells_of(draft, item, facts, pending, opening=opening)
        return bare

    def _only_asks(self, item: Item, facts: StepFacts) -> bool:
        """Whether a paragraph before the first step asks for a state, and its own verb is "proceed"."""
        return facts.deeds == ("other",) and bool(asked_in(item.text, facts.references, self.language))

    def _tells_of(
        self,
        draft: ProcedureDraft,
        item: Item,
        facts: StepFacts,
        pending: list[tuple[Caution, Item]],
        *,
        opening: bool,
    ) -> None:
        """A paragraph that is no step: what it asks for (`opening`: before the first step) and points at."""
        cited = self.cite.of(*item.pieces)
        plain, signals = part_signals(item.text, self.language)
        draft.text = f"{draft.text} {plain}".strip()
        pending += [(Caution(SIGNALS[name], words, cited), item) for name, words in signals]
        if opening:
            self.asking = asks_for_list(plain, self.language)
            asked = asked_in(plain, facts.references, self.language, orders=not draft.in_sentences)
            draft.before += [(raw, cited) for raw in asked]
        for reference in facts.references:
            if reference.pointer.form == "reverse":
                # Said of installations in general ("reverse of removal means: ..."): nothing to do here.
                draft.seen += [(one, cited) for one in _only_seen(reference)]
                continue
            demand = reference.pointer.form == "demand"
            if not (demand and opening):
                before = demand or reference.pointer.cue == "perform"
                (draft.before if before else draft.seen).append((reference, cited))
        draft.figures += facts.figures

    def _is_caption(self, item: Item) -> bool:
        match = re.match(r"([A-Za-z]+)\.?\s\d", item.text)
        word = match[1].lower() if match else ""
        return self.language.among(word, "pointing", "figure") or self.language.among(
            word, "pointing", "table"
        )

    def _number(self, draft: ProcedureDraft) -> None:
        """Tell repeated marks apart and report what skips or repeats."""
        seen: dict[str, int] = {}
        last = 0
        for step in draft.steps:
            seen[step.path] = seen.get(step.path, 0) + 1
            step.occurrence = seen[step.path]
            item = step.items[0]
            tabled = item.pieces[0].lines[0].line.region == STEPS
            if not step.path.isdecimal() or item.kind != "step" or tabled:
                continue
            value = int(step.path)
            tens = item.mark is not None and item.mark.kind.startswith(RUN) and value == last + 10
            if (last and value not in (last + 1, 1) and not tens) or (step.occurrence > 1 and value == last):
                what = f"In {_named(draft)} step {value} stands after step {last}."
                do = "Compare with the page: a step may be missing in print, or its number was not seen."
                self.reporter.add("LB-R08", what, do, self.cite.of(*step.pieces), "note")
            last = value


def _stands_apart(draft: ProcedureDraft, last: StepDraft, item: Item) -> bool:
    """Whether a paragraph is no more of the last step: the steps hang, and it begins left of their words."""
    step = last.items[0].pieces[0]
    page, line = last.items[-1].pieces[-1].lines[-1]
    first = item.pieces[0].lines[0]
    if first.pdf_page != page or first.line.top < line.bottom - 0.004 or last.items[0].kind != "step":
        return False
    hang = any(s.items[0].kind == "step" and s.items[0].pieces[0].hangs for s in draft.steps)
    return hang and first.line.left < step.left + INDENT


def _only_seen(reference: RawReference) -> list[RawReference]:
    """The sections that such words name."""
    pointer = reference.pointer
    if not pointer.targets:
        return []
    return [reference._replace(pointer=pointer._replace(form="section", cue="see", exceptions=""))]


def _tells(draft: ProcedureDraft) -> bool:
    """Whether any step says what to do: a list of names or of facts is no procedure."""
    return any(step.facts is not None and step.facts.deeds for step in draft.steps)


def _bind(draft: ProcedureDraft, scope: Scope) -> None:
    """Lay a condition on the steps it names."""
    first, last = scope.first, scope.last
    for step in draft.steps:
        number = "".join(takewhile(str.isdecimal, step.path))
        if step.facts is None or not number or not first.isdecimal() or not last.isdecimal():
            continue
        if int(first) <= int(number) <= int(last):
            words = "; ".join(said for said in (scope.condition, step.facts.condition) if said)
            applies = step.facts.applies if step.facts.applies != EVERY else scope.applies
            step.facts = step.facts._replace(condition=words, applies=applies)


def _named(draft: ProcedureDraft) -> str:
    return quoted(f"{draft.section.number} {draft.section.title}".strip(), 60)


def torque_values(facts: StepFacts, cited: tuple[Citation, ...]) -> tuple[TorqueValue, ...]:
    """The torques of a step with their citation."""
    return tuple(msgspec.structs.replace(t.value, citations=cited) for t in facts.torques)
