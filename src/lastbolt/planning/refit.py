"""How the fasteners of a plan go back: steps that fit and tighten them, and the lines of torque tables."""

import re
from collections.abc import Callable, Iterable, Iterator
from itertools import pairwise

from msgspec import Struct

from lastbolt.planning.names import any_of, ends_in, same_name, stems, words
from lastbolt.planning.not_so import not_so
from lastbolt.planning.pairs import OFF, ON, Pairs, parts_of
from lastbolt.words.machine import Machine, Mention, Procedure, Step, TorqueRow
from lastbolt.words.plan import Fastening, HowSure, Line
from lastbolt.words.quantity import Kind

_BETWEEN = 2
"""So many steps between one that fits a fastener and one that tightens it are shown with them."""
SizeOf = Callable[[TorqueRow], Kind]
"""The size that a line of a torque table prints: thread, length, strength class, as far as it says them."""
_RANK: dict[HowSure, int] = {"its name": 0, "its joint and size": 1, "its size": 2, "its thread": 3}


def thread_alone(row: TorqueRow) -> Kind:
    """Of a line of a torque table the thread that the model holds, where nobody reads its words."""
    return Kind(None, row.thread)


class Taken(Struct, frozen=True):
    """What one procedure of the plan takes out, as its steps name it."""

    procedure: Procedure
    mentions: tuple[Mention, ...]


def fastenings(
    lines: Iterable[Line],
    machine: Machine,
    pairs: Pairs,
    goals: tuple[str, ...],
    size_of: SizeOf = thread_alone,
) -> tuple[Fastening, ...]:
    """The goal's own joint first, step by step and then out of the tables; then the rest by the tables."""
    taken = _taken(lines, pairs)
    found: dict[tuple[str, str], Fastening] = {}
    for one in sorted(taken, key=lambda item: item.procedure.id not in goals):
        told = list(_by_steps(one, machine, pairs)) if one.procedure.id in goals else []
        fitted = _sized_where_fitted({item.step for item in told}, machine)
        whole = Taken(one.procedure, (*one.mentions, *fitted))
        for item in (*told, *_by_table(whole, machine, size_of)):
            found.setdefault((item.step, item.row), item)
    return tuple(found.values())


def _taken(lines: Iterable[Line], pairs: Pairs) -> list[Taken]:
    """By section; of one that was ticked whole all its steps."""
    mentions: dict[str, list[Mention]] = {}
    for line in lines:
        if line.procedure in pairs.named and line.kind in ("step", "confirm"):
            named = line.mentions if line.kind == "step" else _of_steps(pairs.named[line.procedure])
            out = [m for m in named if m.deed in (*OFF, "loosen")]
            mentions.setdefault(line.procedure, []).extend(out)
    return [
        Taken(pairs.named[one], tuple(some))
        for one, some in mentions.items()
        if pairs.named[one].deed not in ON
    ]


def _of_steps(procedure: Procedure) -> tuple[Mention, ...]:
    return tuple(mention for step in procedure.steps for mention in step.mentions)


def _sized_where_fitted(steps: Iterable[str], machine: Machine) -> Iterator[Mention]:
    """The sizes that the steps which fit the joint's fasteners name, where removal says just "the bolts"."""
    wanted = set(steps)
    for procedure in machine.procedures if wanted else ():
        for step in procedure.steps:
            if step.id in wanted:
                yield from (m for m in step.mentions if m.deed in ON and m.kind is not None and m.kind.thread)


def is_fastener(name: str) -> bool:
    """Whether a name is a screw's, nut's or plug's."""
    return ends_in(name, words()["refit"]["fasteners"])


def _by_steps(taken: Taken, machine: Machine, pairs: Pairs) -> Iterator[Fastening]:
    """What the sections say that put the joint together again; else the steps on the same parts rows."""
    part = next(parts_of(taken.procedure), taken.procedure.title)
    told = [
        (pair.procedure, step)
        for pair in pairs.of(taken.procedure)
        for step in _own_steps(pairs.steps(pair, taken.procedure))
    ]
    sure: HowSure = "its own section"
    if not told:
        rows = {row for m in taken.mentions if m.kind is not None for row in m.rows}
        sure = "its parts row"
        told = [
            (one, step)
            for one in machine.procedures
            for step in one.steps
            if any(m.deed in (*ON, "tighten") and rows & set(m.rows) for m in step.mentions)
        ]
    for one, step in told:
        yield Fastening(
            step.words, taken.procedure.id, part, sure, one.number, step.mark, step.id, "", step.torques,
            step.citations,
        )  # fmt: skip


def _own_steps(steps: tuple[Step, ...]) -> Iterator[Step]:
    """The steps from where fasteners are fitted to where they are tightened."""
    at = [place for place, step in enumerate(steps) if _fits(step) or _tightens(step)]
    shown = set(at)
    for one, next_one in pairwise(at):
        if next_one - one - 1 <= _BETWEEN:
            shown.update(range(one, next_one))
    for place in sorted(shown):
        yield steps[place]


def _fits(step: Step) -> bool:
    forbids, tools = words()["way_back"]["forbids"], words()["way_back"]["not_parts"]
    return any(
        m.deed in ON
        and (m.kind is not None or is_fastener(m.name))
        and not ends_in(m.name, tools)
        and not not_so(step.words, m.name, forbids)
        for m in step.mentions
    )


def _tightens(step: Step) -> bool:
    return "tighten" in step.deeds or bool(step.torques)


def _by_table(taken: Taken, machine: Machine, size_of: SizeOf) -> Iterator[Fastening]:
    """The lines of torque tables for what it takes out; for each thing only the surest."""
    kept: dict[str, tuple[HowSure, Fastening]] = {}
    for mention in taken.mentions:
        fits = [
            (sure, row)
            for row in machine.torques
            if (sure := row_fits(row, mention, taken.procedure, size_of))
        ]
        best = min((_RANK[sure] for sure, _ in fits), default=0)
        for sure, row in fits:
            if _RANK[sure] == best and (row.id not in kept or _RANK[kept[row.id][0]] > best):
                cited = row.citations or row.value.citations
                kept[row.id] = (sure, Fastening(
                    row.what, taken.procedure.id, mention.name, sure, row=row.id, torques=(row.value,),
                    citations=cited,
                ))  # fmt: skip
    yield from (item for _, item in kept.values())


def row_fits(
    row: TorqueRow, mention: Mention, procedure: Procedure, size_of: SizeOf = thread_alone
) -> HowSure | None:
    """How surely a line of a torque table is for what a step takes out; nothing when it is not."""
    kind = mention.kind
    if kind is None and not is_fastener(mention.name):
        return None
    size = size_of(row)
    thread, length = size.thread, size.length_mm
    if kind and _other_size(kind, size):
        return None
    nothing = words()["refit"]["says_nothing"]
    name = _without_place(row.what)
    what, own = tuple(word for word in stems(name) if word not in nothing), stems(mention.name)
    sized = bool(thread and kind and kind.thread)
    if len(own) > 1 and (_named(row.what, mention.name, sized) or same_name(name, mention.name)):
        return "its name"
    if sized and any(same_name(row.what, part) for part in parts_of(procedure)):
        return "its joint and size"
    if what and not _alike(what, own):
        return None
    rest = what[:-1]
    if rest and _names_joint(rest, procedure, own):
        return "its joint and size" if sized else None
    if not sized or kind is None:
        return None
    if length and kind.length_mm:
        return "its size"
    return None if rest else "its thread"


def _without_place(what: str) -> str:
    """What a line is of, less where that sits: "Case bolt at bearing" is a case bolt."""
    head, *rest = re.split(rf"\b(?:{'|'.join(words()['refit']['behind_the_name'])})\b", what, maxsplit=1)
    return head.strip() if rest and is_fastener(head) else what


def _named(what: str, name: str, sized: bool) -> bool:
    """Whether a line has the very name, or the name but for a word and the same thread: "stud nut" for the
    "long stud nut"."""
    if same_name(what, name):
        return True
    one, two = stems(what), stems(name)
    return sized and len(one) > 1 and one[-1] == two[-1] and set(one) <= set(two)


def _names_joint(rest: Iterable[str], procedure: Procedure, own: tuple[str, ...]) -> bool:
    """Whether all that a line says beside the fastener is of the joint: "case" of the gearcase."""
    synonyms = words()["same_part"]
    said = {stem for part in parts_of(procedure) for stem in stems(part)} | set(own[:-1])
    of_joint = said | {synonyms.get(stem, stem) for stem in said}
    casing = words()["says_little"]["casing"]
    named = [word for word in rest if any(one.endswith(synonyms.get(word, word)) for one in of_joint)]
    return bool(named) and all(word in named or word in casing for word in rest)


def _alike(one: tuple[str, ...], two: tuple[str, ...]) -> bool:
    """Whether two names are of one sort of fastener: screws and bolts are called by each other's name."""
    if not one or not two:
        return False
    if one[-1] == two[-1]:
        return True
    return any(one[-1] in some and two[-1] in some for some in words()["refit"]["alike"])


def _other_size(kind: Kind, size: Kind) -> bool:
    """Whether a fastener cannot be of the size that a line prints; what is not said can be any."""
    if kind.thread and size.thread and _other_thread(kind.thread, size.thread):
        return True
    if kind.length_mm and size.length_mm and abs(kind.length_mm - size.length_mm) > 0.5:
        return True
    return bool(kind.strength and size.strength and kind.strength != size.strength)


def _other_thread(one: str, two: str) -> bool:
    """Whether two threads cannot be one; a pitch that is not said can be any."""
    a, b = one.replace(" ", "").partition("x"), two.replace(" ", "").partition("x")
    return a[0] != b[0] or bool(a[2] and b[2] and a[2] != b[2])


def new_with(row: TorqueRow) -> Iterator[str]:
    """What a line of a torque table wants new: "new ring"."""
    said = row.citations[0].words if row.citations else ""
    for word in words()["ready"]["renewed"]:
        for match in re.finditer(rf"\b{re.escape(word)}\s+([a-z][a-z \-]*[a-z])", said):
            if any_of(match[1], words()["way_back"]["with_its_part"]):
                yield match[1]


def tightened(
    mention: Mention, machine: Machine, procedure: Procedure, size_of: SizeOf = thread_alone
) -> TorqueRow | None:
    """The line of a torque table that names what comes off, so that it goes on again."""
    sure = ("its name", "its joint and size")
    rows = machine.torques
    return next((row for row in rows if row_fits(row, mention, procedure, size_of) in sure), None)
