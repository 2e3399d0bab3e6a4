"""Makes the manual of a style: sets it until no page number moves any more."""

from __future__ import annotations

import importlib
import importlib.util
from dataclasses import dataclass, field
from pathlib import Path

from styles.build import Builder
from styles.press import press
from styles.truth import Truth

OPEN_STYLES = (
    "style_1", "style_2", "style_3", "style_4", "style_5", "style_9", "style_10", "style_11", "style_12",
    "style_13", "style_14", "style_15",
)  # fmt: skip
FLOWING = ("style_9", "style_10")
"""Set with ReportLab: left out where it is not installed."""
HELD_OUT = ("style_6", "style_7", "style_8")
MOST_PASSES = 5


@dataclass(frozen=True)
class Manual:
    """A made manual: its PDF and what it truly says."""

    style: str
    seed: int
    pdf: bytes = field(repr=False)
    truth: Truth = field(repr=False)


def styles() -> tuple[str, ...]:
    """The styles there are, held-out ones last."""
    return tuple(name for name in (*OPEN_STYLES, *HELD_OUT) if _find(name))


def _find(style: str) -> bool:
    spec = importlib.util.find_spec(_module(style))
    return spec is not None and (style not in FLOWING or importlib.util.find_spec("reportlab") is not None)


def _module(style: str) -> str:
    return f"styles.held_out.{style}" if style in HELD_OUT else f"styles.{style}"


def make(style: str, seed: int) -> Manual:
    """The manual of a style from a seed, the same every time."""
    module = importlib.import_module(_module(style))
    look = Path(str(module.__file__)).with_suffix(".typ")
    setting = getattr(module, "press", press)
    pages: dict[str, int] = {}
    for _ in range(MOST_PASSES):
        house = module.HOUSE(seed)
        book = Builder(f"{house.name}/{seed}", house.lexicon, house.swap, house.nested).book()
        calls, truth = module.SETTER(house, book, pages).compose()
        pdf, stand = setting(calls, look)
        if stand == pages:
            return Manual(style, seed, pdf, truth)
        pages = stand
    raise RuntimeError(f"{style}, seed {seed}: the pages do not come to rest")
