"""What the reading of a section left over: sentences that tell somebody to do something and became no step,
and words that came into no step, condition, caution or text."""

import re
from collections.abc import Iterator

from lastbolt.reading.drafts import Item, SectionDraft
from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.piece import At
from lastbolt.reading.procedure_drafts import ProcedureDraft
from lastbolt.reading.requirements import bids_work
from lastbolt.reading.sentences import sentences
from lastbolt.reading.step_runs import heads_in

_SIGNS = re.compile(r"[\W_]+")
_UNIT = re.compile(r"(?<=[.;:!?])\s+")
_FEWEST = 3
"""An instruction has at least so many words."""


def untaken(section: SectionDraft, language: Lexicon, *, work: bool) -> list[At]:
    """The lines of a section without steps, where its sentences tell somebody to take something off or put it
    on; `work`: whether its title says so too, and one such sentence is enough."""
    items = [item for item in section.items if item.kind == "text"]
    said = [s for item in items for s in sentences(item.text, language)]
    lines = [at for item in items for piece in item.pieces for at in piece.lines]
    telling = sum(_instructs(sentence, language) for sentence in said)
    beginning = [at for at in lines if _instructs(at.line.text.replace("\t", " "), language)]
    enough = work and not section.children
    if (telling and enough) or (telling > 1 and 2 * telling >= len(said)):
        return lines
    if (beginning and enough) or (len(beginning) > 1 and 2 * len(beginning) >= len(lines)):
        return lines
    return []


def _instructs(text: str, language: Lexicon) -> bool:
    """Whether words tell to take something off or put it on, whatever mark stands before them."""
    if not text:
        return False
    for words in (text, *(head.rest for head in heads_in(text, language))):
        scan = language.scan(words)
        if len(scan.tokens) >= _FEWEST and bids_work(scan, language):
            return True
    return False


def keep_the_rest(draft: ProcedureDraft) -> None:
    """Put words of the section that came into nothing into its text."""
    others = [item for item in draft.items if item.kind != "step"]
    kept = _flat(" ".join(_kept(draft))) if others else ""
    for item in others:
        for one in (item, *item.children):
            for unit in _UNIT.split(one.text):
                if (flat := _flat(unit)) and flat not in kept:
                    draft.text = f"{draft.text} {_named(item)}{unit}".strip()


def _kept(draft: ProcedureDraft) -> Iterator[str]:
    """All that the procedure says."""
    yield draft.text
    for step in draft.steps:
        yield step.words
        yield from (caution.words for caution in step.cautions)
    for references in (draft.before, draft.after, draft.seen, draft.common):
        yield from (raw.words for raw, _ in references)
    yield from (caution.words for caution in draft.cautions)
    yield from (*draft.tools, *draft.materials, draft.applies.words)


def _named(item: Item) -> str:
    label = item.pieces[0].number if item.kind == "label" else ""
    return f"{label}: " if label else ""


def _flat(text: str) -> str:
    return _SIGNS.sub("", text.lower())
