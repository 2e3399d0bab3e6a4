"""Takes one thing at a time out of what the builder emits and asks whether the decisive scenes notice.

    python bench/mutate_tally.py

What a mutant is and what counts as noticing stands in tests/property/mutants.py. Exit status 1 if a mutant
lives.
"""

import sys
from collections.abc import Callable
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path[:0] = [str(ROOT / "tests"), str(ROOT / "tests/property"), str(ROOT / "tests/property/tally")]

from mutants import Told, killer, mutations  # noqa: E402
from told_scenes import TOLD  # noqa: E402

RANDOM = 60


def scenes() -> list[Told]:
    """The decisive scenes of the everyday suite, and more told joints by chance."""
    from random_claims import any_scene, told_scene

    return [
        *TOLD,
        *(Told(f"told joint {n}", told_scene(n)) for n in range(RANDOM)),
        *(Told(f"any joint {n}", any_scene(n)) for n in range(RANDOM)),
    ]


def survivors(report: Callable[[str], None] = print) -> list[str]:
    """Mutants that no decisive scene notices."""
    told = scenes()
    unsure = [one.name for one in told if not one.decisive]
    report(f"{len(told) - len(unsure)} scenes; not decisive, unmutated builder and table differ: {unsure}")
    alive = []
    for name, mutate in mutations(told):
        by = killer(told, mutate)
        report(f"{'LIVES' if by is None else 'killed by ' + by.name:52} {name}")
        if by is None:
            alive.append(name)
    return alive


if __name__ == "__main__":
    sys.exit(1 if survivors() else 0)
