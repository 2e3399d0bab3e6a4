"""Before you take it off: what the sources say must happen while things are still in place, gathered."""

from collections.abc import Iterable, Iterator

from lastbolt.planning.names import any_of, words
from lastbolt.words.citation import Citation
from lastbolt.words.machine import Machine, Mention, PartsRow, Step
from lastbolt.words.plan import BeforeKind, BeforeOff, Line

LONGEST = 140


def before_off(lines: tuple[Line, ...], machine: Machine) -> tuple[BeforeOff, ...]:
    """Everything to do or expect first, in the order of the plan, each once."""
    book = _Book(machine)
    found: dict[tuple[str, str], BeforeOff] = {}
    for line in lines:
        if line.kind != "step" or line.state not in ("to do", "started"):
            continue
        for kind, said, citations in book.of(line):
            item = BeforeOff(kind, said, line.id, line.number, line.mark, citations or line.citations)
            found.setdefault((kind, said), item)
    return tuple(found.values())


Said = tuple[BeforeKind, str, tuple[Citation, ...]]


class _Book:
    def __init__(self, machine: Machine) -> None:
        self.words = words()
        steps = [step for procedure in machine.procedures for step in procedure.steps]
        self.steps = {step.id: step for step in steps}
        self.staged = [step for step in steps if self._tightens_in_stages(step)]
        self.rows = {row.id: row for row in machine.rows}
        self.loose: dict[str, list[PartsRow]] = {}
        for row in machine.rows:
            if any_of(row.name, self.words["falls_out"]["parts"]):
                self.loose.setdefault(row.figure, []).append(row)

    def of(self, line: Line) -> Iterator[Said]:
        """What this line asks for while everything is still in place."""
        step = self.steps.get(line.step)
        deeds = step.deeds if step else ()
        short = _short(line.words)
        taken = [mention for mention in line.mentions if mention.deed in ("remove", "separate")]
        if line.left_hand:
            yield "left-hand thread", short, ()
        for lock in line.locks:
            yield "lock to open", f"{lock}: {short}", ()
        if "loosen" in deeds or self._cracked(taken):
            yield "crack while held", short, ()
        if "drain" in deeds:
            yield "drain", short, ()
        if "mark" in deeds:
            yield "mark", short, ()
        yield from self._energy(line, short)
        for part in line.renew:
            yield "single use", part, ()
        yield from self._falling(line, taken, short)
        yield from self._stages(taken)

    def _cracked(self, taken: Iterable[Mention]) -> bool:
        crack = self.words["crack"]
        return any(any_of(m.name, crack["held"]) and any_of(m.name, crack["fasteners"]) for m in taken)

    def _energy(self, line: Line, short: str) -> Iterator[Said]:
        energy = self.words["stored_energy"]
        if any_of(line.words, energy["words"]) and any_of(line.words, energy["verbs"]):
            yield "stored energy", short, ()
        for caution in line.cautions:
            if any_of(caution.words, energy["words"]) and any_of(caution.words, energy["verbs"]):
                yield "stored energy", _short(caution.words), caution.citations

    def _falling(self, line: Line, taken: Iterable[Mention], short: str) -> Iterator[Said]:
        if any_of(line.words, self.words["falls_out"]["verbs"]):
            yield "falls out", short, ()
        for caution in line.cautions:
            if any_of(caution.words, self.words["falls_out"]["verbs"]):
                yield "falls out", _short(caution.words), caution.citations
        figures = {
            self.rows[row].figure for m in taken if m.kind is None for row in m.rows if row in self.rows
        }
        for figure in sorted(figures):
            for row in self.loose.get(figure, ()):
                yield "falls out", f"{_count(row)}{row.name}, when {_lower(line.words)}", row.citations

    def _stages(self, taken: Iterable[Mention]) -> Iterator[Said]:
        for mention in taken:
            if mention.kind is None or not mention.rows:
                continue
            for step in self.staged:
                if any(set(mention.rows) & set(other.rows) for other in step.mentions):
                    said = (
                        f"{mention.name}, in the reverse of the tightening order ({_short(step.words, 70)})"
                    )
                    yield "loosen in stages", said, step.citations

    def _tightens_in_stages(self, step: Step) -> bool:
        return "tighten" in step.deeds and bool(any_of(step.words, self.words["stages"]["words"]))


def _count(row: PartsRow) -> str:
    count = row.quantity.low
    return f"{count} x " if count and count == row.quantity.high else ""


def _short(text: str, longest: int = LONGEST) -> str:
    if len(text) <= longest:
        return text
    return text[:longest].rsplit(" ", 1)[0].rstrip(",;:") + " ..."


def _lower(text: str) -> str:
    short = _short(text, 60).rstrip(".")
    return short[:1].lower() + short[1:]
