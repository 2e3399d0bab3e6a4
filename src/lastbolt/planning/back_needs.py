"""What must be on before what, on the way back: by sections, references and words, and because it had to come
off first on the way apart."""

import re
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from typing import Literal, get_args

from msgspec import Struct

from lastbolt.planning.book import Book
from lastbolt.planning.going_back import speaks_of
from lastbolt.planning.inside import inside_of
from lastbolt.planning.names import any_of, same_part, words
from lastbolt.planning.order_words import order_words
from lastbolt.planning.pairs import OFF, ON, TOGETHER, Pairs, references
from lastbolt.words.back import BackLine, Removed
from lastbolt.words.machine import Reference
from lastbolt.words.plan import Plan

Why = Literal["section", "says so", "required", "filling", "inside", "came off first", "follow-on"]
"""`section`: printed so. `says so`: "after joining". `required`: a set-up or step asks for it. `filling`:
plugs, then fluids, then the first start, then leaks. `inside`: it sits in or under the other. `came off
first`: the other had to come off before it. From the surest to the least sure."""
WHYS: tuple[Why, ...] = get_args(Why)


_WORD = re.compile(r"[a-z]{3,}")


class Before(Struct, frozen=True):
    """One line, by its number, that comes before another."""

    first: int
    then: int
    why: Why


def befores(
    lines: Sequence[BackLine], things: Sequence[Removed], plan: Plan, book: Book, pairs: Pairs
) -> list[Before]:
    """Everything that is known of what comes before what."""
    finder = _Befores(lines, things, plan, book, pairs)
    return [
        *finder.section(), *finder.says_so(), *finder.required(), *finder.filling(), *finder.inside(),
        *finder.came_off(), *finder.follow_on(),
    ]  # fmt: skip


class _Befores:
    def __init__(
        self, lines: Sequence[BackLine], things: Sequence[Removed], plan: Plan, book: Book, pairs: Pairs
    ) -> None:
        self.lines, self.things, self.plan, self.book, self.pairs = lines, things, plan, book, pairs
        self.at: dict[str, int] = {}
        """The first line of each id."""
        self.of: dict[str, list[int]] = {}
        """By section: its told lines."""
        for number, one in enumerate(lines):
            self.at.setdefault(one.line.id, number)
            if one.how == "told":
                self.of.setdefault(one.line.procedure, []).append(number)
        self.apart = {line.id: number for number, line in enumerate(plan.lines)}
        self.removal = {line.id: line.procedure for line in plan.lines}
        self.on = [self._on(one) for one in things]
        self.late = self._late()

    def section(self) -> Iterator[Before]:
        """A section's own order; lines read the other way round stand behind what says so, and in a row."""
        for own in self.of.values():
            yield from _row(own, "section")
        for run in _runs(self.lines):
            yield from _row(run, "section")
            said = run[0] - 1
            removal = self.removal.get(self.lines[run[0]].reverses, "")
            if said >= 0 and self.lines[said].how == "told" and self._undoes(said, removal):
                yield Before(said, run[0], "section")
                behind = [n for n in self.of[self.lines[said].line.procedure] if n > said]
                yield from (Before(run[-1], n, "section") for n in behind[:1])

    def _undoes(self, told: int, removal: str) -> bool:
        there = self.pairs.named.get(removal)
        return there is not None and self.lines[told].line.procedure in {
            pair.procedure.id for pair in self.pairs.of(there)
        }

    def _late(self) -> dict[int, int]:
        """Lines that say that they come after joining, and what stands there only because they ask for it;
        each with the line that says so."""
        found: dict[int, int] = {}
        for number, one in enumerate(self.lines):
            said = one.line.words.casefold()
            if (
                one.how == "told"
                and one.line.kind == "step"
                and said.startswith(tuple(words()["way_back"]["after_joining"]))
            ):
                ids = {one.line.id}
                more = ids
                while more:
                    more = {o.line.id for o in self.lines if o.line.required_by.line in more} - ids
                    ids |= more
                asked = {self.at[one_id] for one_id in ids}
                behind = {n for n in self.of[one.line.procedure] if n > number}
                found |= dict.fromkeys(asked | behind, number)
        return found

    def says_so(self) -> Iterator[Before]:
        """Behind the last line of each section that joins, other than the own."""
        for number, says in self.late.items():
            own = self.lines[says].line.procedure
            for procedure, there in self.of.items():
                one = self.book.procedures.get(procedure)
                if one is not None and one.deed == "join" and procedure != own:
                    yield Before(there[-1], number, "says so")

    def required(self) -> Iterator[Before]:
        """What a set-up or a step asks for comes before it."""
        for number, one in enumerate(self.lines):
            needs = self.at.get(one.line.required_by.line)
            asked = one.how == "told" and one.line.required_by.because != "part of"
            if asked and needs not in (None, number) and self._in_time(number, needs):
                yield Before(number, needs, "required")
        for procedure, own in self.of.items():
            there = self.book.procedures.get(procedure)
            for reference, step in references(there) if there else ():
                then = own[0] if step is None else self.at.get(step.id, -1)
                if reference.role == "before" and then >= 0:
                    yield from self._lines_asked(reference, procedure, then)

    def _lines_asked(self, reference: Reference, procedure: str, then: int) -> Iterator[Before]:
        for need in self.book.needs(reference):
            if need.procedure != procedure:
                span = self.book.span(need)
                steps = {s.id for s in self.book.procedures[need.procedure].steps[span.first : span.last + 1]}
                for number in self.of.get(need.procedure, ()):
                    line = self.lines[number].line
                    wanted = line.step in steps or line.kind == "confirm"
                    if wanted and self._in_time(number, then):
                        yield Before(number, then, "required")

    def _in_time(self, number: int, then: int) -> bool:
        """Whether a line can be asked for by the other: what comes after joining is not asked for before."""
        return number not in self.late or then in self.late

    def filling(self) -> Iterator[Before]:
        """Plugs that were taken out for draining, then fluids, then bleeding, the first start, the leak
        check; the first start after everything that goes on."""
        kinds = order_words()
        plugs = [n for one, on in zip(self.things, self.on, strict=True) if self._plug(one) for n in on]
        fills = [n for n, one in enumerate(self.lines) if self._fills(one)]
        named: dict[str, list[int]] = {
            what: [
                n for n, one in enumerate(self.lines) if one.how == "told" and self._does(one, kinds[what])
            ]
            for what in ("bleed", "leak")
        }
        named["start"] = [n for n, one in enumerate(self.lines) if one.how == "told" and self._starts(one)]
        rows = [plugs, fills, named["bleed"], named["start"], named["leak"]]
        for place, row in enumerate(rows):
            for behind in rows[place + 1 :]:
                yield from (Before(a, b, "filling") for a in row for b in behind if a != b)
        goes_on = {n for on in self.on for n in on}
        for start in named["start"]:
            procedure = self.lines[start].line.procedure
            there = self.book.procedures.get(procedure)
            whole = there is not None and bool(any_of(there.title, kinds["start"]))
            then = self.of[procedure][0] if whole else start
            inside = set(self.of[procedure]) if whole else {start}
            yield from (Before(n, then, "filling") for n in goes_on - inside)

    def _plug(self, one: Removed) -> bool:
        there = self.book.procedures.get(self.removal.get(one.off_by, ""))
        drained = there is not None and there.deed == "drain"
        return drained or bool(any_of(one.part, order_words()["plugs"]))

    def _fills(self, one: BackLine) -> bool:
        found = self.book.steps.get(one.line.step)
        return one.how == "told" and found is not None and "fill" in found[1].deeds

    def _does(self, one: BackLine, phrases: Iterable[str]) -> bool:
        return one.line.kind == "step" and bool(any_of(one.line.words, phrases))

    def _starts(self, one: BackLine) -> bool:
        """Whether a line runs the machine: "start the engine"; a screw that is started by hand is none."""
        kinds = order_words()
        names = {*kinds["machines"], *_WORD.findall(self.book.machine.name.casefold())}
        said = re.findall(rf"\b(?:{'|'.join(kinds['starts'])})\s+the\s+([a-z]+)", one.line.words.casefold())
        return self._does(one, kinds["start"]) or (one.line.kind == "step" and not names.isdisjoint(said))

    def inside(self) -> Iterator[Before]:
        """What a source says to sit inside, under or behind a part goes on before that part."""
        for inner, outer in inside_of(self.things, self.plan, self.book.machine):
            yield from self._each(self.on[inner], self.on[outer], "inside")

    def came_off(self) -> Iterator[Before]:
        """What a section takes off goes back before what had to be off for it; so does what is only checked
        while that is off."""
        for procedure, needed, at in self._needed_off():
            later = [n for n, one in enumerate(self.things) if self.removal.get(one.off_by) == needed]
            outer = [n for one in later for n in self.on[one]] + self._filled(needed)
            if at is None:
                inner = [n for n in self.of.get(procedure, ()) if self.lines[n].line.kind == "step"]
            else:
                inner = self._back_of(procedure, at)
            yield from self._each(inner, [n for n in outer if n not in inner], "came off first")

    def _back_of(self, procedure: str, at: int) -> list[int]:
        """The lines that put back what a section takes off from a line on; and what is put back with these in
        one section although it came off before: the screws of a half with the half."""
        own = [n for n, one in enumerate(self.things) if self.removal.get(one.off_by) == procedure]
        held = {n for one in own if self.apart[self.things[one].off_by] >= at for n in self.on[one]}
        sections = {self.lines[n].line.procedure for n in held if self.lines[n].how == "told"}
        beside = {
            n for one in own for n in self.on[one]
            if self.lines[n].how == "told" and self.lines[n].line.procedure in sections
        }  # fmt: skip
        return sorted(held | beside)

    def _filled(self, needed: str) -> list[int]:
        there = self.book.procedures[needed]
        return [n for n, one in enumerate(self.lines) if self._fills(one)] if there.deed == "drain" else []

    def _needed_off(self) -> Iterator[tuple[str, str, int | None]]:
        """Sections with those that must be done before: (section, the other, from which line of the plan on),
        None for a section of the way back."""
        first: dict[str, int] = {}
        for number, line in enumerate(self.plan.lines):
            first.setdefault(line.procedure, number)
            asks = self.apart.get(line.required_by.line)
            if line.required_by.because in ("set-up", "step", "part named", "question answered") and (
                asks is not None
            ):
                yield from self._if_off(self.plan.lines[asks].procedure, line.procedure, asks)
        for procedure in dict.fromkeys((*first, *self.of)):
            there = self.book.procedures.get(procedure)
            for reference, step in references(there) if there else ():
                if reference.role != "before":
                    continue
                at = first.get(procedure) if step is None else self.apart.get(step.id, first.get(procedure))
                for need in self.book.needs(reference):
                    if need.procedure in first:
                        yield from self._if_off(procedure, need.procedure, at)

    def _if_off(self, procedure: str, needed: str, at: int | None) -> Iterator[tuple[str, str, int | None]]:
        there, other = self.book.procedures.get(procedure), self.book.procedures.get(needed)
        if there is None or other is None or procedure == needed or other.deed in ON:
            return
        if there.deed not in ON and procedure in self.of and there.deed not in (*OFF, "drain"):
            yield procedure, needed, None
        if at is not None and there.deed not in ON:
            yield procedure, needed, at

    def follow_on(self) -> Iterator[Before]:
        """What a section names to be done after it."""
        for procedure, own in self.of.items():
            there = self.book.procedures.get(procedure)
            for reference in there.after if there else ():
                for need in self.book.needs(reference) if reference.role == "after" else ():
                    if need.procedure != procedure:
                        yield from self._each(own, self.of.get(need.procedure, ()), "follow-on")

    def _on(self, one: Removed) -> list[int]:
        """The lines that put a thing on, with those that tighten it right behind; of a whole section those
        that name it, else its last that puts something on."""
        there = [self.at[name] for name in one.on_by if name in self.at]
        found = [n for n in there if self.lines[n].line.kind == "step"]
        for n in there:
            if self.lines[n].line.kind == "opening" and not found:
                found = self._named_in(self.lines[n].line.procedure, one.part)
        # A step that only speaks of the thing ("look for leaks at the flange") puts nothing on.
        puts = [n for n in found if self.lines[n].how != "told" or self._deeds(n) & set(TOGETHER)]
        return sorted({m for n in puts or found for m in (n, *self._tightened_behind(n))})

    def _named_in(self, procedure: str, part: str) -> list[int]:
        own = [n for n in self.of.get(procedure, ()) if self.lines[n].line.kind == "step"]
        named = [
            n for n in own
            if any(same_part(part, name) for name in self.lines[n].parts)
            or speaks_of(self.lines[n].line.words, part)
        ]  # fmt: skip
        return named or [n for n in own if self._deeds(n) & set(ON)][-1:]

    def _deeds(self, number: int) -> set[str]:
        line = self.lines[number].line
        found = self.book.steps.get(line.step)
        return {m.deed for m in line.mentions} | set(found[1].deeds if found else ())

    def _tightened_behind(self, number: int) -> Iterator[int]:
        if self.lines[number].how != "told":
            return
        own = self.of[self.lines[number].line.procedure]
        for n in own[own.index(number) + 1 :]:
            deeds = self._deeds(n)
            if "tighten" not in deeds or deeds & set(ON):
                return
            yield n

    def _each(self, first: Iterable[int], then: Iterable[int], why: Why) -> Iterator[Before]:
        """The last of each section among the one before the first of each section among the other."""
        last = {self._key(n): n for n in sorted(first)}
        start = {self._key(n): n for n in sorted(then, reverse=True)}
        yield from (Before(a, b, why) for a in last.values() for b in start.values() if a != b)

    def _key(self, number: int) -> tuple[str, str]:
        one = self.lines[number]
        return (one.how, one.line.procedure) if one.how == "told" else (one.how, one.line.id)


def _row(numbers: Sequence[int], why: Why) -> Iterator[Before]:
    yield from (Before(a, b, why) for a, b in pairwise(numbers))


def _runs(lines: Sequence[BackLine]) -> Iterator[list[int]]:
    """Lines read the other way round that stand in one row."""
    run: list[int] = []
    for number, one in enumerate(lines):
        if one.how == "reversed" and (not run or run[-1] == number - 1):
            run.append(number)
        elif one.how == "reversed":
            yield run
            run = [number]
    if run:
        yield run
