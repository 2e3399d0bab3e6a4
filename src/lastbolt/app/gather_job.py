"""What people said and did, from walks and the job file, as evidence about one joint.

A walk's rounds come before every event; the events count up in their order. What was undone never happened.
"""

from msgspec import Struct

from lastbolt.app.typed_words import person_key, settles
from lastbolt.words.evidence import Act, Break, Look, RoundMade, TrayCount
from lastbolt.words.job import (
    Counted,
    Event,
    HandedOver,
    HeadsStand,
    HolderSettled,
    Job,
    Looked,
    Photo,
    ProcedureDone,
    PutIn,
    StaysIn,
    StepDone,
    StepStarted,
    TookOut,
    WentRound,
)
from lastbolt.words.joint import Round, Walk
from lastbolt.words.standing import standing

WALKED = 1
MOST_PIECES = 999
"""Taken out at once, at most: the typed lines stop there too."""
NOT_NAMED = "(not named)"


class Tick(Struct, frozen=True):
    """What the record says of a step or procedure: begun or done, by whom, and whether they looked."""

    done: bool
    by: str
    moment: int
    looked: bool = False


class Heard(Struct, frozen=True):
    """All that people said about one joint, and what the job says beside it."""

    looks: tuple[Look, ...]
    rounds: tuple[RoundMade, ...]
    acts: tuple[Act, ...]
    counts: tuple[TrayCount, ...]
    breaks: tuple[Break, ...]
    steps: dict[str, Tick]
    procedures: dict[str, Tick]
    settled: dict[str, HolderSettled]
    not_settled: dict[str, HolderSettled]
    """The last word about a holder, where it is none that settles it."""
    photo_places: tuple[str, ...]
    people: tuple[str, ...]
    other_joints: int

    def settling(self, holder: str) -> str:
        """Who settled a holder and how, in words; empty while nobody has."""
        event = self.settled.get(holder)
        return f"settled by {event.by}: {event.how}" if event else ""


def hear(joint: str, walks: tuple[Walk, ...], job: Job | None) -> Heard:
    """Everything that people said about this joint."""
    listener = _Listener(joint, walks)
    for walk in walks:
        for round_ in walk.rounds:
            listener.round(round_, round_.by, WALKED, f"walk {round_.id}")
    for number, event in standing(job):
        listener.event(event, WALKED + 1 + number)
    return listener.heard()


def left_out_of(round_: Round, walks: tuple[Walk, ...]) -> tuple[str, ...]:
    """Labels of the walked places of which a round says nothing, not even that they cannot be seen."""
    said = {answer.place for answer in round_.answers if answer.saw}
    places = {place.id: place.label or place.id for walk in walks for place in walk.places}
    return tuple(label for place, label in places.items() if place not in said)


class _Listener:
    """Sorts events into what they say about one joint."""

    def __init__(self, joint: str, walks: tuple[Walk, ...]) -> None:
        self.joint = joint
        self.walks = walks
        self.looks: list[Look] = []
        self.rounds: list[RoundMade] = []
        self.acts: list[Act] = []
        self.counts: list[TrayCount] = []
        self.breaks: list[Break] = []
        self.steps: dict[str, Tick] = {}
        self.procedures: dict[str, Tick] = {}
        self.holders: dict[str, HolderSettled] = {}
        self.photo_places: list[str] = []
        self.people: dict[str, str] = {}
        self.other = 0

    def person(self, by: str) -> str:
        """The id that a person goes by here: however written, as it was first."""
        key = person_key(by)
        return self.people.setdefault(key, by if key else NOT_NAMED)

    def round(self, round_: Round, by: str, moment: int, event: str) -> None:
        """One round: its looks, and that there is no further place if it was guided and complete."""
        by = self.person(by)
        for answer in round_.answers:
            for saw in answer.saw:
                self.looks.append(Look(by, answer.place, saw, round_.guided, moment, event))
        if round_.guided and round_.complete and not left_out_of(round_, self.walks):
            self.rounds.append(RoundMade(by, moment, event))

    def event(self, event: Event, moment: int) -> None:
        """One event, if it speaks of this joint or of none."""
        joint = getattr(event, "joint", "")
        if joint and joint != self.joint:
            self.other += 1
            return
        if isinstance(event, WentRound):
            self.round(event.round, event.by if event.by.strip() else event.round.by, moment, event.id)
            return
        by = self.person(event.by)
        if isinstance(event, Looked):
            for answer in event.answers:
                self.looks += [Look(by, answer.place, saw, False, moment, event.id) for saw in answer.saw]
        elif isinstance(event, TookOut | StaysIn | HeadsStand):
            self._act(event, by, moment)
        elif isinstance(event, Counted):
            self._count(event, by, moment)
        else:
            self._other(event, by, moment)

    def _other(self, event: Event, by: str, moment: int) -> None:
        if isinstance(event, StepStarted):
            self.steps[event.step] = Tick(False, by, moment)
        elif isinstance(event, StepDone):
            _ticked(self.steps, event.step, Tick(True, by, moment, event.looked))
        elif isinstance(event, ProcedureDone):
            _ticked(self.procedures, event.procedure, Tick(True, by, moment, event.looked))
        elif isinstance(event, HandedOver):
            self.breaks.append(Break(moment, event.words or event.kind))
        elif isinstance(event, HolderSettled):
            self.holders[event.holder] = event
        elif isinstance(event, Photo):
            self.photo_places += event.places

    def _act(self, event: TookOut | StaysIn | HeadsStand, by: str, moment: int) -> None:
        if isinstance(event, HeadsStand):
            self.acts += [Act(by, one.place, "put in", moment, None, None, event.id) for one in event.proud]
            return
        if isinstance(event, StaysIn):
            places = event.places or ("",)
            line = event.line if isinstance(event, PutIn) else None
            self.acts += [Act(by, p, "put in", moment, line, None, event.id) for p in places]
            return
        places = event.places or ("",) * min(MOST_PIECES, max(1, event.count or 1))
        self.acts += [Act(by, p, "took out", moment, event.line, event.kind, event.id) for p in places]

    def _count(self, event: Counted, by: str, moment: int) -> None:
        self.counts.append(
            TrayCount(
                by,
                event.kind,
                event.pieces,
                moment,
                event.line,
                event.complete_pieces,
                event.all_trays,
                ", ".join(event.trays),
                event.id,
            )
        )

    def heard(self) -> Heard:
        """What was heard, as one value."""
        return Heard(
            tuple(self.looks),
            tuple(self.rounds),
            tuple(self.acts),
            tuple(self.counts),
            tuple(self.breaks),
            self.steps,
            self.procedures,
            {name: event for name, event in self.holders.items() if settles(event.how)},
            {name: event for name, event in self.holders.items() if not settles(event.how)},
            tuple(self.photo_places),
            tuple(self.people.values()),
            self.other,
        )


def _ticked(ticks: dict[str, Tick], name: str, tick: Tick) -> None:
    """Note a tick; the last one counts, but a tick alone does not take back that somebody looked."""
    earlier = ticks.get(name)
    if earlier is None or not earlier.looked or tick.looked:
        ticks[name] = tick
