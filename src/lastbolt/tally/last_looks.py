"""What was seen last at each place, where that cannot stand beside the rest (codes LB-T33, LB-T34).

The claims weigh who was wrong. Here it is asked at once: a fastener was seen in and nobody has looked since,
or two people saw what cannot both be there. With either nothing is called free, until somebody looks again.
"""

from collections.abc import Iterator
from typing import NamedTuple

from lastbolt.tally.build_people import Scene, is_retired
from lastbolt.tally.ledger import Ledger
from lastbolt.words.answer import NextStep
from lastbolt.words.evidence import EvidencePlace, Look
from lastbolt.words.joint import NOTHING_IN, SOLID_DOWEL, SOMETHING_IN
from lastbolt.words.place_runs import at_places
from lastbolt.words.problem import Problem

OPEN = (*NOTHING_IN, *SOMETHING_IN, "out")
"""Where one of these was seen, no solid dowel can be, which lets no fastener pass."""


class LookAgain(NamedTuple):
    """A problem for each place where the last looks leave open what is there, and the step to settle it."""

    problems: tuple[Problem, ...]
    steps: tuple[NextStep, ...]


def look_again(scene: Scene, *, cleared: bool) -> LookAgain:
    """Where somebody has to look again before anything may be called free.

    `cleared`: the claims alone call the joint free. If they do not, the answer itself names what is in.
    """
    ledger = Ledger(scene.evidence)
    by_place = [
        (place.label, (*_seen_in_last(ledger, scene, place, cleared), *_not_both(ledger, scene, place)))
        for place in scene.layout.places
    ]
    labels = [label for label, problems in by_place if problems]
    problems = tuple(problem for _, told in by_place for problem in told)
    if not labels:
        return LookAgain(problems, ())
    words = f"{at_places(labels)}: look again, two people together, from both sides."
    step = NextStep(words, 1.0 * len(labels), "look again", places=tuple(labels))
    return LookAgain(problems, (step,))


def seen_in_last(scene: Scene, place: str) -> Look | None:
    """The last look at a place, when it saw a fastener in and nothing was taken out there since."""
    looks = _looks(scene, place)
    last = looks[-1] if looks else None
    if last is None or last.saw not in SOMETHING_IN:
        return None
    acts = [act for act in scene.evidence.acts if act.moment > last.moment and act.place == place]
    return None if acts else last


def _looks(scene: Scene, place: str) -> list[Look]:
    there = [look for look in scene.evidence.looks if look.place == place and look.saw != "cannot see"]
    return sorted(there, key=lambda look: look.moment)


def _seen_in_last(ledger: Ledger, scene: Scene, place: EvidencePlace, cleared: bool) -> Iterator[Problem]:
    last = seen_in_last(scene, place.id)
    if last is not None and (cleared or is_retired(scene, last)):
        yield Problem(
            "LB-T33",
            f'{ledger.who(last.by)} saw "{last.saw}" at place {place.label}, and nobody has looked since.',
            f"place {place.label}",
            "Look there again, from both sides; a tick in the record does not say that it is out.",
            "stop",
        )


def _not_both(ledger: Ledger, scene: Scene, place: EvidencePlace) -> Iterator[Problem]:
    """What people last saw there, each of them, that cannot both be true."""
    latest: dict[str, list[Look]] = {}
    for look in _looks(scene, place.id):
        same = latest.get(look.by, [])
        latest[look.by] = [*same, look] if same and same[-1].moment == look.moment else [look]
    said = [look for looks in latest.values() for look in looks if not _overtaken(scene, look)]
    closed = next((look for look in said if look.saw in SOLID_DOWEL), None)
    other = next((look for look in said if look.saw in OPEN), None)
    if closed is None or other is None:
        both = [looks for looks in latest.values() if len(looks) > 1 and _in_and_out(looks)]
        if not both:
            return
        closed, other = _in_and_out(both[0])
    yield Problem(
        "LB-T34",
        f'Place {place.label}: {ledger.who(closed.by)} saw "{closed.saw}", '
        f'{ledger.who(other.by)} saw "{other.saw}"; both cannot be.',
        f"place {place.label}",
        "Look there together: is it the same place, and what is in it?",
        "stop",
    )


def _overtaken(scene: Scene, look: Look) -> bool:
    return any(act.place == look.place and act.moment > look.moment for act in scene.evidence.acts)


def _in_and_out(looks: list[Look]) -> tuple[Look, ...]:
    """A look that saw something in and one that saw the hole empty, of one answer; none if they agree."""
    held = next((look for look in looks if look.saw in SOMETHING_IN), None)
    empty = next((look for look in looks if look.saw in (*NOTHING_IN, "out", *SOLID_DOWEL)), None)
    return (held, empty) if held is not None and empty is not None else ()
