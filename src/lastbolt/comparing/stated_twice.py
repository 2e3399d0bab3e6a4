"""Torques and limits of wear that two places state of one thing."""

import re
from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import combinations

from msgspec import Struct

from lastbolt.comparing.part_names import tokens
from lastbolt.comparing.said import limit_said, torques_said
from lastbolt.comparing.spoken import words
from lastbolt.comparing.uses import called
from lastbolt.words.citation import Citation
from lastbolt.words.compared import Finding, Matter, Side, Verdict
from lastbolt.words.machine import EVERY, Applies, Machine, Mention, TorqueRow, TorqueValue
from lastbolt.words.measured import Limit, Span

ROUNDED = 0.03
"""Two units printed by two hands differ by rounding up to this share (NIST SP 811, rounding of converted
values: the printed digits decide; common practice for torques, no source for the number)."""


class Torqued(Struct, frozen=True):
    """A torque and what it is for. `key`: the words of its name; `wide`: with those of what the procedure is
    done to, by which a bare "nuts" is looked up in a table."""

    place: str
    what: str
    key: frozenset[str]
    wide: frozenset[str]
    thread: str
    rows: tuple[str, ...]
    values: tuple[TorqueValue, ...]
    applies: Applies
    citations: tuple[Citation, ...]


def torques(machines: Sequence[tuple[str, Machine]]) -> Iterator[Finding]:
    """Every pair of places that state a torque of one fastener; `machines`: with what to call each."""
    stated = [one for name, machine in machines for one in _stated(name, machine)]
    for one, other in _pairs(stated):
        sure = _one_fastener(one, other)
        if sure is None or (one.place == other.place and one.rows):
            continue
        verdict, why = _torques_verdict(one, other)
        if verdict == "disagree" and not sure:
            verdict, why = "not comparable", "Only the name says that both are one fastener."
        sides = tuple(
            Side(each.place, torques_said(each.values), citations=each.citations) for each in (one, other)
        )
        yield Finding(verdict, "torque", one.what, sides, why)


def _pairs(stated: Sequence[Torqued]) -> Iterator[tuple[Torqued, Torqued]]:
    """Those that can be of one fastener, each pair once, in their order: by row or by name."""
    groups: dict[object, list[int]] = {}
    for number, one in enumerate(stated):
        for key in (one.rows or None, one.key):
            if key is not None:
                groups.setdefault(key, []).append(number)
    found = {pair for some in groups.values() for pair in combinations(some, 2)}
    tables = [number for number, one in enumerate(stated) if not one.rows and one.wide == one.key]
    for number, one in enumerate(stated):
        if one.rows or one.wide != one.key:
            near = (table for table in tables if one.key <= stated[table].key <= one.wide)
            found |= {(min(table, number), max(table, number)) for table in near}
    return ((stated[first], stated[second]) for first, second in sorted(found))


def _stated(name: str, machine: Machine) -> Iterator[Torqued]:
    at = f"{name}: " if name else ""
    yield from _of_tables(at, machine)
    for procedure in machine.procedures:
        parts = frozenset(token for part in procedure.parts for token in tokens(part))
        for step in procedure.steps:
            mention = _the_one(step.mentions)
            if not step.torques or mention is None:
                continue
            thread = (mention.kind.thread if mention.kind else "") or ""
            key = tokens(mention.name)
            yield Torqued(
                f"{at}{called(procedure, step)}", mention.name, key, key | parts, thread, mention.rows,
                step.torques, step.applies, step.citations,
            )  # fmt: skip


def _of_tables(at: str, machine: Machine) -> Iterator[Torqued]:
    """The rows of torque tables; those that differ in their stage alone are one fastener's stages."""
    stages: dict[tuple[str, frozenset[str], str], list[TorqueRow]] = {}
    for row in machine.torques:
        source = row.citations[0].source if row.citations else ""
        key = tokens(_stage().sub(" ", f"{row.what} {row.value.condition}"))
        stages.setdefault((source, key, row.thread or ""), []).append(row)
    for (_, key, thread), rows in stages.items():
        split = any(_stage().search(row.what) for row in rows)
        for some in [rows] if split else [[row] for row in rows]:
            values = tuple(row.value for row in some)
            cited = tuple(citation for row in some for citation in row.citations)
            place = f"{at}torque table: {some[0].what}"
            yield Torqued(place, some[0].what, key, key, thread, (), values, EVERY, cited)


@lru_cache(maxsize=1)
def _stage() -> re.Pattern[str]:
    named = "|".join(map(re.escape, words()["names"]["stage"]))
    return re.compile(rf"\b(?:{named})\s*\d+\b", re.IGNORECASE)


def _the_one(mentions: Sequence[Mention]) -> Mention | None:
    """The one fastener that a step tightens; None where it may be either of two."""
    turned = [one for one in mentions if one.kind is not None and one.deed in ("tighten", "install")]
    tightened = [one for one in turned if one.deed == "tighten"] or turned
    return tightened[0] if len({(one.name, one.kind) for one in tightened}) == 1 else None


def _tells(key: frozenset[str]) -> bool:
    """Whether a name says which fastener and not only which sort."""
    sorts = frozenset(words()["uses"]["fasteners"])
    return bool(key & sorts) and bool(key - sorts)


def _one_fastener(one: Torqued, other: Torqued) -> bool | None:
    """True: surely; False: by the name; None: they are not one, or nobody can tell."""
    if one.rows and other.rows:
        return True if set(one.rows) == set(other.rows) else None
    by_name = one.key == other.key and _tells(one.key)
    if not by_name and bool(one.rows or one.wide != one.key) != bool(other.rows or other.wide != other.key):
        table, step = (one, other) if one.wide == one.key else (other, one)
        by_name = _tells(table.key) and step.key <= table.key <= step.wide
    threads = {_bare(thread) for thread in (one.thread, other.thread) if thread}
    if not by_name or len(threads) > 1:
        return None
    return bool(one.thread and other.thread)


def _bare(thread: str) -> str:
    return thread.partition("x")[0] if thread.startswith("M") else thread


def _torques_verdict(one: Torqued, other: Torqued) -> tuple[Verdict, str]:
    if one.applies != other.applies:
        return "not comparable", "They are for different engines."
    if len(one.values) != len(other.values):
        return "not comparable", "One is in stages, the other is not told so."
    worst: Verdict = "agree"
    for a, b in zip(one.values, other.values, strict=True):
        if a.angle_deg != b.angle_deg:
            return "disagree", ""
        if a.torque_Nm is None or b.torque_Nm is None:
            if a.torque_Nm != b.torque_Nm or a.angle_deg is None:
                return "not comparable", "One of them gives no torque."
        elif not _fits(a, b):
            worst = "disagree"
    return worst, ""


def _fits(a: TorqueValue, b: TorqueValue) -> bool:
    """Whether two torques can both be true: equal, or one range in the other, or within what is limited."""
    assert a.torque_Nm is not None
    assert b.torque_Nm is not None
    slack = 0.0 if {unit for _, _, unit in a.printed} & {unit for _, _, unit in b.printed} else ROUNDED
    (low, high), (least, most) = a.torque_Nm, b.torque_Nm
    if a.limit or b.limit:
        if a.limit == b.limit:
            return abs(low - least) <= slack * most + 1e-6
        limit, value = (a, b) if a.limit else (b, a)
        bound = limit.torque_Nm[0] if limit.torque_Nm else 0.0
        assert value.torque_Nm is not None
        return (
            value.torque_Nm[1] <= bound * (1 + slack) + 1e-6
            if limit.limit == "at most"
            else value.torque_Nm[0] >= bound * (1 - slack) - 1e-6
        )
    inside = low >= least * (1 - slack) - 1e-6 and high <= most * (1 + slack) + 1e-6
    around = least >= low * (1 - slack) - 1e-6 and most <= high * (1 + slack) + 1e-6
    return inside or around


def limits(machines: Sequence[tuple[str, Machine]]) -> Iterator[Finding]:
    """Every pair of places that state a limit of one size of one part."""
    stated: list[tuple[str, Limit]] = []
    for name, machine in machines:
        at = f"{name}: " if name else ""
        stated += [(f"{at}table of limits", limit) for limit in machine.limits]
        stated += [
            (f"{at}{called(procedure, step)}", limit)
            for procedure in machine.procedures
            for step in procedure.steps
            for limit in step.limits
        ]
    by_size: dict[tuple[frozenset[str], frozenset[str]], list[tuple[str, Limit]]] = {}
    for place, limit in stated:
        if limit.part and limit.measure:
            by_size.setdefault((tokens(limit.part), tokens(limit.measure)), []).append((place, limit))
    for same in by_size.values():
        for (place, one), (where, other) in combinations(same, 2):
            yield from _limit_findings(place, one, where, other)


def _limit_findings(place: str, one: Limit, where: str, other: Limit) -> Iterator[Finding]:
    sides = (
        Side(place, limit_said(one), citations=one.citations),
        Side(where, limit_said(other), citations=other.citations),
    )
    pairs = [(one.limit, other.limit), (one.standard, other.standard)]
    both = [(a, b) for a, b in pairs if a is not None and b is not None]
    matter: Matter = "wear limit"
    if one.doubt or other.doubt:
        yield Finding(
            "not comparable", matter, one.what, sides, f"Read with a doubt: {one.doubt or other.doubt}."
        )
    elif not both:
        yield Finding(
            "not comparable", matter, one.what, sides, "One gives the size when new, the other the limit."
        )
    elif any(a.unit != b.unit for a, b in both):
        yield Finding(
            "not comparable", matter, one.what, sides, "Their units do not convert into each other."
        )
    else:
        same = all(_one_span(a, b) for a, b in both) and (
            one.sense == other.sense or not (one.sense and other.sense)
        )
        yield Finding("agree" if same else "disagree", matter, one.what, sides)


def _one_span(a: Span, b: Span) -> bool:
    """Equal to what a conversion from inches to four places leaves (0.00005 in = 0.00127 mm)."""
    ends = ((a.low, b.low), (a.high, b.high))
    return all((x is None or y is None) or abs(x - y) <= max(0.0013, 0.0005 * abs(x)) for x, y in ends)
