"""Parts that a sentence says to be off, away or first: the section that takes such a part off may come first.

"The brake bracket has to come off first", "not accessible with the brake bracket on": no title is said and
nothing points. Which words say that a part must be off no list can hold; so a part near a word of state is
enough to ask, where its section is not in the plan.
"""

import re
from collections.abc import Iterable, Iterator

from msgspec.structs import replace

from lastbolt.planning.book import TAKES_OFF
from lastbolt.planning.named_work import NAMED, needs_of
from lastbolt.planning.names import any_of, sentences, stems, words
from lastbolt.planning.titles_said import says_title
from lastbolt.words.citation import Citation
from lastbolt.words.machine import Machine, Procedure, Reference

_WORD = re.compile(r"[^\W\d_]+(?:-[^\W\d_]+)*")
_NUMBER = re.compile(r"(?<![\w.])\d+(?:[.\-]\d+)+[a-z]?(?![\w]|\.\d)")
_NEAR = 6
"""Words between a part and what is said of it, at most."""


class PartsOff:
    """The sections that take a part off, by the words of the part."""

    def __init__(self, machine: Machine) -> None:
        self.by_head: dict[str, list[tuple[tuple[str, ...], Procedure]]] = {}
        for procedure in machine.procedures:
            for part in procedure.parts if procedure.deed in TAKES_OFF else ():
                if key := stems(part):
                    self.by_head.setdefault(key[-1], []).append((key, procedure))

    def said(self, sentence: str) -> Iterator[Procedure]:
        """The sections of the parts that the sentence names near a word of state."""
        low = [word.lower() for word in _WORD.findall(sentence)]
        states = {at for at, word in enumerate(low) if word in _states()}
        if not states:
            return
        each = [(stems(word) or ("",))[-1] for word in low]
        for at, head in enumerate(each):
            for key, procedure in self.by_head.get(head, ()):
                first = at - len(key) + 1
                named = first >= 0 and tuple(each[first : at + 1]) == key
                if named and any(first - _NEAR <= state <= at + _NEAR for state in states):
                    yield procedure


def _states() -> frozenset[str]:
    return frozenset(words()["named_work"]["states"])


def asked_by_states(machine: Machine, goals: tuple[str, ...]) -> Machine:
    """The machine with each goal asking for the sections whose parts sentences about it say to be off.

    Sentences about it are its own, those of the chapter it stands in, and those of any section that say its
    title or number together with a word of order. What they ask for is a doubt, open while it is not planned.
    """
    parts = PartsOff(machine)
    made = {
        goal.id: _asking(goal, tuple(_of_goal(goal, machine, parts)), machine)
        for goal in machine.procedures
        if goal.id in goals
    }
    if all(one.before == machine_one.before for one, machine_one in _pairs(made, machine)):
        return machine
    return replace(machine, procedures=tuple(made.get(one.id, one) for one in machine.procedures))


def _pairs(made: dict[str, Procedure], machine: Machine) -> Iterator[tuple[Procedure, Procedure]]:
    return ((made[one.id], one) for one in machine.procedures if one.id in made)


Told = tuple[str, tuple[Citation, ...], Procedure]
"""A sentence, where it stands, and the section it asks for."""


def _of_goal(goal: Procedure, machine: Machine, parts: PartsOff) -> Iterator[Told]:
    for sentence, cited in (*_own(goal), *_of_chapter(goal, machine)):
        yield from ((sentence, cited, there) for there in parts.said(sentence))
    by_number = {one.number: one for one in machine.procedures if one.number}
    for sentence, cited in _elsewhere(goal, machine):
        if not _is_about(sentence, goal):
            continue
        yield from ((sentence, cited, there) for there in parts.said(sentence))
        for number in _NUMBER.findall(sentence):
            there = by_number.get(number)
            if there is not None and there.deed in (*TAKES_OFF, "drain"):
                yield sentence, cited, there


def _own(goal: Procedure) -> Iterator[tuple[str, tuple[Citation, ...]]]:
    for sentence in sentences(goal.text):
        yield sentence, goal.citations
    for note in goal.cautions:
        yield from ((sentence, note.citations) for sentence in sentences(note.words))
    for step in goal.steps:
        yield from ((sentence, step.citations) for sentence in sentences(step.words))
        for note in step.cautions:
            yield from ((sentence, note.citations) for sentence in sentences(note.words))


def _of_chapter(goal: Procedure, machine: Machine) -> Iterator[tuple[str, tuple[Citation, ...]]]:
    """The introduction of the chapter that the goal stands in."""
    for section in machine.sections:
        inside = section.number and re.match(rf"{re.escape(section.number)}[.\-]", goal.number)
        if inside and section.text and section.citations[:1] and _one_book(section.citations, goal):
            yield from ((sentence, section.citations) for sentence in sentences(section.text))


def _one_book(citations: tuple[Citation, ...], goal: Procedure) -> bool:
    return not goal.citations or citations[0].source == goal.citations[0].source


def _elsewhere(goal: Procedure, machine: Machine) -> Iterator[tuple[str, tuple[Citation, ...]]]:
    for section in machine.sections:
        yield from ((sentence, section.citations) for sentence in sentences(section.text))
    for procedure in machine.procedures:
        if procedure.id != goal.id:
            yield from ((sentence, procedure.citations) for sentence in sentences(procedure.text))
            for note in procedure.cautions:
                yield from ((sentence, note.citations) for sentence in sentences(note.words))


def _is_about(sentence: str, goal: Procedure) -> bool:
    """Whether it says the goal's title or number, and a word of what comes first."""
    if not any_of(sentence, words()["named_work"]["order"]):
        return False
    return says_title(sentence, goal.title) or goal.number in _NUMBER.findall(sentence)


def _asking(goal: Procedure, told: Iterable[Told], machine: Machine) -> Procedure:
    own = {stems(part) for part in goal.parts}
    taken_off = {stems(one.name) for step in goal.steps for one in step.mentions if one.deed in TAKES_OFF}
    asked: dict[str, Reference] = {}
    for sentence, cited, there in told:
        passed = {stems(part) for part in there.parts} & (own | taken_off)
        if there.id == goal.id or passed or there.id in asked or goal.id in needs_of(there, machine):
            continue
        name = f"{goal.id}{NAMED}s{len(asked) + 1}"
        asked[there.id] = Reference(name, sentence, "see", "resolved", (there.id,), citations=cited)
    return replace(goal, before=(*goal.before, *asked.values())) if asked else goal
