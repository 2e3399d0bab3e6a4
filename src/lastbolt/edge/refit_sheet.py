"""The way back as PDF, set by typst. Words of sources go in as data, never as markup."""

import tempfile
from collections.abc import Sequence
from importlib.resources import files
from pathlib import Path

import msgspec

from lastbolt.app.refit_shown import RefitSheet
from lastbolt.drawing.order_map import order_svg
from lastbolt.edge.plain_text import plain_values
from lastbolt.words.torque_map import TorqueMap


def refit_pdf(sheet: RefitSheet, maps: Sequence[TorqueMap], foot: str) -> bytes:
    """The sheet on A4, with the map of each joint. The same input gives the same bytes."""
    import typst

    with tempfile.TemporaryDirectory() as folder:
        root = Path(folder)
        (root / "refit.typ").write_bytes((files("lastbolt.edge") / "layout" / "refit.typ").read_bytes())
        for number, one in enumerate(maps):
            (root / f"map{number}.svg").write_text(order_svg(one), encoding="utf-8")
        said = plain_values(msgspec.to_builtins(sheet))
        (root / "data.json").write_bytes(msgspec.json.encode({"sheet": said, "foot": foot}))
        made = typst.compile(root / "refit.typ", root=root)
    if not isinstance(made, bytes):
        raise TypeError("typst gave several documents for one sheet")
    return made
