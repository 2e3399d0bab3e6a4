"""What the introduction of a chapter asks before all work in it."""

from collections.abc import Iterable

from lastbolt.reading.drafts import SectionDraft
from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.pointers import Pointer
from lastbolt.reading.sentences import sentences
from lastbolt.reading.steps import RawReference
from lastbolt.words.machine import DEEDS


def speaks_for_others(section: SectionDraft, text: str, language: Lexicon) -> bool:
    """Whether words can ask something of other sections: of those below, or, where they stand beside the
    others of a chapter and name it ("before any work in this chapter ..."), of these."""
    if section.children:
        return True
    return section.parent is not None and language.scan(text).has("order", "chapter")


def asked_of(section: SectionDraft) -> SectionDraft:
    """The section whose sub-sections such words are for."""
    return section if section.children or section.parent is None else section.parent


def common_conditions(text: str, read: Iterable[RawReference], language: Lexicon) -> list[RawReference]:
    """The references of those sentences that speak of all work of the chapter, as work to be done before.

    A sentence that points nowhere is a demand in its own words. None, when no sentence speaks so.
    """
    found: list[RawReference] = []
    for sentence in sentences(text, language):
        scan = language.scan(sentence)
        if not scan.has("order", "scope") or not scan.has("order", "before", "necessary"):
            continue
        deeds = tuple(dict.fromkeys(DEEDS[h.key] for h in scan.of("deeds") if h.form in ("base", "done")))
        pointing = [
            raw for raw in read
            if raw.words == sentence and raw.pointer.form in ("section", "page", "title", "demand")
        ]  # fmt: skip
        whole = Pointer(0, len(sentence), "demand", (sentence,), "perform")
        for raw in pointing or [RawReference(whole, sentence, deeds)]:
            pointer = raw.pointer._replace(cue="perform", weak=False)
            found.append(raw._replace(pointer=pointer, deeds=deeds))
    return found
