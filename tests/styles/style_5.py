# ruff: noqa: E501, RUF012
"""House 5: task codes "32-10-04" in one fixed-width face, marks "A." and "(1)", lb-in first, warnings in capitals."""

from __future__ import annotations

from styles.content import Section
from styles.house import NOUNS, House
from styles.setter import Setter


class House5(House):
    """Three groups of figures name a task."""

    name = "style_5"
    title = "Overhaul manual"
    edition = "Nov 15/08"
    swap = {"page": "section"}
    marks = ("{A}.", "({n})")
    units = ("lb-in", "N·m")
    decimals = {"lb-in": 0, "N·m": 1}
    fast_forms = ("{c} {w} ({t} x {l})", "the {cw} {w}, {t} x {l}", "the {w}", "{w} ({t} x {l}, qty {c})")
    nut_forms = ("{c} {w} ({t})", "the {cw} {w}", "{w} ({t}, qty {c})")
    limit_forms = ("must be {lo} to {hi} mm, min. {x} mm", "{lo} thru {hi} mm new, {x} mm min. in service")
    staged = "{a} {u}, then {b} {u}, then {c} {u}"
    trail = {
        "section": (" (Ref. {n})", " (Ref. Task {n})", " as given in {n}", ". Refer to {n}"),
        "title": (", see {t}",), "any_of": (" (Ref. {n} or {m})",), "figure": (" (Fig. {f})", " (Ref. Fig. {f})"),
        "variant": (" (Ref. {n})",), "serial": (" (Ref. {n})",), "condition": (" (Ref. Task {n})",),
        "self": (" (Ref. {n})",), "dangling": (" (Ref. {n})", ". Refer to {n}"),
    }  # fmt: skip
    noun = {
        "chapter": ("Chapter {n}",), "range": ("Tasks {n} thru {m}",), "list": ("Tasks {list} and {m}",),
        "steps": ("Task {n}, steps {s1} thru {s2}", "steps {s1} thru {s2} of Task {n}"),
        "repeat": ("steps {s1} and {s2}",), "table": ("refer to Table {tb}",),
        "other_book": ("refer to the operator's handbook", "refer to the vendor's manual"),
    }  # fmt: skip

    def number(self, path: tuple[int, ...], section: Section) -> str:
        """Chapters from 31 on, things in tens, tasks one by one."""
        chapter, *rest = path
        return "-".join(
            [
                str(30 + chapter),
                *(f"{rest[0] * 10:02d}" for _ in rest[:1]),
                *(f"{one:02d}" for one in rest[1:]),
            ]
        )

    def figure_number(self, chapter: int, index: int) -> str:
        """Chapter in full."""
        return f"{30 + chapter}-{index}"

    def table_number(self, chapter: int, index: int) -> str:
        """From 201 on."""
        return str(200 + index)

    def heading(self, section: Section) -> str:
        """Thing, dash, deed."""
        return (
            f"{section.thing} - {NOUNS[section.action]}".upper() if section.action else section.thing.upper()
        )

    def printed(self, page: int, chapter: str, start: int) -> str:
        """From 201 on in each chapter."""
        return str(201 + page - start)

    def step_name(self, index: int, key: str) -> str:
        """By letter."""
        return chr(64 + index)


class Setter5(Setter):
    """Warnings in capitals; parts with dots."""

    labels = {"tools": "Special Tools", "before": "Job Set-up", "after": "Close-up"}
    parts_heads = ("ITEM", "PART NUMBER", "NOMENCLATURE", "UNITS")

    def parts_number(self, index: int) -> str:
        """Chapter and figure."""
        return f"{self.house.numbers['parts']}-{index}"

    def parts_cells(
        self, item: str, part: str, name: str, quantity: int | None, indent: int
    ) -> tuple[str, ...]:
        """A dot for each level, close to the name."""
        return item, part, "." * indent + name, str(quantity or self.as_required)


HOUSE, SETTER = House5, Setter5
