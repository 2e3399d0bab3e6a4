"""Typed lines that tick work of a read manual: "2.1 done", "4.1 step 1-3 done", "4.1 step 4 begun".

A tick says that somebody did it; what is out it does not say, as in a job file.
"""

import re
from collections.abc import Iterator, Mapping
from typing import NamedTuple

from msgspec.structs import replace

from lastbolt.app.typed_lines import BETWEEN, first_speaker, lines_of, speaker_of, struck
from lastbolt.app.typed_refused import Refused
from lastbolt.app.typed_words import NOBODY
from lastbolt.planning.names import stems
from lastbolt.words.job import JOB_SCHEMA, Event, Job, ProcedureDone, StepDone, StepStarted
from lastbolt.words.machine import Machine, Procedure, Step
from lastbolt.words.place_runs import with_and

_SECTION = r"(?:sections?\s+)?(\d[\w]*(?:[.-]\w+)+|(?<=section )\w+)((?:\s+[^\W\d]+)*?)"
_STEPS = r"(?:,?\s+steps?\s+(\w+(?:[\s,&–-]+(?:and\s+|to\s+)?\w+)*?))?"
_WORK = _SECTION + _STEPS
_LOOKED = r"(?:,?\s+(?:and\s+)?(looked(?:\s+at(?:\s+it)?)?))?"
_STATE = rf"(?:is\s+|are\s+|all\s+)*(done|finished|ticked|begun|started|confirmed){_LOOKED}"
_TICK = re.compile(rf"^{_WORK}\s+{_STATE}$", re.I)
_TICK_FIRST = re.compile(rf"^(?:done|tick)\s*:?\s+{_WORK}$", re.I)
_RUN = re.compile(r"^(\w+)\s*(?:-|–|\bto\b)\s*(\w+)$", re.I)
BEGUN = ("begun", "started")
LOOKED = ("confirmed",)


class TypedTicks(NamedTuple):
    """The ticks by the number of their line, and why other lines that tick something tick nothing."""

    ticks: Mapping[int, tuple[Event, ...]]
    refused: Mapping[int, Refused]

    @property
    def every(self) -> tuple[Event, ...]:
        """All ticks, in the order of their lines."""
        return tuple(event for events in self.ticks.values() for event in events)


class _Said(NamedTuple):
    number: str
    title: str
    marks: str
    begun: bool = False
    looked: bool = False


def typed_ticks(text: str, machine: Machine) -> TypedTicks:
    """The ticks of all lines; a line of which any part leads to no section or step ticks nothing."""
    lines = lines_of(text)
    gone, strikes = struck(lines)
    by, _ = first_speaker(lines, gone)
    by = by or NOBODY
    ticks: dict[int, tuple[Event, ...]] = {}
    refused: dict[int, Refused] = {}
    for number, words in enumerate(lines, start=1):
        if number in gone or number in strikes:
            continue
        by = speaker_of(words) or by
        said = _said(words.rstrip(" ."))
        found = _found(said, machine) if said else None
        if isinstance(found, Refused):
            refused[number] = found
        elif said and found:
            ticks[number] = tuple(_events(said, found, by, number))
    return TypedTicks(ticks, refused)


def job_with(job: Job | None, ticks: tuple[Event, ...], machine: Machine, goal: str) -> Job | None:
    """The job with typed ticks behind its events; one that is made for them, where there is none."""
    if not ticks:
        return job
    kept = job or Job(JOB_SCHEMA, "typed lines", goal, machine.name)
    return replace(kept, events=(*kept.events, *ticks))


def _said(words: str) -> _Said | None:
    if found := _TICK.match(words):
        state, looked = found[4].casefold(), bool(found[5])
        return _Said(found[1], found[2] or "", found[3] or "", state in BEGUN, looked or state in LOOKED)
    found = _TICK_FIRST.match(words)
    return _Said(found[1], found[2] or "", found[3] or "") if found else None


def _found(said: _Said, machine: Machine) -> list[Procedure | Step] | Refused:
    """The section, or its steps, that a line names."""
    there = [one for one in machine.procedures if one.number.casefold() == said.number.casefold()]
    wanted = frozenset(stems(said.title))
    fitting = [one for one in there if wanted <= frozenset(stems(one.title))]
    if not fitting:
        return Refused(f"No section {said.number}{said.title} with steps in the manual.")
    if len(fitting) > 1:
        titles = with_and([f'"{one.title}"' for one in fitting])
        return Refused(f"Section {said.number} is several: {titles}. Say which, with a word of its title.")
    procedure = fitting[0]
    if not said.marks:
        return [procedure] if not said.begun else list(procedure.steps[:1])
    marks = [step.mark.rstrip(".)").casefold() for step in procedure.steps]
    steps: list[Procedure | Step] = []
    for mark in _marks(said.marks, marks):
        at = [step for step, own in zip(procedure.steps, marks, strict=True) if own == mark.casefold()]
        if len(at) != 1:
            there_are = with_and([step.mark for step in procedure.steps][:12])
            return Refused(f"No step {mark} in section {said.number} (it has {there_are}).")
        steps += at
    return steps


def _marks(words: str, own: list[str]) -> Iterator[str]:
    """ "1-3, 5 and 6" as marks, runs as they stand in the section."""
    for part in BETWEEN.split(words.strip()):
        run = _RUN.match(part)
        first, last = (run[1].casefold(), run[2].casefold()) if run else ("", "")
        if run and first in own and last in own and own.index(first) <= own.index(last):
            yield from own[own.index(first) : own.index(last) + 1]
        else:
            yield part


def _events(said: _Said, found: list[Procedure | Step], by: str, number: int) -> Iterator[Event]:
    for nth, one in enumerate(found, 1):
        name = f"typed line {number}" if nth == 1 else f"typed line {number} ({nth})"
        if isinstance(one, Procedure):
            yield ProcedureDone(id=name, by=by, procedure=one.id, looked=said.looked)
        elif said.begun:
            yield StepStarted(id=name, by=by, step=one.id)
        else:
            yield StepDone(id=name, by=by, step=one.id, looked=said.looked)
