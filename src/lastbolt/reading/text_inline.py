"""The words of one Markdown paragraph: bold, sloping, links, pictures, code; everything in one pass."""

import re
from collections.abc import Iterable
from html import unescape
from itertools import groupby
from typing import NamedTuple

from lastbolt.words.written import Link, Run

_LONGEST_LINK = 2_000
_SPACE = re.compile(r"\s+")
_BRACKET = re.compile(r"(?<!\\)[\[\]]")
_TOKEN = re.compile(
    r"\\(?P<escaped>[!-/:-@\[-`{-~])|(?P<code>`+)|(?P<picture>!\[)|(?P<link>\[)|(?P<style>\*{1,3}|_{1,3})"
    r"|(?P<auto><(?:https?://|mailto:)[^<>\s]{1,500}>)|(?P<tag></?[A-Za-z][^<>\n]{0,500}>)"
)
_TARGET = re.compile(
    r"\(\s*<?([^()<>\s]*(?:\([^()\s]*\))?[^()<>\s]*)>?(?:\s+[\"'(][^\"')]{0,300}[\"')])?\s*\)"
)
_NAMED = re.compile(r"\[([^\[\]]{0,200})\]")
_ANCHOR = re.compile(r"\b(?:id|name)\s*=\s*[\"']?([^\"'\s>]{1,200})")


class _Into(NamedTuple):
    """Where the words of a link go: the runs so far, its line, the style around it, how deep it stands."""

    found: list[Run]
    line: int
    style: str
    depth: int


class Inline:
    """Takes the paragraphs of one text; gathers their links, pictures and named places."""

    def __init__(self, named: dict[str, str]) -> None:
        self._named = named
        """Targets of links that are written "[words][name]"."""
        self.links: list[Link] = []
        self.anchors: list[tuple[str, int]] = []
        self.pictures = 0

    def runs(self, text: str, line: int) -> tuple[Run, ...]:
        """The paragraph's words; what it links to is kept beside them."""
        before = len(self.links)
        made = tidy(self._parts(text, line, "", 0))
        said = "".join(run.text for run in made).strip()
        for number in range(before, len(self.links)):
            link = self.links[number]
            if link.words.strip() == said:
                self.links[number] = Link(link.words, link.target, link.line, alone=True)
        return made

    def _parts(self, text: str, line: int, style: str, depth: int) -> list[Run]:
        found: list[Run] = []
        bold, italic = "b" in style, "i" in style
        at = counted = 0
        here = line
        ends = _closings(text) if "[" in text else {}
        while (match := _TOKEN.search(text, at)) is not None:
            found.append(Run(unescape(text[at : match.start()]), bold, italic))
            at = match.end()
            here += text.count("\n", counted, match.start())
            counted = match.start()
            if match["escaped"]:
                found.append(Run(match["escaped"], bold, italic))
            elif match["code"]:
                end = text.find(match["code"], at, at + _LONGEST_LINK)
                found.append(Run(text[at:end] if end >= 0 else match["code"], bold, italic))
                at = end + len(match["code"]) if end >= 0 else at
            elif match["style"]:
                if self._turns(text, match):
                    bold, italic = bold ^ (len(match["style"]) > 1), italic ^ (len(match["style"]) != 2)
                else:
                    found.append(Run(match["style"], bold, italic))
            elif match["picture"] or match["link"]:
                end = ends.get(at, -1)
                at = self._link(text, match, end, _Into(found, here, f"{'b' * bold}{'i' * italic}", depth))
            elif match["auto"]:
                found.append(Run(match["auto"][1:-1], bold, italic))
            else:
                self._tag(match["tag"], here)
                found.append(Run(" " if match["tag"].lower().startswith("<br") else "", bold, italic))
        found.append(Run(unescape(text[at:]), bold, italic))
        return found

    @staticmethod
    def _turns(text: str, match: re.Match[str]) -> bool:
        """Whether stars or strokes begin or end a style: "3 * 4" and "part_no" hold none."""
        before = text[match.start() - 1 : match.start()]
        after = text[match.end() : match.end() + 1]
        if match["style"].startswith("_") and before.isalnum() and after.isalnum():
            return False
        return not (before.isspace() or not before) or not (after.isspace() or not after)

    def _link(self, text: str, match: re.Match[str], end: int, into: "_Into") -> int:
        found, line, style, depth = into
        bold, italic = "b" in style, "i" in style
        if end < 0 or end - match.end() > _LONGEST_LINK or depth > 3:
            found.append(Run(match[0], bold, italic))
            return match.end()
        words = text[match.end() : end]
        target, at = self._target(text, end + 1, words)
        if match["picture"]:
            self.pictures += 1
            return at if target is not None else end + 1
        inner = self._parts(words, line, style, depth + 1)
        if target is None:
            found += [Run("[", bold, italic), *inner, Run("]", bold, italic)]
            return end + 1
        found += inner
        self.links.append(Link("".join(run.text for run in inner).strip(), target, line))
        return at

    def _target(self, text: str, at: int, words: str) -> tuple[str | None, int]:
        near = text[at : at + _LONGEST_LINK]
        if match := _TARGET.match(near):
            return match[1], at + match.end()
        match = _NAMED.match(text, at)
        name = (match[1] or words) if match else words
        target = self._named.get(" ".join(name.casefold().split()))
        return target, match.end() if match and target is not None else at

    def _tag(self, tag: str, line: int) -> None:
        if named := _ANCHOR.search(tag):
            self.anchors.append((named[1], line))
        self.pictures += tag.lower().startswith("<img")


def _closings(text: str) -> dict[int, int]:
    """Where each bracket ends, by the place behind its beginning; those that never end are left out."""
    open_: list[int] = []
    found: dict[int, int] = {}
    for match in _BRACKET.finditer(text):
        if match[0] == "[":
            open_.append(match.end())
        elif open_:
            found[open_.pop()] = match.start()
    return found


def tidy(runs: Iterable[Run]) -> tuple[Run, ...]:
    """Runs of one style joined, spaces single, none at the ends."""
    found: list[Run] = []
    spaced = True
    for (bold, italic), some in groupby(runs, key=lambda run: (run.bold, run.italic)):
        text = _SPACE.sub(" ", "".join(run.text for run in some))
        text = text[1:] if spaced and text.startswith(" ") else text
        if text:
            found.append(Run(text, bold, italic))
            spaced = text.endswith(" ")
    if found and found[-1].text.endswith(" "):
        last = found.pop()
        found += [Run(last.text[:-1], last.bold, last.italic)] if last.text[:-1] else []
    return tuple(found)
