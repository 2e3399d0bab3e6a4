"""What the sources say of all work: warnings of a section on safety, "before any work isolate the drive"."""

import re
from collections.abc import Iterator

from msgspec.structs import replace

from lastbolt.planning.named_work import NAMED, needs_of
from lastbolt.planning.names import any_of, sentences, words
from lastbolt.planning.titles_said import says_title
from lastbolt.words.machine import Machine, Procedure, Reference
from lastbolt.words.plan import General, Line

_NUMBER = re.compile(r"(?<![\w.])\d+(?:[.\-]\d+)+[a-z]?(?![\w]|\.\d)")


def asked_of_all(machine: Machine, goals: tuple[str, ...]) -> Machine:
    """The machine with each goal asking first for the sections that "before any work ..." names.

    Only sections of no other deed are meant: to take something off before any work on a part is a warning.
    """
    found = list(_named_for_all(machine))
    if not found:
        return machine
    procedures = tuple(_asking(one, found, machine) if one.id in goals else one for one in machine.procedures)
    return replace(machine, procedures=procedures)


def _named_for_all(machine: Machine) -> Iterator[tuple[General, Procedure]]:
    known = words()["general"]
    for item in (*_of_sections(machine), *_of_procedures((), machine)):
        for sentence in sentences(item.words):
            if not any_of(sentence, known["any_work"]):
                continue
            numbers = _NUMBER.findall(sentence)
            for procedure in machine.procedures:
                if procedure.deed != "other":
                    continue
                if says_title(sentence, procedure.title) or _meant(procedure, numbers, item):
                    yield General(item.signal, sentence, item.citations), procedure


def _meant(procedure: Procedure, numbers: list[str], item: General) -> bool:
    """Whether a number of the sentence is the section's, in the same book."""
    book, _, inside = procedure.id.partition("/")
    here = not inside or not item.citations or item.citations[0].source == book
    return here and procedure.number in numbers


def _asking(goal: Procedure, found: list[tuple[General, Procedure]], machine: Machine) -> Procedure:
    asked: list[Reference] = []
    for number, (item, procedure) in enumerate(found, 1):
        if goal.id != procedure.id and goal.id not in needs_of(procedure, machine):
            name = f"{goal.id}{NAMED}g{number}"
            to = (procedure.id,)
            asked.append(Reference(name, item.words, "before", "resolved", to, citations=item.citations))
    return replace(goal, before=(*asked, *goal.before)) if asked else goal


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
        for sentence in sentences(section.text):
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
