"""Warnings of the sources that hold for all work: a section on safety, "before any work on ..."."""

import re
from collections.abc import Iterator

from lastbolt.planning.names import any_of, words
from lastbolt.words.machine import Machine
from lastbolt.words.plan import General, Line

_SENTENCE = re.compile(r"(?<=[.!?])\s+(?=[A-Z0-9“\"])")


def general_warnings(lines: tuple[Line, ...], machine: Machine) -> tuple[General, ...]:
    """Each once, in the order of the sources; what a line of the plan says already is not said again."""
    said = {caution.words for line in lines for caution in line.cautions}
    found: dict[str, General] = {}
    for item in (*_of_sections(machine), *_of_procedures(lines, machine)):
        if item.words not in said:
            found.setdefault(item.words, item)
    return tuple(found.values())


def _of_sections(machine: Machine) -> Iterator[General]:
    """The words of a section on safety; of other sections the sentences that speak of any work."""
    known = words()["general"]
    for section in machine.sections:
        if not section.text or section.holds == "procedure" or any_of(section.title, known["explains"]):
            continue
        if any_of(section.title, known["titles"]):
            yield General(section.title, section.text, section.citations)
            continue
        for sentence in _SENTENCE.split(section.text):
            if any_of(sentence, known["any_work"]):
                yield General(section.title, sentence, section.citations)


def _of_procedures(lines: tuple[Line, ...], machine: Machine) -> Iterator[General]:
    """The warnings of a section on general matters, and of others those that speak of any work."""
    known = words()["general"]
    planned = {line.procedure for line in lines}
    for procedure in machine.procedures:
        if procedure.id in planned:
            continue
        matters = procedure.deed == "other" and any_of(procedure.title, (*known["titles"], *known["matters"]))
        for caution in procedure.cautions:
            if matters or any_of(caution.words, known["any_work"]):
                yield General(caution.signal, caution.words, caution.citations or procedure.citations)
