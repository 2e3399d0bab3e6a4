"""How many, and of which size: quantities and fastener kinds as sources say them."""

from typing import Literal

from msgspec import Struct

Belief = Literal["yes", "no", "unknown"]

QuantityKind = Literal["exactly", "range", "at least", "as required", "remaining", "unsaid"]
Per = Literal["figure", "assembly", "side", "each", ""]


class Quantity(Struct, frozen=True, omit_defaults=True):
    """A count as printed. `low` and `high` bound it; both None when the source gives no number."""

    kind: QuantityKind = "unsaid"
    low: int | None = None
    high: int | None = None
    per: Per = ""
    words: str = ""


def exactly(count: int, words: str = "") -> Quantity:
    """The quantity "just this many"."""
    return Quantity("exactly", count, count, words=words)


UNSAID = Quantity()

FASTENER_WORDS = ("bolt", "screw", "stud", "nut", "pin", "clip", "dowel")


class Kind(Struct, frozen=True, omit_defaults=True):
    """What sort of fastener: every field may be unknown (None), and unknown matches everything.

    `what` is one of FASTENER_WORDS or None. `thread` is normalised: "M6", "M8x1", "1/4-20", or a plain
    diameter such as "6" for pins. `length_mm` is the nominal length.
    """

    what: str | None = None
    thread: str | None = None
    length_mm: float | None = None
    head: str | None = None
    strength: str | None = None

    def matches(self, other: "Kind") -> Belief:
        """Whether a piece of this kind could be a piece of the other: yes, no, or unknown."""
        pairs = (
            (_family(self.what), _family(other.what)),
            (self.thread, other.thread),
            (self.length_mm, other.length_mm),
        )
        if any(a is not None and b is not None and a != b for a, b in pairs):
            return "no"
        return "unknown" if any(a is None or b is None for a, b in pairs) else "yes"

    def words(self) -> str:
        """The kind as a mechanic would write it: "screw M6x45"."""
        length = "" if self.length_mm is None else f"x{self.length_mm:g}"
        size = f"{self.thread or ''}{length}"
        return " ".join(part for part in (self.what or "", size) if part) or "fastener of unknown kind"


def _family(what: str | None) -> str | None:
    """Bolt and screw are one family: catalogues use the two words for the same piece."""
    return "screw" if what in ("bolt", "screw") else what
