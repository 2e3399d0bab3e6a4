"""Whose word a job file rests on: a decision nobody stands for, and names that are no one person's.

"Lio and Tobin" or "Lio (2)" beside Lio would be one more pair of eyes.
"""

import re
from collections.abc import Iterable, Iterator, Sequence

from lastbolt.app.gather_documents import Documents
from lastbolt.app.typed_names import SEVERAL, nearly_said
from lastbolt.app.typed_words import NO_NAMES, NOBODY, UNNAMED, person_key
from lastbolt.tally.unused import no_one_person, perhaps_one_person, says_nothing
from lastbolt.words.job import Event, HolderSettled, ProcedureDone, QuestionAnswered, SetAside, StepDone
from lastbolt.words.joint import Walk
from lastbolt.words.problem import Problem
from lastbolt.words.standing import standing

_BESIDE = re.compile(r"\s*[(\[,].*$")
"""What stands behind a name and is none of it: "Lio (2nd round)", "Lio, again"."""
_SURNAME_FIRST = re.compile(r"[^\W\d_][\w.'\u2019-]*,\s[^\W\d_]\.?(?:\s?[^\W\d_]\.?)*")
"""Whom lists call so: "Kim, L."."""


def who_says_so(documents: Documents, walks: Sequence[Walk]) -> Iterator[Problem]:
    """A problem for each decision without a name or reason, and for each name that may be nobody's own."""
    events = [event for _, event in standing(documents.job)]
    for event in events:
        yield from _decided(event)
    said = [(f'Round "{one.id}" of the walk', one.by) for walk in walks for one in walk.rounds]
    yield from _names((*said, *((f'Event "{event.id}"', event.by) for event in events)))


def _decided(event: Event) -> Iterator[Problem]:
    called = f'Event "{event.id}"'
    decides = isinstance(event, SetAside | QuestionAnswered | HolderSettled)
    looked = isinstance(event, StepDone | ProcedureDone) and event.looked
    if (decides or looked) and not event.by.strip():
        yield says_nothing(called, "does not say who says so")
    if isinstance(event, SetAside) and not event.reason.strip():
        yield says_nothing(called, "gives no reason")


def _names(said: Iterable[tuple[str, str]]) -> Iterator[Problem]:
    known: dict[str, str] = {}
    for called, by in said:
        name, key = by.strip(), person_key(by)
        if not key or key in known or key == NOBODY:
            continue
        bare = _bare(name)
        other = known.get(person_key(bare), "") if bare != name else ""
        other = other or known.get(nearly_said(name, known), "")
        listed = "," in name and not _SURNAME_FIRST.fullmatch(name) and not other
        if key in UNNAMED or listed or SEVERAL.search(name.replace(",", " ")):
            yield no_one_person(called, name)
        elif other:
            yield perhaps_one_person(called, name, other)
        known[key] = name


def _bare(name: str) -> str:
    """A name without what stands behind it: brackets, words that are no name, numbers."""
    words = _BESIDE.sub("", name).split()
    while len(words) > 1 and (words[-1].casefold().strip(".") in NO_NAMES or words[-1][0].isdigit()):
        words.pop()
    return " ".join(words)
