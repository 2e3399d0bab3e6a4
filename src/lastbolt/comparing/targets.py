"""The same source, section and step in both editions, whatever their files are called.

An id begins with its source's, which `lastbolt read` takes from the file's name; a new edition nearly
always comes under another name. So ids of the new edition are put into those of the old one first.
"""

from collections.abc import Iterable, Mapping

from lastbolt.comparing.pairing import Pair, by_keys, folded
from lastbolt.words.machine import Machine, Reference, Section, Source


class Targets:
    """What references lead to, by the ids of the old edition; `same`: new procedure -> the old one."""

    def __init__(self, old: Machine, new: Machine, same: Mapping[str, str]) -> None:
        self._same = {**_sections(section_pairs(old, new)), **same}
        self._sources = sources_by_new(old, new)
        self._owner_old = _owners(old)
        self._owner_new = _owners(new)

    def of_old(self, reference: Reference) -> tuple[str, ...]:
        """The old sections it leads to."""
        return tuple(self._owner_old.get(one, one) for one in reference.to)

    def of_new(self, reference: Reference) -> tuple[str, ...]:
        """The same for a new one, by the ids of the old edition where the section stood there."""
        owners = (self._owner_new.get(one, one) for one in reference.to)
        return tuple(self._same.get(one) or self._renamed(one) for one in owners)

    def _renamed(self, identity: str) -> str:
        source, slash, anchor = identity.partition("/")
        return f"{self._sources.get(source, source)}{slash}{anchor}"


def sources_by_new(old: Machine, new: Machine) -> dict[str, str]:
    """New source id -> the old source of which it is the new edition."""
    keys = (
        lambda source: source.id,
        lambda source: (source.role, folded(source.title), source.media_type),
        lambda source: (source.role, source.media_type),
        lambda source: source.role,
    )
    pairs = by_keys(old.sources, new.sources, keys, _identity)
    return {after.id: before.id for before, after in pairs if before is not None and after is not None}


def _identity(source: Source) -> str:
    return source.id


def _owners(machine: Machine) -> dict[str, str]:
    owned = {step.id: procedure.id for procedure in machine.procedures for step in procedure.steps}
    return {**owned, **{procedure.id: procedure.id for procedure in machine.procedures}}


def section_pairs(old: Machine, new: Machine) -> list[Pair[Section]]:
    """Every section with the one that it is in the other edition, in the new order."""
    keys = (
        lambda section: (section.number, folded(section.title)),
        lambda section: folded(section.title) or None,
        lambda section: section.number or None,
    )
    return by_keys(old.sections, new.sections, keys, lambda section: section.id)


def _sections(pairs: Iterable[Pair[Section]]) -> dict[str, str]:
    """New section -> the old one, where its title is the same."""
    return {
        after.id: before.id
        for before, after in pairs
        if before is not None and after is not None and folded(before.title) == folded(after.title)
    }
