"""The picture of a scanned page made fit for reading letters: clean, upright, and what is drawn on it.

Clean-up (median filter, division by the background, light blur) mattered more than the engine in trials.
"""

from typing import Any, NamedTuple

import cv2
import numpy as np

from lastbolt.words.page import Drawn

Grey = Any
"""Rows of 8-bit grey values, 255 paper, as a numpy array."""

_MOST_SKEW_DEG = 4.0
_LEAST_SKEW_DEG = 0.05
_RULE_PART = 0.06
"""A straight stroke is a drawn rule from this part of the page's width on."""
_FIGURE_PART = 0.015
"""Ink that hangs together over this part of the page is a drawing."""
_EDGE = 0.015
_MOST_RULES = 400
_RULE_CONTRAST = 18
"""By how much a rule is darker than the paper round it (tried out)."""
_BLACK = 60.0
_PAPER = 215.0
"""Grey values that count as full ink and as bare paper, after the shade was taken out (tried out)."""


class ScanPicture(NamedTuple):
    """A page made fit: for reading letters, for finding drawn lines, and the turn that put it upright."""

    letters: Grey
    lines: Grey
    turn_deg: float


def made_fit(grey: Grey) -> ScanPicture:
    """The page cleaned and with its lines of text level; turns of up to 4 degrees either way are found.

    Cleaning takes hairlines with the specks, so drawn lines are looked for without it.
    """
    letters = cleaned(grey)
    turn = _skew_deg(letters)
    if abs(turn) < _LEAST_SKEW_DEG:
        return ScanPicture(letters, grey, 0.0)
    return ScanPicture(turned(letters, turn), turned(grey, turn), turn)


def cleaned(grey: Grey) -> Grey:
    """The page with even white paper: specks gone, shade and print of the other side taken out."""
    calm = cv2.medianBlur(grey, 3)
    kernel = max(31, grey.shape[1] // 40 | 1)
    paper = cv2.medianBlur(cv2.dilate(calm, np.ones((9, 9), np.uint8)), min(kernel, 255))
    flat = cv2.divide(calm, np.maximum(paper, 1), scale=255)
    ink = cv2.GaussianBlur(flat, (0, 0), 0.7)
    # What shows through from the other side is paler than any print.
    spread = (ink.astype(np.float32) - _BLACK) * (255 / (_PAPER - _BLACK))
    return np.clip(spread, 0, 255).astype(np.uint8)


def turned(picture: Grey, turn_deg: float) -> Grey:
    """The picture turned about its middle, paper white where there was none."""
    height, width = picture.shape
    matrix = cv2.getRotationMatrix2D((width / 2, height / 2), turn_deg, 1.0)
    return cv2.warpAffine(picture, matrix, (width, height), flags=cv2.INTER_CUBIC, borderValue=(255,))


def _skew_deg(picture: Grey) -> float:
    """The turn that makes the rows of ink stand out most: coarse first, then fine."""
    height, width = picture.shape
    scale = min(1.0, 1000 / max(height, width))
    small = cv2.resize(picture, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA)
    # Turning blurs specks a little; blurred beforehand, they do not speak for the page as it lies.
    ink = cv2.GaussianBlur(255 - small, (0, 0), 1.2).astype(np.float32)
    best = 0.0
    for reach, step in ((_MOST_SKEW_DEG, 0.5), (0.5, 0.1), (0.1, 0.02)):
        turns = np.arange(best - reach, best + reach + step / 2, step)
        best = float(max(turns, key=lambda turn: _sharpness(ink, float(turn))))
    return best


def _sharpness(ink: Grey, turn_deg: float) -> float:
    height, width = ink.shape
    matrix = cv2.getRotationMatrix2D((width / 2, height / 2), turn_deg, 1.0)
    rows = cv2.warpAffine(ink, matrix, (width, height), flags=cv2.INTER_LINEAR).sum(axis=1)
    return float(np.square(np.diff(rows)).sum())


def drawn_on(picture: ScanPicture) -> list[Drawn]:
    """Rules and drawings of a page, in fractions of it."""
    height, width = picture.letters.shape
    fine = cv2.adaptiveThreshold(
        picture.lines, 255, cv2.ADAPTIVE_THRESH_MEAN_C, cv2.THRESH_BINARY_INV, 31, _RULE_CONTRAST
    )
    found = []
    rules: Grey = np.zeros_like(fine)
    long = round(width * _RULE_PART)
    for size, across in (((long, 1), (1, 3)), ((1, long), (3, 1))):
        # A scanned hairline wavers by a pixel: thickened across, it hangs together.
        thick = cv2.dilate(fine, np.ones((across[1], across[0]), np.uint8))
        strokes = cv2.morphologyEx(thick, cv2.MORPH_OPEN, cv2.getStructuringElement(cv2.MORPH_RECT, size))
        rules |= strokes
        boxes = _boxes(strokes)
        found += [_drawn("rule", box, width, height) for box in boxes if min(box[2], box[3]) < width * 0.01]
    ink = cv2.threshold(picture.letters, 0, 255, cv2.THRESH_BINARY_INV + cv2.THRESH_OTSU)[1]
    rest = cv2.subtract(ink, rules)
    joined = cv2.dilate(rest, np.ones((max(3, width // 300),) * 2, np.uint8))
    for box in _boxes(joined):
        tall = box[3] > height * 0.06 and box[2] > width * 0.06
        if tall and box[2] * box[3] > _FIGURE_PART * width * height:
            found.append(_drawn("image", box, width, height))
    return [drawn for drawn in found if not _at_edge(drawn)][:_MOST_RULES]


def _at_edge(drawn: Drawn) -> bool:
    """Whether it is the shadow of the paper's own edge."""
    near, far = _EDGE, 1 - _EDGE
    return drawn.right < near or drawn.bottom < near or drawn.left > far or drawn.top > far


def _boxes(mask: Grey) -> list[tuple[int, int, int, int]]:
    """Left, top, width and height of each connected piece."""
    _, _, pieces, _ = cv2.connectedComponentsWithStats(mask)
    return [tuple(int(v) for v in piece[:4]) for piece in pieces[1:]]  # type: ignore[misc]


def _drawn(kind: Any, box: tuple[int, int, int, int], width: int, height: int) -> Drawn:
    left, top, wide, high = box
    return Drawn(kind, left / width, top / height, (left + wide) / width, (top + high) / height)


def stroke_px(picture: Grey) -> float:
    """How thick the strokes of a word or line are, in pixels; 0 for no ink."""
    ink = cv2.threshold(picture, 0, 255, cv2.THRESH_BINARY_INV + cv2.THRESH_OTSU)[1]
    area = cv2.countNonZero(ink)
    edge = cv2.countNonZero(cv2.subtract(ink, cv2.erode(ink, np.ones((3, 3), np.uint8))))
    # Soft edges count a pixel to the ink that is not ink.
    return max(0.0, 2.0 * area / edge - 1.0) if edge else 0.0
