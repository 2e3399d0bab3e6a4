"""What to lay ready before work begins: the tools and supplies that the plan's sections name, once each."""

import re
from collections.abc import Iterable, Iterator

from lastbolt.planning.names import any_of, words
from lastbolt.planning.not_so import not_so
from lastbolt.words.citation import Citation
from lastbolt.words.machine import Machine, Procedure
from lastbolt.words.plan import Line, Ready, ReadyKind
from lastbolt.words.supplies import Consumable, Tool

_CODE = re.compile(r"\b[A-Z]{1,4}[- ]?\d[\w.\-]*")
_APART = re.compile(r"\s*,\s+(?!with\b|and\b|or\b)(?![^(]*\))|\s*;\s*")
_ARTICLE = re.compile(r"^(?:the|an?)\s+", re.I)
_COUNT = re.compile(r"^(?:\d+\s*(?:x|off)?|one|two|three|four|five|six|a|an|the)\s+", re.I)


def have_ready(lines: Iterable[Line], machine: Machine) -> tuple[Ready, ...]:
    """Tools and supplies in the order in which the plan comes to them."""
    book = _Book(machine)
    found: dict[tuple[ReadyKind, str], Ready] = {}
    for line in lines:
        if line.state in ("to do", "started") and line.procedure in book.procedures:
            for kind, said, cited in book.of(line):
                found.setdefault((kind, _key(said)), Ready(kind, said, line.number, cited or line.citations))
    return tuple(found.values())


Said = tuple[ReadyKind, str, tuple[Citation, ...]]


class _Book:
    """What procedures, steps and the tables of special tools name."""

    def __init__(self, machine: Machine) -> None:
        self.procedures = {procedure.id: procedure for procedure in machine.procedures}
        self.steps = {step.id: step for procedure in machine.procedures for step in procedure.steps}
        self.tabled = {tool.number: tool for tool in machine.tools if tool.number}
        self._numbers = (
            re.compile(rf"(?<![\w-])(?:{'|'.join(map(re.escape, self.tabled))})(?![\w-])")
            if self.tabled
            else None
        )

    def of(self, line: Line) -> Iterator[Said]:
        """What one line asks to have at hand."""
        procedure = self.procedures[line.procedure]
        if line.kind == "opening":
            entries = [tool.strip(" .") for entry in procedure.tools for tool in _APART.split(entry)]
            yield from (("tool", self._named(tool, procedure), ()) for tool in entries if tool)
            yield from self._used(procedure.numbered_tools, procedure.consumables)
            new = words()["ready"]["new"]
            used = [one.name.casefold() for one in procedure.consumables]
            for entry in procedure.materials:
                if not any_of(entry, new) and not any(name in entry.casefold() for name in used):
                    yield "supply", entry, ()
        elif line.kind == "step":
            forbids = words()["way_back"]["forbids"]
            for number in self._numbers.findall(line.words) if self._numbers else ():
                yield "tool", self._named(number, procedure), ()
            for tool in line.tools:
                if not not_so(line.words, tool, forbids):
                    yield "tool", self._named(tool, procedure), ()
            if step := self.steps.get(line.step):
                used_up = [one for one in step.consumables if not not_so(line.words, one.name, forbids)]
                yield from self._used(step.numbered_tools, used_up)

    def _used(self, tools: Iterable[Tool], consumables: Iterable[Consumable]) -> Iterator[Said]:
        for tool in tools:
            yield "tool", f"{tool.name} {tool.number}".strip(), ()
        for one in consumables:
            yield "supply", ", ".join(part for part in (one.name, one.how) if part), ()

    def _named(self, tool: str, procedure: Procedure) -> str:
        """A tool with the name that its table has for its number, else the name of the section's steps."""
        code = _CODE.search(tool)
        tabled = self.tabled.get(code[0]) if code else None
        return f"{tabled.name} {tabled.number}" if tabled else _named(tool, procedure)


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
