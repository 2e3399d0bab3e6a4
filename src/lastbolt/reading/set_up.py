"""The labelled blocks of a section ("Beforehand: ...", "Tools: ...") into what a procedure needs."""

import re
from collections.abc import Callable, Iterator

from lastbolt.reading.drafts import Cite, Item
from lastbolt.reading.entries import read_entry
from lastbolt.reading.inline_signals import part_signals
from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.marks import mark_of
from lastbolt.reading.piece import Piece, joined
from lastbolt.reading.procedure_drafts import ProcedureDraft
from lastbolt.reading.requirements import demand, states
from lastbolt.reading.steps import RawReference, StepFacts
from lastbolt.words.applies import runs
from lastbolt.words.machine import SIGNALS, Applies, Caution

_PARTS = re.compile(r"\s*;\s*")


class BlockReader:
    """Reads the labelled blocks of one section after another."""

    def __init__(self, language: Lexicon, cite: Cite, facts: Callable[[str], StepFacts]) -> None:
        self.language = language
        self.cite = cite
        self.facts = facts

    def read(self, draft: ProcedureDraft, item: Item) -> None:
        """Take up what a block says; no word of it is lost."""
        for text, piece in self._entries(draft, item):
            self._take(draft, item, text, piece)

    def _take(self, draft: ProcedureDraft, item: Item, text: str, piece: Piece) -> None:
        name = item.name
        if name in ("before", "after"):
            self._entry(draft, text, piece, label=item.pieces[0].number, after=name == "after")
        elif name == "references":
            self._see(draft, item, text, piece)
        elif name == "models":
            draft.applies = self._applies(item, text)
        elif self._asks(draft, text, piece, pointing=name == "needs"):
            pass
        elif name in ("tools", "materials", "needs"):
            (draft.materials if name == "materials" else draft.tools).append(text)
        else:
            self._say(draft, item, text)

    def _see(self, draft: ProcedureDraft, item: Item, text: str, piece: Piece) -> None:
        """An entry of a list of references; one that points nowhere is kept as words."""
        references, _ = read_entry(text, self.language)
        cited = self.cite.of(piece, words=text)
        pointing = [(raw, cited) for raw in references if raw.pointer.form != "demand"]
        draft.seen += pointing
        if not pointing:
            self._say(draft, item, text)

    def _say(self, draft: ProcedureDraft, item: Item, text: str) -> None:
        draft.text = f"{draft.text} {item.pieces[0].number}: {text}.".strip()

    def _entry(
        self, draft: ProcedureDraft, text: str, piece: Piece, *, label: str = "", after: bool = False
    ) -> None:
        references, figures = read_entry(text, self.language)
        cited = self.cite.of(piece, words=text)
        into = draft.after if after else draft.before
        into += [(self._labelled(raw, label), cited) for raw in references]
        draft.figures += figures

    def _labelled(self, raw: RawReference, label: str) -> RawReference:
        """An entry that only names a thing with the deed of its label: "Remove beforehand: pump"."""
        if raw.pointer.form != "demand" or raw.deeds or not label:
            return raw
        return raw._replace(deeds=demand(self.language.scan(f"{raw.words} {label}"), self.language).deeds)

    def _asks(self, draft: ProcedureDraft, text: str, piece: Piece, *, pointing: bool = False) -> bool:
        """Take up an entry of a list of things that asks for a state ("pump bracket off") as a condition."""
        asks = states(self.language.scan(text), self.language)
        if not asks and pointing:
            references, _ = read_entry(text, self.language)
            asks = any(raw.pointer.form != "demand" for raw in references)
        if asks:
            self._entry(draft, text, piece)
        return asks

    def _applies(self, item: Item, text: str) -> Applies:
        applies = self.facts(f"{item.pieces[0].number}: {text}").applies
        variants = applies.variants or ((text,) if len(text) < 60 else ())
        told = runs(applies) or applies.except_variants
        return applies if told else Applies(variants, words=text)

    def _entries(self, draft: ProcedureDraft, item: Item) -> Iterator[tuple[str, Piece]]:
        """The entries of a block, apart by semicolons, bullets, or lines that begin anew; a warning among
        them goes with the procedure."""
        said = [(text, item.pieces[0]) for text in self._texts(item)]
        for text, piece in (*said, *((child.text, child.pieces[0]) for child in item.children)):
            plain, signals = part_signals(text, self.language)
            cited = self.cite.of(piece, words=text)
            draft.cautions += [Caution(SIGNALS[name], words, cited) for name, words in signals]
            for part in _PARTS.split(plain):
                trimmed = part.strip(" .")
                if any(c.isalnum() for c in trimmed) and not self._nothing(trimmed):
                    yield trimmed, piece

    def _nothing(self, text: str) -> bool:
        return self.language.among(text.lower(), "quantities", "nothing")

    def _texts(self, item: Item) -> list[str]:
        """The lines of a block's own words, joined where they go on."""
        texts: list[str] = []
        current = ""
        for index, at in enumerate(item.pieces[0].lines):
            text = at.line.text.replace("\t", " ").strip()
            if index == 0:
                text = (
                    item.text
                    if len(item.pieces[0].lines) == 1
                    else text.removeprefix(item.pieces[0].number).strip(" :")
                )
            marked = mark_of(at.line.text, self.language)
            fresh = index > 0 and (marked is not None or self._begins_anew(current, text))
            if marked is not None and index > 0:
                text = marked[1].replace("\t", " ")
            if fresh and current:
                texts.append(current)
                current = text
            else:
                current = joined(current, text)
        return [*texts, current]

    def _begins_anew(self, current: str, text: str) -> bool:
        """Whether a line of a block is an entry of its own: it begins large, and the line above is whole."""
        words = current.rstrip().split()
        if not text[:1].isupper() or not words:
            return False
        if current.endswith((";", ".", ")")):
            return True
        last = words[-1].lower().strip(".(")
        leads = self.language.among(last, "stop") or self.language.among(last, "pointing", "strong_cues")
        named = self.language.among(last, "pointing", "section")
        open_end = current.endswith((",", "-", "–", "/", "&", "+")) or current.count("(") > current.count(")")
        return not (leads or named or open_end)
