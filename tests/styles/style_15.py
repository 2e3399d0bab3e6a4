# ruff: noqa: E501, RUF012
"""House 15: a tractor shop manual; paragraphs counted through the book with bold lead-ins, no page numbers at all."""

from __future__ import annotations

from styles.content import Book, Limit, Section, Torque
from styles.house import Said
from styles.lexicon_farm import FARM
from styles.more import InchHouse, inch_name, renamed, vary
from styles.sentences import SentenceSetter, flattened
from styles.setter import small
from styles.truth import TrueLimit, TruePart, TrueTorque

DEEDS = {
    "remove": "Remove",
    "dismantle": "Disassemble",
    "inspect": "Inspect",
    "assemble": "Reassemble",
    "install": "Install",
}
KEPT = 40
"""Each chapter begins at a number of its own; those between are kept for later."""


class House15(InchHouse):
    """A pointer names a paragraph."""

    name = "style_15"
    title = "Shop manual"
    edition = "GV-40"
    lexicon = FARM
    swap = {"page": "section", "steps": "section", "repeat": "section"}
    units = ("lb-ft",)
    staged = "{a} {u}, then {b} {u} and finally {c} {u}"
    signals = {"warning": "WARNING", "caution": "CAUTION", "note": "NOTE"}
    trail = {
        "section": (" as in paragraph {n}", " (paragraph {n})", " as outlined in paragraph {n}", " (refer to paragraph {n})"),
        "title": (" (see {t})",), "any_of": (" as in paragraph {n} or {m}",), "figure": (" (Fig. {f})", " as shown in Fig. {f}"),
        "variant": (" as in paragraph {n}",), "serial": (" (paragraph {n})",), "condition": (" as outlined in paragraph {n}",),
        "self": (" as in paragraph {n}",), "dangling": (" as in paragraph {n}", " (paragraph {n})"),
    }  # fmt: skip
    noun = {
        "chapter": ("the {t} section",), "range": ("paragraphs {n} through {m}",), "list": ("paragraphs {list} and {m}",),
        "table": ("refer to paragraph {n}", "see paragraph {n}"),
        "other_book": ("refer to the operator's manual", "refer to the manual of the pump maker"),
    }  # fmt: skip

    def lay_out(self, book: Book) -> None:
        """Count what is no chapter and no group through the book."""
        flattened(book)
        super().lay_out(book)
        for index, chapter in enumerate(book.chapters):
            count = KEPT * index
            for section in Book("", [chapter], []).sections():
                self.numbers[section.key] = ""
                if section.kind in ("procedure", "text", "torques", "limits"):
                    count += 1
                    self.numbers[section.key] = str(count)

    def figure_number(self, chapter: int, index: int) -> str:
        """Through the book."""
        return str(len(self.figures) + 1)

    def heading(self, section: Section) -> str:
        """REMOVE OIL PAN."""
        title = f"{DEEDS[section.action]} {section.thing}" if section.action else section.thing
        return title.upper()

    def reference_title(self, key: str) -> str:
        """As the heading, or the chapter's name."""
        return self.heading(self.by_key[key]) if key else ""

    def printed(self, page: int, chapter: str, start: int) -> str:
        """No page bears a number."""
        return ""

    def nowhere(self) -> str:
        """A paragraph that the book does not reach."""
        return str(self.rng.randint(300, 390))

    def torque(self, torque: Torque) -> tuple[str, list[Said]]:
        """Small ones in In.-Lbs., the others in Ft.-Lbs."""
        form = {"angle": "plain", "tolerance": "range"}.get(torque.form, torque.form)
        slight = torque.nominal_Nm <= 10
        self.units = ("lb-in",) if slight else ("lb-ft",)
        words, said = super().torque(Torque(torque.nominal_Nm, form))
        return renamed(words, self.units[0], "In.-Lbs." if slight else "Ft.-Lbs.", said)


class Setter15(SentenceSetter):
    """Legends run on; torques with dots; a remark behind some parts."""

    house: House15
    labels = {"tools": "Special tools", "before": "Prior work", "after": "To complete the job"}
    figure_first = False
    sentences = (3, 6)
    as_required = "AR"
    parts_heads = ("Ref.", "Part No.", "Description", "Req'd", "Remarks")
    limit_heads = ("Part", "New, in.", "Limit, in.")

    def figure(self, section: Section) -> None:
        """Title and legend in one run."""
        legend = ", ".join(f"{n}. {one}" for n, one in enumerate(self.legend(section), 1))
        number = f"Fig. {self.house.figures[section.key]}"
        self.call(
            "picture", number, f"Exploded view of {section.thing}.", f"{legend}.", len(self.legend(section))
        )

    def torque_table(self, section: Section) -> None:
        """A line for each, dots between."""
        rows = []
        for what, torque in vary(section.rows, self.house):
            thread = what[0] == "M" and what[1:].isdigit()
            named = inch_name(f"Other, {what}", tail=" inch") if thread else what
            words, (said, *_) = self.house.torque(torque)
            rows.append((named, words))
            self.truth.torques.append(
                TrueTorque("torques", "", said.low_Nm, said.high_Nm, None, words, named)
            )
        self.call("leaders", tuple(rows))

    def limit_table(self, section: Section) -> None:
        """In thousandths."""
        rows = []
        for what, limit in section.rows:
            assert isinstance(limit, Limit)
            lo, hi, x = (self.house.inch(one) for one in (limit.low_mm, limit.high_mm, limit.limit_mm))
            rows.append((what, f"{lo}-{hi}", x))
            self.truth.limits.append(self._limit(section, "", limit, f"{lo}-{hi}"))
        self.call("data-table", "", self.limit_heads, tuple(rows))

    def _limit(self, section: Section, path: str, value: Limit, words: str) -> TrueLimit:
        return self.inch_limit(section, path, value, words)

    def parts(self, section: Section) -> None:
        """A superseded number stands in the remarks."""
        house, rows = self.house, []
        index = house.paths[section.key][-1]
        for item, part, given, quantity, indent in self.book.parts[index - 1].rows:
            name = inch_name(given, tail="")
            remark = (
                f"Was {house.rng.randint(100, 899)}-{house.rng.randint(1000, 9999)}"
                if house.rng.random() < 0.15
                else ""
            )
            rows.append(
                (item, part, "\u2003" * indent + small(name), str(quantity or self.as_required), remark)
            )
            self.truth.parts.append(TruePart(f"P{index}", item, part, name, quantity, indent))
        self.call(
            "parts-figure",
            section.key,
            f"Fig. P{index}",
            house.heading(section),
            self.parts_heads,
            tuple(rows),
        )


HOUSE, SETTER = House15, Setter15
