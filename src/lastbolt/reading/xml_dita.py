"""One DITA topic into a draft: a task with its steps, or a machinery task with its requirements, or text.

Structure after DITA 1.3 part 3 (OASIS, 2015): task (3.4.2), and the task requirements domain of the machinery
task (`prelreqs`, `closereqs`); element names checked against the published grammar files of DITA 1.2.
"""

from collections.abc import Iterator, Mapping, Sequence

from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.manual import BookSettings
from lastbolt.reading.mentions import facts_in
from lastbolt.reading.problems import quoted
from lastbolt.reading.sentences import sentences
from lastbolt.reading.titles import read_title
from lastbolt.reading.xml_dita_base import TOPICS, Linker
from lastbolt.reading.xml_drafts import (
    Entry,
    Link,
    ModuleDraft,
    Phrase,
    PhraseMaker,
    StepDraft,
    caution,
    cite,
)
from lastbolt.reading.xml_tables import TABLES, take_tables
from lastbolt.words.machine import EVERY, Applies, Caution, Figure, Signal
from lastbolt.words.problem import Problem
from lastbolt.words.tree import Element

SIGNALS: Mapping[str, Signal] = {
    "danger": "danger", "warning": "warning", "caution": "caution", "notice": "caution", "trouble": "caution",
}  # fmt: skip
"""`type` of a note or hazard statement -> signal word; all others are notes. A notice warns of damage."""
_BLOCKS = frozenset((
    "p", "li", "cmd", "info", "title", "row", "strow", "dlentry", "itemgroup", "section", "lines", "pre",
    "reqcond", "reqcontp", "shortdesc", "sli", "div", "stepresult", "chrow", "typeofhazard", "consequence",
    "howtoavoid", "example",
))  # fmt: skip
_ASIDE = frozenset((
    "note", "hazardstatement", "draft-comment", "required-cleanup", "indexterm", "data", "prolog", "fn",
    "fig", "image", "object", "substeps", "choices", "choicetable", "related-links", "desc", "alt", *TOPICS,
))  # fmt: skip
_WARNINGS = ("note", "hazardstatement", "fn")
_STEPS = ("steps", "steps-unordered", "steps-informal")
_PARAGRAPHS = ("p", "lines", "pre", "div", "section")
_LETTERS = "abcdefghijklmnopqrstuvwxyz"
_RESULTS = ("stepresult", "stepxmp", "tutorialinfo", "steptroubleshooting")


class TopicReader:
    """Reads one topic whose names are plain and whose shared content is in place."""

    def __init__(
        self, settings: BookSettings, topic: Element, key: str, linker: Linker, language: Lexicon
    ) -> None:
        self.settings = settings
        self.source = settings.source
        self.problems: tuple[Problem, ...] = ()
        self.unread = False
        """Whether it has steps where no task has them (a remedy): their words are kept as text."""
        self.stepless = False
        """Whether it is a task of which no step was made."""
        self.topic = topic
        self.key = key
        self.linker = linker
        self.language = language
        self.pending: list[Caution] = []

    def read(self) -> ModuleDraft:
        """The topic's draft; topics inside it are drafts of their own."""
        title = self.topic.child("title")
        words = title.words() if title is not None else self.topic.get("id")
        draft = ModuleDraft(self.key, "", words, cite(self.source, title or self.topic, words))
        facts = read_title(words, self.language)
        draft.deed, draft.parts = facts.deed, facts.parts
        draft.applies = self._applies(self.topic)[0]
        draft.applies = facts.applies if draft.applies == EVERY else draft.applies
        self._figures(draft)
        body = self.topic.child("taskbody")
        if body is not None:
            self._task(draft, body)
            self.stepless = not draft.steps and (bool(draft.before) or any(body.below(*_STEPS)))
        else:
            self._text(draft, [e for e in self.topic.children() if e.name not in (*TOPICS, "title")])
            self.unread = any(self.topic.below(*_STEPS)) and not any(self.topic.below(*TOPICS))
        self.problems = take_tables(draft, self._tables(), self.settings)
        for one in self.topic.children("related-links"):
            for link in one.below("link", "xref"):
                self._see(draft, [link])
        return draft

    def _tables(self) -> Iterator[Element]:
        """The topic's own tables, not those of topics inside it."""
        for part in self.topic.children():
            if part.name not in TOPICS:
                yield from part.below(*TABLES)

    def _task(self, draft: ModuleDraft, body: Element) -> None:
        self._text(draft, self.topic.children("shortdesc", "abstract"))
        for part in body.children():
            if part.name in ("prereq", "prelreqs"):
                draft.before += self._entries(part)
                draft.tools += [self._phrase([e]).words() for e in part.below("supequi")]
                draft.materials += [self._phrase([e]).words() for e in part.below("supply", "spare")]
                draft.cautions += self._cautions(part, draft) + self._safety(part)
            elif part.name in ("postreq", "closereqs"):
                draft.after += self._entries(part)
                draft.cautions += self._cautions(part, draft)
            elif part.name in _STEPS:
                self._steps(draft, part)
            elif part.name in _WARNINGS:
                draft.cautions += self._said(part, draft)
            else:
                self._text(draft, [part])
                draft.cautions += self._cautions(part, draft)
        draft.cautions += self.pending
        if draft.steps or draft.before:
            draft.holds = "procedure"

    def _steps(self, draft: ModuleDraft, steps: Element) -> None:
        number, between = sum(1 for step in draft.steps if step.mark.isdecimal()), 0
        loose = steps.name == "steps-informal" and not any(steps.below("li"))
        for child in steps.children():
            if child.name == "step" or (child.name == "li" and steps.name == "steps-informal"):
                number += 1
                self._step(draft, child, str(number), EVERY, "")
            elif child.name in ("ol", "ul") and steps.name == "steps-informal":
                for item in child.children("li"):
                    number += 1
                    self._step(draft, item, str(number), EVERY, "")
            elif child.name in _WARNINGS:
                self.pending += self._said(child, draft)
            elif loose and child.name in _PARAGRAPHS and child.words():
                number += 1
                self._step(draft, child, str(number), EVERY, "")
            elif child.words() and self._instructs(child):
                between += 1
                self._step(draft, child, f"{number}{_LETTERS[min(between, len(_LETTERS)) - 1]}", EVERY, "")
            else:
                self._text(draft, [child])

    def _instructs(self, element: Element) -> bool:
        """Whether words between the steps tell somebody to do something."""
        told = sentences(self._phrase([element]).plain(), self.language)
        scans = [self.language.scan(one) for one in told]
        return any(facts_in(scan, self.language, callouts_in_brackets=False).imperative for scan in scans)

    def _step(self, draft: ModuleDraft, step: Element, mark: str, above: Applies, condition: str) -> None:
        """One step, then its substeps and choices; a choice is one of several and says so."""
        apart = (*_RESULTS, "substeps", "steps", "choices", "choicetable", *_WARNINGS)
        own = [e for e in step.children() if e.name not in apart]
        if step.child("cmd") is None and step.name != "step":
            own = [step]
        phrase = self._phrase(own)
        applies, asked = self._applies(step)
        applies = above if applies == EVERY else applies
        optional = "optional" if step.get("importance") == "optional" else ""
        said = "; ".join(filter(None, (condition, asked, optional, self._partly(own, step))))
        self.pending += self._cautions(step, draft)
        aside = self._phrase([e for e in step.children() if e.name in _RESULTS]).words()
        aside = " ".join(filter(None, (aside, *self._pictured(step))))
        figures = tuple(f.id for f in draft.figures if any(f.number.endswith(n) for n in self._shown(step)))
        if phrase.text:
            cited = cite(self.source, step.child("cmd") or step, phrase.words())
            ids = tuple(filter(None, [step.get("id")]))
            draft.steps.append(
                StepDraft(mark, phrase, cited, tuple(self.pending), ids, applies, said, figures, aside)
            )
            self.pending = []
        number = 0
        for inside in step.children():
            parts = inside.children("substep", "choice", "chrow", "step")
            for index, part in enumerate(parts, 1):
                number += 1
                which = said
                if part.name in ("choice", "chrow"):
                    which = "; ".join(filter(None, (said, f"choice {index} of {len(parts)} in step {mark}")))
                self._step(draft, part, f"{mark}.{number}", applies, which)

    def _shown(self, step: Element) -> list[str]:
        figures = list(self.topic.below("fig", "image"))
        return [f" {figures.index(e) + 1}" for e in step.below("fig", "image") if e in figures]

    def _pictured(self, step: Element) -> list[str]:
        """What the step's pictures are called, and what is told to those who cannot see them."""
        parts = ("substep", "choice", "chrow", "step")
        inner = {id(one) for inside in step.below(*parts) for one in inside.below("fig", "image")}
        shown = [one for one in step.below("fig", "image") if id(one) not in inner]
        named = [e for one in shown for e in one.children("title", "alt", "desc")]
        return list(dict.fromkeys(words for e in named if (words := e.words())))

    def _figures(self, draft: ModuleDraft) -> None:
        for number, figure in enumerate(self.topic.below("fig", "image"), 1):
            title = figure.child("title")
            name = figure.get("id") or str(number)
            draft.figures.append(
                Figure(
                    f"{self.source}/figure/{self.topic.get('id')}/{name}",
                    f"{self.topic.get('id')} figure {number}",
                    title.words() if title is not None else "", self.source,
                )
            )  # fmt: skip

    def _entries(self, block: Element) -> list[Entry]:
        """The conditions of a set-up block or follow-on: one for each paragraph or list entry."""
        found: list[Entry] = []
        skipped = ("supequip", "supplies", "spares", "reqpers", "safety")
        waiting = [block]
        while waiting:
            part = waiting.pop()
            if part.name in skipped or part.name == "noconds":
                continue
            inner = [e for e in part.children() if e.name not in _ASIDE and _has_blocks(e)]
            loose = any(isinstance(c, str) and c.strip() for c in part.content)
            if inner and not loose:
                waiting += part.children()[::-1]
                continue
            phrase = self._phrase([part])
            if part.name == "reqcontp" and not phrase.links and phrase.text:
                maker = PhraseMaker()
                maker.link(Link("", phrase.text, outside=True))
                phrase = maker.finish()
            if phrase.text:
                applies, condition = self._applies(part)
                found.append(Entry(phrase, cite(self.source, part, phrase.words()), applies, condition))
        return found

    def _safety(self, part: Element) -> list[Caution]:
        """Safety conditions in words; those with a signal word of their own are found as such."""
        found: list[Caution] = []
        for one in part.below("safecond"):
            phrase = self._phrase([one])
            if phrase.text:
                found.append(caution("warning", phrase.words(), self.source, one))
        return found

    def _cautions(self, part: Element, draft: ModuleDraft) -> list[Caution]:
        """The notes and hazard statements in a part, not those of steps inside it."""
        found: list[Caution] = []
        waiting = part.children()[::-1]
        while waiting:
            one = waiting.pop()
            if one.name in _WARNINGS:
                found += self._said(one, draft)
            elif one.name not in ("substep", "choice", "chrow", "step", *TOPICS):
                waiting += one.children()[::-1]
        return found

    def _said(self, element: Element, draft: ModuleDraft) -> list[Caution]:
        phrase = self._phrase([element])
        if phrase.links:
            draft.seen.append(Entry(phrase, cite(self.source, element, phrase.words())))
        signal = SIGNALS.get(element.get("type").lower(), "note")
        return [caution(signal, phrase.words(), self.source, element)] if phrase.text else []

    def _text(self, draft: ModuleDraft, parts: Sequence[Element]) -> None:
        phrase = self._phrase(parts)
        if phrase.text:
            draft.text = f"{draft.text} {phrase.words()}".strip()
            draft.seen.append(Entry(phrase, cite(self.source, parts[0], phrase.words())))
        if self.topic.child("taskbody") is None:
            told = [f"{c.signal.upper()}: {c.words}" for p in parts for c in self._cautions(p, draft)]
            draft.text = " ".join([draft.text, *told]).strip()

    def _see(self, draft: ModuleDraft, elements: Sequence[Element]) -> None:
        phrase = self._phrase(elements)
        if phrase.links:
            draft.seen.append(Entry(phrase, cite(self.source, elements[0], phrase.words())))

    def _applies(self, element: Element) -> tuple[Applies, str]:
        """Product and platform attributes are kinds of engine; other filters are conditions for people."""
        kinds = tuple(dict.fromkeys((element.get("product") + " " + element.get("platform")).split()))
        other = " ".join(filter(None, (element.get("otherprops"), element.get("props"))))
        return (Applies(kinds, words=", ".join(kinds)) if kinds else EVERY), other

    def _partly(self, own: Sequence[Element], step: Element) -> str:
        """What is said of words that are for some engines only, in a step that is for more."""
        said = []
        for part in (inside for one in own for inside in (one, *one.below())):
            applies, condition = self._applies(part)
            words = applies.words or condition
            if words and part is not step and part.name not in _ASIDE:
                said.append(f"{quoted(part.words(), 40)} only for {words}")
        return "; ".join(said)

    def _phrase(self, elements: Sequence[Element]) -> Phrase:
        maker = PhraseMaker()
        for element in elements:
            if element.name in ("xref", "link"):
                self._link(element, maker)
                continue
            maker.block()
            self._into(element, maker)
        return maker.finish()

    def _into(self, element: Element, maker: PhraseMaker) -> None:
        before: Element | None = None
        for part in element.content:
            if isinstance(part, Element):
                maker.add(self._or(before, part))
            before = part if isinstance(part, Element) else before if not part.strip() else None
            if isinstance(part, str):
                maker.add(part)
            elif part.name in _ASIDE:
                maker.add(" ")
            elif part.name in ("xref", "link") or part.get("keyref"):
                self._link(part, maker)
            else:
                if part.name in _BLOCKS:
                    maker.block()
                self._into(part, maker)
                if part.name in ("entry", "stentry"):
                    maker.add(" ")

    def _or(self, before: Element | None, part: Element) -> str:
        """What stands between two words of which one kind of engine has the one, another the other."""
        two = before is not None and part.name not in _BLOCKS and self._applies(part)[0] != EVERY
        return " or " if two and before is not None and self._applies(before)[0] != EVERY else ""

    def _link(self, element: Element, maker: PhraseMaker) -> None:
        found = self.linker.link(element)
        if isinstance(found, str):
            maker.add(found)
        else:
            maker.link(found)


def _has_blocks(element: Element) -> bool:
    return element.name in _BLOCKS or any(True for _ in element.below(*_BLOCKS))
