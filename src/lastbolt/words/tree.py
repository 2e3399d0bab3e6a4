"""A marked-up source (XML) as plain values: elements with their place, and the modules of a publication."""

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from msgspec import Struct

from lastbolt.words.problem import Problem


class Element(Struct, frozen=True):
    """One element: names without namespace prefix, its words and children in order, and where it stands.

    `path` names the elements from the root down; a name without a number is the first of its kind there.
    """

    name: str
    attributes: Mapping[str, str]
    content: "tuple[Element | str, ...]" = ()
    file: str = ""
    line: int = 0
    path: str = ""

    def get(self, *names: str) -> str:
        """The first of these attributes that is there and not empty."""
        return next((value for name in names if (value := self.attributes.get(name, "").strip())), "")

    def children(self, *names: str) -> "list[Element]":
        """The children of these names (of all names when none is given), in order."""
        return [c for c in self.content if isinstance(c, Element) and (not names or c.name in names)]

    def child(self, *names: str) -> "Element | None":
        """The first child of one of these names."""
        return next(iter(self.children(*names)), None)

    def below(self, *names: str) -> "Iterator[Element]":
        """Every element of these names at any depth below this one, in order of the source."""
        waiting = self.children()[::-1]
        while waiting:
            element = waiting.pop()
            if not names or element.name in names:
                yield element
            waiting += element.children()[::-1]

    def first(self, *names: str) -> "Element | None":
        """The first element of one of these names at any depth."""
        return next(self.below(*names), None)

    def words(self) -> str:
        """All its words, spaces made even."""
        parts: list[str] = []
        waiting: list[Element | str] = [self]
        while waiting:
            part = waiting.pop()
            if isinstance(part, str):
                parts.append(part)
            else:
                waiting += part.content[::-1]
        return " ".join("".join(parts).split())


class Module(NamedTuple):
    """One XML file of a publication: its name inside the folder or archive, and its root."""

    file: str
    root: Element


class Publication(NamedTuple):
    """All XML files that belong together, in order of their names, and what could not be read."""

    modules: tuple[Module, ...]
    problems: tuple[Problem, ...] = ()
    sha256: str = ""
    """Of a single file its own digest, else of the names and digests of all modules."""
