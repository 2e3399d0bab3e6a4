"""`make bench`: every figure in one table. `python -m bench start plan` runs only those parts."""

import importlib
import sys
import time

PARTS = ("start", "plan", "tally", "read", "back", "record", "rate", "use", "styles")


def main(wanted: list[str]) -> int:
    """Run the parts, print their rows as they come; 1 when a part failed."""
    failed = False
    print(f"{'what':<72} {'value':>24} {'unit':<10} mark")
    for part in wanted or PARTS:
        began = time.perf_counter()
        try:
            rows = importlib.import_module(f"bench.bench_{part}").main()
        except Exception as error:  # the other parts are still worth printing
            print(f"{part}: {type(error).__name__}: {error}")
            failed = True
            continue
        for what, value, unit, mark in rows:
            print(f"{what:<72} {value:>24} {unit:<10} {mark}", flush=True)
        print(f"  ({part}: {time.perf_counter() - began:.0f} s)")
    return int(failed)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
