# ruff: noqa: E501, RUF012
"""House 12: a landscape time guide in three columns; operations of four figures with hours, steps A, B, C, inch threads."""

from __future__ import annotations

from styles.content import Fastener, Section, Step, Torque
from styles.house import FACTOR_Nm, House
from styles.lexicon_guide import GUIDE
from styles.more import UNIFIED, MoreSetter, inches
from styles.press import Value
from styles.setter import small
from styles.truth import TruePart, TrueStep, TrueTorque

VARIANTS = ("60", "60E", "60X")
DEEDS = {
    "remove": "remove",
    "dismantle": "disassemble",
    "inspect": "inspect",
    "assemble": "assemble",
    "install": "install",
}


class House12(House):
    """Chapter, group and deed make the number of an operation."""

    name = "style_12"
    title = "Time and service guide"
    edition = "Rev. D 8-87"
    lexicon = GUIDE
    marks = ("{A}", "{n}")
    units = ("lb-ft", "N·m")
    fast_forms = (
        "{c} {w} ({t} x {l})",
        "{cw} {w}",
        "{c} {w}, {t} x {l}",
        "{w} ({c} total)",
        "{w}",
        "{c} ea. {w}",
    )
    nut_forms = ("{c} {w} ({t})", "{cw} {w}", "{w} ({c} total)", "{w}")
    limit_forms = ("{lo}-{hi} mm, min. {x} mm", "{lo} to {hi} mm (limit {x})")
    staged = "{a}, {b} and {c} {u} in three steps"
    signals = {"warning": "WARNING", "caution": "CAUTION", "note": "NOTE"}
    trail = {
        "section": (" (Op. {n})", " per Op. {n}", "; see Op. {n}"), "page": (" (page {p})", ", page {p}"),
        "title": (" (see {t})", "; see {t}"), "any_of": (" (Op. {n} or {m})",), "figure": (" (Fig. {f})", ", Fig. {f}"),
        "variant": (" (Op. {n})",), "serial": (" per Op. {n}",), "condition": (" (Op. {n})",), "self": (" (Op. {n})",),
        "dangling": (" (Op. {n})", " per Op. {n}"),
    }  # fmt: skip
    noun = {
        "chapter": ("group {n}",), "range": ("Ops. {n} thru {m}",), "list": ("Ops. {list} and {m}",),
        "steps": ("Op. {n}, steps {s1} thru {s2}", "steps {s1} thru {s2} of Op. {n}"), "repeat": ("steps {s1} and {s2}",),
        "table": ("see torque chart, page {p}", "see torque chart"),
        "other_book": ("see operator's manual", "see engine maker's manual"),
    }  # fmt: skip

    def number(self, path: tuple[int, ...], section: Section) -> str:
        """3, 31, 3120."""
        digits = "".join(str(one) for one in path)
        return digits + "0" if len(path) > 2 else digits

    def figure_number(self, chapter: int, index: int) -> str:
        """3C."""
        return f"{chapter}{chr(64 + index)}"

    def table_number(self, chapter: int, index: int) -> str:
        """None."""
        return ""

    def heading(self, section: Section) -> str:
        """Oil base, remove."""
        title = section.thing[:1].upper() + section.thing[1:]
        return f"{title}, {DEEDS[section.action]}" if section.action else title

    def nowhere(self) -> str:
        """An operation that no group has."""
        return f"{self.rng.randint(2, 6)}{self.rng.randint(1, 4)}{self.rng.randint(7, 9)}0"

    def fast(self, fast: Fastener) -> tuple[str, bool, bool, bool]:
        """Unified threads, lengths in inches (which the truth leaves out)."""
        length = None if fast.length_mm is None else inches(fast.length_mm).replace(" ", "-")
        worded = Fastener(fast.what, UNIFIED[fast.thread], length, fast.count, fast.torque)  # type: ignore[arg-type]
        words, count, thread, _ = super().fast(worded)
        return words, count, thread, False

    def step_name(self, index: int, key: str) -> str:
        """By letter."""
        return chr(64 + index)


class Setter12(MoreSetter):
    """Hours in the heading; a chart that lies on its side; a quantity for each model."""

    house: House12
    labels = {"tools": "Tools", "before": "Off first", "after": "Then"}
    figure_word = "Fig."
    limit_heads = ("Part", "New, mm", "Limit, mm")

    def call(self, name: str, *given: Value) -> None:
        """Operations bear their hours."""
        if name == "section":
            hours = f"{self.house.rng.randint(2, 38) / 10:.1f}" if given[1] == 3 else ""
            given = (*given, hours)
        super().call(name, *given)

    def section(self, section: Section) -> None:
        """Parts lists and the chart take the whole breadth of the page."""
        if section.key in ("parts", "torques"):
            super().call("", "pagebreak(weak: true); set page(columns: 1)")
        super().section(section)
        if section.key == "torques":
            super().call("", "pagebreak(weak: true); set page(columns: 3)")

    def slot(self, name: str, value: object, section: Section, path: str) -> str:
        """Without articles."""
        words = super().slot(name, value, section, path)
        return words[4:] if words[:4] in ("the ", "The ") and name != "Part2" else words.removeprefix("The ")

    def say(self, step: Step, section: Section, path: str) -> str:
        """Small letters turn to capitals where an article went."""
        if isinstance(step.slots.get("Part2"), str):
            bare = str(step.slots["Part2"]).removeprefix("The ")
            step = Step(step.template, {**step.slots, "Part2": bare[:1].upper() + bare[1:]})
        return super().say(step, section, path)

    def step(self, section: Section, step: Step, depth: int, index: int, above: str) -> None:
        """A, B, C, under them B1, B2."""
        mark = f"{above}{index}" if depth else self.house.mark(0, index)
        words = self.say(step, section, mark)
        self.cautions(section, step, mark)
        self.put_step(depth, mark, words)
        self.truth.steps.append(TrueStep(section.key, mark, words))
        for number, child in enumerate(step.children, 1):
            self.step(section, child, depth + 1, number, mark)

    def legend_words(self, section: Section) -> tuple[str, ...]:
        """Numbered, one to a line."""
        return tuple(f"{n} {one}" for n, one in enumerate(self.legend(section), 1))

    def figure(self, section: Section) -> None:
        """With its legend, one to a line."""
        number = f"{self.figure_word} {self.house.figures[section.key]}"
        self.call("picture", number, self.house.heading(section), self.legend_words(section))

    def torque_table(self, section: Section) -> None:
        """Least and most in either unit."""
        rows = []
        for what, torque in section.rows:
            assert isinstance(torque, Torque)
            plain = what[0] == "M" and what[1:].isdigit()
            named = f"{UNIFIED[what]} unless noted" if plain else what
            _, (said, *_) = self.house.torque(Torque(torque.nominal_Nm, "range"))
            cells = [
                f"{end / FACTOR_Nm[unit]:.0f}"
                for unit in self.house.units
                for end in (said.low_Nm, said.high_Nm)
            ]
            rows.append((named, *cells))
            words = f"{cells[0]} {cells[1]}"
            self.truth.torques.append(
                TrueTorque("torques", "", said.low_Nm, said.high_Nm, None, words, named)
            )
        self.call("torque-chart", tuple(rows))

    def parts(self, section: Section) -> None:
        """Where the models differ in number each number is a row of the truth; a dash is none."""
        house = self.house
        index = house.paths[section.key][-1]
        number = f"P{index}"
        rows: list[tuple[str, ...]] = []
        for item, part, given, quantity, indent in self.book.parts[index - 1].rows:
            name = self._named(given)
            shown = [str(quantity or self.as_required)] * 3
            if quantity is not None and item != "1" and house.rng.random() < 0.4:
                shown[house.rng.randint(0, 2)] = house.rng.choice(("-", str(quantity + 2)))
            rows.append((item, part, ". " * indent + small(name), *shown))
            for one in dict.fromkeys(shown):
                if one != "-":
                    self.truth.parts.append(
                        TruePart(number, item, part, name, int(one) if one.isdigit() else None, indent)
                    )
        self.call(
            "parts-figure", section.key, f"Fig. {number}", house.heading(section), VARIANTS, tuple(rows)
        )

    @staticmethod
    def _named(name: str) -> str:
        what, comma, size = name.partition(", ")
        thread, _, length = size.partition(" x ")
        if not comma or thread not in UNIFIED:
            return name
        return f"{what}, {UNIFIED[thread]}{' x ' + inches(int(length)).replace(' ', '-') if length else ''}"


HOUSE, SETTER = House12, Setter12
