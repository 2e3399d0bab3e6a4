"""The lines of a book as pieces in reading order: headings, steps, cautions, blocks, text, tables."""

import re
from collections.abc import Iterator, Sequence
from itertools import zip_longest

from lastbolt.reading.blocks import block_label
from lastbolt.reading.captions import caption_goes_on
from lastbolt.reading.flow import Habits, ended, goes_on, is_open, near, wants_number
from lastbolt.reading.guessed_blocks import guessed_label, words_below
from lastbolt.reading.legends import legend_goes_on, opens_legend
from lastbolt.reading.lexicon import Lexicon
from lastbolt.reading.lines import Line
from lastbolt.reading.marks import Mark, Marks, goes_on_as_range, lone_mark, mark_of
from lastbolt.reading.piece import END, INDENT, STEPS, At, Piece, titled
from lastbolt.reading.schema import (
    BARE,
    NUMBERED,
    Schema,
    Style,
    could_head,
    number_alone,
    stands_out,
    style_of,
)
from lastbolt.reading.signal_lines import signal_of
from lastbolt.reading.step_runs import Learned, bids
from lastbolt.reading.titles import only_a_deed

_OPEN = ("-", "–", "—", "/", "&")
"""A heading that ends so goes on in the next line."""
POINTING = ("before", "after", "references", "needs")
"""Labelled blocks whose entries may be the numbers of sections."""


def pieces_of(
    pages: Iterator[tuple[int, Sequence[Line]]],
    schema: Schema,
    language: Lexicon,
    contents: frozenset[int] = frozenset(),
    learned: Learned | None = None,
    ends: frozenset[str] = frozenset(),
) -> Iterator[Piece]:
    """All pieces of a book, in reading order; `contents`: the pages of its contents and its index; `learned`:
    the lines that begin steps by marks of the book's own; `ends`: the words at the end of its sections."""
    maker = _Maker(schema, language, contents, learned or {})
    maker.ends = ends
    for pdf_page, lines in pages:
        yield from maker.page(pdf_page, lines)
    if maker.current is not None:
        yield titled(maker.current)


class _Maker:
    """Turns lines into pieces; `current` is the piece that may still grow."""

    def __init__(self, schema: Schema, language: Lexicon, contents: frozenset[int], learned: Learned) -> None:
        self.schema = schema
        self.contents = contents
        self.learned = learned
        self.language = language
        self.ends: frozenset[str] = frozenset()
        self.lines: Sequence[Line] = ()
        self.current: Piece | None = None
        self.marks = Marks()
        self.following: Line | None = None

    def page(self, pdf_page: int, lines: Sequence[Line]) -> Iterator[Piece]:
        """The pieces that are closed by this page's lines."""
        contents = pdf_page in self.contents
        self.lines = lines
        for line, following in zip_longest(lines, lines[1:]):
            if line is None:
                break
            self.following = following
            at = At(pdf_page, line)
            piece = self._contents(at) if contents else self._new_piece(at)
            if piece is None:
                assert self.current is not None
                self.current.add(at)
                self.marks.hang = self.marks.hang or (
                    self.current.kind == "step" and len(self.current.lines) == 2 and self.current.hangs
                )
                continue
            if self.current is not None:
                yield titled(self.current)
            self.current = piece
            if piece.kind == "heading" and not self._is_continued(piece):
                self.marks = Marks(self.marks.runs)

    def _is_continued(self, heading: Piece) -> bool:
        """Whether a heading says that its section goes on: "REMOVAL (continued)"."""
        return heading.text.lower().rstrip(" .").endswith(self.language.words("titles", "continued"))

    def _contents(self, at: At) -> Piece | None:
        if self.current is not None and self.current.kind == "contents":
            return None
        return Piece("contents", at, at.line.text)

    def _new_piece(self, at: At) -> Piece | None:
        """A piece that opens with this line, or None when the line goes on with the current one."""
        line, current = at.line, self.current
        if line.region == STEPS:
            return (
                self._tabled(at)
                if "\t" in line.text
                else signal_of(at, self.language) or Piece("text", at, line.text)
            )
        if line.region:
            label = self._label(at) if line.region == "table" else None
            if label is not None:
                return label
            if (
                current is not None
                and current.kind == "label"
                and current.last.region == line.region
                and current.last.place == line.place
                and current.lines[-1].pdf_page == at.pdf_page
            ):
                return None
            same = (
                current is not None
                and current.kind == line.region
                and current.lines[-1].pdf_page == at.pdf_page
                and current.last.place == line.place
            )
            return None if same else Piece("table" if line.region == "table" else "figure", at, line.text)
        if line.text in self.ends:
            over = Piece("text", at, line.text)
            over.name = END
            return over
        if self.learned and at in self.learned:
            return _marked(at, *self.learned[at])
        if (
            current is not None
            and current.kind == "heading"
            and not current.text
            and self._titles(current, at)
        ):
            return None
        if current is not None and (current.kind == "figure" or self._is_caption(current)):
            legend = self._legend(current, at)
            if legend is not None:
                return None if legend is current else legend
        if current is not None and current.kind == "caution" and self._cautions(current, at):
            return None
        opened = (
            signal_of(at, self.language)
            or self._numbered_alone(at)
            or self._label(at)
            or self._lone_step(at)
            or self._heading(at)
            or self._step(at)
            or self._listed(at)
        )
        if opened is not None:
            return None if opened is current else opened
        if current is not None and goes_on(current, at, self.following, self.language, self._habits()):
            return None
        return Piece("text", at, line.text.replace("\t", " "))

    def _habits(self) -> Habits:
        return Habits(self.schema.indents, self.marks.hang)

    def _legend(self, current: Piece, at: At) -> Piece | None:
        """A legend that runs on below a drawing, or the one above where the line is more of it."""
        line, last = at.line, current.last
        if current.lines[-1].pdf_page != at.pdf_page or line.top - last.bottom > 4 * (line.bottom - line.top):
            return None
        if caption_goes_on(current, line, self.language):
            return current
        if last.region or current.kind == "text":
            return Piece("figure", at, line.text) if opens_legend(line.text, self.language) else None
        close = line.top - last.bottom < 0.75 * (last.bottom - last.top) and line.size_pt == last.size_pt
        return current if close and legend_goes_on(current.text, line.text, self.language) else None

    def _cautions(self, current: Piece, at: At) -> bool:
        """Whether a line is the body of the signal word that stands alone above it, or more of that body: in
        bold or capitals it would look like a heading."""
        line, last = at.line, current.last
        height = last.bottom - last.top
        below = (
            current.lines[-1].pdf_page == at.pdf_page and line.left < last.right and line.right > last.left
        )
        if not below or line.boxed != last.boxed or not _told_apart(line):
            return False
        if mark_of(line.text, self.language) is not None or block_label(line.text, line.lead, self.language):
            return False
        gap = line.top - last.bottom
        if not current.text:
            return -height < gap < 1.6 * height
        first = current.lines[1 if len(current.lines) > 1 else 0].line
        framed = bool(line.boxed and last.boxed)
        open_still = not ended(current.text, self.language)
        more = len(current.lines) > 1 or framed or open_still
        alone = more and _told_apart(first) and style_of(line) == style_of(first)
        return alone and -height < gap < 0.75 * height

    def _is_caption(self, piece: Piece) -> bool:
        word, _, rest = piece.text.partition(" ")
        named = self.language.among(word.lower().rstrip("."), "pointing", "figure")
        return piece.kind == "text" and named and rest[:1].isdigit()

    def _label(self, at: At) -> Piece | None:
        """A labelled block: "Tools", "Equipment condition: ..." with a colon, a tab, bold type or alone."""
        line = at.line
        if not line.text[:1].isalpha():
            return None
        key = block_label(line.text, line.lead, self.language) or guessed_label(
            line.text, line.lead, words_below(line, self.following), self.language
        )
        if key is None:
            return None
        name, end = key
        piece = Piece("label", at, line.text[end:].strip(" \t:"))
        piece.name = name
        piece.number = line.text[:end].strip(" \t:")
        self.marks.last.pop("(num)", None)
        return piece

    def _heading(self, at: At) -> Piece | None:
        line, current = at.line, self.current
        style = style_of(line)
        outstanding = style in self.schema.ranks and stands_out(style, self.schema.body)
        match = NUMBERED.fullmatch(line.text)
        numbered = match is not None and self._is_number(match, line, style, outstanding)
        if not numbered and not outstanding:
            return None
        plain = not (line.bold or line.underlined)
        only_capitals = plain and style.half_points < self.schema.body.half_points * 1.09 + 0.5
        if only_capitals and not numbered and current is not None and is_open(current, at, self.language):
            return None
        if not could_head(line, self.language) or (match is None and line.text[:1].islower()):
            return None
        marked = mark_of(line.text, self.language)
        if marked is not None and marked[0].kind == "word":
            return self._step(at)
        if marked is not None and not numbered:
            return None
        if not numbered and current is not None and self._same_heading(current, at):
            current.rank = min(current.rank, self.schema.ranks.get(style, 99))
            return current
        title = match["title"] if numbered and match is not None else line.text
        piece = Piece("heading", at, title.replace("\t", " ").strip().rstrip(".:"))
        piece.number = match["number"].replace("–", "-").rstrip(".") if numbered and match is not None else ""
        piece.name = (match["word"] or "").lower() if numbered and match is not None else ""
        piece.rank = self.schema.ranks.get(style, len(self.schema.ranks))
        return piece

    def _numbered_alone(self, at: At) -> Piece | None:
        """A heading's number on a line of its own ("TASK 32-10-01"); its title stands on the next."""
        alone = number_alone(at.line.text, self.language) or self._bare_number(at.line)
        if alone is None or (self.current is not None and is_open(self.current, at, self.language)):
            return None
        if self.current is not None and self.current.kind == "label" and self._lists(self.current, at):
            return None
        piece = Piece("heading", at, "")
        piece.name, piece.number = alone
        piece.rank = self.schema.ranks.get(style_of(at.line), len(self.schema.ranks))
        return piece

    def _bare_number(self, line: Line) -> tuple[str, str] | None:
        """The number of a heading that stands above its title, both set alike: "4.2" over "Cover removal"."""
        style, below = style_of(line), self.following
        if below is None or BARE.fullmatch(line.text.strip()) is None or style not in self.schema.ranks:
            return None
        alike = style_of(below)[:2] == style[:2] and stands_out(style_of(below), self.schema.body)
        near_by = abs(below.left - line.left) < INDENT and below.column == line.column
        return ("", line.text.strip()) if alike and near_by and could_head(below, self.language) else None

    def _lists(self, label: Piece, at: At) -> bool:
        """Whether a section's number on its own line is an entry of a block: it stands out by nothing."""
        plain = not stands_out(style_of(at.line), self.schema.body)
        below = label.lines[-1].pdf_page == at.pdf_page and label.name in POINTING
        return self._leads_on(label, at) or (plain and below)

    def _leads_on(self, label: Piece, at: At) -> bool:
        """Whether the last line of a block ends with a word that something must follow: "Para 2.4.1 or"."""
        last = label.last.text.rsplit(None, 1)[-1].lower() if label.last.text.strip() else ""
        return near(label, at) and (
            self.language.among(last, "stop") or self.language.among(last, "pointing", "alternatives")
        )

    def _titles(self, current: Piece, at: At) -> bool:
        """Whether a line is the title of the number that stands alone right above it."""
        last, line = current.last, at.line
        close = current.lines[-1].pdf_page == at.pdf_page and line.top - last.bottom < 1.6 * (
            last.bottom - last.top
        )
        return close and could_head(line, self.language) and mark_of(line.text, self.language) is None

    def _is_number(self, match: "re.Match[str]", line: Line, style: Style, outstanding: bool) -> bool:
        """Whether what stands before the words is a section number (and not a step mark or a size)."""
        number, title = match["number"], match["title"]
        word = (match["word"] or "").lower()
        if word and not self._names_section(word, number):
            return False
        if not title[:1].isalpha() and title[:1] not in '(“"':
            return False
        if not word and title[:1].islower() and title.split()[0].strip(".,;:)") in _units(self.language):
            return False  # "31 kg. Use a sling"
        multi = re.match(r"(?:\d{1,3}|[A-Z])[.\-–]\d|\d{1,2}[A-Z]\d", number) is not None
        if multi:
            letters = [c for c in title if c.isalpha()]
            capitals = len(letters) > 3 and all(c.isupper() for c in letters[:12])
            joint_fits = self.schema.joint in number.replace("–", "-")
            return outstanding or (capitals and joint_fits and len(title) < 90)
        if number.isalpha() and not word:
            return False
        return outstanding and (bool(word) or style in self.schema.numbered_styles)

    def _names_section(self, word: str, number: str) -> bool:
        """Whether a word before a number makes it that of a heading: "Chapter 4", "TASK 301"."""
        bare = word.rstrip(".")
        numbered = number[0].isdigit() and any(
            self.language.among(bare, "pointing", key) for key in ("section", "step")
        )
        return self.language.among(bare, "titles", "chapter") or (
            numbered and not self.language.among(bare, "titles", "step_word")
        )

    def _same_heading(self, current: Piece, at: At) -> bool:
        """Whether this line is the second of the heading above it: set alike, the first one broken off."""
        if current.kind != "heading" or current.lines[-1].pdf_page != at.pdf_page:
            return False
        line, last = at.line, current.last
        close = 0 <= line.top - last.bottom < last.bottom - last.top and line.column == last.column
        if not close or style_of(line) != style_of(last):
            return False
        if last.text.rstrip().endswith(_OPEN):
            return True
        if only_a_deed(line.text, self.language):
            return False
        first, end = line.text.split()[0].lower(), last.text.split()[-1].lower()
        joined = any(self.language.among(word, "titles", "joiners") for word in (first, end))
        word = len(first) * (last.right - last.left) / max(len(last.text), 1)
        level = [one.right for one in self.lines if one.left < last.right and one.right > last.left]
        full = last.right + word > max(level, default=1.0)
        return joined or full or last.text.rstrip().endswith((",", "-")) or line.text[:1].islower()

    def _listed(self, at: At) -> Piece | None:
        """A step of a list below "as follows:" whose marks are drawn and no letters, or that has none."""
        current, line = self.current, at.line
        if current is None or current.kind != "step" or current.mark is None or not near(current, at):
            return None
        inner = current.mark.value == "" and abs(line.left - current.left) < INDENT / 2
        opened = current.text.endswith(":") and line.left > current.left + INDENT
        closed = ended(current.text, self.language) and line.text[:1].isupper()
        if not (closed and (inner or opened)) or not bids(line.text, self.language):
            return None
        return _marked(at, Mark("bullet", ""), line.text)

    def _tabled(self, at: At) -> Piece:
        """A row of a table of steps: its number is its mark whatever went before."""
        number, words, said = at.line.text.split("\t")
        piece = Piece("step", at, words)
        piece.said = said
        piece.mark = Mark("num", number) if number else Mark("bullet", "•")
        return piece

    def _lone_step(self, at: At) -> Piece | None:
        mark = lone_mark(at.line.text, self.language)  # "Step 4", and its words below it
        return None if mark is None else _marked(at, mark, "")

    def _step(self, at: At) -> Piece | None:
        marked = mark_of(at.line.text, self.language)
        if marked is None:
            return None
        mark, rest = marked
        current = self.current
        open_text = (
            current is not None
            and (current.kind in ("step", "text") or wants_number(current.text, self.language))
            and not ended(current.text, self.language)
            and near(current, at)
        )
        if open_text and current is not None and goes_on_as_range(current.text, mark, rest):
            return None
        if not self.marks.accepts(mark, at.line.left, rest, open_text=open_text):
            return None
        return _marked(at, mark, rest)


def _units(language: Lexicon) -> frozenset[str]:
    """Words that make the number before them a quantity."""
    return language.all_of("left_over", "units")


def _told_apart(line: Line) -> bool:
    """Whether a line is all in bold or capitals."""
    return line.bold or line.text.isupper()


def _marked(at: At, mark: Mark, rest: str) -> Piece:
    """The piece of a step."""
    piece = Piece("step", at, rest.replace("\t", " ").strip())
    piece.mark = mark
    return piece
