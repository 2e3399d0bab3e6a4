"""The report as PDF, set by typst. Words of sources go in as data, never as markup."""

import tempfile
from collections.abc import Mapping
from importlib.resources import files
from pathlib import Path

import msgspec

from lastbolt.app.pages import ReportPage
from lastbolt.drawing.joint import joint_svg
from lastbolt.drawing.marks import mark_svg
from lastbolt.edge.png import size_of

CROP_DPI = 150.0
MM_PER_INCH = 25.4


def report_pdf(page: ReportPage, pictures: Mapping[str, bytes], foot: str) -> bytes:
    """The same page on A4; `pictures` holds a PNG per crop key. The same input gives the same bytes."""
    import typst

    template = (files("lastbolt.edge") / "layout" / "report.typ").read_bytes()
    with tempfile.TemporaryDirectory() as folder:
        root = Path(folder)
        (root / "report.typ").write_bytes(template)
        named: dict[str, dict[str, str | float]] = {}
        for number, (key, png) in enumerate(sorted(pictures.items())):
            if png:
                name = f"crop{number}.png"
                named[key] = {"file": name, "width_mm": size_of(png)[0] / CROP_DPI * MM_PER_INCH}
                (root / name).write_bytes(png)
        (root / "joint.svg").write_text(joint_svg(page.picture), encoding="utf-8")
        for number, (spot, _) in enumerate(page.legend):
            (root / f"mark{number}.svg").write_text(mark_svg(spot), encoding="utf-8")
        data = {
            "page": {name: getattr(page, name) for name in page.__struct_fields__},
            "crops": named,
            "foot": foot,
        }
        (root / "data.json").write_bytes(msgspec.json.encode(data))
        made = typst.compile(root / "report.typ", root=root)
    if not isinstance(made, bytes):
        raise TypeError("typst gave several documents for one report")
    return made
