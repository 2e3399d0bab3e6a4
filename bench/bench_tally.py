"""Seconds that each stage of the tally takes on made-up large joints: `python bench/bench_tally.py`."""

import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

sys.path.insert(0, str(Path(__file__).parent))

from tally_case import Size, big_case

from lastbolt.tally.exchange import Exchange
from lastbolt.tally.model import small_model
from lastbolt.tally.next_check import advise
from lastbolt.tally.oracle import FREE, Oracle
from lastbolt.tally.search import Search
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
    "120 places, 60 lines, 3 mistakes": Size(places=120, lines=60),
}


def timed(stage: str, work: Callable[[], T]) -> T:
    """What `work` returns, after printing how long it took."""
    start = time.perf_counter()
    result = work()
    print(f"  {stage:<28}{time.perf_counter() - start:8.3f} s")
    return result


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


def main() -> None:
    """Print the stages for each size."""
    import highspy

    print(f"HiGHS {highspy.Highs().version()}")  # type: ignore[no-untyped-call]
    for name, size in SIZES.items():
        claims = big_case(size)
        counts = (len(claims.unknowns), len(claims.claims), len(claims.causes))
        print("{}: {} unknowns, {} claims, {} causes".format(name, *counts))
        model = timed("small model", lambda claims=claims: small_model(claims))
        exchange = timed("exchanges", lambda model=model: Exchange(model))
        search = Search(Oracle(model, 60), exchange)
        free = timed("F proved", lambda search=search: search.least([FREE], 10**6))
        held = timed("G proved", lambda search=search: search.least(search.sides_of_held(), 10**6))
        account = timed("all: account", lambda claims=claims: solve(claims))
        costs = f"F {free[0] if free else None}, G {held[0] if held else None}: {account.verdict}"
        print(f"  {costs}; groups {len(account.free)} + {len(account.held)}, {len(model.columns)} columns")
        if account.limits:
            print(f"  limits {account.limits}")
        if (proof := account.certificate) is not None:
            named = sum(len(p.holders) for p in (*proof.proofs, *proof.crossing))
            counts = f"{len(proof.proofs)} disjoint, {len(proof.crossing)} crossing proofs"
            print(f"  {counts}, {len(claims.holders) - named} holders left to search")
        advice = timed("advice on 60 looks", lambda c=claims, a=account: advise(c, a, looks(c)))
        print(f"  best: {advice[0].check}, margin then {advice[0].margin_if_free}")


if __name__ == "__main__":
    main()
