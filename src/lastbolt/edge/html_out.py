"""The report as one self-contained HTML page. Every word of a source is escaped by the template engine."""

import base64
from collections.abc import Mapping
from importlib.resources import files

from lastbolt.app.pages import ReportPage
from lastbolt.drawing.joint import joint_svg
from lastbolt.drawing.marks import mark_svg


def report_html(page: ReportPage, pictures: Mapping[str, bytes], foot: str) -> bytes:
    """The page; `pictures` holds a PNG per crop key, and `foot` the last line."""
    import jinja2

    layout = files("lastbolt.edge") / "layout"
    engine = jinja2.Environment(autoescape=True, undefined=jinja2.StrictUndefined, trim_blocks=True)
    template = engine.from_string((layout / "report.html.j2").read_text(encoding="utf-8"))
    return template.render(
        page=page,
        css=(layout / "report.css").read_text(encoding="utf-8"),
        crops={key: _data_address(png) for key, png in pictures.items() if png},
        joint=joint_svg(page.picture),
        legend=[(mark_svg(spot), words) for spot, words in page.legend],
        foot=foot,
    ).encode()


def _data_address(png: bytes) -> str:
    return "data:image/png;base64," + base64.b64encode(png).decode()
