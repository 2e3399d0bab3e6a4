"""The strength class and the general torque that the sources give for every screw not named elsewhere."""

import re
from collections.abc import Iterator

from msgspec import Struct

from lastbolt.app.torque_sizes import size_of_row
from lastbolt.planning.names import any_of, sentences, words
from lastbolt.threads.designation import thread_of
from lastbolt.words.citation import Citation
from lastbolt.words.machine import Machine, TorqueRow

_NUMBER = re.compile(r"\b(\d{1,2}\.\d)\b")


class ClassSaid(Struct, frozen=True):
    """The class, the sentence that says so, and where."""

    name: str
    words: str
    citations: tuple[Citation, ...] = ()


def class_said(machine: Machine) -> ClassSaid | None:
    """The one class that the sources name for their screws at large; nothing where they name several."""
    found = list(_said(machine))
    return found[0] if len({one.name for one in found}) == 1 else None


def _said(machine: Machine) -> Iterator[ClassSaid]:
    known = words()["refit"]
    for section in machine.sections:
        for sentence in sentences(section.text) if section.text else ():
            low = sentence.casefold()
            at = next((low.find(phrase) for phrase in known["class_named"] if phrase in low), -1)
            if at >= 0 and any_of(sentence, known["class_of"]) and (number := _NUMBER.search(sentence, at)):
                yield ClassSaid(number[1], sentence.strip(), section.citations)


def general_row(machine: Machine, thread: str) -> TorqueRow | None:
    """The line of the sources' own general table for a thread: it names the size and nothing else."""
    wanted = thread_of(thread)
    rows = [row for row in machine.torques if wanted is not None and thread_of(row.what.strip()) == wanted]
    alone = [row for row in rows if size_of_row(row).length_mm is None and row.value.torque_Nm is not None]
    return alone[0] if len({row.value.torque_Nm for row in alone}) == 1 else None
