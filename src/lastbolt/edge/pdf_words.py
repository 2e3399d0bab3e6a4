"""Words of one page with their boxes, size and style, from PDFium's text layer.

PDFium gives the characters and where spaces stand. A box is asked for once per word, not per character;
only words put together from several text objects (superscripts, kerning) are looked at letter by letter.
"""

import ctypes
import re
from typing import Any, NamedTuple

from pypdfium2 import raw

from lastbolt.edge import pdfium
from lastbolt.edge.pdfium import Floats, Handle, PageFrame
from lastbolt.edge.plain_text import SOFT_HYPHEN, plain
from lastbolt.edge.word_mending import collapse_doubled, mend_spaces
from lastbolt.words.page import Turned, Word

LINE_END_HYPHEN = "\x02"
UNMAPPED = "\ufffd"
_RUN = re.compile(r"[^\s\x00-\x01\x03-\x1f]+")
_BOLD_NAME = re.compile(r"bold|black|heavy|demi(?!light)", re.IGNORECASE)
_ITALIC_NAME = re.compile(r"italic|oblique|slanted", re.IGNORECASE)
_BASELINE_SHIFT = 0.13
_SIZES_ALIKE = 0.55
_JOIN_GAP = 0.22
_MAY_END_RAISED = re.compile(r"\w\d\)?")
_RAISED_FROM, _LOWERED_TO = 0.2, 0.42
"""A figure that begins this much above its line is a raised one, one that ends so low a lowered one, in parts
of the type size: fonts hold both as glyphs of their own (superiors, inferiors)."""
_SMALL_GLYPH = 0.6
_FIGURES = frozenset("0123456789)+-−")


class FoundWords(NamedTuple):
    """The words of a page, and how many characters had no meaning in the file."""

    words: list[Word]
    unmapped: int
    turned: tuple[Turned, ...] = ()


class _Style(NamedTuple):
    size_pt: float
    bold: bool
    italic: bool
    band: tuple[float, float] | None
    """Descender and ascender line in page units when the text runs along x."""
    baseline: float
    turn: int = 0
    """Degrees clockwise by which the text is turned on the page as displayed."""
    side: tuple[float, float] | None = None
    """The same lines as `band`, left and right, when turned text runs along y."""


class _Letter(NamedTuple):
    text: str
    box: tuple[float, float, float, float]
    """Left, right, bottom, top in page units."""
    style: _Style


class _TextPage:
    """One page's text layer and the scratch memory to ask it."""

    def __init__(self, handle: Handle, frame: PageFrame) -> None:
        self.handle = handle
        self.frame = frame
        self.rect = Floats(4, double=True)
        self.loose = Floats(4)
        self.matrix = Floats(6)
        self.point = Floats(2, double=True)
        self.styles: dict[int | None, _Style] = {}
        self.fonts: dict[int | None, tuple[bool, bool]] = {}
        self.shifted: dict[tuple[_Style, float], _Style] = {}
        self.unmapped = 0
        self.turned: dict[int, list[Word]] = {}

    def text(self) -> str:
        count = pdfium.count_chars(self.handle)
        if count <= 0:
            return ""
        buffer = ctypes.create_string_buffer(2 * count + 2)
        written = pdfium.get_text(self.handle, 0, count, buffer)
        text = buffer.raw[: 2 * max(written - 1, 0)].decode("utf-16-le", "replace")
        if len(text) == count:
            return text.replace("\ufffe", LINE_END_HYPHEN)
        points = (pdfium.get_unicode(self.handle, index) for index in range(count))
        text = "".join(chr(point) if 0 < point < 0x110000 else UNMAPPED for point in points)
        return text.replace("\ufffe", LINE_END_HYPHEN)

    def style(self, index: int) -> _Style:
        key = pdfium.text_object(self.handle, index)
        found = self.styles.get(key)
        if found is None:
            found = self.styles[key] = self._new_style(index, key)
        return found

    def _new_style(self, index: int, key: int | None) -> _Style:
        pdfium.char_matrix(self.handle, index, self.matrix.all)
        a, b, c, d, _, _ = self.matrix.values[:]
        size_pt = pdfium.font_size(self.handle, index) * ((c * c + d * d) ** 0.5 or 1.0)
        pdfium.char_origin(self.handle, index, *self.point.each)
        baseline = self.point.values[1]
        bold, italic = self._face(key)
        band = None
        if a > 0 and abs(b) < 1e-3 * a and pdfium.loose_box(self.handle, index, self.loose.all):
            _, top, _, bottom = self.loose.values[:]
            if not 0.6 * size_pt < top - bottom < 2.0 * size_pt:
                top, bottom = baseline + 0.85 * size_pt, baseline - 0.25 * size_pt
            band = (bottom, top)
        turn, side = self.frame.turn(a, b), None
        if turn and abs(a) < 1e-3 * abs(b) and pdfium.loose_box(self.handle, index, self.loose.all):
            left, _, right, _ = self.loose.values[:]
            side = (left, right) if 0.6 * size_pt < right - left < 2.0 * size_pt else None
        return _Style(round(size_pt, 2), bold, italic, band, baseline, turn, side)

    def _face(self, key: int | None) -> tuple[bool, bool]:
        if key is None:
            return False, False
        text_object = Handle(key)
        stroked = pdfium.render_mode(text_object) == raw.FPDF_TEXTRENDERMODE_FILL_STROKE
        font = pdfium.font_of(text_object)
        if font not in self.fonts:
            self.fonts[font] = _font_face(font)
        bold, italic = self.fonts[font]
        return bold or stroked, italic

    def letters(self, start: int, text: str) -> list[_Letter]:
        found = []
        for offset, letter in enumerate(text):
            pdfium.char_box(self.handle, start + offset, *self.rect.each)
            left, right, bottom, top = self.rect.values[:]
            style = self.style(start + offset)
            shift = _shift(letter, bottom, top, style)
            found.append(_Letter(letter, (left, right, bottom, top), self.small(style, shift)))
        return found

    def small(self, style: _Style, shift: float) -> _Style:
        """The style of a raised or lowered glyph: as if it were set smaller, beside its line."""
        if not shift:
            return style
        found = self.shifted.get((style, shift))
        if found is None:
            size_pt, baseline = _SMALL_GLYPH * style.size_pt, style.baseline + shift * style.size_pt
            band = (baseline - 0.1 * size_pt, baseline + 0.8 * size_pt)
            found = _Style(round(size_pt, 2), style.bold, style.italic, band, baseline)
            self.shifted[style, shift] = found
        return found

    def ends_raised(self, start: int, text: str) -> bool:
        """Whether the last sign of a run is a raised glyph of the same font."""
        if _MAY_END_RAISED.search(text, max(0, len(text) - 3)) is None:
            return False
        at = start + len(text) - 1
        pdfium.char_box(self.handle, at, *self.rect.each)
        _, _, bottom, top = self.rect.values[:]
        return _shift(text[-1], bottom, top, self.style(at)) > 0


def _shift(letter: str, bottom: float, top: float, style: _Style) -> float:
    """How far a figure or sign stands above its line (below: less than 0) by its own shape, else 0."""
    if style.band is None or letter not in _FIGURES:
        return 0.0
    low, high = bottom - style.baseline, top - style.baseline
    if low > _RAISED_FROM * style.size_pt and (letter not in "-−" or low > 0.4 * style.size_pt):
        return 0.33
    if letter.isdigit() and high < _LOWERED_TO * style.size_pt and low < -0.05 * style.size_pt:
        return -0.15
    return 0.0


def read_words(page: Any, frame: PageFrame) -> FoundWords:
    """The words of the page in the order of the file."""
    text_page = raw.FPDFText_LoadPage(page)
    if not text_page:
        return FoundWords([], 0)
    try:
        reader = _TextPage(pdfium.handle_of(text_page), frame)
        text = reader.text()
        words: list[Word] = []
        for run in _RUN.finditer(text):
            _add_run(reader, words, run.group(), run.start())
        turned = tuple(
            Turned(turn, tuple(collapse_doubled(found))) for turn, found in sorted(reader.turned.items())
        )
        return FoundWords(mend_spaces(collapse_doubled(words), frame.width_pt), reader.unmapped, turned)
    finally:
        raw.FPDFText_ClosePage(text_page)


def _add_run(reader: _TextPage, words: list[Word], text: str, start: int) -> None:
    """Add the word or words that a run of characters without a space makes."""
    handle = reader.handle
    if pdfium.has_map_error(handle, start) == 1:
        marks = [pdfium.has_map_error(handle, start + i) == 1 for i in range(len(text))]
        reader.unmapped += sum(marks)
        text = "".join(UNMAPPED if mark else c for c, mark in zip(text, marks, strict=True))
    if LINE_END_HYPHEN in text:
        _add_hyphenated(reader, words, text, start)
        return
    figured = text[-1] in _FIGURES and reader.ends_raised(start, text)
    if not figured and pdfium.count_rects(handle, start, len(text)) == 1:
        pdfium.get_rect(handle, 0, *reader.rect.each)
        left, top, right, bottom = reader.rect.values[:]
        style = reader.style(start)
        if text[-1] in _FIGURES and len(text) < 5 and text[0] in _FIGURES:
            style = reader.small(style, _shift(text[-1], bottom, top, style))
        _add_word(reader, words, text, (left, right, bottom, top), style)
        return
    for piece in _pieces(reader.letters(start, text)):
        _add_piece(reader, words, piece)


def _add_hyphenated(reader: _TextPage, words: list[Word], text: str, start: int) -> None:
    """A word that PDFium drew together over a line end: put back the hyphen and the two parts."""
    offset = 0
    for part in re.split(f"(?<={LINE_END_HYPHEN})", text):
        if part:
            letters = reader.letters(start + offset, part.replace(LINE_END_HYPHEN, "-"))
            for piece in _pieces(letters):
                _add_piece(reader, words, piece)
        offset += len(part)


def _pieces(letters: list[_Letter]) -> list[list[_Letter]]:
    """Letters grouped into words: cut where the baseline jumps, the size changes much, or a gap opens."""
    groups: list[list[_Letter]] = []
    for letter in letters:
        if groups and _belongs(groups[-1][-1], letter):
            groups[-1].append(letter)
        else:
            groups.append([letter])
    return groups


def _belongs(last: _Letter, letter: _Letter) -> bool:
    if last.style is letter.style:
        return True
    size = max(last.style.size_pt, letter.style.size_pt)
    if min(last.style.size_pt, letter.style.size_pt) < _SIZES_ALIKE * size:
        return False
    if last.style.band is None or letter.style.band is None:
        return True
    if abs(last.style.baseline - letter.style.baseline) > _BASELINE_SHIFT * size:
        return False
    return -1.5 * size < letter.box[0] - last.box[1] < _JOIN_GAP * size


def _add_piece(reader: _TextPage, words: list[Word], piece: list[_Letter]) -> None:
    boxes = [letter.box for letter in piece if letter.box[1] > letter.box[0]] or [piece[0].box]
    box = (
        min(b[0] for b in boxes),
        max(b[1] for b in boxes),
        min(b[2] for b in boxes),
        max(b[3] for b in boxes),
    )
    _add_word(reader, words, "".join(letter.text for letter in piece), box, piece[0].style)


def _add_word(
    reader: _TextPage, words: list[Word], text: str, box: tuple[float, float, float, float], style: _Style
) -> None:
    text = plain(text, SOFT_HYPHEN)
    if not text:
        return
    left, right, bottom, top = box
    if style.band is not None:
        bottom, top = min(style.band[0], bottom), max(style.band[1], top)
    elif style.side is not None:
        left, right = min(style.side[0], left), max(style.side[1], right)
    x1, y1, x2, y2 = reader.frame.box(left, bottom, right, top)
    if x2 <= 0.0 or y2 <= 0.0 or x1 >= 1.0 or y1 >= 1.0:
        return  # outside the page as displayed: nobody can see it
    into = words if not style.turn else reader.turned.setdefault(style.turn, [])
    into.append(
        Word(
            text,
            x1 if x1 > 0.0 else 0.0,
            y1 if y1 > 0.0 else 0.0,
            x2 if x2 < 1.0 else 1.0,
            y2 if y2 < 1.0 else 1.0,
            style.size_pt,
            style.bold,
            style.italic,
        )
    )


def _font_face(font: int | None) -> tuple[bool, bool]:
    """Whether the font is bold and whether it is slanted, by its name first, then by its descriptor."""
    if font is None:
        return False, False
    handle = Handle(font)
    buffer = ctypes.create_string_buffer(256)
    length = pdfium.font_name(handle, buffer, ctypes.c_size_t(len(buffer)))
    name = buffer.raw[: max(min(length, 256) - 1, 0)].decode("utf-8", "replace")
    flags = pdfium.font_flags(handle)
    flags = flags if flags > 0 else 0
    angle = ctypes.c_int()
    slanted = bool(pdfium.italic_angle(handle, ctypes.byref(angle))) and angle.value != 0
    bold = bool(_BOLD_NAME.search(name)) or bool(flags & 1 << 18)
    return bold, bool(_ITALIC_NAME.search(name)) or slanted or bool(flags & 1 << 6)
