"""How the sources themselves say that a size is measured, and what is to be done beyond its limit."""

import math
import re
import tomllib
from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache
from importlib import resources
from typing import Any, NamedTuple

from msgspec.structs import replace

from lastbolt.measuring.dimensions import dimension_of, words_of
from lastbolt.measuring.tools import tool_words
from lastbolt.words.citation import Citation
from lastbolt.words.machine import Machine, Procedure, Step
from lastbolt.words.readings import Size

_SHARED, _SHARED_WITH_KIND, _MOST = 0.6, 0.5, 8
"""So many of the words of a size must stand in the step: more where only the tool tells that it measures."""


@lru_cache(maxsize=1)
def _words() -> dict[str, Any]:
    return tomllib.loads((resources.files("lastbolt.measuring") / "how.toml").read_text("utf-8"))


@lru_cache(maxsize=8)
def _pattern(kind: str) -> re.Pattern[str]:
    words = sorted(_words()[kind], key=len, reverse=True)
    return re.compile(rf"\b(?:{'|'.join(map(re.escape, words))})\b", re.I)


def with_sources(
    sizes: Sequence[Size],
    machine: Machine,
    first: Iterable[str] = (),
    stands_in: Mapping[str, str] | None = None,
) -> tuple[Size, ...]:
    """The sizes with what the sources say of measuring them, where they do.

    Args:
        sizes: lines of the sheet
        machine: the sources
        first: procedures that the job needs; of two steps that say the same, theirs counts
        stands_in: the section that each limit stands in, by ids
    """
    needed = set(first)
    ordered = sorted(machine.procedures, key=lambda one: one.id not in needed)
    steps = [(procedure, step) for procedure in ordered for step in procedure.steps]
    measuring = [
        _Known(procedure, step, frozenset(words_of(step.words))) for procedure, step in steps
        if _pattern("measures").search(step.words) or _pattern("with_kind").search(step.words)
    ]  # fmt: skip
    beyond = [(procedure, step) for procedure, step in steps if _pattern("then").search(step.words)]
    return tuple(_told(size, measuring, beyond, (stands_in or {}).get(size.limit, "")) for size in sizes)


class _Known(NamedTuple):
    """A step that measures, with its words."""

    procedure: Procedure
    step: Step
    words: frozenset[str]


_Said = tuple[Procedure, Step]


def _told(size: Size, measuring: Sequence[_Known], beyond: Sequence[_Said], section: str) -> Size:
    best = _best(size, measuring)
    said = _beyond(size, beyond, best.procedure.id if best else "", section)
    if best is not None:
        words = _with_place(best.procedure, best.step)
        readings = _readings(best.step.words) or size.readings
        size = replace(
            size, how=words, how_source="", readings=readings, how_citations=best.step.citations
        )  # fmt: skip
    return replace(size, decides=said[0], then_citations=said[1]) if said else size


def _best(size: Size, measuring: Sequence[_Known]) -> _Known | None:
    """The step that shares most words with the size, and names its kind, or a tool that takes it."""
    own = set(words_of(size.what))
    kinds = {word for name in dimension_of(size.what).names for word in words_of(name)} & own
    tools = [name for kind in size.tools for name in tool_words()["kinds"].get(kind, [kind])]
    found: list[tuple[float, int]] = []
    for place, known in enumerate(measuring):
        shared = own & known.words
        share = len(shared) / len(own) if own else 0.0
        low = known.step.words.casefold()
        named = share >= _SHARED_WITH_KIND and bool(kinds & shared)
        taken = share >= _SHARED and any(name in low for name in tools)
        if len(shared) > 1 and (named or taken):
            found.append((-share, place))
    return measuring[min(found)[1]] if found else None


def _with_place(procedure: Procedure, step: Step) -> str:
    called = _called(procedure, step)
    return f"{called}: {step.words}" if called else step.words


def _called(procedure: Procedure, step: Step) -> str:
    if not procedure.number:
        return ""
    return f"{procedure.number} step {step.mark}" if step.mark else procedure.number


def _readings(words: str) -> int | None:
    """How many readings a step asks for.

    >>> _readings("at two heights, each in two directions"), _readings("at three places"), _readings("turn")
    (4, 3, None)
    """
    numbers = {**_words()["numbers"], **{str(number): number for number in range(1, _MOST + 1)}}
    named = "|".join(numbers)
    places = "|".join(_words()["places"])
    found = re.findall(rf"\b({named})\s+(?:{places})\b", words, re.I)
    product = math.prod(numbers[one.lower()] for one in found)
    return product if found and 1 < product <= _MOST else None


def _beyond(
    size: Size, beyond: Sequence[_Said], procedure: str, section: str
) -> tuple[str, tuple[Citation, ...]] | None:
    """What the sources say of a size beyond its limit.

    In the words of the limit itself, in a step that refers to its table, or in the section that measures it.
    """
    for citation in size.citations:
        if _pattern("then").search(citation.words) and "|" not in citation.words:
            return citation.words, (citation,)
    refers = [one for one in beyond if section and any(section in ref.to for ref in one[1].references)]
    found = refers or [one for one in beyond if one[0].id == procedure]
    return (_with_place(*found[-1]), found[-1][1].citations) if found else None
