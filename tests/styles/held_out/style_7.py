# ruff: noqa: E501, RUF012
"""House 7: sections by letter ("C4"), pages "C/7", dashes, two columns, decimal comma, N.m only."""

from __future__ import annotations

from styles.content import Section
from styles.held_out.lexicons import LOOM
from styles.house import NOUNS, House
from styles.setter import Setter


class House7(House):
    """A letter and a number; a page is named by letter too."""

    name = "style_7"
    title = "Workshop instructions"
    edition = "WKS 7041"
    lexicon = LOOM
    nested = False
    swap = {"steps": "section", "repeat": "page"}
    marks = ("-", "•")
    units = ("N.m",)
    comma = True
    signals = {"danger": "DANGER", "warning": "WARNING", "caution": "ATTENTION", "note": "N.B."}
    fast_forms = ("{c} {w} {t}x{l}", "the {cw} {w} ({t}x{l})", "the {w}", "{w} {t}x{l} (x{c})")
    nut_forms = ("{c} {w} {t}", "the {cw} {w}", "{w} {t} (x{c})")
    limit_forms = ("{lo} to {hi} mm (min. {x} mm)", "new {lo} - {hi} mm, min. {x} mm")
    staged = "{a} / {b} / {c} {u} in three stages"
    trail = {
        "section": (" (see {n})", " ({n})", ", see {n}"), "page": (" (page {p})", " (p. {p})"), "title": (" ({n} \"{t}\")",),
        "any_of": (" (see {n} or {m})",), "figure": (" (fig. {f})",), "variant": (" (see {n})",), "serial": (" ({n})",),
        "condition": (" (see {n})",), "self": (" (see {n})",), "dangling": (" (see {n})", ", see {n}"),
    }  # fmt: skip
    noun = {
        "chapter": ("section {n}",), "range": ("{n} to {m}", "{n} - {m}"), "list": ("{list} and {m}",), "table": ("see table {tb}",),
        "other_book": ("see the user handbook", "see the log book"),
    }  # fmt: skip

    def number(self, path: tuple[int, ...], section: Section) -> str:
        """C, C4."""
        return chr(64 + path[0]) + "".join(str(one) for one in path[1:])

    def figure_number(self, chapter: int, index: int) -> str:
        """With the letter."""
        return f"{chr(64 + chapter)}.{index}"

    def table_number(self, chapter: int, index: int) -> str:
        """With the letter."""
        return f"{chr(64 + chapter)}{index}"

    def heading(self, section: Section) -> str:
        """Thing, colon, deed."""
        return (
            f"{super().heading(Section('', '', '', section.thing))}: {NOUNS[section.action].lower()}"
            if section.action
            else super().heading(section)
        )

    def printed(self, page: int, chapter: str, start: int) -> str:
        """Letter, stroke, page in it."""
        return f"{chapter}/{page - start + 1}"


class Setter7(Setter):
    """Arrows before what is done elsewhere."""

    labels = {"tools": "Special tools", "before": "Beforehand", "after": ""}
    figure_word = "Fig."
    parts_heads = ("Key", "Reference", "Qty", "Name")

    def parts_cells(
        self, item: str, part: str, name: str, quantity: int | None, indent: int
    ) -> tuple[str, ...]:
        """The name last."""
        return item, part, str(quantity or self.as_required), "· " * indent + name


HOUSE, SETTER = House7, Setter7
