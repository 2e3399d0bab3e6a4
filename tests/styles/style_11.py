# ruff: noqa: E501, RUF012
"""House 11: a pocket handbook in two narrow columns; bold run-in headings without numbers, steps as sentences."""

from __future__ import annotations

from styles.content import Book, Ref, Section, Torque
from styles.house import House, Said
from styles.lexicon_pocket import POCKET
from styles.more import renamed, vary
from styles.sentences import SentenceSetter, flattened
from styles.setter import small
from styles.truth import TruePart, TrueTorque

VERBS = {
    "remove": "remove",
    "dismantle": "strip",
    "inspect": "examine",
    "assemble": "rebuild",
    "install": "refit",
}


class House11(House):
    """Sections have letters, pages "C.14"; a pointer names a page or a heading."""

    name = "style_11"
    title = "Pocket handbook"
    edition = "Fourth edition 1962"
    lexicon = POCKET
    nested = False
    swap = {"section": "page", "range": "list", "steps": "page", "repeat": "title"}
    units = ("ft-lb", "kgf-m")
    decimals = {"ft-lb": 0, "kgf-m": 1}
    fast_forms = ("the {cw} {w}", "the {cw} {w} ({t} x {l})", "{cw} {w}", "the {w}", "the {cw} {l} mm {w}")
    nut_forms = ("the {cw} {w}", "{cw} {w} ({t})", "the {w}")
    limit_forms = ("{lo} to {hi} mm, replace at {x} mm", "new {lo} to {hi} mm, worn {x} mm")
    staged = "{a} {u}, afterwards to {b} {u} and at last to {c} {u}"
    signals = {"warning": "Warning", "caution": "Caution", "note": "Note"}
    trail = {
        "page": (" (page {p})", " (see page {p})", ", page {p}", " as on page {p}"),
        "title": (" (see \"{t}\")", ", as under \"{t}\""), "any_of": (' (see "{t}", page {p}, or "{u}", page {q})',),
        "figure": (" (Fig. {f})", ", Fig. {f}"), "variant": (" (page {p})",), "serial": (" (see page {p})",),
        "condition": (" (page {p})",), "self": (" (page {p})",), "dangling": (" (page {n})", " (see page {n})"),
    }  # fmt: skip
    noun = {
        "chapter": ("Section {n}",), "table": ("see page {p}",),
        "other_book": ("see the rider's card", "see the lighting set's own leaflet"),
    }  # fmt: skip

    def lay_out(self, book: Book) -> None:
        """Every deed is a sentence."""
        flattened(book)
        super().lay_out(book)

    def number(self, path: tuple[int, ...], section: Section) -> str:
        """Sections are lettered."""
        return chr(64 + path[0]) if len(path) == 1 else ""

    def figure_number(self, chapter: int, index: int) -> str:
        """By section."""
        return f"{chr(64 + chapter)}{index}"

    def table_number(self, chapter: int, index: int) -> str:
        """None."""
        return ""

    def heading(self, section: Section) -> str:
        """To remove clutch."""
        return f"To {VERBS[section.action]} {section.thing}" if section.action else super().heading(section)

    def printed(self, page: int, chapter: str, start: int) -> str:
        """Letter and page in the section."""
        return f"{chapter}.{page - start + 1}"

    def nowhere(self) -> str:
        """A page that no section reaches."""
        return f"{self.rng.choice('BCDE')}.{self.rng.randint(61, 98)}"

    def fast(self, fast: object) -> tuple[str, bool, bool, bool]:
        """A length alone, without its thread, is not told of."""
        words, count, thread, length = super().fast(fast)  # type: ignore[arg-type]
        return words, count, thread, thread and length

    def torque(self, torque: Torque) -> tuple[str, list[Said]]:
        """Foot-pounds and metre-kilograms."""
        form = {"angle": "plain"}.get(torque.form, torque.form)
        words, said = super().torque(Torque(torque.nominal_Nm, form))
        words, said = renamed(words, "ft-lb", "ft. lb.", said)
        return renamed(words, "kgf-m", "kg. m.", said)

    def pointer(self, ref: Ref, trailing: bool, pages: dict[str, str]) -> str:
        """A list names each heading with its page."""
        if ref.kind == "list":
            *most, last = (
                f'"{self.reference_title(key)}" (page {pages.get(key, "0")})' for key in ref.targets
            )
            return f"{', '.join(most)} and {last}"
        return super().pointer(ref, trailing, pages)


class Setter11(SentenceSetter):
    """Legends under the figures in a line; torques with dots; quantities in brackets behind the name."""

    house: House11
    labels = {"tools": "Tools", "before": "Before starting", "after": "Afterwards"}
    figure_first = False
    as_required = "as needed"
    limit_heads = ("Part", "New, mm", "Worn, mm")

    def figure(self, section: Section) -> None:
        """With its legend."""
        legend = " ".join(f"{n}. {one}." for n, one in enumerate(self.legend(section), 1))
        self.call("picture", f"Fig. {self.house.figures[section.key]}", legend, len(self.legend(section)))

    def torque_table(self, section: Section) -> None:
        """A line for each, dots between."""
        rows = []
        for what, torque in vary(section.rows, self.house):
            named = f"All others, {what}" if what[0] == "M" and what[1:].isdigit() else what
            words, (said, *_) = self.house.torque(torque)
            rows.append((named, words))
            self.truth.torques.append(
                TrueTorque("torques", "", said.low_Nm, said.high_Nm, None, words, named)
            )
        self.call("leaders", tuple(rows))

    def parts(self, section: Section) -> None:
        """Name, quantity in brackets, dots, number."""
        index = self.house.paths[section.key][-1]
        number = f"{self.house.numbers['parts']}{index}"
        rows = []
        for item, part, name, quantity, indent in self.book.parts[index - 1].rows:
            rows.append((item, f"{'– ' * indent}{small(name)} ({quantity or self.as_required})", part))
            self.truth.parts.append(TruePart(number, item, part, name, quantity, indent))
        self.call("parts-figure", section.key, f"Fig. {number}", self.house.heading(section), tuple(rows))


HOUSE, SETTER = House11, Setter11
