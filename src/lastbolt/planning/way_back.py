"""The way back: for everything that comes off, what the sources say about putting it on again."""

import re
from collections.abc import Container, Iterable
from functools import lru_cache

from msgspec import Struct
from msgspec.structs import replace

from lastbolt.planning.going_back import Installations, On, loose
from lastbolt.planning.names import any_of, ends_in, same_part, stems, words
from lastbolt.planning.new_parts import Wanted, new_parts
from lastbolt.planning.pairs import OFF, ON, Pair, Pairs, parts_of, references, targets
from lastbolt.planning.refit import SizeOf, fastenings, new_with, thread_alone, tightened
from lastbolt.planning.sequence import circles, order
from lastbolt.words.citation import Citation
from lastbolt.words.machine import Machine, Mention, Procedure, Step
from lastbolt.words.plan import Fastening, Line, Return, WayBack
from lastbolt.words.problem import Problem
from lastbolt.words.where import places

_CODE = re.compile(r"[A-Za-z0-9]+(?:[.\-][A-Za-z0-9]+)+")


def way_back(
    lines: tuple[Line, ...],
    machine: Machine,
    goals: tuple[str, ...] = (),
    size_of: SizeOf = thread_alone,
) -> tuple[WayBack, tuple[Problem, ...]]:
    """How each removed part goes back, as far as the sources say; a problem for each that has no way back,
    and for each installation met on the way back whose part no source takes off. `goals`: the procedures
    whose fasteners are told step by step. `size_of` reads the size that a line of a torque table prints."""
    pairs = Pairs(machine)
    finder = _Finder(machine, pairs)
    taken = [procedure for procedure, _ in by_procedure(lines, pairs)]
    found: list[tuple[Return, str]] = []
    problems: dict[tuple[str, ...], Problem] = {}
    for procedure, own in by_procedure(lines, pairs):
        mirror = pairs.of(procedure)
        whole = finder.whole(procedure, own, mirror)
        if whole is not None:
            found.append((whole, procedure.id))
            problems[procedure.id, *stems(whole.part)] = _whole_without(procedure, whole)
        removed = _removed(procedure, own, pairs)
        for mention, line in [*_titled(procedure, own, mirror, removed), *removed]:
            item = finder.return_of(mention, line, mirror)
            if item is not None and item.how == "none":
                item = _by_torque(item, mention, machine, procedure, size_of)
            if item is None or (whole is not None and item.how == "none"):
                continue
            found.append((item, procedure.id))
            if item.how == "none":
                problems.setdefault((procedure.id, *stems(item.part)), _no_way_back(item, line, procedure))
    returns = _once(found)
    back = _last_off_first(returns, lines, finder)
    ordered = _in_order(back, pairs)
    off = _no_way_off(back, machine, pairs, finder)
    refitted = fastenings(lines, machine, pairs, goals, size_of)
    news = new_parts(lines, machine, pairs, taken, _new_by_table(refitted, machine, pairs))
    return WayBack(returns, ordered, news, refitted), (*problems.values(), *off)


def _by_torque(
    item: Return, mention: Mention, machine: Machine, procedure: Procedure, size_of: SizeOf
) -> Return:
    """What no step puts back, by the line of a torque table that names it."""
    row = tightened(mention, machine, procedure, size_of)
    if row is None:
        return item
    return replace(
        item, how="torque table", on_by=(row.id,), on_citations=row.citations or row.value.citations
    )


def _new_by_table(
    refitted: Iterable[Fastening], machine: Machine, pairs: Pairs
) -> list[tuple[Wanted, Procedure]]:
    """What the lines of torque tables want new: "Shaft nut ... new tab washer"."""
    rows = {row.id: row for row in machine.torques}
    return [
        (Wanted(part, item.words, (), pairs.named[item.of], item.citations), pairs.named[item.of])
        for item in refitted
        if item.row
        for part in new_with(rows[item.row])
    ]


def by_procedure(lines: Iterable[Line], pairs: Pairs) -> list[tuple[Procedure, list[Line]]]:
    """The procedures of the plan in its order, each with its step lines (none: taken for done)."""
    own: dict[str, list[Line]] = {}
    for line in lines:
        if line.kind in ("step", "confirm") and line.procedure in pairs.named:
            own.setdefault(line.procedure, []).append(line)
    return [(pairs.named[one], some) for one, some in own.items() if pairs.named[one].deed not in ON]


def _titled(
    procedure: Procedure, own: list[Line], mirror: tuple[Pair, ...], removed: list[tuple[Mention, Line]]
) -> list[tuple[Mention, Line]]:
    """The part of the title where no step names it as taken off: "draw the starter motor out"."""
    if procedure.deed not in OFF or not mirror or _partly(procedure, own):
        return []
    told = [mention.name for mention, _ in removed]
    last = own[-1]
    return [(Mention(p), last) for p in parts_of(procedure) if not any(same_part(p, one) for one in told)]


def _removed(procedure: Procedure, own: list[Line], pairs: Pairs) -> list[tuple[Mention, Line]]:
    """What its lines take off that is told of by itself: no fastener of a part that comes off with it."""
    return [(one.mention, one.line) for one in taken_off(procedure, own, pairs) if not one.with_its_part]


class TakenOff(Struct, frozen=True):
    """One thing that a line of the plan takes off. `with_its_part`: it goes back with another of the line."""

    mention: Mention
    line: Line
    with_its_part: bool = False
    step: str = ""


def taken_off(procedure: Procedure, own: list[Line], pairs: Pairs) -> list[TakenOff]:
    """What its lines take off for good: no tool, nothing that was put in before, and nothing that a section
    takes off to which the step leads."""
    by_step = {line.step: line for line in own if line.step}
    confirm = next((line for line in own if line.kind == "confirm"), None)
    found: list[TakenOff] = []
    put_in: set[str] = set()
    tools = " ".join((*procedure.tools, *(tool for line in own for tool in line.tools)))
    for step in procedure.steps:
        line = by_step.get(step.id, confirm)
        if line is None:
            continue
        mentions = line.mentions if line.kind == "step" else step.mentions
        for mention in mentions:
            if mention.deed in OFF and stems(mention.name) and mention.name not in put_in:
                nothing = _tool(mention.name, step.words, tools) or _nothing(mention.name)
                told = _with_its_part(mention, mentions) or _begins_another(mention, mentions)
                if not (nothing or _elsewhere(mention, step, pairs)):
                    found.append(TakenOff(mention, line, told, step.id))
            elif mention.deed not in OFF and any_of(step.words, words()["way_back"]["put_in"]):
                put_in.add(mention.name)
    known = {step.id for step in procedure.steps}
    loose_lines = [line for line in own if line.kind == "step" and line.step not in known]
    return found + [
        TakenOff(m, line) for line in loose_lines for m in line.mentions if m.deed in OFF and stems(m.name)
    ]


def _begins_another(mention: Mention, mentions: tuple[Mention, ...]) -> bool:
    """Whether a longer name of the same words was read too: "long stud" of the "long stud nut"."""
    begins = f"{mention.name} "
    return any(other.deed == mention.deed and other.name.startswith(begins) for other in mentions)


def _elsewhere(mention: Mention, step: Step, pairs: Pairs) -> bool:
    """Whether the step leads to the section that takes the part off: "First take off the belt (page 2)"."""
    there = targets([one for one in step.references if one.role == "before"], pairs.of_step)
    parts = [part for one in there if one in pairs.named for part in pairs.named[one].parts]
    return any(same_part(part, mention.name) for part in parts)


def _tool(name: str, said: str, tools: str) -> bool:
    """Whether a tool's number of the set-up block stands behind the name: "the locking pin Q-04"."""
    if not tools:
        return False
    last = name.split()[-1:] or [""]
    return any(
        re.search(
            rf"{re.escape(last[0])}\w*[\s\-]+(?:[A-Za-z]+-)?{re.escape(code.split('-', 1)[-1])}\b", said
        )
        for code in _CODE.findall(tools)
        if any(c.isdigit() for c in code)
    )


def _nothing(name: str) -> bool:
    return ends_in(name, words()["way_back"]["not_parts"])


def _with_its_part(mention: Mention, mentions: tuple[Mention, ...]) -> bool:
    """A fastener is back when what it holds is, a washer when its screw is; a named nut is told alone."""
    key = stems(mention.name)
    if mention.kind is not None:
        others = any(m.deed in OFF and m.kind is None for m in mentions)
        return others or len(key) < 2
    small = ends_in(mention.name, words()["way_back"]["with_its_part"])
    return small and any(m is not mention and m.deed in OFF for m in mentions)


class _Finder:
    def __init__(self, machine: Machine, pairs: Pairs) -> None:
        self.pairs = pairs
        self.on = Installations(machine)

    def whole(self, procedure: Procedure, own: list[Line], mirror: tuple[Pair, ...]) -> Return | None:
        """A return without a way for the title's part, when no source says anything of putting it back."""
        parts = tuple(parts_of(procedure))
        if procedure.deed not in OFF or mirror or not parts or _partly(procedure, own):
            return None
        if any(self.on.anywhere(Mention(part), procedure.id) for part in parts):
            return None
        first = next((line for line in own if any(m.deed in OFF for m in line.mentions)), own[0])
        return Return(parts[0], first.id, "none", off_citations=procedure.citations)

    def return_of(self, mention: Mention, line: Line, mirror: tuple[Pair, ...]) -> Return | None:
        """How one removed thing goes back; nothing when it is thrown away and a new one is told of."""
        near = self.on.in_pairs(mention, mirror, line.procedure)
        reversals = [pair for pair in mirror if pair.reference is not None]
        if not near and reversals:
            return _by_reversal(mention, line, reversals)
        found = near or self.on.anywhere(mention, line.procedure)
        if not found:
            if any(same_part(part, mention.name) for part in line.renew):
                return None
            return Return(mention.name, line.id, "none", off_citations=line.citations)
        return _by_steps(mention, line, found, reversals)

    def procedures_of(self, item: Return) -> Iterable[str]:
        """The procedures in which the part goes back."""
        return (self.pairs.of_step.get(by, by) for by in item.on_by)


def _partly(procedure: Procedure, own: list[Line]) -> bool:
    """Whether the plan takes only some of the procedure's steps, so that its part may stay on."""
    if any(line.kind == "confirm" for line in own) or not procedure.steps:
        return False
    return procedure.steps[-1].id not in {line.step for line in own}


def _by_reversal(mention: Mention, line: Line, reversals: list[Pair]) -> Return:
    by = tuple(dict.fromkeys(pair.step.id if pair.step else pair.procedure.id for pair in reversals))
    said = [pair.reference for pair in reversals if pair.reference is not None]
    return Return(
        mention.name, line.id, "reverse of removal", by, exceptions(reversals), said[0].words,
        line.citations, _first(reference.citations for reference in said),
    )  # fmt: skip


def _by_steps(mention: Mention, line: Line, found: list[On], reversals: list[Pair]) -> Return:
    whole = [on for on in found if on.whole]
    used = whole or found
    by = tuple(dict.fromkeys(on.by for on in used))
    return Return(
        mention.name, line.id, "procedure" if whole else "step", by, exceptions(reversals), "",
        line.citations, _first(on.citations for on in used),
    )  # fmt: skip


def exceptions(reversals: Iterable[Pair]) -> tuple[str, ...]:
    """What a source says is not the reverse of removal."""
    said = []
    for pair in reversals:
        text = pair.step.words if pair.step else pair.reference.words if pair.reference else ""
        found = _except().search(text)
        if found:
            said.append(found.group(1).strip())
    return tuple(dict.fromkeys(said))


@lru_cache(maxsize=1)
def _except() -> re.Pattern[str]:
    known = "|".join(map(re.escape, words()["way_back"]["excepts"]))
    return re.compile(rf"\b(?:{known})\b[:,]?\s*(.+)", re.I | re.S)


def _once(found: Iterable[tuple[Return, str]]) -> tuple[Return, ...]:
    """Each part once for each way back; without one, once for each section that takes it off."""
    kept: dict[tuple[tuple[str, ...], tuple[str, ...]], Return] = {}
    for item, procedure in found:
        kept.setdefault((stems(item.part), item.on_by or (procedure,)), item)
    return tuple(kept.values())


def _whole_without(procedure: Procedure, item: Return) -> Problem:
    deed = "separates" if procedure.deed == "separate" else "removes"
    title = f"{procedure.number} {procedure.title}".strip()
    return Problem(
        "LB-W01",
        f'"{title}" {deed} the {item.part}, and no source says how it goes back.',
        places(procedure.citations[:1]) or title,
        "Note how it sat before it comes off (photo, mark), and agree on its way back with the instructor.",
        "doubt",
        procedure.citations,
    )


def _no_way_back(item: Return, line: Line, procedure: Procedure) -> Problem:
    section = line.number or f'"{procedure.title}"'
    place = f"{section} step {line.mark}" if line.mark else section
    return Problem(
        "LB-W01",
        f"{place} removes {item.part}, and no source says how it goes back on.",
        f'{places(item.off_citations[:1]) or place}: "{line.words}"',
        "Note how it sat before it comes off (photo, mark), and agree on its way back with the instructor.",
        "doubt",
        item.off_citations,
    )


def _no_way_off(back: tuple[str, ...], machine: Machine, pairs: Pairs, finder: _Finder) -> list[Problem]:
    """A note for each installation that the way back leads to although no source takes its part off."""
    by_word: dict[str, list[frozenset[str]]] = {}
    for key in _comes_off(machine, finder):
        for word in key:
            by_word.setdefault(word, []).append(key)
    found = []
    for procedure in (pairs.named[one] for one in _reached(back, pairs)):
        parts = tuple(parts_of(procedure))
        if procedure.deed not in ("install", "join") or not parts or procedure.id in pairs.own_words:
            continue
        keys = [frozenset(loose(part)) for part in parts]
        off = any(
            key <= other or other <= key for key in keys for word in key for other in by_word.get(word, ())
        )
        if not off and not any(_nothing(part) for part in parts):
            found.append(_without_removal(procedure, parts[0]))
    return found


def _comes_off(machine: Machine, finder: _Finder) -> set[frozenset[str]]:
    """The names of everything that any title or step takes off."""
    titled = {frozenset(loose(part)) for p in machine.procedures if p.deed not in ON for part in parts_of(p)}
    return titled.union(*finder.on.removed.values())


def _without_removal(procedure: Procedure, part: str) -> Problem:
    title = f"{procedure.number} {procedure.title}".strip()
    return Problem(
        "LB-W02",
        f'"{title}" installs the {part}, and no source says how it comes off.',
        places(procedure.citations[:1]) or title,
        "Look whether it is still on, or came off with another part.",
        "note",
        procedure.citations,
    )


def _reached(back: tuple[str, ...], pairs: Pairs) -> list[str]:
    """The way back's procedures and all that they name as follow-on, of any depth."""
    found = dict.fromkeys(one for one in back if one in pairs.named)
    waiting = list(found)
    while waiting:
        procedure = pairs.named[waiting.pop()]
        for target in targets(procedure.after, pairs.of_step):
            if target in pairs.named and target not in found:
                found[target] = None
                waiting.append(target)
    return list(found)


def _last_off_first(returns: Iterable[Return], lines: Iterable[Line], finder: _Finder) -> tuple[str, ...]:
    """The procedures that put back, as the reverse of the removal: what waits for the part that came off
    first comes last."""
    place = {line.id: number for number, line in enumerate(lines)}
    first: dict[str, int] = {}
    for item in returns:
        for procedure in finder.procedures_of(item):
            at = place[item.off_by]
            first[procedure] = min(at, first.get(procedure, at))
    ends = {one: min([first[one], *(first[other] for other in _inside(one, first, finder))]) for one in first}
    return tuple(sorted(first, key=lambda one: (-ends[one], -first[one])))


def _inside(procedure: str, among: Container[str], finder: _Finder) -> list[str]:
    """The sections, among these, that a step of this one leads to: they are done within it."""
    one = finder.pairs.named.get(procedure)
    asked = [ref for ref, step in references(one) if step is not None and ref.role == "before"] if one else []
    return [other for other in targets(asked, finder.pairs.of_step) if other in among and other != procedure]


def _in_order(procedures: Iterable[str], pairs: Pairs) -> tuple[str, ...]:
    """Those procedures so that what one requires stands before it; else in the order given."""
    ids = [one for one in procedures if one in pairs.named]
    among = frozenset(ids)
    edges = [edge for one in ids for edge in _edges(pairs.named[one], among, pairs)]
    group = {one: number for number, round_ in enumerate(circles(ids, edges)) for one in round_}
    kept = [(a, b) for a, b in edges if a not in group or group[a] != group.get(b)]
    return tuple(order(ids, kept))


def _edges(procedure: Procedure, among: frozenset[str], pairs: Pairs) -> Iterable[tuple[str, str]]:
    """What its set-up puts before it, and its follow-on behind it, among these.

    What a step of it leads to ("Install the guard, see 3.2") has its place at that step, and is not done
    before the section begins.
    """
    for reference, step in references(procedure):
        for other in targets((reference,), pairs.of_step):
            if other in among and other != procedure.id:
                if reference.role == "before" and step is None:
                    yield other, procedure.id
                elif reference.role in ("before", "after"):
                    yield procedure.id, other


def _first(citations: Iterable[tuple[Citation, ...]]) -> tuple[Citation, ...]:
    return tuple(dict.fromkeys(one for some in citations for one in some[:1]))
