"""What to lay ready before work begins: the tools and supplies that the plan's sections name, once each."""

import re
from collections.abc import Iterable, Iterator
from functools import lru_cache

from msgspec.structs import replace

from lastbolt.planning.names import any_of, stems, words
from lastbolt.planning.not_so import not_so
from lastbolt.words.citation import Citation
from lastbolt.words.machine import Machine, Procedure
from lastbolt.words.plan import Line, Ready, ReadyKind
from lastbolt.words.supplies import Consumable, Tool

_CODE = re.compile(r"\b[A-Z]{1,4}[- ]?\d[\w.\-]*")
_SEPARATED = re.compile(r"^([A-Z]+)[- ](?=\d)")
_WORD = re.compile(r"[^\W\d_]+")


def have_ready(lines: Iterable[Line], machine: Machine) -> tuple[Ready, ...]:
    """Tools and supplies in the order in which the plan comes to them."""
    book = _Book(machine)
    found: list[Ready] = []
    known: dict[tuple[ReadyKind, object], list[int]] = {}
    for line in lines:
        if line.state not in ("to do", "started") or line.procedure not in book.procedures:
            continue
        for kind, said, cited in book.of(line):
            same = known.setdefault((kind, _key(kind, said)), [])
            at = next((place for place in same if _one(found[place].words, said)), None)
            if at is None:
                same.append(len(found))
                found.append(Ready(kind, said, line.number, cited or line.citations))
            elif not _spoken(found[at].words):
                found[at] = replace(found[at], words=said)
    return tuple(found)


Said = tuple[ReadyKind, str, tuple[Citation, ...]]


class _Book:
    """What procedures, steps and the tables of special tools name."""

    def __init__(self, machine: Machine) -> None:
        self.procedures = {procedure.id: procedure for procedure in machine.procedures}
        self.steps = {step.id: step for procedure in machine.procedures for step in procedure.steps}
        self.tabled = {_code(tool.number): tool for tool in machine.tools if tool.number}
        numbers = [_either(tool.number) for tool in self.tabled.values()]
        self._numbers = re.compile(rf"(?<![\w-])(?:{'|'.join(numbers)})(?![\w-])") if numbers else None

    def of(self, line: Line) -> Iterator[Said]:
        """What one line asks to have at hand."""
        procedure = self.procedures[line.procedure]
        if line.kind == "opening":
            entries = [tool.strip(" .") for entry in procedure.tools for tool in _apart().split(entry)]
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
        tabled = self.tabled.get(_code(code[0])) if code else None
        return f"{tabled.name} {tabled.number}" if tabled else _named(tool, procedure)


def _named(tool: str, procedure: Procedure) -> str:
    """A tool that is only a number with the name that a step gives it: "press frame Q-11"."""
    tool = _article().sub("", tool)
    if not _CODE.fullmatch(tool):
        return tool
    lead = "|".join(words()["ready"]["before_a_tool"])
    spoken = re.compile(rf"\b(?:{lead})\s+((?:[a-z\-]+\s){{1,3}}){re.escape(tool)}\b")
    said = next((m for step in procedure.steps if (m := spoken.search(step.words))), None)
    return _article().sub("", f"{said[1]}{tool}") if said else tool


def _key(kind: ReadyKind, said: str) -> object:
    """What two entries that can be one have alike: the numbers of tools, else the words without a count."""
    codes = frozenset(_code(one) for one in _CODE.findall(said)) if kind == "tool" else None
    return codes or _count().sub("", said).casefold()


def _one(a: str, b: str) -> bool:
    """Whether two entries with the same numbers are one: "Q 11" and "press frame Q 11", not "tap M8-1.25" and
    "die M8-1.25"."""
    one, two = _spoken(a), _spoken(b)
    return one <= two or two <= one


def _spoken(said: str) -> frozenset[str]:
    """The words of an entry beside its numbers, singular, without a count."""
    rest = _count().sub("", _CODE.sub(" ", said).strip() + " ").casefold()
    return frozenset(word for one in _WORD.findall(rest) for word in (stems(one) or (one,)))


def _code(number: str) -> str:
    """A number in one form: "Q 11", "Q-11" and "Q11" are one."""
    return _SEPARATED.sub(r"\1", number)


def _either(number: str) -> str:
    """A pattern for a number in each of its forms."""
    parted = re.match(r"([A-Z]+)[- ]?(?=\d)", number)
    return f"{parted[1]}[- ]?{re.escape(number[parted.end() :])}" if parted else re.escape(number)


@lru_cache(maxsize=1)
def _apart() -> re.Pattern[str]:
    """What parts the entries of a list: a comma that no "with" follows, outside brackets; a semicolon."""
    joins = "|".join(rf"{re.escape(word)}\b" for word in words()["ready"]["joins"])
    return re.compile(rf"\s*,\s+(?!{joins})(?![^(]*\))|\s*;\s*")


@lru_cache(maxsize=1)
def _article() -> re.Pattern[str]:
    return re.compile(rf"^(?:{'|'.join(words()['ready']['articles'])})\s+", re.I)


@lru_cache(maxsize=1)
def _count() -> re.Pattern[str]:
    known = words()["ready"]
    units = "|".join(known["count_units"])
    spoken = "|".join((*known["counts"], *known["articles"]))
    return re.compile(rf"^(?:\d+\s*(?:{units})?|{spoken})\s+", re.I)
