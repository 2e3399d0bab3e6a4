"""The legend under a drawing: which callouts each line explains, what they are, how many."""

import re
from collections import Counter
from collections.abc import Collection, Iterator, Sequence
from functools import lru_cache
from itertools import pairwise
from typing import NamedTuple

from msgspec.structs import replace

from lastbolt.reading.counts import read_callouts
from lastbolt.reading.lexicon import lexicon
from lastbolt.reading.limit_words import LimitWords, limit_words
from lastbolt.reading.tables import box_around, inside, text_rows
from lastbolt.words.citation import Box, Citation, PdfPlace, rounded
from lastbolt.words.machine import LegendLine
from lastbolt.words.page import PageLayout, Word
from lastbolt.words.quantity import UNSAID, Quantity, exactly

_MARK = re.compile(r"\(?(\d{1,3}[a-z]?(?:[-–]\d{1,3})?|[A-Z])\)?[.):=]?")
_LISTED = re.compile(r"\(?(\d{1,3}[a-z]?(?:[-–]\d{1,3})?),")
_LONGEST_NAME = 4
"""A line of a legend of more words than this that ends with a full stop is a sentence."""
_NAME_EDGE = 0.012
"""A line that goes on begins at most this far from where the name above it begins."""
_BESIDE = 0.06
"""A legend between a drawing and its caption may be this much wider than they are, at each side."""
_SIZE = 0.8
"""The lines of a legend differ by less than this in size, in points."""
BRACKETED = "the number in brackets is taken for how many"
TWICE = "the legend gives this number two names"
NOT_DRAWN = "the drawing was not seen to show this number"


class Entry(NamedTuple):
    """An entry of a legend: its callouts, and the words of its name; `words` are all of it."""

    callouts: tuple[str, ...]
    name: tuple[Word, ...]
    words: tuple[Word, ...]

    @property
    def text(self) -> str:
        """The name as printed."""
        return " ".join(word.text for word in self.name).strip(" ,;=–-")


def legend_below(
    page: PageLayout, caption: Box, drawing: Box, tables: Sequence[Box]
) -> tuple[list[Entry], Box | None]:
    """The entries in the lines under a caption, and the box around them."""
    left = min(caption[0], drawing[0]) - 0.01
    right = max(caption[2], drawing[2]) + 0.02
    below = [
        word
        for word in page.words
        if word.top >= caption[3] - 0.002
        and left <= word.left <= right
        and not any(inside(word, box) for box in tables)
    ]
    found: list[Entry] = []
    used: list[Word] = []
    last = caption[3]
    for row in text_rows(below):
        height = row[0].bottom - row[0].top
        if row[0].top - last > 1.3 * height or (found and not _alike(row, found[0])):
            break
        entries = _entries(row, page)
        if entries is None:
            if not _goes_on(row, found, page):
                break
            more = (*found[-1].words, *row)
            found[-1] = found[-1]._replace(name=(*found[-1].name, *row), words=more)
        else:
            found += entries
        used += row
        last = row[0].bottom
    return (found, box_around(used)) if len(found) >= 2 else ([], None)


def legend_between(
    page: PageLayout, caption: Box, drawing: Box, tables: Sequence[Box]
) -> tuple[list[Entry], Box | None]:
    """The same between a drawing and the caption below it."""
    left, right = min(caption[0], drawing[0]) - _BESIDE, max(caption[2], drawing[2]) + _BESIDE
    tops = [
        word.top
        for word in page.words
        if drawing[3] < word.top < caption[1] - 0.002 and left <= word.left <= right
    ]
    if not tops:
        return [], None
    above = (left, drawing[3], right, min(tops))
    return legend_below(page, above, drawing, [*tables, caption])


def _alike(row: Sequence[Word], first: Entry) -> bool:
    """Whether a line is set like the first entry, and marked by a number where that one is."""
    numbered = first.words[0].text.lstrip("(")[:1].isdigit()
    lettered = len(row[0].text) == 1 and row[0].text.isalpha()
    return abs(row[0].size_pt - first.words[0].size_pt) < _SIZE and not (numbered and lettered)


def _goes_on(row: Sequence[Word], found: Sequence[Entry], page: PageLayout) -> bool:
    """Whether a line is the rest of the name above: it begins small, under it, and stands alone."""
    if not found or not row[0].text[:1].islower() or row[-1].text.endswith("."):
        return False
    one_column = all(_gap_em(a, b, page) < 1.0 for a, b in pairwise(row))
    return one_column and abs(row[0].left - found[-1].name[0].left) < _NAME_EDGE


def _entries(row: Sequence[Word], page: PageLayout) -> list[Entry] | None:
    """The entries of one line, or None when it is no line of a legend."""
    if len(row) < 2 or (_MARK.fullmatch(row[0].text) or _LISTED.fullmatch(row[0].text)) is None:
        return None
    if row[-1].text.endswith(".") and (row[0].text.endswith(".") or len(row) > _LONGEST_NAME):
        return None  # a numbered sentence: a step
    if _orders(row[1:]):
        return None  # "2) Remove the three bolts"
    made = [_entry(part) for part in _parts(row, page)]
    return None if any(not entry.name for entry in made) else made


def _parts(row: Sequence[Word], page: PageLayout) -> Iterator[Sequence[Word]]:
    """The entries side by side in one line: a number behind a wide gap begins the next."""
    begin = 0
    for at in range(1, len(row)):
        marked = _MARK.fullmatch(row[at].text) or _LISTED.fullmatch(row[at].text)
        if marked and _gap_em(row[at - 1], row[at], page) > 1.0:
            yield row[begin:at]
            begin = at
    yield row[begin:]


def _entry(words: Sequence[Word]) -> Entry:
    """An entry parted into its callouts and its name: "3, 5-7 Screw"."""
    at = 0
    said = []
    while at < len(words):
        listed = _LISTED.fullmatch(words[at].text)
        match = listed or _MARK.fullmatch(words[at].text)
        if match is None:
            break
        said.append(match[1])
        at += 1
        if listed is None:
            break
    callouts = tuple(number for one in said for number in read_callouts(one) or (one,))
    return Entry(callouts, tuple(words[at:]), tuple(words))


def _orders(words: Sequence[Word]) -> bool:
    """Whether the words say to do something: a deed first, and an article, which names in a legend lack."""
    language = lexicon()
    said = " ".join(word.text for word in words)
    first = any(hit.first == 0 for hit in language.scan(said).of("deeds"))
    return first and any(language.among(word.text.lower(), "stop", "in_sentences") for word in words)


def _gap_em(a: Word, b: Word, page: PageLayout) -> float:
    return (b.left - a.right) * page.width_pt / max(a.size_pt, 1.0)


def legend_lines(
    entries: Sequence[Entry], page: int, printed: str | None, source: str, drawn: Collection[str]
) -> tuple[LegendLine, ...]:
    """The entries as facts with their places; `drawn`: the callouts that the drawing shows."""
    times = Counter(number for entry in entries for number in entry.callouts)
    made = []
    for entry in entries:
        name, quantity, doubt = _counted(entry.text)
        doubts = [doubt] if doubt else []
        doubts += [TWICE] if any(times[number] > 1 for number in entry.callouts) else []
        doubts += [NOT_DRAWN] if drawn and not set(entry.callouts) <= set(drawn) else []
        place = PdfPlace(page, printed, rounded(box_around(entry.words)))
        cite = Citation(source, place, " ".join(word.text for word in entry.words))
        made.append(LegendLine(entry.callouts, name, quantity, (cite,), "; ".join(doubts)))
    return tuple(made)


def lines_of_caption(
    legend: Sequence[tuple[str, str]], place: PdfPlace, source: str
) -> tuple[LegendLine, ...]:
    """The entries of a legend that a caption goes on with; their place is the caption's."""
    made = []
    for number, said in legend:
        name, quantity, doubt = _counted(said)
        cite = Citation(source, place, f"{number} {said}")
        made.append(LegendLine((number,), name, quantity, (cite,), doubt))
    return tuple(made)


def with_printed(line: LegendLine, printed: str) -> LegendLine:
    """The entry with the number that its page bears in print, which is known when the book was read."""
    cited = []
    for one in line.citations:
        at = replace(one.place, printed_page=printed) if isinstance(one.place, PdfPlace) else one.place
        cited.append(replace(one, place=at))
    return replace(line, citations=tuple(cited))


@lru_cache(maxsize=2)
def _count_at_end(words: LimitWords) -> re.Pattern[str]:
    labels = words.any_of("legend", "counts")
    return re.compile(
        rf"[\s,;]+(?:\((?:(?P<said>{labels})\s?)?(?P<bracket>\d{{1,3}})\s?(?:(?P<behind>{labels}))?\)"
        rf"|(?P<count>\d{{1,3}})\s?(?:x|×|{labels})|(?:x|×|{labels})\s?[:=]?\s?(?P<after>\d{{1,3}}))$",
        re.IGNORECASE,
    )


def _counted(text: str) -> tuple[str, Quantity, str]:
    """A name and the count behind it; a bare number in brackets is taken for one with doubt."""
    match = _count_at_end(limit_words()).search(text)
    if match is None:
        return text, UNSAID, ""
    count = int(match["bracket"] or match["count"] or match["after"])
    bare = match["bracket"] is not None and match["said"] is None and match["behind"] is None
    return (
        text[: match.start()].strip(" ,;"),
        exactly(count, match[0].strip(" ,;")),
        BRACKETED if bare else "",
    )
