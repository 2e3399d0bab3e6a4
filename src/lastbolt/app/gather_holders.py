"""What else may keep the joint together: from the walk, the joint's figures and the closure's sections."""

import re
from collections import Counter

from msgspec.structs import replace

from lastbolt.app.gather_job import Heard
from lastbolt.app.holder_sources import (
    Told,
    carried_parts,
    chapter_of,
    head_noun,
    parts_off,
    sentences_tell,
    stands_elsewhere,
    steps_tell,
)
from lastbolt.app.holder_words import holder_sort, is_dowel_name, says
from lastbolt.app.joint_names import faces_of, joint_words
from lastbolt.app.plan_sections import PlanSections
from lastbolt.app.removals import tallied
from lastbolt.app.typed_words import settles
from lastbolt.planning.names import stems
from lastbolt.reading.fasteners import names_fastener
from lastbolt.words.answer import HolderState, TakenAs
from lastbolt.words.citation import Citation, PdfPlace
from lastbolt.words.joint import Holder, HolderSort, Walk
from lastbolt.words.machine import Machine, Procedure, Step
from lastbolt.words.quantity import Kind

SHORTEST_SENTENCE = 20
_AT = re.compile(r"\b(?:at|in)(?: places?)? (\S*\d\S*)")
"""Where a walked holder sits, as its own name says."""
LITTLE = frozenset(("at", "on", "in", "to", "for"))
SORT_ORDER: tuple[HolderSort, ...] = (
    "fastener not counted", "bridging part", "shaft-end nut", "circlip", "dowel", "fit", "sealant", "other",
)  # fmt: skip
"""In order of likelihood (common practice, no source)."""
THROUGH = "does it go through both parts, or clasp them? Out?"
WHAT_IS_IT = "what is it, and does it hold anything? Its name{item} does not tell."


def holders_of(
    machine: Machine | None,
    walks: tuple[Walk, ...],
    heard: Heard,
    sections: PlanSections,
    figures: tuple[str, ...],
) -> tuple[HolderState, ...]:
    """Every other holder, once, settled or not."""
    found: list[Told] = []
    for holder in (holder for walk in walks for holder in walk.holders):
        if not any(_words(holder.name) == _words(other.state.name) for other in found):
            found.append(Told(_from_walk(holder, heard)))
    walked = len(found)
    faces = set(faces_of(walks))
    if machine is not None:
        joint = joint_words(machine, walks, sections.goals)
        sources = [
            *_from_sections(machine, heard, sections),
            *(Told(state) for state in _from_figures(machine, heard, figures)),
            *steps_tell(machine, heard, sections, joint),
            *sentences_tell(machine, heard, sections.every, joint),
        ]
        for told in sources:
            at = next((n for n, other in enumerate(found) if _same(told, other)), None)
            uncounted = told.state.sort == "fastener not counted"
            if uncounted or (at is None and _words(told.state.name) not in faces):
                found.append(told)
            elif at is not None and at >= walked:
                found[at] = _together(found[at], told)
        carried = {_words(part) for part, _ in carried_parts(machine, sections, [x.state for x in found])}
        found = [told for n, told in enumerate(found) if n < walked or _words(told.state.name) not in carried]
    states = [told.state for told in found]
    return tuple(sorted(states, key=lambda state: SORT_ORDER.index(state.sort)))


def with_words_said(holders: tuple[HolderState, ...], heard: Heard) -> tuple[HolderState, ...]:
    """The holders, each that is still open with what somebody said of it that does not settle it."""
    made = []
    for state in holders:
        event = heard.not_settled.get(state.id)
        # Who says something else of it later is no longer sure that it holds no more.
        said = f'{event.by} says: "{event.how}", which does not settle it' if event else ""
        made.append(replace(state, settled=False, words=f"{state.words}; {said}") if event else state)
    return tuple(made)


def not_holders(
    machine: Machine | None,
    sections: PlanSections,
    holders: tuple[HolderState, ...],
) -> tuple[TakenAs, ...]:
    """Parts that the plan takes off and that are not asked for as holders, each with the reason."""
    if machine is None:
        return ()
    made = [taken for _, taken in carried_parts(machine, sections, holders)]
    for procedure, part in parts_off(machine, sections):
        stands = stands_elsewhere(procedure, part)
        if stands is not None:
            step, place = stands
            where = f"section {procedure.number} step {step.mark}"
            words = f"{part}: not taken as holding this joint because {where} lifts it off the {place}"
            made.append(TakenAs(procedure.id, words, step.citations))
    return tuple(made)


def _words(name: str) -> frozenset[str]:
    """The words of a name that say what it is: no numbers, no little words."""
    return frozenset(stems(name)) - LITTLE


def _together(kept: Told, told: Told) -> Told:
    """One part told of in two places of the sources: what both cite, and the more telling words."""
    one, two = kept.state, told.state
    settled = one if one.settled or not two.settled else two
    words = two.words if not settled.settled and len(two.words) > len(one.words) else settled.words
    citations = tuple(dict.fromkeys((*one.citations, *two.citations)))
    state = replace(one, settled=settled.settled, words=words, citations=citations)
    return Told(
        state, kept.section or told.section, kept.chapter or told.chapter, kept.sentence or told.sentence
    )


def _same(told: Told, other: Told) -> bool:
    """Whether two places of walk and sources mean one part.

    The words of one name within the other's are not enough: both must have one head noun, and stand in one
    section, on one page, or in one sentence.
    """
    if _cites_sentence(told, other) or _cites_sentence(other, told):
        return True
    one, two = _words(told.state.name), _words(other.state.name)
    if told.section and other.section:
        near = told.section == other.section or (told.chapter != "" and told.chapter == other.chapter)
        return (
            near and head_noun(told.state.name) == head_noun(other.state.name) and (one <= two or two <= one)
        )
    if one == two:
        return True
    if head_noun(told.state.name) != head_noun(other.state.name) or not (one <= two or two <= one):
        return False
    pages = _pages(other.state.citations)
    # "Cover" on a walk is not every cover of the book: a name that says less needs the page.
    return one <= two if not pages else bool(_pages(told.state.citations) & pages)


def _cites_sentence(told: Told, other: Told) -> bool:
    """Whether one cites the sentence that the other stems from, and both are of one sort."""
    sentence = " ".join(other.sentence.lower().split()).rstrip(".")
    if len(sentence) < SHORTEST_SENTENCE or told.state.sort != other.state.sort:
        return False
    said = [" ".join(citation.words.lower().split()).rstrip(".") for citation in told.state.citations]
    return any(len(words) >= SHORTEST_SENTENCE and (words in sentence or sentence in words) for words in said)


def _pages(citations: tuple[Citation, ...]) -> set[tuple[str, int]]:
    return {(c.source, c.place.pdf_page) for c in citations if isinstance(c.place, PdfPlace)}


def _from_walk(holder: Holder, heard: Heard) -> HolderState:
    how = heard.settling(holder.id)
    taken_back = says("takes_back", holder.words)
    if not how and holder.settled and not taken_back and (settles(holder.how) if holder.how else holder.by):
        how = f"settled by {holder.by or 'the walk'}" + (f": {holder.how}" if holder.how else "")
    words = how or holder.words or "not checked"
    at = tuple(_AT.findall(holder.name))
    return HolderState(holder.id, holder.sort, holder.name, bool(how), words, holder.citations, at)


def _from_sections(machine: Machine, heard: Heard, sections: PlanSections) -> list[Told]:
    """Parts that the closure's other sections take off first: each bridges the joint until it is off."""
    return [
        Told(_part_off(procedure, part, heard), procedure.id, chapter_of(procedure.number))
        for procedure, part in parts_off(machine, sections)
        if not stands_elsewhere(procedure, part)
    ]


def _part_off(procedure: Procedure, part: str, heard: Heard) -> HolderState:
    sort, ask = holder_sort(part) or ("other", "off?")
    name = f"{procedure.id}#{part}"
    ticks = [heard.procedures.get(procedure.id)]
    ticks += [heard.steps.get(step.id) for step in procedure.steps if _takes_off(step, part)]
    how = heard.settling(name)
    seen = next((tick for tick in ticks if tick is not None and tick.looked), None)
    if not how and seen is not None:
        how = f"confirmed off by {seen.by}"
    ticked = " (ticked, nobody has looked)" if any(ticks) and not how else ""
    words = how or f"{ask} Section {procedure.number or procedure.title} takes it off{ticked}."
    return HolderState(name, sort, part, bool(how), words, procedure.citations)


def _takes_off(step: Step, part: str) -> bool:
    """Whether this step is the one that takes the section's own part off."""
    return any(m.deed == "remove" and _words(m.name) == _words(part) for m in step.mentions)


def _from_figures(machine: Machine, heard: Heard, figures: tuple[str, ...]) -> list[HolderState]:
    made = []
    for row in machine.rows:
        sort = holder_sort(row.name)
        dowel = not tallied(row) and (is_dowel_name(row.name) or (row.kind or Kind()).what == "dowel")
        counted = row.kind is not None and (row.kind.what is not None or row.kind.thread is not None)
        if row.figure not in figures or (counted and not dowel and (sort or ("",))[0] != "circlip"):
            continue
        if dowel:
            sort = holder_sort("dowel")
        if sort is None and row.unknown:
            kind: HolderSort = "fastener not counted" if names_fastener(row.name) else "other"
            sort = (kind, WHAT_IS_IT.format(item=f" (item {row.item})" if row.item else ""))
        if sort is None and says("may_go_through", row.name) and not says("hold_no_joint", row.name):
            sort = ("other", THROUGH)
        if sort is None:
            continue
        how = heard.settling(row.id)
        made.append(
            HolderState(
                row.id,
                sort[0],
                row.name or "part without a name",
                bool(how),
                how or sort[1],
                row.citations,
                answer="free" if sort[0] == "dowel" else "off",
            )
        )
    return made


def told_apart(holders: tuple[HolderState, ...]) -> tuple[HolderState, ...]:
    """The holders under names that can be typed: no colon, and each name once."""
    seen: Counter[str] = Counter()
    made = []
    for state in holders:
        name = state.name.replace(":", ",")
        seen[name.casefold()] += 1
        times = seen[name.casefold()]
        made.append(replace(state, name=name if times == 1 else f"{name} ({times})"))
    return tuple(made)
