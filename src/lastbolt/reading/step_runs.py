"""The marks of steps that a book shows by itself: beginnings of lines that count up, with a deed behind them.

"[1] Drain ...", "4.1.1 ...", "II. ...", "Op 10 ...", "> ...": no list of marks names them all. A run of
lines at one left edge that counts 1, 2, 3 (or one sign again and again), with something to do behind most of
them, is a run of steps; what its marks look like then also tells the only step of another section.
"""

import re
from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.lines import Line
from lastbolt.reading.marks import Mark, mark_of
from lastbolt.reading.schema import NUMBERED, Schema, stands_out, style_of
from lastbolt.reading.verbs import leads, verbs_in

RUN = "run "
"""How the kinds of these marks begin."""
_EDGE = 0.012
"""Lines that begin within this much of each other begin at one edge."""
_JUMP = 3
"""So many numbers of a run may be missing before a step that says what to do."""
_FEWEST_LETTERED = 3
"""A run of bare letters is at least so long: "A" alone may be an article."""
_FIRST = 90
"""The deed of a step stands within so many letters."""
_QUICK = re.compile(r"[^\W\d_]{1,10}\.?\s?\d|[^\W\d_]\W|[IVXivx]{2,5}\W|\W|\d")
_HEAD = re.compile(
    r"(?P<lead>[^\W\d_]{2,10}\.?\s(?=\S*\d)|\d[\d.\-–]*\s(?=[(\[]))?(?P<head>\S{1,14})(?P<tail>\s[-–—:.)|/])?\s+(?P<rest>\S.*)"
)
_FIGURES = re.compile(r"(?P<pre>(?:.*\D)?)(?P<count>\d{1,3})(?P<post>[^\w\s]{0,2}|[a-z][^\w\s]?)")
_OF_ALL = re.compile(r"(?P<pre>)(?P<count>\d{1,3})(?P<post>/\d{1,3}|\.0)")
_ROMAN = re.compile(r"(?P<pre>[^\w\s]?)(?P<count>[IVX]{1,5}|[ivx]{1,5})(?P<post>[^\w\s]{0,2})")
_LETTER = re.compile(r"(?P<pre>\d{0,3}[^\w\s]?)(?P<count>[A-Za-z])(?P<post>[^\w\s]{0,2})")
_SIGN = re.compile(r"[^\w\s]{1,2}|[a-z]")
_PAGED = re.compile(r"[^\W\d_][\s.…·_]+\d{1,3}(?:-\d{1,3})?$")
_LEVELS = re.compile(r"(?:\d{1,3}[.\-–])+")
_DIGITS = re.compile(r"\d+")
ROMAN_LETTERS = frozenset("ivxIVX")
_ROMANS = {"I": 1, "V": 5, "X": 10}
_OPENS = "(“\"'‘["


class Head(NamedTuple):
    """One way to read the beginning of a line as a mark."""

    shape: str
    """The mark with "#" in place of what counts, "~A#" where letters count."""
    value: int
    """What it counts; 0 for a sign, which counts nothing."""
    printed: str
    """The mark as a step's name."""
    rest: str
    plain: bool
    """Whether nothing but the count itself shows that it is a mark: "1 Drain"."""


class _Member(NamedTuple):
    key: tuple[int, int]
    head: Head
    place: tuple[int, int]
    left: float
    bids: bool


Learned = dict[tuple[int, Line], tuple[Mark, str]]
"""A page and a line of it -> the mark at its head and the words behind."""


def heads_in(text: str, language: Lexicon) -> Iterator[Head]:
    """The ways to read the beginning of a line as the mark of a step."""
    match = _HEAD.match(text) if _QUICK.match(text) else None
    if match is None:
        return
    lead, head, rest = match["lead"] or "", match["head"], match["rest"]
    if lead and _names_place(lead, language):
        return
    tail = (match["tail"] or "").strip()
    behind = f" {tail}" if tail else ""
    count = _OF_ALL.fullmatch(head) or _FIGURES.fullmatch(head)
    if count is not None and not (lead and count["pre"].strip("([") and not lead[:1].isdigit()):
        named = count["pre"] if count["pre"].isalpha() or _LEVELS.fullmatch(count["pre"]) else ""
        ended = count["post"] if count["post"].isalpha() else ""
        plain = not (lead or tail or count["pre"] or count["post"])
        shape = f"{lead}{count['pre']}#{count['post']}{behind}"
        yield Head(shape, int(count["count"]), f"{named}{int(count['count'])}{ended}", rest, plain)
    if lead:
        return
    roman = _ROMAN.fullmatch(head)
    if roman is not None:
        sort = "I" if roman["count"].isupper() else "i"
        shape = f"{roman['pre']}~{sort}#{roman['post']}{behind}"
        yield Head(shape, _value(roman["count"].upper()), roman["count"], rest, not (roman["post"] or tail))
    letter = _LETTER.fullmatch(head)
    if letter is not None:
        sort = "A" if letter["count"].isupper() else "a"
        shape = f"{letter['pre']}~{sort}#{letter['post']}{behind}"
        digits = letter["pre"] if letter["pre"].isdigit() else ""
        value = ord(letter["count"].lower()) - 96
        yield Head(shape, value, f"{digits}{letter['count']}", rest, not (letter["post"] or tail))
    if _SIGN.fullmatch(head) and not tail and not language.among(head, "stop", "articles"):
        yield Head(head, 0, head, rest, head.isalpha())


def _names_place(lead: str, language: Lexicon) -> bool:
    """Whether a word before a number makes it that of a drawing, a page or a chapter: "Fig. 3 Remove ..."."""
    word = lead.strip().rstrip(".").lower()
    keys = ("figure", "table", "page", "sheet", "appendix")
    return any(language.among(word, "pointing", key) for key in keys) or language.among(
        word, "titles", "chapter"
    )


def _value(roman: str) -> int:
    """What a Roman number counts."""
    each = [_ROMANS[letter] for letter in roman]
    return sum(-one if one < following else one for one, following in zip(each, [*each[1:], 0], strict=True))


def bids(words: str, language: Lexicon) -> bool:
    """Whether words tell somebody to do something, and are not the name of a thing: "Drain plug"."""
    scan = language.scan(words[:_FIRST])
    verbs = verbs_in(scan, language)
    if not verbs or not leads(scan, verbs[0], language):
        return False
    verb = verbs[0]
    if verb.last >= len(scan.tokens):
        return words.rstrip().endswith(":")
    behind = scan.tokens[verb.last]
    if words[verb.end : behind.start].strip():
        return False
    noun = language.among(scan.text[verb.start : verb.end].lower(), "deed_nouns")
    handled = (
        language.among(behind.low, "stop", "articles")
        or language.among(behind.low, "pronouns")
        or behind.low in language.numbers
        or behind.low.isdigit()
    )
    return handled or not noun or words.rstrip().endswith(".")


class _Run:
    """Lines that begin with one shape of mark and count up."""

    def __init__(self, first: _Member) -> None:
        self.members = [first]
        value = first.head.value
        self.by = 10 if value == 10 else 1

    def takes(self, one: _Member) -> bool:
        """Whether a line is the next of the run, or takes the place of one that only looked like it."""
        last = self.members[-1]
        if one.bids and one.head.plain and not last.bids and one.head.value == last.head.value:
            self.members.pop()
            return True
        if one.head.value == 0:
            return True
        if one.place == last.place and abs(one.left - last.left) > _EDGE:
            return False
        step = one.head.value - last.head.value
        return step == self.by or (one.bids and step % self.by == 0 and 0 < step <= _JUMP * self.by)

    @property
    def sure(self) -> bool:
        """Whether it is a run of steps by itself: it has a deed behind most of its marks."""
        bidding = sum(one.bids for one in self.members)
        head = self.members[0].head
        lettered = head.plain and "#" in head.shape and head.shape != "#"
        fewest = _FEWEST_LETTERED if lettered else 2
        paged = all(_PAGED.search(one.head.rest) for one in self.members)  # a table of contents
        return len(self.members) >= fewest and bidding >= 2 and 2 * bidding >= len(self.members) and not paged


def learn_marks(
    pages: Iterable[tuple[int, Sequence[Line]]],
    schema: Schema,
    language: Lexicon,
    contents: frozenset[int] = frozenset(),
) -> Learned:
    """The lines of a book that begin steps by marks which only the book itself shows."""
    body = [(page, list(lines)) for page, lines in pages if page not in contents]
    runs = list(_runs(body, schema, language))
    sure = [run for run in runs if run.sure]
    shapes = {_general(run) for run in sure}
    further = [run for run in runs if not run.sure and _general(run) in shapes and run.members[0].bids]
    found: Learned = {}
    for run in (*sure, *further):
        if all(mark_of(body[one.key[0]][1][one.key[1]].text, language) for one in run.members):
            continue
        for one in run.members:
            page, lines = body[one.key[0]]
            mark = Mark(f"{RUN}{_general(run)}", one.head.printed)
            if not one.head.value:
                mark = Mark("bullet", one.head.printed)
            found.setdefault((page, lines[one.key[1]]), (mark, one.head.rest))
    return found


def _general(run: _Run) -> str:
    """The shape of a run's marks in any section: "4.1.#" is "0.0.#"."""
    return _DIGITS.sub("0", run.members[0].head.shape)


def _known(text: str, language: Lexicon) -> bool:
    """Whether the line begins with a mark that is known in all books; "i." may count in Roman numbers, and
    a lone figure stands far from its words in some lines only."""
    marked = mark_of(text, language)
    return marked is not None and marked[0].kind != "bare" and marked[0].value not in ROMAN_LETTERS


def _runs(body: Sequence[tuple[int, list[Line]]], schema: Schema, language: Lexicon) -> Iterator[_Run]:
    """Every run of lines that count up, within a section."""
    open_runs: dict[str, _Run] = {}
    for at_page, (page, lines) in enumerate(body):
        for at_line, line in enumerate(lines):
            if line.region:
                continue
            heads = [] if _known(line.text, language) else list(heads_in(line.text, language))
            if _ends_section(line, heads, schema):
                yield from open_runs.values()
                open_runs = {}
                continue
            above = lines[at_line - 1].text if at_line else ""
            for head in heads:
                known = open_runs.get(head.shape)
                if known is None and head.value not in (0, 1, 10) and head.value % 100 != 1:
                    continue
                told = bids(head.rest, language)
                if not _may_open(head, above, told=told):
                    continue
                one = _Member((at_page, at_line), head, (page, line.column), line.left, told)
                if known is not None and known.takes(one):
                    known.members.append(one)
                elif known is None or head.value in (1, 10):
                    if known is not None:
                        yield known
                    open_runs[head.shape] = _Run(one)
    yield from open_runs.values()


def _ends_section(line: Line, heads: list[Head], schema: Schema) -> bool:
    """Whether a line looks like a heading, and not like a step in bold type or capitals."""
    style = style_of(line)
    if style not in schema.ranks or not stands_out(style, schema.body):
        return False
    return not heads or NUMBERED.fullmatch(line.text) is not None


def _may_open(head: Head, above: str, *, told: bool) -> bool:
    """Whether the words behind a mark begin a step: not the middle of a sentence that has a number in it."""
    if head.value == 0 or (told and not head.plain):
        return told
    begins = (head.rest[:1].isupper() and not head.rest[1:2].isdigit()) or head.rest[:1] in _OPENS
    return begins and (told or not head.plain or not above.rstrip().endswith((",", "-")))
