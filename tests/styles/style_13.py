# ruff: noqa: E501, RUF012
"""House 13: a modern A4 book; coloured bars, photographs beside blocks of steps that start from 1 again, decimal commas."""

from __future__ import annotations

from styles.content import Ref, Section, Step, Torque
from styles.house import NOUNS, House
from styles.lexicon_modern import MODERN
from styles.more import MoreSetter
from styles.press import Value
from styles.setter import small
from styles.truth import TrueTorque

BLOCK = (2, 4)
"""How many steps stand beside a photograph."""
SOFT = 0.8
"""What a thread in aluminium bears of what one in steel does, in this invented book."""


class House13(House):
    """A pointer names a title and its page."""

    name = "style_13"
    title = "Repair manual"
    edition = "Version 3.1 / 2021-05"
    lexicon = MODERN
    nested = False
    swap = {"section": "title", "range": "list", "steps": "page", "repeat": "title"}
    marks = ("{n}", "▸")
    units = ("Nm",)
    decimals = {"Nm": 1}
    comma = True
    fast_forms = (
        "{cw} {w} ({t} x {l})",
        "the {cw} {w}",
        "{c} x {w} {t}x{l}",
        "the {w} ({t} x {l})",
        "the {w}",
    )
    nut_forms = ("{cw} {w} ({t})", "the {cw} {w}", "{c} x {w} {t}", "the {w}")
    limit_forms = ("new: {lo} to {hi} mm, limit: {x} mm", "{lo}–{hi} mm (wear limit {x} mm)")
    staged = "{a} {u}, then {b} {u}, then {c} {u}"
    signals = {"warning": "WARNING", "caution": "CAUTION", "note": "Note"}
    trail = {
        "title": (" (see \"{t}\", page {p})", ", see \"{t}\" (page {p})"), "page": (" (see page {p})", " (page {p})"),
        "any_of": (" (see \"{t}\", page {p} or \"{u}\", page {q})",), "figure": (" (Fig. {f})", " (see Fig. {f})"),
        "variant": (" (see \"{t}\", page {p})",), "serial": (" (see page {p})",), "condition": (" (see \"{t}\", page {p})",),
        "self": (" (see \"{t}\", page {p})",), "dangling": (" (see page {n})", " (page {n})"),
    }  # fmt: skip
    noun = {
        "chapter": ("chapter \"{t}\", page {p}", "the chapter \"{t}\""), "table": ("see \"{t}\", page {p}", "see table on page {p}"),
        "other_book": ("see the operating manual", "see the instructions of the motor manufacturer"),
    }  # fmt: skip

    def number(self, path: tuple[int, ...], section: Section) -> str:
        """None is printed."""
        return ""

    def figure_number(self, chapter: int, index: int) -> str:
        """Through the book."""
        return str(len(self.figures) + 1)

    def table_number(self, chapter: int, index: int) -> str:
        """None."""
        return ""

    def heading(self, section: Section) -> str:
        """Fan unit – removal."""
        title = section.thing[:1].upper() + section.thing[1:]
        return f"{title} – {NOUNS[section.action].lower()}" if section.action else title

    def printed(self, page: int, chapter: str, start: int) -> str:
        """The cover is not counted."""
        return str(page - 1)

    def nowhere(self) -> str:
        """A page that the book does not have."""
        return str(self.rng.randint(140, 390))

    def pointer(self, ref: Ref, trailing: bool, pages: dict[str, str]) -> str:
        """A list names each title with its page."""
        if ref.kind == "list":
            *most, last = (
                f'"{self.reference_title(key)}" (page {pages.get(key, "0")})' for key in ref.targets
            )
            return f"{', '.join(most)} and {last}"
        return super().pointer(ref, trailing, pages)


class Setter13(MoreSetter):
    """Blocks of steps beside photographs; two torques a thread; parts tables two abreast."""

    house: House13
    labels = {"tools": "Special tools", "before": "Preparatory work", "after": "Final work"}
    limit_heads = ("Component", "New, mm", "Wear limit, mm")
    parts_heads = ("Ref", "Part No", "Description", "Qty")
    as_required = "as req."

    def figure(self, section: Section) -> None:
        """The first photograph of the blocks bears it."""

    def steps(self, section: Section) -> None:
        """Blocks; each counts from 1."""
        waiting = list(section.steps)
        first = True
        while waiting:
            count = self.house.rng.randint(*BLOCK)
            block, waiting = waiting[:count], waiting[count:]
            if len(waiting) == 1:
                block, waiting = [*block, *waiting], []
            self.block: list[tuple[Value, ...]] = []
            for index, step in enumerate(block, 1):
                self.step(section, step, 0, index, "")
            label = f"Fig. {self.house.figures[section.key]}" if section.figure and first else ""
            self.call("photo-block", label, self.house.rng.randint(2, 4), tuple(self.block))
            first = False

    def step(self, section: Section, step: Step, depth: int, index: int, above: str) -> None:
        """Sub-steps have a triangle and no mark that could be named."""
        super().step(section, step, depth, index, "" if depth else above)

    def put_step(self, depth: int, mark: str, words: str) -> None:
        """Into the block."""
        self.block.append(("step", depth, mark if not depth else "", words))

    def cautions(self, section: Section, step: Step, path: str) -> None:
        """Into the block, before its step."""
        at = len(self.calls)
        super().cautions(section, step, path)
        for _, given in self.calls[at:]:
            self.block.append(("caution", 0, *given))
        del self.calls[at:]

    def torque_table(self, section: Section) -> None:
        """Threads in steel and in aluminium; below them the joints, in one column."""
        threads, joints = [], []
        for what, torque in section.rows:
            assert isinstance(torque, Torque)
            thread = what[0] == "M" and what[1:].isdigit()
            values = [round(torque.nominal_Nm * part, 1) for part in ((1, SOFT) if thread else (1,))]
            cells = tuple(self.house.decimal(one, 1) for one in values)
            (threads if thread else joints).append((what, *cells))
            for value, cell in zip(values, cells, strict=True):
                self.truth.torques.append(TrueTorque("torques", "", value, value, None, cell, what))
        self.call(
            "bar-table",
            "Unless otherwise specified",
            ("Thread", "Steel, Nm", "Aluminium, Nm"),
            tuple(threads),
        )
        self.call("bar-table", "Special torques", ("Joint", "Torque, Nm"), tuple(joints))

    def parts_number(self, index: int) -> str:
        """Counted by letters and tens."""
        return f"E{index * 10}"

    def parts_cells(
        self, item: str, part: str, name: str, quantity: int | None, indent: int
    ) -> tuple[str, ...]:
        """A round dot for each level."""
        return item, part, "• " * indent + small(name), str(quantity or self.as_required)


HOUSE, SETTER = House13, Setter13
