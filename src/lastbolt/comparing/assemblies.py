"""The assemblies of a manual: what their own lists say, and the steps that belong to them."""

from collections import defaultdict
from collections.abc import Sequence

from msgspec import Struct

from lastbolt.comparing.part_names import tokens
from lastbolt.comparing.spoken import words
from lastbolt.comparing.uses import Use, uses
from lastbolt.words.compared import Side
from lastbolt.words.machine import EVERY, ListedPart, Machine, Procedure


class Assembly(Struct, frozen=True):
    """One assembly. `entries` is empty where no list stands with its steps."""

    id: str
    title: str
    entries: tuple[ListedPart, ...]
    procedures: tuple[Procedure, ...]
    uses: tuple[Use, ...]

    def variants(self) -> tuple[str, ...]:
        """The variants that its list counts apart."""
        return tuple(dict.fromkeys(v for entry in self.entries for v in entry.applies.variants))


class Assemblies(Struct, frozen=True):
    """All assemblies of a manual in its order, and lists to which no step belongs."""

    every: tuple[Assembly, ...]
    unused: tuple[Side, ...]

    def times(self, assembly: Assembly, variant: str) -> int:
        """How many of it other assemblies' lists ask for ("Winch head subassembly, 2"); else one."""
        wanted = tokens(assembly.title)
        named = frozenset(words()["names"]["assembly"])
        for other in self.every:
            for entry in other.entries if other is not assembly else ():
                said = tokens(entry.name)
                counted = entry.quantity.low is not None and for_variant(entry, variant)
                if counted and said & named and said - named == wanted - named:
                    return entry.quantity.low or 1
        return 1


def for_variant(entry: ListedPart, variant: str) -> bool:
    """Whether an entry is for this variant, or for all."""
    return entry.applies == EVERY or not entry.applies.variants or variant in entry.applies.variants


def assemblies(machine: Machine) -> Assemblies:
    """The lists joined with the steps of their section; other procedures are assemblies without one."""
    by_section = {p.id.replace("/procedure/", "/section/"): p for p in machine.procedures}
    lists: dict[str, list[ListedPart]] = defaultdict(list)
    for entry in machine.components:
        lists[entry.assembly].append(entry)
    found: dict[str, Assembly] = {}
    unused: list[Side] = []
    for section, entries in lists.items():
        home, procedures = _home(section, machine, by_section)
        if not procedures:
            said = f"{len(entries)} lines, and no steps that belong to them"
            unused.append(Side(f"list of {entries[0].title}", said, citations=entries[0].citations))
            continue
        found[home] = _made(
            home, entries[0].title if home == section else _title(home, machine), entries, procedures
        )
    taken = {p.id for assembly in found.values() for p in assembly.procedures}
    for section, procedure in by_section.items():
        if procedure.id not in taken:
            found[section] = _made(section, procedure.title, (), (procedure,))
    order = {section: number for number, section in enumerate(by_section)}
    ranked = sorted(found.values(), key=lambda one: min(order[_section(p)] for p in one.procedures))
    return Assemblies(tuple(ranked), tuple(unused))


def _made(
    home: str, title: str, entries: Sequence[ListedPart], procedures: tuple[Procedure, ...]
) -> Assembly:
    return Assembly(home, title, tuple(entries), procedures, tuple(uses(procedures)))


def _home(
    section: str, machine: Machine, by_section: dict[str, Procedure]
) -> tuple[str, tuple[Procedure, ...]]:
    """The section whose steps the list belongs to: its own, or that above a section "Component list"."""
    if section in by_section:
        return section, (by_section[section],)
    parents = {one.id: one.parent for one in machine.sections}
    title = _title(section, machine).casefold().strip(" :")
    above = parents.get(section)
    if above is None or title not in words()["lists"]["titles"]:
        return section, ()
    if above in by_section:
        return above, (by_section[above],)
    below = tuple(procedure for one, procedure in by_section.items() if parents.get(one) == above)
    return above, below


def _title(section: str, machine: Machine) -> str:
    return next((one.title for one in machine.sections if one.id == section), "")


def _section(procedure: Procedure) -> str:
    return procedure.id.replace("/procedure/", "/section/")
