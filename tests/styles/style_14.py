# ruff: noqa: E501, RUF012
"""House 14: a field book; decimal paragraphs, equipment condition as a table, steps (a)(1)(a), callouts behind names."""

from __future__ import annotations

import re

from styles.content import Book, Fastener, Ref, Section, Step, Torque
from styles.house import NOUNS, House, Said
from styles.lexicon_field import FIELD
from styles.more import MoreSetter
from styles.truth import TrueTorque

RANGE = re.compile(r"(\d)-(\d)")
DEEPER = (
    ("Support the assembly by hand.", "Back off each one two turns."),
    (
        "Hold the head with a box wrench.",
        "Turn each one by hand first.",
        "Place all hardware in a marked bag.",
    ),
)


class House14(House):
    """Paragraphs by number; ranges with "to"; what stands in brackets behind a name is its callout."""

    name = "style_14"
    title = "Field and depot maintenance"
    edition = "15 September 1978"
    lexicon = FIELD
    marks = ("({a})", "({n})", "({a})")
    units = ("lb-ft", "N·m")
    fast_forms = ("{cw} {w}{co}", "{cw} {w}{co}", "{w}{co}", "{cw} {t} x {l} {w}{co}")
    nut_forms = ("{cw} {w}{co}", "{w}{co}", "{cw} {t} {w}{co}")
    limit_forms = ("{lo} to {hi} mm (replace if less than {x} mm)", "{lo} to {hi} mm; limit of wear {x} mm")
    staged = "{a} {u}, then to {b} {u}, and then to {c} {u}"
    signals = {"warning": "WARNING", "caution": "CAUTION", "note": "NOTE"}
    trail = {
        "section": (" (para {n})", " (refer to para {n})", " in accordance with para {n}"), "page": (" (page {p})",),
        "title": (" (see {t})",), "any_of": (" (para {n} or para {m})",), "figure": (" (figure {f})", " (see figure {f})"),
        "variant": (" (para {n})",), "serial": (" (para {n})",), "condition": (" (para {n})",), "self": (" (para {n})",),
        "dangling": (" (para {n})", " in accordance with para {n}"),
    }  # fmt: skip
    noun = {
        "chapter": ("chapter {n}",), "range": ("paragraphs {n} through {m}",), "list": ("paragraphs {list}, and {m}",),
        "steps": ("para {n}, steps ({s1}) through ({s2})", "steps ({s1}) through ({s2}) of para {n}"),
        "repeat": ("steps ({s1}) and ({s2})",), "table": ("see table {tb}", "refer to table {tb}"),
        "other_book": ("refer to the operator's manual", "refer to the engine manual"),
    }  # fmt: skip
    callout = ""

    def lay_out(self, book: Book) -> None:
        """A third depth under some sub-steps."""
        for section in book.sections():
            for step in section.steps:
                deep = [one for one in step.children if "fast" in one.slots]
                if deep and self.rng.random() < 0.6:
                    deep[0].template = deep[0].template.rstrip(".") + " as follows:"
                    deep[0].children = [Step(words) for words in self.rng.choice(DEEPER)]
        super().lay_out(book)

    def heading(self, section: Section) -> str:
        """In capitals: OIL PAN REMOVAL."""
        return f"{section.thing} {NOUNS.get(section.action, '')}".strip().upper()

    def printed(self, page: int, chapter: str, start: int) -> str:
        """Chapter and page in it."""
        return f"{chapter}-{page - start + 1}"

    def fast(self, fast: Fastener) -> tuple[str, bool, bool, bool]:
        """The callout behind the name."""
        callout = f" ({self.callout})" if self.callout else ""
        kept = self.fast_forms, self.nut_forms
        self.fast_forms, self.nut_forms = (
            tuple(one.replace("{co}", callout) for one in forms) for forms in kept
        )
        found = super().fast(fast)
        self.fast_forms, self.nut_forms = kept
        return found

    def torque(self, torque: Torque) -> tuple[str, list[Said]]:
        """From to; no angles."""
        form = {"angle": "plain"}.get(torque.form, torque.form)
        words, said = super().torque(Torque(torque.nominal_Nm, form))
        return RANGE.sub(r"\1 to \2", words), [
            Said(RANGE.sub(r"\1 to \2", one.words), one.low_Nm, one.high_Nm, one.angle_deg) for one in said
        ]

    def step_name(self, index: int, key: str) -> str:
        """By letter."""
        return chr(96 + index)


class Setter14(MoreSetter):
    """Set-up in a ruled frame; legends in rows; parts with dots before and behind the name."""

    house: House14
    labels = {
        "tools": "TOOLS AND TEST EQUIPMENT",
        "before": "EQUIPMENT CONDITION",
        "after": "FOLLOW-ON MAINTENANCE",
    }
    figure_first = False
    figure_word = "Figure"
    table_word = "Table"
    parts_heads = ("(1) ITEM NO.", "(2) PART NUMBER", "(3) DESCRIPTION", "(4) U/M", "(5) QTY")
    limit_heads = ("Item and dimension", "New, mm", "Wear limit, mm")

    def setup(self, section: Section) -> None:
        """Two columns: where it is told, what is off."""
        if not section.tools and not section.before:
            return
        rows = tuple(self._condition(section, one) for one in section.before)
        self.call("setup", tuple(section.tools), rows)

    def _condition(self, section: Section, step: Step) -> tuple[str, str]:
        ref = step.slots.get("ref")
        if not isinstance(ref, Ref) or ref.kind == "words":
            return "-", self.say(step, section, "before") + "."
        where = self.house.pointer(ref, True, self.printed).strip(" ()")
        where = where.removeprefix("in accordance with ").removeprefix("refer to ")
        what = f"{step.slots['Part2']} removed."
        self.point(section, "before", ref, f"{where} {what}", step.template)
        return where[:1].upper() + where[1:], what

    def legend(self, section: Section) -> tuple[str, ...]:
        """Every part of the component."""
        for figure in self.book.parts:
            if figure.thing == section.thing:
                return tuple(name.split(",")[0].capitalize() for _, _, name, _, _ in figure.rows[1:])
        return ()

    def slot(self, name: str, value: object, section: Section, path: str) -> str:
        """With its callout, where the task has a picture."""
        legend = [one.lower() for one in self.legend(section)] if section.figure else []
        self.house.callout = ""
        if isinstance(value, Fastener) and value.what in legend:
            self.house.callout = str(legend.index(value.what) + 1)
        words = super().slot(name, value, section, path)
        if isinstance(value, str) and words.removeprefix("the ") in legend:
            words = f"{words} ({legend.index(words.removeprefix('the ')) + 1})"
        return words

    def figure(self, section: Section) -> None:
        """With its legend in rows."""
        legend = tuple(f"{n}. {one}" for n, one in enumerate(self.legend(section), 1))
        number = f"{self.figure_word} {self.house.figures[section.key]}."
        self.call("picture", number, self.house.heading(section).capitalize(), legend)

    def follow(self, section: Section) -> None:
        """And the end of the task."""
        super().follow(section)
        self.call("end-of-task")

    def torque_table(self, section: Section) -> None:
        """With the figure where the part is drawn."""
        drawn = {self.house.by_key[key].thing.lower(): number for key, number in self.house.figures.items()}
        rows = []
        for what, torque in section.rows:
            assert isinstance(torque, Torque)
            thread = what[0] == "M" and what[1:].isdigit()
            named = f"{what}, all not listed" if thread else what
            words, (said, *_) = self.house.torque(Torque(torque.nominal_Nm, "plain" if thread else "range"))
            first, _, second = words.partition(" lb-ft (")
            number = next((f for thing, f in drawn.items() if what.lower().startswith(thing)), "-")
            rows.append((named, number, first, second.partition(" N·m")[0]))
            self.truth.torques.append(
                TrueTorque("torques", "", said.low_Nm, said.high_Nm, None, first, named)
            )
        caption = (
            f"{self.table_word} {self.house.tables[section.key]}. {self.house.heading(section).capitalize()}"
        )
        self.call("torque-values", caption, tuple(rows))

    def parts_number(self, index: int) -> str:
        """With the chapter."""
        return f"{self.house.numbers['parts']}-{index}"

    def parts_cells(
        self, item: str, part: str, name: str, quantity: int | None, indent: int
    ) -> tuple[str, ...]:
        """Dots before the name tell its level; the unit is EA."""
        return item, part, "." * indent + name, "EA", str(quantity or self.as_required)


HOUSE, SETTER = House14, Setter14
