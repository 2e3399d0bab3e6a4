"""Halves that do not come together: what may keep them apart, the record's own hints first."""

from collections.abc import Iterable, Sequence

from lastbolt.refitting.refit_words import refit_words
from lastbolt.words.account import Account
from lastbolt.words.back_watch import Cause
from lastbolt.words.engine import Engine
from lastbolt.words.joint import A_DOWEL, Walk
from lastbolt.words.lengths import Odd

TURNED_IN = ("in", "stage", "final")


def causes(
    joint: str,
    account: Account,
    walks: Sequence[Walk] = (),
    engine: Engine | None = None,
    odd: Iterable[Odd] = (),
) -> tuple[Cause, ...]:
    """Every cause that is usual, in the usual order; those that the record speaks for come first."""
    hints = {
        "tightened": _turned_in(joint, account),
        "left in": [
            f"{one.count} {one.thing} {one.where}".strip() for one in account.left_in if one.count > 0
        ],
        "length": [*_odd_lengths(joint, walks, engine), *(one.words for one in odd)],
        "dowel": _dowels(joint, walks),
        "not back": [f"{one.part}: {one.state}" for one in account.things if one.state in ("off", "lost")],
        "gasket": [],
    }
    found = [
        Cause(one["what"], one["look"], tuple(hints.get(one["by"], ()))) for one in refit_words()["closing"]
    ]
    return tuple(sorted(found, key=lambda cause: not cause.because))


def _turned_in(joint: str, account: Account) -> list[str]:
    there = [one.label for one in account.places if one.joint == joint and one.state in TURNED_IN]
    return [f"turned in at {', '.join(there)}"] if there else []


def _odd_lengths(joint: str, walks: Sequence[Walk], engine: Engine | None) -> list[str]:
    places = {place.id for walk in walks if walk.joint == joint for place in walk.places}
    facts = engine.as_found if engine else ()
    return [fact.words for fact in facts if fact.what == "odd length" and fact.place in places]


def _dowels(joint: str, walks: Sequence[Walk]) -> list[str]:
    found: dict[str, None] = {}
    for walk in walks:
        if walk.joint != joint:
            continue
        labels = {place.id: place.label or place.id for place in walk.places}
        for round_ in walk.rounds:
            for answer in round_.answers:
                found |= {f"{saw} at {labels.get(answer.place, answer.place)}": None
                          for saw in answer.saw if saw in A_DOWEL}  # fmt: skip
        found |= {one.name: None for one in walk.holders if one.sort == "dowel"}
    return list(found)
