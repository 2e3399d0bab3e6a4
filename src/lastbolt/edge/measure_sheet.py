"""The reading sheet on paper: to fill in by hand, or with what was read."""

import msgspec

from lastbolt.app.measure_shown import of_several, rows_shown, sentence, to_take
from lastbolt.drawing.readings_plot import readings_svg
from lastbolt.edge.plain_text import plain_values
from lastbolt.edge.typeset import typeset
from lastbolt.words.readings import Readings


def measure_pdf(readings: Readings, foot: str) -> bytes:
    """The sheet on A4; with readings their drawing comes first."""
    data = {
        "goal": readings.goal,
        "machine": readings.machine,
        "sentence": sentence(readings),
        "rows": msgspec.to_builtins(rows_shown(readings)),
        "several": [list(one) for one in of_several(readings)],
        "sheet": [msgspec.to_builtins(one) for one in to_take(readings) if int(one.number) in readings.open],
        "shims": msgspec.to_builtins(readings.shims),
        "foot": foot,
    }
    drawn = {"plot.svg": readings_svg(readings).encode()} if readings.decided else {}
    return typeset("measure.typ", plain_values(data), drawn)
