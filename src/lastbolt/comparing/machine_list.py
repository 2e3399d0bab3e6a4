"""The machine's own list (the bill) beside the sum of what its assemblies need, and beside other lists."""

from collections.abc import Iterable, Iterator, Mapping, Sequence

from msgspec import Struct
from msgspec.structs import replace

from lastbolt.comparing.assemblies import Assemblies, Assembly, for_variant
from lastbolt.comparing.list_and_steps import sum_said
from lastbolt.comparing.part_names import bare_number, is_sized, same_size, tokens
from lastbolt.comparing.said import count_said
from lastbolt.comparing.uses import Sum, called, of_name, of_size, stands_for_another, summed, unsized
from lastbolt.words.compared import Finding, Side, Term, Verdict
from lastbolt.words.machine import EVERY, ListedPart, PartsRow


class Bill(Struct, frozen=True):
    """The rows of a source that lists the whole machine: it has no figures."""

    title: str
    rows: tuple[PartsRow, ...]

    def variants(self) -> tuple[str, ...]:
        """The variants that it counts apart."""
        return tuple(dict.fromkeys(v for row in self.rows for v in row.applies.variants))


def bills(rows: Iterable[PartsRow], titles: Mapping[str, str]) -> list[Bill]:
    """One for each source whose rows stand under no figure."""
    by_source: dict[str, list[PartsRow]] = {}
    for row in rows:
        by_source.setdefault(row.source, []).append(row)
    return [
        Bill(titles.get(source, source), tuple(some))
        for source, some in by_source.items()
        if not any(row.figure for row in some)
    ]


def one_part(row: PartsRow, part: ListedPart | PartsRow) -> bool:
    """Whether two lines are surely one part: by number where both have one, else by size, else by name."""
    numbers = bare_number(row.part_number), bare_number(part.part_number)
    if all(numbers):
        return numbers[0] == numbers[1]
    if is_sized(row.kind) or is_sized(part.kind):
        return same_size(row.kind, part.kind)
    return bool(tokens(row.name)) and tokens(row.name) == tokens(part.name)


def paired_variants(ours: Sequence[str], theirs: Sequence[str]) -> dict[str, str]:
    """The list's variant for each of the bill's: by name; the one left over on each side is taken for one.

    >>> paired_variants(("standard", "XL"), ("express", "xl"))
    {'XL': 'xl', 'standard': 'express'}
    """
    found = {a: b for a in ours for b in theirs if a.casefold() == b.casefold()}
    left = [a for a in ours if a not in found]
    free = [b for b in theirs if b not in found.values()]
    if len(left) == len(free) == 1 and found:
        found[left[0]] = free[0]
    return found


def bill_and_assemblies(bill: Bill, manual: Assemblies) -> Iterator[Finding]:
    """Each row of the bill that an assembly's list or its steps name, with the sum term by term."""
    theirs = tuple(dict.fromkeys(v for assembly in manual.every for v in assembly.variants()))
    pairs = paired_variants(bill.variants(), theirs)
    for row in bill.rows:
        for variant in _asked(row, bill, manual, pairs):
            total = _needed(row, manual, pairs.get(variant, variant), bill)
            if total is not None:
                yield _finding(row, bill, total, variant, pairs)


def _asked(row: PartsRow, bill: Bill, manual: Assemblies, pairs: Mapping[str, str]) -> tuple[str, ...]:
    """The variants for which a row is compared: its own; all where only the assemblies tell them apart."""
    if row.applies.variants:
        return row.applies.variants
    split = any(
        one_part(row, entry) and entry.applies.variants for one in manual.every for entry in one.entries
    )
    return tuple(pairs) if split and pairs else ("",)


class _Needed(Struct):
    terms: list[Term]
    open: list[str]
    disputed: list[str]
    by_steps: int = 0
    """What the steps that contradict a list would add to the sum."""
    listed: int = 0
    """How many lists name it."""

    @property
    def total(self) -> int:
        return sum((term.count or 0) * term.times for term in self.terms if not term.left_out)

    @property
    def least(self) -> int:
        return self.total + sum(term.least for term in self.terms if not term.left_out)


def _needed(row: PartsRow, manual: Assemblies, variant: str, bill: Bill) -> _Needed | None:
    found = _Needed([], [], [])
    for assembly in manual.every:
        times = manual.times(assembly, variant)
        entries = [e for e in assembly.entries if one_part(row, e) and for_variant(e, variant)]
        if entries:
            found.listed += 1
            for entry in entries:
                _add_entry(found, entry, assembly, times)
        else:
            _add_steps(found, row, assembly, times)
    if all(term.left_out for term in found.terms):
        return None
    if is_sized(row.kind):
        loose = [(a, u) for a in manual.every for u in unsized(a.uses, row.name) if u.count is not None]
        if loose and not found.open and found.total < (row.quantity.low or 0):
            found.open.append(f"{called(loose[0][1].procedure, loose[0][1].step)} names no size")
    return found


def _add_entry(found: _Needed, entry: ListedPart, assembly: Assembly, times: int) -> None:
    exact = entry.quantity.low if entry.quantity.kind == "exactly" else None
    title = f"{assembly.title}, its list"
    if exact is None:
        found.open.append(f"{title}, gives no plain number")
    found.terms.append(Term(title, exact, times, count_said(entry.quantity), citations=entry.citations))
    some = of_size(assembly.uses, entry.kind) if entry.kind and is_sized(entry.kind) else []
    steps = summed(some, assembly.procedures) if some else None
    if steps is not None and exact is not None and _steps_differ(steps, exact):
        found.by_steps += (steps.total - exact) * times
        found.disputed.append(f"{assembly.title} (list {exact}, steps {sum_said(steps.terms, steps.open)})")


def _steps_differ(steps: Sum, listed: int) -> bool:
    return steps.least > listed or (not steps.open and steps.total != listed)


def _add_steps(found: _Needed, row: PartsRow, assembly: Assembly, times: int) -> None:
    """What an assembly needs by its steps alone: it has no list, or its list lacks the part."""
    sized = row.kind is not None and is_sized(row.kind)
    some = of_size(assembly.uses, row.kind) if sized and row.kind else of_name(assembly.uses, row.name)
    if not some:
        return
    steps = summed(some, assembly.procedures)
    for term in steps.terms:
        least = term.least if sized else 0
        found.terms.append(replace(term, times=times, least=least))
    if sized:
        found.open += steps.open
    elif found.total != row.quantity.low:
        found.open.append("the steps may speak of the same pieces twice, or not of all")


def _finding(row: PartsRow, bill: Bill, needed: _Needed, variant: str, pairs: Mapping[str, str]) -> Finding:
    listed = row.quantity.low if row.quantity.kind == "exactly" else None
    terms, open_ = tuple(needed.terms), tuple(dict.fromkeys(needed.open))
    cited = tuple(one for term in terms for one in term.citations)
    sides = (
        Side(bill.title, count_said(row.quantity).removesuffix(" x") or f'"{row.quantity.words}"',
             total=listed, citations=row.citations),
        Side("its assemblies", sum_said(terms, open_), terms, needed.total, bool(open_), cited),
    )  # fmt: skip
    verdict: Verdict = "agree"
    why = ""
    if listed is None:
        verdict, why = "not comparable", "The list of the machine gives no plain number."
    elif needed.least > listed:
        verdict = "disagree"
    elif open_:
        verdict, why = "not comparable", f"{'; '.join(open_)}."
    elif needed.total != listed and not is_sized(row.kind):
        verdict, why = "not comparable", "Steps without a list of their own may use the rest."
    elif needed.total != listed:
        verdict = "disagree"
    if needed.disputed:
        if verdict == "agree":
            verdict = "not comparable"
        disputed = "; ".join(needed.disputed)
        why = f"{why} The sum rests on a list that its own steps contradict: {disputed}.".strip()
        why += f" By the steps it would be {needed.total + needed.by_steps}{' and more' if open_ else ''}."
    other = pairs.get(variant, variant)
    engines = variant if other.casefold() == variant.casefold() else f'{variant}, taken for "{other}"'
    return Finding(verdict, "count", row.name, sides, why[:1].upper() + why[1:], "", engines)


def bill_and_figures(bill: Bill, rows: Sequence[PartsRow], title: str) -> Iterator[Finding]:
    """Each row of the bill whose part an illustrated list has, over all its figures, less alternatives."""
    for row in bill.rows:
        same = [other for other in rows if one_part(row, other) and _for_one(row, other)]
        if not same or row.quantity.kind != "exactly" or row.quantity.low is None:
            continue
        terms = tuple(_figure_term(other, same) for other in same)
        added = [term for term in terms if not term.left_out]
        open_ = tuple(f"{term.where} gives no plain number" for term in added if term.count is None)
        total = sum(term.count or 0 for term in added)
        cited = tuple(one for other in same for one in other.citations)
        sides = (
            Side(bill.title, str(row.quantity.low), total=row.quantity.low, citations=row.citations),
            Side(title, sum_said(terms, open_), terms, total, bool(open_), cited),
        )
        why = f"{'; '.join(open_)}." if open_ else ""
        if total > row.quantity.low or (not open_ and total != row.quantity.low and added):
            yield Finding("disagree", "count", row.name, sides, engines=", ".join(row.applies.variants))
        elif open_ or not added:
            yield Finding("not comparable", "count", row.name, sides, why or "Only alternatives are listed.")
        else:
            yield Finding("agree", "count", row.name, sides, engines=", ".join(row.applies.variants))


def _for_one(row: PartsRow, other: PartsRow) -> bool:
    """Whether one engine can have both rows."""
    ours, theirs = set(row.applies.variants), set(other.applies.variants)
    return not ours or not theirs or bool(ours & theirs)


def _figure_term(row: PartsRow, same: Sequence[PartsRow]) -> Term:
    where = f"figure {row.figure.rpartition('/')[2]}, item {row.item}" if row.item else f"figure {row.figure}"
    exact = row.quantity.low if row.quantity.kind == "exactly" and row.quantity.per != "assembly" else None
    twin = next(other for other in same if (other.figure, other.item) == (row.figure, row.item))
    left_out = ""
    if stands_for_another(f"{row.remarks} {row.name}"):
        left_out = "stands for another row"
    elif row.applies != EVERY:
        left_out = f"only for {row.applies.words or 'some engines'}"
    elif twin is not row and row.item:
        left_out = "the same item again: an alternative"
    return Term(where, exact, words=row.quantity.words, left_out=left_out, citations=row.citations)


def bill_and_bill(one: Bill, other: Bill) -> Iterator[Finding]:
    """Rows of two lists of the whole machine that are one part."""
    for row in one.rows:
        same = [
            r for r in other.rows if one_part(row, r) and set(r.applies.variants) == set(row.applies.variants)
        ]
        if len(same) != 1:
            continue
        twin = same[0]
        sides = tuple(
            Side(bill.title, count_said(r.quantity).removesuffix(" x") or f'"{r.quantity.words}"',
                 total=r.quantity.low, citations=r.citations)
            for bill, r in ((one, row), (other, twin))
        )  # fmt: skip
        exact = row.quantity.kind == twin.quantity.kind == "exactly"
        equal = (row.quantity.low, row.quantity.high) == (twin.quantity.low, twin.quantity.high)
        verdict: Verdict = "not comparable" if not exact else "agree" if equal else "disagree"
        why = "" if exact else "One of them gives no plain number."
        engines = ", ".join(row.applies.variants)
        yield Finding(verdict, "count", row.name, sides, why, engines=engines)
