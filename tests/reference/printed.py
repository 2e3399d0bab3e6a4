"""Pages with numbered steps, printed by reportlab and read by the command: the model as it stands in its
file."""

import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from reportlab.pdfgen import canvas

from lastbolt.cli.main import main

ON_A_PAGE = 40


def read_lines(folder: Path, lines: Sequence[str], title: str = "Removal of the cover") -> dict[str, Any]:
    """The model of a manual with one section, whose lines stand below each other."""
    sheet = canvas.Canvas(str(folder / "manual.pdf"), pagesize=(595, 842))
    sheet.setFont("Helvetica-Bold", 18)
    sheet.drawString(50, 800, "4 Cover")
    sheet.setFont("Helvetica-Bold", 14)
    sheet.drawString(50, 770, f"4.1 {title}")
    for number, line in enumerate(lines):
        if number and number % ON_A_PAGE == 0:
            sheet.showPage()
        sheet.setFont("Helvetica", 10)
        sheet.drawString(50, 740 - 17 * (number % ON_A_PAGE), line)
    sheet.save()
    return read_file(folder, "manual.pdf")


def read_file(folder: Path, name: str) -> dict[str, Any]:
    """The model of one file."""
    assert main(["read", str(folder / name), "--out", str(folder / "model.json")]) in {0, 1}
    return dict(json.loads((folder / "model.json").read_text("utf-8")))


def steps_of(model: dict[str, Any]) -> list[dict[str, Any]]:
    """All steps of the model, in order."""
    return [step for one in model.get("procedures", ()) for step in one["steps"]]
