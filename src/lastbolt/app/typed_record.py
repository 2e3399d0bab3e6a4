"""Typed lines as a record of the job: what was ticked, seen, done and counted, for the way back.

The tally reads the same lines in its own way; a line that neither understands is told.
"""

import re
from collections.abc import Iterator, Mapping, Sequence

from msgspec import Struct
from msgspec.structs import replace

from lastbolt.app.typed_about import about_of
from lastbolt.app.typed_back import said_of_way_back
from lastbolt.app.typed_kind import typed_kind
from lastbolt.app.typed_lines import first_speaker, lines_of, speaker_of, struck
from lastbolt.app.typed_names import nearly_said
from lastbolt.app.typed_of_papers import said_of_papers
from lastbolt.app.typed_pieces import counted_pieces
from lastbolt.app.typed_places import SaidOfPlaces, said_of_places
from lastbolt.app.typed_refused import refusal, understood
from lastbolt.app.typed_spoken import as_typed
from lastbolt.app.typed_ticks import typed_ticks
from lastbolt.app.typed_words import NOBODY, STATEMENTS, person_key
from lastbolt.planning.put_back import REVERSED
from lastbolt.words.job import Counted, Event, Looked, ProcedureDone, PutIn, StepDone, TookOut
from lastbolt.words.joint import Answer, Walk
from lastbolt.words.machine import Machine
from lastbolt.words.problem import Problem

_BACK = re.compile(r"^(.+?)\s+(?:is\s+|are\s+)?back(,?\s+(?:and\s+)?looked(?:\s+at(?:\s+it)?)?)?\.?$", re.I)
JOINT = "typed joint"
"""The joint of typed places where no walk names it."""


class TypedRecord(Struct, frozen=True):
    """The events in the order of their lines, and a problem for each line that says nothing."""

    events: tuple[Event, ...]
    problems: tuple[Problem, ...]


def typed_record(text: str, machine: Machine, walks: Sequence[Walk] = ()) -> TypedRecord:
    """Everything that typed lines record. Places are those of the first walk, by their labels."""
    lines = lines_of(text)
    gone, strikes = struck(lines)
    first, said_first = first_speaker(lines, gone)
    papers = said_of_papers(text, machine)
    ticks = _by_line(papers.ticks)
    passed = {*gone, *strikes, *said_first, *about_of(text).lines, *papers.lines}
    reader = _Reader(machine, walks, first or NOBODY)
    events: list[Event] = []
    problems: list[Problem] = []
    for number, words in enumerate(lines, start=1):
        events += ticks.get(number, ())
        if not words or number in passed:
            continue
        speaker = speaker_of(words)
        if speaker and not nearly_said(speaker, reader.people):
            reader.speaks(speaker)
            continue
        found: tuple[Event, ...] = ()
        if speaker is None:
            found = put_back_ticks(words, machine, (number, reader.by)) or tuple(reader.line(number, words))
        events += found
        unknown = speaker is not None or number in papers.refused or not _known(words, reader.people)
        if not found and unknown:
            problems.append(_told(refusal(number, words, papers.refused.get(number)), number))
    return TypedRecord(tuple(events), tuple(problems))


def put_back_ticks(words: str, machine: Machine, who: tuple[int, str]) -> tuple[Event, ...]:
    """The ticks of "4.3 step 1-2 back": the lines that put back what those steps of a removal took off."""
    found = _BACK.match(words.strip())
    if found is None:
        return ()
    ticked = typed_ticks(f"{found[1]} done{found[2] or ''}", machine).every
    whole = {one.id: one.steps for one in machine.procedures}
    steps = [
        (step, one.looked)
        for one in ticked
        if isinstance(one, StepDone | ProcedureDone)
        for step in ([one.step] if isinstance(one, StepDone) else [s.id for s in whole[one.procedure]])
    ]
    number, by = who
    return tuple(
        StepDone(id=_name(f"typed line {number}", nth), by=by, step=f"{REVERSED}{step}", looked=looked)
        for nth, (step, looked) in enumerate(steps, 1)
    )


def _told(problem: Problem, number: int) -> Problem:
    """The problem of a line, with what to do about it here."""
    do = f'Say it in other words (docs/putting_back.md, "By typing"), or type "strike line {number}".'
    return replace(problem, do=do)


def _by_line(ticks: Sequence[Event]) -> dict[int, list[Event]]:
    """Ticks by their lines: "typed line 7", and "typed line 7 (2)" for the second of them."""
    found: dict[int, list[Event]] = {}
    for one in ticks:
        found.setdefault(int(one.id.split()[2]), []).append(one)
    return found


def _known(words: str, people: Mapping[str, str]) -> bool:
    """Whether the tally understands the line, which then says nothing of the way back."""
    low = " ".join(words.lower().rstrip(".").split())
    return low in STATEMENTS or understood(words) or understood(as_typed(words, people).line)


class _Reader:
    """Lines so far: who speaks, and which places there are."""

    def __init__(self, machine: Machine, walks: Sequence[Walk], by: str) -> None:
        self.machine, self.by = machine, by
        self.joint = walks[0].joint if walks else JOINT
        known = walks[0].places if walks else ()
        self.places = {(place.label or place.id).casefold(): place.id for place in known}
        self.people: dict[str, str] = {person_key(by): by}

    def speaks(self, name: str) -> None:
        """Somebody speaks from here on."""
        self.by = name or self.by
        self.people.setdefault(person_key(self.by), self.by)

    def line(self, number: int, words: str) -> Iterator[Event]:
        """The events of one line."""
        found = tuple(self._said(number, words, self.by))
        spoken = as_typed(words, self.people)
        if not found and (spoken.line != words or spoken.by):
            found = tuple(self._said(number, spoken.line, spoken.by or self.by))
        yield from found

    def _said(self, number: int, words: str, by: str) -> Iterator[Event]:
        event = f"typed line {number}"
        more = said_of_way_back(words, self.joint, self.places, self.machine, (event, by))
        if more is not None:
            yield more
            return
        for nth, one in enumerate(counted_pieces(words, typed_kind) or (), 1):
            yield Counted(
                id=_name(event, nth), by=by, kind=one.kind, pieces=one.count, joint=self.joint,
                complete_pieces=one.whole,
            )  # fmt: skip
        for nth, said in enumerate(said_of_places(words), 1):
            yield self._done(said, _name(event, nth), by)

    def _done(self, said: SaidOfPlaces, event: str, by: str) -> Event:
        places = tuple(self.places.get(label.casefold(), label) for label in said.labels)
        if said.did == "took out":
            return TookOut(id=event, by=by, joint=self.joint, places=places)
        if said.did == "put in":
            return PutIn(id=event, by=by, joint=self.joint, places=places)
        saw = (said.saw,) if said.saw is not None else ()
        answers = tuple(Answer(place, saw) for place in places)
        return Looked(id=event, by=by, joint=self.joint, answers=answers)


def _name(event: str, nth: int) -> str:
    return event if nth == 1 else f"{event} ({nth})"
