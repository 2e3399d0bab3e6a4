"""The sources of one machine set against each other: counts with sums, sizes, torques, limits, names."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import combinations

from msgspec.structs import replace

from lastbolt.app.named_citations import with_titles
from lastbolt.app.steps_and_rows import steps_and_rows
from lastbolt.comparing.assemblies import Assemblies, assemblies
from lastbolt.comparing.list_and_steps import list_and_steps
from lastbolt.comparing.machine_list import (
    Bill,
    bill_and_assemblies,
    bill_and_bill,
    bill_and_figures,
    bills,
    one_part,
)
from lastbolt.comparing.name_matches import Named, alike, same_numbers
from lastbolt.comparing.stated_twice import limits, torques
from lastbolt.words.compared import COMPARED_SCHEMA, Compared, Finding, Match, Side
from lastbolt.words.machine import ListedPart, Machine, PartsRow

ORDER = ("disagree", "not comparable", "agree")


def compare_sources(machines: Sequence[Machine], labels: Sequence[str] = ()) -> Compared:
    """All that two places state of one thing, disagreements first.

    Several models are several readings of papers on one machine: each manual's assemblies are added up by
    themselves and set against every list. `labels`: what to call each model then; by its name if not given.
    """
    several = len(machines) > 1
    called = labels or [machine.name for machine in machines]
    named = [
        (label if several else "", with_titles(machine, _at(label if several else "", machine)))
        for label, machine in zip(called, machines, strict=True)
    ]
    manuals = [assemblies(machine) for _, machine in named]
    lists = [bill for name, machine in named for bill in bills(machine.rows, _at(name, machine))]
    findings: list[Finding] = []
    for (name, machine), manual in zip(named, manuals, strict=True):
        for assembly in manual.every:
            findings += list_and_steps(assembly)
        titles = _at(name, machine)
        findings += [_placed(one, titles) for one in (*steps_and_rows(machine), *_two_forms(machine))]
        for bill in lists:
            findings += bill_and_assemblies(bill, manual)
    for bill in lists:
        for title, rows in _illustrated(named):
            findings += bill_and_figures(bill, rows, title)
    for one, other in combinations(lists, 2):
        findings += bill_and_bill(one, other)
    findings += [*torques(named), *limits(named)]
    findings.sort(key=lambda one: ORDER.index(one.verdict))
    unused = tuple(one for manual in manuals for one in manual.unused)
    matches = tuple(_matches(manuals, lists, named))
    rest = _rest(lists, manuals, named)
    names = tuple(label if several else machine.name for label, machine in zip(called, machines, strict=True))
    return Compared(COMPARED_SCHEMA, names, tuple(findings), matches, rest, unused)


def _at(name: str, machine: Machine) -> dict[str, str]:
    """What people call each source; with what the model is called where several are compared."""
    return {
        source.id: f"{source.title} ({name})" if name and name != source.title else source.title
        for source in machine.sources
    }


def _illustrated(named: Iterable[tuple[str, Machine]]) -> Iterator[tuple[str, list[PartsRow]]]:
    """The rows that stand under figures, by source."""
    for name, machine in named:
        titles = _at(name, machine)
        for source in dict.fromkeys(row.source for row in machine.rows if row.figure):
            yield titles.get(source, source), [row for row in machine.rows if row.source == source]


def _two_forms(machine: Machine) -> Iterator[Finding]:
    """Rows that two sources give alike; where they differ, the reading has said so (LB-R12)."""
    told = {
        citation for problem in machine.problems if problem.code == "LB-R12" for citation in problem.citations
    }
    for row in machine.rows:
        sources = {citation.source: citation for citation in row.citations}
        if len(sources) < 2:
            continue
        differs = any(citation in told for citation in row.citations)
        sides = tuple(
            Side(source, citation.words, citations=(citation,)) for source, citation in sources.items()
        )
        what = f"figure {row.figure}, item {row.item}, {row.name}" if row.figure else row.name
        yield Finding("disagree" if differs else "agree", "two forms of one row", what, sides,
                      code="LB-R12" if differs else "")  # fmt: skip


def _placed(finding: Finding, titles: Mapping[str, str]) -> Finding:
    """The finding with its places called as people call the sources."""
    sides = tuple(replace(side, place=titles.get(side.place, side.place)) for side in finding.sides)
    return replace(finding, sides=sides)


def _matches(
    manuals: Iterable[Assemblies],
    lists: Sequence[Bill],
    named: Sequence[tuple[str, Machine]],
) -> Iterator[Match]:
    """Names in the assemblies' lists that no row of the machine's list bears, with what they may be there."""
    entries = [entry for manual in manuals for one in manual.every for entry in one.entries]
    for bill in lists:
        strangers = [entry for entry in entries if not any(one_part(row, entry) for row in bill.rows)]
        others = [_free(other, bill, entries) for other in _as_named(bill.rows, bill.title)]
        yield from alike(_as_named(strangers, ""), [other for other in others if other is not None])
    places = [(bill.title, bill.rows) for bill in lists] + [
        (t, tuple(rows)) for t, rows in _illustrated(named)
    ]
    for (title, rows), (other_title, other_rows) in combinations(places, 2):
        yield from same_numbers(_as_named(rows, title), _as_named(other_rows, other_title))


def _free(named: Named, bill: Bill, entries: Sequence[ListedPart]) -> Named | None:
    """A row of the machine's list that the assemblies do not use up under its own name."""
    rows = [row for row in bill.rows if row.name == named.name]
    same = [entry for entry in entries if any(one_part(row, entry) for row in rows)]
    if not same:
        return named
    used = _count(same)
    if used is None or named.count is None or used >= named.count:
        return None
    return replace(named, under_name=used)


def _as_named(parts: Iterable[ListedPart | PartsRow], place: str) -> list[Named]:
    """Each name once, with the sum of its counts where every line has one and no variants part them."""
    found: dict[tuple[str, str], list[ListedPart | PartsRow]] = {}
    for part in parts:
        found.setdefault((part.name.casefold().rstrip("s"), part.part_number), []).append(part)
    return [
        Named(
            place
            or f"list of {', '.join(dict.fromkeys(p.title for p in same if isinstance(p, ListedPart)))}",
            same[0].name,
            same[0].part_number,
            same[0].kind,
            _count(same),
            citations=tuple(citation for part in same for citation in part.citations[:1]),
        )
        for same in found.values()
    ]


def _count(same: Sequence[ListedPart | PartsRow]) -> int | None:
    counts = [part.quantity.low if part.quantity.kind == "exactly" else None for part in same]
    if None in counts or any(part.applies.variants for part in same):
        return None
    return sum(count for count in counts if count is not None)


def _rest(
    lists: Iterable[Bill],
    manuals: Sequence[Assemblies],
    named: Sequence[tuple[str, Machine]],
) -> tuple[str, ...]:
    """Rows of the machine's list that nothing else names, so that nothing checks them."""
    entries: list[ListedPart | PartsRow] = [
        e for manual in manuals for one in manual.every for e in one.entries
    ]
    entries += [row for _, rows in _illustrated(named) for row in rows]
    every = list(lists)
    rest: dict[str, None] = {}
    for bill in every:
        others = [row for other in every if other is not bill for row in other.rows]
        for row in bill.rows:
            if not any(one_part(row, entry) for entry in (*entries, *others)):
                rest[row.name] = None
    return tuple(rest)
