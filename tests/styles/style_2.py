# ruff: noqa: E501, RUF012
"""House 2: US letter, two columns, paragraphs "3-12.", marks "(1)" and "(a)", set-up in words, lb-ft first."""

from __future__ import annotations

from styles.content import Book, Ref
from styles.house import NOUNS, House
from styles.setter import Setter

ROMAN = ("I", "II", "III", "IV", "V", "VI", "VII")


class House2(House):
    """Paragraph numbers run through a chapter, over its sections; a hyphen was lost here and there in printing."""

    name = "style_2"
    title = "Maintenance manual"
    marks = ("({n})", "({a})")
    units = ("lb-ft", "N·m")
    signals = {"warning": "WARNING", "caution": "CAUTION", "note": "NOTE"}
    fast_forms = ("{cw} {w} ({t} x {l})", "{cw} {t} x {l} {w}", "{cw} {w}", "{w} (4, 7)")
    nut_forms = ("{cw} {w} ({t})", "{cw} {t} {w}", "{cw} {w} (9)")
    limit_forms = ("{lo} to {hi} mm (wear limit {x} mm)", "{lo}-{hi} mm, not less than {x} mm")
    staged = "{a} {u}, then {b} {u}, and last to {c} {u}"
    trail = {
        "section": (" (para {n})", " (refer to para {n})", " (see {n})", " in accordance with paragraph {n}"),
        "page": (" (page {p})", ", page {p}"), "title": (" (see {t})",),
        "any_of": (" (para {n} or {m})", " ({n}) or ({m})"), "figure": (" (fig. {f})", " as shown in figure {f}"),
        "variant": (" (para {n})",), "serial": (" (para {n})",), "condition": (" (para {n})",),
        "self": (" (para {n})",), "dangling": (" (para {n})", " (refer to para {n})"),
    }  # fmt: skip
    noun = {
        "chapter": ("chapter {n}",), "range": ("paragraphs {n} through {m}",), "list": ("paragraphs {list} and {m}",),
        "steps": ("paragraph {n}, steps ({s1}) thru ({s2})", "para {n}, steps {s1} through {s2}"),
        "repeat": ("steps ({s1}) and ({s2})",), "table": ("see table {tb}", "refer to table {tb}"),
        "other_book": ("refer to the operator's manual", "refer to the manual of the motor"),
    }  # fmt: skip

    def lay_out(self, book: Book) -> None:
        """Number the paragraphs through each chapter; groups are sections with roman numbers."""
        super().lay_out(book)
        counts: dict[int, int] = {}
        for section in book.sections():
            chapter = self.paths[section.key][0]
            if section.kind == "group":
                roman = ROMAN[self.paths[section.key][-1] - 1]
                self.numbers[section.key] = str(chapter) if section.level == 1 else f"Section {roman}"
            elif section.kind not in ("parts", "parts figure"):
                counts[chapter] = counts.get(chapter, 0) + 1
                self.numbers[section.key] = f"{chapter}-{counts[chapter]}"

    def heading(self, section: object) -> str:
        """In capitals, the deed last."""
        action, thing = section.action, section.thing  # type: ignore[attr-defined]
        deed = (
            "DISASSEMBLY, OFF THE DRIVE AND ON THE BENCH" if action == "dismantle" else NOUNS.get(action, "")
        )
        return f"{thing} {deed}".strip().upper()

    def printed(self, page: int, chapter: str, start: int) -> str:
        """Chapter and page in it."""
        return f"{chapter}-{page - start + 1}"

    def nowhere(self) -> str:
        """A paragraph that no chapter has."""
        return f"{self.rng.randint(2, 6)}-{self.rng.randint(61, 88)}"

    def pointer(self, ref: Ref, trailing: bool, pages: dict[str, str]) -> str:
        """Now and then with the hyphen lost."""
        words = super().pointer(ref, trailing, pages)
        if ref.kind == "section" and self.rng.random() < 0.05:
            number = self.numbers[ref.targets[0]]
            return words.replace(number, number.replace("-", ""))
        return words


class Setter2(Setter):
    """Set-up and follow-on in words; the quantity before the part number."""

    labels = {"tools": "TOOLS", "before": "EQUIPMENT CONDITION", "after": "FOLLOW-ON"}
    figure_word = "Figure"
    figure_first = False
    parts_heads = ("ITEM", "QTY", "PART NO.", "DESCRIPTION")

    def parts_number(self, index: int) -> str:
        """Figures of the parts list bear the chapter."""
        return f"{self.house.numbers['parts']}-{index}"

    def parts_cells(
        self, item: str, part: str, name: str, quantity: int | None, indent: int
    ) -> tuple[str, ...]:
        """Quantity second."""
        return item, str(quantity or self.as_required), part, ". " * indent + name


HOUSE, SETTER = House2, Setter2
