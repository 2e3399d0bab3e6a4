# ruff: noqa: E501
"""Builds a book from a seed and a lexicon; pointers of every kind are dealt out over the procedures."""

from __future__ import annotations

import random

from styles.content import (
    TORQUE_BY_THREAD,
    Book,
    Component,
    Limit,
    PartsFigure,
    Ref,
    Section,
    Slot,
    Step,
    Torque,
    make_component,
)
from styles.lexicon import Lexicon

HAND = {
    "section": 10, "page": 4, "title": 4, "chapter": 2, "range": 2, "list": 3, "any_of": 3, "steps": 3,
    "repeat": 2, "figure": 5, "table": 4, "other_book": 2, "variant": 3, "serial": 3, "condition": 3, "self": 1,
    "words": 3, "dangling": 3,
}  # fmt: skip
"""How many pointers of each kind a book gets in its steps; set-up blocks and reversals come on top."""


class Builder:
    """One book in the making."""

    def __init__(self, seed: str, lexicon: Lexicon, swap: dict[str, str], nested: bool) -> None:
        self.rng = random.Random(seed)
        self.lexicon = lexicon
        self.swap = swap
        self.nested = nested
        self.components: dict[str, Component] = {}
        self.names: dict[str, str] = {}
        self.procedures: list[Section] = []

    def book(self) -> Book:
        """The whole book."""
        chapters = [self._general()]
        for number, (assembly, things) in enumerate(self.lexicon.assemblies, 1):
            chapter = Section(f"ch{number}", "group", "", assembly, 1)
            chapter.text = [self.rng.choice(self.lexicon.text)]
            for index, (name, inner) in enumerate(things, 1):
                key = f"c{number}_{index}"
                self.components[key] = make_component(key, name, inner, self.rng, self.lexicon)
                self.names[key] = name
                self._component(chapter, self.components[key])
            chapters.append(chapter)
        self._prerequisites()
        self._deal()
        self._tables(chapters[0])
        return Book(self.lexicon.machine, chapters, self._parts())

    def _general(self) -> Section:
        title, about, torques, limits = self.lexicon.general
        chapter = Section("ch0", "group", "", title, 1)
        chapter.children = [
            Section("about", "text", "", about, 2, "ch0", text=list(self.rng.sample(self.lexicon.text, 2))),
            Section("torques", "torques", "", torques, 2, "ch0"),
            Section("limits", "limits", "", limits, 2, "ch0"),
        ]
        return chapter

    def _component(self, chapter: Section, part: Component) -> None:
        group, level = chapter, 2
        if self.nested:
            group, level = Section(part.key, "group", "", part.name, 2, chapter.key), 3
            chapter.children.append(group)
        actions = [
            "remove",
            *self.rng.choice((["dismantle", "inspect"], ["inspect"], [])),
        ]
        if "dismantle" in actions:
            actions.append("assemble")
        actions.append("install")
        for action in actions:
            made = Section(f"{part.key}_{action}", "procedure", action, part.name, level, group.key)
            made.steps = self._steps(part, action)
            made.figure = action in ("remove", "dismantle")
            if action in ("remove", "install"):
                made.tools = self.rng.sample(self.lexicon.tools, k=self.rng.choice((0, 1, 2)))
            group.children.append(made)
            self.procedures.append(made)

    def _steps(self, part: Component, action: str) -> list[Step]:
        lexicon, rng = self.lexicon, self.rng
        pool = {"remove": lexicon.remove, "dismantle": lexicon.remove, "inspect": lexicon.inspect}
        templates = pool.get(action, lexicon.install)
        most = {"inspect": 4}.get(action, 8)
        chosen = rng.sample(templates, k=min(len(templates), rng.randint(3, most)))
        steps = [self.fill(template, part) for template in chosen]
        if action != "inspect" and rng.random() < 0.5:
            off = action in ("remove", "dismantle")
            lead, subs = rng.choice(lexicon.opening if off else lexicon.closing)
            group = self.fill(lead, part)
            group.children = [self.fill(sub, part) for sub in subs]
            steps.insert(rng.randint(0, len(steps)), group)
        for step in steps:
            if rng.random() < 0.16:
                step.cautions.append(rng.choice(lexicon.cautions))
        return steps

    def fill(self, template: str, part: Component, more: dict[str, Slot] | None = None) -> Step:
        """The sentence with its slots filled from the component."""
        rng = self.rng
        fast = rng.choice(part.fasteners)
        low = round(rng.uniform(4, 60), 2)
        measure = rng.choice(self.lexicon.measures)
        limit = Limit(measure, low, round(low + 0.02, 2), round(low - rng.choice((0.05, 0.08, 0.12)), 2))
        slots: dict[str, Slot] = {
            "fast": fast, "torque": fast.torque, "part": f"the {part.name}", "inner": f"the {rng.choice(part.inner)}",
            "seal": f"the {part.seal}", "seal1": part.seal, "tool": rng.choice(self.lexicon.tools),
            "measure": measure, "limit": limit, "Limit": limit, **(more or {}),
        }  # fmt: skip
        return Step(template, {name: value for name, value in slots.items() if "{" + name + "}" in template})

    def _others(
        self, section: Section, actions: tuple[str, ...] = ("remove",), least: int = 0
    ) -> list[Section]:
        mine = section.key.rsplit("_", 1)[0]
        return [
            one for one in self.procedures
            if one.action in actions and not one.key.startswith(mine + "_") and len(one.steps) >= least
        ]  # fmt: skip

    def _prerequisites(self) -> None:
        """Set-up blocks: what must be off before a removal starts, and what goes on after an installation."""
        for section in self.procedures:
            if section.action not in ("remove", "install") or self.rng.random() < 0.45:
                continue
            for target in self.rng.sample(self._others(section), k=self.rng.choice((1, 1, 2))):
                if section.action == "remove":
                    kind = self.swap.get("section", "section")
                    other = self.rng.choice(self._others(section))
                    if self.rng.random() < 0.2 and other.key != target.key:
                        ref = Ref(self.swap.get("any_of", "any_of"), (target.key, other.key), role="before")
                    elif self.rng.random() < 0.15:
                        ref = Ref("words", (target.key,), role="before")
                    else:
                        ref = Ref(kind, (target.key,), role="before")
                    section.before.append(
                        Step("{Part2} removed{ref}", {"Part2": _cap(target.thing), "ref": ref})
                    )
                else:
                    key = target.key.replace("_remove", "_install")
                    ref = Ref(self.swap.get("section", "section"), (key,), role="after")
                    section.after.append(
                        Step("Install the {part2}{ref}.", {"part2": target.thing, "ref": ref})
                    )
            if section.before and self.rng.random() < 0.6:
                section.before.insert(0, Step(self.rng.choice(self.lexicon.decoys)))

    def _deal(self) -> None:
        hand = [kind for kind, count in HAND.items() for _ in range(count)]
        self.rng.shuffle(hand)
        for section in self.procedures:
            if section.action == "install" and self.rng.random() < 0.4:
                template = self.rng.choice(self.lexicon.refs["reverse"])
                target = section.key.replace("_install", "_remove")
                step = self.fill(template, self.components[section.key.rsplit("_", 1)[0]])
                step.slots[""] = Ref("reverse", (target,), role="reverse of")
                if self.rng.random() < 0.6:
                    section.lead.append(step)
                else:
                    section.steps.insert(0, step)
        able = [one for one in self.procedures if one.action != "inspect"]
        for kind in hand:
            section = self.rng.choice(able)
            step = self._pointing(self.swap.get(kind, kind), section)
            if step is not None:
                section.steps.insert(self.rng.randint(min(1, len(section.steps)), len(section.steps)), step)
                for one in list(section.steps):
                    _keep_repeat_right(section, one)

    def _pointing(self, kind: str, section: Section) -> Step | None:
        rng = self.rng
        target = rng.choice(self._others(section))
        part = self.components[section.key.rsplit("_", 1)[0]]
        ref = self._ref(kind, section, target)
        if ref is None:
            return None
        more: dict[str, Slot] = {
            "ref": ref, "noun": ref, "part2": f"the {target.thing}", "Part2": f"The {target.thing}",
            "serial": f"{rng.randint(11, 79)} {rng.randint(100, 999)}",
        }  # fmt: skip
        step = self.fill(rng.choice(self.lexicon.refs[kind]), part, more)
        if not any(isinstance(value, Ref) for value in step.slots.values()):
            step.slots[""] = ref  # in words only: the sentence itself points
        return step

    def _ref(self, kind: str, section: Section, target: Section) -> Ref | None:
        rng = self.rng
        if kind == "range":
            spans = [
                one for one in self._others(section, ("remove",)) if self._next(one) and self._next(one, 2)
            ]
            first = rng.choice(spans)
            return Ref(kind, (first.key, self._next(first).key, self._next(first, 2).key))  # type: ignore[union-attr]
        if kind == "list":
            chosen = rng.sample(self._others(section), k=3)
            chosen.sort(key=self.procedures.index)
            return Ref(kind, tuple(one.key for one in chosen))
        if kind == "any_of":
            other = rng.choice([one for one in self._others(section) if one.key != target.key])
            return Ref(kind, (target.key, other.key))
        if kind == "chapter":
            return Ref(kind, (rng.choice([f"ch{n}" for n in range(1, len(self.lexicon.assemblies) + 1)]),))
        if kind == "steps":
            long = self._others(section, ("remove", "dismantle"), least=5)
            return Ref(kind, (rng.choice(long).key,), steps=(2, rng.randint(3, 5))) if long else None
        if kind == "repeat":
            return Ref(kind, (section.key,), steps=(1, 2)) if len(section.steps) > 2 else None
        if kind == "figure":
            drawn = [one for one in self.procedures if one.figure]
            return Ref(kind, (section.key if section.figure else rng.choice(drawn).key,))
        if kind == "table":
            return Ref(kind, ("torques",))
        if kind == "self":
            return Ref(kind, (section.key,))
        return Ref(kind, (target.key,) if kind not in ("dangling", "other_book") else ())

    def _next(self, section: Section, steps: int = 1) -> Section | None:
        at = self.procedures.index(section) + steps
        one = self.procedures[at] if at < len(self.procedures) else None
        return one if one is not None and one.parent == section.parent else None

    def _tables(self, general: Section) -> None:
        for section in general.children:
            if section.kind == "torques":
                section.rows = [(thread, Torque(value)) for thread, value in TORQUE_BY_THREAD.items()]
                for part in list(self.components.values())[:6]:
                    fast = part.fasteners[0]
                    section.rows.append((f"{_cap(part.name)} {fast.what}s", Torque(fast.torque.nominal_Nm)))
            if section.kind == "limits":
                for part in self.components.values():
                    inner, low = part.inner[0], round(self.rng.uniform(5, 90), 2)
                    limit = Limit(f"{_cap(inner)}, {self.rng.choice(self.lexicon.measures)}",
                                  low, round(low + 0.03, 2), round(low - 0.1, 2))  # fmt: skip
                    section.rows.append((limit.what, limit))

    def _parts(self) -> list[PartsFigure]:
        figures = []
        for part in self.components.values():
            rows: list[tuple[str, str, str, int | None, int]] = []
            number = f"{self.rng.randint(100, 899)}-{self.rng.randint(1000, 9999)}"
            rows.append(("1", number, f"{part.name} assembly".upper(), 1, 0))
            for inner in part.inner:
                rows.append(
                    (str(len(rows) + 1), self._number(), inner.upper(), self.rng.choice((1, 1, 2)), 1)
                )
            for fast in part.fasteners:
                size = f"{fast.thread}" + (f" x {fast.length_mm}" if fast.length_mm else "")
                name = f"{fast.what.upper()}, {size}"
                rows.append((str(len(rows) + 1), self._number(), name, fast.count, self.rng.choice((1, 2))))
            rows.append((str(len(rows) + 1), self._number(), part.seal.upper(), 1, 1))
            if self.rng.random() < 0.3:
                thickness = self.rng.choice(("0.1", "0.2", "0.3"))
                rows.append((str(len(rows) + 1), self._number(), f"SHIM, {thickness} MM", None, 1))
            figures.append(PartsFigure(part.name, rows))
        return figures

    def _number(self) -> str:
        return f"{self.rng.randint(100, 899)}-{self.rng.randint(1000, 9999)}"


def _cap(words: str) -> str:
    return words[:1].upper() + words[1:]


def _keep_repeat_right(section: Section, step: Step) -> None:
    """A "repeat steps 1 and 2" that landed at the head of its section is moved to its end."""
    repeats = [value for value in step.slots.values() if isinstance(value, Ref) and value.kind == "repeat"]
    if repeats and section.steps.index(step) < 2:
        section.steps.remove(step)
        section.steps.append(step)
