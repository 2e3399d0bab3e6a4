"""Figures: captions, the drawings they belong to, callout numbers, and legends."""

import re
from collections.abc import Sequence
from typing import NamedTuple

from lastbolt.reading.caption_legends import opens_legend, parted_legend
from lastbolt.reading.drawings import Region, regions_of
from lastbolt.reading.figure_legends import legend_below, legend_between, legend_lines, lines_of_caption
from lastbolt.reading.figure_regions import apart, union, with_small, without_text_between
from lastbolt.reading.table_words import TableWords, table_words
from lastbolt.reading.tables import Table, box_around, inside, text_rows
from lastbolt.reading.tokens import read_callouts
from lastbolt.words.citation import Box, PdfPlace, rounded
from lastbolt.words.machine import Callout, Figure, LegendLine
from lastbolt.words.page import PageLayout, Word

_NUMBER = re.compile(r"[A-Z]{0,2}\d{1,3}(?:[-.–]\d{1,3}){0,2}[A-Za-z]?")
_CALLOUT = re.compile(r"\d{1,3}[a-z]?")
_LEGEND_MARK = re.compile(r"\(?(\d{1,3}[a-z]?|[A-Z])\)?[.):=]?")
_NEAR_DRAWING = 0.12
_HEADING_ABOVE = 0.12
"""A caption stands at most this far above a drawing that it does not stand over."""
_PAST_NUMBER = " .:—–-)\t"
_MOST_TITLE_WORDS = 22


class Caption(NamedTuple):
    """The words that name a figure."""

    number: str
    title: str
    box: Box
    legend: tuple[tuple[str, str], ...] = ()
    """The legend that the caption goes on with: "Gearcase: 1 housing, 2 cover"."""


class FoundFigure(NamedTuple):
    """A figure, and every box of the page it explains: drawing, caption, legend."""

    figure: Figure
    caption: Caption
    taken: tuple[Box, ...]


class FiguresSeen(NamedTuple):
    """The figures of a page, the drawings that no caption claims, and all captions."""

    found: tuple[FoundFigure, ...]
    unclaimed: tuple[Box, ...]
    captions: tuple[Caption, ...] = ()


def figures_on(
    page: PageLayout,
    source: str,
    tables: Sequence[Table] = (),
    printed_page: str | None = None,
    language: TableWords | None = None,
) -> FiguresSeen:
    """The page's figures in order of their captions."""
    words = language or table_words()
    boxes = [table.box for table in tables]
    every = regions_of(page, boxes)
    regions = [region for region in every if not region.small]
    if not regions and not _may_begin_a_line(page, words):
        return FiguresSeen((), ())
    captions = captions_on(page, boxes, words)
    if not regions:
        undrawn = tuple(_undrawn(page, source, c, printed_page) for c in captions if c.legend)
        return FiguresSeen(undrawn, (), tuple(captions))
    if not captions:
        return FiguresSeen((), tuple(region.box for region in regions))
    owner = _owners(page, captions, regions)
    found = []
    unclaimed = [region.box for region, of in zip(regions, owner, strict=True) if of is None]
    for index, caption in enumerate(captions):
        owned = [region for region, of in zip(regions, owner, strict=True) if of == index]
        if owned:
            mine = without_text_between(page, caption.box, owned, _distance)
            unclaimed += [region.box for region in owned if region not in mine]
            mine = with_small(page, mine, [r for r in every if r.small], [c.box for c in captions])
            found.append(_figure(page, source, caption, mine, boxes, printed_page))
    return FiguresSeen(tuple(found), tuple(unclaimed), tuple(captions))


def captions_on(page: PageLayout, without: Sequence[Box], language: TableWords) -> list[Caption]:
    """The lines that begin with a figure word and a number and read like a title, not like a sentence."""
    starts = [word for word in page.words if word.text.lower().rstrip(".") in language.figure_lead]
    if not starts:
        return []
    free = [word for word in page.words if not any(inside(word, box) for box in without)]
    lines = _lines(page, free)
    found = []
    for at, line in enumerate(lines):
        if line[0].text.lower().rstrip(".") in language.figure_lead:
            caption = _caption(_with_more_lines(lines, at, page, language), language, page)
            if caption is not None:
                found.append(caption)
    titled = {caption.number for caption in found if caption.title}
    return [caption for caption in found if caption.title or caption.number not in titled]


def _may_begin_a_line(page: PageLayout, language: TableWords) -> bool:
    """Whether a figure's word stands with nothing right before it, as a caption's does."""
    near = 1.0 / max(page.width_pt, 1.0)
    for start in page.words:
        if start.text.lower().rstrip(".") in language.figure_lead:
            middle, reach = (start.top + start.bottom) / 2, start.left - start.size_pt * near
            if not any(w.top < middle < w.bottom and reach < w.right <= start.left for w in page.words):
                return True
    return False


def _with_more_lines(lines: list[list[Word]], at: int, page: PageLayout, language: TableWords) -> list[Word]:
    """The caption's words with those of the lines it runs on over: same type, close below, same left edge."""
    words = list(lines[at])
    last = words
    for line in lines[at + 1 : at + 40]:
        first = line[0]
        height = last[-1].bottom - last[-1].top
        if first.top > last[-1].bottom + 0.45 * height:
            break
        lefts = [words[0].left, *(w.left for w in words[1:4])]
        near = 0.6 * first.size_pt / page.width_pt
        if first.top < last[-1].top + 0.6 * height or not any(abs(first.left - x) < near for x in lefts):
            continue
        alike = first.size_pt == last[-1].size_pt and first.bold is last[-1].bold
        runs_on = opens_legend(words)
        marked = (
            not runs_on and _LEGEND_MARK.fullmatch(first.text) and len(line) > 1 and first.text[0].isdigit()
        )
        if not alike or marked or first.text.lower().rstrip(".") in language.figure_lead:
            break
        words += line
        last = line
        if len(words) > _MOST_TITLE_WORDS + 2 and not runs_on:
            break
    return words


def _lines(page: PageLayout, words: Sequence[Word]) -> list[list[Word]]:
    """Rows cut at gaps wider than one and a half ems."""
    lines = []
    for row in text_rows(words):
        current = [row[0]]
        for word in row[1:]:
            gap_em = (word.left - current[-1].right) * page.width_pt / max(word.size_pt, 1.0)
            numbers = len(current) <= 2 and _NUMBER.match(current[-1].text) and gap_em < 6
            if gap_em > 1.5 and not numbers:
                lines.append(current)
                current = [word]
            else:
                current.append(word)
        lines.append(current)
    return lines


def _caption(line: list[Word], language: TableWords, page: PageLayout) -> Caption | None:
    if len(line) < 2 or line[0].text.lower().rstrip(".") not in language.figure_lead:
        return None
    number, _, joined = _dashed(line[1].text)
    bare = number.rstrip(_PAST_NUMBER)
    if not _NUMBER.fullmatch(bare) or ")" in number or number.endswith((",", ";")):
        return None
    edge = 0.055
    if line[0].bottom < edge or line[0].top > 1 - edge:
        return None  # a running head or foot
    rest = line[2:]
    said = " ".join([joined, *(word.text for word in rest)]).lstrip(" .:—–-")
    title, legend = parted_legend(said)
    if len(title.split()) > _MOST_TITLE_WORDS or title.rstrip().endswith((",", ";")):
        return None
    marked = number != bare or line[0].bold or (rest and _gap_em(line[1], rest[0], page) > 0.6)
    if title[:1].islower() and not marked:
        return None  # "Fig. 3 shows the ..."
    return Caption(bare, title, box_around(line), legend)


def _dashed(text: str) -> tuple[str, str, str]:
    """A number and the first word of the title behind a dash: "1—Exploded"."""
    for dash in "—–":
        number, found, word = text.partition(dash)
        if found and word[:1].isalpha():
            return number + found, found, word
    return text, "", ""


def _gap_em(a: Word, b: Word, page: PageLayout) -> float:
    return (b.left - a.right) * page.width_pt / max(a.size_pt, 1.0)


def _owners(page: PageLayout, captions: Sequence[Caption], regions: Sequence[Region]) -> list[int | None]:
    """For each region the caption nearest above or below it in its own column; captions above it that are
    headings (nothing drawn between) reach far."""
    owners: list[int | None] = []
    above = _stand_above(captions, regions)
    for region in regions:
        best: tuple[float, int] | None = None
        for index, caption in enumerate(captions):
            distance = _above(caption.box, region.box) if above else _distance(caption.box, region.box)
            if distance is not None and (best is None or distance < best[0]):
                best = (distance, index)
        owners.append(best[1] if best is not None else None)
    for index, owner in enumerate(owners):
        if owner is None:
            heading = _heading_above(page, index, captions, regions)
            owners[index] = 0 if len(captions) == 1 else heading
    for index, owner in enumerate(owners):
        if owner is None:
            owners[index] = _neighbour(index, regions, owners)
    return owners


def _stand_above(captions: Sequence[Caption], regions: Sequence[Region]) -> bool:
    """Whether the page's captions are headings: the first stands above all drawings, the last above one."""
    tops, boxes = [caption.box[3] for caption in captions], [region.box for region in regions]
    return (
        len(tops) > 1
        and all(box[1] >= min(tops) - 0.01 for box in boxes)
        and any(box[1] >= max(tops) - 0.01 for box in boxes)
    )


def _above(caption: Box, region: Box) -> float | None:
    """How far a heading stands over a drawing; beside it counts little, below it is none."""
    if caption[1] > region[1]:
        return None
    beside = max(caption[0] - region[2], region[0] - caption[2], 0.0)
    return region[1] - caption[3] + 0.1 * beside


def _heading_above(
    page: PageLayout, index: int, captions: Sequence[Caption], regions: Sequence[Region]
) -> int | None:
    """The caption that stands as a heading above a drawing, further left than it: nothing lies between."""
    left, top, right, _ = regions[index].box
    best: tuple[float, int] | None = None
    for number, caption in enumerate(captions):
        edge = caption.box[3]
        if not 0 <= top - edge + 0.01 < _HEADING_ABOVE or caption.box[0] > right:
            continue
        strip = (min(left, caption.box[0]), edge, max(right, caption.box[2]), top)
        words = [w for w in page.words if inside(w, strip) and sum(c.isalpha() for c in w.text) > 1]
        drawn = any(
            region.box[1] < top and region.box[3] > edge for region in regions if region is not regions[index]
        )
        if not words and not drawn and (best is None or top - edge < best[0]):
            best = (top - edge, number)
    return None if best is None else best[1]


def _neighbour(index: int, regions: Sequence[Region], owners: Sequence[int | None]) -> int | None:
    """The owner of the claimed drawing nearest to an unclaimed one, when it is near."""
    best: tuple[float, int] | None = None
    for other, owner in enumerate(owners):
        if owner is None or other == index:
            continue
        away = apart(regions[index].box, regions[other].box)
        if away < _NEAR_DRAWING and (best is None or away < best[0]):
            best = (away, owner)
    return None if best is None else best[1]


def _distance(caption: Box, region: Box) -> float | None:
    overlap = min(caption[2], region[2]) - max(caption[0], region[0])
    if overlap <= 0:
        beside = max(caption[0] - region[2], region[0] - caption[2])
        level = region[1] - 0.02 <= caption[1] <= region[3] + 0.02
        return 0.1 + beside if level and beside < 0.25 else None
    if caption[1] >= region[3] - 0.01:
        return caption[1] - region[3]
    if caption[3] <= region[1] + 0.01:
        return region[1] - caption[3]
    return 0.0


def _figure(
    page: PageLayout,
    source: str,
    caption: Caption,
    regions: Sequence[Region],
    tables: Sequence[Box],
    printed_page: str | None,
) -> FoundFigure:
    box = (
        min(region.box[0] for region in regions),
        min(region.box[1] for region in regions),
        max(region.box[2] for region in regions),
        max(region.box[3] for region in regions),
    )
    legend, legend_box = legend_below(page, caption.box, box, tables)
    if not legend and caption.box[1] > box[3]:
        legend, legend_box = legend_between(page, caption.box, box, tables)
    taken_words = [caption.box] + ([legend_box] if legend_box else [])
    callouts = _callouts(page, regions, [*tables, *taken_words])
    for callout in callouts:
        box = union(box, callout.box)
    drawn = {callout.number for callout in callouts}
    below = legend_lines(legend, page.pdf_page, printed_page, source, drawn)
    figure = Figure(
        id=f"{source}/figure/{caption.number}",
        number=caption.number,
        title=caption.title,
        source=source,
        place=PdfPlace(page.pdf_page, printed_page, rounded(box)),
        callouts=tuple(callouts),
        legend=(*caption.legend, *((number, entry.text) for entry in legend for number in entry.callouts)),
        legend_lines=(*_of_caption(page, source, caption, printed_page), *below),
    )
    return FoundFigure(figure, caption, (box, *taken_words))


def _undrawn(page: PageLayout, source: str, caption: Caption, printed_page: str | None) -> FoundFigure:
    """A caption with a legend whose drawing is not on the page, or is a scan without lines."""
    figure = Figure(
        id=f"{source}/figure/{caption.number}",
        number=caption.number,
        title=caption.title,
        source=source,
        place=PdfPlace(page.pdf_page, printed_page, rounded(caption.box)),
        legend=caption.legend,
        legend_lines=_of_caption(page, source, caption, printed_page),
    )
    return FoundFigure(figure, caption, (caption.box,))


def _of_caption(
    page: PageLayout, source: str, caption: Caption, printed_page: str | None
) -> tuple[LegendLine, ...]:
    place = PdfPlace(page.pdf_page, printed_page, rounded(caption.box))
    return lines_of_caption(caption.legend, place, source)


def _callouts(page: PageLayout, regions: Sequence[Region], without: Sequence[Box]) -> list[Callout]:
    """Numbers that stand alone in or at the drawing, in order of size."""
    near_x = 14.0 / page.width_pt
    near_y = 14.0 / page.height_pt
    found: list[Callout] = []
    for line in _callout_groups(page, without):
        numbers = read_callouts(" ".join(word.text for word in line))
        if not numbers and not (len(line) == 1 and _CALLOUT.fullmatch(line[0].text)):
            continue
        box = box_around(line)
        if any(_at(box, region, near_x, near_y) for region in regions):
            found += [Callout(number, box) for number in numbers or (line[0].text,)]
    return sorted(found, key=lambda c: (int(re.sub(r"\D", "", c.number) or 0), c.number, c.box))


def _callout_groups(page: PageLayout, without: Sequence[Box]) -> list[list[Word]]:
    """Words that touch one another, as short groups, where the first is a number."""
    groups = []
    free = [w for w in page.words if not any(inside(w, box) for box in without)]
    for row in text_rows(free):
        current = [row[0]]
        for word in row[1:]:
            gap_em = (word.left - current[-1].right) * page.width_pt / max(word.size_pt, 1.0)
            if gap_em > 1.2:
                groups.append(current)
                current = [word]
            else:
                current.append(word)
        groups.append(current)
    return [group for group in groups if group[0].text[:1].isdigit() and len(group) < 12]


def _at(box: Box, region: Region, near_x: float, near_y: float) -> bool:
    """Whether the number stands inside the drawing, or just outside where a drawn line ends."""
    x, y = (box[0] + box[2]) / 2, (box[1] + box[3]) / 2
    left, top, right, bottom = region.box
    if left <= x <= right and top <= y <= bottom:
        return True
    if not (left - near_x <= x <= right + near_x and top - near_y <= y <= bottom + near_y):
        return False
    return any(
        shape.left - near_x <= x <= shape.right + near_x and shape.top - near_y <= y <= shape.bottom + near_y
        for shape in region.drawn
    )
