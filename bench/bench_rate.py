"""How often the tally would call a joint free that is held, in a made-up shop: `python -m bench rate`.

Every rate of a mistake in that shop is assumed (tests/shop/settings.py), so this is no safety figure. It
shows what more margin buys, and what one event that fools several witnesses costs. Unfiltered: every held
joint counts, whatever was said of it, also those where nobody erred. `python bench/bench_rate.py 600` looks
at more scenes.
"""

import sys
import time
from collections import Counter
from collections.abc import Iterator
from itertools import count
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path[:0] = [str(ROOT), str(ROOT / "tests")]

from bench.intervals import share_words  # noqa: E402
from lastbolt.tally.build import build_claims  # noqa: E402
from law.judge import costs_of  # noqa: E402
from shop import NoSuchScene, Scene, Settings, simulate  # noqa: E402
from shop.settings import RootKind  # noqa: E402

Row = tuple[str, str, str, str]
MARGINS = (1, 2, 3)
COMMON: frozenset[RootKind] = frozenset(
    {
        "did not look",
        "inherited misprint",
        "misreading",
        "engine not as its papers",
        "changed at a break",
        "broken head",
        "tray mixed or short",
    }
)
"""Mistakes that each spoil several statements at once."""
ARMS = {
    ("held", "with common causes"): Settings(held=True),
    ("held", "without common causes"): Settings(held=True, without=COMMON),
    ("free", "with common causes"): Settings(held=False),
}
"""Free joints too: a rule that hardly ever says "free" is hardly ever wrong when it does."""


def scenes(settings: Settings, first: int = 0) -> Iterator[Scene]:
    """Scenes of these settings, one seed after another; seeds that make none are left out."""
    for seed in count(first):
        try:
            yield simulate(seed, settings)
        except NoSuchScene:
            continue


def told_free(settings: Settings, seconds: float) -> tuple[int, Counter[int], int]:
    """Joints judged, how many of them are called free at each margin, and how many were not proved."""
    told, tried, unproved = Counter[int](), 0, 0
    end = time.perf_counter() + seconds
    for scene in scenes(settings):
        if time.perf_counter() > end:
            break
        tried += 1
        costs = costs_of(build_claims(scene.evidence))
        unproved += not costs.proved
        told.update(margin for margin in MARGINS if costs.told_free(margin))
    return tried, told, unproved


def main(seconds: float = 60.0) -> list[Row]:
    """The rows of the table, in about so many seconds."""
    rows: list[Row] = []
    for (sort, name), settings in ARMS.items():
        tried, told, unproved = told_free(settings, seconds / len(ARMS))
        for margin in MARGINS:
            what = f"rate: {sort} joints called free, margin {margin}, {name} (assumed rates)"
            mark = "no zero promised" if sort == "held" and margin == 2 else ""
            rows.append((what, share_words(told[margin], tried), "%", mark))
        if unproved:
            rows.append(
                (f"rate: joints not settled within the limits, {sort}, {name}", str(unproved), "", "")
            )
    return rows


if __name__ == "__main__":
    for row in main(float(sys.argv[1]) if len(sys.argv) > 1 else 60.0):
        print(*row, sep="  ")
