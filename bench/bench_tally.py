"""Seconds that each stage of the tally takes on made-up large joints: `python bench/bench_tally.py`."""

import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

sys.path.insert(0, str(Path(__file__).parent))

from tally_case import Size, big_case
from tally_evidence import big_evidence

from lastbolt.app.tally_joint import tally_joint
from lastbolt.tally.next_check import advise
from lastbolt.tally.solve import solve
from lastbolt.words.claims import Answer, Cause, Check, Claim, ClaimSet

T = TypeVar("T")
SIZES = {
    "no mistake": Size(mistakes=0),
    "3 mistakes": Size(),
    "3 mistakes, no two places alike": Size(unlike=True),
    "5 mistakes, no two places alike": Size(unlike=True, mistakes=5),
    "all lines tied, no mistake": Size(mistakes=0, tied_share=1.0),
    "all lines tied, no mistake, no two alike": Size(mistakes=0, tied_share=1.0, unlike=True),
    "all lines tied, 1 mistake, no two alike": Size(mistakes=1, tied_share=1.0, unlike=True),
    "all lines tied, 3 mistakes": Size(tied_share=1.0),
    "4 mistakes, three people": Size(mistakes=4, tied_share=1.0, counters="C", more_rounds="C"),
    "4 mistakes, three people, no two places alike": Size(
        mistakes=4, tied_share=1.0, counters="C", more_rounds="C", unlike=True
    ),
    "120 places, 60 lines, 3 mistakes": Size(places=120, lines=60),
}


def timed(work: Callable[[], T]) -> tuple[float, T]:
    """Seconds and result."""
    start = time.perf_counter()
    result = work()
    return time.perf_counter() - start, result


def looks(claims: ClaimSet) -> list[Check]:
    """A third person's look at every place, as candidate checks."""
    checks = []
    for claim in claims.claims:
        if claim.kind != "room":
            continue
        place = claim.id.split()[1]
        answers = []
        for saw in ("in", "out"):
            terms = tuple(t for t in claim.terms if t[0].startswith(saw))
            cause = Cause(f"misjudged C {place}", "misjudged", 1, 0.02)
            own = (cause.id, f"broken {place}")
            new = Claim(f"look C {place}", "look", terms, "=", 1, own)
            answers.append(Answer(saw, (new,), (cause,)))
        checks.append(Check(f"C looks at {place}", 1.0, tuple(answers)))
    return checks


Row = tuple[str, str, str, str]


def main() -> list[Row]:
    """Rows of (what, value, unit, mark): `solve` on claims, then whole answers from evidence."""
    rows: list[Row] = []
    for name, size in SIZES.items():
        claims = big_case(size)
        seconds, account = timed(lambda claims=claims: solve(claims))  # type: ignore[misc]
        assert account.proved
        groups = len(account.free) + len(account.held)
        found = f"F {account.free_cost}, G {account.held_cost} proved, {groups} groups, {account.verdict}"
        large = size.places > 60
        rows.append((f"tally: {name}: {found}", f"{seconds:.2f}", "s", "" if large else "at most 1"))
        if not large:
            seconds, _ = timed(lambda c=claims, a=account: advise(c, a, looks(c)))  # type: ignore[misc]
            rows.append((f"tally: {name}: worth of 60 looks", f"{seconds:.2f}", "s", ""))
    for misprints, unseen in ((0, 0), (0, 1), (3, 1), (1, 8)):
        evidence = big_evidence(misprints, unseen)
        seconds, answer = timed(lambda evidence=evidence: tally_joint(evidence))  # type: ignore[misc]
        what = f"tally: whole answer, {misprints} misprints, {unseen} of 60 places unseen: {answer.verdict}"
        costs = f"F {answer.mistakes_if_free}, G {answer.mistakes_if_held}"
        rows.append((f"{what}, {costs}", f"{seconds:.2f}", "s", "at most 2"))
    return rows


if __name__ == "__main__":
    for row in main():
        print(*row, sep="  ")
