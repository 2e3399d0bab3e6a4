"""A manual in HTML as blocks. Nothing is fetched and nothing is run; what cannot be seen is left out."""

import re

from lastbolt.reading.text_inline import tidy
from lastbolt.reading.text_tags import Tag, Words, scanned
from lastbolt.words.machine import SIGNALS
from lastbolt.words.written import Block, Cells, Link, Run, Writing

_DEEPEST = 200
_OUT = "out of sight: "
"""Before the name of what is open and not seen."""
_MOST_COLUMNS = 60
_MOST_DEEP = 8
"""Lists within lists: deeper ones stand where these do."""
_SPACE = re.compile(r"\s+")
_UNSEEN = re.compile(r"display\s*:\s*none|visibility\s*:\s*hidden", re.IGNORECASE)
HIDDEN = frozenset(
    (
        "script",
        "style",
        "head",
        "template",
        "noscript",
        "svg",
        "math",
        "iframe",
        "object",
        "embed",
        "canvas",
        "audio",
        "video",
        "select",
        "textarea",
        "nav",
        "button",
    )
)
"""What is no part of the text that people read."""
_EMPTY = frozenset(
    ("area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "track", "wbr")
)
_BLOCK = frozenset(
    (
        "address",
        "article",
        "aside",
        "blockquote",
        "body",
        "caption",
        "center",
        "dd",
        "details",
        "dialog",
        "div",
        "dl",
        "dt",
        "fieldset",
        "figcaption",
        "figure",
        "footer",
        "form",
        "header",
        "hr",
        "html",
        "li",
        "main",
        "ol",
        "p",
        "pre",
        "section",
        "summary",
        "table",
        "tbody",
        "td",
        "tfoot",
        "th",
        "thead",
        "tr",
        "ul",
        "h1",
        "h2",
        "h3",
        "h4",
        "h5",
        "h6",
    )
)
_BOLD = frozenset(("b", "strong", "th", "dt"))
_ITALIC = frozenset(("i", "em", "cite", "var"))
_MARKS = {"a": "abcdefghijklmnopqrstuvwxyz", "A": "ABCDEFGHIJKLMNOPQRSTUVWXYZ"}


def read_html(text: str) -> Writing:
    """The blocks of the text, each with the line it begins on."""
    builder = _Builder()
    for part in scanned(text):
        if isinstance(part, Words):
            builder.words(part)
        elif part.end:
            builder.ended(part)
        else:
            builder.began(part)
    builder.close()
    builder.end_table()
    return Writing(
        tuple(builder.blocks), tuple(builder.links), tuple(builder.anchors), builder.pictures,
        _SPACE.sub(" ", builder.title).strip(),
    )  # fmt: skip


class _List:
    """A list that is open: its sort of marks and the number of the last entry."""

    def __init__(self, tag: Tag) -> None:
        start = tag.attributes.get("start", "1")
        self.ordered = tag.name == "ol"
        self.sort = tag.attributes.get("type", "1")
        self.number = int(start) - 1 if start.isdecimal() and len(start) < 6 else 0

    def next(self, value: str) -> str:
        """The mark of the next entry."""
        if not self.ordered:
            return "•"
        self.number = int(value) if value.isdecimal() and len(value) < 6 else self.number + 1
        letters = _MARKS.get(self.sort, "")
        return f"{letters[self.number - 1]}." if 0 < self.number <= len(letters) else f"{self.number}."


class _Builder:
    """Takes tags and words and keeps what is open; nothing in it calls itself, however deep the file goes."""

    def __init__(self) -> None:
        self.blocks: list[Block] = []
        self.links: list[Link] = []
        self.anchors: list[tuple[str, int]] = []
        self.pictures = 0
        self.title = ""
        self._open: list[str] = []
        self._hidden = self._bold = self._italic = 0
        """How many of the open tags hide, embolden, slope."""
        self._runs: list[Run] = []
        self._line = 0
        self._lists: list[_List] = []
        self._mark = ""
        self._level = 0
        self._anchor = ""
        self._link: tuple[str, int, int] | None = None
        self._new_links: list[Link] = []
        self._rows: list[list[tuple[Run, ...]]] | None = None
        self._row_lines: list[int] = []
        self._tables = 0
        self._cell = 0
        """Over how many columns the cell goes that is open; 0: none is."""
        self._signal = ""

    def words(self, part: Words) -> None:
        """Take in words."""
        if self._open and self._open[-1] == "title":
            self.title += part.text
            return
        if self._hidden:
            return
        if "pre" in self._open[-_DEEPEST:] and self._rows is None:
            self._kept_lines(part)
            return
        if not self._runs:
            self._line = (
                part.line + len(part.text[: len(part.text) - len(part.text.lstrip())].split("\n")) - 1
            )
        bold, italic = self._bold > 0, self._italic > 0
        self._runs.append(Run(_SPACE.sub(" ", part.text), bold, italic))

    def _kept_lines(self, part: Words) -> None:
        for number, line in enumerate(part.text.split("\n")):
            if line.strip():
                self.blocks.append(Block("verbatim", part.line + number, (Run(line.rstrip().expandtabs(4)),)))

    def began(self, tag: Tag) -> None:
        """Take in a tag that begins something."""
        name = tag.name
        unseen = (
            name in HIDDEN or "hidden" in tag.attributes or _UNSEEN.search(tag.attributes.get("style", ""))
        )
        if self._hidden or unseen:
            if name == "title":
                self._push(name)
            elif name not in _EMPTY:
                self._push(f"{_OUT}{name}")
            return
        if name in _BLOCK:
            self._began_block(tag)
        if identity := tag.attributes.get("id") or (tag.attributes.get("name", "") if name == "a" else ""):
            self.anchors.append((identity, tag.line))
        if name == "a" and (target := tag.attributes.get("href")):
            self._link = (target, tag.line, len(self._runs))
        elif name == "img":
            self.pictures += 1
        elif name == "br":
            self._runs.append(Run(" "))
        if name not in _EMPTY:
            self._push(name)

    def _began_block(self, tag: Tag) -> None:
        name = tag.name
        in_cell = self._rows is not None and name not in (
            "tr",
            "td",
            "th",
            "tbody",
            "thead",
            "tfoot",
            "caption",
        )
        if in_cell and name != "table":
            self._runs.append(Run(" "))
            return
        if name == "table":
            self._tables += 1
            if self._tables == 1:
                self.close()
                self._rows, self._row_lines = [], []
        elif name == "tr" and self._rows is not None and self._tables == 1:
            self._end_cell()
            self._rows.append([])
            self._row_lines.append(tag.line)
        elif name in ("td", "th") and self._rows and self._tables == 1:
            self._end_cell()
            wide = tag.attributes.get("colspan", "1")
            self._cell = min(int(wide), _MOST_COLUMNS) if wide.isdecimal() and 0 < len(wide) < 4 else 1
        elif self._rows is None:
            self.close()
            self._opens(tag)

    def _opens(self, tag: Tag) -> None:
        name = tag.name
        if name in ("ol", "ul"):
            self._lists.append(_List(tag))
        elif name == "li":
            mark = self._lists[-1].next(tag.attributes.get("value", "")) if self._lists else "•"
            self._mark = mark
        elif len(name) == 2 and name[0] == "h" and name[1].isdecimal():
            self._level, self._anchor = int(name[1]), tag.attributes.get("id", "")
        self._signal = _signal(tag) or self._signal

    def _push(self, name: str) -> None:
        self._open.append(name)
        self._hidden += name.startswith(_OUT)
        self._bold += name in _BOLD
        self._italic += name in _ITALIC
        if len(self._open) > 4 * _DEEPEST:
            del self._open[: 2 * _DEEPEST]
            self._hidden = sum(one.startswith(_OUT) for one in self._open)
            self._bold = sum(one in _BOLD for one in self._open)
            self._italic = sum(one in _ITALIC for one in self._open)

    def ended(self, tag: Tag) -> None:
        """Take in a tag that ends something: all that was opened within it ends too."""
        name = tag.name
        if name == "a":
            self._end_link()
        place = next(
            (n for n in range(len(self._open) - 1, max(len(self._open) - _DEEPEST, 0) - 1, -1)
             if self._open[n].removeprefix(_OUT) == name),
            None,
        )  # fmt: skip
        if place is None:
            return
        gone = self._open[place:]
        del self._open[place:]
        was_hidden = bool(self._hidden)
        self._hidden -= sum(one.startswith(_OUT) for one in gone)
        self._bold -= sum(one in _BOLD for one in gone)
        self._italic -= sum(one in _ITALIC for one in gone)
        if was_hidden:
            return
        if name in ("td", "th", "tr") and self._tables == 1:
            self._end_cell()
        elif name == "table" and self._tables:
            self._tables -= 1
            if self._tables == 0:
                self.end_table()
        elif name in _BLOCK and self._rows is None:
            self.close()
            if name in ("ol", "ul") and self._lists:
                self._lists.pop()
            self._level = 0 if name.startswith("h") else self._level

    def _end_link(self) -> None:
        if self._link is None:
            return
        target, line, begun = self._link
        words = _SPACE.sub(" ", "".join(run.text for run in self._runs[begun:])).strip()
        self._link = None
        self._new_links.append(Link(words, target, line))

    def close(self) -> None:
        """End the paragraph, entry or heading that is open."""
        self._end_link()
        runs = tidy(self._runs)
        said = "".join(run.text for run in runs).strip()
        self.links += [
            Link(one.words, one.target, one.line, one.words == said) for one in self._new_links if one.words
        ]
        self._new_links, self._runs = [], []
        if not said:
            return
        if self._signal and not self._level:
            if not said.casefold().startswith(self._signal.casefold()):
                runs = (Run(f"{self._signal}: ", bold=True), *runs)
            self._signal = ""
        if self._level:
            self.blocks.append(Block("heading", self._line, runs, self._level, anchor=self._anchor))
            self._level, self._anchor = 0, ""
        elif self._lists:
            self.blocks.append(Block("item", self._line, runs, min(len(self._lists), _MOST_DEEP), self._mark))
        else:
            self.blocks.append(Block("text", self._line, runs))
        self._mark = ""

    def _end_cell(self) -> None:
        """End the cell that is open; words of a table outside its cells are no cell's."""
        runs = tidy(self._runs)
        self._end_link()
        self.links += [one for one in self._new_links if one.words]
        self._new_links, self._runs = [], []
        if self._cell and self._rows:
            self._rows[-1] += [runs, *[()] * (self._cell - 1)]
        self._cell = 0

    def end_table(self) -> None:
        """End the table that is open."""
        if self._rows is None:
            return
        self._end_cell()
        rows: list[Cells] = []
        lines: list[int] = []
        for row, line in zip(self._rows, self._row_lines, strict=True):
            if any(cell for cell in row):
                rows.append(tuple(row))
                lines.append(line)
        self._rows = None
        if rows:
            self.blocks.append(
                Block(
                    "table",
                    lines[0],
                    level=min(len(self._lists), _MOST_DEEP),
                    rows=tuple(rows),
                    lines=tuple(lines),
                )
            )


def _signal(tag: Tag) -> str:
    """The signal word that a box is named by, where it is a box of its own."""
    if tag.name not in ("div", "aside", "section", "blockquote", "p"):
        return ""
    named = {*tag.attributes.get("class", "").casefold().split(), tag.attributes.get("role", "").casefold()}
    return next((name.upper() for name in SIGNALS if name in named), "")
