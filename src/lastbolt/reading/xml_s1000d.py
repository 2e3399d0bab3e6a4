"""One S1000D data module into a draft: its code and title, requirements, steps, warnings, figures.

Structure after S1000D issues 4.0 to 6.0, chapters 3.9.5.2.1 (common constructs), 3.9.5.2.3 (procedural) and
3.9.5.2.7 (illustrated parts data), from memory; older modules are renamed first (xml_old_names.py).
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.manual import BookSettings
from lastbolt.reading.problems import Reporter, quoted
from lastbolt.reading.titles import read_title
from lastbolt.reading.xml_applies import applicability, applied, by_id
from lastbolt.reading.xml_drafts import Entry, ModuleDraft, Phrase, StepDraft, caution, cite
from lastbolt.reading.xml_old_names import is_old, upgraded
from lastbolt.reading.xml_parts import parts_of
from lastbolt.reading.xml_s1000d_words import (
    ASIDE,
    Words,
    deleted,
    figures_in,
    hotspot_name,
    module_code,
    name_of,
)
from lastbolt.reading.xml_tables import TABLES, take_tables
from lastbolt.words.machine import EVERY, Applies, Caution, Deed, Figure, Signal
from lastbolt.words.tree import Element, Module

SIGNAL: Mapping[str, Signal] = {
    "warning": "warning", "caution": "caution", "note": "note", "footnote": "note",
}  # fmt: skip
"""Elements that warn or add, with their signal words; a footnote is kept as a note of its step."""
DEED_OF_CODE: Mapping[str, Deed] = {
    "21": "fill", "22": "drain", "51": "remove", "52": "remove", "53": "remove",
    "71": "install", "72": "install", "73": "install", "31": "check", "34": "check", "36": "check",
}  # fmt: skip
"""First two figures of the information code -> what is done (chapter 8.4, from memory): 210 fill, 220 drain,
310 visual examination, 340 function test, 360 check of dimensions, 510 disconnect, 520 remove,
530 disassemble, 710 assemble, 720 install, 730 connect."""
_TOOLS = ("supportEquipDescr", "embeddedSupportEquipDescr")
_MATERIALS = ("supplyDescr", "spareDescr", "embeddedSupplyDescr", "embeddedSpareDescr")
_TEXTS = ("description", "warningRepository", "cautionRepository", "commonRepository", "techRepository")


class Issue(NamedTuple):
    """Which issue of a module a file holds: its code, language and number, for telling copies apart."""

    code: str
    language: str
    number: str


class Shared(NamedTuple):
    """What modules take from each other: warnings and cautions kept once for all, by their number; the titles
    of all modules by their code."""

    cautions: Mapping[str, Element]
    titles: Mapping[str, str]


def is_data_module(root: Element) -> bool:
    """Whether the root is that of a data module."""
    return root.name == "dmodule"


def in_todays_names(module: Module) -> Module:
    """The module in the vocabulary of issue 4.0."""
    return Module(module.file, upgraded(module.root)) if is_old(module.root) else module


def issue_of(module: Module) -> Issue:
    """The code, language and issue of a module in today's names."""
    address = module.root.first("dmAddress") or module.root
    issue, language = address.first("issueInfo"), address.first("language")
    number = f"{issue.get('issueNumber'):0>3}-{issue.get('inWork') or '00'}" if issue is not None else ""
    code = module_code(address.first("dmCode")) or module.file
    return Issue(code, language.get("languageIsoCode", "language") if language is not None else "", number)


def shared_of(modules: Iterable[Module]) -> Shared:
    """The titles, and the warnings and cautions of repository modules (chapter 3.9.5.2.11)."""
    found: dict[str, Element] = {}
    titles: dict[str, str] = {}
    for module in modules:
        titles[issue_of(module).code] = _title(module)
        for spec in module.root.below("warningSpec", "cautionSpec"):
            ident = spec.first("warningIdent", "cautionIdent")
            if ident is not None:
                found[ident.get("warningIdentNumber", "cautionIdentNumber")] = spec
    return Shared(found, titles)


def read_data_module(
    module: Module, settings: BookSettings, language: Lexicon, shared: Shared, reporter: Reporter
) -> ModuleDraft:
    """The draft of a data module in today's names."""
    return _Reader(module, settings, language, shared, reporter).read()


class _Step(NamedTuple):
    """What a step hands down to the steps inside it."""

    mark: str = ""
    applies: Applies = EVERY
    condition: str = ""


class _Reader:
    def __init__(
        self, module: Module, settings: BookSettings, language: Lexicon, shared: Shared, reporter: Reporter
    ) -> None:
        self.root = module.root
        self.source = settings.source
        self.settings = settings
        self.language = language
        self.shared = shared
        self.reporter = reporter
        self.code = issue_of(module).code
        self.ids = {e.get("id"): e for e in self.root.below() if e.get("id")}
        self.applics = by_id(self.root)
        self.content = self.root.first("content") or self.root
        self.words = Words(self.code, self.ids, self._marks(), shared.titles)
        self.pending: list[Caution] = []
        self.pending_ids: tuple[str, ...] = ()

    def read(self) -> ModuleDraft:
        """The module's draft."""
        draft = self._head()
        draft.applies = self._module_applies()
        self._figures(draft)
        procedure = self.content.first("procedure")
        if procedure is not None:
            self._procedure(draft, procedure)
        elif self.content.first("illustratedPartsCatalog") is not None:
            draft.holds = "table"
            draft.rows, figures = parts_of(self.content, self.root, self.settings, self.words)
            draft.figures = [*figures]
        else:
            self._text(draft)
        told = take_tables(draft, self.content.below(*TABLES), self.settings)
        self.reporter.found += told
        return draft

    def _head(self) -> ModuleDraft:
        address = self.root.first("dmAddress") or self.root
        tech, info = address.first("techName"), address.first("infoName")
        name, what = (e.words() if e is not None else "" for e in (tech, info))
        title = self.shared.titles[self.code]
        cited = cite(self.source, address.first("dmTitle") or address, title)
        draft = ModuleDraft(self.code, self.code, title, cited)
        code = address.first("dmCode")
        by_code = DEED_OF_CODE.get(code.get("infoCode")[:2] if code is not None else "")
        draft.deed = by_code or read_title(what, self.language).deed
        draft.parts = read_title(name, self.language).parts or ((name,) if name else ())
        return draft

    def _module_applies(self) -> Applies:
        status = self.root.first("dmStatus")
        applic = status.child("applic") if status is not None else None
        applies, condition = applicability(applic)
        everything = condition.strip().lower() in ("", "all", "any", "all applicable")
        return applies if everything or applies != EVERY else Applies(words=condition)

    def _marks(self) -> dict[str, str]:
        marks: dict[str, str] = {}
        waiting = [(self.root.first("mainProcedure"), "")]
        while waiting:
            inside, above = waiting.pop()
            for number, step in enumerate(_steps_in(inside), 1) if inside is not None else ():
                mark = f"{above}.{number}" if above else str(number)
                if step.get("id"):
                    marks[step.get("id")] = mark
                waiting.append((step, mark))
        return marks

    def _figures(self, draft: ModuleDraft) -> None:
        for number, figure in enumerate(self.content.below("figure"), 1):
            title = figure.child("title")
            legend = tuple(
                (hotspot_name(h), h.get("hotspotTitle", "objectDescr")) for h in figure.below("hotspot")
            )
            legend += tuple(_legend(figure))
            named = figure.get("id") or str(number)
            draft.figures.append(
                Figure(
                    f"{self.source}/figure/{self.code}/{named}", f"{self.code} figure {number}",
                    title.words() if title is not None else "", self.source,
                    legend=tuple(dict.fromkeys(entry for entry in legend if entry[0])),
                )
            )  # fmt: skip

    def _procedure(self, draft: ModuleDraft, procedure: Element) -> None:
        before, main = procedure.child("preliminaryRqmts"), procedure.child("mainProcedure")
        if before is not None:
            draft.before = self._conditions(before)
            draft.tools = [name_of(e) for e in before.below(*_TOOLS) if not deleted(e)]
            draft.materials = [name_of(e) for e in before.below(*_MATERIALS) if not deleted(e)]
            self._see(draft, [r for g in before.below("reqTechInfoGroup") for r in g.below("dmRef", "pmRef")])
            draft.cautions += self._cautions([before], draft)
        for above in (procedure, main):
            if above is not None:
                own = [e for e in above.children() if e.name in (*SIGNAL, "commonInfo")]
                draft.cautions += self._referred(above) + self._cautions(own, draft)
                self._see(draft, above.children("commonInfo"))
        if main is not None:
            self._steps(draft, main, _Step())
        close = procedure.child("closeRqmts")
        if close is not None:
            draft.after = self._conditions(close)
            draft.cautions += self._cautions([close], draft)
        draft.cautions += [*self.pending, *self._unasked(draft)]
        if draft.steps or draft.before:
            draft.holds = "procedure"
        if not draft.steps:
            what = f"{quoted(draft.title)} is a procedure without steps."
            self.reporter.add("LB-X11", what, "Look at the module.", draft.cited, "doubt")

    def _conditions(self, block: Element) -> list[Entry]:
        """The required conditions (chapter 3.9.5.2.1.9: preliminary requirements), one entry each."""
        found: list[Entry] = []
        for group in block.below("reqCondGroup"):
            for one in group.children():
                if one.name in ("noConds", "title") or deleted(one):
                    continue
                phrase = self.words.phrase([one] if one.name == "reqCond" else one.children())
                if phrase.text:
                    applies, condition = self._applies(one)
                    cited = cite(self.source, one, phrase.words())
                    found.append(Entry(phrase, cited, applies, condition))
        return found

    def _steps(self, draft: ModuleDraft, inside: Element, above: _Step) -> None:
        for number, step in enumerate(_steps_in(inside), 1):
            mark = f"{above.mark}.{number}" if above.mark else str(number)
            if deleted(step):
                continue
            own = [e for e in step.children() if e.name not in ASIDE and not _holds_steps(e)]
            everything = [e for e in step.children() if not _holds_steps(e)]
            phrase = self.words.phrase(own)
            applies, condition = self._applies(step)
            handed = _Step(
                mark, applies if applies != EVERY else above.applies,
                "; ".join(filter(None, (above.condition, condition))),
            )  # fmt: skip
            self.pending += self._referred(step) + self._cautions(everything, draft)
            ids = (*self.pending_ids, *filter(None, [step.get("id")]))
            self.pending_ids = ids
            if phrase.text:
                partly = "; ".join(filter(None, (handed.condition, self._partly(own))))
                self._step(draft, step, phrase, handed._replace(condition=partly), everything)
            self._steps(draft, step, handed)

    def _step(
        self, draft: ModuleDraft, step: Element, phrase: Phrase, handed: _Step, everything: Sequence[Element]
    ) -> None:
        figures = tuple(
            f"{self.source}/figure/{self.code}/{name}" for name in figures_in(everything, self.ids)
        )
        draft.steps.append(
            StepDraft(
                handed.mark, phrase, cite(self.source, step, phrase.words()), tuple(self.pending),
                self.pending_ids, handed.applies, handed.condition, figures,
            )
        )  # fmt: skip
        self.pending, self.pending_ids = [], ()

    def _applies(self, element: Element) -> tuple[Applies, str]:
        return applied(element, self.applics)

    def _cautions(self, elements: Sequence[Element], draft: ModuleDraft) -> list[Caution]:
        """Warnings, cautions and notes in elements, and those that they refer to by id."""
        found: list[Caution] = []
        for element in elements:
            if element.name in SIGNAL:
                found += self._said(element, draft)
                continue
            found += self._referred(element)
            for one in element.below():
                found += self._said(one, draft) if one.name in SIGNAL else self._referred(one)
        return list(dict.fromkeys(found))

    def _said(self, element: Element, draft: ModuleDraft) -> list[Caution]:
        if deleted(element):
            return []
        phrase = self.words.phrase(element.children() or [element])
        if phrase.links:
            draft.seen.append(Entry(phrase, cite(self.source, element, phrase.words())))
        return [caution(SIGNAL[element.name], phrase.words(), self.source, element)] if phrase.text else []

    def _referred(self, element: Element) -> list[Caution]:
        """The warnings and cautions that an element names by id; one that is not there is never dropped."""
        found: list[Caution] = []
        for attribute, signal in (("warningRefs", "warning"), ("cautionRefs", "caution")):
            for ident in element.get(attribute).split():
                found.append(self._by_id(ident, SIGNAL[signal], element))
        return found

    def _by_id(self, ident: str, signal: Signal, element: Element) -> Caution:
        target = self.ids.get(ident)
        if target is not None and target.name in ("warningRef", "cautionRef"):
            target = self.shared.cautions.get(target.get("warningIdentNumber", "cautionIdentNumber"))
        if target is None or not target.words():
            what = f'The {signal} "{ident}" that this step calls for is in none of the modules.'
            do = f"Find the {signal} in the source before doing the step."
            self.reporter.add("LB-X09", what, do, cite(self.source, element), "doubt")
            words = f'A {signal} belongs here that the modules do not hold ("{ident}"): find it first.'
            return caution(signal, words, self.source, element)
        paras = target.children("warningAndCautionPara", "para", "symbol") or target.children()
        words = self.words.phrase(paras).words() if paras else target.words()
        return caution(signal, words, self.source, target)

    def _unasked(self, draft: ModuleDraft) -> list[Caution]:
        """Warnings and cautions that the module keeps and no element calls for: for the whole of it."""
        asked = {
            name
            for element in self.root.below()
            for attribute in ("warningRefs", "cautionRefs")
            for name in element.get(attribute).split()
        }
        kept = [e for block in self.content.children("warningsAndCautions") for e in block.children()]
        return self._cautions([e for e in kept if e.get("id") not in asked and e.name in SIGNAL], draft)

    def _see(self, draft: ModuleDraft, elements: Sequence[Element]) -> None:
        """Words that tell nothing to do but may point somewhere; references are not repeated as text."""
        phrase = self.words.phrase(elements)
        if phrase.text:
            if any(element.name == "commonInfo" for element in elements):
                draft.text = f"{draft.text} {phrase.words()}".strip()
            draft.seen.append(Entry(phrase, cite(self.source, elements[0], phrase.words())))

    def _partly(self, own: Sequence[Element]) -> str:
        """What is said of paragraphs and words that are for some engines only, in a step that is for more."""
        said = []
        for part in (inside for one in own for inside in (one, *one.below())):
            applies, condition = self._applies(part)
            words = applies.words or condition
            if words:
                said.append(f"{quoted(part.words(), 40)} only for {words}")
        return "; ".join(said)

    def _text(self, draft: ModuleDraft) -> None:
        """A module that is no procedure: its words, and what they point at."""
        phrase = self.words.phrase(self.content.children())
        cautions = [f"{c.signal.upper()}: {c.words}" for c in self._cautions(self.content.children(), draft)]
        draft.text = " ".join([phrase.words(), *cautions]).strip()
        if phrase.text:
            draft.seen.append(Entry(phrase, draft.cited))
        kinds = [e.name for e in self.content.children() if e.name not in ("refs", "warningsAndCautions")]
        unread = [kind for kind in kinds if kind not in (*_TEXTS, "referencedApplicGroup")]
        if unread:
            what = f"{quoted(draft.title)} is of a kind of which only the words were kept ({unread[-1]})."
            self.reporter.add("LB-X11", what, "Read it yourself if the job touches it.", draft.cited, "note")


def _title(module: Module) -> str:
    address = module.root.first("dmAddress") or module.root
    names = (address.first("techName"), address.first("infoName"))
    return " - ".join(e.words() for e in names if e is not None and e.words()) or issue_of(module).code


def _legend(figure: Element) -> Iterator[tuple[str, str]]:
    """The entries of a figure's own legend."""
    for entry in figure.below("definitionListItem"):
        term, what = entry.first("listItemTerm"), entry.first("listItemDefinition")
        if term is not None and what is not None and what.words():
            yield term.words(), what.words()


def _holds_steps(element: Element) -> bool:
    return element.name == "proceduralStep" or element.first("proceduralStep") is not None


def _steps_in(inside: Element) -> list[Element]:
    """The steps right inside, through elements that only group them."""
    found: list[Element] = []
    for child in inside.children():
        if child.name == "proceduralStep":
            found.append(child)
        elif _holds_steps(child):
            found += _steps_in(child)
    return found
