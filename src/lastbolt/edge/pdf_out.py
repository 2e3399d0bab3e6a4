"""The report as PDF."""

from collections.abc import Mapping

from lastbolt.app.pages import ReportPage
from lastbolt.drawing.joint import joint_svg
from lastbolt.drawing.marks import mark_svg
from lastbolt.edge.png import size_of
from lastbolt.edge.typeset import typeset

CROP_DPI = 150.0
MM_PER_INCH = 25.4


def report_pdf(page: ReportPage, pictures: Mapping[str, bytes], foot: str) -> bytes:
    """The same page on A4; `pictures` holds a PNG per crop key. The same input gives the same bytes."""
    beside: dict[str, bytes] = {"joint.svg": joint_svg(page.picture).encode()}
    named: dict[str, dict[str, str | float]] = {}
    for number, (key, png) in enumerate(sorted(pictures.items())):
        if png:
            name = f"crop{number}.png"
            named[key] = {"file": name, "width_mm": size_of(png)[0] / CROP_DPI * MM_PER_INCH}
            beside[name] = png
    for number, (spot, _) in enumerate(page.legend):
        beside[f"mark{number}.svg"] = mark_svg(spot).encode()
    said = {name: getattr(page, name) for name in page.__struct_fields__}
    return typeset("report.typ", {"page": said, "crops": named, "foot": foot}, beside)
