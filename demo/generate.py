"""Write the Q222's manual.pdf, parts_list.pdf and parts_list.csv: python -m demo.generate OUTDIR."""

from __future__ import annotations

import csv
import io
import sys
from pathlib import Path

from demo.blocks import Table as Sheet
from demo.blocks import flow, literal
from demo.drawings.scene import called_out
from demo.machine.book import chapters
from demo.machine.parts import FIGURES, PartsFigure
from demo.press import manual_code, press

HEAD = ("figure", "figure_title", "item", "part_number", "description", "qty", "remarks")
MANUAL_TITLE = "Q222 Irrigation pump engine · Service manual"
MANUAL_EDITION = "Quenmoor Pump Works · SM-Q222 · Edition 3"
PARTS_TITLE = "Q222 Irrigation pump engine · Parts list"
PARTS_EDITION = "Quenmoor Pump Works · PL-Q222 · Edition 4"
TEXTS = Path(__file__).parent / "machine"


def manual_pdf() -> bytes:
    """The service manual."""
    front = (TEXTS / "front_manual.typ").read_text(encoding="utf-8")
    return press(manual_code(MANUAL_TITLE, MANUAL_EDITION, front, chapters()))


def _parts_page(figure: PartsFigure) -> str:
    """One figure of the parts list with its table, as Typst code."""
    drawing = called_out(figure.make, figure.scale, tuple((row.item, row.spot) for row in figure.rows))
    table = Sheet(
        "",
        ("14mm", "28mm", "1fr", "12mm", "44mm"),
        ("Item", "Part number", "Description", "Qty", "Remarks"),
        tuple((r.item, r.part_number, r.description, r.quantity, r.remarks) for r in figure.rows),
        True,
    )
    title = literal(figure.title)
    return f"#{{\nparts-figure({literal(figure.number)}, {title}, {drawing.typst()})\n{flow((table,))}\n}}\n"


def parts_pdf() -> bytes:
    """The illustrated parts list."""
    front = (TEXTS / "front_parts.typ").read_text(encoding="utf-8")
    body = "".join(_parts_page(figure) for figure in FIGURES)
    return press(
        '#import "style.typ": *\n'
        f"#show: parts-list.with(title: {literal(PARTS_TITLE)}, edition: {literal(PARTS_EDITION)})\n"
        f"{front}\n{body}"
    )


def parts_csv() -> str:
    """The parts list as CSV text: the same rows."""
    page = io.StringIO()
    writer = csv.writer(page, lineterminator="\n")
    writer.writerow(HEAD)
    for figure in FIGURES:
        for row in figure.rows:
            writer.writerow(
                (
                    figure.number,
                    figure.title,
                    row.item,
                    row.part_number,
                    row.description,
                    row.quantity,
                    row.remarks,
                )
            )
    return page.getvalue()


def generate(folder: Path) -> list[Path]:
    """The files written into the folder."""
    folder.mkdir(parents=True, exist_ok=True)
    manual, parts, table = (folder / name for name in ("manual.pdf", "parts_list.pdf", "parts_list.csv"))
    manual.write_bytes(manual_pdf())
    parts.write_bytes(parts_pdf())
    table.write_text(parts_csv(), encoding="utf-8")
    return [manual, parts, table]


def main() -> int:
    """The exit status: 0 when the files were written."""
    if len(sys.argv) != 2:
        print("usage: python -m demo.generate OUTDIR", file=sys.stderr)
        return 2
    for path in generate(Path(sys.argv[1])):
        print(path)
    return 0


if __name__ == "__main__":
    sys.exit(main())
