"""A manual in Markdown as blocks: headings, paragraphs, lists, tables, lines kept as they stand."""

import re
from typing import NamedTuple

from lastbolt.reading.text_inline import Inline
from lastbolt.words.machine import SIGNALS
from lastbolt.words.written import Block, Cells, Run, Writing

_HEADING = re.compile(r" {0,3}(#{1,6})(?:\s+(.*?))?(?:\s+#+)?\s*$")
_NAMED_HEADING = re.compile(r"\s*\{[^{}]*#([\w.:-]+)[^{}]*\}\s*$")
_UNDER = re.compile(r" {0,3}(=+|-+)\s*$")
_RULE = re.compile(r" {0,3}(?:(?:\*\s*){3,}|(?:-\s*){3,}|(?:_\s*){3,})$")
_ITEM = re.compile(r"(\s*)([-*+•]|\(?\d{1,4}[.)]|\(?[a-zA-Z][.)])(\s+)(?=\S)")
_FENCE = re.compile(r" {0,3}(`{3,}|~{3,})")
_DEFINED = re.compile(r" {0,3}\[([^\[\]]{1,200})\]:\s*<?(\S{1,1000}?)>?(?:\s+[\"'(].*)?$")
_QUOTED = re.compile(r"( {0,24})> ?")
_SIGNAL = re.compile(r"\[!(\w+)\]\s*")
_WARNS = re.compile(rf"(?:\*\*|__)?(?:{'|'.join(name.upper() for name in SIGNALS)})\b")
_SPLIT = re.compile(r"(?<!\\)\|")
_DIVIDER = re.compile(r"\s*\|?\s*:?-+:?\s*(?:\|\s*:?-+:?\s*)*\|?\s*$")
_TAB = 4
_LONGEST_LINE = 4_000
"""A longer line is words alone: no heading, no table, no entry of a list."""
_DEEPEST = 8


def read_markdown(text: str) -> Writing:
    """The blocks of the text, each with the line it begins on."""
    lines = _without_comments(text).expandtabs(_TAB).split("\n")
    named = {
        " ".join(match[1].casefold().split()): match[2]
        for line in lines
        if len(line) < _LONGEST_LINE and (match := _DEFINED.match(line))
    }
    reader = _Reader(Inline(named))
    start = _front_matter(lines)
    for number, line in enumerate(lines[start:], start=start + 1):
        reader.take(line.rstrip(), number, lines[number].rstrip() if number < len(lines) else "")
    reader.finish()
    inline = reader.inline
    return Writing(tuple(reader.blocks), tuple(inline.links), tuple(inline.anchors), inline.pictures)


def _without_comments(text: str) -> str:
    """The text with remarks blanked, lines kept; one that does not end is left as words."""
    kept: list[str] = []
    at = 0
    while (begin := text.find("<!--", at)) >= 0 and (end := text.find("-->", begin)) >= 0:
        kept += [text[at:begin], "\n" * text.count("\n", begin, end)]
        at = end + 3
    return "".join((*kept, text[at:]))


def _front_matter(lines: list[str]) -> int:
    """How many lines of settings stand before the text, between two "---"."""
    if not lines or lines[0].strip() != "---":
        return 0
    return next((n for n, line in enumerate(lines[1:200], start=2) if line.strip() in ("---", "...")), 0)


class _Open(NamedTuple):
    """An entry of a list that is open: where its words begin."""

    indent: int
    content: int


class _Reader:
    """Takes line by line and keeps the block that is open."""

    def __init__(self, inline: Inline) -> None:
        self.inline = inline
        self.blocks: list[Block] = []
        self._words: list[str] = []
        self._line = 0
        self._mark = ""
        self._stack: list[_Open] = []
        self._fence = ""
        self._table: list[tuple[int, str]] = []
        self._blank = False

    def take(self, line: str, number: int, below: str) -> None:
        """Take in the next line; `below` is the one after it."""
        if self._fence:
            self._verbatim(line, number)
            return
        if len(line) > _LONGEST_LINE:
            self._close()
            self._words, self._line = [line], number
            self._close()
            return
        if self._table and ("|" not in line or not line.strip()):
            self._end_table()
        line = self._unquoted(line)
        if fence := _FENCE.match(line):
            self._close()
            self._fence = fence[1]
        elif not line.strip():
            self._close()
            self._blank = True
            return
        elif self._table:
            self._table.append((number, line))
        elif not self._heading(line, number, below) and not self._starts_table(line, number, below):
            self._text(line, number)
        self._blank = False

    def _unquoted(self, line: str) -> str:
        """The line without the marks of a quotation; "[!NAME]" at its start is a signal word."""
        quoted = False
        for _ in range(_DEEPEST):
            match = _QUOTED.match(line)
            if match is None:
                break
            quoted, line = True, match[1] + line[match.end() :]
        bare = line.lstrip()
        if quoted and (signal := _SIGNAL.match(bare)):
            self._close()
            return f"{line[: len(line) - len(bare)]}**{signal[1].upper()}:** {bare[signal.end() :]}"
        if _WARNS.match(bare):
            self._close()  # a warning on a line of its own is no part of the sentence before it
        return line

    def _verbatim(self, line: str, number: int) -> None:
        if line.strip().startswith(self._fence) and not line.strip().strip(self._fence[0]):
            self._fence = ""
        else:
            self.blocks.append(Block("verbatim", number, (Run(line),)))

    def _heading(self, line: str, number: int, below: str) -> bool:
        match = _HEADING.match(line)
        if match:
            self._close()
            self._add_heading(match[2] or "", len(match[1]), number)
            return True
        if _DEFINED.match(line) or (_RULE.match(line) and not self._words):
            self._close()
            return True
        under = _UNDER.match(line)
        if under and self._words and not self._mark and not self._stack:
            words, self._words = " ".join(self._words), []
            self._add_heading(words, 1 if under[1].startswith("=") else 2, self._line)
            return True
        return False

    def _add_heading(self, words: str, level: int, number: int) -> None:
        self._stack.clear()
        named = _NAMED_HEADING.search(words)
        anchor = named[1] if named else ""
        if anchor:
            self.inline.anchors.append((anchor, number))
        runs = self.inline.runs(words[: named.start()] if named else words, number)
        self.blocks.append(Block("heading", number, runs, level, anchor=anchor))

    def _starts_table(self, line: str, number: int, below: str) -> bool:
        if "|" not in line or "-" not in below or len(below) > _LONGEST_LINE:
            return False
        if not _DIVIDER.match(" ".join(below.split())):
            return False
        self._close()
        self._table = [(number, line)]
        return True

    def _end_table(self) -> None:
        rows: list[Cells] = []
        lines: list[int] = []
        for number, line in self._table:
            if len(rows) == 1 and _DIVIDER.match(" ".join(line.split())):
                continue
            cells = _SPLIT.split(line.strip().removeprefix("|").removesuffix("|"))
            rows.append(tuple(self.inline.runs(cell.strip().replace("\\|", "|"), number) for cell in cells))
            lines.append(number)
        self._table = []
        if rows:
            level = len(self._stack)
            self.blocks.append(Block("table", lines[0], level=level, rows=tuple(rows), lines=tuple(lines)))

    def _text(self, line: str, number: int) -> None:
        item = _ITEM.match(line)
        indent = len(line) - len(line.lstrip())
        if item and not (
            self._words and not self._stack and item[2] not in ("-", "*", "+") and not self._first(item)
        ):
            self._close()
            while self._stack and indent < self._stack[-1].content:
                self._stack.pop()
            if len(self._stack) < _DEEPEST:
                self._stack.append(_Open(indent, indent + len(item[2]) + min(len(item[3]), _TAB)))
            self._mark = "•" if item[2] in "-*+•" else item[2]
            line = line[item.end() :]
        elif not self._words:
            if self._blank:
                while self._stack and indent < self._stack[-1].content:
                    self._stack.pop()
            if not self._stack and indent >= _TAB:
                self.blocks.append(Block("verbatim", number, (Run(line[_TAB:]),)))
                return
        if not self._words:
            self._line = number
        self._words.append(line.strip() if not line.endswith("\\") else line.strip()[:-1])

    @staticmethod
    def _first(item: re.Match[str]) -> bool:
        """Whether a number may begin a list in the middle of a paragraph: only the first does."""
        return item[2].strip("().") in ("1", "a", "A")

    def _close(self) -> None:
        """End the paragraph or entry that is open."""
        if not self._words:
            return
        runs = self.inline.runs("\n".join(self._words), self._line)
        if self._stack:
            self.blocks.append(Block("item", self._line, runs, len(self._stack), self._mark))
        else:
            self.blocks.append(Block("text", self._line, runs))
        self._words, self._mark = [], ""

    def finish(self) -> None:
        """End what is open."""
        self._close()
        if self._table:
            self._end_table()
