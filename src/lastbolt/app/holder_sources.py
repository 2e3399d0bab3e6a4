"""What the sources alone say of other holders: parts that the closure's steps take off the joint, nuts that
hold what passes through it, and sentences that name a part across the joint or a tight fit in it."""

import re
from collections.abc import Collection, Iterable, Iterator
from typing import NamedTuple

from msgspec import Struct

from lastbolt.app.gather_job import Heard
from lastbolt.app.holder_words import Asked, holder_sort, listed, told_of
from lastbolt.app.plan_sections import PlanSections
from lastbolt.planning.names import clauses, sentences, stems
from lastbolt.words.answer import HolderState, TakenAs
from lastbolt.words.citation import Citation
from lastbolt.words.machine import Machine, Mention, Procedure, Section, Step

_OFF = re.compile(r"\boff (?:the|its) ([a-z][a-z -]*)", re.IGNORECASE)
_VERB = re.compile(r"\s+(?:is|are|has|have|also|which|that)\b.*", re.IGNORECASE)
_WHICH = re.compile(r"\s(?:of|on|at|for|in|to|with|by|and)\b")
_CARRIED = re.compile(
    r"\b(?:stands on|sits on|is fixed to|is mounted on) (?:a|the|its) ([a-z][a-z -]*)", re.IGNORECASE
)
_QUALIFIED = re.compile(r",|\(|\s(?:of|on|at|for|in|to|from|with)\s|\d")
_ARTICLE = re.compile(r"^(?:the|a|an|its|one|each)\s+", re.IGNORECASE)
_ASIDE = re.compile(r"\s*\([^()]*\)")
MOST_NAME_WORDS = 7
LEAST_NAME = 2
"""A name of one word ("pump") may be another part's."""


class Told(Struct, frozen=True):
    """A holder as one place of the sources has it: `section` is the id of the procedure or section, `chapter`
    the chapter's number, `sentence` the words."""

    state: HolderState
    section: str = ""
    chapter: str = ""
    sentence: str = ""


def steps_tell(machine: Machine, heard: Heard, sections: PlanSections, joint: frozenset[str]) -> list[Told]:
    """Parts that steps of the closure's other sections take off the joint, and nuts at the ends of shafts.

    `joint`: the words of the joint's own parts.
    """
    found = []
    for procedure in sections.before(machine):
        titled = [frozenset(stems(part)) for part in procedure.parts]
        for step in procedure.steps:
            for mention in step.mentions:
                own = frozenset(stems(mention.name))
                if mention.deed not in ("remove", "loosen") or not own or own in titled:
                    continue
                sort = _sort_off(procedure, step, mention, joint)
                if sort is not None:
                    found.append(off_by_step(procedure, step, mention, sort, heard))
    return found


def sentences_tell(
    machine: Machine, heard: Heard, procedures: Collection[str], joint: frozenset[str]
) -> list[Told]:
    """Parts that a text in a chapter of these procedures says to lie across the joint or to fit tight."""
    chapters = {chapter_of(p.number) for p in machine.procedures if p.id in procedures and p.number}
    return [
        told
        for text in _texts(machine)
        if chapter_of(text.number) in chapters
        for sentence in clauses(text.words)
        for told in _told_by(sentence, text, heard, joint)
    ]


def parts_off(machine: Machine, sections: PlanSections) -> list[tuple[Procedure, str]]:
    """What the closure's other sections take off by their titles, if such a part may hold something."""
    return [
        (procedure, part)
        for procedure in sections.before(machine)
        if procedure.deed in ("remove", "separate")
        for part in procedure.parts
        if holder_sort(part)
    ]


def carried_parts(
    machine: Machine, sections: PlanSections, holders: Iterable[HolderState]
) -> Iterator[tuple[str, TakenAs]]:
    """Parts of which a source says that a holder named after them carries them ("the priming pump stands on a
    bracket"): only that one is asked for. Each with the reason."""
    holders = tuple(holders)
    for procedure, part in parts_off(machine, sections):
        own = set(stems(part))
        carriers = {head_noun(x.name): x for x in holders if own < set(stems(x.name))}
        for text, sentence in _sentences(machine) if len(own) >= LEAST_NAME and carriers else ():
            said = _CARRIED.search(sentence)
            if said is None or not own <= set(stems(sentence[: said.start()])):
                continue
            carrier = carriers.get(head_noun(said[1]))
            if carrier is not None:
                words = (
                    f"{part}: not asked for by itself because section {text.number} says "
                    f'"{sentence.strip()}"; {carrier.name} is asked for'
                )
                yield part, TakenAs(procedure.id, words, text.citations)
                break


def head_noun(name: str) -> str:
    """The noun that says what it is.

    >>> head_noun("Bracket of the priming pump"), head_noun("bracket, priming pump"), head_noun("oil pump")
    ('bracket', 'bracket', 'pump')
    """
    words = stems(_QUALIFIED.split(name.lower(), maxsplit=1)[0])
    return words[-1] if words else ""


def stands_elsewhere(procedure: Procedure, part: str) -> tuple[Step, str] | None:
    """The step that lifts the part off something that is not of the joint, and off what."""
    own = stems(part)
    for step in procedure.steps:
        off = _OFF.search(step.words)
        named = any(stems(mention.name)[-1:] == own[-1:] for mention in step.mentions)
        if off and named and any(off[1].lower().startswith(place) for place in listed("stands_on")):
            return step, next(place for place in listed("stands_on") if off[1].lower().startswith(place))
    return None


def _sort_off(procedure: Procedure, step: Step, mention: Mention, joint: frozenset[str]) -> Asked | None:
    sort = holder_sort(mention.name)
    nut = mention.kind is not None and mention.kind.what == "nut"
    if nut and (sort is None or sort[0] != "shaft-end nut"):
        return ("shaft-end nut", "off?") if _nut_ties(procedure, joint) and not mention.rows else None
    if sort is None or sort[0] == "shaft-end nut":
        return sort
    off = _OFF.search(step.words)
    whole = set(stems(_WHICH.split(off[1], maxsplit=1)[0])) if off else set()
    return sort if whole and whole <= joint and not whole & set(stems(mention.name)) else None


def _nut_ties(procedure: Procedure, joint: frozenset[str]) -> bool:
    """Whether the text before the steps says of a nut that it holds parts of the joint together."""
    return any(
        "nut" in sentence.lower()
        and any(word in sentence.lower() for word in listed("ties"))
        and set(stems(sentence)) & joint
        for sentence in sentences(procedure.text)
    )


def off_by_step(
    procedure: Procedure,
    step: Step,
    mention: Mention,
    sort: Asked,
    heard: Heard,
    identity: str = "",
) -> Told:
    """The holder that a step takes off: settled by whoever ticks the step and looked, or says so of it.

    `identity`: by what it is settled; else the section and the name, as one part told of in several steps.
    """
    identity = identity or f"{procedure.id}#{mention.name}"
    # Who ticks the whole section and looked at its own part did not say that they looked at this one.
    tick = heard.steps.get(step.id)
    looked = tick is not None and tick.done and tick.looked
    how = heard.settling(identity) or (f"seen off by {tick.by}" if looked and tick else "")
    ticked = tick or heard.procedures.get(procedure.id)
    note = " (ticked, nobody has looked at it)" if ticked is not None and not how else ""
    where = f"Section {procedure.number or procedure.title}" + (f" step {step.mark}" if step.mark else "")
    whole = len(stems(mention.name)) > 1 or not procedure.parts
    name = mention.name if whole else f"{mention.name}, {procedure.parts[0]}"
    citations = (*step.citations, *procedure.citations)
    state = HolderState(
        identity, sort[0], name, bool(how), how or f"{sort[1]} {where} takes it off{note}.", citations
    )
    return Told(state, procedure.id, chapter_of(procedure.number), step.words)


def _told_by(sentence: str, text: "_Text", heard: Heard, joint: frozenset[str]) -> Iterator[Told]:
    entry = told_of(sentence)
    if entry is None or not set(stems(sentence)) & joint:
        return
    phrase, (sort, ask) = entry
    before = _ASIDE.sub("", sentence[: sentence.lower().index(phrase)]).rpartition(",")[2].strip(" (")
    name = _ARTICLE.sub("", _VERB.sub("", before)).strip()
    words = name.split()
    if (
        not words
        or len(words) > MOST_NAME_WORDS
        or any(word in name.lower() for word in listed("not_holders"))
    ):
        return
    cited = tuple(Citation(one.source, one.place, sentence.rstrip(" ;:")) for one in text.citations[:1])
    identity = f"{text.id}#{name}"
    how = heard.settling(identity)
    said = f'{ask} Section {text.number}: "{sentence.strip()}"'
    state = HolderState(identity, sort, name, bool(how), how or said, cited)
    yield Told(state, text.id, chapter_of(text.number), sentence)


class _Text(NamedTuple):
    """What a section or procedure says outside of its steps."""

    id: str
    number: str
    words: str
    citations: tuple[Citation, ...]


def _texts(machine: Machine) -> Iterator[_Text]:
    told: tuple[Section | Procedure, ...] = (*machine.sections, *machine.procedures)
    for one in told:
        if one.text:
            yield _Text(one.id, one.number, one.text, one.citations)


def _sentences(machine: Machine) -> Iterator[tuple[_Text, str]]:
    for text in _texts(machine):
        for sentence in clauses(text.words):
            yield text, sentence


def chapter_of(number: str) -> str:
    """The chapter that a section's number begins with: "3" of "3.1" and of "3-1"."""
    return number.replace("-", ".").split(".", maxsplit=1)[0]
