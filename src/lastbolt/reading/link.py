"""Books into procedures with their references looked up over all sources, and figures tied to them."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Literal, NamedTuple

from msgspec.structs import replace

from lastbolt.reading.book_labels import BookLabels
from lastbolt.reading.common import asked_of, common_conditions
from lastbolt.reading.counts import read_callouts
from lastbolt.reading.drafts import SectionDraft
from lastbolt.reading.left_over import Net
from lastbolt.reading.lexicon import lexicon
from lastbolt.reading.manual import BookRead
from lastbolt.reading.piece import Piece
from lastbolt.reading.plain_net import tell_missed
from lastbolt.reading.problems import Reporter, quoted
from lastbolt.reading.procedure_drafts import ProcedureDraft, StepDraft, plain_text
from lastbolt.reading.procedures import torque_values
from lastbolt.reading.reference_roles import made_reference, role_in_step
from lastbolt.reading.references import Directory, in_words, look_up
from lastbolt.reading.standing_orders import standing_orders
from lastbolt.reading.steps import RawReference
from lastbolt.reading.swallowed import places
from lastbolt.reading.targets import (
    Found,
    Target,
    bare_number,
    procedure_id,
    section_id,
    section_of,
    targets_of,
)
from lastbolt.reading.telling import tell_of_reference, tell_of_step
from lastbolt.reading.unfollowed import NOWHERE, Heard, Unfollowed
from lastbolt.words.citation import Citation
from lastbolt.words.machine import Figure, Mention, Procedure, Reference, ReferenceRole, Section, Step
from lastbolt.words.problem import Problem

POINTING_BLOCKS = ("before", "after", "references", "needs")
"""Labelled blocks whose entries point; in the others numbers are those of tools and materials."""
Holds = Literal["procedure", "table", "text", "sections"]


class Linked(NamedTuple):
    """The sections, procedures and figures of all books, and what linking found wrong."""

    sections: tuple[Section, ...]
    procedures: tuple[Procedure, ...]
    figures: tuple[Figure, ...]
    problems: tuple[Problem, ...]


class RowFinder(NamedTuple):
    """Leads callouts to parts rows: (figure number, item) -> row ids."""

    by_item: Mapping[tuple[str, str], tuple[str, ...]]


def link(books: Iterable[BookRead], rows: RowFinder) -> Linked:
    """Everything that points looked up, over all books."""
    every = list(books)
    language = every[0].book.language if every else lexicon()
    targets, tables = [], {}
    for book in every:
        targets += targets_of(book)
        for number, section in book.book.table_captions.items():
            tables[book.settings.source, number] = section_id(book.settings.source, section)
    directory = Directory(targets, tables, language)
    sections: list[Section] = []
    procedures: list[Procedure] = []
    figures: list[Figure] = []
    problems: list[Problem] = []
    for book in every:
        linker = _Linker(book, directory, rows)
        sections += linker.sections()
        linker.take_orders()
        linker.look_up_texts()
        made = [linker.procedure(draft) for draft in book.procedures]
        procedures += made
        figures += linker.figures()
        linker.tell_unfollowed()
        tell_missed(book, directory, made, linker.reporter)
        problems += linker.reporter.found
    return Linked(tuple(sections), tuple(procedures), tuple(figures), tuple(problems))


class _Linker:
    def __init__(self, book: BookRead, directory: Directory, rows: RowFinder) -> None:
        self.book = book
        self.source = book.settings.source
        self.directory = directory
        self.rows = rows
        self.reporter = Reporter(book.settings.title)
        self.net = Net(directory.targets.values(), self.source, book.book.language)
        self.labels = BookLabels(directory.targets.values(), self.source, book.book.language)
        self.figure_ids: dict[str, list[str]] = {}
        for figure in book.figures:
            self.figure_ids.setdefault(figure.number, []).append(figure.id)
        self.above: dict[str, tuple[Reference, ...]] = {}
        """Section anchor -> what its introduction asks of all sections below it."""
        self.cited_by: dict[str, list[str]] = {}
        self.heard = Heard()
        self.ordered: dict[str, list[Reference]] = {}
        """Section id -> the sections that say of themselves that they come before its work."""

    def sections(self) -> list[Section]:
        """The sections of the book in order."""
        with_procedure = {draft.section.anchor for draft in self.book.procedures}
        texts = {draft.section.anchor: plain_text(draft) for draft in self.book.texts}
        found = []
        for section in self.book.book.sections:
            parent = section_id(self.source, section.parent) if section.parent is not None else None
            holds: Holds = "text"
            if section.anchor in with_procedure:
                holds = "procedure"
            elif section.tables:
                holds = "table"
            elif section.children:
                holds = "sections"
            cited = self.book.cite.of(section.heading)
            identity, text = section_id(self.source, section), texts.get(section.anchor, "")
            number, title, level = section.number, section.title, section.level
            found.append(Section(identity, number, title, level, parent, holds, cited, text))
        return found

    def look_up_texts(self) -> None:
        """Report what the sections that hold no procedure point at in vain; keep what is for those below."""
        for draft in self.book.texts:
            own = self.directory.targets[section_id(self.source, draft.section)]
            steps = [
                (r, self.book.cite.of(*s.pieces)) for s in draft.steps if s.facts for r in s.facts.references
            ]
            raws = [(r, c) for r, c in (*draft.seen, *steps) if r.pointer.form != "demand"]
            made = self._all(raws, own, "see", own.id)
            common = self._all(draft.common, own, None, f"{own.id}/common")
            taken = self._taken([*raws, *draft.common], (*made, *common))
            seen = (*made, *self._left(draft, own, own.id, taken))
            clear = [r for r in seen if r.status in ("resolved", "doubtful") and not self._inside(r, own)]
            anchor = asked_of(draft.section).anchor if draft.common else draft.section.anchor
            self.above[anchor] = (*self.above.get(anchor, ()), *common, *clear)

    def _inside(self, reference: Reference, own: Target) -> bool:
        """Whether it leads into the section itself, as an overview does."""
        for to in reference.to:
            above: str | None = section_of(to)
            while above is not None and above != own.id:
                above = self.directory.targets[above].parent if above in self.directory.targets else None
            if above is not None:
                return True
        return False

    def _from_above(self, section: SectionDraft, own: Target) -> tuple[Reference, ...]:
        """What the introductions above a section ask of it, and what orders itself before it."""
        found: list[Reference] = list(self.ordered.get(own.id, ()))
        while section.parent is not None:
            section = section.parent
            ordered = self.ordered.get(section_id(self.source, section), ())
            found = [*ordered, *self.above.get(section.anchor, ()), *found]
        others = (r for r in found if own.procedure not in r.to)
        return tuple(replace(r, id=f"{own.procedure}/above/r{n}") for n, r in enumerate(others, 1))

    def take_orders(self) -> None:
        """Take up what sections say of themselves: that they are to be done before the work of others."""
        for draft in self.book.procedures:
            own = self.directory.targets[section_id(self.source, draft.section)]
            for item in (one for each in draft.items for one in (each, *each.children)):
                for words, pointer in standing_orders(item.text, self.directory.language):
                    found = look_up(RawReference(pointer, words, ()), own, self.directory)
                    cited = self.book.cite.of(*item.pieces, words=words)
                    reference = Reference("", words, "before", "resolved", (own.procedure or own.id,))
                    for to in found.to if found is not None else ():
                        self.ordered.setdefault(section_of(to), []).append(
                            replace(reference, citations=cited)
                        )

    def procedure(self, draft: ProcedureDraft) -> Procedure:
        """The procedure with its references looked up."""
        own = self.directory.targets[section_id(self.source, draft.section)]
        identity = procedure_id(self.source, draft.section)
        figures = self._figures_of(draft, identity)
        before = self._all(draft.before, own, "before", f"{identity}/before")
        seen = self._all(draft.seen, own, None, f"{identity}/see")
        after = self._all(draft.after, own, "after", f"{identity}/after")
        common = self._all(draft.common, own, None, f"{identity}/common")
        anchor = draft.section.anchor
        self.above[anchor] = (*self.above.get(anchor, ()), *common, *self._asked_by_steps(draft, own))
        above = (*self._from_above(draft.section, own), *common)
        raws = [*draft.common, *draft.before, *draft.seen, *draft.after]
        raws += [(raw, ()) for step in draft.steps for raw in step.further]
        left = self._left(draft, own, identity, self._taken(raws, (*common, *before, *seen, *after)))
        steps = tuple(self._step(draft, step, own, figures) for step in draft.steps)
        self._twice(before)
        chapter = draft.section.chapter
        return Procedure(
            identity, _number_of(draft.section), draft.title, draft.deed, draft.parts, steps,
            (*above, *before, *seen, *left), after,
            tuple(draft.cautions), figures, tuple(draft.tools), tuple(draft.materials), draft.applies,
            f"{chapter.number} {chapter.title}".strip(), self.book.cite.of(draft.section.heading),
            text=draft.text,
        )  # fmt: skip

    def _asked_by_steps(self, draft: ProcedureDraft, own: Target) -> tuple[Reference, ...]:
        """What the numbered steps of a chapter's introduction ask before all work in the sections below."""
        if not draft.section.children:
            return ()
        asked = [
            (raw, self.book.cite.of(*step.pieces, words=step.words))
            for step in draft.steps if step.facts is not None
            for raw in common_conditions(step.words, step.facts.references, self.directory.language)
        ]  # fmt: skip
        return self._all(asked, own, None, f"{own.id}/asked")

    def _step(self, draft: ProcedureDraft, step: StepDraft, own: Target, figures: tuple[str, ...]) -> Step:
        facts = step.facts
        assert facts is not None
        anchor = step.path if step.occurrence == 1 else f"{step.path}~{step.occurrence}"
        identity = f"{self.source}/step/{draft.section.anchor}/{anchor}"
        cited = self.book.cite.of(*step.pieces, words=step.words)
        read = (*facts.references, *step.further)
        own_labels = self.labels.pointers(step.words, facts, read)
        raws = [(raw, cited) for raw in (*read, *own_labels)]
        references = self._all(raws, own, None, identity)
        taken = self._taken(raws, references) | own.marks
        references += self._caught(step.words, own, taken, identity, step.pieces)
        cites = self._cited_figures(facts.figures, own, cited)
        sections = [r.pointer.targets for r in facts.references if r.pointer.cue == "bracket"]
        spans = [read_callouts(targets[0]) for targets in sections if len(targets) == 1]
        told = [replace(m, callouts=()) if m.callouts in spans and references else m for m in facts.mentions]
        mentions = tuple(self._mention(m, cites or figures) for m in told)
        doubt = tell_of_step(self.reporter, facts, cited)
        mark = step.path if step.items[0].kind == "step" or "." in step.path else ""
        return Step(
            identity, mark, step.words, facts.deeds, mentions, references, tuple(step.cautions),
            torque_values(facts, cited), facts.locks, facts.left_hand, facts.renew, facts.tools,
            facts.condition, facts.applies, cites, cited, doubt, step.beside,
        )  # fmt: skip

    def _all(
        self,
        raws: Iterable[tuple[RawReference, tuple[Citation, ...]]],
        own: Target,
        role: ReferenceRole | None,
        base: str,
    ) -> tuple[Reference, ...]:
        made: list[Reference] = []
        lost: list[tuple[RawReference, tuple[Citation, ...]]] = []
        for raw, cited in raws:
            self.heard.add(raw.words, cited)
            found = look_up(raw, own, self.directory)
            if found is None:
                lost += [(in_words(raw), cited)] if raw.entry else []
                continue
            for one in (*found.apart, found):
                said = role if role is not None else role_in_step(raw, one, self.directory)
                if (
                    role is None
                    and base.endswith("/see")
                    and said == "before"
                    and raw.pointer.cue != "perform"
                ):
                    said = "see"
                reference = made_reference(f"{base}/r{len(made) + 1}", raw, one, own, said, cited)
                if made and reference.to and (made[-1].to, made[-1].words) == (reference.to, reference.words):
                    continue
                made.append(reference)
                tell_of_reference(self.reporter, reference, one, self.directory, raw.pointer.targets)
        known = {reference.words for reference in made}
        again = [(raw, cited) for raw, cited in lost if raw.words not in known]
        return (*made, *(self._all(again, own, role, f"{base}/words") if again else ()))

    def _taken(
        self, raws: Iterable[tuple[RawReference, tuple[Citation, ...]]], made: Iterable[Reference]
    ) -> frozenset[str]:
        """The numbers that the rules dealt with."""
        named = [n for raw, _ in raws if raw.pointer.form != "reverse" for n in raw.pointer.targets]
        reached = [section_of(t) for reference in made for t in reference.to]
        found = [self.directory.targets[t].number for t in reached if t in self.directory.targets]
        return frozenset(bare_number(number) for number in (*named, *found))

    def _left(
        self, draft: ProcedureDraft, own: Target, base: str, taken: frozenset[str]
    ) -> tuple[Reference, ...]:
        """What no rule took of the words that stand in no step: introductions, blocks, captions."""
        found: list[Reference] = []
        in_steps = {id(item) for step in draft.steps for item in step.items}
        for item in draft.items:
            if id(item) in in_steps or (item.kind == "label" and item.name not in POINTING_BLOCKS):
                continue
            role: ReferenceRole = "before" if item.kind == "label" and item.name == "before" else "see"
            for one in (item, *item.children):
                base_of = f"{base}/left{len(found)}"
                found += self._caught(one.text, own, taken, base_of, one.pieces, role)
        for piece in draft.section.tables:
            for text in self.net.rows(piece, own, taken):
                found += self._caught(text, own, taken, f"{base}/row{len(found)}", (piece,))
        return tuple(found)

    def _caught(
        self,
        text: str,
        own: Target,
        taken: frozenset[str],
        base: str,
        pieces: Sequence[Piece],
        role: ReferenceRole = "see",
    ) -> tuple[Reference, ...]:
        """References, with doubt, to the sections that a text names by number and no rule saw."""
        found: list[Reference] = []
        for target in self.net.caught(text, own, taken):
            cited = self.book.cite.of(*pieces, words=text)
            leads = Found((target.procedure or target.id,), "doubtful")
            identity = f"{base}/n{len(found) + 1}"
            found.append(Reference(identity, text, role, "doubtful", leads.to, citations=cited))
            tell_of_reference(self.reporter, found[-1], leads, self.directory)
        return tuple(found)

    def _twice(self, references: Iterable[Reference]) -> None:
        seen: dict[tuple[str, ...], tuple[Citation, ...]] = {}
        for reference in references:
            first = seen.setdefault(reference.to, reference.citations)
            if reference.to and first is not reference.citations and first != reference.citations:
                what = f"{quoted(reference.words)} stands twice in one list."
                self.reporter.add(
                    "LB-R15", what, "Look whether another section was meant.", reference.citations, "note"
                )

    def tell_unfollowed(self) -> None:
        """Report what points somewhere in words that no rule looked at."""
        net = Unfollowed(self.directory, self.reporter, self.figure_ids)
        for place in places(self.book.book):
            section = place.section
            own = self.directory.targets[section_id(self.source, section)] if section else NOWHERE
            net.tell(place, own, self.heard, self.book.cite)

    def _mention(self, mention: Mention, figures: tuple[str, ...]) -> Mention:
        """The mention with the figure its callouts belong to, when that is certain."""
        if not mention.callouts or not figures:
            return mention
        by_id = {figure.id: figure for figure in self.book.figures}
        fitting = [
            f
            for f in figures
            if set(mention.callouts)
            <= ({c.number for c in by_id[f].callouts} | {n for n, _ in by_id[f].legend})
        ]
        figure = fitting[0] if len(fitting) == 1 else figures[0] if len(figures) == 1 else None
        if figure is None:
            return mention
        number = by_id[figure].number
        rows = tuple(
            r
            for callout in mention.callouts
            for r in self.rows.by_item.get((number, callout), ())
            if by_id[figure].parts_figure
        )
        return Mention(
            mention.name, mention.deed, mention.quantity, mention.kind, mention.callouts, rows, figure
        )

    def _figures_of(self, draft: ProcedureDraft, identity: str) -> tuple[str, ...]:
        found = [f for f, home in self.book.figure_homes.items() if home is draft.section]
        found += [f for number in draft.figures for f in self.figure_ids.get(number, [])]
        found = list(dict.fromkeys(found))
        for figure in found:
            self.cited_by.setdefault(figure, []).append(identity)
        return tuple(found)

    def _cited_figures(
        self, numbers: tuple[str, ...], own: Target, cited: tuple[Citation, ...]
    ) -> tuple[str, ...]:
        found: list[str] = []
        for number in numbers:
            ids = self.figure_ids.get(number.replace("–", "-"), [])
            if not ids:
                what = f"Figure {number} is cited but was not found."
                self.reporter.add("LB-R09", what, "Look for the figure in the source.", cited, "note")
            found += ids
        for figure in found:
            self.cited_by.setdefault(figure, []).append(own.procedure or own.id)
        return tuple(dict.fromkeys(found))

    def figures(self) -> list[Figure]:
        """The figures with the procedures they belong to."""
        found = []
        for figure in self.book.figures:
            procedures = tuple(
                dict.fromkeys(p for p in self.cited_by.get(figure.id, []) if "/procedure/" in p)
            )
            found.append(replace(figure, procedures=procedures))
        return found


def _number_of(section: SectionDraft) -> str:
    """The section's number, or of a sub-heading without one that of the section it stands in."""
    above: SectionDraft | None = section
    while above is not None and not above.number:
        above = above.parent
    return above.number if above is not None else ""
