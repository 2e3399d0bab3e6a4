"""The way back as a sheet of paper, with the map of each joint."""

from collections.abc import Sequence

import msgspec

from lastbolt.app.refit_shown import RefitSheet
from lastbolt.drawing.order_map import order_svg
from lastbolt.edge.plain_text import plain_values
from lastbolt.edge.typeset import typeset
from lastbolt.words.torque_map import TorqueMap


def refit_pdf(sheet: RefitSheet, maps: Sequence[TorqueMap], foot: str) -> bytes:
    """The sheet on A4."""
    drawn = {f"map{number}.svg": order_svg(one).encode() for number, one in enumerate(maps)}
    return typeset("refit.typ", {"sheet": plain_values(msgspec.to_builtins(sheet)), "foot": foot}, drawn)
