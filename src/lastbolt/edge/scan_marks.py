"""Small numbers that a reader of whole lines passes over: callouts in drawings, marks of steps in the margin.

Every piece of ink of a figure's height that no word covers is looked at once more, on its own.
"""

import re
from collections.abc import Iterable
from typing import Any

import cv2
import numpy as np
import tesserocr

from lastbolt.edge.scan_picture import Grey

Pixels = tuple[int, int, int, int]
"""Left, top, right, bottom."""

_MARK = re.compile(r"^\(?\d{1,3}[A-Za-z]?[.)]?$")
_LEAST_SURE = 70.0
_MOST_PIECES = 250
_MARGIN_PX = 8


def marks_left(
    engine: Any, picture: Grey, words: Iterable[Pixels], cap_px: float
) -> list[tuple[str, float, Pixels]]:
    """Text, how sure (0 to 100), and box of each small number that no word covers."""
    pieces = list(_pieces(picture, words, cap_px))[:_MOST_PIECES]
    if not pieces:
        return []
    engine.SetPageSegMode(tesserocr.PSM.SINGLE_LINE)
    try:
        return [found for box in pieces if (found := _read(engine, picture, box)) is not None]
    finally:
        engine.SetPageSegMode(tesserocr.PSM.AUTO)


def _pieces(picture: Grey, words: Iterable[Pixels], cap_px: float) -> Iterable[Pixels]:
    """Boxes of ink as tall as a figure, letters that stand close together as one."""
    ink = cv2.threshold(picture, 0, 255, cv2.THRESH_BINARY_INV + cv2.THRESH_OTSU)[1]
    for left, top, right, bottom in words:
        ink[top:bottom, left:right] = 0
    _, labels, stats, _ = cv2.connectedComponentsWithStats(ink)
    kept = np.zeros(len(stats), np.uint8)
    for number, (_, _, wide, high, area) in enumerate(stats[1:], start=1):
        as_figure = 0.7 * cap_px <= high <= 1.6 * cap_px and wide <= 1.6 * high and area >= 0.12 * wide * high
        dot = high < 0.4 * cap_px and wide < 0.4 * cap_px and area > 4
        kept[number] = 255 if as_figure else 60 if dot else 0
    mask = kept[labels]
    near = max(3, round(0.55 * cap_px))
    joined = cv2.morphologyEx(mask, cv2.MORPH_CLOSE, np.ones((1, near), np.uint8))
    for left, top, wide, high, _ in cv2.connectedComponentsWithStats((joined > 0).astype(np.uint8))[2][1:]:
        strong = (mask[top : top + high, left : left + wide] == 255).any()
        if strong and high >= 0.7 * cap_px and wide <= 4.5 * cap_px:
            yield int(left), int(top), int(left + wide), int(top + high)


def _read(engine: Any, picture: Grey, box: Pixels) -> tuple[str, float, Pixels] | None:
    left, top, right, bottom = box
    piece = cv2.copyMakeBorder(
        picture[top:bottom, left:right], *(_MARGIN_PX,) * 4, cv2.BORDER_CONSTANT, value=(255,)
    )
    height, width = piece.shape
    engine.SetImageBytes(piece.tobytes(), width, height, 1, width)
    text, sure = engine.GetUTF8Text().strip(), float(engine.MeanTextConf())
    return (text, sure, box) if sure >= _LEAST_SURE and _MARK.match(text) else None
