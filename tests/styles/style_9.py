# ruff: noqa: E501, RUF012
"""House 9: groups "4.2", under them "Removal" and "Installation" without a number; spread words in standard faces."""

from __future__ import annotations

from styles.content import Book, Ref, Section
from styles.flowing import press
from styles.house import NOUNS, House
from styles.setter import Setter, small

__all__ = ["HOUSE", "SETTER", "press"]


class House9(House):
    """A pointer names the group; which of its headings is meant, the sentence says."""

    name = "style_9"
    title = "Repair instructions"
    edition = "Second edition"
    caution_after = True
    swap = {"range": "list"}
    marks = ("{n})", "-")
    units = ("Nm", "lb-ft")
    fast_forms = ("the {cw} {w} ({t}x{l})", "{cw} {t} x {l} {w}", "the {w}", "the {cw} {t}-{l} {w}")
    nut_forms = ("the {cw} {w}", "{cw} {t} {w}", "the {w}")
    limit_forms = ("nominal {lo} - {hi} mm, wear limit {x} mm", "{lo} to {hi} mm; discard at {x} mm")
    staged = "{a} {u}, in a second pass to {b} {u} and in a third to {c} {u}"
    signals = {"warning": "Warning", "caution": "Caution", "note": "Note"}
    trail = {
        "section": (" (see {n})", " according to {n}", " as per {n}", " (refer to {n})"), "page": (" (see page {p})", ", page {p}"),
        "title": (" (see \"{t}\")",), "any_of": (" (see {n} or {m})",), "figure": (" (see fig. {f})", " (fig. {f})"),
        "variant": (" (see {n})",), "serial": (" according to {n}",), "condition": (" (see {n})",), "self": (" (see {n})",),
        "dangling": (" (see {n})", " according to {n}"),
    }  # fmt: skip
    noun = {
        "chapter": ("chapter {n}",), "list": ("{list} and {m}",), "steps": ("{t}, items {s1}) to {s2})",),
        "repeat": ("items {s1}) and {s2})",), "table": ("see table {tb}",), "other_book": ("see the operating instructions",),
    }  # fmt: skip

    def lay_out(self, book: Book) -> None:
        """Headings under a group bear no number; pointers use the group's."""
        super().lay_out(book)
        self.group_of = {one.key: one.parent for one in book.sections() if one.action}

    def number(self, path: tuple[int, ...], section: Section) -> str:
        """Two deep."""
        return ".".join(str(one) for one in path) if len(path) < 3 else ""

    def heading(self, section: Section) -> str:
        """The deed only."""
        return NOUNS[section.action] if section.action else super().heading(section)

    def reference_title(self, key: str) -> str:
        """Thing and deed."""
        section = self.by_key[key] if key else None
        if section is None:
            return ""
        return (
            f"{section.thing}, {NOUNS[section.action].lower()}" if section.action else self.heading(section)
        )

    def printed(self, page: int, chapter: str, start: int) -> str:
        """Chapter and page in it."""
        return f"{chapter} - {page - start + 1}"

    def nowhere(self) -> str:
        """A group that no chapter has."""
        return f"{self.rng.randint(2, 6)}.{self.rng.randint(7, 9)}"

    def pointer(self, ref: Ref, trailing: bool, pages: dict[str, str]) -> str:
        """With the groups' numbers."""
        kept = self.numbers
        self.numbers = {**kept, **{key: kept[group] for key, group in self.group_of.items()}}
        words = super().pointer(ref, trailing, pages)
        self.numbers = kept
        return words

    def meant(self, ref: Ref) -> tuple[str, ...]:
        """The group, where its number is all that is printed."""
        if ref.kind in ("page", "title", "steps", "figure", "repeat", "reverse", "words"):
            return ref.targets
        return tuple(self.group_of.get(one, one) for one in ref.targets)


class Setter9(Setter):
    """Set-up in words."""

    labels = {"tools": "Special tools", "before": "Precondition", "after": "Subsequently"}
    parts_heads = ("Item", "Designation", "No.", "Order number")
    as_required = "X"

    def parts_cells(
        self, item: str, part: str, name: str, quantity: int | None, indent: int
    ) -> tuple[str, ...]:
        """The number last."""
        return item, "- " * indent + small(name), str(quantity or self.as_required), part


HOUSE, SETTER = House9, Setter9
