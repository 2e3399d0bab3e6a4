"""What stands on a page beside its lines, told: words set sideways, notes added later, strips of picture."""

import re
from collections import Counter
from collections.abc import Sequence

from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.lines import Line
from lastbolt.reading.problems import Reporter, quoted
from lastbolt.reading.running import EDGE, PageText
from lastbolt.reading.tokens import read_kind, sizes_in
from lastbolt.words.citation import Box, Citation, PdfPlace, rounded
from lastbolt.words.page import Aside, Drawn, PageLayout

CODES = {
    "sideways": "LB-R21",
    "added": "LB-R22",
    "field": "LB-R22",
    "struck out": "LB-R22",
    "strip": "LB-R23",
    "beside": "LB-R24",
}
_SAID = {
    "sideways": "words stand sideways, apart from the lines",
    "added": "a note was added to the page",
    "field": "a form field is filled in",
    "struck out": "words are struck out",
    "strip": "a strip of picture stands where a line of text may be",
    "beside": "words speak of fasteners, and nothing was made of them",
}
_DO = {
    "sideways": "Read them on the page and say whether they belong to the job.",
    "added": "Read it and say whether it belongs to the job; no step, size or torque was taken from it.",
    "field": "Read it and say whether it belongs to the job; no step, size or torque was taken from it.",
    "struck out": "Look at the page: the words were read as if they still stood.",
    "strip": "Look at the page: what the strip says was not read.",
    "beside": "Read them on the page; put what they say of fasteners into the model file.",
}
_DIGITS = re.compile(r"\d+")
_MOST_QUOTED = 300
_FEW_IN_A_DRAWING = 4
_LINE_HEIGHTS = 3.2
_LONG = 5.0
"""A strip is so many times as long as high."""
_LEAST_EM = 8.0


def asides_of(
    page: PageLayout,
    sideways: Sequence[Aside],
    lines: Sequence[Line],
    drawings: Sequence[Box],
    figures: Sequence[Box],
) -> tuple[Aside, ...]:
    """Everything aside on a page. A few sideways words inside a drawing are a part of it, and so is what
    is in the drawing of a figure."""
    told = [run for run in sideways if not _of_a_drawing(run, drawings)]
    return (*told, *page.notes, *_strips(page, lines, figures))


def _of_a_drawing(run: Aside, drawings: Sequence[Box]) -> bool:
    x, y = (run.box[0] + run.box[2]) / 2, (run.box[1] + run.box[3]) / 2
    inside = any(box[0] <= x <= box[2] and box[1] <= y <= box[3] for box in drawings)
    lettered = [word for word in run.words.split() if any(c.isalpha() for c in word)]
    return inside and len(lettered) < _FEW_IN_A_DRAWING


def _strips(page: PageLayout, lines: Sequence[Line], figures: Sequence[Box]) -> list[Aside]:
    """Pictures of the shape of a line of letters, within the column of text."""
    images = [shape for shape in page.drawn if shape.kind == "image"]
    if not images:
        return []
    text = [line for line in lines if not line.region]
    sizes = sorted(line.size_pt for line in text)
    size = sizes[len(sizes) // 2] if sizes else 10.0
    em = size / page.width_pt
    least = min((line.left for line in text), default=0.0) - em
    most = max([1 - least, *(line.right + em for line in text)])
    found = []
    for shape in images:
        wide, high = (shape.right - shape.left) * page.width_pt, (shape.bottom - shape.top) * page.height_pt
        long = (
            wide >= _LONG * high and wide >= _LEAST_EM * size and 0.5 * size <= high <= _LINE_HEIGHTS * size
        )
        within = least <= shape.left and shape.right <= most and EDGE / 2 < shape.top < 1 - EDGE / 2
        box = (shape.left, shape.top, shape.right, shape.bottom)
        if not long or not within or _has_words(page, box) or _touched(shape, images, page.height_pt):
            continue
        if not any(one[0] <= box[0] and box[2] <= one[2] and one[1] <= box[1] <= one[3] for one in figures):
            found.append(Aside("strip", "", box))
    return found


def _touched(strip: Drawn, images: Sequence[Drawn], height_pt: float) -> bool:
    """Whether another picture begins where a strip ends: one picture that was cut into strips."""
    return any(
        min(abs(one.top - strip.bottom), abs(strip.top - one.bottom)) * height_pt < 2.0
        and one.left < strip.right
        and strip.left < one.right
        for one in images
        if one is not strip
    )


def _has_words(page: PageLayout, box: Box) -> bool:
    return any(
        box[0] <= (word.left + word.right) / 2 <= box[2] and box[1] <= (word.top + word.bottom) / 2 <= box[3]
        for word in page.words
    )


def without_running(pages: Sequence[PageText]) -> list[tuple[Aside, ...]]:
    """Each page's asides without those that come again on many pages at one place: chapter tabs, logos."""
    need = 3 if len(pages) >= 8 else 2
    again: Counter[tuple[str, str, int, int]] = Counter()
    for page in pages:
        again.update({_alike(aside) for aside in page.asides})
    first: set[tuple[str, str, int, int]] = set()
    kept = []
    for page in pages:
        mine = []
        for aside in page.asides:
            key = _alike(aside)
            often = again[key] >= need and aside.sort in ("sideways", "strip")
            if not often or (aside.sort == "sideways" and _matters(aside.words) and key not in first):
                mine.append(aside)
            first.add(key)
        kept.append(tuple(mine))
    return kept


def _alike(aside: Aside) -> tuple[str, str, int, int]:
    return aside.sort, _DIGITS.sub("#", aside.words), round(aside.box[0] * 50), round(aside.box[1] * 50)


def _matters(words: str, language: Lexicon | None = None) -> bool:
    """Whether words name a fastener or a size: these are told even when they come on every page."""
    return bool(sizes_in(words)) or read_kind(words, language) is not None


def words_of(asides: Sequence[Aside]) -> str:
    """Why a page with asides is not explained."""
    return "; ".join(dict.fromkeys(_SAID[aside.sort] for aside in asides))


def report_asides(
    page: PageText, asides: Sequence[Aside], printed: str | None, source: str, reporter: Reporter
) -> None:
    """One problem for each aside, with its words and its place."""
    for aside in asides:
        said = f": {quoted(aside.words, _MOST_QUOTED)}" if aside.words else ""
        what = f"On page {page.pdf_page}, {_SAID[aside.sort]}{said}."
        place = PdfPlace(page.pdf_page, printed, rounded(aside.box))
        reporter.add(CODES[aside.sort], what, _DO[aside.sort], (Citation(source, place, aside.words),))
