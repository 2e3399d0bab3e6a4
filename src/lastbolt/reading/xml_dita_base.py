"""DITA topics made ready to read: known element names, links by key, shared content put in its place.

After DITA 1.3 (OASIS, 2015): addressing by `href` and keys, content reference, and specialization with its
`class` attribute; from memory.
"""

import posixpath
import re
from collections.abc import Iterable, Mapping
from typing import NamedTuple

from lastbolt.reading.problems import Reporter
from lastbolt.reading.xml_drafts import Link, cite
from lastbolt.words.tree import Element, Module

TOPICS = ("topic", "task", "concept", "reference", "troubleshooting", "glossentry")
MAPS = ("map", "bookmap")
_NAMES = frozenset((
    *TOPICS, *MAPS, "dita", "title", "shortdesc", "abstract", "body", "taskbody", "conbody", "refbody",
    "prereq", "context", "steps", "steps-unordered", "steps-informal", "step", "cmd", "info",
    "stepresult", "stepxmp", "tutorialinfo", "steptroubleshooting", "stepsection", "substeps", "substep",
    "choices", "choice", "choicetable", "chrow", "choption", "chdesc", "chhead", "result", "postreq",
    "example", "section", "p", "ul", "ol", "li", "note", "hazardstatement", "messagepanel",
    "typeofhazard", "consequence", "howtoavoid", "fig", "image", "xref", "link", "keyword", "ph",
    "prelreqs", "closereqs", "reqconds", "noconds", "reqcond", "reqcontp", "supequi", "supply", "spare",
    "safety", "nosafety", "safecond", "topicref", "keydef", "topicmeta", "linktext", "mapref", "chapter",
    "related-links", "table", "simpletable", "row", "strow", "entry", "stentry",
))  # fmt: skip
_CLASS = re.compile(r"[\w-]+/([\w-]+)")
_HEX = re.compile(r"%([0-9A-Fa-f]{2})")
_DEEPEST = 10
_MOST_COPIED = 50_000


class Key(NamedTuple):
    """What a key of a map stands for: a place, or words."""

    href: str
    file: str
    words: str


class Library(NamedTuple):
    """All topics and keys of a publication."""

    files: Mapping[str, Element]
    keys: Mapping[str, Key]


def is_dita(root: Element) -> bool:
    """Whether the root is a topic, a map, or a file of several topics."""
    return _plain_name(root) in (*TOPICS, *MAPS, "dita") or "ditaarch" in root.get("DITAArchVersion")


def plainly_named(element: Element) -> Element:
    """The element with specialised names put back to those of the standard, by their `class`."""
    content = tuple(plainly_named(part) if isinstance(part, Element) else part for part in element.content)
    return Element(
        _plain_name(element), element.attributes, content, element.file, element.line, element.path
    )


def library_of(modules: Iterable[Module]) -> Library:
    """The files by name, and the keys that maps define: the first definition counts."""
    files = {module.file: module.root for module in modules}
    keys: dict[str, Key] = {}
    for file, root in files.items():
        if root.name not in MAPS:
            continue
        for one in root.below():
            words = one.first("keyword", "linktext")
            for key in one.get("keys").split():
                said = words.words() if words is not None else ""
                keys.setdefault(key, Key(one.get("href"), file, said))
    return Library(files, keys)


def place_of(href: str, file: str) -> tuple[str, str, str]:
    """The file, topic and element that an `href` names; the topic is empty where it names the file alone.

    >>> place_of("../b.dita#t/s2", "tasks/a.dita"), place_of("#./s1", "a.dita")
    (('b.dita', 't', 's2'), ('a.dita', '.', 's1'))
    """
    path, _, anchor = _HEX.sub(lambda match: chr(int(match[1], 16)), href).partition("#")
    topic, _, element = anchor.partition("/")
    named = posixpath.normpath(posixpath.join(posixpath.dirname(file), path)) if path else file
    return named, topic, element


class Linker:
    """Makes links of the references in one topic."""

    def __init__(self, library: Library, topic: str, titles: Mapping[str, str]) -> None:
        self.library = library
        self.topic = topic
        """The key of the topic that is read."""
        self.titles = titles

    def link(self, element: Element) -> Link | str:
        """Where an `xref`, `link` or key reference leads; words where its key stands for words."""
        own = element.words()
        href, file = element.get("href"), element.file
        key = element.get("keyref")
        fragment = ""
        if key:
            name, _, fragment = key.partition("/")
            known = self.library.keys.get(name)
            if known is None and not href:
                return Link(f"key {name}", own or name)
            if known is not None:
                if not known.href:
                    return own or known.words
                href, file = known.href, known.file
        if not href:
            return own
        format_ = element.get("format") or "dita"
        if (
            element.get("scope") in ("external", "peer")
            or "://" in href
            or format_ not in ("dita", "ditamap")
        ):
            return Link("", own or href, outside=True)
        named, topic, part = place_of(href, file)
        to = self.topic if topic == "." else f"{named}#{topic}" if topic else named
        called = own or self.titles.get(to, to)
        return Link(to, called, fragment or part, own=to == self.topic)


class Sharing:
    """Puts shared content (`conref`, `conkeyref`) in its place, within bounds."""

    def __init__(self, library: Library, source: str, reporter: Reporter) -> None:
        self.library = library
        self.source = source
        self.reporter = reporter
        self.copied = 0
        self._ids: dict[str, dict[str, Element]] = {}

    def put_in(self, element: Element, inside: tuple[str, ...] = ()) -> Element:
        """The element with all shared content in it; `inside`: the references it is itself put in by."""
        named = element.get("conref", "conkeyref")
        if element.get("conrefend"):
            self._tell(
                element, f"{named} to {element.get('conrefend')}", "is a range: only its first is put in"
            )
        if element.get("conaction").startswith("push"):
            self._tell(element, named, "is to be pushed into another topic")
        attributes = element.attributes
        if named and not element.get("conaction"):
            target, place = self._target(element)
            why = ""
            if target is None:
                why = "leads nowhere"
            elif place in inside or len(inside) >= _DEEPEST:
                why = "leads back to itself"
            elif self.copied > _MOST_COPIED:
                why = "copies more than can be read"
            if why or target is None:
                self._tell(element, named, why)
            else:
                self.copied += 1 + sum(1 for _ in target.below())
                kept = {
                    k: v
                    for k, v in attributes.items()
                    if k not in ("conref", "conkeyref", "conrefend") and v != _USE
                }
                whole = Element(
                    element.name, {**target.attributes, **kept}, target.content,
                    target.file, target.line, target.path,
                )  # fmt: skip
                return self.put_in(whole, (*inside, place))
        content = tuple(
            self.put_in(part, inside) if isinstance(part, Element) else part for part in element.content
        )
        return Element(element.name, attributes, content, element.file, element.line, element.path)

    def _target(self, element: Element) -> tuple[Element | None, str]:
        named, file = element.get("conref"), element.file
        if not named:
            key, _, part = element.get("conkeyref").partition("/")
            known = self.library.keys.get(key)
            if known is None or not known.href:
                return None, key
            named, file = f"{known.href.partition('#')[0]}#?/{part}" if part else known.href, known.file
        path, topic, part = place_of(named, file)
        place = f"{path}#{topic}/{part}"
        if path not in self.library.files:
            return None, place
        if path not in self._ids:
            root = self.library.files[path]
            self._ids[path] = {e.get("id"): e for e in (root, *root.below()) if e.get("id")}
        return self._ids[path].get(part or topic), place

    def _tell(self, element: Element, named: str, why: str) -> None:
        what = f'Shared content ("{named}") {why}; the rest of it was left out.'
        do = "Look in the source what belongs there; export the topics with their shared content in place."
        self.reporter.add("LB-X10", what, do, cite(self.source, element), "doubt")


_USE = "-dita-use-conref-target"


def _plain_name(element: Element) -> str:
    if element.name in _NAMES:
        return element.name
    known = [name for name in _CLASS.findall(element.get("class")) if name in _NAMES]
    return known[-1] if known else element.name
