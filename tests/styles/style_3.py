# ruff: noqa: E501, RUF012
"""House 3: titles without numbers, found by page; bullets; a picture column; kgf-cm first; roman front matter."""

from __future__ import annotations

from styles.content import Ref, Section
from styles.house import NOUNS, House
from styles.setter import Setter, small


class House3(House):
    """References name a page or a title."""

    name = "style_3"
    title = "Workshop manual"
    edition = "First edition"
    nested = False
    swap = {"section": "page", "range": "list", "steps": "page", "repeat": "title"}
    marks = ("•", "–")
    units = ("kgf-cm", "N·m")
    decimals = {"kgf-cm": -1, "N·m": 0}
    fast_forms = ("the {w} ({c})", "{cw} {w} {t} x {l}", "the {cw} {w}", "{c}x {w} {t}x{l}")
    nut_forms = ("the {cw} {w}", "the {w} ({c})", "{c}x {w} {t}")
    limit_forms = ("{lo} - {hi} mm (limit: {x} mm)", "Standard: {lo} - {hi} mm. Service limit: {x} mm")
    staged = "{a} {u} first, {b} {u} next, {c} {u} last"
    signals = {"warning": "Warning", "caution": "Caution", "note": "Note"}
    trail = {
        "page": (" (page {p})", " (see page {p})", ". See page {p}", " (p. {p})"), "title": (" (see {t})", ", see {t}"),
        "any_of": (" (page {p} or {q})",), "figure": (" (Fig. {f})", " as in Fig. {f}"),
        "variant": (" (page {p})",), "serial": (" (see page {p})",), "condition": (" (page {p})",),
        "self": (" (page {p})",), "dangling": (" (page {n})", " (see page {n})"),
    }  # fmt: skip
    noun = {
        "chapter": ("the chapter {t}", "{t} (from page {p})"),
        "table": ("see the table on page {p}", "see {t}, page {p}"),
        "other_book": ("see the owner's handbook", "see the separate motor manual"),
    }  # fmt: skip

    def number(self, path: tuple[int, ...], section: Section) -> str:
        """None is printed."""
        return ""

    def figure_number(self, chapter: int, index: int) -> str:
        """Figures run through the book."""
        return str(len(self.figures) + 1)

    def table_number(self, chapter: int, index: int) -> str:
        """Tables bear no number."""
        return ""

    def heading(self, section: Section) -> str:
        """Thing and deed, in capitals."""
        return (
            f"{section.thing} - {NOUNS[section.action]}".upper() if section.action else section.thing.upper()
        )

    def printed(self, page: int, chapter: str, start: int) -> str:
        """Counted from the first chapter."""
        return str(page - self.body_start + 1)

    def pointer(self, ref: Ref, trailing: bool, pages: dict[str, str]) -> str:
        """A list names each title with its page."""
        if ref.kind == "list":
            *most, last = (f"{self.reference_title(key)} (page {pages.get(key, '0')})" for key in ref.targets)
            return f"{', '.join(most)} and {last}"
        return super().pointer(ref, trailing, pages)

    def nowhere(self) -> str:
        """A page that the book does not have."""
        return str(self.rng.randint(160, 390))


class Setter3(Setter):
    """Pictures stand in a column of their own, beside the steps."""

    labels = {"tools": "Tools", "before": "Remove beforehand", "after": ""}
    parts_word = "Plate"
    as_required = "a/r"
    parts_heads = ("No.", "Name of part", "Part number", "Pcs")

    def figure(self, section: Section) -> None:
        """Set with the steps."""

    def lead(self, section: Section) -> None:
        """After the picture."""
        super().lead(section)
        self.call("", "beside({")
        if section.figure:
            super().figure(section)
        self.call("", "}, {")

    def follow(self, section: Section) -> None:
        """After the steps."""
        self.call("", "})")
        super().follow(section)

    def parts_cells(
        self, item: str, part: str, name: str, quantity: int | None, indent: int
    ) -> tuple[str, ...]:
        """The name second, levels by blanks."""
        return item, "\u2003" * indent + small(name), part, str(quantity or self.as_required)


HOUSE, SETTER = House3, Setter3
