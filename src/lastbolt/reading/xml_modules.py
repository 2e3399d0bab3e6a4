"""The modules of a publication by the keys that links call them by."""

import re
from collections.abc import Iterable

from lastbolt.reading.xml_drafts import Link, ModuleDraft

ANY = "*"
"""Stands in a key for a part that the link does not say."""


class ModuleIndex:
    """All modules in order, found by key; their keys differ."""

    def __init__(self, modules: Iterable[ModuleDraft]) -> None:
        self.modules = tuple(modules)
        self._by_key = {draft.key: draft for draft in self.modules}
        self._by_name: dict[str, list[ModuleDraft]] = {}
        for draft in self.modules:
            for name in dict.fromkeys((draft.key, *draft.names)):
                self._by_name.setdefault(name, []).append(draft)

    def by_key(self, key: str) -> ModuleDraft:
        """The module of that very key."""
        return self._by_key[key]

    def find(self, to: str) -> tuple[list[ModuleDraft], bool]:
        """The modules that a link's key can mean, and whether it says all parts of the key."""
        exact = self._by_name.get(to)
        if exact is not None:
            return exact, True
        if ANY not in to:
            return [], True
        pattern = re.compile("[^-]*".join(re.escape(part) for part in to.split(ANY)))
        return [draft for draft in self.modules if pattern.fullmatch(draft.key)], False

    def step_mark(self, link: Link) -> str | None:
        """The mark of the step that a link's fragment names, if it names one of that one module."""
        hits, _ = self.find(link.to)
        steps = [step for draft in hits for step in draft.steps if link.fragment in step.ids]
        return steps[0].mark if len(steps) == 1 else None
