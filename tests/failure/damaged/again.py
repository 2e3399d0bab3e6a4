"""Try single inputs again by hand: `python -m failure.damaged.again KIND [FIRST [LAST]]`, from the folder
tests."""

import shutil
import sys
import tempfile
import time
from pathlib import Path

from failure.damaged.judge import Bench
from failure.damaged.kinds import KINDS


def main(words: list[str]) -> None:
    """Print the faults of the kind's inputs, and the seconds each took; kinds by the begin of their name."""
    first = int(words[1]) if len(words) > 1 else 0
    last = int(words[2]) if len(words) > 2 else first
    folder = Path(tempfile.mkdtemp())
    bench = Bench(folder)
    try:
        for kind in (one for one in KINDS if one.name.startswith(words[0])):
            took, used = [], bench.cpu_s
            for number in range(first, last + 1):
                began = time.monotonic()
                for fault in bench.faults(kind, number):
                    print("  FAULT", fault, flush=True)
                took.append(time.monotonic() - began)
            cpu_s = (bench.cpu_s - used) / len(took)
            print(
                f"{kind.name}: {cpu_s:.2f} processor seconds each, at most {max(took):.2f} s in all",
                flush=True,
            )
    finally:
        bench.court.close()
        shutil.rmtree(folder, ignore_errors=True)


if __name__ == "__main__":
    main(sys.argv[1:])
