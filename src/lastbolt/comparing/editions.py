"""The differences between two editions: sections, steps, torques, counts, references, warnings, lists."""

import re
from collections.abc import Iterable, Iterator

from msgspec.structs import replace

from lastbolt.comparing.pairing import by_keys, folded, procedures, steps
from lastbolt.words.changes import CHANGES_SCHEMA, About, Change, Changes
from lastbolt.words.machine import (
    Applies,
    Caution,
    Machine,
    PartsRow,
    Procedure,
    Reference,
    Step,
    TorqueRow,
    TorqueValue,
)
from lastbolt.words.quantity import Quantity

_NUMBER = re.compile(r"\S*\d\S*\s?")


def compare(old: Machine, new: Machine) -> Changes:
    """Every difference that a person at the bench would want to know of."""
    changes: list[Change] = []
    renumbered: list[tuple[str, str]] = []
    numbers = {p.id: p.number for p in old.procedures}
    pairs = procedures(old.procedures, new.procedures)
    same = {after.id: before.id for before, after in pairs if before is not None and after is not None}
    for before, after in pairs:
        found = list(_procedure(before, after, _Targets(old, new, same)))
        changes += found
        if before is not None and after is not None and numbers[before.id] != after.number and not found:
            renumbered.append((before.number, after.number))
    changes += _rows(old.rows, new.rows)
    changes += _torque_table(old.torques, new.torques)
    return Changes(CHANGES_SCHEMA, _called(old), _called(new), tuple(changes), tuple(renumbered))


class _Targets:
    """What references lead to, so that the same section under a new number is no difference."""

    def __init__(self, old: Machine, new: Machine, same: dict[str, str]) -> None:
        self.same = same
        owner = {s.id: p.id for p in new.procedures for s in p.steps}
        self.owner = {**owner, **{p.id: p.id for p in new.procedures}}
        mine = {s.id: p.id for p in old.procedures for s in p.steps}
        self.mine = {**mine, **{p.id: p.id for p in old.procedures}}

    def of_old(self, reference: Reference) -> tuple[str, ...]:
        """The old sections it leads to."""
        return tuple(self.mine.get(one, one) for one in reference.to)

    def of_new(self, reference: Reference) -> tuple[str, ...]:
        """The same for a new one, by the ids of the old edition where the section stood there."""
        owners = [self.owner.get(one, one) for one in reference.to]
        return tuple(self.same.get(one, one) for one in owners)


def _called(machine: Machine) -> str:
    editions = [source.edition for source in machine.sources if source.edition]
    return f"{machine.name} ({', '.join(editions)})" if editions else machine.name


def _procedure(before: Procedure | None, after: Procedure | None, targets: _Targets) -> Iterator[Change]:
    if after is None:
        assert before is not None
        name = _section(before)
        yield Change("gone", "section", name, section=name, old=before.id, was_at=before.citations)
        return
    name = _section(after)
    if before is None:
        yield Change("new", "section", name, section=name, new=after.id, now_at=after.citations)
        return
    where = _Where(name, before, after)
    if folded(before.title) != folded(after.title):
        yield where.changed("section", f"{name}: title", before.title, after.title)
    if before.applies != after.applies:
        yield where.changed("limits", name, _engines(before.applies), _engines(after.applies))
    yield from _warnings(where, name, before.cautions, after.cautions)
    for kind, was, now in (
        ("set-up", before.before, after.before),
        ("follow-on", before.after, after.after),
    ):
        yield from _references(where, f"{name}: {kind}", was, now, targets)
    for one, other in steps(before.steps, after.steps):
        for change in _step(name, one, other, targets):
            yield change if change.old else replace(change, within=before.id)


class _Where:
    """Section, ids and pages that the changes of one pair share."""

    def __init__(self, section: str, before: Procedure | Step, after: Procedure | Step) -> None:
        self.section = section
        self.before = before
        self.after = after

    def changed(self, about: About, what: str, was: str, now: str) -> Change:
        """One change of it; empty words on one side make it new or gone."""
        return Change(
            "new" if not was else "gone" if not now else "changed",
            about,
            what,
            was,
            now,
            self.section,
            self.before.id,
            self.after.id,
            self.before.citations,
            self.after.citations,
        )


def _step(section: str, before: Step | None, after: Step | None, targets: _Targets) -> Iterator[Change]:
    if after is None:
        assert before is not None
        yield Change(
            "gone", "step", _called_step(section, before), was=before.words, section=section,
            old=before.id, was_at=before.citations,
        )  # fmt: skip
        return
    what = _called_step(section, after)
    if before is None:
        yield Change(
            "new", "step", what, now=after.words, section=section, new=after.id, now_at=after.citations
        )
        return
    where = _Where(section, before, after)
    found = [
        *_value(where, what, "torque", _torques(before.torques), _torques(after.torques)),
        *_value(where, what, "quantity", _counts(before), _counts(after)),
        *_references(where, what, before.references, after.references, targets),
        *_value(where, what, "limits", _limits(before), _limits(after)),
    ]
    was, now = folded(before.words), folded(after.words)
    if was != now and (not found or _NUMBER.sub("", was) != _NUMBER.sub("", now)):
        found.append(where.changed("step", what, before.words, after.words))
    yield from found
    yield from _warnings(where, what, before.cautions, after.cautions)


def _value(where: _Where, what: str, about: About, was: str, now: str) -> Iterator[Change]:
    if was != now:
        yield where.changed(about, what, was, now)


def _warnings(where: _Where, what: str, was: Iterable[Caution], now: Iterable[Caution]) -> Iterator[Change]:
    before = {(c.signal, folded(c.words)): f"{c.signal}: {c.words}" for c in was}
    after = {(c.signal, folded(c.words)): f"{c.signal}: {c.words}" for c in now}
    for words, said in after.items():
        if words not in before:
            yield where.changed("warning", what, "", said)
    for words, said in before.items():
        if words not in after:
            yield where.changed("warning", what, said, "")


def _references(
    where: _Where, what: str, was: Iterable[Reference], now: Iterable[Reference], targets: _Targets
) -> Iterator[Change]:
    """What is asked for newly, or no more. A reference is the same when it leads to the same section."""
    before = {_meant(one, targets.of_old(one)): one for one in was}
    after = {_meant(one, targets.of_new(one)): one for one in now}
    for key, one in after.items():
        if key not in before:
            yield where.changed("reference", what, "", one.words)
    for key, one in before.items():
        if key not in after:
            yield where.changed("reference", what, one.words, "")


def _meant(reference: Reference, to: tuple[str, ...]) -> tuple[object, ...]:
    to_words = () if to else (folded(reference.words),)
    steps_ = (reference.from_step, reference.to_step)
    return reference.role, to, to_words, steps_, folded(reference.condition), reference.applies


def _rows(old: tuple[PartsRow, ...], new: tuple[PartsRow, ...]) -> Iterator[Change]:
    keys = (
        lambda row: (row.figure, row.item, row.part_number, row.applies.words),
        lambda row: (row.figure, row.item, folded(row.name)),
        lambda row: (row.figure, row.item),
        lambda row: (row.figure, row.part_number) if row.part_number else None,
    )
    for before, after in by_keys(old, new, keys, lambda row: row.id):
        one = after or before
        assert one is not None
        section = f"figure {one.figure}"
        what = f"{section} item {one.item}, {one.name}"
        if after is None or before is None:
            words = _row_words(one)
            yield Change(
                "new" if before is None else "gone", "parts row", what,
                was=_row_words(before) if before else "", now=words if after else "", section=section,
                old=before.id if before else "", new=after.id if after else "",
                was_at=before.citations if before else (), now_at=after.citations if after else (),
            )  # fmt: skip
        elif _row_words(before) != _row_words(after):
            yield Change(
                "changed", "parts row", what, _row_words(before), _row_words(after), section,
                before.id, after.id, before.citations, after.citations,
            )  # fmt: skip


def _torque_table(old: tuple[TorqueRow, ...], new: tuple[TorqueRow, ...]) -> Iterator[Change]:
    keys = (lambda row: (folded(row.what), row.thread), lambda row: folded(row.what))
    for before, after in by_keys(old, new, keys, lambda row: row.id):
        one = after or before
        assert one is not None
        was, now = _torque_row(before), _torque_row(after)
        if was != now:
            yield Change(
                "new" if before is None else "gone" if after is None else "changed",
                "torque table", one.what, was, now, "torque table",
                before.id if before else "", after.id if after else "",
                before.citations if before else (), after.citations if after else (),
            )  # fmt: skip


def _section(procedure: Procedure) -> str:
    return f"{procedure.number} {procedure.title}".strip()


def _called_step(section: str, step: Step) -> str:
    number = section.split(" ", 1)[0]
    return f"{number} step {step.mark}" if step.mark else f"{number}, a step without a number"


def _torques(values: Iterable[TorqueValue]) -> str:
    said = []
    for value in values:
        printed = "/".join(
            f"{value.limit} {low:g} {unit}".lstrip() if low == high else f"{low:g} to {high:g} {unit}"
            for low, high, unit in value.printed
        )
        angle = f"{value.angle_deg:g}°" if value.angle_deg is not None else ""
        said.append(" + ".join(part for part in (printed, angle) if part))
    return ", then ".join(said)


def _torque_row(row: TorqueRow | None) -> str:
    if row is None:
        return ""
    return " for ".join(part for part in (_torques((row.value,)), row.thread) if part)


def _counts(step: Step) -> str:
    """Counts and sizes of the parts a step acts on."""
    said = []
    for mention in step.mentions:
        count = _count(mention.quantity)
        size = mention.kind.words() if mention.kind and mention.kind.thread else ""
        if count or size:
            said.append(" ".join(part for part in (count, size or mention.name.casefold()) if part))
    return ", ".join(said)


def _count(quantity: Quantity) -> str:
    if quantity.low is None:
        return "" if quantity.kind == "unsaid" else quantity.kind
    high = "" if quantity.high in (None, quantity.low) else f" to {quantity.high}"
    return f"{quantity.low}{high} x"


def _limits(step: Step) -> str:
    return "; ".join(
        part
        for part in (
            f"if {step.condition}" if step.condition else "",
            _engines(step.applies),
            "left-hand thread" if step.left_hand else "",
            f"locked by {', '.join(step.locks)}" if step.locks else "",
            f"new: {', '.join(step.renew)}" if step.renew else "",
        )
        if part
    )


def _engines(applies: Applies) -> str:
    if applies == Applies():
        return ""
    serials = [str(one) for one in (applies.from_serial, applies.to_serial) if one is not None]
    return " ".join(part for part in (", ".join(applies.variants), " to ".join(serials)) if part) or (
        applies.words
    )


def _row_words(row: PartsRow) -> str:
    count = _count(row.quantity) or "no count"
    size = row.kind.words() if row.kind and row.kind.thread else ""
    engines = _engines(row.applies)
    parts = (f"{count} {row.name}".strip(), row.part_number, size, f"for {engines}" if engines else "")
    return ", ".join(part for part in parts if part)
