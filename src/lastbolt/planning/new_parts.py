"""Which parts the sources want new when things go back, each tied to its parts row where that is certain."""

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator

from msgspec import Struct

from lastbolt.planning.names import same_name, same_part, stems
from lastbolt.planning.pairs import OFF, Pairs
from lastbolt.words.citation import Citation
from lastbolt.words.codes import number_behind
from lastbolt.words.machine import Machine, Mention, PartsRow, Procedure, Step
from lastbolt.words.plan import Line, NewPart

_SIZE = re.compile(r"m\d+(?:[x×]\d+(?:\.\d+)?)*")
_FIGURE = re.compile(r"\d+(?:[.,]\d+)?")
Nearness = tuple[bool, int, int, int]
FAR: Nearness = (False, 0, 0, 0)


class Wanted(Struct, frozen=True):
    """A part that one line or step wants new."""

    part: str
    words: str
    mentions: tuple[Mention, ...]
    procedure: Procedure | None
    citations: tuple[Citation, ...]


def new_parts(
    lines: tuple[Line, ...],
    machine: Machine,
    pairs: Pairs,
    taken: Iterable[Procedure],
    more: Iterable[tuple[Wanted, Procedure]] = (),
) -> tuple[NewPart, ...]:
    """Every part to have new: thrown away by the plan, single use by its row, or new by the way back; `more`:
    what else wants one new, with the procedure that takes it off."""
    book = RenewRows(machine)
    found: list[tuple[NewPart, frozenset[str]]] = []
    for line in lines:
        procedure = pairs.named.get(line.procedure)
        for one in _works(line, procedure):
            for part in one.renew:
                _add(
                    found,
                    book.made(Wanted(part, one.words, one.mentions, procedure, one.citations)),
                    procedure,
                )
            for row in book.single_use(one.mentions):
                part_numbers = (row.part_number,) if row.part_number else ()
                _add(found, NewPart(row.name, row.remarks, (row.id,), part_numbers, row.citations), procedure)
    for procedure in taken:
        for pair in pairs.of(procedure):
            for step in pairs.steps(pair, procedure):
                for part in step.renew:
                    wanted = Wanted(part, step.words, step.mentions, pair.procedure, step.citations)
                    _add(found, book.made(wanted), procedure)
    for wanted, procedure in more:
        _add(found, book.made(wanted), procedure)
    return tuple(part for part, _ in found)


def _works(line: Line, procedure: Procedure | None) -> tuple[Line | Step, ...]:
    """The step of a line; of a section that was ticked whole all its steps."""
    if line.kind == "step":
        return (line,)
    if line.kind != "confirm" or procedure is None:
        return ()
    return procedure.steps


def _add(found: list[tuple[NewPart, frozenset[str]]], new: NewPart, procedure: Procedure | None) -> None:
    """Add it unless it is there: one row, or one name told for the same removal."""
    home = frozenset([procedure.id] if procedure else [])
    for place, (old, homes) in enumerate(found):
        one_row = bool(old.rows) and old.rows == new.rows
        one_name = bool(home & homes) and same_part(old.part, new.part) and not (old.rows and new.rows)
        if one_row or one_name:
            found[place] = (old if old.rows or not new.rows else new, homes | home)
            return
    found.append((new, home))


class RenewRows:
    """The parts rows marked single use, and how a step's words lead to one of them."""

    def __init__(self, machine: Machine) -> None:
        self.rows = {row.id: row for row in machine.rows}
        self.by_head: dict[str, list[PartsRow]] = defaultdict(list)
        self.sizes: dict[str, set[str]] = defaultdict(set)
        self.numbers = frozenset(row.part_number for row in machine.rows if row.part_number)
        for row in machine.rows:
            if row.renew and (key := stems(row.name)):
                self.by_head[key[-1]].append(row)
            self.sizes[row.figure].update(_SIZE.findall(_bare(row.name)))

    def single_use(self, mentions: Iterable[Mention]) -> Iterator[PartsRow]:
        """The rows marked single use among what is taken off."""
        for mention in mentions:
            for row_id in mention.rows:
                row = self.rows.get(row_id)
                if row is not None and row.renew and mention.deed in OFF:
                    yield row

    def made(self, wanted: Wanted) -> NewPart:
        """The part with the row that it must be, when only one fits best."""
        part = full_name(wanted.part, wanted.mentions)
        own = {row for m in wanted.mentions if same_name(m.name, part) for row in m.rows if row in self.rows}
        row = self.rows[own.pop()] if len(own) == 1 else self._row_of(part, wanted)
        if row is None:
            return NewPart(part, wanted.words, (), self._printed(part, wanted), wanted.citations)
        numbers = (row.part_number,) if row.part_number else ()
        return NewPart(part_name(row), wanted.words, (row.id,), numbers, wanted.citations)

    def _printed(self, part: str, wanted: Wanted) -> tuple[str, ...]:
        """The part number that the section's set-up prints behind the part."""
        materials = wanted.procedure.materials if wanted.procedure else ()
        found = {number_behind(one, self.numbers) for one in materials if same_part(_name(one), part)} - {""}
        return tuple(found) if len(found) == 1 else ()

    def _row_of(self, part: str, wanted: Wanted) -> PartsRow | None:
        key = stems(part)
        fitting = [row for row in self.by_head.get(key[-1], ()) if same_part(part, row.name)] if key else []
        scores = [(self._nearness(row, key, wanted), row) for row in fitting]
        best = max((score for score, _ in scores), default=FAR)
        top = [row for score, row in scores if score == best]
        numbers = {row.part_number for row in top}
        sure = best > FAR or len(key) > 1
        return top[0] if top and sure and len(numbers) == 1 else None

    def _nearness(self, row: PartsRow, key: tuple[str, ...], wanted: Wanted) -> Nearness:
        """How much of the row's name the step or its title says beyond the part; sizes they share, and the
        numbers behind the part in the set-up; how many parts of the section stand in the row's figure."""
        title = wanted.procedure
        near = " ".join((title.title, *title.materials)).replace(",", " ") if title else ""
        extra = set(stems(row.name)) - set(key)
        said = set(stems(f"{wanted.words} {near}".replace(",", " ")))
        text = _bare(
            " ".join([wanted.words, *(step.words for step in title.steps)] if title else [wanted.words])
        )
        sizes = len(self.sizes[row.figure] & set(_SIZE.findall(text)))
        exact = _SIZE.findall(_bare(wanted.words))
        sizes += 100 * len(self.sizes[row.figure] & set(exact))
        own = set(_FIGURE.findall(row.name))
        sizes += 1000 * len(own & _figures_behind(row.name, title))
        return (bool(extra) and extra <= said, len(extra & said), sizes, self._same_figure(row, title))

    def _same_figure(self, row: PartsRow, procedure: Procedure | None) -> int:
        named = {
            one for step in (procedure.steps if procedure else ()) for m in step.mentions for one in m.rows
        }
        return sum(self.rows[one].figure == row.figure for one in named if one in self.rows)


def _figures_behind(part: str, procedure: Procedure | None) -> set[str]:
    """The numbers that a section's set-up prints with a part: "Sealing ring 18 (single use)"."""
    materials = procedure.materials if procedure else ()
    return {n for one in materials if same_part(_name(one), part) for n in _FIGURE.findall(one)}


def _name(material: str) -> str:
    return material.partition("(")[0]


def full_name(part: str, mentions: Iterable[Mention]) -> str:
    """The part by the fullest name that the step gives it: "split pin" for "pin"."""
    fitting = [m.name for m in mentions if same_part(m.name, part) and set(stems(part)) < set(stems(m.name))]
    return max(fitting, key=len, default=part)


def part_name(row: PartsRow) -> str:
    """A row's name as it is spoken: "Pin, split, 2 x 16" is "split pin 2 x 16"."""
    head, *rest = [piece.strip() for piece in row.name.split(",")]
    sized = [piece for piece in rest if any(sign.isdigit() for sign in piece)]
    spoken = [piece for piece in reversed(rest) if piece not in sized]
    name = " ".join([*spoken, head if head[1:2] == "-" else head[:1].lower() + head[1:], *sized])
    return name if name[1:2] == "-" else name[:1].lower() + name[1:]


def _bare(text: str) -> str:
    return text.lower().replace(" ", "")
