"""What stands at each place of the joints, after everything that people saw and did."""

from collections.abc import Iterable

from msgspec.structs import replace

from lastbolt.words.account import AtPlace, Held
from lastbolt.words.engine import Engine
from lastbolt.words.job import (
    Event,
    Job,
    Looked,
    PutIn,
    Said,
    Slackened,
    Tightened,
    TookOut,
    WentRound,
)
from lastbolt.words.joint import Answer, Saw, Walk
from lastbolt.words.standing import standing

SEEN: dict[Saw, Held] = {
    "out": "out",
    "in": "in",
    "slack": "slack",
    "broken off": "broken",
    "hollow dowel, bolt in": "in",
}
"""What an answer says of the fastener. The others say that none is there, not whether one belongs there."""
TIGHT: tuple[Held, ...] = ("stage", "final")
"""A look that sees a head does not see how tight it is."""


def at_places(walks: Iterable[Walk], engine: Engine | None, job: Job | None) -> tuple[AtPlace, ...]:
    """The places of the joints where a fastener belongs, each with its state; in the walks' order.

    A place belongs here when somebody saw, took out or put in a fastener there, or when the engine's own file
    says that one is missing there. So does every other place of a joint that was worked on, of which nobody
    has said anything. Events of joints that no walk knows have their places too, behind.
    """
    places = {(walk.joint, p.id): AtPlace(walk.joint, p.id, p.label or p.id, "not known")
              for walk in walks for p in walk.places}  # fmt: skip
    found = _Places(places)
    for walk in walks:
        for round_ in walk.rounds:
            found.answers(walk.joint, round_.answers, round_.by, round_.id)
    for _, event in standing(job):
        found.event(event)
    missing = engine.missing_places() if engine else frozenset()
    return tuple(
        replace(one, state="never there")
        if one.place in missing and one.state in ("not known", "out")
        else one
        for key, one in found.places.items()
        if key in found.met or one.place in missing or (key[0] in found.worked and key not in found.seen)
    )


class _Places:
    def __init__(self, places: dict[tuple[str, str], AtPlace]) -> None:
        self.places = places
        self.met: set[tuple[str, str]] = set()
        self.seen: set[tuple[str, str]] = set()
        """Places of which anything was said at all, and be it that no fastener belongs there."""
        self.worked: set[str] = set()

    def event(self, event: Event) -> None:
        """One event: a look, or something done at places."""
        match event:
            case Looked():
                self.answers(event.joint, event.answers, event.by, event.id)
            case WentRound():
                self.answers(event.joint, event.round.answers, event.by or event.round.by, event.id)
            case TookOut():
                self.at(
                    event.joint, event.places, event, state="out", stage=0, painted=False, tray=event.tray
                )
            case PutIn():
                self.at(event.joint, event.places, event, state="in", stage=0, painted=False, tray="")
            case Slackened():
                self.at(event.joint, event.places, event, state="slack", stage=0, painted=False, tray="")
            case Tightened():
                state: Held = "final" if event.final else "stage"
                self.at(
                    event.joint, event.places, event,
                    state=state, stage=event.stage, painted=event.painted, tray="",
                )  # fmt: skip

    def at(self, joint: str, places: Iterable[str], event: Said, **what: object) -> None:
        """What an event did at each of its places."""
        for place in places:
            one = self.places.get((joint, place), AtPlace(joint, place, place, "not known"))
            self.places[joint, place] = replace(one, by=event.by, event=event.id, **what)
            self.met.add((joint, place))
            self.worked.add(joint)

    def answers(self, joint: str, answers: Iterable[Answer], by: str, event: str) -> None:
        """What somebody saw; a head that is in may be tight already, as it was."""
        for answer in answers:
            key = (joint, answer.place)
            self.seen.add(key)
            for saw in answer.saw:
                state = SEEN.get(saw)
                one = self.places.get(key, AtPlace(joint, answer.place, answer.place, "not known"))
                if state is None or (state == "in" and one.state in TIGHT):
                    continue
                self.met.add(key)
                self.places[key] = replace(one, state=state, stage=0, painted=False, by=by, event=event)
