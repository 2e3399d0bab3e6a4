"""The tags and the words of an HTML text in order, in time that grows with the text.

The standard library's parser takes a minute for 100 kB of tags that never end (measured, Python 3.11), so
this goes through the text once and looks nothing up twice.
"""

import re
from collections.abc import Iterator
from html import unescape
from typing import NamedTuple

_LONGEST_TAG = 20_000
_NAME = re.compile(r"[A-Za-z][A-Za-z0-9:-]*")
_ATTRIBUTE = re.compile(r"([^\s=\"'<>/]+)(?:\s*=\s*(?:\"([^\"]*)\"|'([^']*)'|([^\s\"'<>]+)))?")
_RAW = frozenset(("script", "style", "textarea", "title"))
"""Their contents are no tags."""


class Tag(NamedTuple):
    """A tag: its name, whether it ends something, what it says, and its line."""

    name: str
    end: bool
    attributes: dict[str, str]
    line: int


class Words(NamedTuple):
    """Words between tags, and their line."""

    text: str
    line: int


def scanned(text: str) -> Iterator[Tag | Words]:
    """The tags and the words of a text in order; a tag that does not end is words."""
    scanner = _Scanner(text)
    raw = ""
    held: list[str] = []
    line = 1
    while scanner.at < len(text):
        begin = scanner.next_of(f"</{raw}" if raw else "<")
        if begin > scanner.at:
            line = line if held else scanner.line
            if not raw or raw == "title":
                held.append(text[scanner.at : begin])
            scanner.go(begin)
        if begin >= len(text):
            break
        line = line if held else scanner.line
        found = scanner.tag()
        raw = ""
        if isinstance(found, Tag):
            if held:
                yield Words(unescape("".join(held)), line)
                held = []
            yield found
            raw = found.name if found.name in _RAW and not found.end else ""
        elif found:
            held.append(found)
    if held:
        yield Words(unescape("".join(held)), line)


class _Scanner:
    """Goes through a text once. Where the next ">" and the next end of a remark stand is looked up only when
    the last one was passed, so that no text makes it look at anything twice."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.line = 1
        self._low = text.lower() if len(text.lower()) == len(text) else text
        self._known: dict[str, int] = {}

    def next_of(self, sign: str) -> int:
        """Where the sign stands next; the text's end where it does not."""
        if self._known.get(sign, -1) < self.at:
            found = self._low.find(sign, self.at)
            self._known[sign] = len(self.text) if found < 0 else found
        return self._known[sign]

    def go(self, to: int) -> None:
        """Go on to a place."""
        self.line += self.text.count("\n", self.at, to)
        self.at = to

    def tag(self) -> Tag | str:
        """The tag that begins here, passed; "" for a remark; its "<" where it is none."""
        text, at = self.text, self.at
        if text.startswith("<!--", at):
            return self._passed(self.next_of("-->"), 3)
        if text.startswith(("<!", "<?"), at):
            return self._passed(self.next_of(">"), 1)
        ends = text.startswith("</", at)
        name = _NAME.match(text, at + 1 + ends)
        stop = self._end(name.end()) if name is not None else -1
        if name is None or stop < 0:
            self.go(at + 1)
            return "<"
        inside, line = text[name.end() : stop], self.line
        self.go(stop + 1)
        attributes = {
            match[1].lower(): unescape(match[2] or match[3] or match[4] or "")
            for match in _ATTRIBUTE.finditer(inside)
        }
        return Tag(name[0].lower(), ends, attributes, line)

    def _passed(self, end: int, length: int) -> str:
        if end >= len(self.text):
            self.go(self.at + 1)
            return "<"
        self.go(end + length)
        return ""

    def _end(self, at: int) -> int:
        """Where the tag's ">" stands that is in no quotation marks; -1: nowhere near."""
        most = min(len(self.text), at + _LONGEST_TAG)
        end = self.next_of(">")
        if end >= most:
            return -1
        quote = ""
        for place in range(at, most):
            sign = self.text[place]
            if quote:
                quote = "" if sign == quote else quote
            elif sign in "\"'" and self.text[place - 1] in "= \t\n\r":
                quote = sign
            elif sign == ">":
                return place
            elif sign == "<":
                return -1
        return end
