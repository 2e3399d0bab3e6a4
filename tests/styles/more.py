"""What several of the later houses share: tables at the back, inch sizes, legends under figures."""

from __future__ import annotations

from styles.content import Book, Fastener, Limit, Section, Step, Torque
from styles.house import House, Said
from styles.setter import Setter, small
from styles.truth import TrueLimit

INCH = {"M5": "3/16", "M6": "1/4", "M8": "5/16", "M10": "3/8", "M12": "7/16", "M14": "1/2"}
UNIFIED = {"M5": "10-24", "M6": "1/4-20", "M8": "5/16-18", "M10": "3/8-16", "M12": "7/16-14", "M14": "1/2-13"}
QUARTERS = ("", " 1/4", " 1/2", " 3/4")
MM = 25.4
ROMAN = ("I", "II", "III", "IV", "V", "VI", "VII", "VIII", "IX", "X", "XI", "XII")


def inches(length_mm: int) -> str:
    """A length to the next quarter of an inch, as fractions are typed: "1 1/4"."""
    quarters = max(2, round(length_mm / MM * 4))
    whole, rest = divmod(quarters, 4)
    return f"{whole or ''}{QUARTERS[rest]}".strip()


def move_tables_back(book: Book, title: str, key: str = "app") -> None:
    """Torques and limits stand in an appendix, before the list of parts."""
    general = book.chapters[0]
    moved = [one for one in general.children if one.kind in ("torques", "limits")]
    general.children = [one for one in general.children if one.kind not in ("torques", "limits")]
    appendix = Section(key, "group", "", title, 1, children=moved)
    for one in moved:
        one.parent = key
    at = next(i for i, one in enumerate(book.chapters) if one.key == "parts")
    book.chapters.insert(at, appendix)


def renamed(words: str, unit: str, printed: str, said: list[Said]) -> tuple[str, list[Said]]:
    """The words of a torque with its unit as the house prints it."""
    return words.replace(unit, printed), [
        Said(one.words.replace(unit, printed), one.low_Nm, one.high_Nm, one.angle_deg) for one in said
    ]


def vary(rows: list[tuple[str, object]], house: House) -> list[tuple[str, Torque]]:
    """The lines of the torque table, every other one a range."""
    found = []
    for index, (what, torque) in enumerate(rows):
        assert isinstance(torque, Torque)
        found.append((what, Torque(torque.nominal_Nm, "range" if (index + house.seed) % 2 else "plain")))
    return found


def inch_name(name: str, sep: str = " X ", tail: str = " IN.") -> str:
    """A parts-list name with its metric size told in inches: "BOLT, M8 x 30" -> "BOLT, 5/16 X 1 1/4 IN."."""
    what, comma, size = name.partition(", ")
    thread, _, length = size.partition(" x ")
    if not comma or thread not in INCH:
        return name
    return f"{what}, {INCH[thread]}{sep + inches(int(length)) if length else ''}{tail}"


class InchHouse(House):
    """Sizes and limits in inches. A bolt of "5/16 in." has no pitch: its thread is not told."""

    inch_fast = ("the {cw} {w}", "the {cw} {t} in. {w}", "{cw} {w}", "the {w}")
    inch_limits = ("from {lo} to {hi} in., and not under {x} in.", "{lo} to {hi} in. (reject at {x} in.)")

    def fast(self, fast: Fastener) -> tuple[str, bool, bool, bool]:
        """Count and nominal diameter."""
        self.fast_forms = self.nut_forms = self.inch_fast
        worded = Fastener(fast.what, INCH[fast.thread], None, fast.count, fast.torque)
        words, count, _, _ = super().fast(worded)
        return words, count, False, False

    def limit(self, limit: Limit) -> str:
        """In thousandths of an inch."""
        lo, hi, x = (self.inch(one) for one in (limit.low_mm, limit.high_mm, limit.limit_mm))
        return self.rng.choice(self.inch_limits).format(lo=lo, hi=hi, x=x)

    @staticmethod
    def inch(value_mm: float) -> str:
        """As printed, no nought before the point."""
        return f"{value_mm / MM:.4f}".removeprefix("0")


class MoreSetter(Setter):
    """Pictures with their legend; tables at the back may have ranges."""

    def procedure(self, section: Section) -> None:
        """The house knows where the pen is."""
        self.house.here = section.key  # type: ignore[attr-defined]
        super().procedure(section)

    def say(self, step: Step, section: Section, path: str) -> str:
        """A unit that ends in a full stop ends its sentence too."""
        return super().say(step, section, path).replace("..", ".")

    def legend(self, section: Section) -> tuple[str, ...]:
        """What the numbers in the picture of a procedure are called: the parts of its component."""
        for figure in self.book.parts:
            if figure.thing == section.thing:
                return tuple(small(name.split(",")[0]) for _, _, name, _, _ in figure.rows[1:7])
        return ()

    def inch_limit(self, section: Section, path: str, value: Limit, words: str) -> TrueLimit:
        """The truth of a limit printed in inches."""
        low, high, last = (
            round(float(f"{one / MM:.4f}") * MM, 4) for one in (value.low_mm, value.high_mm, value.limit_mm)
        )
        return TrueLimit(section.key, path, value.what, (low, high), last, words, 0.00005 * MM)
