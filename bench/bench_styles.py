"""How well manuals of many house styles are read; they are made from source, so every truth is known.

`python -m bench styles` prints the rows; `python -m bench.bench_styles --misses style_1` what was missed,
with its page (the open styles only: of the held-out ones nobody who writes rules sees more than totals).
"""

import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT / "tests"))

from lastbolt.cli.read import read_files  # noqa: E402
from lastbolt.words.problem import Refusal  # noqa: E402
from styles.counts import Score  # noqa: E402
from styles.made import HELD_OUT, OPEN_STYLES, make, styles  # noqa: E402
from styles.score import score  # noqa: E402

SEEDS = (1, 2, 3)
MARK = ">= 0.99"


def score_of(style: str, seeds: tuple[int, ...] = SEEDS) -> Score:
    """The score of a style, its manuals added up."""
    total = Score()
    with tempfile.TemporaryDirectory() as folder:
        for seed in seeds:
            manual = make(style, seed)
            path = Path(folder) / f"{style}_{seed}.pdf"
            path.write_bytes(manual.pdf)
            try:
                machine = read_files([path]).machine
            except Refusal as refusal:
                raise RuntimeError(f"{style}, seed {seed}: {refusal}") from refusal
            total.add(score(machine, manual.truth))
    return total


def rows_of(name: str, total: Score) -> list[tuple[str, str, str, str]]:
    """The rows of one style, or of several added up."""
    rows = []
    for kind, count in total.counts.items():
        if not count.true:
            continue
        words = f"{count.precision:.3f} {count.recall:.3f} {count.f1:.3f}"
        rows.append((f"{name}: {kind}: precision recall F1", words, f"{count.true} true", MARK))
    true = total.counts["references"].true
    rows.append(
        (f"{name}: references silently missed or led elsewhere", str(total.silent), f"of {true}", "0")
    )
    unflagged = "of these, on a page not marked unexplained"
    rows.append((f"{name}: {unflagged}", str(total.unflagged), f"of {true}", "0"))
    rows.append((f"{name}: of these, led elsewhere", str(total.wrong), f"of {true}", "0"))
    share = total.doubtful / total.led if total.led else 0.0
    rows.append((f"{name}: share of rightly led references marked doubtful", f"{share:.3f}", "", ""))
    return rows


def main() -> list[tuple[str, str, str, str]]:
    """Rows of (what, value, unit, mark): each open style, and the held-out ones only all together."""
    rows: list[tuple[str, str, str, str]] = []
    held = Score()
    for style in styles():
        total = score_of(style)
        if style in HELD_OUT:
            held.add(total)
        else:
            rows += rows_of(style, total)
    if held.counts:
        rows += rows_of("held out", held)
    return rows


def misses(style: str, seeds: tuple[int, ...] = SEEDS[:1]) -> int:
    """Print what was missed in an open style; 2 for any other."""
    if style not in OPEN_STYLES:
        print(f"{style}: not an open style ({', '.join(OPEN_STYLES)}). Of the others only totals are shown.")
        return 2
    for one in score_of(style, seeds).misses:
        print(f"{one.kind:<12} page {one.page:>3}  {one.section[:38]:<38}  {one.what:<42} {one.words}")
    return 0


if __name__ == "__main__":
    if sys.argv[1:2] == ["--misses"]:
        sys.exit(misses(*sys.argv[2:3]))
    for row in main():
        print(row)
