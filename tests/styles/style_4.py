# ruff: noqa: E501, RUF012
"""House 4: operations "4B3" as tables (line, work, quantity, size, torque, see); numbers with letters."""

from __future__ import annotations

from styles.content import Fastener, Ref, Section, Step, Torque
from styles.house import NOUNS, House
from styles.setter import Setter, small
from styles.truth import TrueFasteners, TrueStep

HEADS = ("Line", "Work", "Qty", "Size", "Torque, N·m", "See")


class House4(House):
    """Chapter number, letter of the thing, number of the operation."""

    name = "style_4"
    title = "Repair manual"
    edition = "Issue C"
    units = ("N·m",)
    limit_forms = ("new {lo}-{hi}, worn {x} mm", "{lo} to {hi} mm; scrap at {x} mm")
    staged = "{a} / {b} / {c}"
    caution_after = True
    signals = {"warning": "WARNING", "caution": "CAUTION", "note": "Note"}
    trail = {
        "section": ("{n}",), "page": (" (page {p})",), "title": (" (see operation \"{t}\")",),
        "any_of": (" ({n} or {m})",), "figure": (" (Figure {f})",), "variant": ("{n}",), "serial": ("{n}",),
        "condition": ("{n}",), "self": ("{n}",), "dangling": ("{n}",),
    }  # fmt: skip
    noun = {
        "chapter": ("section {n}", "the operations of section {n}"), "range": ("operations {n} to {m}",),
        "list": ("operations {list} and {m}",), "steps": ("operation {n}, lines {s1} to {s2}",),
        "repeat": ("lines {s1} and {s2}",), "table": ("see Table {tb}",), "other_book": ("see the operating instructions",),
    }  # fmt: skip

    def number(self, path: tuple[int, ...], section: Section) -> str:
        """4, 4B, 4B3."""
        chapter, *rest = path
        letter = chr(64 + rest[0]) if rest else ""
        return f"{chapter}{letter}" + (str(rest[1]) if len(rest) > 1 else "")

    def heading(self, section: Section) -> str:
        """The deed only: the thing stands above."""
        return NOUNS[section.action] if section.action else super().heading(section)

    def reference_title(self, key: str) -> str:
        """Thing and deed."""
        section = self.by_key.get(key)
        return (
            ""
            if section is None
            else f"{section.thing} {NOUNS[section.action]}".lower()
            if section.action
            else self.heading(section)
        )

    def printed(self, page: int, chapter: str, start: int) -> str:
        """Chapter, dot, page in it."""
        return f"{chapter}.{page - start + 1}"

    def mark(self, depth: int, index: int) -> str:
        """Lines are counted in tens; sub-lines stand between them."""
        return str(index * 10) if depth == 0 else str(index)

    def step_name(self, index: int, key: str) -> str:
        """As lines are called."""
        return str(index * 10)


class Setter4(Setter):
    """Steps are lines of a table: quantity, size, torque and pointer in columns of their own."""

    labels = {"tools": "Tools", "before": "State", "after": "Then:"}
    figure_first = False
    figure_word = "Figure"
    as_required = "as req."
    parts_heads = ("Pos.", "Designation", "Qty", "Part no.")

    def steps(self, section: Section) -> None:
        """One table."""
        self.rows: list[tuple[str, ...]] = []
        for index, step in enumerate(section.steps, 1):
            self._line(section, step, index * 10)
            for number, child in enumerate(step.children, 1):
                self._line(section, child, index * 10 + number)
        self.call("steps-table", HEADS, tuple(self.rows))

    def _line(self, section: Section, step: Step, line: int) -> None:
        mark = str(line)
        template, cells = step.template, {"qty": "", "size": "", "torque": "", "see": ""}
        slots = dict(step.slots)
        if isinstance(fast := slots.get("fast"), Fastener):
            length = "" if fast.length_mm is None else f" x {fast.length_mm}"
            cells["qty"], cells["size"] = str(fast.count), f"{fast.thread}{length}"
            what = fast.what if fast.count == 1 else fast.what + "s"
            slots["fast"] = f"the {what}"
            self.truth.fasteners.append(
                TrueFasteners(
                    section.key, mark, fast.what, fast.count, fast.thread, fast.length_mm, slots["fast"]
                )
            )
        if isinstance(torque := slots.get("torque"), Torque):
            cells["torque"] = str(self.slot("torque", torque, section, mark)).replace(" N·m", "")
            template = template.replace(" to {torque}", "")
            del slots["torque"]
            said = self.truth.torques
            said[-1:] = [type(said[-1])(**{**vars(said[-1]), "words": said[-1].words.replace(" N·m", "")})]
        ref = slots.get("ref")
        if isinstance(ref, Ref) and ref.kind in (
            "section",
            "variant",
            "serial",
            "condition",
            "self",
            "dangling",
        ):
            template = template.replace("{ref}", "")
            del slots["ref"]
            cells["see"] = self.house.pointer(ref, True, self.printed)
            self.point(section, mark, ref, cells["see"], step.template)
        words = self.say(Step(template, slots), section, mark)
        self.truth.steps.append(TrueStep(section.key, mark, words))
        self.rows.append((mark, words, cells["qty"], cells["size"], cells["torque"], cells["see"]))
        for signal, said_words in step.cautions:
            self.put_caution(section, mark, signal, said_words)

    def put_caution(self, section: Section, mark: str, signal: str, words: str) -> None:
        """A line of the table without a number."""
        self.cautions(section, Step("", cautions=[(signal, words)]), mark)
        self.calls.pop()
        self.rows.append(("", f"{self.house.signals[signal]}: {words}", "", "", "", ""))

    def say(self, step: Step, section: Section, path: str) -> str:
        """In set-up and follow-on the pointer stands in brackets."""
        ref = step.slots.get("ref")
        if path in ("before", "after") and isinstance(ref, Ref) and ref.kind == "section":
            step = Step(step.template.replace("{ref}", " ({ref})"), step.slots)
        return super().say(step, section, path)

    def parts_cells(
        self, item: str, part: str, name: str, quantity: int | None, indent: int
    ) -> tuple[str, ...]:
        """The number last, levels by dashes."""
        return (
            item,
            "- " * indent + small(name),
            str(quantity or self.as_required),
            part,
        )


HOUSE, SETTER = House4, Setter4
