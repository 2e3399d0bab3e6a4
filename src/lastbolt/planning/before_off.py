"""Before you take it off: what the sources say must happen while things are still in place, gathered."""

from collections.abc import Iterable, Iterator

from lastbolt.planning.names import any_of, same_name, same_part, stems, words
from lastbolt.planning.new_parts import RenewRows, Wanted
from lastbolt.planning.pairs import OFF, ON, Pairs, targets
from lastbolt.words.citation import Citation
from lastbolt.words.machine import Machine, Mention, PartsRow, Procedure, Step
from lastbolt.words.plan import BeforeKind, BeforeOff, Line

LONGEST = 140
TURNED = ("nut", "bolt", "screw")


def before_off(lines: tuple[Line, ...], machine: Machine) -> tuple[BeforeOff, ...]:
    """Everything to do or expect first, in the order of the plan, each once."""
    book = _Book(machine)
    found: dict[tuple[str, ...], BeforeOff] = {}
    for line in lines:
        if line.kind not in ("step", "opening") or line.state not in ("to do", "started"):
            continue
        for kind, said, citations in book.of(line):
            item = BeforeOff(kind, said, line.id, line.number, line.mark, citations or line.citations)
            found.setdefault((kind, said), item)
    return tuple(found.values())


Said = tuple[BeforeKind, str, tuple[Citation, ...]]


class _Book:
    def __init__(self, machine: Machine) -> None:
        self.words = words()
        self.pairs = Pairs(machine)
        self.renew = RenewRows(machine)
        steps = [step for procedure in machine.procedures for step in procedure.steps]
        self.steps = {step.id: step for step in steps}
        self.staged_by_row: dict[str, Step] = {}
        for step in steps:
            if self._tightens_in_stages(step):
                for mention in step.mentions:
                    for row_id in mention.rows:
                        self.staged_by_row.setdefault(row_id, step)
        self.rows = {row.id: row for row in machine.rows}
        self.loose: dict[str, list[PartsRow]] = {}
        for row in machine.rows:
            if any_of(row.name, self.words["falls_out"]["parts"]):
                self.loose.setdefault(row.figure, []).append(row)
        self.opened: set[tuple[str, str]] = set()

    def of(self, line: Line) -> Iterator[Said]:
        """What this line asks for while everything is still in place."""
        procedure = self.pairs.named.get(line.procedure)
        if procedure is not None and procedure.deed in ON:
            return
        if line.kind == "opening":
            if procedure is not None and procedure.deed == "drain":
                yield "drain", procedure.title, procedure.citations
            yield from self._warned(line)
            return
        step = self.steps.get(line.step)
        deeds = step.deeds if step else ()
        short = _short(line.words)
        taken = [mention for mention in line.mentions if mention.deed in OFF]
        if line.left_hand:
            yield "left-hand thread", short, ()
        if line.locks:
            yield from self._locks(line, short)
        if line.mentions and self._cracked(line, taken):
            yield "crack while held", short, ()
        drains = "drain" in deeds and any_of(line.words, self.words["drain"]["words"])
        if drains and (procedure is None or procedure.deed != "drain") and not self._elsewhere(step):
            yield "drain", short, ()
        if "mark" in deeds:
            yield "mark", short, ()
        if self._energy(line.words):
            yield "stored energy", short, ()
        yield from self._warned(line)
        for part in line.renew:
            wanted = Wanted(part, line.words, line.mentions, procedure, line.citations)
            yield "single use", self.renew.made(wanted).part, ()
        if any_of(line.words, self.words["falls_out"]["verbs"]):
            yield "falls out", short, ()
        if taken:
            yield from self._falling(line, taken, procedure)
            yield from self._stages(taken, procedure)

    def _elsewhere(self, step: Step | None) -> bool:
        """Whether the step leads to the section that drains, which says it itself."""
        before = [one for one in step.references if one.role == "before"] if step else []
        there = targets(before, self.pairs.of_step)
        return any(self.pairs.named[one].deed == "drain" for one in there if one in self.pairs.named)

    def _locks(self, line: Line, short: str) -> Iterator[Said]:
        """Each lock where it is opened; that a later step throws the tab washer away opens nothing."""
        opens = any_of(line.words, self.words["locks"]["opens"])
        for lock in line.locks:
            if opens or (line.procedure, lock) not in self.opened:
                yield "lock to open", f"{lock}: {short}", ()
            self.opened.add((line.procedure, lock))

    def _cracked(self, line: Line, taken: Iterable[Mention]) -> bool:
        """Whether a nut or screw is turned while what it sits on is still held: a shaft's, or a little."""
        crack = self.words["crack"]
        if any(any_of(m.name, crack["held"]) and any_of(m.name, crack["fasteners"]) for m in taken):
            return True
        loosened = [m for m in line.mentions if m.deed == "loosen" and m.kind and m.kind.what in TURNED]
        if not loosened:
            return False
        removed = {m.name for m in taken}
        little = bool(any_of(line.words, crack["little"]))
        on_shaft = any(any_of(m.name, crack["held"]) for m in loosened)
        return on_shaft or little or not any(m.name in removed for m in loosened)

    def _energy(self, text: str) -> bool:
        energy = self.words["stored_energy"]
        if not any_of(text, energy["words"]):
            return False
        low = text.lower()
        for harmless in energy["not_energy"]:
            low = low.replace(harmless, "")
        return bool(any_of(low, energy["words"]) and any_of(low, energy["verbs"]))

    def _warned(self, line: Line) -> Iterator[Said]:
        """What the warnings of a line say of energy and of what falls out."""
        for caution in line.cautions:
            if self._energy(caution.words):
                yield "stored energy", _short(caution.words), caution.citations
            if any_of(caution.words, self.words["falls_out"]["verbs"]):
                yield "falls out", _short(caution.words), caution.citations

    def _falling(self, line: Line, taken: list[Mention], procedure: Procedure | None) -> Iterator[Said]:
        figures = {
            self.rows[row].figure for m in taken if m.kind is None for row in m.rows if row in self.rows
        }
        if not figures:
            return
        told = [m for step in (procedure.steps if procedure else ()) for m in step.mentions if m.deed in OFF]
        for figure in sorted(figures):
            for row in self.loose.get(figure, ()):
                if not any(row.id in m.rows or same_part(m.name, row.name) for m in told):
                    yield "falls out", f"{_count(row)}{row.name}, when {_lower(line.words)}", row.citations

    def _stages(self, taken: Iterable[Mention], procedure: Procedure | None) -> Iterator[Said]:
        """What is tightened in stages or in an order, to be loosened the other way round."""
        fasteners = [m for m in taken if m.kind is not None and m.kind.what in TURNED]
        if not fasteners:
            return
        mirror = self.pairs.of(procedure) if procedure else ()
        staged = [s for pair in mirror for s in pair.procedure.steps if self._tightens_in_stages(s)]
        for mention in fasteners:
            by_row = [self.staged_by_row[row] for row in mention.rows if row in self.staged_by_row]
            step = next(iter(by_row), None) or next(
                (s for s in staged if _turns(s, mention, procedure)), None
            )
            if step is not None:
                how = _short(step.words, 110)
                yield (
                    "loosen in stages",
                    f"{mention.name}, in the reverse of the tightening order ({how})",
                    step.citations,
                )

    def _tightens_in_stages(self, step: Step) -> bool:
        return "tighten" in step.deeds and bool(any_of(step.words, self.words["stages"]["words"]))


def _turns(step: Step, mention: Mention, procedure: Procedure | None) -> bool:
    """Whether a tightening step means this fastener: by its size or name, or as the only one taken off."""
    named = [m for m in step.mentions if m.kind is not None and m.kind.what in TURNED]
    if not named:
        off = [m for s in (procedure.steps if procedure else ()) for m in s.mentions if m.deed in OFF]
        return len({m.name for m in off if m.kind is not None and m.kind.what in TURNED}) == 1
    for other in named:
        if other.kind is None or mention.kind is None or other.kind.matches(mention.kind) == "no":
            continue
        if other.kind.thread is not None and mention.kind.thread is not None:
            return True
        if same_name(other.name, mention.name) or len(stems(other.name)) < 2:
            return True
    return False


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
