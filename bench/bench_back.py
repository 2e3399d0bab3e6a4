"""The way back: lengths assigned and ordered, dimensions decided: `python -m bench back`.

The case is made up: 40 bosses of four thicknesses, 12 lengths, five pieces of each, places on a rim and
inside it. Seconds are the least of several runs in one process.
"""

import random
import time

from lastbolt.measuring.decide import Limits, decide
from lastbolt.refitting.lengths import place_lengths
from lastbolt.tightening.order import At, tightening_order
from lastbolt.tightening.scatter import scatter_of
from lastbolt.words.lengths import Boss, Pieces

BOSSES, RUNS, DECISIONS = 40, 7, 20_000
LENGTHS_MM = (20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0, 55.0, 60.0, 70.0, 80.0, 90.0)


def main() -> list[tuple[str, str, str, str]]:
    """The rows of the table."""
    least = min(_assigned() for _ in range(RUNS))
    rate = max(_decided() for _ in range(RUNS))
    low, high = scatter_of("torque wrench").low, scatter_of("torque wrench").high
    return [
        (
            f"{BOSSES} bosses, {len(LENGTHS_MM)} lengths assigned and ordered",
            f"{least * 1000:.1f}",
            "ms",
            "<= 200",
        ),
        ("dimensional decisions, one process", f"{rate:,.0f}", "per second", ">= 10,000"),
        ("preload scatter of a torque wrench beside any order", f"{low:.0%} to {high:.0%}", "", "shown"),
    ]


def _assigned() -> float:
    chance = random.Random(7)
    lengths = [chance.choice(LENGTHS_MM) for _ in range(BOSSES)]
    bosses = [
        Boss(f"p{n}", "M8", grip_mm=length - chance.choice((14.0, 16.0, 18.0)), thread_mm=20.0,
             needed_mm=12.0, said_mm=length)
        for n, length in enumerate(lengths)
    ]  # fmt: skip
    places = [At(f"p{n}", chance.uniform(0, 300), chance.uniform(0, 200), 8.0) for n in range(BOSSES)]
    pieces = [Pieces("M8", length, 5) for length in LENGTHS_MM]
    began = time.perf_counter()
    place_lengths(bosses, pieces)
    tightening_order(places)
    return time.perf_counter() - began


def _decided() -> float:
    chance = random.Random(7)
    limits = Limits(19.98, 20.02)
    readings = [(chance.uniform(19.96, 20.04), chance.uniform(0.001, 0.01)) for _ in range(DECISIONS)]
    began = time.perf_counter()
    for value, uncertainty in readings:
        decide(value, limits, uncertainty)
    return DECISIONS / (time.perf_counter() - began)
