"""How long `lastbolt --help` takes over the bare interpreter, paired run by run."""

import statistics
import subprocess
import sys
import time

RUNS = 21


def _seconds(*command: str) -> float:
    began = time.perf_counter()
    subprocess.run([sys.executable, *command], check=True, stdout=subprocess.DEVNULL)
    return time.perf_counter() - began


def main() -> list[tuple[str, str, str, str]]:
    """Rows of (what, value, unit, mark)."""
    pairs = [(_seconds("-c", "pass"), _seconds("-m", "lastbolt", "--help")) for _ in range(RUNS)]
    more_ms = statistics.median(helped - bare for bare, helped in pairs) * 1000
    return [("lastbolt --help, over the bare interpreter", f"{more_ms:.0f}", "ms", "at most 100")]


if __name__ == "__main__":
    print(main())
