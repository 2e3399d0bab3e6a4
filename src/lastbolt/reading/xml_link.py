"""Module drafts into sections and procedures: what they point at looked up over the whole publication.

A link of the markup and words that point ("see the removal of the guard") come out alike: with the
same roles, statuses and problems that a printed manual's references have.
"""

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from msgspec.structs import replace

from lastbolt.reading.conditions import combined
from lastbolt.reading.entries import read_entry
from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.link import RowFinder
from lastbolt.reading.pointers import Pointer
from lastbolt.reading.problems import Reporter
from lastbolt.reading.procedures import torque_values
from lastbolt.reading.reference_roles import made_reference, role_in_step
from lastbolt.reading.references import Directory, look_up
from lastbolt.reading.sentences import sentences
from lastbolt.reading.steps import RawReference, SentenceFacts, read_sentence, read_step
from lastbolt.reading.targets import Found, Target
from lastbolt.reading.telling import tell_of_reference, tell_of_step
from lastbolt.reading.title_pointers import Cue, Form
from lastbolt.reading.titles import title_key
from lastbolt.reading.xml_drafts import Entry, Link, ModuleDraft, Phrase, StepDraft, without_marks
from lastbolt.reading.xml_modules import ModuleIndex
from lastbolt.words.citation import Citation
from lastbolt.words.machine import (
    EVERY,
    Applies,
    Figure,
    Mention,
    Procedure,
    Reference,
    ReferenceRole,
    ReferenceStatus,
    Section,
    Step,
)

_WORST: tuple[ReferenceStatus, ...] = ("dangling", "other book", "ambiguous", "doubtful", "resolved")


class Asked(NamedTuple):
    """From where something points: the module, the id its references begin with, their role if known."""

    own: Target
    base: str
    role: ReferenceRole | None
    applies: Applies = EVERY
    condition: str = ""


class ModuleLinker:
    """Looks up what the modules of a publication point at, module by module."""

    def __init__(
        self, source: str, index: ModuleIndex, rows: RowFinder, language: Lexicon, reporter: Reporter
    ) -> None:
        self.source = source
        self.index = index
        self.rows = rows
        self.figures = {figure.id: figure for draft in index.modules for figure in draft.figures}
        self.language = language
        self.reporter = reporter
        self.targets = {draft.key: self._target(draft) for draft in index.modules}
        self.directory = Directory(list(self.targets.values()), {}, language)
        self.cited_by: dict[str, list[str]] = {}
        self._known: dict[str, SentenceFacts] = {}
        self._callouts = any(figure.legend for figure in self.figures.values())

    def section(self, draft: ModuleDraft) -> Section:
        """The section of a module."""
        parent = self.targets[draft.parent].id if draft.parent in self.targets else None
        level = 1
        above = draft.parent
        while above in self.targets and level < 9:
            level, above = level + 1, self.index.by_key(above).parent
        return Section(
            self.targets[draft.key].id, draft.number, draft.title, level, parent, draft.holds, draft.cited,
            "" if draft.holds == "procedure" else draft.text,
        )  # fmt: skip

    def procedure(self, draft: ModuleDraft) -> Procedure:
        """The procedure of a module with its references."""
        own = self.targets[draft.key]
        identity = own.procedure or own.id
        self._known.clear()
        before = self._entries(draft.before, own, f"{identity}/before", "before")
        seen = self._entries(draft.seen, own, f"{identity}/see", "see")
        after = self._entries(draft.after, own, f"{identity}/after", "after")
        steps = tuple(self._step(draft, step, own) for step in draft.steps)
        figures = tuple(
            dict.fromkeys([f.id for f in draft.figures] + [f for s in draft.steps for f in s.figures])
        )
        for figure in figures:
            self.cited_by.setdefault(figure, []).append(identity)
        return Procedure(
            identity, draft.number, draft.title, draft.deed, draft.parts, steps, (*before, *seen), after,
            tuple(draft.cautions), figures, tuple(draft.tools), tuple(draft.materials), draft.applies,
            "", draft.cited, text=draft.text,
        )  # fmt: skip

    def look_up_text(self, draft: ModuleDraft) -> None:
        """Report what a module without steps points at in vain."""
        own = self.targets[draft.key]
        self._entries(draft.seen, own, own.id, "see")

    def with_procedures(self, figure: Figure) -> Figure:
        """The figure with the procedures that show it."""
        return replace(figure, procedures=tuple(dict.fromkeys(self.cited_by.get(figure.id, ()))))

    def _target(self, draft: ModuleDraft) -> Target:
        key = title_key(draft.title, self.language)
        parts = frozenset(word for part in draft.parts for word in title_key(part, self.language))
        procedure = f"{self.source}/procedure/{draft.anchor}" if draft.holds == "procedure" else None
        identity = f"{self.source}/section/{draft.anchor}"
        parent = f"{self.source}/section/{self.index.by_key(draft.parent).anchor}" if draft.parent else None
        return Target(
            identity, draft.number, draft.title, key, draft.deed, parts, procedure, parent, self.source,
            "", frozenset(),
        )  # fmt: skip

    def _entries(
        self, entries: Iterable[Entry], own: Target, base: str, role: ReferenceRole
    ) -> tuple[Reference, ...]:
        made: list[Reference] = []
        for entry in entries:
            asked = Asked(own, base, role, entry.applies, entry.condition)
            for piece in self._apart(entry.phrase):
                if entry.phrase.links_in(piece):
                    made += self._linked(piece, entry.phrase, asked, entry.cited, len(made))
                    continue
                if role == "see":
                    raws = list(self._sentence(piece).references)
                else:
                    raws, _ = read_entry(piece, self.language)
                made += self._worded(raws, asked, entry.cited, len(made))
        return tuple(made)

    def _apart(self, phrase: Phrase) -> list[str]:
        """The sentences of an entry; one that only points ("See X.") goes with the one before it."""
        pieces: list[str] = []
        for sentence in sentences(phrase.text, self.language):
            scan = self.language.scan(without_marks(sentence))
            bare = not any(hit.key != "other" for hit in scan.of("deeds"))
            only_points = bool(phrase.links_in(sentence)) and bare and len(scan.tokens) <= 4
            if pieces and only_points and not phrase.links_in(pieces[-1]):
                pieces[-1] = f"{pieces[-1]} {sentence}"
            else:
                pieces.append(sentence)
        return pieces

    def _step(self, draft: ModuleDraft, step: StepDraft, own: Target) -> Step:
        identity = f"{self.source}/step/{draft.anchor}/{step.mark}"
        facts = read_step(
            step.phrase.plain(), self.language, callouts_in_brackets=self._callouts, known=self._known
        )
        asked = Asked(own, identity, None, step.applies, step.condition)
        references: list[Reference] = []
        for sentence in sentences(step.phrase.text, self.language):
            if step.phrase.links_in(sentence):
                references += self._linked(sentence, step.phrase, asked, step.cited, len(references))
            else:
                raws = self._sentence(sentence).references
                references += self._worded(raws, asked, step.cited, len(references))
        doubt = tell_of_step(self.reporter, facts, step.cited)
        known = [
            self.figures[f] for f in step.figures or tuple(f.id for f in draft.figures) if f in self.figures
        ]
        said = f"{step.phrase.words()} {step.aside}".strip()
        return Step(
            identity, step.mark, said, facts.deeds,
            tuple(self._mention(mention, known) for mention in facts.mentions), tuple(references),
            step.cautions, torque_values(facts, step.cited), facts.locks, facts.left_hand, facts.renew,
            facts.tools, step.condition or facts.condition,
            step.applies if step.applies != EVERY else facts.applies, step.figures, step.cited, doubt,
        )  # fmt: skip

    def _sentence(self, sentence: str) -> SentenceFacts:
        found = self._known.get(sentence)
        if found is None:
            found = read_sentence(sentence, self.language, callouts_in_brackets=self._callouts)
            self._known[sentence] = found
        return found

    def _worded(
        self, raws: Iterable[RawReference], asked: Asked, cited: tuple[Citation, ...], count: int
    ) -> list[Reference]:
        """The references that words make, as in a printed manual."""
        made: list[Reference] = []
        for raw in raws:
            found = look_up(raw, asked.own, self.directory) if raw.pointer.form != "figure" else None
            if found is None or (asked.role == "see" and raw.pointer.form == "demand"):
                continue
            role = asked.role or role_in_step(raw, found, self.directory)
            made.append(self._made(raw, found, asked, role, cited, count + len(made)))
        return made

    def _linked(
        self, sentence: str, phrase: Phrase, asked: Asked, cited: tuple[Citation, ...], count: int
    ) -> list[Reference]:
        """The references that the links of one sentence make; "A or B" makes one with alternatives."""
        facts = self._sentence(without_marks(sentence))
        reverse = any(raw.pointer.form == "reverse" for raw in facts.references)
        condition, applies = combined(facts.conditions)
        condition = asked.condition or condition
        applies = asked.applies if asked.applies != EVERY else applies
        cue: Cue = "perform" if facts.scan.has("pointing", "perform") else "see"
        words = Phrase(sentence, phrase.links).words()
        made: list[Reference] = []
        for links in self._groups(sentence, phrase):
            found, first, last = self._found(links)
            form: Form = (
                "reverse" if reverse else "steps" if links[0].own and links[0].fragment else "section"
            )
            pointer = Pointer(
                0, len(words), form, tuple(link.to for link in links), cue, len(links) > 1, first, last
            )
            raw = RawReference(pointer, words, facts.facts.deeds, condition, applies)
            role = "reverse of" if reverse else asked.role or role_in_step(raw, found, self.directory)
            made.append(self._made(raw, found, asked, role, cited, count + len(made)))
        return made

    def _groups(self, sentence: str, phrase: Phrase) -> list[list[Link]]:
        """The links of a sentence, those joined by "or" together."""
        groups: list[list[Link]] = []
        last = 0
        for position, sign in enumerate(sentence):
            found = phrase.links_in(sign)
            if not found:
                continue
            between = self.language.scan(sentence[last:position]).tokens if groups else []
            if any(self.language.among(token.low, "pointing", "alternatives") for token in between):
                groups[-1] += found
            else:
                groups.append(found)
            last = position + 1
        return groups

    def _found(self, links: Sequence[Link]) -> tuple[Found, str | None, str | None]:
        """Where links lead together, and the steps of the target that a single one singles out."""
        looked = [self._one(link) for link in links]
        to = tuple(dict.fromkeys(target for found in looked for target in found.to))
        status = next(s for s in _WORST if any(found.status == s for found in looked))
        missing = tuple(
            link.to for link, found in zip(links, looked, strict=True) if found.status == "dangling"
        )
        found = Found(to, status, len(links) > 1 or any(f.any_of for f in looked), missing)
        if len(links) > 1 or not links[0].fragment or len(to) != 1:
            return found, None, None
        mark = self.index.step_mark(links[0])
        return found, mark, mark

    def _one(self, link: Link) -> Found:
        if link.outside:
            return Found((), "other book")
        hits, sure = self.index.find(link.to)
        goals = tuple(self.targets[h.key].procedure or self.targets[h.key].id for h in hits)
        if not goals:
            return Found((), "dangling", missing=(link.to,))
        if len(goals) > 1:
            return Found(goals, "ambiguous", any_of=True)
        return Found(goals, "resolved" if sure else "doubtful")

    def _made(
        self, raw: RawReference, found: Found, asked: Asked, role: ReferenceRole,
        cited: tuple[Citation, ...], count: int,
    ) -> Reference:  # fmt: skip
        reference = made_reference(f"{asked.base}/r{count + 1}", raw, found, asked.own, role, cited)
        if asked.applies != EVERY and reference.applies == EVERY:
            reference = replace(reference, applies=asked.applies)
        if asked.condition and not reference.condition:
            reference = replace(reference, condition=asked.condition)
        tell_of_reference(self.reporter, reference, found, self.directory, raw.pointer.targets)
        return reference

    def _mention(self, mention: Mention, figures: Sequence[Figure]) -> Mention:
        """The mention with the one figure that has all its callouts, and its rows if it is a parts figure."""
        if not mention.callouts:
            return mention
        fitting = [f for f in figures if set(mention.callouts) <= {number for number, _ in f.legend}]
        if len(fitting) != 1:
            return mention
        figure = fitting[0]
        rows = [r for c in mention.callouts for r in self.rows.by_item.get((figure.number, c), ())]
        return replace(mention, figure=figure.id, rows=tuple(rows) if figure.parts_figure else ())
