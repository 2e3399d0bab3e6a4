# ruff: noqa: E501, RUF012
"""Sets a book in a house's way: gives the code of its pages and, from the same walk, the truth."""

from __future__ import annotations

from styles.content import Book, Fastener, Limit, Ref, Section, Step, Torque
from styles.house import House
from styles.press import Call, Value
from styles.truth import (
    TrueCaution,
    TrueFasteners,
    TrueLimit,
    TruePart,
    TrueReference,
    TrueSection,
    TrueStep,
    TrueTorque,
    Truth,
)

EXPECT = {"dangling": "dangling", "other_book": "other book", "self": "self", "words": "in words"}
CALLOUTS = 6


class Setter:
    """One book set by one house. Subclasses set procedures or parts lists in another shape."""

    labels = {"tools": "Special tools", "before": "Already done", "after": "Afterwards"}
    contents = True
    figure_first = True
    figure_word = "Fig."
    table_word = "Table"
    parts_word = ""
    as_required = "AR"
    parts_heads = ("Item", "Part no.", "Description", "Qty")
    limit_heads = ("Part and size", "Standard, mm", "Limit, mm")
    thread_word = "Thread {}, unless otherwise stated"

    def __init__(self, house: House, book: Book, pages: dict[str, int]) -> None:
        self.house = house
        self.book = book
        self.pages = pages
        self.calls: list[Call] = []
        self.truth = Truth(house.name, house.seed)
        self.printed: dict[str, str] = {}

    def compose(self) -> tuple[list[Call], Truth]:
        """What to set, in order, and its truth."""
        house, book = self.house, self.book
        parts = Section("parts", "parts", "", house.lexicon.parts_title, 1)
        book.chapters.append(parts)
        parts.children = [
            Section(f"pf{n}", "parts figure", "", one.thing, 2, "parts")
            for n, one in enumerate(book.parts, 1)
        ]
        house.lay_out(book)
        house.body_start = self.pages.get("ch0", 1)
        for section in book.sections():
            chapter = house.chapter_key(section.key)
            start = self.pages.get(chapter, 1)
            page = self.pages.get(section.key, 1)
            self.printed[section.key] = house.printed(page, house.numbers[chapter], start)
        self.call("title-page", house.title, book.machine, house.edition)
        if self.contents:
            rows = [
                (str(s.level), house.numbers[s.key], house.heading(s), self.printed[s.key])
                for s in book.sections() if s.kind != "parts figure"
            ]  # fmt: skip
            self.call("contents", tuple(rows))
        for section in book.sections():
            self.section(section)
        return self.calls, self.truth

    def call(self, name: str, *given: Value) -> None:
        """A call of one of the house's setting functions."""
        self.calls.append((name, given))

    # ---- headings

    def section(self, section: Section) -> None:
        """The heading and what stands under it."""
        house = self.house
        number, title = house.numbers[section.key], house.heading(section)
        if section.kind == "parts figure":
            self.parts(section)
            return
        if section.level == 1:
            self.call("chapter", section.key, number, title)
        else:
            self.call("section", section.key, section.level, number, title)
        self.truth.sections.append(
            TrueSection(section.key, number, title, section.level, section.parent,
                        self.pages.get(section.key, 1), self.printed[section.key])
        )  # fmt: skip
        for text in section.text:
            self.call("para", text)
        if section.kind == "procedure":
            self.procedure(section)
        elif section.kind == "torques":
            self.torque_table(section)
        elif section.kind == "limits":
            self.limit_table(section)

    def procedure(self, section: Section) -> None:
        """Set-up, figure, lead, steps, follow-on."""
        self.setup(section)
        if section.figure and self.figure_first:
            self.figure(section)
        self.lead(section)
        self.steps(section)
        if section.figure and not self.figure_first:
            self.figure(section)
        self.follow(section)

    def setup(self, section: Section) -> None:
        """The block of what has to be ready and done before."""
        if not section.tools and not section.before:
            return
        lines = [self.say(one, section, "before") for one in section.before]
        groups = [(self.labels["tools"], section.tools), (self.labels["before"], lines)]
        self.call("setup", tuple((label, tuple(words)) for label, words in groups if words))

    def figure(self, section: Section) -> None:
        """The picture of a procedure."""
        self.call(
            "picture", f"{self.figure_word} {self.house.figures[section.key]}", self.house.heading(section), 6
        )

    def lead(self, section: Section) -> None:
        """Sentences before the first step."""
        for one in section.lead:
            self.call("para", self.say(one, section, ""))

    def follow(self, section: Section) -> None:
        """What is to be done after the last step."""
        if section.after:
            lines = [self.say(one, section, "after") for one in section.after]
            self.call("follow", self.labels["after"], tuple(lines))

    # ---- steps

    def steps(self, section: Section) -> None:
        """The steps with their sub-steps and cautions."""
        for index, step in enumerate(section.steps, 1):
            self.step(section, step, 0, index, "")

    def step(self, section: Section, step: Step, depth: int, index: int, above: str) -> None:
        """One step, then its sub-steps."""
        mark = self.house.mark(depth, index)
        own = "".join(one for one in mark.split()[-1] if one.isalnum())
        path = above + own if own else ""
        words = self.say(step, section, path)
        if not self.house.caution_after:
            self.cautions(section, step, path)
        self.put_step(depth, mark, words)
        self.truth.steps.append(TrueStep(section.key, path, words))
        if self.house.caution_after:
            self.cautions(section, step, path)
        for number, child in enumerate(step.children, 1):
            self.step(section, child, depth + 1, number, path)

    def put_step(self, depth: int, mark: str, words: str) -> None:
        """The code of one step."""
        self.call("step", depth, mark, words)

    def cautions(self, section: Section, step: Step, path: str) -> None:
        """The warnings that stand at a step."""
        for signal, words in step.cautions:
            self.call("caution", self.house.signals[signal], words)
            self.truth.cautions.append(TrueCaution(section.key, path, signal, words))

    def say(self, step: Step, section: Section, path: str) -> str:
        """The sentence as printed; what it says goes into the truth."""
        said = {name: self.slot(name, value, section, path) for name, value in step.slots.items()}
        words = step.template.format(**said)
        if not step.slots and path == "before":
            self.truth.decoys.append(words)
        for name, value in step.slots.items():
            if isinstance(value, Ref):
                self.point(section, path, value, words if not said[name] or path in ("before", "after") else said[name],
                           step.template)  # fmt: skip
        return words

    def slot(self, name: str, value: object, section: Section, path: str) -> str:
        """The words of one slot."""
        truth = self.truth
        if isinstance(value, Fastener):
            words, count, thread, length = self.house.fast(value)
            truth.fasteners.append(
                TrueFasteners(section.key, path, value.what, value.count if count else None,
                              value.thread if thread else None, value.length_mm if length else None, words)
            )  # fmt: skip
            return words
        if isinstance(value, Torque):
            words, values = self.house.torque(value)
            truth.torques.extend(
                TrueTorque(section.key, path, one.low_Nm, one.high_Nm, one.angle_deg, one.words)
                for one in values
            )
            return words
        if isinstance(value, Limit):
            words = self.house.limit(value)
            truth.limits.append(self._limit(section, path, value, words))
            return words[:1].upper() + words[1:] if name == "Limit" else words
        if isinstance(value, Ref):
            if value.kind in ("words", "reverse"):
                return ""
            return self.house.pointer(value, name == "ref", self.printed)
        return str(value)

    def _limit(self, section: Section, path: str, value: Limit, words: str) -> TrueLimit:
        return TrueLimit(section.key, path, value.what, (value.low_mm, value.high_mm), value.limit_mm, words)

    def point(self, section: Section, path: str, ref: Ref, words: str, template: str) -> None:
        """Put a pointer into the truth."""
        only = any(template.startswith(one) for one in self.conditional())
        steps = (
            None
            if ref.steps is None
            else tuple(self.house.step_name(one, ref.targets[0]) for one in ref.steps)
        )
        printed = words.strip(" ,.;:")
        if printed.startswith("(") and printed.endswith(")") and ")" not in printed[:-1]:
            printed = printed[1:-1]
        self.truth.references.append(
            TrueReference(section.key, path, printed, ref.kind, EXPECT.get(ref.kind, "resolved"), self.house.meant(ref),
                          steps, only)  # type: ignore[arg-type]
        )  # fmt: skip

    def conditional(self) -> set[str]:
        """The sentences that bind only some engines or some states."""
        refs = self.house.lexicon.refs
        return {*refs["variant"], *refs["serial"], *refs["condition"]}

    # ---- tables and parts

    def torque_heads(self) -> tuple[str, ...]:
        """The heading cells of the torque table."""
        return ("For", *(f"Torque, {unit}" for unit in self.house.units))

    def torque_cells(self, what: str, torque: Torque) -> tuple[list[str], TrueTorque]:
        """The cells of one line and its truth."""
        words, (said, *_) = self.house.torque(torque)
        values = [words.partition(" ")[0]]
        if len(self.house.units) > 1:
            values.append(words.partition("(")[2].partition(" ")[0])
        return [what, *values], TrueTorque("torques", "", said.low_Nm, said.high_Nm, None, values[0], what)

    def torque_table(self, section: Section) -> None:
        """The table of tightening torques."""
        rows = []
        for what, torque in section.rows:
            assert isinstance(torque, Torque)
            named = self.thread_word.format(what) if what[0] == "M" and what[1:].isdigit() else what
            cells, true = self.torque_cells(named, torque)
            rows.append(tuple(cells))
            self.truth.torques.append(true)
        self._table(section, self.torque_heads(), rows)

    def limit_table(self, section: Section) -> None:
        """The table of wear limits."""
        rows = []
        for what, limit in section.rows:
            assert isinstance(limit, Limit)
            lo, hi, x = (self.house.decimal(one, 2) for one in (limit.low_mm, limit.high_mm, limit.limit_mm))
            rows.append((what, f"{lo}-{hi}", x))
            self.truth.limits.append(self._limit(section, "", limit, f"{lo}-{hi}"))
        self._table(section, self.limit_heads, rows)

    def _table(self, section: Section, heads: tuple[str, ...], rows: list[tuple[str, ...]]) -> None:
        caption = f"{self.table_word} {self.house.tables[section.key]} {self.house.heading(section)}"
        self.call("data-table", caption, heads, tuple(rows))

    def parts_number(self, index: int) -> str:
        """The number of a parts figure as printed."""
        return str(index)

    def parts(self, section: Section) -> None:
        """One figure of the parts list with its table."""
        index = self.house.paths[section.key][-1]
        figure = self.book.parts[index - 1]
        number = self.parts_number(index)
        rows = []
        for item, part, name, quantity, indent in figure.rows:
            rows.append(self.parts_cells(item, part, name, quantity, indent))
            self.truth.parts.append(TruePart(number, item, part, name, quantity, indent))
        title = f"{self.parts_word or self.figure_word} {number}"
        heading = self.house.heading(section)
        self.call("parts-figure", section.key, title, heading, self.parts_heads, tuple(rows))

    def parts_cells(
        self, item: str, part: str, name: str, quantity: int | None, indent: int
    ) -> tuple[str, ...]:
        """The cells of a row, in the house's order."""
        return item, part, ". " * indent + name, str(quantity or self.as_required)


def small(name: str) -> str:
    """The name in small letters; sizes keep their capitals."""
    words = " ".join(one if any(c.isdigit() for c in one) else one.lower() for one in name.split())
    return words[:1].upper() + words[1:]
