"""Sections as something to point at: their numbers, pages, titles and what they tell to do."""

from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

from lastbolt.reading.drafts import SectionDraft
from lastbolt.reading.manual import BookRead
from lastbolt.reading.procedure_drafts import StepDraft
from lastbolt.reading.running import same_page
from lastbolt.reading.step_runs import RUN
from lastbolt.reading.titles import read_title, title_key
from lastbolt.words.machine import Deed, ReferenceStatus

_ALIKE = str.maketrans(".‑–/:·", "------")


class Target(NamedTuple):
    """One section as something to point at; `procedure` when it tells what to do."""

    id: str
    number: str
    title: str
    key: tuple[str, ...]
    deed: Deed
    parts: frozenset[str]
    procedure: str | None
    parent: str | None
    source: str
    first_printed: str
    printed: frozenset[str]
    marks: frozenset[str] = frozenset()
    """The marks of its steps that look like numbers of sections ("4-1")."""
    counted: tuple[int, ...] = ()
    """The marks of its steps that are plain numbers."""
    spelled: frozenset[str] = frozenset()
    """The marks of its steps, where they are printed with its number before them ("4.1.3")."""


class Found(NamedTuple):
    """Where a pointer leads, and how sure that is."""

    to: tuple[str, ...]
    status: ReferenceStatus
    any_of: bool = False
    missing: tuple[str, ...] = ()
    """Of several numbers those that lead nowhere."""
    steps: tuple[str, str] = ("", "")
    """The first and the last step that are meant, where the numbers tell them."""
    apart: "tuple[Found, ...]" = ()
    """Of several numbers those that lead somewhere, where the others do not."""


_NOWHERE: tuple[ReferenceStatus, ...] = ("ambiguous", "dangling")
"""What leads to no one place: of several numbers only those that are so are held back."""


def together(
    numbers: Sequence[str], looked: Sequence[Found], own: str | None, *, any_of: bool, apart: bool
) -> Found:
    """Where several numbers lead; `apart`: those that lead somewhere are found for themselves.

    Args:
        numbers: as printed
        looked: where each leads
        own: the procedure they stand in
        any_of: one of them is enough
        apart: whether each of them is asked for
    """
    pairs = list(zip(numbers, looked, strict=True))
    lost = [pair for pair in pairs if pair[1].status in _NOWHERE]
    if not apart or not lost or len(lost) == len(pairs):
        return _joined(pairs, own, any_of=any_of)
    rest = [pair for pair in pairs if pair[1].status not in _NOWHERE]
    return _joined(lost, own, any_of=any_of)._replace(apart=(_joined(rest, own, any_of=any_of),))


def _joined(pairs: Sequence[tuple[str, Found]], own: str | None, *, any_of: bool) -> Found:
    """Numbers and where they lead as one, with the worst that is to be said of any."""
    looked = [found for _, found in pairs]
    to = tuple(dict.fromkeys(t for found in looked for t in found.to))
    worst: ReferenceStatus = "resolved"
    statuses: tuple[ReferenceStatus, ...] = ("doubtful", "ambiguous", "dangling")
    for status in statuses:
        if any(found.status == status for found in looked):
            worst = status
    missing = tuple(number for number, found in pairs if found.status == "dangling")
    steps = ("", "")
    if looked and to == (own,) and all(found.steps[0] for found in looked):
        steps = looked[0].steps[0], looked[-1].steps[1]  # its own steps: not the section as a whole
    return Found(to, worst, any_of or any(found.any_of for found in looked), missing, steps)


def page_key(page: str) -> str:
    """A printed page as it is compared: "5 - 5" is "5-5"."""
    return same_page(page).replace(" ", "")


@lru_cache(maxsize=4096)
def bare_number(number: str) -> str:
    """A number as it is compared: points and hyphens alike, capitals alike."""
    return number.translate(_ALIKE).upper().rstrip("-")


def section_id(source: str, section: SectionDraft) -> str:
    """The id of a section."""
    return f"{source}/section/{section.anchor}"


def procedure_id(source: str, section: SectionDraft) -> str:
    """The id of the procedure in a section."""
    return f"{source}/procedure/{section.anchor}"


def section_of(to: str) -> str:
    """The id of the section that holds a procedure; of a section its own."""
    return to.replace("/procedure/", "/section/")


def _is_spelled(step: StepDraft, section: SectionDraft) -> bool:
    """Whether a step's mark is printed with the number of its section before it."""
    mark = step.items[0].mark
    return mark is not None and bool(section.number) and mark.value != step.path and mark.kind.startswith(RUN)


def targets_of(book: BookRead) -> list[Target]:
    """The sections of a book, each with the procedure in it."""
    source = book.settings.source
    language = book.book.language
    procedures = {draft.section.anchor: draft for draft in book.procedures}
    found = []
    for section in book.book.sections:
        draft = procedures.get(section.anchor)
        title = draft.title if draft is not None else section.title
        key = title_key(title, language)
        facts = read_title(title, language)
        named = draft.parts if draft is not None else facts.parts
        parts = frozenset(w for part in named for w in title_key(part, language))
        printed = [
            book.running.printed[page] for page in sorted(section.pages) if page in book.running.printed
        ]
        parent = section_id(source, section.parent) if section.parent is not None else None
        procedure = procedure_id(source, section) if draft is not None else None
        found.append(
            Target(
                section_id(source, section),
                section.number,
                title,
                key,
                facts.deed,
                parts,
                procedure,
                parent,
                source,
                printed[0] if printed else "",
                frozenset(printed),
                frozenset(bare_number(s.path) for s in (draft.steps if draft else ()) if "." in s.path),
                tuple(int(s.path) for s in (draft.steps if draft else ()) if s.path.isdecimal()),
                frozenset(s.path for s in (draft.steps if draft else ()) if _is_spelled(s, section)),
            )
        )
    return found
