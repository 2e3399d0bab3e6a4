"""What to lay ready before work begins: the tools and supplies that the plan's sections name, once each."""

import re
from collections.abc import Iterable, Iterator

from lastbolt.planning.names import any_of, words
from lastbolt.planning.not_so import not_so
from lastbolt.words.machine import Machine, Procedure
from lastbolt.words.plan import Line, Ready, ReadyKind

_CODE = re.compile(r"\b[A-Z]{1,4}[- ]?\d[\w.\-]*")
_APART = re.compile(r"\s*,\s+(?!with\b|and\b|or\b)(?![^(]*\))|\s*;\s*")
_ARTICLE = re.compile(r"^(?:the|an?)\s+", re.I)
_COUNT = re.compile(r"^(?:\d+\s*(?:x|off)?|one|two|three|four|five|six|a|an|the)\s+", re.I)


def have_ready(lines: Iterable[Line], machine: Machine) -> tuple[Ready, ...]:
    """Tools and supplies in the order in which the plan comes to them."""
    named = {procedure.id: procedure for procedure in machine.procedures}
    found: dict[tuple[ReadyKind, str], Ready] = {}
    for line in lines:
        if line.state in ("to do", "started") and line.procedure in named:
            for item in _of_line(line, named[line.procedure]):
                key = (item.kind, _key(item.words))
                found.setdefault(key, item)
    return tuple(found.values())


def _of_line(line: Line, procedure: Procedure) -> Iterator[Ready]:
    if line.kind == "opening":
        for entry in procedure.tools:
            for tool in _APART.split(entry):
                if tool.strip(" ."):
                    yield Ready("tool", _named(tool.strip(" ."), procedure), line.number, line.citations)
        for entry in procedure.materials:
            if not any_of(entry, words()["ready"]["new"]):
                yield Ready("supply", entry, line.number, line.citations)
    elif line.kind == "step":
        for tool in line.tools:
            if not not_so(line.words, tool, words()["way_back"]["forbids"]):
                yield Ready("tool", _named(tool, procedure), line.number, line.citations)


def _named(tool: str, procedure: Procedure) -> str:
    """A tool that is only a number with the name that a step gives it: "press frame Q-11"."""
    tool = _ARTICLE.sub("", tool)
    if not _CODE.fullmatch(tool):
        return tool
    lead = "|".join(words()["ready"]["before_a_tool"])
    spoken = re.compile(rf"\b(?:{lead})\s+((?:[a-z\-]+\s){{1,3}}){re.escape(tool)}\b")
    said = next((m for step in procedure.steps if (m := spoken.search(step.words))), None)
    return _ARTICLE.sub("", f"{said[1]}{tool}") if said else tool


def _key(tool: str) -> str:
    """By what two entries are one: the tool's number, else its words without a count."""
    code = _CODE.search(tool)
    return code[0].replace(" ", "-") if code and "-" in code[0] else _COUNT.sub("", tool).casefold()
