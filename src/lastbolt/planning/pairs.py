"""Which procedures put back what a procedure takes off, as far as titles and references say."""

from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator

from msgspec import Struct

from lastbolt.planning.names import same_name, same_part, stems, words
from lastbolt.words.machine import Deed, Machine, Mention, Procedure, Reference, Step

OFF: tuple[Deed, ...] = ("remove", "separate")
ON: tuple[Deed, ...] = ("install", "join", "fill")
TOGETHER: tuple[Deed, ...] = (*ON, "tighten")
"""By one of these something is put together, or put in."""


class Pair(Struct, frozen=True):
    """One procedure that puts back; `reference`: where it says "the reverse of removal", in `step` if set."""

    procedure: Procedure
    reference: Reference | None = None
    step: Step | None = None


class Pairs:
    """The pairs of a whole machine, looked up once."""

    def __init__(self, machine: Machine) -> None:
        self.named = {procedure.id: procedure for procedure in machine.procedures}
        self.of_step = {step.id: p.id for p in machine.procedures for step in p.steps}
        self.reversed: dict[str, list[Pair]] = defaultdict(list)
        self.own_words: dict[str, Pair] = {}
        self._on: dict[str, list[tuple[str, Procedure]]] = defaultdict(list)
        for procedure in machine.procedures:
            self._reversals(procedure)
            if procedure.deed in ON:
                for part in parts_of(procedure):
                    self._on[stems(part)[-1]].append((part, procedure))

    def _reversals(self, procedure: Procedure) -> None:
        for reference, step in references(procedure):
            if reference.role != "reverse of":
                continue
            pair = Pair(procedure, reference, step)
            for target in reference.to or (procedure.id,):
                self.reversed[self.of_step.get(target, target)].append(pair)
            self.own_words.setdefault(procedure.id, pair)

    def of(self, procedure: Procedure) -> tuple[Pair, ...]:
        """What puts back this procedure's work: what reverses it, and what installs the part of its title."""
        found = {pair.procedure.id: pair for pair in self.reversed.get(procedure.id, ())}
        for part in parts_of(procedure):
            for other in self._installs(part, procedure.deed):
                if other.id != procedure.id:
                    found.setdefault(other.id, self._in_own_words(other, procedure))
        return tuple(found.values())

    def closing(self, goals: Collection[str]) -> tuple[Procedure, ...]:
        """The procedures, beside the goals themselves, that put back what the goals take apart."""
        found = {
            pair.procedure.id: pair.procedure
            for name in self.named
            if name in goals
            for pair in self.of(self.named[name])
        }
        found |= {one.id: one for one in self._by_fasteners(goals)}
        return tuple(procedure for name, procedure in found.items() if name not in goals)

    def _by_fasteners(self, goals: Collection[str]) -> Iterator[Procedure]:
        """Sections that fit or tighten the very fasteners which the goals take out, whatever their title says
        ("Building up"). One row of the parts list is enough; a size only where the goal's own parts are
        named too."""
        own = [self.named[name] for name in self.named if name in goals]
        out = [
            m
            for one in own
            for step in one.steps
            for m in step.mentions
            if m.deed in (*OFF, "loosen") and m.kind
        ]
        rows = {row for m in out for row in m.rows}
        sizes = {size for m in out if (size := _size(m)) is not None}
        parts = {stem for one in own for part in parts_of(one) for stem in stems(part)}
        for procedure in self.named.values():
            if procedure.deed in (*OFF, "drain"):
                continue
            fits = [m for step in procedure.steps for m in step.mentions if m.deed in TOGETHER and m.kind]
            names = [
                procedure.title,
                *(m.name for s in procedure.steps for m in s.mentions if m.deed in TOGETHER),
            ]
            ours = any(parts & set(stems(name)) for name in names)
            if any(rows & set(m.rows) or (ours and _size(m) in sizes) for m in fits):
                yield procedure

    def _in_own_words(self, other: Procedure, procedure: Procedure) -> Pair:
        """The pair with its "reverse of", unless that is said of another section ("see 3.2 in reverse")."""
        pair = self.own_words.get(other.id)
        if pair is None or pair.reference is None:
            return Pair(other)
        led = {self.of_step.get(target, target) for target in pair.reference.to}
        elsewhere = led and not led & {other.id, procedure.id} and pair.step is not None
        return Pair(other) if elsewhere and len(other.steps) > 1 else pair

    def steps(self, pair: Pair, procedure: Procedure) -> tuple[Step, ...]:
        """The steps of a pair that are about this procedure: all, or the one that says "see 3.2 in reverse"
        where the section puts something else together."""
        parts = list(parts_of(pair.procedure))
        own = list(parts_of(procedure))
        about = not parts or any(one_in_other(a, b) or same_part(a, b) for a in parts for b in own)
        return pair.procedure.steps if pair.step is None or about else (pair.step,)

    def _installs(self, part: str, deed: Deed) -> list[Procedure]:
        if deed == "drain":
            fills = (some for some in self._on.values())
            return [p for some in fills for name, p in some if p.deed == "fill" and one_in_other(name, part)]
        if deed not in OFF:
            return []
        among = [(name, p) for name, p in self._on.get(stems(part)[-1], ()) if p.deed != "fill"]
        exact = [procedure for name, procedure in among if same_name(name, part)]
        near = [procedure for name, procedure in among if same_part(name, part)]
        if exact or near:
            return exact or (near if len({one.id for one in near}) == 1 else [])
        whole = [
            p for some in self._on.values() for name, p in some if p.deed == "join" and cased(name, part)
        ]
        return whole if len({one.id for one in whole}) == 1 else []


def _size(mention: Mention) -> tuple[str, float | None] | None:
    kind = mention.kind
    return (kind.thread, kind.length_mm) if kind is not None and kind.thread else None


def parts_of(procedure: Procedure) -> Iterator[str]:
    """What the title says it is done to; the name of a variant is no part."""
    for part in procedure.parts:
        key = stems(part)
        if key and key[0] not in words()["names"]["no_part"]:
            yield part


def cased(name: str, part: str) -> bool:
    """Whether one name is the other and a word for its casing: "gearbox" and "gearbox housing"."""
    one, two = set(stems(name)), set(stems(part))
    more = one ^ two
    return bool(more) and bool(one & two) and more <= set(words()["says_little"]["casing"])


def one_in_other(a: str, b: str) -> bool:
    """Whether every word of one name stands in the other: "gearcase" and "gearcase oil"."""
    one, two = set(stems(a)), set(stems(b))
    return bool(one and two) and (one <= two or two <= one)


def references(procedure: Procedure) -> Iterator[tuple[Reference, Step | None]]:
    """Every reference of a procedure, with its step where it has one."""
    yield from ((reference, None) for reference in (*procedure.before, *procedure.after))
    for step in procedure.steps:
        yield from ((reference, step) for reference in step.references)


def targets(references_: Iterable[Reference], of_step: dict[str, str]) -> Iterator[str]:
    """The procedures that references lead to."""
    for reference in references_:
        for target in reference.to:
            yield of_step.get(target, target)
