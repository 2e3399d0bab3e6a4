# ruff: noqa: E501
"""Which section, step and pointer of a read model is which of the truth."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass

from lastbolt.words.citation import Citation, PdfPlace
from lastbolt.words.machine import Machine, Procedure, Reference, Section
from styles.truth import TrueReference, TrueSection, TrueStep, Truth

WORD = re.compile(r"[0-9a-z]+(?:[.,·/-][0-9a-z]+)*")
SAME_WORDS = 0.85


def flat(words: str) -> str:
    """The words without capitals, hyphens of any sort made one, spaces single."""
    plain = re.sub("[‐-―−]", "-", words.casefold())
    return re.sub(r"\s+", " ", plain).strip()


def tokens(words: str) -> list[str]:
    """Words and numbers, as they stand."""
    return WORD.findall(flat(words))


def anchor(words: str) -> str:
    """Letters and digits only: how marks and numbers are compared."""
    return "".join(one for one in words.casefold() if one.isalnum())


def number_of(words: str) -> str:
    """A printed number without what it is called: "Section II" and "II" are the same."""
    return anchor(words.rsplit(maxsplit=1)[-1]) if words.strip() else ""


def pages_of(citations: tuple[Citation, ...]) -> set[int]:
    """Every page cited."""
    return {one.place.pdf_page for one in citations if isinstance(one.place, PdfPlace)}


def page_of(citations: tuple[Citation, ...]) -> int | None:
    """The first page cited."""
    pages = (one.place.pdf_page for one in citations if isinstance(one.place, PdfPlace))
    return next(pages, None)


def alike(one: list[str], other: list[str]) -> float:
    """How much of the two bags of words is common, 0 to 1."""
    common = (Counter(one) & Counter(other)).total()
    return 2 * common / max(1, len(one) + len(other))


def within(part: list[str], whole: list[str]) -> float:
    """The share of the part's words that the whole has too."""
    return (Counter(part) & Counter(whole)).total() / max(1, len(part))


def match_sections(machine: Machine, truth: Truth) -> dict[str, str]:
    """Ids of read sections and procedures -> keys of true sections: number and title, or either with the page."""
    found: dict[str, str] = {}
    titles = {one.key: tokens(one.title) for one in truth.sections}
    for read_all in (machine.sections, machine.procedures):
        pairs = []
        for place, read in enumerate(read_all):
            for true in truth.sections:
                score = _section_score(read, true, titles.get(true.parent, []))
                if score >= 3:
                    pairs.append((-score, place, true.key, read.id))
        taken_true: set[str] = set()
        taken_read: set[str] = set()
        for _, _, key, identity in sorted(pairs):
            if key not in taken_true and identity not in taken_read:
                taken_true.add(key)
                taken_read.add(identity)
                found[identity] = key
    return found


def _section_score(read: Section | Procedure, true: TrueSection, above: list[str]) -> int:
    """`above`: the title of the heading it stands under, which a reader may put before a bare "Removal"."""
    number = bool(true.number) and number_of(read.number) == number_of(true.number)
    said, wanted = tokens(read.title), tokens(true.title)
    with_above = (
        bool(above) and within(wanted + above, said) == 1 and within(said, wanted + above) >= SAME_WORDS
    )
    title = with_above or alike(said, wanted) >= SAME_WORDS
    near = true.page in pages_of(read.citations)
    if not (number or title):
        return 0
    return 2 * number + 2 * title + near + with_above


@dataclass(frozen=True)
class Pointed:
    """A pointer as read and where it stands."""

    section: str
    step: str
    reference: Reference


def pointers(machine: Machine, section_of: dict[str, str]) -> list[Pointed]:
    """Every pointer of the model with the true section it stands in ("" when in none)."""
    found = []
    for procedure in machine.procedures:
        key = section_of.get(procedure.id, "")
        found += [Pointed(key, "before", one) for one in procedure.before]
        found += [Pointed(key, "after", one) for one in procedure.after]
        for step in procedure.steps:
            found += [Pointed(key, anchor(step.mark), one) for one in step.references]
    return found


def targets_of(reference: Reference, machine: Machine, section_of: dict[str, str]) -> set[str]:
    """Keys of the true sections that a read pointer leads to; "?" for one that is none."""
    by_step = {step.id: one.id for one in machine.procedures for step in one.steps}
    return {section_of.get(by_step.get(one, one), "?") for one in reference.to}


def core(words: str, kind: str) -> list[str]:
    """What makes a pointer this one: its numbers, else its words."""
    found = tokens(words)
    numbered = [one for one in found if any(c.isdigit() for c in one)]
    return numbered if numbered and kind != "title" else found


def assign(true_ones: list[TrueReference], read_ones: list[Pointed], decoys: list[str]) -> list[list[int]]:
    """For each read pointer the indexes of the true ones it is: none, one, [-1] for a decoy, or several that one
    sentence holds ("Install the pump (4.2). Install the guard (4.5).")."""
    found = []
    for read in read_ones:
        best = _best(read, true_ones, decoys)
        if best is None or best < 0:
            found.append([] if best is None else [best])
            continue
        said = {anchor(one) for one in tokens(read.reference.words)}
        others = [
            index
            for index, true in enumerate(true_ones)
            if index != best
            and true.section == read.section
            and anchor(true.step) == anchor(true_ones[best].step)
            and {anchor(one) for one in core(true.words, true.kind)} <= said
            and within(tokens(true.words), tokens(read.reference.words)) == 1
        ]
        found.append([best, *others])
    return found


def _best(read: Pointed, true_ones: list[TrueReference], decoys: list[str]) -> int | None:
    best, at = 0.0, None
    said = tokens(read.reference.words)
    for index, true in enumerate(true_ones):
        if true.section != read.section or not said:
            continue
        score = _pointer_score(said, true)
        if score and anchor(true.step) == anchor(read.step):
            score += 1
        if score > best:
            best, at = score, index
    if at is None and any(within(said, tokens(one)) >= 0.8 for one in decoys):
        return -1
    return at


def _pointer_score(said: list[str], true: TrueReference) -> float:
    wanted = core(true.words, true.kind)
    numbered = [one for one in said if any(c.isdigit() for c in one)]
    if numbered and any(any(c.isdigit() for c in one) for one in wanted):
        if not set(map(anchor, numbered)) & set(map(anchor, wanted)):
            return 0.0
        return 0.5 + alike(said, tokens(true.words))
    likeness = max(within(wanted, said), within(said, tokens(true.words)) * 0.9)
    return likeness if likeness >= 0.5 else 0.0


def match_steps(machine: Machine, truth: Truth, section_of: dict[str, str]) -> tuple[set[int], int, int, int]:
    """True steps found (their indexes), read steps, read steps that are true, true steps whose mark is right."""
    by_section: dict[str, list[tuple[int, TrueStep, list[str]]]] = {}
    for index, true in enumerate(truth.steps):
        by_section.setdefault(true.section, []).append((index, true, tokens(true.words)))
    found: set[int] = set()
    right = read = 0
    marked: set[int] = set()
    for procedure in machine.procedures:
        ours = by_section.get(section_of.get(procedure.id, ""), [])
        covered: Counter[int] = Counter()
        for step in procedure.steps:
            read += 1
            said = tokens(step.words)
            best = max(ours, key=lambda one: _step_score(step.mark, said, one, covered), default=None)
            if best is None or within(said, best[2]) < SAME_WORDS:
                continue
            right += 1
            index, true, words = best
            covered[index] += (Counter(said) & Counter(words)).total()
            if anchor(step.mark) == anchor(true.mark):
                marked.add(index)
        found |= {index for index, _, words in ours if covered[index] >= SAME_WORDS * len(words)}
    return found, read, right, len(found & marked)


def _step_score(
    mark: str, said: list[str], one: tuple[int, TrueStep, list[str]], covered: Counter[int]
) -> float:
    """Likeness, the mark; of two that say the same, the one not yet found."""
    index, true, words = one
    taken = covered[index] >= SAME_WORDS * len(words)
    return alike(said, words) + 0.5 * bool(true.mark and anchor(mark) == anchor(true.mark)) - 0.01 * taken
