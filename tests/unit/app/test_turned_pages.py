"""Boxes on pages that were read turned stand on the page as displayed, those of a legend too."""

import pytest

from lastbolt.app.turned_pages import with_pages_turned_back
from lastbolt.reading.sideways import turned_box
from lastbolt.words.citation import Box, Citation, PdfPlace
from lastbolt.words.machine import MODEL_SCHEMA, Callout, Figure, LegendLine, Machine

SHOWN: Box = (0.1, 0.2, 0.3, 0.25)


@pytest.mark.parametrize("turn", [90, 180, 270])
def test_every_box_of_a_figure_is_turned_back(turn: int) -> None:
    read = turned_box(SHOWN, turn)
    cite = Citation("b", PdfPlace(3, box=read), "2 Bolt, 4 off")
    figure = Figure(
        "b/fig/1", "1", "Cover", "b", PdfPlace(3, box=read), (Callout("2", read),),
        legend_lines=(LegendLine(("2",), "Bolt", citations=(cite,)),),
    )  # fmt: skip
    (back,) = with_pages_turned_back(Machine(MODEL_SCHEMA, "m", figures=(figure,)), {("b", 3): turn}).figures
    places = [back.place, *(c.place for line in back.legend_lines for c in line.citations)]
    boxes = [place.box for place in places if isinstance(place, PdfPlace)]
    assert len(boxes) == 2
    for box in (*boxes, *(callout.box for callout in back.callouts)):
        assert box == pytest.approx(SHOWN, abs=1e-3)
