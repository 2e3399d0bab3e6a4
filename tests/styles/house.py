# ruff: noqa: E501, RUF012
"""A house style: how a maker numbers, words and sets a book. A subclass changes what its house does otherwise."""

from __future__ import annotations

import random
from dataclasses import dataclass

from styles.content import Book, Fastener, Limit, Ref, Section, Torque
from styles.lexicon import OPEN, Lexicon

FACTOR_Nm = {
    "N·m": 1.0, "Nm": 1.0, "N.m": 1.0, "kgf·m": 9.80665, "kgf·cm": 0.0980665, "kgf-cm": 0.0980665, "kgf-m": 9.80665,
    "lb-ft": 1.3558179, "ft-lb": 1.3558179, "lbf·ft": 1.3558179, "lb-in": 0.1129848, "in-lb": 0.1129848,
}  # fmt: skip
"""Exact definitions: lbf = 4.4482216152605 N, ft = 0.3048 m, in = 0.0254 m, kgf = 9.80665 N (ISO 80000-4)."""
COUNTS = (
    "no",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
)
GERUNDS = {
    "remove": "Removing", "dismantle": "Dismantling", "inspect": "Inspecting", "assemble": "Assembling",
    "install": "Installing",
}  # fmt: skip
NOUNS = {
    "remove": "Removal", "dismantle": "Disassembly", "inspect": "Inspection", "assemble": "Assembly",
    "install": "Installation",
}  # fmt: skip


@dataclass(frozen=True)
class Said:
    """A torque as printed and what it means."""

    words: str
    low_Nm: float
    high_Nm: float
    angle_deg: float | None = None


class House:
    """The base: decimal numbers, N·m first. Every attribute and method may be a house's own."""

    name = "base"
    title = "Service manual"
    edition = "Edition 2"
    lexicon: Lexicon = OPEN
    nested = True
    swap: dict[str, str] = {}
    marks = ("{n}.", "{a})")
    trail: dict[str, tuple[str, ...]] = {}
    """Words of a pointer that trails its sentence: {n} number, {p} printed page, {t} title, {m} {k} a second."""
    noun: dict[str, tuple[str, ...]] = {}
    """Words of a pointer that stands as a noun."""
    units = ("N·m",)
    decimals = {"N·m": 0, "Nm": 0, "N.m": 1, "kgf·m": 1, "kgf·cm": 0, "lb-ft": 0, "lb-in": 0}
    comma = False
    fast_forms = ("the {cw} {w} {t} x {l}", "the {cw} {w}", "{c} {w} ({t} x {l})", "the {w} {t} x {l}")
    nut_forms = ("the {cw} {w} {t}", "{c} {w} ({t})", "the {w}")
    limit_forms = ("standard {lo}-{hi} mm, limit {x} mm",)
    staged = "{a} {u}, then to {b} {u} and finally to {c} {u}"
    signals = {"warning": "WARNING", "caution": "CAUTION", "note": "NOTE"}
    caution_after = False
    sub_depth_name = ""

    def __init__(self, seed: int) -> None:
        self.rng = random.Random(f"{self.name}/{seed}")
        self.seed = seed
        self.body_start = 1
        self.numbers: dict[str, str] = {}
        self.paths: dict[str, tuple[int, ...]] = {}
        self.by_key: dict[str, Section] = {}
        self.figures: dict[str, str] = {}
        self.tables: dict[str, str] = {}

    # ---- numbers, titles, pages

    def lay_out(self, book: Book) -> None:
        """Give every section its number, every figure and table its own."""
        self._paths(book.chapters, ())
        for section in book.sections():
            self.by_key[section.key] = section
            self.numbers[section.key] = self.number(self.paths[section.key], section)
        counts: dict[int, int] = {}
        for section in book.sections():
            chapter = self.paths[section.key][0]
            if section.figure:
                counts[chapter] = counts.get(chapter, 0) + 1
                self.figures[section.key] = self.figure_number(chapter, counts[chapter])
        for index, section in enumerate((s for s in book.sections() if s.kind in ("torques", "limits")), 1):
            self.tables[section.key] = self.table_number(self.paths[section.key][0], index)

    def _paths(self, sections: list[Section], above: tuple[int, ...]) -> None:
        for index, section in enumerate(sections, 1):
            self.paths[section.key] = (*above, index)
            self._paths(section.children, (*above, index))

    def number(self, path: tuple[int, ...], section: Section) -> str:
        """The printed number."""
        return ".".join(str(one) for one in path)

    def figure_number(self, chapter: int, index: int) -> str:
        """The printed figure number."""
        return f"{chapter}-{index}"

    def table_number(self, chapter: int, index: int) -> str:
        """The printed table number."""
        return f"{chapter}-{index}"

    def heading(self, section: Section) -> str:
        """The printed title."""
        if section.level == 1 or not section.action:
            return section.thing[:1].upper() + section.thing[1:]
        return f"{GERUNDS[section.action]} the {section.thing}"

    def printed(self, page: int, chapter: str, start: int) -> str:
        """The page number printed on that PDF page."""
        return str(page)

    def chapter_key(self, key: str) -> str:
        """The chapter that a section stands in."""
        first = self.paths[key][0]
        return next(one for one, path in self.paths.items() if path == (first,))

    def nowhere(self) -> str:
        """A number like the house's own that no section bears."""
        taken = set(self.numbers.values())
        real = [key for key, path in self.paths.items() if len(path) > 1 and self.by_key[key].action]
        while True:
            path = self.paths[self.rng.choice(real)]
            number = self.number((*path[:-1], path[-1] + self.rng.randint(6, 9)), Section("", "", "", ""))
            if number not in taken:
                return number

    # ---- words

    def mark(self, depth: int, index: int) -> str:
        """The printed mark of a step; depth from 0, index from 1."""
        a = chr(96 + index)
        return self.marks[depth].format(n=index, a=a, A=a.upper())

    def decimal(self, value: float, digits: int) -> str:
        """A number as the house prints it."""
        words = f"{value:.{max(0, digits)}f}"
        return words.replace(".", ",") if self.comma else words

    def fast(self, fast: Fastener) -> tuple[str, bool, bool, bool]:
        """The words of a group of fasteners, and whether count, thread and length stand in them."""
        form = self.rng.choice(self.nut_forms if fast.length_mm is None else self.fast_forms)
        what = fast.what if fast.count == 1 else fast.what + "s"
        words = form.format(c=fast.count, cw=COUNTS[fast.count], w=what, t=fast.thread, l=fast.length_mm)
        has_count = "{c}" in form or "{cw}" in form
        return words, has_count, "{t}" in form, "{l}" in form and fast.length_mm is not None

    def torque(self, torque: Torque) -> tuple[str, list[Said]]:
        """The words of a torque and the values in them."""
        first = self.units[0]
        digits, factor = self.decimals[first], FACTOR_Nm[first]
        value = round(torque.nominal_Nm / factor, digits)
        if torque.form == "range":
            high = round(value * 1.12 + 0.5, digits)
            return self._with_second(
                f"{self._v(value)}-{self._v(high)} {first}", value * factor, high * factor
            )
        if torque.form == "tolerance":
            by = max(round(value * 0.1, digits), 10.0**-digits)
            words, said = self._with_second(
                f"{self._v(value)} ± {self._v(by)} {first}",
                (value - by) * factor,
                (value + by) * factor,
                middle=True,
            )
            return words, said
        if torque.form == "staged":
            steps = [round(value * part, digits) for part in (0.4, 0.7, 1)]
            words = self.staged.format(u=first, **{n: self._v(s) for n, s in zip("abc", steps, strict=True)})
            return words, [Said(f"{self._v(one)} {first}", one * factor, one * factor) for one in steps]
        if torque.form == "angle":
            words = f"{self._v(value)} {first} + {torque.angle_deg:.0f}°"
            return words, [Said(words, value * factor, value * factor, torque.angle_deg)]
        return self._with_second(f"{self._v(value)} {first}", value * factor, value * factor)

    def _v(self, value: float) -> str:
        return self.decimal(value, self.decimals[self.units[0]])

    def _with_second(
        self, words: str, low: float, high: float, middle: bool = False
    ) -> tuple[str, list[Said]]:
        if len(self.units) > 1:
            second = self.units[1]
            digits, factor = self.decimals[second], FACTOR_Nm[second]
            ends = [(low + high) / 2] if middle or low == high else [low, high]
            shown = "-".join(self.decimal(one / factor, digits) for one in ends)
            words = f"{words} ({shown} {second})"
        return words, [Said(words, low, high)]

    def limit(self, limit: Limit) -> str:
        """The words of a limit."""
        lo, hi, x = (self.decimal(one, 2) for one in (limit.low_mm, limit.high_mm, limit.limit_mm))
        return self.rng.choice(self.limit_forms).format(lo=lo, hi=hi, x=x)

    def pointer(self, ref: Ref, trailing: bool, pages: dict[str, str]) -> str:
        """The words of a pointer, with what joins them to the sentence."""
        forms = (self.trail if trailing else self.noun)[ref.kind]
        form = self.rng.choice(forms)
        number = self.nowhere() if ref.kind == "dangling" else ""
        first, last = (ref.targets[0], ref.targets[-1]) if ref.targets else ("", "")
        fill = {
            "n": number or self.numbers.get(first, ""), "m": self.numbers.get(last, ""),
            "t": self.reference_title(first), "p": pages.get(first, "0"), "q": pages.get(last, "0"),
            "u": self.reference_title(last),
            "list": ", ".join(self.numbers[one] for one in ref.targets[:-1]),
            "f": self.figures.get(first, ""), "tb": self.tables.get(first, ""),
        }  # fmt: skip
        if ref.steps is not None:
            fill["s1"], fill["s2"] = (self.step_name(one, first) for one in ref.steps)
        return form.format(**fill)

    def meant(self, ref: Ref) -> tuple[str, ...]:
        """The sections that the printed words of a pointer lead to."""
        return ref.targets

    def step_name(self, index: int, key: str) -> str:
        """A step as other steps call it."""
        return str(index)

    def reference_title(self, key: str) -> str:
        """A title as a pointer prints it."""
        return self.heading(self.by_key[key]) if key else ""
