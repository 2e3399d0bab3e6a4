"""Limits, consumables and numbered tools that steps and set-up blocks name, put with them."""

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from msgspec.structs import replace

from lastbolt.reading.lexicon import Lexicon, lexicon
from lastbolt.reading.limit_facts import NOT_READ, made_limit
from lastbolt.reading.limit_problems import Complaint, told
from lastbolt.reading.limit_prose import limits_in
from lastbolt.reading.supplies import consumable_entry, consumables_in, tools_of
from lastbolt.words.citation import Citation
from lastbolt.words.machine import Procedure, Step
from lastbolt.words.measured import Limit
from lastbolt.words.problem import Problem


class Fuller(NamedTuple):
    """The procedures with what their words name, and what is to be told of it."""

    procedures: tuple[Procedure, ...]
    problems: tuple[Problem, ...]


def with_step_facts(
    procedures: Iterable[Procedure], titles: Mapping[str, str], language: str = "english"
) -> Fuller:
    """The procedures with the limits, consumables and numbered tools of their words.

    Args:
        procedures: as linked
        titles: source id -> what people call it
        language: of the sources
    """
    lex = lexicon(language)
    complaints: dict[str, list[Complaint]] = {}
    made = []
    for procedure in procedures:
        source = procedure.id.partition("/")[0]
        mine = complaints.setdefault(source, [])
        steps = tuple(_step(step, procedure, lex, mine) for step in procedure.steps)
        made.append(_procedure(procedure, steps))
    problems = [p for source, found in complaints.items() for p in told(found, titles.get(source, source))]
    return Fuller(tuple(made), tuple(problems))


def _procedure(procedure: Procedure, steps: tuple[Step, ...]) -> Procedure:
    tools = tools_of(procedure.tools, procedure.id, procedure.citations) if procedure.tools else ()
    entries = (
        consumable_entry(entry, f"{procedure.id}/c{at}", procedure.citations)
        for at, entry in enumerate((*procedure.materials, *procedure.tools), 1)
    )
    used = tuple(one for one in entries if one is not None)
    return replace(procedure, steps=steps, numbered_tools=tools, consumables=used)


def _step(step: Step, procedure: Procedure, language: Lexicon, complaints: list[Complaint]) -> Step:
    said = f"{step.words} {step.beside}" if step.beside else step.words
    cited = step.citations or procedure.citations
    limits = _limits(said, step.id, cited, language, complaints)
    used = consumables_in(said, step.id, cited, language)
    tools = tools_of(step.tools, step.id, cited) if step.tools else ()
    if not (limits or used or tools):
        return step
    return replace(step, limits=limits, consumables=used, numbered_tools=tools)


def _limits(
    said: str, base: str, cited: tuple[Citation, ...], language: Lexicon, complaints: list[Complaint]
) -> tuple[Limit, ...]:
    prose = limits_in(said, language)
    if not cited:
        return ()
    made: list[Limit] = []
    for number, one in enumerate(prose.limits, 1):
        cite = replace(cited[0], words=one.words)
        new = made_limit(f"{base}/l{number}", one.name, one.read, cite)
        made.append(new.limit)
        complaints += [Complaint(code, one.name.what, why, cite) for code, why in new.tell]
    for words, why in prose.unread:
        complaints.append(Complaint(NOT_READ, words, why, replace(cited[0], words=said)))
    return tuple(made)
