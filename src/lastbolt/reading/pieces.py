"""The lines of a book as pieces in reading order: headings, steps, cautions, blocks, text, tables."""

import re
from collections.abc import Iterator, Sequence
from typing import Literal, NamedTuple

from lastbolt.reading.lexicon import WORD, Lexicon
from lastbolt.reading.lines import Line
from lastbolt.reading.marks import Mark, Marks, mark_of
from lastbolt.reading.schema import NUMBERED, Schema, could_head, number_alone, stands_out, style_of

STEPS = "steps"
"""The region of lines that are rows of a table of steps."""

PieceKind = Literal["heading", "step", "caution", "label", "text", "table", "figure", "contents"]

_ICON = re.compile(r"[!⚠△▲◬☢⚡\s\t]*")
_SHORT = 0.12
"""A line with a full stop that ends this much before the longest one above ends its paragraph."""
INDENT = 0.012
"""What begins this much further right is indented."""
_CLOSED = (".", ":", "!", "?", ";")


class At(NamedTuple):
    """A line and its page."""

    pdf_page: int
    line: Line


class Piece:
    """A heading, a step, a paragraph ...: its words and the lines they stand on."""

    __slots__ = ("boxed", "kind", "left", "lines", "mark", "name", "number", "rank", "said", "text")

    def __init__(self, kind: PieceKind, at: At, text: str) -> None:
        self.kind: PieceKind = kind
        self.lines = [at]
        self.text = text
        self.mark: Mark | None = None
        self.number = ""
        self.name = ""
        """Of a caution its signal word's list, of a label its list."""
        self.said = ""
        """A row of a table of steps as one sentence, with what its other columns say; else empty."""
        self.rank = 0
        self.left = at.line.left
        self.boxed = at.line.boxed

    @property
    def last(self) -> Line:
        """Its last line."""
        return self.lines[-1].line

    @property
    def hangs(self) -> bool:
        """Whether its second line begins right of its mark."""
        if len(self.lines) < 2 or self.mark is None:
            return False
        (page, first), (second_page, second) = self.lines[:2]
        same = page == second_page and first.column == second.column
        return same and second.left > first.left + INDENT

    def add(self, at: At) -> None:
        """Take in one more line."""
        self.text = joined(self.text, at.line.text)
        self.lines.append(at)


def joined(text: str, more: str) -> str:
    """Two lines as running text; a word broken at the end of the first is made whole."""
    more = more.replace("\t", " ")
    if not text:
        return more
    if text.endswith("\u00ad"):
        return text[:-1] + more
    if text.endswith("-") and more[:1].islower() and len(text) > 2 and text[-2].islower():
        return text[:-1] + more
    if text.endswith(("-", "/")) and more[:1].isalnum() and text[-2:-1].isalnum():
        return text + more
    return f"{text} {more}"


def pieces_of(
    pages: Iterator[tuple[int, Sequence[Line]]],
    schema: Schema,
    language: Lexicon,
    contents: frozenset[int] = frozenset(),
) -> Iterator[Piece]:
    """All pieces of a book, in reading order; `contents`: the pages of its contents and its index."""
    maker = _Maker(schema, language, contents)
    for pdf_page, lines in pages:
        yield from maker.page(pdf_page, lines)
    if maker.current is not None:
        yield maker.current


class _Maker:
    """Turns lines into pieces; `current` is the piece that may still grow."""

    def __init__(self, schema: Schema, language: Lexicon, contents: frozenset[int]) -> None:
        self.schema = schema
        self.contents = contents
        self.language = language
        self.current: Piece | None = None
        self.marks = Marks()
        self.leading = 1.45

    def page(self, pdf_page: int, lines: Sequence[Line]) -> Iterator[Piece]:
        """The pieces that are closed by this page's lines."""
        contents = pdf_page in self.contents
        for line in lines:
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
                yield self.current
            self.current = piece
            if piece.kind == "heading":
                self.marks = Marks()

    def _contents(self, at: At) -> Piece | None:
        if self.current is not None and self.current.kind == "contents":
            return None
        return Piece("contents", at, at.line.text)

    def _new_piece(self, at: At) -> Piece | None:
        """A piece that opens with this line, or None when the line goes on with the current one."""
        line, current = at.line, self.current
        if line.region == STEPS:
            return self._tabled(at) if "\t" in line.text else self._signal(at) or Piece("text", at, line.text)
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
        if (
            current is not None
            and current.kind == "heading"
            and not current.text
            and self._titles(current, at)
        ):
            return None
        opened = (
            self._signal(at)
            or self._numbered_alone(at)
            or self._label(at)
            or self._heading(at)
            or self._step(at)
        )
        if opened is not None:
            return opened
        if current is not None and self._goes_on(current, at):
            return None
        return Piece("text", at, line.text.replace("\t", " "))

    def _signal(self, at: At) -> Piece | None:
        """A caution: the signal word stands first, in capitals or bold, or before a colon."""
        line = at.line
        start = _ICON.match(line.text)
        offset = start.end() if start else 0
        if not line.text[offset : offset + 1].isalpha():
            return None
        word = re.match(r"[^\W\d_]+", line.text[offset:])
        if word is None:
            return None
        low = word.group().lower()
        name = next((key for key, words in self.language.data["signals"].items() if low in words), None)
        if name is None:
            return None
        rest = line.text[offset + word.end() :]
        loud = (
            word.group().isupper()
            or line.lead >= offset + word.end()
            or rest[:1] in (":", "!")
            or not rest.strip()
        )
        if not loud or (rest[:1].isalnum() or rest[:2].strip() in ("of", "the")):
            return None
        piece = Piece("caution", at, rest.strip(" \t").lstrip(":!–-. ").lstrip())
        piece.name = name
        return piece

    def _label(self, at: At) -> Piece | None:
        """A labelled block: "Tools", "Equipment condition: ..." with a colon, a tab, bold type or alone."""
        line = at.line
        if not line.text[:1].isalpha():
            return None
        key = block_label(line.text, line.lead, self.language)
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
        only_capitals = not line.bold and style.half_points < self.schema.body.half_points * 1.09 + 0.5
        if only_capitals and not numbered and current is not None and self._is_open(current, at):
            return None
        if not could_head(line, self.language) or (match is None and line.text[:1].islower()):
            return None
        marked = mark_of(line.text, self.language)
        if marked is not None and marked[0].kind == "word":
            return self._step(at)
        if marked is not None and not numbered:
            return None
        if (
            current is not None
            and current.kind == "heading"
            and not numbered
            and self._same_heading(current, at)
        ):
            current.rank = min(current.rank, self.schema.ranks.get(style, 99))
            return None
        title = match["title"] if numbered and match is not None else line.text
        piece = Piece("heading", at, title.replace("\t", " ").strip().rstrip(".:"))
        piece.number = match["number"].replace("–", "-").rstrip(".") if numbered and match is not None else ""
        piece.name = (match["word"] or "").lower() if numbered and match is not None else ""
        piece.rank = self.schema.ranks.get(style, len(self.schema.ranks))
        return piece

    def _numbered_alone(self, at: At) -> Piece | None:
        """A heading's number on a line of its own ("TASK 32-10-01"); its title stands on the next."""
        alone = number_alone(at.line.text, self.language)
        if alone is None or (self.current is not None and self._is_open(self.current, at)):
            return None
        piece = Piece("heading", at, "")
        piece.name, piece.number = alone
        piece.rank = self.schema.ranks.get(style_of(at.line), len(self.schema.ranks))
        return piece

    def _titles(self, current: Piece, at: At) -> bool:
        """Whether a line is the title of the number that stands alone right above it."""
        last, line = current.last, at.line
        close = current.lines[-1].pdf_page == at.pdf_page and line.top - last.bottom < 1.6 * (
            last.bottom - last.top
        )
        return close and could_head(line, self.language) and mark_of(line.text, self.language) is None

    def _is_number(
        self, match: "re.Match[str]", line: Line, style: tuple[int, bool, bool], outstanding: bool
    ) -> bool:
        """Whether what stands before the words is a section number (and not a step mark or a size)."""
        number, title = match["number"], match["title"]
        word = (match["word"] or "").lower()
        if word and word.rstrip(".") not in self.language.words("titles", "chapter"):
            return False
        if not title[:1].isalpha() and title[:1] not in '(“"':
            return False
        multi = re.match(r"(?:\d{1,3}|[A-Z])[.\-–]\d|\d{1,2}[A-Z]\d", number) is not None
        if multi:
            letters = [c for c in title if c.isalpha()]
            capitals = len(letters) > 3 and all(c.isupper() for c in letters[:12])
            joint_fits = self.schema.joint in number.replace("–", "-")
            return outstanding or (capitals and joint_fits and len(title) < 90)
        if number.isalpha() and not word:
            return False
        return outstanding and (bool(word) or style in self.schema.numbered_styles)

    def _same_heading(self, current: Piece, at: At) -> bool:
        """Whether this line is the second line of the heading above it."""
        line = at.line
        last = current.last
        close = current.lines[-1].pdf_page == at.pdf_page and 0 <= line.top - last.bottom < 1.0 * (
            last.bottom - last.top
        )
        return (
            close
            and abs(line.size_pt - last.size_pt) < 0.6
            and line.bold == last.bold
            and line.column == last.column
        )

    def _tabled(self, at: At) -> Piece:
        """A row of a table of steps: its number is its mark whatever went before."""
        number, words, said = at.line.text.split("\t")
        piece = Piece("step", at, words)
        piece.said = said
        piece.mark = Mark("num", number) if number else Mark("bullet", "•")
        return piece

    def _step(self, at: At) -> Piece | None:
        marked = mark_of(at.line.text, self.language)
        if marked is None:
            return None
        mark, rest = marked
        current = self.current
        open_text = (
            current is not None
            and current.kind in ("step", "text")
            and not current.text.rstrip().endswith(_CLOSED)
            and self._near(current, at)
        )
        if not self.marks.accepts(mark, at.line.left, rest, open_text=open_text):
            return None
        piece = Piece("step", at, rest.replace("\t", " ").strip())
        piece.mark = mark
        return piece

    def _is_open(self, current: Piece, at: At) -> bool:
        """Whether the piece above has not come to its end and stands right above."""
        near = self._near(current, at) and at.line.top - current.last.bottom < 0.02
        return (
            current.kind in ("text", "step", "caution")
            and near
            and not current.text.rstrip().endswith(_CLOSED)
        )

    def _near(self, current: Piece, at: At) -> bool:
        last = current.last
        return current.lines[-1].pdf_page == at.pdf_page and last.column == at.line.column

    def _goes_on(self, current: Piece, at: At) -> bool:
        """Whether a line without mark or style of its own belongs to the piece above."""
        line, last = at.line, current.last
        if current.kind in ("table", "figure", "contents", "heading") or last.region == STEPS:
            return False
        if current.kind == "caution" and len(current.lines) == 1 and not current.text:
            return True
        same_place = current.lines[-1].pdf_page == at.pdf_page and last.column == line.column
        if line.boxed != last.boxed:
            header = current.kind == "caution" and len(current.lines) == 1 and line.boxed != 0
            return header and not current.text
        same_page = current.lines[-1].pdf_page == at.pdf_page
        if current.kind in ("caution", "label") and line.boxed and same_page:
            return True
        if not same_place:
            return not current.text.rstrip().endswith(_CLOSED) and line.text[:1].islower()
        height = max(last.bottom - last.top, 1e-6)
        gap = line.top - last.bottom
        if gap > 0.75 * height or gap < -height:
            return False
        if abs(line.size_pt - last.size_pt) > 1.2 and current.kind != "caution":
            return False
        ended = current.text.rstrip().endswith(_CLOSED)
        if ended and current.kind == "label" and current.name not in ("before", "after", "references"):
            return not (current.text and line.text[:1].isupper() and line.left < current.left + INDENT)
        if ended and current.kind == "step" and self.marks.hang and line.left < current.left + INDENT:
            return False
        if ended and current.kind == "text" and line.text[:1].isupper() and len(current.lines) > 1:
            right = max(one.line.right for one in current.lines)
            if last.right < right - _SHORT and not line.boxed:
                return False
        return not (ended and line.left < current.left - 0.012 and current.kind != "text")


def block_label(text: str, lead: int, language: Lexicon) -> tuple[str, int] | None:
    """Which labelled block a line opens, and where its label ends."""
    head = text[:60]
    if lead == 0 and len(text) > 48 and ":" not in head and "\t" not in head and " –" not in head:
        return None
    word = WORD.search(head)
    if word is None or not language.opens(word.group().lower(), "blocks"):
        return None
    scan = language.scan(head)
    for hit in scan.of("blocks"):
        if hit.first != 0:
            return None
        behind = text[hit.end : hit.end + 2]
        only = not text[hit.end :].strip(" \t:")
        bold = lead > 0 and abs(lead - hit.end) <= 1
        if behind[:1] in (":", "\t") or only or bold or behind[:2] in (" :", " –"):
            return hit.key, hit.end
        return None
    return None
