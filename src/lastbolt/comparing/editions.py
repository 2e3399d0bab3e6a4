"""The differences between two editions: sections, steps, torques, counts, references, warnings, lists, limits
of wear, the words of sections without a procedure, consumables, special tools, legends.

Torques come first, then the rest in the order of the new edition.
"""

import re
from collections.abc import Iterable, Iterator

from msgspec.structs import replace

from lastbolt.comparing.facts import facts
from lastbolt.comparing.pairing import folded, procedures, steps
from lastbolt.comparing.resting import Resting
from lastbolt.comparing.said import count_said, engines_said, limit_said, torques_said
from lastbolt.comparing.tables import called_step, fastener_rows, listed_parts, parts_rows, torque_rows
from lastbolt.comparing.targets import Targets
from lastbolt.comparing.texts import changed_sentences, texts
from lastbolt.words.changes import CHANGES_SCHEMA, FIRST, About, Change, Changes
from lastbolt.words.machine import Caution, Machine, Procedure, Reference, Step

_NUMBER = re.compile(r"\d")


def compare(old: Machine, new: Machine) -> Changes:
    """Every difference that a person at the bench would want to know of."""
    changes: list[Change] = []
    renumbered: list[tuple[str, str]] = []
    numbers = {p.id: p.number for p in old.procedures}
    pairs = procedures(old.procedures, new.procedures)
    same = {after.id: before.id for before, after in pairs if before is not None and after is not None}
    targets, resting = Targets(old, new, same), Resting(old)
    for before, after in pairs:
        found = list(_procedure(before, after, targets))
        changes += found
        if before is not None and after is not None and numbers[before.id] != after.number and not found:
            renumbered.append((before.number, after.number))
    rows, moved = parts_rows(old.rows, new.rows, resting)
    changes += rows
    changes += fastener_rows(old.bolt_rows, new.bolt_rows, resting)
    changes += listed_parts(old.components, new.components)
    changes += torque_rows(old.torques, new.torques, resting)
    changes += facts(old, new, resting)
    changes += texts(old, new, resting)
    changes.sort(key=lambda change: FIRST.index(change.about) if change.about in FIRST else len(FIRST))
    return Changes(CHANGES_SCHEMA, _called(old), _called(new), tuple(changes), (*renumbered, *moved))


def _called(machine: Machine) -> str:
    editions = [source.edition for source in machine.sources if source.edition]
    return f"{machine.name} ({', '.join(editions)})" if editions else machine.name


def _procedure(before: Procedure | None, after: Procedure | None, targets: Targets) -> Iterator[Change]:
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
        yield where.changed("limits", name, engines_said(before.applies), engines_said(after.applies))
    yield from _warnings(where, name, before.cautions, after.cautions)
    for was, now in changed_sentences(before.text, after.text):
        yield where.changed("text", name, was, now)
    yield from _entries(where, "tool", name, before.tools, after.tools)
    yield from _entries(where, "consumable", name, before.materials, after.materials)
    yield from _references(where, f"{name}: set-up", before.before, after.before, targets)
    yield from _references(where, f"{name}: follow-on", before.after, after.after, targets)
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


def _step(section: str, before: Step | None, after: Step | None, targets: Targets) -> Iterator[Change]:
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
        *_value(where, what, "torque", torques_said(before.torques), torques_said(after.torques)),
        *_value(where, what, "quantity", _counts(before), _counts(after)),
        *_references(where, what, before.references, after.references, targets),
        *_value(where, what, "limits", _limits(before), _limits(after)),
        *_value(where, what, "wear limit", _worn(before), _worn(after)),
    ]
    was, now = _words(before), _words(after)
    if folded(was) != folded(now) and (not found or _rest(before) != _rest(after)):
        found.append(where.changed("step", what, was, now))
    yield from found
    yield from _warnings(where, what, before.cautions, after.cautions)


def _words(step: Step) -> str:
    """What a step says, with what the other columns of its row say."""
    return f"{step.words} {step.beside}".strip()


def _rest(step: Step) -> list[str]:
    """The words less the numbers that its torques, counts, limits and pointers are told by; also less words
    that were read as counts ("twelve")."""
    told = [torques_said(step.torques), _counts(step), _worn(step)]
    told += [one.words for some in (step.torques, step.limits, step.references) for one in some]
    known = {word for word in folded(" ".join(told)).split() if _NUMBER.search(word)}
    for mention in step.mentions:
        if mention.quantity.words not in mention.name:
            known.update(folded(mention.quantity.words).split())
    return [word for word in folded(_words(step)).split() if word not in known]


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


def _entries(
    where: _Where, about: About, what: str, was: Iterable[str], now: Iterable[str]
) -> Iterator[Change]:
    """Entries of a list that are new or gone."""
    before, after = ({folded(one): one for one in some} for some in (was, now))
    for key, said in after.items():
        if key not in before:
            yield where.changed(about, what, "", said)
    for key, said in before.items():
        if key not in after:
            yield where.changed(about, what, said, "")


def _references(
    where: _Where, what: str, was: Iterable[Reference], now: Iterable[Reference], targets: Targets
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


def _section(procedure: Procedure) -> str:
    return f"{procedure.number} {procedure.title}".strip()


def _called_step(section: str, step: Step) -> str:
    return called_step(section.split(" ", 1)[0], step)


def _counts(step: Step) -> str:
    """Counts and sizes of the parts a step acts on."""
    said = []
    for mention in step.mentions:
        count = count_said(mention.quantity)
        size = mention.kind.words() if mention.kind and mention.kind.thread else ""
        if count or size:
            said.append(" ".join(part for part in (count, size or mention.name.casefold()) if part))
    return ", ".join(said)


def _worn(step: Step) -> str:
    """The limits of wear that a step states."""
    return "; ".join(f"{one.what}: {limit_said(one)}" for one in step.limits)


def _limits(step: Step) -> str:
    return "; ".join(
        part
        for part in (
            f"if {step.condition}" if step.condition else "",
            engines_said(step.applies),
            "left-hand thread" if step.left_hand else "",
            f"locked by {', '.join(step.locks)}" if step.locks else "",
            f"new: {', '.join(step.renew)}" if step.renew else "",
        )
        if part
    )
