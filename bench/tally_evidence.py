"""A made-up large joint as `Evidence`: what two people and one maker's papers say of 60 places.

Everything here is invented and only serves to measure time.
"""

import random

from lastbolt.words.evidence import (
    Evidence,
    EvidencePlace,
    Line,
    ListRead,
    Look,
    Printed,
    RoundMade,
    StepSaid,
    TrayCount,
)
from lastbolt.words.quantity import Kind, exactly

THREADS = ("M6", "M8", "M10", "M12")
LENGTHS_MM = range(20, 120, 10)
STRETCH = 10
"""Places that one step names."""


def big_evidence(misprints: int, unseen: int, seed: int = 1) -> Evidence:
    """60 places and 40 lines; so many printed quantities one too high, so many places nobody looked at."""
    chance = random.Random(seed)
    kinds = [Kind("screw", thread, float(length)) for thread in THREADS for length in LENGTHS_MM]
    places = [str(number + 1) for number in range(60)]
    line_at = {place: chance.randrange(len(kinds)) for place in places}
    fitted = [sum(1 for place in places if line_at[place] == line) for line in range(len(kinds))]
    wrong = set(chance.sample(range(1, len(kinds), 2), misprints))
    lines = tuple(
        Line(
            f"l{number}",
            kind,
            (Printed(exactly(fitted[number] + (number in wrong)), "Parts list", "maker"),),
            "wholly" if number % 2 else "maybe",
            "step" if number % 2 else "",
            words=f"figure 3, item {number + 1}",
        )
        for number, kind in enumerate(kinds)
    )
    looked = places[: len(places) - unseen]
    steps = tuple(
        StepSaid(
            f"s{number}", None, None, exactly(STRETCH), "Manual", "maker",
            tuple(places[STRETCH * number : STRETCH * (number + 1)]), "done", "A", 1, f"step {number + 1}",
        )
        for number in range(len(places) // STRETCH)
    )  # fmt: skip
    return Evidence(
        "large joint",
        tuple(EvidencePlace(place, place, kinds[line_at[place]]) for place in places),
        lines,
        (ListRead("Parts list", "maker"),),
        looks=tuple(Look(person, place, "out", True, 1) for person in "AB" for place in looked),
        rounds=(RoundMade("A", 1), RoundMade("B", 1)),
        counts=tuple(TrayCount("B", kinds[n], fitted[n], 2) for n in range(len(kinds)) if fitted[n]),
        steps=steps,
        people=(("A", "Ann"), ("B", "Ben")),
    )
