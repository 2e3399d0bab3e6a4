"""What a module of a marked-up source says, in one shape for every standard, before references are looked up.

    Publication --xml_s1000d / xml_dita--> ModuleDraft ... --xml_link--> sections, procedures, figures, rows

Words are kept as a `Phrase`: running text in which a mark stands for each link, so that a link can be read
together with the sentence it stands in.
"""

import re
from typing import Literal, NamedTuple

from lastbolt.words.citation import Citation, XmlPlace
from lastbolt.words.machine import (
    EVERY,
    Applies,
    Caution,
    Deed,
    Figure,
    PartsRow,
    Signal,
    TableRow,
    TorqueRow,
)
from lastbolt.words.measured import Limit
from lastbolt.words.tree import Element

Holds = Literal["procedure", "table", "text", "sections"]
FIRST_MARK = 0xE000
"""Marks are private-use characters from here on; a source's own ones are taken for unknown."""
MOST_LINKS = 0x1000
MARK = re.compile("[\ue000-\uefff]")
_PRIVATE = re.compile("[\ue000-\uf8ff]")
_EMPTY = re.compile(r"\(\s*[,;]?\s*\)|\[\s*\]")
_DOUBLE = re.compile(r"\(\s*\(([^()]*)\)\s*\)")
_SPACED = re.compile(r"\s+([.,;:)])")


class Link(NamedTuple):
    """A reference of the markup. `to` is the key of a module (a data module code, `file#topic`)."""

    to: str
    called: str
    fragment: str = ""
    """The id of an element in that module: a step."""
    outside: bool = False
    """It leads to a publication that is no part of this one."""
    own: bool = False
    """It leads to another place of the module it stands in."""


class Phrase(NamedTuple):
    """Words with their links."""

    text: str = ""
    links: tuple[Link, ...] = ()

    def words(self) -> str:
        """As people read it: each link by what it is called."""
        return tidy(MARK.sub(lambda mark: self.links[ord(mark[0]) - FIRST_MARK].called, self.text))

    def plain(self) -> str:
        """As the step reader reads it: without the links."""
        return without_marks(self.text)

    def links_in(self, text: str) -> list[Link]:
        """The links whose marks stand in a piece of the text."""
        return [self.links[ord(mark) - FIRST_MARK] for mark in MARK.findall(text)]


class Entry(NamedTuple):
    """One line of a set-up block or follow-on: what must be true, or is to be done afterwards."""

    phrase: Phrase
    cited: tuple[Citation, ...]
    applies: Applies = EVERY
    condition: str = ""


class StepDraft(NamedTuple):
    """One step; `ids` are those by which links point at it."""

    mark: str
    phrase: Phrase
    cited: tuple[Citation, ...]
    cautions: tuple[Caution, ...] = ()
    ids: tuple[str, ...] = ()
    applies: Applies = EVERY
    condition: str = ""
    figures: tuple[str, ...] = ()
    """Ids of the figures it shows or points at."""
    aside: str = ""
    """What people read with it that tells nothing to do: the result to expect, an example."""


class ModuleDraft:
    """A data module or topic."""

    def __init__(self, key: str, number: str, title: str, cited: tuple[Citation, ...]) -> None:
        self.key = key
        self.number = number
        self.title = title
        self.cited = cited
        self.anchor = number or key
        self.names: tuple[str, ...] = ()
        """Other keys by which links call it."""
        self.parent: str | None = None
        self.holds: Holds = "text"
        self.deed: Deed = "other"
        self.parts: tuple[str, ...] = ()
        self.applies: Applies = EVERY
        self.before: list[Entry] = []
        self.after: list[Entry] = []
        self.seen: list[Entry] = []
        """Text that tells nothing to do but may point somewhere."""
        self.cautions: list[Caution] = []
        self.tools: list[str] = []
        self.materials: list[str] = []
        self.steps: list[StepDraft] = []
        self.figures: list[Figure] = []
        self.rows: list[PartsRow] = []
        self.torques: list[TorqueRow] = []
        self.limits: list[Limit] = []
        self.bolt_rows: list[TableRow] = []
        self.text = ""


def cite(source: str, element: Element, words: str = "") -> tuple[Citation, ...]:
    """The citation of an element: its file, line and path."""
    return (Citation(source, XmlPlace(element.path, element.file, element.line), words),)


def caution(signal: Signal, words: str, source: str, element: Element) -> Caution:
    """A warning with the place where its words stand."""
    return Caution(signal, words, cite(source, element))


class PhraseMaker:
    """Gathers words, blocks and links in the order of the source."""

    def __init__(self) -> None:
        self._parts: list[str] = []
        self._links: list[Link] = []

    def add(self, text: str) -> None:
        """Running words."""
        self._parts.append(_PRIVATE.sub("\ufffd", text))

    def link(self, link: Link) -> None:
        """A link in the running words."""
        if len(self._links) >= MOST_LINKS:
            self.add(f" {link.called} ")
            return
        self._parts.append(f" {chr(FIRST_MARK + len(self._links))} ")
        self._links.append(link)

    def block(self) -> None:
        """What follows is a paragraph or list entry of its own: what stands before it ends as a sentence."""
        before = "".join(self._parts).rstrip()
        if before and (before[-1].isalnum() or before[-1] in ")]\"'”°%" or MARK.match(before[-1])):
            before += "."
        self._parts = [f"{before} "] if before else []

    def finish(self) -> Phrase:
        """The phrase."""
        return Phrase(tidy("".join(self._parts)), tuple(self._links))


def tidy(text: str) -> str:
    """Spaces made even, none before a stop, no empty or double brackets."""
    even = " ".join(text.split())
    single = _DOUBLE.sub(r"(\1)", _EMPTY.sub("", even))
    return _SPACED.sub(r"\1", single).replace("( ", "(").strip()


def without_marks(text: str) -> str:
    """The text without its links and the brackets that held nothing else."""
    return tidy(MARK.sub("", text))
