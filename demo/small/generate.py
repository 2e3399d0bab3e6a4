"""Write the small winch's manual.pdf and parts_list.csv: python -m demo.small.generate OUTDIR."""

from __future__ import annotations

import csv
import io
import sys
from pathlib import Path

from demo.press import manual_code, press
from demo.small import machine


def parts_csv() -> str:
    """The ten rows of the parts list as CSV text."""
    page = io.StringIO()
    writer = csv.writer(page, lineterminator="\n")
    writer.writerow(machine.HEAD)
    writer.writerows(machine.PARTS)
    return page.getvalue()


def generate(folder: Path) -> list[Path]:
    """The files written into the folder."""
    folder.mkdir(parents=True, exist_ok=True)
    manual, parts = folder / "manual.pdf", folder / "parts_list.csv"
    manual.write_bytes(press(manual_code(machine.TITLE, machine.EDITION, machine.FRONT, machine.CHAPTERS)))
    parts.write_text(parts_csv(), encoding="utf-8")
    return [manual, parts]


def main() -> int:
    """The exit status: 0 when the files were written."""
    if len(sys.argv) != 2:
        print("usage: python -m demo.small.generate OUTDIR", file=sys.stderr)
        return 2
    for path in generate(Path(sys.argv[1])):
        print(path)
    return 0


if __name__ == "__main__":
    sys.exit(main())
