"""Letters of a cleaned page into words with boxes, sizes and how sure the reader was."""

import re
import sys
from collections import defaultdict
from collections.abc import Iterable, Iterator
from itertools import groupby
from pathlib import Path
from statistics import median
from typing import Any, NamedTuple

import tesserocr

from lastbolt.edge.scan_letters import letters_folder
from lastbolt.edge.scan_marks import marks_left
from lastbolt.edge.scan_picture import Grey, stroke_px
from lastbolt.words.page import Word

_PT_PER_INCH = 72.0
_ASSUMED_CAP = 0.70
"""Cap height as a part of the type size, for most text faces (from memory, no source)."""
_BOLD = 1.2
"""Strokes this much thicker, for their height, than the page's usual ones are bold (tried out)."""
_LEAST_SURE_OF_SIGNS = 60.0
_TALLER = 1.2
_ODD = re.compile(r"[\\|~^{}<>©®_]")
"""Signs that print hardly ever holds: in a short word, they were a picture or a rule."""
_RULES = "\\|~^{}_"
_FIGURE = re.compile(r"\d")
_NOISE = re.compile(r"^[\W_]+$")


class ScanWord(NamedTuple):
    """A word and how sure the reader was of it, from 0 to 100."""

    word: Word
    sure: float


class _Raw(NamedTuple):
    text: str
    sure: float
    box: tuple[int, int, int, int]
    line: int
    stroke: float


class LetterReader:
    """The letter-reading engine, loaded once: English, models from the installed package, no network."""

    def __init__(self) -> None:
        folder = letters_folder() or Path(sys.prefix)
        self.engine = tesserocr.PyTessBaseAPI(path=str(folder), lang="eng", psm=tesserocr.PSM.AUTO)

    def words(self, picture: Grey, dpi: float) -> list[ScanWord]:
        """The words of an upright, cleaned page in reading order."""
        height, width = picture.shape
        self.engine.SetImageBytes(picture.tobytes(), width, height, 1, width)
        self.engine.SetSourceResolution(round(dpi))
        self.engine.Recognize()
        raws = _without_noise(_raws(self.engine.GetIterator(), picture))
        return _with_style(raws, (width, height), dpi) + self._marks(raws, picture, dpi)

    def _marks(self, raws: list[_Raw], picture: Grey, dpi: float) -> list[ScanWord]:
        """Small numbers that stand alone, with the type size of the page's usual text."""
        height, width = picture.shape
        usual = median([raw.box[3] - raw.box[1] for raw in raws]) if raws else dpi / 12
        size_pt = _size_pt(usual * 0.9, dpi)
        return [
            ScanWord(Word(text, a / width, b / height, c / width, d / height, size_pt), sure)
            for text, sure, (a, b, c, d) in marks_left(
                self.engine, picture, [raw.box for raw in raws], usual * 0.9
            )
        ]


def _raws(iterator: Any, picture: Grey) -> Iterator[_Raw]:
    level = tesserocr.RIL.WORD
    if iterator is None:
        return
    line = 0
    while True:
        if iterator.IsAtBeginningOf(tesserocr.RIL.TEXTLINE):
            line += 1
        box = iterator.BoundingBox(level)
        text = "" if box is None else iterator.GetUTF8Text(level).strip()
        if box is not None and text:
            left, top, right, bottom = box
            stroke = stroke_px(picture[top:bottom, left:right]) if right > left and bottom > top else 0.0
            for part in text.split():
                yield _Raw(part, iterator.Confidence(level), box, line, stroke)
        if not iterator.Next(level):
            return


def _with_style(raws: list[_Raw], size_px: tuple[int, int], dpi: float) -> list[ScanWord]:
    """Words with the type size of their line and whether their strokes are bold ones."""
    lines: dict[int, list[_Raw]] = defaultdict(list)
    for raw in raws:
        lines[raw.line].append(raw)
    caps = {number: _cap_px(words) for number, words in lines.items()}
    weights = [raw.stroke / caps[raw.line] for words in lines.values() for raw in words if len(raw.text) > 2]
    usual = median(weights) if weights else 0.0
    found = []
    width, height = size_px
    for number, words in lines.items():
        size_pt = _size_pt(caps[number], dpi)
        heavy = median(raw.stroke for raw in words) / caps[number] > _BOLD * usual if usual else False
        for raw in words:
            left, top, right, bottom = raw.box
            bold = heavy or (len(raw.text) > 2 and raw.stroke / caps[number] > _BOLD**2 * usual > 0)
            word = Word(
                raw.text, left / width, top / height, right / width, bottom / height, size_pt, bool(bold)
            )
            found.append(ScanWord(word, raw.sure))
    return found


def _without_noise(raws: Iterable[_Raw]) -> list[_Raw]:
    """Without specks read as signs, and pictures beside a word (a warning triangle) read as letters."""
    kept: list[_Raw] = []
    for _, line in groupby(raws, key=lambda raw: raw.line):
        words = list(line)
        usual = median(raw.box[3] - raw.box[1] for raw in words)
        for place, raw in enumerate(words):
            tall = raw.box[3] - raw.box[1] > _TALLER * usual and len(words) > 1
            figure = _FIGURE.search(raw.text) is not None  # a count or a size is doubted, never dropped
            picture = place == 0 and len(raw.text) <= 3 and tall and not figure
            odd = len(raw.text) <= 3 and _ODD.search(raw.text) is not None
            speck = _NOISE.match(raw.text) is not None and raw.sure < _LEAST_SURE_OF_SIGNS
            if odd and figure:
                kept.append(raw._replace(text=raw.text.strip(_RULES), sure=0.0))
            elif not (picture or odd or speck):
                kept.append(raw)
    return kept


def _size_pt(cap_px: float, dpi: float) -> float:
    """The type size, to half a point."""
    return round(2 * cap_px / _ASSUMED_CAP * _PT_PER_INCH / dpi) / 2


def _cap_px(words: list[_Raw]) -> float:
    """The height of the line's capitals and figures, from words that have one and no descender."""
    tall = [
        raw.box[3] - raw.box[1] for raw in words if re.match(r"^[A-Z0-9bdfhklt][^gjpqyQ,;()]*$", raw.text)
    ]
    every = [raw.box[3] - raw.box[1] for raw in words]
    return max(1.0, float(median(tall) if tall else 0.8 * median(every)))
