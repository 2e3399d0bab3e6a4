# ruff: noqa: E501, RUF012
"""House 6: paragraphs numbered through the book, in the margin; headings without numbers; lbf·ft first."""

from __future__ import annotations

from styles.content import Book, Section
from styles.held_out.lexicons import PUMP
from styles.house import GERUNDS, House
from styles.setter import Setter, small

ROMAN = ("I", "II", "III", "IV", "V", "VI", "VII")
FIRST = 101


class House6(House):
    """A pointer names the paragraph with which the work begins."""

    name = "style_6"
    title = "Instructions for repair"
    edition = "Third impression"
    lexicon = PUMP
    marks = ("{n}", "({a})")
    units = ("lbf·ft", "N·m")
    decimals = {"lbf·ft": 0, "N·m": 0}
    signals = {"danger": "Danger", "warning": "Warning", "caution": "Caution", "note": "Note"}
    fast_forms = ("the {cw} {w} ({t} by {l})", "{cw} {w}", "all {cw} {w} {t} x {l} mm", "the {w}")
    nut_forms = ("the {cw} {w}", "{cw} {w} {t}")
    limit_forms = (
        "{lo} to {hi} mm when new, {x} mm at the least",
        "between {lo} and {hi} mm; renew at {x} mm",
    )
    staged = "{a}, {b} and at last {c} {u}"
    trail = {
        "section": (" (para {n})", " (see para {n})", " as laid down in para {n}", ", para {n}"),
        "page": (" (page {p})", " (see page {p})"), "title": (" (see \u201c{t}\u201d)", " (\u201c{t}\u201d)"),
        "any_of": (" (para {n} or para {m})",), "figure": (" (fig. {f})", ", fig. {f}"), "variant": (" (para {n})",),
        "serial": (" (para {n})",), "condition": (" (see para {n})",), "self": (" (para {n})",),
        "dangling": (" (para {n})", " (see para {n})"),
    }  # fmt: skip
    noun = {
        "chapter": ("Chapter {n}",), "range": ("paras {n} to {e}",), "list": ("paras {list} and {m}",),
        "steps": ("paras {s1} to {s2}",), "repeat": ("paras {s1} and {s2}",), "table": ("Table {tb}",),
        "other_book": ("the operating instructions", "the motor maker's handbook"),
    }  # fmt: skip

    def lay_out(self, book: Book) -> None:
        """Number the paragraphs."""
        self.first: dict[str, int] = {}
        self.last: dict[str, int] = {}
        following = FIRST
        for section in book.sections():
            self.first[section.key] = following
            following += len(section.steps)
            self.last[section.key] = following - 1
        super().lay_out(book)

    def number(self, path: tuple[int, ...], section: Section) -> str:
        """Chapters bear a roman number, nothing else a number of its own; pointers use the first paragraph."""
        return ROMAN[path[0] - 1] if len(path) == 1 else ""

    def heading(self, section: Section) -> str:
        """The deed first."""
        return (
            f"{GERUNDS[section.action]} the {section.thing}" if section.action else super().heading(section)
        )

    def figure_number(self, chapter: int, index: int) -> str:
        """Figures run through the book."""
        return str(len(self.figures) + 1)

    def table_number(self, chapter: int, index: int) -> str:
        """Roman."""
        return ROMAN[index - 1]

    def nowhere(self) -> str:
        """A paragraph beyond the last."""
        return str(self.rng.randint(720, 990))

    def pointer(self, ref, trailing, pages):  # type: ignore[no-untyped-def]
        """Paragraph numbers stand where others print section numbers."""
        kept = self.numbers
        self.numbers = {
            **{key: str(one) for key, one in self.first.items()},
            **{k: n for k, n in kept.items() if n},
        }
        form = self.rng.choice((self.trail if trailing else self.noun)[ref.kind])
        if ref.kind == "range":
            words = form.format(n=self.first[ref.targets[0]], e=self.last[ref.targets[-1]])
        elif ref.steps is not None:
            s1, s2 = (self.step_name(one, ref.targets[0]) for one in ref.steps)
            words = form.format(s1=s1, s2=s2)
        else:
            self.trail, self.noun, house = dict(self.trail), dict(self.noun), type(self)
            (self.trail if trailing else self.noun)[ref.kind] = (form,)
            words = super().pointer(ref, trailing, pages)
            self.trail, self.noun = house.trail, house.noun
        self.numbers = kept
        return words

    def step_name(self, index: int, key: str) -> str:
        """By its number in the book."""
        return str(self.first[key] - 1 + index)


class Setter6(Setter):
    """Paragraph numbers are the marks."""

    labels = {"tools": "Tools:", "before": "Beforehand:", "after": "Thereafter:"}
    figure_word = "Fig"
    parts_word = "Plate"
    as_required = "as reqd"
    parts_heads = ("No", "Part", "Off", "Code")

    def steps(self, section: Section) -> None:
        """Counted on through the book."""
        first = self.house.first[section.key]  # type: ignore[attr-defined]
        for index, step in enumerate(section.steps):
            self.step(section, step, 0, first + index, "")

    def parts_cells(
        self, item: str, part: str, name: str, quantity: int | None, indent: int
    ) -> tuple[str, ...]:
        """The code last."""
        return item, "\u2013 " * indent + small(name), str(quantity or self.as_required), part


HOUSE, SETTER = House6, Setter6
