# ruff: noqa: E501, RUF012
"""House 8: a modern book: numbers in tinted squares in the margin, "Step 1", pointers with an arrow, N·m and ft-lb."""

from __future__ import annotations

from styles.content import Section
from styles.held_out.lexicons import LOOM
from styles.house import House
from styles.setter import Setter, small

DEEDS = {
    "remove": "Take off the {}", "dismantle": "Take the {} apart", "inspect": "Check the {}",
    "assemble": "Put the {} together", "install": "Fit the {}",
}  # fmt: skip


class House8(House):
    """Pointers name number and page, or title and page."""

    name = "style_8"
    title = "The repair book"
    edition = "2023"
    lexicon = LOOM
    marks = ("Step {n}", "•")
    units = ("N·m", "ft-lb")
    decimals = {"N·m": 0, "ft-lb": 0}
    signals = {"danger": "Danger", "warning": "Warning", "caution": "Caution", "note": "Tip"}
    fast_forms = ("{cw} {t} {w} {l} mm long", "the {cw} {t} x {l} {w}", "the {cw} {w}", "{c} × {w} {t} × {l}")
    nut_forms = ("{cw} {t} {w}", "the {cw} {w}", "{c} × {w} {t}")
    limit_forms = ("{lo}–{hi} mm, no less than {x} mm", "{lo}–{hi} mm, wear limit {x} mm")
    staged = "{a} → {b} → {c} {u}"
    trail = {
        "section": (" (→ {n})", " (→ {n}, p. {p})", " → {n}"), "page": (" (→ p. {p})", " (page {p})"),
        "title": (" (→ {t}, p. {p})", " (see “{t}”)"), "any_of": (" (→ {n} or → {m})",), "figure": (" (Fig. {f})",),
        "variant": (" (→ {n})",), "serial": (" (→ {n})",), "condition": (" (→ {n}, p. {p})",), "self": (" (→ {n})",),
        "dangling": (" (→ {n})",),
    }  # fmt: skip
    noun = {
        "chapter": ("chapter {n}",), "range": ("{n} to {m}",), "list": ("{list} and {m}",), "steps": ("{n}, steps {s1} to {s2}", "{n}, steps {s1}–{s2}"),
        "repeat": ("steps {s1} and {s2}",), "table": ("see Table {tb}", "→ Table {tb}"),
        "other_book": ("see the owner's guide", "see the trailer's own manual"),
    }  # fmt: skip

    def heading(self, section: Section) -> str:
        """As an order."""
        return DEEDS[section.action].format(section.thing) if section.action else super().heading(section)


class Setter8(Setter):
    """Figures stand in the margin."""

    labels = {"tools": "You need", "before": "Before you start", "after": "When you are done"}
    as_required = "as needed"
    parts_heads = ("#", "Order no.", "Part", "Pieces")
    thread_word = "{}, where nothing else is given"

    def parts_number(self, index: int) -> str:
        """Letters."""
        return f"P{index}"

    def parts_cells(
        self, item: str, part: str, name: str, quantity: int | None, indent: int
    ) -> tuple[str, ...]:
        """Levels by blanks."""
        return item, part, "\u2003" * max(0, indent - 1) + small(name), str(quantity or self.as_required)


HOUSE, SETTER = House8, Setter8
