# ruff: noqa: E501, RUF012
"""House 10: a typed book; roman chapters, headings underlined, steps are paragraphs counted through a chapter."""

from __future__ import annotations

from styles.content import Book, Limit, Ref, Section, Torque
from styles.house import GERUNDS, Said
from styles.lexicon_old import TYPED
from styles.more import ROMAN, InchHouse, MoreSetter, inch_name, move_tables_back, renamed, vary
from styles.truth import TrueLimit, TrueTorque
from styles.typewriter import press

__all__ = ["HOUSE", "SETTER", "press"]

UNIT = "lb. ft."


class House10(InchHouse):
    """A pointer names a paragraph, and its chapter when that is another."""

    name = "style_10"
    title = "Instructions for the overhaul and repair"
    edition = "Third impression, March 1954"
    lexicon = TYPED
    nested = False
    swap = {"self": "section"}
    marks = ("{n}.", "({a})")
    units = ("lb-ft",)
    staged = "{a} {u}, next to {b} {u}, and lastly to {c} {u}"
    signals = {"warning": "WARNING", "caution": "CAUTION", "note": "Note"}
    trail = {
        "section": (" (see {n})", " as described in {n}", ", for which see {n}"), "page": (" (see page {p})", ", page {p}"),
        "title": (" (see \"{t}\")", " as described under \"{t}\""), "any_of": (" ({n} or {m})",),
        "figure": (" (Fig. {f})", ", see Fig. {f}"), "variant": (" (see {n})",), "serial": (" (see {n})",),
        "condition": (" (see {n})",), "dangling": (" (see para. {n})", " as described in para. {n}"),
    }  # fmt: skip
    noun = {
        "chapter": ("Chapter {n}",), "range": ("{range}",), "list": ("{list} and {m}",), "steps": ("{range}",),
        "repeat": ("paras. {s1} and {s2}",), "table": ("see Appendix A",),
        "other_book": ("see the driver's handbook", "see the instruction book of the pump maker"),
    }  # fmt: skip
    here = ""

    def lay_out(self, book: Book) -> None:
        """Count the paragraphs of each chapter; tables go to the back."""
        move_tables_back(book, "Data for the fitter")
        super().lay_out(book)
        self.first: dict[str, int] = {}
        for chapter in book.chapters:
            count = 1
            for section in chapter.children:
                self.first[section.key] = count
                count += len(section.steps) if section.kind == "procedure" else 0
        self.ends = {
            one.key: self.first[one.key] + len(one.steps) - 1 for one in book.sections() if one.level > 1
        }

    def number(self, path: tuple[int, ...], section: Section) -> str:
        """Chapters only; what stands at the back is an appendix."""
        if len(path) > 1:
            return ""
        return {"app": "A", "parts": "B"}.get(section.key, ROMAN[path[0] - 1])

    def heading(self, section: Section) -> str:
        """Removing the end cover."""
        return (
            f"{GERUNDS[section.action]} the {section.thing}" if section.action else super().heading(section)
        )

    def figure_number(self, chapter: int, index: int) -> str:
        """Figures run through the book."""
        return str(len(self.figures) + 1)

    def printed(self, page: int, chapter: str, start: int) -> str:
        """Counted from the first chapter."""
        return str(page - self.body_start + 1)

    def nowhere(self) -> str:
        """A paragraph that no chapter reaches."""
        return str(self.rng.randint(170, 290))

    def torque(self, torque: Torque) -> tuple[str, list[Said]]:
        """In lb. ft.; nobody turned by angles then."""
        form = {"angle": "plain", "tolerance": "range"}.get(torque.form, torque.form)
        words, said = super().torque(Torque(torque.nominal_Nm, form))
        return renamed(words, "lb-ft", UNIT, said)

    def paragraph(self, key: str, full: bool = False) -> str:
        """The first paragraph of a section: "para. 12" or "Chap. III, para. 4"."""
        chapter = self.chapter_key(key)
        away = full or chapter != self.chapter_key(self.here)
        return f"{f'Chap. {self.numbers[chapter]}, ' if away else ''}para. {self.first[key]}"

    def span(self, ref: Ref) -> str:
        """Paragraphs from one to another."""
        first, last = self.first[ref.targets[0]], self.ends[ref.targets[-1]]
        if ref.steps is not None:
            first, last = (self.first[ref.targets[0]] + one - 1 for one in ref.steps)
        return self.paragraph(ref.targets[0]).replace(
            f"para. {self.first[ref.targets[0]]}", f"paras. {first} to {last}"
        )

    def pointer(self, ref: Ref, trailing: bool, pages: dict[str, str]) -> str:
        """By paragraphs."""
        if ref.kind == "chapter":
            return f"Chapter {self.numbers[ref.targets[0]]}"
        kept = self.numbers
        full = len(ref.targets) > 1
        paragraphs = {key: self.paragraph(key, full) for key in ref.targets if key in self.first}
        forms = (self.trail if trailing else self.noun)[ref.kind]
        if forms == ("{range}",):
            return self.span(ref)
        self.numbers = {**kept, **paragraphs}
        words = super().pointer(ref, trailing, pages)
        self.numbers = kept
        return words

    def meant(self, ref: Ref) -> tuple[str, ...]:
        """The whole appendix, which is all that is named."""
        return ("app",) if ref.kind == "table" else ref.targets

    def step_name(self, index: int, key: str) -> str:
        """A step is a paragraph of its chapter."""
        return str(self.first[key] + index - 1)


class Setter10(MoreSetter):
    """Everything is typed: legends in a running line, dots to the torque, columns by blanks."""

    labels = {"tools": "Tools required", "before": "Preliminary work", "after": "On completion"}
    house: House10
    parts_word = "PLATE"
    parts_heads = ("REF.", "PART NO.", "DESCRIPTION", "QTY.")
    limit_heads = ("Part", "New, in.", "Worn, in.")
    as_required = "A/R"

    def steps(self, section: Section) -> None:
        """Counted on through the chapter."""
        for index, step in enumerate(section.steps, self.house.first[section.key]):
            self.step(section, step, 0, index, "")

    def figure(self, section: Section) -> None:
        """With its legend."""
        legend = " ".join(f"{n}. {one}." for n, one in enumerate(self.legend(section), 1))
        number = f"Fig. {self.house.figures[section.key]}"
        self.call("picture", number, self.house.heading(section), legend, len(self.legend(section)))

    def torque_table(self, section: Section) -> None:
        """A line for each, dots between."""
        rows = []
        for what, torque in vary(section.rows, self.house):
            named = (
                inch_name(f"Nuts and bolts, {what}", tail=" in. diameter")
                if what[0] == "M" and what[1:].isdigit()
                else what
            )
            words, (said, *_) = self.house.torque(torque)
            rows.append((named, words))
            self.truth.torques.append(
                TrueTorque("torques", "", said.low_Nm, said.high_Nm, None, words, named)
            )
        self.call("leaders", "To be used unless the text gives another figure.", tuple(rows))

    def limit_table(self, section: Section) -> None:
        """Columns by blanks."""
        rows = []
        for what, limit in section.rows:
            assert isinstance(limit, Limit)
            lo, hi, x = (self.house.inch(one) for one in (limit.low_mm, limit.high_mm, limit.limit_mm))
            rows.append((what, f"{lo}-{hi}", x))
            self.truth.limits.append(self._limit(section, "", limit, f"{lo}-{hi}"))
        self.call("columns", self.limit_heads, tuple(rows))

    def _limit(self, section: Section, path: str, value: Limit, words: str) -> TrueLimit:
        return self.inch_limit(section, path, value, words)

    def parts(self, section: Section) -> None:
        """Sizes in inches."""
        figure = self.book.parts[self.house.paths[section.key][-1] - 1]
        figure.rows[:] = [(a, b, inch_name(name), d, e) for a, b, name, d, e in figure.rows]
        super().parts(section)

    def parts_cells(
        self, item: str, part: str, name: str, quantity: int | None, indent: int
    ) -> tuple[str, ...]:
        """A dot and a blank for each level."""
        return item, part, ". " * indent + name, str(quantity or self.as_required)


HOUSE, SETTER = House10, Setter10
