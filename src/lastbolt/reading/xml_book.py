"""A publication of XML modules as a source: read module by module, then linked as a whole.

Publication --read_publication--> MarkedRead --link_publication--> Linked (the same as printed books give)
"""

import re
from collections.abc import Iterable, Sequence
from typing import NamedTuple, TypeVar

from msgspec.structs import replace

from lastbolt.reading.drafts import slug
from lastbolt.reading.lexicon import Lexicon, lexicon
from lastbolt.reading.link import Linked, RowFinder
from lastbolt.reading.manual import BookSettings
from lastbolt.reading.parts_list import told_apart
from lastbolt.reading.problems import Reporter, quoted
from lastbolt.reading.xml_dita import TopicReader
from lastbolt.reading.xml_dita_base import (
    MAPS,
    TOPICS,
    Library,
    Linker,
    Sharing,
    is_dita,
    library_of,
    place_of,
    plainly_named,
)
from lastbolt.reading.xml_drafts import ModuleDraft, cite
from lastbolt.reading.xml_link import ModuleLinker
from lastbolt.reading.xml_modules import ModuleIndex
from lastbolt.reading.xml_s1000d import (
    in_todays_names,
    is_data_module,
    issue_of,
    read_data_module,
    shared_of,
)
from lastbolt.reading.xml_s1000d_words import module_code
from lastbolt.words.machine import Figure, PartsRow, SourceRole, TableRow, TorqueRow
from lastbolt.words.measured import Limit
from lastbolt.words.problem import Problem
from lastbolt.words.tree import Element, Module, Publication

ADMINISTRATIVE = (
    "pm",
    "ddn",
    "dml",
    "comment",
    "icnMetadataFile",
    "scormContentPackage",
    "update",
    "pmodule",
)
"""Roots of S1000D objects that hold nothing to do; publication modules give title and order."""
Row = TypeVar("Row", TorqueRow, TableRow, Limit)
_ANCHOR = re.compile(r"[^\w.-]+")


class MarkedRead(NamedTuple):
    """A publication as read; references are looked up later, when the rows of all sources are known."""

    settings: BookSettings
    title: str
    edition: str
    role: SourceRole
    modules: ModuleIndex
    rows: tuple[PartsRow, ...]
    torques: tuple[TorqueRow, ...]
    bolt_rows: tuple[TableRow, ...]
    limits: tuple[Limit, ...]
    problems: tuple[Problem, ...]


def is_known(root: Element) -> bool:
    """Whether a root is one of a standard that is read here."""
    return is_data_module(root) or root.name in ADMINISTRATIVE or is_dita(root)


def read_publication(publication: Publication, settings: BookSettings) -> MarkedRead:
    """All modules of a publication as drafts, in the order of its map or publication module."""
    language = lexicon(settings.language)
    reporter = Reporter(settings.title)
    data, topics, orders = [], [], []
    for module in publication.modules:
        if is_data_module(module.root):
            data.append(in_todays_names(module))
        elif module.root.name in ADMINISTRATIVE:
            orders.append(in_todays_names(module))
        elif is_dita(module.root):
            topics.append(Module(module.file, plainly_named(module.root)))
        else:
            what = f"The file is neither an S1000D module nor a DITA topic (its root is {module.root.name})."
            do = "Leave it, or look what it says: nothing of it was read."
            reporter.add("LB-X07", what, do, cite(settings.source, module.root), "note")
    library = library_of(topics)
    drafts = _data_modules(data, settings, language, reporter)
    drafts += _topics(topics, library, settings, language, reporter)
    _name_apart(drafts)
    drafts = _in_order(drafts, orders, library)
    rows = tuple(told_apart([row for draft in drafts for row in draft.rows]))
    torques = _apart(row for draft in drafts for row in draft.torques)
    bolt_rows = _apart(row for draft in drafts for row in draft.bolt_rows)
    limits = _apart(limit for draft in drafts for limit in draft.limits)
    steps = sum(len(draft.steps) for draft in drafts)
    role: SourceRole = "parts list" if len(rows) > max(3, steps) else "manual"
    title, edition = _named(orders, library, data, settings.title)
    problems = (*publication.problems, *reporter.found)
    index = ModuleIndex(drafts)
    return MarkedRead(settings, title, edition, role, index, rows, torques, bolt_rows, limits, problems)


def link_publication(read: MarkedRead, rows: RowFinder) -> Linked:
    """The sections, procedures and figures, with everything that points looked up."""
    reporter = Reporter(read.settings.title)
    linker = ModuleLinker(read.settings.source, read.modules, rows, lexicon(read.settings.language), reporter)
    modules = read.modules.modules
    sections = tuple(linker.section(draft) for draft in modules)
    procedures = tuple(linker.procedure(draft) for draft in modules if draft.holds == "procedure")
    for draft in modules:
        if draft.holds != "procedure":
            linker.look_up_text(draft)
    figures = tuple(linker.with_procedures(figure) for draft in modules for figure in draft.figures)
    return Linked(sections, procedures, _once(figures), tuple(reporter.found))


def _data_modules(
    modules: Sequence[Module], settings: BookSettings, language: Lexicon, reporter: Reporter
) -> list[ModuleDraft]:
    shared = shared_of(modules)
    kept = _newest(modules, settings, reporter)
    return [read_data_module(module, settings, language, shared, reporter) for module in kept]


def _newest(modules: Sequence[Module], settings: BookSettings, reporter: Reporter) -> list[Module]:
    """Each module once: of several issues the newest, of several languages English or the first."""
    by_code: dict[str, list[Module]] = {}
    for module in modules:
        by_code.setdefault(issue_of(module).code, []).append(module)
    kept = []
    for code, copies in by_code.items():
        english = [m for m in copies if issue_of(m).language.lower() in ("en", "sx", "")] or copies[:1]
        newest = max(english, key=lambda m: issue_of(m).number)
        if len(copies) > 1:
            named = ", ".join(m.file for m in copies)
            what = f"{code} stands {len(copies)} times ({named}); {newest.file} was taken."
            do = "Look whether that is the issue that applies to this machine."
            reporter.add("LB-X08", what, do, cite(settings.source, newest.root), "doubt")
        kept.append(newest)
    return kept


def _topics(
    modules: Sequence[Module], library: Library, settings: BookSettings, language: Lexicon, reporter: Reporter
) -> list[ModuleDraft]:
    sharing = Sharing(library, settings.source, reporter)
    found: list[tuple[str, Element, str | None, tuple[str, ...]]] = []
    for module in modules:
        if module.root.name in MAPS:
            continue
        root = sharing.put_in(module.root)
        found += _topics_in(root, module.file)
    titles: dict[str, str] = {}
    for key, topic, _, names in found:
        title = topic.child("title")
        for name in (key, *names):
            titles.setdefault(name, title.words() if title is not None else name)
    drafts = []
    for key, topic, parent, names in found:
        reader = TopicReader(settings, topic, key, Linker(library, key, titles), language)
        draft = reader.read()
        reporter.found += reader.problems
        if reader.unread:
            what = f"{quoted(draft.title)} has steps outside of a task; only its words were kept."
            reporter.add("LB-X11", what, "Read it yourself if the job touches it.", draft.cited, "note")
        if reader.stepless:
            what = f"{quoted(draft.title)} is a task without steps."
            reporter.add("LB-X11", what, "Look at the topic; nothing of it is a step.", draft.cited, "doubt")
        draft.parent, draft.names = parent, names
        drafts.append(draft)
    return drafts


def _topics_in(root: Element, file: str) -> list[tuple[str, Element, str | None, tuple[str, ...]]]:
    """Every topic of a file: its key, itself, the key of the topic around it, and its other names."""
    found: list[tuple[str, Element, str | None, tuple[str, ...]]] = []
    waiting: list[tuple[Element, str | None]] = [(root, None)]
    taken: dict[str, int] = {}
    while waiting:
        element, parent = waiting.pop()
        above = parent
        if element.name in TOPICS:
            above = f"{file}#{element.get('id')}"
            taken[above] = taken.get(above, 0) + 1
            above += f"~{taken[above]}" if taken[above] > 1 else ""
            found.append((above, element, parent, () if found else (file,)))
        waiting += [(child, above) for child in element.children(*TOPICS)[::-1]]
    return found


def _name_apart(drafts: Iterable[ModuleDraft]) -> None:
    """Anchors for ids: the code of a data module, the id of a topic; told apart where two are alike."""
    taken: set[str] = set()
    for draft in drafts:
        anchor = draft.number or draft.key.rpartition("#")[2] or slug(draft.title)
        anchor = _ANCHOR.sub("-", anchor).strip("-") or slug(draft.title)
        if anchor in taken:
            anchor = _ANCHOR.sub("-", draft.key).strip("-")
        draft.anchor = anchor
        taken.add(anchor)


def _in_order(drafts: list[ModuleDraft], orders: Sequence[Module], library: Library) -> list[ModuleDraft]:
    """As the publication module or the map lists them; what they do not list comes behind."""
    place: dict[str, int] = {}
    for module in orders:
        for code in module.root.below("dmCode"):
            place.setdefault(module_code(code), len(place))
    for file, root in library.files.items():
        if root.name in MAPS:
            for one in root.below():
                if one.get("href") and one.name != "keydef" and one.get("processing-role") != "resource-only":
                    named, topic, _ = place_of(one.get("href"), file)
                    place.setdefault(f"{named}#{topic}" if topic else named, len(place))

    def key(draft: ModuleDraft) -> int:
        found = [place[name] for name in (draft.key, *draft.names) if name in place]
        file = draft.key.partition("#")[0]
        return min(found) if found else place.get(file, len(place))

    return sorted(drafts, key=key)


def _named(
    orders: Sequence[Module], library: Library, data: Sequence[Module], fallback: str
) -> tuple[str, str]:
    """The title and edition: of the publication module, the map, or a single data module."""
    for module in orders:
        title = module.root.first("pmTitle", "pmtitle")
        issue = module.root.first("issueInfo")
        if title is not None and title.words():
            return title.words(), f"issue {issue.get('issueNumber')}" if issue is not None else ""
    for root in library.files.values():
        title = root.child("title", "booktitle") if root.name in MAPS else None
        if title is not None and title.words():
            return title.words(), ""
    number = issue_of(data[0]).number if len(data) == 1 else ""
    return fallback, f"issue {number}" if number else ""


def _apart(rows: Iterable[Row]) -> tuple[Row, ...]:
    """The rows with ids that come again told apart by their occurrence."""
    seen: dict[str, int] = {}
    told: list[Row] = []
    for row in rows:
        bare = row.id.partition("+")[0]
        seen[bare] = seen.get(bare, 0) + 1
        told.append(replace(row, id=bare if seen[bare] == 1 else f"{bare}+{seen[bare]}"))
    return tuple(told)


def _once(figures: Iterable[Figure]) -> tuple[Figure, ...]:
    return tuple({figure.id: figure for figure in figures}.values())
